"""A spillway: the head over its lip, and how thick the sheet is that leaves it."""

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.constants import STANDARD_GRAVITY
from sizing.foundation.errors import input_error
from sizing.foundation.tables import BRINK_RATIO, FRANCIS_COEFFICIENT
from sizing.foundation.units import LITRE_PER_MINUTE
from sizing.foundation.working import formula

Numeric = float | NDArray[np.float64]

NARROWEST_SHEET = 0.5
"""[1] Share of the lip that the sheet keeps between drawn-in ends; the formula's flow stops rising at 0.4."""
WIDEST_HEAD = 1 / 3
"""[1] Head over width up to which Francis' formula was measured."""


@formula("francis_coefficient * (width - 0.1 * end_contractions * head) * head**1.5", unit="m3/s", source="francis_weir")
def francis_flow(
    head: Numeric, width: Numeric, end_contractions: Numeric, francis_coefficient: float = FRANCIS_COEFFICIENT
) -> Numeric:
    """Flow over a sharp lip; measured for heads of 76 to 610 mm up to a third of the width, lower is extrapolated.

    Parameters
    ----------
    head : [m] still water above the lip, upstream of where it draws down, 0 or more
    width : [m] width of the lip, above 0
    end_contractions : [1] ends where the sheet draws in, 0 to 2
    francis_coefficient : [m1/2/s] of a sharp edge; a blunt plank passes up to 30 % less

    Returns
    -------
    [m3/s] Flow; source key francis_weir

    Examples
    --------
    >>> 60000 * francis_flow(0.0191, 0.31, 2)
    89.13
    """
    return francis_coefficient * (width - 0.1 * end_contractions * head) * head**1.5


def spillway_head(flow: Numeric, width: Numeric, end_contractions: Numeric = 0) -> Numeric:
    """Head over the lip of a spillway: Francis' formula solved for the head.

    Parameters
    ----------
    flow : [m3/s] flow, 0 or more
    width : [m] width of the lip, above 0
    end_contractions : [1] ends where the sheet draws in, 0 to 2

    Returns
    -------
    [m] Head, rising with the flow; source key francis_weir

    Raises
    ------
    InputError
        Where so much flow would draw the sheet in to less than half of the lip.

    Examples
    --------
    >>> float(spillway_head(89.13 / 60000, 0.31, 2))
    0.0191
    """
    _refuse_narrow_lip(flow, width, end_contractions)
    wanted = np.asarray(flow, dtype=float)
    moving = wanted > 0
    wanted = np.where(moving, wanted, 1e-6 * width)
    head = (wanted / (FRANCIS_COEFFICIENT * width)) ** (2 / 3)
    for _ in range(30):
        # Newton's step in the logarithm of the head: from below it never passes the answer.
        drawn = 0.1 * end_contractions * head / (width - 0.1 * end_contractions * head)
        step = np.log(wanted / francis_flow(head, width, end_contractions)) / (1.5 - drawn)
        head = head * np.exp(step)
        if np.all(np.abs(step) < 1e-13):
            break
    return np.where(moving, head, 0.0)[()]


def most_over_lip(width: Numeric, end_contractions: Numeric) -> NDArray[np.float64]:
    """Flow at which drawn-in ends have narrowed the sheet to half of the lip [m3/s]; infinite for full width.

    Examples
    --------
    >>> float(most_over_lip(0.02, 2)) * 60000
    12.33
    """
    lip, ends = np.asarray(width, dtype=float), np.asarray(end_contractions, dtype=float)
    highest = (1 - NARROWEST_SHEET) * lip / (0.1 * np.maximum(ends, 1.0))
    return np.where(ends > 0, francis_flow(highest, lip, ends), np.inf)


def _refuse_narrow_lip(flow: Numeric, width: Numeric, end_contractions: Numeric) -> None:
    """Stop where the ends would draw the sheet in to less than half of the lip."""
    water, lip, ends = np.broadcast_arrays(
        np.asarray(flow, dtype=float), np.asarray(width, dtype=float), np.asarray(end_contractions, dtype=float)
    )
    limit = most_over_lip(lip, ends)
    beyond = np.argwhere(water > limit)
    if len(beyond):
        at = tuple(beyond[0])
        most = float(limit[at]) / LITRE_PER_MINUTE
        raise input_error(
            "#/outlet/width_m",
            "out_of_range",
            f"flow over the spillway is {water[at] / LITRE_PER_MINUTE:.3g} L/min; the weir formula for a lip {lip[at]:g} m wide "
            f"with drawn-in ends runs from 0 to {most:.3g} L/min; make the lip wider.",
        )


@formula("brink_ratio * ((flow / width)**2 / gravity)**(1 / 3)", unit="m", source="rouse_1936")
def sheet_thickness(
    flow: Numeric, width: Numeric, brink_ratio: float = BRINK_RATIO, gravity: float = STANDARD_GRAVITY
) -> Numeric:
    """Depth of the water on the very edge of the lip, about half the head upstream; trade rules speak of this.

    Parameters
    ----------
    flow : [m3/s] flow, 0 or more
    width : [m] width of the lip, above 0
    brink_ratio : [1] depth on the edge over critical depth
    gravity : [m/s2] standard gravity

    Returns
    -------
    [m] Thickness; source key rouse_1936

    Examples
    --------
    >>> sheet_thickness(89.13 / 60000, 0.31)
    0.0095
    """
    return brink_ratio * ((flow / width) ** 2 / gravity) ** (1 / 3)


@formula("flow / width / sheet_thickness * sqrt(2 * height / gravity)", unit="m", source="rouse_1936")
def sheet_throw(flow: float, width: float, sheet_thickness: float, height: float, gravity: float = STANDARD_GRAVITY) -> float:
    """How far from its lip a free sheet lands [m]: flow [m3/s], lip's width, thickness on its edge, fall [m], all above 0.

    Examples
    --------
    >>> float(sheet_throw(0.0006, 0.3, 0.0053, 0.35))
    0.1008
    """
    return flow / width / sheet_thickness * np.sqrt(2 * height / gravity)
