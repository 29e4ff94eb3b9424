"""Where the fountain stands: coordinates, height, ground, and what stands around it against the sky."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from pvlib.location import lookup_altitude

from sizing.foundation.errors import input_error

Numeric = float | NDArray[np.float64]
Skyline = tuple[tuple[float, float], ...]

MEAN_EARTH_RADIUS = 6371.0
"""[km] Used only to say how far apart two places are."""
VIEW_DIRECTIONS = 720
"""Directions summed around the horizon for the open share of the sky: every half degree."""


@dataclass(frozen=True)
class Obstacle:
    """A thing that stands against the sky: where its middle is, clockwise from true north [deg], how far its top is above
    the panel, how far away it is, and how wide [m]."""

    name: str
    azimuth: float
    height: float
    distance: float
    width: float


@dataclass(frozen=True)
class Place:
    """A spot on the ground.

    Latitude (north positive) and longitude (east positive) [deg], elevation above sea level [m],
    albedo (share of the light that the ground throws back, 0..1), and the skyline: pairs of azimuth
    (clockwise from north) and altitude of what hides the sky [deg], empty for an open horizon. The skyline holds all;
    ``obstacles`` are those of them that were typed one by one, and ``surveyed`` the skyline without these.
    """

    name: str
    latitude: float
    longitude: float
    elevation: float
    albedo: float = 0.2
    skyline: Skyline = ()
    obstacles: tuple[Obstacle, ...] = ()
    surveyed: Skyline = ()


def checked_position(latitude: float, longitude: float) -> tuple[float, float]:
    """Latitude and longitude that exist on Earth; longitude is wrapped into -180..180.

    Parameters
    ----------
    latitude : [deg], -90..90, north positive
    longitude : [deg], -360..360, east positive

    Returns
    -------
    latitude, longitude : [deg]

    Raises
    ------
    SizingError : if either is outside its range

    Examples
    --------
    >>> checked_position(-41.3, 190.0)
    (-41.3, -170.0)
    """
    if not -90 <= latitude <= 90:
        raise input_error(
            "#/place/latitude_deg",
            "out_of_range",
            f"latitude is {latitude:g} degrees; latitudes run from -90 (south pole) to 90 (north pole); "
            "check the sign and the decimal point.",
            -90,
            90,
        )
    if not -360 <= longitude <= 360:
        raise input_error(
            "#/place/longitude_deg",
            "out_of_range",
            f"longitude is {longitude:g} degrees; longitudes run from -180 (west) to 180 (east); "
            "check the sign and the decimal point.",
            -180,
            180,
        )
    return float(latitude), float((longitude + 180) % 360 - 180)


def looked_up_elevation(latitude: float, longitude: float) -> float:
    """Elevation [m] of a place, read from the coarse map that comes with pvlib; 0 on the sea.

    The map knows the height of a cell 9 km across in steps of 28 m: near 100 m off is usual in hills.

    Parameters
    ----------
    latitude, longitude : [deg]

    Examples
    --------
    >>> looked_up_elevation(36.10, -79.95)
    278.0
    """
    latitude, longitude = checked_position(latitude, longitude)
    return float(lookup_altitude(latitude, longitude))


def distance(latitude_a: Numeric, longitude_a: Numeric, latitude_b: Numeric, longitude_b: Numeric) -> Numeric:
    """Distance [km] over the ground between two places given in degrees, on a round Earth.

    Parameters
    ----------
    latitude_a, longitude_a, latitude_b, longitude_b : [deg]

    Examples
    --------
    >>> float(distance(0.0, 0.0, 0.0, 90.0))
    10007.5
    """
    haversine = (
        np.sin(np.radians(latitude_b - latitude_a) / 2) ** 2
        + np.cos(np.radians(latitude_a)) * np.cos(np.radians(latitude_b)) * np.sin(np.radians(longitude_b - longitude_a) / 2) ** 2
    )
    return 2 * MEAN_EARTH_RADIUS * np.arcsin(np.sqrt(haversine))


def skyline_altitude(azimuth: Numeric, skyline: Skyline) -> Numeric:
    """Altitude [deg] of the skyline in a direction, on straight lines between its points, all the way round.

    Parameters
    ----------
    azimuth : [deg], clockwise from north, any turn
    skyline : pairs of azimuth and altitude [deg]; two points at one azimuth make an upright edge

    Returns
    -------
    altitude : [deg], 0 where the skyline is empty

    Examples
    --------
    >>> skyline_altitude(355.0, ((10.0, 30.0), (350.0, 10.0)))
    15.0
    """
    direction = np.asarray(azimuth, dtype=float) % 360
    if not skyline:
        altitude = np.zeros_like(direction)
    else:
        points = sorted(((at % 360, height) for at, height in skyline), key=lambda point: point[0])
        around = [(points[-1][0] - 360, points[-1][1]), *points, (points[0][0] + 360, points[0][1])]
        altitude = np.interp(direction, [at for at, _ in around], [height for _, height in around])
    return float(altitude) if np.ndim(altitude) == 0 else altitude


@lru_cache(maxsize=4096)
def sky_view_factor(tilt: float, azimuth: float, skyline: Skyline) -> float:
    """Share of the even sky light falling on a tilted plane that the skyline lets through.

    Every bit of sky counts with the cosine of its angle to the plane. Along each direction the sum over
    altitude is done exactly; around the horizon it is a sum over ``VIEW_DIRECTIONS``.

    Parameters
    ----------
    tilt : [deg] from level, 0..90
    azimuth : [deg] the plane faces, clockwise from north
    skyline : pairs of azimuth and altitude [deg]

    Returns
    -------
    share : 0..1, exactly 1 with no skyline

    Examples
    --------
    >>> sky_view_factor(0.0, 180.0, ((0.0, 30.0),))
    0.75
    """
    if not skyline:
        return 1.0
    directions = (np.arange(VIEW_DIRECTIONS) + 0.5) * 360 / VIEW_DIRECTIONS
    facing = np.cos(np.radians(directions - azimuth))
    slope = np.radians(tilt)
    lowest = np.arctan2(np.maximum(-np.sin(slope) * facing, 0), np.cos(slope))
    hidden = np.radians(np.clip(skyline_altitude(directions, skyline), 0, 90))
    whole = light_above(lowest, facing, slope).sum()
    return float(light_above(np.maximum(lowest, hidden), facing, slope).sum() / whole)


def light_above(altitude: NDArray[np.float64], facing: NDArray[np.float64], slope: float) -> NDArray[np.float64]:
    """Even sky light per direction [1] that reaches the plane from ``altitude`` [rad] up to straight overhead.

    It is the integral of (cos slope sin h + sin slope cos h facing) cos h over the altitude h.
    """
    upright = np.cos(slope) * np.cos(altitude) ** 2 / 2
    sideways = np.sin(slope) * facing * ((np.pi / 2 - altitude) / 2 - np.sin(2 * altitude) / 4)
    return np.asarray(upright + sideways)
