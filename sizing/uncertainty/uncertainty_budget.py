"""The uncertainty budget told: the sum behind the likely range of the year, and what would narrow it most."""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from sizing.foundation.formats import SPACE, litres, percent
from sizing.foundation.units import LITRE
from sizing.foundation.working import Worked, by_method, formula, work
from sizing.uncertainty.uncertainty import Effects, HowSure, band, combined_effect, combined_shift, shares

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


@formula("maximum(water + combined_shift - combined_effect, 0)", unit="l", source="jcgm_100")
def likely_low(water: float, combined_shift: float, combined_effect: float) -> float:
    """Low end of the likely range [l]: one standard uncertainty below what is expected, never less than nothing.

    Examples
    --------
    >>> float(likely_low(735.0, -11.0, 81.3)), float(likely_low(7.3, 0.0, 19.1))
    (642.7, 0.0)
    """
    return np.maximum(water + combined_shift - combined_effect, 0)


@formula("maximum(water + combined_shift + combined_effect, 0)", unit="l", source="jcgm_100")
def likely_high(water: float, combined_shift: float, combined_effect: float) -> float:
    """High end of the likely range [l]: one standard uncertainty above what is expected.

    Examples
    --------
    >>> float(likely_high(735.0, -11.0, 81.3))
    805.3
    """
    return np.maximum(water + combined_shift + combined_effect, 0)


def band_worked(water: Worked, found: HowSure) -> tuple[Worked, Worked]:
    """Working of both ends of the year's likely range; ``water`` is that of the year [l]."""
    spread = combined_worked(found, np.sqrt(found.year.variance), combined_effect, "spread", "moves the year either way")
    shift = combined_worked(found, np.asarray(found.year.shift), combined_shift, "shift", "does to the year on average")
    low = replace(work(likely_low, water=water, combined_shift=shift, combined_effect=spread), name="likely_low_of_year")
    high = work(likely_high, water=water, combined_shift=shift, combined_effect=spread)
    return low, replace(high, name="likely_high_of_year")


def combined_worked(found: HowSure, effects: np.ndarray, together: Callable[..., float], what: str, verb: str) -> Worked:
    """All causes together [l]."""
    parts = {
        cause.key: by_method(
            f"{cause.key}_{what}",
            float(effect) / LITRE,
            "l",
            "jcgm_100",
            f"What {cause.words} {verb}, by sizing it again.",
        )
        for cause, effect in zip(found.causes, effects, strict=True)
    }
    return replace(work(together, **parts), unit="l")


def remedy_of(found: HowSure, water: float) -> Remedy | None:
    """The measurement that settles the largest part of the variance; ``None`` where nothing is uncertain."""
    share = shares(found.year)
    if not np.any(share > 0):
        return None
    by_advice: dict[str, list[int]] = {}
    for index, cause in enumerate(found.causes):
        by_advice.setdefault(cause.advice, []).append(index)
    advice, rows = max(by_advice.items(), key=lambda item: float(share[item[1]].sum()))
    left = Effects(*(np.delete(side, rows) for side in (found.year.below, found.year.above, found.year.shift)))
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
