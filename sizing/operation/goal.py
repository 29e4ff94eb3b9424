"""The goal: a jet this high, or this much water, from hour to hour, in these months, on so many days out of ten.

A jet rises with the flow, so every goal is a least flow. A day reaches the goal where no step inside the
hours falls below that flow; the goal is met where enough days of every month that it names do.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.hydraulic.outlet import jet_height
from sizing.operation.load_line import PipeSystem
from sizing.operation.year import DAYS_IN_YEAR, month_of_day
from sizing.sky.weather import Sky

HALVINGS = 60
LARGEST_FLOW = 10.0
"""[m3/s] No garden asks for more; a jet that needs it is out of reach."""
ROUNDING = 1e-9
"""[1] Seven days of ten are met by 21 of 30, whatever the binary digits say."""


@dataclass(frozen=True)
class Goal:
    """Either a jet [m] or a flow [m3/s]; hours of the sky's clock [h], months 1..12, share of days 0..1."""

    jet: float | None
    flow: float | None
    from_hour: float
    to_hour: float
    months: tuple[int, ...]
    day_share: float


@dataclass(frozen=True)
class GoalFound:
    """How far a year reaches a goal.

    ``hours`` [h a year] inside the window that reach it, of ``window_hours``; ``day_share`` of each month named;
    ``poorest_month`` 1..12 is the one with the smallest share.
    """

    met: bool
    hours: float
    window_hours: float
    day_share: dict[int, float]
    poorest_month: int


def needed_flow(goal: Goal, waterway: PipeSystem) -> float:
    """Least flow that reaches the goal [m3/s]; infinite where this outlet throws no such jet.

    Examples
    --------
    >>> from sizing.hydraulic.outlet import Nozzle
    >>> from sizing.hydraulic.pipes import Pipe
    >>> waterway = PipeSystem(Pipe(2.5, 0.013, 1.5e-6, 0.0, 1.1e-6), Nozzle(0.005, 1, 0.4, 0.946, 0.962))
    >>> flow = needed_flow(Goal(0.37, None, 10.0, 15.0, (5, 6), 0.7), waterway)
    >>> float(jet_height(waterway.outlet, flow))
    0.37000
    """
    if goal.flow is not None:
        return goal.flow
    assert goal.jet is not None
    low, high = 0.0, LARGEST_FLOW
    if float(jet_height(waterway.outlet, high)) < goal.jet:
        return float("inf")
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if float(jet_height(waterway.outlet, middle)) >= goal.jet else (middle, high)
    return high


def in_window(goal: Goal, sky: Sky) -> NDArray[np.bool_]:
    """Which steps of the year lie, at least in part, in the hours and months of the goal."""
    half = 12.0 / sky.steps_per_day
    hours = (sky.hour + half > goal.from_hour + ROUNDING) & (sky.hour - half < goal.to_hour - ROUNDING)
    return np.asarray(hours & np.isin(sky.month, goal.months))


def goal_found(goal: Goal, sky: Sky, flow: NDArray[np.float64], needed: float) -> GoalFound:
    """Count the hours and days that reach a goal.

    Parameters
    ----------
    flow : (365 x steps a day,) [m3/s]
    needed : least flow that reaches it [m3/s], from ``needed_flow``
    """
    inside, reached = in_window(goal, sky), np.asarray(flow) >= needed
    whole_days = np.all((reached | ~inside).reshape(DAYS_IN_YEAR, sky.steps_per_day), axis=1)
    month = month_of_day(sky)
    share = {number: float(whole_days[month == number].mean()) for number in goal.months}
    step = 24.0 / sky.steps_per_day
    return GoalFound(
        met=min(share.values()) >= goal.day_share - ROUNDING,
        hours=float(np.count_nonzero(inside & reached)) * step,
        window_hours=float(np.count_nonzero(inside)) * step,
        day_share=share,
        poorest_month=min(share, key=lambda number: (share[number], number)),
    )
