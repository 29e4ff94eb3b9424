"""Pictures of what a class measured: readings with their ranges, lines with theirs, and how far readings miss a line."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from sizing.foundation import figures
from web.charts.kit.axes import Frame, across, clipped, horizontal_axis, left_margin, thinned, ticks, up, vertical_axis
from web.charts.kit.labels import Box, text_width
from web.charts.kit.many_lines import labelled_lines
from web.charts.kit.shapes import (
    INK,
    POOL,
    QUIET,
    RULE,
    STONE,
    SUN,
    TEXT_SIZE,
    WATER,
    WIDTH,
    Chart,
    Circle,
    Line,
    Points,
    Shape,
    Table,
    Text,
    picture,
)

TOP, BOTTOM = 26.0, 268.0
HEIGHT = BOTTOM + 44
RING, CROSS = 3.2, 4.5
MOST_MARKS = 400
"""More readings than this are thinned evenly in a picture; the tables and the CSV have them all."""
LIMITS = (-2.0, 2.0)


@dataclass(frozen=True)
class Drawn:
    """A line with its label, and its likely range where ``low`` and ``high`` are given; ``dash`` as SVG has it."""

    label: str
    x: Sequence[float]
    y: Sequence[float]
    low: Sequence[float] = ()
    high: Sequence[float] = ()
    dash: str = ""
    colour: str = WATER


@dataclass(frozen=True)
class Mark:
    """A reading with the ends of its range; one that stands apart is a cross."""

    x: float
    y: float
    low: float
    high: float
    apart: bool = False


@dataclass(frozen=True)
class About:
    """What stands round a picture: id, title, description, finding, titles of the axes, where and how the lower one counts."""

    name: str
    title: str
    description: str
    finding: str
    x_title: str
    y_title: str
    x_start: float = 0.0
    x_step: float = 0.0


def measured_chart(about: About, lines: Sequence[Drawn], marks: Sequence[Mark], table: Table) -> Chart:
    """Lines with their likely ranges, and readings over them; the upright axis begins at zero.

    Parameters
    ----------
    lines, marks
        At least one of both together.
    """
    start = about.x_start
    lines = [replace(line, x=[x - start for x in line.x]) for line in lines] if start else lines
    marks = [replace(mark, x=mark.x - start) for mark in thinned_out(marks)]
    x_most = max([*(max(line.x) for line in lines), *(1.008 * mark.x for mark in marks)])
    y_most = max([*(max([*line.y, *line.high]) for line in lines), *(mark.high for mark in marks)])
    x_marks = stepped(x_most, about.x_step) if about.x_step else ticks(x_most, 5)
    y_marks = ticks(1.02 * y_most, 5)
    frame = Frame(left_margin(y_marks), TOP, WIDTH, BOTTOM, x_marks[-1], y_marks[-1])
    shapes: list[Shape] = [band(line, frame) for line in lines if len(line.low)]
    shapes += vertical_axis(frame, y_marks, about.y_title) + axis_from(frame, x_marks, about)
    parts = [clipped(thinned(on_frame(line.x, line.y, frame)), frame) for line in lines]
    for line, pieces in zip(lines, parts, strict=True):
        shapes += [Line(piece, line.colour, 1.8, line.dash) for piece in pieces]
    for mark in marks:
        shapes += drawn_mark(mark, frame)
    shapes += labelled_lines(parts, [line.label for line in lines], [line.colour for line in lines], frame, covered(marks, frame))
    return Chart(about.name, about.title, about.description, about.finding, picture(WIDTH, HEIGHT, shapes), table)


def stepped(most: float, step: float) -> tuple[float, ...]:
    """Marks of an axis from zero, by a step of its own.

    Examples
    --------
    >>> stepped(225.0, 90.0)
    (0.0, 90.0, 180.0, 270.0)
    """
    return tuple(step * at for at in range(math.ceil(most * (1 - 1e-9) / step) + 1))


def covered(marks: Sequence[Mark], frame: Frame) -> list[Box]:
    """Where readings stand: no label may hide one."""
    places = [(across(frame, mark.x), up(frame, mark.y)) for mark in marks]
    return [Box(x - CROSS, y - CROSS, x + CROSS, y + CROSS) for x, y in places]


def axis_from(frame: Frame, marks: Sequence[float], about: About) -> list[Shape]:
    """The horizontal axis, its numbers counted from where it starts."""
    shapes = horizontal_axis(frame, marks, about.x_title)
    if not about.x_start:
        return shapes
    named = {figures(mark): figures(mark + about.x_start) for mark in marks}
    return [
        renamed(shape, named[shape.content]) if isinstance(shape, Text) and shape.content in named else shape for shape in shapes
    ]


def renamed(text: Text, content: str) -> Text:
    """A number below the frame in other words, pulled in as far as these need."""
    return text._replace(content=content, x=min(text.x, WIDTH - text_width(content, TEXT_SIZE) / 2))


def thinned_out(marks: Sequence[Mark]) -> Sequence[Mark]:
    """As many readings as a picture can show; those that stand apart stay, unless they are that many themselves."""
    kept = []
    for some in ([mark for mark in marks if not mark.apart], [mark for mark in marks if mark.apart]):
        kept += some[:: -(-len(some) // MOST_MARKS) or 1]
    return kept


def on_frame(x: Sequence[float], y: Sequence[float], frame: Frame) -> Points:
    """A line's points on the sheet."""
    return tuple((across(frame, each), up(frame, value)) for each, value in zip(x, y, strict=True))


def band(line: Drawn, frame: Frame) -> Line:
    """The likely range of a line, as an area."""
    there = on_frame(line.x, [min(value, frame.y_top) for value in line.high], frame)
    back = on_frame(line.x, [max(value, 0.0) for value in line.low], frame)
    return Line((*thinned(there), *reversed(thinned(back))), fill=POOL, closed=True)


def drawn_mark(mark: Mark, frame: Frame) -> list[Shape]:
    """A reading: its range as an upright stroke, itself as a ring, or as a cross where it stands apart."""
    x, y = across(frame, mark.x), up(frame, mark.y)
    ends = (up(frame, min(mark.high, frame.y_top)), up(frame, max(mark.low, 0.0)))
    shapes: list[Shape] = [Line(((x, ends[0]), (x, ends[1])), STONE, 1)] if ends[1] - ends[0] > 1 else []
    if mark.apart:
        return [*shapes, *(Line(((x - CROSS, y - slope * CROSS), (x + CROSS, y + slope * CROSS)), INK, 2) for slope in (-1, 1))]
    return [*shapes, Circle(x, y, RING, SUN, INK, 0.8)]


def misses_chart(about: About, x: Sequence[float], misses: Sequence[float], apart: Sequence[bool], table: Table) -> Chart:
    """How far readings miss a line, in their standard uncertainties, with lines at two of them.

    Parameters
    ----------
    x, misses, apart
        One each per reading; misses may be negative.
    """
    most = max(3.0, *(abs(value) for value in misses)) * 1.05
    marks = [mark for mark in ticks(most, 3) if mark <= most]
    signs = sorted({*marks, *(-mark for mark in marks)})
    x_marks = ticks(max(x), 5)
    frame = Frame(left_margin([*signs]) + 6, TOP, WIDTH, BOTTOM, x_marks[-1], 2 * most)
    shapes: list[Shape] = [Text(1, TEXT_SIZE + 1, about.y_title, fill=QUIET)]
    for sign in signs:
        y = up(frame, sign + most)
        shapes += [
            Line(((frame.left, y), (frame.right, y)), STONE if sign == 0 else RULE),
            Text(frame.left - 6, y + 5, figures(sign), anchor="end", fill=QUIET),
        ]
    shapes += [Line(((frame.left, up(frame, at + most)), (frame.right, up(frame, at + most))), INK, 1, "5 4") for at in LIMITS]
    shapes += horizontal_axis(frame, x_marks, about.x_title)
    marked = [Mark(each, miss + most, miss + most, miss + most, off) for each, miss, off in zip(x, misses, apart, strict=True)]
    for mark in thinned_out(marked):
        shapes += drawn_mark(mark, frame)
    return Chart(about.name, about.title, about.description, about.finding, picture(WIDTH, HEIGHT, shapes), table)
