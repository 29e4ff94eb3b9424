"""What would meet the goal of a design, as bytes."""

from functools import lru_cache

from sizing.answers import written
from sizing.design import Design
from sizing.reach import reach, reach_answer

MOST_KEPT = 64


def kept_reach(design: Design) -> bytes:
    """Search the changes for a design without weather files and write the answer as JSON; the latest answers are kept.

    Raises
    ------
    SizingError
        with one sentence per cause
    """
    return by_text(design.model_dump_json(exclude_unset=True))


@lru_cache(maxsize=MOST_KEPT)
def by_text(canonical: str) -> bytes:
    """The answer for a design in canonical writing."""
    return written(reach_answer(reach(Design.model_validate_json(canonical))))
