"""Cables as shops sell them: square millimetres and American wire gauge, each with the resistance of its own table."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sizing.electric.wiring import cable_resistance, loop_resistance
from sizing.foundation.constants import COPPER_TEMPERATURE_COEFFICIENT
from sizing.foundation.formats import quantity
from sizing.foundation.tables import CONDUCTOR_RESISTANCE, GAUGE_RESISTANCE, GAUGE_TABLE_TEMPERATURE
from sizing.foundation.units import SQUARE_MILLIMETRE
from sizing.foundation.working import formula

Numeric = float | NDArray[np.float64]
Family = Literal["iec", "awg"]


@dataclass(frozen=True)
class CableSize:
    """A size of cable: what it is called, whose it is ("awg" is American wire gauge), and the area of one conductor [m2].

    ``gauge`` is the number of the American wire gauge, ``None`` for square millimetres.
    """

    name: str
    family: Family
    area: float
    gauge: int | None = None


@formula("pi / 4 * (0.000127 * 92**((36 - gauge) / 39))**2", unit="m2", source="astm_b258")
def wire_gauge_area(gauge: Numeric) -> Numeric:
    """Area [m2] of solid wire of an American wire gauge: 0.005 inch at 36, 0.46 inch at 0000, in even ratios between.

    Examples
    --------
    >>> wire_gauge_area(14.0) * 1e6
    2.081
    """
    return np.pi / 4 * (0.000127 * 92 ** ((36 - gauge) / 39)) ** 2


@formula("table_resistance / (1 + temperature_coefficient * (table_temperature - 20))", unit="Ohm/m", source="iec_60228")
def resistance_at_20(
    table_resistance: Numeric, table_temperature: Numeric, temperature_coefficient: float = COPPER_TEMPERATURE_COEFFICIENT
) -> Numeric:
    """Resistance of one conductor at 20 Cel [ohm/m], from a table [ohm/m] that holds at another temperature [Cel].

    Examples
    --------
    >>> resistance_at_20(0.0103, 75.0)
    0.00847
    """
    return table_resistance / (1 + temperature_coefficient * (table_temperature - 20))


def gauge_cable_resistance(length: float, gauge: int, conductor_temperature: float) -> float:
    """Resistance [ohm] out and back of a two-core cable of an American wire gauge, stranded copper (nec_table_8).

    Parameters
    ----------
    length : [m] one way, 0 or more
    gauge : one of 18, 16, 14, 12, 10, 8, 6, 4, 2
    conductor_temperature : [Cel] -40..120

    Examples
    --------
    >>> gauge_cable_resistance(10.0, 14, 40.0)
    0.1827
    """
    cold = resistance_at_20(float(GAUGE_RESISTANCE[gauge]), float(GAUGE_TABLE_TEMPERATURE))
    return float(loop_resistance(length, cold, conductor_temperature))


def size_resistance(size: CableSize, length: float, conductor_temperature: float) -> float:
    """Resistance [ohm] out and back of a cable of some size, so long one way [m], at the temperature [Cel] of its copper.

    Examples
    --------
    >>> size_resistance(metric_size(1.5e-6), 10.0, 40.0)
    0.2869
    """
    if size.gauge is None:
        return cable_resistance(length, size.area, conductor_temperature)
    return gauge_cable_resistance(length, size.gauge, conductor_temperature)


def metric_size(area: float) -> CableSize:
    """A size in square millimetres; any area [m2] within the limits of ``wiring``, of the standard or between.

    Examples
    --------
    >>> metric_size(1.5e-6).name
    '1.5\\xa0mm²'
    """
    return CableSize(quantity(area / SQUARE_MILLIMETRE, "mm2"), "iec", area)


def gauge_size(gauge: int) -> CableSize:
    """A size of the American wire gauge.

    Examples
    --------
    >>> gauge_size(14).name
    'AWG 14'
    """
    return CableSize(f"AWG {gauge}", "awg", float(wire_gauge_area(float(gauge))), gauge)


METRIC_SIZES = tuple(metric_size(area) for area, _ in CONDUCTOR_RESISTANCE)
"""Sizes of IEC 60228 from 0.5 to 35 mm2, thinnest first."""
GAUGE_SIZES = tuple(gauge_size(gauge) for gauge in GAUGE_RESISTANCE)
"""American wire gauge from 18 to 2, thinnest first."""
