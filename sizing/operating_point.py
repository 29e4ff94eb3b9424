"""The operating point: where the panel's curve and the load line cross, for every strength of sun.

Direct connection: the current of the panel at the motor's voltage plus the cable's drop equals the
motor's current. The single-diode equation is linear in the irradiance, so each node of the load line
gives at once the irradiance that drives it, and no search is needed. With a controller that tracks
maximum power, the motor gets that power less the controller's loss, up to its rated voltage.

Both are solved on a grid of irradiance x cell temperature; a year of steps is then interpolated.
``solve_directly`` solves a single moment from the equations themselves; tests bound the difference.
"""

from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq

from sizing.constants import REFERENCE_IRRADIANCE
from sizing.diode import Diode, at_conditions
from sizing.load_line import LoadLine, Waterway, flow_at, load_line, system_head
from sizing.motor import motor_current, motor_voltage
from sizing.outlet import jet_height
from sizing.panel import current_at_voltage, maximum_power, open_circuit_voltage
from sizing.pump import Pump, pump_load_current

HIGHEST_IRRADIANCE = 2000.0
"""[W/m2] End of the grid; sun on a plane stays below, even with bright clouds beside it."""
IRRADIANCE_STEPS = 240
CELL_TEMPERATURES = np.arange(-50.0, 111.0, 5.0)
POWER_STEPS = 40


class State(IntEnum):
    """What the fountain does at a moment, and why."""

    NIGHT = 0
    TOO_LITTLE_SUN = 1
    BELOW_LOWEST_VOLTAGE = 2
    CANNOT_LIFT = 3
    PLAYS = 4
    OVER_VOLTAGE = 5


REASONS = {
    State.NIGHT: "night",
    State.TOO_LITTLE_SUN: "too little sun to start the motor",
    State.BELOW_LOWEST_VOLTAGE: "below the pump's lowest voltage",
    State.CANNOT_LIFT: "turns, but cannot lift the water to the outlet",
    State.PLAYS: "plays",
    State.OVER_VOLTAGE: "plays, above the pump's highest voltage",
}


@dataclass(frozen=True)
class Supply:
    """Panel array, cable resistance [ohm] there and back, and the controller's efficiency (None: direct)."""

    panel: Diode
    cable_resistance: float
    controller_efficiency: float | None = None


@dataclass(frozen=True, eq=False)
class Match:
    """Speed ratio on the grid (temperatures, irradiances), and the irradiance that starts the motor at each temperature."""

    supply: Supply
    line: LoadLine
    irradiance: NDArray[np.float64]
    speed: NDArray[np.float64]
    starting_irradiance: NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Operation:
    """One value per moment. Voltage and current are those at the motor where the curves cross, even where the
    pump then stands; speed, flow, head and jet are zero where it stands, flow and jet where it cannot lift."""

    state: NDArray[np.int8]
    voltage: NDArray[np.float64]
    current: NDArray[np.float64]
    speed: NDArray[np.float64]
    flow: NDArray[np.float64]
    head: NDArray[np.float64]
    jet: NDArray[np.float64]


def irradiance_needed(
    panel: Diode, cell_temperature: NDArray[np.float64], voltage: NDArray[np.float64], current: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Irradiance at which the panel's curve passes through (voltage, current) [W/m2].

        The single-diode equation solved for the irradiance: light current and shunt conductance are both
        proportional to it. Infinite where no sun would do.

        Examples
        --------
        >>> from sizing.outlet import jet_height
    from sizing.panel import fit_label
        >>> panel = fit_label(17.5, 1.15, 21.6, 1.24, 0.0005, -0.0034)
        >>> float(irradiance_needed(panel, np.array([25.0]), np.array([17.5]), np.array([1.15]))[0])
        1000.0
    """
    sun = at_conditions(panel, float(REFERENCE_IRRADIANCE), cell_temperature)
    inner = voltage + current * sun.series_resistance
    exponent = np.minimum(inner / sun.thermal_voltage, 600.0)
    diode_current = sun.saturation_current * np.expm1(exponent)
    per_sun = (sun.light_current - sun.shunt_conductance * inner) / float(REFERENCE_IRRADIANCE)
    possible = per_sun > 0
    return np.where(possible, (current + diode_current) / np.where(possible, per_sun, 1.0), np.inf)


def top_speed(supply: Supply, pump: Pump) -> float:
    """Speed ratio that cannot be passed: the coldest open-circuit voltage, or rated voltage behind a controller."""
    if supply.controller_efficiency is None:
        coldest = at_conditions(supply.panel, HIGHEST_IRRADIANCE, float(CELL_TEMPERATURES[0]))
        return float(open_circuit_voltage(coldest)) / pump.motor.back_emf
    return pump.rated_voltage / pump.motor.back_emf


def match(supply: Supply, pump: Pump, waterway: Waterway) -> Match:
    """Solve one panel, cable, pump and pipe for all sun and cell temperatures."""
    line = load_line(pump, waterway, top_speed(supply, pump))
    irradiance = HIGHEST_IRRADIANCE * np.linspace(0.0, 1.0, IRRADIANCE_STEPS) ** 2
    temperature = CELL_TEMPERATURES[:, None]
    start = pump.motor.starting_current
    if supply.controller_efficiency is None:
        terminal = line.voltage + line.current * supply.cable_resistance
        needed = np.maximum.accumulate(irradiance_needed(supply.panel, temperature, terminal, line.current), axis=1)
        speed = np.array([np.interp(irradiance, row, line.speed, left=0.0) for row in needed])
        standing = np.array([[start * (pump.motor.winding_resistance + supply.cable_resistance)]])
        starting = irradiance_needed(supply.panel, temperature, standing, np.array([[start]]))[:, 0]
    else:
        power = controller_power(supply, irradiance, temperature)
        asked = (line.voltage + line.current * supply.cable_resistance) * line.current
        within = line.voltage <= pump.rated_voltage * (1 + 1e-9)
        limit = float(np.interp(pump.rated_voltage, line.voltage, line.speed))
        asked, reach = np.append(asked[within], np.interp(limit, line.speed, asked)), np.append(line.speed[within], limit)
        speed = np.interp(power, asked, reach, left=0.0)
        standing_power = start**2 * (pump.motor.winding_resistance + supply.cable_resistance)
        starting = np.array([np.interp(standing_power, row, irradiance, right=np.inf) for row in power])
    return Match(supply, line, irradiance, speed, starting)


def controller_power(
    supply: Supply, irradiance: NDArray[np.float64], cell_temperature: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Power that a controller passes on [W], on the grid (temperatures, irradiances).

    Maximum power is found on a coarser grid: per unit of irradiance it is nearly a straight line.
    """
    assert supply.controller_efficiency is not None
    coarse = HIGHEST_IRRADIANCE * np.linspace(0.0, 1.0, POWER_STEPS) ** 2
    power = np.asarray(maximum_power(at_conditions(supply.panel, coarse[None, :], cell_temperature))[0])
    return supply.controller_efficiency * np.array([np.interp(irradiance, coarse, row) for row in power])


def operate(solved: Match, irradiance: NDArray[np.float64], cell_temperature: NDArray[np.float64]) -> Operation:
    """Operating points of many moments by interpolation in the grid.

    Parameters
    ----------
    irradiance : effective sun on the cells [W/m2], any shape; cell_temperature [Cel], same shape
    """
    irradiance, cell_temperature = np.broadcast_arrays(np.asarray(irradiance, float), np.asarray(cell_temperature, float))
    warm = np.clip((cell_temperature - CELL_TEMPERATURES[0]) / 5.0, 0.0, len(CELL_TEMPERATURES) - 1.001)
    bright = np.clip(np.sqrt(irradiance / HIGHEST_IRRADIANCE) * (IRRADIANCE_STEPS - 1), 0.0, IRRADIANCE_STEPS - 1.001)
    row, column = warm.astype(int), bright.astype(int)
    along = (irradiance - solved.irradiance[column]) / (solved.irradiance[column + 1] - solved.irradiance[column])
    across = warm - row
    table = solved.speed
    speed = (1 - across) * ((1 - along) * table[row, column] + along * table[row, column + 1]) + across * (
        (1 - along) * table[row + 1, column] + along * table[row + 1, column + 1]
    )
    starting = np.interp(cell_temperature, CELL_TEMPERATURES, solved.starting_irradiance)
    return at_speed(solved.line, speed, irradiance, starting)


def at_speed(
    line: LoadLine, speed: NDArray[np.float64], irradiance: NDArray[np.float64], starting: NDArray[np.float64]
) -> Operation:
    """Read the load line at each speed and say what the fountain does there."""
    voltage = np.interp(speed, line.speed, line.voltage)
    current = np.interp(speed, line.speed, line.current)
    flow = np.interp(speed, line.speed, line.flow)
    state = judge(line.pump, irradiance, starting, voltage, flow)
    turns = state >= State.CANNOT_LIFT
    plays = state >= State.PLAYS
    return Operation(
        state=state,
        voltage=np.where(state == State.NIGHT, 0.0, voltage),
        current=np.where(state == State.NIGHT, 0.0, current),
        speed=np.where(turns, speed, 0.0),
        flow=np.where(plays, flow, 0.0),
        head=np.where(turns, np.interp(speed, line.speed, line.head), 0.0),
        jet=np.where(plays, np.interp(speed, line.speed, line.jet), 0.0),
    )


def judge(
    pump: Pump,
    irradiance: NDArray[np.float64],
    starting: NDArray[np.float64],
    voltage: NDArray[np.float64],
    flow: NDArray[np.float64],
) -> NDArray[np.int8]:
    """State of each moment; the first cause along the path is the one that is named."""
    highest = np.inf if pump.highest_voltage is None else pump.highest_voltage
    causes = [irradiance <= 0, irradiance < starting, voltage < pump.lowest_voltage, flow <= 0, voltage > highest]
    states = [State.NIGHT, State.TOO_LITTLE_SUN, State.BELOW_LOWEST_VOLTAGE, State.CANNOT_LIFT, State.OVER_VOLTAGE]
    return np.asarray(np.select(causes, [int(state) for state in states], int(State.PLAYS)), dtype=np.int8)


def solve_directly(supply: Supply, pump: Pump, waterway: Waterway, irradiance: float, cell_temperature: float) -> Operation:
    """One moment from the equations themselves, by nested bracketed search: slow, and independent of the grid."""
    if irradiance <= 0:
        return single(pump, waterway, 0.0, 0.0, np.inf)
    sun = at_conditions(supply.panel, irradiance, cell_temperature)
    motor, resistance = pump.motor, supply.cable_resistance

    def asked(speed: float) -> tuple[float, float]:
        flow = flow_at(pump, waterway, speed)
        current = float(motor_current(motor.no_load_current, speed, float(pump_load_current(pump, flow, speed))))
        return float(motor_voltage(speed, motor.back_emf, current, motor.winding_resistance)), current

    start = motor.starting_current
    standing = start * (motor.winding_resistance + resistance)
    if supply.controller_efficiency is None:
        starts = float(current_at_voltage(sun, standing)) >= start
        highest = float(open_circuit_voltage(sun)) / motor.back_emf

        def surplus(speed: float) -> float:
            voltage, current = asked(speed)
            return float(current_at_voltage(sun, voltage + current * resistance)) - current
    else:
        power = supply.controller_efficiency * float(maximum_power(sun)[0])
        starts = power >= start * standing
        highest = float(brentq(lambda speed: asked(speed)[0] - pump.rated_voltage, 0.0, top_speed(supply, pump)))

        def surplus(speed: float) -> float:
            voltage, current = asked(speed)
            return power - (voltage + current * resistance) * current

    if surplus(0.0) <= 0:
        speed = 0.0
    elif surplus(highest) >= 0:
        speed = highest
    else:
        speed = float(brentq(surplus, 0.0, highest, xtol=1e-12, rtol=1e-10))
    return single(pump, waterway, speed, irradiance, 0.0 if starts else np.inf)


def single(pump: Pump, waterway: Waterway, speed: float, irradiance: float, starting: float) -> Operation:
    """Package one solved speed as an operation of one moment."""
    flow = flow_at(pump, waterway, speed)
    current = float(motor_current(pump.motor.no_load_current, speed, float(pump_load_current(pump, flow, speed))))
    voltage = float(motor_voltage(speed, pump.motor.back_emf, current, pump.motor.winding_resistance))
    head = float(system_head(waterway, flow)) if flow > 0 else speed**2 * pump.shut_off_head
    state = judge(pump, np.array([irradiance]), np.array([starting]), np.array([voltage]), np.array([flow]))
    turns, plays = state[0] >= State.CANNOT_LIFT, state[0] >= State.PLAYS
    lit = state[0] != State.NIGHT
    jet = float(np.asarray(jet_height(waterway.outlet, flow)))
    return Operation(
        state=state,
        voltage=np.array([voltage if lit else 0.0]),
        current=np.array([current if lit else 0.0]),
        speed=np.array([speed if turns else 0.0]),
        flow=np.array([flow if plays else 0.0]),
        head=np.array([head if turns else 0.0]),
        jet=np.array([jet if plays else 0.0]),
    )
