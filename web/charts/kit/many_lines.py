"""Many lines in one picture: looks that can be told apart in grey, and a label on or beside each of them."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from web.charts.kit.axes import Frame, thinned
from web.charts.kit.labels import Box, place, text_width
from web.charts.kit.shapes import PAPER, RAMP, TEXT_SIZE, WATER, Line, Points, Rectangle, Shape, Text

DASHES = ("", "9 3.5", "2.5 2.5", "12 3 2.5 3", "5 5", "14 3 2.5 3 2.5 3")
COLOURS = (WATER, RAMP[3])
SHARES = (
    *(0.42, 0.58, 0.28, 0.72, 0.85, 0.15, 0.5, 0.35, 0.65, 0.22, 0.78, 0.92, 0.08, 0.97, 0.03),
    *(0.46, 0.54, 0.38, 0.62, 0.32, 0.68, 0.25, 0.75, 0.82, 0.18, 0.88, 0.12),
)
"""Where along a line its label is tried, in parts of its length."""
ROUND = tuple(
    (distance * math.cos(turn * math.pi / 4), distance * math.sin(turn * math.pi / 4))
    for distance in (16.0, 30.0, 46.0, 64.0, 84.0, 110.0)
    for turn in (7, 1, 0, 6, 2, 4, 5, 3)
)
"""Where beside a short line its label is tried: round its middle, near before far."""
LONG = 2.5
"""[1] A line this many times as long as its label carries it on itself."""
MOST = 99
"""Lines through a label: rather that than no label."""


@dataclass(frozen=True)
class Label:
    """Words for a line, and the longest part of it."""

    line: Points
    content: str
    fill: str
    weight: int


def look(index: int) -> tuple[str, str]:
    """Colour and dashes of a line; twelve in a row differ.

    Examples
    --------
    >>> look(0), look(7)
    (('#12436D', ''), ('#477FA7', '9 3.5'))
    """
    return COLOURS[index // len(DASHES) % len(COLOURS)], DASHES[index % len(DASHES)]


def labelled_lines(
    lines: Sequence[Sequence[Points]],
    contents: Sequence[str],
    fills: Sequence[str],
    frame: Frame,
    taken: Sequence[Box] = (),
    weights: Sequence[int] = (),
) -> list[Shape]:
    """A label for each line, on a white plate in the line itself, or beside it with a thin stroke where the line is short.

    Parameters
    ----------
    lines
        Each line on the sheet, as the parts of it that the frame left.
    contents, fills, weights
        Words and colour of its label, and its weight; an empty text asks for none.
    taken
        What is already covered.
    """
    sheet = Box(frame.left + 1, frame.top - 6, frame.right, frame.bottom - 1)
    thin = [[thinned(part, 0.5) for part in parts] for parts in lines]
    covered, shapes = list(taken), list[Shape]()
    for index, parts in enumerate(thin):
        if not parts or not contents[index]:
            continue
        others = [part for other, its in enumerate(thin) if other != index for part in its]
        weight = weights[index] if weights else 400
        label = Label(max(parts, key=length_of), contents[index], fills[index], weight)
        inside, around = on_line(label), beside(label)
        tries = ((inside, 1), (inside, 2), (around, 0), ([*inside, *around], MOST), (anywhere(label, sheet), MOST))
        found = (place([wanted], sheet, covered, others, most)[0] for wanted, most in tries)
        placed = next((each for each in found if each is not None), None)
        if placed is None:
            continue
        box, centre = placed.box, along_line(label.line, 0.5)
        if placed.text not in inside:
            shapes.append(Line((centre, nearest(box, centre)), label.fill, 0.8))
        shapes.append(Rectangle(box.left - 1.5, box.top, box.right - box.left + 3, box.bottom - box.top, PAPER))
        shapes.append(placed.text)
        covered.append(box)
    return shapes


def on_line(label: Label) -> list[Text]:
    """Places in the line, where it is long enough for a label to leave most of it."""
    if length_of(label.line) < LONG * text_width(label.content, TEXT_SIZE, label.weight):
        return []
    places = (along_line(label.line, share) for share in SHARES)
    return [Text(x, y + 5, label.content, anchor="middle", fill=label.fill, weight=label.weight) for x, y in places]


def beside(label: Label) -> list[Text]:
    """Places round the middle of a line, near before far."""
    x, y = along_line(label.line, 0.5)
    half = text_width(label.content, TEXT_SIZE, label.weight) / 2
    steps = ((right + math.copysign(half, right) * (abs(right) > 1), down + 5) for right, down in ROUND)
    return [
        Text(x + right, y + down, label.content, anchor="middle", fill=label.fill, weight=label.weight) for right, down in steps
    ]


def anywhere(label: Label, sheet: Box) -> Iterator[Text]:
    """Places all over the sheet, those near the middle of the line first: where all lines crowd in a corner."""
    middle = along_line(label.line, 0.5)
    columns, rows = (range(round(low), round(high), 12) for low, high in ((sheet.left, sheet.right), (sheet.top, sheet.bottom)))
    for x, y in sorted(((float(x), float(y)) for x in columns for y in rows), key=lambda place: math.dist(place, middle)):
        yield Text(x, y, label.content, anchor="middle", fill=label.fill, weight=label.weight)


def length_of(line: Points) -> float:
    """Length of a line on the sheet."""
    return sum(math.dist(start, end) for start, end in pairwise(line))


def along_line(line: Points, share: float) -> tuple[float, float]:
    """The point a share of the way along a line.

    Examples
    --------
    >>> along_line(((0.0, 0.0), (3.0, 0.0), (3.0, 9.0)), 0.5)
    (3.0, 3.0)
    """
    left = share * length_of(line)
    for start, end in pairwise(line):
        step = math.dist(start, end)
        if step >= left and step > 0:
            part = left / step
            return start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1])
        left -= step
    return line[-1]


def nearest(box: Box, point: tuple[float, float]) -> tuple[float, float]:
    """The point of a rectangle that is nearest to another point."""
    return min(max(point[0], box.left), box.right), min(max(point[1], box.top), box.bottom)
