"""Digits as people write them: spaces and apostrophes between thousands, a point or a comma before decimals."""

import re

SPACES = re.compile("[\\s'\N{RIGHT SINGLE QUOTATION MARK}]")
"""Spaces of every width, and the apostrophes that part thousands."""
DASHES = ("\N{MINUS SIGN}", "\N{EN DASH}")
PARTS = re.compile(r"([+-]?)([0-9.,]*[0-9][0-9.,]*)((?:[eE][+-]?[0-9]{1,3})?)(.*)")
"""Sign, digits with their commas and points, power of ten, and whatever stands behind."""
IN_DOUBT = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
GAP = re.compile(r"[0-9.,]\s*['\u2019](?![0-9])|[0-9.,][\s'\u2019]+[0-9]")
"""A space or apostrophe behind a digit, that may part thousands, two numbers, or be the sign of a foot."""
THOUSANDS = re.compile(r"\s*[^0-9]?\s*[1-9][0-9]{0,2}(?:[\s'\u2019][0-9]{3})+(?:[.,][0-9]*)?(?:\s*[^\W\d_°].*)?\s*")
GROUPS = {
    ",": re.compile(r"[0-9]{1,3}(?:,[0-9]{3})+"),
    ".": re.compile(r"[0-9]{1,3}(?:\.[0-9]{3})+"),
}


def tidy_digits(text: str) -> str:
    """A typed number without spaces, with a plain minus and plain digits.

    Examples
    --------
    >>> tidy_digits(" \N{MINUS SIGN}1 234,5 V")
    '-1234,5V'
    """
    tidy = SPACES.sub("", text)
    if tidy.startswith(DASHES):
        tidy = "-" + tidy[1:]
    if not tidy.isascii():
        tidy = "".join(str(int(letter)) if letter.isdecimal() else letter for letter in tidy)
    return tidy


def in_parts(text: str) -> bool:
    """Whether gaps in a typed number part something else than thousands.

    Examples
    --------
    >>> in_parts("12 1"), in_parts("6'"), in_parts("1 234,5 V"), in_parts("12.5 V"), in_parts("-1'200")
    (True, True, False, False, False)
    """
    return GAP.search(text) is not None and THOUSANDS.fullmatch(text) is None


def with_point(digits: str) -> str:
    """Digits with a decimal point and without marks between thousands; empty where they are no number.

    Examples
    --------
    >>> with_point("7,3"), with_point("1,234.5"), with_point("1.234,5"), with_point("1,234,567"), with_point("1.2.3")
    ('7.3', '1234.5', '1234.5', '1234567', '')
    """
    last = max(digits.rfind(","), digits.rfind("."))
    if last < 0:
        return digits
    mark, before, after = digits[last], digits[:last], digits[last + 1 :]
    if mark in before:
        return digits.replace(mark, "") if GROUPS[mark].fullmatch(digits) else ""
    other = "." if mark == "," else ","
    if other in before and not GROUPS[other].fullmatch(before):
        return ""
    return f"{before.replace(other, '')}.{after}"
