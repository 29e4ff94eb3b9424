"""Numbers, units, hours and months as a reader expects them.

Pure formatting: plain numbers in, text out. A number keeps its full digits until it comes here.
Between a number and its unit stands a space that does not break; thousands are parted by a narrow one.
"""

import math
import re
from collections.abc import Iterable, Sequence
from functools import lru_cache

SPACE = "\N{NO-BREAK SPACE}"
NARROW_SPACE = "\N{NARROW NO-BREAK SPACE}"
MINUS = "\N{MINUS SIGN}"
SUPERSCRIPTS = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")

MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
SHORT_MONTHS = tuple(month[:3] for month in MONTHS)
MONTH_LETTERS = tuple(month[0] for month in MONTHS)

DIRECTIONS = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")

# UCUM codes whose usual sign differs from the code; any other code is shown as it is written.
SIGNS = {
    "1": "",
    "Cel": "°C",
    "l": "L",
    "L": "L",
    "ml": "mL",
    "deg": "°",
    "Ohm": "Ω",
    "mOhm": "mΩ",
    "d": "day",
    "wk": "week",
    "mo": "month",
    "a": "year",
    "[USD]": "US$",
}


def finite(value: float) -> float:
    """Let a number pass that can be shown; NaN and infinity are bugs of the caller.

    Examples
    --------
    >>> finite(7.3)
    7.3
    """
    number = float(value)
    if not math.isfinite(number):
        raise ValueError(f"only finite numbers can be shown, not {number}")
    return number


def superscript(exponent: int) -> str:
    """Show a whole exponent raised.

    Examples
    --------
    >>> superscript(-12)
    '⁻¹²'
    """
    return str(exponent).translate(SUPERSCRIPTS)


def digits_grouped(text: str) -> str:
    """Part the thousands of a plain decimal number from five digits on, with a proper minus sign.

    Examples
    --------
    >>> digits_grouped("-12300.5").replace(NARROW_SPACE, " ")
    '−12 300.5'
    """
    if len(text) < 5:
        return text.replace("-", MINUS)
    sign = MINUS if text.startswith("-") else ""
    whole, point, rest = text.lstrip("-").partition(".")
    if len(whole) > 4:
        whole = f"{int(whole):,}".replace(",", NARROW_SPACE)
    return sign + whole + point + rest


@lru_cache(maxsize=4096)
def figures(value: float, digits: int = 3) -> str:
    """Show a number with so many significant figures, without zeros that carry nothing.

    From a ten-thousandth to ten million in plain digits, outside that as a power of ten.

    Examples
    --------
    >>> figures(0.76483), figures(1280.4), figures(-2.0)
    ('0.765', '1280', '−2')
    >>> figures(0.0000123).replace(SPACE, " ")
    '1.23 × 10⁻⁵'
    """
    number = finite(value)
    if number == 0:
        return "0"
    short = f"{number:.{digits}g}"
    if digits <= 7 and "e" not in short:
        return digits_grouped(short)
    mantissa, _, power = f"{number:.{digits - 1}e}".partition("e")
    exponent = int(power)
    if not -4 <= exponent < 7:
        short = mantissa.rstrip("0").rstrip(".") if "." in mantissa else mantissa
        return f"{digits_grouped(short)}{SPACE}×{SPACE}10{superscript(exponent)}"
    text = f"{float(f'{mantissa}e{exponent}'):.{max(digits - 1 - exponent, 0)}f}"
    return digits_grouped(text.rstrip("0").rstrip(".") if "." in text else text)


@lru_cache(maxsize=256)
def unit(code: str) -> str:
    """Show a UCUM unit code as people write it; "1" shows as nothing.

    Examples
    --------
    >>> unit("m3/s"), unit("W/m2"), unit("Cel"), unit("l/min"), unit("1")
    ('m³/s', 'W/m²', '°C', 'L/min', '')
    >>> unit("kW.h/m2"), unit("Pa.s"), unit("K-1")
    ('kWh/m²', 'Pa·s', 'K⁻¹')
    """

    def sign(match: re.Match[str]) -> str:
        atom, exponent = match[1], match[2]
        return SIGNS.get(atom, atom) + (superscript(int(exponent)) if exponent else "")

    if code in SIGNS:
        return SIGNS[code]
    text = re.sub(r"\bkW\.h\b", "kWh", re.sub(r"\bW\.h\b", "Wh", code))
    return re.sub(r"(\[?[A-Za-z]+\]?)(-?\d+)?", sign, text).replace(".", "·")


def quantity(value: float, code: str = "1", digits: int = 3) -> str:
    """Show a number with its unit.

    Examples
    --------
    >>> quantity(912.4, "W/m2").replace(SPACE, " "), quantity(30, "deg"), quantity(0.6, "1")
    ('912 W/m²', '30°', '0.6')
    """
    return with_unit(figures(value, digits), code)


def with_unit(text: str, code: str) -> str:
    """Show a number that is a text already with its unit; degrees stand close.

    Examples
    --------
    >>> with_unit("57.0", "deg"), with_unit("12.40", "V").replace(SPACE, " ")
    ('57.0°', '12.40 V')
    """
    shown = unit(code)
    return text + ("" if shown in ("", "°") else SPACE) + shown


def percent(share: float, digits: int = 2) -> str:
    """Show a share of one in percent.

    Examples
    --------
    >>> percent(0.0213).replace(SPACE, " ")
    '2.1 %'
    """
    return f"{figures(100 * share, digits)}{SPACE}%"


def length(metres: float) -> str:
    """Show a length the way a tape measure is read: mm below 1 cm, cm below 1 m, then m.

    Examples
    --------
    >>> [length(value).replace(SPACE, " ") for value in (0.0048, 0.034, 0.618, 0.9961, 1.4, 12.34)]
    ['4.8 mm', '3.4 cm', '62 cm', '1 m', '1.4 m', '12.3 m']
    """
    number = finite(metres)
    size = abs(number)
    if size < 0.0005:
        return f"0{SPACE}cm" if size < 0.00005 else quantity(1000 * number, "mm", 1)
    if size < 0.00995:
        return quantity(1000 * number, "mm", 2)
    if size < 0.995:
        return quantity(100 * number, "cm", 2)
    return quantity(round(number, 2), "m", 3)


def length_unit(largest: float) -> tuple[str, float]:
    """Name the unit that suits a set of lengths, and how many of it make one metre.

    Examples
    --------
    >>> length_unit(0.88), length_unit(3.7)
    (('cm', 100.0), ('m', 1.0))
    """
    return ("m", 1.0) if abs(finite(largest)) >= 2 else ("cm", 100.0)


def litres(amount: float) -> str:
    """Show an amount of water, given in litres.

    Examples
    --------
    >>> litres(0.42).replace(SPACE, " "), litres(12345).replace(SPACE, " ").replace(NARROW_SPACE, " ")
    ('0.42 L', '12 300 L')
    """
    return quantity(amount, "l")


def clock(hours: float, step: int = 1) -> str:
    """Show an hour of the day, 0 to 24, as on a clock, rounded to so many minutes.

    Examples
    --------
    >>> clock(9.6667), clock(15.37, step=10), clock(24)
    ('9:40', '15:20', '24:00')
    """
    number = finite(hours)
    if not 0 <= number <= 24:
        raise ValueError(f"an hour of the day lies between 0 and 24, not at {figures(number)}")
    minutes = round(number * 60 / step) * step
    return f"{minutes // 60}:{minutes % 60:02d}"


def hour_span(first: float, last: float, step: int = 10) -> str:
    """Show from which to which hour.

    Examples
    --------
    >>> hour_span(9.67, 15.37)
    '9:40 to 15:20'
    """
    return f"{clock(first, step)} to {clock(last, step)}"


def spans(windows: Sequence[tuple[float, float]]) -> str:
    """Name the windows of a day.

    Examples
    --------
    >>> spans([(10.0, 11.0), (12.5, 14.0)])
    '10:00 to 11:00 and 12:30 to 14:00'
    """
    said = [hour_span(first, last, 1) for first, last in windows]
    return " and ".join([", ".join(said[:-1]), said[-1]] if len(said) > 1 else said)


def duration(hours: float) -> str:
    """Show how long something lasts.

    Examples
    --------
    >>> [duration(value).replace(SPACE, " ") for value in (0, 0.25, 5.6667, 7)]
    ['0 h', '15 min', '5 h 40 min', '7 h']
    """
    whole, minutes = divmod(round(finite(hours) * 60), 60)
    parts = ([f"{whole}{SPACE}h"] if whole else []) + ([f"{minutes}{SPACE}min"] if minutes else [])
    return SPACE.join(parts) or f"0{SPACE}h"


def month_span(months: Iterable[int]) -> str:
    """Name a set of months (1 to 12) in runs; a run may pass over the turn of the year.

    Examples
    --------
    >>> month_span([4, 5, 6, 8]), month_span([1, 2, 11, 12]), month_span(range(1, 13))
    ('April to June, August', 'November to February', 'the whole year')
    """
    chosen = set(months)
    if not chosen <= set(range(1, 13)):
        raise ValueError("months are numbered from 1 to 12")
    if len(chosen) == 12:
        return "the whole year"
    before = {month: (month - 2) % 12 + 1 for month in chosen}
    runs = []
    for start in sorted(month for month in chosen if before[month] not in chosen):
        end = start
        while end % 12 + 1 in chosen:
            end = end % 12 + 1
        names = [MONTHS[start - 1], MONTHS[end - 1]]
        between = " and " if end == start % 12 + 1 else " to "
        runs.append(names[0] if start == end else between.join(names))
    return ", ".join(runs)


def compass(azimuth: float) -> str:
    """Name a direction given in degrees clockwise from north.

    Examples
    --------
    >>> compass(183), compass(350), compass(-45)
    ('south', 'north', 'north-west')
    """
    return DIRECTIONS[round(finite(azimuth) / 45) % 8]
