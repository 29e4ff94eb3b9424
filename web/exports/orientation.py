"""Every direction of a search as a table for spreadsheets (RFC 4180)."""

from sizing.orientation import GridAnswer, OrientationAnswer
from web.exports.months import csv_text


def orientation_csv(found: OrientationAnswer) -> str:
    """One row for each plane of the grid, north at 0 and 360 degrees alike; the design's title stands in each row."""
    tables = tables_of(found.grid)
    rows = [
        [found.title, tilt, azimuth, *(None if table is None else table[row][column] for table in tables.values())]
        for row, tilt in enumerate(found.grid.tilt_deg)
        for column, azimuth in enumerate(found.grid.azimuth_deg)
    ]
    return csv_text([["design", "tilt_deg", "azimuth_deg", *tables], *rows])


def tables_of(grid: GridAnswer) -> dict[str, list[list[float]] | None]:
    """The columns by their heads, always the same; one stays empty where the answer does not hold it."""
    return {
        "sun_kwh_per_m2": grid.sun_kwh_per_m2,
        "year_water_l": grid.year_water_l,
        "months_water_l": grid.months_water_l,
        "hours_water_l": grid.hours_water_l,
        "year_play_h": grid.year_play_h,
        "hours_play_h": grid.hours_play_h,
        "goal_hours_h": grid.goal_hours_h,
    }
