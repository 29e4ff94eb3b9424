"""One design sized: ``size`` follows the sun and the water once and keeps all that is shown of it.

In come a design, a folder for weather files, and the moment to unfold; out comes a ``Report`` with year, points, likely
ranges, verdict, assumptions, warnings and working. It opens no file but such a weather file.

Read: ``report`` (the whole way in one function), ``verdict`` (the answer in sentences), ``assumptions``, ``cautions``,
``moment`` with ``moment_sun``, ``moment_power`` and ``moment_water`` (one moment worked out number by number),
``months_worked``, ``what_if`` (one change at a time), ``ageing`` (what time does), ``obstacle_costs`` (the year without each
obstacle), ``garden_sky`` (the sky explained), ``answer`` and ``sky_answer`` (what of both is written down, with its units).

What-ifs reuse the report's sun: sky and panel stay, so a change costs 2.5 ms (15 to 20 ms for all). The interface for programs
leaves them out; ``solar-fountain size`` prints them.
``web.pages.results`` says how pages offer them.
The year is computed with arrays; the moment calls the same functions once more on plain numbers, through ``work``, so that
each shown number unfolds down to what somebody gave, published or assumed.
"""

from sizing.report.answer import (
    Answer,
    CauseAnswer,
    HowSureAnswer,
    MomentAnswer,
    MonthAnswer,
    OperatingPointAnswer,
    StationAnswer,
    SureMonthAnswer,
    YearAnswer,
    sizing_answer,
)
from sizing.report.assumptions import hours_sentence
from sizing.report.garden_sky import SkyReport, explain_sky
from sizing.report.months_worked import MONTH_IDS, named
from sizing.report.obstacle_costs import ObstacleCost, obstacle_costs
from sizing.report.report import Report, When, size
from sizing.report.sky_answer import GardenSkyAnswer, ObstacleCostAnswer, sky_answer
from sizing.report.verdict import goal_words, jets_sentence, running_words
from sizing.report.what_if import Change, WhatIf, ages, changes_of, what_ifs

__all__ = [
    "MONTH_IDS",
    "Answer",
    "CauseAnswer",
    "Change",
    "GardenSkyAnswer",
    "HowSureAnswer",
    "MomentAnswer",
    "MonthAnswer",
    "ObstacleCost",
    "ObstacleCostAnswer",
    "OperatingPointAnswer",
    "Report",
    "SkyReport",
    "StationAnswer",
    "SureMonthAnswer",
    "WhatIf",
    "When",
    "YearAnswer",
    "ages",
    "changes_of",
    "explain_sky",
    "goal_words",
    "hours_sentence",
    "jets_sentence",
    "named",
    "obstacle_costs",
    "running_words",
    "size",
    "sizing_answer",
    "sky_answer",
    "what_ifs",
]
