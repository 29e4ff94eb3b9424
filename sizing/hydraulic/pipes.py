"""Head lost between pump and outlet: speed, Reynolds number, friction along the pipe, fittings.

Laminar flow below a Reynolds number of 2000 follows 64/Re, turbulent flow from 4000 the Colebrook
equation. Between them the friction factor is a cubic in the Reynolds number that meets both in value
and slope; the head lost then rises with the flow everywhere, so pump and pipe meet at one flow only.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.constants import STANDARD_GRAVITY
from sizing.foundation.errors import input_error
from sizing.foundation.tables import FITTING_LOSS, PIPE_KINDS, FittingLoss
from sizing.foundation.working import formula
from sizing.hydraulic.friction import friction_factor

Numeric = float | NDArray[np.float64]

FITTING_NAMES = {
    "entrance": "Open pipe end or strainer at the pump",
    "elbow_90": "Right-angle bend",
    "elbow_45": "Half bend (45°)",
    "tee_run": "Tee, water straight through",
    "tee_branch": "Tee, water turning off",
    "check_valve": "Non-return valve",
    "ball_valve": "Ball valve, open",
    "gate_valve": "Gate valve, open",
    "hose_barb": "Hose barb",
}
"""The kinds of fitting, in words."""
PIPE_NAMES = {name: kind.words for name, kind in PIPE_KINDS.items()}
"""The kinds of pipe, in words."""


@dataclass(frozen=True)
class Pipe:
    """One run: length, inside diameter, roughness [m], sum of fitting losses [1], kinematic viscosity [m2/s].

    ``ribs`` [1] is the friction of a ribbed wall over that of a smooth one, 1 without ribs.
    """

    length: float
    diameter: float
    roughness: float
    fitting_k: float
    kinematic_viscosity: float
    ribs: float = 1.0


@formula("flow / (pi / 4 * diameter**2)", unit="m/s", source="hydrostatics")
def velocity(flow: Numeric, diameter: Numeric) -> Numeric:
    """Mean speed of the water in the pipe.

    Parameters
    ----------
    flow : [m3/s] flow, 0 or more
    diameter : [m] inside diameter, above 0

    Returns
    -------
    [m/s] Speed; source key hydrostatics

    Examples
    --------
    >>> velocity(8.3 / 60000, 0.0127)
    1.092
    """
    return flow / (np.pi / 4 * diameter**2)


@formula("velocity * diameter / kinematic_viscosity", unit="1", source="hydrostatics")
def reynolds_number(velocity: Numeric, diameter: Numeric, kinematic_viscosity: Numeric) -> Numeric:
    """Reynolds number: how far inertia outweighs viscosity; it decides laminar or turbulent.

    Parameters
    ----------
    velocity : [m/s] mean speed, 0 or more
    diameter : [m] inside diameter, above 0
    kinematic_viscosity : [m2/s] kinematic viscosity, above 0

    Returns
    -------
    [1] Reynolds number

    Examples
    --------
    >>> reynolds_number(1.092, 0.0127, 1.0034e-6)
    13821.4
    """
    return velocity * diameter / kinematic_viscosity


@formula("smooth_factor * ribs", unit="1", source="hawthorne_1963")
def ribbed_factor(smooth_factor: Numeric, ribs: Numeric) -> Numeric:
    """Friction factor of a hose with rings inside: each ring is a small widening and narrowing.

    Parameters
    ----------
    smooth_factor : [1] Darcy friction factor of a smooth pipe of the same bore
    ribs : [1] how many times as much head a ribbed wall loses, 1 or more

    Returns
    -------
    [1] Darcy friction factor

    Examples
    --------
    >>> ribbed_factor(0.0267, 3.0)
    0.0801
    """
    return smooth_factor * ribs


@formula("friction_factor * length / diameter * velocity**2 / (2 * gravity)", unit="m", source="darcy_weisbach")
def friction_loss(
    friction_factor: Numeric, length: Numeric, diameter: Numeric, velocity: Numeric, gravity: float = STANDARD_GRAVITY
) -> Numeric:
    """Head lost to friction along a straight pipe (Darcy-Weisbach).

    Parameters
    ----------
    friction_factor : [1] Darcy friction factor, four times the Fanning factor
    length : [m] length, 0 or more
    diameter : [m] inside diameter, above 0
    velocity : [m/s] mean speed
    gravity : [m/s2] standard gravity

    Returns
    -------
    [m] Head; source key darcy_weisbach

    Examples
    --------
    >>> friction_loss(0.027, 7.3, 0.0191, 1.37)
    0.9875
    """
    return friction_factor * length / diameter * velocity**2 / (2 * gravity)


@formula("k * velocity**2 / (2 * gravity)", unit="m", source="epanet_fittings")
def fitting_loss(k: Numeric, velocity: Numeric, gravity: float = STANDARD_GRAVITY) -> Numeric:
    """Head lost in bends, valves and changes of section.

    Parameters
    ----------
    k : [1] sum of the loss coefficients, 0 or more
    velocity : [m/s] mean speed in the pipe
    gravity : [m/s2] standard gravity

    Returns
    -------
    [m] Head; source key epanet_fittings

    Examples
    --------
    >>> fitting_loss(2.7, 1.37)
    0.2584
    """
    return k * velocity**2 / (2 * gravity)


def fitting_k(kind: str) -> FittingLoss:
    """Low, typical and high loss coefficient of a fitting by its name in the table.

    Parameters
    ----------
    kind : one of the names in ``tables.FITTING_LOSS``

    Returns
    -------
    [1] Low, typical, high, and where they were published

    Raises
    ------
    InputError
        Where the table has no such fitting.

    Examples
    --------
    >>> fitting_k("elbow_90")[:3]
    (0.2, 0.9, 1.5)
    """
    if kind not in FITTING_LOSS:
        known = ", ".join(FITTING_LOSS)
        raise input_error(
            "#/pipe/fittings", "unknown", f"fitting is {kind!r}; the table has {known}; choose one of these or the nearest."
        )
    return FITTING_LOSS[kind]


def pipe_loss(pipe: Pipe, flow: Numeric) -> Numeric:
    """Head lost in the pipe and its fittings, with the friction factor of each flow.

    Parameters
    ----------
    pipe : the run
    flow : [m3/s] flow, 0 or more

    Returns
    -------
    [m] Head; 0 at no flow, rising with the flow

    Raises
    ------
    InputError
        Where the roughness is more than 0.05 of the diameter.

    Examples
    --------
    >>> float(pipe_loss(Pipe(7.3, 0.0127, 1.5e-6, 3.4, 1.0034e-6), 8.3 / 60000))
    1.206
    """
    speed = velocity(flow, pipe.diameter)
    number = reynolds_number(speed, pipe.diameter, pipe.kinematic_viscosity)
    factor = ribbed_factor(friction_factor(number, pipe.roughness / pipe.diameter), pipe.ribs)
    return friction_loss(factor, pipe.length, pipe.diameter, speed) + fitting_loss(pipe.fitting_k, speed)
