"""What the array can give at worst: amperes against fuse and cable, volts at a cold dawn against the limits that rules name.

Nothing here is permission. The limits are quoted, with the rule they stand in; local code decides.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.electric.single_diode import cold_open_circuit_voltage
from sizing.foundation.formats import figures, percent, quantity
from sizing.foundation.tables import FUSE_RATINGS
from sizing.foundation.working import Worked, by_method, formula, given, work
from sizing.report.cautions import WET_CONTACT_LIMIT, beside_limit, coldest_cells
from sizing.report.report import Report
from sizing.sky.cold import MARGIN, ColdAir, coldest_by_hour, coldest_by_month

Numeric = float | NDArray[np.float64]

CHOPPED_LIMIT = 12.4
"""[V] Peak of direct current that is interrupted 10 to 200 times a second (nec_table_11)."""
DRY_LIMIT = 120.0
"""[V] Ripple-free direct current that counts as extra-low voltage in dry places (iec_62257_7_1)."""
FUSED_FROM = 3
"""[1] Strings side by side from which the others can push more than a panel's own short-circuit current into one that fails."""
CODE = "check current local code"


@dataclass(frozen=True)
class FuseRule:
    """Whether each string needs a fuse of its own, the rating [A] that rules would take, and why, with the source key."""

    needed: bool
    rating: float | None
    sentence: str
    source: str


@dataclass(frozen=True, eq=False)
class ColdVoltage:
    """Open-circuit voltage of the whole array [V] at a cold dawn, with the air as cold as [Cel], unfolded in ``working``.

    ``air`` says how cold ten years usually become there, and whether somebody typed it."""

    air_temperature: float
    air: ColdAir
    voltage: float
    working: Worked


@dataclass(frozen=True)
class VoltageLimit:
    """A limit [V] of direct current that a family of rules names, and whether the array's cold voltage lies above it,
    or too near to say."""

    family: str
    limit: float
    exceeded: bool
    too_near: bool
    sentence: str
    source: str


@formula("panel_short_circuit_current * in_parallel", unit="A", source="ohms_law")
def array_short_circuit_current(panel_short_circuit_current: Numeric, in_parallel: Numeric) -> Numeric:
    """Short-circuit current [A] of the whole array in full sun: that of a panel [A], times the strings side by side.

    Examples
    --------
    >>> array_short_circuit_current(1.22, 2.0)
    2.44
    """
    return panel_short_circuit_current * in_parallel


@formula("1.25 * 1.25 * short_circuit_current", unit="A", source="nec_690_8")
def design_current(short_circuit_current: Numeric) -> Numeric:
    """Current [A] for which conductor and fuse are chosen: once for sun above 1000 W/m2, once for hours without end.

    Examples
    --------
    >>> design_current(9.0)
    14.0625
    """
    return 1.25 * 1.25 * short_circuit_current


@formula("panel_voc * in_series", unit="V", source="ohms_law")
def array_open_circuit_voltage(panel_voc: Numeric, in_series: Numeric) -> Numeric:
    """Open-circuit voltage [V] of the whole array at 25 Cel: that of a panel [V], times the panels in series.

    Examples
    --------
    >>> array_open_circuit_voltage(21.7, 2.0)
    43.4
    """
    return panel_voc * in_series


def worked_design_current(report: Report) -> Worked:
    """The current for cable and fuse of the whole array, unfolded; its input is the short-circuit current."""
    panel = report.fountain.panel_input
    whole = work(
        array_short_circuit_current,
        panel_short_circuit_current=given("panel_short_circuit_current", panel.isc_a, "A"),
        in_parallel=given("in_parallel", panel.in_parallel, "1"),
    )
    return work(design_current, short_circuit_current=whole)


def fuse_rating(least: float) -> float | None:
    """Smallest standard rating [A] that is not below a current [A]; ``None`` above the largest.

    Examples
    --------
    >>> fuse_rating(14.06), fuse_rating(15.0), fuse_rating(41.0)
    (15.0, 15.0, None)
    """
    return next((rating for rating in FUSE_RATINGS if rating >= least * (1 - 1e-9)), None)


def fuse_rule(report: Report, cold_voltage: float) -> FuseRule:
    """One panel, one string or two cannot blow a fuse; three or more strings each have their own."""
    panel = report.fountain.panel_input
    strings, short = panel.in_parallel, panel.isc_a
    whole = quantity(float(design_current(short * strings)), "A")
    if strings < FUSED_FROM:
        return FuseRule(False, None, f"{unfused_reason(panel.in_series, strings, short)} {carries(whole)}", "nec_690_9")
    least = float(design_current(short))
    rating = fuse_rating(least)
    size = "" if rating is None else f"; the next standard rating is {quantity(rating, 'A')}"
    sentence = (
        f"Of {figures(strings)} strings side by side, one that fails takes up to {quantity((strings - 1) * short, 'A')} from the "
        f"others, so each string has its own fuse for direct current, of at least {quantity(least, 'A')} (1.5625 times the "
        f"{quantity(short, 'A')} of a string){size}. It must not be above the largest series fuse that the panel's maker allows, "
        f"which its label says, and must bear at least {quantity(cold_voltage, 'V')}. "
        f"The cable to the pump carries {whole} for ever; {CODE}."
    )
    return FuseRule(True, rating, sentence, "nec_690_8")


def unfused_reason(in_series: int, strings: int, short: float) -> str:
    """Why a fuse would never blow, in one sentence."""
    amperes = quantity(short, "A")
    if strings == 1:
        who = "One panel" if in_series == 1 else "One string of panels"
        return f"{who} cannot blow its own fuse: it gives little more than {amperes} even into a short circuit."
    return (
        f"Of two {'panels' if in_series == 1 else 'strings'} side by side, one that fails takes only the {amperes} of the other, "
        "which it bears as its own, so a fuse would not blow."
    )


def carries(whole: str) -> str:
    """What must hold where there is no fuse."""
    return (
        f"No fuse is needed where the cable carries {whole} (1.5625 times the short-circuit current) for ever: compare that with "
        f"the current its maker allows; {CODE}."
    )


def cold_voltage(report: Report) -> ColdVoltage:
    """The voltage of the array with nothing connected, when the sun meets it at the coldest dawn of many years."""
    panel, coldest = report.fountain.panel_input, coldest_cells(report.cold)
    at_25 = work(
        array_open_circuit_voltage,
        panel_voc=given("panel_voc", panel.voc_v, "V"),
        in_series=given("in_series", panel.in_series, "1"),
    )
    coefficient = by_method(
        "voc_temperature_coefficient",
        report.fountain.supply.panel.voc_temperature_coefficient,
        "V/K",
        "iec_62548",
        f"The label's {percent(panel.voc_temperature_coefficient_pct_per_c / 100, 3)} for each degree, of the array's voltage.",
    )
    dawn = cold_dawn(report.cold)
    found = work(cold_open_circuit_voltage, voc=at_25, voc_temperature_coefficient=coefficient, cell_temperature=dawn)
    return ColdVoltage(coldest, report.cold, found.value, found)


def cold_dawn(cold: ColdAir) -> Worked:
    """The coldest air to design for, unfolded: typed, or estimated and made colder by a margin."""
    if cold.basis == "typed":
        return given("cold_dawn", coldest_cells(cold), "Cel")
    rule, name = (coldest_by_hour, "coldest_hour") if cold.basis == "file" else (coldest_by_month, "coldest_month")
    start = by_method(name, cold.start, "Cel", "cold_comparison", "The coldest of this design's year of sky.")
    usual = work(rule, **{name: start})
    method = (
        f"The coldest night of ten years as estimated, less {quantity(MARGIN, 'K')}: so it is not colder at 22 of 23 places. The "
        "cells are then as cold as the air."
    )
    return by_method("cold_dawn", coldest_cells(cold), "Cel", "cold_comparison", method, usual=usual)


def voltage_limits(voltage: float, controller: bool) -> tuple[VoltageLimit, ...]:
    """Limits of both families for wet places, and that for dry ones, beside a voltage [V] of direct current.

    Behind a controller the current may be chopped: then the limit for continuous current is not the one that holds.

    Examples
    --------
    >>> [(limit.limit, limit.exceeded) for limit in voltage_limits(25.5, True)]
    [(30.0, False), (12.4, True), (120.0, False)]
    """
    wet, chopped, dry = (quantity(limit, "V") for limit in (WET_CONTACT_LIMIT, CHOPPED_LIMIT, DRY_LIMIT))
    american = (
        f"names {chopped} at the peak where direct current is interrupted 10 to 200 times a second; a controller may chop the "
        f"current, so its {wet} for continuous current is not counted on here"
        if controller
        else f"names {wet} of continuous direct current as the limit of low-voltage contact in wet places"
    )
    return (
        limit_beside(
            "IEC 60364-7-702, zones 0 and 1 of fountains and pools",
            WET_CONTACT_LIMIT,
            voltage,
            f"IEC 60364-7-702 names {wet} of direct current for safety extra-low voltage in zones 0 and 1, its source outside",
            "iec_60364_7_702",
        ),
        limit_beside(
            "NFPA 70 (NEC), low-voltage contact limit" + (", interrupted current" if controller else ", continuous current"),
            CHOPPED_LIMIT if controller else WET_CONTACT_LIMIT,
            voltage,
            f"NFPA 70 (NEC) {american}",
            "nec_table_11",
        ),
        limit_beside(
            "IEC 62257-7-1, extra-low voltage in dry places",
            DRY_LIMIT,
            voltage,
            f"IEC 62257-7-1 counts up to {dry} of smooth direct current as extra-low voltage, in dry places and not in basins",
            "iec_62257_7_1",
        ),
    )


def limit_beside(family: str, limit: float, voltage: float, rule: str, source: str) -> VoltageLimit:
    """One limit with the array's voltage beside it."""
    beside = beside_limit(voltage, limit)
    where = {"above": "above it", "too_near": "too near it to say that it stays below", "below": "not above it"}[beside]
    sentence = f"{rule}; this array reaches {told_apart(voltage, limit)}, {where}; {CODE}."
    return VoltageLimit(family, limit, beside == "above", beside == "too_near", sentence, source)


def told_apart(voltage: float, limit: float) -> str:
    """A voltage with as many digits as tell it from a limit.

    Examples
    --------
    >>> told_apart(30.04, 30.0).replace(chr(160), " "), told_apart(25.51, 30.0).replace(chr(160), " ")
    ('30.04 V', '25.5 V')
    """
    shown = (quantity(voltage, "V", digits) for digits in (3, 4, 5, 6))
    return next((text for text in shown if text != quantity(limit, "V")), quantity(voltage, "V", 3))


def reached_above(voltage: float, limit: float) -> str:
    """The beginning of a sentence on a limit that is passed, or may be."""
    where = "above" if voltage > limit else "too near to say that it stays below"
    reached = f"the array reaches {told_apart(voltage, limit)} at a cold dawn, {where}"
    return f"A licensed person must look at the wiring, because {reached}"


def licensed_reasons(voltage: float, controller: bool) -> tuple[str, ...]:
    """Why a licensed person must look, one whole sentence for each limit that the array's cold voltage [V] passes or may pass.

    Examples
    --------
    >>> licensed_reasons(24.1, False), len(licensed_reasons(151.0, True))
    ((), 3)
    """
    found = []
    if beside_limit(voltage, WET_CONTACT_LIMIT) != "below":
        reached = reached_above(voltage, WET_CONTACT_LIMIT)
        rules = "IEC 60364-7-702 names" if controller else "IEC 60364-7-702 and NFPA 70 (NEC) name"
        found.append(f"{reached} the {quantity(WET_CONTACT_LIMIT, 'V')} of direct current that {rules} where people touch water.")
    if controller and beside_limit(voltage, CHOPPED_LIMIT) != "below":
        reached, chopped = reached_above(voltage, CHOPPED_LIMIT), quantity(CHOPPED_LIMIT, "V")
        found.append(
            f"{reached} the {chopped} that NFPA 70 (NEC) names in wet places for current interrupted 10 to "
            "200 times a second, and a controller may chop it."
        )
    if beside_limit(voltage, DRY_LIMIT) != "below":
        limit = quantity(DRY_LIMIT, "V")
        reached = reached_above(voltage, DRY_LIMIT)
        found.append(f"{reached} the {limit} of direct current up to which it counts as extra-low voltage even in dry places.")
    return tuple(found)
