"""Reading a number the way people type it: spaces, a comma, a unit behind it; doubt is asked about, never guessed."""

import math
import re

from sizing.foundation import IN_DOUBT, PARTS, in_parts, tidy_digits, with_point

A_UNIT = re.compile("[a-zA-Zµ°%Ω\N{OHM SIGN}][a-zA-Zµ°%Ω\N{OHM SIGN}/·²³]{0,7}[23]?")
LIKE = {
    "m": ("metre", "metres", "meter", "meters"),
    "mm²": ("mm2", "qmm"),
    "°": ("deg", "degree", "degrees"),
    "°C": ("c",),
    "%/K": ("%/°c", "%/c"),
    "V": ("volt", "volts"),
    "A": ("amp", "amps", "ampere", "amperes"),
    "Ω": ("ω", "ohm", "ohms"),
    "L/min": ("lpm",),
    "kWh/m²": ("kwh/m2",),
    "MJ/m²": ("mj/m2",),
    "W/m²": ("w/m2",),
    "h": ("hour", "hours"),
}
"""Further ways to write a field's unit behind its number, in small letters."""


class UnclearError(ValueError):
    """A number that can be read in two ways, or in another unit; the message says how to write it."""


def number(text: str, unit: str = "", whole: bool = False) -> float | int | str:
    """Read a number; what is no number comes back as it was typed, what is too large for one as infinite.

    Parameters
    ----------
    unit : the field's own unit; it may stand behind the number, any other is asked about
    whole : whether whole numbers become integers

    Raises
    ------
    UnclearError
        if a comma may part thousands or decimals, or another unit stands there.

    Examples
    --------
    >>> number(" 1,5 m", "m"), number("\N{MINUS SIGN}79.95"), number("1 200"), number("3", whole=True), number("12 1")
    (1.5, -79.95, 1200.0, 3, '12 1')
    >>> number("1,234")
    Traceback (most recent call last):
    web.forms.numbers.UnclearError: 1,234 can be read in two ways; write 1.234 or 1234
    >>> number("45 cm", "m")
    Traceback (most recent call last):
    web.forms.numbers.UnclearError: 45 cm has another unit than this field, which takes m; work it out and write the number alone
    """
    match = PARTS.fullmatch(tidy_digits(text))
    if match is None or in_parts(text):
        return text
    sign, digits, power, tail = match.groups()
    pointed = with_point(digits)
    if not pointed or not known_tail(text, tail, unit):
        return text
    if IN_DOUBT.fullmatch(digits):
        raise UnclearError(f"{sign}{digits} can be read in two ways; write {sign}{pointed} or {sign}{digits.replace(',', '')}")
    value = float(sign + pointed + power)
    return int(value) if whole and math.isfinite(value) and value == int(value) else value


def known_tail(text: str, tail: str, unit: str) -> bool:
    """Whether nothing but the field's own unit stands behind a number; another unit is asked about."""
    if not tail or tail.lower() in (unit.lower(), *LIKE.get(unit, ())):
        return True
    if A_UNIT.fullmatch(tail):
        takes = f"takes {unit}" if unit else "has no unit"
        raise UnclearError(
            f"{text.strip()[:30]} has another unit than this field, which {takes}; work it out and write the number alone"
        )
    return False
