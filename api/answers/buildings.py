"""What building and keeping a fountain asks for, as bytes: the same for the HTTP interface and for the command line."""

from functools import lru_cache
from pathlib import Path

from sizing.answers import written
from sizing.comparison import compare
from sizing.design import Design
from sizing.installation import building_of
from sizing.money import BuildingAnswer, costs_beside
from sizing.report import size

MOST_KEPT = 64


def building_bytes(design: Design, folder: Path | None = None) -> bytes:
    """Size a design and write what follows from it as JSON.

    Parameters
    ----------
    folder : where a weather file is looked for; ``None`` refuses weather files

    Raises
    ------
    SizingError
        with one sentence per cause
    """
    built = building_of(size(design, folder))
    several = len(design.panels) * len(design.pumps) > 1
    pairs = costs_beside(compare(design, folder), built) if several else ()
    return written(BuildingAnswer.of(built, pairs))


def kept_building(design: Design) -> bytes:
    """As ``building_bytes`` without weather files; the latest answers are kept."""
    return by_text(design.model_dump_json(exclude_unset=True))


@lru_cache(maxsize=MOST_KEPT)
def by_text(canonical: str) -> bytes:
    """The answer for a design in canonical writing."""
    return building_bytes(Design.model_validate_json(canonical))
