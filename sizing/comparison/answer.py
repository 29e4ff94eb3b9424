"""A comparison as plain JSON data: the public answer of the HTTP interface and of ``--json``."""

from typing import Any

from sizing.comparison.comparison import Comparison
from sizing.comparison.pairs import Money, Pair, PairFound, suits
from sizing.design.design import Design
from sizing.foundation.units import LITRE, LITRE_PER_MINUTE
from sizing.foundation.version import MODEL_VERSION
from sizing.report.verdict import goal_words


def comparison_answer(found: Comparison) -> dict[str, Any]:
    """Everything a comparison holds that can be written down; numbers in full, units in the names."""
    place = found.place
    return {
        "model_version": MODEL_VERSION,
        "title": found.design.title,
        "design": found.design.model_dump(mode="json", exclude_unset=True, exclude_none=True),
        "place": {
            "name": place.name,
            "latitude_deg": place.latitude,
            "longitude_deg": place.longitude,
            "elevation_m": place.elevation,
        },
        "sky": {"kind": found.sky.kind, "title": found.sky.title, "hour_basis": found.sky.hour_basis},
        "goal": goal(found),
        "months": list(found.months),
        "ranked_by": found.ranked_by,
        "pairs": [pair(found.design, each) for each in found.pairs],
        "cheapest": None if found.cheapest is None else ids(found.cheapest.pair),
        "nearly": None if found.nearly is None else ids(found.nearly.pair),
        "smallest_panels": [
            {
                "pump": each.pump,
                "power_w": each.watts,
                "like_panel": each.like,
                "connection": each.connection,
                "sentence": each.sentence,
            }
            for each in found.smallest
        ],
        "notes": [
            {"code": note.code, "severity": note.severity, "detail": note.detail, "pointer": note.pointer} for note in found.notes
        ],
    }


def goal(found: Comparison) -> dict[str, Any] | None:
    """What the fountain should reach."""
    goal = found.goal
    if goal is None:
        return None
    return {
        "jet_height_m": goal.jet,
        "flow_l_per_min": None if goal.flow is None else goal.flow / LITRE_PER_MINUTE,
        "from_hour": goal.from_hour,
        "to_hour": goal.to_hour,
        "months": list(goal.months),
        "days_out_of_ten": 10 * goal.day_share,
        "sentence": goal_words(goal),
    }


def ids(pair: Pair) -> dict[str, str]:
    """A pair by the ids of the design."""
    return {"panel": pair.panel, "pump": pair.pump, "connection": pair.connection}


def money(price: Money | None) -> dict[str, Any] | None:
    """An amount in a currency."""
    return None if price is None else {"amount": price.amount, "currency": price.currency}


def pair(design: Design, found: PairFound) -> dict[str, Any]:
    """One pair; without numbers where it could not be sized."""
    return {
        "rank": found.rank,
        **ids(found.pair),
        "panel_name": found.panel_input.name,
        "pump_name": found.pump_input.name,
        "suits": suits(found),
        "refused": found.refused,
        "failure": found.failure,
        **year(found),
        "noon": noon(design, found),
        "goal": reached(found),
        "first_playing_irradiance_w_per_m2": found.first_sun,
        "matching_factor": found.matching_factor,
        "price": money(found.price),
        "price_note": found.price_note,
        "price_per_playing_hour": money(found.price_per_hour),
        "beaten_by": None if found.beaten_by is None else ids(found.beaten_by),
    }


def year(found: PairFound) -> dict[str, Any]:
    """The pair's year; ``None`` throughout where it could not be sized."""
    if found.year is None:
        names = ("water_l", "worst_month", "worst_water_l_per_day", "running_h", "over_voltage_h", "water_l_per_day")
        return dict.fromkeys(names)
    return {
        "water_l": found.water / LITRE,
        "worst_month": found.worst_month,
        "worst_water_l_per_day": found.worst_water / LITRE,
        "running_h": found.running_hours,
        "over_voltage_h": found.over_voltage_hours,
        "water_l_per_day": [month.water / LITRE for month in found.year.months],
    }


def noon(design: Design, found: PairFound) -> list[dict[str, Any]]:
    """The hour from 12:00 on the usual day of each chosen month."""
    if found.noon_jet is None or found.noon_flow is None:
        return []
    jet = design.outlet.kind != "spillway"
    return [
        {
            "month": month,
            "jet_height_m": found.noon_jet[month] if jet else None,
            "flow_l_per_min": found.noon_flow[month] / LITRE_PER_MINUTE,
        }
        for month in sorted(found.noon_jet)
    ]


def reached(found: PairFound) -> dict[str, Any] | None:
    """How far a pair reaches the goal."""
    goal = found.goal
    if goal is None:
        return None
    return {
        "met": goal.met,
        "hours": goal.hours,
        "window_hours": goal.window_hours,
        "poorest_month": goal.poorest_month,
        "days_out_of_ten": 10 * goal.day_share[goal.poorest_month],
    }
