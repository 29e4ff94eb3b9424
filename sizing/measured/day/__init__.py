"""sizing.measured.day."""

from sizing.measured.day.answer import compared_answer, judged_roots, kept_answer, sheet_answer, wanted_answer
from sizing.measured.day.clear_day import ClearDay, clear_day_of, day_words, turn_of
from sizing.measured.day.commissioning import Kept, kept_looks, wanted_on
from sizing.measured.day.filled_sheet import Compared, compared
from sizing.measured.day.sheet import Sheet, sheet_of

__all__ = [
    "ClearDay",
    "Compared",
    "Kept",
    "Sheet",
    "clear_day_of",
    "compared",
    "compared_answer",
    "day_words",
    "judged_roots",
    "kept_answer",
    "kept_looks",
    "sheet_answer",
    "sheet_of",
    "turn_of",
    "wanted_answer",
    "wanted_on",
]
