"""The friction factor of a pipe: laminar, turbulent by the Colebrook equation, and a smooth bridge between.

Head must rise with the flow everywhere, or a pump and a pipe would agree at several flows.
"""

import numpy as np
from fluids import vectorized
from fluids.friction import Clamond
from numpy.typing import NDArray

from sizing.foundation.errors import input_error
from sizing.foundation.working import formula

Numeric = float | NDArray[np.float64]

LAMINAR_LIMIT = 2000.0
TURBULENT_LIMIT = 4000.0
"""[1] Reynolds numbers where laminar flow ends and turbulent flow begins (EPANET 2.2 User Manual, ch. 3)."""
ROUGHEST = 0.05
"""[1] Relative roughness where Moody's chart and the Colebrook equation end."""


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
    if isinstance(reynolds, float) and isinstance(relative_roughness, float):
        return _one_factor(reynolds, relative_roughness)
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


def _one_factor(reynolds: float, relative_roughness: float) -> float:
    """The factor of a single flow: what a search asks thousands of times, without the cost of arrays."""
    if reynolds <= 0:
        return 0.0
    if reynolds >= TURBULENT_LIMIT:
        return float(_colebrook(reynolds, relative_roughness))
    if reynolds > LAMINAR_LIMIT:
        return float(_bridge(reynolds, relative_roughness))
    return float(laminar_friction_factor(reynolds))


def _colebrook(reynolds: Numeric, relative_roughness: Numeric) -> Numeric:
    """Solution of the Colebrook equation by Clamond's method; a single number skips the loop over arrays, which costs more."""
    if np.ndim(reynolds) == 0 and np.ndim(relative_roughness) == 0:
        return float(Clamond(float(reynolds), float(relative_roughness)))
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
    if isinstance(relative_roughness, float) and 0 <= relative_roughness <= ROUGHEST:
        return
    values = np.atleast_1d(np.asarray(relative_roughness, dtype=float))
    outside = ~((values >= 0) & (values <= ROUGHEST))
    if outside.any():
        raise input_error(
            "#/pipe/roughness_mm",
            "out_of_range",
            f"roughness is {values[outside][0]:.3g} of the inside diameter; the friction table runs from 0 to {ROUGHEST:g}; "
            "choose a smoother or a wider pipe.",
            0.0,
            ROUGHEST,
        )
