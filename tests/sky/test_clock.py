"""Clock: days of change by the tz rules, the sun's noon judged by pvlib, sentences, and a sky told by the clock."""

from datetime import date

import numpy as np
import pandas as pd
import pytest
from pvlib import solarposition

from sizing.foundation.errors import InputError
from sizing.place.place import Place
from sizing.place.town_list import town_list
from sizing.place.towns import find_towns
from sizing.sky.clock import (
    clock_notes,
    clock_shift,
    day_in_words,
    file_to_clock,
    nearest_town,
    on_the_clock,
    summer_time,
    sun_to_clock,
    utc_offsets,
)
from sizing.sky.weather import built_in_sky, file_sky

SUN = "true solar time"


def on(zone: str, month: int, day: int) -> float:
    return float(utc_offsets(zone)[date(2025, month, day).timetuple().tm_yday - 1])


# Days of change in 2025 and offsets: tz rules, from memory. The new time holds at noon of the day of change.
@pytest.mark.parametrize(
    ("zone", "month", "day", "before", "after"),
    [
        ("Europe/Ljubljana", 3, 30, 1, 2),
        ("Europe/Ljubljana", 10, 26, 2, 1),
        ("Europe/London", 3, 30, 0, 1),
        ("Europe/Dublin", 10, 26, 1, 0),
        ("America/New_York", 3, 9, -5, -4),
        ("America/New_York", 11, 2, -4, -5),
        ("America/St_Johns", 3, 9, -3.5, -2.5),
        ("Australia/Sydney", 4, 6, 11, 10),
        ("Australia/Sydney", 10, 5, 10, 11),
        ("Australia/Lord_Howe", 4, 6, 11, 10.5),
        ("Australia/Lord_Howe", 10, 5, 10.5, 11),
    ],
)
def test_days_of_change(zone: str, month: int, day: int, before: float, after: float) -> None:
    assert (on(zone, month, day - 1), on(zone, month, day)) == (before, after)
    assert np.count_nonzero(np.diff(utc_offsets(zone))) == 2


@pytest.mark.parametrize(
    ("zone", "offset"),
    [
        ("Asia/Kolkata", 5.5),
        ("Asia/Kathmandu", 5.75),
        ("Africa/Accra", 0),
        ("America/Phoenix", -7),
        ("Pacific/Tongatapu", 13),
        ("Australia/Brisbane", 10),
        ("Etc/GMT+5", -5),
        ("UTC", 0),
    ],
)
def test_zones_without_summer_time(zone: str, offset: float) -> None:
    assert set(utc_offsets(zone).tolist()) == {offset}
    assert summer_time(zone) is None


def test_every_zone_of_the_towns_is_known() -> None:
    for zone in town_list().time_zones:
        offsets = utc_offsets(zone)
        assert offsets.shape == (365,)
        assert np.all((offsets >= -12) & (offsets <= 14))


def test_a_leap_year_loses_29_february() -> None:
    offsets = utc_offsets("Europe/Ljubljana", 2024)
    assert offsets.shape == (365,)
    # summer time began on 31 March 2024 (from memory): day 89 of a year without 29 February, counted from 0
    assert (offsets[88], offsets[89]) == (1, 2)


def test_offsets_cannot_be_spoiled_for_the_next_reader() -> None:
    with pytest.raises(ValueError, match="read-only"):
        utc_offsets("Europe/Ljubljana")[0] = 7.3


@pytest.mark.parametrize(
    "zone",
    [
        "",
        "Europe/Lubljana",
        "europe/ljubljana",
        "Europe",
        "America/",
        "/etc/passwd",
        "../../etc/passwd",
        "Europe/../../etc/passwd",
        "localtime",
        "posixrules",
        "zone.tab",
        "Europe/Ljubljana\0",
        "Europe/Ljubljana\n",
        "A" * 300,
        "CET?",
        "Ljubljana",
        "🙂",
        "UTC+1",
    ],
)
def test_an_unknown_zone_is_refused(zone: str) -> None:
    with pytest.raises(InputError) as caught:
        utc_offsets(zone)
    problem = caught.value.problems[0]
    assert (problem.pointer, problem.code) == ("#/place/time_zone", "unknown_time_zone")
    assert problem.detail.startswith('time zone is "')
    assert problem.detail.endswith('"; the tz database has no such zone; write it like Europe/Ljubljana or America/New_York.')
    assert problem.detail.isprintable()
    assert len(problem.detail) < 200


PLACES = [
    ("Europe/Ljubljana", 46.05, 14.51),
    ("America/St_Johns", 47.56, -52.71),
    ("Australia/Sydney", -33.87, 151.21),
    ("Asia/Kolkata", 19.07, 72.88),
    ("Pacific/Tongatapu", -21.14, -175.2),
]
DATES = pd.DatetimeIndex(
    [f"2025-{month:02d}-{day:02d}" for month, day in enumerate((3, 11, 30, 21, 1, 17, 28, 9, 21, 26, 3, 21), 1)]
)


@pytest.mark.parametrize(("zone", "latitude", "longitude"), PLACES, ids=lambda value: str(value))
def test_noon_of_the_sun_by_the_clock_against_pvlib(zone: str, latitude: float, longitude: float) -> None:
    days = DATES.tz_localize(zone)
    noon = solarposition.sun_rise_set_transit_spa(days, latitude, longitude)["transit"]
    judged = (noon.dt.hour + noon.dt.minute / 60 + noon.dt.second / 3600).to_numpy()
    found = 12 + clock_shift(SUN, longitude, zone)[days.day_of_year - 1]
    assert np.abs(found - judged).max() * 60 < 1.5  # the series for the equation of time is 1.1 minutes off at most


def test_sun_to_clock_by_hand() -> None:
    # 15 degrees east at UTC+1: the clock is the sun's mean time; a sundial 14 minutes slow reads noon at 12:14.
    assert sun_to_clock(1.0, 15.0, 0.0) == pytest.approx(0)
    assert sun_to_clock(1.0, 15.0, -14.0) == pytest.approx(14 / 60)
    assert sun_to_clock(2.0, 7.5, 0.0) == pytest.approx(1.5)
    # Tonga keeps UTC+13 at 175.2 W: 13 + 11.68 = 24.68, the same clock as 0.68 ahead
    assert sun_to_clock(13.0, -175.2, 0.0) == pytest.approx(0.68)
    assert clock_shift(SUN, -175.2, "Pacific/Tongatapu") == pytest.approx(0.68, abs=17 / 60)


def test_scalar_is_array_element_by_element() -> None:
    offsets, ahead = np.array([-5.0, 5.5, 13.0]), np.array([-13.49, 0.0, 7.31])
    assert sun_to_clock(offsets, 7.3, ahead).tolist() == [
        sun_to_clock(*pair[:1], 7.3, pair[1]) for pair in zip(offsets, ahead, strict=True)
    ]
    assert file_to_clock(offsets, 5.5).tolist() == [file_to_clock(offset, 5.5) for offset in offsets]


@pytest.mark.parametrize(
    ("basis", "zone", "winter", "summer"),
    [
        ("standard time of the weather file, UTC+1", "Europe/Ljubljana", 0, 1),
        ("standard time of the weather file, UTC-5", "America/New_York", 0, 1),
        ("standard time of the weather file, UTC+5.5", "Asia/Kolkata", 0, 0),
        ("standard time of the weather file, UTC+0", "Asia/Kolkata", 5.5, 5.5),
        ("standard time of the weather file, UTC-11", "Pacific/Tongatapu", 0, 0),  # the other side of the date line
    ],
)
def test_hours_of_a_weather_file(basis: str, zone: str, winter: float, summer: float) -> None:
    shift = clock_shift(basis, 7.3, zone)
    assert (shift[0], shift[200]) == (winter, summer)
    assert np.array_equal(shift, clock_shift(basis, -77.7, zone))  # the file's own clock knows no longitude


def test_words_of_no_clock_are_a_bug() -> None:
    with pytest.raises(ValueError, match="no clock is known by the words 'tea time'"):
        clock_shift("tea time", 0.0, "UTC")


# Dates: tz rules, from memory. Lord Howe moves by half an hour; Morocco goes back for Ramadan; Troll station moves by two.
@pytest.mark.parametrize(
    ("zone", "words"),
    [
        ("Europe/Ljubljana", "summer time from 30 March to 25 October"),
        ("America/New_York", "summer time from 9 March to 1 November"),
        ("Australia/Sydney", "summer time from 5 October to 5 April"),
        ("Australia/Lord_Howe", "summer time, half an hour ahead, from 5 October to 5 April"),
        ("Antarctica/Troll", "summer time, two hours ahead, from 30 March to 25 October"),
        ("Africa/Casablanca", "clocks are one hour back from 23 February to 5 April"),
    ],
)
def test_summer_time_in_words(zone: str, words: str) -> None:
    assert summer_time(zone) == words


# North Korea set its clocks back for good on 15 August 2015, Venezuela forward on 1 May 2016 (tz rules, from memory).
@pytest.mark.parametrize(("zone", "year", "day"), [("Asia/Pyongyang", 2015, "15 August"), ("America/Caracas", 2016, "1 May")])
def test_a_zone_that_changed_for_good(zone: str, year: int, day: str) -> None:
    assert summer_time(zone, year) == f"clocks change on {day}"


def test_days_in_words() -> None:
    assert [day_in_words(day) for day in (0, 30, 31, 58, 59, 364, 365)] == [
        "1 January",
        "31 January",
        "1 February",
        "28 February",
        "1 March",
        "31 December",
        "1 January",
    ]


def test_a_wrong_sign_of_longitude_is_seen() -> None:
    (note,) = clock_notes(84.0, "America/New_York")
    assert (note.code, note.severity, note.pointer) == ("clock_far_from_sun", "warning", "#/place/time_zone")
    # UTC-4 or -5 at 84 E: -4 - 5.6 + 12 = 2:24 in summer
    assert note.detail.startswith("by the clock of America/New_York the sun would stand highest at about 2:20;")
    assert note.detail.endswith("check the time zone and the sign of the longitude (west is negative).")


def test_no_town_of_the_list_is_warned() -> None:
    whole = town_list()
    for count, zone in enumerate(whole.time_zones):
        here = whole.columns["longitude"][whole.columns["time_zone"] == count] * 1e-4
        assert not clock_notes(float(here.min()), zone)
        assert not clock_notes(float(here.max()), zone)


def test_nearest_town() -> None:
    for query in ("Tamale Ghana", "Nuku'alofa", "Reykjavik"):
        town = find_towns(query)[0]
        found, away = nearest_town(town.latitude + 0.01, town.longitude)
        assert found == town
        assert away == pytest.approx(1.11, abs=0.01)  # a hundredth of a degree of latitude: 6371 km x pi / 18000
    assert nearest_town(-21.1, 179.9)[1] < 1000  # over the date line
    assert nearest_town(0.0, -150.0)[1] > 1000
    with pytest.raises(InputError, match="latitude is 91 degrees"):
        nearest_town(91.0, 0.0)


STEPS = ("zenith", "azimuth", "extraterrestrial_normal", "ghi", "dhi", "dni", "air_temperature", "wind_speed")
LJUBLJANA = Place("", 46.05, 14.51, 298.0)


def brightest_hour(sky, day: int) -> float:
    """Hour at the middle of the day's light, weighted by the sun of the day without passing clouds."""
    rows = slice(day * sky.steps_per_day, (day + 1) * sky.steps_per_day)
    return float(np.average(sky.hour[rows], weights=sky.calm.ghi[rows]))


def test_every_day_keeps_its_steps() -> None:
    solar = built_in_sky(LJUBLJANA)
    clock = on_the_clock(solar, 14.51, "Europe/Ljubljana")
    for name in STEPS:
        before, after = (np.sort(getattr(sky, name).reshape(365, 96), axis=1) for sky in (solar, clock))
        assert np.array_equal(before, after), name
    assert np.array_equal(clock.hour, solar.hour)
    assert np.array_equal(clock.month, solar.month)


@pytest.mark.parametrize("day", [14, 87, 89, 180, 296, 299, 330])
def test_noon_stands_where_the_clock_says(day: int) -> None:
    """The sun's own noon on the clock is 12 h and the shift; steps of a quarter of an hour leave half of one."""
    clock = on_the_clock(built_in_sky(LJUBLJANA), 14.51, "Europe/Ljubljana")
    expected = 12 + clock_shift("true solar time", 14.51, "Europe/Ljubljana")[day]
    assert brightest_hour(clock, day) == pytest.approx(expected, abs=0.126)


def test_the_night_before_summer_time_and_the_day_after_are_an_hour_apart() -> None:
    """Central Europe: last Sunday of March, 30 March 2025 (from memory), day 88 counted from 0."""
    clock = on_the_clock(built_in_sky(LJUBLJANA), 14.51, "Europe/Ljubljana")
    assert brightest_hour(clock, 88) - brightest_hour(clock, 87) == pytest.approx(1.0, abs=0.26)
    assert brightest_hour(clock, 87) - brightest_hour(clock, 86) == pytest.approx(0.0, abs=0.26)


def test_a_zone_without_summer_time_says_nothing_of_it() -> None:
    clock = on_the_clock(built_in_sky(Place("", 9.4, -0.85, 180.0)), -0.85, "Africa/Accra")
    assert clock.hour_basis == "clock time of Africa/Accra"


def test_a_weather_file_moves_by_whole_hours_in_summer_only() -> None:
    file, place = file_sky("pvlib/data/723170TYA.CSV")
    clock = on_the_clock(file, place.longitude, "America/New_York")
    winter, summer = slice(14 * 24, 15 * 24), slice(180 * 24, 181 * 24)
    assert np.array_equal(clock.ghi[winter], file.ghi[winter])
    assert np.array_equal(clock.ghi[summer], np.roll(file.ghi[summer], 1))


def test_a_sky_of_an_unknown_zone_is_refused() -> None:
    with pytest.raises(InputError, match="tz database has no such zone"):
        on_the_clock(built_in_sky(LJUBLJANA), 14.51, "Europe/Nowhere")
