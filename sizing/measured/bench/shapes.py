"""Two families of curves for the states of a pump: heads that can only fall, and currents that may bend.

A state is flow over back-EMF as a share of the largest measured one, 0 at shut-off to 1. Heads are written in Bernstein's
polynomials with steps downward; where no step is below zero the curve falls everywhere between 0 and 1.
"""

from math import comb

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def falling(state: Array, order: int) -> tuple[Array, Array]:
    """Parts of a falling curve and their slopes, (..., order + 1): one, then as many steps downward.

    Examples
    --------
    >>> values, slopes = falling(np.array([0.0, 0.5, 1.0]), 2)
    >>> values @ np.array([3.0, 1.0, 2.0])
    array([3.  , 1.75, 0.  ])
    >>> slopes @ np.array([3.0, 1.0, 2.0])
    array([-2., -3., -4.])
    """
    state = np.asarray(state, dtype=float)[..., None]
    k = np.arange(order + 1)
    share = np.array([comb(order, j) for j in k]) * state**k * (1 - state) ** (order - k)
    lower = np.array([comb(order - 1, j) for j in k[:-1]]) * state ** k[:-1] * (1 - state) ** (order - 1 - k[:-1])
    steps = np.cumsum(share[..., ::-1], axis=-1)[..., ::-1][..., 1:]
    one = np.ones_like(state)
    return np.concatenate([one, -steps], axis=-1), np.concatenate([0 * one, -order * lower], axis=-1)


def powers(state: Array, order: int) -> tuple[Array, Array]:
    """Powers of the state and their slopes, (..., order + 1).

    Examples
    --------
    >>> powers(np.array([0.5]), 2)
    (array([[1.  , 0.5 , 0.25]]), array([[0., 1., 1.]]))
    """
    state = np.asarray(state, dtype=float)[..., None]
    k = np.arange(order + 1)
    return state**k, k * state ** np.maximum(k - 1, 0)
