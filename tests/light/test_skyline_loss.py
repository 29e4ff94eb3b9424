"""The sentence on what the skyline takes: runs written down by hand, the sun behind a hill by hand, clocks."""

import numpy as np

from sizing.light.skyline_loss import skyline_sentence
from sizing.light.sun_paths import SkylineLoss, skyline_loss
from sizing.place.place import Place
from sizing.sky.weather import file_sky
from tests.calm_days import calm
from tests.light.test_sun_paths import CLOCK, garden, sky_at, wall

Runs = dict[int, list[tuple[float, float, float]]]
"""For each month (1..12): from and to which hour the sun is hidden on most days, and the beam lost then."""
WINTER = {1: (8, 16), 2: (7, 17), 3: (6, 18), 4: (5, 19), 5: (4, 20), 6: (4, 20)}
DAYLIGHT = WINTER | {13 - month: hours for month, hours in WINTER.items()}
"""[h] From and to which hour the sun is up in each month, rounded by hand."""
ENDLESS = dict.fromkeys(range(1, 13), (0, 24))


def told(runs: Runs, shift: np.ndarray | None = CLOCK, daylight: dict[int, tuple[int, int]] = DAYLIGHT) -> str:
    """The sentence on runs that are written down by hand, in quarters of an hour."""
    hidden, up, weight = np.zeros((12, 96), dtype=bool), np.zeros((12, 96), dtype=bool), np.zeros((12, 96))
    for month, (rise, sets) in daylight.items():
        up[month - 1, 4 * rise : 4 * sets] = True
    for month, parts in runs.items():
        for start, end, lost in parts:
            steps = slice(round(4 * start), round(4 * end))
            hidden[month - 1, steps] = True
            weight[month - 1, steps] = lost / (4 * (end - start))
    return skyline_sentence(SkylineLoss((), 100.0, float(weight.sum()), "true solar time", hidden, up, weight), shift)


def test_a_morning() -> None:
    runs: Runs = {11: [(7, 9.25, 4)], 12: [(8, 9.5, 4)], 1: [(8, 9.75, 4)]}
    assert told(runs) == "From November to January the skyline hides the sun before 9:45."
    assert told(runs, None) == "From November to January the skyline hides the sun before 9:45 (true solar time)."


def test_an_evening() -> None:
    assert told({1: [(14.25, 16, 1)], 12: [(14.5, 16, 1)]}) == "In December and January the skyline hides the sun after 14:15."


def test_hours_that_differ_by_more_than_half_an_hour_give_the_worst() -> None:
    assert (
        told({2: [(7, 8.25, 1)], 1: [(8, 9.0, 1)]}) == "In January and February the skyline hides the sun until as late as 9:00."
    )
    assert told({2: [(16, 17, 1)], 1: [(15.25, 16, 1)]}) == (
        "In January and February the skyline hides the sun from as early as 15:15."
    )
    assert told({4: [(7, 8, 1)], 5: [(7.75, 8, 1)]}) == "In April and May the skyline hides the sun at times from 7:00 to 8:00."


def test_morning_and_evening_of_the_same_months_are_one() -> None:
    both = [(8.0, 9.0, 2.0), (15.0, 16.0, 1.0)]
    assert told({12: both, 1: both}) == "In December and January the skyline hides the sun before 9:00 and after 15:00."


def test_other_months_follow() -> None:
    runs: Runs = {12: [(8, 9, 3), (15, 16, 1)], 1: [(8, 9, 3)], 11: [(16, 17, 1)]}
    assert told(runs) == (
        "In December and January the skyline hides the sun before 9:00, in November and December from as early as 15:00."
    )


def test_two_seasons() -> None:
    part = [(7.25, 8.5, 1.0)]
    assert told({2: part, 3: part, 6: part, 9: part, 10: part, 11: part}) == (
        "In February and March and in June and from September to November the skyline hides the sun from 7:15 to 8:30."
    )


def test_what_takes_little_is_left_out() -> None:
    runs: Runs = {12: [(8, 9.5, 9), (15, 16, 0.9)], 1: [(8, 9.5, 9)], 3: [(6, 7, 0.5)]}
    assert told(runs) == "In December and January the skyline hides the sun before 9:30."


def test_noon_and_forenoon_and_afternoon_are_apart() -> None:
    runs: Runs = {12: [(10.5, 13.5, 9)], 6: [(6, 8, 6), (16, 17, 5)]}
    assert told(runs) == (
        "In December the skyline hides the sun from 10:30 to 13:30, in June from 6:00 to 8:00 and from 16:00 to 17:00."
    )


def test_months_without_any_sun_come_first_and_are_all_named() -> None:
    runs: Runs = {12: [(8, 16, 0.01)], 1: [(8, 16, 0.02)], 2: [(7, 11, 9)]}
    assert told(runs) == "In December and January the skyline hides the sun all day, in February before 11:00."
    assert told({month: [(*hours, 1.0)] for month, hours in DAYLIGHT.items()}) == "All year the skyline hides the sun all day."


def test_over_midnight() -> None:
    runs: Runs = {6: [(0, 2, 1), (22, 24, 1)], 7: [(0, 2.25, 1), (22, 24, 1)]}
    assert told(runs, daylight=ENDLESS) == "In June and July the skyline hides the sun from 22:00 to 2:15."
    assert told(runs, np.full(365, 2.0), ENDLESS) == "In June and July the skyline hides the sun from 0:00 to 4:15."
    assert told({6: [(22, 24, 1)]}, daylight=ENDLESS) == "In June the skyline hides the sun from 22:00 to 24:00."
    # Half an hour's shift puts June's start before midnight and July's after it: still one stretch.
    crossing: Runs = {6: [(21.25, 23, 1)], 7: [(21.75, 23, 1)]}
    assert told(crossing, np.full(365, 2.5), ENDLESS) == "In June and July the skyline hides the sun from 23:45 to 1:30."


def test_a_plane_that_loses_no_beam_is_told_by_hours() -> None:
    assert told({12: [(8, 9.5, 0)], 1: [(8, 9.5, 0)]}) == "In December and January the skyline hides the sun before 9:30."


def test_hours_that_are_never_hidden_on_most_days() -> None:
    assert told({}) == "The skyline takes 100\N{NO-BREAK SPACE}h of sun in the year, at no hour on most days of a month."


def test_a_clock_that_is_put_forward_in_summer() -> None:
    # The 21st speaks for its month: 2 h ahead from 30 March to 26 October, 1 h in winter; so October still has summer time.
    ahead = np.where((np.arange(365) >= 88) & (np.arange(365) < 298), 2.0, 1.0)
    assert told({3: [(6, 8, 1)]}, ahead) == "In March the skyline hides the sun before 9:00."
    assert told({10: [(6, 8, 1)]}, ahead) == "In October the skyline hides the sun before 10:00."
    assert told({10: [(6, 8, 1)], 11: [(7, 8, 1)]}, ahead) == (
        "In October and November the skyline hides the sun until as late as 10:00."
    )


def hill(latitude: float, start: float, end: float) -> str:
    facing = 180.0 if latitude >= 0 else 0.0
    return skyline_sentence(skyline_loss(calm(sky_at(latitude)), garden(latitude, *wall(start, end, 12)), 30.0, facing), CLOCK)


def test_a_hill_12_degrees_high_by_hand() -> None:
    # 21 December at 47.4 N: cos w = (sin 12 + sin 47.4 sin 23.44) / (cos 47.4 cos 23.44) = 0.806, so w = 36.3 degrees, 2.42 h:
    # 12 degrees high at 9:35 and 14:25; in quarters of an hour, 9:30 and 14:30. In the south the same in June.
    assert hill(47.4, 90, 180).endswith(" the skyline hides the sun until as late as 9:30.")
    assert hill(47.4, 180, 270).endswith(" the skyline hides the sun from as early as 14:30.")
    assert hill(-47.4, 0, 90).endswith(" the skyline hides the sun until as late as 9:30.")
    assert hill(47.4, 90, 180).startswith("From November to ")
    assert hill(-47.4, 0, 90).startswith("From May to ")


def test_the_clock_of_a_weather_file_is_named() -> None:
    sky, place = file_sky("pvlib/data/723170TYA.CSV")
    east = Place("garden", place.latitude, place.longitude, place.elevation, skyline=wall(80, 150, 30))
    assert skyline_sentence(skyline_loss(sky, east, 30.0, 180.0)).endswith(" (standard time of the weather file, UTC-5).")
