"""Where every reading of a bench test stands: two equations in four readings, and what is usual for small motors.

With the back-EMF e = V - I R in the place of the speed (``motor``), and the pump's state Q/e:

    head = e² a(Q/e)        current = I0 + e² b(Q/e)

A state is Q/e as a share of the largest measured one, 0 at shut-off to 1. The curve a is written in Bernstein's polynomials with
steps downward, so that it falls everywhere between 0 and 1 where no step is below zero; b may bend.
"""

from dataclasses import dataclass
from math import comb

import numpy as np
from numpy.typing import NDArray

from sizing.electric.motor import DEFAULT_NO_LOAD_SHARE, DEFAULT_WINDING_SHARE
from sizing.measured.bench.settings import Settings
from sizing.measured.logs.instruments import Instruments

Array = NDArray[np.float64]

USUAL_WINDING_SPREAD, USUAL_NO_LOAD_SPREAD = 0.10 / np.sqrt(3), 0.075 / np.sqrt(3)
"""[1] Standard uncertainty of the usual shares: winding 5 to 25 % of the voltage, no-load 5 to 20 % of the current."""
WINDING, NO_LOAD = 0, 1
"""Where winding resistance and no-load current stand among the numbers sought."""


@dataclass(frozen=True, eq=False)
class Orders:
    """How bent the two curves may be; a head known at two states only is a parabola."""

    head: int
    current: int
    parabola: bool = False

    @property
    def heads(self) -> slice:
        return slice(2, 3 + self.head)

    @property
    def currents(self) -> slice:
        return slice(3 + self.head, 4 + self.head + self.current)

    @property
    def count(self) -> int:
        return 4 + self.head + self.current


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


@dataclass(frozen=True, eq=False)
class Points:
    """What is fitted: (n, 4) volts, amperes, head [m], flow [m3/s] and their variances by chance."""

    readings: Array
    variance: Array


def points_of(settings: Settings, instruments: Instruments, scatter: float) -> Points:
    """Means of the settings as points; a head is set once for all repeats of a team.

    Parameters
    ----------
    scatter : [1] how much more the fillings scatter than the instruments allow, 1 or more
    """
    readings = np.stack([settings.voltage, settings.current, settings.head, settings.flow], axis=-1)
    count = settings.repeats
    variance = np.stack(
        [
            instruments.voltage_digit**2 / count,
            instruments.current_digit**2 / count,
            instruments.head_reading**2 / settings.teams,
            (scatter * settings.reading) ** 2 / count,
        ],
        axis=-1,
    )
    return Points(readings, variance)


def equations(readings: Array, values: Array, orders: Orders, reach: float) -> tuple[Array, Array, Array]:
    """Both equations at every point, their slopes by the readings (n, 2, 4) and by the numbers sought (n, 2, numbers)."""
    voltage, current, head, flow = readings.T
    back_emf = voltage - current * values[WINDING]
    state = flow / back_emf / reach
    part_head, slope_head = falling(state, orders.head)
    part_current, slope_current = powers(state, orders.current)
    a, b = part_head @ values[orders.heads], part_current @ values[orders.currents]
    da, db = slope_head @ values[orders.heads] / reach, slope_current @ values[orders.currents] / reach
    square = back_emf**2
    rest = np.stack([head - square * a, current - values[NO_LOAD] - square * b], axis=-1)
    head_by_emf, current_by_emf = 2 * back_emf * a - flow * da, 2 * back_emf * b - flow * db
    by_reading = np.zeros((len(voltage), 2, 4))
    by_reading[:, 0] = np.stack([-head_by_emf, values[WINDING] * head_by_emf, np.ones_like(a), -back_emf * da], axis=-1)
    by_reading[:, 1] = np.stack([-current_by_emf, 1 + values[WINDING] * current_by_emf, 0 * a, -back_emf * db], axis=-1)
    by_value = np.zeros((len(voltage), 2, orders.count))
    by_value[:, 0, WINDING], by_value[:, 1, WINDING] = current * head_by_emf, current * current_by_emf
    by_value[:, 1, NO_LOAD] = -1.0
    by_value[:, 0, orders.heads] = -square[:, None] * part_head
    by_value[:, 1, orders.currents] = -square[:, None] * part_current
    return rest, by_reading, by_value


def weights(by_reading: Array, variance: Array) -> tuple[Array, Array]:
    """Covariance of both equations at every point (n, 2, 2), and its inverse."""
    spread = np.einsum("nij,nj,nkj->nik", by_reading, variance, by_reading)
    determinant = spread[:, 0, 0] * spread[:, 1, 1] - spread[:, 0, 1] ** 2
    inverse = np.empty_like(spread)
    inverse[:, 0, 0], inverse[:, 1, 1] = spread[:, 1, 1], spread[:, 0, 0]
    inverse[:, 0, 1] = inverse[:, 1, 0] = -spread[:, 0, 1]
    return spread, inverse / determinant[:, None, None]


@dataclass(frozen=True, eq=False)
class Usual:
    """What is usual for winding and no-load current, with its standard uncertainty, and whether each is counted in."""

    value: Array
    spread: Array
    counted: tuple[bool, bool]

    def information(self, count: int) -> tuple[Array, Array]:
        """Weight of the usual values on the diagonal, and the values, (numbers,)."""
        weight, value = np.zeros(count), np.zeros(count)
        weight[:2] = np.where(self.counted, 1 / self.spread**2, 0.0)
        value[:2] = self.value
        return weight, value


def usual_motor(settings: Settings) -> Usual:
    """Usual winding and no-load current, from the setting that draws most."""
    most = int(np.argmax(settings.current))
    voltage, current = float(settings.voltage[most]), float(settings.current[most])
    scale = np.array([voltage / current, current])
    share = np.array([DEFAULT_WINDING_SHARE, DEFAULT_NO_LOAD_SHARE])
    return Usual(share * scale, np.array([USUAL_WINDING_SPREAD, USUAL_NO_LOAD_SPREAD]) * scale, (True, True))
