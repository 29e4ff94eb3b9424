"""A year of sky made from twelve monthly figures, by published formulas only.

From month to day: the days of a month spread about its mean as Hollands & Huget found, in a fixed order
that has the day-to-day memory of real weather. From day to quarter of an hour: the day's smooth course follows
Collares-Pereira & Rabl, and ``clouds`` lets clouds pass over it; Erbs says how much of a day is diffuse. The year
has 365 days in true solar time, the same each time it is made.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.working import formula
from sizing.sky.climate import day_ranks
from sizing.sky.clouds import CLOUD_SPREAD, STREAM, chance_numbers, diffuse_of_moments, with_clouds
from sizing.sky.solar_position import (
    DAY_OF_YEAR,
    DAYS_IN_MONTH,
    DAYS_IN_YEAR,
    MONTH_OF_DAY,
    daily_extraterrestrial,
    eccentricity,
    extraterrestrial_normal,
    hour_angle,
    solar_azimuth,
    solar_zenith,
    spencer_declination,
    sunset_hour_angle,
)

Numeric = float | NDArray[np.float64]
Array = NDArray[np.float64]

STEPS_PER_DAY = 96
DULLEST_MEAN, CLEAREST_MEAN = 0.08, 0.74
"""[1] The spread of days is read from the published density between these monthly means."""
DULLEST_DAY, CLEAREST_DAY = 0.05, 0.82
"""[1] No day lies outside; in a month of less than twice the first, half its mean; a clearer mean makes all days alike."""
LOWEST_BEAM = 0.035
"""[1] Cosine of the zenith (2 degrees above the horizon) under which all light counts as diffuse."""
SERIES_LAG = 0.95
"""[d] Spencer's series fits the midnight that begins a day, in the 1960s; at noon, in the leap cycle 2023 to 2026, the
sun is 0.95 day further on (by the algorithm of Reda & Andreas). Half a degree at the equinoxes, 1.5 % on a tilted plane."""
DENSITY_STEPS = 400
HALVINGS = 45


@dataclass(frozen=True, eq=False)
class SyntheticYear:
    """The steps of a year, day after day, each at its middle, shape (365 x 96,).

    Month 1..12; hour [h] of true solar time; zenith and azimuth of the sun [deg]; sun above the air on a
    plane facing it, and global, diffuse and beam (normal) sun [W/m2]; air temperature [Cel]. ``calm`` is the sun
    of the same days without passing clouds.
    """

    day: NDArray[np.int64]
    month: NDArray[np.int64]
    hour: Array
    zenith: Array
    azimuth: Array
    extraterrestrial_normal: Array
    ghi: Array
    dhi: Array
    dni: Array
    air_temperature: Array
    calm: "CalmSun"


@dataclass(frozen=True, eq=False)
class CalmSun:
    """Global, diffuse and beam (normal) sun [W/m2] of days with the same sums on which no single cloud passes."""

    ghi: Array
    dhi: Array
    dni: Array


@formula("0.6313 + 0.267 * clearness - 11.9 * (clearness - 0.75)**8", unit="1", source="hollands_huget_1983")
def clearest_day(clearness: Numeric) -> Numeric:
    """Upper end of the days' clearness [1] in a month of given mean clearness [1].

    Examples
    --------
    >>> clearest_day(0.5)
    0.7646
    """
    return 0.6313 + 0.267 * clearness - 11.9 * (clearness - 0.75) ** 8


@formula(
    "where(sunset_hour_angle > 81.4,"
    " where(clearness < 0.722, 1 + 0.2832 * clearness - 2.5557 * clearness**2 + 0.8448 * clearness**3, 0.175),"
    " where(clearness < 0.715,"
    " 1 - 0.2727 * clearness + 2.4495 * clearness**2 - 11.9514 * clearness**3 + 9.3879 * clearness**4, 0.143))",
    unit="1",
    source="erbs_1982",
)
def diffuse_share(clearness: Numeric, sunset_hour_angle: Numeric) -> Numeric:
    """Share of a day's sun that is diffuse [1].

    Parameters
    ----------
    clearness : of the day [1]
    sunset_hour_angle : [deg]; short winter days and the rest of the year have their own curve

    Examples
    --------
    >>> float(diffuse_share(0.5, 95.0))
    0.608
    """
    long_day = 1 + 0.2832 * clearness - 2.5557 * clearness**2 + 0.8448 * clearness**3
    short_day = 1 - 0.2727 * clearness + 2.4495 * clearness**2 - 11.9514 * clearness**3 + 9.3879 * clearness**4
    return np.where(
        np.asarray(sunset_hour_angle) > 81.4,
        np.where(np.asarray(clearness) < 0.722, long_day, 0.175),
        np.where(np.asarray(clearness) < 0.715, short_day, 0.143),
    )


@formula(
    "0.409 + 0.5016 * sin(radians(sunset_hour_angle - 60))"
    " + (0.6609 - 0.4767 * sin(radians(sunset_hour_angle - 60))) * cos(radians(hour_angle))",
    unit="1",
    source="collares_pereira_rabl_1979",
)
def peakedness(hour_angle: Numeric, sunset_hour_angle: Numeric) -> Numeric:
    """How much more peaked toward noon the day's whole sun is than its diffuse part [1].

    Parameters
    ----------
    hour_angle, sunset_hour_angle : [deg]

    Examples
    --------
    >>> float(peakedness(15.0, 98.9))
    1.073
    """
    flat = 0.409 + 0.5016 * np.sin(np.radians(sunset_hour_angle - 60))
    peaked = 0.6609 - 0.4767 * np.sin(np.radians(sunset_hour_angle - 60))
    return flat + peaked * np.cos(np.radians(hour_angle))


@formula("(clearness / 0.17)**2", unit="K", source="hargreaves_samani_1982")
def daily_temperature_range(clearness: Numeric) -> Numeric:
    """Difference between the warmest and the coldest hour of a day [K] in a month of given clearness [1].

    Examples
    --------
    >>> daily_temperature_range(0.5)
    8.65
    """
    return (clearness / 0.17) ** 2


@formula("mean + temperature_range / 2 * cos(2 * pi * (hour - 15) / 24)", unit="Cel", source="common_practice")
def air_temperature(mean: Numeric, temperature_range: Numeric, hour: Numeric) -> Numeric:
    """Air temperature [Cel] at an hour of true solar time [h]; warmest at 15.

    Examples
    --------
    >>> float(air_temperature(14.4, 8.65, 15.0))
    18.725
    """
    return mean + temperature_range / 2 * np.cos(2 * np.pi * (hour - 15) / 24)


def day_quantiles(clearness: Array) -> list[Array]:
    """Clearness of the days of each month [1], dullest first, from the density C (k_max - k) exp(slope k) above k_min.

    As published k_min is 0; even a covered day passes some light, and ``DULLEST_DAY`` stands for it.

    Parameters
    ----------
    clearness : mean of each month, shape (12,) [1]

    Returns
    -------
    days : twelve arrays, 28 to 31 days long, not yet brought to the exact mean
    """
    mean = np.clip(clearness, DULLEST_MEAN, CLEAREST_MEAN)[:, None]
    bottom = np.minimum(DULLEST_DAY, mean / 2)
    width = np.asarray(clearest_day(mean)) - bottom
    share = (np.arange(DENSITY_STEPS) + 0.5) / DENSITY_STEPS
    low, high = np.full_like(mean, -80.0), np.full_like(mean, 80.0)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        density = (1 - share) * np.exp(middle * (share - (middle > 0)))
        dull = bottom + (density @ share / density.sum(axis=1))[:, None] * width < mean
        low, high = np.where(dull, middle, low), np.where(dull, high, middle)
    passed = np.cumsum(density, axis=1) / density.sum(axis=1, keepdims=True)
    return [
        bottom[month, 0] + width[month, 0] * np.interp((np.arange(days) + 0.5) / days, passed[month], share + 0.5 / DENSITY_STEPS)
        for month, days in enumerate(DAYS_IN_MONTH)
    ]


def daily_clearness(clearness: Array, above_air: Array) -> Array:
    """Clearness of each of the 365 days [1]; the days of a month bring exactly its mean sun.

    Parameters
    ----------
    clearness : mean of each month, shape (12,) [1], 0..1
    above_air : sun above the air of each day, shape (365,) [W/m2]

    Examples
    --------
    >>> days = daily_clearness(np.full(12, 0.5), np.full(365, 400.0))
    >>> float(days[:31].mean()), bool(days[:31].min() < 0.2), bool(days[:31].max() > 0.7)
    (0.5, True, True)
    """
    found = np.zeros(DAYS_IN_YEAR)
    ranks = day_ranks()
    for number, quantiles in enumerate(day_quantiles(clearness)):
        days = number + 1 == MONTH_OF_DAY
        sun, mean = above_air[days], float(clearness[number])
        if sun.sum() <= 0 or mean <= 0:
            continue
        ordered = quantiles[ranks[days]]
        ceiling = max(CLEAREST_DAY, mean)
        spread = np.minimum(ordered * mean * sun.sum() / (ordered @ sun), ceiling)
        below = ceiling - spread @ sun / sun.sum()
        found[days] = ceiling - (ceiling - spread) * (ceiling - mean) / below if below > 0 else mean
    return found


def synthetic_year(
    latitude: float, clearness: Array, monthly_temperature: Array, cloud_spread: float = CLOUD_SPREAD, stream: int = STREAM
) -> SyntheticYear:
    """A year in steps of 15 minutes whose months have the given clearness and air temperature.

    Parameters
    ----------
    latitude : [deg]
    clearness : mean of each month, shape (12,) [1], 0..1
    monthly_temperature : mean of each month, shape (12,) [Cel]
    cloud_spread : of a moment's clearness in the most broken sky [1]; with 0 no single cloud passes
    stream : which row of chance numbers the clouds follow

    Examples
    --------
    >>> year = synthetic_year(36.10, np.full(12, 0.5), np.full(12, 14.4))
    >>> year.ghi.shape, float(year.ghi.sum() / 4000)
    ((35040,), 1506.)
    """
    declination = np.asarray(spencer_declination(DAY_OF_YEAR + SERIES_LAG))[:, None]
    hour = (np.arange(STEPS_PER_DAY) + 0.5) * 24 / STEPS_PER_DAY
    turned = np.asarray(hour_angle(hour))
    zenith = np.asarray(solar_zenith(latitude, declination, turned))
    sunset = np.asarray(sunset_hour_angle(latitude, declination))
    above_air = np.asarray(daily_extraterrestrial(DAY_OF_YEAR, latitude))
    normal = np.asarray(extraterrestrial_normal(np.asarray(eccentricity(DAY_OF_YEAR))))
    upright = np.cos(np.radians(zenith))
    upright[zenith >= 90] = 0
    days = daily_clearness(clearness, above_air)
    calm = calm_sun(turned, sunset, upright, days, above_air)
    sun = calm
    if cloud_spread > 0:
        sun = sun_with_clouds(calm, normal[:, None] * upright, upright, days, sunset[:, 0], chance_of_days(stream), cloud_spread)
    month = MONTH_OF_DAY - 1
    swing = np.asarray(daily_temperature_range(clearness))
    air = np.asarray(air_temperature(monthly_temperature[month][:, None], swing[month][:, None], hour))
    return SyntheticYear(
        day=np.repeat(np.arange(DAYS_IN_YEAR), STEPS_PER_DAY),
        month=np.repeat(MONTH_OF_DAY, STEPS_PER_DAY),
        hour=np.tile(hour, DAYS_IN_YEAR),
        zenith=zenith.ravel(),
        azimuth=np.asarray(solar_azimuth(latitude, declination, turned)).ravel(),
        extraterrestrial_normal=np.repeat(normal, STEPS_PER_DAY),
        ghi=sun.ghi.ravel(),
        dhi=sun.dhi.ravel(),
        dni=sun.dni.ravel(),
        air_temperature=air.ravel(),
        calm=CalmSun(calm.ghi.ravel(), calm.dhi.ravel(), calm.dni.ravel()),
    )


def chance_of_days(stream: int) -> Array:
    """Chance numbers of each step of the year, shape (365, steps): a day takes those of its rank within its month.

    All months draw on the same numbers, every second one mirrored about noon: no month is better than the next by chance,
    and no side of the sky than the other.
    """
    ranks, found = day_ranks(), []
    for number, days in enumerate(DAYS_IN_MONTH):
        numbers = chance_numbers(days, STEPS_PER_DAY, stream)[ranks[number + 1 == MONTH_OF_DAY]]
        found.append(numbers[:, ::-1] if number % 2 else numbers)
    return np.concatenate(found)


def calm_sun(turned: Array, sunset: Array, upright: Array, clearness: Array, above_air: Array) -> CalmSun:
    """Sun of each step [W/m2], shape (365, steps), from the day's clearness, each day smooth.

    Parameters
    ----------
    turned (hour angle), sunset : [deg], shapes (steps,), (365, 1)
    upright : cosine of the zenith, 0 at night [1], shape (365, steps)
    clearness, above_air : of each day, shape (365,) [1], [W/m2]

    Returns
    -------
    calm : in every step ghi = dhi + dni cos(zenith)
    """
    whole = np.asarray(peakedness(turned, sunset)) * upright
    day_sun = clearness * above_air * upright.shape[1]
    ghi = whole * share_out(day_sun, whole)
    day_diffuse = np.asarray(diffuse_share(clearness, sunset[:, 0])) * day_sun
    dhi = np.where(upright < LOWEST_BEAM, ghi, np.minimum(upright * share_out(day_diffuse, upright), ghi))
    return CalmSun(ghi, dhi, (ghi - dhi) / np.maximum(upright, LOWEST_BEAM))


def sun_with_clouds(
    calm: CalmSun, above_air: Array, upright: Array, clearness: Array, sunset: Array, chance: Array, spread: float
) -> CalmSun:
    """The same days with clouds passing: sums of global and of diffuse sun stay, the course does not.

    Parameters
    ----------
    above_air : sun on level ground above the air [W/m2], shape (365, steps)
    clearness, sunset (hour angle) : of each day [1], [deg], shape (365,)
    chance, spread : as ``with_clouds`` takes them
    """
    ghi = with_clouds(calm.ghi, above_air, upright, clearness, chance, spread)
    day_diffuse = np.asarray(diffuse_share(clearness, sunset)) * ghi.sum(axis=1)
    dhi = np.where(upright < LOWEST_BEAM, ghi, diffuse_of_moments(ghi, calm.dhi, day_diffuse))
    return CalmSun(ghi, dhi, (ghi - dhi) / np.maximum(upright, LOWEST_BEAM))


def share_out(total: Array, shape: Array) -> Array:
    """Factor of each day, shape (365, 1), that makes a day's steps of given shape sum to its total; 0 without sun."""
    summed = shape.sum(axis=1)
    return np.divide(total, summed, out=np.zeros_like(total), where=summed > 0)[:, None]
