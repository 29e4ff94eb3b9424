"""The year: every step's operating point gathered into months, hours of the usual day, and days.

A *usual* day of a month is its median, hour by hour; a *dull* day and a *bright* day are the days whose
water stands at one tenth and nine tenths of the month's days.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.irradiance import PlaneSun
from sizing.operating_point import Operation, State
from sizing.units import HOUR
from sizing.weather import Sky
from sizing.working import formula

DAYS_IN_YEAR = 365
DULL, USUAL, BRIGHT = 0.1, 0.5, 0.9
"""[1] Quantiles of a month's days: what one calls a dull, a usual and a bright day."""


@dataclass(frozen=True)
class Month:
    """One month. Sun [kWh/m2 a day], hours a day, water [m3 a day], jet and heights [m], flow [m3/s], hours [h]."""

    month: int
    days: int
    poa: float
    running_hours: float
    water: float
    water_dull: float
    water_usual: float
    water_bright: float
    jet: float
    flow: float
    best_hour: int
    first_hour: float | None
    last_hour: float | None
    dry_days: int
    over_voltage_hours: float


@dataclass(frozen=True, eq=False)
class Year:
    """The twelve months, the usual day of each month hour by hour (12, 24), and the sums of the year.

    Flow [m3/s], jet [m], water [m3], running and daylight hours [h], poa [kWh/m2];
    ``hours_by_state`` counts the daylight hours of each state over the year.
    """

    months: tuple[Month, ...]
    usual_flow: NDArray[np.float64]
    usual_jet: NDArray[np.float64]
    daily_water: NDArray[np.float64]
    water: float
    running_hours: float
    poa: float
    hours_by_state: dict[State, float]


@formula("mean_flow * running_time", unit="m3", source="hydrostatics")
def water_delivered(mean_flow: float, running_time: float) -> float:
    """Water passed [m3] by a mean flow [m3/s] over a running time [s].

    Examples
    --------
    >>> water_delivered(8.2e-5, 5.5 * 3600)
    1.6236
    """
    return mean_flow * running_time


def month_of_day(sky: Sky) -> NDArray[np.int64]:
    """Month 1..12 of each of the 365 days."""
    return np.asarray(sky.month.reshape(DAYS_IN_YEAR, sky.steps_per_day)[:, 0])


def year_of(sky: Sky, sun: PlaneSun, operation: Operation) -> Year:
    """Gather the steps of a year.

    Parameters
    ----------
    sky, sun, operation : arrays of shape (365 x steps a day,), day after day
    """
    per_day, step = sky.steps_per_day, 24.0 / sky.steps_per_day
    flow = operation.flow.reshape(DAYS_IN_YEAR, per_day)
    jet = operation.jet.reshape(DAYS_IN_YEAR, per_day)
    state = operation.state.reshape(DAYS_IN_YEAR, per_day)
    daily_sun = sun.poa.reshape(DAYS_IN_YEAR, per_day).sum(axis=1) * step / 1000.0
    daily_water = flow.sum(axis=1) * step * HOUR
    months = month_of_day(sky)
    usual_flow, usual_jet = np.zeros((12, 24)), np.zeros((12, 24))
    found = []
    for number in range(1, 13):
        days = months == number
        middle = np.median(flow[days], axis=0)
        usual_flow[number - 1] = by_hour(middle, per_day)
        usual_jet[number - 1] = by_hour(np.median(jet[days], axis=0), per_day)
        best = int(np.argmax(usual_flow[number - 1]))
        dull, usual, bright = np.quantile(daily_water[days], [DULL, USUAL, BRIGHT])
        playing = np.flatnonzero(middle > 0)
        found.append(
            Month(
                month=number,
                days=int(days.sum()),
                poa=float(daily_sun[days].mean()),
                running_hours=float((flow[days] > 0).sum() * step / days.sum()),
                water=float(daily_water[days].mean()),
                water_dull=float(dull),
                water_usual=float(usual),
                water_bright=float(bright),
                jet=float(usual_jet[number - 1].max()),
                flow=float(usual_flow[number - 1].max()),
                best_hour=best,
                first_hour=float(playing[0] * step) if len(playing) else None,
                last_hour=float((playing[-1] + 1) * step) if len(playing) else None,
                dry_days=int((daily_water[days] <= 0).sum()),
                over_voltage_hours=float((state[days] == State.OVER_VOLTAGE).sum() * step),
            )
        )
    return Year(
        months=tuple(found),
        usual_flow=usual_flow,
        usual_jet=usual_jet,
        daily_water=daily_water,
        water=float(daily_water.sum()),
        running_hours=float((flow > 0).sum() * step),
        poa=float(daily_sun.sum()),
        hours_by_state={kind: float((state == kind).sum() * step) for kind in State},
    )


def by_hour(values: NDArray[np.float64], per_day: int) -> NDArray[np.float64]:
    """Mean of the steps of each of the 24 hours.

    Examples
    --------
    >>> by_hour(np.arange(48.0), 48)[:3]
    array([0.5, 2.5, 4.5])
    """
    return np.asarray(values.reshape(24, per_day // 24).mean(axis=1))


def day_of_kind(sky: Sky, month: int, quantile: float) -> int:
    """Day 0..364 whose horizontal sun stands at that quantile of the month's days.

    Parameters
    ----------
    month : 1..12
    quantile : 0..1, as ``DULL``, ``USUAL``, ``BRIGHT``
    """
    days = np.flatnonzero(month_of_day(sky) == month)
    daily = sky.ghi.reshape(DAYS_IN_YEAR, sky.steps_per_day)[days].sum(axis=1)
    order = np.argsort(daily, kind="stable")
    return int(days[order[round(quantile * (len(days) - 1))]])


def step_at(sky: Sky, day: int, hour: float) -> int:
    """Index of the step of a day that holds a time of day [h, 0..24)."""
    return day * sky.steps_per_day + int(hour / 24.0 * sky.steps_per_day)
