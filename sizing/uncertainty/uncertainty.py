"""How sure the year's water, each month's and the jets are: a first-order budget of all causes (JCGM 100).

Each cause is moved by its standard uncertainty, once to either side, through the same model with all others
as they were taken. What that takes from the result and what it adds are put together separately, each as
the root of the sum of squares: causes are taken to be independent of one another. The range so found is
*likely*: about two times in three the truth lies in it.
"""

from dataclasses import dataclass, replace

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
from sizing.uncertainty.perturbed import MOVES, Move, Moved, PerturbedYear, Watched, looked_at, watched

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Effects:
    """What each cause takes from a result and adds to it, never negative: (causes,) or (causes, 12), in the result's unit."""

    below: Array
    above: Array


@dataclass(frozen=True, eq=False)
class HowSure:
    """The causes in the order of ``KEYS``, and their effects on the year's water, each month's [m3] and each month's jet [m]."""

    causes: tuple[Cause, ...]
    year: Effects
    months: Effects
    jet: Effects


@formula(
    "sqrt(sky**2 + soiling**2 + panel**2 + winding**2 + no_load**2 + pump_head**2 + pump_flow**2 + fittings**2 + bore**2"
    " + jet_formula**2)",
    unit="1",
    source="jcgm_100",
)
def combined_effect(
    sky: float,
    soiling: float,
    panel: float,
    winding: float,
    no_load: float,
    pump_head: float,
    pump_flow: float,
    fittings: float,
    bore: float,
    jet_formula: float = 0.0,
) -> float:
    """Effect of all causes together, in the unit of the effects: independent ones add as squares (5.1.2).

    Examples
    --------
    >>> float(combined_effect(3.0, 0.0, 0.0, 4.0, 0.0, 12.0, 0.0, 0.0, 0.0))
    13.0
    """
    squares = sky**2 + soiling**2 + panel**2 + winding**2 + no_load**2 + pump_head**2 + pump_flow**2 + fittings**2 + bore**2
    return np.sqrt(squares + jet_formula**2)


def together(effects: Array) -> Array:
    """As ``combined_effect``, along the first axis.

    Examples
    --------
    >>> float(together(np.array([3.0, 4.0, 12.0])))
    13.0
    """
    return np.asarray(np.sqrt(np.sum(effects**2, axis=0)))


def shares(effects: Effects) -> Array:
    """Share of each cause in the variance, both sides together; zeros where nothing is uncertain.

    Examples
    --------
    >>> shares(Effects(np.array([3.0, 4.0]), np.array([3.0, 4.0])))
    array([0.36, 0.64])
    """
    variance = effects.below**2 + effects.above**2
    whole = variance.sum(axis=0)
    return np.divide(variance, whole, out=np.zeros_like(variance), where=whole > 0)


def band(value: Array | float, effects: Effects) -> tuple[Array, Array]:
    """Low and high end of the likely range; no end below nothing."""
    return np.maximum(value - together(effects.below), 0.0), np.asarray(value + together(effects.above))


def how_sure(
    design: Design, fountain: Fountain, sky: Sky, sun: PlaneSun, solved: OperatingGrid, operation: OperatingPoints, year: Year
) -> HowSure:
    """Move each cause to both sides and note what comes of it."""
    best = max(month.jet for month in year.months)
    causes = causes_of(design, fountain, sky, best)
    chosen = watched(fountain, solved, sky, sun, operation, year)
    base = looked_at(chosen, Moved(chosen.solved))
    of_year, of_months, of_jet = [], [], []
    for cause in causes:
        smaller, larger = both_sides(chosen, fountain, design, cause, base)
        monthly = (smaller, larger)
        if cause.month is not None:
            monthly = both_sides(chosen, fountain, design, replace(cause, below=cause.month, above=cause.month), base)
        of_year.append([float(found.water.sum() - base.water.sum()) for found in (smaller, larger)])
        of_months.append([found.water - base.water for found in monthly])
        of_jet.append([found.jet - base.jet for found in monthly])
    return HowSure(causes, effects_of(of_year), effects_of(of_months), effects_of(of_jet))


def effects_of(changes: list[list[float]] | list[list[Array]]) -> Effects:
    """Changes of a result by each cause to its smaller and larger side, as what they take and what they add."""
    moved = np.array(changes)
    return Effects(np.maximum(-moved.min(axis=1), 0.0), np.maximum(moved.max(axis=1), 0.0))


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
