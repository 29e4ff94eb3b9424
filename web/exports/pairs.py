"""The pairs of a comparison as a table for spreadsheets (RFC 4180)."""

from collections.abc import Mapping
from typing import Any

from web.exports.months import csv_text

PLAIN = (
    "rank",
    "panel",
    "panel_name",
    "pump",
    "pump_name",
    "connection",
    "suits",
    "water_l",
    "worst_month",
    "worst_water_l_per_day",
    "running_h",
    "first_playing_irradiance_w_per_m2",
    "matching_factor",
    "over_voltage_h",
)
GOAL = ("met", "hours", "window_hours", "poorest_month", "days_out_of_ten")
MONTH_NUMBERS = range(1, 13)
COLUMNS = (
    *PLAIN,
    *(f"goal_{name}" for name in GOAL),
    *(f"water_l_per_day_month_{month}" for month in MONTH_NUMBERS),
    *(f"noon_jet_m_month_{month}" for month in MONTH_NUMBERS),
    *(f"noon_flow_l_per_min_month_{month}" for month in MONTH_NUMBERS),
    "price",
    "price_per_playing_hour",
    "currency",
    "beaten_by_panel",
    "beaten_by_pump",
    "beaten_by_connection",
    "failure",
    "refused",
    "price_note",
)
"""Always these; a cell stays empty where the answer does not hold it."""


def pairs_csv(found: Mapping[str, Any]) -> str:
    """One row for each pair, by rank; the design's title stands in each row, so that tables can be stacked.

    Parameters
    ----------
    found : the answer of a comparison
    """
    return csv_text([["design", *COLUMNS], *([found["title"], *row(pair)] for pair in found["pairs"])])


def row(pair: Mapping[str, Any]) -> list[object]:
    """The cells of one pair."""
    goal, beaten = pair["goal"] or {}, pair["beaten_by"] or {}
    price, hour = pair["price"] or {}, pair["price_per_playing_hour"] or {}
    noon = {each["month"]: each for each in pair["noon"]}
    return [
        *(plain(pair[name]) for name in PLAIN),
        *(plain(goal.get(name)) for name in GOAL),
        *(pair["water_l_per_day"] or [None] * 12),
        *(noon.get(month, {}).get("jet_height_m") for month in MONTH_NUMBERS),
        *(noon.get(month, {}).get("flow_l_per_min") for month in MONTH_NUMBERS),
        price.get("amount"),
        hour.get("amount"),
        price.get("currency"),
        *(beaten.get(name) for name in ("panel", "pump", "connection")),
        *(pair[name] for name in ("failure", "refused", "price_note")),
    ]


def plain(value: object) -> object:
    """A value as it stands in a cell: yes or no for a truth.

    Examples
    --------
    >>> plain(True), plain(7.3), plain(None)
    ('yes', 7.3, None)
    """
    return ("yes" if value else "no") if isinstance(value, bool) else value
