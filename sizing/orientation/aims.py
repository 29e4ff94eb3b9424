"""What one may want of a direction: much water, many hours of play, hours that meet the goal, in which months and hours."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.formats import hour_span, month_span
from sizing.operation.goal import ROUNDING, Goal, in_window
from sizing.orientation.directions import Flatness, Outcome, best_plane, flatness_of, outcome_of
from sizing.orientation.planes import Planes, PlanesYear, Watch
from sizing.sky.weather import Sky

Array = NDArray[np.float64]
Key = Literal["year_water", "months_water", "hours_water", "year_play", "hours_play", "goal_hours"]
Origin = Literal["asked", "goal", "assumed"]

ALL_MONTHS = tuple(range(1, 13))
WHOLE_DAY = (0.0, 24.0)
SCHOOL_HOURS = (8.0, 15.0)
"""[h] Hours of a school day, assumed where none are chosen; common practice, no source."""


@dataclass(frozen=True)
class Wanted:
    """Months 1..12 and hours of the day [h] that somebody asks for; ``None`` leaves them to the goal, or to what is usual."""

    months: tuple[int, ...] | None = None
    hours: tuple[float, float] | None = None


@dataclass(frozen=True)
class Choice:
    """The months 1..12 and the hours of the day [h] that count, and where either comes from."""

    months: tuple[int, ...]
    hours: tuple[float, float]
    months_from: Origin
    hours_from: Origin


@dataclass(frozen=True, eq=False)
class Aim:
    """One thing to want, on every plane of a grid and today: water [m3], or hours [h].

    ``best`` is the place of the best plane in the grid; ``given_up`` the share of its value that today's direction
    lacks, below 0 where today's, between the planes of the grid, is better than any of them.
    """

    key: Key
    words: str
    unit: Literal["m3", "h"]
    values: Array
    today: float
    outcome: Outcome
    best: int
    flatness: Flatness
    given_up: float


def choice_of(goal: Goal | None, wanted: Wanted) -> Choice:
    """The months and hours that count: those asked for, else those of the goal, else all months and a school day.

    Examples
    --------
    >>> choice_of(None, Wanted(months=(5, 4))).months, choice_of(None, Wanted()).hours
    ((4, 5), (8.0, 15.0))
    """
    months, hours = (ALL_MONTHS, SCHOOL_HOURS) if goal is None else (goal.months, (goal.from_hour, goal.to_hour))
    months_from: Origin = "assumed" if goal is None else "goal"
    hours_from = months_from
    if wanted.months is not None:
        months, months_from = tuple(sorted(wanted.months)), "asked"
    if wanted.hours is not None:
        hours, hours_from = wanted.hours, "asked"
    return Choice(months, hours, months_from, hours_from)


def watch_of(sky: Sky, choice: Choice, goal: Goal | None, goal_flow: float) -> Watch:
    """The steps that are counted apart: those that lie, at least in part, in the chosen hours, and those of the goal."""
    half, (first, last) = 12.0 / sky.steps_per_day, choice.hours
    hours = (sky.hour + half > first + ROUNDING) & (sky.hour - half < last - ROUNDING)
    return Watch(hours, np.zeros_like(hours) if goal is None else in_window(goal, sky), goal_flow)


def counted(year: PlanesYear, choice: Choice, goal: Goal | None) -> list[tuple[Key, str, Array]]:
    """What is counted on each plane, in words and numbers; what would say the same twice is left out."""
    chosen = np.array(choice.months) - 1
    all_months, all_day = len(chosen) == 12, choice.hours == WHOLE_DAY
    months = "" if all_months else f"in {month_span(choice.months)}"
    hours = "" if all_day else f"from {hour_span(*choice.hours, 1)}"
    when = " ".join(part for part in (hours, months) if part)
    found: list[tuple[Key, str, Array]] = [("year_water", "water in the year", year.water.sum(axis=1))]
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


def aim_of(key: Key, words: str, values: Array, today: float, grid: Planes) -> Aim:
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
