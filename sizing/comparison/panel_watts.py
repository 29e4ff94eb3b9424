"""How many watts of panel a pump needs to reach a goal: a panel with given volts, its current scaled.

Pump, pipe and outlet ask one point of volts and amperes for a flow, whatever the panel. A panel with a times the
current drives it in the sun in which the unscaled panel would drive an a-th part of that current; so the sun that a
size of panel needs is known without solving its grid, and the least watts are found by halving. What is found is
settled by the grid itself.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.electric.panel import maximum_power
from sizing.electric.single_diode import Diode, at_conditions, of_more_current
from sizing.hydraulic.pump import Pump
from sizing.light.irradiance import PlaneSun
from sizing.operation.goal import ROUNDING, Goal, in_window
from sizing.operation.load_line import PipeSystem, load_line, speed_at, system_head
from sizing.operation.operating_point import CELL_TEMPERATURES, NEVER, Supply, flow_alone, irradiance_needed, solve_grid
from sizing.operation.year import DAYS_IN_YEAR, month_of_day
from sizing.sky.weather import Sky

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

MOST_WATTS = 1000
"""[W] The largest panel that is looked for."""
FASTEST = 100.0
"""[1] Speed ratio that no motor reaches; the search for a speed stays below it."""


@dataclass(frozen=True, eq=False)
class Window:
    """Steps of a goal's hours and months: their day 0..364, sun on the cells [W/m2], cell temperature [Cel]; month of each
    day of the year, and the share of days that must reach it."""

    goal: Goal
    day: NDArray[np.int64]
    irradiance: Array
    cell_temperature: Array
    month_of_day: NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Draw:
    """What a flow asks of a supply: the motor's voltages [V] and currents [A] and the flows [m3/s] from standstill up to
    it; at the last it is reached, and the pump's lowest voltage too."""

    pump: Pump
    voltage: Array
    current: Array
    flow: Array


@dataclass(frozen=True, eq=False)
class PanelString:
    """Panels of the design in one string: the panel's id, volts at maximum power [V] and watts [W] at standard test
    conditions, the diode, and the maximum power at each step of the window [W]."""

    panel: str
    volts: float
    watts: float
    diode: Diode
    power: Array


def window_of(goal: Goal, sky: Sky, sun: PlaneSun) -> Window:
    """The steps in which a goal counts."""
    inside = np.flatnonzero(in_window(goal, sky))
    return Window(goal, sky.day[inside], sun.effective[inside], sun.cell_temperature[inside], month_of_day(sky))


def day_shares(window: Window, reached: Mask) -> dict[int, float]:
    """Share of the days of each month on which every step of the window is reached."""
    spoilt = np.bincount(window.day[~reached], minlength=DAYS_IN_YEAR) > 0
    return {month: float(np.mean(~spoilt[window.month_of_day == month])) for month in window.goal.months}


def meets(window: Window, reached: Mask) -> bool:
    """Whether enough days of every month reach it."""
    return min(day_shares(window, reached).values()) >= window.goal.day_share - ROUNDING


def draw_of(pump: Pump, waterway: PipeSystem, flow: float) -> Draw:
    """What a flow [m3/s, above 0] asks of a supply.

    Raises
    ------
    SizingError
        if the outlet's formula does not reach so far.
    """
    wanted = np.array([flow])
    speed = float(speed_at(pump, wanted, system_head(waterway, wanted), FASTEST)[0])
    line = load_line(pump, waterway, max(speed, pump.lowest_voltage / pump.motor.back_emf))
    short = (line.flow < flow * (1 - ROUNDING)) | (line.voltage < pump.lowest_voltage)
    last = min(int(np.flatnonzero(short)[-1]) + 1, len(line.speed) - 1)
    share = max(portion(line.flow, last, flow), portion(line.voltage, last, pump.lowest_voltage))
    return Draw(pump, *(up_to(values, last, share) for values in (line.voltage, line.current, line.flow)))


def portion(values: Array, last: int, wanted: float) -> float:
    """How far before node ``last`` a value is reached, from 0 at the node before to 1."""
    gap = float(values[last] - values[last - 1])
    return float(np.clip((wanted - values[last - 1]) / gap, 0.0, 1.0)) if gap > 0 else 0.0


def up_to(values: Array, last: int, share: float) -> Array:
    """The nodes before ``last``, and one more at that share of the way to it."""
    return np.append(values[:last], values[last - 1] + share * (values[last] - values[last - 1]))


def sun_asked(draw: Draw, cable_resistance: float, panel: Diode, factor: float) -> Array:
    """Sun [W/m2] in which a panel of ``factor`` times the current drives the flow directly, at ``CELL_TEMPERATURES``."""
    motor, warmth = draw.pump.motor, CELL_TEMPERATURES
    terminal = draw.voltage + draw.current * cable_resistance
    driven = irradiance_needed(panel, warmth[:, None], terminal, draw.current / factor).max(axis=1)
    standing = motor.starting_current * (motor.winding_resistance + cable_resistance)
    starting = irradiance_needed(panel, warmth, standing, motor.starting_current / factor)
    return np.asarray(np.minimum(np.maximum(driven, starting), NEVER))


def reached_directly(window: Window, draw: Draw, cable: float, string: PanelString, watts: float) -> Mask:
    """Steps of the window in which a panel of so many watts drives the flow, joined directly."""
    asked = sun_asked(draw, cable, string.diode, watts / string.watts)
    return np.asarray(window.irradiance >= np.interp(window.cell_temperature, CELL_TEMPERATURES, asked))


def reached_controlled(draw: Draw, cable: float, efficiency: float, string: PanelString, watts: float) -> Mask:
    """The same behind a controller: where the power does that the flow takes, and that starts the motor."""
    motor = draw.pump.motor
    taken = float(np.max((draw.voltage + draw.current * cable) * draw.current))
    starting = motor.starting_current**2 * (motor.winding_resistance + cable)
    return np.asarray(efficiency * string.power * watts / string.watts >= max(taken, starting))


def string_of(panel: str, diode: Diode, volts: float, watts: float, window: Window) -> PanelString:
    """A string with its maximum power through the window."""
    lit = window.irradiance > 0
    power = np.zeros(len(lit))
    power[lit] = maximum_power(at_conditions(diode, window.irradiance[lit], window.cell_temperature[lit]))[0]
    return PanelString(panel, volts, watts, diode, power)


def supply_of_watts(string: PanelString, watts: float, cable: float, efficiency: float | None) -> Supply:
    """Panel of so many watts, cable and controller."""
    return Supply(of_more_current(string.diode, watts / string.watts), cable, efficiency)


def reached_on_grid(window: Window, supply: Supply, pump: Pump, waterway: PipeSystem, flow: float) -> Mask:
    """Steps of the window that reach a flow, as a sizing finds them."""
    solved = solve_grid(supply, pump, waterway)
    return np.asarray(flow_alone(solved, window.irradiance, window.cell_temperature) >= flow)


def least_watts(met: Callable[[int], bool], most: int) -> int | None:
    """Least whole watts that do, 1 to ``most``, if more never do less; ``None`` where none does.

    Examples
    --------
    >>> least_watts(lambda watts: watts >= 37, 1000), least_watts(lambda watts: False, 1000)
    (37, None)
    """
    if most < 1 or not met(most):
        return None
    return halved(met, 0, most)


def halved(met: Callable[[int], bool], low: int, high: int) -> int:
    """Least number above ``low``, which does not do, up to ``high``, which does."""
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if met(middle) else (middle, high)
    return high


def settled(guess: int, met: Callable[[int], bool], most: int) -> int | None:
    """As ``least_watts`` from a guess: where the guess is right, it is asked about that and one less.

    Examples
    --------
    >>> settled(37, lambda watts: watts >= 37, 1000), settled(31, lambda watts: watts >= 37, 1000)
    (37, 37)
    >>> settled(45, lambda watts: watts >= 37, 1000), settled(990, lambda watts: False, 1000)
    (37, None)
    """
    stride = 1
    if met(guess):
        high, low = guess, guess - 1
        while low > 0 and met(low):
            high, stride = low, 2 * stride
            low = max(high - stride, 0)
        return halved(met, low, high)
    low, high = guess, min(guess + 1, most)
    while low < most and not met(high):
        low, stride = high, 2 * stride
        high = min(low + stride, most)
    return halved(met, low, high) if low < most else None
