"""Three days as they run: which days are taken, and what they say."""

import numpy as np
import pytest

from sizing.place.place import Place
from sizing.sky.clock import on_the_clock
from sizing.sky.day_courses import day_courses, sunniest_month
from sizing.sky.solar_position import MONTH_OF_DAY
from sizing.sky.weather import built_in_sky, file_sky
from web.charts.sky.day_courses import courses_table, day_courses_chart, lit_hours, mean_of_hour

LJUBLJANA = built_in_sky(Place("garden", 46.05, 14.51, 298.0))
SYDNEY = built_in_sky(Place("garden", -33.9, 151.2, 20.0))


@pytest.mark.parametrize("month", [None, 1, 4, 11])
def test_one_day_in_ten_is_duller_half_are_and_nine_in_ten_are(month: int | None) -> None:
    days = day_courses(LJUBLJANA, month)
    sums = LJUBLJANA.ghi.reshape(365, 96)[days[0].month == MONTH_OF_DAY].sum(axis=1)
    for day, share in zip(days, (0.1, 0.5, 0.9), strict=True):
        assert (sums < day.sun.sum()).mean() == pytest.approx(share, abs=0.04)
        assert day.sun.sum() == pytest.approx(day.calm.sum())  # type: ignore[union-attr]
        assert MONTH_OF_DAY[day.day] == days[0].month == (month or 6)


def test_the_sunniest_month_is_in_summer_on_both_sides_of_the_equator() -> None:
    assert sunniest_month(LJUBLJANA) in (6, 7)
    assert sunniest_month(SYDNEY) in (12, 1)


def test_hours_of_a_file_have_no_day_without_clouds() -> None:
    sky, _ = file_sky("pvlib/data/723170TYA.CSV")
    for day in day_courses(sky):
        assert day.calm is None
        assert day.sun.shape == (24,)
    chart = day_courses_chart(day_courses(sky), "hours by the clock")
    assert "no cloud" not in str(chart.picture.shapes)


def test_the_picture_speaks_the_clock_of_its_sky() -> None:
    clocked = on_the_clock(LJUBLJANA, 14.51, "Europe/Ljubljana")
    solar, told = day_courses(LJUBLJANA, 6)[2], day_courses(clocked, 6)[2]
    middle = [float(np.average(day.hour, weights=day.calm)) for day in (solar, told)]
    assert middle[1] - middle[0] == pytest.approx(1.1, abs=0.2)  # summer time, and 14.51 E lies 2 minutes west of its meridian


def test_the_table_holds_the_mean_of_each_hour() -> None:
    days = day_courses(LJUBLJANA, 6)
    bright = days[2]
    assert mean_of_hour(bright, 12) == pytest.approx(float(bright.sun[48:52].mean()))
    first, last = lit_hours(days)
    table = courses_table(days)
    assert [row[0] for row in table.rows] == [f"{hour}:00" for hour in range(int(first), int(last))]
    whole = sum(mean_of_hour(bright, hour) for hour in range(24))
    assert whole == pytest.approx(float(bright.sun.sum()) / 4)


def test_a_day_in_polar_night_has_a_picture_too() -> None:
    dark = built_in_sky(Place("far north", 71.0, 25.8, 10.0))
    chart = day_courses_chart(day_courses(dark, 12), "hours by the sun")
    assert chart.finding.startswith("In December the sun reaches 0 W/m²")
    assert len(chart.table.rows) == 24
