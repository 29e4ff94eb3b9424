"""The sky over one garden as bytes, from a design file's first part: its place, its sky, and how the panel stands."""

import difflib
from collections.abc import Iterable
from functools import lru_cache

from api.problems import QUERY, json_bytes
from api.sky_models import GardenSkyAnswer
from sizing.errors import InputError, Problem
from sizing.pointers import LONGEST_NAME, LONGEST_SHOWN, pointer_part, quoted
from sizing.reading import MOST_PROBLEMS, parse_json, read_site
from sizing.site import Site
from sizing.skies import explain_sky, sky_answer

MOST_KEPT = 256
ALIKE = 0.75
"""How much of a name must be that of a known field to be taken for a slip of the keyboard."""


def parse_site(content: bytes) -> Site:
    """Read the bytes of a design file's first part.

    Raises
    ------
    InputError
        if it is too large, not UTF-8, not JSON, holds more than place, sky and mounting, or any value is wrong.

    Examples
    --------
    >>> parse_site(b'{"place": {"latitude_deg": 46.05, "longitude_deg": 14.51}, "pipes": []}')
    Traceback (most recent call last):
    sizing.errors.InputError: "pipes" is not asked for with a sky; its fields are place, sky and mounting; remove it
    """
    data = parse_json(content)
    if not isinstance(data, dict):
        return read_site(data)
    others = [not_asked(name) for name in data if name not in Site.model_fields]
    try:
        site = read_site({name: value for name, value in data.items() if name in Site.model_fields})
    except InputError as error:
        raise InputError(*[*error.problems, *others][:MOST_PROBLEMS]) from None
    if others:
        raise InputError(*others[:MOST_PROBLEMS])
    return site


def not_asked(name: str) -> Problem:
    """A field that only a whole design has, or none at all."""
    near = difflib.get_close_matches(name[:LONGEST_SHOWN], list(Site.model_fields), 1, ALIKE)
    change = f"write {near[0]} if that was meant, or remove it" if near else "remove it"
    detail = f"{quoted(name)} is not asked for with a sky; its fields are place, sky and mounting; {change}"
    return Problem(f"#/{pointer_part(name)}" if len(name) <= LONGEST_NAME else "#", "unknown_field", detail)


def refuse_parameters(given: Iterable[tuple[str, str]]) -> None:
    """Refuse any parameter in the address: a sky has none.

    Raises
    ------
    InputError
        with one problem, however many parameters there are.
    """
    if any(True for _ in given):
        detail = "the address has a parameter, and a sky is asked for without any; remove what stands behind the question mark"
        raise InputError(Problem(QUERY + "unknown", "unknown_parameter", detail))


def sky_bytes(site: Site) -> bytes:
    """The sky over a garden as JSON, checked against its model; weather files are refused.

    Raises
    ------
    SizingError
        with one sentence per cause
    """
    found = sky_answer(explain_sky(site))
    GardenSkyAnswer.model_validate(found)
    return json_bytes(found)


def kept_sky(site: Site) -> bytes:
    """As ``sky_bytes``; the latest answers are kept."""
    return by_text(site.model_dump_json())


@lru_cache(maxsize=MOST_KEPT)
def by_text(canonical: str) -> bytes:
    """The answer for a site in canonical writing."""
    return sky_bytes(Site.model_validate_json(canonical))
