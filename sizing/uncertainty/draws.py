"""What may be off, all causes at once: 257 sets of errors, the same for every design, spread evenly.

Each cause has a row of its own, a lattice (Korobov 1959): its 257 values stand evenly over the cause's whole spread, once each,
and no two rows go together. So the draws are fixed, and every computer gets the same result.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from sizing.sky.weather import Sky
from sizing.uncertainty.causes import Cause

Array = NDArray[np.float64]

DRAWS = 257
"""A prime, so that every step below goes through all of them."""
ROWS = (
    *(1, 216, 135, 188, 237, 139, 121, 95, 124, 143, 222, 49, 48, 156, 33, 167),
    *(235, 232, 87, 14, 173, 43, 36, 225, 206, 223, 71, 73, 231, 6, 204, 91),
)
"""Step of each row, chosen one after the other so that no two rows go together (largest correlation 0.13, mean 0.04)."""
SHIFT = 97
"""Rows begin so far apart that no draw has everything at its worst."""
NORMAL = ("sky", "clouds")
"""Causes without limits: what lies far off is rare."""


@dataclass(frozen=True, eq=False)
class Drawn:
    """Errors of all causes, each in its own unit (draws + 1,), and of the sun of single months, as a share (12, draws + 1).

    In the last one nothing is off.
    """

    off: dict[str, Array]
    months: Array


@lru_cache(maxsize=64)
def even(row: int) -> Array:
    """257 shares between 0 and 1, evenly spread, in the order of one row."""
    found = (np.arange(DRAWS) * ROWS[row] + SHIFT * row) % DRAWS
    return np.asarray((found + 0.5) / DRAWS)


@lru_cache(maxsize=64)
def normal(row: int) -> Array:
    """The same shares as values of a normal distribution with a standard deviation of 1."""
    return np.array([NormalDist().inv_cdf(float(share)) for share in even(row)])


def sides(row: int, below: float, above: float) -> Array:
    """As likely below as above, anywhere up to each limit; the sizes are standard uncertainties.

    Examples
    --------
    >>> found = sides(3, 0.7, 1.9)
    >>> float(np.sqrt(np.mean(found[found < 0] ** 2))), float(np.sqrt(np.mean(found[found > 0] ** 2)))
    (0.7, 1.9)
    """
    off = np.sqrt(3) * (2 * even(row) - 1)
    return np.where(off < 0, below * off, above * off)


def drawn(causes: Sequence[Cause], sky: Sky) -> Drawn:
    """Errors of these causes. A month's sun is off with its year's, and by itself as much more as its own spread says."""
    off = {
        cause.key: np.append(cause.above * normal(row) if cause.key in NORMAL else sides(row, cause.below, cause.above), 0.0)
        for row, cause in enumerate(causes)
    }
    alone = float(np.sqrt(max(sky.month_band**2 - sky.year_band**2, 0.0)))
    months = np.array([np.append(alone * normal(len(causes) + month), 0.0) for month in range(12)])
    return Drawn(off, off["sky"] + months)
