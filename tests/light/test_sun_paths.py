"""Sun paths and what the skyline takes: an independent almanac, limits, mirror images, counts made one by one, sentences."""

from datetime import datetime, timedelta

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pvlib.solarposition import get_solarposition

from sizing.light.irradiance import plane_sun
from sizing.light.skyline_loss import skyline_sentence
from sizing.light.sun_paths import DAY_OF_21ST, SunPath, hidden_runs, picture_centre, skyline_loss, sun_path, sun_paths
from sizing.place.place import Place, Skyline, skyline_altitude
from sizing.sky.solar_position import equation_of_time
from sizing.sky.weather import Sky, built_in_sky, file_sky, in_solar_time
from tests.calm_days import calm
from tests.draws import drawn

OBLIQUITY = 23.44
"""[deg] Declination of the sun at the solstices."""
CLOCK = np.zeros(365)
"""[h] A clock that shows true solar time."""


def sky_at(latitude: float, clearness: float = 0.5) -> Sky:
    return in_solar_time("monthly", "even", latitude, (clearness,) * 12, (10.0,) * 12)


def garden(latitude: float, *skyline: tuple[float, float], longitude: float = 8.5) -> Place:
    return Place("garden", latitude, longitude, 100.0, skyline=skyline)


def month_of(place: Place, month: int) -> SunPath:
    return sun_paths(place).paths[month - 1]


def wall(start: float, end: float, altitude: float) -> Skyline:
    """A wall with upright edges."""
    return ((start - 0.01, 0.0), (start, altitude), (end, altitude), (end + 0.01, 0.0))


# The paths


def test_the_21st_of_each_month() -> None:
    days = [int((datetime(2025, month, 21) - datetime(2024, 12, 31)) / timedelta(days=1)) for month in range(1, 13)]
    assert list(DAY_OF_21ST) == days
    assert [path.day for path in sun_paths(garden(40.0)).paths] == days


@pytest.mark.parametrize("latitude", [51.5, 36.1, 40.0, -33.87, 69.65])
@pytest.mark.parametrize(("month", "declination"), [(6, OBLIQUITY), (12, -OBLIQUITY)])
def test_altitude_at_noon_of_the_solstices(latitude: float, month: int, declination: float) -> None:
    path = month_of(garden(latitude), month)
    expected = 90 - abs(latitude - declination)
    if expected > 0:
        assert path.altitude.max() == pytest.approx(expected, abs=0.02)
        assert path.hour[np.argmax(path.altitude)] == 12
    else:
        assert len(path.hour) == 0


@pytest.mark.parametrize("latitude", [-66.0, -33.9, 0.0, 7.3, 23.0, 51.5, 70.0])
@pytest.mark.parametrize("month", range(1, 13))
def test_paths_against_the_almanac(latitude: float, month: int) -> None:
    """Reda & Andreas by pvlib, on the 21st of 2025 at Greenwich: within 0.4 degree.

    Spencer's equation of time is up to 0.9 minute off (0.22 degree), one year up to 0.2 degree off the mean of four.
    """
    path = month_of(garden(latitude, longitude=0.0), month)
    clock = path.hour - equation_of_time(float(path.day)) / 60
    times = pd.Timestamp(2025, month, 21, tz="UTC") + pd.to_timedelta(clock, unit="h")
    judged = get_solarposition(times, latitude, 0.0, method="nrel_numpy")
    assert path.altitude == pytest.approx(judged["elevation"].to_numpy(), abs=0.4)
    across = (path.azimuth - judged["azimuth"].to_numpy() + 180) % 360 - 180
    assert np.all(np.abs(across) * np.cos(np.radians(path.altitude)) < 0.4)


@drawn(60)
@given(st.floats(-90, 90), st.integers(1, 12))
def test_any_latitude(latitude: float, month: int) -> None:
    centre = picture_centre(latitude)
    path = sun_path(latitude, month, centre)
    assert len(path.hour) == len(path.azimuth) == len(path.altitude)
    assert np.isfinite([path.hour, path.azimuth, path.altitude]).all()
    assert np.all(path.altitude >= 0)
    assert np.all(np.diff(path.hour) > 0)
    assert np.all(np.abs(path.azimuth - centre) <= 180)
    # The afternoon is the mirror image of the morning, in height and about the middle of the picture or its edge.
    assert path.altitude == pytest.approx(path.altitude[::-1], abs=1e-7)
    mirrored = (path.azimuth + path.azimuth[::-1] + 180) % 360 - 180
    near_edge = np.minimum(np.abs(mirrored), 360 - np.abs(mirrored))
    assert np.all(near_edge * np.cos(np.radians(path.altitude)) < 1e-5)
    # Pieces cover the path once, and within a piece no step goes farther than half round.
    assert [index for start, end in path.pieces for index in range(start, end)] == list(range(len(path.hour)))
    for start, end in path.pieces:
        assert np.all(np.abs(np.diff(path.azimuth[start:end])) <= 180 + 1e-9)


def test_steps_are_quarters_of_an_hour_between_rising_and_setting() -> None:
    path = month_of(garden(51.5), 12)
    # Hand sum: arccos(tan 51.5 tan 23.44) / 15 = 3.804 h before and after noon.
    half = np.degrees(np.arccos(np.tan(np.radians(51.5)) * np.tan(np.radians(OBLIQUITY)))) / 15
    assert path.hour[[0, -1]] == pytest.approx([12 - half, 12 + half], abs=0.01)
    assert path.altitude[[0, -1]] == pytest.approx([0, 0], abs=1e-9)
    assert np.all(path.altitude[1:-1] > 0)
    assert path.hour[1:-1] * 4 == pytest.approx(np.round(path.hour[1:-1] * 4))
    assert len(path.hour) == 33  # 8:15 to 15:45 is 31 quarters; and both ends


def test_midnight_sun_goes_all_the_way_round() -> None:
    path = month_of(garden(69.65), 6)
    assert path.hour == pytest.approx(np.arange(97) / 4)
    assert path.azimuth[[0, -1]] == pytest.approx([0, 360])
    assert np.all(np.diff(path.azimuth) > 0)
    assert path.altitude[[0, -1]] == pytest.approx([69.65 + OBLIQUITY - 90] * 2, abs=0.02)
    assert path.pieces == ((0, 97),)
    south = month_of(garden(-69.65), 12)
    assert south.azimuth[[0, -1]] == pytest.approx([180, -180])
    assert np.all(np.diff(south.azimuth) < 0)


def test_polar_night_is_empty() -> None:
    for path in (month_of(garden(69.65), 12), month_of(garden(-69.65), 6), month_of(garden(90.0), 1)):
        assert (len(path.hour), len(path.azimuth), len(path.altitude), path.pieces) == (0, 0, 0, ())


@pytest.mark.parametrize(("pole", "month"), [(90.0, 6), (-90.0, 12)])
def test_at_the_poles_the_sun_keeps_its_height(pole: float, month: int) -> None:
    assert month_of(garden(pole), month).altitude == pytest.approx([OBLIQUITY] * 97, abs=0.02)


def test_the_hemispheres_are_mirror_images() -> None:
    # The same declination seen from the other side: half a year on it is nearly, not exactly, the opposite.
    north, south = month_of(garden(40.0), 6), month_of(garden(-40.0), 12)
    assert north.altitude == pytest.approx(south.altitude, abs=0.05)
    assert north.azimuth - 180 == pytest.approx(-(south.azimuth), abs=0.1)


@pytest.mark.parametrize(
    ("latitude", "centre"), [(90, 180), (51.5, 180), (24.0, 180), (7.3, 180), (-7.3, 0), (-24.0, 0), (-33.9, 0), (-90, 0)]
)
def test_the_equator_side_stands_in_the_middle(latitude: float, centre: float) -> None:
    assert picture_centre(latitude) == sun_paths(garden(latitude)).centre == centre


@pytest.mark.parametrize("latitude", [24.0, 51.5, -24.0, -40.0])
def test_outside_the_tropics_no_path_breaks(latitude: float) -> None:
    assert {len(path.pieces) for path in sun_paths(garden(latitude)).paths} == {1}


def test_in_the_tropics_a_path_may_leave_at_one_side_and_come_back_at_the_other() -> None:
    found = sun_paths(garden(7.3))
    june = found.paths[5]
    (first, noon), (after, last) = june.pieces
    assert noon == after
    assert june.hour[noon - 1] == 12
    assert june.azimuth[noon - 1] == pytest.approx(0)
    assert np.all(june.azimuth[first:noon] < 90)
    assert np.all(june.azimuth[after:last] > 270)
    assert found.paths[11].pieces == ((0, len(found.paths[11].hour)),)


# What the skyline takes


def test_no_skyline_takes_nothing() -> None:
    sky = sky_at(47.4)
    for place in (garden(47.4), garden(47.4, (0.0, 0.0))):
        found = skyline_loss(sky, place, 30.0, 180.0)
        assert (found.hours_hidden, found.beam_lost) == (0, 0)
        assert {(month.hours_hidden, month.beam_lost, month.runs, month.first_hour) for month in found.months} == {
            (0, 0, (), None)
        }
        assert skyline_sentence(found) == "The skyline hides the sun at no time of the year."


def test_a_skyline_up_to_the_zenith_takes_everything() -> None:
    found = skyline_loss(sky_at(47.4), garden(47.4, (0.0, 90.0)), 30.0, 180.0)
    for month in found.months:
        assert month.hours_hidden == month.hours_up > 0
        assert month.beam_lost == pytest.approx(month.beam)
        assert len(month.runs) == 1
    assert skyline_sentence(found, CLOCK) == "All year the skyline hides the sun all day."


SKYLINE = ((15.0, 8.0), (73.0, 31.0), (140.0, 11.0), (200.0, 27.0), (290.0, 5.0))


@pytest.mark.parametrize("kind", ["built_in", "file"])
def test_sums_against_counting_one_by_one(kind: str) -> None:
    sky, place = file_sky("pvlib/data/723170TYA.CSV") if kind == "file" else (sky_at(36.1), garden(36.1))
    place = Place(place.name, place.latitude, place.longitude, place.elevation, skyline=SKYLINE)
    found = skyline_loss(sky, place, 37.3, 200.0)
    up, hidden, lost = np.zeros(12), np.zeros(12), np.zeros(12)
    counts = np.zeros((12, sky.steps_per_day, 2))
    step = 24 / sky.steps_per_day
    for index in np.flatnonzero(sky.zenith < 90):
        month = sky.month[index] - 1
        up[month] += step
        counts[month, index % sky.steps_per_day, 0] += 1
        if 90 - sky.zenith[index] < skyline_altitude(float(sky.azimuth[index]), SKYLINE):
            facing = np.cos(np.radians(sky.zenith[index])) * np.cos(np.radians(37.3)) + np.sin(
                np.radians(sky.zenith[index])
            ) * np.sin(np.radians(37.3)) * np.cos(np.radians(sky.azimuth[index] - 200.0))
            hidden[month] += step
            lost[month] += sky.dni[index] * max(facing, 0) * step / 1000
            counts[month, index % sky.steps_per_day, 1] += 1
    on_most_days = 2 * counts[:, :, 1] > counts[:, :, 0]
    assert np.array_equal(found.hidden, on_most_days)
    assert np.array_equal(found.up, counts[:, :, 0] > 0)
    first = [np.flatnonzero(day)[0] * step for day in on_most_days]
    last = [(np.flatnonzero(day)[-1] + 1) * step for day in on_most_days]
    assert [month.hours_up for month in found.months] == pytest.approx(up)
    assert [month.hours_hidden for month in found.months] == pytest.approx(hidden)
    assert [month.beam_lost for month in found.months] == pytest.approx(lost)
    assert [month.first_hour for month in found.months] == pytest.approx(first)
    assert [month.last_hour for month in found.months] == pytest.approx(last)
    assert found.hours_hidden == pytest.approx(hidden.sum())
    assert found.beam_lost == pytest.approx(lost.sum())


@pytest.mark.parametrize(("latitude", "tilt", "azimuth"), [(47.4, 30.0, 180.0), (-33.9, 71.0, 11.0), (7.3, 0.0, 0.0)])
def test_the_beam_it_takes_is_the_beam_the_panel_misses(latitude: float, tilt: float, azimuth: float) -> None:
    sky = sky_at(latitude)
    found = skyline_loss(sky, garden(latitude, *SKYLINE), tilt, azimuth)
    free = plane_sun(sky, garden(latitude), tilt, azimuth).beam
    left = plane_sun(sky, garden(latitude, *SKYLINE), tilt, azimuth).beam
    for month in found.months:
        days = sky.month == month.month
        assert month.beam == pytest.approx(free[days].sum() / 4000)
        assert month.beam_lost == pytest.approx((free - left)[days].sum() / 4000)


def test_morning_mirrors_afternoon_on_a_skyline_that_does() -> None:
    skyline = ((60.0, 17.0), (120.0, 23.0), (170.0, 3.0), (190.0, 3.0), (240.0, 23.0), (300.0, 17.0))
    found = skyline_loss(calm(sky_at(47.4)), garden(47.4, *skyline), 30.0, 180.0)
    assert np.array_equal(found.hidden, found.hidden[:, ::-1])
    assert found.weight == pytest.approx(found.weight[:, ::-1], abs=1e-9)
    for month in found.months:
        assert month.runs == tuple((24 - end, 24 - start) for start, end in reversed(month.runs))


def test_a_higher_skyline_takes_more() -> None:
    sky = sky_at(51.5)
    taken = [skyline_loss(sky, garden(51.5, *wall(90, 270, height)), 30.0, 180.0) for height in (0, 5, 10, 20, 40, 80)]
    assert np.all(np.diff([found.hours_hidden for found in taken]) > 0)
    assert np.all(np.diff([found.beam_lost for found in taken]) > 0)


def test_a_plane_that_never_sees_the_hidden_sun_loses_hours_and_no_beam() -> None:
    # An upright plane facing west: what hides the east costs it nothing.
    found = skyline_loss(sky_at(0.0), garden(0.0, *wall(45, 135, 30)), 90.0, 270.0)
    assert found.hours_hidden == pytest.approx(2.1 * 365, rel=0.05)  # 2 h at the equinoxes, 2.2 h at the solstices
    assert found.beam_lost == pytest.approx(0, abs=1e-9)


def test_hours_hidden_at_the_equator_by_hand() -> None:
    # At the equator near an equinox the sun climbs 15 degrees an hour straight up: 30 degrees hide it for 2 h, until 8.
    month = skyline_loss(sky_at(0.0), garden(0.0, *wall(45, 135, 30)), 30.0, 180.0).months[2]
    assert month.runs == ((6.0, 8.0),)
    assert month.hours_hidden == pytest.approx(2 * 31, abs=2)
    assert month.hours_up == pytest.approx(12 * 31, abs=1)


def test_runs_of_hidden_steps() -> None:
    def runs(text: str, endless: bool) -> list[tuple[int, int]]:
        return hidden_runs(np.array([letter == "x" for letter in text]), endless)

    assert runs("", False) == runs("....", True) == []
    assert runs(".xx.x", False) == [(1, 3), (4, 5)]
    assert runs("xxxx", True) == [(0, 4)]
    assert runs("x.xx.x", True) == [(2, 4), (5, 1)]
    assert runs("x.xx.x", False) == [(0, 1), (2, 4), (5, 6)]


def test_the_year_is_the_sum_of_its_months() -> None:
    place = Place("school", 36.10, -79.95, 273.0, skyline=((80.0, 25.0), (130.0, 25.0), (131.0, 0.0)))
    found = skyline_loss(built_in_sky(place), place, 30.0, 180.0)
    assert found.beam_lost == pytest.approx(sum(month.beam_lost for month in found.months))


points = st.lists(st.tuples(st.floats(0, 359.9), st.floats(0, 90)), max_size=5)


@drawn(60)
@given(st.floats(-90, 90), points, st.floats(0, 90), st.floats(0, 360), st.floats(-14, 14))
def test_any_place_skyline_and_plane(
    latitude: float, skyline: list[tuple[float, float]], tilt: float, azimuth: float, shift: float
) -> None:
    found = skyline_loss(sky_at(latitude), garden(latitude, *skyline), tilt, azimuth)
    for month in found.months:
        assert 0 <= month.hours_hidden <= month.hours_up
        assert -1e-9 <= month.beam_lost <= month.beam + 1e-9
        assert (month.first_hour is None) == (not month.runs)
        assert all(0 <= start < 24 and 0 < end <= 24 for start, end in month.runs)
    for sentence in (skyline_sentence(found), skyline_sentence(found, np.full(365, shift))):
        assert sentence.endswith((".", ")."))
        assert "nan" not in sentence
        assert len(sentence) < 400
