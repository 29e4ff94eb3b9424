"""The least watts that make a goal likely, from what the chance is at a first guess."""

import math
from collections.abc import Callable

from sizing.comparison.least_watts import settled
from sizing.uncertainty.chance import Chance

STRIDE, LONGEST = 1.06, 16
"""Where too many watts are as bad as too few, so many sizes are tried, each so much larger than the last."""


def least_likely(chance: Callable[[int], Chance], first: int, most: int, band: bool) -> int | None:
    """Least whole watts up to ``most`` with which a goal is likely met; ``None`` where none are.

    Parameters
    ----------
    first : watts to begin from, where it is just met, or nearly
    band : whether more watts may be too many

    Examples
    --------
    >>> def chance(watts: int) -> Chance:
    ...     return Chance(0.9 if watts >= 31 else 0.4, "likely" if watts >= 31 else "even", 1.0, watts / 30.7)
    >>> least_likely(chance, 23, 1000, False), least_likely(chance, 23, 30, False), least_likely(chance, 23, 1000, True)
    (31, None, 31)
    """
    if first > most:
        return None

    def likely(watts: int) -> bool:
        return chance(watts).outlook == "likely"

    if band:
        tried = sorted({round(first * STRIDE**step) for step in range(LONGEST)})
        return next((watts for watts in tried if watts <= most and likely(watts)), None)
    found = chance(first)
    if found.reserve <= 0:
        return None
    return settled(min(max(math.ceil(first / found.reserve), 1), most), likely, most)
