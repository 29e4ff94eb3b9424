"""A panel behind a controller that needs less than the panel has: where on its curve it then stands."""

import numpy as np
from numpy.typing import NDArray

from sizing.electric.panel import maximum_power, open_circuit_voltage, plain
from sizing.electric.single_diode import Conditions, junction_current

Array = NDArray[np.float64]


def through_junction(conditions: Conditions, junction: Array) -> Array:
    """Current that leaves the panel at a voltage of its junction [A]."""
    leak, scale = conditions.shunt_conductance, conditions.thermal_voltage
    return np.asarray(junction_current(conditions.light_current, conditions.saturation_current, leak, scale, junction))


def point_above_mpp(conditions: Conditions, power: Array | float) -> tuple[Array | float, Array | float]:
    """Voltage [V] and current [A] of a panel that gives less power [W] than it could: beyond its best volts.

    A controller that needs less lets the volts rise (common practice, no source). A power that is all the panel has, or
    more, gives the maximum power point; none gives the open circuit. Halving along the junction voltage, 44 times.

    Examples
    --------
    >>> from sizing.electric.single_diode import Diode, at_conditions
    >>> panel = at_conditions(Diode(4.98, 9.69e-10, 0.326, 148.2, 0.976, 0.0025, -0.0815), 1000.0, 25.0)
    >>> volts, amperes = point_above_mpp(panel, 40.0)
    >>> volts, volts * amperes
    (20.6, 40.0)
    """
    most, best, current = (np.asarray(each) for each in maximum_power(conditions))
    low = best + current * conditions.series_resistance + np.zeros(np.shape(power))
    high = np.asarray(open_circuit_voltage(conditions)) + np.zeros(low.shape)
    for _ in range(44):
        junction = (low + high) / 2
        flowing = through_junction(conditions, junction)
        more = (junction - flowing * conditions.series_resistance) * flowing > power
        low, high = np.where(more, junction, low), np.where(more, high, junction)
    less = np.asarray(power) < most
    flowing = np.where(less, np.maximum(through_junction(conditions, low), 0.0), current)
    voltage = np.where(less, low - flowing * conditions.series_resistance, best)
    return plain(voltage), plain(flowing)
