"""One sizing as bytes: the same for the HTTP interface and for the command line."""

from functools import lru_cache
from pathlib import Path

from api.answers.models import Answer
from api.edge.problems import json_bytes
from sizing.design import Design
from sizing.report import Report, When, answer, size

MOST_KEPT = 256


def answer_bytes(design: Design, when: When, folder: Path | None = None) -> bytes:
    """Size a design and write the answer as JSON, checked against its model.

    Parameters
    ----------
    folder : where a weather file is looked for; ``None`` refuses weather files

    Raises
    ------
    SizingError
        with one sentence per cause
    """
    return written(sized(design, when, folder))


def sized(design: Design, when: When, folder: Path | None = None) -> Report:
    """Size a design; see ``answer_bytes``."""
    return size(design, folder, when)


def written(report: Report) -> bytes:
    """A report as JSON, checked against its model."""
    found = answer(report)
    Answer.model_validate(found)
    return json_bytes(found)


def kept_answer(design: Design, when: When) -> bytes:
    """As ``answer_bytes`` without weather files; the latest answers are kept.

    What the design left out is part of the key: the answer lists it among the assumptions.
    """
    return by_text(design.model_dump_json(exclude_unset=True), when)


@lru_cache(maxsize=MOST_KEPT)
def by_text(canonical: str, when: When) -> bytes:
    """The answer for a design in canonical writing."""
    return answer_bytes(Design.model_validate_json(canonical), when)
