"""Things that stand against the sky, each for itself: a tree, a house, a mast. Between them the horizon stays level.

An obstacle is an upright screen that faces the panel: a direction, a distance, a width, and how far its top is above the panel.
It is laid over the skyline that was typed; in each direction the higher of all counts.
"""

import re
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.errors import input_error
from sizing.foundation.working import formula
from sizing.place.place import Obstacle, Skyline, skyline_altitude

Numeric = float | NDArray[np.float64]

FINEST = 1.0
"""[deg] The top of an obstacle is followed in steps of at most so much."""
BESIDE = 1e-7
"""[deg] So far to either side of an edge its two heights are read."""
SAME_HEIGHT = 1e-4
"""[deg] Heights nearer than this are one."""
POINTS = ("n", "nne", "ne", "ene", "e", "ese", "se", "sse", "s", "ssw", "sw", "wsw", "w", "wnw", "nw", "nnw")
"""The sixteen points of the compass, a sixteenth of a turn each, from north."""
LETTERS = {"north": "n", "east": "e", "south": "s", "west": "w"}
DEGREES = re.compile(r"\d{1,3}([.,]\d+)?\s*(°|deg|degrees)?")


@formula("degrees(arctan2(width / 2, distance))", unit="deg", source="duffie_beckman")
def half_width(width: Numeric, distance: Numeric) -> Numeric:
    """Angle [deg] from an obstacle's middle to either edge, from its width and distance [m].

    Examples
    --------
    >>> float(half_width(20.0, 10.0))
    45.0
    """
    return np.degrees(np.arctan2(width / 2, distance))


@formula("degrees(arctan2(height * cos(radians(off_middle)), distance))", unit="deg", source="duffie_beckman")
def top_altitude(height: Numeric, distance: Numeric, off_middle: Numeric) -> Numeric:
    """Altitude [deg] of the top of an upright screen in a direction off its middle [deg].

    Parameters
    ----------
    height : of its top above the panel [m]
    distance : of its middle [m]; to either side it is farther

    Examples
    --------
    >>> float(top_altitude(10.0, 10.0, 0.0)), float(top_altitude(10.0, 10.0, 60.0))
    (45.00, 26.57)
    """
    return np.degrees(np.arctan2(height * np.cos(np.radians(off_middle)), distance))


def named_direction(text: str, pointer: str) -> float:
    """Azimuth [deg, clockwise from true north] that a word or a number of degrees names.

    Raises
    ------
    InputError : it is neither

    Examples
    --------
    >>> [named_direction(text, "#") for text in ("south-west", "SSW", "225", "North East", "12.5°")]
    [225.0, 202.5, 225.0, 45.0, 12.5]
    """
    said = text.strip().lower()
    if DEGREES.fullmatch(said) and (degrees := float(re.sub(r"[^\d.]", "", said.replace(",", ".")))) <= 360:
        return degrees % 360
    word = re.sub(r"[\s\-_.]", "", said)
    for name, letter in LETTERS.items():
        word = word.replace(name, letter)
    if word in POINTS:
        return POINTS.index(word) * 22.5
    raise input_error(
        pointer,
        "no_direction",
        f'direction of the obstacle is "{text.strip()[:40]}"; write degrees from true north, 0 to 360, or a point of the compass '
        "such as south-west or SSW.",
        0,
        360,
    )


class Span(NamedTuple):
    """Middle and half width of an obstacle [deg]."""

    middle: float
    half: float


def span_of(obstacle: Obstacle) -> Span:
    """Where an obstacle begins and ends, around its middle."""
    return Span(obstacle.azimuth, float(half_width(obstacle.width, obstacle.distance)))


def skyline_with(skyline: Skyline, obstacles: Sequence[Obstacle]) -> Skyline:
    """A skyline with obstacles laid over it; upright edges are two points at one direction.

    Examples
    --------
    >>> tree = Obstacle("tree", 180.0, 10.0, 10.0, 0.2)
    >>> [(round(at, 1), round(high)) for at, high in skyline_with((), [tree])]
    [(179.4, 0), (179.4, 45), (180.0, 45), (180.6, 45), (180.6, 0)]
    """
    if not obstacles:
        return skyline
    at = np.unique(np.array([*(azimuth % 360 for azimuth, _ in skyline), *corners(obstacles)]).round(9) % 360)
    before, after = (highest(at + side, skyline, obstacles) for side in (-BESIDE, BESIDE))
    found = []
    for azimuth, left, right in zip(at.tolist(), before.tolist(), after.tolist(), strict=True):
        found.append((azimuth, left))
        if abs(left - right) > SAME_HEIGHT:
            found.append((azimuth, right))
    return tuple(found)


def corners(obstacles: Sequence[Obstacle]) -> list[float]:
    """Directions [deg] in which the tops of obstacles are followed: their edges, and steps between them."""
    found: list[float] = []
    for obstacle in obstacles:
        middle, half = span_of(obstacle)
        steps = 2 * max(1, int(np.ceil(half / FINEST))) + 1
        found += (middle + np.linspace(-half, half, steps)).tolist()
    return found


def highest(azimuth: NDArray[np.float64], skyline: Skyline, obstacles: Sequence[Obstacle]) -> NDArray[np.float64]:
    """Altitude [deg] of whatever reaches highest in each direction [deg]."""
    found = np.asarray(skyline_altitude(azimuth, skyline), dtype=float).copy()
    for obstacle in obstacles:
        middle, half = span_of(obstacle)
        off = np.abs((azimuth - middle + 180) % 360 - 180)
        top = np.asarray(top_altitude(obstacle.height, obstacle.distance, np.minimum(off, 90)))
        found = np.where(off <= half, np.maximum(found, top), found)
    return found
