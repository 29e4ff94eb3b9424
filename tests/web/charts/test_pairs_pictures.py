"""The pictures of a comparison: lines inside the frame, labels that cover nothing, findings that the numbers bear out."""

import math
from collections.abc import Sequence
from itertools import combinations
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sizing.comparison.comparison import compare
from sizing.design.reading import read_design
from tests.choices import document
from tests.draws import drawn
from web.charts.kit import labels
from web.charts.kit.axes import Frame
from web.charts.kit.crossing import Curve
from web.charts.kit.labels import Box
from web.charts.kit.many_lines import DASHES, along_line, labelled_lines, look
from web.charts.kit.shapes import INK, QUIET, SUN, SUN_TEXT, WATER, Chart, Circle, Line, Points, Text
from web.charts.load_lines import Agreed, LoadDrawn, PanelDrawn, load_lines_chart
from web.charts.pair_names import names_of
from web.charts.pairs_by_month import PairMonths, pairs_by_month
from web.charts.pictures_of_pairs import at_rated_voltage, crossing, lines_picture, months_picture, pumps_picture
from web.charts.pumps import PumpDrawn, pumps_chart

FRAME = Frame(30, 26, 400, 292, 10, 10)


def falling(label: str, head: float, flow: float) -> PumpDrawn:
    """A pump whose head falls as a parabola from shut-off to run-out, and where it meets 0.4 m + 0.016 Q².

    head (1 - (Q/flow)²) = 0.4 + 0.016 Q², so Q² = (head - 0.4) / (0.016 + head/flow²).
    """
    x = [flow * step / 24 for step in range(25)]
    square = (head - 0.4) / (0.016 + head / flow**2)
    meets = (square**0.5, 0.4 + 0.016 * square) if square > 0 else None
    return PumpDrawn(label, f"Pump {label}", Curve(label, x, [head * (1 - (each / flow) ** 2) for each in x]), meets)


SYSTEM = Curve("", [0.5 * step for step in range(200)], [0.4 + 0.016 * (0.5 * step) ** 2 for step in range(200)])


def words(chart: Chart) -> list[str]:
    return [shape.content for shape in chart.picture.shapes if isinstance(shape, Text)]


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def boxes(chart: Chart) -> list[Box]:
    return [labels.text_box(shape) for shape in chart.picture.shapes if isinstance(shape, Text)]


def in_order(chart: Chart) -> None:
    """No two words overlap, all have colours for words, all words and lines lie on the sheet."""
    assert not [pair for pair in combinations(boxes(chart), 2) if labels.overlap(*pair)]
    assert {shape.fill for shape in chart.picture.shapes if isinstance(shape, Text)} <= {INK, QUIET, WATER, SUN_TEXT}
    sheet = Box(-1, 0, 401, chart.picture.height)
    assert all(labels.within(box, sheet) for box in boxes(chart))
    for shape in chart.picture.shapes:
        if isinstance(shape, Line):
            assert all(-0.1 <= x <= 400.1 and 0 <= y <= chart.picture.height for x, y in shape.points)


# All pumps


@pytest.mark.parametrize("count", [1, 2, 6, 12])
@pytest.mark.parametrize("step", [0.0, 0.07, 0.31])
def test_every_pump_has_its_label_and_none_covers_another(count: int, step: float) -> None:
    """Also twelve that are exactly alike, which lie on one line."""
    named = [f"pump {index + 1}" if count <= 6 else str(index + 1) for index in range(count)]
    pumps = [falling(label, 1.3 + step * index, 7.3 + step * index) for index, label in enumerate(named)]
    chart = pumps_chart(pumps, SYSTEM)
    in_order(chart)
    assert rarest(words(chart), [*named, "pipe and outlet ask"]) >= 1
    assert len(chart.table.head) == count + 2
    assert chart.short_table is not None
    assert [row[0] for row in chart.short_table.rows] == [f"Pump {index + 1}: Pump {label}" for index, label in enumerate(named)]


def rarest(found: Sequence[str], wanted: Sequence[str]) -> int:
    """How often the rarest of the wanted words stands there."""
    return min(list(found).count(each) for each in wanted)


def test_twelve_lines_in_a_row_look_different_in_grey_too() -> None:
    looks = [look(index) for index in range(12)]
    assert len(set(looks)) == 12
    assert len({look(index)[0] for index in range(6)}) == 1
    assert len(set(DASHES)) == 6


def test_a_pump_that_is_far_too_large_is_cut_at_the_frame() -> None:
    small, large = falling("pump 1", 1.7, 8.3), falling("pump 2", 61.0, 9130.0)
    chart = pumps_chart([small, large], SYSTEM)
    in_order(chart)
    marks = [float(word) for word in words(chart) if word.replace(".", "").isdigit()]
    assert max(marks) == 200  # they cross at 61.6 litres a minute, and three times that is 185
    assert {"pump 1", "pump 2", "pipe and outlet ask"} <= set(words(chart))


def test_findings_of_all_pumps() -> None:
    strong, weak, dry = falling("pump 1", 3.1, 9.0), falling("pump 2", 2.0, 8.0), falling("pump 3", 0.2, 4.0)
    # Q² = 2.7 / (0.016 + 3.1/81) = 49.74, Q = 7.05 and 0.4 + 0.016 * 49.74 = 1.196;
    # Q² = 1.6 / (0.016 + 2/64) = 33.86, Q = 5.82 and 0.4 + 0.016 * 33.86 = 0.942.
    said = plain(pumps_chart([strong, weak, dry], SYSTEM).finding)
    assert said == (
        "At rated voltage pump 1 moves most, 7.05 L/min against 1.2 m of head; pump 2 least, 5.82 L/min; "
        "pump 3 cannot lift the water to the outlet. Rings mark where pump and pipe agree."
    )
    assert pumps_chart([dry], SYSTEM).finding == "At rated voltage no pump lifts the water to the outlet."
    assert plain(pumps_chart([weak], SYSTEM).finding) == (
        "At rated voltage pump 2 moves 5.82 L/min against 94 cm of head. The ring marks where pump and pipe agree."
    )
    numbered = [falling(str(index), 2.0, 8.0 + index) for index in range(1, 8)]
    assert plain(pumps_chart(numbered, SYSTEM).finding).startswith("At rated voltage pump 7 moves most, ")


def test_the_table_reads_the_curves_at_the_marks_of_the_axis() -> None:
    chart = pumps_chart([falling("pump 1", 2.0, 8.0)], SYSTEM)
    # Marks 0, 2, 4, 6, 8: heads 2 (1 - (Q/8)²) = 2, 1.875, 1.5, 0.875, 0; points lie every third of a litre, so straight
    # lines between them are at most 2 (1/48)² = 0.001 off. Asked at 2: 0.4 + 0.016 * 4 = 0.464; at 8: 0.4 + 0.016 * 64 = 1.424.
    rows = {row[0]: row[1:] for row in chart.table.rows}
    assert rows["2"][0] == "0.46"
    assert rows["8"][0] == "1.42"
    assert [float(rows[mark][1]) for mark in ("0", "2", "4", "6", "8")] == pytest.approx([2, 1.875, 1.5, 0.875, 0], abs=0.006)


def test_where_curves_cross_and_where_they_do_not() -> None:
    flow = np.array([0.0, 3.0, 7.3])
    # From 2.1 - 0.4 = 1.7 spare to 0.2 - 1.9 = -1.7: half way between 3 and 7.3, at a head half way between 2.1 and 0.2.
    found = crossing(flow, np.array([2.6, 2.1, 0.2]), np.array([0.3, 0.4, 1.9]))
    assert found == pytest.approx((5.15, 1.15))
    assert crossing(flow, np.array([0.2, 0.1, 0.0]), np.array([0.3, 0.4, 1.9])) is None
    assert crossing(flow, np.array([3.2, 3.1, 3.0]), np.array([0.3, 0.4, 1.9])) == (7.3, 3.0)


# Lines and labels in general


lines = st.lists(st.tuples(st.floats(30, 400), st.floats(26, 292)), min_size=2, max_size=9).map(tuple)


@drawn(60)
@given(st.lists(lines, min_size=1, max_size=14))
def test_labels_of_any_lines_keep_clear_of_each_other(many: list[Points]) -> None:
    shapes = labelled_lines([[line] for line in many], [str(index + 1) for index in range(len(many))], [INK] * len(many), FRAME)
    placed = [labels.text_box(shape) for shape in shapes if isinstance(shape, Text)]
    assert not [pair for pair in combinations(placed, 2) if labels.overlap(*pair)]
    assert all(labels.within(box, Box(30, 0, 400.1, 292)) for box in placed)


def test_a_label_stands_in_a_long_line_and_beside_a_short_one() -> None:
    long, short = ((40.0, 200.0), (380.0, 200.0)), ((60.0, 60.0), (66.0, 62.0))
    shapes = labelled_lines([[long], [short]], ["pump 1", "pump 2"], [INK, INK], FRAME)
    first, second = (shape for shape in shapes if isinstance(shape, Text))
    assert first.y == pytest.approx(205)
    assert labels.text_box(second).left > 66 or labels.text_box(second).top > 62 or labels.text_box(second).bottom < 60
    (leader,) = [shape for shape in shapes if isinstance(shape, Line)]
    assert leader.points[0] == pytest.approx((63, 61))
    assert labelled_lines([[]], ["nothing"], [INK], FRAME) == []
    assert labelled_lines([[long]], [""], [INK], FRAME) == []


def test_lines_that_crowd_in_a_corner_have_their_labels_all_the_same() -> None:
    tiny = [((31.0, 290.0 - 0.3 * index), (33.0 + 0.2 * index, 291.5)) for index in range(12)]
    wide = [((31.0, 250.0 - 20 * index), (399.0, 288.0)) for index in range(8)]
    named = [f"pump {index + 1}" for index in range(20)]
    shapes = labelled_lines([[line] for line in (*tiny, *wide)], named, [INK] * 20, FRAME)
    placed = [shape for shape in shapes if isinstance(shape, Text)]
    assert sorted(shape.content for shape in placed) == sorted(named)
    assert not [pair for pair in combinations(map(labels.text_box, placed), 2) if labels.overlap(*pair)]


def test_a_share_of_the_way_along_a_line() -> None:
    bent = ((0.0, 0.0), (3.0, 4.0), (3.0, 4.0), (3.0, 19.0))  # 5 and 15 long
    assert along_line(bent, 0.125) == pytest.approx((1.5, 2.0))
    assert along_line(bent, 0.625) == pytest.approx((3.0, 11.5))
    assert along_line(bent, 1.0) == (3.0, 19.0)
    assert along_line(((7.3, 1.0), (7.3, 1.0)), 0.4) == (7.3, 1.0)


# All panels and pumps


def knee(label: str, amps: float, volts: float) -> PanelDrawn:
    """A panel with a plateau and a knee."""

    def curve(share: float) -> Curve:
        x = [volts * step / 40 for step in range(41)]
        return Curve("", x, [amps * share * (1 - math.exp((each - volts) / 1.3)) for each in x])

    return PanelDrawn(label, f"Name of {label}", curve(1.0), curve(0.5), 0.75 * amps * volts)


def load(label: str, volts: float, amps: float) -> LoadDrawn:
    """What a pump asks: more amperes with more volts."""
    share = [step / 20 for step in range(21)]
    return LoadDrawn(
        label, Curve(label, [volts * each for each in share], [amps * each**2 for each in share]), (0.6 * volts, 0.36 * amps)
    )


@pytest.mark.parametrize(("panels", "pumps"), [(1, 1), (3, 4), (6, 12), (1, 12), (6, 1)])
def test_all_lines_are_labelled_and_in_order(panels: int, pumps: int) -> None:
    given = [knee(f"panel {index + 1}", 0.61 + 0.37 * index, 19.1 + 0.7 * index) for index in range(panels)]
    loads = [load(f"pump {index + 1}" if pumps <= 6 else str(index + 1), 25.3, 0.7 + 0.4 * index) for index in range(pumps)]
    agreed = [
        Agreed(each.label, panel.label, sun, (7.3, 0.0191)) for each in loads for sun in ("full", "half") for panel in given
    ]
    chart = load_lines_chart(given, loads, agreed, "where it plays", "So it is.")
    in_order(chart)
    assert rarest(words(chart), [each.label for each in (*given, *loads)]) == 1
    orange = [shape for shape in chart.picture.shapes if isinstance(shape, Line) and shape.stroke == SUN]
    assert [bool(shape.dash) for shape in orange] == [True] * panels + [False] * panels
    assert len(chart.table.rows) == 2 * pumps
    assert chart.table.rows[0][2:] == ("7.3 · 0.0191",) * panels
    assert chart.finding.startswith("So it is. ")


def test_a_line_that_leaves_the_frame_keeps_its_label_and_loses_its_ring() -> None:
    chart = load_lines_chart([knee("panel 1", 0.4, 18.0)], [load("pump 1", 18.0, 61.0)], [], "where it plays", "So.")
    in_order(chart)
    assert "pump 1" in words(chart)
    assert not [shape for shape in chart.picture.shapes if isinstance(shape, Circle)]


# Months side by side


def test_four_pairs_are_drawn_and_all_are_listed() -> None:
    pairs = [
        PairMonths(f"pair {rank}", f"panel {rank}, pump 1", [10.0 * rank + month for month in range(12)]) for rank in range(1, 8)
    ]
    chart = pairs_by_month(pairs, (5, 6))
    in_order(chart)
    assert [word for word in words(chart) if word.startswith("pair")] == ["pair 1", "pair 2", "pair 3", "pair 4"]
    assert len(chart.table.rows) == 7
    assert chart.table.rows[6] == ("Pair 7: panel 7, pump 1", *(f"{70 + month}.0" for month in range(12)))
    bold = [shape.content for shape in chart.picture.shapes if isinstance(shape, Text) and shape.weight == 700]
    assert bold == ["M", "J"]
    assert plain(chart.finding) == "Of the first four, pair 4 gives most in every month, up to 51 L a day in December."


def test_findings_of_months() -> None:
    summer = [0.0] * 4 + [7.3, 19.1, 18.0, 7.0] + [0.0] * 4
    winter = [5.0] * 5 + [2.0] * 3 + [5.0] * 4
    two = [PairMonths("pair 1", "a", summer), PairMonths("pair 2", "b", winter)]
    assert plain(pairs_by_month(two, range(1, 13)).finding) == (
        "Of the first two, pair 2 gives most in September to April, up to 5 L a day in January; pair 1 in May to August."
    )
    assert plain(pairs_by_month(two[:1], (6,)).finding) == "Pair 1 gives most in June: 19.1 L a day."
    assert pairs_by_month([PairMonths("pair 1", "a", [0.0] * 12)], (6,)).finding == "None of these pairs moves any water."


def test_lines_that_end_together_have_labels_apart() -> None:
    alike = [PairMonths(f"pair {rank}", "a", [19.1] * 12) for rank in range(1, 5)]
    in_order(pairs_by_month(alike, ()))
    in_order(pairs_by_month([PairMonths(f"pair {rank}", "a", [0.0] * 12) for rank in range(1, 5)], ()))


# From comparisons


def test_a_pump_meets_its_own_points_at_rated_voltage() -> None:
    """Published points were taken at rated voltage, so the curve drawn goes through them."""
    design = read_design(document())
    found = compare(design)
    for each in found.pairs[:1]:
        assert each.match is not None
        flow, head = at_rated_voltage(each.match.line.pump)
        points = each.pump_input.points
        assert points is not None
        for point in points:
            drawn = float(np.interp(point.flow_l_per_min / 60000, flow, head))
            assert drawn == pytest.approx(point.head_m, abs=0.004 * points[0].head_m)


@pytest.mark.some(2)
@pytest.mark.parametrize("both", [False, True])
@pytest.mark.parametrize("controller", [False, True])
def test_pictures_of_a_comparison(both: bool, controller: bool) -> None:
    changes: dict[str, Any] = {"connection": {"kind": "controller", "efficiency_pct": 91}} if controller else {}
    found = compare(read_design(document(changes=changes)), both_connections=both)
    names = names_of(found)
    charts = [pumps_picture(found, names), lines_picture(found, names), months_picture(found, names)]
    for chart in charts:
        in_order(chart)
        assert chart.finding
    assert charts[0].short_table is not None
    assert len(charts[0].short_table.rows) == len(found.design.pumps)
    assert len(charts[1].table.rows) == 2 * len(found.design.pumps)
    assert ("A controller lets each pump have" in charts[1].finding) == (controller and not both)
    assert len(charts[2].table.rows) == len(found.pairs)


def test_a_spillway_and_a_lift_that_no_pump_passes_are_drawn_too() -> None:
    spillway = compare(read_design(document((0.5, 1.0), (1.0,), {"goal": None}, "terrace_spillway")))
    high = document(changes={"goal": None})
    points = [
        point | {"head_m": 6 * point["head_m"], "current_a": 5 * point["current_a"]} for point in high["pumps"][2]["points"]
    ]
    high["pumps"].append(high["pumps"][2] | {"id": "strong", "points": points})
    high["outlet"]["height_above_water_m"] = 3.3
    for found in (spillway, compare(read_design(high))):
        names = names_of(found)
        for chart in (pumps_picture(found, names), lines_picture(found, names), months_picture(found, names)):
            in_order(chart)
