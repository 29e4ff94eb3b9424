"""web.exports."""

from web.exports.measured import curve_csv, filled_csv, panel_csv, sheet_csv, turned_csv
from web.exports.months import months_csv
from web.exports.orientation import orientation_csv
from web.exports.pairs import pairs_csv

__all__ = ["curve_csv", "filled_csv", "months_csv", "orientation_csv", "pairs_csv", "panel_csv", "sheet_csv", "turned_csv"]
