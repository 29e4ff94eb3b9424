"""Where the numbers of the monthly table come from: each unfolds to the steps of the year it sums."""

import re
from collections.abc import Sequence
from dataclasses import replace

from sizing.foundation.formats import clock
from sizing.foundation.units import LITRE, LITRE_PER_MINUTE
from sizing.foundation.working import Worked, by_method, formula, work
from sizing.operation.year import Month, Year
from sizing.sky.weather import Sky

MONTH_IDS = (
    *("january", "february", "march", "april", "may", "june"),
    *("july", "august", "september", "october", "november", "december"),
)
"""What ids of numbers and names in addresses call the months; these stay when the words of pages change."""
LENGTHS = "31 * month_1 + 28 * month_2 + 31 * month_3 + 30 * month_4 + 31 * month_5 + 30 * month_6"
REST = " + 31 * month_7 + 31 * month_8 + 30 * month_9 + 31 * month_10 + 30 * month_11 + 31 * month_12"


@formula("60 * mean_flow * running_hours", unit="l", source="hydrostatics")
def water_per_day(mean_flow: float, running_hours: float) -> float:
    """Water of a month's mean day [l]: mean flow while it plays [l/min] over its running hours a day [h].

    Examples
    --------
    >>> water_per_day(4.9, 5.5)
    1617.0
    """
    return 60 * mean_flow * running_hours


@formula(LENGTHS + REST, unit="l", source="hydrostatics")
def water_of_year(
    month_1: float,
    month_2: float,
    month_3: float,
    month_4: float,
    month_5: float,
    month_6: float,
    month_7: float,
    month_8: float,
    month_9: float,
    month_10: float,
    month_11: float,
    month_12: float,
) -> float:
    """Water of a year of 365 days [l] from the mean days of its months [l].

    Examples
    --------
    >>> water_of_year(*[100.0] * 12)
    36500.0
    """
    long = month_1 + month_3 + month_5 + month_7 + month_8 + month_10 + month_12
    return 31 * long + 30 * (month_4 + month_6 + month_9 + month_11) + 28 * month_2


def year_worked(days: Sequence[Worked]) -> Worked:
    """Water of a year from the mean days of its months, January first; its sum calls each month by its id."""
    total = work(water_of_year, **{f"month_{number}": day for number, day in enumerate(days, 1)})
    text = re.sub(r"\bmonth_(\d+)\b", lambda match: MONTH_IDS[int(match[1]) - 1], total.formula)
    return replace(total, formula=text, inputs=tuple(zip(MONTH_IDS, (day for _, day in total.inputs), strict=True)))


def months_worked(sky: Sky, year: Year) -> tuple[Worked, ...]:
    """Working of the monthly table: for each month water, sun and best hour; then the year's water."""
    waters = [month_water(sky, month) for month in year.months]
    others = [part for month in year.months for part in (month_sun(sky, month), month_best(sky, month))]
    return (*waters, *others, year_worked(waters))


def named(what: str, month: Month) -> str:
    """Name of a month's number, such as "water_in_june"."""
    return f"{what}_in_{MONTH_IDS[month.month - 1]}"


def every(sky: Sky) -> str:
    """How long a step of the year is, in words."""
    return f"steps of {1440 // sky.steps_per_day} minutes"


def month_water(sky: Sky, month: Month) -> Worked:
    """Litres of a month's mean day."""
    playing = month.running_hours
    litres_per_minute = month.water / LITRE / (60 * playing) if playing > 0 else 0.0
    flow = by_method(
        named("mean_flow", month),
        litres_per_minute,
        "l/min",
        "hydrostatics",
        f"Mean flow over all {every(sky)} of the month in which it plays; each flow is read from the grid of operating points.",
    )
    hours = by_method(
        named("running_hours", month),
        playing,
        "h",
        "hydrostatics",
        f"All {every(sky)} of the month in which it plays, over its {month.days} days.",
    )
    return replace(work(water_per_day, mean_flow=flow, running_hours=hours), name=named("water", month))


def month_sun(sky: Sky, month: Month) -> Worked:
    """Sun on the panel's plane, a mean day of the month."""
    method = f"Sun on the plane before reflection and dirt, summed over all {every(sky)}, over the {month.days} days."
    return by_method(named("sun", month), month.poa_insolation, "kWh/m2", "hay_davies_1980", method)


def month_best(sky: Sky, month: Month) -> Worked:
    """Height of the jet (or the flow) at the best hour of a month's usual day."""
    hour = clock(month.best_hour)
    method = f"The middle one (median) of the month's days, step by step, averaged over the hour from {hour}."
    if month.jet > 0:
        return by_method(named("jet", month), month.jet, "m", "hydrostatics", method)
    return by_method(named("flow", month), month.flow / LITRE_PER_MINUTE, "l/min", "hydrostatics", method)
