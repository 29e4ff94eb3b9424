"""Warnings: legal designs that will disappoint or need a second look, each with the number that says so."""

from typing import Literal

import numpy as np

from sizing.electric.single_diode import cold_open_circuit_voltage
from sizing.foundation.errors import Note
from sizing.foundation.formats import duration, length, month_span, percent, quantity
from sizing.foundation.units import LITRE_PER_MINUTE
from sizing.fountain.basin_under import DIAMETER_FOR_JET, BasinUnder
from sizing.fountain.components import Fountain
from sizing.fountain.sentences import question
from sizing.fountain.unknowns import Unknown
from sizing.hydraulic.manifold import UNEVEN
from sizing.hydraulic.outlet import Nozzle, Outlet, Spillway, jets
from sizing.hydraulic.pump import state_flow
from sizing.operation.operating_point import OperatingPoints
from sizing.operation.year import Year
from sizing.sky.cold import ColdAir

Beside = Literal["above", "too_near", "below"]

WET_CONTACT_LIMIT = 30.0
"""[V] Direct current that both the IEC 60364-7-702 and the US low-voltage contact rules name for wet places."""
CABLE_DROP_LIMIT = 0.05
"""[1] Voltage lost in the cable above which a thicker one is worth its price; common practice, no source."""
BESIDE_POINTS = 0.02
"""[1] Share of the playing time beside a pump's power points that is worth a sentence."""
LATE_START = 600.0
"""[W/m2] Sun above which a fountain starts too late to please; common practice, no source."""
VOLTAGE_DOUBT = 0.03
"""[1] A panel's open-circuit voltage may be so much above its label (common practice, no source)."""


def cautions(
    fountain: Fountain, cold: ColdAir, year: Year, operation: OperatingPoints, first_sun: float | None, basin: BasinUnder
) -> tuple[Note, ...]:
    """Every warning that this design earns, in the order of the path."""
    found = [
        *voltage_cautions(fountain, cold, year),
        cable_caution(fountain, operation),
        curve_caution(fountain, operation),
        crown_caution(fountain, operation),
        power_caution(fountain, operation),
        start_caution(first_sun),
        dry_caution(year),
        rim_caution(fountain, basin),
    ]
    return tuple(note for note in found if note is not None)


def unknown_volts(unknowns: tuple[Unknown, ...]) -> tuple[Note, ...]:
    """A pump that gets more volts than its label is known to allow: what to ask."""
    asked = [each for each in unknowns if each.code == "highest_voltage"]
    return tuple(Note("highest_voltage_unknown", "warning", question(each), each.pointer) for each in asked)


def coldest_cells(cold: ColdAir) -> float:
    """Temperature of the cells on the coldest clear dawn of many years [Cel], that of the air; 25 at most."""
    return min(cold.lowest, 25.0)


def coldest_open_circuit(fountain: Fountain, cold: ColdAir) -> float:
    """Open-circuit voltage of the array on the coldest clear dawn of many years [V]."""
    panel = fountain.panel_input
    return float(
        cold_open_circuit_voltage(
            panel.voc_v * panel.in_series, fountain.supply.panel.voc_temperature_coefficient, coldest_cells(cold)
        )
    )


def beside_limit(voltage: float, limit: float) -> Beside:
    """Where a panel's cold voltage [V] lies against a limit [V]; within the doubt of its label nobody can say.

    Examples
    --------
    >>> beside_limit(30.1, 30.0), beside_limit(29.5, 30.0), beside_limit(29.0, 30.0)
    ('above', 'too_near', 'below')
    """
    if voltage > limit:
        return "above"
    return "too_near" if voltage * (1 + VOLTAGE_DOUBT) > limit else "below"


def voltage_cautions(fountain: Fountain, air: ColdAir, year: Year) -> list[Note]:
    """Over-voltage hours, the voltage a standing pump sees, and the limit for wet places."""
    found = []
    highest = fountain.pump.highest_voltage
    cold = coldest_open_circuit(fountain, air)
    pointer = f"{fountain.pump_pointer}/highest_voltage_v"
    hours = sum(month.over_voltage_hours for month in year.months)
    direct = fountain.supply.controller_efficiency is None
    if highest is not None and hours > 0:
        text = (
            f"The pump runs above its highest voltage of {quantity(highest, 'V')} for about {duration(hours)} a year, most on "
            "cold clear noons; take a panel of lower voltage or a controller."
        )
        found.append(Note("over_voltage", "warning", text, pointer))
    elif highest is not None and direct and beside_limit(cold, highest) == "above":
        text = (
            f"When the pump is not running, the panel can put {quantity(cold, 'V')} on it on a cold clear morning, above its "
            f"highest voltage of {quantity(highest, 'V')}; ask the pump's maker whether its electronics withstand that."
        )
        found.append(Note("standing_voltage", "warning", text, pointer))
    elif highest is not None and direct and beside_limit(cold, highest) == "too_near":
        text = (
            f"When the pump is not running, the panel can put about {quantity(cold, 'V')} on it on a cold clear morning. That is "
            f"too near its highest voltage of {quantity(highest, 'V')} to say that it stays below; ask the pump's maker."
        )
        found.append(Note("standing_voltage_near", "warning", text, pointer))
    if beside_limit(cold, WET_CONTACT_LIMIT) == "too_near":
        text = (
            f"The panel reaches about {quantity(cold, 'V')} on a cold clear day, too near the "
            f"{quantity(WET_CONTACT_LIMIT, 'V')} direct current that rules for wet places name to say that it stays below; a "
            "licensed installer must look at this design, and local code decides."
        )
        found.append(Note("near_wet_limit", "warning", text, fountain.panel_pointer))
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


def crown_caution(fountain: Fountain, operation: OperatingPoints) -> Note | None:
    """Jets of a ring or row that differ so much that it shows, at the year's largest flow."""
    outlet = fountain.waterway.outlet
    if not isinstance(outlet, Nozzle) or outlet.manifold is None:
        return None
    lowest, mean, highest = (float(height) for height in jets(outlet, float(operation.flow.max())))
    if highest - lowest <= UNEVEN * mean:
        return None
    what = "ring" if outlet.manifold.branches > 1 else "row"
    text = (
        f"The jets will not be alike: the lowest rises {length(lowest)}, the highest {length(highest)}; a {what} that is wider "
        "inside, or narrower holes, would even them out."
    )
    return Note("crown_uneven", "warning", text, "#/outlet/feed/inside_diameter_mm")


def power_caution(fountain: Fountain, operation: OperatingPoints) -> Note | None:
    """Play at heads or powers that the pump's points do not reach, where less water is counted than may come."""
    table, plays = fountain.pump.table, operation.flow > 0
    if table is None or not np.any(plays):
        return None
    low, high, end = float(table.heads[0]), float(table.heads[-1]), float(table.power[:, -1].min())
    head, power = operation.head[plays], (operation.voltage * operation.current)[plays]
    found = [
        (float(np.mean(head < 0.98 * low)), f"below the lowest published head of {quantity(low, 'm')}"),
        (float(np.mean(head > 0.999 * high)), f"at the highest published head of {quantity(high, 'm')}"),
        (float(np.mean(power > 0.999 * end)), f"at {quantity(end, 'W')} or more, where its points end"),
    ]
    told = [f"{percent(share)} of its playing time {where}" for share, where in found if share > BESIDE_POINTS]
    if not told:
        return None
    text = (
        f"Pump {fountain.pump.name} is for {'; for '.join(told)}: there more water may come than is counted; add points at such "
        "heads and powers."
    )
    return Note("beside_power_points", "info", text, f"{fountain.pump_pointer}/power_points")


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


def rim_caution(fountain: Fountain, basin: BasinUnder) -> Note | None:
    """A basin that is not expected to catch all the water, even without wind."""
    if basin.falls_inside is not False:
        return None
    text = f"The basin is not expected to catch all the water. {beyond_the_rim(fountain.waterway.outlet, basin)}"
    return Note("beyond_the_rim", "warning", text, "#/basin")


def beyond_the_rim(outlet: Outlet, basin: BasinUnder) -> str:
    """How far the water goes beyond the rim, and what would catch it."""
    if isinstance(outlet, Spillway):
        along, out = basin.needed
        return (
            f"The sheet is {length(outlet.width)} wide and lands up to {length(basin.landing)} out from its lip: a basin of "
            f"{length(basin.long)} by {length(basin.short)} is too small for it. Take one at least {length(along)} along the lip "
            f"and {length(out)} out from it (an assumption: twice as far as the sheet lands)."
        )
    low = length(max(basin.short - basin.spread, 0.0) / DIAMETER_FOR_JET)
    return (
        f"The highest water of the year, {length(basin.top)} above the basin's, wets the ground around a basin of "
        f"{length(basin.short)}, even without wind. Take one {length(basin.needed[1])} across, or a jet that stays below "
        f"{low} (a basin is twice as wide as its jet is high: common practice, no source)."
    )
