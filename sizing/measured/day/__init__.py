"""sizing.measured.day."""

from sizing.measured.day.answer import compared_answer, judged_roots, kept_answer, sheet_answer, wanted_answer
from sizing.measured.day.clear_day import Lesson, day_words, lesson_of, turn_of
from sizing.measured.day.commissioning import Kept, kept_looks, wanted_on
from sizing.measured.day.filled_sheet import Compared, compared
from sizing.measured.day.sheet import Sheet, sheet_of

__all__ = [
    "Compared",
    "Kept",
    "Lesson",
    "Sheet",
    "compared",
    "compared_answer",
    "day_words",
    "judged_roots",
    "kept_answer",
    "kept_looks",
    "lesson_of",
    "sheet_answer",
    "sheet_of",
    "turn_of",
    "wanted_answer",
    "wanted_on",
]
