"""What a sizing does not know exactly, cause by cause: what was taken, how far off it may be, and what would tell.

Each cause has a standard uncertainty, the term of JCGM 100: what is off by chance about two times in
three. Where only limits are known, every value between what was taken and the limit is held equally
likely, which makes the limit over the square root of three; a value may be as likely too small as too large.
"""

from dataclasses import dataclass

import numpy as np

from sizing.design.design import ControllerConnection, Design, NozzleOutlet, PumpInput
from sizing.design.kept_measurements import MeasuredCurve
from sizing.electric.motor import Motor
from sizing.foundation.formats import SPACE, figures, length, percent, quantity
from sizing.foundation.tables import PIPE_KINDS
from sizing.foundation.units import MILLIMETRE
from sizing.foundation.working import formula
from sizing.fountain.components import Fountain, controller_words, fitting_sum, pipe_kind_of
from sizing.hydraulic.nozzle_kinds import NOT_KNOWN, NOZZLE_NAMES, nozzle_coefficients, nozzle_kind
from sizing.hydraulic.outlet import OVERFLOW_LIMIT, Nozzle, OpenPipe, Outlet
from sizing.hydraulic.pipes import PIPE_NAMES
from sizing.operation.operating_point import own_electronics
from sizing.sky.weather import Sky

KEYS = (
    "sky",
    "clouds",
    "soiling",
    "panel",
    "winding",
    "no_load",
    "drive",
    "pump_head",
    "pump_flow",
    "starting",
    "cut_off",
    "controller",
    "hose",
    "fittings",
    "bore",
    "nozzle",
    "jet_formula",
)
"""All causes, in the order in which the sun and the water travel."""
CLOUD_SHARE = 0.5
"""[1] Standard uncertainty of how far the sun swings inside a day, over the swing taken: so the goal days of stations differ
from those of years made of their means (RMS 0.75 of ten days, 0.39 of it one year's chance; without swing +0.88)."""
SOILING_LIMIT = 0.02
"""[1] Dirt on a panel takes so much more or less than it was taken to (common practice, no source)."""
PANEL_LIMIT = 0.05
"""[1] Small panels are sold with so much more or less power than their label (common practice, no source)."""
BORE_LIMIT = 0.2 * MILLIMETRE
"""[m] A bore read with a ruler or a drill (common practice, no source)."""
THROW_LIMIT, SPILL_LIMIT = 0.10, 0.15
"""[1] Flow of a vertical pipe at a height, throwing and spilling (usbr_pipe)."""
TESTED_BORE = 9 * MILLIMETRE
"""[m] The formula of jets was fitted to nozzles of this bore and more."""
TESTED_JET_LIMITS = (0.05, 0.05)
"""[1] Jets of tested bores may stand so much lower and higher (common practice, no source)."""
THIN_JET_LIMITS = (0.20, 0.05)
"""[1] Thinner jets break up sooner: so much lower and higher (common practice, no source)."""
WINDING_SHARES = (0.05, 0.15, 0.25)
"""[1] Share of rated voltage lost in the winding where the label is silent: low, taken, high (common practice, no source)."""
NO_LOAD_SHARES = (0.05, 0.10, 0.20)
"""[1] No-load current over rated current where the label is silent: low, taken, high (common practice, no source)."""
STARTING_SHARE = 0.5
"""[1] Starting current over rated current where the label is silent, at most (common practice, no source)."""
CUT_OFF_SHARE = 0.75
"""[1] Lowest voltage over rated voltage where the label is silent, at most (common practice, no source)."""
MEASURED_LIMIT = 0.10
"""[1] A winding resistance or no-load current taken with an ordinary meter (common practice, no source)."""
CURVE_LIMITS = (0.07, 0.09)
"""[1] Head and flow of a pump against its published curve: grade 3 of ISO 9906 (iso_9906, the standard itself was not read)."""
BOX_LIMITS = (0.15, 0.20)
"""[1] The same for a pump known by its box only (common practice, no source)."""
TRACKING_LIMITS = (0.05, 0.20)
"""[1] Power that electronics miss which are said to track the panel's maximum, and which are only taken to (common practice,
no source)."""
ASK_DRIVE = "ask the maker what drives the pump; measure its flow and current at a lower voltage too"
MEASURE_PUMP = "measure your pump with a bucket and a stopwatch at a few heights"
MEASURE_AGAIN = "add readings to the bench test where it says they help most"
MEASURE_MOTOR = "measure the motor with a meter: its winding’s resistance, and its current when it runs without water"


@dataclass(frozen=True)
class Cause:
    """One thing that is not known exactly.

    ``below`` and ``above`` are its standard uncertainty to the smaller and to the larger side, in ``unit``; a share of
    what was taken, or for dirt of the sun, has unit "1". ``month`` takes their place for a single month where it differs.
    What a cause that ``bends`` does is far from proportional to how far off it is: it is moved to two values on a side.
    """

    key: str
    words: str
    taken: str
    below: float
    above: float
    unit: str
    basis: str
    source: str
    advice: str
    month: float | None = None
    bends: bool = False


@formula("half_width / sqrt(3)", unit="1", source="jcgm_100")
def rectangular(half_width: float) -> float:
    """Standard uncertainty of what lies anywhere within limits, in the unit of the limits (4.3.7).

    Parameters
    ----------
    half_width : from the middle to a limit, 0 or more

    Examples
    --------
    >>> float(rectangular(0.09))
    0.05196
    """
    return half_width / np.sqrt(3)


def causes_of(design: Design, fountain: Fountain, sky: Sky, jet: float) -> tuple[Cause, ...]:
    """The causes of one design, in the order of ``KEYS``; one that cannot act has no uncertainty.

    Parameters
    ----------
    jet : [m] the height to which the formula of the outlet is asked
    """
    return (of_the_sky(sky), of_clouds(sky), *after_the_sky(design, fountain, jet))


def after_the_sky(design: Design, fountain: Fountain, jet: float) -> tuple[Cause, ...]:
    """All causes but those of the sky."""
    return (
        of_dirt(design.mounting.soiling_pct / 100),
        of_the_panel(fountain),
        *of_the_motor(fountain),
        of_the_drive(fountain),
        *of_the_curve(fountain.pump_input),
        of_the_start(fountain),
        of_the_cut_off(fountain),
        of_the_controller(design, fountain),
        of_the_hose(design),
        of_fittings(design),
        of_the_bore(fountain.waterway.outlet),
        of_the_nozzle(design),
        of_the_jet(fountain.waterway.outlet, jet),
    )


def of_the_sky(sky: Sky) -> Cause:
    """The sun of a year and of a month, as the sky itself says."""
    built_in = sky.kind == "built_in"
    basis = f"one standard deviation: {percent(sky.year_band)} of a year’s sun, {percent(sky.month_band)} of a month’s"
    return Cause(
        "sky",
        "the sky",
        sky.title,
        sky.year_band,
        sky.year_band,
        "1",
        f"{basis}, {'found against 33 weather files' if built_in else 'for a long mean near the garden'}",
        "table_comparison" if built_in else "common_practice",
        "type the twelve monthly values of your weather service"
        if built_in
        else "compare with a longer row of years, or a nearer station",
        sky.month_band,
    )


def of_clouds(sky: Sky) -> Cause:
    """How far the sun swings about the day's course where its clouds are made up; hours that were read have their own."""
    made_up = sky.calm is not None
    share = CLOUD_SHARE if made_up else 0.0
    return Cause(
        "clouds",
        "clouds inside the day",
        "made up: as over real days that are as bright" if made_up else "as read, step by step",
        share,
        share,
        "1",
        f"one standard deviation: {percent(share)} more or less swing, as between 28 stations" if made_up else "none assumed",
        "cloud_comparison" if made_up else "common_practice",
        "use a weather file with the hours of a station near you",
    )


def of_dirt(soiling: float) -> Cause:
    """Dirt on the glass: less than none cannot be."""
    return Cause(
        "soiling",
        "dirt on the panel",
        f"{percent(soiling)} of the sun lost",
        float(rectangular(min(soiling, SOILING_LIMIT))),
        float(rectangular(SOILING_LIMIT)),
        "1",
        f"limits {percent(max(soiling - SOILING_LIMIT, 0.0))} and {percent(soiling + SOILING_LIMIT)}",
        "common_practice",
        "wash the panel and compare its current before and after",
    )


def of_the_panel(fountain: Fountain) -> Cause:
    """The label's current, and with it the power."""
    share = float(rectangular(PANEL_LIMIT))
    return Cause(
        "panel",
        "the panel’s label",
        f"{quantity(fountain.panel_input.imp_a, 'A')} at maximum power",
        share,
        share,
        "1",
        f"limits {percent(PANEL_LIMIT)} less and more at every voltage",
        "common_practice",
        "measure the panel’s short-circuit current in clear sun, square on",
    )


def of_fittings(design: Design) -> Cause:
    """Loss coefficients of the fittings, all low or all high together, as handbooks have them."""
    low, typical, high = fitting_sum(design)
    known = all(fitting.k is not None for fitting in design.pipe.fittings)
    sources = "as you gave them" if known else f"limits {figures(low)} and {figures(high)}: the lowest and highest handbook"
    return Cause(
        "fittings",
        "bends and valves",
        f"loss coefficients of {figures(typical)} together",
        float(rectangular(typical - low)) / typical if typical > 0 else 0.0,
        float(rectangular(high - typical)) / typical if typical > 0 else 0.0,
        "1",
        "no fittings to lose anything in" if not design.pipe.fittings else sources,
        "munson_fittings",
        "ask the maker of the fittings for their loss coefficients, or use fewer and wider ones",
    )


def of_the_bore(outlet: Outlet) -> Cause:
    """The opening as it was measured; a lip has none."""
    opening = {Nozzle: "bore", OpenPipe: "diameter"}.get(type(outlet))
    width = float(getattr(outlet, opening)) if opening else 0.0
    uncertain = float(rectangular(min(BORE_LIMIT, 0.5 * width)))
    return Cause(
        "bore",
        "the bore of the outlet",
        f"{figures(width / MILLIMETRE)}{SPACE}mm" if opening else "a lip, without a bore",
        uncertain,
        uncertain,
        "m",
        f"limits {figures(BORE_LIMIT / MILLIMETRE)}{SPACE}mm less and more" if opening else "a spillway has no bore",
        "common_practice",
        "measure the bore with the shank of a drill or a caliper",
    )


def of_the_jet(outlet: Outlet, jet: float) -> Cause:
    """The formula that turns the water's speed into a height."""
    words, advice = "the formula of the jet’s height", "measure the jet with a stick once it plays"
    if isinstance(outlet, OpenPipe):
        from_flow = SPILL_LIMIT if jet < OVERFLOW_LIMIT * outlet.diameter else THROW_LIMIT
        share = float(rectangular(from_flow))
        basis = f"limits {percent(from_flow)} of the flow at a height; pipes below 50{SPACE}mm are extrapolated"
        return Cause("jet_formula", words, "flow and height of upright pipes", share, share, "1", basis, "usbr_pipe", advice)
    if isinstance(outlet, Nozzle):
        thin = outlet.bore < TESTED_BORE
        low, high = THIN_JET_LIMITS if thin else TESTED_JET_LIMITS
        reach = f"no jets below {length(TESTED_BORE)} were published" if thin else "as published formulas differ"
        basis = f"limits {percent(low)} lower and {percent(high)} higher; {reach}"
        below, above = float(rectangular(low)), float(rectangular(high))
        return Cause("jet_formula", words, "Lueger’s formula", below, above, "1", basis, "common_practice", advice)
    return Cause("jet_formula", words, "a sheet, without a jet", 0.0, 0.0, "1", "a spillway throws no jet", "usbr_pipe", advice)


def of_the_motor(fountain: Fountain) -> tuple[Cause, Cause]:
    """Winding and no-load current: a wide guess where the label is silent, a meter's reading where it is not."""
    given, model = fountain.pump_input, fountain.pump.motor
    per_share = fountain.pump.rated_voltage / model.rated_current
    if without_motor(fountain):
        return (
            not_computed("winding", "the motor’s winding", "Ohm"),
            not_computed("no_load", "the motor’s no-load current", "A"),
        )
    if given.measured is not None:
        return bench_motor(given.measured, model)
    known_winding, known_no_load = given.winding_resistance_ohm is not None, given.no_load_current_a is not None
    return (
        electrical("winding", "the motor’s winding", model.winding_resistance, known_winding, WINDING_SHARES, per_share, "Ohm"),
        electrical(
            "no_load",
            "the motor’s no-load current",
            model.no_load_current,
            known_no_load,
            NO_LOAD_SHARES,
            model.rated_current,
            "A",
        ),
    )


def without_motor(fountain: Fountain) -> bool:
    """Whether nothing of the motor is computed: the pump is known by its power, or its electronics hold its speed."""
    return fountain.pump.table is not None or fountain.pump.drive == "holds_speed"


def not_computed(key: str, words: str, unit: str) -> Cause:
    """A cause that cannot act, as the pump is known without it."""
    basis = "the pump is computed without it"
    return Cause(key, words, "not needed", 0.0, 0.0, unit, basis, "common_practice", MEASURE_PUMP)


def of_the_drive(fountain: Fountain) -> Cause:
    """How motor or electronics take power off rated voltage, which points of one voltage do not show."""
    words, pump, source = "how the pump takes power", fountain.pump, "common_practice"
    if pump.drive == "tracks_power":
        known = fountain.pump_input.drive is not None
        limit = TRACKING_LIMITS[0 if known else 1]
        taken = f"all of the panel’s power, {'given' if known else 'assumed'}"
        basis = f"limits 0 and {percent(limit)} less: electronics find the panel’s maximum not quite, or not at all"
        return Cause("drive", words, taken, float(rectangular(limit)), 0.0, "1", basis, source, ASK_DRIVE)
    if without_motor(fountain):
        why = "it runs at one speed or not at all" if pump.table is None else "the volts of each power are published"
        return Cause("drive", words, "as its points say", 0.0, 0.0, "1", why, source, ASK_DRIVE)
    basis = "limits 0 and 100 %: friction in brushes stays, in bearings and iron it grows with speed"
    return Cause("drive", words, "no-load current as constant", 0.0, float(rectangular(1.0)), "1", basis, source, ASK_DRIVE)


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
    low = low if low < value else 0.0  # a guess that was lowered until it suits the points
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


def of_the_start(fountain: Fountain) -> Cause:
    """Current that sets the motor turning: as without water at least, and up to half of the rated one in an old pump."""
    given, model = fountain.pump_input.starting_current_a, fountain.pump.motor
    if without_motor(fountain):
        return not_computed("starting", "the current that starts the motor", "A")
    if given is not None:
        low, high = (1 - MEASURED_LIMIT) * model.starting_current, (1 + MEASURED_LIMIT) * model.starting_current
        basis = f"limits {figures(low)} and {quantity(high, 'A')}, an ordinary meter"
    else:
        low, high = model.starting_current, max(STARTING_SHARE * model.rated_current, model.starting_current)
        basis = f"limits {figures(low)} and {quantity(high, 'A')}: worn or gritty pumps need up to half of the rated current"
    return Cause(
        "starting",
        "the current that starts the motor",
        f"{quantity(model.starting_current, 'A')}, {'given' if given is not None else 'assumed'}",
        float(rectangular(model.starting_current - low)),
        float(rectangular(high - model.starting_current)),
        "A",
        basis,
        "common_practice",
        "watch a meter while the sun rises on the pump: at which current does it start to turn",
        bends=given is None,
    )


def of_the_cut_off(fountain: Fountain) -> Cause:
    """Voltage below which the pump's electronics stop it: none is known where the label is silent."""
    pump = fountain.pump
    known = "lowest_voltage_v" in fountain.pump_input.model_fields_set
    highest = max(CUT_OFF_SHARE * pump.rated_voltage - pump.lowest_voltage, 0.0)
    basis = (
        f"limits {figures(pump.lowest_voltage)} and {quantity(CUT_OFF_SHARE * pump.rated_voltage, 'V')}: some electronics stop"
    )
    return Cause(
        "cut_off",
        "the pump’s lowest voltage",
        f"{quantity(pump.lowest_voltage, 'V')}, {'given' if known else 'assumed'}",
        0.0,
        0.0 if known else float(rectangular(highest)),
        "V",
        "as you gave it" if known else basis,
        "common_practice",
        "ask the maker: below how many volts does the pump stop",
        bends=True,
    )


def of_the_controller(design: Design, fountain: Fountain) -> Cause:
    """Whether a controller of which nobody said it raises the panel's voltage: from 0, not at all as taken, to 1, wholly."""
    given = design.connection
    kind = given.controller_kind if isinstance(given, ControllerConnection) else "none"
    unknown = kind in (None, NOT_KNOWN) and not own_electronics(fountain.pump)
    taken = "none" if kind == "none" else f"{controller_words(kind)}, {'assumed' if unknown else 'given'}"
    above = float(rectangular(1.0)) if unknown else 0.0
    why = "limits 0 and 1: it only lowers the voltage, or raises it wholly too" if unknown else "as you gave it"
    words, ask = "the kind of controller", "ask the maker: does the controller only lower the voltage, or raise it too"
    return Cause("controller", words, taken, 0.0, above, "1", why, "common_practice", ask, bends=unknown)


def of_the_hose(design: Design) -> Cause:
    """Friction of the pipe by its kind: a ribbed hose loses two to four times as much as a smooth one."""
    kind = pipe_kind_of(design)
    spread = PIPE_KINDS[kind]
    basis = f"limits {figures(spread.low)} and {figures(spread.high)} times the friction of a smooth pipe"
    return Cause(
        "hose",
        "the kind of pipe",
        f"{PIPE_NAMES[kind].split(':')[0].lower() if kind != NOT_KNOWN else 'taken as smooth inside'}",
        float(rectangular(spread.typical - spread.low)),
        float(rectangular(spread.high - spread.typical)),
        "1",
        basis if spread.high > spread.low else "as you gave it",
        spread.source,
        "look into the pipe: is it smooth inside, or does it have rings",
        bends=kind == NOT_KNOWN,
    )


def of_the_nozzle(design: Design) -> Cause:
    """What share of the ideal flow the opening passes and how fast: by its kind, from one end of its spread to the other."""
    words, advice = "the kind of nozzle", "look at the nozzle: a cone, a straight tube, a hole drilled in a cap"
    outlet = design.outlet
    if not isinstance(outlet, NozzleOutlet):
        return Cause("nozzle", words, "no nozzle", 0.0, 0.0, "1", "no nozzle to be unsure of", "unwin_1911", advice)
    discharge, velocity = outlet.discharge_coefficient, outlet.velocity_coefficient
    known = discharge is not None and velocity is not None
    kind = outlet.nozzle_kind or NOT_KNOWN
    ends = [nozzle_coefficients(kind, discharge, velocity, end) for end in (-1.0, 1.0)]
    between = " and ".join(f"{figures(flow)}/{figures(speed)}" for flow, speed in ends)
    taken = "/".join(figures(share) for share in nozzle_coefficients(kind, discharge, velocity))
    name = "taken as a smooth cone" if kind == NOT_KNOWN else NOZZLE_NAMES[kind].split(",")[0].lower()
    what = "a straight tube and a hole drilled in a cap" if kind == NOT_KNOWN else "published values differ"
    return Cause(
        "nozzle",
        words,
        f"{name}: {taken} of the ideal flow and speed",
        0.0 if known else float(rectangular(1.0)),
        0.0 if known else float(rectangular(1.0)),
        "1",
        "as you gave them" if known else f"limits {between} of the ideal flow and speed: {what}",
        nozzle_kind(kind).source,
        advice,
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
    box = pump.points is None and pump.power_points is None
    count = len(pump.points or pump.power_points or ())
    taken = "highest head and largest flow on the box" if box else f"curve through {count} points"
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
