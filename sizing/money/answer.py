"""What building and keeping a fountain asks for, as plain data: units in the names, nothing but finite numbers."""

from decimal import Decimal
from typing import Any

from sizing.basin.answer import basin_answer, frost_answer, water_answer
from sizing.foundation.units import LITRE, SQUARE_MILLIMETRE
from sizing.foundation.version import MODEL_VERSION
from sizing.installation.building import Building
from sizing.installation.care import Care
from sizing.installation.safety import SafetyNote
from sizing.installation.wires import CableRow, Wires
from sizing.money.pair_costs import PairCost
from sizing.money.parts import Part
from sizing.money.ten_years import bought


def building_answer(found: Building, pairs: tuple[PairCost, ...] = ()) -> dict[str, Any]:
    """Everything that follows from a sizing: the public answer of the HTTP interface and of ``report --json``.

    Parameters
    ----------
    pairs : the chosen pair beside others, where the design has several
    """
    design = found.report.design
    return {
        "model_version": MODEL_VERSION,
        "title": design.title,
        "design": design.model_dump(mode="json", exclude_unset=True, exclude_none=True),
        "wires": wires_answer(found.wires),
        "safety": safety_answer(found.notes),
        "basin": basin_answer(found.basin),
        "water": water_answer(found.balance),
        "frost": frost_answer(found.frost),
        "care": care_answer(found.care),
        **money_answer(found),
        "pairs": [pair_answer(pair) for pair in pairs],
    }


def money_answer(found: Building) -> dict[str, Any]:
    """Parts, costs and ten years; money as exact text, such as "24.90", and ``None`` where a price is missing."""
    money = bought(found)
    costs, ten = money.costs, money.ten
    return {
        "parts": [part_answer(line.part, line.total) for line in costs.lines],
        "not_needed": list(money.listed.left_out),
        "costs": {
            "currency": costs.currency,
            "groups": [{"group": name, "total": str(amount)} for name, amount in costs.groups],
            "parts": str(costs.parts),
            "contingency_pct": float(costs.contingency_pct),
            "contingency": str(costs.contingency),
            "delivery": text_or_none(costs.delivery),
            "tax_pct": float(costs.tax_pct),
            "tax": str(costs.tax),
            "total": str(costs.total),
            "missing": list(costs.missing),
            "other_currency": list(costs.other),
            "other_sums": [{"currency": currency, "total": str(amount)} for currency, amount in costs.apart],
            "unused_prices": list(costs.unused),
            "sentence": costs.sentence,
        },
        "ten_years": {
            "replacements": [
                {
                    "name": each.name,
                    "least": each.least,
                    "most": each.most,
                    "reason": each.reason,
                    "least_cost": text_or_none(each.least_cost),
                    "most_cost": text_or_none(each.most_cost),
                }
                for each in ten.replacements
            ],
            "water_l": ten.water / LITRE,
            "water_cost": text_or_none(ten.water_cost),
            "running_h": ten.hours,
            "low": str(ten.low),
            "high": str(ten.high),
            "per_hour_low": text_or_none(ten.per_hour_low),
            "per_hour_high": text_or_none(ten.per_hour_high),
            "complete": ten.complete,
            "sentences": list(ten.sentences),
        },
    }


def pair_answer(pair: PairCost) -> dict[str, Any]:
    """Ten years of one pair."""
    return {
        "rank": pair.rank,
        "chosen": pair.own,
        "panel_name": pair.panel,
        "pump_name": pair.pump,
        "water_l": pair.water / LITRE,
        "running_h": pair.running_hours,
        "currency": pair.costs.currency,
        "total": str(pair.costs.total),
        "missing": list(pair.costs.missing),
        "low": str(pair.ten.low),
        "high": str(pair.ten.high),
        "per_hour_low": text_or_none(pair.ten.per_hour_low),
        "per_hour_high": text_or_none(pair.ten.per_hour_high),
        "difference": pair.difference,
    }


def part_answer(part: Part, total: Decimal | None) -> dict[str, Any]:
    """One part with its price, as it was given."""
    price = part.price
    return {
        "part": part.key,
        "group": part.group,
        "name": part.name,
        "quantity": float(part.quantity),
        "unit": part.unit,
        "reason": part.reason,
        "price": None if price is None else price.model_dump(include={"amount", "currency", "source", "date"}),
        "total": text_or_none(total),
    }


def text_or_none(amount: Decimal | None) -> str | None:
    """Exact money as text."""
    return None if amount is None else str(amount)


def wires_answer(wires: Wires) -> dict[str, Any]:
    """Cable, fuse and voltages.

    Returns
    -------
    Sizes thinnest first, square millimetres before wire gauge; ``smallest``, ``next_size`` and ``smallest_gauge`` are names
    of rows, ``None`` where no size does
    """
    return {
        "length_m": wires.length,
        "conductor_temperature_c": wires.temperature,
        "drop_limit": wires.limit,
        "own": cable_row(wires.own),
        "sizes": [cable_row(row) for row in wires.rows],
        "smallest": named(wires.smallest),
        "next_size": named(wires.next_size),
        "smallest_gauge": named(wires.smallest_gauge),
        "water_without_loss_l": wires.water_without_loss / LITRE,
        "sentence": wires.sentence,
        "short_circuit_current_a": wires.short_circuit,
        "design_current_a": wires.design_current,
        "fuse": {
            "needed": wires.fuse.needed,
            "rating_a": wires.fuse.rating,
            "sentence": wires.fuse.sentence,
            "source": wires.fuse.source,
        },
        "cold_dawn": {"air_temperature_c": wires.cold.air_temperature, "voltage_v": wires.cold.voltage},
        "voltage_limits": [
            {
                "family": limit.family,
                "limit_v": limit.limit,
                "exceeded": limit.exceeded,
                "sentence": limit.sentence,
                "source": limit.source,
            }
            for limit in wires.limits
        ],
        "licensed": list(wires.licensed),
    }


def cable_row(row: CableRow) -> dict[str, Any]:
    """One size of cable."""
    return {
        "size": row.size.name,
        "family": row.size.family,
        "area_mm2": row.size.area / SQUARE_MILLIMETRE,
        "resistance_ohm": row.resistance,
        "drop_share": row.drop_share,
        "drop_v": row.drop_volts,
        "water_l": row.water / LITRE,
        "water_lost_l": row.water_lost / LITRE,
    }


def named(row: CableRow | None) -> str | None:
    """Name of a size, ``None`` where there is none."""
    return None if row is None else row.size.name


def safety_answer(notes: tuple[SafetyNote, ...]) -> list[dict[str, Any]]:
    """The notes of SAFETY.md that apply."""
    return [{"note": note.anchor, "title": note.title, "reason": note.reason, "licensed": note.licensed} for note in notes]


def care_answer(care: Care) -> dict[str, Any]:
    """What is looked at and when, and who does which work."""
    return {
        "looks": [{"when": look.when, "sentence": look.sentence} for look in care.looks],
        "club": list(care.club),
        "licensed": list(care.licensed),
    }
