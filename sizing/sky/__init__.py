"""The year of sun and air over the place: 365 days in even steps, with the sun's position and strength in each.

In comes a place with nothing else, with twelve typed months, or with a weather file (EPW or TMY3). Out comes the same ``Sky``
from all three, with notes on what is doubtful.

Read: ``solar_position``, ``climate`` (the built-in table), ``clouds`` (how the sun of a day comes and goes; decided there),
``synthetic_year`` (twelve months to a year of steps), ``monthly_values`` and ``typed_units`` (typed months: what is
impossible, which unit was meant), ``weather_file`` (read, checked, and what its reader should know), ``weather`` (the three
ways to a ``Sky``), ``clock`` (the clock on the wall), ``cold`` (the coldest night), ``sky_months``, ``day_courses`` (a sky by
its months, and by three days).

2026-11-25, a synthetic year from monthly clearness. Chosen: 12 clearness values on a 3-degree grid (326 KB with temperature
    and rain), corrected by one factor, 0.88, made into days (Hollands & Huget) and 15-minute steps (Collares-Pereira & Rabl,
    Liu & Jordan, Erbs). Refused: a 27 MB climate package at run time; richer corrections (no better when each place in turn
    was left out); random weather generators (no safer above 200 W/m², not repeatable). Against 33 weather files: 7.6 % a year,
    12 % a month.
2026-12-01, warm months have a correction of their own. One factor left the humid tropics dim. Chosen: from 27 °C on, clearness
    is 0.248 + 0.515 times the table's; up to 24 °C, 0.88 times. Seven warm weather files, each left out of its fit: 8.4 %
    before, 5.9 % now; 30 cities, used only to choose between rules: 12 % before, 4.3 % now. The coldest night: see ``cold``.
2026-11-25, the sun of the synthetic year is shifted by 0.95 day. Spencer's series fits the midnight that begins a day in the
    1960s. At noon today it lags by 0.95 day, up to 0.47° of declination at the equinoxes (judge: Reda & Andreas); monthly
    totals keep the printed series. Effect on a 35° plane in London: -1.5 to +1.6 % a month, 0.03 % a year.
2026-11-25, hours on the clock by moving whole steps. With a time zone, each day's steps move by the nearest whole number of
    steps. So every page speaks the clock and no sun is lost or made; an hour is off by at most half a step (7.5 minutes).
"""

from sizing.sky.clock import clock_shift, nearest_town
from sizing.sky.cold import MARGIN, ColdAir
from sizing.sky.day_courses import DayCourse
from sizing.sky.sky_months import SkyMonth, SkyYear, monthly_of
from sizing.sky.solar_position import DAYS_IN_MONTH
from sizing.sky.typed_units import TYPED_UNITS, doubtful_unit, shown_values
from sizing.sky.weather import TRUE_SOLAR_TIME, Sky, built_in_sky, sky_of_bytes
from sizing.sky.weather_file import LARGEST_FILE

__all__ = [
    "DAYS_IN_MONTH",
    "LARGEST_FILE",
    "MARGIN",
    "TRUE_SOLAR_TIME",
    "TYPED_UNITS",
    "ColdAir",
    "DayCourse",
    "Sky",
    "SkyMonth",
    "SkyYear",
    "built_in_sky",
    "clock_shift",
    "doubtful_unit",
    "monthly_of",
    "nearest_town",
    "shown_values",
    "sky_of_bytes",
]
