"""How much light the panel's glass lets through: all of it square on, less the flatter it strikes."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from pvlib import iam

Numeric = float | NDArray[np.float64]
Array = NDArray[np.float64]

GLASS_STEPS = 90
"""Steps of half a turn in the sum over all directions for diffuse light through glass."""


@lru_cache(maxsize=1024)
def diffuse_transmission(tilt: float) -> tuple[float, float]:
    """Share of even light from the sky and from the ground that passes the glass, against light striking it square.

    Parameters
    ----------
    tilt : [deg], 0..90

    Returns
    -------
    sky, ground : [1]; ground is 0 on a level plane, which sees none

    Examples
    --------
    >>> diffuse_transmission(30.0)[0]
    0.957
    """
    sky = iam.marion_integrate(iam.physical, tilt, "sky", num=GLASS_STEPS)
    ground = iam.marion_integrate(iam.physical, tilt, "ground", num=GLASS_STEPS)
    return float(sky), float(ground)


def beam_transmission(incidence_cosine: Numeric) -> Array:
    """Share of light from one direction that passes the glass, against light striking it square [1].

    Parameters
    ----------
    incidence_cosine : of the angle to the plane's perpendicular [1]; 0 from behind

    Examples
    --------
    >>> beam_transmission(np.array([1.0, 0.5, 0.0, -0.3])).round(3)
    array([1.   , 0.946, 0.   , 0.   ])
    """
    angle = np.degrees(np.arccos(np.clip(incidence_cosine, 0, 1)))
    return np.asarray(np.where(np.asarray(incidence_cosine) > 0, iam.physical(angle), 0.0))
