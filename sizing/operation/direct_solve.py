"""One moment solved from the equations themselves: slow, and independent of the grid of ``operating_point``.

Two searches stand one inside the other: the flow at which pump and pipe agree on the head, and the speed
at which panel (or controller) and motor agree on volts and amperes.
"""

from collections.abc import Callable
from functools import cache, partial
from itertools import pairwise

import numpy as np
from scipy.optimize import brentq, minimize_scalar

from sizing.electric.panel import current_at_voltage, maximum_power, open_circuit_voltage
from sizing.electric.single_diode import Conditions, at_conditions
from sizing.hydraulic.outlet import jet_height
from sizing.hydraulic.pump import Pump
from sizing.operation.load_line import PipeSystem, flow_at, most_power, motor_demand, start_of, system_head
from sizing.operation.operating_point import OperatingPoints, State, Supply, judge, own_electronics, top_speed

SEARCH_STEPS, TABLE_STEPS = 60, 8
CLOSE = 0.002
"""[1] How near the answer is looked for first."""


def solve_directly(
    supply: Supply, pump: Pump, waterway: PipeSystem, irradiance: float, cell_temperature: float, near: float | None = None
) -> OperatingPoints:
    """One moment from the equations themselves, by nested bracketed search.

    ``near`` is a speed ratio around which the search may begin; where the answer is not there it takes the long way.
    """
    if irradiance <= 0:
        return single(pump, waterway, 0.0, 0.0, np.inf)
    sun = at_conditions(supply.panel, irradiance, cell_temperature)
    if own_electronics(pump):
        return solve_electronics(supply, pump, waterway, irradiance, sun)
    start, resistance = pump.motor.starting_current, supply.cable_resistance
    standing = start * (pump.motor.winding_resistance + resistance)

    @cache
    def asked(speed: float) -> tuple[float, float]:
        return motor_demand(pump, waterway, speed, flow_at(pump, waterway, speed))

    if supply.controller_efficiency is None:
        starts = float(current_at_voltage(sun, standing)) >= start
        highest = top_speed(supply, pump) if pump.table else float(open_circuit_voltage(sun)) / pump.motor.back_emf
        speed = first_speed(lambda s: panel_surplus(sun, *asked(s), resistance), pump, waterway, highest, near)
    else:
        most, best, _ = (float(value) for value in maximum_power(sun))
        lowest = np.inf if supply.steps_up else best
        offered = partial(controller_gives, sun, supply.controller_efficiency, most, lowest)
        starts = offered(standing) >= start * standing
        highest = first_speed(lambda s: pump.rated_voltage - asked(s)[0], pump, waterway, top_speed(supply, pump), near)
        speed = first_speed(lambda s: controller_surplus(offered, *asked(s), resistance), pump, waterway, highest, near)
    return single(pump, waterway, speed, irradiance, 0.0 if starts else np.inf)


def panel_surplus(sun: Conditions, voltage: float, current: float, resistance: float) -> float:
    """Current [A] that the panel could give beyond the motor's, at the voltage it and the cable ask."""
    return float(current_at_voltage(sun, voltage + current * resistance)) - current


def controller_gives(sun: Conditions, efficiency: float, most: float, best: float, voltage: float) -> float:
    """Power [W] that a controller gives at a voltage: the panel's ``most`` less its loss, as far as to the voltage ``best``.

    One that only lowers the voltage cannot hold the panel below what it gives out: from the maximum-power voltage on,
    panel and motor are at one voltage. One that raises it too has no such end.
    """
    if voltage <= best:
        return efficiency * most
    return efficiency * voltage * float(current_at_voltage(sun, voltage))


def controller_surplus(offered: Callable[[float], float], voltage: float, current: float, resistance: float) -> float:
    """Power [W] that the controller could give beyond what motor and cable take, at the voltage they need."""
    return offered(voltage + current * resistance) - power_taken(voltage, current, resistance)


def power_taken(voltage: float, current: float, resistance: float) -> float:
    """Power that motor and cable take [W]."""
    return (voltage + current * resistance) * current


def first_speed(
    surplus: Callable[[float], float], pump: Pump, waterway: PipeSystem, highest: float, near: float | None = None
) -> float:
    """Lowest speed ratio at which a surplus ends, or ``highest``; looked for within 0.2 % of ``near`` first.

    A load current that falls with the flow can make it end at several speeds; then the search goes in small steps.
    """
    surplus = cache(surplus)
    if near is not None and near > 0:
        low, high = (1 - CLOSE) * near, min((1 + CLOSE) * near, highest)
        if low < high and surplus(high) <= 0 < surplus(low):
            return float(brentq(surplus, low, high, xtol=1e-12, rtol=1e-10))
    start = min(start_of(pump, waterway), highest)
    steps = SEARCH_STEPS if np.any(np.diff(pump.load_current) < 0) else TABLE_STEPS if pump.table else 2
    marks = np.append(0.0, start + (highest - start) * np.linspace(0.0, 1.0, steps) ** 2)
    if surplus(0.0) <= 0:
        return 0.0
    for low, high in pairwise(marks.tolist()):
        if surplus(high) <= 0:
            return float(brentq(surplus, low, high, xtol=1e-12, rtol=1e-10))
    return highest


def solve_electronics(supply: Supply, pump: Pump, waterway: PipeSystem, irradiance: float, sun: Conditions) -> OperatingPoints:
    """One moment of a pump whose own electronics choose the volts at which they take the panel's power."""
    resistance, tracks = supply.cable_resistance, pump.drive == "tracks_power"
    largest = 1.0 if pump.table is None else pump.table.largest_power
    end = flow_at(pump, waterway, 1.0)
    volts, amperes = motor_demand(pump, waterway, 1.0, end)
    most, begin = volts * amperes, start_of(pump, waterway) * largest
    if tracks and end > 0:
        most = most_power(pump, float(system_head(waterway, end))) * largest
    top, best, current = (float(np.asarray(each)) for each in maximum_power(sun))
    if supply.controller_efficiency is not None:
        loss = resistance / pump.rated_voltage**2
        offer = brentq(lambda p: p + loss * p**2 - (supply.controller_efficiency or 1.0) * top, 0.0, top, xtol=1e-12)
    else:
        offer = top - current**2 * resistance if tracks else most_behind_cable(sun, resistance, pump.lowest_voltage)
    if tracks:
        starts, speed = offer >= begin or end <= 0, min(offer, most) / largest
    else:
        starts, speed = offer >= most, 1.0
    chosen = None
    if supply.controller_efficiency is None:
        held = offer > most if tracks else starts
        chosen = held_voltage(sun, most, resistance) if held else best - current * resistance
    return single(pump, waterway, speed, irradiance, 0.0 if starts else np.inf, chosen)


def most_behind_cable(sun: Conditions, resistance: float, lowest: float) -> float:
    """Largest power [W] behind a cable at a voltage there of at least ``lowest``."""

    def power(volts: float) -> float:
        current = float(current_at_voltage(sun, volts))
        return (volts - current * resistance) * current if volts - current * resistance >= lowest else 0.0

    end = float(open_circuit_voltage(sun))
    found = minimize_scalar(lambda volts: -power(volts), bounds=(0.0, end), method="bounded", options={"xatol": 1e-9 * end})
    marks = np.linspace(0.0, end, 400)
    return max(-float(found.fun), max(power(float(volts)) for volts in marks))


def held_voltage(sun: Conditions, power: float, resistance: float) -> float:
    """Voltage [V] at a pump that takes a power [W], above the panel's best voltage."""

    def spare(volts: float) -> float:
        current = float(current_at_voltage(sun, volts))
        return (volts - current * resistance) * current - power

    low, high = float(np.asarray(maximum_power(sun)[1])), float(open_circuit_voltage(sun))
    if spare(low) <= 0:
        return low - float(current_at_voltage(sun, low)) * resistance
    found = float(brentq(spare, low, high, xtol=1e-12))
    return found - float(current_at_voltage(sun, found)) * resistance


def single(
    pump: Pump, waterway: PipeSystem, speed: float, irradiance: float, starting: float, chosen: float | None = None
) -> OperatingPoints:
    """Package one solved speed as an operation of one moment; ``chosen`` is the voltage [V] that a pump's electronics
    choose, at the same power."""
    flow = flow_at(pump, waterway, speed)
    voltage, current = motor_demand(pump, waterway, speed, flow)
    if chosen is not None:
        voltage, current = chosen, voltage * current / chosen if chosen > 0 else 0.0
    still = float(system_head(waterway, 0.0)) if pump.table else speed**2 * pump.shut_off_head
    head = float(system_head(waterway, flow)) if flow > 0 else still
    state = judge(pump, np.array([irradiance]), np.array([starting]), np.array([voltage]), np.array([flow]))
    turns, plays = state[0] >= State.CANNOT_LIFT, state[0] >= State.PLAYS
    lit = state[0] != State.NIGHT
    jet = float(np.asarray(jet_height(waterway.outlet, flow)))
    return OperatingPoints(
        state=state,
        voltage=np.array([voltage if lit else 0.0]),
        current=np.array([current if lit else 0.0]),
        speed=np.array([speed if turns else 0.0]),
        flow=np.array([flow if plays else 0.0]),
        head=np.array([head if turns else 0.0]),
        jet=np.array([jet if plays else 0.0]),
    )
