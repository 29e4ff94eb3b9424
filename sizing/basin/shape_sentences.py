"""What is to be said of a basin, in whole sentences: its shape, where the water falls, what comes back, what was assumed."""

from sizing.basin.shape import (
    CHANNEL,
    DIAMETER_FOR_JET,
    LANDING_ROOM,
    LEAST_COVER,
    MARGIN,
    POOL_DEPTH,
    TURNOVER,
    highest_water,
    landing,
)
from sizing.foundation.formats import duration, figures, length, litres, quantity
from sizing.foundation.units import LITRE
from sizing.hydraulic.outlet import Nozzle, Spillway
from sizing.report.report import Report

HARDLY = 0.0005
"""[m] A rise of the level that nobody sees."""


def shape_words(sides: tuple[float, ...], depth: float) -> str:
    """A basin in words.

    Examples
    --------
    >>> shape_words((1.6,), 0.3).replace(chr(160), " ")
    'round, 1.6 m across, water 0.3 m deep'
    """
    deep = f"water {quantity(depth, 'm')} deep"
    if len(sides) == 1:
        return f"round, {quantity(sides[0], 'm')} across, {deep}"
    return f"rectangular, {quantity(sides[0], 'm')} by {quantity(sides[1], 'm')}, {deep}"


def check_valve(report: Report) -> bool:
    """Whether a check valve holds the pipe full."""
    return any(fitting.kind == "check_valve" for fitting in report.design.pipe.fittings)


def held_sentence(report: Report, held: float, rise: float, freeboard: float) -> str:
    """What comes back and what rim holds it, in whole sentences."""
    if held <= 0:
        why = "a check valve holds the pipe full" if check_valve(report) else "nothing stands above the water"
        return (
            f"Nothing comes back when the pump stops, for {why}; a rim {length(freeboard)} above the water leaves room for rain."
        )
    kept = " (a check valve holds the pipe)" if check_valve(report) else ""
    lift = f"lift the water by {length(rise)}" if rise >= HARDLY else "hardly lift the water"
    return (
        f"When the pump stops, up to {litres(held / LITRE)} come back{kept} and {lift}: the rim must "
        f"stand at least {length(freeboard)} above the water while it plays."
    )


def turnover_sentence(hours: float | None) -> str:
    """Hours of turnover beside what is common."""
    if hours is None:
        return "The fountain never plays, so its water never passes the pump."
    low, high = (figures(end) for end in TURNOVER)
    beside = "faster than" if hours < TURNOVER[0] else "slower than" if hours > TURNOVER[1] else "within"
    return (
        f"While it plays, the basin's water passes the pump once in {duration(hours)}, {beside} the {low} to "
        f"{high} hours that are common for ponds (common practice, no source)."
    )


def falls_back(report: Report, short: float, long: float) -> tuple[bool | None, str]:
    """Whether the water falls back into a basin of these sides [m] on a calm day, and the sentence that says so."""
    outlet = report.fountain.waterway.outlet
    if report.operation.flow.max() <= 0:
        return None, "The fountain never plays, so nothing falls."
    if isinstance(outlet, Spillway):
        return sheet_falls_back(outlet, landing(report), short, long)
    top, half = highest_water(report), short / DIAMETER_FOR_JET
    apart = "" if not isinstance(outlet, Nozzle) or outlet.count == 1 else " Each of its jets needs that room to its own side."
    rule = "by the rule that a basin is twice as wide as its jet is high (common practice, no source)"
    if top <= half:
        return True, (
            f"On a calm day the highest water, {length(top)} above the basin's, falls back inside, {rule}: half of the basin's "
            f"{length(short)} is {length(half)}.{apart}"
        )
    return False, (
        f"The highest water, {length(top)} above the basin's, will wet the ground around it, {rule}: half of the basin's "
        f"{length(short)} is {length(half)}. A basin {length(DIAMETER_FOR_JET * top)} across would do, or a jet that stays below "
        f"{length(half)}.{apart}"
    )


def sheet_falls_back(outlet: Spillway, throw: float, short: float, long: float) -> tuple[bool, str]:
    """The same for a sheet that falls from a lip along the basin's longer side."""
    needed = LANDING_ROOM * throw
    lands = f"The sheet lands up to {length(throw)} out from its lip"
    if short >= needed and long >= outlet.width:
        room = "the splash has as much room again"
        return True, f"{lands}, inside the basin, which reaches {length(short)} out: {room}."
    return False, (
        f"{lands} and is {length(outlet.width)} wide: the basin of {length(long)} by {length(short)} is too small for it. One at "
        f"least {length(outlet.width)} along the lip and {length(needed)} out from it would do (an assumption: twice as far as "
        "the sheet lands)."
    )


def basin_notes(depth: float, rise: float, usable_depth: float) -> tuple[str, ...]:
    """What a deep basin may mean to those who make rules, and what a small one cannot do; depths [m]."""
    found = []
    if depth > POOL_DEPTH:
        found.append(
            f"Water deeper than {length(POOL_DEPTH)} (24 inches) may count as a pool and need a fence in some rules (common "
            f"practice, no source): this basin has {length(depth)}; ask what holds where you build."
        )
    if usable_depth <= 0:
        found.append(
            f"The basin is too small: filling pipe and outlet takes {length(rise)} of its {length(depth)} of water, and what is "
            f"left does not stand {length(LEAST_COVER)} over the bottom, where the pump draws; make it deeper or wider."
        )
    return tuple(found)


def assumed_of(report: Report, is_given: bool) -> tuple[str, ...]:
    """What was assumed about the basin, in whole sentences."""
    found = ["The basin's walls are upright, so the water is as wide at the bottom as at the top."]
    if not is_given:
        found.append(
            "The design has no basin, so one is proposed: below a jet twice as wide as the highest water and at least 1 m, below "
            "a lip 0.3 m longer at each end and twice as far out as the sheet lands, at least 0.6 m; water 0.3 m deep, open to "
            "the wind (common practice, no source)."
        )
    found.append(f"At least {length(LEAST_COVER)} of water stay at the bottom, over the pump, whose height no design has.")
    if report.fountain.waterway.outlet.height > 0 and not check_valve(report):
        found.append("The whole pipe runs back when the pump stops, which is the most it can: how it lies is not in the design.")
    if isinstance(report.fountain.waterway.outlet, Spillway):
        found.append(f"The water behind the lip reaches {length(CHANNEL)} back from its edge.")
    found.append(f"The rim stands {length(MARGIN)} above the highest water, for waves and rain.")
    return tuple(found)
