"""What a class predicts and measures as tables for spreadsheets (RFC 4180)."""

from typing import TYPE_CHECKING

from sizing.foundation import clock
from web.exports.months import csv_text

if TYPE_CHECKING:  # other tables do not wait for the rooms of measurements
    from sizing.measured.bench import BenchAnswer
    from sizing.measured.day import FilledSheetAnswer, QuantityName, SheetAnswer
    from sizing.measured.panel_check import BesideAnswer, PanelCheckAnswer
    from sizing.measured.trials import TurnedAnswer

TO_FILL = (
    "measured_sun_height_deg",
    "measured_panel_voltage_v",
    "measured_panel_current_a",
    "measured_flow_l_per_min",
    "measured_jet_height_cm",
    "sky",
    "team",
)
DIGITS: "dict[QuantityName, int]" = {"panel_voltage_v": 2, "panel_current_a": 3, "flow_l_per_min": 2, "jet_height_m": 3}


def sheet_csv(found: "SheetAnswer") -> str:
    """The lines of a predicted day, and empty cells for what is measured."""
    to_fill = [name for name in TO_FILL if found.has_jet or name != "measured_jet_height_cm"]
    predicted = [f"predicted_{name}{end}" for name in found.ranged for end in ("", "_low", "_high")]
    head = ("day", "time", "predicted_sun_height_deg", "predicted_sun_direction_deg", *predicted, *to_fill)
    rows: list[tuple[object, ...]] = [head]
    for line in found.lines:
        ranges = [(line.ranges[name], DIGITS[name]) for name in found.ranged]
        numbers = [round(end, digits) for each, digits in ranges for end in (each.value, each.low, each.high)]
        sun = (round(line.sun_altitude_deg, 1), round(line.sun_azimuth_deg, 1))
        rows.append((found.day, clock(line.time_h), *sun, *numbers, *(None for _ in to_fill)))
    return csv_text(rows)


def filled_csv(found: "FilledSheetAnswer") -> str:
    """The rows of a filled sheet, measured beside predicted; a log holds at least one."""
    heads = (f"{end}_{name}" for name, side in found.rows[0].sides.items() for end, _ in side)
    rows: list[tuple[object, ...]] = [("row", "day", "time", "sky", "team", *heads)]
    for row in found.rows:
        numbers = [number for side in row.sides.values() for _, number in side]
        rows.append((row.row, row.day, clock(row.time_h, 1), row.sky, row.team, *numbers))
    return csv_text(rows)


def curve_csv(found: "BenchAnswer") -> str:
    """The pump that follows from a bench test: its curve at rated voltage, then at the measured voltages."""
    rows = [(curve.voltage_v, *(value for _, value in row)) for curve in (found.curve, *found.curves) for row in curve.rows]
    return csv_text([("voltage_v", *(name for name, _ in found.curve.rows[0])), *rows])


def readings_csv(found: "BenchAnswer") -> str:
    """Every reading of a bench test beside the common curve; the last column says whether it stands apart."""
    rows = [(*[value for _, value in row][:-1], "yes" if row.apart else "no") for row in found.rows]
    return csv_text([tuple(name for name, _ in found.rows[0]), *rows])


def turned_csv(found: "TurnedAnswer") -> str:
    """Directions and tilts of every experiment and quantity."""
    names = ("angle_deg", "readings", "mean_as_read", "comparable_mean", "low", "high", "expected", "measured_over_expected")
    rows: list[tuple[object, ...]] = [("changed", "held_deg", "quantity", *names)]
    for trial in found.experiments:
        for part in trial.quantities:
            head = (trial.changed, trial.held_deg, part.quantity)
            rows += [(*head, *(value for name, value in group if name in names)) for group in part.groups]
    return csv_text(rows)


def panel_csv(found: "PanelCheckAnswer") -> str:
    """Every reading of a panel check beside the label's curve."""
    own = ("row", "team", "day", "time_h", "sky", "kind", "voltage_v", "current_a", "effective_w_per_m2", "cell_temperature_c")
    ends = ("computed", "ratio", "uncertainty", "times_uncertainty")
    heads = (*own, *(f"{part}_{end}" for part in ("clear_sky", "told_sun") for end in ends), "sun_told_w_per_m2")
    rows = [
        (*(value for name, value in row if name in own), *ratio(row.clear_sky), *ratio(row.told_sun), row.sun_told_w_per_m2)
        for row in found.readings
    ]
    return csv_text([heads, *rows])


def ratio(beside: "BesideAnswer | None") -> tuple[float | None, ...]:
    """What the label's curve has, the ratio, its uncertainty, and how many of these it is from one; empty where not compared."""
    if beside is None:
        return (None,) * 4
    return beside.computed, beside.ratio, beside.uncertainty, beside.times_uncertainty
