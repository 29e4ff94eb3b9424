"""The one basin of a fountain, given or proposed, and whether the water falls back into it on a calm day.

Picture, splash, water balance, parts, safety notes and answers all read this one. Walls are upright.
"""

import math
from dataclasses import dataclass

from sizing.design.budget_input import BasinInput
from sizing.design.design import Design, NozzleOutlet
from sizing.hydraulic.outlet import Outlet, Spillway
from sizing.hydraulic.spillway import sheet_thickness, sheet_throw

DIAMETER_FOR_JET = 2.0
"""[1] Diameter of a basin over the height of its jet that falls back into it on a calm day; common practice, no source."""
LEAST_DIAMETER, MOST_DIAMETER = 1.0, 20.0
"""[m] Smallest round basin that is proposed, an assumption; and the largest that a design can name."""
SIDE_ROOM, LEAST_WIDTH = 0.3, 0.6
"""[m] Beyond each end of a lip, and least reach out from its wall, of a basin that is proposed; assumptions."""
LANDING_ROOM = 2.0
"""[1] Reach of a basin over the distance at which a falling sheet lands in it; an assumption."""
PROPOSED_DEPTH = 0.3
"""[m] Water of a basin that is proposed; display basins are about as shallow, by common practice, no source."""
HARDLY = 1e-6
"""[m] A length that nobody measures."""


@dataclass(frozen=True)
class BasinUnder:
    """The basin of a design (``given``), or the one that is proposed for it.

    ``long``, ``short`` [m] are both the diameter of a round one, ``depth`` [m] that of the water. ``top`` is the highest
    water of the year above the still level, outlet and jet together (0 where no jet rises); ``spread`` how far apart the
    outermost jets are [m]; ``landing`` how far from its lip a sheet lands at most [m]. ``needed`` are the sides [m] that would
    catch all of it on a calm day, and ``falls_inside`` is whether this basin has them (``None`` where nothing plays).
    """

    basin: BasinInput
    given: bool
    round: bool
    long: float
    short: float
    depth: float
    top: float
    spread: float
    landing: float
    needed: tuple[float, float]
    falls_inside: bool | None


def basin_under(design: Design, outlet: Outlet, highest_jet: float, largest_flow: float) -> BasinUnder:
    """The basin of a design.

    Parameters
    ----------
    highest_jet, largest_flow : most that the outlet throws by its highest jet [m] and passes [m3/s] in a year
    """
    top = outlet.height + highest_jet if highest_jet > 0 else 0.0
    out, spread = landing(outlet, largest_flow), spread_of(design)
    basin = design.basin or proposed_basin(outlet, top, out, spread)
    sides = [side for side in (basin.diameter_m, basin.length_m, basin.width_m) if side is not None]
    long, short = max(sides), min(sides)
    needed = (outlet.width, LANDING_ROOM * out) if isinstance(outlet, Spillway) else (DIAMETER_FOR_JET * top + spread,) * 2
    inside = long >= needed[0] - HARDLY and short >= needed[1] - HARDLY
    return BasinUnder(
        basin=basin,
        given=design.basin is not None,
        round=basin.diameter_m is not None,
        long=long,
        short=short,
        depth=basin.depth_m,
        top=top,
        spread=spread,
        landing=out,
        needed=needed,
        falls_inside=inside if largest_flow > 0 else None,
    )


def spread_of(design: Design) -> float:
    """How far apart the outermost jets are [m]; 0 for one jet, and for several on one body."""
    given = design.outlet
    return given.feed.size_m if isinstance(given, NozzleOutlet) and given.feed is not None else 0.0


def landing(outlet: Outlet, flow: float) -> float:
    """How far from its lip a sheet of that flow [m3/s] lands [m]; 0 where none falls."""
    if not isinstance(outlet, Spillway) or flow <= 0 or outlet.height <= 0:
        return 0.0
    return float(sheet_throw(flow, outlet.width, float(sheet_thickness(flow, outlet.width)), outlet.height))


def to_the_next_ten_centimetres(size: float) -> float:
    """A size [m] that can be bought or dug, not below a wanted one.

    Examples
    --------
    >>> to_the_next_ten_centimetres(1.532), to_the_next_ten_centimetres(1.6)
    (1.6, 1.6)
    """
    return math.ceil(round(size * 10, 6)) / 10


def proposed_basin(outlet: Outlet, top: float, out: float, spread: float = 0.0) -> BasinInput:
    """The basin that is proposed: round below a jet or a bubbling pipe, rectangular below a lip; open to the wind.

    Parameters
    ----------
    top : highest water of the year above the basin's [m]
    out : how far from its lip a sheet lands [m]
    spread : how far apart the outermost jets are [m]
    """
    if isinstance(outlet, Spillway):
        reach = max(LEAST_WIDTH, LANDING_ROOM * out)
        long, wide = (to_the_next_ten_centimetres(side) for side in (outlet.width + 2 * SIDE_ROOM, reach))
        return BasinInput(length_m=long, width_m=wide, depth_m=PROPOSED_DEPTH)
    across = max(LEAST_DIAMETER, DIAMETER_FOR_JET * top + spread)
    return BasinInput(diameter_m=min(to_the_next_ten_centimetres(across), MOST_DIAMETER), depth_m=PROPOSED_DEPTH)
