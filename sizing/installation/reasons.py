"""Why the notes of SAFETY.md apply to one design: a sentence each, with the number that asks for it.

First electricity, then water, wind, feet and seasons. A reason warns; none of them tells that a thing may be done. ``None``
stands for a note that does not apply.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.basin.evaporation import lowest_and_highest as by_month
from sizing.basin.frost import FREEZING, FROST_NIGHT
from sizing.foundation.constants import REFERENCE_IRRADIANCE
from sizing.foundation.formats import MONTHS, duration, figures, length, month_span, quantity
from sizing.foundation.units import LITRE_PER_MINUTE
from sizing.hydraulic.outlet import Nozzle, OpenPipe, Spillway
from sizing.hydraulic.pipes import velocity
from sizing.installation.electric_limits import CHOPPED_LIMIT
from sizing.installation.wires import Wires
from sizing.report.cautions import beside_limit
from sizing.report.report import Report

HOURS_IN_YEAR = 8760
REACH = 2.0
"""[m] Height to which a grown person reaches from the ground; common practice, no source."""
THROWN = 0.2
"""[m] Rise from which an open pipe's water is a jet in the face and no bubbling; common practice, no source."""
GROWTH_WARMTH = 20.0
"""[Cel] Water above which Legionella grows well, and a usual day's warmest air that brings a basin there; HSE L8, from memory."""
BREEDING_WARMTH = 10.0
"""[Cel] Mean of a month below which mosquitoes hardly breed; from memory, no source."""


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
    return bool(wires.licensed) or any(limit.exceeded or limit.too_near for limit in wires.limits)


def lowest_reached(wires: Wires) -> tuple[float, str]:
    """The lowest limit [V] that the cold voltage passes or may pass, and which of the two, in words."""
    reached = min((limit for limit in wires.limits if limit.exceeded or limit.too_near), key=lambda limit: limit.limit)
    return reached.limit, "above" if reached.exceeded else "too near to tell from"


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
    if past_wet_limit(wires):
        least, near = lowest_reached(wires)
        text = f"{reached}, {near} the {quantity(least, 'V')} that rules name for direct current; a licensed person must look."
        return Reason(text, licensed=True)
    text = f"{reached}; the rules for wet places name {quantity(lowest, 'V')} for direct current, and local code decides."
    return Reason(text, licensed=past_wet_limit(wires))


def cold_voltage(report: Report, wires: Wires) -> Reason | None:
    """Only where the cold makes the voltage pass a limit, or where it is not known what stands at the panel's other end."""
    highest, cold = report.fountain.pump.highest_voltage, wires.cold.voltage
    causes = []
    if past_wet_limit(wires):
        least, above = lowest_reached(wires)
        causes.append(f"that is {above} the {quantity(least, 'V')} that a rule names for wet places")
    if not is_direct(report):
        causes.append("the controller must bear it, and the design does not say what the controller bears")
    elif highest is None:
        causes.append("the pump sees it while it does not run, and the design does not say what the pump bears")
    elif beside_limit(cold, highest) == "too_near":
        causes.append(
            f"the pump sees it while it is not running, and its highest voltage, {quantity(highest, 'V')}, is too near to say "
            "that this stays below"
        )
    elif cold > highest:
        causes.append(f"the pump sees it while it does not run, and its highest voltage is {quantity(highest, 'V')}")
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
        least, above = lowest_reached(wires)
        pieces.append(f"the wiring, which reaches {cold_volts(wires)}, {above} {quantity(least, 'V')}")
    if wires.fuse.needed:
        pieces.append(f"the fuses of {figures(report.fountain.panel_input.in_parallel)} strings")
    pieces.append(f"the fixing of a panel of {array_power(report)} against the wind")
    pieces.append("everything on a roof, on a building or at the mains")
    return Reason(f"For a licensed person in this design: {'; '.join(pieces)}.", licensed=True)


def open_water(report: Report, _wires: Wires) -> Reason:
    """Every fountain has open water below its outlet."""
    outlet = report.fountain.waterway.outlet
    what = "a lip" if isinstance(outlet, Spillway) else "an outlet"
    deep = length(report.basin.depth) + ("" if report.basin.given else " (as proposed)")
    return Reason(f"Water {deep} deep stands open below {what} that is {length(outlet.height)} above it.")


def roof_and_ladder(report: Report, _wires: Wires) -> Reason:
    """Where the panel stands is not in a design, so the note is never ruled out."""
    outlet = report.fountain.waterway.outlet
    high = (
        f", and the outlet is {length(outlet.height)} above the water, out of reach from the ground"
        if outlet.height > REACH
        else ""
    )
    text = (
        f"The design does not say where the panel of {array_power(report)} stands{high}; on a roof, or wherever a ladder is "
        "needed, it is for a licensed person."
    )
    return Reason(text, licensed=True)


def digging(report: Report, _wires: Wires) -> Reason:
    """Cable and pipe in the ground, and the holes for basin and post."""
    cable, pipe = report.design.cable.length_m, report.design.pipe.length_m
    if cable + pipe <= 0:
        return Reason("A basin or a post may ask for a hole.")
    runs = " and ".join(f"{quantity(run, 'm')} of {what}" for run, what in ((cable, "cable"), (pipe, "pipe")) if run > 0)
    return Reason(f"The design has {runs} to lay, and a basin or a post may ask for a hole.")


def wind_load(report: Report, _wires: Wires) -> Reason:
    """The panel in the wind; a design has its watts and not its area."""
    tilt = quantity(report.mounting.tilt, "deg", 2)
    text = (
        f"The panel of {array_power(report)} stands tilted by {tilt}; its area is not in the design, so no wind load is computed."
    )
    return Reason(text, licensed=True)


def suction(report: Report, _wires: Wires) -> Reason:
    """The most that the pump draws, in this year or by its own curve."""
    drawn = float(report.operation.flow.max()) or float(report.fountain.pump.flow[-1])
    where = "intake in the basin" if report.fountain.pump_input.position == "submersible" else "suction pipe from the basin"
    return Reason(f"The pump draws up to {quantity(drawn / LITRE_PER_MINUTE, 'l/min')} through its {where}.")


def plays(report: Report) -> bool:
    """Whether any water comes out in the year."""
    return bool(report.operation.flow.max() > 0)


def slippery_paving(report: Report, _wires: Wires) -> Reason | None:
    """How far the water falls, and so how it splashes and drifts."""
    outlet = report.fountain.waterway.outlet
    if not plays(report):
        return None
    if isinstance(outlet, Spillway):
        return Reason(f"A sheet {length(outlet.width)} wide falls {length(outlet.height)} and splashes.")
    top = length(report.basin.top)
    return Reason(f"The water rises to {top} above the basin's water and falls back in drops that the wind takes along.")


def leaving_speed(report: Report) -> float:
    """Speed of the water at the nozzle or open pipe in the strongest moment of the year [m/s]; 0 at a spillway.

    A nozzle's jet is narrower than its bore by discharge over velocity coefficient, and faster by as much.
    """
    outlet, flow = report.fountain.waterway.outlet, float(report.operation.flow.max())
    if isinstance(outlet, Nozzle):
        narrow = outlet.discharge_coefficient / outlet.velocity_coefficient
        return float(velocity(flow / outlet.count, outlet.bore)) / narrow
    return float(velocity(flow, outlet.diameter)) if isinstance(outlet, OpenPipe) else 0.0


def tallest(report: Report) -> float:
    """The highest jet of the year above its outlet [m]."""
    return max(report.basin.top - report.fountain.waterway.outlet.height, 0.0)


def jet_and_eyes(report: Report, _wires: Wires) -> Reason | None:
    """A nozzle's jet, or an open pipe that throws instead of bubbling."""
    outlet, jet = report.fountain.waterway.outlet, tallest(report)
    if isinstance(outlet, Spillway) or not plays(report) or (isinstance(outlet, OpenPipe) and jet < THROWN):
        return None
    count = outlet.count if isinstance(outlet, Nozzle) else 1
    width = length(outlet.bore if isinstance(outlet, Nozzle) else outlet.diameter)
    who = f"A jet from an opening of {width} leaves" if count == 1 else f"{figures(count)} jets from openings of {width} leave"
    text = (
        f"{who} at up to {quantity(leaving_speed(report), 'm/s', 2)} and {'rises' if count == 1 else 'rise'} to "
        f"{length(report.basin.top)} above the water, into the face of whoever bends over."
    )
    return Reason(text)


def looking_at_the_sun(report: Report, _wires: Wires) -> Reason:
    """Skyline points that somebody measured, or that are still to be measured."""
    points = len(report.place.skyline)
    if points == 0:
        return Reason("The design has no skyline yet, and whoever measures one looks toward the sun's path.")
    return Reason(f"The skyline has {figures(points)} {'point' if points == 1 else 'points'}, measured toward the sun's path.")


def months_where(holds: NDArray[np.bool_]) -> list[int]:
    """Numbers of the months for which it holds."""
    return [int(number) for number in np.flatnonzero(holds) + 1]


def standing_water(report: Report, _wires: Wires) -> Reason:
    """How long the water stands still, and the warmest month."""
    still = duration(round(HOURS_IN_YEAR - report.year.running_hours))
    warmest = int(np.argmax(report.sky.air_temperature_month))
    air = quantity(report.sky.air_temperature_month[warmest], "Cel", 2)
    return Reason(f"The water stands still for {still} of the year, and the air of {MONTHS[warmest]} has a mean of {air}.")


def aerosols(report: Report, _wires: Wires) -> Reason | None:
    """Months warm enough for Legionella in a fountain that throws its water."""
    warm = months_where(by_month(report.sky)[1] >= GROWTH_WARMTH)
    limit, water = quantity(GROWTH_WARMTH, "Cel"), report.design.water_temperature_c
    if not plays(report):
        return None
    if warm:
        return Reason(f"The water is thrown into the air, which passes {limit} on a usual day in {month_span(warm)}.")
    if water >= GROWTH_WARMTH:
        return Reason(f"The water is thrown into the air and has {quantity(water, 'Cel', 2)} in this design, not below {limit}.")
    return None


def mosquitoes(report: Report, _wires: Wires) -> Reason | None:
    """Months warm enough to breed in, and the days on which the water does not move."""
    warm = months_where(np.array(report.sky.air_temperature_month) >= BREEDING_WARMTH)
    if not warm:
        return None
    still = sum(report.year.months[number - 1].dry_days for number in warm)
    limit = quantity(BREEDING_WARMTH, "Cel")
    mild = f"The air's mean is {limit} or more in {month_span(warm)}, and the fountain"
    if still:
        return Reason(f"{mild} stands still on {figures(still)} whole {'day' if still == 1 else 'days'} of that time.")
    least = min(report.year.months[number - 1].running_hours for number in warm)
    return Reason(
        f"{mild} moves on every day of that time, yet for only about {duration(round(6 * least) / 6)} a day in its poorest month."
    )


def frost(report: Report, _wires: Wires) -> Reason | None:
    """Months with frosty nights."""
    lows = by_month(report.sky)[0]
    cold = months_where(lows < FROST_NIGHT)
    if not cold:
        return rare_frost(report)
    worst = int(np.argmin(report.sky.air_temperature_month))
    low, mean = quantity(round(float(lows[worst])), "Cel"), quantity(round(report.sky.air_temperature_month[worst]), "Cel")
    text = (
        f"Reckon with frost in {month_span(cold)}: the coldest month is {MONTHS[worst]}, with a mean of {mean} and {low} in the "
        "coldest hour of its usual day."
    )
    return Reason(text)


def rare_frost(report: Report) -> Reason | None:
    """A cold night of many years where no usual month has frost."""
    if report.cold.lowest > FREEZING:
        return None
    lowest = quantity(round(report.cold.lowest), "Cel")
    return Reason(f"No usual month has frost here, but a single night may: reckon with {lowest} once in about ten years.")


def inspection(report: Report, wires: Wires) -> Reason:
    """How long it runs by itself, with nobody beside it."""
    if plays(report):
        text = f"It starts by itself and plays for about {duration(round(report.year.running_hours))} a year."
    else:
        daylight = float(np.count_nonzero(report.sun.poa > 0)) * 24 / report.sky.steps_per_day
        text = f"It does not play, and its panel is still live for about {duration(round(daylight))} of daylight a year."
    return Reason(text, licensed=past_wet_limit(wires))
