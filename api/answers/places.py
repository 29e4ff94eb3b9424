"""Where a garden is, by what people write: towns of the list that ships with the project, or coordinates."""

import re
from collections.abc import Iterable

from api.edge.problems import QUERY
from sizing.answers import MOST_TOWNS, PlacesAnswer, places_answer, written
from sizing.foundation import InputError, Problem
from sizing.place import EAST_OR_WEST, LONGEST_QUERY, WORDS, Town, find_towns, read_coordinates
from sizing.sky import nearest_town

USUAL_MOST = 12
OUTSIDE_THE_EARTH = "out_of_range"
"""Code of coordinates that were understood and do not exist."""


def asked_place(given: Iterable[tuple[str, str]]) -> tuple[str, int]:
    """The text that is looked for, and how many towns at most, from the parameters of an address.

    Parameters
    ----------
    given : names and texts; the names are q (1 to 200 letters) and most (1 to 20)

    Raises
    ------
    InputError
        with one problem per parameter that cannot be used.

    Examples
    --------
    >>> asked_place([("q", "novo mesto")])
    ('novo mesto', 12)
    >>> asked_place([("q", "novo mesto"), ("most", "0")])
    Traceback (most recent call last):
    sizing.foundation.errors.InputError: most is not a whole number between 1 and 20; write one, or leave it out
    """
    found: dict[str, str] = {}
    problems = []
    for name, text in given:
        problem = repeated(name) if name in found else wrong(name, text)
        found[name] = text
        if problem is not None:
            problems.append(problem)
    if "q" not in found:
        problems.append(Problem(QUERY + "q", "missing", "q is missing and must be given; add the name of a town, or coordinates"))
    if problems:
        raise InputError(*problems[:20])
    return found["q"], int(found.get("most", USUAL_MOST))


def repeated(name: str) -> Problem:
    """The same parameter twice."""
    known = name if name in ("q", "most") else "unknown"
    return Problem(QUERY + known, "unknown_parameter", f"{known} is given twice; keep one")


def wrong(name: str, text: str) -> Problem | None:
    """What is wrong with one parameter, if anything is."""
    if name == "q":
        if not text.strip():
            return Problem(QUERY + name, "not_a_text", "q is empty; write the name of a town, or coordinates")
        if len(text) > LONGEST_QUERY:
            detail = f"q has {len(text)} characters; at most {LONGEST_QUERY} fit; shorten it"
            return Problem(QUERY + name, "not_a_text", detail)
        return None
    if name == "most":
        if re.fullmatch("[0-9]{1,2}", text) and 1 <= int(text) <= MOST_TOWNS:
            return None
        detail = f"most is not a whole number between 1 and {MOST_TOWNS}; write one, or leave it out"
        return Problem(QUERY + name, "out_of_range", detail, 1, MOST_TOWNS)
    detail = "the address has a parameter that is not known; known are q and most; remove it"
    return Problem(QUERY + "unknown", "unknown_parameter", detail)


def places_bytes(text: str, most: int) -> bytes:
    """The places that a text may mean, best first, as JSON.

    Raises
    ------
    InputError
        where the text is meant as coordinates and cannot be read as such.
    """
    return written(places(text, most))


def places(text: str, most: int) -> PlacesAnswer:
    """The one place that coordinates name, or towns.

    Examples
    --------
    >>> [(found.name, found.region, found.time_zone) for found in places("springfield, il", 3).items]
    [('Springfield', 'Illinois', 'America/Chicago')]
    >>> [(found.latitude_deg, found.name, found.time_zone) for found in places("79 57 W, 36 6 N", 3).items]
    [(36.1, '', 'America/New_York')]
    """
    try:
        latitude, longitude = read_coordinates(text)
    except InputError as error:
        (problem,) = error.problems
        towns = find_towns(text, most) if problem.code != OUTSIDE_THE_EARTH else ()
        if not towns and (problem.code == OUTSIDE_THE_EARTH or meant_as_coordinates(text)):
            raise InputError(Problem(QUERY + "q", problem.code, problem.detail, problem.minimum, problem.maximum)) from None
        return places_answer(towns)
    zone = nearest_town(latitude, longitude)[0].time_zone
    return places_answer([Town("", "", "", "", latitude, longitude, zone, 0)])


def meant_as_coordinates(text: str) -> bool:
    """Whether a text has a digit, and no word that coordinates do not have.

    Examples
    --------
    >>> meant_as_coordinates("46.05 north 14.51"), meant_as_coordinates("km 12"), meant_as_coordinates("north")
    (True, False, False)
    """
    words = re.findall(r"[^\W\d_]+", text.lower())
    return any(letter.isdigit() for letter in text) and all(word in WORDS or word == EAST_OR_WEST for word in words)
