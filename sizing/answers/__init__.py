"""What answers are made of: fields with meaning and unit, and the parts that several answers share.

In come records of a finished sizing; out come frozen models that hold known fields only, in the order in which they are
written. HTTP, terminal, pages and tables read the same model.

Read: ``kit`` (``amount``, ``meaning``, ``Exact``, ``plain``), ``shared`` (place, mounting, sky, notes, working, sources).
"""

from sizing.answers.kit import Exact, GivenDesign, Partial, amount, meaning, plain
from sizing.answers.shared import (
    InputAnswer,
    Months,
    MountingAnswer,
    NoteAnswer,
    PlaceAnswer,
    RowProblemAnswer,
    SourceAnswer,
    StateName,
    StepAnswer,
    TellAnswer,
    YearOfSunAnswer,
)

__all__ = [
    "Exact",
    "GivenDesign",
    "InputAnswer",
    "Months",
    "MountingAnswer",
    "NoteAnswer",
    "Partial",
    "PlaceAnswer",
    "RowProblemAnswer",
    "SourceAnswer",
    "StateName",
    "StepAnswer",
    "TellAnswer",
    "YearOfSunAnswer",
    "amount",
    "meaning",
    "plain",
]
