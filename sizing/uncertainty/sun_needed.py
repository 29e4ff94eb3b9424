"""How much sun a pump, with everything off at once, needs for a flow: all draws of one pump in one go.

Pump, pipe and outlet ask one voltage and current for a flow, whatever the panel. They are asked at a few flows from nothing
to beyond the goal, for each draw; a panel then needs the sun of the hardest point on the way. What winding and no-load current
change is taken from pumps made anew with each at its limit, straight between.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any, cast

import numpy as np
from numpy.typing import NDArray

from sizing.design.design import Design, NozzleOutlet, PumpInput
from sizing.electric.motor import motor_current, motor_voltage, no_load_at_speed
from sizing.electric.panel import maximum_power
from sizing.electric.single_diode import at_conditions
from sizing.foundation.errors import SizingError
from sizing.fountain.components import Fountain, pump_of
from sizing.hydraulic.nozzle_kinds import nozzle_coefficients
from sizing.hydraulic.outlet import Nozzle, OpenPipe, Outlet, jet_height, outlet_head
from sizing.hydraulic.pipes import fitting_loss, pipe_loss, velocity
from sizing.hydraulic.power_points import power_of_flow, rows_at
from sizing.hydraulic.pump import Pump, lift_speed, pump_load_current
from sizing.operation.goal import ROUNDING, Goal
from sizing.operation.load_line import PipeSystem, drawn_by_power, total_head
from sizing.operation.operating_point import (
    HIGHEST_IRRADIANCE,
    NEVER,
    POWER_STEPS,
    SAME,
    Supply,
    irradiance_needed,
    own_electronics,
)
from sizing.uncertainty.causes import Cause
from sizing.uncertainty.draws import Drawn
from sizing.uncertainty.perturbed import speed_by_state

Array = NDArray[np.float64]

NODES = 10
"""Flows at which a pump is asked, from nothing to beyond the goal."""
BEYOND, FARTHER, FARTHEST = 1.02, 1.5, 20
"""[1] Flows go so far beyond the largest that is needed, and in such steps on to where the pump's lowest voltage is reached."""
VISCOUS = "viscous share"
"""Stands among the values of a label for what no label says: the share of the no-load current that grows with speed."""
HALVINGS = 40
TOWARD = np.linspace(-1.0, 1.0, 21)
"""[1] How far a nozzle is from one end of its kind to the other: its coefficients are straight lines in it."""


@dataclass(frozen=True, eq=False)
class Edge:
    """The point at which a flow is reached, in each draw: the node before it, volts [V] and amperes [A]; infinite volts where
    the outlet throws no such jet, or the pump's lowest voltage lies out of reach."""

    before: NDArray[np.int64]
    voltage: Array
    current: Array

    def last(self, times: int) -> "Edge":
        """The last draw alone, so many times."""
        return Edge(np.repeat(self.before[-1:], times), np.repeat(self.voltage[-1:], times), np.repeat(self.current[-1:], times))


@dataclass(frozen=True, eq=False)
class Asked:
    """What a pump asks of a supply, draw by draw: volts [V] and amperes [A] at the nodes (draws, nodes), the points at which
    the least and the most flow of the goal is reached, and what starts the motor, amperes [A] and winding [Ohm]. In the last
    draw nothing is off."""

    pump: Pump
    voltage: Array
    current: Array
    least: Edge
    most: Edge | None
    starting: Array
    winding: Array

    def as_taken(self, times: int) -> "Asked":
        """The last draw alone, in which nothing is off, so many times."""
        edges = (self.least.last(times), None if self.most is None else self.most.last(times))
        voltage, current = (np.repeat(values[-1:], times, axis=0) for values in (self.voltage, self.current))
        return Asked(
            self.pump, voltage, current, *edges, *(np.repeat(each[-1:], times) for each in (self.starting, self.winding))
        )


@dataclass(frozen=True, eq=False)
class Water:
    """Pipe and outlet with everything off at once: an outlet whose sizes are arrays (draws, 1), factors of friction and
    fittings, and the flows of the goal (draws,)."""

    waterway: PipeSystem
    outlet: Outlet
    ribs: Array
    fittings: Array
    least: Array
    most: Array | None


def water_drawn(design: Design, waterway: PipeSystem, goal: Goal, off: dict[str, Array]) -> Water:
    """What the water's way may be, and the flows that reach the goal through it."""
    outlet = outlet_drawn(design, waterway.outlet, off)
    least = flow_drawn(outlet, goal.jet, goal.flow, off["jet_formula"])
    wide = goal.jet_to is not None or goal.flow_to is not None
    most = flow_drawn(outlet, goal.jet_to, goal.flow_to, off["jet_formula"]) if wide else None
    return Water(waterway, outlet, off["hose"] / waterway.pipe.ribs, off["fittings"], least, most)


def outlet_drawn(design: Design, outlet: Outlet, off: dict[str, Array]) -> Outlet:
    """The outlet with arrays (draws, 1) in place of what is not known of it."""
    bore, toward, given = off["bore"][:, None], off["nozzle"][:, None], design.outlet
    if isinstance(outlet, Nozzle) and isinstance(given, NozzleOutlet):
        typed = (given.nozzle_kind, given.discharge_coefficient, given.velocity_coefficient)
        ends = np.array([nozzle_coefficients(*typed, toward=float(share)) for share in TOWARD])
        flow, speed = (np.interp(toward, TOWARD, column) for column in ends.T)
        arrays: dict[str, Any] = {"discharge_coefficient": flow, "velocity_coefficient": speed, "bore": outlet.bore + bore}
        return replace(outlet, **arrays)
    if isinstance(outlet, OpenPipe):
        return replace(outlet, diameter=cast(float, outlet.diameter + bore))
    return outlet


def flow_drawn(outlet: Outlet, jet: float | None, flow: float | None, formula: Array) -> Array:
    """Flow that reaches a jet [m] or a flow [m3/s] in each draw (draws,); infinite where none does."""
    if jet is None:
        return np.full(len(formula), flow or 0.0)
    of_height = 1 + formula[:, None] if isinstance(outlet, Nozzle) else np.ones((len(formula), 1))
    of_flow = np.ones_like(of_height) if isinstance(outlet, Nozzle) else 1 + formula[:, None]

    def thrown(amount: Array) -> Array:
        return np.asarray(of_height * jet_height(outlet, of_flow * amount))

    low, high = np.full_like(of_height, 1e-9), np.ones_like(of_height)
    never = thrown(high) < jet
    for _ in range(HALVINGS):
        middle = np.sqrt(low * high)
        enough = thrown(middle) >= jet
        low, high = np.where(enough, low, middle), np.where(enough, middle, high)
    return np.where(never, np.inf, high).ravel()


def asked_of(fountain: Fountain, causes: dict[str, Cause], drawn: Drawn, water: Water) -> Asked:
    """Ask one pump, in all draws at once."""
    pump, off = fountain.pump, drawn.off
    flows = nodes_of(pump, off, water)
    head = np.concatenate([np.full((len(water.ribs), 1), water.waterway.outlet.height), head_drawn(water, flows)], axis=1)
    voltage, current = volts_and_amperes(fountain, causes, off, np.concatenate([np.zeros(1), flows]), head)
    lowest = pump.lowest_voltage + off["cut_off"]

    def edge(flow: Array) -> Edge:
        return edge_of(np.concatenate([np.zeros(1), flows]), voltage, current, flow, lowest)

    turning, given = pump.motor.no_load_current + off["no_load"], fountain.pump_input.starting_current_a
    starting = (turning if given is None else np.maximum(pump.motor.starting_current, turning)) + off["starting"]
    return Asked(
        pump=pump,
        voltage=voltage,
        current=current,
        least=edge(water.least),
        most=None if water.most is None else edge(water.most),
        starting=np.maximum(starting, turning),
        winding=pump.motor.winding_resistance + off["winding"],
    )


def nodes_of(pump: Pump, off: dict[str, Array], water: Water) -> Array:
    """Flows above nothing [m3/s], up to the largest that is needed and to where the lowest voltage is surely passed."""
    flows = np.concatenate([water.least, [] if water.most is None else water.most])
    top = BEYOND * float(np.max(flows[np.isfinite(flows)], initial=1e-7))
    lowest = pump.lowest_voltage + float(np.max(off["cut_off"]))
    motor = pump.motor
    for _ in range(FARTHEST if pump.table is None and not own_electronics(pump) else 0):
        amount = np.array([top])
        head = head_drawn(water, amount).mean(axis=0)
        speed = speed_by_state(pump, amount, head)
        volts = motor_voltage(
            speed,
            motor.back_emf,
            motor_current(motor.no_load_current, speed, pump_load_current(pump, amount, speed)),
            motor.winding_resistance,
        )
        if float(np.asarray(volts)[0]) > 1.25 * lowest:
            break
        top *= FARTHER
    return top * np.linspace(0.0, 1.0, NODES)[1:]


def head_drawn(water: Water, flow: Array) -> Array:
    """Head that the water's way asks at some flows (nodes,) in each draw [m]: (draws, nodes)."""
    pipe = water.waterway.pipe
    friction = pipe_loss(replace(pipe, fitting_k=0.0), flow) * (1 + water.ribs[:, None])
    losses = fitting_loss(pipe.fitting_k * (1 + water.fittings[:, None]), velocity(flow, pipe.diameter))
    head = outlet_head(water.outlet, np.broadcast_to(flow, friction.shape))
    return np.asarray(total_head(water.waterway.outlet.height, friction + losses, head))


def volts_and_amperes(
    fountain: Fountain, causes: dict[str, Cause], off: dict[str, Array], flow: Array, head: Array
) -> tuple[Array, Array]:
    """Volts and amperes of one pump at some flows, the first of them 0, and heads (draws, nodes)."""
    factors = (1 + off["pump_head"][:, None], 1 + off["pump_flow"][:, None])
    base = np.array(at_flows(fountain.pump, flow, head, factors))
    total = base.copy()
    if fountain.pump.table is not None or own_electronics(fountain.pump):
        return base[0], base[1]
    for key, field, value in (
        ("winding", "winding_resistance_ohm", fountain.pump.motor.winding_resistance),
        ("no_load", "no_load_current_a", fountain.pump.motor.no_load_current),
        ("drive", VISCOUS, 0.0),
    ):
        if not np.any(off[key]):
            continue
        below, above = (np.sqrt(3) * size for size in (causes[key].below, causes[key].above))
        for limit in (above, -below):
            found = None if limit == 0 else changed(fountain, {field: value + limit}, flow, head, factors)
            if found is not None:
                total += off[key][:, None] / limit * (found - base)
                break
    return total[0], total[1]


def changed(fountain: Fountain, values: dict[str, float], flow: Array, head: Array, factors: tuple[Array, Array]) -> Array | None:
    """Volts and amperes of the pump with other values on its label; ``None`` where it would not turn."""
    share = values.pop(VISCOUS, 0.0)
    pump = changed_pump(fountain.pump_input, tuple(values.items()), share, fountain.water_density, fountain.pump_pointer)
    return None if pump is None else np.array(at_flows(pump, flow, head, factors))


@lru_cache(maxsize=128)
def changed_pump(
    given: PumpInput, values: tuple[tuple[str, float], ...], share: float, density: float, pointer: str
) -> Pump | None:
    """The pump with other values on its label, the same for all nozzles; ``None`` where it would not turn."""
    try:
        return pump_of(given.model_copy(update=dict(values)), density, pointer, share)
    except SizingError:
        return None


def at_flows(pump: Pump, flow: Array, head: Array, factors: tuple[Array, Array]) -> tuple[Array, Array]:
    """Volts and amperes of a pump, its head and flow times factors (draws, 1), at some flows, the first of them 0."""
    if pump.table is not None:
        return at_flows_by_power(pump, flow, head, factors)
    head_factor, flow_factor = factors
    start = lift_speed(head[:, :1], head_factor * pump.shut_off_head)
    state = flow[None, 1:] / flow_factor
    speed = np.concatenate([start, speed_by_state(pump, state, head[:, 1:] / head_factor)], axis=1)
    state = np.concatenate([np.zeros_like(start), state], axis=1)
    fast = speed > 1 if pump.drive == "holds_speed" else np.zeros(speed.shape, dtype=bool)
    speed = np.ones_like(speed) if pump.drive == "holds_speed" else speed
    no_load = no_load_at_speed(pump.motor.no_load_current, pump.motor.viscous_share, speed)
    current = np.asarray(motor_current(no_load, speed, pump_load_current(pump, state, speed)))
    voltage = np.asarray(motor_voltage(speed, pump.motor.back_emf, current, pump.motor.winding_resistance))
    return np.where(fast, np.inf, voltage), current


def at_flows_by_power(pump: Pump, flow: Array, head: Array, factors: tuple[Array, Array]) -> tuple[Array, Array]:
    """The same of a pump that is known by its power: infinite volts where it never gives the flow."""
    table, (head_factor, flow_factor) = pump.table, factors
    assert table is not None
    heads, flows = np.broadcast_arrays(head / head_factor, flow[None, :] / flow_factor)
    against = np.minimum(heads, table.heads[-1]).ravel()
    power = power_of_flow(table, flows.ravel(), against)
    volts, amperes = (each.reshape(heads.shape) for each in drawn_by_power(pump, power, against))
    most = rows_at(table, against, table.flow)[:, -1].reshape(heads.shape)
    short = (heads > table.heads[-1]) | (most < flows * (1 - ROUNDING))
    return np.where(short, np.inf, volts), np.where(short, 0.0, amperes)


def edge_of(flow: Array, voltage: Array, current: Array, wanted: Array, lowest: Array) -> Edge:
    """Where a flow (draws,) and the lowest voltage (draws,) are both reached, straight between the nodes."""
    last = len(flow) - 1
    by_flow = np.interp(wanted, flow, np.arange(last + 1), right=np.inf)
    short = voltage < lowest[:, None]
    node = np.where(short.any(axis=1), last - np.argmax(short[:, ::-1], axis=1), 0)
    after, rows = np.minimum(node + 1, last), np.arange(len(node))
    gap = voltage[rows, after] - voltage[rows, node]
    share = np.divide(lowest - voltage[rows, node], gap, out=np.ones_like(gap), where=gap > 0)
    by_volts = np.where(short.any(axis=1), np.where(node == last, np.inf, node + np.clip(share, 0.0, 1.0)), 0.0)
    place = np.maximum(by_flow, by_volts)
    before = np.minimum(np.where(np.isfinite(place), place, 0.0).astype(np.int64), last - 1)
    part = np.where(np.isfinite(place), place - before, 0.0)
    place = np.where(np.isfinite(voltage[rows, before]) & ((part == 0) | np.isfinite(voltage[rows, before + 1])), place, np.inf)
    part = np.where(np.isfinite(place), part, 0.0)
    voltage = np.where(np.isfinite(voltage), voltage, 0.0)
    volts, amperes = (
        values[rows, before] + part * (values[rows, before + 1] - values[rows, before]) for values in (voltage, current)
    )
    return Edge(before, np.where(np.isfinite(place), volts, np.inf), amperes)


def hardest(asked: Asked, edge: Edge, needs: Callable[[Array, Array], Array]) -> Array:
    """The most that any point on the way to an edge needs, in each draw (draws,)."""
    finite, reachable = np.isfinite(edge.voltage), np.isfinite(asked.voltage)
    there = needs(np.where(finite, edge.voltage, 1.0), edge.current)
    on_the_way = np.where(reachable, needs(np.where(reachable, asked.voltage, 1.0), asked.current), np.inf)
    before = np.maximum.accumulate(on_the_way, axis=1)[np.arange(len(there)), edge.before]
    return np.where(finite, np.maximum(there, before), np.inf)


def sun_needed(asked: Asked, edge: Edge, supply: Supply, warmth: Array | float, more: Array | float) -> Array:
    """Sun [W/m2] with which a panel of ``more`` times the current reaches an edge (draws,); infinite where none does.

    Parameters
    ----------
    warmth : [Cel] of the cells, one for all draws or (draws,)
    """
    share, cells = (np.broadcast_to(np.asarray(given, dtype=float), edge.voltage.shape) for given in (more, warmth))
    electronic, cable = own_electronics(asked.pump), supply.cable_resistance
    controlled = supply.controller_efficiency is not None and not electronic
    if electronic:
        supply = replace(supply, controller_efficiency=supply.controller_efficiency or 1.0, steps_up=True)
    of_power = sun_of_power(supply, np.unique(cells)) if controlled or electronic else None

    def needs(voltage: Array, current: Array) -> Array:
        part, warm = (share, cells) if current.ndim == 1 else (share[:, None], cells[:, None])
        terminal = voltage + current * cable
        if of_power is None:
            return irradiance_needed(supply.panel, warm, terminal, current / part)
        return through_controller(supply, of_power, warm, terminal, current / part)

    found = hardest(asked, edge, needs)
    if asked.pump.table is None and not electronic:
        found = np.maximum(found, needs(asked.starting * asked.winding, asked.starting))
    found = np.where(found < NEVER, found, np.inf)
    return np.where(edge.voltage > asked.pump.rated_voltage * SAME, np.inf, found) if controlled else found


@dataclass(frozen=True, eq=False)
class SunOfPower:
    """Power behind a controller [W] and the panel's volts at it [V] over the sun [W/m2], a row for each cell temperature."""

    warmth: Array
    sun: Array
    power: Array
    voltage: Array


def sun_of_power(supply: Supply, warmth: Array) -> SunOfPower:
    """What a panel gives behind its controller at some cell temperatures [Cel]."""
    sun = HIGHEST_IRRADIANCE * np.linspace(0.0, 1.0, POWER_STEPS) ** 2
    power, voltage = maximum_power(at_conditions(supply.panel, sun[None, :], warmth[:, None]))[:2]
    return SunOfPower(warmth, sun, float(supply.controller_efficiency or 0.0) * np.asarray(power), np.asarray(voltage))


def through_controller(supply: Supply, found: SunOfPower, warm: Array, voltage: Array, current: Array) -> Array:
    """Sun [W/m2] with which a controller gives so many volts [V] and amperes [A]; behind one that only lowers the voltage
    panel and motor are at one voltage where the panel's own does not suffice."""
    sun, held = np.empty(voltage.shape), np.empty(voltage.shape)
    rows = np.broadcast_to(warm, voltage.shape)
    for cells, power, volts in zip(found.warmth, found.power, found.voltage, strict=True):
        mine = rows == cells
        sun[mine] = np.interp((voltage * current)[mine], power, found.sun, right=np.inf)
        held[mine] = np.interp(sun[mine], found.sun, volts)
    if supply.steps_up:
        return sun
    through = irradiance_needed(supply.panel, warm, voltage, current / float(supply.controller_efficiency or 1.0))
    return np.where(voltage > held, np.maximum(through, sun), sun)
