"""Frost: the months in which water freezes in basin and pipe, judged by the sky's own air, and what is then to be done.

What is said is general; the instructions of the maker of pump, pipe and basin go before it.
"""

from dataclasses import dataclass

import numpy as np

from sizing.basin.evaporation import lowest_and_highest
from sizing.foundation.formats import MONTHS, month_span, quantity
from sizing.report.report import Report
from sizing.sky.cold import ColdAir
from sizing.sky.solar_position import DAYS_IN_YEAR, MONTH_OF_DAY

FREEZING = 0.0
"""[Cel] A month freezes whose days' lowest temperatures have a mean not above this."""
HARD_NIGHT = -2.0
"""[Cel] A single night not above this makes a month one that freezes too; common practice, no source."""
FROST_NIGHT = 5.0
"""[Cel] A month whose usual coldest hour lies below this has frosty nights too; common practice, no source."""


@dataclass(frozen=True, eq=False)
class Frost:
    """Months 1..12 that freeze, and those with single frosty nights beside them; of each month the mean of its days' lowest
    temperatures and its coldest [Cel], and how many of its nights reach ``HARD_NIGHT``. ``ten_years`` is the
    coldest air to reckon with in ten years [Cel]. ``advice`` is empty where no month freezes, none has frosty nights and
    ``ten_years`` stays above freezing; ``sentence`` and ``judged`` are always said."""

    months: tuple[int, ...]
    single_nights: tuple[int, ...]
    mean_lowest: tuple[float, ...]
    coldest: tuple[float, ...]
    hard_nights: tuple[int, ...]
    ten_years: float
    sentence: str
    judged: str
    advice: tuple[str, ...]


def frost_of(report: Report) -> Frost:
    """When a finished sizing's fountain must be taken in.

    Parameters
    ----------
    report : of ``size``; its own sky counts, whichever kind it is
    """
    sky = report.sky
    lowest = sky.air_temperature.reshape(DAYS_IN_YEAR, sky.steps_per_day).min(axis=1)
    mean_lowest = lowest_and_highest(sky)[0]
    coldest = np.array([lowest[month == MONTH_OF_DAY].min() for month in range(1, 13)])
    hard = np.bincount(MONTH_OF_DAY - 1, weights=lowest <= HARD_NIGHT, minlength=12)
    freezes = (mean_lowest <= FREEZING) | (hard > 0)
    months = tuple(int(month) for month in np.flatnonzero(freezes) + 1)
    nights = tuple(int(month) for month in np.flatnonzero(~freezes & (mean_lowest < FROST_NIGHT)) + 1)
    return Frost(
        months=months,
        single_nights=nights,
        mean_lowest=tuple(mean_lowest.tolist()),
        coldest=tuple(coldest.tolist()),
        hard_nights=tuple(int(count) for count in hard),
        ten_years=report.cold.lowest,
        sentence=f"{frost_sentence(months, nights, coldest.tolist())} {ten_years_sentence(report.cold)}",
        judged=judged_by(sky.kind == "weather_file"),
        advice=advice_for(months, nights, report.cold.lowest <= FREEZING),
    )


def frost_sentence(months: tuple[int, ...], nights: tuple[int, ...], coldest: list[float]) -> str:
    """Which months freeze and which have single frosty nights; ``coldest`` [Cel] of each month."""
    worst = int(np.argmin(coldest))
    low = f"the coldest hour of this year of sky has {quantity(round(coldest[worst]), 'Cel')}, in {MONTHS[worst]}"
    also = f" Single nights may freeze in {month_span(nights)} too." if nights and months else ""
    if len(months) == 12:
        return f"Water may freeze in every month: {low}."
    if months:
        return f"Water freezes in basin and pipe in {month_span(months)}: {low}.{also}"
    if nights:
        return f"No month freezes by this sky, but single nights may in {month_span(nights)}: {low}."
    return f"No month is at risk by this sky ({low}); a single cold night still can be, so mind the forecast."


def ten_years_sentence(cold: ColdAir) -> str:
    """How cold the coldest night of ten years may be."""
    lowest = quantity(round(cold.lowest), "Cel")
    if cold.basis == "typed":
        return f"The coldest air of many years, as you typed it, is {lowest}."
    return f"Once in ten years expect about {lowest}, with a margin for the doubt."


def judged_by(from_file: bool) -> str:
    """How the months were judged, in one sentence."""
    days = (
        "the weather file's days, which are those of usual years and leave out the hardest frosts"
        if from_file
        else "days made from the months' means, which have no cold spells"
    )
    return (
        f"A month freezes where the mean of its days' lowest temperatures is {quantity(FREEZING, 'Cel')} or less, or where any "
        f"night has {quantity(HARD_NIGHT, 'Cel')} or less, by {days}; single nights are reckoned with where that mean is below "
        f"{quantity(FROST_NIGHT, 'Cel')} (common practice, no source)."
    )


def first_of(months: tuple[int, ...]) -> str:
    """The month in which the cold half begins: the first of the longest run, over the turn of the year.

    Examples
    --------
    >>> first_of((1, 2, 4, 11, 12)), first_of((6, 7)), first_of(tuple(range(1, 13)))
    ('November', 'June', 'January')
    """

    def run(start: int) -> int:
        step = 0
        while step < 12 and (start + step - 1) % 12 + 1 in months:
            step += 1
        return step

    return MONTHS[max(months, key=lambda start: (run(start), -start)) - 1]


def advice_for(months: tuple[int, ...], nights: tuple[int, ...], rare: bool = False) -> tuple[str, ...]:
    """What to do about frost, in whole sentences; what freezes is taken in before the first frosty nights.

    ``rare``: whether the coldest night of ten years may freeze.
    """
    if not months and not nights and not rare:
        return ()
    if not months:
        return (
            "When frost is forecast, switch the pump off and let the pipe run empty; what the pump's maker says about frost "
            "goes before this.",
        )
    when = "Before the first frost" if len(months) == 12 else f"Before {first_of((*months, *nights))}"
    return (
        f"{when}, switch the pump off, take it out, clean it and keep it where it cannot freeze, dry or in a bucket of water, as "
        "its maker says.",
        "Empty pipe, valves and outlet: leave the lowest point open, and do not forget the water that a check valve holds.",
        "Cover the panel or open the switch before the pump is unplugged, for the panel is live in winter sun too.",
        "A floating ball or mat keeps a gap in the ice and protects neither pump nor pipe; whether the basin itself may freeze "
        "full is for its maker to say.",
        "Fill and start it again after the last frost, and look for cracks and leaks first.",
    )
