"""The pictures of the sky: months with their days, and the sun's way over the skyline; each number where it belongs."""

import math
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise

import numpy as np
import pytest

from sizing.foundation import formats
from sizing.light.sun_paths import sun_paths
from sizing.place.place import Place
from sizing.sky.sky_months import SkyYear, sky_months
from sizing.sky.weather import built_in_sky, monthly_sky
from web.charts.kit.shapes import INK, SUN, WATER, Chart, Circle, Line, Rectangle, Text
from web.charts.sky.sky_by_month import beside_table, fixed, sky_by_month
from web.charts.sky.sun_paths import DRAWN, HILL, STRONG_DAYS, height_marks, sun_over_garden, when

SCHOOL = Place("school", 46.05, 14.51, 298.0)
WALL = ((79.0, 0.0), (80.0, 25.0), (130.0, 25.0), (131.0, 0.0))
LATITUDES = (-89.0, -66.4, -33.9, -10.0, 0.0, 5.0, 23.0, 46.05, 66.5, 69.65, 90.0)


@lru_cache(maxsize=1)
def year() -> SkyYear:
    return sky_months(built_in_sky(SCHOOL))


def plain(text: str) -> str:
    return text.replace(formats.SPACE, " ").replace(formats.NARROW_SPACE, " ")


def inside(chart: Chart) -> bool:
    """Whether every corner and every word lies on the sheet."""
    for shape in chart.picture.shapes:
        spots = shape.points if isinstance(shape, Line) else ((shape.x, shape.y),)
        if not all(-0.5 <= x <= chart.picture.width + 0.5 and -0.5 <= y <= chart.picture.height + 0.5 for x, y in spots):
            return False
    return True


# Months


def test_bars_and_days_stand_at_their_values() -> None:
    chart = sky_by_month(year())
    bars = [shape for shape in chart.picture.shapes if isinstance(shape, Rectangle) and shape.tip]
    dots = [shape for shape in chart.picture.shapes if isinstance(shape, Circle) and shape.fill == INK][:12]
    assert len(bars) == len(dots) == 12
    assert {round(bar.y + bar.height, 1) for bar in bars} == {204}
    per_unit = bars[5].height / year().months[5].sun
    for bar, dot, month in zip(bars, dots, year().months, strict=True):
        assert bar.height == pytest.approx(month.sun * per_unit, abs=0.11)
        assert 204 - dot.y == pytest.approx(month.sun_usual * per_unit, abs=0.11)
        assert bar.x + bar.width / 2 == pytest.approx(dot.x, abs=0.11)
    whiskers = [shape for shape in chart.picture.shapes if isinstance(shape, Line) and shape.stroke == INK][:12]
    for line, month in zip(whiskers, year().months, strict=True):
        ends = sorted(y for _, y in line.points)
        assert 204 - ends[0] == pytest.approx(month.sun_bright * per_unit, abs=0.11)
        assert 204 - ends[-1] == pytest.approx(month.sun_dull * per_unit, abs=0.11)
    assert inside(chart)


def test_the_finding_names_the_brightest_and_the_dullest_month() -> None:
    months = year().months
    best = max(months, key=lambda month: month.sun)
    said = plain(sky_by_month(year()).finding)
    assert said.startswith(f"Most in {formats.MONTHS[best.month - 1]}: {best.sun:.1f} kWh/m² (a dull day {best.sun_dull:.1f}")
    assert said.endswith(f"least in December: {months[11].sun:.1f} kWh/m².")


def test_another_climate_is_marked_in_blue_at_its_own_height() -> None:
    own = sky_months(monthly_sky(SCHOOL, [1.2, 2.2, 3.4, 4.4, 5.4, 5.9, 6.0, 5.2, 3.8, 2.4, 1.3, 1.0]))
    chart = sky_by_month(own, year())
    marks = [shape for shape in chart.picture.shapes if isinstance(shape, Line) and shape.stroke == WATER]
    assert len(marks) == 13  # twelve months and the key
    bars = [shape for shape in chart.picture.shapes if isinstance(shape, Rectangle) and shape.tip]
    per_unit = bars[5].height / own.months[5].sun
    for mark, month in zip(marks[:12], year().months, strict=True):
        assert 204 - mark.points[0][1] == pytest.approx(month.sun * per_unit, abs=0.11)
    assert "mean day by the built-in table" in [shape.content for shape in chart.picture.shapes if isinstance(shape, Text)]
    assert inside(chart)
    table = beside_table(own, year(), [1.0] * 11 + [None])
    assert table.rows[2] == ("March", "3.40", f"{year().months[2].sun:.2f}", "100")
    assert table.rows[11][3] == "–"


def test_the_table_holds_all_that_is_known_of_a_month() -> None:
    table = sky_by_month(year()).table
    assert len(table.rows) == 12
    june = year().months[5]
    assert table.rows[5] == (
        "June",
        *(f"{value:.2f}" for value in (june.sun, june.sun_dull, june.sun_usual, june.sun_bright)),
        f"{100 * june.beam_share:.0f}",
        f"{june.clearness:.2f}",
        f"{june.air_temperature:.1f}",
        "12",
    )
    assert all(len(row) == len(table.head) for row in table.rows)


def test_a_year_in_the_dark_is_drawn_too() -> None:
    nothing = dict.fromkeys(("sun", "sun_dull", "sun_usual", "sun_bright", "beam_share", "clearness"), 0.0)
    dark = tuple(replace(month, **nothing) for month in year().months)
    chart = sky_by_month(replace(year(), months=dark))
    assert chart.finding == "No sun in any month."
    assert not [shape for shape in chart.picture.shapes if isinstance(shape, Rectangle) and shape.tip]
    assert inside(chart)
    with pytest.raises(ValueError, match="needs 12 months, not 11"):
        sky_by_month(replace(year(), months=dark[:11]))


def test_columns_keep_their_decimals() -> None:
    assert fixed([7.319, -3.25, 0.0191, -0.004], 1) == ("7.3", "−3.2", "0.0", "0.0")
    with pytest.raises(ValueError, match="finite"):
        fixed([math.nan], 1)


# The sun's way


def ways(chart: Chart) -> list[Line]:
    return [shape for shape in chart.picture.shapes if isinstance(shape, Line) and shape.stroke == SUN]


def test_noon_stands_in_the_middle_at_its_height() -> None:
    """Noon height on the 21st is 90 - latitude + declination: 67.4, 44.0 and 20.5 degrees within half a degree."""
    chart = sun_over_garden(sun_paths(SCHOOL), ())
    strong = [line for line in ways(chart) if line.stroke_width == 2.5]
    assert len(strong) == len(STRONG_DAYS)
    assert len(ways(chart)) == len(DRAWN)
    grid = [shape for shape in chart.picture.shapes if isinstance(shape, Line) and shape.stroke != SUN and len(shape.points) == 2]
    level = max(line.points[0][1] for line in grid if line.points[0][1] == line.points[1][1])
    tops = sorted(min(y for _, y in line.points) for line in strong)
    per_degree = (level - tops[0]) / 67.4
    for top, height in zip(tops, (67.4, 44.0, 20.5), strict=True):
        assert (level - top) / per_degree == pytest.approx(height, abs=0.6)
    for line in strong:
        highest = min(line.points, key=lambda point: point[1])
        middle = (line.points[0][0] + line.points[-1][0]) / 2
        assert highest[0] == pytest.approx(middle, abs=6)
    assert plain(chart.finding) == "The sun climbs to 67° on 21 June, 44° on 21 March and 21° on 21 December."


@pytest.mark.parametrize("latitude", LATITUDES)
@pytest.mark.parametrize("skyline", [(), WALL, ((0.0, 90.0),), tuple((5.0 * step, step % 7 * 3.0) for step in range(72))])
def test_everything_stays_on_the_sheet_from_pole_to_pole(latitude: float, skyline: tuple[tuple[float, float], ...]) -> None:
    chart = sun_over_garden(sun_paths(Place("x", latitude, 0.0, 0.0, skyline=skyline)), skyline)
    assert inside(chart)
    assert len(chart.table.rows) == 12
    assert all(len(row) == len(chart.table.head) for row in chart.table.rows)
    for line in ways(chart):  # no line jumps from one side to the other
        assert sum(abs(after[0] - before[0]) for before, after in pairwise(line.points)) < 400


def test_east_is_left_in_the_north_and_right_in_the_south() -> None:
    def spots(latitude: float) -> dict[str, float]:
        chart = sun_over_garden(sun_paths(Place("x", latitude, 0.0, 0.0)), ())
        return {shape.content: shape.x for shape in chart.picture.shapes if isinstance(shape, Text)}

    north, south = spots(46.05), spots(-33.9)
    assert north["E"] < north["S"] < north["W"]
    assert south["W"] < south["N"] < south["E"]


def test_the_skyline_is_filled_from_level_ground_to_its_height() -> None:
    chart = sun_over_garden(sun_paths(SCHOOL), WALL)
    (filled,) = [shape for shape in chart.picture.shapes if isinstance(shape, Line) and shape.fill == HILL]
    plain_chart = sun_over_garden(sun_paths(SCHOOL), ())
    assert not [shape for shape in plain_chart.picture.shapes if isinstance(shape, Line) and shape.fill == HILL]
    top, bottom = min(y for _, y in filled.points), max(y for _, y in filled.points)
    # axis from 0 to 80 degrees over 200 units: 25 degrees are 62.5
    assert bottom - top == pytest.approx(62.5, abs=0.11)
    wide = [x for x, y in filled.points if y < top + 0.1]
    # 80 to 130 degrees of the picture's 2 x 135 (the sun of June rises at 54, rounded to 45 degrees from north)
    left = min(x for x, _ in filled.points)
    assert (max(wide) - min(wide)) / (400 - left) == pytest.approx(50 / 270, abs=0.01)


def test_hours_by_the_clock_where_one_is_known() -> None:
    by_sun = sun_over_garden(sun_paths(SCHOOL), ()).table
    by_clock = sun_over_garden(sun_paths(SCHOOL), (), [1.5] * 12).table
    assert "by the sun" in by_sun.caption
    assert "by the clock" in by_clock.caption
    # the equinox: sunrise at 6:00 by the sun, due east (90), within five minutes and a degree
    assert by_sun.rows[2][1] in ("6:00", "6:05")
    assert by_clock.rows[2][1] in ("7:30", "7:35")
    assert float(by_sun.rows[2][2]) == pytest.approx(90, abs=1)
    assert when(24.02) == "0:00"
    assert when(-0.5) == "23:30"


def test_polar_night_and_midnight_sun_have_dashes() -> None:
    chart = sun_over_garden(sun_paths(Place("Tromso", 69.65, 18.96, 0.0)), ())
    assert chart.table.rows[11] == ("21 December", "–", "–", "–", "–", "–", "0.0")
    assert chart.table.rows[5][1] == "–"
    assert chart.table.rows[5][6] == "24.0"
    assert "not at all on 21 December" in chart.finding


@pytest.mark.parametrize("tallest", [0.5, 10.0, 39.9, 41.0, 79.0, 81.0, 90.0])
def test_marks_of_height_reach_the_tallest_and_never_pass_the_zenith(tallest: float) -> None:
    marks = height_marks(tallest)
    assert marks[0] == 0
    assert tallest <= marks[-1] <= 90
    assert np.ptp(np.diff(marks)) == 0 if len(marks) > 2 else True
