"""What may be wrong with a panel, each explanation fitted to the readings by its one or two numbers, and how they compare.

Three numbers belong to every explanation: the sun as a share of a clear sky's, how much warmer the cells are than computed,
and the size of what is wrong. Sun and warmth are known only so well; an explanation that lets one of them free pays for it,
as for its own number: its misfit (chi-square) counts 2 more for each (Akaike). A curve is met where it passes a reading
nearest, volts and amperes each in their own uncertainty, so that steep and level parts count alike.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.electric.panel import through_current
from sizing.electric.single_diode import Conditions, at_conditions
from sizing.light.clear_sky import CLEAR_SKY_SHARE
from sizing.measured.logs.instruments import Instruments
from sizing.measured.panel_check.points import Readings
from sizing.measured.panel_check.shapes import Labelled, bypassed_current, held_current, with_resistance, without_part
from sizing.measured.panel_check.short_circuit_sun import HALF, cells_spread

Array = NDArray[np.float64]
Shape = Callable[[Conditions, Array, Array], Array]
"""Current of a panel with something wrong: its conditions, volts, and the size of what is wrong."""

SUN, WARMTH, SIZE = 0, 1, 2
"""Places of the three numbers."""
SUN_LIMITS, WARMTH_LIMITS = (0.02, 1.6), (-50.0, 70.0)
WORST_JOINT = 0.7
"""[1] Of voc over isc: with more in the way even joined leads would not carry the short-circuit current."""
STEPS = 14
CELL_VOLTS = 0.02
"""[1] Feet on the curve move at most so much of the open-circuit voltage in a step."""


@dataclass(frozen=True, eq=False)
class Suspect:
    """One explanation: the curve it makes, limits and first tries of its size, and what else it lets free.

    ``size`` is None where nothing has to be found, or where the size is the sun's share or the warmth itself.
    """

    key: str
    shape: Shape
    free: tuple[int, ...] = ()
    limits: tuple[float, float] = (0.0, 1.0)
    tries: tuple[float, ...] = (1.0,)
    sun: tuple[float, float] = SUN_LIMITS
    warmth: tuple[float, float] = WARMTH_LIMITS
    parts: int = 1


@dataclass(frozen=True, eq=False)
class Fit:
    """An explanation at its best: the three numbers and their standard uncertainties, misfit, and numbers that were found;
    how much of the misfit the sun has that was known beforehand."""

    suspect: Suspect
    numbers: Array
    uncertainty: Array
    misfit: float
    found: int
    held_by_sun: float = 0.0

    @property
    def score(self) -> float:
        """Misfit and 2 for each number that was found (akaike_1974)."""
        return self.misfit + 2 * self.found


def as_labelled(here: Conditions, volts: Array, size: Array) -> Array:
    """The label's own curve."""
    return through_current(here, volts)


def in_strings(label: Labelled, of_string: Shape) -> Shape:
    """The shape of the array where one of its strings has something wrong."""

    def shape(here: Conditions, volts: Array, size: Array) -> Array:
        wrong = of_string(here, volts, size)
        if label.in_parallel == 1:
            return wrong
        return (wrong + (label.in_parallel - 1) * through_current(here, volts)) / label.in_parallel

    return shape


def suspects(label: Labelled) -> tuple[Suspect, ...]:
    """All explanations that an array of this kind can have."""
    light = (0.02, 1.0)
    found = [
        Suspect("clean", as_labelled),
        Suspect("dirt_or_haze", as_labelled, (SUN,), sun=(SUN_LIMITS[0], 1.0)),
        Suspect("brighter", as_labelled, (SUN,), sun=(1.0, SUN_LIMITS[1])),
        Suspect("hotter", as_labelled, (WARMTH,), warmth=(0.0, WARMTH_LIMITS[1])),
        Suspect("cooler", as_labelled, (WARMTH,), warmth=(WARMTH_LIMITS[0], 0.0)),
    ]
    for groups in (1, 2, 3):
        parts = groups * label.in_series
        if parts > 1:
            found.append(shaded_group(label, parts, light))
    cell = in_strings(label, lambda here, volts, size: held_current(here, volts, label.cells, size))
    usual = label.voc / label.isc
    joint = in_strings(label, with_resistance) if label.in_parallel == 1 else with_resistance
    found += [
        Suspect("shaded_cell", cell, (SIZE,), light, (0.3, 0.6, 0.85), parts=label.cells),
        Suspect("resistance", joint, (SIZE,), (0.0, WORST_JOINT * usual), (0.02 * usual, 0.1 * usual, 0.5 * usual)),
    ]
    if label.in_parallel > 1:
        kept = (label.in_parallel - 1) / label.in_parallel
        found.append(Suspect("string_off", lambda here, volts, size: kept * through_current(here, volts)))
    if label.in_series > 1:
        less = in_strings(label, lambda here, volts, size: without_part(here, volts, label.in_series))
        found.append(Suspect("panel_off", less, parts=label.in_series))
    return tuple(found)


def shaded_group(label: Labelled, parts: int, light: tuple[float, float]) -> Suspect:
    """One of so many equal parts of a string in the shade, with a bypass diode round it."""
    shape = in_strings(label, lambda here, volts, size: bypassed_current(here, volts, parts, size))
    return Suspect("shaded_group", shape, (SIZE,), light, (0.15, 0.4, 0.65, 0.9), parts=parts)


def conditions_of(found: Readings, label: Labelled, numbers: Array) -> Conditions:
    """The array under sun and warmth of each row of ``numbers`` (tries, 3), at every reading: (tries, n)."""
    share, warmer = numbers[:, SUN, None], numbers[:, WARMTH, None]
    warmth = found.cell_temperature + HALF * (share - 1) * found.rise + warmer
    return at_conditions(label.diode, share * found.effective, warmth)


def priors(found: Readings, label: Labelled, instruments: Instruments, numbers: Array, free: tuple[int, ...]) -> Array:
    """How well sun and warmth are known beforehand, as one over the variance, (tries, 3); 0 where a number is free.

    What the meters have in common in all readings is counted here: amperes look like sun, volts like warmth.
    """
    warmth = np.median(cells_spread(numbers[:, SUN, None], found.rise), axis=1)
    beforehand = np.array([np.full(len(numbers), CLEAR_SKY_SHARE), warmth]).T
    known = np.zeros((len(numbers), 3))
    known[:, :SIZE] = 1 / (beforehand**2 + in_common(label, instruments)[:SIZE] ** 2)
    known[:, list(free)] = 0.0
    return known


def fitted(found: Readings, label: Labelled, suspect: Suspect, instruments: Instruments) -> Fit:
    """An explanation fitted to readings: Gauss and Newton from all first tries at once, the best of what was passed kept."""
    active = [at for at in (SUN, WARMTH, SIZE) if at in suspect.free or at != SIZE]
    own = np.array([1.0, 0.0, 0.0])
    low, high = (np.array([side[end] for side in (suspect.sun, suspect.warmth, suspect.limits)]) for end in (0, 1))
    middle = np.array([1.0, 0.0, suspect.tries[0]])
    numbers = np.tile(middle, (len(suspect.tries), 1))
    numbers[:, SIZE] = suspect.tries
    feet = np.tile(found.voltage, (len(numbers), 1))
    best, misfit, spread = numbers.copy(), np.full(len(numbers), np.inf), np.zeros((len(numbers), 3))
    for _ in range(STEPS):
        known = priors(found, label, instruments, numbers, suspect.free)
        current, slope, changes = linear(found, label, suspect, numbers, feet, active)
        now = distance(found, current, feet) + np.sum(known * (numbers - own) ** 2, axis=1)
        if np.all(np.abs(now - misfit) < 1e-5):
            break
        weight = 1 / (found.current_uncertainty**2 + (slope * found.voltage_uncertainty) ** 2)
        miss = found.current - current - slope * (found.voltage - feet)
        square = np.einsum("kbn,bn,lbn->bkl", changes, weight, changes) + known[:, active, None] * np.eye(len(active))
        square += np.eye(len(active)) * 1e-9 * (1 + np.einsum("bkk->b", square))[:, None, None]
        better = now < misfit - 1e-9
        misfit, best = np.where(better, now, misfit), np.where(better[:, None], numbers, best)
        spread[:, active] = np.where(better[:, None], np.sqrt(np.einsum("bkk->bk", np.linalg.inv(square))), spread[:, active])
        pull = np.einsum("kbn,bn,bn->bk", changes, weight, miss)
        pull += known[:, active] * (own[active] - numbers[:, active])
        step = np.linalg.solve(square, pull[:, :, None])[:, :, 0]
        most = 0.25 * (high - low)[active]
        moved = numbers.copy()
        moved[:, active] = np.clip(numbers[:, active] + np.clip(step, -most, most), low[active], high[active])
        taken = current + np.einsum("kbn,bk->bn", changes, (moved - numbers)[:, active])
        numbers, feet = moved, nearer(found, label, taken, slope, feet)
    at = int(np.argmin(misfit))
    pulled = (best[at, SUN] - 1) ** 2 * priors(found, label, instruments, best[at, None], suspect.free)[0, SUN]
    sure = np.hypot(spread[at], in_common(label, instruments))
    return Fit(suspect, best[at], sure, float(misfit[at]), len(suspect.free), float(pulled))


def in_common(label: Labelled, instruments: Instruments) -> Array:
    """What the meters' shares, the same in all readings, leave unsure of sun [1], warmth [K] and size."""
    return np.array([instruments.current_share, instruments.voltage_share / abs(label.voc_coefficient), 0.0])


def linear(
    found: Readings, label: Labelled, suspect: Suspect, numbers: Array, feet: Array, active: list[int]
) -> tuple[Array, Array, Array]:
    """Current at the feet, its slope by the volts, and by each number that moves: all found in one call of the shape."""
    step, sides = 1e-5 * label.voc, []
    asked, volts = [numbers] * 3, [feet, feet + step, feet - step]
    for at in active:
        low, high = (suspect.sun, suspect.warmth, suspect.limits)[at]
        width = 1e-5 * (high - low)
        sides.append(np.where(numbers[:, at] + width > high, -width, width))
        moved = numbers.copy()
        moved[:, at] += sides[-1]
        asked.append(moved)
        volts.append(feet)
    every = np.concatenate(asked)
    shape = suspect.shape(conditions_of(found, label, every), np.concatenate(volts), every[:, SIZE, None])
    current, above, below, *others = shape.reshape(len(asked), *feet.shape)
    return (
        current,
        (above - below) / (2 * step),
        np.array([(there - current) / side[:, None] for there, side in zip(others, sides, strict=True)]),
    )


def nearer(found: Readings, label: Labelled, current: Array, slope: Array, feet: Array) -> Array:
    """Places on the curve nearer to the readings: one step of the shortest way."""
    volts, amperes = 1 / found.voltage_uncertainty**2, 1 / found.current_uncertainty**2
    step = ((found.voltage - feet) * volts + slope * (found.current - current) * amperes) / (volts + slope**2 * amperes)
    most = CELL_VOLTS * label.voc
    return feet + np.clip(step, -most, most)


def distance(found: Readings, current: Array, feet: Array) -> Array:
    """Sum over all readings of how far the feet lie from them, in uncertainties, as squares."""
    volts = (found.voltage - feet) / found.voltage_uncertainty
    amperes = (found.current - current) / found.current_uncertainty
    return np.asarray(np.sum(volts**2 + amperes**2, axis=1))
