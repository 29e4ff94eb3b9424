"""The first clear day of the finished fountain, and every later look at it: what it should do, accept or look at.

The readings are kept in the design file, so that later years compare: each is held against a clear day's prediction for
its own minute, and what changes from year to year is dirt, wear and age, not the hour.
"""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.design.kept_measurements import MeasurementInput
from sizing.foundation.aligned_numbers import give_or_take
from sizing.foundation.formats import percent
from sizing.foundation.units import LITRE_PER_MINUTE
from sizing.measured.day.clear_day import ClearDay, day_words, expected
from sizing.measured.day.clear_day_uncertainty import SEEN
from sizing.measured.day.filled_sheet import QUANTITIES, Compared, compared, reading_uncertainty
from sizing.measured.day.sheet import Sheet, refuse_far_day, sheet_of
from sizing.measured.day.stage_residuals import DOUBT
from sizing.measured.logs.instruments import USUAL, Instruments
from sizing.measured.logs.logs import SheetLog

Array = NDArray[np.float64]

APART = 2.0
"""[h] between the readings of a first day."""
PANEL_AGEING = 0.005
"""[1] Share of its power that a panel loses in a year, median of nearly 2000 (jordan_kurtz_2013)."""
NAMES = {
    "sun_height": "height of the sun",
    "voltage": "volts at the panel",
    "current": "amperes at the panel",
    "flow": "flow",
    "jet": "jet",
}


@dataclass(frozen=True, eq=False)
class Wanted:
    """What to measure on the first clear day: the sheet of its hours, and per quantity the least and most to accept."""

    sheet: Sheet
    least: dict[str, Array]
    most: dict[str, Array]


@dataclass(frozen=True)
class Looked:
    """One reading of one look: quantity, measured, expected, least and most to accept, and whether it is accepted.

    ``accepted`` is ``None`` under clouds, where a clear day's numbers say nothing.
    """

    name: str
    measured: float
    expected: float
    least: float
    most: float
    accepted: bool | None


@dataclass(frozen=True)
class Trend:
    """How a quantity's measured over expected went over the years: ratio by day, and change a year with its uncertainty.

    ``change`` is ``None`` where the looks lie less than half a year apart.
    """

    name: str
    days: tuple[datetime.date, ...]
    ratios: tuple[float, ...]
    change: float | None
    uncertainty: float
    sentence: str


@dataclass(frozen=True, eq=False)
class Kept:
    """All looks that a design holds: the readings of each, the stages along the path for the last, and the years."""

    whole: Compared
    last: Compared
    looks: tuple[tuple[Looked, ...], ...]
    trends: tuple[Trend, ...]


def wanted_on(clear_day: ClearDay, day: datetime.date, instruments: Instruments = USUAL) -> Wanted:
    """What to measure on a day: at the sun's highest half hour, and two hours before and after.

    Raises
    ------
    InputError
        if the sun does not rise that day, or the year lies far off.
    """
    refuse_far_day(day)
    half_hours = np.arange(0, 24, 0.5)
    highest = float(half_hours[int(np.argmax(expected(clear_day, [day] * 48, half_hours).sun_altitude))])
    whole = sheet_of(clear_day, day, max(highest - APART, 0.0), min(highest + APART, 24.0))
    at = np.flatnonzero(np.isin(whole.hour, (highest - APART, highest, highest + APART)))
    least, most = {}, {}
    for name in QUANTITIES:
        value = whole.found.sun_altitude if name == "sun_height" else getattr(whole.found, name)
        reading = reading_uncertainty(name, value, instruments)
        below, above = (whole.sure.below(name), whole.sure.above(name)) if name in SEEN else (0.0, 0.0)
        least[name] = np.maximum(value - DOUBT * np.hypot(below, reading), 0.0)[at]
        most[name] = (value + DOUBT * np.hypot(above, reading))[at]
    return Wanted(at_hours(whole, at), least, most)


def at_hours(whole: Sheet, at: NDArray[np.int64]) -> Sheet:
    """Some lines of a sheet."""
    found = expected(whole.clear_day, [whole.day] * len(at), whole.hour[at])
    low, high = ({name: values[at] for name, values in ends.items()} for ends in (whole.low, whole.high))
    return Sheet(whole.clear_day, whole.day, whole.hour[at], found, whole.sure, low, high, whole.moment)


def kept_looks(clear_day: ClearDay, instruments: Instruments = USUAL) -> Kept | None:
    """Judge all looks that a design holds; ``None`` where it holds none."""
    records = clear_day.design.measurements
    if not records:
        return None
    log = log_of(records)
    whole = compared(clear_day, log, instruments)
    newest = max(log.day).isoformat()
    same_day = len(set(log.day)) == 1
    last = whole if same_day else compared(clear_day, log_of([each for each in records if each.day == newest]), instruments)
    looks = tuple(looked(whole, index) for index in range(len(records)))
    return Kept(whole, last, looks, tuple(trend for name in SEEN if (trend := trend_of(whole, name)) is not None))


def judged_sentence(kept: Kept) -> str:
    """The last day's looks in a sentence: accepted, or what has to be looked at."""
    log = kept.whole.log
    newest = max(log.day)
    readings = [each for index, look in enumerate(kept.looks) if log.day[index] == newest for each in look]
    off = list(dict.fromkeys(NAMES[each.name] for each in readings if each.accepted is False))
    when = day_words(newest)
    if off:
        return f"Of what was read on {when}, look at: {', '.join(off)}."
    if all(each.accepted is None for each in readings):
        return f"On {when} there were clouds, so nothing is judged."
    return f"Everything that was judged on {when} is accepted."


def log_of(records: Sequence[MeasurementInput]) -> SheetLog:
    """The looks of a design as a filled sheet; its rows count from 1."""

    def column(name: str, factor: float = 1.0) -> Array:
        values = [getattr(record, name) for record in records]
        return np.array([np.nan if value is None else value * factor for value in values])

    return SheetLog(
        row=np.arange(1, len(records) + 1),
        day=tuple(datetime.date.fromisoformat(record.day) for record in records),
        hour=np.minimum(column("clock_hour"), 24 - 1 / 3600),
        sun_height=column("sun_altitude_deg"),
        voltage=column("panel_voltage_v"),
        current=column("panel_current_a"),
        flow=column("flow_l_per_min", LITRE_PER_MINUTE),
        jet=column("jet_height_m"),
        air_temperature=column("air_temperature_c"),
        sky=tuple(record.sky for record in records),
        team=("",) * len(records),
        problems=(),
    )


def looked(whole: Compared, index: int) -> tuple[Looked, ...]:
    """The readings of one look."""
    cloudy = whole.log.sky[index] == "clouds"
    found = []
    for name, side in whole.sides.items():
        measured = float(side.measured[index])
        if np.isnan(measured):
            continue
        predicted = float(side.predicted[index])
        least = max(predicted - DOUBT * float(side.below[index]), 0.0)
        most = predicted + DOUBT * float(side.above[index])
        judged = None if cloudy and name != "sun_height" else least <= measured <= most
        found.append(Looked(name, measured, predicted, least, most, judged))
    return tuple(found)


def trend_of(whole: Compared, name: str) -> Trend | None:
    """How a quantity went over the years, from clear days alone; ``None`` where it was read on one day only."""
    side, sky = whole.sides[name], np.array(whole.log.sky)
    use = ~np.isnan(side.measured) & (side.predicted > 0) & (sky != "clouds")
    days = [whole.log.day[index] for index in np.flatnonzero(use)]
    if len(set(days)) < 2:
        return None
    ratios = (side.measured / np.where(side.predicted > 0, side.predicted, 1.0))[use]
    years = np.array([day.toordinal() for day in days]) / 365.25
    spread = years - years.mean()
    of_sky = np.maximum(whole.sure.effects[name].below[0], whole.sure.effects[name].above[0])  # the rest is the same each year
    chance = np.hypot(of_sky, reading_uncertainty(name, side.predicted, USUAL))[use] / side.predicted[use]
    if years.max() - years.min() < 0.5:
        told = f"{NAMES[name].capitalize()}: the looks lie less than half a year apart, too near to tell a change."
        return Trend(name, tuple(days), tuple(ratios.tolist()), None, 0.0, told)
    change = float(np.sum(spread * ratios) / np.sum(spread**2))
    uncertainty = float(np.sqrt(np.mean(chance**2) / np.sum(spread**2)))
    return Trend(name, tuple(days), tuple(ratios.tolist()), change, uncertainty, trend_sentence(name, change, uncertainty))


def trend_sentence(name: str, change: float, uncertainty: float) -> str:
    """A change a year in words.

    Examples
    --------
    >>> trend_sentence("flow", -0.06, 0.02).replace("\\N{NO-BREAK SPACE}", " ")[:69]
    'Flow: 6.0 % less a year, give or take 2.0 %; that is more than chance'
    """
    side = "less" if change < 0 else "more"
    size = f"{NAMES[name].capitalize()}: {give_or_take(100 * abs(change), 100 * uncertainty, f'{side} a year')}"
    if abs(change) <= DOUBT * uncertainty:
        return f"{size}; that is no more than chance."
    if change > 0:
        return f"{size}; that is more than chance."
    return f"{size}; that is more than chance; a panel ages by about {percent(PANEL_AGEING)} a year; look for dirt and wear."
