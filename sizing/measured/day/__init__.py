"""The fountain on a real, clear day: what it should do, and which stage is off when readings come back.

In come a design, a day and perhaps a filled sheet or kept readings; out come a sheet to print, predicted beside measured with
ranges, the stage in doubt, and what changes from year to year. The sun is that of ``sizing.light.clear_sky``.

Read: ``clear_day`` (any moment under a blue sky), ``clear_day_uncertainty``, ``sheet``, ``stage_residuals`` (one
stage judged, and all), ``sentences``, ``filled_sheet``, ``commissioning`` (the first clear day and later looks), ``answer``.

2026-11-25, each stage is judged by its own two ends. Predicted against measured alone fails where a dirty panel makes
    everything weak. So the sun is judged by its height, light and panel by the irradiance that volts and amperes need, the
    motor by amperes at volts, pump and pipe by flow at volts (behind a controller: at watts), the outlet by jet at flow. What
    all readings share (label, pump, pipe, sky) is one uncertainty, chance another; beyond two of both together a stage is in
    doubt, and the farthest is named. A narrowed pipe lowers the motor's current too, so second stages in doubt are named
    beside the first. Sun and light are also judged by their drift: a panel 45° aside changes the day's mean by 1 uncertainty,
    its drift by 11. Where no stage is in doubt but flow or jet as a whole is, we say so. "Most likely off" needs that chance
    alone puts one of all the comparisons so far off less than one time in twenty; else "perhaps".
2026-11-25, figures. 200 fountains each of four designs, all causes and readings drawn: none in doubt 84 %, perhaps 14 %, most
    likely 2 %; likely ranges hold 62 to 74 % of the draws. A fault must be larger than the ranges to be seen: a tenth of dirt
    is told in 4 of 10 sheets, a quarter in all; a head 15 % too small in none, 30 % in most.
"""

from sizing.measured.day.answer import (
    FilledRowAnswer,
    FilledSheetAnswer,
    FirstDayAnswer,
    KeptAnswer,
    QuantityName,
    RangeAnswer,
    RealDayAnswer,
    SheetAnswer,
    SheetLineAnswer,
    SideAnswer,
    SkyRemark,
    compared_answer,
    first_day_answer,
    judged_roots,
    sheet_answer,
)
from sizing.measured.day.clear_day import ClearDay, clear_day_of, day_words, declination_on
from sizing.measured.day.commissioning import Kept, kept_looks, wanted_on
from sizing.measured.day.filled_sheet import Compared, compared
from sizing.measured.day.sheet import Sheet, sheet_of

__all__ = [
    "ClearDay",
    "Compared",
    "FilledRowAnswer",
    "FilledSheetAnswer",
    "FirstDayAnswer",
    "Kept",
    "KeptAnswer",
    "QuantityName",
    "RangeAnswer",
    "RealDayAnswer",
    "Sheet",
    "SheetAnswer",
    "SheetLineAnswer",
    "SideAnswer",
    "SkyRemark",
    "clear_day_of",
    "compared",
    "compared_answer",
    "day_words",
    "declination_on",
    "first_day_answer",
    "judged_roots",
    "kept_looks",
    "sheet_answer",
    "sheet_of",
    "wanted_on",
]
