"""What is not known of a pump: its motor and its curve, by a bench test of its own, a published curve, or its box."""

from sizing.design.design import PumpInput
from sizing.design.kept_measurements import MeasuredCurve
from sizing.electric.motor import Motor
from sizing.foundation.formats import figures, percent, quantity
from sizing.fountain.components import Fountain
from sizing.uncertainty.uncertainty_source import Cause, rectangular

WINDING_SHARES = (0.05, 0.15, 0.25)
"""[1] Share of rated voltage lost in the winding where the label is silent: low, taken, high (common practice, no source)."""
NO_LOAD_SHARES = (0.05, 0.10, 0.20)
"""[1] No-load current over rated current where the label is silent: low, taken, high (common practice, no source)."""
MEASURED_LIMIT = 0.10
"""[1] A winding resistance or no-load current taken with an ordinary meter (common practice, no source)."""
CURVE_LIMITS = (0.07, 0.09)
"""[1] Head and flow of a pump against its published curve: grade 3 of ISO 9906 (iso_9906, the standard itself was not read)."""
BOX_LIMITS = (0.15, 0.20)
"""[1] The same for a pump known by its box only (common practice, no source)."""
MEASURE_PUMP = "measure your pump with a bucket and a stopwatch at a few heights"
MEASURE_AGAIN = "add readings to the bench test where it says they help most"
MEASURE_MOTOR = "measure the motor with a meter: its winding’s resistance, and its current when it runs without water"


def of_the_motor(fountain: Fountain) -> tuple[Cause, Cause]:
    """Winding and no-load current: a wide guess where the label is silent, a meter's reading where it is not."""
    given, model = fountain.pump_input, fountain.pump.motor
    winding, no_load = given.winding_resistance_ohm, given.no_load_current_a
    per_share = fountain.pump.rated_voltage / model.rated_current
    if given.measured is not None:
        return bench_motor(given.measured, model)
    return (
        electrical(
            "winding", "the motor’s winding", model.winding_resistance, winding is not None, WINDING_SHARES, per_share, "Ohm"
        ),
        electrical(
            "no_load",
            "the motor’s no-load current",
            model.no_load_current,
            no_load is not None,
            NO_LOAD_SHARES,
            model.rated_current,
            "A",
        ),
    )


def bench_motor(measured: MeasuredCurve, model: Motor) -> tuple[Cause, Cause]:
    """Winding and no-load current as the bench test of this very pump found them."""
    rows = (
        ("winding", "the motor’s winding", model.winding_resistance, measured.winding_uncertainty_ohm, "Ohm"),
        ("no_load", "the motor’s no-load current", model.no_load_current, measured.no_load_uncertainty_a, "A"),
    )
    why = of_bench(measured)
    winding, no_load = (
        Cause(key, words, f"{quantity(value, unit)}, measured", min(spread, value), spread, unit, why, "jcgm_100", MEASURE_AGAIN)
        for key, words, value, spread, unit in rows
    )
    return winding, no_load


def of_bench(measured: MeasuredCurve) -> str:
    """Where the spread of a measured pump comes from."""
    day = f" of {measured.date}" if measured.date else ""
    return f"one standard uncertainty, from the fit to the {measured.readings} readings of the bench test{day}"


def electrical(
    key: str, words: str, value: float, known: bool, shares: tuple[float, float, float], per_share: float, unit: str
) -> Cause:
    """One electrical value of the motor, with limits as shares of what the label says or around a reading."""
    low, _, high = (share * per_share for share in shares)
    if known:
        low, high = (1 - MEASURED_LIMIT) * value, (1 + MEASURED_LIMIT) * value
    return Cause(
        key,
        words,
        f"{quantity(value, unit)}, {'given' if known else 'assumed'}",
        float(rectangular(max(value - low, 0.0))),
        float(rectangular(max(high - value, 0.0))),
        unit,
        f"limits {figures(low)} and {quantity(high, unit)}, {'an ordinary meter' if known else 'what small motors have'}",
        "common_practice",
        MEASURE_MOTOR,
    )


def of_the_curve(pump: PumpInput) -> tuple[Cause, Cause]:
    """Head and flow of the pump against its curve: its own bench test, a published one, or a guess from the box."""
    if pump.measured is not None:
        told, measured = f"curve fitted to {pump.measured.readings} readings of this pump", pump.measured
        head, flow = measured.head_uncertainty_pct / 100, measured.flow_uncertainty_pct / 100
        why = of_bench(measured)
        return (
            Cause("pump_head", "the pump’s head", told, head, head, "1", why, "jcgm_100", MEASURE_AGAIN),
            Cause("pump_flow", "the pump’s flow", told, flow, flow, "1", why, "jcgm_100", MEASURE_AGAIN),
        )
    box = pump.points is None
    taken = "highest head and largest flow on the box" if box else f"curve through {len(pump.points or ())} points"
    why = "a box promises the best" if box else "grade 3 of ISO 9906; the standard itself was not read"
    source = "common_practice" if box else "iso_9906"
    head, flow = BOX_LIMITS if box else CURVE_LIMITS
    return (
        curve_cause("pump_head", "the pump’s head", taken, head, why, source),
        curve_cause("pump_flow", "the pump’s flow", taken, flow, why, source),
    )


def curve_cause(key: str, words: str, taken: str, limit: float, why: str, source: str) -> Cause:
    """How far a whole curve may be off."""
    share = float(rectangular(limit))
    return Cause(key, words, taken, share, share, "1", f"limits {percent(limit)} less and more, {why}", source, MEASURE_PUMP)
