"""What building and keeping a fountain asks for, as plain data: units in the names, nothing but finite numbers."""

from typing import Any

from sizing import MODEL_VERSION
from sizing.basin_answer import basin_answer, frost_answer, water_answer
from sizing.building import Building
from sizing.care import Care
from sizing.safety import SafetyNote
from sizing.units import LITRE, SQUARE_MILLIMETRE
from sizing.wires import CableRow, Wires


def building_answer(found: Building) -> dict[str, Any]:
    """Everything that follows from a sizing: the public answer of the HTTP interface and of ``report --json``."""
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
    }


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
