"""The cable between panel and pump: its resistance, out and back, and the volts it keeps."""

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.constants import COPPER_TEMPERATURE_COEFFICIENT
from sizing.foundation.errors import input_error
from sizing.foundation.tables import CONDUCTOR_RESISTANCE
from sizing.foundation.units import SQUARE_MILLIMETRE
from sizing.foundation.working import formula

Numeric = float | NDArray[np.float64]

SMALLEST_AREA, LARGEST_AREA = 0.2e-6, 35e-6
"""[m2] Below the table's 0.5 mm2, resistance times area is held; thinner wire breaks in a garden."""
COLDEST_CONDUCTOR, HOTTEST_CONDUCTOR = -40.0, 120.0
"""[Cel] 120 is the most that cable made for panels is rated for (EN 50618, from memory)."""
TABLE_TEMPERATURE = 20.0
"""[Cel] at which the conductor table holds."""


def resistance_per_length(area: float) -> float:
    """Resistance of one flexible copper conductor at 20 Cel [ohm/m], from the conductor table (iec_60228).

    Resistance times area, nearly constant, is interpolated between the table's sizes and held at its ends.

    Parameters
    ----------
    area : [m2] 0.2e-6..35e-6

    Raises
    ------
    InputError
        if the area lies outside.

    Examples
    --------
    >>> resistance_per_length(1.5e-6), resistance_per_length(0.3e-6)
    (0.0133, 0.065)
    """
    # A product such as 35 * 1e-6 may differ from 35e-6 in its last bit.
    if not SMALLEST_AREA * (1 - 1e-9) <= area <= LARGEST_AREA * (1 + 1e-9):
        detail = (
            f"cable area is {area / SQUARE_MILLIMETRE:.4g} mm2; the conductor table runs from 0.2 to 35 mm2; "
            "take the area printed on the cable, of one conductor"
        )
        raise input_error("#/cable/area_mm2", "out_of_range", detail, 0.2, 35)
    sizes = np.array([size for size, _ in CONDUCTOR_RESISTANCE])
    products = sizes * np.array([float(resistance) for _, resistance in CONDUCTOR_RESISTANCE])
    return float(np.interp(area, sizes, products) / area)


@formula(
    "2 * length * resistance_per_length * (1 + temperature_coefficient * (conductor_temperature - 20))",
    unit="Ohm",
    source="iec_60228",
)
def loop_resistance(
    length: Numeric,
    resistance_per_length: Numeric,
    conductor_temperature: Numeric,
    temperature_coefficient: float = COPPER_TEMPERATURE_COEFFICIENT,
) -> Numeric:
    """Resistance [ohm] out and back of a cable so long one way [m], at the temperature [Cel] of its copper.

    Examples
    --------
    >>> loop_resistance(10.0, 0.0133, 40.0)
    0.2869
    """
    warm = 1 + temperature_coefficient * (conductor_temperature - TABLE_TEMPERATURE)
    return 2 * length * resistance_per_length * warm


def cable_resistance(length: float, area: float, conductor_temperature: float) -> float:
    """Resistance [ohm] of a two-core cable, out and back.

    Parameters
    ----------
    length : [m] one way, 0 or more
    area : [m2] of one conductor, 0.2e-6..35e-6
    conductor_temperature : [Cel] -40..120; copper in the sun is warmer than the air

    Raises
    ------
    InputError
        if one of them lies outside.

    Examples
    --------
    >>> cable_resistance(10.0, 1.5e-6, 20.0)
    0.266
    """
    if not 0 <= length < np.inf:
        detail = f"cable length is {length:.4g} m; it runs from 0 m upwards; measure one way, from panel to pump"
        raise input_error("#/cable/length_m", "out_of_range", detail, 0)
    if not COLDEST_CONDUCTOR <= conductor_temperature <= HOTTEST_CONDUCTOR:
        detail = (
            f"conductor temperature is {conductor_temperature:.4g} °C; copper in a garden cable lies between -40 and 120 °C; "
            "40 °C is usual"
        )
        raise input_error("#/cable/conductor_temperature_c", "out_of_range", detail, COLDEST_CONDUCTOR, HOTTEST_CONDUCTOR)
    return float(loop_resistance(length, resistance_per_length(area), conductor_temperature))


@formula("current * resistance", unit="V", source="ohms_law")
def voltage_drop(current: Numeric, resistance: Numeric) -> Numeric:
    """Voltage [V] that the cable keeps for itself at a current [A] through its resistance [ohm].

    Examples
    --------
    >>> voltage_drop(2.0, 0.266)
    0.532
    """
    return current * resistance
