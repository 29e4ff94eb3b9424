"""Numbers and times in the cells of a log: what has one reading is read, with the unit that stands beside it."""

import re
from collections.abc import Iterable, Mapping

from sizing.typed_numbers import IN_DOUBT, PARTS, tidy_digits, with_point

Units = Mapping[str, tuple[float, float]]
"""Factor and offset that bring a value to SI, by the unit's name in small letters."""

PLAIN = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")
COMMA_DECIMALS = re.compile(r"[-+]?(?:0,[0-9]+|[0-9.]*[0-9],(?:[0-9]{1,2}|[0-9]{4,}))[^0-9.,]*")
POINT_DECIMALS = re.compile(r"[-+]?[0-9,]*[0-9]\.[0-9]+[^0-9.,]*")
CLOCK = re.compile(r"([0-9]{1,2})(?:[:h]([0-9]{2})|\.([0-9]{2})(?=[ap]))?(?::([0-9]{2})(?:\.[0-9]+)?)?h?(am|pm|a\.m\.|p\.m\.)?")
IN_DOUBT_CLOCK = re.compile(r"[0-9]{1,2}[.,][0-9]{2}")


class UnclearCell(ValueError):  # noqa: N818 - told to the reader as a sentence, never as an error of ours
    """A cell without a reading, or with two; the message says how to write it."""


def decimal_comma(texts: Iterable[str]) -> bool:
    """Whether a log writes decimals with a comma: some cell says so, and none has a decimal point.

    Examples
    --------
    >>> decimal_comma(["12,5", "1,250"]), decimal_comma(["12.5", "1,250"]), decimal_comma(["12", "1,250"])
    (True, False, False)
    """
    marked = [text.strip() for text in texts if "," in text or "." in text]
    if not any("," in text for text in marked):
        return False
    pointed = any(POINT_DECIMALS.fullmatch(text) for text in marked if "," not in text)
    return not pointed and any(COMMA_DECIMALS.fullmatch(text) for text in marked)


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
    if not comma and PLAIN.fullmatch(text):
        return float(text) * factor + offset
    match = PARTS.fullmatch(tidy_digits(text))
    if match is None:
        raise UnclearCell("is no number; write one, or leave the row out")
    sign, digits, power, tail = match.groups()
    if tail:
        named = tail.lower().strip(".")
        if named not in units:
            raise UnclearCell(f"has a unit that is not known here; known are {', '.join(units)}")
        factor, offset = units[named]
    if comma:
        digits = digits.replace(".", "").replace(",", ".")
        pointed = digits if digits.count(".") <= 1 else ""
    else:
        if IN_DOUBT.fullmatch(digits):
            raise UnclearCell(f"can be read in two ways; write {with_point(digits)} or {digits.replace(',', '')}")
        pointed = with_point(digits)
    if not pointed:
        raise UnclearCell("is no number; write one, or leave the row out")
    return float(sign + pointed + power) * factor + offset


def cell_seconds(text: str) -> float | None:
    """Seconds of a stopwatch that shows minutes and seconds; ``None`` where the cell is no such time.

    Examples
    --------
    >>> cell_seconds("1:05"), cell_seconds("0:42.5"), cell_seconds("42")
    (65.0, 42.5, None)
    """
    match = re.fullmatch(r"([0-9]{1,3}):([0-5][0-9](?:[.,][0-9]+)?)", text.strip())
    return None if match is None else 60 * int(match[1]) + float(match[2].replace(",", "."))


def cell_clock(text: str) -> float:
    """Hour of the day [h, 0..24) that a cell names.

    Raises
    ------
    UnclearCell
        with the end of a sentence.

    Examples
    --------
    >>> cell_clock("9:05"), cell_clock("9.05 am"), cell_clock("1:30 p.m."), cell_clock("13:20:30"), cell_clock("12 am")
    (9.0833, 9.0833, 13.5, 13.3417, 0.0)
    """
    tidy = text.strip().lower().replace(" ", "").replace("\u202f", "").replace("\u00a0", "")
    match = CLOCK.fullmatch(tidy)
    if match is None or (match[2] is None and match[3] is None and match[5] is None and not tidy.endswith("h")):
        if IN_DOUBT_CLOCK.fullmatch(tidy):
            first, second = re.split("[.,]", tidy)
            raise UnclearCell(f"can be read in two ways; write {first}:{second}, or hours and minutes of it")
        raise UnclearCell("is no time of day; write it like 9:05 or 14:30")
    hour, minute, second = int(match[1]), int(match[2] or match[3] or 0), int(match[4] or 0)
    half = (match[5] or "").replace(".", "")
    if half:
        if not 1 <= hour <= 12:
            raise UnclearCell("is no time of day; write it like 9:05 or 14:30")
        hour = hour % 12 + (12 if half == "pm" else 0)
    if hour > 23 or minute > 59 or second > 59:
        raise UnclearCell("is no time of day; write it like 9:05 or 14:30")
    return hour + minute / 60 + second / 3600
