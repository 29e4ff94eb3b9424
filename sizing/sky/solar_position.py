"""Where the sun is, and how strong it is above the air.

Two clocks. The built-in year runs in true solar time, where the sun stands in the meridian at 12 each
day, so that no time zone is needed: plain formulas of the day and the hour. A weather file runs on a
clock: ``position_by_clock`` asks pvlib.
"""

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from pvlib.atmosphere import alt2pres
from pvlib.solarposition import spa_python

from sizing.foundation.constants import SOLAR_CONSTANT
from sizing.foundation.working import formula

Numeric = float | NDArray[np.float64]

DAYS_IN_YEAR = 365
DAYS_IN_MONTH = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
"""[d] A year without 29 February."""
DAY_OF_YEAR = np.arange(1.0, DAYS_IN_YEAR + 1)
"""1..365"""
MONTH_OF_DAY = np.repeat(np.arange(1, 13), DAYS_IN_MONTH)
"""Month 1..12 of each of the 365 days."""


@formula(
    "degrees(0.006918 - 0.399912 * cos(2 * pi * (day - 1) / 365) + 0.070257 * sin(2 * pi * (day - 1) / 365)"
    " - 0.006758 * cos(4 * pi * (day - 1) / 365) + 0.000907 * sin(4 * pi * (day - 1) / 365)"
    " - 0.002697 * cos(6 * pi * (day - 1) / 365) + 0.00148 * sin(6 * pi * (day - 1) / 365))",
    unit="deg",
    source="spencer_1971",
)
def spencer_declination(day: Numeric) -> Numeric:
    """Declination of the sun [deg]: its latitude, north positive.

    Parameters
    ----------
    day : day of the year, 1..365

    Examples
    --------
    >>> float(spencer_declination(172))
    23.45
    """
    angle = 2 * np.pi * (day - 1) / 365
    yearly = -0.399912 * np.cos(angle) + 0.070257 * np.sin(angle)
    half_yearly = -0.006758 * np.cos(2 * angle) + 0.000907 * np.sin(2 * angle)
    third_yearly = -0.002697 * np.cos(3 * angle) + 0.00148 * np.sin(3 * angle)
    return np.degrees(0.006918 + yearly + half_yearly + third_yearly)


@formula(
    "1.00011 + 0.034221 * cos(2 * pi * (day - 1) / 365) + 0.00128 * sin(2 * pi * (day - 1) / 365)"
    " + 0.000719 * cos(4 * pi * (day - 1) / 365) + 0.000077 * sin(4 * pi * (day - 1) / 365)",
    unit="1",
    source="spencer_1971",
)
def eccentricity(day: Numeric) -> Numeric:
    """Strength of the sun outside the air, as a multiple of its mean over the year [1].

    Parameters
    ----------
    day : day of the year, 1..365

    Examples
    --------
    >>> float(eccentricity(1)), float(eccentricity(183))
    (1.0351, 0.9666)
    """
    angle = 2 * np.pi * (day - 1) / 365
    yearly = 0.034221 * np.cos(angle) + 0.00128 * np.sin(angle)
    half_yearly = 0.000719 * np.cos(2 * angle) + 0.000077 * np.sin(2 * angle)
    return 1.00011 + yearly + half_yearly


@formula(
    "229.18 * (0.000075 + 0.001868 * cos(2 * pi * (day - 1) / 365) - 0.032077 * sin(2 * pi * (day - 1) / 365)"
    " - 0.014615 * cos(4 * pi * (day - 1) / 365) - 0.040849 * sin(4 * pi * (day - 1) / 365))",
    unit="min",
    source="spencer_1971",
)
def equation_of_time(day: Numeric) -> Numeric:
    """How far the sundial is ahead of an even clock [min].

    Parameters
    ----------
    day : day of the year, 1..365

    Examples
    --------
    >>> float(equation_of_time(42))
    -14.20
    """
    angle = 2 * np.pi * (day - 1) / 365
    yearly = 0.001868 * np.cos(angle) - 0.032077 * np.sin(angle)
    half_yearly = -0.014615 * np.cos(2 * angle) - 0.040849 * np.sin(2 * angle)
    return 229.18 * (0.000075 + yearly + half_yearly)


@formula(
    "clock_hour - utc_offset + longitude / 15 + equation_of_time / 60",
    unit="h",
    source="duffie_beckman",
)
def true_solar_time(clock_hour: Numeric, utc_offset: Numeric, longitude: Numeric, equation_of_time: Numeric) -> Numeric:
    """Time a sundial shows [h]; the sun stands in the meridian at 12.

    Parameters
    ----------
    clock_hour : [h] standard time, no summer time
    utc_offset : [h] of that clock, east positive
    longitude : [deg] east positive
    equation_of_time : [min]

    Examples
    --------
    >>> true_solar_time(10.5, -6, -89.4, -13.5)
    10.315
    """
    return clock_hour - utc_offset + longitude / 15 + equation_of_time / 60


@formula("15 * (solar_time - 12)", unit="deg", source="duffie_beckman")
def hour_angle(solar_time: Numeric) -> Numeric:
    """How far the Earth has turned since noon [deg] at a true solar time [h], negative in the morning.

    Examples
    --------
    >>> hour_angle(9.5)
    -37.5
    """
    return 15 * (solar_time - 12)


@formula(
    "degrees(arccos(minimum(1, maximum(-1, sin(radians(latitude)) * sin(radians(declination))"
    " + cos(radians(latitude)) * cos(radians(declination)) * cos(radians(hour_angle))))))",
    unit="deg",
    source="duffie_beckman",
)
def solar_zenith(latitude: Numeric, declination: Numeric, hour_angle: Numeric) -> Numeric:
    """Angle between the sun and straight overhead [deg], without refraction by the air; all angles [deg].

    Examples
    --------
    >>> float(solar_zenith(43.0, -14.0, -37.5))
    66.55
    """
    upright = np.sin(np.radians(latitude)) * np.sin(np.radians(declination))
    turning = np.cos(np.radians(latitude)) * np.cos(np.radians(declination)) * np.cos(np.radians(hour_angle))
    return np.degrees(np.arccos(np.minimum(1, np.maximum(-1, upright + turning))))


@formula(
    "degrees(arctan2(-cos(radians(declination)) * sin(radians(hour_angle)),"
    " cos(radians(latitude)) * sin(radians(declination))"
    " - sin(radians(latitude)) * cos(radians(declination)) * cos(radians(hour_angle)))) % 360",
    unit="deg",
    source="duffie_beckman",
)
def solar_azimuth(latitude: Numeric, declination: Numeric, hour_angle: Numeric) -> Numeric:
    """Direction of the sun [deg], clockwise from north, 0..360; all angles [deg].

    Examples
    --------
    >>> float(solar_azimuth(43.0, -14.0, -37.5))
    139.92
    """
    east = -np.cos(np.radians(declination)) * np.sin(np.radians(hour_angle))
    level = np.cos(np.radians(latitude)) * np.sin(np.radians(declination))
    turning = np.sin(np.radians(latitude)) * np.cos(np.radians(declination)) * np.cos(np.radians(hour_angle))
    return np.degrees(np.arctan2(east, level - turning)) % 360


@formula(
    "degrees(arccos(minimum(1, maximum(-1, -tan(radians(latitude)) * tan(radians(declination))))))",
    unit="deg",
    source="duffie_beckman",
)
def sunset_hour_angle(latitude: Numeric, declination: Numeric) -> Numeric:
    """Hour angle of sunset [deg]: 0 in polar night, 180 under the midnight sun; all angles [deg].

    Examples
    --------
    >>> float(sunset_hour_angle(43.0, 9.415))
    98.90
    """
    return np.degrees(np.arccos(np.minimum(1, np.maximum(-1, -np.tan(np.radians(latitude)) * np.tan(np.radians(declination))))))


@formula("solar_constant * eccentricity", unit="W/m2", source="spencer_1971")
def extraterrestrial_normal(eccentricity: Numeric, solar_constant: float = SOLAR_CONSTANT) -> Numeric:
    """Sun above the air on a plane that faces it [W/m2].

    Examples
    --------
    >>> extraterrestrial_normal(1.0351)
    1408.8
    """
    return solar_constant * eccentricity


@formula(
    "extraterrestrial_normal / pi * (radians(sunset_hour_angle) * sin(radians(latitude)) * sin(radians(declination))"
    " + cos(radians(latitude)) * cos(radians(declination)) * sin(radians(sunset_hour_angle)))",
    unit="W/m2",
    source="duffie_beckman",
)
def extraterrestrial_day(
    extraterrestrial_normal: Numeric, latitude: Numeric, declination: Numeric, sunset_hour_angle: Numeric
) -> Numeric:
    """Sun above the air on level ground, mean of 24 hours [W/m2].

    Parameters
    ----------
    extraterrestrial_normal : [W/m2]
    latitude, declination, sunset_hour_angle : [deg]

    Examples
    --------
    >>> float(extraterrestrial_day(1361.0, 0.0, 0.0, 90.0))
    433.22
    """
    upright = np.radians(sunset_hour_angle) * np.sin(np.radians(latitude)) * np.sin(np.radians(declination))
    turning = np.cos(np.radians(latitude)) * np.cos(np.radians(declination)) * np.sin(np.radians(sunset_hour_angle))
    return extraterrestrial_normal / np.pi * (upright + turning)


def daily_extraterrestrial(day: Numeric, latitude: Numeric, solar_constant: float = SOLAR_CONSTANT) -> Numeric:
    """Sun above the air on level ground, mean of 24 hours [W/m2]; exactly 0 in polar night.

    Parameters
    ----------
    day : day of the year, 1..365
    latitude : [deg]
    solar_constant : [W/m2]

    Examples
    --------
    >>> float(daily_extraterrestrial(105, 43.0))
    390.0
    """
    day = np.asarray(day, dtype=float)
    declination = spencer_declination(day)
    sunset = sunset_hour_angle(latitude, declination)
    mean = extraterrestrial_day(extraterrestrial_normal(eccentricity(day), solar_constant), latitude, declination, sunset)
    return np.where(sunset > 0, np.maximum(mean, 0), 0.0)[()]


def monthly_extraterrestrial(latitude: float) -> NDArray[np.float64]:
    """Sun above the air on level ground, mean of each month [W/m2], shape (12,).

    Examples
    --------
    >>> float(monthly_extraterrestrial(40.0)[5])
    480.7
    """
    return month_mean(np.asarray(daily_extraterrestrial(DAY_OF_YEAR, latitude)))


def month_mean(by_day: NDArray[np.float64]) -> NDArray[np.float64]:
    """Mean of each month, shape (12,), of values given for 365 days.

    Examples
    --------
    >>> month_mean(np.arange(365.0))[:2]
    array([15. , 44.5])
    """
    return np.bincount(MONTH_OF_DAY - 1, weights=by_day, minlength=12) / np.asarray(DAYS_IN_MONTH)


def position_by_clock(
    times: pd.DatetimeIndex | NDArray[np.datetime64] | list[str], latitude: float, longitude: float, elevation: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Apparent zenith (lifted by refraction) and azimuth of the sun [deg] at clock times (Reda & Andreas, by pvlib).

    Parameters
    ----------
    times : with their offset, or in UTC
    latitude, longitude : [deg], north and east positive
    elevation : [m], sets the air pressure that bends the light

    Returns
    -------
    zenith, azimuth : [deg], one each per time; azimuth clockwise from north

    Examples
    --------
    >>> zenith, azimuth = position_by_clock(["2003-10-17T12:30:30-07:00"], 39.742476, -105.1786, 1830.14)
    >>> float(zenith[0]), float(azimuth[0])
    (50.11, 194.3)
    """
    moments = pd.DatetimeIndex(pd.to_datetime(times, utc=True))
    found = spa_python(moments, latitude, longitude, altitude=elevation, pressure=alt2pres(elevation))
    return found["apparent_zenith"].to_numpy(dtype=float), found["azimuth"].to_numpy(dtype=float)
