"""Directions to choose from: a grid of tilts and azimuths, its best plane, what a wrong one costs, tilts through the seasons."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sizing.orientation.planes import Planes, angles_between, perpendiculars

Array = NDArray[np.float64]
Outcome = Literal["never", "alike", "found"]
"""What a search over all planes found: nothing anywhere, no difference between planes, or a best one."""

TILTS = np.arange(0.0, 91.0, 5.0)
"""[deg] From level; level itself is one plane, whichever way it is turned."""
AZIMUTHS = np.arange(0.0, 361.0, 10.0)
"""[deg] Clockwise from north; 360 is 0 again."""
TIE = 0.001
"""[1] Planes this near to the best one are as good as it: the search itself is no finer."""
LEVEL_ROOM = 0.39
"""[1] Room of directions around the level plane against that around an upright one: a cap of 2.5° over 5° x 10°."""
LITTLE = 0.05
"""[1] A loss below this is called little."""


@dataclass(frozen=True)
class Flatness:
    """Largest angle from the best plane within which no plane loses more than ``LITTLE`` [deg]; whether none loses it at all."""

    angle: float
    everywhere: bool


def grid() -> Planes:
    """All planes of ``TILTS`` and ``AZIMUTHS``, each once: the level one, then tilt after tilt.

    Examples
    --------
    >>> planes = grid()
    >>> len(planes.tilt), float(planes.tilt[1]), float(planes.azimuth[36])
    (649, 5.0, 350.0)
    """
    tilt = np.concatenate([[0.0], np.repeat(TILTS[1:], len(AZIMUTHS) - 1)])
    return Planes(tilt, np.concatenate([[0.0], np.tile(AZIMUTHS[:-1], len(TILTS) - 1)]))


def as_table(values: Array) -> Array:
    """Values of the grid's planes as (tilts, azimuths), the level plane at every azimuth and north at both ends.

    Examples
    --------
    >>> as_table(np.arange(649.0))[[0, 1, 1, 1], [7, 0, 35, 36]]
    array([ 0., 1., 36., 1.])
    """
    rows = values[1:].reshape(len(TILTS) - 1, len(AZIMUTHS) - 1)
    level = np.full((1, len(AZIMUTHS)), values[0])
    return np.concatenate([level, np.concatenate([rows, rows[:, :1]], axis=1)])


def column_of(azimuth: float) -> NDArray[np.int64]:
    """Places in the grid of the planes that face an azimuth of the grid [deg], one for each tilt.

    Examples
    --------
    >>> column_of(180.0)[:3]
    array([ 0, 19, 55])
    """
    turn = round(azimuth / 10) % 36
    return np.concatenate([[0], 1 + turn + 36 * np.arange(len(TILTS) - 1)])


def equator_azimuth(latitude: float) -> float:
    """Direction of the equator [deg], clockwise from north; south where the place lies on it."""
    return 180.0 if latitude >= 0 else 0.0


def outcome_of(values: Array) -> Outcome:
    """Whether a search found anything, and any difference."""
    most = float(values.max())
    if most <= 0:
        return "never"
    return "alike" if float(values.min()) >= (1 - TIE) * most else "found"


def best_plane(planes: Planes, values: Array) -> int:
    """Place of the best plane; of several as good as the best the one in their middle.

    Examples
    --------
    >>> best_plane(Planes(np.full(5, 40.0), np.array([140.0, 160.0, 180.0, 200.0, 220.0])), np.array([7.0, 9.0, 9.0, 9.001, 8.0]))
    2
    """
    near = np.flatnonzero(values >= (1 - TIE) * values.max())
    directions, tilt = perpendiculars(planes)[near], planes.tilt[near]
    room = np.where(tilt > 0, np.sin(np.radians(tilt)), LEVEL_ROOM)  # planes stand closer together the flatter they lie
    toward_middle = np.round(directions @ (room @ directions), 6)
    return int(near[np.lexsort((-values[near], -toward_middle))[0]])


def flatness_of(planes: Planes, values: Array, best: int) -> Flatness:
    """How far from the best plane one may turn without losing more than a little.

    Examples
    --------
    >>> flatness_of(Planes(np.array([0.0, 10.0, 20.0, 30.0]), np.zeros(4)), np.array([8.0, 9.6, 10.0, 9.7]), 2)
    Flatness(angle=10.0, everywhere=False)
    """
    angle = np.round(angles_between(planes, float(planes.tilt[best]), float(planes.azimuth[best])), 6)
    loses = values < (1 - LITTLE) * values[best]
    if not np.any(loses):
        return Flatness(float(angle.max()), True)
    return Flatness(float(angle[angle < angle[loses].min()].max()), False)


def joined(*parts: Planes) -> Planes:
    """Planes one after the other."""
    return Planes(np.concatenate([part.tilt for part in parts]), np.concatenate([part.azimuth for part in parts]))


def facing(tilts: Array | float, azimuth: float) -> Planes:
    """Planes of one azimuth."""
    tilt = np.atleast_1d(np.asarray(tilts, dtype=float))
    return Planes(tilt, np.full(len(tilt), azimuth % 360))


@dataclass(frozen=True)
class Season:
    """A tilt [deg] and the months 1..12 in which the panel stands so, from the first to the last of them."""

    tilt: float
    months: tuple[int, ...]


@dataclass(frozen=True)
class TwoTilts:
    """Two seasons, their water in the year [m3], and what they gain over the best tilt that stays [1]."""

    seasons: tuple[Season, Season]
    water: float
    gain: float


@dataclass(frozen=True, eq=False)
class TiltsFound:
    """Tilts at one azimuth [deg], counted by water [m3].

    ``monthly`` is the best tilt of each month, None where it stays dry; ``monthly_water`` the water of each month at
    it and ``fixed_water`` that at ``fixed``, the best tilt of the year; ``gain`` that of twelve tilts a year over it;
    ``two`` is None where two tilts gain nothing.
    """

    azimuth: float
    monthly: tuple[float | None, ...]
    monthly_water: Array
    fixed: float
    fixed_water: Array
    gain: float
    two: TwoTilts | None


def best_tilt(water: Array) -> int:
    """Place of the best tilt; of several as good as the best the middle one.

    Examples
    --------
    >>> best_tilt(np.array([2.0, 7.0, 7.001, 7.0, 3.0]))
    2
    """
    near = np.flatnonzero(water >= (1 - TIE) * water.max())
    return int(near[(len(near) - 1) // 2])


def tilts_found(azimuth: float, water: Array) -> TiltsFound:
    """What tilting can bring at one azimuth.

    Parameters
    ----------
    azimuth : [deg]
    water : of each tilt of ``TILTS`` and each month [m3], shape (tilts, 12)
    """
    places = [best_tilt(month) for month in water.T]
    fixed = best_tilt(water.sum(axis=1))
    monthly_water = water.max(axis=0)
    whole = float(water[fixed].sum())
    return TiltsFound(
        azimuth=azimuth,
        monthly=tuple(float(TILTS[place]) if most > 0 else None for place, most in zip(places, monthly_water, strict=True)),
        monthly_water=monthly_water,
        fixed=float(TILTS[fixed]),
        fixed_water=water[fixed],
        gain=max(float(monthly_water.sum()) / whole - 1, 0.0) if whole > 0 else 0.0,
        two=two_tilts(water, whole),
    )


def two_tilts(water: Array, whole: float) -> TwoTilts | None:
    """The two tilts and their months with most water; of several as good as the best, halves of the year most alike.

    Parameters
    ----------
    water : (tilts, 12) [m3]
    whole : water of the year at the best tilt that stays [m3]
    """
    found: list[tuple[int, float, tuple[int, ...]]] = []
    for length in range(1, 7):
        for start in range(12 if length < 6 else 6):
            run = tuple((start + step) % 12 for step in range(length))
            rest = [month for month in range(12) if month not in run]
            found.append((length, float(water[:, run].sum(axis=1).max() + water[:, rest].sum(axis=1).max()), run))
    most = max(total for _, total, _ in found)
    if most <= (1 + TIE) * whole:
        return None
    _, total, run = max(each for each in found if each[1] >= most - TIE * whole)
    other = tuple((run[-1] + 1 + step) % 12 for step in range(12 - len(run)))
    first, second = (
        Season(float(TILTS[best_tilt(water[:, part].sum(axis=1))]), tuple(month + 1 for month in part)) for part in (run, other)
    )
    return TwoTilts((first, second), total, total / whole - 1) if first.tilt != second.tilt else None
