"""The geometry that both crossings share: lines cut at the frame, marks, labels beside their lines."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from web.charts.kit.axes import Frame, across, clipped, horizontal_axis, left_margin, on_sheet, thinned, ticks, up, vertical_axis
from web.charts.kit.labels import Box, Placed, line_meets, place
from web.charts.kit.shapes import INK, PAPER, STONE, SUN, SUN_TEXT, WATER, WIDTH, Circle, Line, Points, Rectangle, Shape, Text

TOP, BOTTOM = 26.0, 250.0
HEIGHT = BOTTOM + 44
MOST_LABELS = 6
PLACES_ALONG = (0.01, 0.12, 0.25, 0.4, 0.55, 0.7, 0.85, 0.97)
ABOVE, BELOW = ((3, -5, "start"), (-4, -6, "end"), (6, -6, "start")), ((5, 15, "start"), (-5, 15, "end"))
RING, DOT = 5.0, 3.6


@dataclass(frozen=True)
class Curve:
    """A line with its direct label; x and y in the units of the axes, x rising or falling."""

    label: str
    x: Sequence[float]
    y: Sequence[float]


@dataclass(frozen=True)
class Point:
    """A marked place; ``label`` says at which strength of sun or speed, as on the curve it lies on."""

    label: str
    x: float
    y: float


def crossing_chart(
    curves: Sequence[Curve],
    demand: Curve,
    points: Sequence[Point],
    maximum: Sequence[Point],
    now: Point | None,
    titles: tuple[str, str],
) -> list[Shape]:
    """Axes, lines cut at the frame, marks, and labels where they cover nothing."""
    marked = [*points, *maximum, *([now] if now else [])]
    frame, x_marks, y_marks = frame_for(curves, demand, marked)
    supply_lines = [drawn(curve, frame) for curve in curves]
    demand_line = drawn(demand, frame)
    joined = joins(points, maximum, frame)
    shapes = vertical_axis(frame, y_marks, titles[0]) + horizontal_axis(frame, x_marks, titles[1])
    shapes += [Line(part, SUN, 1.8) for line in supply_lines for part in line]
    shapes += [Line(part, WATER, 2.6) for part in demand_line]
    shapes += [*joined, *marks(points, maximum, now, frame)]
    first = [
        *([sign(now, "now", frame)] if now else []),
        *([sign(max(maximum, key=lambda point: point.y), "panel's best", frame)] if maximum else []),
        along(demand_line, demand.label, WATER, 700, last_first=True),
    ]
    then = [along(supply_lines[index], curves[index].label) for index in few(len(curves))]
    covered = [mark_box(point, frame) for point in marked]
    rules = [((frame.left, up(frame, mark)), (frame.right, up(frame, mark))) for mark in y_marks]
    lines = [*(join.points for join in joined), *(part for line in [*supply_lines, demand_line] for part in line)]
    return shapes + labelled(first, then, frame, covered, lines, rules)


def labelled(
    first: Sequence[Iterable[Text]],
    then: Sequence[Iterable[Text]],
    frame: Frame,
    covered: Sequence[Box],
    lines: Sequence[Points],
    rules: Sequence[Points],
) -> list[Shape]:
    """Single labels, which keep clear of the rules too, and then those of the family, always on one side if they can."""
    sheet = Box(frame.left + 2, 2, frame.right, frame.bottom - 1)
    single = place(first, sheet, covered, [*rules, *lines])
    taken = [*covered, *(label.box for label in single if label is not None)]
    return plated([*single, *place(then, sheet, taken, lines)], [*rules, *lines])


def frame_for(
    curves: Sequence[Curve], demand: Curve, marked: Sequence[Point]
) -> tuple[Frame, tuple[float, ...], tuple[float, ...]]:
    """Axes that hold all curves and marks, and at least the lowest point of what is asked."""
    supply = curves or [demand]
    x_marks = ticks(max([*(max(curve.x) for curve in supply), *(point.x for point in marked)]), 5)
    y_marks = ticks(max([min(demand.y), *(max(curve.y) for curve in supply), *(point.y for point in marked)]) * 1.06)
    return Frame(left_margin(y_marks), TOP, WIDTH, BOTTOM, x_marks[-1], y_marks[-1]), x_marks, y_marks


def drawn(curve: Curve, frame: Frame) -> tuple[Points, ...]:
    """A curve on the sheet, cut at the frame and thinned to what the eye can tell."""
    if len(curve.x) != len(curve.y):
        raise ValueError(f"the curve {curve.label} has {len(curve.x)} x values and {len(curve.y)} y values")
    return tuple([thinned(part) for part in clipped(on_sheet(frame, curve.x, curve.y), frame)])


def few(count: int) -> list[int]:
    """Which of many curves get a label: the outer ones first, then evenly between."""
    wanted = min(count, MOST_LABELS)
    if wanted < 2:
        return list(range(count))
    chosen = [round(index * (count - 1) / (wanted - 1)) for index in range(wanted)]
    return [chosen[-1], chosen[0], *reversed(chosen[1:-1])]


def along(
    parts: Iterable[Points], content: str, fill: str = SUN_TEXT, weight: int = 400, last_first: bool = False
) -> Iterator[Text]:
    """Places for a label along a line from its beginning to its end, all those above it before those below.

    They are made as they are asked for: most labels find room at one of the first.
    """
    shares = PLACES_ALONG[::-1] if last_first else PLACES_ALONG
    for part in parts:
        across_part = [part[0][0] + share * (part[-1][0] - part[0][0]) for share in shares]
        for side in (ABOVE, BELOW):
            for x in across_part:
                y = height_at(part, x)
                for right, down, anchor in side:
                    yield Text(x + right, y + down, content, anchor=anchor, fill=fill, weight=weight)


def height_at(part: Points, x: float) -> float:
    """Height of a line on the sheet at a place between its ends."""
    for (start_x, start_y), (end_x, end_y) in pairwise(part):
        if start_x <= x <= end_x or end_x <= x <= start_x:
            share = (x - start_x) / (end_x - start_x) if end_x != start_x else 0.0
            return start_y + share * (end_y - start_y)
    return part[-1][1]


def mark_box(point: Point, frame: Frame) -> Box:
    """What a mark covers."""
    x, y = across(frame, point.x), up(frame, point.y)
    return Box(x - RING - 1, y - RING - 1, x + RING + 1, y + RING + 1)


def marks(points: Sequence[Point], maximum: Sequence[Point], now: Point | None, frame: Frame) -> list[Shape]:
    """Rings where the pump runs, dots where the panel gives most, a full disc at the chosen moment."""
    shapes: list[Shape] = []
    for point in maximum:
        shapes.append(Circle(across(frame, point.x), up(frame, point.y), DOT, SUN_TEXT, PAPER, 1.2, point.label))
    for point in points:
        shapes.append(Circle(across(frame, point.x), up(frame, point.y), RING, PAPER, WATER, 2.2, point.label))
    if now:
        shapes.append(Circle(across(frame, now.x), up(frame, now.y), RING + 1, INK, PAPER, 1.5, now.label))
    return shapes


def joins(points: Sequence[Point], maximum: Sequence[Point], frame: Frame) -> list[Line]:
    """Dashed lines from the panel's maximum-power points to the pump's points of the same sun."""
    pumps = {point.label: point for point in points}
    pairs = [(point, pumps[point.label]) for point in maximum if point.label in pumps]
    return [Line(tuple((across(frame, point.x), up(frame, point.y)) for point in pair), STONE, 1.3, "3 3") for pair in pairs]


def sign(point: Point, content: str, frame: Frame) -> list[Text]:
    """Places for the word beside a mark."""
    x, y = across(frame, point.x), up(frame, point.y)
    fill = INK if content == "now" else SUN_TEXT
    weight = 700 if content == "now" else 400
    around = ((10, 5, "start"), (-10, 5, "end"), (0, -10, "middle"), (0, 20, "middle"), (9, -8, "start"), (-9, 18, "end"))
    return [Text(x + right, y + down, content, anchor=anchor, fill=fill, weight=weight) for right, down, anchor in around]


def plated(placed: Sequence[Placed | None], lines: Sequence[Points]) -> list[Shape]:
    """The labels, with a white plate behind one that a line runs through."""
    shapes: list[Shape] = []
    for label in placed:
        if label is None:
            continue
        box = label.box
        if any(line_meets(box, line) for line in lines):
            shapes.append(Rectangle(box.left - 6, box.top, box.right - box.left + 7, box.bottom - box.top, PAPER, opacity=0.85))
        shapes.append(label.text)
    return shapes
