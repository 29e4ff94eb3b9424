"""Warnings: legal designs that will disappoint or need a second look, each with the number that says so."""

import numpy as np

from sizing.electric.single_diode import cold_open_circuit_voltage
from sizing.foundation.errors import Note
from sizing.foundation.formats import duration, month_span, percent, quantity
from sizing.foundation.units import LITRE_PER_MINUTE
from sizing.fountain.components import Fountain
from sizing.hydraulic.pump import state_flow
from sizing.light.irradiance import PlaneSun
from sizing.operation.operating_point import OperatingPoints
from sizing.operation.year import Year

WET_CONTACT_LIMIT = 30.0
"""[V] Direct current that both the IEC 60364-7-702 and the US low-voltage contact rules name for wet places."""
CABLE_DROP_LIMIT = 0.05
"""[1] Voltage lost in the cable above which a thicker one is worth its price; common practice, no source."""
LATE_START = 600.0
"""[W/m2] Sun above which a fountain starts too late to please; common practice, no source."""

COLD_SPELL = 10.0
"""[K] The coldest clear dawn of ten years lies about so far below the coldest hour of a usual year; from memory, no source."""


def cautions(
    fountain: Fountain, sun: PlaneSun, year: Year, operation: OperatingPoints, first_sun: float | None
) -> tuple[Note, ...]:
    """Every warning that this design earns, in the order of the path."""
    found = [
        *voltage_cautions(fountain, sun, year),
        cable_caution(fountain, operation),
        curve_caution(fountain, operation),
        start_caution(first_sun),
        dry_caution(year),
    ]
    return tuple(note for note in found if note is not None)


def coldest_dawn(sun: PlaneSun) -> float:
    """Temperature of the cells on the coldest clear dawn of many years [Cel], that of the air; 25 at most."""
    lit = sun.effective > 0
    coldest = (float(sun.cell_temperature[lit].min()) if np.any(lit) else 0.0) - COLD_SPELL
    return min(coldest, 25.0)


def coldest_open_circuit(fountain: Fountain, sun: PlaneSun) -> float:
    """Open-circuit voltage of the array on the coldest clear dawn of many years [V]."""
    panel = fountain.panel_input
    return float(
        cold_open_circuit_voltage(
            panel.voc_v * panel.in_series, fountain.supply.panel.voc_temperature_coefficient, coldest_dawn(sun)
        )
    )


def voltage_cautions(fountain: Fountain, sun: PlaneSun, year: Year) -> list[Note]:
    """Over-voltage hours, the voltage a standing pump sees, and the limit for wet places."""
    found = []
    highest = fountain.pump.highest_voltage
    cold = coldest_open_circuit(fountain, sun)
    pointer = f"{fountain.pump_pointer}/highest_voltage_v"
    hours = sum(month.over_voltage_hours for month in year.months)
    direct = fountain.supply.controller_efficiency is None
    if highest is not None and hours > 0:
        text = (
            f"The pump runs above its highest voltage of {quantity(highest, 'V')} for about {duration(hours)} a year, most on "
            "cold clear noons; take a panel of lower voltage or a controller."
        )
        found.append(Note("over_voltage", "warning", text, pointer))
    elif highest is not None and direct and cold > highest:
        text = (
            f"While the pump stands, the panel can put {quantity(cold, 'V')} on it on a cold clear morning, above its highest "
            f"voltage of {quantity(highest, 'V')}; ask the pump's maker whether its electronics bear that."
        )
        found.append(Note("standing_voltage", "warning", text, pointer))
    if cold > WET_CONTACT_LIMIT:
        text = (
            f"The panel reaches {quantity(cold, 'V')} on a cold clear day, above the {quantity(WET_CONTACT_LIMIT, 'V')} direct "
            "current that rules for wet places name; a licensed installer must look at this design, and local code decides."
        )
        found.append(Note("above_wet_limit", "warning", text, fountain.panel_pointer))
    return found


def cable_caution(fountain: Fountain, operation: OperatingPoints) -> Note | None:
    """A cable that keeps too much of the voltage at the strongest moment of the year."""
    if operation.flow.max() <= 0:
        return None
    strongest = int(np.argmax(np.where(operation.flow > 0, operation.current, 0.0)))
    drop = float(operation.current[strongest] * fountain.supply.cable_resistance)
    share = drop / float(operation.voltage[strongest] + drop)
    if share <= CABLE_DROP_LIMIT:
        return None
    text = (
        f"The cable keeps up to {quantity(drop, 'V', 2)} ({percent(share)}) of the panel's voltage; a thicker or shorter cable "
        "would give the pump more."
    )
    return Note("cable_drop", "warning", text, "#/cable/area_mm2")


def curve_caution(fountain: Fountain, operation: OperatingPoints) -> Note | None:
    """Flow beyond the last published point of the pump, where its curve is a guess."""
    pump = fountain.pump
    if not any(note.code == "run_out_continued" for note in pump.notes):
        return None
    state = state_flow(operation.flow, operation.speed)
    last = float(pump.flow[-2])
    share = float((state > 1.001 * last).sum() / max(int((operation.flow > 0).sum()), 1))
    if share <= 0:
        return None
    text = (
        f"For {percent(share)} of its playing time the pump passes more water than its last published point "
        f"({quantity(last / LITRE_PER_MINUTE, 'l/min')} at rated speed); one more point at low head would replace the guess."
    )
    return Note("beyond_curve", "warning", text, f"{fountain.pump_pointer}/points")


def start_caution(first_sun: float | None) -> Note | None:
    """A fountain that waits for strong sun."""
    if first_sun is None or first_sun <= LATE_START:
        return None
    text = (
        f"It needs {quantity(first_sun, 'W/m2', 2)} on the panel to play, so it plays around clear noons only; a larger panel, "
        "less lift or a controller would start it earlier."
    )
    return Note("late_start", "warning", text, "#/panels")


def dry_caution(year: Year) -> Note | None:
    """Months in which it stays dry on most days."""
    dry = [month.month for month in year.months if month.dry_days > month.days / 2]
    if not dry or len(dry) == 12:
        return None
    text = f"It stays dry on most days in {month_span(dry)}."
    return Note("dry_months", "warning", text, "#/mounting")
