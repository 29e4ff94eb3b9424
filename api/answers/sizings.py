"""One sizing as bytes: the same for the HTTP interface and for the command line."""

from functools import lru_cache

from sizing.answers import written
from sizing.design import Design
from sizing.report import When, size, sizing_answer

MOST_KEPT = 256


def kept_answer(design: Design, when: When) -> bytes:
    """Size a design without a weather file and write the answer as JSON; the latest answers are kept.

    What the design left out is part of the key: the answer lists it among the assumptions.

    Raises
    ------
    SizingError
        with one sentence per cause
    """
    return by_text(design.model_dump_json(exclude_unset=True), when)


@lru_cache(maxsize=MOST_KEPT)
def by_text(canonical: str, when: When) -> bytes:
    """The answer for a design in canonical writing."""
    return written(sizing_answer(size(Design.model_validate_json(canonical), None, when)))
