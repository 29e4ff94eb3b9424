"""Axes: steps that read easily, from values to places on the sheet, lines kept inside the frame."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from sizing.foundation import figures, finite
from web.charts.kit.labels import text_width
from web.charts.kit.shapes import QUIET, RULE, TEXT_SIZE, WIDTH, Line, Points, Shape, Text

STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)
SMALLEST = 1e-12
"""A largest value below this is drawn as nothing at all."""
STRONG = "#8A949A"
"""The zero line and the ticks: 3.1 to 1 on white."""


@dataclass(frozen=True)
class Frame:
    """Where the axes stand on the sheet, and the values at their ends (both begin at zero)."""

    left: float
    top: float
    right: float
    bottom: float
    x_top: float
    y_top: float


def on_sheet(frame: Frame, horizontal: Sequence[float], vertical: Sequence[float]) -> list[tuple[float, float]]:
    """Places of many values at once; as ``across`` and ``up`` have them, one by one."""
    width, height = frame.right - frame.left, frame.bottom - frame.top
    places = [
        (frame.left + width * x / frame.x_top, frame.bottom - height * y / frame.y_top)
        for x, y in zip(horizontal, vertical, strict=True)
    ]
    finite(sum(x + y for x, y in places))
    return places


def nice_step(span: float, count: int) -> float:
    """Smallest step of the row 1, 2, 2.5, 5, 10 ... that covers the span in at most ``count`` steps.

    Examples
    --------
    >>> nice_step(144, 4), nice_step(1.31, 4), nice_step(0, 4)
    (50.0, 0.5, 1.0)
    """
    if finite(span) < SMALLEST:
        return 1.0
    power = math.floor(math.log10(span / count))
    for step in STEPS:
        size = float(f"{step}e{power}")
        if size * count >= span * (1 - 1e-9):
            return size
    return float(f"1e{power + 2}")


def ticks(largest: float, count: int = 4) -> tuple[float, ...]:
    """Marks of an axis from zero to the first step at or beyond the largest value.

    Examples
    --------
    >>> ticks(144), ticks(0.31), ticks(0)
    ((0.0, 50.0, 100.0, 150.0), (0.0, 0.1, 0.2, 0.3, 0.4), (0.0, 1.0))
    """
    step = nice_step(largest, count)
    steps = max(math.ceil(largest * (1 - 1e-9) / step), 1)
    return tuple(float(f"{step * index:.12g}") for index in range(steps + 1))


def across(frame: Frame, x: float) -> float:
    """Place of a value on the horizontal axis."""
    return frame.left + (frame.right - frame.left) * finite(x) / frame.x_top


def up(frame: Frame, y: float) -> float:
    """Place of a value on the vertical axis."""
    return frame.bottom - (frame.bottom - frame.top) * finite(y) / frame.y_top


def left_margin(marks: Sequence[float]) -> float:
    """Room that the numbers left of the vertical axis need."""
    return max(text_width(figures(mark), TEXT_SIZE) for mark in marks) + 8


def vertical_axis(frame: Frame, marks: Sequence[float], title: str) -> list[Shape]:
    """Rules across the frame, their numbers left of it, and the unit lying above them."""
    shapes: list[Shape] = [Text(1, TEXT_SIZE + 1, title, fill=QUIET)]
    for mark in marks:
        y = up(frame, mark)
        shapes.append(Line(((frame.left, y), (frame.right, y)), STRONG if mark == 0 else RULE))
        shapes.append(Text(frame.left - 6, y + 5, figures(mark), anchor="end", fill=QUIET))
    return shapes


def horizontal_axis(frame: Frame, marks: Sequence[float], title: str) -> list[Shape]:
    """Numbers below the frame, the last ones pulled in, and the unit at the right below them."""
    shapes: list[Shape] = []
    for mark in marks:
        x, half = across(frame, mark), text_width(figures(mark), TEXT_SIZE) / 2
        shapes.append(Line(((x, frame.bottom), (x, frame.bottom + 4)), STRONG))
        shapes.append(Text(min(x, WIDTH - half), frame.bottom + 19, figures(mark), anchor="middle", fill=QUIET))
    return [*shapes, Text(frame.right, frame.bottom + 37, title, anchor="end", fill=QUIET)]


def clipped(points: Sequence[tuple[float, float]], frame: Frame) -> tuple[Points, ...]:
    """The parts of a line that lie inside the frame, cut exactly at its edges."""
    horizontal, vertical = [x for x, _ in points], [y for _, y in points]
    if (
        min(horizontal) >= frame.left
        and max(horizontal) <= frame.right
        and min(vertical) >= frame.top
        and max(vertical) <= frame.bottom
    ):
        return (tuple(points),)
    parts: list[list[tuple[float, float]]] = []
    for start, end in pairwise(points):
        inside = segment_inside(start, end, frame)
        if inside is None:
            continue
        if parts and parts[-1][-1] == inside[0]:
            parts[-1].append(inside[1])
        else:
            parts.append(list(inside))
    return tuple(tuple(part) for part in parts)


def segment_inside(
    start: tuple[float, float], end: tuple[float, float], frame: Frame
) -> tuple[tuple[float, float], tuple[float, float]] | None:
    """The part of a straight line inside the frame (Liang and Barsky's parameters), or None."""
    first, last = 0.0, 1.0
    run, rise = end[0] - start[0], end[1] - start[1]
    for change, room in (
        (-run, start[0] - frame.left),
        (run, frame.right - start[0]),
        (-rise, start[1] - frame.top),
        (rise, frame.bottom - start[1]),
    ):
        if change == 0:
            if room < 0:
                return None
        elif change < 0:
            first = max(first, room / change)
        else:
            last = min(last, room / change)
    if first >= last:
        return None
    entry = start if first == 0 else (start[0] + first * run, start[1] + first * rise)
    leave = end if last == 1 else (start[0] + last * run, start[1] + last * rise)
    return entry, leave


def thinned(points: Sequence[tuple[float, float]], tolerance: float = 0.15) -> Points:
    """Leave out points that lie closer than the tolerance to the line through those that stay."""
    if len(points) < 3:
        return tuple(points)
    (x, y), (end_x, end_y) = points[0], points[-1]
    run, rise = end_x - x, end_y - y
    reach = math.hypot(run, rise)
    if reach:  # distances times the reach
        shift = rise * x - run * y
        away = [abs(rise * px - run * py - shift) for px, py in points[1:-1]]
        limit = tolerance * reach
    else:
        away = [math.hypot(px - x, py - y) for px, py in points[1:-1]]
        limit = tolerance
    largest = max(away)
    if largest <= limit:
        return (points[0], points[-1])
    farthest = away.index(largest) + 1
    return thinned(points[: farthest + 1], tolerance)[:-1] + thinned(points[farthest:], tolerance)
