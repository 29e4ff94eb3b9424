"""How sure the year's water, each month's and the jets are: a first-order budget of all causes (JCGM 100).

Each cause is moved by its standard uncertainty, once to either side, through the same model with all others
as they were taken. Many causes are lopsided: a pump may start later than assumed, never earlier. What is
expected then is not what was taken (JCGM 100, F.2.4.4): the middle of the range is shifted by the sum of what
each cause does on average, and its half width is the root of the sum of their variances, as causes are taken
to be independent of one another. The range so found is *likely*: about two times in three the truth lies in it.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from sizing.design.design import Design
from sizing.foundation.errors import SizingError
from sizing.foundation.working import formula
from sizing.fountain.components import Fountain
from sizing.light.irradiance import PlaneSun
from sizing.operation.operating_point import OperatingGrid, OperatingPoints
from sizing.operation.year import Year
from sizing.sky.weather import Sky
from sizing.uncertainty.causes import Cause, causes_of
from sizing.uncertainty.perturbed import MOVES, Calm, Move, Moved, PerturbedYear, Watched, looked_at, watched

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Effects:
    """What each cause takes from a result and adds to it, never negative: (causes,) or (causes, 12), in the result's unit.

    Half the sum of their squares is the mean square of what the cause does; ``shift`` is its mean, 0 where it is as
    likely to take as to add as much.
    """

    below: Array
    above: Array
    shift: Array = field(default_factory=lambda: np.zeros(1))

    @property
    def variance(self) -> Array:
        """Of each cause, in the square of the result's unit."""
        return np.asarray((self.below**2 + self.above**2) / 2 - self.shift**2)


@dataclass(frozen=True, eq=False)
class HowSure:
    """The causes in the order of ``KEYS``, and their effects on the year's water, each month's [m3] and each month's jet [m]."""

    causes: tuple[Cause, ...]
    year: Effects
    months: Effects
    jet: Effects


@formula(
    "sqrt(sky**2 + clouds**2 + soiling**2 + panel**2 + winding**2 + no_load**2 + drive**2 + pump_head**2 + pump_flow**2"
    " + starting**2 + cut_off**2 + controller**2 + hose**2 + fittings**2 + bore**2 + nozzle**2 + jet_formula**2)",
    unit="1",
    source="jcgm_100",
)
def combined_effect(
    sky: float,
    clouds: float,
    soiling: float,
    panel: float,
    winding: float,
    no_load: float,
    drive: float,
    pump_head: float,
    pump_flow: float,
    starting: float,
    cut_off: float,
    controller: float,
    hose: float,
    fittings: float,
    bore: float,
    nozzle: float,
    jet_formula: float = 0.0,
) -> float:
    """Effect of all causes together, in the unit of the effects: independent ones add as squares (5.1.2).

    Examples
    --------
    >>> float(combined_effect(3.0, 0.0, 0.0, 0.0, 4.0, 0.0, 0.0, 12.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0))
    13.0
    """
    of_the_sun = sky**2 + clouds**2 + soiling**2 + panel**2
    of_the_pump = winding**2 + no_load**2 + drive**2 + pump_head**2 + pump_flow**2 + starting**2 + cut_off**2 + controller**2
    return np.sqrt(of_the_sun + of_the_pump + hose**2 + fittings**2 + bore**2 + nozzle**2 + jet_formula**2)


@formula(
    "sky + clouds + soiling + panel + winding + no_load + drive + pump_head + pump_flow + starting + cut_off + controller"
    " + hose + fittings + bore + nozzle + jet_formula",
    unit="1",
    source="jcgm_100",
)
def combined_shift(
    sky: float,
    clouds: float,
    soiling: float,
    panel: float,
    winding: float,
    no_load: float,
    drive: float,
    pump_head: float,
    pump_flow: float,
    starting: float,
    cut_off: float,
    controller: float,
    hose: float,
    fittings: float,
    bore: float,
    nozzle: float,
    jet_formula: float = 0.0,
) -> float:
    """What all causes do on average, in the unit of the effects; lopsided ones do not cancel (F.2.4.4).

    Examples
    --------
    >>> combined_shift(0.0, 0.0, -1.0, 0.0, 0.0, 0.5, 0.0, 0.0, 0.0, -3.0, 0.0, 0.0, 0.0, 0.0, 0.0, -2.0)
    -5.5
    """
    of_the_sun = sky + clouds + soiling + panel
    of_the_pump = winding + no_load + drive + pump_head + pump_flow + starting + cut_off + controller
    return of_the_sun + of_the_pump + hose + fittings + bore + nozzle + jet_formula


def together(effects: Array) -> Array:
    """As ``combined_effect``, along the first axis.

    Examples
    --------
    >>> float(together(np.array([3.0, 4.0, 12.0])))
    13.0
    """
    return np.asarray(np.sqrt(np.sum(effects**2, axis=0)))


def shares(effects: Effects) -> Array:
    """Share of each cause in the variance; zeros where nothing is uncertain.

    Examples
    --------
    >>> shares(Effects(np.array([3.0, 4.0]), np.array([3.0, 4.0])))
    array([0.36, 0.64])
    """
    variance = effects.variance
    whole = variance.sum(axis=0)
    return np.divide(variance, whole, out=np.zeros_like(variance), where=whole > 0)


def band(value: Array | float, effects: Effects) -> tuple[Array, Array]:
    """Low and high end of the likely range; no end below nothing.

    Where much was left unsaid and taken at its better end, the result may lie above its own likely range.

    Parameters
    ----------
    value : the result with all causes as they were taken
    """
    middle, half = expected(value, effects)
    return np.maximum(middle - half, 0.0), np.maximum(middle + half, 0.0)


def expected(value: Array | float, effects: Effects) -> tuple[Array, Array]:
    """What is to be expected of a result, and its standard uncertainty: all causes together.

    Examples
    --------
    >>> middle, half = expected(100.0, Effects(np.array([8.0, 6.0]), np.array([0.0, 6.0]), np.array([-2.0, 0.0])))
    >>> float(middle), round(float(half), 3)
    (98.0, 8.0)
    """
    return np.asarray(value + np.sum(effects.shift, axis=0)), np.sqrt(np.sum(effects.variance, axis=0))


def how_sure(
    design: Design,
    fountain: Fountain,
    sky: Sky,
    sun: PlaneSun,
    solved: OperatingGrid,
    operation: OperatingPoints,
    year: Year,
    calm: Calm | None = None,
) -> HowSure:
    """Move each cause to both sides and note what comes of it; ``calm`` as ``watched`` takes it."""
    best = max(month.jet for month in year.months)
    causes = causes_of(design, fountain, sky, best)
    chosen = watched(fountain, solved, sky, sun, operation, year, calm)
    base = looked_at(chosen, Moved(chosen.solved))
    of_year, of_months, of_jet = [], [], []
    for cause in causes:
        looks = looks_at(chosen, fountain, design, cause, base)
        monthly = looks
        if cause.month is not None:
            monthly = looks_at(chosen, fountain, design, replace(cause, below=cause.month, above=cause.month), base)
        weights = [(look.square, look.mean) for look in looks]
        of_year.append(effect_of([float(look.found.water.sum() - base.water.sum()) for look in looks], weights))
        of_months.append(effect_of([look.found.water - base.water for look in monthly], weights))
        of_jet.append(effect_of([look.found.jet - base.jet for look in monthly], weights))
    return HowSure(
        causes, *(Effects(*(np.array(part) for part in zip(*found, strict=True))) for found in (of_year, of_months, of_jet))
    )


Effect = tuple[Array, Array, Array]
"""What a cause takes, adds, and does on average."""


def effect_of(changes: Sequence[Array | float], weights: Sequence[tuple[float, float]]) -> Effect:
    """Changes of a result by the moves of one cause, put together by the weights of their squares and of their means.

    Examples
    --------
    >>> [round(float(part), 3) for part in effect_of([-3.0, 3.0], [SIDE, SIDE])]
    [3.0, 3.0, 0.0]
    >>> [round(float(part), 3) for part in effect_of([-4.0, -3.0], [SIDE, SIDE])]
    [5.0, 0.0, -3.031]
    """
    moved = np.array(changes)
    square, mean = (np.array(part).reshape(-1, *[1] * (moved.ndim - 1)) for part in zip(*weights, strict=True))
    below, above = (np.sqrt(2 * np.sum(square * np.maximum(way * moved, 0.0) ** 2, axis=0)) for way in (-1, 1))
    return below, above, np.sum(mean * moved, axis=0)


def effects_of(changes: list[list[float]] | list[list[Array]]) -> Effects:
    """Changes of a result by each cause moved to its smaller and to its larger side."""
    found = [effect_of(each, [SIDE, SIDE]) for each in changes]
    return Effects(*(np.array(part) for part in zip(*found, strict=True)))


SIDE = (0.5, float(np.sqrt(3) / 4))
"""Weights of one move by the standard uncertainty of a side: the side counts in half of all cases, and the mean of what
lies anywhere up to a limit is √3/2 of its standard uncertainty."""
INNER, OUTER = (float(np.sqrt(3) - 1) / 2, float(np.sqrt(3) + 1) / 2)
"""Two values, over the standard uncertainty of a side, that stand for all up to its limit (Gauss's two points)."""
PART = (0.25, 0.25)
"""Weights of each of the two."""


@dataclass(frozen=True, eq=False)
class Look:
    """The result with a cause moved once, and its weights in the mean square and in the mean of what the cause does."""

    found: PerturbedYear
    square: float
    mean: float


def looks_at(chosen: Watched, fountain: Fountain, design: Design, cause: Cause, base: PerturbedYear) -> list[Look]:
    """The results with a cause moved: once to each side, or twice where one move says little."""
    if not cause.bends:
        return [Look(found, *SIDE) for found in both_sides(chosen, fountain, design, cause, base)]
    looks = []
    for sign, size in ((-1, cause.below), (1, cause.above)):
        for share in (INNER, OUTER) if size > 0 else ():
            found = tried(MOVES[cause.key], chosen, fountain, design, sign * size * share)
            looks.append(Look(base if found is None else found, *PART))
    return looks or [Look(base, *SIDE)]


def both_sides(
    chosen: Watched, fountain: Fountain, design: Design, cause: Cause, base: PerturbedYear
) -> tuple[PerturbedYear, PerturbedYear]:
    """The result with a cause at its smaller and at its larger value; as it was where it has no uncertainty.

    Where a value cannot be moved to one side, as a motor that would not turn, the other side's change stands for it.
    """
    first, second = (
        base if size == 0 else tried(MOVES[cause.key], chosen, fountain, design, sign * size)
        for sign, size in ((-1, cause.below), (1, cause.above))
    )
    return mirrored(base, second) if first is None else first, mirrored(base, first) if second is None else second


def tried(move: Move, chosen: Watched, fountain: Fountain, design: Design, size: float) -> PerturbedYear | None:
    """The result of a move; ``None`` where the model refuses the moved value."""
    try:
        return looked_at(chosen, move(chosen, fountain, design, size))
    except SizingError:
        return None


def mirrored(base: PerturbedYear, other: PerturbedYear | None) -> PerturbedYear:
    """The opposite change; none where there is no other."""
    if other is None:
        return base
    return PerturbedYear(2 * base.water - other.water, 2 * base.jet - other.jet)
