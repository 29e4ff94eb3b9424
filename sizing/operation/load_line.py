"""The load line: what the pump asks of the panel at every speed, with this pipe and this outlet.

At each flow the pipe and outlet ask a head; the pump meets it at one speed only; that speed asks one
current and one voltage. So pump, pipe and outlet together are a single line in the volt-ampere plane,
whatever the sun does, and are solved once.

A pump known by its flow against power has no known speed; its power over the largest published one stands in its place
(``speed``). One whose electronics hold its speed stands or runs: its line has two ends and nothing between. Where
electronics take power at whatever volts the panel has, the line holds that power at rated voltage.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq

from sizing.electric.motor import motor_current, motor_voltage, no_load_at_speed
from sizing.foundation.working import formula
from sizing.hydraulic.outlet import Outlet, flow_limit, jet_height, outlet_head
from sizing.hydraulic.pipes import Pipe, pipe_loss
from sizing.hydraulic.power_points import cut_in_power, flow_of_power, power_of_flow, voltage_of_power
from sizing.hydraulic.pump import Numeric, Pump, lift_speed, pump_head, pump_load_current, state_flow

DRY_STEPS = 60
WET_STEPS = 240
BEYOND_STEPS = 30
"""Nodes beyond the largest power published, where a motor's volts and amperes go on rising and the flow is held."""


@dataclass(frozen=True)
class PipeSystem:
    """Pipe and outlet between the pump and the open air; ``outlet.height`` is the lift."""

    pipe: Pipe
    outlet: Outlet


@dataclass(frozen=True, eq=False)
class LoadLine:
    """Nodes with rising speed ratio; flow [m3/s], head [m], current [A], voltage [V] at the motor, jet [m]."""

    pump: Pump
    waterway: PipeSystem
    speed: NDArray[np.float64]
    flow: NDArray[np.float64]
    head: NDArray[np.float64]
    current: NDArray[np.float64]
    voltage: NDArray[np.float64]
    jet: NDArray[np.float64]
    lift_speed: float


@formula("lift + pipe_loss + outlet_head", unit="m", source="hydrostatics")
def total_head(lift: Numeric, pipe_loss: Numeric, outlet_head: Numeric) -> Numeric:
    """Head the pump must give [m]: lift, friction with fittings, and what the outlet turns into speed.

    Examples
    --------
    >>> total_head(0.55, 0.21, 0.71)
    1.47
    """
    return lift + pipe_loss + outlet_head


def system_head(waterway: PipeSystem, flow: Numeric) -> NDArray[np.float64]:
    """Head that the pipe and outlet ask at a flow [m]; the lift alone at no flow."""
    loss = pipe_loss(waterway.pipe, flow)
    return np.asarray(total_head(waterway.outlet.height, loss, outlet_head(waterway.outlet, flow)), dtype=float)


def flow_at(pump: Pump, waterway: PipeSystem, speed: float) -> float:
    """Flow [m3/s] where the pump's head at a speed ratio equals the system head; 0 where it cannot lift."""
    lift = waterway.outlet.height
    if pump.table is not None:
        return flow_at_power(pump, waterway, speed * pump.table.largest_power)
    if pump.drive == "holds_speed" and speed < 1:
        return 0.0
    if speed <= 0 or speed**2 * pump.shut_off_head <= lift:
        return 0.0

    def surplus(flow: float) -> float:
        return float(pump_head(pump, flow, speed) - system_head(waterway, flow))

    most = min(speed * pump.largest_flow, flow_limit(waterway.outlet))
    if surplus(most) > 0:
        # The lip's formula ends before pump and pipe agree; it refuses with its own sentence at what the pump would push.
        system_head(waterway, max(speed * pump.largest_flow, 1.01 * most))
    return float(brentq(surplus, 0.0, most, xtol=1e-12, rtol=1e-10))


def flow_at_power(pump: Pump, waterway: PipeSystem, power: float) -> float:
    """Flow [m3/s] that a pump known by its power brings through pipe and outlet; 0 where it does not lift."""
    table = pump.table
    assert table is not None
    if power <= cut_in_power(table, waterway.outlet.height):
        return 0.0

    def surplus(flow: float) -> float:
        return flow_of_power(table, power, float(system_head(waterway, flow))) - flow

    largest = (1 + 1e-6) * float(table.flow.max())
    most = min(largest, flow_limit(waterway.outlet))
    if surplus(most) > 0:
        system_head(waterway, max(largest, 1.01 * most))
    return float(brentq(surplus, 0.0, most, xtol=1e-12, rtol=1e-10))


def start_of(pump: Pump, waterway: PipeSystem) -> float:
    """Speed ratio (power over the largest, for a pump known by that) above which water passes the lift; infinite if none."""
    lift = waterway.outlet.height
    if pump.table is not None:
        return cut_in_power(pump.table, lift) / pump.table.largest_power
    if pump.drive == "holds_speed":
        return 1.0 if lift < pump.shut_off_head else float("inf")
    return float(lift_speed(lift, pump.shut_off_head))


def motor_demand(pump: Pump, waterway: PipeSystem, speed: float, flow: float) -> tuple[float, float]:
    """Voltage [V] and current [A] at the pump at a speed ratio and flow."""
    motor = pump.motor
    if pump.table is not None:
        power = np.array([speed * pump.table.largest_power])
        volts, amperes = drawn_by_power(pump, power, system_head(waterway, np.array([flow])))
        return float(volts[0]), float(amperes[0])
    no_load = no_load_at_speed(motor.no_load_current, motor.viscous_share, speed)
    current = float(motor_current(no_load, speed, float(pump_load_current(pump, flow, speed))))
    return float(motor_voltage(speed, motor.back_emf, current, motor.winding_resistance)), current


def drawn_by_power(pump: Pump, power: NDArray[np.float64], head: NDArray[np.float64]) -> tuple[NDArray[np.float64], ...]:
    """Voltage [V] and current [A] of a pump known by its power, at powers [W] against heads [m].

    Without published volts the rated ones stand for whatever the panel has. Below cut-in the motor is taken to draw the
    current of the cut-in; beyond the largest power its volts go on with the cube root, as a turning pump's do.
    """
    table = pump.table
    assert table is not None
    if table.voltage is None or pump.drive == "tracks_power":
        return np.full(power.shape, pump.rated_voltage), power / pump.rated_voltage
    begin, end = (power_of_flow(table, np.full(power.shape, flow), head) for flow in (0.0, np.inf))
    volts = voltage_of_power(table, np.clip(power, begin, end), head) * np.cbrt(np.maximum(power / end, 1.0))
    volts = np.where(power < begin, volts * power / begin, volts)
    amperes = np.where(power < begin, begin / voltage_of_power(table, begin, head), power / np.maximum(volts, 1e-12))
    return volts, amperes


def speed_at(pump: Pump, flow: NDArray[np.float64], head: NDArray[np.float64], top: float) -> NDArray[np.float64]:
    """Speed ratio at which the pump gives each head at each flow, up to ``top``.

    The head at a fixed flow rises with speed, so there is one answer: Newton, kept between bounds by halving,
    from the answer for a curve that is a parabola.
    """
    low, high = np.zeros_like(flow), np.full_like(flow, top)
    speed = np.minimum(np.sqrt(head / pump.shut_off_head + (flow / pump.largest_flow) ** 2), top)
    for _ in range(60):
        surplus = pump_head(pump, flow, speed) - head
        low, high = np.where(surplus < 0, speed, low), np.where(surplus < 0, high, speed)
        newton = speed - surplus / np.maximum(head_rise(pump, flow, speed), 1e-12)
        better = np.where((newton >= low) & (newton <= high), newton, 0.5 * (low + high))
        found = np.all(np.abs(better - speed) <= 1e-13 * (1 + speed))
        speed = better
        if found:
            break
    return speed


def head_rise(pump: Pump, flow: NDArray[np.float64], speed: NDArray[np.float64]) -> NDArray[np.float64]:
    """How fast the head at a fixed flow rises with the speed ratio [m]: 2 s h(x) - Q h'(x), x = Q/s."""
    state = np.minimum(state_flow(flow, speed), pump.largest_flow)
    return np.asarray(2 * speed * pump.head_curve(state) - flow * pump.head_curve(state, 1))


def load_line(pump: Pump, waterway: PipeSystem, top_speed: float) -> LoadLine:
    """Solve pump, pipe and outlet together from standstill to ``top_speed`` (ratio, above 0).

    Between standstill and the speed that passes the lift the motor turns the water without moving it.
    """
    start = start_of(pump, waterway)
    dry = np.linspace(0.0, min(start, top_speed), DRY_STEPS) if start > 0 else np.zeros(1)
    top_flow = flow_at(pump, waterway, top_speed)
    if pump.drive == "holds_speed" and top_flow > 0:
        speed, flow = np.array([0.0, 1.0]), np.array([0.0, top_flow])
    elif top_flow > 0:
        wet_flow = top_flow * np.linspace(0.0, 1.0, WET_STEPS)[1:]
        asked = system_head(waterway, wet_flow)
        wet_speed = wet_speed_at(pump, wet_flow, asked, top_speed)
        speed, flow = np.concatenate([dry, wet_speed]), np.concatenate([np.zeros_like(dry), wet_flow])
        end = min(most_power(pump, asked[-1]), top_speed) if pump.drive == "tracks_power" else top_speed
        if pump.table is not None and speed[-1] < 0.999 * end:
            beyond = np.geomspace(speed[-1], end, BEYOND_STEPS)[1:]
            speed, flow = np.append(speed, beyond), np.append(flow, np.full(len(beyond), top_flow))
    else:
        speed, flow = dry, np.zeros_like(dry)
    return line_of(pump, waterway, speed, flow, start)


def wet_speed_at(pump: Pump, flow: NDArray[np.float64], head: NDArray[np.float64], top: float) -> NDArray[np.float64]:
    """Speed ratio (power over the largest, for a pump known by that) at flows against heads."""
    if pump.table is None:
        return speed_at(pump, flow, head, 1.001 * top)
    power = power_of_flow(pump.table, flow, np.minimum(head, pump.table.heads[-1]))
    return np.asarray(np.maximum.accumulate(power) / pump.table.largest_power)


def most_power(pump: Pump, head: float) -> float:
    """Largest power published against a head, over the largest of all."""
    assert pump.table is not None
    most = power_of_flow(pump.table, np.array([np.inf]), np.array([head]))
    return float(most[0]) / pump.table.largest_power


def line_of(pump: Pump, waterway: PipeSystem, speed: NDArray[np.float64], flow: NDArray[np.float64], start: float) -> LoadLine:
    """The load line at nodes whose speed and flow agree."""
    if pump.table is not None:
        head = system_head(waterway, flow)
        voltage, current = drawn_by_power(pump, speed * pump.table.largest_power, head)
    else:
        head = pump_head(pump, flow, speed)
        no_load = no_load_at_speed(pump.motor.no_load_current, pump.motor.viscous_share, speed)
        current = np.asarray(motor_current(no_load, speed, pump_load_current(pump, flow, speed)))
        voltage = np.asarray(motor_voltage(speed, pump.motor.back_emf, current, pump.motor.winding_resistance))
    return LoadLine(
        pump=pump,
        waterway=waterway,
        speed=speed,
        flow=flow,
        head=head,
        current=current,
        voltage=voltage,
        jet=np.asarray(jet_height(waterway.outlet, flow), dtype=float),
        lift_speed=start,
    )
