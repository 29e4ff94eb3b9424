"""The crossings of panel and pump, pump and pipe: lines inside the frame, labels that cover nothing."""

import math
from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sizing.foundation import formats
from web.charts import curves
from web.charts.curves import Curve, Point
from web.charts.kit import crossing, labels
from web.charts.kit.labels import Box
from web.charts.kit.shapes import SUN, SUN_TEXT, WATER, Chart, Circle, Line, Text


def straight(label: str, height: float, reach: float) -> Curve:
    """A line that falls from ``height`` at zero to zero at ``reach``."""
    return Curve(label, [reach * step / 20 for step in range(21)], [height * (1 - step / 20) for step in range(21)])


def panel(count: int, amps: float = 1.24, volts: float = 21.5) -> list[Curve]:
    """Curves with a plateau and a knee, evenly spaced in current."""
    family = []
    for index in range(1, count + 1):
        share = index / count
        reach = volts * (1 + 0.04 * math.log(share))
        x = [reach * step / 60 for step in range(61)]
        family.append(Curve(f"{1000 * share:.0f} W/m²", x, [amps * share * (1 - math.exp((each - reach) / 1.3)) for each in x]))
    return family


LOAD = Curve("what the pump draws", [0, 7.3, 14.6, 29.2], [0.13, 0.5, 1.1, 2.6])
POINTS = [Point("600 W/m²", 10.4, 0.744), Point("1000 W/m²", 16.1, 1.21)]


def boxes(chart: Chart) -> list[Box]:
    return [labels.text_box(shape) for shape in chart.picture.shapes if isinstance(shape, Text)]


def drawn_lines(chart: Chart, colour: str) -> list[Line]:
    return [shape for shape in chart.picture.shapes if isinstance(shape, Line) and shape.stroke == colour]


def no_two_meet(chart: Chart) -> bool:
    return not any(labels.overlap(*pair) for pair in combinations(boxes(chart), 2))


@pytest.mark.parametrize("count", [1, 2, 5, 19])
def test_labels_of_a_family_never_overlap_and_stay_on_the_sheet(count: int) -> None:
    for chart in (
        curves.panel_and_pump(panel(count), LOAD, [], now=Point("now", 10.4, 0.744)),
        curves.head_and_flow([straight(f"{i} %", 3 * (i / count) ** 2, 10 * i / count) for i in range(1, count + 1)], LOAD, []),
    ):
        assert no_two_meet(chart)
        assert all(labels.within(box, Box(-1, 0, 401, chart.picture.height)) for box in boxes(chart))
        written = [shape.content for shape in chart.picture.shapes if isinstance(shape, Text) and shape.fill == SUN_TEXT]
        assert len(written) >= min(count, 4)


def test_the_load_line_ends_at_the_frame() -> None:
    chart = curves.panel_and_pump(panel(5), LOAD, POINTS)
    for line in [*drawn_lines(chart, WATER), *drawn_lines(chart, SUN)]:
        assert all(0 <= x <= 400 and crossing.TOP <= y <= crossing.BOTTOM for x, y in line.points)
    # The axis ends at 1.5 A (1.24 * 1.06 = 1.31): the load passes it between 14.6 V and 29.2 V.
    assert drawn_lines(chart, WATER)[-1].points[-1][1] == crossing.TOP


def test_marks_of_pump_controller_and_moment() -> None:
    best = [Point("600 W/m²", 17.4, 0.69), Point("1000 W/m²", 17.9, 1.15)]
    chart = curves.panel_and_pump(panel(5), LOAD, POINTS, best, Point("now", 12.0, 0.9))
    marks = [shape for shape in chart.picture.shapes if isinstance(shape, Circle)]
    assert len(marks) == 5
    dashed = [shape for shape in chart.picture.shapes if isinstance(shape, Line) and shape.dash]
    assert len(dashed) == 2
    (start, end) = dashed[0].points
    assert {(mark.x, mark.y) for mark in marks} >= {start, end}
    said = {shape.content for shape in chart.picture.shapes if isinstance(shape, Text)}
    assert {"now", "panel's best", "what the pump draws"} <= said
    assert no_two_meet(chart)
    assert chart.table.head[-3:] == ("Panel, V", "Panel, A", "Panel, W")
    assert chart.table.rows[2] == ("600 W/m²", "10.4", "0.74", "7.7", "17.4", "0.69", "12.0")  # 17.4 * 0.69 = 12.0
    assert chart.table.rows[0] == ("200 W/m²", "not steady", "not steady", "not steady", "–", "–", "–")


def test_findings_of_panel_and_pump() -> None:
    said = curves.panel_and_pump(panel(5), LOAD, POINTS).finding.replace(formats.SPACE, " ")
    assert said == (
        "Panel and pump agree where the lines cross: at 1000 W/m² that is 16.1 V and 1.21 A; "
        "at 3 of 5 strengths of sun the pump does not run steadily."
    )
    assert curves.panel_and_pump(panel(5), LOAD, []).finding == "The pump does not run at any strength of sun shown here."
    best = [Point("1000 W/m²", 17.9, 1.15)]
    said = curves.panel_and_pump(panel(1), LOAD, POINTS[1:], best).finding.replace(formats.SPACE, " ")
    assert said == "A controller turns the panel's best (dots) into what the pump takes (rings): at 1000 W/m², 16.1 V and 1.21 A."


def test_head_and_flow_tells_flow_head_and_what_stays_dry() -> None:
    family = [straight("60 %", 1.1, 6.1), straight("100 %", 3.1, 10.3)]
    system = Curve("pipe and jet ask", [0, 5, 12], [1.2, 1.9, 4.4])
    chart = curves.head_and_flow(family, system, [Point("100 %", 4.6, 1.83)])
    assert chart.table.rows == (("60 %", "dry", "dry"), ("100 %", "4.60", "1.83"))
    assert chart.finding.replace(formats.SPACE, " ") == (
        "Faster pump, more head and more flow: at 100 % 4.6 L/min against 1.83 m of head; at 1 of 2 it stays dry."
    )
    assert curves.head_and_flow(family, system, []).finding.startswith("No water flows")


def test_a_lift_above_every_pump_curve_is_still_drawn() -> None:
    system = Curve("pipe and jet ask", [0, 5, 12], [9.1, 9.9, 12.4])
    chart = curves.head_and_flow([straight("100 %", 3.1, 10.3)], system, [])
    assert drawn_lines(chart, WATER)
    assert "pipe and jet ask" in {shape.content for shape in chart.picture.shapes if isinstance(shape, Text)}


def test_nothing_at_all_can_be_drawn() -> None:
    nothing = Curve("asks", [0, 0], [0, 0])
    assert curves.panel_and_pump([Curve("0 W/m²", [0, 0], [0, 0])], nothing, []).picture.shapes
    assert curves.head_and_flow([], Curve("asks", [0, 7.3], [0.5, 1.9]), []).table.rows == ()


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_curves_refuse_what_is_not_finite(bad: float) -> None:
    for broken in (Curve("a", [0, bad], [1, 1]), Curve("a", [0, 1], [bad, 1])):
        with pytest.raises(ValueError, match="only finite numbers"):
            curves.panel_and_pump([broken], LOAD, [])
        with pytest.raises(ValueError, match="only finite numbers"):
            curves.head_and_flow(panel(2), broken, [])
    with pytest.raises(ValueError, match="only finite numbers"):
        curves.panel_and_pump(panel(2), LOAD, [Point("a", bad, 1)])


def test_a_curve_with_a_missing_value_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^the curve a has 2 x values and 1 y values$"):
        curves.panel_and_pump([Curve("a", [0, 1], [1])], LOAD, [])


def test_few_labels_take_the_outer_curves_first() -> None:
    assert crossing.few(0) == []
    assert crossing.few(1) == [0]
    assert crossing.few(3) == [2, 0, 1]
    chosen = crossing.few(19)
    assert chosen[:2] == [18, 0]
    assert len(set(chosen)) == crossing.MOST_LABELS


def test_a_label_moves_to_its_next_place_or_is_left_out() -> None:
    sheet, words_ = Box(0, 0, 200, 100), "abc"
    first, second = Text(10, 50, words_), Text(100, 50, words_)
    taken = labels.text_box(first)
    assert labels.place([[first, second]], sheet)[0] == labels.Placed(first, taken, 0)
    moved = labels.place([[first, second]], sheet, taken=[taken])[0]
    assert moved is not None
    assert moved.text == second
    assert labels.place([[first]], sheet, taken=[taken]) == (None,)
    assert labels.place([[Text(195, 50, words_)]], sheet) == (None,)
    assert labels.place([[first], [first]], sheet)[1] is None


def test_a_label_prefers_a_place_without_lines() -> None:
    sheet = Box(0, 0, 200, 100)
    first, second = Text(10, 50, "abc"), Text(100, 50, "abc")
    line = ((0.0, 47.0), (60.0, 47.0))
    placed = labels.place([[first, second]], sheet, lines=[line])[0]
    assert placed is not None
    assert (placed.text, placed.crossings) == (second, 0)
    only = labels.place([[first]], sheet, lines=[line])[0]
    assert only is not None
    assert only.crossings == 1
    assert labels.place([[first]], sheet, lines=[line] * 3) == (None,)


def test_lines_and_rectangles() -> None:
    box = Box(10, 10, 20, 20)
    assert labels.segment_meets(box, (0, 0), (30, 30))
    assert labels.segment_meets(box, (15, 12), (16, 13))
    assert labels.segment_meets(box, (15, 0), (15, 30))
    assert not labels.segment_meets(box, (0, 15), (9, 15))
    assert not labels.segment_meets(box, (10, 0), (10, 30))
    assert not labels.segment_meets(box, (0, 25), (30, 26))


@given(
    st.lists(st.lists(st.tuples(st.floats(-20, 420), st.floats(-20, 270)), min_size=1, max_size=5), max_size=15),
    st.lists(st.tuples(st.floats(0, 400), st.floats(0, 250)), max_size=5),
)
def test_placed_labels_keep_clear_of_each_other(
    places: list[list[tuple[float, float]]], marks: list[tuple[float, float]]
) -> None:
    sheet = Box(0, 0, 400, 250)
    taken = [Box(x - 5, y - 5, x + 5, y + 5) for x, y in marks]
    wanted = [[Text(x, y, f"label {index}") for x, y in proposals] for index, proposals in enumerate(places)]
    placed = [label.box for label in labels.place(wanted, sheet, taken) if label is not None]
    assert all(labels.within(box, sheet) for box in placed)
    assert not any(labels.overlap(one, other) for one, other in combinations(placed, 2))
    assert not any(labels.overlap(box, mark) for box in placed for mark in taken)


@given(st.lists(st.floats(-50, 350), max_size=12), st.floats(1, 40))
def test_spread_positions_keep_order_gap_and_room(wanted: list[float], gap: float) -> None:
    positions = labels.spread(wanted, gap, 0, 300)
    assert len(positions) == len(wanted)
    fits = min(gap, 300 / (len(wanted) - 1)) if len(wanted) > 1 else gap
    assert all(-1e-6 <= position <= 300 + 1e-6 for position in positions)
    in_order = [position for _, position in sorted(zip(wanted, positions, strict=True))]
    assert all(below - above >= fits - 1e-6 for above, below in pairwise(in_order))


def test_spread_moves_nothing_that_stands_free() -> None:
    assert labels.spread((10, 60.5, 120), 18, 0, 200) == (10, 60.5, 120)
    assert labels.spread((), 18, 0, 200) == ()
    # Two at 100 with gap 18 share the move: 91 and 109.
    assert labels.spread((100, 100), 18, 0, 200) == (91, 109)
    assert labels.spread((195, 199), 18, 0, 200) == (182, 200)
