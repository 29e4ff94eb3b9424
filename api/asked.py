"""The moment that somebody asks for in words: month, hour and sky."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from api.problems import QUERY
from sizing.errors import InputError, Problem

if TYPE_CHECKING:
    from sizing.report import When

LIMITS = {"month": (1, 12), "hour": (0, 23)}
SKIES = ("clear", "usual", "dull")


def asked_when(given: Iterable[tuple[str, str]]) -> "When":
    """Turn the parameters of an address, or the options of a command, into a moment.

    Parameters
    ----------
    given : names and texts; the names are month (1 to 12), hour (0 to 23) and sky (clear, usual, dull)

    Raises
    ------
    InputError
        with one problem per parameter that cannot be used.

    Examples
    --------
    >>> asked_when([("month", "6"), ("sky", "dull")])
    When(month=6, hour=None, sky='dull')
    >>> asked_when([("hour", "24")])
    Traceback (most recent call last):
    sizing.errors.InputError: hour is not a whole number between 0 and 23; write one, or leave it out
    """
    from sizing.report import When

    found: dict[str, str] = {}
    problems = []
    for name, text in given:
        problem = repeated(name) if name in found else wrong(name, text)
        found[name] = text
        if problem is not None:
            problems.append(problem)
    if problems:
        raise InputError(*problems[:20])
    month, hour = (int(found[name]) if name in found else None for name in ("month", "hour"))
    return When(month, hour, found.get("sky", "clear"))


def repeated(name: str) -> Problem:
    """The same parameter twice."""
    known = name if name in LIMITS or name == "sky" else "a parameter"
    return Problem(QUERY + known, "unknown_parameter", f"{known} is given twice; keep one")


def wrong(name: str, text: str) -> Problem | None:
    """What is wrong with one parameter, if anything is."""
    if name in LIMITS:
        low, high = LIMITS[name]
        if text.isascii() and text.isdigit() and len(text) <= 2 and low <= int(text) <= high:
            return None
        detail = f"{name} is not a whole number between {low} and {high}; write one, or leave it out"
        return Problem(QUERY + name, "out_of_range", detail, low, high)
    if name == "sky":
        return (
            None if text in SKIES else Problem(QUERY + name, "not_a_choice", f"sky must be one of: {', '.join(SKIES)}; write one")
        )
    detail = "the address has a parameter that is not known; known are month, hour and sky; remove it or correct its name"
    return Problem(QUERY + "unknown", "unknown_parameter", detail)
