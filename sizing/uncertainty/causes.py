"""What a sizing does not know exactly, cause by cause: what was taken, how far off it may be, and what would tell.

Each cause has a standard uncertainty, the term of JCGM 100: what is off by chance about two times in
three. Where only limits are known, every value between what was taken and the limit is held equally
likely, which makes the limit over the square root of three; a value may be as likely too small as too large.
"""

from sizing.design.design import Design
from sizing.foundation.formats import SPACE, figures, length, percent, quantity
from sizing.foundation.units import MILLIMETRE
from sizing.fountain.components import Fountain, fitting_sum
from sizing.hydraulic.outlet import OVERFLOW_LIMIT, Nozzle, OpenPipe, Outlet
from sizing.sky.weather import Sky
from sizing.uncertainty.pump_causes import of_the_curve, of_the_motor
from sizing.uncertainty.uncertainty_source import Cause, rectangular

KEYS = (
    "sky",
    "soiling",
    "panel",
    "winding",
    "no_load",
    "pump_head",
    "pump_flow",
    "fittings",
    "bore",
    "jet_formula",
)
"""All causes, in the order in which the sun and the water travel."""
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


def causes_of(design: Design, fountain: Fountain, sky: Sky, jet: float) -> tuple[Cause, ...]:
    """The causes of one design, in the order of ``KEYS``; one that cannot act has no uncertainty.

    Parameters
    ----------
    jet : [m] the height to which the formula of the outlet is asked
    """
    return (of_the_sky(sky), *after_the_sky(design, fountain, jet))


def after_the_sky(design: Design, fountain: Fountain, jet: float) -> tuple[Cause, ...]:
    """All causes but the sky."""
    return (
        of_dirt(design.mounting.soiling_pct / 100),
        of_the_panel(fountain),
        *of_the_motor(fountain),
        *of_the_curve(fountain.pump_input),
        of_fittings(design),
        of_the_bore(fountain.waterway.outlet),
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
