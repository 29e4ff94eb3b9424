"""Which way the panel should face: the fountain's year in every direction, and the design's own direction beside it."""

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sizing.design.design import Design
from sizing.fountain.components import fountain_of, goal_of
from sizing.fountain.site_setup import Mounting, setting_of
from sizing.operation.goal import Goal, needed_flow
from sizing.operation.operating_point import State, solve_grid
from sizing.orientation.aims import Aim, Choice, Wanted, aim_of, choice_of, counted, watch_of
from sizing.orientation.directions import TILTS, Outcome, column_of, equator_azimuth, facing, grid, joined
from sizing.orientation.planes import Planes, planes_year
from sizing.orientation.seasons import TiltsFound, tilts_found
from sizing.place.place import Place
from sizing.report.report import first_playing_sun
from sizing.sky.weather import Sky

Array = NDArray[np.float64]
SideName = Literal["today", "east", "equator", "west", "flat", "best"]

LEVEL, SIDE_TILT = 5.0, 35.0
"""[deg] A panel flatter than the first faces nowhere: its east, equator and west are shown at the second tilt."""
SIDES: tuple[SideName, ...] = ("today", "east", "equator", "west", "flat")
OWN = len(grid().tilt)
"""Place of today's plane: the first after the grid."""
MILD_AIR = 15.0
"""[Cel] Air at which the least sun that plays is told where no direction ever plays."""


@dataclass(frozen=True)
class Side:
    """One of the directions side by side: tilt and azimuth [deg], sun on it in the year [kWh/m2], value of each aim."""

    name: SideName
    tilt: float
    azimuth: float
    sun: float
    values: tuple[float, ...]


@dataclass(frozen=True, eq=False)
class Orientation:
    """Everything that one search found.

    ``planes`` is the grid and ``sun`` what falls on each plane of it in the year [kWh/m2]; ``main`` is the aim that
    counts first; ``tilts`` are those at today's azimuth; ``first_sun`` is the least sun on the cells that makes the
    fountain play [W/m2], and ``below`` what it does with less.
    """

    design: Design
    place: Place
    mounting: Mounting
    sky: Sky
    choice: Choice
    goal: Goal | None
    planes: Planes
    sun: Array
    aims: tuple[Aim, ...]
    main: Aim
    sides: tuple[Side, ...]
    tilts: TiltsFound
    equator_tilts: TiltsFound
    first_sun: float | None
    below: State


def orient(design: Design, folder: Path | None = None, wanted: Wanted | None = None, sky: Sky | None = None) -> Orientation:
    """Search all directions for one design: its chosen panel and pump, over a whole year.

    Parameters
    ----------
    design : checked design
    folder : where a weather file named by the design is looked for; ``None`` refuses weather files
    wanted : months and hours that count
    sky : a year at hand in place of the one that the design names

    Raises
    ------
    SizingError
        with one sentence per cause, as ``size`` does.
    """
    fountain = fountain_of(design)
    setting = setting_of(design, folder, sky)
    place, mounting, sky = setting.place, setting.mounting, setting.sky
    goal = goal_of(design)
    choice = choice_of(goal, wanted or Wanted())
    watch = watch_of(sky, choice, goal, np.inf if goal is None else needed_flow(goal, fountain.waterway))
    solved = solve_grid(fountain.supply, fountain.pump, fountain.waterway)
    planes, every = grid(), every_plane(mounting, place)
    year = planes_year(sky, place, mounting.soiling, solved, every, watch)
    found = counted(year, choice, goal)
    aims = tuple(aim_of(key, words, values[:OWN], float(values[OWN]), planes) for key, words, values in found)
    main = main_aim(aims)
    sun, equator = year.sun.sum(axis=1), equator_azimuth(place.latitude)
    first_sun, below = first_playing_sun(solved, MILD_AIR)
    return Orientation(
        design=design,
        place=place,
        mounting=mounting,
        sky=sky,
        choice=choice,
        goal=goal,
        planes=planes,
        sun=sun[:OWN],
        aims=aims,
        main=main,
        sides=sides_of(every, sun, [values for _, _, values in found], main),
        tilts=tilts_found(mounting.azimuth, year.water[-len(TILTS) :]),
        equator_tilts=tilts_found(equator, year.water[column_of(equator)]),
        first_sun=first_sun,
        below=below,
    )


def every_plane(mounting: Mounting, place: Place) -> Planes:
    """All planes of the search: the grid, today's, those side by side, and all tilts at today's azimuth."""
    tilt = mounting.tilt if mounting.tilt >= LEVEL else SIDE_TILT
    around = [facing(tilt, azimuth) for azimuth in (90.0, equator_azimuth(place.latitude), 270.0)]
    return joined(grid(), facing(mounting.tilt, mounting.azimuth), *around, facing(0.0, 0.0), facing(TILTS, mounting.azimuth))


def main_aim(aims: tuple[Aim, ...]) -> Aim:
    """What counts first: the goal where any direction ever meets it, else the water of the year."""
    last = aims[-1]
    return last if last.key == "goal_hours" and last.outcome != Outcome.NEVER else aims[0]


def sides_of(every: Planes, sun: Array, values: list[Array], main: Aim) -> tuple[Side, ...]:
    """Today's direction, the four beside it, and the best for what counts first."""
    places = zip((*SIDES, "best"), (*range(OWN, OWN + len(SIDES)), main.best), strict=True)
    return tuple(
        Side(name, float(every.tilt[at]), float(every.azimuth[at]), float(sun[at]), tuple(float(each[at]) for each in values))
        for name, at in places
    )
