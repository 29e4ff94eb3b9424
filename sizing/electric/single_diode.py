"""The diode that stands for the panel: what sun and temperature do to its five parameters.

One silicon diode stands for the whole array: a light current, the diode's own saturation current, a
resistance in series, a leak across the cells. Current and voltage are tied by

    current = light_current - saturation_current (exp(v / thermal_voltage) - 1) - shunt_conductance v,
    v = voltage + current series_resistance     (the voltage at the junction).

Sun here is what reaches the cells: after reflection and soiling.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.constants import (
    BAND_GAP_SILICON,
    BAND_GAP_TEMPERATURE_COEFFICIENT,
    BOLTZMANN_EV,
    REFERENCE_CELL_TEMPERATURE,
    REFERENCE_IRRADIANCE,
)
from sizing.foundation.working import formula

Numeric = float | NDArray[np.float64]


@dataclass(frozen=True)
class Diode:
    """Five parameters of the array at 1000 W/m2 and 25 Cel, and the label's two temperature coefficients.

    ``thermal_voltage`` is ideality x cells in series x kT/q [V]; the coefficients are in A/K and V/K.
    """

    light_current: float
    saturation_current: float
    series_resistance: float
    shunt_resistance: float
    thermal_voltage: float
    isc_temperature_coefficient: float
    voc_temperature_coefficient: float


@dataclass(frozen=True, eq=False)
class Conditions:
    """The diode at some sun and cell temperature; conductance in place of resistance, so no sun is finite."""

    light_current: Numeric
    saturation_current: Numeric
    series_resistance: Numeric
    shunt_conductance: Numeric
    thermal_voltage: Numeric


@formula(
    "irradiance / reference_irradiance * (reference_light_current"
    " + isc_temperature_coefficient * (cell_temperature - reference_cell_temperature))",
    unit="A",
    source="de_soto_2006",
)
def light_current(
    reference_light_current: Numeric,
    isc_temperature_coefficient: Numeric,
    irradiance: Numeric,
    cell_temperature: Numeric,
    reference_irradiance: float = REFERENCE_IRRADIANCE,
    reference_cell_temperature: float = REFERENCE_CELL_TEMPERATURE,
) -> Numeric:
    """Current [A] that the light drives: in proportion to the sun on the cells [W/m2], a little more when warm [Cel].

    Examples
    --------
    >>> light_current(5.0, 0.0025, 500.0, 45.0)
    2.525
    """
    warming = isc_temperature_coefficient * (cell_temperature - reference_cell_temperature)
    return irradiance / reference_irradiance * (reference_light_current + warming)


@formula(
    "reference_saturation_current * ((cell_temperature + 273.15) / (reference_cell_temperature + 273.15))**3"
    " * exp(band_gap / boltzmann * (1 / (reference_cell_temperature + 273.15)"
    " - (1 + band_gap_coefficient * (cell_temperature - reference_cell_temperature)) / (cell_temperature + 273.15)))",
    unit="A",
    source="de_soto_2006",
)
def saturation_current(
    reference_saturation_current: Numeric,
    cell_temperature: Numeric,
    reference_cell_temperature: float = REFERENCE_CELL_TEMPERATURE,
    band_gap: float = BAND_GAP_SILICON,
    band_gap_coefficient: float = BAND_GAP_TEMPERATURE_COEFFICIENT,
    boltzmann: float = BOLTZMANN_EV,
) -> Numeric:
    """Saturation current [A] of the diode; it rises steeply as the cells warm [Cel], which is why warm panels lose volts.

    Examples
    --------
    >>> saturation_current(1e-9, 35.0) / 1e-9
    5.093
    """
    here, there = np.asarray(cell_temperature) + 273.15, reference_cell_temperature + 273.15
    gap = 1 + band_gap_coefficient * (cell_temperature - reference_cell_temperature)
    result = reference_saturation_current * (here / there) ** 3 * np.exp(band_gap / boltzmann * (1 / there - gap / here))
    return result if np.ndim(result) else float(result)


@formula("irradiance / (reference_irradiance * shunt_resistance)", unit="S", source="de_soto_2006")
def shunt_conductance(
    shunt_resistance: Numeric, irradiance: Numeric, reference_irradiance: float = REFERENCE_IRRADIANCE
) -> Numeric:
    """Leak across the cells [S]: in proportion to the sun [W/m2], and nothing in the dark.

    Examples
    --------
    >>> shunt_conductance(148.0, 0.0), shunt_conductance(125.0, 500.0)
    (0.0, 0.004)
    """
    return irradiance / (reference_irradiance * shunt_resistance)


@formula(
    "reference_thermal_voltage * (cell_temperature + 273.15) / (reference_cell_temperature + 273.15)",
    unit="V",
    source="de_soto_2006",
)
def thermal_voltage(
    reference_thermal_voltage: Numeric,
    cell_temperature: Numeric,
    reference_cell_temperature: float = REFERENCE_CELL_TEMPERATURE,
) -> Numeric:
    """Voltage [V] over which the diode's current grows e-fold; in proportion to the absolute temperature of the cells.

    Examples
    --------
    >>> thermal_voltage(0.9762, 45.0)
    1.0417
    """
    return reference_thermal_voltage * (cell_temperature + 273.15) / (reference_cell_temperature + 273.15)


@formula(
    "light_current - saturation_current * (exp(junction_voltage / thermal_voltage) - 1) - shunt_conductance * junction_voltage",
    unit="A",
    source="de_soto_2006",
)
def junction_current(
    light_current: Numeric,
    saturation_current: Numeric,
    shunt_conductance: Numeric,
    thermal_voltage: Numeric,
    junction_voltage: Numeric,
) -> Numeric:
    """Current [A] left over for the wires when the junction stands at a voltage [V].

    Examples
    --------
    >>> float(junction_current(5.0, 1e-9, 0.006, 0.98, 0.0))
    5.0
    """
    lost = saturation_current * np.expm1(junction_voltage / thermal_voltage) + shunt_conductance * junction_voltage
    return light_current - lost


@formula("voc + voc_temperature_coefficient * (cell_temperature - reference_cell_temperature)", unit="V", source="iec_62548")
def cold_open_circuit_voltage(
    voc: Numeric,
    voc_temperature_coefficient: Numeric,
    cell_temperature: Numeric,
    reference_cell_temperature: float = REFERENCE_CELL_TEMPERATURE,
) -> Numeric:
    """Open-circuit voltage [V] from the label's own coefficient [V/K]: the one to judge voltage limits by, at the coldest dawn.

    Examples
    --------
    >>> cold_open_circuit_voltage(21.8, -0.0815, -20.0)
    25.4675
    """
    return voc + voc_temperature_coefficient * (cell_temperature - reference_cell_temperature)


def of_more_current(diode: Diode, factor: float) -> Diode:
    """A panel that gives ``factor`` times the current at every voltage, as more cells side by side would.

    Examples
    --------
    >>> of_more_current(Diode(4.98, 9.69e-10, 0.326, 148.2, 0.976, 0.0025, -0.0815), 2.0).series_resistance
    0.163
    """
    return replace(
        diode,
        light_current=diode.light_current * factor,
        saturation_current=diode.saturation_current * factor,
        series_resistance=diode.series_resistance / factor,
        shunt_resistance=diode.shunt_resistance / factor,
        isc_temperature_coefficient=diode.isc_temperature_coefficient * factor,
    )


def at_conditions(diode: Diode, irradiance: Numeric, cell_temperature: Numeric) -> Conditions:
    """The diode at the given sun [W/m2, 0 or more] and cell temperature [Cel], which broadcast together.

    Examples
    --------
    >>> diode = Diode(4.98, 9.69e-10, 0.326, 148.2, 0.976, 0.0025, -0.0815)
    >>> at_conditions(diode, np.array([0.0, 1000.0]), 25.0).light_current
    array([0.    , 4.98])
    """
    return Conditions(
        light_current(diode.light_current, diode.isc_temperature_coefficient, irradiance, cell_temperature),
        saturation_current(diode.saturation_current, cell_temperature),
        diode.series_resistance,
        shunt_conductance(diode.shunt_resistance, irradiance),
        thermal_voltage(diode.thermal_voltage, cell_temperature),
    )
