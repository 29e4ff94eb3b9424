"""The pump on the motor's shaft: head and load current at any flow and speed, by the affinity laws.

    head = s² h(Q/s)        load current = s² J(Q/s)

h and J are monotone curves at speed ratio s = 1; ``pump_curve`` builds them from a label or from points.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import PchipInterpolator

from sizing.electric.motor import Motor
from sizing.foundation.constants import STANDARD_GRAVITY
from sizing.foundation.errors import Note
from sizing.foundation.working import formula

Numeric = float | NDArray[np.float64]
Drive = Literal["dc_motor", "tracks_power", "holds_speed"]
"""What turns a pump: a motor that turns faster with more volts, electronics that hold the panel at its maximum power, or
electronics that hold the pump at one speed."""


@dataclass(frozen=True, eq=False)
class PowerTable:
    """Flow against power at fixed heads: heads [m], rising; power [W], flow [m3/s] and volts [V] of each head (heads,
    shares) from cut-in to the largest power published; no volts where none are published."""

    heads: NDArray[np.float64]
    power: NDArray[np.float64]
    flow: NDArray[np.float64]
    voltage: NDArray[np.float64] | None

    @property
    def largest_power(self) -> float:
        """[W] of all heads."""
        return float(self.power[:, -1].max())


@dataclass(frozen=True, eq=False)
class Pump:
    """A pump reduced to speed ratio 1. Flow [m3/s], head [m], load current [A] at the nodes of its curves.

    ``end_slope`` [m/(m3/s)], below 0, carries the head on beyond the last node, where it is zero. A pump with a ``table``
    has no known speed: in its place stands the power over the largest published one, and the curves are those at it.
    """

    name: str
    rated_voltage: float
    lowest_voltage: float
    highest_voltage: float | None
    motor: Motor
    flow: NDArray[np.float64]
    head: NDArray[np.float64]
    load_current: NDArray[np.float64]
    head_curve: PchipInterpolator
    load_curve: PchipInterpolator
    end_slope: float
    best_efficiency: float
    notes: tuple[Note, ...]
    drive: Drive = "dc_motor"
    table: PowerTable | None = None

    @property
    def shut_off_head(self) -> float:
        """[m] at speed ratio 1."""
        return float(self.head[0])

    @property
    def rated_power(self) -> float:
        """[W] The most that it draws at rated voltage by its points or its box."""
        return self.rated_voltage * self.motor.largest_current

    @property
    def largest_flow(self) -> float:
        """[m3/s] at speed ratio 1, where the head is zero."""
        return float(self.flow[-1])


@formula("flow_at_rated_speed * speed", unit="m3/s", source="affinity_laws")
def flow_at_speed(flow_at_rated_speed: Numeric, speed: Numeric) -> Numeric:
    """Flow of the same pump state at another speed [m3/s]: proportional to speed.

    Examples
    --------
    >>> flow_at_speed(400.0, 3600 / 1800)
    800.0
    """
    return flow_at_rated_speed * speed


@formula("head_at_rated_speed * speed**2", unit="m", source="affinity_laws")
def head_at_speed(head_at_rated_speed: Numeric, speed: Numeric) -> Numeric:
    """Head of the same pump state at another speed [m]: with the square of speed.

    Examples
    --------
    >>> head_at_speed(48.0, 3600 / 1800)
    192.0
    """
    return head_at_rated_speed * speed**2


@formula("power_at_rated_speed * speed**3", unit="W", source="affinity_laws")
def power_at_speed(power_at_rated_speed: Numeric, speed: Numeric) -> Numeric:
    """Shaft power of the same pump state at another speed [W]: with the cube of speed.

    Examples
    --------
    >>> power_at_speed(45.0, 3600 / 1800)
    360.0
    """
    return power_at_rated_speed * speed**3


@formula("sqrt(lift / shut_off_head)", unit="1", source="affinity_laws")
def lift_speed(lift: Numeric, shut_off_head: Numeric) -> Numeric:
    """Speed ratio below which no water passes the lift, since shut-off head falls with speed squared.

    Examples
    --------
    >>> float(lift_speed(0.74, 2.0))
    0.608
    """
    return np.sqrt(lift / shut_off_head)


@formula("density * gravity * flow * head", unit="W", source="hydrostatics")
def hydraulic_power(density: Numeric, flow: Numeric, head: Numeric, gravity: Numeric = STANDARD_GRAVITY) -> Numeric:
    """Power that the water gains [W].

    Examples
    --------
    >>> hydraulic_power(1000.0, 0.00012, 1.5)
    1.765
    """
    return density * gravity * flow * head


@formula("hydraulic_power / (voltage * current)", unit="1", source="hydrostatics")
def wire_to_water_efficiency(hydraulic_power: Numeric, voltage: Numeric, current: Numeric) -> Numeric:
    """Share of the electricity at the motor's terminals that lifts water.

    Examples
    --------
    >>> wire_to_water_efficiency(1.765, 12.0, 0.9)
    0.1634
    """
    return hydraulic_power / (voltage * current)


def pump_head(pump: Pump, flow: Numeric, speed: Numeric) -> NDArray[np.float64]:
    """Head of a pump at a flow and speed ratio [m]; zero speed gives zero head.

    Beyond the end of its curve (zero head) the head is negative: the pump would be a turbine there.
    """
    state = state_flow(flow, speed)
    inside = np.minimum(state, pump.largest_flow)
    head = pump.head_curve(inside) + (state - inside) * pump.end_slope
    return np.asarray(head_at_speed(head, np.asarray(speed, dtype=float)))


def pump_load_current(pump: Pump, flow: Numeric, speed: Numeric) -> NDArray[np.float64]:
    """Load current J of the pump state at that flow and speed, reduced to speed ratio 1 [A]."""
    return np.asarray(pump.load_curve(np.clip(state_flow(flow, speed), 0.0, pump.largest_flow)))


def state_flow(flow: Numeric, speed: Numeric) -> NDArray[np.float64]:
    """Flow over speed ratio [m3/s]: the same for all speeds of one pump state; zero where nothing flows."""
    flow, speed = np.broadcast_arrays(np.asarray(flow, dtype=float), np.asarray(speed, dtype=float))
    return np.divide(flow, speed, out=np.zeros(flow.shape), where=(speed > 0) & (flow > 0))
