"""Tilting with the seasons: the best tilt of each month, and two tilts a year, against one tilt that stays."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.orientation.directions import TIE, TILTS

Array = NDArray[np.float64]


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
