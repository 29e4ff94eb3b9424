"""The sums of a bench test, step by step: the flow of a setting, and one point of the fitted curve."""

import numpy as np

from sizing.electric.motor import DEFAULT_NO_LOAD_SHARE, DEFAULT_WINDING_SHARE, motor_current, motor_voltage
from sizing.foundation.working import Worked, assumed, by_method, given, work
from sizing.hydraulic.pump import hydraulic_power, wire_to_water_efficiency
from sizing.measured.bench.bench import Bench
from sizing.measured.bench.bucket import worked_bucket
from sizing.measured.bench.curves import curve_at, head_uncertainty, slopes_at
from sizing.measured.bench.equations import NO_LOAD, WINDING
from sizing.measured.bench.measured_pump import with_meter_share
from sizing.measured.logs.instruments import instrument

FITTED = (
    "Found with all other numbers of the pump at once, by least squares over all settings: each reading of volts, amperes, "
    "height and flow may be off by its own uncertainty."
)


def setting_roots(found: Bench, index: int) -> tuple[Worked, ...]:
    """Flow of one setting and its uncertainty as a share; nothing where no water came."""
    own = found.settings.member == index
    flows = found.readings.flow[own]
    if not np.all(flows > 0):
        return ()
    volume = float(found.readings.volume[own].mean())
    return worked_bucket(volume, volume / float(flows.mean()), flows, found.instruments)


def bench_roots(found: Bench) -> tuple[Worked, ...]:
    """The point in the middle of the curve at rated voltage, down to the fit: head, current, efficiency and the motor."""
    winding, no_load = motor_worked(found)
    flow = float(found.curve.flow[len(found.curve.flow) // 2])
    voltage = given("voltage", found.rated_voltage, "V")
    at = slopes_at(found.fit, found.rated_voltage, np.array([flow]))
    curve = curve_at(found.fit, found.rated_voltage, np.array([flow]), found.instruments, found.water_density)
    where = by_method("flow", flow, "m3/s", "affinity_laws", "A flow in the middle of the measured curve.")
    back_emf = by_method("back_emf", float(at.back_emf[0]), "V", "motor_equations", "Voltage less what the winding takes.")
    load = by_method("load_current", float(at.current[0]) - no_load.value, "A", "affinity_laws", FITTED, back_emf=back_emf)
    speed = by_method("speed", 1.0, "1", "affinity_laws", "The speed at this very point is taken as one.")
    current = work(motor_current, no_load_current=no_load, speed=speed, load_current=load)
    terminal = work(motor_voltage, speed=speed, back_emf=back_emf, current=current, winding_resistance=winding)
    head = by_method("head", float(curve.head[0]), "m", "affinity_laws", FITTED, flow=where, back_emf=back_emf)
    slopes = {
        name: by_method(name, float(value[0]), unit, "affinity_laws", "Slope of the fitted curve at this flow.", flow=where)
        for name, value, unit in (("head_by_flow", at.head_by_flow, "s/m2"), ("head_by_voltage", at.head_by_voltage, "m/V"))
    }
    chance = "The covariance of the fit, carried on by the slopes of this head by every number that was fitted."
    spread = work(
        head_uncertainty,
        by_chance=by_method("by_chance", float(curve.head_by_chance[0]), "m", "jcgm_100", chance, widening=widened(found)),
        flow=where,
        head_by_flow=slopes["head_by_flow"],
        volume_calibration=instrument(found.instruments, "volume_calibration"),
        voltage=voltage,
        head_by_voltage=slopes["head_by_voltage"],
        voltage_share=instrument(found.instruments, "voltage_share"),
    )
    told = "Density of water at its temperature."
    density = by_method("density", found.water_density, "kg/m3", "kell_1975", told)
    power = work(hydraulic_power, density=density, flow=where, head=head)
    efficiency = work(wire_to_water_efficiency, hydraulic_power=power, voltage=voltage, current=current)
    return (*motor_spread(found, winding, no_load), terminal, spread, efficiency)


def widened(found: Bench) -> Worked:
    """How much wider the ranges were made than the instruments allow."""
    method = "Root of the misfit over what is left of the readings, with Student’s t, where that is above one."
    fit = found.fit
    misfit = by_method("misfit", fit.misfit, "1", "jcgm_100", "Sum of the squared misses, each over its own uncertainty.")
    return by_method(
        "widening",
        float(np.sqrt(fit.widening)),
        "1",
        "jcgm_100",
        method,
        misfit=misfit,
        spare_readings=Worked("spare_readings", float(fit.freedom), "1", "measured"),
    )


def motor_worked(found: Bench) -> tuple[Worked, Worked]:
    """Winding resistance and no-load current of the fit, with the usual value where it was counted in."""
    readings = {"readings": Worked("readings", float(len(found.readings.row)), "1", "measured")}
    usual = (
        assumed("usual_winding_share", DEFAULT_WINDING_SHARE, "1", "common_practice"),
        assumed("usual_no_load_share", DEFAULT_NO_LOAD_SHARE, "1", "common_practice"),
    )
    names = (("winding_resistance", found.fit.winding, "Ohm"), ("no_load_current", found.fit.no_load, "A"))
    winding, no_load = (
        by_method(name, value, unit, "motor_equations", FITTED, **readings, **({one.name: one} if counted else {}))
        for (name, value, unit), one, counted in zip(names, usual, found.fit.usual, strict=True)
    )
    return winding, no_load


def motor_spread(found: Bench, winding: Worked, no_load: Worked) -> tuple[Worked, Worked]:
    """Uncertainties of both."""
    own = found.instruments
    method = "From the covariance of the fit."
    volts, amperes = instrument(own, "voltage_share"), instrument(own, "current_share")
    ratio = by_method(
        "ratio_share",
        0.0 if found.fit.usual[WINDING] else float(np.hypot(own.voltage_share, own.current_share)),
        "1",
        "jcgm_100",
        "Volts over amperes: both meters’ shares as squares; nothing where the usual winding was counted in.",
        voltage_share=volts,
        current_share=amperes,
    )
    return tuple(
        work(
            with_meter_share,
            by_chance=by_method(
                f"{value.name}_by_chance", found.fit.uncertainty(which), value.unit, "jcgm_100", method, of=value
            ),
            uncertain_share=share,
            value=value,
        )
        for which, value, share in ((WINDING, winding, ratio), (NO_LOAD, no_load, amperes))
    )  # type: ignore[return-value]
