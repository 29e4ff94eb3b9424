"""One sentence on what the skyline takes: in which months, at which hours."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.formats import clock, duration, month_span
from sizing.light.sun_paths import DAY_OF_21ST, SkylineLoss, hidden_runs

Array = NDArray[np.float64]

ALL_DAY, MORNING, EVENING, FORENOON, AFTERNOON, NOON, NIGHT = TIMES_OF_DAY = (
    *("all day", "from sunrise", "until sunset", "before noon", "after noon", "over noon", "over midnight"),
)
MOST_CLAUSES = 3
WORTH_NAMING = 1 / 3
"""[1] A month, or a second time of day, is named if it loses at least this share of what the worst one loses; common
sense, no source."""
SAME_HOUR = 0.5
"""[h] Hours of different months that lie this close are told as one."""


@dataclass(frozen=True)
class Loss:
    """A run of hidden hours in one month (1..12): time of day, from and to [h], and its weight among all runs."""

    month: int
    time_of_day: str
    start: float
    end: float
    weight: float


def skyline_sentence(loss: SkylineLoss, clock_shift: Array | None = None) -> str:
    """The months and hours that the skyline takes most from, in one sentence.

    What counts most is the beam on the plane; hours, where the plane gets no beam at all from there.

    Parameters
    ----------
    loss : what the skyline takes, step by step
    clock_shift : hours to add to the sky's hour on each of 365 days, to tell them by another clock; if None, the
        sentence names the sky's own

    Examples
    --------
    >>> from sizing.place.place import Place
    >>> from sizing.light.sun_paths import skyline_loss
    >>> from sizing.sky.weather import built_in_sky
    >>> wall = ((79.0, 0.0), (80.0, 25.0), (130.0, 25.0), (131.0, 0.0))
    >>> garden = Place("school", 36.10, -79.95, 273.0, skyline=wall)
    >>> skyline_sentence(skyline_loss(built_in_sky(garden), garden, 30.0, 180.0), np.zeros(365))
    'From September to March the skyline hides the sun until as late as 8:45.'
    """
    if loss.hours_hidden <= 0:
        return "The skyline hides the sun at no time of the year."
    found = losses(loss, clock_shift)
    if not found:
        return f"The skyline takes {duration(loss.hours_hidden)} of sun in the year, at no hour on most days of a month."
    first, *more = clauses(found)
    text = f"{months_text(first[0])} the skyline hides the sun {first[1]}"
    for parts, hours in more:
        months = months_text(parts)
        text += f", {months[0].lower()}{months[1:]} {hours}"
    return f"{text}." if clock_shift is not None else f"{text} ({loss.hour_basis})."


def clauses(found: list[Loss]) -> list[tuple[list[Loss], str]]:
    """The times of day worth naming: days without any sun first, then what takes most; times that share months are one."""
    totals = {kind: sum(part.weight for part in found if part.time_of_day == kind) for kind in TIMES_OF_DAY}
    worst = max(totals.values())
    named = [kind for kind in TIMES_OF_DAY if any(part.time_of_day == kind for part in found)]
    named = [kind for kind in named if kind == ALL_DAY or totals[kind] >= WORTH_NAMING * worst]
    told: dict[tuple[int, ...], tuple[list[Loss], str]] = {}
    for kind in sorted(named, key=lambda kind: (kind != ALL_DAY, -totals[kind])):
        parts = worst_months(found, kind)
        months = tuple(part.month for part in parts)
        hours = hours_text(parts)
        told[months] = (parts, f"{told[months][1]} and {hours}") if months in told else (parts, hours)
    return list(told.values())[:MOST_CLAUSES]


def losses(loss: SkylineLoss, clock_shift: Array | None) -> list[Loss]:
    """Every run of hidden hours, by month and time of day; the month's shift of the clock is that of its 21st."""
    per_day = loss.hidden.shape[1]
    weight = loss.weight if loss.beam_lost > 0 else loss.hidden.astype(float)
    found = []
    for month in range(12):
        shift = 0.0 if clock_shift is None else float(clock_shift[DAY_OF_21ST[month] - 1])
        for start, end in hidden_runs(loss.hidden[month], bool(np.all(loss.up[month]))):
            steps = np.arange(start, end if end > start else end + per_day) % per_day
            first, last = ((edge * 24 / per_day + shift) % 24 for edge in (start, end))
            kind = time_of_day(start, end, loss.up[month])
            found.append(Loss(month + 1, kind, first, last, float(weight[month, steps].sum())))
    return found


def time_of_day(start: int, end: int, up: NDArray[np.bool_]) -> str:
    """Which part of the day a run of hidden steps takes, from the steps at which the sun is up in that month."""
    risen = np.flatnonzero(up)
    noon = (risen[0] + risen[-1] + 1) / 2
    endless = bool(np.all(up))
    rises, sets = start == risen[0], end == risen[-1] + 1
    if rises and sets:
        return ALL_DAY
    if end < start:
        return NIGHT
    if not endless and (rises or sets):
        return MORNING if rises else EVENING
    return FORENOON if end <= noon else AFTERNOON if start >= noon else NOON


def worst_months(found: list[Loss], part_of_day: str) -> list[Loss]:
    """The losses at one time of day that are worth naming, by month; of months without any sun, all are."""
    these = [part for part in found if part.time_of_day == part_of_day]
    least = 0.0 if part_of_day == ALL_DAY else WORTH_NAMING * max(part.weight for part in these)
    return [part for part in these if part.weight >= least]


def months_text(parts: list[Loss]) -> str:
    """Months as a sentence begins with them."""
    span = month_span(part.month for part in parts)
    if span == "the whole year":
        return "All year"
    text = " and ".join(f"{'from' if ' to ' in run else 'in'} {run}" for run in span.split(", "))
    return text[0].upper() + text[1:]


def hours_text(parts: list[Loss]) -> str:
    """Hours of losses at one time of day; where the months differ by more than half an hour, those of the worst."""
    kind = parts[0].time_of_day
    starts, ends = by_one_midnight([part.start for part in parts]), by_one_midnight([part.end for part in parts])
    if kind == ALL_DAY:
        return "all day"
    first, last = clock(min(starts) % 24, step=5), clock(max(ends) % 24 or 24, step=5)
    if kind == MORNING:
        return f"before {last}" if alike(ends) else f"until as late as {last}"
    if kind == EVENING:
        return f"after {first}" if alike(starts) else f"from as early as {first}"
    return f"from {first} to {last}" if alike(starts) and alike(ends) else f"at times from {first} to {last}"


def by_one_midnight(hours: list[float]) -> list[float]:
    """Hours of a day [h] counted on from the first of them, so that some just past midnight come after 24.

    Examples
    --------
    >>> by_one_midnight([23.5, 0.25, 22.0])
    [23.5, 24.25, 22.0]
    """
    return [(hour - hours[0] + 12) % 24 - 12 + hours[0] for hour in hours]


def alike(hours: list[float]) -> bool:
    """Whether hours lie so close together that one of them stands for all."""
    return max(hours) - min(hours) <= SAME_HOUR
