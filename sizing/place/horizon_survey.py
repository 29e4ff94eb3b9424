"""What stands around the garden against the sky, measured by eye, tape or shadow, brought to one skyline.

Each sighting is a direction and how high the thing reaches: an angle, or its height above the panel and how far
off it stands.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.errors import InputError, Problem, SizingError
from sizing.foundation.working import formula
from sizing.place.place import Skyline

Numeric = float | NDArray[np.float64]

POINTER = "#/place/skyline"
SAME_DIRECTION = 1e-6
"""[deg] Directions nearer than this are one."""
TALLEST, FARTHEST = 9000.0, 300_000.0
"""[m] Nothing on Earth stands higher above a garden; a summit farther off is below the horizon."""


@dataclass(frozen=True)
class Sighting:
    """Direction [deg, clockwise from true north], and either altitude [deg] or height above the panel and distance [m]."""

    azimuth: float
    altitude: float | None = None
    height: float | None = None
    distance: float | None = None


@formula("degrees(arctan2(height, distance))", unit="deg", source="duffie_beckman")
def obstacle_altitude(height: Numeric, distance: Numeric) -> Numeric:
    """Altitude [deg] at which the top of a thing stands, from its height above the panel and its distance [m].

    Parameters
    ----------
    height : of its top above the panel's middle [m]
    distance : over level ground [m], above 0

    Examples
    --------
    >>> float(obstacle_altitude(26.0, 45.0))
    30.02
    """
    return np.degrees(np.arctan2(height, distance))


@formula("degrees(arctan2(height, shadow))", unit="deg", source="duffie_beckman")
def altitude_from_shadow(height: Numeric, shadow: Numeric) -> Numeric:
    """Altitude of the sun [deg] from an upright stick's height and the length of its shadow on level ground [m].

    Examples
    --------
    >>> float(altitude_from_shadow(1.0, 0.577))
    60.01
    """
    return np.degrees(np.arctan2(height, shadow))


@formula("height / tan(radians(sun_altitude))", unit="m", source="duffie_beckman")
def shadow_length(height: Numeric, sun_altitude: Numeric) -> Numeric:
    """Length of the shadow [m] that an upright stick of a height [m] throws on level ground.

    Parameters
    ----------
    height : [m]
    sun_altitude : [deg], above 0 and up to 90

    Examples
    --------
    >>> float(shadow_length(1.0, 39.888))
    1.196
    """
    return height / np.tan(np.radians(sun_altitude))


def skyline_of(sightings: Sequence[Sighting], pointer: str = POINTER) -> Skyline:
    """The skyline that a list of sightings describes, in the order of its directions from north.

    A direction given twice with one altitude is one point; with two altitudes it is refused.

    Parameters
    ----------
    sightings : in any order
    pointer : where the list stands in the design

    Returns
    -------
    skyline : pairs of azimuth (0 up to 360) and altitude [deg]

    Raises
    ------
    SizingError : every sighting that cannot be used, one problem each

    Examples
    --------
    >>> skyline_of([Sighting(190.0, height=26.0, distance=45.0), Sighting(90.0, altitude=12.0)])
    ((90.0, 12.0), (190.0, 30.02))
    """
    points: list[tuple[float, float]] = []
    problems: list[Problem] = []
    for index, sighting in enumerate(sightings):
        try:
            point = skyline_point(sighting, f"{pointer}/{index}")
            doubled(point, points, f"{pointer}/{index}")
            points.append(point)
        except SizingError as error:
            problems.extend(error.problems)
    if problems:
        raise InputError(*problems)
    merged: list[tuple[float, float]] = []
    for point in sorted(points):
        if not any(one_direction(point[0], kept[0]) for kept in merged):
            merged.append(point)
    return tuple(merged)


def one_direction(first: float, second: float) -> bool:
    """Whether two azimuths [deg] are the same, north counted once."""
    return abs((first - second + 180) % 360 - 180) < SAME_DIRECTION


def doubled(point: tuple[float, float], before: Sequence[tuple[float, float]], pointer: str) -> None:
    """Refuse a direction that an earlier sighting gave with another altitude."""
    for azimuth, altitude in before:
        if one_direction(point[0], azimuth) and abs(point[1] - altitude) > SAME_DIRECTION:
            sentence = (
                f"skyline direction {point[0]:g} degrees stands twice, with {altitude:.3g} and {point[1]:.3g} degrees of height; "
                "one direction has one height; for an upright edge set one of them half a degree aside."
            )
            raise InputError(Problem(f"{pointer}/azimuth_deg", "direction_doubled", sentence))


def skyline_point(sighting: Sighting, pointer: str) -> tuple[float, float]:
    """Azimuth (0 up to 360) and altitude [deg] of one sighting.

    Parameters
    ----------
    sighting : direction and either altitude, or height and distance
    pointer : where it stands in the design

    Raises
    ------
    SizingError : both or neither given, or a value outside its limits
    """
    within(sighting.azimuth, "skyline direction", "degrees", 0, 360, "count clockwise from north", f"{pointer}/azimuth_deg")
    by_tape = sighting.height is not None or sighting.distance is not None
    if sighting.altitude is not None and by_tape:
        sentence = (
            "skyline point has a height angle and also a height or a distance; one of the two is enough; "
            "leave out the angle, or leave out height and distance."
        )
        raise InputError(Problem(f"{pointer}/altitude_deg", "given_twice", sentence))
    if sighting.altitude is not None:
        within(
            sighting.altitude, "skyline height angle", "degrees", 0, 90, "0 is level, 90 straight up", f"{pointer}/altitude_deg"
        )
        return sighting.azimuth % 360, float(sighting.altitude)
    height, distance = sighting.height, sighting.distance
    if height is None or distance is None:
        lacking = {
            (True, True): ("altitude_deg", "height angle; give the angle, or a height and a distance"),
            (True, False): ("height_m", "height; measure how far it stands above the panel"),
            (False, True): ("distance_m", "distance; measure it over the ground"),
        }[height is None, distance is None]
        raise InputError(Problem(f"{pointer}/{lacking[0]}", "missing", f"skyline point has no {lacking[1]}."))
    return sighting.azimuth % 360, measured_altitude(height, distance, pointer)


def measured_altitude(height: float, distance: float, pointer: str) -> float:
    """Altitude [deg] from a measured height and distance [m], refused where they cannot be."""
    change = "measure from the height of the panel; leave out what stands lower"
    within(height, "skyline height above the panel", "m", 0, TALLEST, change, f"{pointer}/height_m")
    if distance == 0:
        sentence = (
            "skyline distance is 0 m; what stands at the panel itself has no direction; "
            "measure from the panel's middle to the foot of the thing."
        )
        raise InputError(Problem(f"{pointer}/distance_m", "out_of_range", sentence, 0, FARTHEST))
    within(distance, "skyline distance", "m", 0, FARTHEST, "measure over the ground", f"{pointer}/distance_m")
    return float(obstacle_altitude(height, distance))


def within(value: float, words: str, unit: str, least: float, most: float, change: str, pointer: str) -> None:
    """Refuse a value outside its limits, or none at all."""
    if not least <= value <= most:
        sentence = f"{words} is {value:g} {unit}; it runs from {least:g} to {most:,g} {unit}; {change}."
        raise InputError(Problem(pointer, "out_of_range", sentence, least, most))
