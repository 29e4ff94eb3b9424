"""Every direction of a search as a table for spreadsheets (RFC 4180)."""

from collections.abc import Mapping
from typing import Any

from web.exports.months import csv_text

COLUMNS = (
    "sun_kwh_per_m2",
    "year_water_l",
    "months_water_l",
    "hours_water_l",
    "year_play_h",
    "hours_play_h",
    "goal_hours_h",
)
"""Always these; a column stays empty where the answer does not hold it."""


def orientation_csv(found: Mapping[str, Any]) -> str:
    """One row for each plane of the grid, north at 0 and 360 degrees alike; the design's title stands in each row.

    Parameters
    ----------
    found : the answer of a search
    """
    grid = found["grid"]
    rows = [
        [found["title"], tilt, azimuth, *(grid[name][row][column] if name in grid else None for name in COLUMNS)]
        for row, tilt in enumerate(grid["tilt_deg"])
        for column, azimuth in enumerate(grid["azimuth_deg"])
    ]
    return csv_text([["design", "tilt_deg", "azimuth_deg", *COLUMNS], *rows])
