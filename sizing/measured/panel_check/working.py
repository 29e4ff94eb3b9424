"""The sums of one reading of a panel check, step by step: the sun, the label's curve, the ratio and what it is good for."""

import numpy as np

from sizing.foundation.working import Worked, assumed, by_method, given, work
from sizing.light.clear_sky import CLEAR_SKY_SHARE
from sizing.light.irradiance import cell_temperature
from sizing.measured.day.stage_residuals import CELL_READING
from sizing.measured.logs.instruments import instrument, meter_uncertainty
from sizing.measured.panel_check.diagnosis import Explanation, score
from sizing.measured.panel_check.faults import SIZE, SUN, WARMTH
from sizing.measured.panel_check.panel_check import PanelCheck, Sitting
from sizing.measured.panel_check.points import LABEL_SHARE, Kind, over_label, ratio_uncertainty
from sizing.measured.panel_check.short_circuit_sun import sun_of_short_circuit
from sizing.report.moment_power import worked_diode
from sizing.sky.weather_file import CALM

SUN_METHOD = (
    "Sun of a clear sky with the month’s usual turbidity at this day and hour, brought to the panel’s plane, through glass and "
    "the design’s dirt."
)
FITTED = (
    "Found by least squares: the explanation’s curve brought as near to all readings as it goes, each reading of volts and "
    "amperes off by its own uncertainty."
)
CURVE_METHOD = "The label’s curve, solved for {} at the {} that were read."
PART_METHOD = "How far the computed {} moves when {} moves by its own standard uncertainty."


def reading_roots(found: PanelCheck, index: int) -> tuple[Worked, ...]:
    """Ratio and its uncertainty under a clear sky; for a short circuit the sun it tells too."""
    light, warmth = light_and_warmth(found, index)
    voltage = Worked("voltage", float(found.log.voltage[index]), "V", "measured")
    current = Worked("current", float(found.log.current[index]), "A", "measured")
    roots: tuple[Worked, ...] = ()
    if np.isfinite(found.beside.ratio[index]):
        roots = compared(found, index, light, warmth, voltage, current)
    if found.kind[index] == Kind.SHORT and np.isfinite(found.told[index]):
        panel = found.lesson.fountain.panel_input
        coefficient = by_method(
            "isc_temperature_coefficient",
            found.label.diode.isc_temperature_coefficient,
            "A/K",
            "de_soto_2006",
            "The label’s per cent of the array’s short-circuit current.",
        )
        isc = by_method(
            "isc",
            found.label.isc,
            "A",
            "de_soto_2006",
            "Of the label, times the strings side by side.",
            label_isc=given("label_isc", panel.isc_a, "A"),
            in_parallel=given("in_parallel", panel.in_parallel, "1"),
        )
        told = work(
            sun_of_short_circuit,
            current=current,
            isc=isc,
            isc_temperature_coefficient=coefficient,
            cell_temperature=warmth,
        )
        roots = (*roots, told)
    return roots


def light_and_warmth(found: PanelCheck, index: int) -> tuple[Worked, Worked]:
    """Sun in the cells and cell temperature of a clear sky."""
    clear = found.clear
    hour = Worked("clock_hour", float(found.log.hour[index]), "h", "measured")
    light = by_method("irradiance", float(clear.effective[index]), "W/m2", "ineichen_perez_2002", SUN_METHOD, clock_hour=hour)
    read = np.isfinite(found.log.air_temperature[index])
    warm = float(clear.air_temperature[index])
    air = (
        Worked("air_temperature", warm, "Cel", "measured")
        if read
        else assumed("air_temperature", warm, "Cel", "table_comparison")
    )
    plane = by_method("irradiance_on_plane", float(clear.poa[index]), "W/m2", "ineichen_perez_2002", SUN_METHOD, clock_hour=hour)
    calm = assumed("wind_speed", CALM, "m/s", "common_practice")
    return light, work(cell_temperature, irradiance=plane, air_temperature=air, wind_speed=calm)


def compared(
    found: PanelCheck, index: int, light: Worked, warmth: Worked, voltage: Worked, current: Worked
) -> tuple[Worked, ...]:
    """Measured over computed, and how sure."""
    beside, own = found.beside, found.instruments
    in_volts = bool(beside.in_volts[index])
    unit, what, read = ("V", "the volts", current) if in_volts else ("A", "the amperes", voltage)
    diode = worked_diode(found.lesson.fountain, light, warmth)
    method = CURVE_METHOD.format(what, "amperes" if in_volts else "volts")
    computed = by_method("computed", float(beside.computed[index]), unit, "de_soto_2006", method, **diode, read=read)
    measured = voltage if in_volts else current
    share = instrument(own, "voltage_share" if in_volts else "current_share")
    if not in_volts:
        share = by_method(
            "share_with_curve",
            float(np.hypot(own.current_share, LABEL_SHARE)),
            "1",
            "jcgm_100",
            "The meter’s share, and how near a fitted curve comes to a panel’s own, as squares.",
            current_share=share,
            curve_share=assumed("curve_share", LABEL_SHARE, "1", "common_practice"),
        )
    digit = instrument(own, "voltage_digit" if in_volts else "current_digit")
    meter = work(meter_uncertainty, reading=measured, share=share, digit=digit)
    parts = [abs(float(part)) for part in beside.parts[:, index]]
    sun = assumed("clear_sky_share", CLEAR_SKY_SHARE, "1", "reno_2012")
    cells = assumed("cell_temperature_uncertainty", CELL_READING, "K", "common_practice")
    moved = (
        ("other_meter_part", "the other meter’s reading", read),
        ("sun_part", "the sun", sun),
        ("warmth_part", "the cells’ warmth", cells),
    )
    others = {
        name: by_method(name, part, unit, "jcgm_100", PART_METHOD.format(what.removeprefix("the "), said), cause=cause)
        for (name, said, cause), part in zip(moved, parts[1:], strict=True)
    }
    ratio = work(over_label, measured=measured, computed=computed)
    return ratio, work(ratio_uncertainty, meter_part=meter, **others, computed=computed)


def sitting_roots(found: PanelCheck, sitting: Sitting) -> tuple[Worked, ...]:
    """Light that the short circuits tell, and how every explanation was weighed."""
    roots: list[Worked] = []
    if sitting.told is not None and sitting.told_uncertainty is not None:
        mean = "Mean of what each short circuit tells over a clear sky’s sun."
        told = by_method("light_told", sitting.told, "1", "de_soto_2006", mean, **short_circuits(found, sitting))
        how = "The ammeter’s share, the same in all, and the larger of last digit and scatter, over the root of their number."
        share, digit = instrument(found.instruments, "current_share"), instrument(found.instruments, "current_digit")
        parts = {"light_told": told, "current_share": share, "current_digit": digit}
        roots.append(by_method("light_told_uncertainty", sitting.told_uncertainty, "1", "jcgm_100", how, **parts))
    if sitting.diagnosis is not None:
        wide = by_method(
            "widening",
            sitting.diagnosis.widening**2,
            "1",
            "burnham_anderson_2002",
            "Misfit of the likeliest explanation over the readings that are left for it; one where that is less.",
        )
        for each in sitting.diagnosis.ranked:
            roots += explanation_roots(each, wide)
    return tuple(roots)


def short_circuits(found: PanelCheck, sitting: Sitting) -> dict[str, Worked]:
    """Amperes of the first short circuits of a sitting."""
    rows = [index for index in sitting.at if np.isfinite(found.told[index]) and not found.cloudy[index]][:5]
    return {
        f"row_{found.log.row[at]}": Worked(f"row_{found.log.row[at]}", float(found.log.current[at]), "A", "measured")
        for at in rows
    }


def explanation_roots(each: Explanation, wide: Worked) -> list[Worked]:
    """Its numbers, its score and what it costs."""
    name, numbers = each.key, each.fit.numbers
    light = by_method(f"{name}_light", float(numbers[SUN]), "1", "jcgm_100", FITTED)
    warmer = by_method(f"{name}_warmer", float(numbers[WARMTH]), "K", "jcgm_100", FITTED)
    parts = {"light": light, "warmer": warmer}
    if SIZE in each.fit.suspect.free:
        unit = "Ohm" if name == "resistance" else "1"
        parts["size"] = by_method(f"{name}_size", float(numbers[SIZE]), unit, "jcgm_100", FITTED)
    squares = "Squared distances of all readings from the curve, and of light and warmth from what is known, in uncertainties."
    misfit = by_method(f"{name}_misfit", each.fit.misfit, "1", "jcgm_100", squares, **parts)
    count = by_method(
        f"{name}_numbers", float(each.fit.found), "1", "akaike_1974", "Numbers that only the readings know.", **parts
    )
    scored = work(score, misfit=misfit, widening=wide, numbers_found=count)
    top = "Largest product of volts and amperes of this curve, over the label’s under a clear sky."
    power = by_method(f"{name}_power", each.power, "1", "de_soto_2006", top, **parts)
    if each.likelihood is None:
        return [scored, power]
    compared_with = "Likelihood e^(-score / 2), over the sum for all explanations that stand for themselves."
    weight = by_method(f"{name}_likelihood", each.likelihood, "1", "burnham_anderson_2002", compared_with, score=scored)
    return [weight, power]
