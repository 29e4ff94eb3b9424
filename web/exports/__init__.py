"""Tables for spreadsheets (RFC 4180): the same numbers as on the pages, as CSV text.

In come plain answers or records; out comes text with a header row and units in the names.

Read: ``months`` (with ``csv_text``, which the others use), ``pairs``, ``reach``, ``orientation``, ``building``, ``obstacles``,
``measured``.
"""

from web.exports.measured import curve_csv, filled_csv, panel_csv, sheet_csv, turned_csv
from web.exports.months import months_csv
from web.exports.obstacles import obstacles_csv
from web.exports.orientation import orientation_csv
from web.exports.pairs import pairs_csv
from web.exports.reach import offers_csv

__all__ = [
    "curve_csv",
    "filled_csv",
    "months_csv",
    "obstacles_csv",
    "offers_csv",
    "orientation_csv",
    "pairs_csv",
    "panel_csv",
    "sheet_csv",
    "turned_csv",
]
