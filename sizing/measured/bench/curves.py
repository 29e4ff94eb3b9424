"""Head and current of the fitted pump at any flow and voltage, each with its likely range (JCGM 100).

By chance: the covariance of the fit, carried on by slopes. In common to all readings: a bucket whose mark is off scales
every flow, a voltmeter that is off scales every voltage, an ammeter every current; more readings do not help there.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.electric.motor import speed_at_voltage
from sizing.foundation.errors import input_error
from sizing.foundation.formats import quantity
from sizing.foundation.working import formula
from sizing.hydraulic.pump import hydraulic_power, wire_to_water_efficiency
from sizing.measured.bench.equations import NO_LOAD, WINDING, falling, powers
from sizing.measured.bench.fit import Fit
from sizing.measured.logs.instruments import Instruments

Array = NDArray[np.float64]

NODES = 201
STEPS = 40


@dataclass(frozen=True, eq=False)
class Slopes:
    """Back-EMF, head and current at a flow and voltage, and how they change with flow, voltage and the numbers of the fit."""

    back_emf: Array
    head: Array
    current: Array
    head_by_flow: Array
    head_by_voltage: Array
    head_by_value: Array
    current_by_flow: Array
    current_by_voltage: Array
    current_by_value: Array


@dataclass(frozen=True, eq=False)
class Curve:
    """A pump at one voltage [V], (flows,): head [m], current [A], efficiency [1], each with one standard uncertainty.

    ``head_by_chance`` leaves out what bucket and meters have in common in all readings.
    """

    voltage: float
    flow: Array
    head: Array
    head_uncertainty: Array
    head_by_chance: Array
    head_by_flow: Array
    current: Array
    current_uncertainty: Array
    efficiency: Array
    efficiency_uncertainty: Array


@formula(
    "sqrt(by_chance**2 + (flow * head_by_flow * volume_calibration)**2 + (voltage * head_by_voltage * voltage_share)**2)",
    unit="m",
    source="jcgm_100",
)
def head_uncertainty(
    by_chance: Array | float,
    flow: Array | float,
    head_by_flow: Array | float,
    volume_calibration: float,
    voltage: float,
    head_by_voltage: Array | float,
    voltage_share: float,
) -> Array | float:
    """Standard uncertainty of a head [m]: by chance, by the bucket's mark, and by the voltmeter's share.

    Examples
    --------
    >>> float(head_uncertainty(0.03, 1e-4, -20000.0, 0.02, 12.0, 0.3, 0.005))
    0.0531
    """
    mark, meter = flow * head_by_flow * volume_calibration, voltage * head_by_voltage * voltage_share
    return np.sqrt(by_chance**2 + mark**2 + meter**2)


def back_emf_of_state(fit: Fit, voltage: float | Array, state: Array) -> Array:
    """Back-EMF of states at a voltage [V]: the motor's equation with a back-EMF of 1 V at speed 1."""
    b = powers(state, fit.orders.current)[0] @ fit.values[fit.orders.currents]
    if np.any(np.asarray(voltage) <= fit.no_load * fit.winding) or np.any(b < 0):
        detail = (
            f"by the readings the pump would not turn at {quantity(float(np.min(voltage)), 'V')}; check the rated voltage and "
            "the amperes of the lowest voltage"
        )
        raise input_error("log", "does_not_turn", detail)
    return np.asarray(speed_at_voltage(voltage, 1.0, fit.winding, fit.no_load, b))


def last_state(fit: Fit) -> float:
    """The largest state that was measured, or where the head is used up before."""
    state = np.linspace(0.0, fit.most, NODES)
    left = falling(state, fit.orders.head)[0] @ fit.values[fit.orders.heads]
    if left[-1] >= 0:
        return fit.most
    after = int(np.argmax(left < 0))
    return float(np.interp(0.0, left[[after, after - 1]], state[[after, after - 1]]))


def states(fit: Fit, voltage: float, count: int = NODES, first: float = 0.0) -> tuple[Array, Array, Array]:
    """Flow [m3/s], head [m] and current [A] of evenly spaced states at a voltage."""
    state = np.linspace(first, last_state(fit), count)
    back_emf = back_emf_of_state(fit, voltage, state)
    square = back_emf**2
    a = falling(state, fit.orders.head)[0] @ fit.values[fit.orders.heads]
    b = powers(state, fit.orders.current)[0] @ fit.values[fit.orders.currents]
    return back_emf * state * fit.reach, np.maximum(square * a, 0.0), fit.no_load + square * b


def slopes_at(fit: Fit, voltage: float | Array, flow: Array) -> Slopes:
    """Solve the motor's equation for the back-EMF at given flows and differentiate.

    Parameters
    ----------
    voltage : [V] of every flow
    flow : (flows,) [m3/s], 0 or more
    """
    orders, values = fit.orders, fit.values
    flow, voltage = np.broadcast_arrays(np.asarray(flow, dtype=float), np.asarray(voltage, dtype=float))
    back_emf = back_emf_of_state(fit, voltage, np.zeros_like(flow))
    for _ in range(STEPS):
        state = flow / back_emf / fit.reach
        part, slope = powers(state, orders.current)
        b, db = part @ values[orders.currents], slope @ values[orders.currents] / fit.reach
        by_emf = 2 * back_emf * b - flow * db
        miss = back_emf + fit.winding * (fit.no_load + back_emf**2 * b) - voltage
        step = miss / np.maximum(1 + fit.winding * by_emf, 0.2)
        back_emf = np.maximum(back_emf - step, 0.3 * back_emf)
        if np.all(np.abs(step) < 1e-12 * voltage):
            break
    head_part, head_slope = falling(state, orders.head)
    a, da = head_part @ values[orders.heads], head_slope @ values[orders.heads] / fit.reach
    square, head_by_emf = back_emf**2, 2 * back_emf * a - flow * da
    current = fit.no_load + square * b
    emf_by_voltage = 1 / (1 + fit.winding * by_emf)
    emf_by_value = np.zeros((*flow.shape, orders.count))
    emf_by_value[..., WINDING] = -current * emf_by_voltage
    emf_by_value[..., NO_LOAD] = -fit.winding * emf_by_voltage
    emf_by_value[..., orders.currents] = -(fit.winding * square * emf_by_voltage)[..., None] * part
    emf_by_flow = -fit.winding * back_emf * db * emf_by_voltage
    head_by_value = head_by_emf[..., None] * emf_by_value
    head_by_value[..., orders.heads] += square[..., None] * head_part
    current_by_value = by_emf[..., None] * emf_by_value
    current_by_value[..., NO_LOAD] += 1
    current_by_value[..., orders.currents] += square[..., None] * part
    return Slopes(
        back_emf,
        square * a,
        current,
        back_emf * da + head_by_emf * emf_by_flow,
        head_by_emf * emf_by_voltage,
        head_by_value,
        back_emf * db + by_emf * emf_by_flow,
        by_emf * emf_by_voltage,
        current_by_value,
    )


def by_chance(covariance: Array, by_value: Array) -> Array:
    """Standard uncertainty that the fit's numbers give to something that changes with them."""
    return np.asarray(np.sqrt(np.maximum(np.einsum("...p,pq,...q->...", by_value, covariance, by_value), 0.0)))


def curve_at(fit: Fit, voltage: float, flow: Array, instruments: Instruments, density: float) -> Curve:
    """The pump at one voltage with its likely ranges.

    Parameters
    ----------
    flow : (flows,) [m3/s]
    density : of the water [kg/m3]
    """
    at = slopes_at(fit, voltage, flow)
    chance = by_chance(fit.covariance, at.head_by_value)
    mark, share = instruments.volume_calibration, instruments.voltage_share
    whole = np.asarray(head_uncertainty(chance, flow, at.head_by_flow, mark, voltage, at.head_by_voltage, share))
    of_current = np.sqrt(
        by_chance(fit.covariance, at.current_by_value) ** 2
        + (at.current * instruments.current_share) ** 2
        + (flow * at.current_by_flow * mark) ** 2
        + (voltage * at.current_by_voltage * share) ** 2
    )
    head = np.maximum(at.head, 0.0)
    efficiency = np.asarray(wire_to_water_efficiency(hydraulic_power(density, flow, head), voltage, at.current))
    per_head = np.asarray(wire_to_water_efficiency(hydraulic_power(density, flow, 1.0), voltage, at.current))
    off = np.sqrt(whole**2 + (head * of_current / at.current) ** 2 + (head * share) ** 2)
    return Curve(
        voltage, flow, head, whole, chance, at.head_by_flow, at.current, of_current, efficiency, np.asarray(per_head * off)
    )


def flow_at_head(fit: Fit, voltage: float, head: float | Array, instruments: Instruments, density: float) -> tuple[Array, Array]:
    """Flow at a head and voltage with its standard uncertainty [m3/s]; NaN where the pump was not measured there."""
    flows, heads, _ = states(fit, voltage)
    flow = np.interp(np.atleast_1d(head), heads[::-1], flows[::-1], left=np.nan, right=np.nan)
    known = np.isfinite(flow)
    spread = np.full_like(flow, np.nan)
    if np.any(known):
        curve = curve_at(fit, voltage, flow[known], instruments, density)
        spread[known] = curve.head_uncertainty / np.maximum(-curve.head_by_flow, 1e-9)
    return flow, spread
