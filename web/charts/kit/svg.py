"""Shapes as SVG: it writes the geometry of ``shapes`` and decides nothing.

Colours are presentation attributes, so that a picture keeps them under a strict content policy, when it is saved, and
in print. Numbers and colours are our own; words are escaped.
"""

from markupsafe import Markup, escape

from web.charts.kit.shapes import TEXT_SIZE, Cells, Circle, Line, Picture, Rectangle, Shape, Text


def svg(picture: Picture) -> Markup:
    """All shapes of a picture, a line for each.

    Examples
    --------
    >>> from web.charts.kit.shapes import picture
    >>> svg(picture(400, 20, [Line(((0, 0), (7.31, 2))), Text(1, 14, "a < b")]))
    Markup('<polyline points="0,0 7.3,2" fill="none"/>\\n<text x="1" y="14" fill="#1B1F23">a &lt; b</text>\\n')
    """
    return Markup("".join([f"{element(shape)}\n" for shape in picture.shapes]))


def element(shape: Shape) -> str:
    """One shape."""
    match shape:
        case Line():
            return line(shape)
        case Text():
            return text(shape)
        case Rectangle():
            return rectangle(shape)
        case Circle():
            outline = stroke(shape.stroke, shape.stroke_width)
            opened = f'<circle cx="{shape.x}" cy="{shape.y}" r="{shape.radius}" fill="{shape.fill}"{outline}'
            return with_tip(opened, "circle", shape.tip)
        case Cells():
            return f'<path d="{shape.path}" fill="{shape.fill}"/>'


def line(shape: Line) -> str:
    """A line, or an area."""
    name = "polygon" if shape.closed else "polyline"
    ends = ' stroke-linecap="round"' if shape.round else ""
    outline = stroke(shape.stroke, shape.stroke_width)
    return f'<{name} points="{shape.corners}" fill="{shape.fill}"{outline}{ends}{dashes(shape.dash)}/>'


def text(shape: Text) -> str:
    """A line of words; the picture itself has the usual size, so that it is not said of every line."""
    anchor = "" if shape.anchor == "start" else f' text-anchor="{shape.anchor}"'
    weight = "" if shape.weight == 400 else f' font-weight="{shape.weight}"'
    size = "" if shape.size == TEXT_SIZE else f' font-size="{shape.size}"'
    where = f'x="{shape.x}" y="{shape.y}"{size} fill="{shape.fill}"{anchor}{weight}'
    return f"<text {where}>{escape(shape.content)}</text>"


def rectangle(shape: Rectangle) -> str:
    """A rectangle."""
    where = f'x="{shape.x}" y="{shape.y}" width="{shape.width}" height="{shape.height}" fill="{shape.fill}"'
    corners = f' rx="{shape.radius}"' if shape.radius else ""
    opacity = "" if shape.opacity == 1 else f' fill-opacity="{shape.opacity}"'
    outline = stroke(shape.stroke, shape.stroke_width)
    return with_tip(f"<rect {where}{corners}{opacity}{outline}{dashes(shape.dash)}", "rect", shape.tip)


def stroke(colour: str, width: float) -> str:
    """The outline of a shape."""
    return "" if colour == "none" else f' stroke="{colour}" stroke-width="{width}"'


def dashes(dash: str) -> str:
    """The dashes of an outline."""
    return f' stroke-dasharray="{dash}"' if dash else ""


def with_tip(opened: str, name: str, tip: str) -> str:
    """An element closed, with what is shown where a mouse rests on it."""
    return f"{opened}><title>{escape(tip)}</title></{name}>" if tip else f"{opened}/>"
