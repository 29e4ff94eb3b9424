"""The moment that somebody asks for: month, hour and sky in words, or a strength of sun."""

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

from api.edge.problems import QUERY
from sizing.foundation import InputError, Problem

if TYPE_CHECKING:
    from sizing.report import When

WHOLE = {"month": (1, 12), "hour": (0, 23)}
SKIES = ("clear", "usual", "dull")
IRRADIANCE = "irradiance_w_per_m2"
STRONGEST = 1500.0
"""[W/m2] More sun than falls on any panel for more than a moment."""


def asked_when(given: Iterable[tuple[str, str]]) -> "When":
    """Turn the parameters of an address, or the options of a command, into a moment.

    Parameters
    ----------
    given : names and texts; the names are month (1 to 12), hour (0 to 23) and sky (clear, usual, dull), or instead of
        all three irradiance_w_per_m2 (0 to 1500)

    Raises
    ------
    InputError
        with one problem per parameter that cannot be used.

    Examples
    --------
    >>> asked_when([("month", "6"), ("sky", "dull")])
    When(month=6, hour=None, sky='dull', strength=None)
    >>> asked_when([("hour", "24")])
    Traceback (most recent call last):
    sizing.foundation.errors.InputError: hour is not a whole number between 0 and 23; write one, or leave it out
    """
    found: dict[str, str] = {}
    problems = []
    for name, text in given:
        problem = repeated(name) if name in found else wrong(name, text)
        found[name] = text
        if problem is not None:
            problems.append(problem)
    if IRRADIANCE in found and found.keys() & {"month", "hour", "sky"}:
        detail = "a strength of sun stands in place of month, hour and sky; give one or the other"
        problems.append(Problem(QUERY + IRRADIANCE, "two_moments", detail))
    if problems:
        raise InputError(*problems[:20])
    return when_of(found)


def when_of(found: dict[str, str]) -> "When":
    """The moment of texts that were checked."""
    from sizing.report import When

    month, hour = (int(found[name]) if name in found else None for name in ("month", "hour"))
    strength = float(found[IRRADIANCE]) if IRRADIANCE in found else None
    return When(month, hour, found.get("sky", "clear"), strength)


def repeated(name: str) -> Problem:
    """The same parameter twice."""
    known = name if name in (*WHOLE, "sky", IRRADIANCE) else "unknown"
    return Problem(QUERY + known, "unknown_parameter", f"{known} is given twice; keep one")


def wrong(name: str, text: str) -> Problem | None:
    """What is wrong with one parameter, if anything is."""
    if name in WHOLE:
        low, high = WHOLE[name]
        if re.fullmatch("[0-9]{1,2}", text) and low <= int(text) <= high:
            return None
        detail = f"{name} is not a whole number between {low} and {high}; write one, or leave it out"
        return Problem(QUERY + name, "out_of_range", detail, low, high)
    if name == "sky":
        return (
            None if text in SKIES else Problem(QUERY + name, "not_a_choice", f"sky must be one of: {', '.join(SKIES)}; write one")
        )
    if name == IRRADIANCE:
        if re.fullmatch(r"[0-9]{1,4}(\.[0-9]{1,9})?", text) and float(text) <= STRONGEST:
            return None
        detail = f"irradiance is not a number between 0 and {STRONGEST:g} W/m2; write one, or leave it out"
        return Problem(QUERY + name, "out_of_range", detail, 0, STRONGEST)
    detail = f"the address has a parameter that is not known; known are month, hour, sky and {IRRADIANCE}; remove it"
    return Problem(QUERY + "unknown", "unknown_parameter", detail)
