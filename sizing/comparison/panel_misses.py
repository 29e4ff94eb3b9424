"""Why no panel brings a pump to the goal: what stands in the way whatever its size, in words with numbers."""

from dataclasses import dataclass
from enum import IntEnum

import numpy as np

from sizing.comparison.panel_watts import MOST_WATTS, Draw, Mask, PanelString, Window, day_shares, sun_asked
from sizing.electric.panel import open_circuit_voltage
from sizing.electric.single_diode import at_conditions
from sizing.foundation.formats import MONTHS, figures, length, quantity
from sizing.foundation.units import LITRE_PER_MINUTE
from sizing.hydraulic.outlet import jet_height
from sizing.operation.load_line import PipeSystem
from sizing.operation.operating_point import CELL_TEMPERATURES

WARM_CELLS = 50.0
"""[Cel] Cells in bright summer sun."""
BRIGHT = 1000.0
"""[W/m2] Bright sun."""


class Hindrance(IntEnum):
    """What keeps a pump from the goal; the nearest miss last."""

    PUMP = 0
    PANEL_VOLTS = 1
    NO_SUN = 2
    DULL_DAYS = 3
    OVER_VOLTAGE = 4


@dataclass(frozen=True)
class Miss:
    """Why the panels of one voltage do not do with one connection; of several, that with the largest hindrance, then the
    nearest, is told."""

    hindrance: Hindrance
    near: float
    sentence: str


def pump_miss(draw: Draw, waterway: PipeSystem, goal_is_jet: bool, controlled: bool) -> Miss | None:
    """The pump does not reach the flow at the highest voltage it may have, or that a controller gives it."""
    pump = draw.pump
    most, name = (pump.rated_voltage, "rated voltage") if controlled else (pump.highest_voltage, "highest voltage")
    if most is None or draw.voltage[-1] <= most * (1 + 1e-9):
        return None
    flow = float(np.interp(most, np.maximum.accumulate(draw.voltage), draw.flow))
    if flow <= 0:
        comes = f"it cannot lift the water {length(waterway.outlet.height)}"
    elif goal_is_jet:
        comes = f"its jet reaches {length(float(jet_height(waterway.outlet, flow)))}"
    else:
        comes = f"it moves {quantity(flow / LITRE_PER_MINUTE, 'l/min', 2)}"
    ending = ", which is all that a controller gives" if controlled else ""
    return Miss(Hindrance.PUMP, flow, f"No panel does: at its {name} of {quantity(most, 'V')}{ending}, {comes}.")


def volts_miss(draw: Draw, cable: float, string: PanelString) -> Miss | None:
    """Panels of these volts do not hold the voltage that the flow asks, however large, in bright sun on warm cells."""
    asked = sun_asked(draw, cable, string.diode, MOST_WATTS / string.watts)
    if np.interp(WARM_CELLS, CELL_TEMPERATURES, asked) <= BRIGHT:
        return None
    wanted = float(draw.voltage[-1])
    held = float(open_circuit_voltage(at_conditions(string.diode, BRIGHT, WARM_CELLS)))
    text = (
        f"No panel with these volts does: the pump asks {quantity(wanted, 'V')} for it, and in bright sun on warm cells "
        f"panel {string.panel} has at most {quantity(held, 'V')}, even without load."
    )
    return Miss(Hindrance.PANEL_VOLTS, held / wanted, text)


def days_miss(window: Window, reached: Mask) -> Miss:
    """The largest panel reaches the goal on too few days; ``reached`` are its steps of the window."""
    lit = day_shares(window, window.irradiance > 0)
    sunless = min(lit.values()) < window.goal.day_share
    share = lit if sunless else day_shares(window, reached)
    month = min(share, key=lambda number: (share[number], number))
    days = f"{figures(10 * share[month], 2)} of 10 days in {MONTHS[month - 1]}"
    if sunless:
        text = f"No panel does: the sun is on it through all of the hours asked for on only {days}."
        return Miss(Hindrance.NO_SUN, share[month], text)
    text = f"No panel up to {MOST_WATTS} W does: even that reaches it on only {days}, as the others are too dull."
    return Miss(Hindrance.DULL_DAYS, share[month], text)


def over_voltage_miss(draw: Draw, string: PanelString, watts: int, hours: float) -> Miss:
    """It would do, above the pump's highest voltage."""
    highest = quantity(draw.pump.highest_voltage or 0.0, "V")
    text = (
        f"No panel with these volts does: {quantity(watts, 'W')} with the volts of panel {string.panel} would reach it, but run "
        f"the pump above its highest voltage of {highest} for {figures(hours)} hours a year."
    )
    return Miss(Hindrance.OVER_VOLTAGE, -hours, text)
