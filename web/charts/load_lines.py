"""All panels and all pumps in volts and amperes: what each panel gives at full and half sun, what each pump asks."""

from collections.abc import Sequence
from dataclasses import dataclass

from sizing.foundation import column, formats
from web.charts.kit.axes import Frame, horizontal_axis, left_margin, ticks, vertical_axis
from web.charts.kit.crossing import Curve, drawn, mark_box, marks
from web.charts.kit.crossing import Point as Mark
from web.charts.kit.many_lines import labelled_lines, look
from web.charts.kit.shapes import SUN, SUN_TEXT, WATER, WIDTH, Chart, Line, Shape, Table, picture

TOP, BOTTOM = 26.0, 292.0
HEIGHT = BOTTOM + 44
HALF_DASH = "4 3"


@dataclass(frozen=True)
class PanelDrawn:
    """A panel: its number and name, its curves at full and half sun [V, A], and its maximum power at full sun [W]."""

    label: str
    name: str
    full: Curve
    half: Curve
    watts: float


@dataclass(frozen=True)
class LoadDrawn:
    """A pump: its number, the line that it asks with this pipe and outlet [V, A], and where on it the fountain begins to do
    what is wanted (``None`` where it never does)."""

    label: str
    curve: Curve
    wanted: tuple[float, float] | None


@dataclass(frozen=True)
class Agreed:
    """Where a pump and a panel agree: labels, sun in words, volts and amperes; ``None`` where the pump does not run."""

    pump: str
    panel: str
    sun: str
    point: tuple[float, float] | None


def load_lines_chart(
    panels: Sequence[PanelDrawn],
    loads: Sequence[LoadDrawn],
    agreed: Sequence[Agreed],
    ring: str,
    said: str,
    name: str = "all-lines",
) -> Chart:
    """Current over voltage of all panels and all pumps.

    Parameters
    ----------
    panels, loads
        One or more of each.
    agreed
        Where they agree, for the table: every pump with every panel, at full sun and at half.
    ring
        What a ring on a pump's line means.
    said
        The finding.
    name
        Beginning of the ids in the page.
    """
    frame, x_marks, y_marks = frame_for(panels)
    full, half = (
        [drawn(curve, frame) for curve in curves] for curves in zip(*((each.full, each.half) for each in panels), strict=True)
    )
    lines = [drawn(load.curve, frame) for load in loads]
    rings = [Mark(load.label, *load.wanted) for load in loads if load.wanted is not None and inside(load.wanted, frame)]
    shapes: list[Shape] = vertical_axis(frame, y_marks, "amps") + horizontal_axis(frame, x_marks, "volts")
    shapes += [Line(part, SUN, 1.4, HALF_DASH) for parts in half for part in parts]
    shapes += [Line(part, SUN, 2.2) for parts in full for part in parts]
    for index, parts in enumerate(lines):
        colour, dash = look(index)
        shapes += [Line(part, colour, 1.8, dash) for part in parts]
    shapes += marks(rings, (), None, frame)
    shapes += labelled_lines(
        [*full, *lines],
        [*(panel.label for panel in panels), *(load.label for load in loads)],
        [*(SUN_TEXT for _ in panels), *(WATER for _ in loads)],
        frame,
        [mark_box(point, frame) for point in rings],
    )
    counts = [f"{len(group)} {word}{'s' if len(group) > 1 else ''}" for group, word in ((panels, "panel"), (loads, "pump"))]
    about = f"Current over voltage of {' and '.join(counts)}: panels at full sun and, dashed, at half. {said}"
    finding = f"{said} Panels are drawn at full sun, and dashed at half; a ring marks {ring}."
    sheet = picture(WIDTH, HEIGHT, shapes)
    return Chart(name, "All panels and pumps", about, finding, sheet, agreed_table(agreed), key_table(panels))


def frame_for(panels: Sequence[PanelDrawn]) -> tuple[Frame, tuple[float, ...], tuple[float, ...]]:
    """Axes that hold the panels' curves; what a pump asks beyond them it never gets."""
    x_marks = ticks(max(max(panel.full.x) for panel in panels), 5)
    y_marks = ticks(1.06 * max(max(panel.full.y) for panel in panels), 5)
    return Frame(left_margin(y_marks), TOP, WIDTH, BOTTOM, x_marks[-1], y_marks[-1]), x_marks, y_marks


def inside(point: tuple[float, float], frame: Frame) -> bool:
    """Whether a point lies in the frame."""
    return point[0] <= frame.x_top and point[1] <= frame.y_top


def key_table(panels: Sequence[PanelDrawn]) -> Table:
    """Which panel is which, and what it gives at full sun with warm cells."""
    columns = [
        column([panel.watts for panel in panels]),
        column([panel.full.x[-1] for panel in panels]),
        column([panel.full.y[0] for panel in panels]),
    ]
    called = [f"{panel.label.capitalize()}: {panel.name}" for panel in panels]
    head = ("Panel", "Most, W", "Open circuit, V", "Short circuit, A")
    return Table("The panels at full sun, their cells as warm as they get", head, tuple(zip(called, *columns, strict=True)))


def agreed_table(agreed: Sequence[Agreed]) -> Table:
    """Volts and amperes where they agree: a row for each pump and sun, a column for each panel."""
    panels = list(dict.fromkeys(each.panel for each in agreed))
    cells = {(each.pump, each.sun, each.panel): told(each.point) for each in agreed}
    rows = dict.fromkeys((each.pump, each.sun) for each in agreed)
    head = ("Pump", "Sun", *(f"{panel.capitalize()}, V and A" for panel in panels))
    return Table(
        "Where they agree: volts and amperes at the pump",
        head,
        tuple((pump.capitalize(), sun, *(cells.get((pump, sun, panel), "–") for panel in panels)) for pump, sun in rows),
    )


def told(point: tuple[float, float] | None) -> str:
    """Volts and amperes as a cell.

    Examples
    --------
    >>> told((11.27, 0.8349)), told(None)
    ('11.3 · 0.835', 'stands')
    """
    return "stands" if point is None else f"{formats.figures(point[0])} · {formats.figures(point[1])}"
