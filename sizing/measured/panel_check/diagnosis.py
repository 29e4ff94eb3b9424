"""Which explanation of a panel's readings is the most likely, how much it costs, and what these readings could not show."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sizing.electric.panel import maximum_power
from sizing.electric.single_diode import Conditions, at_conditions
from sizing.foundation.working import formula
from sizing.measured.logs.instruments import Instruments
from sizing.measured.panel_check.faults import (
    SIZE,
    SUN,
    SUN_LIMITS,
    WARMTH,
    Fit,
    Suspect,
    as_labelled,
    conditions_of,
    fitted,
    suspects,
)
from sizing.measured.panel_check.points import Readings
from sizing.measured.panel_check.shapes import Labelled
from sizing.measured.panel_check.short_circuit_sun import HALF

Array = NDArray[np.float64]

NO_BETTER = 2.0
"""[1] A score nearer to the best than this is as good (burnham_anderson_2002)."""
NAMED = 0.1
"""[1] Explanations less likely than this beside the best are not named as rivals."""
HELD = 0.5
"""[1] Where the known sun adds less than this to a misfit, letting it free could not be worth 2."""
SEEN = 4.0
"""[1] A fault shows where without it the misfit would rise by so much: two standard uncertainties."""
USUAL_LOSS = 0.1
"""[1] What is tried when asking what the readings could show: a joint that takes a tenth of the power."""
USUAL_SHADES = {"shaded_group": 0.5, "shaded_cell": 0.8}
"""[1] The same for shade: light left on the shaded part."""
CURVE_POINTS = 40


@dataclass(frozen=True, eq=False)
class Explanation:
    """One explanation at its best.

    ``likelihood`` is its share among those that stand for themselves (Akaike's weight); None where it only adds a number to
    a better one, or where no other stands for itself. ``power`` [1] is its maximum power over the label's under a clear sky.
    """

    fit: Fit
    score: float
    likelihood: float | None
    power: float

    @property
    def key(self) -> str:
        """Which explanation."""
        return self.fit.suspect.key

    @property
    def freed_sun(self) -> bool:
        """Whether the light was found with it, besides what is wrong."""
        return SUN in self.fit.suspect.free


@dataclass(frozen=True, eq=False)
class Diagnosis:
    """All explanations, the likeliest first; ``widening`` is how much the readings miss even that one, in what the meters
    allow; ``rivals`` are as good or nearly; ``hidden`` what these readings could not show."""

    ranked: tuple[Explanation, ...]
    rivals: tuple[Explanation, ...]
    widening: float
    hidden: tuple[str, ...]

    @property
    def best(self) -> Explanation:
        """The likeliest."""
        return self.ranked[0]


@formula("misfit / widening + 2 * numbers_found", unit="1", source="akaike_1974")
def score(misfit: float, widening: float, numbers_found: float) -> float:
    """How badly an explanation does: its misfit (chi-square) by how much even the best misses, and 2 for each number found.

    Examples
    --------
    >>> score(6.5, 1.0, 1)
    8.5
    """
    return misfit / widening + 2 * numbers_found


def diagnosed(found: Readings, label: Labelled, instruments: Instruments) -> Diagnosis:
    """Fit every explanation and put them in order.

    Where even the best misses by more than the meters allow, all misfits count that much less, so that a wild reading makes
    no explanation certain (burnham_anderson_2002, over-dispersion).

    Parameters
    ----------
    found : readings with the sun up, one or more
    """
    fits = all_fitted(found, label, instruments)
    least = min(fits, key=lambda fit: fit.score)
    spare = len(found.voltage) - least.found
    widening = max(least.misfit / spare, 1.0) if spare > 0 else 1.0
    scores = {id(fit): score(fit.misfit, widening, fit.found) for fit in fits}
    by_key: dict[str, Fit] = {}
    for fit in sorted(fits, key=lambda fit: scores[id(fit)]):
        kept = by_key.setdefault(fit.suspect.key, fit)
        if fit.found < kept.found and scores[id(fit)] - scores[id(kept)] <= NO_BETTER:
            by_key[fit.suspect.key] = fit
    order = in_order(tuple(by_key.values()), scores)
    alone = [fit for fit in order if fit is order[0] or not only_adds(order[0], fit)]
    weights = {id(fit): float(np.exp(-(scores[id(fit)] - scores[id(order[0])]) / 2)) for fit in alone}
    total = sum(weights.values())
    base = top_power(label, found, Fit(Suspect("clean", as_labelled), np.array([1.0, 0.0, 1.0]), np.zeros(3), 0.0, 0))
    ranked = tuple(
        Explanation(
            fit,
            scores[id(fit)],
            weights[id(fit)] / total if id(fit) in weights and len(alone) > 1 else None,
            top_power(label, found, fit) / base,
        )
        for fit in order
    )
    rivals = tuple(each for each in ranked[1:] if each.likelihood is not None and each.likelihood > NAMED)
    unseen = hidden(found, label, instruments, float(order[0].numbers[SUN]))
    return Diagnosis(ranked, rivals, float(np.sqrt(widening)), unseen)


def all_fitted(found: Readings, label: Labelled, instruments: Instruments) -> list[Fit]:
    """Every explanation, and again with the sun free where the sun that is known beforehand holds it back."""
    fits = [fitted(found, label, suspect, instruments) for suspect in suspects(label)]
    held = [fit for fit in fits if fit.suspect.key != "clean" and fit.held_by_sun > HELD]
    freed = [fitted(found, label, replace(fit.suspect, free=(SUN, *fit.suspect.free)), instruments) for fit in held]
    return fits + [named_by_what_costs_more(fit, label) for fit in freed]


def named_by_what_costs_more(fit: Fit, label: Labelled) -> Fit:
    """Other light and other warmth found together are told as the light wherever it changes the power more."""
    share, warmer = float(fit.numbers[SUN]), float(fit.numbers[WARMTH])
    if fit.suspect.key not in ("hotter", "cooler") or abs(share - 1) <= abs(label.voc_coefficient * warmer):
        return fit
    return replace(fit, suspect=replace(fit.suspect, key="dirt_or_haze" if share < 1 else "brighter"))


def in_order(fits: tuple[Fit, ...], scores: dict[int, float]) -> list[Fit]:
    """The best score first; but a simpler one before it wherever the best only adds a number to it and is not better by more
    than ``NO_BETTER``, and the label itself wherever nothing is: a further number has to be two of its uncertainties away.

    The light alone goes before a fault of the cells that does no better with as many numbers: dirt and haze are common.
    """
    order = sorted(fits, key=lambda fit: scores[id(fit)])
    best = order[0]
    near = [fit for fit in order if scores[id(fit)] - scores[id(best)] <= NO_BETTER]
    light = [fit for fit in near if fit.suspect.shape is as_labelled and fit.suspect.free == (SUN,) and fit.found <= best.found]
    simpler = [fit for fit in near if fit.suspect.key == "clean"] or light or [fit for fit in near if only_adds(fit, best)]
    for fit in simpler[:1]:
        order.remove(fit)
        order.insert(0, fit)
    return order


def only_adds(best: Fit, other: Fit) -> bool:
    """Whether an explanation is the best one with a further number that makes it hardly better."""
    plain = best.suspect.shape is as_labelled and set(best.suspect.free) <= set(other.suspect.free)
    return plain and other.suspect.key not in ("string_off", "panel_off") and other.found > best.found


def hidden(found: Readings, label: Labelled, instruments: Instruments, share: float) -> tuple[str, ...]:
    """What could be wrong without these readings showing it: each fault at a usual size, read by the same meters at the same
    loads, and then explained without it.

    Parameters
    ----------
    share : light that the readings were taken in, over a clear sky's; in less light a load lies lower on the curve
    """
    clear = at_conditions(label.diode, found.effective, found.cell_temperature)
    warmth = found.cell_temperature + HALF * (share - 1) * found.rise
    here = at_conditions(label.diode, share * found.effective, warmth)
    known: dict[str, Suspect] = {}
    for suspect in suspects(label):
        known.setdefault(suspect.key, suspect)
    sizes = {**USUAL_SHADES, "resistance": usual_resistance(clear)}
    free = Suspect("light", as_labelled, (SUN,), sun=SUN_LIMITS)
    unseen = []
    for key, size in sizes.items():
        if key in known:
            there = as_read(found, label, known[key], here, size)
            if fitted(there, label, free, instruments).misfit < SEEN:
                unseen.append(key)
    return tuple(unseen)


def usual_resistance(here: Conditions) -> float:
    """Resistance [ohm] that takes a usual share of the power."""
    _, volts, amperes = maximum_power(here)
    return float(np.median(USUAL_LOSS * np.asarray(volts) / np.asarray(amperes)))


def as_read(found: Readings, label: Labelled, suspect: Suspect, here: Conditions, size: float) -> Readings:
    """What the meters would have shown with a fault at the same loads: where the curve crosses the load's line."""
    load = found.current / np.maximum(found.voltage, 1e-9)
    low, high = np.zeros(len(load)), np.full(len(load), 2 * label.voc)
    for _ in range(32):
        middle = (low + high) / 2
        more = suspect.shape(here, middle, np.full(len(load), size)) > load * middle
        low, high = np.where(more, middle, low), np.where(more, high, middle)
    volts = np.where(load < 1e6, low, 0.0)
    amperes = np.where(load < 1e6, load * volts, suspect.shape(here, volts, np.full(len(load), size)))
    spread = (found.voltage_uncertainty, found.current_uncertainty)
    return Readings(volts, amperes, found.effective, found.cell_temperature, found.rise, *spread)


def curve_of(label: Labelled, found: Readings, fit: Fit) -> tuple[Array, Array]:
    """Volts and amperes of an explanation's curve in the middle of the readings' sun and warmth, to where it reaches zero."""
    middle = found.only(np.array([int(np.argsort(found.effective)[len(found.effective) // 2])]))
    here = conditions_of(middle, label, fit.numbers[None, :])
    size = fit.numbers[SIZE]
    end = last_volts(label, fit.suspect, here, size)
    volts = end * np.sin(np.linspace(0, np.pi / 2, CURVE_POINTS))
    amperes = np.maximum(fit.suspect.shape(here, volts[None, :], np.full((1, CURVE_POINTS), size))[0], 0.0)
    amperes[-1] = 0.0
    return volts, amperes


def last_volts(label: Labelled, suspect: Suspect, here: Conditions, size: float) -> float:
    """Where a curve reaches zero [V]: between the same two of a hundred places, four times over."""
    low, high = 0.0, 2 * label.voc
    for _ in range(4):
        volts = np.linspace(low, high, 101)
        flows = suspect.shape(here, volts[None, 1:-1], np.full((1, 99), size))[0] > 0
        at = int(np.sum(flows))
        low, high = float(volts[at]), float(volts[at + 1])
    return low


def top_power(label: Labelled, found: Readings, fit: Fit) -> float:
    """Largest power [W] of an explanation's curve."""
    volts, amperes = curve_of(label, found, fit)
    fine = np.linspace(0, volts[-1], 400)
    return float(np.max(fine * np.interp(fine, volts, amperes)))
