"""The operating point: where the panel's curve and the load line cross, for every strength of sun.

Direct connection: the current of the panel at the motor's voltage plus the cable's drop equals the
motor's current. The single-diode equation is linear in the irradiance, so each node of the load line
gives at once the irradiance that drives it, and no search is needed. With a controller that tracks
maximum power, the motor gets that power less the controller's loss, up to its rated voltage. A step-down
controller cannot lift the voltage: where motor and cable need more than the panel's maximum-power voltage,
panel and motor are at one voltage, and the controller passes the panel's current through, less its loss.
A pump whose own electronics take power at whatever volts the panel has is driven by the panel's power alone.

All are solved on a grid of irradiance x cell temperature; a year of steps is then interpolated.
``direct_solve`` solves a single moment from the equations themselves; tests bound the difference.
"""

from dataclasses import dataclass, replace
from enum import IntEnum
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sizing.electric.motor import Motor
from sizing.electric.panel import maximum_power, open_circuit_voltage
from sizing.electric.single_diode import Diode, at_conditions
from sizing.foundation.constants import REFERENCE_IRRADIANCE
from sizing.hydraulic.pump import PowerTable, Pump
from sizing.operation.load_line import LoadLine, PipeSystem, load_line

Array = NDArray[np.float64]

HIGHEST_IRRADIANCE = 2000.0
"""[W/m2] End of the grid; sun on a plane stays below, even with bright clouds beside it."""
NEVER = 1e9
"""[W/m2] Stands for a sun that no sun reaches."""
IRRADIANCE_STEPS = 240
GRID_IRRADIANCE = HIGHEST_IRRADIANCE * np.linspace(0.0, 1.0, IRRADIANCE_STEPS) ** 2
CELL_TEMPERATURES = np.arange(-50.0, 111.0, 5.0)
POWER_STEPS = 40
LEAST_VOLTS, VOLT_STEPS = 0.3, 241
"""[1] Where the search for a panel's voltage at a power begins, as a share of its open-circuit voltage, and its steps."""
DRAWN_STEPS = 60
BEYOND_RATED = 1.1
"""[1] Behind a controller the load line goes on this far beyond the motor's fastest turn, so that its end is no kink."""
NODES = ("speed", "flow", "head", "current", "voltage", "jet")
SAME = 1 + 1e-9
"""[1] A controller holds the rated voltage, which may be the highest too, but for the last digits."""
SLOWEST = 1e-3
"""[1] The load line always reaches this speed ratio, even where no sun turns the motor."""


class State(IntEnum):
    """What the fountain does at a moment, and why."""

    NIGHT = 0
    TOO_LITTLE_SUN = 1
    BELOW_LOWEST_VOLTAGE = 2
    CANNOT_LIFT = 3
    PLAYS = 4
    OVER_VOLTAGE = 5


STATE_WORDS = {
    State.NIGHT: "night",
    State.TOO_LITTLE_SUN: "too little sun",
    State.BELOW_LOWEST_VOLTAGE: "starts and stops",
    State.CANNOT_LIFT: "cannot lift",
    State.PLAYS: "plays",
    State.OVER_VOLTAGE: "over voltage",
}
"""The states in as few words as can be. Below its lowest voltage a pump lets go, the unloaded panel springs back, and the pump
starts again: it stutters."""
REASONS = {
    State.NIGHT: "night",
    State.TOO_LITTLE_SUN: "too little sun to start the motor",
    State.BELOW_LOWEST_VOLTAGE: f"{STATE_WORDS[State.BELOW_LOWEST_VOLTAGE]}: the panel cannot hold the pump's lowest voltage",
    State.CANNOT_LIFT: "turns, but cannot lift the water to the outlet",
    State.PLAYS: "plays",
    State.OVER_VOLTAGE: "plays, above the pump's highest voltage",
}


@dataclass(frozen=True)
class Supply:
    """Panel array, cable resistance [ohm] there and back, the controller's efficiency (None: direct), and whether it
    can raise the panel's voltage as well as lower it."""

    panel: Diode
    cable_resistance: float
    controller_efficiency: float | None = None
    steps_up: bool = True


class Offer(NamedTuple):
    """What a controller has to give on the grid (temperatures, irradiances): power [W] after its loss while the panel is
    at its maximum power, and the panel's voltage there [V]."""

    power: Array
    voltage: Array


@dataclass(frozen=True, eq=False)
class OperatingGrid:
    """Speed ratio on the grid (temperatures, irradiances), the irradiance that starts the motor at each temperature,
    and the speed ratio that a controller holds at rated voltage (infinite without one). ``voltage`` [V] is the pump's on the
    grid where its own electronics choose it; ``None`` where the load line has it."""

    supply: Supply
    line: LoadLine
    irradiance: Array
    speed: Array
    starting_irradiance: Array
    highest_speed: float
    voltage: Array | None = None


@dataclass(frozen=True, eq=False)
class OperatingPoints:
    """One value per moment. Voltage and current are those at the motor where the curves cross, even where the
    pump then does not run; speed, flow, head and jet are zero where it does not, flow and jet where it cannot lift."""

    state: NDArray[np.int8]
    voltage: Array
    current: Array
    speed: Array
    flow: Array
    head: Array
    jet: Array


def irradiance_needed(panel: Diode, cell_temperature: Array, voltage: Array | float, current: Array | float) -> Array:
    """Irradiance at which the panel's curve passes through (voltage, current) [W/m2].

    The single-diode equation solved for the irradiance: light current and shunt conductance are both
    proportional to it. Infinite where no sun would do.

    Examples
    --------
    >>> from sizing.electric.panel import current_at_voltage, fit_label
    >>> panel = fit_label(17.5, 1.15, 21.6, 1.24, 0.0005, -0.0034)
    >>> current = current_at_voltage(at_conditions(panel, 613.0, 31.0), 14.7)
    >>> irradiance_needed(panel, np.array([31.0]), 14.7, current)
    array([613.])
    """
    sun = at_conditions(panel, float(REFERENCE_IRRADIANCE), cell_temperature)
    inner = voltage + current * sun.series_resistance
    exponent = np.minimum(inner / sun.thermal_voltage, 600.0)
    diode_current = sun.saturation_current * np.expm1(exponent)
    per_sun = (sun.light_current - sun.shunt_conductance * inner) / float(REFERENCE_IRRADIANCE)
    possible = per_sun > 0
    return np.where(possible, (current + diode_current) / np.where(possible, per_sun, 1.0), np.inf)


def top_speed(supply: Supply, pump: Pump) -> float:
    """Speed ratio that cannot be passed, or a tenth more.

    Behind a controller rated voltage sets it; direct, the coldest open-circuit voltage, or the current: the
    motor's lightest load at that speed would take more than the brightest sun gives.
    """
    if own_electronics(pump):
        return 1.0
    if pump.table is not None:
        return top_of_table(supply, pump.table)
    if supply.controller_efficiency is not None:
        return BEYOND_RATED * pump.rated_voltage / pump.motor.back_emf
    extremes = at_conditions(supply.panel, HIGHEST_IRRADIANCE, CELL_TEMPERATURES[[0, -1]])
    by_voltage = float(np.max(open_circuit_voltage(extremes))) / pump.motor.back_emf
    spare = float(np.max(extremes.light_current)) - pump.motor.no_load_current
    by_current = float(np.sqrt(max(spare, 0.0) / np.min(pump.load_current)))
    return max(min(by_voltage, by_current), SLOWEST)


def own_electronics(pump: Pump) -> bool:
    """Whether the pump's own electronics take power at whatever volts the panel has."""
    return pump.drive != "dc_motor"


def top_of_table(supply: Supply, table: PowerTable) -> float:
    """Power over the largest published beyond which this supply never drives a pump known by power and volts."""
    assert table.voltage is not None
    most = float(np.max(open_circuit_voltage(at_conditions(supply.panel, HIGHEST_IRRADIANCE, CELL_TEMPERATURES[[0, -1]]))))
    return max(1.001, (most / float(table.voltage[:, -1].min())) ** 3)


def solve_grid(supply: Supply, pump: Pump, waterway: PipeSystem) -> OperatingGrid:
    """Solve one panel, cable, pump and pipe for all sun and cell temperatures."""
    line = load_line(pump, waterway, top_speed(supply, pump))
    irradiance = GRID_IRRADIANCE
    if own_electronics(pump):
        return electronic_match(supply, line, irradiance)
    if supply.controller_efficiency is None:
        return direct_match(supply, line, irradiance)
    return controlled_match(supply, line, irradiance)


def direct_match(supply: Supply, line: LoadLine, irradiance: Array, rows: slice = slice(None)) -> OperatingGrid:
    """The grid of a panel joined to the motor; ``rows`` are the cell temperatures that will be asked for, others stay 0."""
    motor, panel, warmth = line.pump.motor, supply.panel, CELL_TEMPERATURES[rows, None]
    terminal = line.voltage + line.current * supply.cable_resistance
    line = reachable(line, irradiance_needed(panel, np.asarray(25.0), terminal, line.current))
    terminal = line.voltage + line.current * supply.cable_resistance
    needed = np.maximum.accumulate(irradiance_needed(panel, warmth, terminal, line.current), axis=1)
    speed = np.zeros((len(CELL_TEMPERATURES), len(irradiance)))
    speed[rows] = [np.interp(irradiance, row, line.speed, left=0.0) for row in needed]
    return OperatingGrid(supply, line, irradiance, speed, starting_grid(supply, motor), np.inf)


def controlled_match(supply: Supply, line: LoadLine, irradiance: Array, offer: Offer | None = None) -> OperatingGrid:
    """The grid of a panel behind a controller; the limit at rated voltage is kept apart, as it makes a kink.

    ``offer`` on the grid may be at hand from ``controller_offer``.
    """
    motor = line.pump.motor
    line = reachable(line, (line.voltage + line.current * supply.cable_resistance) * line.current)
    terminal = line.voltage + line.current * supply.cable_resistance
    offer = controller_offer(supply, irradiance, CELL_TEMPERATURES[:, None]) if offer is None else offer
    speed = np.interp(offer.power, terminal * line.current, line.speed, left=0.0)
    if not supply.steps_up:
        speed = stepped_down(supply, line, irradiance, offer, speed)
    limit = float(np.interp(line.pump.rated_voltage, np.maximum.accumulate(line.voltage), line.speed))
    return OperatingGrid(supply, line, irradiance, speed, starting_grid(supply, motor, offer), limit)


def stepped_down(supply: Supply, line: LoadLine, irradiance: Array, offer: Offer, speed: Array) -> Array:
    """Speed ratio on the grid behind a controller that only lowers the voltage, from ``speed`` behind one that raises it too.

    Where motor and cable want more volts than the panel has at maximum power, the panel is at their voltage.
    """
    assert supply.controller_efficiency is not None
    terminal = line.voltage + line.current * supply.cable_resistance
    wanting = np.interp(speed, line.speed, terminal) > offer.voltage
    if not np.any(wanting[:, 1:]):
        return speed
    passed = line.current / supply.controller_efficiency
    needed = irradiance_needed(supply.panel, CELL_TEMPERATURES[:, None], terminal, passed)
    through = [np.interp(irradiance, row, line.speed, left=0.0) for row in np.maximum.accumulate(needed, axis=1)]
    return np.where(wanting, through, speed)


def starting_grid(supply: Supply, motor: Motor, offer: Offer | None = None) -> Array:
    """Irradiance that starts the motor at each cell temperature of the grid [W/m2]; ``NEVER`` where no sun does.

    ``offer`` on the grid is what a controller passes on; without one the panel's own current starts the motor.
    """
    current = motor.starting_current
    standing = current * (motor.winding_resistance + supply.cable_resistance)
    share = 1.0 if supply.controller_efficiency is None else supply.controller_efficiency
    through = np.minimum(irradiance_needed(supply.panel, CELL_TEMPERATURES, standing, current / share), NEVER)
    if offer is None:
        return through
    by_power = np.array([np.interp(current * standing, row, GRID_IRRADIANCE, right=NEVER) for row in offer.power])
    if supply.steps_up:
        return by_power
    held = np.array([np.interp(sun, GRID_IRRADIANCE, row) for sun, row in zip(by_power, offer.voltage, strict=True)])
    return np.where(standing > held, np.maximum(through, by_power), by_power)


def electronic_match(supply: Supply, line: LoadLine, irradiance: Array, offer: Offer | None = None) -> OperatingGrid:
    """The grid of a pump whose own electronics choose the volts.

    They take what the panel has where they track its maximum power, up to what the pump takes at most; electronics that
    hold the speed take one power or none. Where the panel has more, it is held above its best voltage, where it gives just
    that. ``offer`` on the grid may be at hand from ``pump_offer``.
    """
    pump, tracks = line.pump, line.pump.drive == "tracks_power"
    offer = pump_offer(supply, irradiance, CELL_TEMPERATURES[:, None]) if offer is None else offer
    asked = line.voltage * line.current
    if supply.controller_efficiency is not None:
        asked = asked + line.current**2 * supply.cable_resistance
    plays = line.flow[-1] > 0
    begin = 0.0 if tracks and not plays else float(asked[int(np.argmax(line.flow > 0)) - 1 if tracks else -1])
    speed = np.interp(offer.power, asked, line.speed) if tracks else np.full(offer.power.shape, line.speed[-1])
    if supply.controller_efficiency is not None:
        starting = np.array([np.interp(begin, row, irradiance, right=NEVER) for row in offer.power])
        return OperatingGrid(supply, line, irradiance, speed, starting, np.inf)
    volts, sun = volts_and_sun(supply, begin)
    held = volts - drawn_current(volts, begin, supply.cable_resistance) * supply.cable_resistance
    allowed = np.where(held >= (0.0 if tracks else pump.lowest_voltage), sun, NEVER)
    voltage = electronic_voltage(supply, float(asked[-1]), irradiance, offer.voltage if tracks else None)
    return OperatingGrid(supply, line, irradiance, speed, allowed.min(axis=1), np.inf, voltage)


def pump_offer(supply: Supply, irradiance: Array, cell_temperature: Array) -> Offer:
    """What reaches a pump with electronics of its own: the controller's offer, or the panel's maximum power less what the
    cable keeps, and the pump's voltage there."""
    if supply.controller_efficiency is not None:
        return controller_offer(supply, irradiance, cell_temperature)
    coarse = HIGHEST_IRRADIANCE * np.linspace(0.0, 1.0, POWER_STEPS) ** 2
    panel = maximum_power(at_conditions(supply.panel, coarse[None, :], cell_temperature))
    power, voltage, current = (np.asarray(each) for each in panel)
    drop = current * supply.cable_resistance
    reaching = np.maximum.accumulate(power - current * drop, axis=1)
    rows = (np.array([np.interp(irradiance, coarse, row) for row in values]) for values in (reaching, voltage - drop))
    return Offer(*rows)


def drawn_current(volts: Array, power: float, resistance: float) -> Array:
    """Current [A] with which a power [W] is taken behind a cable, from volts before it; the smaller of two."""
    return np.asarray(2 * power / (volts + np.sqrt(np.maximum(volts**2 - 4 * resistance * power, 0.0))))


def volts_and_sun(supply: Supply, power: float) -> tuple[Array, Array]:
    """Panel voltages [V] and the sun [W/m2] in which it gives a power [W] behind the cable at each, both on the grid
    (``CELL_TEMPERATURES``, voltages)."""
    warmth = CELL_TEMPERATURES[:, None]
    most = np.asarray(open_circuit_voltage(at_conditions(supply.panel, HIGHEST_IRRADIANCE, warmth)))
    volts = most * np.linspace(LEAST_VOLTS, 1.0, VOLT_STEPS)
    current = drawn_current(volts, power, supply.cable_resistance)
    possible = volts**2 >= 4 * supply.cable_resistance * power
    return volts, np.where(possible, np.minimum(irradiance_needed(supply.panel, warmth, volts, current), NEVER), NEVER)


def electronic_voltage(supply: Supply, most: float, irradiance: Array, best: Array | None) -> Array:
    """Voltage [V] at a pump that takes at most so much power [W], on the grid (temperatures, irradiances); where the panel
    has less, electronics that track its maximum hold it at ``best``."""
    volts, sun = volts_and_sun(supply, most)
    found = np.empty((len(volts), len(irradiance)))
    for row, (at, needed) in enumerate(zip(volts, sun, strict=True)):
        low = int(np.argmin(needed))
        held = np.interp(irradiance, np.maximum.accumulate(needed[low:]), at[low:])
        held -= drawn_current(held, most, supply.cable_resistance) * supply.cable_resistance
        found[row] = held if best is None else np.where(irradiance < needed[low], best[row], held)
    return found


def asked_of_panel(solved: OperatingGrid) -> tuple[Array, Array]:
    """Volts [V] and amperes [A] at the supply's end of the cable that a pump asks, node by node, to draw: the load line or,
    of a pump whose own electronics choose the volts, the most power that they take, at all volts."""
    line, supply = solved.line, solved.supply
    if solved.voltage is None:
        return line.voltage + line.current * supply.cable_resistance, line.current
    power = float(line.voltage[-1] * line.current[-1])
    most = float(open_circuit_voltage(at_conditions(supply.panel, float(REFERENCE_IRRADIANCE), 25.0)))
    amperes = 1.1 * float(supply.panel.light_current)
    volts = np.linspace(min(power / amperes, most), most, DRAWN_STEPS)
    return volts, drawn_current(volts, power, supply.cable_resistance)


def reachable(line: LoadLine, asked: Array) -> LoadLine:
    """The load line without the stretches where it bends back, asking less sun or power than on the way there.

    A motor that is relieved when water begins to flow jumps over such a stretch as the sun grows.
    """
    kept = asked >= np.maximum.accumulate(asked)
    if np.all(kept):
        return line
    return replace(line, **{name: getattr(line, name)[kept] for name in NODES})


def controller_offer(supply: Supply, irradiance: Array, cell_temperature: Array) -> Offer:
    """What a controller has to give, on the grid (temperatures, irradiances).

    Maximum power is found on a coarser grid: per unit of irradiance it is nearly a straight line. Its voltage is not near
    darkness, but says only which of two nearly equal powers counts.
    """
    assert supply.controller_efficiency is not None
    coarse = HIGHEST_IRRADIANCE * np.linspace(0.0, 1.0, POWER_STEPS) ** 2
    found = maximum_power(at_conditions(supply.panel, coarse[None, :], cell_temperature))
    power, voltage = (np.array([np.interp(irradiance, coarse, row) for row in np.asarray(values)]) for values in found[:2])
    return Offer(supply.controller_efficiency * power, voltage)


def operate(solved: OperatingGrid, irradiance: Array, cell_temperature: Array) -> OperatingPoints:
    """Operating points of many moments by interpolation in the grid.

    Parameters
    ----------
    irradiance : effective sun on the cells [W/m2], any shape; cell_temperature [Cel], same shape
    """
    irradiance, cell_temperature = np.broadcast_arrays(np.asarray(irradiance, float), np.asarray(cell_temperature, float))
    place = grid_place(irradiance, cell_temperature)
    voltage = None if solved.voltage is None else between_nodes(solved.voltage, place)
    speed = speed_on_grid(solved, place)
    return at_speed(solved.line, speed, irradiance, starting_sun(solved, cell_temperature), voltage)


def flow_alone(solved: OperatingGrid, irradiance: Array, cell_temperature: Array, on_grid: "GridPlace | None" = None) -> Array:
    """Flow [m3/s] as ``operate`` finds it, in a third of the time; ``on_grid`` is of the same moments, if it is at hand."""
    line = solved.line
    on_grid = on_grid or grid_place(irradiance, cell_temperature)
    place = on_line(line, speed_on_grid(solved, on_grid))
    stopped = (irradiance <= 0) | (irradiance < starting_sun(solved, cell_temperature))
    volts = along(line.voltage, *place) if solved.voltage is None else between_nodes(solved.voltage, on_grid)
    stopped |= volts < line.pump.lowest_voltage
    return np.where(stopped, 0.0, along(line.flow, *place))


class GridPlace(NamedTuple):
    """Where moments lie on the grid: the colder, darker node, and how far to the brighter and the warmer one (0 to 1)."""

    corner: NDArray[np.int64]
    right: Array
    up: Array


def grid_place(irradiance: Array, cell_temperature: Array) -> GridPlace:
    """Where moments lie on the grid; it is the same for every match."""
    warm = np.clip((cell_temperature - CELL_TEMPERATURES[0]) / 5.0, 0.0, len(CELL_TEMPERATURES) - 1.001)
    bright = np.sqrt(np.clip(irradiance / HIGHEST_IRRADIANCE, 0.0, 0.999)) * (IRRADIANCE_STEPS - 1)
    row, column = warm.astype(int), bright.astype(int)
    right = (irradiance - GRID_IRRADIANCE[column]) / np.diff(GRID_IRRADIANCE)[column]
    return GridPlace(row * IRRADIANCE_STEPS + column, right, warm - row)


def speed_on_grid(solved: OperatingGrid, place: GridPlace) -> Array:
    """Speed ratio between the four nearest nodes of the grid."""
    return np.minimum(between_nodes(solved.speed, place), solved.highest_speed)


def between_nodes(values: Array, place: GridPlace) -> Array:
    """Value between the four nearest nodes of the grid."""
    corner, right, up = place
    table = values.ravel()
    colder = table[corner] * (1 - right) + table[corner + 1] * right
    above = corner + IRRADIANCE_STEPS
    warmer = table[above] * (1 - right) + table[above + 1] * right
    return np.asarray((1 - up) * colder + up * warmer)


def starting_sun(solved: OperatingGrid, cell_temperature: Array) -> Array:
    """Irradiance below which the motor does not start [W/m2]."""
    return np.interp(cell_temperature, CELL_TEMPERATURES, solved.starting_irradiance)


def on_line(line: LoadLine, speed: Array) -> tuple[NDArray[np.int64], Array]:
    """Node below each speed on the load line, and how far toward the next (0 to 1)."""
    node = np.clip(np.searchsorted(line.speed, speed, side="right") - 1, 0, len(line.speed) - 2)
    gap = np.maximum(np.diff(line.speed), 1e-15)
    return node, np.minimum((speed - line.speed[node]) / gap[node], 1.0)


def along(values: Array, node: NDArray[np.int64], share: Array) -> Array:
    """Value of the load line between two nodes."""
    return np.asarray(values[node] + share * np.diff(values)[node])


def at_speed(line: LoadLine, speed: Array, irradiance: Array, starting: Array, chosen: Array | None = None) -> OperatingPoints:
    """Read the load line at each speed and say what the fountain does there; ``chosen`` are volts [V] in place of the line's,
    at the same power."""
    place = on_line(line, speed)
    voltage, flow = along(line.voltage, *place), along(line.flow, *place)
    current = along(line.current, *place)
    if chosen is not None:
        current, voltage = np.where(chosen > 0, voltage * current / np.maximum(chosen, 1e-9), 0.0), chosen
    state = judge(line.pump, irradiance, starting, voltage, flow)
    lit = state != State.NIGHT
    turns = state >= State.CANNOT_LIFT
    plays = state >= State.PLAYS
    return OperatingPoints(
        state=state,
        voltage=np.where(lit, voltage, 0.0),
        current=np.where(lit, current, 0.0),
        speed=np.where(turns, speed, 0.0),
        flow=np.where(plays, flow, 0.0),
        head=np.where(turns, along(line.head, *place), 0.0),
        jet=np.where(plays, along(line.jet, *place), 0.0),
    )


def judge(pump: Pump, irradiance: Array, starting: Array, voltage: Array, flow: Array) -> NDArray[np.int8]:
    """State of each moment; the first cause along the path is the one that is named."""
    highest = np.inf if pump.highest_voltage is None else pump.highest_voltage
    causes = [irradiance <= 0, irradiance < starting, voltage < pump.lowest_voltage, flow <= 0, voltage > highest * SAME]
    states = [State.NIGHT, State.TOO_LITTLE_SUN, State.BELOW_LOWEST_VOLTAGE, State.CANNOT_LIFT, State.OVER_VOLTAGE]
    return np.asarray(np.select(causes, [np.int8(state) for state in states], np.int8(State.PLAYS)))
