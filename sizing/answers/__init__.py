"""What answers are made of: fields with meaning and unit, and the parts that several answers share.

In come records of a finished sizing; out come frozen models that hold known fields only, in the order in which they are
written. HTTP, terminal, pages and tables read the same model.

Read: ``kit`` (``amount``, ``meaning``, ``Exact``, ``plain``), ``shared`` (place, mounting, sky, notes, working, sources),
``places`` (towns and coordinates),
``basin_and_jets``.
"""

from sizing.answers.kit import Exact, GivenDesign, Partial, amount, meaning, plain, written
from sizing.answers.places import MOST_TOWNS, PlacesAnswer, places_answer
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
    "MOST_TOWNS",
    "Exact",
    "GivenDesign",
    "InputAnswer",
    "Months",
    "MountingAnswer",
    "NoteAnswer",
    "Partial",
    "PlaceAnswer",
    "PlacesAnswer",
    "RowProblemAnswer",
    "SourceAnswer",
    "StateName",
    "StepAnswer",
    "TellAnswer",
    "YearOfSunAnswer",
    "amount",
    "meaning",
    "places_answer",
    "plain",
    "written",
]
