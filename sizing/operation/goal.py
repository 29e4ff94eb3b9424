"""The goal: a jet of this height, or this much water, in some hours of the day, in these months, on so many days out of ten.

A jet rises with the flow, so every goal is a band of flows, open above where no highest jet is named. A day counts where
enough steps of its windows, together, lie in that band (nine tenths unless the goal says otherwise: a cloud may pass); the
goal is met where enough days of every month that it names count.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

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


USUAL_SHARE = 0.9
"""[1] Share of the window's steps that makes a day count where nothing else is asked (common practice, no source)."""


@dataclass(frozen=True)
class Goal:
    """Either a jet [m] or a flow [m3/s], at least so much and, where ``jet_to`` or ``flow_to`` says so, at most so much.

    ``windows`` are hours of the sky's clock [h], from and to, in the order of the day and apart from one another; months
    1..12; a day counts where ``window_share`` of all steps of its windows is reached, and ``day_share`` of the days must.
    """

    jet: float | None
    flow: float | None
    windows: tuple[tuple[float, float], ...]
    months: tuple[int, ...]
    day_share: float
    window_share: float = USUAL_SHARE
    jet_to: float | None = None
    flow_to: float | None = None

    @property
    def from_hour(self) -> float:
        """First hour of the first window [h]."""
        return self.windows[0][0]

    @property
    def to_hour(self) -> float:
        """Last hour of the last window [h]."""
        return self.windows[-1][1]


class FlowBand(NamedTuple):
    """Flows that reach a goal [m3/s]: from the least, infinite where the outlet throws no such jet, to the most."""

    least: float
    most: float = float("inf")


@dataclass(frozen=True)
class GoalFound:
    """How far a year reaches a goal.

    ``hours`` [h a year] inside the windows that reach it, of ``window_hours``; ``hours_above`` are those with more than is
    wanted; ``day_share`` of each month named; ``poorest_month`` 1..12 is the one with the smallest share.
    """

    met: bool
    hours: float
    window_hours: float
    hours_above: float
    day_share: dict[int, float]
    poorest_month: int


def flow_band(goal: Goal, waterway: PipeSystem) -> FlowBand:
    """The flows that reach a goal [m3/s].

    Examples
    --------
    >>> from sizing.hydraulic.outlet import Nozzle
    >>> from sizing.hydraulic.pipes import Pipe
    >>> waterway = PipeSystem(Pipe(2.5, 0.013, 1.5e-6, 0.0, 1.1e-6), Nozzle(0.005, 1, 0.4, 0.946, 0.962))
    >>> band = flow_band(Goal(0.37, None, ((10.0, 15.0),), (5, 6), 0.7, jet_to=0.8), waterway)
    >>> [float(jet_height(waterway.outlet, flow)) for flow in band]
    [0.37000, 0.80000]
    """
    if goal.flow is not None:
        return FlowBand(goal.flow, float("inf") if goal.flow_to is None else goal.flow_to)
    assert goal.jet is not None
    most = float("inf") if goal.jet_to is None else jet_flow(waterway, goal.jet_to)
    return FlowBand(jet_flow(waterway, goal.jet), most)


def needed_flow(goal: Goal, waterway: PipeSystem) -> float:
    """Least flow that reaches the goal [m3/s]; infinite where this outlet throws no such jet."""
    return flow_band(goal, waterway).least


def jet_flow(waterway: PipeSystem, jet: float) -> float:
    """Least flow with which the outlet throws a jet [m] so high [m3/s]; infinite where none does."""
    low, high = 0.0, LARGEST_FLOW
    if float(jet_height(waterway.outlet, high)) < jet:
        return float("inf")
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if float(jet_height(waterway.outlet, middle)) >= jet else (middle, high)
    return high


def in_windows(windows: Iterable[tuple[float, float]], sky: Sky) -> NDArray[np.bool_]:
    """Which steps of the year lie, at least in part, in some hours of the day."""
    half, inside = 12.0 / sky.steps_per_day, np.zeros(sky.hour.shape, dtype=bool)
    for first, last in windows:
        inside |= (sky.hour + half > first + ROUNDING) & (sky.hour - half < last - ROUNDING)
    return inside


def in_window(goal: Goal, sky: Sky) -> NDArray[np.bool_]:
    """Which steps of the year lie, at least in part, in the hours and months of the goal."""
    return np.asarray(in_windows(goal.windows, sky) & np.isin(sky.month, goal.months))


def reaching(flow: NDArray[np.float64], band: FlowBand) -> NDArray[np.bool_]:
    """Where a flow [m3/s] lies in the band."""
    return np.asarray((flow >= band.least) & (flow <= band.most))


def least_steps(goal: Goal, steps: NDArray[np.int64] | int) -> NDArray[np.int64]:
    """How many of so many steps of a day's windows must reach the goal for the day to count.

    Examples
    --------
    >>> [int(least_steps(Goal(None, 1e-4, ((10.0, 15.0),), (5,), 0.7), steps)) for steps in (5, 10, 12, 20)]
    [5, 9, 11, 18]
    """
    return np.asarray(np.ceil(goal.window_share * np.asarray(steps) - ROUNDING), dtype=np.int64)


def day_shares(goal: Goal, month: NDArray[np.int64], reached: NDArray[np.int64], asked: NDArray[np.int64]) -> dict[int, float]:
    """Share of the days of each month of a goal that count.

    Parameters
    ----------
    month, reached, asked : (days,) month of each day, steps of its windows that reach the goal, all steps of its windows
    """
    counts = reached >= least_steps(goal, asked)
    return {number: float(counts[month == number].mean()) for number in goal.months}


def enough_days(goal: Goal, share: dict[int, float]) -> bool:
    """Whether enough days of every month count."""
    return min(share.values()) >= goal.day_share - ROUNDING


def goal_found(goal: Goal, sky: Sky, flow: NDArray[np.float64], band: FlowBand) -> GoalFound:
    """Count the hours and days that reach a goal.

    Parameters
    ----------
    flow : (365 x steps a day,) [m3/s]
    band : the flows that reach it, from ``flow_band``
    """
    flow, inside = np.asarray(flow), in_window(goal, sky)
    reached = inside & reaching(flow, band)
    by_day = (DAYS_IN_YEAR, sky.steps_per_day)
    share = day_shares(goal, month_of_day(sky), *(steps.reshape(by_day).sum(axis=1) for steps in (reached, inside)))
    step = 24.0 / sky.steps_per_day
    return GoalFound(
        met=enough_days(goal, share),
        hours=float(np.count_nonzero(reached)) * step,
        window_hours=float(np.count_nonzero(inside)) * step,
        hours_above=float(np.count_nonzero(inside & (flow > band.most))) * step,
        day_share=share,
        poorest_month=min(share, key=lambda number: (share[number], number)),
    )
