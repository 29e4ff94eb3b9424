"""The uncertainty budget told: the sum behind the likely range of the year, and what would narrow it most."""

from dataclasses import dataclass, replace

import numpy as np

from sizing.foundation.formats import SPACE, litres, percent
from sizing.foundation.units import LITRE
from sizing.foundation.working import Worked, by_method, formula, work
from sizing.uncertainty.uncertainty import Effects, HowSure, band, combined_effect, shares

DAYS = 365


@dataclass(frozen=True)
class Remedy:
    """What would narrow the likely range of the year most.

    ``keys`` of the causes that one measurement settles, their share of the variance, and the range of the year's
    water [m3] if they were known exactly.
    """

    keys: tuple[str, ...]
    share: float
    low: float
    high: float
    sentence: str


@formula("maximum(water - combined_effect, 0)", unit="l", source="jcgm_100")
def likely_low(water: float, combined_effect: float) -> float:
    """Low end of the likely range [l]: one standard uncertainty below, never less than nothing.

    Examples
    --------
    >>> float(likely_low(735.0, 81.3)), float(likely_low(7.3, 19.1))
    (653.7, 0.0)
    """
    return np.maximum(water - combined_effect, 0)


@formula("water + combined_effect", unit="l", source="jcgm_100")
def likely_high(water: float, combined_effect: float) -> float:
    """High end of the likely range [l]: one standard uncertainty above.

    Examples
    --------
    >>> likely_high(735.0, 81.3)
    816.3
    """
    return water + combined_effect


def band_worked(water: Worked, found: HowSure) -> tuple[Worked, Worked]:
    """Working of both ends of the year's likely range; ``water`` is that of the year [l]."""
    below = combined_worked(found, found.year.below, "below", "takes from")
    above = combined_worked(found, found.year.above, "above", "adds to")
    low = replace(work(likely_low, water=water, combined_effect=below), name="likely_low_of_year")
    return low, replace(work(likely_high, water=water, combined_effect=above), name="likely_high_of_year")


def combined_worked(found: HowSure, effects: np.ndarray, side: str, verb: str) -> Worked:
    """All causes together on one side [l]."""
    parts = {
        cause.key: by_method(
            f"{cause.key}_effect_{side}",
            float(effect) / LITRE,
            "l",
            "jcgm_100",
            f"What one standard uncertainty of {cause.words} {verb} the year, by sizing it again.",
        )
        for cause, effect in zip(found.causes, effects, strict=True)
    }
    return replace(work(combined_effect, **parts), name=f"combined_effect_{side}", unit="l")


def remedy_of(found: HowSure, water: float) -> Remedy | None:
    """The measurement that settles the largest part of the variance; ``None`` where nothing is uncertain."""
    share = shares(found.year)
    if not np.any(share > 0):
        return None
    by_advice: dict[str, list[int]] = {}
    for index, cause in enumerate(found.causes):
        by_advice.setdefault(cause.advice, []).append(index)
    advice, rows = max(by_advice.items(), key=lambda item: float(share[item[1]].sum()))
    left = Effects(*(np.delete(side, rows) for side in (found.year.below, found.year.above)))
    low, high = (float(end) for end in band(water, left))
    known = " and ".join(found.causes[row].words for row in rows)
    gone, least = percent(float(share[rows].sum())), day(low).removesuffix(f"{SPACE}L")
    sentence = (
        f"{advice[0].upper()}{advice[1:]}: that would narrow it most. Were {known} known exactly, the mean day would likely "
        f"bring {least} to {day(high)}; {gone} of the variance would be gone."
    )
    return Remedy(tuple(found.causes[row].key for row in rows), float(share[rows].sum()), low, high, sentence)


def day(water: float) -> str:
    """A year's water [m3] as that of its mean day."""
    return litres(float(f"{water / LITRE / DAYS:.2g}"))
