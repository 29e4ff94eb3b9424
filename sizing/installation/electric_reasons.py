"""Why the notes on electricity apply to one design: a sentence each, with the number that asks for it.

A reason warns; none of them tells that a thing may be done. ``None`` stands for a note that does not apply.
"""

from dataclasses import dataclass

from sizing.foundation.constants import REFERENCE_IRRADIANCE
from sizing.foundation.formats import duration, figures, quantity
from sizing.installation.electric_limits import CHOPPED_LIMIT
from sizing.installation.wires import Wires
from sizing.report.report import Report

HOURS_IN_YEAR = 8760


@dataclass(frozen=True)
class Reason:
    """One sentence with a number of the design, and whether a licensed person must look because of it."""

    sentence: str
    licensed: bool = False


def array_power(report: Report) -> str:
    """Power of all panels together by their label, in words."""
    panel = report.fountain.panel_input
    watts = panel.vmp_v * panel.imp_a * panel.in_series * panel.in_parallel
    return quantity(watts, "W", 2 if watts < 99.5 else 3)


def array_voltage(report: Report) -> float:
    """Open-circuit voltage of the whole array by the label, at 25 Cel [V]."""
    panel = report.fountain.panel_input
    return panel.voc_v * panel.in_series


def is_direct(report: Report) -> bool:
    """Whether no controller stands between panel and pump."""
    return report.fountain.supply.controller_efficiency is None


def past_wet_limit(wires: Wires) -> bool:
    """Whether any limit that wires compare with is passed."""
    return bool(wires.licensed) or any(limit.exceeded for limit in wires.limits)


def cold_volts(wires: Wires) -> str:
    """Cold open-circuit voltage and the dawn it belongs to, in words."""
    return f"{quantity(wires.cold.voltage, 'V')} on a cold dawn ({quantity(wires.cold.air_temperature, 'Cel', 2)})"


def mains_near_water(report: Report, _wires: Wires) -> Reason:
    """Hours in which somebody may think of an extension lead."""
    still = duration(round(HOURS_IN_YEAR - report.year.running_hours))
    text = (
        f"The design has no mains, and its fountain stands still for {still} of the year, nights among them: never fill these "
        "hours with an extension lead."
    )
    return Reason(text)


def wet_limits(_report: Report, wires: Wires) -> Reason:
    """The cold voltage beside the lowest limit that rules name."""
    passed = sorted({limit.limit for limit in wires.limits if limit.exceeded})
    reached = f"The panel reaches {cold_volts(wires)}"
    if passed:
        chopped = {CHOPPED_LIMIT: " (chopped by a controller)"}
        named = " and the ".join(quantity(limit, "V") + chopped.get(limit, "") for limit in passed)
        text = f"{reached}, above the {named} that rules name for direct current; a licensed person must look at this design."
        return Reason(text, licensed=True)
    lowest = min(limit.limit for limit in wires.limits)
    text = f"{reached}; the rules for wet places name {quantity(lowest, 'V')} for direct current, and local code decides."
    return Reason(text, licensed=past_wet_limit(wires))


def cold_voltage(report: Report, wires: Wires) -> Reason | None:
    """Only where the cold makes the voltage pass a limit, or where it is not known what stands at the panel's other end."""
    highest, cold = report.fountain.pump.highest_voltage, wires.cold.voltage
    causes = []
    if past_wet_limit(wires):
        least = min(limit.limit for limit in wires.limits if limit.exceeded)
        causes.append(f"that is above the {quantity(least, 'V')} that a rule names for wet places")
    if not is_direct(report):
        causes.append("the controller must bear it, and the design does not say what the controller bears")
    elif highest is None:
        causes.append("the pump sees it while it stands, and the design does not say what the pump bears")
    elif cold > highest:
        causes.append(f"the pump sees it while it stands, and its highest voltage is {quantity(highest, 'V')}")
    if not causes:
        return None
    text = (
        f"The panel reaches {cold_volts(wires)} against {quantity(array_voltage(report), 'V')} on its label: {'; '.join(causes)}."
    )
    return Reason(text, licensed=past_wet_limit(wires))


def panel_always_live(report: Report, wires: Wires) -> Reason:
    """Volts and amperes between the panel's own ends."""
    volts, amperes = quantity(array_voltage(report), "V"), quantity(wires.short_circuit, "A")
    text = f"In full sun the panel has {volts} between its open ends and drives about {amperes} through a short circuit."
    return Reason(text, licensed=past_wet_limit(wires))


def dc_arc(_report: Report, wires: Wires) -> Reason:
    """What a contact that opens under load breaks."""
    text = (
        f"A switch or connector that opens under load breaks about {quantity(wires.short_circuit, 'A')} of direct current, and "
        f"the panel puts up to {quantity(wires.cold.voltage, 'V')} across the gap."
    )
    return Reason(text, licensed=past_wet_limit(wires))


def hot_connectors(_report: Report, wires: Wires) -> Reason:
    """What every joint carries."""
    text = (
        f"Every connector on the way may carry about {quantity(wires.short_circuit, 'A')} for hours on end, and codes choose it "
        f"for {quantity(wires.design_current, 'A')}."
    )
    return Reason(text)


def hot_surfaces(report: Report, wires: Wires) -> Reason:
    """The hottest cells of the year, and a motor that is stuck."""
    hottest = quantity(float(report.sun.cell_temperature.max()), "Cel", 2)
    text = f"The panel's cells reach {hottest} in this year of sun"
    playing = report.operation.flow > 0
    if is_direct(report) and playing.any():
        usual = quantity(float(report.operation.current[playing].max()), "A", 2)
        brightest = float(report.sun.effective.max()) / REFERENCE_IRRADIANCE
        stuck = quantity(wires.short_circuit * brightest, "A", 2)
        text += f", and a stuck motor takes about {stuck} in the strongest sun, against {usual} at most when it plays"
    return Reason(text + ".")


def fuse(report: Report, wires: Wires) -> Reason:
    """Strings side by side, and what the others can push into one that fails."""
    strings, short = report.fountain.panel_input.in_parallel, report.fountain.panel_input.isc_a
    whole = quantity(wires.design_current, "A")
    if wires.fuse.needed:
        pushed = quantity((strings - 1) * short, "A")
        text = (
            f"Of {figures(strings)} strings side by side the others push up to {pushed} into one that fails, and a string gives "
            f"only {quantity(short, 'A')}: fuses for direct current are needed, and a licensed electrician chooses them."
        )
        return Reason(text, licensed=True)
    who = "One string gives" if strings == 1 else "Of two strings each gives"
    text = f"{who} about {quantity(short, 'A')}, so no fuse would ever blow, and the cable must carry {whole} for ever."
    return Reason(text)


def polarity(report: Report, _wires: Wires) -> Reason:
    """What stands the wrong way round at the pump or the controller."""
    volts = quantity(array_voltage(report), "V")
    if is_direct(report):
        rated = quantity(report.fountain.pump_input.rated_voltage_v, "V")
        return Reason(f"Connected the wrong way round, the panel puts up to {volts} backwards on a pump made for {rated}.")
    return Reason(f"Connected the wrong way round, the panel puts up to {volts} backwards on the controller.")


def cable_protection(report: Report, wires: Wires) -> Reason | None:
    """The cable in the garden, and the cord in the water; a surface pump beside its panel has neither."""
    lies = report.fountain.pump_input.position == "submersible"
    run = f"{quantity(wires.length, 'm')} of cable from the panel to the pump"
    if wires.length > 0:
        return Reason(f"The design has {run}{', whose cord lies in the water' if lies else ''}.")
    return Reason("The pump's cord lies in the water.") if lies else None


def licensed_work(report: Report, wires: Wires) -> Reason:
    """All that is for a licensed person in this design."""
    pieces = []
    if past_wet_limit(wires):
        least = min(limit.limit for limit in wires.limits if limit.exceeded)
        pieces.append(f"the wiring, which reaches {cold_volts(wires)}, above {quantity(least, 'V')}")
    if wires.fuse.needed:
        pieces.append(f"the fuses of {figures(report.fountain.panel_input.in_parallel)} strings")
    pieces.append(f"the fixing of a panel of {array_power(report)} against the wind")
    pieces.append("everything on a roof, on a building or at the mains")
    return Reason(f"For a licensed person in this design: {'; '.join(pieces)}.", licensed=True)
