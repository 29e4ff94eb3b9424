"""Reading a number the way people type it: spaces, a comma, a unit behind it; doubt is asked about, never guessed."""

import re

SPACES = re.compile("[\\s\u00a0\u202f']")
FIGURE = re.compile(r"([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?)(.*)")
IN_DOUBT = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}")
LIKE = {
    "m": ("m", "metre", "metres", "meter", "meters"),
    "mm": ("mm",),
    "mm²": ("mm²", "mm2", "qmm"),
    "°": ("°", "deg", "degrees"),
    "°C": ("°c", "c"),
    "%": ("%",),
    "V": ("v", "volt", "volts"),
    "A": ("a", "amp", "amps"),
    "Ω": ("ω", "ohm", "ohms"),
    "L/min": ("l/min", "lpm"),
}
"""Ways to write a field's unit behind its number."""


class UnclearError(ValueError):
    """A number that can be read in two ways, or in another unit; the message says how to write it."""


def number(text: str, unit: str = "", whole: bool = False) -> float | int | str:
    """Read a number; what is no number comes back as it was typed.

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
    >>> number(" 1,5 m", "m"), number("\N{MINUS SIGN}79.95"), number("1 200"), number("3", whole=True), number("abc")
    (1.5, -79.95, 1200.0, 3, 'abc')
    >>> number("1,234")
    Traceback (most recent call last):
    web.numbers.UnclearError: 1,234 can be read in two ways; write 1.234 or 1234
    >>> number("45 cm", "m")
    Traceback (most recent call last):
    web.numbers.UnclearError: 45 cm has another unit than this field, which takes m; work it out and write the number alone
    """
    tidy = SPACES.sub("", text.replace("\N{MINUS SIGN}", "-"))
    doubt = IN_DOUBT.match(tidy)
    if doubt is not None and not tidy[doubt.end() :][:1].isdigit():
        comma = doubt[0]
        raise UnclearError(f"{comma} can be read in two ways; write {comma.replace(',', '.')} or {comma.replace(',', '')}")
    if tidy.count(",") == 1 and "." not in tidy:
        tidy = tidy.replace(",", ".")
    match = FIGURE.fullmatch(tidy)
    if match is None:
        return text
    tail = match[2]
    if tail and tail.lower() not in LIKE.get(unit, ()):
        if re.fullmatch(r"[a-zA-Zµ°%Ω²³/]{1,8}\d?", tail) is None:
            return text
        takes = f"takes {unit}" if unit else "has no unit"
        raise UnclearError(
            f"{text.strip()[:30]} has another unit than this field, which {takes}; work it out and write the number alone"
        )
    value = float(match[1])
    return int(value) if whole and value == int(value) else value
