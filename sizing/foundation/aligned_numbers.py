"""Numbers that stand together end at the same decimal: a column, a row, a value and how far it may be off."""

from collections.abc import Iterable, Sequence
from math import floor, log10

from sizing.foundation.formats import SPACE, digits_grouped, figures, finite, with_unit


def column(values: Sequence[float], digits: int = 3) -> tuple[str, ...]:
    """Show the numbers of a table column with the same decimals, set by the largest of them.

    Examples
    --------
    >>> column((7.31, 0.0191, 0))
    ('7.31', '0.02', '0.00')
    """
    numbers = [finite(value) for value in values]
    largest = max(map(abs, numbers), default=0.0)
    exponent = int(f"{largest:.{digits - 1}e}".partition("e")[2]) if largest else digits - 1
    decimals = min(max(digits - 1 - exponent, 0), 8)
    texts = [f"{number:.{decimals}f}" for number in numbers]
    return tuple([digits_grouped(text if text[0] != "-" or float(text) else text[1:]) for text in texts])


def aligned(rows: Iterable[Sequence[float]]) -> list[tuple[str, ...]]:
    """Show the numbers of a table row by row, those of each column with the same decimals.

    Examples
    --------
    >>> aligned([(7.31, 120), (0.0191, 14.2)])
    [('7.31', '120'), ('0.02', '14')]
    """
    return list(zip(*(column(values) for values in zip(*rows, strict=True)), strict=True))


def alike(values: Sequence[float], code: str) -> tuple[str, ...]:
    """Show the numbers of one row with their unit and the same decimals.

    Examples
    --------
    >>> alike((11.95, 10.8, 11.0), "V")[2].replace("\\xa0", " "), alike((57.0, 55.04), "deg")
    ('11.0 V', ('57.0°', '55.0°'))
    """
    return tuple(with_unit(text, code) for text in column(values))


def one_decimal(value: float) -> str:
    """Show a number with one decimal, and never a minus before zero.

    Examples
    --------
    >>> one_decimal(-0.84), one_decimal(-0.04), one_decimal(12.0)
    ('−0.8', '0.0', '12.0')
    """
    return digits_grouped(f"{round(finite(value), 1) + 0.0:.1f}")


def with_range(value: float, uncertainty: float, code: str = "1") -> str:
    """A value and its standard uncertainty, two figures of this one and both to the same decimal (JCGM 100, 7.2.6).

    Parameters
    ----------
    uncertainty : 0 or more, in the unit of the value; of 0 the value has three figures
    code : UCUM code of the unit

    Raises
    ------
    ValueError : one of them is not finite

    Examples
    --------
    >>> with_range(10.05762, 0.027, "Ohm").replace("\\xa0", " "), with_range(6, 1.2, "%").replace("\\xa0", " ")
    ('10.058 ± 0.027 Ω', '6.0 ± 1.2 %')
    """
    told, off = to_one_decimal(value, uncertainty)
    return f"{told}{SPACE}±{SPACE}{with_unit(off, code)}"


def give_or_take(size: float, uncertainty: float, side: str, code: str = "%") -> str:
    """By how much something lies to one side, in words; what vanishes beside its uncertainty keeps one figure.

    Examples
    --------
    >>> give_or_take(37.31, 4.71, "less than computed").replace("\\xa0", " ")
    '37.3 % less than computed, give or take 4.7 %'
    >>> give_or_take(0.013, 0.28, "higher", "deg")
    '0.01° higher, give or take 0.28°'
    """
    told, off = to_one_decimal(size, uncertainty)
    told = told if told.strip("0.") else figures(size, 1)
    return f"{with_unit(told, code)} {side}, give or take {with_unit(off, code)}"


def to_one_decimal(value: float, uncertainty: float) -> tuple[str, str]:
    """Both as texts, ended where the uncertainty has two figures; below 0.00001, which no unit here shows, each by itself."""
    number, spread = finite(value), float(f"{finite(uncertainty):.1e}")
    if spread < 1e-5:
        return figures(number), figures(spread, 2)
    decimals = 1 - floor(log10(spread))
    told, off = (digits_grouped(f"{round(each, decimals) + 0.0:.{max(decimals, 0)}f}") for each in (number, spread))
    return told, off
