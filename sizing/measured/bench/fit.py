"""One pump through all readings of a bench test at once, over all its voltages.

With the back-EMF e = V - I R in the place of the speed, every reading stands on two curves of the state Q/e:

    head = e² a(Q/e)        current = I0 + e² b(Q/e)

Winding, no-load current and the two curves are found together by least squares in all four readings (each is off by its
own uncertainty, none is taken as exact). Where the readings tell less of winding or no-load current than what is usual
for small motors, the usual value is counted in as one more reading.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sizing.electric.motor import LARGEST_WINDING_SHARE
from sizing.foundation.errors import SizingError, input_error
from sizing.measured.bench.equations import (
    NO_LOAD,
    WINDING,
    Orders,
    Points,
    Usual,
    equations,
    falling,
    points_of,
    powers,
    usual_motor,
    weights,
)
from sizing.measured.bench.settings import SAME, Settings, same
from sizing.measured.logs.instruments import Instruments, small_sample

Array = NDArray[np.float64]

STATE_WIDTH = 0.07
"""[1] States nearer than this share of the largest count as one."""
COARSE = 0.3
"""[1] A filling of which so much cannot be read tells no flow."""
MOST_STEPS = 60
FULL_STEPS = 8
"""Later steps are halved: some searches swing about the answer."""
STATES = 41
CLOSE_ENOUGH = 1e-3
"""[1] Of a standard uncertainty: the search ends with steps below it."""
ROOM = 1.1
"""[1] The curves reach so much further than the largest measured state."""


@dataclass(frozen=True, eq=False)
class Fit:
    """The numbers found: R [ohm], I0 [A], parts of a and b; covariance and information of what is free.

    ``reach`` [m3/(s V)] is where the curves' states end, ``least`` and ``most`` are the measured ones as shares of it;
    ``widening`` is how much larger all variances are than the instruments allow; ``usual`` tells for R and I0 whether the
    usual value was counted in; ``states`` is how many different ones were measured.
    """

    values: Array
    covariance: Array
    information: Array
    free: NDArray[np.bool_]
    orders: Orders
    reach: float
    least: float
    most: float
    misfit: float
    freedom: int
    widening: float
    usual: tuple[bool, bool]
    states: int

    @property
    def winding(self) -> float:
        return float(self.values[WINDING])

    @property
    def no_load(self) -> float:
        return float(self.values[NO_LOAD])

    def uncertainty(self, which: int) -> float:
        """One standard uncertainty of R or I0 by chance; what is held at its limit has that of the usual value."""
        return float(np.sqrt(self.covariance[which, which]))


def first_guess(points: Points, orders: Orders, usual: Usual, reach: float) -> Array:
    """Curves by plain least squares with the usual motor."""
    voltage, current, head, flow = points.readings.T
    values = np.zeros(orders.count)
    values[:2] = usual.value
    back_emf = voltage - current * values[WINDING]
    square, state = back_emf[:, None] ** 2, flow / back_emf / reach
    values[orders.heads] = np.linalg.lstsq(square * falling(state, orders.head)[0], head, rcond=None)[0]
    load = current - values[NO_LOAD]
    values[orders.currents] = np.linalg.lstsq(square * powers(state, orders.current)[0], load, rcond=None)[0]
    if orders.parabola:
        values[3] = 0.0
    return values


def search(points: Points, orders: Orders, usual: Usual, reach: float, start: Array) -> Fit:
    """Least squares in all readings; a step of the head curve that would rise is held at nothing.

    Raises
    ------
    InputError
        if no falling curve comes near the readings.
    """
    free = np.ones(orders.count, dtype=bool)
    free[3] = not orders.parabola
    values = start.copy()
    for _ in range(orders.count):
        found = least_squares(points, orders, usual, reach, values, free)
        held = below_limits(found.values, orders) & free
        if not np.any(held):
            return found
        scale = np.sqrt(np.maximum(np.diag(found.covariance), 1e-300))
        worst = int(np.argmin(np.where(held, found.values / scale, np.inf)))
        free = free.copy()
        free[worst] = False
        values = np.where(free, found.values, 0.0)
        values[2:][~free[2:]] = 0.0
        values[:2] = np.where(free[:2], found.values[:2], 0.1 * usual.value)
    raise no_pump()


def below_limits(values: Array, orders: Orders) -> NDArray[np.bool_]:
    """Numbers that no pump has: a winding or no-load current below nothing, a head that rises."""
    below = np.zeros(orders.count, dtype=bool)
    below[:2] = values[:2] < 0
    below[3 : 3 + orders.head] = values[3 : 3 + orders.head] < 0
    return below


def least_squares(points: Points, orders: Orders, usual: Usual, reach: float, start: Array, free: NDArray[np.bool_]) -> Fit:
    """Improve readings and numbers in turn until nothing moves (Gauss and Helmert's adjustment)."""
    measured, values, readings = points.readings, start.copy(), points.readings.copy()
    largest = LARGEST_WINDING_SHARE * float(np.min(measured[:, 0] / measured[:, 1]))
    weight, expected = usual.information(orders.count)
    for count in range(MOST_STEPS):
        rest, by_reading, by_value = equations(readings, values, orders, reach)
        missed = rest + np.einsum("nij,nj->ni", by_reading, measured - readings)
        inverse = weights(by_reading, points.variance)[1]
        weighted = inverse @ by_value
        information = np.einsum("nip,niq->pq", by_value, weighted)
        gradient = np.einsum("nip,ni->p", weighted, missed) + weight * (values - expected)
        covariance = inverse_of(information + np.diag(weight), free)
        step = -covariance @ np.where(free, gradient, 0.0)
        pull = np.einsum("nij,nj->ni", inverse, missed + by_value @ step)
        readings = measured - points.variance * np.einsum("nij,ni->nj", by_reading, pull)
        values = values + (step if count < FULL_STEPS else 0.5 * step)
        values[WINDING] = min(values[WINDING], largest)
        if not np.all(np.isfinite(values)):
            raise no_pump()
        if np.all(np.abs(step) <= CLOSE_ENOUGH * np.sqrt(np.diag(covariance))):
            misfit = float(np.einsum("ni,ni->", pull, missed + by_value @ step))
            freedom = 2 * len(measured) + int(np.sum(weight > 0)) - int(free.sum())
            return Fit(values, covariance, information, free, orders, reach, 0.0, 1.0, misfit, freedom, 1.0, usual.counted, 0)
    raise no_pump()


def inverse_of(information: Array, free: NDArray[np.bool_]) -> Array:
    """Covariance of what is free; zeros for what is held."""
    at = np.ix_(free, free)
    scale = 1 / np.sqrt(np.maximum(np.diag(information)[free], 1e-300))
    covariance = np.zeros_like(information)
    try:
        covariance[at] = np.linalg.inv(information[at] * scale * scale[:, None]) * scale * scale[:, None]
    except np.linalg.LinAlgError:
        raise no_pump() from None
    return covariance


def no_pump() -> SizingError:
    """What is said where no pump comes near the readings."""
    detail = (
        "the readings do not follow one pump: no falling curve of head over flow comes near them; check for swapped columns, "
        "for heights taken from the floor instead of the water, and for a pump that drew air"
    )
    return input_error("log", "no_common_curve", detail)


def orders_of(states: int) -> tuple[Orders, ...]:
    """How bent the curves may be, by how many different states of the pump were measured; simpler ones, should that fail."""
    every = (Orders(3, 2), Orders(2, 2), Orders(2, 1), Orders(2, 1, parabola=True))
    return every[0 if states >= 5 else 1 if states >= 3 else 3 :]


def one_state(settings: Settings, instruments: Instruments) -> SizingError:
    """What is said where all readings are the same to what the instruments show; a wrong unit makes them so, too."""
    detail = "all readings show the pump in one and the same state; its curve needs at least two: measure with the hose low and "
    detail += "near the height where the water stops"
    wet = settings.flow > 0
    if np.any(wet) and float(np.median(settings.reading[wet] / settings.flow[wet])) > COARSE:
        detail += "; the fillings are no larger than what can be read at a bucket’s mark, so check the units of volume and time"
    elif float(np.ptp(settings.height)) < 2 * instruments.head_reading:
        detail += "; all heights are the same to what a tape shows, so check the unit of height"
    return input_error("log", "one_state", detail, 2)


def fit_bench(settings: Settings, instruments: Instruments, scatter: float = 1.0) -> Fit:
    """Winding, no-load current and both curves from the settings of a bench test.

    Parameters
    ----------
    scatter : [1] how much more the fillings scatter than the instruments allow, 1 or more

    Raises
    ------
    InputError
        if all settings are one state of the pump, or no falling curve comes near them.
    """
    points, usual = points_of(settings, instruments, scatter), usual_motor(settings)
    found = points.readings
    state = found[:, 3] / (found[:, 0] - found[:, 1] * usual.value[WINDING])
    most = float(state.max())
    uncertain = SAME * scatter * state * settings.reading / np.sqrt(settings.repeats) / np.maximum(settings.flow, 1e-12)
    states = int(same(state, np.maximum(STATE_WIDTH * most, uncertain)).max()) + 1
    if states < 2:
        raise one_state(settings, instruments)
    failed = no_pump()
    for orders in orders_of(states):
        try:
            with np.errstate(all="ignore"):
                return finished(points, usual, one_pump(points, orders, usual, ROOM * most, settings), states)
        except SizingError as error:
            failed = error
    raise failed


def one_pump(points: Points, orders: Orders, usual: Usual, reach: float, settings: Settings) -> Fit:
    """The fit with curves of given orders."""
    chosen = search(points, orders, usual, reach, first_guess(points, orders, usual, reach))
    if settings.level.max() > 0:
        chosen = freest(points, usual, chosen)
    if turns(chosen, points):
        return chosen
    detail = (
        "by the readings the pump would draw less with water than without; check the amperes, above all those of the lowest "
        "voltage and of the hose held high"
    )
    raise input_error("log", "no_load_too_high", detail)


def freest(points: Points, usual: Usual, guided: Fit) -> Fit:
    """The fit with as little of the usual motor counted in as the readings allow: nothing, one of its values, or both."""
    for counted in ((False, False), (False, True), (True, False)):
        try:
            found = search(points, guided.orders, replace(usual, counted=counted), guided.reach, guided.values)
        except SizingError:
            continue
        if not turns(found, points):
            continue
        widened = widening(found) * np.diag(found.covariance)[:2]
        told = [bool(found.free[which]) and widened[which] < usual.spread[which] ** 2 for which in (WINDING, NO_LOAD)]
        if all(told[which] or counted[which] for which in (WINDING, NO_LOAD)):
            return found
    return guided


def turns(found: Fit, points: Points) -> bool:
    """Whether every state up to the largest asks a current of its own, and every voltage is enough to turn."""
    state = np.linspace(0.0, 1 / ROOM, STATES)
    load = powers(state, found.orders.current)[0] @ found.values[found.orders.currents]
    return bool(np.all(load > 0) and np.min(points.readings[:, 0]) > found.no_load * found.winding)


def widening(found: Fit) -> float:
    """How much larger the variances are than the instruments allow: misfit over freedom, where that is above one."""
    if found.freedom <= 0 or found.misfit <= found.freedom:
        return 1.0
    return found.misfit / found.freedom * float(small_sample(found.freedom)) ** 2


def finished(points: Points, usual: Usual, found: Fit, states: int) -> Fit:
    """The fit with its span of states and its uncertainties widened by the misfit; the usual values keep their own weight."""
    voltage, current, _, flow = points.readings.T
    state = flow / (voltage - current * found.winding) / found.reach
    wide = widening(found)
    weight, _ = replace(usual, counted=found.usual).information(found.orders.count)
    weight[:2] = np.where(found.free[:2], weight[:2], 0.0)
    information = found.information / wide + np.diag(weight)
    covariance = inverse_of(information, found.free)
    for which in (WINDING, NO_LOAD):
        if not found.free[which]:
            covariance[which, which] = usual.spread[which] ** 2
    return replace(
        found,
        covariance=covariance,
        information=information,
        widening=wide,
        states=states,
        least=float(state.min()),
        most=float(state.max()),
    )
