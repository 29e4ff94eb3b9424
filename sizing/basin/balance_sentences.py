"""What is to be said of the basin's water: the year, a dry spell, and what was assumed."""

from collections.abc import Sequence

import numpy as np

from sizing.basin.evaporation import WIND
from sizing.foundation.formats import MONTHS, figures, length, litres, percent, quantity
from sizing.foundation.units import LITRE

NOTHING = 1e-9
"""[m3] Water that nobody measures."""


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
