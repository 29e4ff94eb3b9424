"""Things that stand in the garden: pupil, sun, panel, basin, pump, and lines with a measure."""

import math

from web.charts.drawing.scene import PUPIL_HEIGHT, RIM_LEVEL, WATER_LEVEL, Fountain, Scene, level
from web.charts.kit.shapes import INK, PAPER, POOL, QUIET, STONE, SUN, WATER, Circle, Line, Points, Rectangle, Shape, Text

HAIR, SKIN, SHIRT, TROUSERS = "#4D565C", "#C9CFD3", "#8A949A", "#5E686E"


def pupil(view: Scene) -> list[Shape]:
    """A child of 1.40 m, hair included, who looks at the water and points at it."""

    def at(*points: tuple[float, float]) -> Points:
        return tuple((view.pupil + x * view.scale, level(view, y)) for x, y in points)

    def limb(thickness: float, colour: str, *points: tuple[float, float]) -> Line:
        return Line(at(*points), colour, thickness * view.scale, round=True)

    (head_x, head_y), (eye_x, eye_y) = at((0.02, PUPIL_HEIGHT - 0.14), (0.075, PUPIL_HEIGHT - 0.125))
    head = 0.115 * view.scale
    return [
        limb(0.055, HAIR, (-0.08, 1.32), (-0.16, 1.24), (-0.15, 1.08)),
        limb(0.095, TROUSERS, (-0.05, 0.62), (-0.09, 0.34), (-0.07, 0.06)),
        limb(0.095, TROUSERS, (0.05, 0.62), (0.10, 0.35), (0.13, 0.06)),
        limb(0.06, INK, (-0.075, 0.03), (0.015, 0.03)),
        limb(0.06, INK, (0.125, 0.03), (0.215, 0.03)),
        limb(0.07, SKIN, (-0.09, 1.02), (-0.19, 0.84), (-0.14, 0.68)),
        Line(at((-0.075, 1.06), (0.085, 1.06), (0.11, 0.62), (-0.11, 0.62)), SHIRT, 0.07 * view.scale, fill=SHIRT, closed=True),
        limb(0.07, SHIRT, (-0.085, 1.05), (-0.14, 0.93)),
        limb(0.07, SKIN, (0.20, 0.99), (0.30, 1.08), (0.39, 1.17)),
        limb(0.07, SHIRT, (0.08, 1.04), (0.18, 0.98)),
        limb(0.07, SKIN, (0.0, 1.08), (0.01, 1.16)),
        Circle(head_x, head_y, head, SKIN),
        Line(tuple(arc(head_x, head_y, head, 75, 215)), HAIR, 0.05 * view.scale, fill=HAIR, closed=True),
        Circle(eye_x, eye_y, max(0.014 * view.scale, 0.9), INK),
        Line(at((0.055, 1.21), (0.082, 1.2), (0.108, 1.213)), INK, max(0.012 * view.scale, 0.8), round=True),
    ]


def arc(x: float, y: float, radius: float, start: float, end: float) -> list[tuple[float, float]]:
    """Points on a circle between two angles, counted in degrees from the right against the clock."""
    angles = [math.radians(start + (end - start) * index / 12) for index in range(13)]
    return [(x + radius * math.cos(angle), y - radius * math.sin(angle)) for angle in angles]


def sun(view: Scene) -> list[Shape]:
    """The sun in the corner; not to scale, and the only thing that is not."""
    x, y = view.width - 34, 32.0
    rays: list[Shape] = []
    for turn in range(8):
        angle = math.pi * turn / 4
        ends = tuple((x + reach * math.cos(angle), y + reach * math.sin(angle)) for reach in (19.0, 27.0))
        rays.append(Line(ends, SUN, 2.5, round=True))
    return [Circle(x, y, 14, SUN), *rays]


def panel(view: Scene, fountain: Fountain) -> list[Shape]:
    """The panel at its tilt on a post, its lower edge to the right, dashed where its size is assumed."""
    slope, half = math.radians(fountain.panel_tilt), view.sizes.panel / 2 * view.scale
    x, y = view.panel, level(view, view.sizes.panel_middle)
    run, rise = half * math.cos(slope), half * math.sin(slope)
    thick = (2.5 * math.sin(slope), 2.5 * math.cos(slope))
    corners = ((x - run, y - rise), (x + run, y + rise))
    upper = tuple((px + thick[0], py - thick[1]) for px, py in corners)
    lower = tuple((px - thick[0], py + thick[1]) for px, py in reversed(corners))
    return [
        Line(((x, level(view, 0)), (x, y)), STONE, 4),
        Line(upper + lower, SUN, 1.5, fill=SUN, closed=True),
        *tilt_mark(x, y, fountain.panel_tilt, min(max(half * 0.95, 24), 28)),
    ]


def tilt_mark(x: float, y: float, tilt: float, radius: float) -> list[Shape]:
    """The angle between the panel and the horizontal, at the panel's left side."""
    if tilt < 8:
        return []
    bend = arc(x, y, radius, 180 - tilt + 3, 180)
    return [Line(((x, y), (x - radius - 4, y)), QUIET, 1, "2 3"), Line(tuple(bend), QUIET, 1)]


def basin(view: Scene, fountain: Fountain) -> list[Shape]:
    """Water and walls; dashed where the basin is proposed, open at the sides where the sheet cuts it."""
    left, right = view.basin - view.sizes.basin / 2 * view.scale, view.basin + view.sizes.basin / 2 * view.scale
    water, rim, floor = (level(view, height) for height in (WATER_LEVEL, RIM_LEVEL, WATER_LEVEL - view.sizes.depth))
    shapes: list[Shape] = [Rectangle(left, water, right - left, floor - water, POOL)]
    if view.sizes.cut:
        shapes.append(Line(((left, floor), (right, floor)), INK, 2.5))
        shapes += [torn(edge, water - 6, floor + 6) for edge in (left, right)]
    else:
        assumed = fountain.proposed
        walls: Points = ((left, rim), (left, floor), (right, floor), (right, rim))
        shapes.append(Line(walls, QUIET if assumed else INK, 1.8 if assumed else 3, "6 4" if assumed else ""))
    return [*shapes, Line(((left, water), (right, water)), WATER, 1.6)]


def torn(x: float, top: float, bottom: float) -> Line:
    """A zigzag edge: the thing goes on, the drawing does not."""
    steps = 6
    points = [(x + (3 if index % 2 else -3), top + (bottom - top) * index / steps) for index in range(steps + 1)]
    return Line(tuple(points), QUIET, 1.2)


def ground(view: Scene) -> list[Shape]:
    """The ground line at both sides of the basin."""
    half, y = view.sizes.basin / 2 * view.scale, view.ground
    sides = ((4.0, view.basin - half - 1), (view.basin + half + 1, view.width - 4))
    return [Line(((start, y), (end, y)), STONE, 1.8) for start, end in sides]


def pump_place(view: Scene, fountain: Fountain, pipe: float) -> tuple[float, float, float]:
    """Middle, bottom and size of the pump: below the pipe in the water, or beside the basin on the ground."""
    if fountain.pump_position == "submersible":
        size = min(0.16, 0.6 * view.sizes.depth) * view.scale
        return pipe, level(view, WATER_LEVEL - view.sizes.depth) - 2, max(size, 7)
    size = max(0.16 * view.scale, 9)
    return view.basin + view.sizes.basin / 2 * view.scale + 0.2 * view.scale, view.ground, size


def pump(view: Scene, fountain: Fountain, pipe: float) -> list[Shape]:
    """The pump, its word where there is room, and the wire from the panel's post."""
    x, bottom, size = pump_place(view, fountain, pipe)
    floor = level(view, WATER_LEVEL - view.sizes.depth)
    deep = max(floor + 7, view.ground + 14)
    edge = view.basin + view.sizes.basin / 2 * view.scale
    if fountain.pump_position == "submersible":
        wire: Points = ((view.panel, view.ground), (view.panel, deep), (x, deep), (x, bottom))
        word = Text(x + size * 0.6 + 6, bottom - size / 2 + 5, "pump", fill=QUIET)
        fits = floor - level(view, WATER_LEVEL) > 19 and word.x + 42 < edge
    else:
        wire = ((view.panel, view.ground), (view.panel, view.ground + 10), (x, view.ground + 10), (x, view.ground))
        word = Text(x, bottom - size - 6, "pump", anchor="middle", fill=QUIET)
        fits = True
    body: Shape = Rectangle(x - size * 0.6, bottom - size, size * 1.2, size, INK, radius=2.5)
    return [Line(wire, STONE, 1.4, "5 3"), body, *([word] if fits else [])]


def measure(x: float, top: float, bottom: float) -> list[Shape]:
    """An upright line with a stroke at either end."""
    strokes: list[Shape] = [Line(((x - 4, y), (x + 4, y)), QUIET) for y in (top, bottom)]
    return [Line(((x, top), (x, bottom)), QUIET), *strokes]


def plate(text: Text, width: float) -> list[Shape]:
    """Words with white behind them."""
    left = text.x - {"start": 0.0, "middle": width / 2, "end": width}[text.anchor]
    return [Rectangle(left - 2, text.y - 12, width + 4, 16, PAPER, opacity=0.85), text]
