"""A comparison of pumps and panels as bytes, and which connections somebody asks for."""

from collections.abc import Iterable
from functools import lru_cache

from api.edge.problems import QUERY
from sizing.answers import written
from sizing.comparison import compare, comparison_answer
from sizing.design import Design
from sizing.foundation import InputError, Problem

MOST_KEPT = 64
"""Answers of up to 200 KB each."""
CHOICES = ("designed", "both")


def asked_connections(given: Iterable[tuple[str, str]]) -> bool:
    """Whether both connections are asked for, from the parameters of an address.

    Parameters
    ----------
    given : names and texts; the name is connections, the text designed or both

    Raises
    ------
    InputError
        with one problem per parameter that cannot be used.

    Examples
    --------
    >>> asked_connections([("connections", "both")]), asked_connections([])
    (True, False)
    >>> asked_connections([("connections", "all")])
    Traceback (most recent call last):
    sizing.foundation.errors.InputError: connections must be designed or both; write one of the two, or leave it out
    """
    found: dict[str, str] = {}
    problems = []
    for name, text in given:
        if name != "connections":
            detail = "the address has a parameter that is not known; known is connections; remove it"
            problems.append(Problem(QUERY + "unknown", "unknown_parameter", detail))
        elif name in found:
            problems.append(Problem(QUERY + name, "unknown_parameter", f"{name} is given twice; keep one"))
        elif text not in CHOICES:
            detail = "connections must be designed or both; write one of the two, or leave it out"
            problems.append(Problem(QUERY + name, "not_a_choice", detail))
        found[name] = text
    if problems:
        raise InputError(*problems[:20])
    return found.get("connections") == "both"


def kept_comparison(design: Design, both_connections: bool) -> bytes:
    """Compare all pairs of a design without weather files and write the answer as JSON; the latest answers are kept.

    Raises
    ------
    SizingError
        with one sentence per cause
    """
    return by_text(design.model_dump_json(exclude_unset=True), both_connections)


@lru_cache(maxsize=MOST_KEPT)
def by_text(canonical: str, both_connections: bool) -> bytes:
    """The answer for a design in canonical writing."""
    found = compare(Design.model_validate_json(canonical), both_connections=both_connections)
    return written(comparison_answer(found))
