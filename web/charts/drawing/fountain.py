"""The fountain to scale, seen from the side, with a pupil of 1.40 m for size."""

import math

from sizing.foundation import formats
from web.charts.drawing.garden import basin, ground, measure, panel, plate, pump, pump_place, pupil, sun
from web.charts.drawing.scene import (
    ASSUMED_PANEL,
    MEASURE_WORDS,
    NARROW,
    WALL,
    WATER_LEVEL,
    WIDE,
    Fountain,
    Room,
    Scene,
    fall_width,
    foot_words,
    jet_words,
    level,
    scene,
)
from web.charts.kit.labels import spread, text_width
from web.charts.kit.shapes import (
    INK,
    POOL,
    QUIET,
    RAMP,
    STONE,
    TEXT_SIZE,
    WATER,
    Chart,
    Line,
    Picture,
    Shape,
    Table,
    Text,
    picture,
)

LINE_GAP = 18.0
MOST_JETS = 40
"""More jets would only be a blue wall."""


def fountain_to_scale(fountain: Fountain, *, name: str = "to-scale") -> Chart:
    """Draw the fountain at one scale, once for wide sheets and once for phones.

    Parameters
    ----------
    fountain
        Sizes in metres, jets above the outlet; what is not known yet is None.
    name
        Beginning of the ids in the page.
    """
    said = facts(fountain)
    seen = f"Side view to scale: {said[0]}. A pupil of 1.40 m stands beside it."
    table = Table("Sizes in the drawing", ("What", "Size"), rows(fountain))
    moment = f", {fountain.moment}" if fountain.moment else ""
    caption = f"Side view to scale{moment}. {assumptions(fountain)}".strip()
    title = "The fountain to scale"
    return Chart(name, title, seen, caption, sheet(fountain, WIDE), table, narrow=sheet(fountain, NARROW))


def sheet(fountain: Fountain, room: Room) -> Picture:
    """One drawing; what stands behind is painted first."""
    view = scene(fountain, room)
    spill = fountain.outlet == "spillway"
    pipe = view.basin - (view.sizes.basin / 2 * view.scale - WALL / 2 * view.scale if spill else 0.0)
    below = view.basin + 0.08 * view.sizes.basin * view.scale if spill else pipe
    shapes = [*(sun(view) if fountain.sunlit else []), *panel(view, fountain), *basin(view, fountain), *ground(view)]
    shapes += pump(view, fountain, below)
    shapes += spillway(view, fountain, pipe, below) if spill else riser(view, fountain, pipe) + jet(view, fountain, pipe)
    shapes += pupil(view) + foot_labels(view, fountain)
    return picture(view.width, view.height, shapes)


def outlet_level(view: Scene, fountain: Fountain) -> float:
    """Place of the outlet on the sheet."""
    return level(view, WATER_LEVEL + fountain.outlet_height)


def riser(view: Scene, fountain: Fountain, pipe: float) -> list[Shape]:
    """The pipe from the pump to the outlet, and the measure from the water to the outlet."""
    x, bottom, size = pump_place(view, fountain, pipe)
    outlet, under = outlet_level(view, fountain), level(view, WATER_LEVEL - view.sizes.depth) - 6
    if fountain.pump_position == "submersible":
        shapes: list[Shape] = [Line(((pipe, bottom - size), (pipe, outlet)), INK, 4)]
    else:
        reach = x - 0.13 * view.scale
        shapes = [Line(((x, bottom - 4), (reach, bottom - 4), (reach, under), (pipe, under), (pipe, outlet)), INK, 3)]
    if fountain.jets_across is not None:
        half = view.sizes.spread * view.scale
        shapes.append(Line(((pipe - half, outlet + 2), (pipe + half, outlet + 2)), INK, 4))
    elif fountain.outlet == "nozzle":
        shapes.append(
            Line(
                ((pipe - 4, outlet + 7), (pipe + 4, outlet + 7), (pipe + 1.8, outlet), (pipe - 1.8, outlet)),
                fill=INK,
                closed=True,
            )
        )
    return shapes + height_above_water(view, fountain, pipe - fall_width(view.sizes, view.scale) - 14, -1)


def height_above_water(view: Scene, fountain: Fountain, x: float, side: int) -> list[Shape]:
    """The measure from the water to the outlet, its words at the given side (-1 left, 1 right)."""
    outlet, water = outlet_level(view, fountain), level(view, WATER_LEVEL)
    anchor = "end" if side < 0 else "start"
    middle = min((outlet + water) / 2, water - 20)
    said = (formats.length(fountain.outlet_height), MEASURE_WORDS) if fountain.outlet_height > 0 else ("at the", "water")
    texts = [
        Text(x + side * 8, middle + down, line, anchor=anchor, fill=QUIET) for line, down in zip(said, (-3, 13), strict=True)
    ]
    plates = [shape for text in texts for shape in plate(text, text_width(text.content, TEXT_SIZE))]
    return [*(measure(x, outlet, water) if fountain.outlet_height > 0 else []), *plates]


def jet(view: Scene, fountain: Fountain, pipe: float) -> list[Shape]:
    """Water at this moment, the best height dashed, and both heights in words."""
    outlet, water = outlet_level(view, fountain), level(view, WATER_LEVEL)
    now, best = fountain.jet_now or 0.0, fountain.jet_best
    fall = fall_width(view.sizes, view.scale)
    shapes: list[Shape] = []
    if now > 0:
        top = outlet - now * view.scale
        if fountain.jets_across is not None:
            shapes += crown(view, fountain, pipe, top)
        else:
            drawn = bubble if fountain.outlet == "open_pipe" else column
            shapes += drawn(pipe, outlet, top, water, fall)
    best_top = outlet - (best or 0.0) * view.scale
    if best:
        shapes.append(Line(((pipe - fall, best_top), (pipe + fall + 8, best_top)), WATER, 1.3, "4 3"))
    return shapes + jet_labels(fountain, pipe + fall + 12, outlet - now * view.scale, best_top)


def column(x: float, outlet: float, top: float, water: float, fall: float) -> list[Shape]:
    """A jet: a rising column and the drops that fall around it."""
    shapes: list[Shape] = []
    for share, colour, width in ((1.0, WATER, 1.7), (0.55, RAMP[3], 1.3)):
        for side in (-1, 1):
            curve = [(x + side * share * fall * step / 14, top + (water - top) * (step / 14) ** 2) for step in range(15)]
            shapes.append(Line(tuple(curve), colour, width, round=True))
    rising = ((x - 2.6, outlet), (x - 1, top), (x + 1, top), (x + 2.6, outlet))
    return [*shapes, Line(rising, fill=WATER, closed=True), *ripples(x, water, fall)]


def crown(view: Scene, fountain: Fountain, pipe: float, top: float) -> list[Shape]:
    """Jets on a ring or a row: each a thin column with the drops that fall beside it."""
    outlet, water = outlet_level(view, fountain), level(view, WATER_LEVEL)
    half = view.sizes.spread * view.scale
    fall = max(min(view.sizes.fall * view.scale, 2 * half / fountain.jets), 3.0)
    shapes: list[Shape] = []
    for x in jet_places(fountain, pipe, half):
        for side in (-1, 1):
            curve = [(x + side * fall * step / 6, top + (water - top) * (step / 6) ** 2) for step in range(7)]
            shapes.append(Line(tuple(curve), RAMP[3], 1.0))
        shapes.append(Line(((x - 1.3, outlet), (x, top), (x + 1.3, outlet)), fill=WATER, closed=True))
    return [*shapes, *ripples(pipe, water, half + fall)]


def jet_places(fountain: Fountain, pipe: float, half: float) -> list[float]:
    """Where jets stand on the sheet, no two of a ring behind one another."""
    count = min(fountain.jets, MOST_JETS)
    if fountain.on_ring:
        return sorted(pipe + half * math.cos(2 * math.pi * (index + 0.25) / count) for index in range(count))
    return [pipe - half + 2 * half * index / max(count - 1, 1) for index in range(count)]


def bubble(x: float, outlet: float, top: float, water: float, fall: float) -> list[Shape]:
    """A low dome of water over an open pipe, running down to the basin."""
    half = min(fall * 0.8, max(outlet - top, 5.0) * 1.4)
    dome = [(x + half * step / 10, outlet - (outlet - top) * (1 - (step / 10) ** 2)) for step in range(-10, 11)]
    falling = [(x + half + (fall - half) * step / 8, outlet + (water - outlet) * (step / 8) ** 2) for step in range(9)]
    mirrored = [(2 * x - px, py) for px, py in falling]
    sides = [Line(tuple(curve), WATER, 1.7, round=True) for curve in (falling, mirrored)]
    return [Line(tuple(dome), WATER, 1.7, fill=POOL), *sides, *ripples(x, water, fall)]


def ripples(x: float, water: float, fall: float) -> list[Shape]:
    """Rings on the water where the drops meet it."""
    return [
        Line(((x + side * fall - 7, water + 4), (x + side * fall + 7, water + 4)), WATER, 1.2, round=True) for side in (-1, 1)
    ]


def jet_labels(fountain: Fountain, x: float, now_top: float, best_top: float) -> list[Shape]:
    """Height now and at its best, kept apart."""
    labels = list(zip((now_top, best_top), jet_words(fountain), (700, 400), strict=False))
    highest = min(top for top, *_ in labels)
    places = spread([top - 0.01 * (weight < 500) for top, _, weight in labels], LINE_GAP, highest - 8, highest + 400)
    shapes: list[Shape] = []
    for place, (_, content, weight) in zip(places, labels, strict=True):
        text = Text(x, place + 5, content, fill=WATER, weight=weight)
        shapes += plate(text, text_width(content, TEXT_SIZE, weight))
    return shapes


def spillway(view: Scene, fountain: Fountain, pipe: float, below: float) -> list[Shape]:
    """A wall with a lip, the pipe inside it, and the sheet of water that falls from it."""
    outlet, water, floor = outlet_level(view, fountain), level(view, WATER_LEVEL), level(view, WATER_LEVEL - view.sizes.depth)
    half = WALL / 2 * view.scale
    lip = pipe + half + 0.06 * view.scale
    x, bottom, size = pump_place(view, fountain, below)
    pump_top = bottom - size / 2
    pipes: Shape = Line(((x, pump_top), (x, floor - 4), (pipe, floor - 4), (pipe, outlet + 3)), INK, 3)
    wall = Line(
        ((pipe - half, floor), (pipe - half, outlet), (pipe + half, outlet), (pipe + half, floor)),
        STONE,
        1.2,
        fill="#E6E9EB",
        closed=True,
    )
    shapes: list[Shape] = [wall, pipes, Line(((pipe - half, outlet), (lip, outlet)), INK, 4)]
    end = lip + max(0.10 * (fountain.outlet_height**0.5) * view.scale, 4)
    if fountain.flow_now is None or fountain.flow_now > 0:
        edge = [(lip + (end - lip) * step / 10, outlet - 2 + (water - outlet + 2) * (step / 10) ** 2) for step in range(11)]
        inner = [(px - 3.5, py) for px, py in reversed(edge)]
        shapes += [Line((*edge, *inner), WATER, 1.2, fill=RAMP[1], closed=True), *ripples(end, water, 0)]
    shapes += height_above_water(view, fountain, end + 16, 1)
    shapes += [Text(end + 12, outlet - 10, said, fill=WATER, weight=700) for said in jet_words(fountain)]
    return shapes


def jets_word(fountain: Fountain) -> str:
    """One jet, or how many on a ring or row."""
    return "jet" if fountain.jets_across is None else f"{fountain.jets} jets, the lowest"


def foot_labels(view: Scene, fountain: Fountain) -> list[Shape]:
    """What stands above, in two lines each, below the drawing."""
    places = (view.pupil, view.basin, view.panel)
    first = view.height - 24
    shapes: list[Shape] = []
    for x, lines in zip(places, foot_words(fountain, view.sizes), strict=True):
        half = max(text_width(line, TEXT_SIZE) for line in lines) / 2
        middle = min(max(x, half), view.width - half)
        shapes += [Text(middle, first + 17 * row, line, anchor="middle", fill=QUIET) for row, line in enumerate(lines)]
    return shapes


OUTLETS = {"nozzle": "a nozzle", "open_pipe": "an open pipe", "spillway": "a spillway"}


def facts(fountain: Fountain) -> tuple[str, ...]:
    """The drawing in one sentence, for those who do not see it."""
    what = f"{OUTLETS[fountain.outlet]} {formats.length(fountain.outlet_height)} above the water"
    if fountain.jet_now is not None:
        what += f", {jets_word(fountain)} {formats.length(fountain.jet_now)} now" if fountain.jet_now > 0 else ", dry now"
    if fountain.jet_best:
        what += f" and {formats.length(fountain.jet_best)} at its highest of the year"
    return (f"{what}, panel at {formats.figures(fountain.panel_tilt)} degrees facing {fountain.panel_faces}",)


def assumptions(fountain: Fountain) -> str:
    """What “top” means, and what is drawn that the design does not name."""
    said = ["Top is the highest jet of the year."] if fountain.jet_best else []
    if fountain.proposed:
        size = f"{formats.length(fountain.basin_width)} across with {formats.length(fountain.water_depth)} of water"
        said.append(f"The design does not name a basin: the proposed one is drawn, {size}.")
    if fountain.panel_length is None:
        said.append(f"The panel’s length is not given: drawn {formats.length(ASSUMED_PANEL)} long.")
    return " ".join(said)


def rows(fountain: Fountain) -> tuple[tuple[str, str], ...]:
    """The sizes as a table."""
    known = [
        ("Outlet above the water", fountain.outlet_height),
        ("Jet now, above the outlet", fountain.jet_now),
        ("Highest jet of the year, above the outlet", fountain.jet_best),
        ("Ring across" if fountain.on_ring else "Row of jets along", fountain.jets_across),
        ("Basin across", fountain.basin_width),
        ("Water deep", fountain.water_depth),
        ("Spillway wide", fountain.sheet_width),
        ("Panel along its slope", fountain.panel_length),
    ]
    sizes = [(what, formats.length(size)) for what, size in known if size is not None]
    return (*sizes, ("Panel tilt", f"{formats.figures(fountain.panel_tilt)}°"), ("Pupil", f"1.40{formats.SPACE}m"))
