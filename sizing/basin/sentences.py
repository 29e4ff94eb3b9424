"""What is to be said of a basin and of its water, in whole sentences, and what was assumed.

Of the basin: its shape, where the water falls, what comes back. Of the water: the year and a dry spell.
"""

from collections.abc import Sequence

import numpy as np

from sizing.basin.evaporation import WIND
from sizing.basin.shape import CHANNEL, LEAST_COVER, MARGIN, POOL_DEPTH, TURNOVER
from sizing.foundation.formats import MONTHS, duration, figures, length, litres, percent, quantity
from sizing.foundation.units import LITRE
from sizing.fountain.basin_under import DIAMETER_FOR_JET, BasinUnder
from sizing.hydraulic.outlet import Nozzle, Spillway
from sizing.report.cautions import beyond_the_rim
from sizing.report.report import Report

HARDLY = 0.0005
"""[m] A rise of the level that nobody sees."""
NOTHING = 1e-9
"""[m3] Water that nobody measures."""


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


def falls_back(report: Report) -> str:
    """Whether the water falls back into the basin on a calm day, in whole sentences."""
    outlet, basin = report.fountain.waterway.outlet, report.basin
    if basin.falls_inside is None:
        return "The fountain never plays, so nothing falls."
    if isinstance(outlet, Spillway):
        return sheet_falls_back(outlet, basin)
    apart = "" if not isinstance(outlet, Nozzle) or outlet.count == 1 else " Each of its jets needs that room to its own side."
    if basin.falls_inside:
        less = f" less the {length(basin.spread)} between its outermost jets" if basin.spread > 0 else ""
        half = (basin.short - basin.spread) / DIAMETER_FOR_JET
        return (
            f"On a calm day the highest water of the year, {length(basin.top)} above the basin's, falls back inside, by the rule "
            f"that a basin is twice as wide as its jet is high (common practice, no source): half of the basin's "
            f"{length(basin.short)}{less} is {length(half)}.{apart}"
        )
    return f"{beyond_the_rim(outlet, basin)}{apart}"


def sheet_falls_back(outlet: Spillway, basin: BasinUnder) -> str:
    """The same for a sheet that falls from a lip along the basin's longer side."""
    if basin.falls_inside:
        return (
            f"The sheet lands up to {length(basin.landing)} out from its lip, inside the basin, which reaches "
            f"{length(basin.short)} out: the splash has as much room again."
        )
    return beyond_the_rim(outlet, basin)


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


def year_sentence(evaporated: float, splashed: float, rain: float, kept: float, top_up: float, weeks: Sequence[float]) -> str:
    """Sums of the year [m3] and the week that needs most [l, of each month], in whole sentences."""
    lost = f"Over a year {volume(evaporated)} evaporate and {volume(splashed)} splash or drift away"
    if splashed <= NOTHING:
        lost = f"Over a year {volume(evaporated)} evaporate, and nothing splashes away"
    falls = f"of the {volume(rain)} of rain that fall into the basin, {volume(kept)} make up for that"
    if kept >= rain - NOTHING:
        falls = f"all of the {volume(rain)} of rain that fall into the basin make up for that in part"
    if rain <= NOTHING:
        falls = "no rain falls by the built-in table"
    most = int(np.argmax(weeks))
    if top_up <= NOTHING:
        return f"{lost}; {falls}, so that in no month the basin needs more, dry spells apart."
    return f"{lost}; {falls}. {volume(top_up)} are topped up, most in {MONTHS[most]}: {litres(weeks[most])} a week."


def volume(amount: float) -> str:
    """An amount of water [m3] in litres below a cubic metre.

    Examples
    --------
    >>> volume(0.423).replace(chr(160), " "), volume(6.13).replace(chr(160), " ")
    ('423 L', '6.13 m³')
    """
    return litres(amount / LITRE) if amount < 1 else quantity(amount, "m3")


def dry_spell_sentence(
    days: int, month: int, loss: float, fall: float, usable: float, depth: float, lasting: float | None
) -> str:
    """Whether the basin lasts a dry spell: its days, month 1..12, loss a day [m3], fall, usable and whole depth [m]."""
    if lasting is None:
        return "Nothing evaporates and nothing splashes away, so the basin lasts any dry spell."
    spell = f"{figures(days)} days" if days != 1 else "1 day"
    falls = f"and the level falls by {length(fall)}" if fall <= depth else "which is more than it holds"
    opening = (
        f"Without rain the basin loses {litres(loss / LITRE)} a day in {MONTHS[month - 1]}, its thirstiest month: in {spell} "
        f"{litres(days * loss / LITRE)}, {falls}."
    )
    held = f"{length(usable)} of its {length(depth)} may be lost before the pump draws air"
    if lasting >= days:
        return f"{opening} {held[0].upper()}{held[1:]}, enough for {figures(int(lasting))} days, so it lasts."
    if usable <= 0:
        return f"{opening} Nothing may be lost before the pump draws air, so it does not last a day."
    return (
        f"{opening} {held[0].upper()}{held[1:]}, after {figures(lasting, 2)} days: top it up before, or switch the pump off. "
        f"{length(fall - usable)} more depth would last it out."
    )


def assumed_of_water(sky: str, wind: str, share: float) -> tuple[str, ...]:
    """What was assumed about the basin's water, in whole sentences; splash as a share of the pumped water [1]."""
    found = [
        "The air's moisture is not known: its dew point is taken as the month's mean lowest temperature of the day, as FAO-56 "
        "advises; in dry country more evaporates.",
        f"The mean wind 2 m above ground is {quantity(WIND[wind], 'm/s')}, as it is for a basin that lies {wind} (2 m/s is the "
        "world-wide mean of FAO-56; common practice, no source).",
        "The basin lies in the sun all day; shade saves water. No heat is kept from month to month.",
        f"{percent(share)} of the pumped water splashes or drifts away: no figure was found that could be trusted, so this is an "
        "assumption; watch a windy day and measure.",
        "Each month's rain falls evenly over its days and onto the basin alone; what the month does not lose runs over the rim. "
        "Rain that comes in storms runs over more, and more is topped up.",
    ]
    if sky != "built_in":
        found.append(
            "Sun and air temperature are those of the design's sky, rain is that of the built-in table, which is all there is."
        )
    if sky == "weather_file":
        found.append(
            "The weather file's wind is usually measured 10 m above open ground, so it is not taken for a basin among plants."
        )
    return tuple(found)
