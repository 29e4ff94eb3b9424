"""The chance that a goal is met: how many of 257 sets of errors, all causes at once, leave it met.

Whether a step reaches the goal is a matter of its sun alone: enough for the least flow, not too much for the most. So each
draw comes down to the sun that its pump and panel need, and the year to the sun that it holds, month by month, on as many days
and in as much of their windows as the goal asks. This also holds for a pump that stops at once below some voltage.

Each month's sun is off by itself as well as with its year's, so a goal of many months is less likely than of one. Three words:
likely from five in six on, unlikely below one in three; at even chance a goal that looks met is missed every other time.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sizing.light.irradiance import PlaneSun
from sizing.operation.goal import ROUNDING, Goal, in_window, least_steps
from sizing.operation.operating_point import Supply, own_electronics
from sizing.operation.year import DAYS_IN_YEAR, month_of_day
from sizing.sky.weather import Sky
from sizing.uncertainty.draws import DRAWS, Drawn
from sizing.uncertainty.sun_needed import Asked, Edge, sun_needed

Array = NDArray[np.float64]
Outlook = Literal["likely", "even", "unlikely"]
Calm = Callable[[NDArray[np.int64]], Array]

LIKELY = 5 / 6
"""[1] A goal is likely met from this chance on."""
UNLIKELY = 1 / 3
"""[1] Below this chance it is unlikely met."""
WARMTHS = 9
"""Cell temperatures at which the sun that is needed is worked out, over those of the window."""
SWINGS = np.array([-2.0, -1.0, 0.0, 1.0, 2.0])
"""[1] Swings of the clouds at which the year's sun is worked out, over the standard uncertainty of their swing."""
HELD_SWING = 0.35
"""[1] Clouds that swing more can add no more than this to the swing taken: so years made anew with up to 2.5 times the spread
of clouds hold the sun of a goal (4 places, 12 months, 3 goals: mean within 5 %, root mean square 16 % and less)."""
OUT_OF_REACH = 1e6
"""[W/m2] Stands for the sun that cells of some warmth would need if no sun does while others do."""
DARK = 1e-6
"""[1] Light over that taken, where a draw leaves none."""
TRIED = 0.05
"""[1] So much more light is tried to see how the sun that counts goes with it: warm cells give less."""


@dataclass(frozen=True)
class Chance:
    """How sure a goal is.

    ``chance`` [1]; ``margin`` [1] is the sun that the poorest month holds over the sun that is needed, all as taken, 1
    where the goal is just met from below, ``None`` where no sun would do; ``reserve`` [1] is the same with as much off as
    a likely goal must stand: 1 where it is just likely, and 0 where no sun would do then.
    """

    chance: float
    outlook: Outlook
    margin: float | None
    reserve: float = 0.0


@dataclass(frozen=True, eq=False)
class GoalLight:
    """The steps of a goal's windows, a row for each day.

    Light into the cells [W/m2], 0 where a day has fewer steps, cells and air [Cel], how far passing clouds put the light above
    that of a smooth day [1]; month and least steps of each day, how many days of each month must count, the coldest and the
    warmest cells [Cel]. ``swings`` (5, months) is the sun that counts with other swings of the clouds, over that taken.
    """

    goal: Goal
    effective: Array
    cell: Array
    air: Array
    swing: Array
    month: NDArray[np.int64]
    least: NDArray[np.int64]
    days: dict[int, int]
    warmths: tuple[float, float]
    swing_size: float
    swings: Array


def outlook_of(chance: float) -> Outlook:
    """A chance as a word.

    Examples
    --------
    >>> outlook_of(0.9), outlook_of(0.5), outlook_of(0.1)
    ('likely', 'even', 'unlikely')
    """
    if chance >= LIKELY - ROUNDING:
        return "likely"
    return "even" if chance >= UNLIKELY - ROUNDING else "unlikely"


def goal_light(goal: Goal, sky: Sky, sun: PlaneSun, swing_size: float, calm: Calm | None = None) -> GoalLight:
    """Gather the light of a goal's windows.

    Parameters
    ----------
    swing_size : standard uncertainty of the swing of the sun inside a day, over that taken
    calm : gives the light into the cells of a smooth day at chosen steps [W/m2]
    """
    inside = in_window(goal, sky).reshape(DAYS_IN_YEAR, sky.steps_per_day)
    days = np.flatnonzero(inside.any(axis=1))
    asked = inside[days].sum(axis=1)
    order = np.argsort(~inside[days], axis=1, kind="stable")[:, : int(asked.max())]
    steps, real = days[:, None] * sky.steps_per_day + order, np.arange(order.shape[1]) < asked[:, None]
    light = np.where(real, sun.effective[steps], 0.0)
    swing = np.zeros_like(light)
    if calm is not None and sky.calm is not None:
        smooth = calm(steps.ravel()).reshape(steps.shape)
        swing = np.divide(light - smooth, light, out=swing, where=light > 0)
    month = month_of_day(sky)[days]
    counts = {number: int(np.count_nonzero(month == number)) for number in goal.months}
    cells = sun.cell_temperature[steps][light > 0]
    found = GoalLight(
        goal=goal,
        effective=light,
        cell=sun.cell_temperature[steps],
        air=sky.air_temperature[steps],
        swing=swing,
        month=month,
        least=least_steps(goal, asked),
        days={number: int(np.ceil(goal.day_share * count - ROUNDING)) for number, count in counts.items()},
        warmths=(float(cells.min(initial=20.0)), float(cells.max(initial=21.0))),
        swing_size=swing_size if np.any(swing) else 0.0,
        swings=np.ones((len(SWINGS), len(goal.months))),
    )
    if found.swing_size == 0:
        return found
    held_with = np.array([held(found, found.effective * swung(found, size * swing_size)) for size in SWINGS])
    taken = held_with[len(SWINGS) // 2]
    found.swings[:] = np.divide(held_with, taken, out=found.swings.copy(), where=taken > 0)
    return found


def swung(light: GoalLight, size: float) -> Array:
    """Light with so much more swing, over the light taken, step by step.

    Less swing goes straight toward the smooth day; more of it is soon held by the clear sky above and by the dark below.
    """
    felt = size if size <= 0 else HELD_SWING * (1 - np.exp(-size / HELD_SWING))
    return np.asarray(np.maximum(1 + felt * light.swing, 0.0))


def held(light: GoalLight, strength: Array) -> Array:
    """The strength of sun that each month of the goal holds, on enough days and in enough steps of each (months,)."""
    by_size = np.sort(strength, axis=1)
    of_day = np.take_along_axis(by_size, (strength.shape[1] - light.least)[:, None], axis=1)[:, 0]
    found = []
    for number, days in light.days.items():
        of_month = np.sort(of_day[light.month == number])
        found.append(of_month[len(of_month) - max(days, 1)])
    return np.array(found)


@dataclass(frozen=True, eq=False)
class Edges:
    """The sun, step by step, in which cells as warm as they are count like cells of one warmth (days, steps), and what is needed
    of it in each draw and as taken (draws + 1,) [W/m2]; ``warming`` is how it goes with the sun, as cells warm with it [1]."""

    strength: Array
    needed: Array
    warming: float


@dataclass(frozen=True, eq=False)
class Fit:
    """One panel and pump in the light of a goal: the least and the most of it, and what each month holds of the least
    (months,)."""

    least: Edges
    most: Edges | None
    held: Array


def chance_of(light: GoalLight, asked: Asked, supply: Supply, drawn: Drawn, clean: float) -> Chance:
    """Chance that a panel and a pump meet a goal.

    Parameters
    ----------
    asked : what the pump asks in all draws
    clean : share of the light that dirt leaves as taken, above 0
    """
    fit = fit_of(light, asked, supply, power_drawn(asked, drawn))
    spare = sun_to_spare(light, fit, drawn, clean)
    met = spare >= 1 if fit.most is None else within(light, fit, drawn, clean)
    chance, margin = float(met[:DRAWS].mean()), float(spare[-1]) if np.isfinite(fit.least.needed[-1]) else None
    reserve = float(np.sort(spare[:DRAWS])[int(np.floor((1 - LIKELY) * DRAWS))])
    return Chance(chance, outlook_of(chance), margin, reserve)


def power_drawn(asked: Asked, drawn: Drawn) -> Array:
    """Current of the panel over the one taken (draws + 1,); electronics of a pump may miss some of its power."""
    more = 1 + drawn.off["panel"]
    return more * (1 + drawn.off["drive"]) if own_electronics(asked.pump) else more


def light_drawn(light: GoalLight, edge: Edges, drawn: Drawn, clean: float) -> Array:
    """What sun and dirt make of the light in each month of the goal (months, draws + 1)."""
    of_sun = np.maximum(1 + drawn.months[[number - 1 for number in light.days]], DARK) ** edge.warming
    return np.asarray(of_sun * np.maximum(clean - drawn.off["soiling"], 0.0) / clean)


def clouds_drawn(light: GoalLight, drawn: Drawn) -> Array:
    """How much more clouds swing, over the standard uncertainty of their swing (draws + 1,)."""
    return drawn.off["clouds"] / light.swing_size if light.swing_size > 0 else np.zeros(DRAWS + 1)


def sun_to_spare(light: GoalLight, fit: Fit, drawn: Drawn, clean: float) -> Array:
    """Sun that the poorest month holds over the sun that the least of the goal needs, in each draw and as taken (draws + 1,)."""
    clouds = clouds_drawn(light, drawn)
    by_swing = np.array([np.interp(clouds, SWINGS, column) for column in light.swings.T]) ** fit.least.warming
    return np.asarray((fit.held[:, None] * by_swing * light_drawn(light, fit.least, drawn, clean)).min(axis=0) / fit.least.needed)


def within(light: GoalLight, fit: Fit, drawn: Drawn, clean: float) -> NDArray[np.bool_]:
    """In which draws, and as taken, enough steps of enough days lie between the least and the most of the goal."""
    assert fit.most is not None
    level = np.argmin(np.abs(clouds_drawn(light, drawn)[:, None] - SWINGS), axis=1)
    limits = [edge.needed / light_drawn(light, edge, drawn, clean) for edge in (fit.least, fit.most)]
    met = np.ones(DRAWS + 1, dtype=bool)
    for at in np.unique(level):
        mine, more = level == at, swung(light, float(SWINGS[at]) * light.swing_size)
        low, high = (edge.strength * np.maximum(more, DARK) ** edge.warming for edge in (fit.least, fit.most))
        for index, (number, days) in enumerate(light.days.items()):
            of_month = light.month == number
            least, most = (limit[index, mine] for limit in limits)
            inside = (low[of_month][:, :, None] >= least) & (high[of_month][:, :, None] <= most)
            counts = inside.sum(axis=1) >= light.least[of_month][:, None]
            met[mine] &= counts.sum(axis=0) >= days
    return met


def fit_of(light: GoalLight, asked: Asked, supply: Supply, more: Array) -> Fit:
    """A panel, ``more`` times its current in each draw, with a pump."""
    as_taken = asked.as_taken(WARMTHS)
    warmth = np.linspace(*light.warmths, WARMTHS)

    def edge_of(edge: Edge, taken: Edge, place: Callable[[Array], tuple[int, int]]) -> Edges:
        shape = sun_needed(as_taken, taken, supply, warmth, more[-1])
        shape = np.minimum(shape, OUT_OF_REACH) if np.any(np.isfinite(shape)) else np.ones(WARMTHS)
        strength = light.effective / np.interp(light.cell, warmth, shape)
        at = place(strength)
        cell, middle = float(light.cell[at]), float(np.interp(light.cell[at], warmth, shape))
        warmed = cell + TRIED * (cell - float(light.air[at]))
        cooling = np.log(np.interp(warmed, warmth, shape) / middle) / np.log(1 + TRIED)
        return Edges(strength * middle, sun_needed(asked, edge, supply, cell, more), 1 - float(cooling))

    least = edge_of(asked.least, as_taken.least, lambda strength: nearest(light, strength, float(held(light, strength).min())))
    most = None
    if asked.most is not None and as_taken.most is not None:
        most = edge_of(asked.most, as_taken.most, lambda strength: nearest(light, strength, 1.0))
    return Fit(least, most, held(light, least.strength))


def nearest(light: GoalLight, strength: Array, wanted: float) -> tuple[int, int]:
    """Day and step of the lit one whose strength is nearest to what is wanted."""
    apart = np.where(light.effective > 0, np.abs(strength - min(wanted, float(strength.max()))), np.inf)
    day, step = np.unravel_index(int(np.argmin(apart)), apart.shape)
    return int(day), int(step)
