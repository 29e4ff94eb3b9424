"""Equal holes along a pipe that feeds them, a ring or a row: the head they need together, and how unevenly they share it.

From the farthest hole back to the feed (Rawn, Bowerman and Brooks 1961): a hole's flow goes with the root of the head beside
it, which is the energy of the water less the speed at which the rest of it passes by; between two holes the energy grows by
the friction of what still flows there. With one friction factor for each flow all heads grow alike, so that nothing is searched.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.constants import STANDARD_GRAVITY
from sizing.hydraulic.friction import friction_factor
from sizing.hydraulic.pipes import reynolds_number, velocity

Numeric = float | NDArray[np.float64]

UNEVEN = 0.1
"""[1] Jets of one crown that differ by more of the mean look uneven (common practice, no source)."""


@dataclass(frozen=True)
class Manifold:
    """A pipe with holes: ``branches`` alike from the feed to their last hole (a ring has two), each with ``holes``, which may
    end with half a hole that two share; from the feed to the first hole ``first`` and between two ``spacing`` [m]; inside
    diameter and roughness [m], kinematic viscosity [m2/s]."""

    branches: int
    holes: float
    first: float
    spacing: float
    diameter: float
    roughness: float
    kinematic_viscosity: float


@dataclass(frozen=True, eq=False)
class Shared:
    """How holes share a flow: energy [m] at the feed and the head [m] beside each hole of a branch, first to last."""

    feed: Numeric
    beside: NDArray[np.float64]
    holes: NDArray[np.float64]

    @property
    def lowest(self) -> Numeric:
        """[m] beside the hole with least."""
        return np.asarray(self.beside.min(axis=0))[()]

    @property
    def flow_spread(self) -> float:
        """[1] Difference between the holes with most and with least flow over the mean, for a single flow; 0 at no flow."""
        roots = np.sqrt(self.beside)
        mean = float((self.holes * roots).sum() / self.holes.sum())
        return float(roots.max() - roots.min()) / mean if mean > 0 else 0.0

    @property
    def highest(self) -> Numeric:
        """[m] beside the hole with most."""
        return np.asarray(self.beside.max(axis=0))[()]


def ring(across: float, holes: int, diameter: float, roughness: float, kinematic_viscosity: float) -> Manifold:
    """A closed ring fed at one point midway between two of its holes: the water meets on the far side.

    Examples
    --------
    >>> found = ring(0.5, 12, 0.016, 1.5e-6, 1.1e-6)
    >>> found.branches, found.holes, found.first, found.spacing
    (2, 6.0, 0.0654, 0.1309)
    """
    spacing = np.pi * across / holes
    return Manifold(2, holes / 2, spacing / 2, spacing, diameter, roughness, kinematic_viscosity)


def row(length: float, holes: int, diameter: float, roughness: float, kinematic_viscosity: float) -> Manifold:
    """A straight pipe fed at one end and closed behind its last hole, the first hole one spacing from the feed.

    Examples
    --------
    >>> row(1.2, 8, 0.016, 1.5e-6, 1.1e-6).spacing
    0.15
    """
    spacing = length / holes
    return Manifold(1, float(holes), spacing, spacing, diameter, roughness, kinematic_viscosity)


def shared(manifold: Manifold, area: float, discharge_coefficient: float, flow: Numeric) -> Shared:
    """How the holes share a flow.

    Parameters
    ----------
    area : [m2] of one hole
    discharge_coefficient : [1] of one hole
    flow : [m3/s] of all holes together, 0 or more

    Examples
    --------
    >>> found = shared(ring(0.5, 12, 0.016, 1.5e-6, 1.1e-6), 7.07e-6, 0.62, 10 / 60000)
    >>> float(found.feed), float(found.lowest), float(found.highest)
    (0.5180, 0.5107, 0.5129)
    """
    water = np.asarray(flow, dtype=float) / manifold.branches
    pipe_area = np.pi / 4 * manifold.diameter**2
    speed = velocity(water, manifold.diameter)
    number = reynolds_number(speed, manifold.diameter, manifold.kinematic_viscosity)
    factor = np.asarray(friction_factor(np.asarray(number), manifold.roughness / manifold.diameter))
    narrow = (discharge_coefficient * area / pipe_area) ** 2
    holes = hole_weights(manifold.holes)
    passing, energy, beside = np.zeros_like(water), np.ones_like(water), []
    for index in range(len(holes) - 1, -1, -1):
        # In units of the head beside the last hole, a flow squared times ``narrow`` is its velocity head in the pipe.
        beside.append(np.maximum(energy - narrow * passing**2, 0.0))
        passing = passing + holes[index] * np.sqrt(beside[-1])
        length = manifold.first if index == 0 else manifold.spacing
        energy = energy + factor * length / manifold.diameter * narrow * passing**2
    unit = (water / (discharge_coefficient * area * passing)) ** 2 / (2 * STANDARD_GRAVITY)
    return Shared((unit * energy)[()], unit * np.array(beside[::-1]), holes)


def hole_weights(holes: float) -> NDArray[np.float64]:
    """One for each hole of a branch, and a half for one that two branches share.

    Examples
    --------
    >>> hole_weights(2.5).tolist(), hole_weights(3.0).tolist()
    ([1.0, 1.0, 0.5], [1.0, 1.0, 1.0])
    """
    whole = np.ones(int(holes))
    return whole if holes == int(holes) else np.append(whole, holes - int(holes))
