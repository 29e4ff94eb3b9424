"""The load line: what the pump asks of the panel at every speed, with this pipe and this outlet.

At each flow the pipe and outlet ask a head; the pump meets it at one speed only; that speed asks one
current and one voltage. So pump, pipe and outlet together are a single line in the volt-ampere plane,
whatever the sun does, and are solved once.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq

from sizing.electric.motor import motor_current, motor_voltage
from sizing.foundation.working import formula
from sizing.hydraulic.outlet import Outlet, flow_limit, jet_height, outlet_head
from sizing.hydraulic.pipes import Pipe, pipe_loss
from sizing.hydraulic.pump import Numeric, Pump, lift_speed, pump_head, pump_load_current, state_flow

DRY_STEPS = 60
WET_STEPS = 240


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
    if speed <= 0 or speed**2 * pump.shut_off_head <= lift:
        return 0.0

    def surplus(flow: float) -> float:
        return float(pump_head(pump, flow, speed) - system_head(waterway, flow))

    most = min(speed * pump.largest_flow, flow_limit(waterway.outlet))
    if surplus(most) > 0:
        # The lip's formula ends before pump and pipe agree; it refuses with its own sentence at what the pump would push.
        system_head(waterway, max(speed * pump.largest_flow, 1.01 * most))
    return float(brentq(surplus, 0.0, most, xtol=1e-12, rtol=1e-10))


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
    lift = waterway.outlet.height
    start = float(lift_speed(lift, pump.shut_off_head))
    dry = np.linspace(0.0, min(start, top_speed), DRY_STEPS) if start > 0 else np.zeros(1)
    top_flow = flow_at(pump, waterway, top_speed)
    if top_flow > 0:
        wet_flow = top_flow * np.linspace(0.0, 1.0, WET_STEPS)[1:]
        wet_speed = speed_at(pump, wet_flow, system_head(waterway, wet_flow), 1.001 * top_speed)
        speed, flow = np.concatenate([dry, wet_speed]), np.concatenate([np.zeros_like(dry), wet_flow])
    else:
        speed, flow = dry, np.zeros_like(dry)
    current = np.asarray(motor_current(pump.motor.no_load_current, speed, pump_load_current(pump, flow, speed)))
    voltage = np.asarray(motor_voltage(speed, pump.motor.back_emf, current, pump.motor.winding_resistance))
    return LoadLine(
        pump=pump,
        waterway=waterway,
        speed=speed,
        flow=flow,
        head=pump_head(pump, flow, speed),
        current=current,
        voltage=voltage,
        jet=np.asarray(jet_height(waterway.outlet, flow), dtype=float),
        lift_speed=start,
    )
