"""What answers are made of: fields with meaning and unit, and the parts that several answers share."""

from sizing.answers.kit import Exact, GivenDesign, amount, meaning, plain
from sizing.answers.shared import (
    InputAnswer,
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
    "NoteAnswer",
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
