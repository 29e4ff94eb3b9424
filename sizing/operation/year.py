"""The year: every step's operating point gathered into months, hours of the usual day, and days.

A *usual* day of a month is its median, hour by hour; a *dull* day and a *bright* day are the days whose
water stands at one tenth and nine tenths of the month's days.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.units import HOUR
from sizing.light.irradiance import PlaneSun
from sizing.operation.operating_point import OperatingPoints, State
from sizing.sky.weather import Sky

Array = NDArray[np.float64]

DAYS_IN_YEAR = 365
DULL, USUAL, BRIGHT = 0.1, 0.5, 0.9
"""[1] Quantiles of a month's days: what one calls a dull, a usual and a bright day."""


@dataclass(frozen=True)
class Month:
    """One month. Sun [kWh/m2 a day], hours a day, water [m3 a day], jet and heights [m], flow [m3/s], hours [h]."""

    month: int
    days: int
    poa_insolation: float
    running_hours: float
    water: float
    water_p10: float
    water_p50: float
    water_p90: float
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

    Flow [m3/s], jet [m], water [m3], running hours [h], poa [kWh/m2];
    ``hours_by_state`` counts the hours of each state over the year, nights among them.
    """

    months: tuple[Month, ...]
    usual_flow: Array
    usual_jet: Array
    daily_water: Array
    water: float
    running_hours: float
    poa_insolation: float
    hours_by_state: dict[State, float]

    @property
    def running_months(self) -> tuple[int, ...]:
        """Months, 1 to 12, whose usual day plays."""
        return tuple(month.month for month in self.months if month.first_hour is not None)

    @property
    def running_water(self) -> float:
        """Water of a mean day of those months [m3]; 0 where there is none."""
        running = [month for month in self.months if month.first_hour is not None]
        return sum(month.water * month.days for month in running) / max(sum(month.days for month in running), 1)


@dataclass(frozen=True, eq=False)
class Days:
    """Sun [kWh/m2], water [m3], running hours and hours above the highest voltage [h] of each of the 365 days."""

    sun: Array
    water: Array
    running_hours: Array
    over_voltage_hours: Array


def month_of_day(sky: Sky) -> NDArray[np.int64]:
    """Month 1..12 of each of the 365 days."""
    return np.asarray(sky.month.reshape(DAYS_IN_YEAR, sky.steps_per_day)[:, 0])


def year_of(sky: Sky, sun: PlaneSun, operation: OperatingPoints) -> Year:
    """Gather the steps of a year.

    Parameters
    ----------
    sky, sun, operation : arrays of shape (365 x steps a day,), day after day
    """
    per_day, step = sky.steps_per_day, 24.0 / sky.steps_per_day
    flow, jet, state, poa = (
        values.reshape(DAYS_IN_YEAR, per_day) for values in (operation.flow, operation.jet, operation.state, sun.poa)
    )
    days = Days(
        sun=poa.sum(axis=1) * step / 1000.0,
        water=flow.sum(axis=1) * step * HOUR,
        running_hours=(flow > 0).sum(axis=1) * step,
        over_voltage_hours=(state == State.OVER_VOLTAGE).sum(axis=1) * step,
    )
    months = month_of_day(sky)
    of_month = [months == number for number in range(1, 13)]
    usual_flow = np.array([np.median(flow[days_in], axis=0) for days_in in of_month])
    usual_jet = np.array([by_hour(np.median(jet[days_in], axis=0), per_day) for days_in in of_month])
    count = np.bincount(operation.state, minlength=len(State)) * step
    return Year(
        months=tuple(month_of(i + 1, of_month[i], days, usual_flow[i], usual_jet[i], step) for i in range(12)),
        usual_flow=np.array([by_hour(day, per_day) for day in usual_flow]),
        usual_jet=usual_jet,
        daily_water=days.water,
        water=float(days.water.sum()),
        running_hours=float(days.running_hours.sum()),
        poa_insolation=float(days.sun.sum()),
        hours_by_state={kind: float(count[kind]) for kind in State},
    )


def month_of(number: int, days_in: NDArray[np.bool_], days: Days, middle: Array, usual_jet: Array, step: float) -> Month:
    """Gather one month.

    Parameters
    ----------
    number : 1..12
    days_in : (365,) which days belong to it
    middle : (steps a day,) flow of its usual day [m3/s]
    usual_jet : (24,) jet of its usual day, hour by hour [m]
    step : length of a step [h]
    """
    water = days.water[days_in]
    by_the_hour = by_hour(middle, len(middle))
    dull, usual, bright = np.quantile(water, [DULL, USUAL, BRIGHT])
    playing = np.flatnonzero(middle > 0)
    return Month(
        month=number,
        days=len(water),
        poa_insolation=float(days.sun[days_in].mean()),
        running_hours=float(days.running_hours[days_in].mean()),
        water=float(water.mean()),
        water_p10=float(dull),
        water_p50=float(usual),
        water_p90=float(bright),
        jet=float(usual_jet.max()),
        flow=float(by_the_hour.max()),
        best_hour=middle_best(by_the_hour),
        first_hour=float(playing[0] * step) if len(playing) else None,
        last_hour=float((playing[-1] + 1) * step) if len(playing) else None,
        dry_days=int((water <= 0).sum()),
        over_voltage_hours=float(days.over_voltage_hours[days_in].sum()),
    )


def middle_best(by_the_hour: Array) -> int:
    """Hour of the largest value; of several that are equal, as behind a controller at rated voltage, the middle one.

    Examples
    --------
    >>> middle_best(np.array([0.0, 3.0, 5.0, 5.0, 5.0, 1.0]))
    3
    """
    best = np.flatnonzero(by_the_hour >= (1 - 1e-9) * by_the_hour.max())
    return int(best[(len(best) - 1) // 2])


def by_hour(values: Array, per_day: int) -> Array:
    """Mean of the steps of each of the 24 hours.

    Examples
    --------
    >>> by_hour(np.arange(48.0), 48)[:3]
    array([0.5, 2.5, 4.5])
    """
    return np.asarray(values.reshape(24, per_day // 24).mean(axis=1))


def day_of_kind(sky: Sky, month: int, quantile: float, hour: float | None = None) -> int:
    """Day 0..364 whose sun on level ground is at that quantile of the month's days: of the whole day, or at one time of it.

    Parameters
    ----------
    month : 1..12
    quantile : 0..1, as ``DULL``, ``USUAL``, ``BRIGHT``
    hour : time of day [h, 0..24): a bright day may have a cloud in it just then; in the dark the whole day decides
    """
    days = np.flatnonzero(month_of_day(sky) == month)
    sun = sky.ghi.reshape(DAYS_IN_YEAR, sky.steps_per_day)[days]
    of_day = sun.sum(axis=1)
    then = of_day if hour is None else sun[:, int(hour * sky.steps_per_day / 24.0)]
    order = np.lexsort((of_day, then))
    return int(days[order[round(quantile * (len(days) - 1))]])


def step_at(sky: Sky, day: int, hour: float) -> int:
    """Index of the step of a day that holds a time of day [h, 0..24)."""
    return day * sky.steps_per_day + int(hour * sky.steps_per_day / 24.0)
