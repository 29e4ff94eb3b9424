"""Numbers and times in the cells of a log: what has one reading is read, with the unit that stands beside it."""

import calendar
import datetime
import re
import unicodedata
from collections.abc import Iterable, Mapping

from sizing.design.site import FIRST_YEAR, LAST_YEAR
from sizing.foundation.typed_numbers import IN_DOUBT, PARTS, in_parts, tidy_digits, with_point

Units = Mapping[str, tuple[float, float]]
"""Factor and offset that bring a value to SI, by the unit's name in small letters."""

PLAIN = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")
PLAIN_COMMA = re.compile(r"-?[0-9]+(?:,[0-9]+)?")
IN_DOUBT_POINT = re.compile(r"[1-9][0-9]{0,2}\.[0-9]{3}")
GALLON = re.compile(r"\b(?:(u\.?s|imp|uk|british)[a-z.]*\W*)?gal(?:lon)?s?\b(?:\W*\b(u\.?s|imp|uk|british)[a-z.]*\)?)?")
NOTHING = 1e-12
"""[SI] No instrument of a school shows less."""
NO_NUMBER = "is no number; write one"
NO_TIME = "is no time of day; write it like 9:05 or 14:30"
EMPTY = frozenset({"-", "--", "\N{EN DASH}", "\N{EM DASH}", "?", "n/a", "N/A", "n.a.", "/"})
"""Cells that say that there is nothing in them."""
CLOCK = re.compile(
    r"([0-9]{1,2})(?:[:h]([0-9]{2})|[.,]([0-9]{2})(?=[ap]))?(?::([0-9]{2})(?:[.,][0-9]+)?)?(?:h|hrs)?(am?|pm?|a\.m\.?|p\.m\.?)?"
)
PLAIN_CLOCK = re.compile(r"([01]?[0-9]|2[0-3]):([0-5][0-9])")
FOUR_DIGITS = re.compile(r"([01][0-9]|2[0-3])([0-5][0-9])(?:h|hrs)?")
DAYS = re.compile(r"([0-9]{1,4})([-./])([0-9]{1,2})\2([0-9]{1,4})")
PACKED = re.compile(r"^(20[0-9]{2})([01][0-9])([0-3][0-9])(?![0-9])")
WEEKDAY = re.compile(r"^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,?\s+", re.IGNORECASE)
DAY_MONTH = re.compile(r"(?P<day>[0-9]{1,2})(?:st|nd|rd|th)?[-. /]+(?P<month>[A-Za-z]{3,9})\.?[-, /]+(?P<year>[0-9]{4})(?![0-9])")
MONTH_DAY = re.compile(r"(?P<month>[A-Za-z]{3,9})\.?[- ]+(?P<day>[0-9]{1,2})(?:st|nd|rd|th)?[-, ]+(?P<year>[0-9]{4})(?![0-9])")
MONTHS = tuple(name.lower() for name in calendar.month_name[1:])
DAY_BEFORE = re.compile(r"[0-9]{1,4}([-./])[0-9]{1,2}\1[0-9]{1,4}(?:[Tt]|,?\s+)(?=[0-9])")
IN_DOUBT_CLOCK = re.compile(r"(?:[01]?[0-9]|2[0-3])[.,][0-5][0-9]")
STOPWATCH = re.compile(r"(?:0{1,2}:)?([0-9]{1,3}):([0-5][0-9](?:[.,][0-9]+)?)")
WORDED_WATCH = re.compile(r"([0-9]{1,3})\s*m(?:in)?\.?\s*([0-5]?[0-9](?:[.,][0-9]+)?)\s*s(?:ec)?\.?", re.IGNORECASE)


class UnclearCell(ValueError):  # noqa: N818 - told to the reader as a sentence, never as an error of ours
    """A cell without a reading, or with two; the message says how to write it."""


def decimal_comma(texts: Iterable[str]) -> bool:
    """Whether a log writes decimals with a comma: some cell says so, and none has a decimal point.

    Examples
    --------
    >>> decimal_comma(["12,5", "1,250"]), decimal_comma(["12.5", "1,250"]), decimal_comma(["12", "1,250"])
    (True, False, False)
    """
    marked = [text for text in texts if "," in text or "." in text]
    commas = any(decimal_mark(text) == "," for text in marked if "," in text)
    return commas and not any(decimal_mark(text) == "." for text in marked if "." in text)


def decimal_mark(text: str) -> str:
    """The mark before the decimals of a cell, where the cell alone shows it; else empty.

    Examples
    --------
    >>> [decimal_mark(text) for text in ("12,5 V", "0.250", "1.234,5", "1,234,567", "1,250", "5.000", "blue")]
    [',', '.', ',', '.', '', '', '']
    """
    match = PARTS.fullmatch(tidy_digits(text))
    digits = match[2] if match else ""
    if IN_DOUBT.fullmatch(digits) or IN_DOUBT_POINT.fullmatch(digits) or not with_point(digits):
        return ""
    last = digits[max(digits.rfind(","), digits.rfind("."))]
    if last in ",." and digits.count(last) > 1:
        return "." if last == "," else ","
    return last if last in ",." else ""


def cell_number(text: str, units: Units, usual: str, comma: bool = False) -> float:
    """A cell as a number in SI.

    Parameters
    ----------
    text : of the cell, not empty
    units : units that may stand behind the number
    usual : the unit that is meant where none does
    comma : whether the log writes decimals with a comma

    Raises
    ------
    UnclearCell
        with the end of a sentence.

    Examples
    --------
    >>> litres = {"l": (1e-3, 0.0), "ml": (1e-6, 0.0)}
    >>> cell_number("2,5", litres, "l", True), cell_number("850 mL", litres, "l"), cell_number("1 250", litres, "ml")
    (0.0025, 0.00085, 0.00125)
    """
    factor, offset = units[usual]
    if (PLAIN_COMMA if comma else PLAIN).fullmatch(text):
        return in_si(float(text.replace(",", ".")), factor, offset)
    if in_parts(text):
        raise UnclearCell("is not one number; write one, without gaps")
    match = PARTS.fullmatch(tidy_digits(text))
    if match is None:
        raise UnclearCell(NO_NUMBER)
    sign, digits, power, tail = match.groups()
    if tail:
        named = plain_units(tail).strip("()[]. ")
        if named not in units:
            raise UnclearCell(
                f"has a unit that is not known here; known are {known_units(units)}" if named[:1].isalpha() else NO_NUMBER
            )
        factor, offset = units[named]
    if (IN_DOUBT_POINT if comma else IN_DOUBT).fullmatch(digits):
        decimal = digits.replace(".", ",") if comma else with_point(digits)
        raise UnclearCell(f"can be read in two ways; write {decimal} or {re.sub('[.,]', '', digits)}")
    pointed = digits.replace(",", ".") if comma and digits.count(",") == 1 and "." not in digits else with_point(digits)
    if not pointed:
        raise UnclearCell(NO_NUMBER)
    return in_si(float(sign + pointed + power), factor, offset)


def in_si(number: float, factor: float, offset: float) -> float:
    """A number in SI; what no instrument could show is zero.

    Examples
    --------
    >>> in_si(850.0, 1e-6, 0.0), in_si(20.5, 1.0, 273.15), in_si(1e-300, 1.0, 0.0)
    (0.00085, 293.65, 0.0)
    """
    value = number * factor + offset
    return value if abs(value) >= NOTHING else 0.0


def plain_units(text: str) -> str:
    """A unit or a heading in small letters, with gallons, degrees, micro and powers of minus one in one spelling.

    Examples
    --------
    >>> plain_units("Volume (gal (US))"), plain_units("flow / L min⁻¹"), plain_units("µA"), plain_units("deg C")
    ('volume (usgal)', 'flow / l/min', 'ua', '°c')
    """
    plain = unicodedata.normalize("NFKC", text.replace("º", "°")).lower().replace("μ", "u").replace("_per_", "/")
    plain = plain.replace("_", " ")
    if "gal" in plain:
        plain = GALLON.sub(lambda found: gallons(found[1] or found[2] or ""), plain)
    plain = re.sub(r"(?:\bdeg(?:rees?)?|°)\s*([cf])(?:elsius|ahrenheit)?\b", r"°\1", plain)
    plain = re.sub(r"\s*\bper\s*", "/", plain)
    return re.sub(r"(\w)\W?\b(s|sec|min|h)\s?[-\N{MINUS SIGN}]1\b", r"\1/\2", plain)


def gallons(whose: str) -> str:
    """The name of a gallon by the country that stands beside it."""
    return {"": "gal", "u": "usgal"}.get(whose[:1] if "s" in whose else whose, "impgal")


def known_units(units: Units) -> str:
    """The names of units for a sentence, one for each size."""
    first = {size: name for name, size in reversed(list(units.items()))}
    return ", ".join(name for name in units if name in first.values())


def cell_seconds(text: str) -> float | None:
    """Seconds of a stopwatch that shows minutes and seconds; ``None`` where the cell is no such time.

    Raises
    ------
    UnclearCell
        where a spreadsheet may have made minutes of seconds: 0:42 becomes 00:42:00 there.

    Examples
    --------
    >>> cell_seconds("1:05"), cell_seconds("0:42.5"), cell_seconds("00:01:05"), cell_seconds("1 min 5 s"), cell_seconds("42")
    (65.0, 42.5, 65.0, 65.0, None)
    """
    tidy = text.strip()
    match = STOPWATCH.fullmatch(tidy) or WORDED_WATCH.fullmatch(tidy)
    if tidy.count(":") == 2 and (match is None or float(match[2].replace(",", ".")) == 0):
        raise UnclearCell("can be hours, minutes and seconds or what a spreadsheet made of them; write seconds")
    return None if match is None else 60 * int(match[1]) + float(match[2].replace(",", "."))


def cell_clock(text: str) -> float:
    """Hour of the day [h, 0..24) that a cell names; a day before it is passed over.

    Raises
    ------
    UnclearCell
        with the end of a sentence.

    Examples
    --------
    >>> cell_clock("9:05"), cell_clock("9.05 am"), cell_clock("1:30 p.m."), cell_clock("0905"), cell_clock("2026-05-31T13:20:30")
    (9.0833, 9.0833, 13.5, 9.0833, 13.3417)
    """
    if plain := PLAIN_CLOCK.fullmatch(text):
        return int(plain[1]) + int(plain[2]) / 60
    tidy = "".join(DAY_BEFORE.sub("", text.strip(), count=1).lower().split())
    tidy = FOUR_DIGITS.sub(r"\1:\2", tidy) if FOUR_DIGITS.fullmatch(tidy) else tidy
    match = CLOCK.fullmatch(tidy)
    if match is None or (match[2] is None and match[3] is None and match[5] is None and not tidy.endswith("h")):
        if IN_DOUBT_CLOCK.fullmatch(tidy):
            first, second = re.split("[.,]", tidy)
            raise UnclearCell(f"can be read in two ways; write {first}:{second}, or hours and minutes of it")
        raise UnclearCell(NO_TIME)
    hour, minute, second = int(match[1]), int(match[2] or match[3] or 0), int(match[4] or 0)
    half = (match[5] or "")[:1]
    if half:
        if not 1 <= hour <= 12:
            raise UnclearCell(NO_TIME)
        hour = hour % 12 + (12 if half == "p" else 0)
    if hour > 23 or minute > 59 or second > 59:
        raise UnclearCell(NO_TIME)
    return hour + minute / 60 + second / 3600


def slashed(text: str) -> tuple[int, str, int, int, int] | None:
    """First number, mark, second and third number of a day in digits, and how many digits the first has."""
    match = DAYS.match(text)
    if match is None or (match.end() < len(text) and not (text[match.end()] in "T," or text[match.end()].isspace())):
        return None
    return int(match[1]), match[2], int(match[3]), int(match[4]), len(match[1])


def day_first(text: str) -> bool | None:
    """Whether a cell shows that its day stands before its month; ``None`` where it does not tell.

    Examples
    --------
    >>> day_first("31/5/2026"), day_first("5/31/2026"), day_first("5/6/2026"), day_first("2026-05-31")
    (True, False, None, None)
    """
    parts = slashed(text)
    if parts is None or parts[4] == 4 or parts[1] == "." or (parts[0] > 12) == (parts[2] > 12):
        return None
    return parts[0] > 12


def cell_day(text: str, order: bool | None = None) -> datetime.date:
    """The day that a cell names; where month and day can be exchanged it has two readings.

    Parameters
    ----------
    order : whether days stand before months in this log; ``None`` where that is not known

    Raises
    ------
    UnclearCell
        with the end of a sentence.

    Examples
    --------
    >>> [cell_day(text).isoformat() for text in ("2026-05-31", "31/5/2026", "3.6.2026", "20260531", "Sunday, 31 May 2026")]
    ['2026-05-31', '2026-05-31', '2026-06-03', '2026-05-31', '2026-05-31']
    """
    parts = slashed(PACKED.sub(r"\1-\2-\3", text))
    if parts is None:
        year, month, day = worded_day(text)
    else:
        first, mark, second, third, digits = parts
        if digits == 4:
            year, month, day = first, second, third
        elif mark == "." or first > 12 or first == second or (order and second <= 12):
            day, month, year = first, second, third
        elif second > 12 or order is False:
            month, day, year = first, second, third
        else:
            raise UnclearCell("can be read in two ways; write it like 2026-05-31")
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise UnclearCell(f"has no year from {FIRST_YEAR} to {LAST_YEAR}; write it like 2026-05-31")
    try:
        return datetime.date(year, month, day)
    except ValueError:
        raise UnclearCell("is in no calendar; write it like 2026-05-31") from None


def worded_day(text: str) -> tuple[int, int, int]:
    """Year, month and day of a day with the month's name in it, or with a weekday before its digits."""
    plain = WEEKDAY.sub("", text.strip())
    match = DAY_MONTH.match(plain) or MONTH_DAY.match(plain)
    if match is None:
        if plain != text.strip() and (parts := slashed(plain)) and parts[4] == 4:
            return parts[0], parts[2], parts[3]
        raise UnclearCell("is no day; write it like 2026-05-31")
    name = match["month"].lower()
    month = next((at for at, whole in enumerate(MONTHS, 1) if whole.startswith(name)), 0)
    if month == 0:
        raise UnclearCell("is no day; write it like 2026-05-31")
    return int(match["year"]), month, int(match["day"])
