"""The pictures of the year: axes, bars by month, month and hour, and the strip of stations."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sizing.foundation import formats
from web.charts import month_and_hour as hours
from web.charts import water_by_month as charts
from web.charts.kit import axes, shapes
from web.charts.kit.shapes import RAMP, Cells, Chart, Line, Rectangle, Text
from web.charts.path_strip import Reading, stations

WATER = [46, 60, 88, 112, 131, 140, 144, 133, 108, 79, 50, 40]


def texts(chart: Chart) -> list[str]:
    """Words of a picture, with ordinary spaces."""
    return [plain(shape.content) for shape in chart.picture.shapes if isinstance(shape, Text)]


def plain(text: str) -> str:
    return text.replace(formats.SPACE, " ").replace(formats.NARROW_SPACE, " ")


def bars(chart: Chart) -> list[Rectangle]:
    return [shape for shape in chart.picture.shapes if isinstance(shape, Rectangle) and shape.tip]


def sky(peak: float, first: int = 7, last: int = 16, south: bool = False) -> list[list[float | None]]:
    """A year in which the sun is up from ``first`` to ``last`` and the peak follows the season."""
    grid: list[list[float | None]] = []
    for month in range(12):
        season = math.cos(2 * math.pi * (month - (0 if south else 6)) / 12)
        row: list[float | None] = [None] * 24
        for hour in range(first, last + 1):
            row[hour] = max(peak * (0.7 + 0.3 * season) * math.cos(math.pi * (hour + 0.5 - 12) / 11), 0.0)
        grid.append(row)
    return grid


@pytest.mark.parametrize(
    ("span", "count", "step"),
    [
        (144, 4, 50),  # 144/4 = 36, next of 1-2-2.5-5 is 50
        (100, 4, 25),
        (7.3, 4, 2),  # 1.825
        (0.0191, 4, 0.005),  # 0.004775
        (1e6, 4, 250000),
        (6, 6, 1),
        (88, 6, 20),  # 14.67
        (0, 4, 1),
        (1e-13, 4, 1),  # too small to be drawn
    ],
)
def test_steps_run_1_2_25_5(span: float, count: int, step: float) -> None:
    assert axes.nice_step(span, count) == step


@given(st.floats(1e-9, 1e12), st.integers(2, 8))
def test_marks_reach_the_largest_value_and_not_a_step_further(largest: float, count: int) -> None:
    marks = axes.ticks(largest, count)
    step = marks[1] - marks[0]
    assert marks[0] == 0
    assert largest <= marks[-1] * (1 + 2e-9)
    assert marks[-1] - largest < step * (1 + 1e-6)
    assert 2 <= len(marks) <= count + 1


def test_a_line_is_cut_exactly_at_the_frame() -> None:
    frame = axes.Frame(10, 10, 110, 60, 1, 1)
    # From (0, 35) to (160, 35): enters at x = 10, leaves at x = 110.
    assert axes.clipped([(0, 35), (160, 35)], frame) == (((10, 35), (110, 35)),)
    # From (60, 60) straight up to y = -40 leaves the top edge y = 10.
    assert axes.clipped([(60, 60), (60, -40)], frame) == (((60, 60), (60, 10)),)
    # Slope 1 from (100, 50): reaches x = 110 at y = 60, the corner.
    assert axes.clipped([(100, 50), (130, 80)], frame) == (((100, 50), (110, 60)),)
    assert axes.clipped([(0, 0), (5, 100)], frame) == ()
    # Out and in again gives two parts.
    assert len(axes.clipped([(20, 20), (20, 0), (40, 0), (40, 20)], frame)) == 2


@given(st.lists(st.tuples(st.floats(-500, 500), st.floats(-500, 500)), min_size=2, max_size=12))
def test_nothing_of_a_cut_line_lies_outside(points: list[tuple[float, float]]) -> None:
    frame = axes.Frame(10, 10, 110, 60, 1, 1)
    for part in axes.clipped(points, frame):
        for x, y in part:
            assert 10 - 1e-6 <= x <= 110 + 1e-6
            assert 10 - 1e-6 <= y <= 60 + 1e-6


def test_a_thinned_line_keeps_its_ends_and_its_bends() -> None:
    assert axes.thinned([(0, 0), (1, 0.01), (2, 0), (3, 0)]) == ((0, 0), (3, 0))
    assert axes.thinned([(0, 0), (1, 7.3), (2, 0)]) == ((0, 0), (1, 7.3), (2, 0))
    assert axes.thinned([(0, 0), (5, 5), (0, 0)]) == ((0, 0), (5, 5), (0, 0))
    circle = [(100 * math.cos(turn / 50), 100 * math.sin(turn / 50)) for turn in range(158)]
    assert len(axes.thinned(circle)) < 40


def test_bars_begin_at_zero_and_are_as_long_as_their_numbers() -> None:
    chart = charts.water_by_month(WATER)
    drawn = bars(chart)
    assert len(drawn) == 12
    assert {round(bar.y + bar.height, 1) for bar in drawn} == {210}
    # Axis from 0 to 150 over 210 - 26 = 184 units: July 144 is 184 * 144 / 150 = 176.64.
    assert drawn[6].height == pytest.approx(176.6, abs=0.06)
    for bar, value in zip(drawn, WATER, strict=True):
        assert bar.height / drawn[6].height == pytest.approx(value / 144, abs=0.002)
    assert "".join(text for text in texts(chart) if len(text) == 1 and text.isalpha()) == "JFMAMJJASOND"
    assert plain(chart.finding) == "Most in July: 144 L a day; least in December: 40 L."


def test_the_likely_range_goes_into_picture_key_and_table() -> None:
    low, high = [value * 0.86 for value in WATER], [value * 1.15 for value in WATER]
    chart = charts.water_by_month(WATER, low, high)
    assert "likely range" in texts(chart)
    assert "200" in texts(chart)  # 144 * 1.15 = 165.6 needs an axis to 200
    assert chart.table.head == ("Month", "Litres a day", "Likely at least", "Likely at most")
    assert chart.table.rows[6] == ("July", "144", "124", "166")


def test_a_year_without_water() -> None:
    chart = charts.water_by_month([0] * 12, [0] * 12, [0] * 12)
    assert bars(chart) == []
    assert texts(chart).count("0") == 13  # twelve months and the axis
    assert chart.finding == "No water in any month."


def test_one_month_of_water() -> None:
    chart = charts.water_by_month([0, 0, 0, 0, 0, 7.3, 0, 0, 0, 0, 0, 0])
    assert len(bars(chart)) == 1
    assert plain(chart.finding) == "Most in June: 7.3 L a day; none in July to May."


def test_every_month_alike() -> None:
    assert plain(charts.water_by_month([19.1] * 12).finding) == "The same in every month: 19.1 L a day."


@pytest.mark.parametrize("scale", [1e-5, 1e5, 1e9])
def test_very_large_and_small_numbers_stay_on_the_sheet(scale: float) -> None:
    chart = charts.water_by_month([value * scale for value in WATER])
    assert all(bar.x >= 0 and bar.x + bar.width <= 400 and bar.y >= 0 for bar in bars(chart))


def test_wrong_data_is_refused_in_words() -> None:
    with pytest.raises(ValueError, match=r"^Water by month needs 12 months, not 11$"):
        charts.water_by_month(WATER[:11])
    with pytest.raises(ValueError, match=r"^Water by month needs both ends of the likely range or neither$"):
        charts.water_by_month(WATER, low=WATER)
    with pytest.raises(ValueError, match=r"^jet height needs 24 hours in each month, not 23$"):
        hours.month_and_hour([[0.0] * 23] * 12)
    with pytest.raises(ValueError, match=r"^litres a day needs 12 months, not 1$"):
        hours.month_and_hour(sky(60), litres_a_day=[1.0])


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_nothing_but_finite_numbers_is_drawn(bad: float) -> None:
    with pytest.raises(ValueError, match="only finite numbers"):
        charts.water_by_month([*WATER[:11], bad])
    with pytest.raises(ValueError, match="only finite numbers"):
        charts.water_by_month(WATER, WATER, [bad, *WATER[1:]])
    grid = sky(60)
    grid[4][12] = bad
    with pytest.raises(ValueError, match="only finite numbers"):
        hours.month_and_hour(grid)
    with pytest.raises(ValueError, match="only finite numbers"):
        shapes.picture(400, 10, [Line(((0, bad), (1, 1)))])


def test_coordinates_are_rounded_to_a_tenth() -> None:
    sheet = shapes.picture(400, 7.3191, [Rectangle(1 / 3, 2, 0.1 + 0.2, 2 / 3, "#000000", opacity=0.85)])
    assert sheet.height == 7.3
    box = sheet.shapes[0]
    assert isinstance(box, Rectangle)
    assert (box.x, box.y, box.width, box.height, box.opacity) == (0.3, 2, 0.3, 0.7, 0.85)
    assert str(box.y) == "2"


def test_only_hours_with_sun_and_one_more_are_shown() -> None:
    chart = hours.month_and_hour(sky(60, 7, 16))
    assert chart.table.head == ("Month", *(f"{hour}:00" for hour in range(6, 18)))
    assert chart.table.rows[0][1] == "–"
    assert hours.sunlit_hours([[0.0] * 24] * 12) == range(24)
    assert hours.sunlit_hours([[None] * 24] * 12) == range(6, 18)


def test_colours_step_evenly_from_pale_to_deep_and_dry_is_sand() -> None:
    limits, colours = hours.classes(88)
    assert limits == (20, 40, 60, 80, 100)  # 88/6 = 14.7 -> steps of 20
    assert (colours[0], colours[-1]) == (shapes.RAMP[0], shapes.RAMP[-1])
    assert len(set(colours)) == 5
    assert hours.colour(0, limits, colours) == shapes.SAND
    assert hours.colour(20, limits, colours) == colours[0]
    assert hours.colour(20.1, limits, colours) == colours[1]
    assert hours.colour(88, limits, colours) == colours[4]
    assert hours.classes(0) == ((), ())
    assert hours.classes(1)[0][-1] == 1


@given(st.floats(1e-6, 1e6))
def test_every_value_has_a_colour_of_the_key(largest: float) -> None:
    limits, colours = hours.classes(largest)
    assert 1 <= len(limits) == len(colours) <= len(shapes.RAMP)
    assert hours.colour(largest, limits, colours) == colours[-1]


def test_the_key_speaks_in_words() -> None:
    said = texts(hours.month_and_hour(sky(88)))
    assert said[-6:] == ["dry", "up to 20 cm", "20 to 40 cm", "40 to 60 cm", "60 to 80 cm", "80 to 100 cm"]
    assert texts(hours.month_and_hour(sky(14.2), quantity="flow", unit="L/min"))[-1] == "12.5 to 15 L/min"


def test_findings_of_month_and_hour() -> None:
    # At 11:00 and 12:00 the cosine is cos(pi * 0.5 / 11) = 0.9898, at 10:00 and 13:00 cos(pi * 1.5 / 11) = 0.9096.
    # Peak 100, seasons: May and September 0.7 + 0.3 * 0.5 = 0.85, June and August 0.96, July 1; April and October 0.7.
    # Steps of 20, so the finding tells where it passes 60: April 0.7 * 90.96 = 63.7 at 10:00 to 14:00, 0.7 * 75.6 = 52.9 outside.
    chart = hours.month_and_hour(sky(100))
    assert plain(chart.finding) == "Over 60 cm from 10:00 to 14:00, April to October."
    assert plain(hours.month_and_hour(sky(100, south=True)).finding) == "Over 60 cm from 10:00 to 14:00, October to April."
    assert hours.month_and_hour(sky(0)).finding == "Dry at every hour of the year."
    one = [[0.0 if value is not None else None for value in row] for row in sky(1)]
    one[5][12] = 7.3
    assert plain(hours.month_and_hour(one).finding) == "Over 4 cm from 12:00 to 13:00, June. Dry all day in July to May."


def test_cells_stand_where_the_sun_is_up() -> None:
    chart = hours.month_and_hour(sky(60, 7, 16))
    cells = [shape for shape in chart.picture.shapes if isinstance(shape, Cells)]
    assert sum(len(cell.points) for cell in cells) == 12 * 10
    assert len({cell.fill for cell in cells}) == len(cells)
    assert max(x + cell.width for cell in cells for x, _ in cell.points) <= 400
    # Season 0.7 - 0.3: January at 7:00 has 60 * 0.4 * cos(pi * 4.5 / 11) = 24 * 0.2817 = 6.76, below the first step of 10.
    # 7:00 is the second of twelve columns: 38 + 362 / 12 + 0.5 = 68.7; the first row begins at 24.5.
    assert (68.7, 24.5) in next(cell.points for cell in cells if cell.fill == RAMP[0])
    assert "M68.7,24.5h29.2v16h-29.2z" in next(cell.path for cell in cells if cell.fill == RAMP[0])


def test_short_table_of_the_months() -> None:
    grid = sky(60)
    grid[11] = [None if value is None else 0.0 for value in grid[11]]
    table = hours.month_and_hour(grid, litres_a_day=WATER).short_table
    assert table is not None
    assert table.head == ("Month", "Plays from", "to", "Highest, cm", "Litres a day")
    assert table.rows[6] == ("Jul", "7:00", "17:00", "59", "144")  # 60 * 0.9898 = 59.4
    assert table.rows[11] == ("Dec", "dry", "dry", "0", "40")
    spans = [(9 + 2 / 3, 15.3)] * 11 + [None]
    table = hours.month_and_hour(grid, playing=spans, quantity="flow", unit="L/min").short_table
    assert table is not None
    assert table.head[-1] == "Most, L/min"
    assert table.rows[0][1:3] == ("9:40", "15:20")
    assert table.rows[11][1:3] == ("dry", "dry")


def test_stations_stand_in_the_order_of_the_path() -> None:
    readings = [
        Reading("outlet", 62.04, "cm", "5.9 L a minute", "#outlet", name="Jet"),
        Reading("sun", 912.4, "W/m2", "on the panel", "#sun"),
        Reading("pump", None, "", "too little sun", "#pump", word="stands"),
    ]
    strip = stations(readings)
    assert [station.key for station in strip] == ["sun", "pump", "outlet"]
    assert [station.part for station in strip] == ["sun", "turn", "water"]
    assert (strip[0].number, strip[0].unit, strip[0].name) == ("912", "W/m²", "Sun")
    assert (strip[1].number, strip[1].unit) == ("stands", "")
    assert strip[2].name == "Jet"


def test_wrong_stations_are_refused() -> None:
    with pytest.raises(ValueError, match=r"^the path has no station tank; its stations are sun, panel, wire, pump, pipe,"):
        stations([Reading("tank", 1, "m", "", "#")])
    with pytest.raises(ValueError, match=r"^a station stands on the path once only$"):
        stations([Reading("sun", 1, "m", "", "#"), Reading("sun", 1, "m", "", "#")])


def test_arrays_are_as_good_as_lists() -> None:
    water = np.array(WATER, dtype=float)
    assert charts.water_by_month(water, water * 0.9, water * 1.1) == charts.water_by_month(  # type: ignore[arg-type]
        list(water), list(water * 0.9), list(water * 1.1)
    )
    grid = [[None if value is None else np.float64(value) for value in row] for row in sky(60)]
    assert hours.month_and_hour(grid, litres_a_day=water) == hours.month_and_hour(sky(60), litres_a_day=WATER)  # type: ignore[arg-type]
