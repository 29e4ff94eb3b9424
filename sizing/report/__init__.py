"""sizing.report."""

from sizing.report.answer import answer
from sizing.report.assumptions import hours_sentence
from sizing.report.garden_sky import SkyReport, explain_sky, sky_answer
from sizing.report.months_worked import MONTH_IDS, named
from sizing.report.report import Report, When, size
from sizing.report.verdict import goal_words
from sizing.report.what_if import Change, WhatIf, changes_of, what_ifs

__all__ = [
    "MONTH_IDS",
    "Change",
    "Report",
    "SkyReport",
    "WhatIf",
    "When",
    "answer",
    "changes_of",
    "explain_sky",
    "goal_words",
    "hours_sentence",
    "named",
    "size",
    "sky_answer",
    "what_ifs",
]
