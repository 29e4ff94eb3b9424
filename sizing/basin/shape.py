"""How large a basin is, what stands above it, and which basin is proposed where a design has none.

Walls are upright: the water is as wide at the bottom as at the top.
"""

import math

import numpy as np

from sizing.design.budget_input import BasinInput
from sizing.design.design import NozzleOutlet
from sizing.foundation.constants import STANDARD_GRAVITY
from sizing.foundation.working import formula
from sizing.hydraulic.outlet import Outlet, Spillway, above_lowest
from sizing.hydraulic.spillway import sheet_thickness
from sizing.report.report import Report

DIAMETER_FOR_JET = 2.0
"""[1] Diameter of a basin over the height of its jet that falls back into it on a calm day; common practice, no source."""
LEAST_DIAMETER = 1.0
"""[m] Smallest round basin that is proposed; an assumption."""
SIDE_ROOM, LEAST_WIDTH = 0.3, 0.6
"""[m] Beyond each end of a lip, and least reach out from its wall, of a basin that is proposed; assumptions."""
LANDING_ROOM = 2.0
"""[1] Reach of a basin over the distance at which a falling sheet lands in it; an assumption."""
PROPOSED_DEPTH = 0.3
"""[m] Water of a basin that is proposed; display basins are about as shallow, by common practice, no source."""


LEAST_COVER = 0.1
"""[m] Depth that must stay at the bottom so that the pump draws no air; an assumption, for no design has the pump's height."""
MARGIN = 0.05
"""[m] Rim above the highest water, for waves and rain; an assumption."""
CHANNEL = 0.3
"""[m] Still water behind a lip, from its wall to its edge; an assumption."""
POOL_DEPTH = 0.61
"""[m] 24 inches: deeper water may count as a swimming pool; common practice, no source."""
TURNOVER = (1.0, 2.0)
"""[h] Time in which a pond's water passes its pump once; common practice, no source."""


@formula("pi / 4 * diameter**2", unit="m2", source="hydrostatics")
def round_area(diameter: float) -> float:
    """Water surface of a round basin [m2] of a diameter [m].

    Examples
    --------
    >>> round_area(1.6)
    2.0106
    """
    return math.pi / 4 * diameter**2


@formula("length * width", unit="m2", source="hydrostatics")
def rectangular_area(length: float, width: float) -> float:
    """Water surface of a rectangular basin [m2]; sides [m].

    Examples
    --------
    >>> rectangular_area(1.8, 1.2)
    2.16
    """
    return length * width


@formula("area * depth", unit="m3", source="hydrostatics")
def basin_volume(area: float, depth: float) -> float:
    """Water of a basin with upright walls [m3]: surface [m2] times depth [m].

    Examples
    --------
    >>> basin_volume(2.16, 0.3)
    0.648
    """
    return area * depth


@formula("pi / 4 * pipe_diameter**2 * pipe_length", unit="m3", source="hydrostatics")
def pipe_volume(pipe_diameter: float, pipe_length: float) -> float:
    """Water that stands in a pipe [m3]: inside diameter [m], length [m].

    Examples
    --------
    >>> pipe_volume(0.02, 12.0)
    0.003770
    """
    return math.pi / 4 * pipe_diameter**2 * pipe_length


@formula("width * channel * head", unit="m3", source="hydrostatics")
def water_behind_lip(width: float, channel: float, head: float) -> float:
    """Water above a lip that runs off when the pump stops [m3]: width, channel behind it, head over it [m].

    Examples
    --------
    >>> water_behind_lip(0.3, 0.3, 0.01)
    0.0009
    """
    return width * channel * head


@formula("held_back / area", unit="m", source="hydrostatics")
def level_rise(held_back: float, area: float) -> float:
    """Rise of the level [m] when water [m3] comes back on a surface [m2].

    Examples
    --------
    >>> level_rise(0.00377, 2.16)
    0.001745
    """
    return held_back / area


@formula("rise + margin", unit="m", source="common_practice")
def freeboard_of(rise: float, margin: float) -> float:
    """Height of the rim above the playing level [m]: what comes back, and a margin [m].

    Examples
    --------
    >>> freeboard_of(0.002, 0.05)
    0.052
    """
    return rise + margin


@formula("maximum(0, depth - lowest_level - rise)", unit="m", source="common_practice")
def depth_to_lose(depth: float, lowest_level: float, rise: float) -> float:
    """Depth that may be lost before the pump draws air while it plays [m]; all [m].

    Examples
    --------
    >>> depth_to_lose(0.3, 0.1, 0.002)
    0.198
    """
    return max(0.0, depth - lowest_level - rise)


@formula("volume / (3600 * mean_flow)", unit="h", source="common_practice")
def turnover(volume: float, mean_flow: float) -> float:
    """Playing hours in which the whole basin [m3] passes the pump once; flow [m3/s], above 0.

    Examples
    --------
    >>> turnover(0.648, 0.0001)
    1.8
    """
    return volume / (3600 * mean_flow)


@formula("flow / width / sheet_thickness * sqrt(2 * height / gravity)", unit="m", source="rouse_1936")
def sheet_throw(flow: float, width: float, sheet_thickness: float, height: float, gravity: float = STANDARD_GRAVITY) -> float:
    """How far from its lip a free sheet lands [m]: flow [m3/s], lip's width, thickness on its edge, fall [m], all above 0.

    Examples
    --------
    >>> float(sheet_throw(0.0006, 0.3, 0.0053, 0.35))
    0.1008
    """
    return flow / width / sheet_thickness * np.sqrt(2 * height / gravity)


def landing(report: Report) -> float:
    """How far from its lip the sheet of the strongest moment lands [m]; 0 where none falls."""
    outlet, flow = report.fountain.waterway.outlet, float(report.operation.flow.max())
    if not isinstance(outlet, Spillway) or flow <= 0 or outlet.height <= 0:
        return 0.0
    return float(sheet_throw(flow, outlet.width, float(sheet_thickness(flow, outlet.width)), outlet.height))


def highest_water(report: Report) -> float:
    """Highest water of the year above the basin's level [m], the outlet's height counted; 0 where no jet rises."""
    outlet = report.fountain.waterway.outlet
    jet = float(report.operation.jet.max() + above_lowest(outlet, float(report.operation.flow.max())))
    return outlet.height + jet if jet > 0 else 0.0


def to_the_next_ten_centimetres(size: float) -> float:
    """A size [m] that can be bought or dug, not below a wanted one.

    Examples
    --------
    >>> to_the_next_ten_centimetres(1.532), to_the_next_ten_centimetres(1.6)
    (1.6, 1.6)
    """
    return math.ceil(round(size * 10, 6)) / 10


def spread_of(report: Report) -> float:
    """How far apart the outermost jets stand [m]; 0 for one jet, and for several on one body."""
    given = report.design.outlet
    return given.feed.size_m if isinstance(given, NozzleOutlet) and given.feed is not None else 0.0


def proposed_basin(report: Report) -> BasinInput:
    """The basin that is proposed: round below a jet or a bubbling pipe, rectangular below a lip; open to the wind."""
    outlet: Outlet = report.fountain.waterway.outlet
    if isinstance(outlet, Spillway):
        reach = max(LEAST_WIDTH, LANDING_ROOM * landing(report))
        long, wide = (to_the_next_ten_centimetres(side) for side in (outlet.width + 2 * SIDE_ROOM, reach))
        return BasinInput(length_m=long, width_m=wide, depth_m=PROPOSED_DEPTH)
    across = max(LEAST_DIAMETER, DIAMETER_FOR_JET * highest_water(report) + spread_of(report))
    return BasinInput(diameter_m=min(to_the_next_ten_centimetres(across), 20.0), depth_m=PROPOSED_DEPTH)
