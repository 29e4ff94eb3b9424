"""Which way the panel should face: the fountain's year in every direction, and the design's own direction beside it."""

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sizing.design.design import Design
from sizing.foundation.formats import month_span, spans
from sizing.fountain.components import Fountain, fountain_of, goal_of
from sizing.fountain.site_setup import Mounting, Setting, setting_of
from sizing.operation.goal import FlowBand, Goal, flow_band, in_window, in_windows
from sizing.operation.operating_point import State, solve_grid
from sizing.orientation.directions import (
    TILTS,
    Flatness,
    Outcome,
    TiltsFound,
    best_plane,
    column_of,
    equator_azimuth,
    facing,
    flatness_of,
    grid,
    joined,
    outcome_of,
    tilts_found,
)
from sizing.orientation.goal_chances import GoalChances, goal_chances
from sizing.orientation.planes import Planes, PlanesYear, Watch, planes_year
from sizing.place.place import Place
from sizing.report.report import first_playing_sun
from sizing.sky.weather import Sky

Array = NDArray[np.float64]
AimKey = Literal["year_water", "months_water", "hours_water", "year_play", "hours_play", "goal_hours"]
Origin = Literal["asked", "goal", "assumed"]
SideName = Literal["today", "east", "equator", "west", "flat", "best"]

ALL_MONTHS = tuple(range(1, 13))
WHOLE_DAY = (0.0, 24.0)
SCHOOL_HOURS = (8.0, 15.0)
"""[h] Hours of a school day, assumed where none are chosen; common practice, no source."""
LEVEL, SIDE_TILT = 5.0, 35.0
"""[deg] A panel flatter than the first faces nowhere: its east, equator and west are shown at the second tilt."""
SIDES: tuple[SideName, ...] = ("today", "east", "equator", "west", "flat")
OWN = len(grid().tilt)
"""Place of today's plane: the first after the grid."""
MILD_AIR = 15.0
"""[Cel] Air at which the least sun that plays is told where no direction ever plays."""


@dataclass(frozen=True)
class Wanted:
    """Months 1..12 and hours of the day [h] that somebody asks for; ``None`` leaves them to the goal, or to what is usual."""

    months: tuple[int, ...] | None = None
    hours: tuple[float, float] | None = None


@dataclass(frozen=True)
class Choice:
    """The months 1..12 and the windows of the day [h], in its order, that count, and where either comes from."""

    months: tuple[int, ...]
    windows: tuple[tuple[float, float], ...]
    months_from: Origin
    hours_from: Origin

    @property
    def hours(self) -> tuple[float, float]:
        """First hour of the first window and last of the last [h]."""
        return self.windows[0][0], self.windows[-1][1]


@dataclass(frozen=True, eq=False)
class Aim:
    """One thing to want, on every plane of a grid and today: water [m3], or hours [h].

    ``best`` is the place of the best plane in the grid; ``given_up`` the share of its value that today's direction
    lacks, below 0 where today's, between the planes of the grid, is better than any of them.
    """

    key: AimKey
    words: str
    unit: Literal["m3", "h"]
    values: Array
    today: float
    outcome: Outcome
    best: int
    flatness: Flatness
    given_up: float


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
    fountain play [W/m2], and ``below`` what it does with less; ``chances`` is ``None`` without a goal.
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
    chances: GoalChances | None


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
    watch = watch_of(sky, choice, goal, FlowBand(np.inf) if goal is None else flow_band(goal, fountain.waterway))
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
        chances=chances_of(design, fountain, setting, goal, aims[-1], planes),
    )


def chances_of(
    design: Design, fountain: Fountain, setting: Setting, goal: Goal | None, aim: Aim, planes: Planes
) -> GoalChances | None:
    """How sure the goal is today and on the plane with most hours of it; ``None`` without a goal."""
    if goal is None:
        return None
    return goal_chances(design, fountain, setting, goal, float(planes.tilt[aim.best]), float(planes.azimuth[aim.best]))


def choice_of(goal: Goal | None, wanted: Wanted) -> Choice:
    """The months and hours that count: those asked for, else those of the goal, else all months and a school day.

    Examples
    --------
    >>> choice_of(None, Wanted(months=(5, 4))).months, choice_of(None, Wanted()).hours
    ((4, 5), (8.0, 15.0))
    """
    months, windows = (ALL_MONTHS, (SCHOOL_HOURS,)) if goal is None else (goal.months, goal.windows)
    months_from: Origin = "assumed" if goal is None else "goal"
    hours_from = months_from
    if wanted.months is not None:
        months, months_from = tuple(sorted(wanted.months)), "asked"
    if wanted.hours is not None:
        windows, hours_from = (wanted.hours,), "asked"
    return Choice(months, windows, months_from, hours_from)


def watch_of(sky: Sky, choice: Choice, goal: Goal | None, goal_flow: FlowBand) -> Watch:
    """The steps that are counted apart: those that lie, at least in part, in the chosen hours, and those of the goal."""
    hours = in_windows(choice.windows, sky)
    return Watch(hours, np.zeros_like(hours) if goal is None else in_window(goal, sky), goal_flow)


def counted(year: PlanesYear, choice: Choice, goal: Goal | None) -> list[tuple[AimKey, str, Array]]:
    """What is counted on each plane, in words and numbers; what would say the same twice is left out."""
    chosen = np.array(choice.months) - 1
    all_months, all_day = len(chosen) == 12, choice.windows == (WHOLE_DAY,)
    months = "" if all_months else f"in {month_span(choice.months)}"
    hours = "" if all_day else f"from {spans(choice.windows)}"
    when = " ".join(part for part in (hours, months) if part)
    found: list[tuple[AimKey, str, Array]] = [("year_water", "water in the year", year.water.sum(axis=1))]
    if not all_months:
        found.append(("months_water", f"water {months}", year.water[:, chosen].sum(axis=1)))
    if not all_day:
        found.append(("hours_water", f"water {when}", year.hours_water[:, chosen].sum(axis=1)))
    found.append(("year_play", "hours of play in the year", year.play.sum(axis=1)))
    if when:
        found.append(("hours_play", f"hours of play {when}", year.hours_play[:, chosen].sum(axis=1)))
    if goal is not None:
        found.append(("goal_hours", "hours that meet the goal", year.goal_hours.sum(axis=1)))
    return found


def aim_of(key: AimKey, words: str, values: Array, today: float, grid: Planes) -> Aim:
    """What the planes of a grid say to one aim."""
    best = best_plane(grid, values)
    most = float(values[best])
    return Aim(
        key=key,
        words=words,
        unit="m3" if key.endswith("water") else "h",
        values=values,
        today=today,
        outcome=outcome_of(values),
        best=best,
        flatness=flatness_of(grid, values, best),
        given_up=1 - today / most if most > 0 else 0.0,
    )


def every_plane(mounting: Mounting, place: Place) -> Planes:
    """All planes of the search: the grid, today's, those side by side, and all tilts at today's azimuth."""
    tilt = mounting.tilt if mounting.tilt >= LEVEL else SIDE_TILT
    around = [facing(tilt, azimuth) for azimuth in (90.0, equator_azimuth(place.latitude), 270.0)]
    return joined(grid(), facing(mounting.tilt, mounting.azimuth), *around, facing(0.0, 0.0), facing(TILTS, mounting.azimuth))


def main_aim(aims: tuple[Aim, ...]) -> Aim:
    """What counts first: the goal where any direction ever meets it, else the water of the year."""
    last = aims[-1]
    return last if last.key == "goal_hours" and last.outcome != "never" else aims[0]


def sides_of(every: Planes, sun: Array, values: list[Array], main: Aim) -> tuple[Side, ...]:
    """Today's direction, the four beside it, and the best for what counts first."""
    places = zip((*SIDES, "best"), (*range(OWN, OWN + len(SIDES)), main.best), strict=True)
    return tuple(
        Side(name, float(every.tilt[at]), float(every.azimuth[at]), float(sun[at]), tuple(float(each[at]) for each in values))
        for name, at in places
    )
