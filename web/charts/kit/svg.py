"""Shapes as SVG: it writes the geometry of ``shapes`` and decides nothing.

Colours are presentation attributes, so that a picture keeps them under a strict content policy, when it is saved, and
in print. Numbers and colours are our own; words are escaped.
"""

from dataclasses import dataclass
from itertools import groupby

from markupsafe import Markup, escape

from web.charts.kit.shapes import TEXT_SIZE, Cells, Circle, Line, Picture, Rectangle, Shape, Text

FEWEST_IN_GROUP = 3
"""So many neighbours that look alike are put into a group that says how."""


@dataclass(frozen=True)
class Element:
    """A shape in SVG: what it is and where, how it looks (attributes that a group can say for all its members), its words."""

    name: str
    where: str
    looks: str
    content: str = ""

    def written(self, looks: str) -> str:
        """The element with the looks that its group does not say."""
        opened = f"<{self.name} {self.where}{looks}"
        return f"{opened}>{self.content}</{self.name}>" if self.content else f"{opened}/>"


def svg(picture: Picture) -> Markup:
    """All shapes of a picture, a line for each; neighbours that look alike say so once.

    Examples
    --------
    >>> from web.charts.kit.shapes import picture
    >>> svg(picture(400, 20, [Line(((0, 0), (7.31, 2))), Text(1, 14, "a < b")]))
    Markup('<polyline points="0,0 7.3,2" fill="none"/>\\n<text x="1" y="14" fill="#1B1F23">a &lt; b</text>\\n')
    >>> svg(picture(400, 20, [Line(((at, 0), (at, 2))) for at in (1, 2, 3)])).count("fill")
    1
    """
    lines: list[str] = []
    for looks, alike in groupby(map(element, picture.shapes), key=lambda each: each.looks):
        members = list(alike)
        if len(members) < FEWEST_IN_GROUP or not looks:
            lines += [each.written(looks) for each in members]
        else:
            lines += [f"<g{looks}>", *(each.written("") for each in members), "</g>"]
    return Markup("".join([f"{line}\n" for line in lines]))


def element(shape: Shape) -> Element:
    """One shape."""
    match shape:
        case Line():
            return line(shape)
        case Text():
            return text(shape)
        case Rectangle():
            return rectangle(shape)
        case Circle():
            looks = f' fill="{shape.fill}"{stroke(shape.stroke, shape.stroke_width)}'
            return Element("circle", f'cx="{shape.x}" cy="{shape.y}" r="{shape.radius}"', looks, tip(shape.tip))
        case Cells():
            return Element("path", f'd="{shape.path}"', f' fill="{shape.fill}"')


def line(shape: Line) -> Element:
    """A line, or an area."""
    ends = ' stroke-linecap="round"' if shape.round else ""
    looks = f' fill="{shape.fill}"{stroke(shape.stroke, shape.stroke_width)}{ends}{dashes(shape.dash)}'
    return Element("polygon" if shape.closed else "polyline", f'points="{shape.corners}"', looks)


def text(shape: Text) -> Element:
    """A line of words; the picture itself has the usual size, so that it is not said of every line."""
    anchor = "" if shape.anchor == "start" else f' text-anchor="{shape.anchor}"'
    weight = "" if shape.weight == 400 else f' font-weight="{shape.weight}"'
    size = "" if shape.size == TEXT_SIZE else f' font-size="{shape.size}"'
    looks = f'{size} fill="{shape.fill}"{anchor}{weight}'
    return Element("text", f'x="{shape.x}" y="{shape.y}"', looks, str(escape(shape.content)))


def rectangle(shape: Rectangle) -> Element:
    """A rectangle."""
    corners = f' rx="{shape.radius}"' if shape.radius else ""
    where = f'x="{shape.x}" y="{shape.y}" width="{shape.width}" height="{shape.height}"{corners}'
    opacity = "" if shape.opacity == 1 else f' fill-opacity="{shape.opacity}"'
    looks = f' fill="{shape.fill}"{opacity}{stroke(shape.stroke, shape.stroke_width)}{dashes(shape.dash)}'
    return Element("rect", where, looks, tip(shape.tip))


def stroke(colour: str, width: float) -> str:
    """The outline of a shape."""
    return "" if colour == "none" else f' stroke="{colour}" stroke-width="{width}"'


def dashes(dash: str) -> str:
    """The dashes of an outline."""
    return f' stroke-dasharray="{dash}"' if dash else ""


def tip(words: str) -> str:
    """What is shown where a mouse rests on an element."""
    return f"<title>{escape(words)}</title>" if words else ""
