"""All pumps in one picture: the head of each over its flow, at its rated voltage, and what pipe and outlet ask."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from sizing.comparison import listed
from sizing.foundation import column, formats
from web.charts.kit.axes import Frame, horizontal_axis, left_margin, ticks, vertical_axis
from web.charts.kit.crossing import Curve, drawn, mark_box, marks
from web.charts.kit.crossing import Point as Mark
from web.charts.kit.many_lines import labelled_lines, look
from web.charts.kit.shapes import INK, WATER, WIDTH, Chart, Line, Shape, Table, picture

TOP, BOTTOM = 26.0, 292.0
HEIGHT = BOTTOM + 44
MUCH = 3.0
"""[1] Pumps that reach further than this many times the farthest crossing are cut at the frame."""
ASKED = "pipe and outlet ask"
DRY = "cannot lift"


@dataclass(frozen=True)
class PumpDrawn:
    """A pump: its number and name, its curve [L/min, m], and where it meets the pipe's (``None`` where it cannot lift)."""

    label: str
    name: str
    curve: Curve
    meets: tuple[float, float] | None


def pumps_chart(pumps: Sequence[PumpDrawn], system: Curve, name: str = "all-pumps") -> Chart:
    """Head over flow of all pumps, with the one curve that they all have to meet.

    Parameters
    ----------
    pumps
        One or more; curves from no flow to no head.
    system
        Head that lift, pipe and outlet ask [L/min, m], flow rising.
    name
        Beginning of the ids in the page.
    """
    frame, x_marks, y_marks = frame_for(pumps, system)
    lines = [drawn(pump.curve, frame) for pump in pumps]
    asked = drawn(system, frame)
    met = [Mark(pump.label, *pump.meets) for pump in pumps if pump.meets is not None and inside(pump.meets, frame)]
    shapes: list[Shape] = vertical_axis(frame, y_marks, "head, m") + horizontal_axis(frame, x_marks, "litres a minute")
    for index, parts in enumerate(lines):
        colour, dash = look(index)
        shapes += [Line(part, colour, 1.8, dash) for part in parts]
    shapes += [Line(part, INK, 3) for part in asked]
    shapes += marks(met, (), None, frame)
    shapes += labelled_lines(
        [*lines, asked],
        [*(pump.label for pump in pumps), ASKED],
        [*(WATER for _ in pumps), INK],
        frame,
        [mark_box(point, frame) for point in met],
        [400] * len(pumps) + [700],
    )
    said = finding(pumps)
    count = "one pump" if len(pumps) == 1 else f"{len(pumps)} pumps"
    about = f"Head over flow of {count} at rated voltage, and of pipe and outlet. {said}"
    return Chart(
        name, "All pumps", about, said, picture(WIDTH, HEIGHT, shapes), heads_table(pumps, system, x_marks), key_table(pumps)
    )


def frame_for(pumps: Sequence[PumpDrawn], system: Curve) -> tuple[Frame, tuple[float, ...], tuple[float, ...]]:
    """Axes that hold all curves, unless some reach far beyond where anything happens."""
    met = [pump.meets for pump in pumps if pump.meets is not None]
    x = max([max(pump.curve.x) for pump in pumps] or [max(system.x)])
    y = max([*(max(pump.curve.y) for pump in pumps), min(system.y)])
    if met:
        x = min(x, MUCH * max(flow for flow, _ in met))
        y = max(min(y, MUCH * max(head for _, head in met)), min(system.y))
    x_marks, y_marks = ticks(x, 5), ticks(1.02 * y, 5)
    return Frame(left_margin(y_marks), TOP, WIDTH, BOTTOM, x_marks[-1], y_marks[-1]), x_marks, y_marks


def inside(point: tuple[float, float], frame: Frame) -> bool:
    """Whether a point lies in the frame."""
    return point[0] <= frame.x_top and point[1] <= frame.y_top


def finding(pumps: Sequence[PumpDrawn]) -> str:
    """Which pump moves most, which least, and which cannot lift at all."""
    moving = [(pump, pump.meets) for pump in pumps if pump.meets is not None]
    idle = [capital(pump.label).lower() for pump in pumps if pump.meets is None]
    if not moving:
        return "At rated voltage no pump lifts the water to the outlet."
    rings = "Rings mark" if len(moving) > 1 else "The ring marks"
    most, least = max(moving, key=lambda each: each[1][0]), min(moving, key=lambda each: each[1][0])
    said = f"At rated voltage {capital(most[0].label).lower()} moves {'most, ' if len(moving) > 1 else ''}{at(most[1])}"
    if most is not least:
        said += f"; {capital(least[0].label).lower()} least, {formats.quantity(least[1][0], 'l/min')}"
    if idle:
        said += f"; {listed(idle)} cannot lift the water to the outlet"
    return f"{said}. {rings} where pump and pipe agree."


def at(point: tuple[float, float]) -> str:
    """Flow and head in words."""
    return f"{formats.quantity(point[0], 'l/min')} against {formats.length(point[1])} of head"


def key_table(pumps: Sequence[PumpDrawn]) -> Table:
    """Which pump is which, and where each meets the pipe."""
    flows = dash_where_none([None if pump.meets is None else pump.meets[0] for pump in pumps])
    heads = dash_where_none([None if pump.meets is None else pump.meets[1] for pump in pumps])
    called = tuple(f"{capital(pump.label)}: {pump.name}" for pump in pumps)
    caption = "The pumps, and where each meets pipe and outlet at rated voltage"
    return Table(caption, ("Pump", "Flow, L/min", "Head, m"), tuple(zip(called, flows, heads, strict=True)))


def dash_where_none(values: Sequence[float | None]) -> tuple[str, ...]:
    """A column of numbers with the same decimals; where there is none the pump cannot lift."""
    known = iter(column([value for value in values if value is not None]))
    return tuple(DRY if value is None else next(known) for value in values)


def heads_table(pumps: Sequence[PumpDrawn], system: Curve, flows: Sequence[float]) -> Table:
    """Head of each pump, and head asked, at the flows that the axis marks."""
    columns = [tuple(formats.figures(flow) for flow in flows)]
    for curve in (system, *(pump.curve for pump in pumps)):
        values = [between(curve, flow) for flow in flows]
        columns.append(tuple("–" if value is None else f"{value:.2f}" for value in values))
    head = ("Flow, L/min", "Asked, m", *(f"{capital(pump.label)}, m" for pump in pumps))
    return Table("Head at rated voltage, and head that pipe and outlet ask", head, tuple(zip(*columns, strict=True)))


def between(curve: Curve, x: float) -> float | None:
    """Height of a curve at a place, straight between its points; ``None`` beyond its ends.

    Examples
    --------
    >>> between(Curve("", (0.0, 2.0), (5.0, 1.0)), 0.5), between(Curve("", (0.0, 2.0), (5.0, 1.0)), 7.3)
    (4.0, None)
    """
    points = list(zip(curve.x, curve.y, strict=True))
    for (left, low), (right, high) in pairwise(points):
        if left <= x <= right:
            return low if right == left else low + (high - low) * (x - left) / (right - left)
    return None


def capital(label: str) -> str:
    """A label as the beginning of a line; a number alone is a pump's.

    Examples
    --------
    >>> capital("pump 3"), capital("7")
    ('Pump 3', 'Pump 7')
    """
    return f"Pump {label}" if label.isdigit() else label.capitalize()
