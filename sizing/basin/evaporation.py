"""Water that the air takes from open water, by Penman's combination of what the sun gives and what the wind carries off.

No heat is stored from month to month: a basin is shallow. Radiation is the mean of 24 hours.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.constants import (
    FAO_STEFAN_BOLTZMANN,
    LAPSE_RATE,
    LATENT_HEAT,
    PSYCHROMETER,
    SEA_LEVEL_PRESSURE,
    WATER_ALBEDO,
)
from sizing.foundation.formats import MONTHS
from sizing.foundation.working import Worked, assumed, by_method, formula, work
from sizing.place.place import Place
from sizing.sky.solar_position import DAYS_IN_YEAR, month_mean, monthly_extraterrestrial
from sizing.sky.weather import Sky

Numeric = float | NDArray[np.float64]
Array = NDArray[np.float64]

WIND = {"sheltered": 1.0, "open": 2.0, "exposed": 4.0}
"""[m/s] Mean wind 2 m above ground: 2 is the world-wide mean to be taken without measurements (fao_56); the others lie in
the middle of its light and its strong winds, from memory."""
DEW_POINT = "Taken as the month's mean of the lowest temperature of the day, as FAO-56 advises where humidity is not known."


@formula("610.8 * exp(17.27 * temperature / (temperature + 237.3))", unit="Pa", source="fao_56")
def saturation_vapour_pressure(temperature: Numeric) -> Numeric:
    """Pressure of water vapour in air that can hold no more [Pa], at a temperature [Cel, above -50].

    Examples
    --------
    >>> float(saturation_vapour_pressure(21.5))
    2564.
    """
    return 610.8 * np.exp(17.27 * temperature / (temperature + 237.3))


@formula("(saturation_at_lowest + saturation_at_highest) / 2", unit="Pa", source="fao_56")
def mean_saturation_pressure(saturation_at_lowest: Numeric, saturation_at_highest: Numeric) -> Numeric:
    """Mean vapour pressure at saturation of a day [Pa] from that at its lowest and at its highest temperature [Pa].

    Examples
    --------
    >>> mean_saturation_pressure(1431.0, 2564.0)
    1997.5
    """
    return (saturation_at_lowest + saturation_at_highest) / 2


@formula("4098 * saturation_vapour_pressure / (temperature + 237.3)**2", unit="Pa/K", source="fao_56")
def vapour_slope(saturation_vapour_pressure: Numeric, temperature: Numeric) -> Numeric:
    """Rise of the saturated vapour pressure with each degree [Pa/K]; pressure [Pa] at the same temperature [Cel].

    Examples
    --------
    >>> vapour_slope(1925.0, 16.9)
    122.0
    """
    return 4098 * saturation_vapour_pressure / (temperature + 237.3) ** 2


@formula("sea_level_pressure * ((293 - lapse_rate * elevation) / 293)**5.26", unit="Pa", source="fao_56")
def air_pressure(elevation: Numeric, sea_level_pressure: float = SEA_LEVEL_PRESSURE, lapse_rate: float = LAPSE_RATE) -> Numeric:
    """Mean pressure of the air [Pa] at an elevation [m].

    Examples
    --------
    >>> air_pressure(100.0)
    100123.
    """
    return sea_level_pressure * ((293 - lapse_rate * elevation) / 293) ** 5.26


@formula("psychrometer * air_pressure", unit="Pa/K", source="fao_56")
def psychrometric_constant(air_pressure: Numeric, psychrometer: float = PSYCHROMETER) -> Numeric:
    """Vapour pressure that weighs as much as one degree of the air [Pa/K]; air pressure [Pa].

    Examples
    --------
    >>> psychrometric_constant(100123.0)
    66.58
    """
    return psychrometer * air_pressure


@formula("(1 - albedo) * mean_sun", unit="W/m2", source="fao_56")
def net_short_wave(mean_sun: Numeric, albedo: Numeric) -> Numeric:
    """Sun that stays [W/m2] of that on level ground [W/m2, mean of 24 h], less the share thrown back [1].

    Examples
    --------
    >>> net_short_wave(255.4, 0.08)
    234.97
    """
    return (1 - albedo) * mean_sun


@formula("(0.75 + 0.00002 * elevation) * extraterrestrial_day", unit="W/m2", source="fao_56")
def clear_day_sun(extraterrestrial_day: Numeric, elevation: Numeric) -> Numeric:
    """Sun on level ground of a day without clouds [W/m2, mean of 24 h]; sun above the air [W/m2], elevation [m].

    Examples
    --------
    >>> clear_day_sun(475.6, 100.0)
    357.65
    """
    return (0.75 + 0.00002 * elevation) * extraterrestrial_day


@formula("minimum(1, maximum(0.3, mean_sun / maximum(clear_day_sun, 1)))", unit="1", source="fao_56")
def clear_share(mean_sun: Numeric, clear_day_sun: Numeric) -> Numeric:
    """Sun as a share of that of a clear day [1], 0.3 to 1; both [W/m2]. Polar night counts as overcast.

    Examples
    --------
    >>> float(clear_share(255.4, 357.65)), float(clear_share(0.0, 0.0))
    (0.7141, 0.3)
    """
    return np.minimum(1, np.maximum(0.3, mean_sun / np.maximum(clear_day_sun, 1)))


@formula(
    "fao_stefan_boltzmann * ((lowest_temperature + 273.16)**4 + (highest_temperature + 273.16)**4) / 2"
    " * (0.34 - 0.14 * sqrt(vapour_pressure / 1000)) * (1.35 * clear_share - 0.35)",
    unit="W/m2",
    source="fao_56",
)
def net_long_wave(
    lowest_temperature: Numeric,
    highest_temperature: Numeric,
    vapour_pressure: Numeric,
    clear_share: Numeric,
    fao_stefan_boltzmann: float = FAO_STEFAN_BOLTZMANN,
) -> Numeric:
    """Heat that is lost to the sky [W/m2]: temperatures of the day [Cel], vapour pressure [Pa], clear share [1].

    Examples
    --------
    >>> float(net_long_wave(12.3, 21.5, 1409.0, 0.7141))
    42.94
    """
    fourth_powers = (lowest_temperature + 273.16) ** 4 + (highest_temperature + 273.16) ** 4
    dry_air = 0.34 - 0.14 * np.sqrt(vapour_pressure / 1000)
    return fao_stefan_boltzmann * fourth_powers / 2 * dry_air * (1.35 * clear_share - 0.35)


@formula("net_short_wave - net_long_wave", unit="W/m2", source="fao_56")
def net_radiation(net_short_wave: Numeric, net_long_wave: Numeric) -> Numeric:
    """Energy that is left for evaporation [W/m2].

    Examples
    --------
    >>> net_radiation(196.7, 43.0)
    153.7
    """
    return net_short_wave - net_long_wave


@formula("86400 * net_radiation / latent_heat", unit="mm/d", source="fao_56")
def evaporated_by_sun(net_radiation: Numeric, latent_heat: float = LATENT_HEAT) -> Numeric:
    """Water that the energy alone could evaporate [mm/d]; net radiation [W/m2]; a kilogram on a square metre is 1 mm.

    Examples
    --------
    >>> evaporated_by_sun(153.7)
    5.420
    """
    return 86400 * net_radiation / latent_heat


@formula("(1.313 + 1.381 * mean_wind) * (mean_saturation_pressure - vapour_pressure) / 1000", unit="mm/d", source="mcmahon_2013")
def carried_by_wind(mean_wind: Numeric, mean_saturation_pressure: Numeric, vapour_pressure: Numeric) -> Numeric:
    """Water that the wind alone could carry off open water [mm/d]: wind at 2 m [m/s], vapour pressures [Pa].

    Examples
    --------
    >>> carried_by_wind(2.078, 1997.0, 1409.0)
    2.459
    """
    return (1.313 + 1.381 * mean_wind) * (mean_saturation_pressure - vapour_pressure) / 1000


@formula(
    "maximum(0, (vapour_slope * evaporated_by_sun + psychrometric_constant * carried_by_wind)"
    " / (vapour_slope + psychrometric_constant))",
    unit="mm/d",
    source="mcmahon_2013",
)
def open_water_evaporation(
    evaporated_by_sun: Numeric, carried_by_wind: Numeric, vapour_slope: Numeric, psychrometric_constant: Numeric
) -> Numeric:
    """Evaporation of open water [mm/d], Penman: what sun and wind could take, weighted by slope and psychrometer [Pa/K].

    Examples
    --------
    >>> float(open_water_evaporation(7.10, 7.45, 188.7, 67.1))
    7.19
    """
    weighted = vapour_slope * evaporated_by_sun + psychrometric_constant * carried_by_wind
    return np.maximum(0, weighted / (vapour_slope + psychrometric_constant))


@dataclass(frozen=True, eq=False)
class Air:
    """What evaporates water, month by month: sun on level ground and above the air [W/m2, mean of 24 h], mean of the
    days' lowest and highest air temperature [Cel]; elevation [m], mean wind 2 m above ground [m/s]."""

    sun: Array
    above_air: Array
    lowest: Array
    highest: Array
    elevation: float
    wind: float


def lowest_and_highest(sky: Sky) -> tuple[Array, Array]:
    """Air of each month at the coldest and at the warmest moment of its days, mean over the days [Cel], shape (12,)."""
    air = sky.air_temperature.reshape(DAYS_IN_YEAR, sky.steps_per_day)
    return month_mean(air.min(axis=1)), month_mean(air.max(axis=1))


def air_over_water(sky: Sky, place: Place, wind: str) -> Air:
    """The air of a sky over a basin; its wind comes from how open the basin lies, whatever the sky holds.

    Parameters
    ----------
    wind : "sheltered", "open" or "exposed"
    """
    sun = month_mean(sky.ghi.reshape(DAYS_IN_YEAR, sky.steps_per_day).mean(axis=1))
    lowest, highest = lowest_and_highest(sky)
    return Air(sun, monthly_extraterrestrial(place.latitude), lowest, highest, place.elevation, WIND[wind])


@formula("(lowest_temperature + highest_temperature) / 2", unit="Cel", source="fao_56")
def middle_temperature(lowest_temperature: Numeric, highest_temperature: Numeric) -> Numeric:
    """Mean of a day's lowest and highest temperature [Cel].

    Examples
    --------
    >>> middle_temperature(12.3, 21.5)
    16.9
    """
    return (lowest_temperature + highest_temperature) / 2


def evaporation_worked(air: Air, month: int) -> Worked:
    """The evaporation of one month, 1..12 [mm/d], unfolded down to sky and place."""
    index, name = month - 1, MONTHS[month - 1]
    over = f"Mean of all steps of {name} in the year of sky."
    sun = by_method("mean_sun", air.sun[index], "W/m2", "duffie_beckman", f"Sun on level ground. {over}")
    above = by_method("extraterrestrial_day", air.above_air[index], "W/m2", "spencer_1971", f"Mean of all days of {name}.")
    days = f"of the days of {name} in the year of sky."
    low = by_method("lowest_temperature", air.lowest[index], "Cel", "fao_56", f"Mean of the lowest temperatures {days}")
    high = by_method("highest_temperature", air.highest[index], "Cel", "fao_56", f"Mean of the highest temperatures {days}")
    where = "Of the place; looked up where the design does not say."
    elevation = Worked("elevation", air.elevation, "m", "given", method=where)
    dew_point = by_method("dew_point", low.value, "Cel", "fao_56", DEW_POINT, lowest_temperature=low)
    vapour = work(saturation_vapour_pressure, temperature=dew_point)
    at_highest = work(saturation_vapour_pressure, temperature=high)
    mean_saturation = work(mean_saturation_pressure, saturation_at_lowest=vapour, saturation_at_highest=at_highest)
    middle = work(middle_temperature, lowest_temperature=low, highest_temperature=high)
    saturated = work(saturation_vapour_pressure, temperature=middle)
    share = work(
        clear_share,
        mean_sun=sun,
        clear_day_sun=work(clear_day_sun, extraterrestrial_day=above, elevation=elevation),
    )
    long_wave = work(net_long_wave, lowest_temperature=low, highest_temperature=high, vapour_pressure=vapour, clear_share=share)
    albedo = Worked(WATER_ALBEDO.name, float(WATER_ALBEDO), "1", "published", WATER_ALBEDO.source)
    energy = work(net_radiation, net_short_wave=work(net_short_wave, mean_sun=sun, albedo=albedo), net_long_wave=long_wave)
    wind = assumed("mean_wind", air.wind, "m/s", "common_practice")
    return work(
        open_water_evaporation,
        evaporated_by_sun=work(evaporated_by_sun, net_radiation=energy),
        carried_by_wind=work(carried_by_wind, mean_wind=wind, mean_saturation_pressure=mean_saturation, vapour_pressure=vapour),
        vapour_slope=work(vapour_slope, saturation_vapour_pressure=saturated, temperature=middle),
        psychrometric_constant=work(psychrometric_constant, air_pressure=work(air_pressure, elevation=elevation)),
    )
