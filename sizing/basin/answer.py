"""The basin, its water and its frost as plain data: floats, texts, lists, ``None``; units in the names."""

from typing import Any

from sizing.basin.basin import Basin
from sizing.basin.frost import Frost
from sizing.basin.water_balance import MonthOfWater, WaterBalance
from sizing.foundation.units import LITRE


def basin_answer(basin: Basin) -> dict[str, Any]:
    """The basin as plain data, units in the names."""
    return {
        "given": basin.given,
        "words": basin.words,
        "shape": "round" if basin.round else "rectangular",
        "build": basin.build,
        "wind": basin.wind,
        "length_m": basin.length,
        "width_m": basin.width,
        "depth_m": basin.depth,
        "area_m2": basin.area,
        "rim_length_m": basin.rim_length,
        "volume_l": basin.volume / LITRE,
        "highest_water_m": basin.top,
        "falls_inside": basin.falls_inside,
        "jet_check": basin.jet_check,
        "held_back_l": basin.held_back / LITRE,
        "level_rise_m": basin.rise,
        "freeboard_m": basin.freeboard,
        "held_back": basin.held_sentence,
        "lowest_level_m": basin.lowest_level,
        "usable_depth_m": basin.usable_depth,
        "usable_volume_l": basin.usable_volume / LITRE,
        "turnover_h": basin.turnover_hours,
        "turnover": basin.turnover_sentence,
        "notes": list(basin.notes),
        "assumptions": list(basin.assumptions),
    }


def water_answer(balance: WaterBalance) -> dict[str, Any]:
    """The water of the basin through the year."""
    return {
        "months": [month_answer(month) for month in balance.months],
        "year": {
            "evaporated_l": balance.year_evaporated / LITRE,
            "splashed_l": balance.year_splashed / LITRE,
            "rain_l": balance.year_rain / LITRE,
            "rain_kept_l": balance.year_rain_kept / LITRE,
            "overflow_l": balance.year_overflow / LITRE,
            "top_up_l": balance.year_top_up / LITRE,
        },
        "thirstiest_month": balance.thirstiest,
        "loss_l_per_day": balance.loss_per_day / LITRE,
        "dry_spell_days": balance.dry_spell_days,
        "dry_spell_loss_l": balance.dry_spell_loss / LITRE,
        "level_fall_m": balance.level_fall,
        "days_lasting": balance.days_lasting,
        "lasts": balance.lasts,
        "sentence": balance.sentence,
        "dry_spell": balance.dry_spell_sentence,
        "assumptions": list(balance.assumptions),
    }


def month_answer(month: MonthOfWater) -> dict[str, Any]:
    """One month of it."""
    return {
        "month": month.month,
        "days": month.days,
        "evaporation_mm_per_day": month.evaporation_mm_per_day,
        "rain_mm": month.rain_mm,
        "evaporated_l_per_day": month.evaporated_l_per_day,
        "splashed_l_per_day": month.splashed_l_per_day,
        "rain_l_per_day": month.rain_l_per_day,
        "rain_kept_l_per_day": month.rain_kept_l_per_day,
        "overflow_l_per_day": month.overflow_l_per_day,
        "top_up_l_per_day": month.top_up_l_per_day,
        "top_up_l_per_week": month.top_up_l_per_week,
    }


def frost_answer(frost: Frost) -> dict[str, Any]:
    """When it freezes, and what to do."""
    return {
        "months": list(frost.months),
        "single_nights": list(frost.single_nights),
        "mean_lowest_c": list(frost.mean_lowest),
        "coldest_c": list(frost.coldest),
        "hard_nights": list(frost.hard_nights),
        "sentence": frost.sentence,
        "judged": frost.judged,
        "advice": list(frost.advice),
    }
