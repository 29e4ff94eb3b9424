"""Where words can stand: how wide they are, and places where they cover nothing else."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from web.charts.kit.shapes import Points, Text

# Widths in parts of the letter size, taken from a wide common face so that narrower ones fit too.
NARROW, MEDIUM, WIDE = "ijl.,:;'|!·()[]I ", "frt-/°", "mwMW%—@"

LEFT_OF_ANCHOR = {"start": 0.0, "middle": 0.5, "end": 1.0}
"""[1] Share of a text that stands left of its x."""


class Box(NamedTuple):
    """A rectangle that words or a mark take up."""

    left: float
    top: float
    right: float
    bottom: float


@dataclass(frozen=True)
class Placed:
    """A label at its place, and how many lines run through it (then it needs a plate behind it)."""

    text: Text
    box: Box
    crossings: int


@lru_cache(maxsize=2048)
def text_width(content: str, size: float, weight: int = 400) -> float:
    """Estimate the width of a line of words, rather too wide than too narrow.

    Examples
    --------
    >>> text_width("1000 W/m²", 14)
    79.2
    """
    parts = 0.0
    for letter in content:
        if letter in NARROW or letter.isspace():
            parts += 0.34
        elif letter in MEDIUM or letter in "⁰¹²³⁴⁵⁶⁷⁸⁹⁻":
            parts += 0.42
        elif letter in WIDE:
            parts += 0.98
        else:
            parts += 0.70 if letter.isupper() else 0.63
    return round(parts * size * (1.12 if weight > 500 else 1.0), 1)


def text_box(text: Text) -> Box:
    """The rectangle a text takes up on the sheet."""
    width = text_width(text.content, text.size, text.weight)
    left = text.x - LEFT_OF_ANCHOR[text.anchor] * width
    return Box(left, text.y - 0.8 * text.size, left + width, text.y + 0.24 * text.size)


def overlap(one: Box, other: Box, gap: float = 0.0) -> bool:
    """True where two rectangles come closer than the gap.

    Examples
    --------
    >>> overlap(Box(0, 0, 10, 10), Box(11, 0, 20, 10)), overlap(Box(0, 0, 10, 10), Box(11, 0, 20, 10), gap=2)
    (False, True)
    """
    return (
        one.left < other.right + gap
        and other.left < one.right + gap
        and one.top < other.bottom + gap
        and other.top < one.bottom + gap
    )


def within(box: Box, sheet: Box) -> bool:
    """True where a rectangle lies wholly on the sheet."""
    return box.left >= sheet.left and box.right <= sheet.right and box.top >= sheet.top and box.bottom <= sheet.bottom


def segment_meets(box: Box, start: tuple[float, float], end: tuple[float, float]) -> bool:
    """True where a straight line runs through a rectangle (touching its edge is not running through)."""
    (start_x, start_y), (end_x, end_y) = start, end
    if (start_x <= box.left and end_x <= box.left) or (start_x >= box.right and end_x >= box.right):
        return False
    if (start_y <= box.top and end_y <= box.top) or (start_y >= box.bottom and end_y >= box.bottom):
        return False
    # The line passes the rectangle's band in both directions; it runs through unless all corners lie on one side.
    run, rise = end_x - start_x, end_y - start_y
    sides = [run * (y - start_y) - rise * (x - start_x) for x in (box.left, box.right) for y in (box.top, box.bottom)]
    return min(sides) < 0 < max(sides)


def crossings(box: Box, lines: Sequence[Points], most: int) -> int:
    """How many of the lines run through a rectangle; counted no further than one more than the most that matter."""
    count = 0
    for line in lines:
        if line_meets(box, line):
            count += 1
            if count > most:
                break
    return count


def line_meets(box: Box, line: Points) -> bool:
    """True where a line runs through a rectangle; what lies wholly on one side of it is passed over quickly."""
    left, top, right, bottom = box.left, box.top, box.right, box.bottom
    start_x, start_y = line[0]
    for end_x, end_y in line:
        if (
            (start_x > left or end_x > left)
            and (start_x < right or end_x < right)
            and (start_y > top or end_y > top)
            and (start_y < bottom or end_y < bottom)
            and segment_meets(box, (start_x, start_y), (end_x, end_y))
        ):
            return True
        start_x, start_y = end_x, end_y
    return False


def place(
    wanted: Sequence[Iterable[Text]],
    sheet: Box,
    taken: Sequence[Box] = (),
    lines: Sequence[Points] = (),
    most_crossings: int = 2,
    gap: float = 2.0,
) -> tuple[Placed | None, ...]:
    """Give each label the best of its proposed places.

    A place must lie on the sheet and keep clear of marks and of labels placed before; among those the
    one with the fewest lines through it wins, then the one proposed first. A label without such a
    place is left out (None): its number stands in the table.

    Parameters
    ----------
    wanted
        For each label its proposed places, the most important label first.
    sheet, taken
        Where labels may stand; what is already covered.
    lines
        Lines that should not run through a label.
    most_crossings
        A label crossed by more lines than this is left out.
    """
    covered = list(taken)
    placed: list[Placed | None] = []
    for proposals in wanted:
        best: Placed | None = None
        for text in proposals:
            box = text_box(text)
            if not within(box, sheet) or any(overlap(box, other, gap) for other in covered):
                continue
            most = most_crossings if best is None else best.crossings - 1
            count = crossings(box, lines, most)
            if count <= most:
                best = Placed(text, box, count)
            if count == 0:
                break
        placed.append(best)
        if best is not None:
            covered.append(best.box)
    return tuple(placed)


def spread(wanted: Sequence[float], gap: float, low: float, high: float) -> tuple[float, ...]:
    """Move positions along a line as little as needed so that neighbours stand ``gap`` apart.

    The order is kept. All stay between ``low`` and ``high``; where they cannot all fit, they share the
    room evenly.

    Examples
    --------
    >>> spread((10, 12, 50), gap=10, low=0, high=100)
    (6.0, 16.0, 50.0)
    """
    count = len(wanted)
    if count == 0:
        return ()
    gap = min(gap, (high - low) / (count - 1)) if count > 1 else gap
    order = sorted(range(count), key=lambda index: wanted[index])
    groups: list[tuple[float, int]] = []  # (sum of wanted positions of the first member, how many)
    for index in order:
        groups.append((float(wanted[index]), 1))
        while (
            len(groups) > 1 and start_of(groups[-1], gap, low, high) < start_of(groups[-2], gap, low, high) + groups[-2][1] * gap
        ):
            (later, more), (total, some) = groups.pop(), groups.pop()
            groups.append((total + later - more * some * gap, some + more))
    positions = [start_of(group, gap, low, high) + gap * place for group in groups for place in range(group[1])]
    result = [0.0] * count
    for index, position in zip(order, positions, strict=True):
        result[index] = position
    return tuple(result)


def start_of(group: tuple[float, int], gap: float, low: float, high: float) -> float:
    """First position of a group of neighbours that stand exactly a gap apart, kept between the ends."""
    total, count = group
    return min(max(total / count, low), high - gap * (count - 1))
