"""The water itself: density and viscosity of clean liquid water at the temperature of the basin.

Viscosity falls 2.7-fold between 0 and 40 degrees Celsius, so every friction figure names its temperature.
"""

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.errors import input_error
from sizing.foundation.working import formula

Numeric = float | NDArray[np.float64]

LOWEST_TEMPERATURE = 0.0
"""[Cel] Below it the fountain is ice."""
HIGHEST_TEMPERATURE = 60.0
"""[Cel] A black hose in full sun; both fits hold well above."""


def _refuse_temperature(temperature: Numeric) -> None:
    """Stop where the water is ice or hotter than any garden makes it (not-a-number stops too)."""
    values = np.atleast_1d(np.asarray(temperature, dtype=float))
    outside = ~((values >= LOWEST_TEMPERATURE) & (values <= HIGHEST_TEMPERATURE))
    if outside.any():
        raise input_error(
            "#/water_temperature_c",
            "out_of_range",
            f"water temperature is {values[outside][0]:g} °C; the water table runs from {LOWEST_TEMPERATURE:g} to "
            f"{HIGHEST_TEMPERATURE:g} °C; give the temperature of liquid water in the basin.",
            LOWEST_TEMPERATURE,
            HIGHEST_TEMPERATURE,
        )


@formula(
    "(999.83952 + 16.945176 * temperature - 7.9870401e-3 * temperature**2 - 46.170461e-6 * temperature**3"
    " + 105.56302e-9 * temperature**4 - 280.54253e-12 * temperature**5) / (1 + 16.879850e-3 * temperature)",
    unit="kg/m3",
    source="kell_1975",
)
def density(temperature: Numeric) -> Numeric:
    """Density of air-free water at one atmosphere.

    Parameters
    ----------
    temperature : [Cel] water temperature, 0 to 60

    Returns
    -------
    [kg/m3] Density; source key kell_1975

    Raises
    ------
    InputError
        Where the temperature is outside 0 to 60 Cel.

    Examples
    --------
    >>> density(20.0)
    998.204
    """
    _refuse_temperature(temperature)
    upper = 999.83952 + temperature * (
        16.945176
        + temperature
        * (-7.9870401e-3 + temperature * (-46.170461e-6 + temperature * (105.56302e-9 - temperature * 280.54253e-12)))
    )
    return upper / (1 + 16.879850e-3 * temperature)


@formula(
    "1e-6 * (280.68 * ((temperature + 273.15) / 300)**(-1.9) + 511.45 * ((temperature + 273.15) / 300)**(-7.7)"
    " + 61.131 * ((temperature + 273.15) / 300)**(-19.6) + 0.45903 * ((temperature + 273.15) / 300)**(-40))",
    unit="Pa.s",
    source="iapws_sr6",
)
def viscosity(temperature: Numeric) -> Numeric:
    """Dynamic viscosity of water at 0.1 MPa.

    Parameters
    ----------
    temperature : [Cel] water temperature, 0 to 60

    Returns
    -------
    [Pa.s] Dynamic viscosity; source key iapws_sr6

    Raises
    ------
    InputError
        Where the temperature is outside 0 to 60 Cel.

    Examples
    --------
    >>> 1000 * viscosity(20.0)
    1.0016
    """
    _refuse_temperature(temperature)
    warmth = (temperature + 273.15) / 300
    return 1e-6 * (280.68 * warmth**-1.9 + 511.45 * warmth**-7.7 + 61.131 * warmth**-19.6 + 0.45903 * warmth**-40.0)


@formula("viscosity / density", unit="m2/s", source="hydrostatics")
def kinematic_viscosity(viscosity: Numeric, density: Numeric) -> Numeric:
    """Dynamic viscosity over density, the form that the Reynolds number asks for.

    Parameters
    ----------
    viscosity : [Pa.s] dynamic viscosity, above 0
    density : [kg/m3] density, above 0

    Returns
    -------
    [m2/s] Kinematic viscosity

    Examples
    --------
    >>> 1e6 * kinematic_viscosity(viscosity(20.0), density(20.0))
    1.0034
    """
    return viscosity / density
