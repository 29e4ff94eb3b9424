"""Pictures of what a class measured: everything inside the frame, no reading hidden, readable in grey."""

import math
from itertools import combinations

import pytest

from sizing.measured.panel_check.answer import panel_check_answer
from tests.measured.panel_check.test_panel_check import wren_yard
from web.charts import experiments as class_charts
from web.charts.experiments import About, Drawn, Mark, measured_chart, misses_chart
from web.charts.kit import labels
from web.charts.kit.labels import Box
from web.charts.kit.shapes import POOL, Chart, Circle, Line, Rectangle, Table, Text
from web.charts.panel_readings import LOOKS, between, readings_chart, sitting_chart

ABOUT = About("bench", "Head over flow", "Head over flow of a pump.", "It falls.", "litres a minute", "head, m")
NUMBERS = Table("Readings", ("Flow, L/min",), (("1",),))


def falling(label: str, head: float, flow: float, spread: float = 0.0, dash: str = "") -> Drawn:
    """A parabola from a head to a flow, with a range."""
    x = [flow * step / 30 for step in range(31)]
    y = [head * (1 - (step / 30) ** 2) for step in range(31)]
    sides = ([each - spread for each in y], [each + spread for each in y]) if spread else ((), ())
    return Drawn(label, x, y, *sides, dash)


def inside(chart: Chart) -> None:
    """Everything stands on the sheet, and no two words meet."""
    sheet = Box(-1, 0, 401, chart.picture.height)
    words = [labels.text_box(shape) for shape in chart.picture.shapes if isinstance(shape, Text)]
    assert all(labels.within(box, sheet) for box in words)
    assert not any(labels.overlap(*pair) for pair in combinations(words, 2))
    for shape in chart.picture.shapes:
        if isinstance(shape, Line):
            assert all(-1 <= x <= 401 and 0 <= y <= chart.picture.height for x, y in shape.points)


def rings(chart: Chart) -> list[Circle]:
    return [shape for shape in chart.picture.shapes if isinstance(shape, Circle)]


def crosses(chart: Chart) -> int:
    """Crosses are two short strokes each, one falling as steeply as the other rises."""
    strokes = [shape.points for shape in chart.picture.shapes if isinstance(shape, Line) and len(shape.points) == 2]
    short = [(b[0] - a[0], b[1] - a[1]) for a, b in strokes]
    return sum(0 < run <= 10 and math.isclose(run, abs(rise), abs_tol=0.25) for run, rise in short) // 2


def test_a_bench_has_its_line_its_range_and_its_readings() -> None:
    lines = [falling("12 V", 2.1, 10.0, 0.1), falling("9 V", 1.2, 7.4, dash="9 3.5"), falling("label", 1.8, 10.0, dash="2.5 2.5")]
    marks = [Mark(2.0, 2.0, 1.9, 2.1), Mark(5.0, 1.6, 1.5, 1.7), Mark(6.0, 0.4, 0.3, 0.5, apart=True)]
    chart = measured_chart(ABOUT, lines, marks, NUMBERS)
    inside(chart)
    assert len(rings(chart)) == 2
    assert crosses(chart) == 1
    assert sum(isinstance(shape, Line) and shape.fill == POOL for shape in chart.picture.shapes) == 1
    drawn = {
        shape.dash
        for shape in chart.picture.shapes
        if isinstance(shape, Line) and shape.stroke != "none" and len(shape.points) > 4
    }
    assert drawn == {"", "9 3.5", "2.5 2.5"}
    assert {"12 V", "9 V", "label"} <= {shape.content for shape in chart.picture.shapes if isinstance(shape, Text)}


def test_a_reading_stands_where_its_numbers_are() -> None:
    # Axes end at 10 L/min and 2.5 m: 5 L/min is half-way across, 1.25 m half-way up.
    chart = measured_chart(ABOUT, [falling("12 V", 2.1, 10.0)], [Mark(5.0, 1.25, 1.0, 1.5)], NUMBERS)
    ring, left = rings(chart)[0], class_charts.left_margin((0.0, 2.5))
    assert ring.x == pytest.approx((left + 400) / 2, abs=0.2)
    assert ring.y == pytest.approx((class_charts.TOP + class_charts.BOTTOM) / 2, abs=0.2)
    strokes = [shape.points for shape in chart.picture.shapes if isinstance(shape, Line) and len(shape.points) == 2]
    # 0.25 m each way on an axis of 2.5 m: a tenth of its height up and down.
    tenth = (class_charts.BOTTOM - class_charts.TOP) / 10
    assert any(math.isclose(abs(a[1] - b[1]), 2 * tenth, abs_tol=0.3) and a[0] == b[0] == ring.x for a, b in strokes)


def test_no_label_hides_a_reading() -> None:
    """The middle of the line is where its label would stand; there the readings are."""
    line = falling("12 V", 2.1, 10.0)
    marks = [Mark(x, y, y, y) for x, y in zip(line.x[4:24], line.y[4:24], strict=True)]
    chart = measured_chart(ABOUT, [line], marks, NUMBERS)
    plates = [shape for shape in chart.picture.shapes if isinstance(shape, Rectangle)]
    assert plates
    for ring in rings(chart):
        for plate in plates:
            outside_x = ring.x + 3 < plate.x or ring.x - 3 > plate.x + plate.width
            assert outside_x or ring.y + 3 < plate.y or ring.y - 3 > plate.y + plate.height


def test_misses_lie_on_both_sides_of_nothing() -> None:
    chart = misses_chart(ABOUT, [1.0, 4.0, 8.0, 9.0], [-1.2, 0.0, 1.9, 5.3], [False, False, False, True], NUMBERS)
    inside(chart)
    low, middle, high = (ring.y for ring in rings(chart))
    assert low > middle > high
    assert middle == pytest.approx((class_charts.TOP + class_charts.BOTTOM) / 2, abs=0.1)
    dashed = [shape.points[0][1] for shape in chart.picture.shapes if isinstance(shape, Line) and shape.dash]
    # Two uncertainties of 5.3 x 1.05 that reach to the frame's end, to either side.
    away = 2 / (5.3 * 1.05) * (class_charts.BOTTOM - class_charts.TOP) / 2
    assert sorted(dashed) == pytest.approx([middle - away, middle + away], abs=0.1)
    assert crosses(chart) == 1


def test_thousands_of_readings_are_thinned_and_those_apart_stay() -> None:
    marks = [Mark(1 + index % 9, 1.0, 1.0, 1.0, index == 777) for index in range(5000)]
    chart = measured_chart(ABOUT, [falling("12 V", 2.1, 10.0)], marks, NUMBERS)
    assert len(rings(chart)) <= class_charts.MOST_MARKS
    assert crosses(chart) == 1


def test_a_panel_check_is_drawn_on_its_curves() -> None:
    found = panel_check_answer(wren_yard())
    chart = sitting_chart(found.sittings[0], found.readings, 1)
    assert chart is not None
    inside(chart)
    assert len(rings(chart)) == 16
    assert chart.table.head == ("Volts, V", "clear sky, A", "fits best, A", "dirty, A", "part shade, A")
    assert [row[-1] for row in chart.table.rows][-1] == "0.000"
    written = {shape.content for shape in chart.picture.shapes if isinstance(shape, Text)}
    assert {"clear sky", "fits best", "dirty", "part shade"} <= written
    assert (
        len({(dash, colour) for _, dash, colour in LOOKS.values()}) == len({dash for _, dash, _ in LOOKS.values()}) == len(LOOKS)
    )


def test_a_reading_that_no_panel_gives_does_not_stretch_the_picture() -> None:
    found = panel_check_answer(wren_yard())
    wild = found.readings[0].model_copy(update={"current_a": 790.0, "clear_sky": None})
    chart = sitting_chart(found.sittings[0], [*found.readings, wild], 1)
    assert chart is not None
    assert len(rings(chart)) == 16
    nothing = found.sittings[0].model_copy(update={"curves": []})
    assert sitting_chart(nothing, found.readings, 1) is None


def test_readings_off_the_label_are_crosses() -> None:
    curve = ("label", [0.0, 10.0, 20.0], [1.0, 0.9, 0.0])
    chart = readings_chart([curve], [0.0, 10.0], [1.0, 0.5], [0.02, 0.02], [False, True])
    assert (len(rings(chart)), crosses(chart)) == (1, 1)
    assert between(5.0, *curve[1:]) == pytest.approx(0.95)
