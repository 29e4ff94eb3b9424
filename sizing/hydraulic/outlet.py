"""Where the water leaves: nozzle, open pipe or spillway; the head it takes and the height it throws.

The head an outlet asks holds all of its exit, once: the whole head at the nozzle's inlet, one velocity
head at an open pipe, the head over the lip of a spillway. The lift to the outlet is no part of it.
A pipe that ends under water in the box behind a spillway loses ``tables.EXIT_LOSS`` besides.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.constants import STANDARD_GRAVITY
from sizing.foundation.tables import NOZZLE_DISCHARGE_COEFFICIENT, NOZZLE_VELOCITY_COEFFICIENT
from sizing.foundation.working import formula
from sizing.hydraulic.manifold import Manifold, shared
from sizing.hydraulic.spillway import most_over_lip, spillway_head

Numeric = float | NDArray[np.float64]

OVERFLOW_LIMIT = 0.37
"""[1] Height over diameter up to which a vertical pipe spills like a round weir (usbr_pipe)."""
JET_LIMIT = 1.4
"""[1] Height over diameter above which it throws a jet (usbr_pipe)."""


@dataclass(frozen=True)
class Nozzle:
    """``count`` equal nozzles: bore [m], height of their tips above the water [m], coefficients [1].

    A ``manifold`` feeds them through a ring or a row, so that they share the water unevenly; without one all are alike.
    """

    bore: float
    count: int
    height: float
    discharge_coefficient: float = NOZZLE_DISCHARGE_COEFFICIENT
    velocity_coefficient: float = NOZZLE_VELOCITY_COEFFICIENT
    manifold: Manifold | None = None

    @property
    def area(self) -> float:
        """[m2] of one opening."""
        return float(np.pi / 4 * self.bore**2)


@dataclass(frozen=True)
class OpenPipe:
    """A vertical pipe end: inside diameter [m], height of the end above the water [m]."""

    diameter: float
    height: float


@dataclass(frozen=True)
class Spillway:
    """A lip: width [m], height above the water [m], ends (0 to 2) where the sheet draws in."""

    width: float
    height: float
    end_contractions: int = 0


Outlet = Nozzle | OpenPipe | Spillway


@formula("(flow / (discharge_coefficient * count * pi / 4 * bore**2))**2 / (2 * gravity)", unit="m", source="unwin_1911")
def nozzle_head(
    flow: Numeric, bore: Numeric, count: Numeric, discharge_coefficient: Numeric, gravity: float = STANDARD_GRAVITY
) -> Numeric:
    """Head at the inlet of the nozzles: all they turn into speed and all they lose.

    Parameters
    ----------
    flow : [m3/s] flow of all nozzles together, 0 or more
    bore : [m] bore of one nozzle, above 0
    count : [1] number of nozzles, 1 or more
    discharge_coefficient : [1] real flow over ideal flow, above 0, to 1
    gravity : [m/s2] standard gravity

    Returns
    -------
    [m] Head; source key unwin_1911

    Examples
    --------
    >>> nozzle_head(6.1 / 60000, 0.0073, 1, 0.946)
    0.3362
    """
    return (flow / (discharge_coefficient * count * np.pi / 4 * bore**2)) ** 2 / (2 * gravity)


@formula("velocity_coefficient**2 * nozzle_head", unit="m", source="unwin_1911")
def nozzle_velocity_head(nozzle_head: Numeric, velocity_coefficient: Numeric) -> Numeric:
    """Velocity head of the jet as it leaves: the part of the nozzle's head that was not lost.

    Parameters
    ----------
    nozzle_head : [m] head at the nozzle's inlet, 0 or more
    velocity_coefficient : [1] real speed over ideal speed, above 0, to 1

    Returns
    -------
    [m] Head

    Examples
    --------
    >>> nozzle_velocity_head(1.9, 0.962)
    1.758
    """
    return velocity_coefficient**2 * nozzle_head


@formula("0.25 / (1000 * bore + (100 * bore)**3)", unit="1/m", source="lueger_jet")
def lueger_coefficient(bore: Numeric) -> Numeric:
    """How strongly the air holds back a jet: thin jets break up sooner.

    Written from memory, its publication was not found; the tests hold it against the rules of Freeman and Mariotte.

    Parameters
    ----------
    bore : [m] bore of the nozzle, above 0; for jets of 9 mm and more (from memory), thinner is extrapolated

    Returns
    -------
    [1/m] Coefficient; source key lueger_jet

    Examples
    --------
    >>> lueger_coefficient(0.019)
    0.00967
    """
    return 0.25 / (1000 * bore + (100 * bore) ** 3)


@formula("velocity_head / (1 + 0.25 / (1000 * bore + (100 * bore)**3) * velocity_head)", unit="m", source="lueger_jet")
def nozzle_jet_height(velocity_head: Numeric, bore: Numeric) -> Numeric:
    """Height of a clear upright jet above the nozzle in still air.

    Parameters
    ----------
    velocity_head : [m] velocity head of the jet as it leaves, 0 or more
    bore : [m] bore of the nozzle, above 0; for jets of 9 mm and more (from memory), thinner is extrapolated

    Returns
    -------
    [m] Height, below the velocity head; source key lueger_jet

    Examples
    --------
    >>> nozzle_jet_height(1.758, 0.0073)
    1.663
    """
    return velocity_head / (1 + lueger_coefficient(bore) * velocity_head)


@formula("(flow / (pi / 4 * diameter**2))**2 / (2 * gravity)", unit="m", source="hydrostatics")
def open_pipe_head(flow: Numeric, diameter: Numeric, gravity: float = STANDARD_GRAVITY) -> Numeric:
    """Velocity head of the water that leaves an open pipe.

    Parameters
    ----------
    flow : [m3/s] flow, 0 or more
    diameter : [m] inside diameter, above 0
    gravity : [m/s2] standard gravity

    Returns
    -------
    [m] Head

    Examples
    --------
    >>> open_pipe_head(23.0 / 60000, 0.0191)
    0.09126
    """
    return (flow / (np.pi / 4 * diameter**2)) ** 2 / (2 * gravity)


@formula("0.0254 * (flow / 6.30901964e-5 / (5.01 * (diameter / 0.0254)**1.99))**(1 / 0.53)", unit="m", source="usbr_pipe")
def thrown_height(flow: Numeric, diameter: Numeric) -> Numeric:
    """Height of the water above a vertical pipe that throws a jet; holds above 1.4 diameters, to 10 % in flow.

    Parameters
    ----------
    flow : [m3/s] flow, 0 or more
    diameter : [m] inside diameter, above 0; measured for 50 mm and more, narrower is extrapolated

    Returns
    -------
    [m] Height; source key usbr_pipe. A jet may pass the mean velocity head: the middle of a pipe runs faster

    Examples
    --------
    >>> thrown_height(23.0 / 60000, 0.0191)
    0.1066
    """
    return 0.0254 * (flow / 6.30901964e-5 / (5.01 * (diameter / 0.0254) ** 1.99)) ** (1 / 0.53)


@formula("0.0254 * (flow / 6.30901964e-5 / (6.17 * (diameter / 0.0254)**1.25))**(1 / 1.35)", unit="m", source="usbr_pipe")
def overflow_height(flow: Numeric, diameter: Numeric) -> Numeric:
    """Height of the water above a vertical pipe that spills all round; holds below 0.37 diameters, to 15 % in flow.

    Parameters
    ----------
    flow : [m3/s] flow, 0 or more
    diameter : [m] inside diameter, above 0; measured for 50 mm and more, narrower is extrapolated

    Returns
    -------
    [m] Height; source key usbr_pipe

    Examples
    --------
    >>> overflow_height(3.1 / 60000, 0.0191)
    0.00741
    """
    return 0.0254 * (flow / 6.30901964e-5 / (6.17 * (diameter / 0.0254) ** 1.25)) ** (1 / 1.35)


def open_pipe_jet_height(flow: Numeric, diameter: Numeric) -> Numeric:
    """Height of the water above an open vertical pipe: spilling, throwing, or between.

    Between the two measured ranges a straight line in logarithms of flow and height joins their ends.
    The flow at 1.4 diameters is the larger one for every pipe (by 3.7 / d**0.08, d in inches).

    Parameters
    ----------
    flow : [m3/s] flow, 0 or more
    diameter : [m] inside diameter, above 0

    Returns
    -------
    [m] Height, rising with the flow; source key usbr_pipe

    Examples
    --------
    >>> open_pipe_jet_height(np.array([3.1, 7.3, 23.0]) / 60000, 0.0191).tolist()
    [0.00753, 0.01769, 0.1066]
    """
    spilling, throwing = overflow_height(flow, diameter), thrown_height(flow, diameter)
    low, high = OVERFLOW_LIMIT * diameter, JET_LIMIT * diameter
    # Each mode is a power of the flow, so its flow at a height follows from its height at unit flow.
    flow_low = (low / overflow_height(1.0, diameter)) ** 1.35
    flow_high = (high / thrown_height(1.0, diameter)) ** 0.53
    steepness = np.log(JET_LIMIT / OVERFLOW_LIMIT) / np.log(flow_high / flow_low)
    between = low * (flow / flow_low) ** steepness
    return np.where(flow <= flow_low, spilling, np.where(flow < flow_high, between, throwing))[()]


def outlet_head(outlet: Outlet, flow: Numeric) -> Numeric:
    """Head that an outlet asks, above the lift to it.

    Parameters
    ----------
    outlet : Nozzle, OpenPipe or Spillway
    flow : [m3/s] flow, 0 or more

    Returns
    -------
    [m] Head; 0 at no flow, rising with the flow

    Examples
    --------
    >>> outlet_head(Nozzle(0.0073, 1, 0.31), 6.1 / 60000)
    0.3362
    """
    if isinstance(outlet, Nozzle):
        if outlet.manifold is not None:
            return shared(outlet.manifold, outlet.area, outlet.discharge_coefficient, flow).feed
        return nozzle_head(flow, outlet.bore, outlet.count, outlet.discharge_coefficient)
    if isinstance(outlet, OpenPipe):
        return open_pipe_head(flow, outlet.diameter)
    return spillway_head(flow, outlet.width, outlet.end_contractions)


def flow_limit(outlet: Outlet) -> float:
    """Flow beyond which an outlet's formula does not hold [m3/s]; infinite for nozzle and open pipe.

    Examples
    --------
    >>> flow_limit(OpenPipe(0.02, 0.3)), flow_limit(Spillway(0.02, 0.4, 2)) * 60000
    (inf, 12.33)
    """
    return float(most_over_lip(outlet.width, outlet.end_contractions)) if isinstance(outlet, Spillway) else float("inf")


def jet_height(outlet: Outlet, flow: Numeric) -> Numeric:
    """Height of the water above an outlet, the lowest of several jets; a spillway throws none.

    Parameters
    ----------
    outlet : Nozzle, OpenPipe or Spillway
    flow : [m3/s] flow, 0 or more

    Returns
    -------
    [m] Height; 0 at no flow

    Examples
    --------
    >>> jet_height(Nozzle(0.0073, 1, 0.31), 6.1 / 60000)
    0.3080
    """
    if isinstance(outlet, Nozzle):
        return jets(outlet, flow).lowest
    if isinstance(outlet, OpenPipe):
        return open_pipe_jet_height(flow, outlet.diameter)
    return np.zeros_like(np.asarray(flow, dtype=float))[()]


class Jets(NamedTuple):
    """Heights [m] of the jets of a nozzle: all alike, unless a manifold feeds them."""

    lowest: Numeric
    mean: Numeric
    highest: Numeric


def jets(nozzle: Nozzle, flow: Numeric) -> Jets:
    """Heights of the lowest and the highest jet of a nozzle, and their mean.

    Parameters
    ----------
    flow : [m3/s] flow of all jets together, 0 or more

    Examples
    --------
    >>> [float(height) for height in jets(Nozzle(0.0073, 1, 0.31), 6.1 / 60000)]
    [0.3080, 0.3080, 0.3080]
    """
    if nozzle.manifold is None:
        height = rise(nozzle, nozzle_head(flow, nozzle.bore, nozzle.count, nozzle.discharge_coefficient))
        return Jets(height, height, height)
    found = shared(nozzle.manifold, nozzle.area, nozzle.discharge_coefficient, flow)
    heights = np.asarray(rise(nozzle, found.beside))
    mean = np.tensordot(found.holes / found.holes.sum(), heights, axes=1)[()]
    return Jets(heights.min(axis=0)[()], mean, heights.max(axis=0)[()])


def rise(nozzle: Nozzle, head: Numeric) -> Numeric:
    """Height of a jet with a head at its opening [m]."""
    return nozzle_jet_height(nozzle_velocity_head(head, nozzle.velocity_coefficient), nozzle.bore)


def above_lowest(outlet: Outlet, flow: Numeric) -> Numeric:
    """How much higher than the lowest jet the highest rises [m]; 0 unless a manifold feeds them.

    Examples
    --------
    >>> float(above_lowest(Nozzle(0.0073, 1, 0.31), 6.1 / 60000))
    0.0
    """
    if not isinstance(outlet, Nozzle) or outlet.manifold is None:
        return 0.0
    found = jets(outlet, flow)
    return found.highest - found.lowest
