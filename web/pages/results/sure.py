"""What the results page says about how sure it is: ranges in words, causes in numbers, and the sum behind them."""

from dataclasses import dataclass

import numpy as np

from sizing.foundation import LITRE, MILLIMETRE, MONTHS, SPACE, figures, length, numbered, percent, quantity
from sizing.hydraulic import Spillway
from sizing.report import Report, running_words
from sizing.uncertainty import Cause, band, expected, remedy_of, shares
from web.charts.causes import Share, causes_chart
from web.charts.kit.shapes import Chart
from web.pages.frame.unfolded import Step, cited, shown

DAYS = 365


@dataclass(frozen=True)
class Row:
    """A cause in the table: what was taken, how sure, on what ground, and what it does on average, give or take."""

    key: str
    words: str
    taken: str
    uncertainty: str
    basis: str
    source: str
    source_key: str
    shift: str
    spread: str
    uncertain: bool


@dataclass(frozen=True)
class Sure:
    """Sentences, picture, table and sums of the section."""

    sentences: tuple[str, ...]
    remedy: str
    chart: Chart
    rows: tuple[Row, ...]
    sums: tuple[Step, ...]


def sure(report: Report) -> Sure | None:
    """The section; ``None`` where no cause makes anything play."""
    found = report.how_sure
    if not np.any(shares(found.year) > 0):
        return None
    remedy = remedy_of(found, report.year.water)
    best = max(report.year.months, key=lambda month: (month.water, month.poa_insolation)).month - 1
    jetless = isinstance(report.fountain.waterway.outlet, Spillway)
    in_jet = shares(found.jet).T[best].tolist()
    ranking = [
        Share(cause.words, float(share), None if jetless else in_jet[index])
        for index, (cause, share) in enumerate(zip(found.causes, shares(found.year), strict=True))
    ]
    return Sure(
        sentences(report, best, jetless),
        "" if remedy is None else remedy.sentence,
        causes_chart(ranking),
        tuple(row(report, index, cause) for index, cause in enumerate(found.causes)),
        sums(report),
    )


def sentences(report: Report, best: int, jetless: bool) -> tuple[str, ...]:
    """The year's mean day, and the best month with its jet, each with its likely range."""
    month = report.year.months[best]
    low, high = (float(end[best]) / month.days for end in report.water_band)
    year = over_the_year(report)
    of_best = f"In {MONTHS[best]}, its best month, {about(month.water, low, high)}"
    if not jetless and month.jet > 0:
        down, up = (float(end[best]) for end in band(np.array([each.jet for each in report.year.months]), report.how_sure.jet))
        of_best += f", and a jet of about {length(month.jet)} at its best hour, likely {length(down)} to {length(up)}"
    return tuple(each for each in (year, f"{of_best}.", lopsided(report)) if each)


def over_the_year(report: Report) -> str:
    """The mean day of the year; of the months that it runs where it rests in others, with the year's range in proportion."""
    year, months = report.year, running_words(report.year.running_months)
    if not months or year.water <= 0:
        return f"Over the year {about(*(amount / DAYS for amount in (year.water, *report.year_band)))}."
    said = about(*(amount / year.water * year.running_water for amount in (year.water, *report.year_band)))
    return f"{said[0].upper()}{said[1:]}, {months}."


def about(amount: float, low: float, high: float) -> str:
    """Water of a day [m3] with its likely range, in as many figures as the range can bear.

    Examples
    --------
    >>> about(0.6392, 0.5411, 0.7386).replace("\N{NO-BREAK SPACE}", " ")
    'about 640 L a day, likely 540 to 740'
    >>> about(0.6392, 0.4411, 0.6086).replace("\N{NO-BREAK SPACE}", " ")
    '640 L a day if all that was assumed is right, likely 440 to 610'
    """
    digits = 2 if high - low >= 0.1 * amount else 3
    said = [figures(value / LITRE, digits) for value in (amount, low, high)]
    if amount > high:
        return f"{said[0]}{SPACE}L a day if all that was assumed is right, likely {said[1]} to {said[2]}"
    return f"about {said[0]}{SPACE}L a day, likely {said[1]} to {said[2]}"


def lopsided(report: Report) -> str:
    """Why the range lies lower than the number, where it does so by half of its half width; nothing elsewhere."""
    found = report.how_sure
    middle, half = (float(part) for part in expected(report.year.water, found.year))
    if report.year.water - middle < 0.5 * half:
        return ""
    order = np.argsort(found.year.shift)[:3]
    names = ", ".join(found.causes[at].words for at in order if found.year.shift[at] < 0)
    return f"Less is likelier than more: where you did not say, we took what a good new part has. This counts most for {names}."


def row(report: Report, index: int, cause: Cause) -> Row:
    """One cause of the table."""
    effects = report.how_sure.year
    return Row(
        cause.key,
        cause.words,
        cause.taken,
        uncertainty(cause),
        cause.basis,
        cited(cause.source) if cause.source == "common_practice" else "source",
        cause.source,
        effect(float(effects.shift[index])),
        effect(float(np.sqrt(effects.variance[index]))),
        cause.below > 0 or cause.above > 0,
    )


def uncertainty(cause: Cause) -> str:
    """Standard uncertainty of a cause with its unit, one number where both sides are alike."""
    if cause.unit == "1":
        below, above = (percent(size) for size in (cause.below, cause.above))
    elif cause.unit == "m":
        below, above = (f"{figures(size / MILLIMETRE, 2)}{SPACE}mm" for size in (cause.below, cause.above))
    else:
        below, above = (quantity(size, cause.unit, 2) for size in (cause.below, cause.above))
    if cause.below == cause.above == 0:
        return "exactly"
    return f"±{SPACE}{above}" if below == above else f"{below} down, {above} up"


def effect(water: float) -> str:
    """Litres of a year [m3]."""
    return figures(water / LITRE)


def sums(report: Report) -> tuple[Step, ...]:
    """The sums that put the causes together; what goes in stands in the table."""
    told = ("combined_shift", "combined_effect", "likely_low_of_year", "likely_high_of_year")
    return tuple(shown(each) for each in numbered([report.band_worked])[0] if each.id in told)
