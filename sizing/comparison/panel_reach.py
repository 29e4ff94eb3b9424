"""Which steps of a goal's window panels of some watts reach with a pump: from the flow's own point of volts and amperes, or
from the whole grid."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.comparison.draw import Draw
from sizing.comparison.pairs import ConnectionKind
from sizing.electric.panel import maximum_power
from sizing.electric.single_diode import Diode, at_conditions, of_more_current
from sizing.hydraulic.pump import Pump
from sizing.light.irradiance import PlaneSun
from sizing.operation.goal import FlowBand, Goal, day_shares, enough_days, in_window, reaching
from sizing.operation.load_line import PipeSystem
from sizing.operation.operating_point import CELL_TEMPERATURES, NEVER, Supply, flow_alone, irradiance_needed, solve_grid
from sizing.operation.year import DAYS_IN_YEAR, month_of_day
from sizing.sky.weather import Sky

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Window:
    """Steps of a goal's hours and months: their day 0..364, sun on the cells [W/m2], cell temperature [Cel]; month of each
    day of the year, and how many of these steps it has."""

    goal: Goal
    day: NDArray[np.int64]
    irradiance: Array
    cell_temperature: Array
    month_of_day: NDArray[np.int64]
    asked: NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class PanelString:
    """Panels of the design in one string: the panel's id, volts at maximum power [V] and watts [W] at standard test
    conditions, the diode, and the maximum power at each step of the window [W] with the volts at it [V]."""

    panel: str
    volts: float
    watts: float
    diode: Diode
    power: Array
    held: Array


@dataclass(frozen=True)
class Joint:
    """A connection: resistance of the cable [Ohm], the controller's efficiency (``None``: direct), and whether it raises
    the panel's voltage too."""

    kind: ConnectionKind
    cable: float
    efficiency: float | None
    steps_up: bool = True


def window_of(goal: Goal, sky: Sky, sun: PlaneSun) -> Window:
    """The steps in which a goal counts."""
    inside = np.flatnonzero(in_window(goal, sky))
    asked = np.bincount(sky.day[inside], minlength=DAYS_IN_YEAR)
    return Window(goal, sky.day[inside], sun.effective[inside], sun.cell_temperature[inside], month_of_day(sky), asked)


def shares_of(window: Window, reached: Mask) -> dict[int, float]:
    """Share of the days of each month that count, if these steps of the window are reached."""
    counted = np.bincount(window.day[reached], minlength=DAYS_IN_YEAR)
    return day_shares(window.goal, window.month_of_day, counted, window.asked)


def meets(window: Window, reached: Mask) -> bool:
    """Whether enough days of every month reach it."""
    return enough_days(window.goal, shares_of(window, reached))


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


def reached_stepped_down(window: Window, draw: Draw, cable: float, efficiency: float, string: PanelString, watts: float) -> Mask:
    """The same behind a controller that only lowers the voltage: where the panel's volts do not suffice, as if joined
    directly with the controller's loss."""
    by_power = reached_controlled(draw, cable, efficiency, string, watts)
    enough = draw.voltage[-1] + draw.current[-1] * cable <= string.held
    return by_power & (enough | reached_directly(window, draw, cable, string, efficiency * watts))


def string_of(panel: str, diode: Diode, volts: float, watts: float, window: Window) -> PanelString:
    """A string with its maximum power through the window."""
    lit = window.irradiance > 0
    power, held = np.zeros((2, len(lit)))
    power[lit], held[lit] = maximum_power(at_conditions(diode, window.irradiance[lit], window.cell_temperature[lit]))[:2]
    return PanelString(panel, volts, watts, diode, power, held)


def supply_of_watts(string: PanelString, watts: float, joint: Joint) -> Supply:
    """Panel of so many watts, cable and controller."""
    return Supply(of_more_current(string.diode, watts / string.watts), joint.cable, joint.efficiency, joint.steps_up)


def reached_on_grid(window: Window, supply: Supply, pump: Pump, waterway: PipeSystem, band: FlowBand) -> Mask:
    """Steps of the window that reach a goal, as a sizing finds them."""
    solved = solve_grid(supply, pump, waterway)
    return reaching(flow_alone(solved, window.irradiance, window.cell_temperature), band)
