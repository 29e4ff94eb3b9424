"""Where sun and water meet: panel and pump (current, voltage), pump and pipe (head, flow).

Orange lines are what the sun gives, the blue line is what the water asks; they agree where they cross.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from web import words
from web.axes import Frame, across, clipped, horizontal_axis, left_margin, thinned, ticks, up, vertical_axis
from web.labels import Box, Placed, place, text_box
from web.shapes import (
    INK,
    PAPER,
    STONE,
    SUN,
    SUN_TEXT,
    WATER,
    WIDTH,
    Chart,
    Circle,
    Line,
    Points,
    Rectangle,
    Shape,
    Table,
    Text,
    picture,
)

TOP, BOTTOM = 26.0, 250.0
MOST_LABELS = 6
PLACES_ALONG = (0.01, 0.12, 0.25, 0.4, 0.55, 0.7, 0.85, 0.97)
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


def panel_and_pump(
    curves: Sequence[Curve],
    load: Curve,
    points: Sequence[Point],
    maximum: Sequence[Point] = (),
    now: Point | None = None,
    *,
    name: str = "panel-and-pump",
) -> Chart:
    """Current over voltage: the panel at several strengths of sun, and what the pump draws.

    Parameters
    ----------
    curves
        The panel's curves [V, A], each labelled with its strength of sun ("600 W/m²").
    load
        What the pump draws [V, A].
    points
        Where the pump runs, labelled as the curve; none for a curve at which it stands.
    maximum
        With a controller: the panel's maximum-power points, labelled likewise; each is joined to the
        pump's point of the same label.
    now
        The chosen moment.
    name
        Beginning of the ids in the page.
    """
    shapes = crossing_chart(curves, load, points, maximum, now, ("amps", "volts"))
    rows = meeting_rows(curves, points, maximum)
    head = ("Sun", "Pump, V", "Pump, A", "Pump, W") + (("Panel, V", "Panel, A", "Panel, W") if maximum else ())
    finding = panel_finding(points, bool(maximum), len(curves))
    title = "Panel and pump"
    about = f"Current over voltage of the panel at {len(curves)} strengths of sun, and of the pump. {finding}"
    return Chart(
        name, title, about, finding, picture(WIDTH, BOTTOM + 44, shapes), Table(f"{title}: where they agree", head, rows)
    )


def head_and_flow(
    curves: Sequence[Curve],
    system: Curve,
    points: Sequence[Point],
    now: Point | None = None,
    *,
    name: str = "head-and-flow",
) -> Chart:
    """Head over flow: the pump at several speeds, and what pipe and outlet ask.

    Parameters
    ----------
    curves
        The pump's curves [L/min, m], each labelled with its speed or strength of sun.
    system
        Head that lift, pipe and outlet ask [L/min, m].
    points
        Where the water flows, labelled as the curve; none for a curve that stays dry.
    now
        The chosen moment.
    name
        Beginning of the ids in the page.
    """
    shapes = crossing_chart(curves, system, points, (), now, ("head, m", "litres a minute"))
    met = [matching(curve.label, points) for curve in curves]
    columns = [with_word([None if found is None else found[axis] for found in met], "dry") for axis in (0, 1)]
    rows = tuple(zip((curve.label for curve in curves), *columns, strict=True))
    finding = flow_finding(points, len(curves))
    title = "Pump and pipe"
    about = f"Head over flow of the pump at {len(curves)} speeds, and of pipe and outlet. {finding}"
    table = Table(f"{title}: where they agree", ("Pump at", "Flow, L/min", "Head, m"), rows)
    return Chart(name, title, about, finding, picture(WIDTH, BOTTOM + 44, shapes), table)


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
    supply = curves or [demand]
    x_marks = ticks(max([*(max(curve.x) for curve in supply), *(point.x for point in marked)]), 5)
    y_marks = ticks(max([min(demand.y), *(max(curve.y) for curve in supply), *(point.y for point in marked)]) * 1.06)
    frame = Frame(left_margin(y_marks), TOP, WIDTH, BOTTOM, x_marks[-1], y_marks[-1])
    supply_lines = [drawn(curve, frame) for curve in curves]
    demand_line = drawn(demand, frame)
    shapes = vertical_axis(frame, y_marks, titles[0]) + horizontal_axis(frame, x_marks, titles[1])
    shapes += [Line(part, SUN, 1.8) for line in supply_lines for part in line]
    shapes += [Line(part, WATER, 2.6) for part in demand_line]
    joined = joins(points, maximum, frame)
    shapes += [*joined, *marks(points, maximum, now, frame)]
    proposals = [
        *([sign(now, "now", frame)] if now else []),
        *([sign(max(maximum, key=lambda point: point.y), "panel's best", frame)] if maximum else []),
        [text for part in demand_line for text in along(part, demand.label, WATER, 700, last_first=True)],
        *([text for part in supply_lines[index] for text in along(part, curves[index].label)] for index in few(len(curves))),
    ]
    covered = [mark_box(point, frame) for point in marked]
    rules = [((frame.left, up(frame, mark)), (frame.right, up(frame, mark))) for mark in y_marks]
    lines = [*rules, *(join.points for join in joined), *(part for line in [*supply_lines, demand_line] for part in line)]
    sheet = Box(frame.left + 2, 2, frame.right, frame.bottom - 1)
    return shapes + plated(place(proposals, sheet, covered, lines))


def drawn(curve: Curve, frame: Frame) -> tuple[Points, ...]:
    """A curve on the sheet, cut at the frame and thinned to what the eye can tell."""
    if len(curve.x) != len(curve.y):
        raise ValueError(f"the curve {curve.label} has {len(curve.x)} x values and {len(curve.y)} y values")
    on_sheet = [(across(frame, x), up(frame, y)) for x, y in zip(curve.x, curve.y, strict=True)]
    return tuple(thinned(part) for part in clipped(on_sheet, frame))


def few(count: int) -> list[int]:
    """Which of many curves get a label: the outer ones first, then evenly between."""
    wanted = min(count, MOST_LABELS)
    if wanted < 2:
        return list(range(count))
    chosen = [round(index * (count - 1) / (wanted - 1)) for index in range(wanted)]
    return [chosen[-1], chosen[0], *reversed(chosen[1:-1])]


def along(part: Points, content: str, fill: str = SUN_TEXT, weight: int = 400, last_first: bool = False) -> list[Text]:
    """Places for a label above and below a line, from its beginning to its end."""
    start, end = part[0][0], part[-1][0]
    proposals = []
    for share in reversed(PLACES_ALONG) if last_first else PLACES_ALONG:
        x = start + share * (end - start)
        y = height_at(part, x)
        for shift_x, shift_y, anchor in ((3, -5, "start"), (-4, -6, "end"), (6, -6, "start"), (5, 15, "start"), (-5, 15, "end")):
            proposals.append(Text(x + shift_x, y + shift_y, content, anchor=anchor, fill=fill, weight=weight))
    return proposals


def height_at(part: Points, x: float) -> float:
    """Height of a line on the sheet at a place between its ends."""
    for (start_x, start_y), (end_x, end_y) in pairwise(part):
        if min(start_x, end_x) <= x <= max(start_x, end_x):
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


def plated(labels: Sequence[Placed | None]) -> list[Shape]:
    """The labels, with a white plate behind one that a line runs through."""
    shapes: list[Shape] = []
    for label in labels:
        if label is None:
            continue
        box = text_box(label.text)
        if label.crossings:
            shapes.append(Rectangle(box.left - 1, box.top, box.right - box.left + 2, box.bottom - box.top, PAPER, opacity=0.85))
        shapes.append(label.text)
    return shapes


def matching(label: str, points: Sequence[Point]) -> tuple[float, float] | None:
    """x and y of the point of a curve, where it has one."""
    return next(((point.x, point.y) for point in points if point.label == label), None)


def with_word(values: Sequence[float | None], word: str) -> tuple[str, ...]:
    """A column of numbers with the same decimals, a word where there is none."""
    known = iter(words.column([value for value in values if value is not None]))
    return tuple(word if value is None else next(known) for value in values)


def meeting_rows(curves: Sequence[Curve], points: Sequence[Point], maximum: Sequence[Point]) -> tuple[tuple[str, ...], ...]:
    """Volts, amps and watts of pump and panel at each strength of sun."""
    columns: list[tuple[str, ...]] = [tuple(curve.label for curve in curves)]
    for marked, word in ((points, "stands"), *([(maximum, "–")] if maximum else [])):
        met = [matching(curve.label, marked) for curve in curves]
        volts = [None if found is None else found[0] for found in met]
        amps = [None if found is None else found[1] for found in met]
        watts = [None if found is None else found[0] * found[1] for found in met]
        columns += [with_word(values, word) for values in (volts, amps, watts)]
    return tuple(zip(*columns, strict=True))


def panel_finding(points: Sequence[Point], controlled: bool, count: int) -> str:
    """What the crossing of panel and pump says."""
    if not points:
        return "The pump does not run at any strength of sun shown here."
    point = points[len(points) // 2]
    values = f"{words.quantity(point.x, 'V')} and {words.quantity(point.y, 'A')}"
    if controlled:
        sentence = f"The controller holds the panel at its best and feeds the pump beside it: at {point.label}, {values}"
    else:
        sentence = f"Panel and pump agree where the lines cross: at {point.label} that is {values}"
    stands = count - len(points)
    return sentence + (f"; at {stands} of {count} strengths of sun the pump stands." if stands > 0 else ".")


def flow_finding(points: Sequence[Point], count: int) -> str:
    """What the crossing of pump and pipe says."""
    if not points:
        return "No water flows: the pump cannot pass the lift at any speed shown here."
    point = max(points, key=lambda each: each.x)
    sentence = f"Faster pump, more head and more flow: at {point.label} {words.quantity(point.x, 'l/min')}"
    sentence += f" against {words.length(point.y)} of head"
    dry = count - len(points)
    return sentence + (f"; at {dry} of {count} it stays dry." if dry > 0 else ".")
