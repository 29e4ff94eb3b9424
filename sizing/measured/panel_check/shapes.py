"""How a panel's curve looks when something is wrong with it: one part of it shaded or missing, or a bad joint.

Cells in series share one current. A part in the shade holds the others back to its own current; where a bypass diode leads
round that part, the others go on without its volts instead, which makes a step in the curve. A bad joint takes volts in
proportion to the current.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sizing.design.design import PanelInput
from sizing.electric.panel import open_circuit_voltage, through_current
from sizing.electric.single_diode import Conditions, Diode

Array = NDArray[np.float64]
Numeric = float | Array

BYPASS_DROP = 0.5
"""[V] A bypass diode that conducts (common practice, no source)."""
USUAL_CELL = 0.6
"""[V] Open-circuit voltage of one silicon cell (common practice, no source)."""


@dataclass(frozen=True)
class Labelled:
    """The array as its label has it: its diode, panels in a string and strings, cells in a string, open circuit [V],
    short circuit [A], share of the volts lost by each kelvin [1/K]."""

    diode: Diode
    in_series: int
    in_parallel: int
    cells: int
    voc: float
    isc: float
    voc_coefficient: float


def labelled(panel: PanelInput, diode: Diode) -> Labelled:
    """The array of a design's panels.

    Parameters
    ----------
    diode : of the whole array
    """
    return Labelled(
        diode,
        panel.in_series,
        panel.in_parallel,
        panel.in_series * max(round(panel.voc_v / USUAL_CELL), 1),
        panel.voc_v * panel.in_series,
        panel.isc_a * panel.in_parallel,
        panel.voc_temperature_coefficient_pct_per_c / 100,
    )


def voltage_at_current(conditions: Conditions, current: Numeric) -> Array:
    """Voltage [V] at a current [A, 0 or more]; NaN where the panel has not so much.

    A panel that gives a current stands like one at open circuit with that much less light.

    Examples
    --------
    >>> from sizing.electric.single_diode import at_conditions
    >>> sun = at_conditions(Diode(4.98, 9.69e-10, 0.326, 148.2, 0.976, 0.0025, -0.0815), 1000.0, 25.0)
    >>> [round(float(volts), 2) for volts in voltage_at_current(sun, np.array([0.0, 4.579, 6.0]))]
    [21.79, 17.5, nan]
    """
    left = np.asarray(conditions.light_current) - current
    junction = np.asarray(open_circuit_voltage(replace(conditions, light_current=np.maximum(left, 0.0))))
    return np.where(left > 0, junction - current * conditions.series_resistance, np.nan)


def with_resistance(conditions: Conditions, voltage: Numeric, resistance: Numeric) -> Array:
    """Current [A] at a voltage [V] with leads and joints of a resistance [ohm] in the way.

    Examples
    --------
    >>> from sizing.electric.single_diode import at_conditions
    >>> sun = at_conditions(Diode(4.98, 9.69e-10, 0.326, 148.2, 0.976, 0.0025, -0.0815), 1000.0, 25.0)
    >>> with_resistance(sun, 17.5 - 1.0 * 4.579, 1.0)
    array(4.579)
    """
    return through_current(replace(conditions, series_resistance=conditions.series_resistance + resistance), voltage)


def held_current(conditions: Conditions, voltage: Numeric, parts: int, light: Numeric) -> Array:
    """Current [A] at a voltage [V] of a string of equal parts one of which has only a share of the light, and no bypass.

    With the diode alone, the parts' volts add up to those of the whole string where the product of what each has left of
    its light is the same: (1 - i)^(parts - 1) (light - i) = d^parts, i the current over the light current and d what the
    string without shade would have left at the same volts. Newton in the logarithm of light - i, where the equation bends
    one way only and the start lies on the far side, so that every step falls short of overshooting.

    Parameters
    ----------
    parts : 1 or more; one part is the whole string
    light : share of the light on the shaded part, above 0 to 1

    Examples
    --------
    >>> from sizing.electric.single_diode import at_conditions
    >>> sun = at_conditions(Diode(4.98, 9.69e-10, 0.326, 148.2, 0.976, 0.0025, -0.0815), 1000.0, 25.0)
    >>> float(held_current(sun, 17.5, 36, 1.0)), float(held_current(sun, 17.5, 36, 0.5))
    (4.578, 2.426)
    """
    label = through_current(conditions, voltage)
    junction = voltage + label * conditions.series_resistance
    lit = conditions.light_current + conditions.saturation_current - conditions.shunt_conductance * junction
    lit = np.maximum(lit, 1e-12)
    behind = np.log(conditions.saturation_current / lit) + junction / conditions.thermal_voltage
    resistance = lit * conditions.series_resistance / conditions.thermal_voltage
    share = label / lit
    left = behind + np.zeros(np.shape(light))
    for _ in range(12):
        gap = np.exp(left)
        others = 1 - light + gap
        miss = ((parts - 1) * np.log(others) + left) / parts - behind - (light - gap - share) * resistance
        step = miss / (((parts - 1) * gap / others + 1) / parts + gap * resistance)
        left = left - step
        if np.all(np.abs(step) < 1e-9):
            break
    return np.asarray(lit * (light - np.exp(left)))


def without_part(conditions: Conditions, voltage: Numeric, parts: int) -> Array:
    """Current [A] at a voltage [V] of a string one of whose equal parts is led round by its bypass diode."""
    rest = (parts - 1) / parts
    others = replace(
        conditions,
        series_resistance=conditions.series_resistance * rest,
        shunt_conductance=conditions.shunt_conductance / rest,
        thermal_voltage=conditions.thermal_voltage * rest,
    )
    return through_current(others, voltage + BYPASS_DROP)


def bypassed_current(conditions: Conditions, voltage: Numeric, parts: int, light: Numeric) -> Array:
    """Current [A] at a voltage [V] of a string one of whose equal parts is shaded and has a bypass diode.

    The diode conducts where that gives more: a step. One part alone has no others to go on without it.

    Examples
    --------
    >>> from sizing.electric.single_diode import at_conditions
    >>> sun = at_conditions(Diode(4.98, 9.69e-10, 0.326, 148.2, 0.976, 0.0025, -0.0815), 1000.0, 25.0)
    >>> bypassed_current(sun, np.array([6.0, 16.0]), 2, 0.5)
    array([4.879, 2.430])
    """
    held = held_current(conditions, voltage, parts, light)
    return held if parts == 1 else np.maximum(held, without_part(conditions, voltage, parts))
