"""The sky over one garden as bytes, from a design file's first part: its place, its sky, and how the panel stands."""

from collections.abc import Iterable
from functools import lru_cache

from api.edge.problems import QUERY
from sizing.answers import written
from sizing.design import Site, parse_json, read_site
from sizing.foundation import InputError, Problem
from sizing.report import explain_sky, sky_answer

MOST_KEPT = 256


def parse_site(content: bytes) -> Site:
    """Read the bytes of a design file's first part.

    Raises
    ------
    InputError
        if it is too large, not UTF-8, not JSON, holds more than place, sky and mounting, or any value is wrong.

    Examples
    --------
    >>> parse_site(b'{"place": {"latitude_deg": 46.05, "longitude_deg": 14.51}}').sky.kind
    'built_in'
    """
    return read_site(parse_json(content))


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
    """The sky over a garden as JSON; weather files are refused.

    Raises
    ------
    SizingError
        with one sentence per cause
    """
    return written(sky_answer(explain_sky(site)))


def kept_sky(site: Site) -> bytes:
    """As ``sky_bytes``; the latest answers are kept."""
    return by_text(site.model_dump_json())


@lru_cache(maxsize=MOST_KEPT)
def by_text(canonical: str) -> bytes:
    """The answer for a site in canonical writing."""
    return sky_bytes(Site.model_validate_json(canonical))
