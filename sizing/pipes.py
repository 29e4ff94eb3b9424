"""Head lost between pump and outlet: speed, Reynolds number, friction along the pipe, fittings.

Laminar flow below a Reynolds number of 2000 follows 64/Re, turbulent flow from 4000 the Colebrook
equation. Between them the friction factor is a cubic in the Reynolds number that meets both in value
and slope; the head lost then rises with the flow everywhere, so pump and pipe meet at one flow only.
"""

from dataclasses import dataclass

import numpy as np
from fluids import vectorized
from numpy.typing import NDArray

from sizing.constants import STANDARD_GRAVITY
from sizing.errors import refuse
from sizing.tables import FITTING_LOSS, FittingLoss
from sizing.working import formula

Numeric = float | NDArray[np.float64]

LAMINAR_LIMIT = 2000.0
TURBULENT_LIMIT = 4000.0
"""[1] Reynolds numbers where laminar flow ends and turbulent flow begins (EPANET 2.2 User Manual, ch. 3)."""
ROUGHEST = 0.05
"""[1] Relative roughness where Moody's chart and the Colebrook equation end."""


@dataclass(frozen=True)
class Pipe:
    """One run: length, inside diameter, roughness [m], sum of fitting losses [1], kinematic viscosity [m2/s]."""

    length: float
    diameter: float
    roughness: float
    fitting_k: float
    kinematic_viscosity: float


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


@formula("64 / reynolds", unit="1", source="darcy_weisbach")
def laminar_friction_factor(reynolds: Numeric) -> Numeric:
    """Friction factor of laminar flow, whatever the wall is like.

    Parameters
    ----------
    reynolds : [1] Reynolds number, above 0, up to 2000

    Returns
    -------
    [1] Darcy friction factor

    Examples
    --------
    >>> laminar_friction_factor(1777.0)
    0.03602
    """
    return 64 / reynolds


@formula(
    "0.25 / (log(relative_roughness / 3.7 + 2.51 / (reynolds * sqrt(friction_factor))) / log(10))**2",
    unit="1",
    source="clamond_2009",
)
def colebrook_factor(reynolds: Numeric, relative_roughness: Numeric, friction_factor: Numeric) -> Numeric:
    """Friction factor that the Colebrook equation gives back; the right one comes back as it was put in.

    Parameters
    ----------
    reynolds : [1] Reynolds number, 4000 or more
    relative_roughness : [1] roughness over inside diameter, 0 to 0.05
    friction_factor : [1] Darcy friction factor put in, above 0

    Returns
    -------
    [1] Darcy friction factor

    Examples
    --------
    >>> float(colebrook_factor(126400.0, 4.2e-5, 0.01740))
    0.01740
    """
    return 0.25 / np.log10(relative_roughness / 3.7 + 2.51 / (reynolds * np.sqrt(friction_factor))) ** 2


def friction_factor(reynolds: Numeric, relative_roughness: Numeric) -> Numeric:
    """Darcy friction factor: laminar, turbulent (Colebrook, solved by Clamond's method) or between.

    Parameters
    ----------
    reynolds : [1] Reynolds number, 0 to 1e12. Water at rest has no factor; 0 is returned, so that it loses no head
    relative_roughness : [1] roughness over inside diameter, 0 to 0.05

    Returns
    -------
    [1] Darcy friction factor; source keys darcy_weisbach, clamond_2009

    Raises
    ------
    InputError
        Where the relative roughness is outside 0 to 0.05.

    Examples
    --------
    >>> friction_factor(np.array([1777.0, 3000.0, 126400.0]), 4.2e-5)
    array([0.03602, 0.03271, 0.01740])
    """
    _refuse_roughness(relative_roughness)
    number = np.asarray(reynolds, dtype=float)
    if np.ndim(relative_roughness):
        number = np.broadcast_arrays(number, relative_roughness)[0]
    still = number <= 0
    factor = np.where(still, 0.0, laminar_friction_factor(np.where(still, 1.0, number)))
    between, turbulent = (number > LAMINAR_LIMIT) & (number < TURBULENT_LIMIT), number >= TURBULENT_LIMIT
    if np.any(between):
        factor = np.where(between, _bridge(np.clip(number, LAMINAR_LIMIT, TURBULENT_LIMIT), relative_roughness), factor)
    if np.any(turbulent):
        factor = np.where(turbulent, _colebrook(np.maximum(number, TURBULENT_LIMIT), relative_roughness), factor)
    return factor[()]


def _colebrook(reynolds: Numeric, relative_roughness: Numeric) -> Numeric:
    """Solution of the Colebrook equation by Clamond's method."""
    return vectorized.Clamond(reynolds, relative_roughness)  # type: ignore[attr-defined]  # made at import


def _bridge(reynolds: Numeric, relative_roughness: Numeric) -> Numeric:
    """Cubic that leaves 64/Re at 2000 and joins Colebrook at 4000 without a kink (after Dunlop, in the EPANET manual)."""
    start, end = 64 / LAMINAR_LIMIT, _colebrook(TURBULENT_LIMIT, relative_roughness)
    span = TURBULENT_LIMIT - LAMINAR_LIMIT
    rise_at_start = -64 / LAMINAR_LIMIT**2 * span
    rise_at_end = _colebrook_slope(end, relative_roughness) * span
    along = (reynolds - LAMINAR_LIMIT) / span
    back = 1 - along
    left = back**2 * ((1 + 2 * along) * start + along * rise_at_start)
    return left + along**2 * ((3 - 2 * along) * end - back * rise_at_end)


def _colebrook_slope(factor: Numeric, relative_roughness: Numeric) -> Numeric:
    """Change of the Colebrook factor with the Reynolds number at 4000, from the equation differentiated."""
    root = 1 / np.sqrt(factor)
    inside = relative_roughness / 3.7 + 2.51 * root / TURBULENT_LIMIT
    pull = 2 / np.log(10) * 2.51 / (TURBULENT_LIMIT * inside)
    return -2 * root**-3 * (pull * root / TURBULENT_LIMIT) / (1 + pull)


def _refuse_roughness(relative_roughness: Numeric) -> None:
    """Stop where the wall is rougher than any pipe that was measured (not-a-number stops too)."""
    values = np.atleast_1d(np.asarray(relative_roughness, dtype=float))
    outside = ~((values >= 0) & (values <= ROUGHEST))
    if outside.any():
        raise refuse(
            "#/pipe/roughness_mm",
            "out_of_range",
            f"roughness is {values[outside][0]:.3g} of the inside diameter; the friction table runs from 0 to {ROUGHEST:g}; "
            "choose a smoother or a wider pipe.",
            0.0,
            ROUGHEST,
        )


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
        raise refuse(
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
    factor = friction_factor(number, pipe.roughness / pipe.diameter)
    return friction_loss(factor, pipe.length, pipe.diameter, speed) + fitting_loss(pipe.fitting_k, speed)
