"""What a picture is made of: plain shapes, the palette, and the tables that go beside a picture.

Coordinates are in the units of the picture (about 400 across), x to the right, y downwards. Nothing
here knows HTML; ``svg`` writes the shapes one after the other, later ones on top.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, NamedTuple

from sizing.foundation import finite

WATER = "#12436D"
SUN = "#F46A25"
SUN_TEXT = "#C2410C"
INK = "#1B1F23"
QUIET = "#4D565C"
STONE = "#7D868C"
RULE = "#D5D9DC"
PAPER = "#FFFFFF"
SAND = "#F4F1EC"
POOL = "#DCE8F0"
RAMP = ("#CFE0EC", "#A3C3D9", "#74A2C2", "#477FA7", "#265F8B", "#12436D")
"""Pale to deep, one hue, so that it also reads in grey; dry is SAND."""

WIDTH = 400.0
TEXT_SIZE = 14
"""14 units of 400 are 10 px where the picture is 288 px wide, on a phone of 320 px."""

Points = tuple[tuple[float, float], ...]


class Rectangle(NamedTuple):
    """A filled or outlined rectangle; ``tip`` is shown where a mouse rests on it."""

    x: float
    y: float
    width: float
    height: float
    fill: str
    stroke: str = "none"
    stroke_width: float = 0
    dash: str = ""
    radius: float = 0
    opacity: float = 1
    tip: str = ""


class Cells(NamedTuple):
    """Boxes of one size and colour, at their left upper corners: one path, where each for itself would be long."""

    points: Points
    width: float
    height: float
    fill: str

    @property
    def path(self) -> str:
        """The boxes as SVG writes them."""
        box = f"h{self.width}v{self.height}h-{self.width}z"
        return "".join([f"M{x},{y}{box}" for x, y in self.points])


class Line(NamedTuple):
    """A line through points, or an area where ``fill`` is given; ``closed`` joins the ends, ``round`` rounds them."""

    points: Points
    stroke: str = "none"
    stroke_width: float = 1
    dash: str = ""
    fill: str = "none"
    closed: bool = False
    round: bool = False

    @property
    def corners(self) -> str:
        """The points as SVG writes them."""
        return " ".join([f"{x},{y}" for x, y in self.points])


class Circle(NamedTuple):
    """A disc or ring; ``tip`` is shown where a mouse rests on it."""

    x: float
    y: float
    radius: float
    fill: str
    stroke: str = "none"
    stroke_width: float = 0
    tip: str = ""


class Text(NamedTuple):
    """A line of words; ``anchor`` (start, middle, end) says which part of it stands at x."""

    x: float
    y: float
    content: str
    size: float = TEXT_SIZE
    anchor: str = "start"
    fill: str = INK
    weight: int = 400


Shape = Rectangle | Cells | Line | Circle | Text
"""Tuples with names: a page makes and copies hundreds of them."""
NUMBERS = {
    each: tuple(place for place, (name, kind) in enumerate(each.__annotations__.items()) if kind is float and name != "opacity")
    for each in (Rectangle, Cells, Line, Circle, Text)
}
"""Where the coordinates and sizes of each kind of shape stand; the points of lines and cells stand first."""


@dataclass(frozen=True)
class Picture:
    """Shapes in the order in which they are painted, on a sheet of this size."""

    width: float
    height: float
    shapes: tuple[Shape, ...]


@dataclass(frozen=True)
class Table:
    """Numbers as text; the first cell of a row is its header."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class Chart:
    """A picture with what must stand beside it.

    ``name`` begins the ids in the page, so it must be unique there. ``finding`` is the sentence under
    the picture, ``description`` what somebody hears who cannot see it. ``short_table`` is always open,
    ``table`` unfolds. ``narrow`` is the picture for phones where the same one would be too small.
    """

    name: str
    title: str
    description: str
    finding: str
    picture: Picture
    table: Table
    short_table: Table | None = None
    narrow: Picture | None = None


def rounded(value: float) -> float:
    """Round a coordinate to a tenth; whole numbers lose their point. NaN and infinity are refused.

    Examples
    --------
    >>> rounded(7.3191), rounded(7.02), rounded(-0.04)
    (7.3, 7, 0)
    """
    try:
        tenths = round(value * 10)
    except (ValueError, OverflowError):
        return finite(value)
    return tenths / 10 if tenths % 10 else tenths // 10


def settled(shape: Shape) -> Shape:
    """Round every number of a shape."""
    values: list[Any] = list(shape)
    for place in NUMBERS[type(shape)]:
        if type(values[place]) is not int:
            values[place] = rounded(values[place])
    if isinstance(shape, (Line, Cells)):
        values[0] = tuple([(rounded(x), rounded(y)) for x, y in shape.points])
    return type(shape)._make(values)


def picture(width: float, height: float, shapes: Iterable[Shape]) -> Picture:
    """Put shapes on a sheet, every coordinate rounded to a tenth."""
    return Picture(rounded(width), rounded(height), tuple([settled(shape) for shape in shapes]))
