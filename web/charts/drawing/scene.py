"""The measures of the drawing: what is drawn, at which scale, and where it stands on the sheet.

Heights are metres above the ground, placed with ``level``; sideways each thing has its own place on
the sheet and keeps its true size around it.
"""

import math
from dataclasses import dataclass
from typing import Literal

from sizing.foundation import formats
from web.charts.kit.labels import text_width
from web.charts.kit.shapes import TEXT_SIZE

PUPIL_HEIGHT, PUPIL_BACK, PUPIL_FRONT = 1.40, 0.24, 0.44
WATER_LEVEL, RIM_LEVEL = 0.10, 0.18
ASSUMED_PANEL = 0.60
DEEPEST = 1.2
PANEL_MIDDLE = 1.25
WALL = 0.22
SUN_WIDTH, SUN_HEIGHT = 64.0, 64.0
FOOT_ROOM, HEAD_ROOM, MARGIN = 48.0, 28.0, 6.0
MEASURE_WORDS = "above water"


@dataclass(frozen=True)
class Fountain:
    """What the drawing needs to know; lengths in metres, tilt in degrees, flow in litres a minute.

    Jets are measured from the outlet upwards and are None for a spillway. The basin is that of the sums: of the design, or
    ``proposed`` for it, then dashed. A panel without a length is drawn at an assumed one, and the caption says so. ``moment``
    names the moment shown ("at noon on a clear June day"). ``jets`` stand ``jets_across`` metres apart on a ring or a row;
    several on one body are drawn as one.
    """

    outlet: Literal["nozzle", "open_pipe", "spillway"]
    outlet_height: float
    pump_position: Literal["submersible", "surface"]
    panel_tilt: float
    basin_width: float
    water_depth: float
    proposed: bool = False
    panel_faces: str = "south"
    jet_now: float | None = None
    jet_best: float | None = None
    flow_now: float | None = None
    sheet_width: float | None = None
    panel_length: float | None = None
    moment: str = ""
    sunlit: bool = True
    jets: int = 1
    jets_across: float | None = None
    on_ring: bool = False


@dataclass(frozen=True)
class Room:
    """A sheet: its width, the tallest picture, the largest scale [units per metre], how much basin it shows, and whether
    words make way for a wide crown of jets: on a narrow one they stand over its edge."""

    width: float
    height: float
    scale: float
    basin: float
    makes_way: bool = False


WIDE = Room(width=720, height=440, scale=165, basin=4.0, makes_way=True)
NARROW = Room(width=400, height=440, scale=128, basin=2.4)


@dataclass(frozen=True)
class Sizes:
    """Sizes in metres as they are drawn; ``cut`` where the basin is larger than the sheet shows."""

    basin: float
    depth: float
    cut: bool
    panel: float
    panel_middle: float
    panel_top: float
    panel_reach: float
    top: float
    below: float
    fall: float
    spread: float = 0.0
    way: float = 0.0


@dataclass(frozen=True)
class Scene:
    """The scale, the sheet, the ground line, the three places, and the sizes as drawn."""

    scale: float
    width: float
    height: float
    ground: float
    pupil: float
    basin: float
    panel: float
    sizes: Sizes


def lengths(fountain: Fountain) -> dict[str, float]:
    """Every length of the fountain that is known; a negative or absurd one is refused."""
    names = ("outlet_height", "jet_now", "jet_best", "sheet_width", "basin_width", "water_depth", "panel_length", "jets_across")
    known = {name: formats.finite(getattr(fountain, name)) for name in names if getattr(fountain, name) is not None}
    for name, value in known.items():
        if not 0 <= value <= 100:
            raise ValueError(f"{name.replace('_', ' ')} is {value:g} m; the drawing shows lengths from 0 to 100 m")
    if not 0 <= formats.finite(fountain.panel_tilt) <= 90:
        raise ValueError(f"panel tilt is {fountain.panel_tilt:g} degrees; the drawing shows tilts from 0 to 90 degrees")
    return known


def sizes(fountain: Fountain, room: Room) -> Sizes:
    """The sizes to draw; that of the panel is assumed where it is not given."""
    known = lengths(fountain)
    across, deep = known["basin_width"], known["water_depth"]
    basin, depth, panel = min(across, room.basin), min(deep, DEEPEST), known.get("panel_length") or ASSUMED_PANEL
    slope = math.radians(fountain.panel_tilt)
    rise, reach = panel / 2 * math.sin(slope), panel * math.cos(slope)
    middle = max(PANEL_MIDDLE, 0.3 + rise)
    highest = max(known.get("jet_now", 0.0), known.get("jet_best", 0.0))
    top = max(PUPIL_HEIGHT, WATER_LEVEL + known["outlet_height"] + highest)
    below = max(depth - WATER_LEVEL, 0.0) + 0.05
    fall = min(0.07 + 0.1 * highest, 0.42 * basin)
    spread = min(known.get("jets_across", 0.0), basin) / 2
    way = spread if room.makes_way else 0.0
    cut = across > basin or deep > depth
    return Sizes(basin, depth, cut, panel, middle, middle + rise, reach, top, below, fall, spread, way)


def jet_words(fountain: Fountain) -> tuple[str, ...]:
    """What is written beside the water: now, and at its best where that is known."""
    if fountain.outlet == "spillway":
        if fountain.flow_now is None:
            return ()
        return (f"now {formats.quantity(fountain.flow_now, 'l/min')}" if fountain.flow_now > 0 else "now dry",)
    now = f"now {formats.length(fountain.jet_now)}" if fountain.jet_now else "now dry"
    return (now, f"top {formats.length(fountain.jet_best)}") if fountain.jet_best else (now,)


def foot_words(fountain: Fountain, drawn: Sizes) -> tuple[tuple[str, str], ...]:
    """What is written below pupil, basin and panel, two lines each."""
    size = f"{formats.length(fountain.basin_width)} across"
    second = "not all shown" if drawn.cut else "proposed" if fountain.proposed else ""
    return (
        ("pupil", f"1.40{formats.SPACE}m"),
        (f"basin {size}" if second else "basin", second or size),
        (f"panel at {formats.figures(fountain.panel_tilt)}°", f"facing {fountain.panel_faces}"),
    )


def fall_width(drawn: Sizes, scale: float) -> float:
    """Half the width of the falling water on the sheet, all jets together where words make way for them."""
    return max(drawn.fall * scale, 8.0) + drawn.way * scale


@dataclass(frozen=True)
class WordWidths:
    """Room that words take on the sheet at any scale: half of each foot label, beside the water, at the measure."""

    feet: tuple[float, ...]
    beside: float
    measured: float


def word_widths(fountain: Fountain, drawn: Sizes) -> WordWidths:
    """How wide the words of the drawing are."""
    feet = tuple(max(text_width(line, TEXT_SIZE) for line in lines) / 2 for lines in foot_words(fountain, drawn))
    beside = max((text_width(line, TEXT_SIZE, 700) for line in jet_words(fountain)), default=0.0)
    return WordWidths(feet, beside, text_width(MEASURE_WORDS, TEXT_SIZE) + 26)


def columns(fountain: Fountain, drawn: Sizes, said: WordWidths, scale: float) -> tuple[float, float, float, float]:
    """At a scale: least distances edge to pupil, pupil to basin, basin to panel, panel to edge."""
    feet = said.feet
    half, fall = drawn.basin / 2 * scale, fall_width(drawn, scale)
    reach, surface = drawn.panel_reach / 2 * scale, fountain.pump_position == "surface"
    if fountain.outlet == "spillway":
        left, right = 0.0, max(said.beside, said.measured) + (WALL + 0.3) * scale + 22 - half
    else:
        left, right = 0.22 * scale + said.measured + fall + 4, fall + 18 + said.beside
    first = max(PUPIL_BACK * scale, feet[0]) + MARGIN
    second = max(PUPIL_FRONT * scale + 8 + half, left, feet[0] + feet[1] + 12)
    third = max(half + reach + (0.4 * scale + 34 if surface else 10), right + max(reach, 34) + 6, feet[1] + feet[2] + 12)
    return first, second, third, max(reach, feet[2], SUN_WIDTH - reach) + MARGIN


def scene(fountain: Fountain, room: Room) -> Scene:
    """Choose the largest scale at which everything fits, and give each thing its place."""
    drawn = sizes(fountain, room)
    said = word_widths(fountain, drawn)
    free = room.height - FOOT_ROOM
    scale = min(
        room.scale,
        (free - HEAD_ROOM) / (drawn.top + drawn.below),
        (free - SUN_HEIGHT) / (drawn.panel_top + drawn.below),
    )
    while sum(columns(fountain, drawn, said, scale)) > room.width and scale > 4:
        scale *= 0.98
    first, second, third, last = columns(fountain, drawn, said, scale)
    slack = max(room.width - first - second - third - last, 0.0)
    pupil = first + 0.15 * slack
    basin = pupil + second + 0.35 * slack
    panel = basin + third + 0.35 * slack
    ground = max(drawn.top * scale + HEAD_ROOM, drawn.panel_top * scale + SUN_HEIGHT)
    return Scene(scale, room.width, ground + drawn.below * scale + FOOT_ROOM, ground, pupil, basin, panel, drawn)


def level(view: Scene, height: float) -> float:
    """Place on the sheet of a height above the ground."""
    return view.ground - height * view.scale
