"""The sun's way across the sky on the 21st of each month, and what the skyline takes of the sun.

The first is for a picture: direction against height, with the skyline drawn into it. The second counts, on the
steps of a sky, the sun that stands above level ground and behind the skyline.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from sizing.light.irradiance import beam_on_plane, incidence_cosine
from sizing.place.place import Place, skyline_altitude
from sizing.sky.solar_position import (
    DAY_OF_YEAR,
    DAYS_IN_MONTH,
    eccentricity,
    hour_angle,
    solar_azimuth,
    solar_zenith,
    spencer_declination,
    sunset_hour_angle,
)
from sizing.sky.synthetic_year import SERIES_LAG
from sizing.sky.weather import Sky

Array = NDArray[np.float64]

DAY_OF_MONTH = 21
"""The solstices and equinoxes fall on or next to it."""
QUARTERS = np.arange(97) / 4
"""[h] Every quarter of an hour of a day, both midnights."""
DAY_OF_21ST = np.cumsum((0, *DAYS_IN_MONTH[:-1])) + DAY_OF_MONTH
"""1..365"""


@dataclass(frozen=True, eq=False)
class SunPath:
    """The sun above level ground on one day, each quarter of an hour and at rising and setting; empty in polar night.

    Hour of true solar time [h]; azimuth [deg], running from ``centre`` - 180 to ``centre`` + 180 of the picture, so
    that it may be negative; altitude [deg]. ``pieces`` are the first and last index + 1 of each run that a line can
    join: more than one where the path leaves the picture at one side and comes back at the other.
    """

    month: int
    day: int
    hour: Array
    azimuth: Array
    altitude: Array
    pieces: tuple[tuple[int, int], ...]


@dataclass(frozen=True)
class SunPaths:
    """Twelve paths, and the direction that stands in the middle of their picture: 180 (south) or 0 (north) [deg]."""

    centre: float
    paths: tuple[SunPath, ...]


@dataclass(frozen=True)
class SkylineMonth:
    """What the skyline takes in one month.

    Hours the sun is above level ground, and hours of them it is hidden [h]; beam on the plane without a skyline, and
    how much of it the skyline takes [kWh/m2], both sums of the month. ``runs`` are the hours from and to which the sun
    is hidden on most days, in the order of the day; a run under the midnight sun may pass midnight. ``first_hour`` and
    ``last_hour`` bound all of them, None where there is none.
    """

    month: int
    hours_up: float
    hours_hidden: float
    beam: float
    beam_lost: float
    runs: tuple[tuple[float, float], ...]
    first_hour: float | None
    last_hour: float | None


@dataclass(frozen=True, eq=False)
class SkylineLoss:
    """What the skyline takes in each month and in the year: hours [h], beam on the plane [kWh/m2].

    ``hidden`` (12, steps a day): whether the sun is behind the skyline at that step of most days on which it is up;
    ``up`` (12, steps a day): whether it is up on any day; ``weight`` (12, steps a day): beam lost there [kWh/m2].
    Hours are on the clock that ``hour_basis`` names.
    """

    months: tuple[SkylineMonth, ...]
    hours_hidden: float
    beam_lost: float
    hour_basis: str
    hidden: NDArray[np.bool_]
    up: NDArray[np.bool_]
    weight: Array


def sun_paths(place: Place) -> SunPaths:
    """The sun's way across the sky on the 21st of each month.

    Parameters
    ----------
    place : its latitude counts

    Examples
    --------
    >>> found = sun_paths(Place("school", 40.0, -80.0, 273.0))
    >>> found.centre, [round(float(path.altitude.max()), 1) for path in found.paths][5::6]
    (180.0, [73.4, 26.6])
    """
    centre = picture_centre(place.latitude)
    return SunPaths(centre, tuple(sun_path(place.latitude, month, centre) for month in range(1, 13)))


def picture_centre(latitude: float) -> float:
    """Direction [deg] for the middle of the picture: where the noons of a year have more sun, south 180 or north 0.

    Between the tropics the sun stands on either side of the garden at noon; the level part of its noon strength,
    summed over the year, decides.

    Examples
    --------
    >>> picture_centre(51.5), picture_centre(-33.9)
    (180.0, 0.0)
    """
    declination = np.asarray(spencer_declination(DAY_OF_YEAR + SERIES_LAG))
    southward = np.asarray(eccentricity(DAY_OF_YEAR)) * np.sin(np.radians(latitude - declination))
    return 180.0 if southward.sum() >= 0 else 0.0


def sun_path(latitude: float, month: int, centre: float) -> SunPath:
    """The sun's way on the 21st of one month.

    Parameters
    ----------
    latitude : [deg]
    month : 1..12
    centre : 180 or 0, the direction in the middle of the picture [deg]

    Examples
    --------
    >>> path = sun_path(0.0, 3, 180.0)
    >>> float(path.hour[0]), float(path.hour[-1])
    (6.00, 18.00)
    """
    declination = float(spencer_declination(DAY_OF_21ST[month - 1] + SERIES_LAG))
    half_day = float(sunset_hour_angle(latitude, declination)) / 15
    inside = QUARTERS[np.abs(QUARTERS - 12) < half_day - 1e-6]
    hour = np.concatenate([[12 - half_day], inside, [12 + half_day]]) if half_day > 0 else np.zeros(0)
    turned = np.asarray(hour_angle(hour))
    altitude = np.maximum(90 - np.asarray(solar_zenith(latitude, declination, turned)), 0)
    from_north = np.abs((np.asarray(solar_azimuth(latitude, declination, turned)) + 180) % 360 - 180)
    # Before noon the sun is in the eastern half of the sky, after noon in the western.
    azimuth = np.where(hour <= 12, from_north, 2 * centre - from_north)
    seams = np.flatnonzero(np.abs(np.diff(azimuth)) > 180) + 1
    bounds = [0, *seams.tolist(), len(hour)]
    pieces = tuple((start, end) for start, end in pairwise(bounds) if end > start)
    return SunPath(month, int(DAY_OF_21ST[month - 1]), hour, azimuth, altitude, pieces)


def skyline_loss(sky: Sky, place: Place, tilt: float, azimuth: float) -> SkylineLoss:
    """Hours and beam that the skyline takes, step by step of a sky, gathered into months.

    As on the panel (``irradiance.plane_sun``), the sun is hidden where its middle stands below the skyline.

    Parameters
    ----------
    sky : the year
    place : its skyline counts
    tilt, azimuth : of the plane [deg]

    Examples
    --------
    >>> from sizing.sky.weather import built_in_sky
    >>> wall = ((79.0, 0.0), (80.0, 25.0), (130.0, 25.0), (131.0, 0.0))
    >>> garden = Place("school", 36.10, -79.95, 273.0, skyline=wall)
    >>> found = skyline_loss(built_in_sky(garden), garden, 30.0, 180.0)
    >>> found.months[11].runs, found.months[11].hours_hidden
    (((7.25, 8.5),), 38.75)
    """
    up = np.flatnonzero(sky.zenith < 90)
    zenith, toward = sky.zenith[up], sky.azimuth[up]
    behind = 90 - zenith < np.asarray(skyline_altitude(toward, place.skyline))
    beam = np.asarray(beam_on_plane(sky.dni[up], np.asarray(incidence_cosine(zenith, toward, tilt, azimuth))))
    per_day, step = sky.steps_per_day, 24 / sky.steps_per_day
    box = (sky.month[up] - 1) * per_day + up % per_day
    days_up, days_hidden, whole, lost = (
        np.bincount(box, weights=values, minlength=12 * per_day).reshape(12, per_day).astype(float)
        for values in (np.ones(len(up)), behind.astype(float), beam * step / 1000, beam * behind * step / 1000)
    )
    hidden = 2 * days_hidden > days_up
    months = tuple(
        skyline_month(month, days_up[month] * step, days_hidden[month] * step, whole[month], lost[month], hidden[month], step)
        for month in range(12)
    )
    return SkylineLoss(
        months=months,
        hours_hidden=float(days_hidden.sum() * step),
        beam_lost=float(lost.sum()),
        hour_basis=sky.hour_basis,
        hidden=hidden,
        up=days_up > 0,
        weight=lost,
    )


def skyline_month(
    month: int, up: Array, behind: Array, whole: Array, lost: Array, hidden: NDArray[np.bool_], step: float
) -> SkylineMonth:
    """One month (0..11) from the steps of its days: hours up and behind [h], beam and beam lost [kWh/m2], hidden or not."""
    runs = tuple((start * step, end * step) for start, end in hidden_runs(hidden, bool(np.all(up > 0))))
    return SkylineMonth(
        month=month + 1,
        hours_up=float(up.sum()),
        hours_hidden=float(behind.sum()),
        beam=float(whole.sum()),
        beam_lost=float(lost.sum()),
        runs=runs,
        first_hour=runs[0][0] if runs else None,
        last_hour=runs[-1][1] if runs else None,
    )


def hidden_runs(hidden: NDArray[np.bool_], round_the_clock: bool) -> list[tuple[int, int]]:
    """First step, and step after the last, of each run of a day's hidden steps.

    Under the midnight sun a run over midnight is one, and ends at a smaller number than it starts.

    Examples
    --------
    >>> hidden_runs(np.array([True, False, True, True]), False), hidden_runs(np.array([True, False, True, True]), True)
    ([(0, 1), (2, 4)], [(2, 1)])
    """
    edges = np.flatnonzero(np.diff(np.concatenate([[False], hidden, [False]]).astype(int))).tolist()
    runs = list(zip(edges[::2], edges[1::2], strict=True))
    if round_the_clock and len(runs) > 1 and runs[0][0] == 0 and runs[-1][1] == len(hidden):
        return [*runs[1:-1], (runs[-1][0], runs[0][1])]
    return runs
