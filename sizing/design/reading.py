"""From the bytes of a design file to a design, or to the sentences that say what is wrong with it."""

import json
from typing import TypeVar

from pydantic import BaseModel, ValidationError

from sizing.design.design import Design
from sizing.design.mistakes import problem, shown, without_echoes
from sizing.design.site import Site
from sizing.foundation.errors import InputError, Problem

LARGEST_FILE = 65536
"""[byte] A design file holds numbers and a few names; more is something else."""
MOST_PROBLEMS = 20

Document = TypeVar("Document", bound=BaseModel)


def read_design(data: object) -> Design:
    """Check a parsed JSON document and return the design.

    Raises
    ------
    InputError
        with one problem per wrong value, in the order of the file.

    Examples
    --------
    >>> read_design([1, 2])
    Traceback (most recent call last):
    sizing.foundation.errors.InputError: a design file holds one object and a list was given; start from one of the examples
    """
    return read_as(Design, data)


def read_site(data: object) -> Site:
    """Check a parsed JSON document that holds a design's first part alone: place, sky and mounting.

    Raises
    ------
    InputError
        with one problem per wrong value.

    Examples
    --------
    >>> read_site({"place": {"latitude_deg": 46.05, "longitude_deg": 14.51}}).sky.kind
    'built_in'
    """
    return read_as(Site, data)


def read_as(model: type[Document], data: object) -> Document:
    """Check a parsed JSON document against a model of the design file."""
    if not isinstance(data, dict):
        whole = "a design file" if model in (Design, Site) else "the request"
        detail = f"{whole} holds one object and {shown(data)} was given; start from one of the examples"
        raise InputError(Problem("#", "wrong_shape", detail))
    try:
        return model.model_validate(data)
    except ValidationError as error:
        found = [problem(line, model) for line in error.errors(include_url=False)]
    raise InputError(*without_echoes(found)[:MOST_PROBLEMS])


def parse_design(content: bytes) -> Design:
    """Read the bytes of a design file.

    Raises
    ------
    InputError
        if it is too large, not UTF-8, not JSON, or any value is wrong.

    Examples
    --------
    >>> parse_design(b"{")
    Traceback (most recent call last):
    sizing.foundation.errors.InputError: the design file is not JSON (line 1, column 2); it may have been cut off or edited; save it again
    """  # noqa: E501
    return read_design(parse_json(content))


def parse_json(content: bytes, largest: int = LARGEST_FILE) -> object:
    """Parse JSON bytes of at most so many, refusing what is not JSON with a sentence."""
    if len(content) > largest:
        detail = f"the design file has {len(content)} bytes; at most {largest} are read; remove what does not belong"
        raise InputError(Problem("#", "too_large", detail, maximum=largest))
    try:
        return json.loads(content.decode("utf-8-sig"), object_pairs_hook=without_doubles)
    except UnicodeDecodeError as error:
        detail = f"the design file is not UTF-8 text (byte {error.start + 1}); save it as UTF-8"
        raise InputError(Problem("#", "not_text", detail)) from None
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        detail = f"the design file is not JSON ({where}); it may have been cut off or edited; save it again"
        raise InputError(Problem("#", "not_json", detail)) from None
    except InputError:
        raise
    except (RecursionError, ValueError):
        detail = (
            "the design file is nested too deeply or holds a number of thousands of digits; no fountain needs that; "
            "start from one of the examples"
        )
        raise InputError(Problem("#", "not_json", detail)) from None


def without_doubles(pairs: list[tuple[str, object]]) -> dict[str, object]:
    """An object of the file; a name that occurs twice would silently lose one value, so it is refused."""
    found: dict[str, object] = {}
    for name, value in pairs:
        if name in found:
            detail = f"the field {shown(name)} stands twice in one object of the design file; keep one"
            raise InputError(Problem("#", "field_doubled", detail))
        found[name] = value
    return found
