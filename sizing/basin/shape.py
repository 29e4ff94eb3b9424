"""How large a basin is, and what stands above it (which basin it is: ``sizing.fountain.basin_under``).

Walls are upright: the water is as wide at the bottom as at the top.
"""

import math

from sizing.foundation.working import formula

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
