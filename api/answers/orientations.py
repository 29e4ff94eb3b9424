"""A search over all directions as bytes, and the months and hours that somebody asks for."""

import re
from collections.abc import Iterable
from functools import lru_cache

from api.edge.problems import QUERY
from sizing.answers import written
from sizing.design import Design
from sizing.foundation import InputError, Problem
from sizing.orientation import Wanted, orient, orientation_answer

MOST_KEPT = 64
"""Answers of 80 KB each."""
NAMES = ("months", "from_hour", "to_hour")
MONTH_LIST = re.compile(r"(1[0-2]|[1-9])(,(1[0-2]|[1-9])){0,11}")
HOUR = re.compile(r"[0-9]{1,2}(\.[0-9]{1,2})?")


def asked_wanted(given: Iterable[tuple[str, str]]) -> Wanted:
    """Turn the parameters of an address, or the options of a command, into months and hours.

    Parameters
    ----------
    given : names and texts; the names are months (numbers 1 to 12 with commas between them), from_hour and to_hour
        (0 to 24, both or neither)

    Raises
    ------
    InputError
        with one problem per parameter that cannot be used.

    Examples
    --------
    >>> asked_wanted([("months", "4,5,6"), ("from_hour", "8"), ("to_hour", "14.5")])
    Wanted(months=(4, 5, 6), hours=(8.0, 14.5))
    >>> asked_wanted([("months", "4,13")])
    Traceback (most recent call last):
    sizing.foundation.errors.InputError: months must be different numbers from 1 to 12 with commas between them; write them like 4,5,6
    """  # noqa: E501
    found: dict[str, str] = {}
    problems = []
    for name, text in given:
        problem = repeated(name) if name in found else wrong(name, text)
        found[name] = text
        if problem is not None:
            problems.append(problem)
    if problems:
        raise InputError(*problems[:20])
    months = tuple(int(text) for text in found["months"].split(",")) if "months" in found else None
    return Wanted(months, hours_of(found))


def hours_of(found: dict[str, str]) -> tuple[float, float] | None:
    """The hours of texts that were checked one by one."""
    ends = [name for name in NAMES[1:] if name in found]
    if len(ends) == 1:
        lacking = "to_hour" if ends == ["from_hour"] else "from_hour"
        detail = f"{ends[0]} is given without {lacking}; give both, or neither"
        raise InputError(Problem(QUERY + lacking, "missing", detail))
    if not ends:
        return None
    first, last = float(found["from_hour"]), float(found["to_hour"])
    if first >= last:
        detail = f"from_hour is {first:g} and to_hour {last:g}; the second must come later on the same day; check for a swap"
        raise InputError(Problem(QUERY + "to_hour", "hours_out_of_order", detail))
    return first, last


def repeated(name: str) -> Problem:
    """The same parameter twice."""
    known = name if name in NAMES else "unknown"
    return Problem(QUERY + known, "unknown_parameter", f"{known} is given twice; keep one")


def wrong(name: str, text: str) -> Problem | None:
    """What is wrong with one parameter, if anything is."""
    if name == "months":
        if MONTH_LIST.fullmatch(text) and len(set(text.split(","))) == len(text.split(",")):
            return None
        detail = "months must be different numbers from 1 to 12 with commas between them; write them like 4,5,6"
        return Problem(QUERY + name, "out_of_range", detail, 1, 12)
    if name in NAMES:
        if HOUR.fullmatch(text) and float(text) <= 24:
            return None
        detail = f"{name} is not a number between 0 and 24; write an hour of the day, like 8 or 14.5, or leave it out"
        return Problem(QUERY + name, "out_of_range", detail, 0, 24)
    detail = f"the address has a parameter that is not known; known are {', '.join(NAMES)}; remove it"
    return Problem(QUERY + "unknown", "unknown_parameter", detail)


def kept_orientation(design: Design, wanted: Wanted) -> bytes:
    """Search all directions without weather files and write the answer as JSON; the latest answers are kept.

    Raises
    ------
    SizingError
        with one sentence per cause
    """
    return by_text(design.model_dump_json(exclude_unset=True), wanted)


@lru_cache(maxsize=MOST_KEPT)
def by_text(canonical: str, wanted: Wanted) -> bytes:
    """The answer for a design in canonical writing."""
    found = orient(Design.model_validate_json(canonical), None, wanted)
    return written(orientation_answer(found))
