"""A sky told by the clock: every day keeps its steps, noon stands where the clock says, summer time included."""

import numpy as np
import pytest

from sizing.foundation.errors import InputError
from sizing.place.place import Place
from sizing.sky.clock import clock_shift
from sizing.sky.clock_sky import on_the_clock
from sizing.sky.weather import built_in_sky, file_sky

STEPS = ("zenith", "azimuth", "extraterrestrial_normal", "ghi", "dhi", "dni", "air_temperature", "wind_speed")
LJUBLJANA = Place("", 46.05, 14.51, 298.0)


def brightest_hour(sky, day: int) -> float:
    """Hour at the middle of the day's light, weighted by the sun."""
    rows = slice(day * sky.steps_per_day, (day + 1) * sky.steps_per_day)
    return float(np.average(sky.hour[rows], weights=sky.ghi[rows]))


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


def test_an_unknown_zone_is_refused() -> None:
    with pytest.raises(InputError, match="tz database has no such zone"):
        on_the_clock(built_in_sky(LJUBLJANA), 14.51, "Europe/Nowhere")
