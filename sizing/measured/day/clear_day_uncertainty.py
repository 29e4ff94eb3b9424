"""How sure the numbers of a clear day are: each cause moved to both sides, at every moment (first order, JCGM 100)."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.errors import SizingError
from sizing.foundation.formats import percent
from sizing.hydraulic.outlet import jet_height
from sizing.light.clear_sky import CLEAR_SKY_SHARE
from sizing.measured.day.clear_day import ClearDay, Expected, at_panel
from sizing.operation.operating_point import operate
from sizing.uncertainty.causes import Cause, after_the_sky
from sizing.uncertainty.perturbed import MOVES, Moved, Watched, light_of, watched_steps
from sizing.uncertainty.uncertainty import Effects, effects_of, together

Array = NDArray[np.float64]

SEEN = ("voltage", "current", "flow", "jet")
"""What is watched, in the order of the path."""


@dataclass(frozen=True, eq=False)
class ClearDayUncertainty:
    """The causes, and what each takes from and adds to the volts, amperes, flow [m3/s] and jet [m] of every moment."""

    causes: tuple[Cause, ...]
    effects: dict[str, Effects]

    def below(self, name: str) -> Array:
        """Standard uncertainty to the smaller side, all causes together, (moments,)."""
        return together(self.effects[name].below)

    def above(self, name: str) -> Array:
        """The same to the larger side."""
        return together(self.effects[name].above)


def clear_day_uncertainty(clear_day: ClearDay, found: Expected) -> ClearDayUncertainty:
    """Move each cause of a design by its standard uncertainty, on clear days.

    Parameters
    ----------
    found : moments of clear days
    """
    jet = float(found.jet.max(initial=0.0))
    causes = (of_the_clear_sky(), *after_the_sky(clear_day.design, clear_day.fountain, jet))
    light = (found.effective, found.cell_temperature, found.air_temperature)
    chosen = watched_steps(clear_day.fountain, clear_day.solved, *light, np.zeros(0, dtype=np.int64), 1.0)
    base = seen(chosen, Moved(chosen.solved))
    changes = [both_sides(clear_day, chosen, cause, base) for cause in causes]
    effects = {name: effects_of([[side[at] for side in sides] for sides in changes]) for at, name in enumerate(SEEN)}
    return ClearDayUncertainty(causes, effects)


def of_the_clear_sky() -> Cause:
    """The sun of a day without clouds."""
    share = percent(CLEAR_SKY_SHARE)
    return Cause(
        "sky",
        "the clear sky",
        "a blue sky with the usual turbidity of the month",
        CLEAR_SKY_SHARE,
        CLEAR_SKY_SHARE,
        "1",
        f"one standard deviation: {share}, as clear days differ in haze",
        "reno_2012",
        "measure on several clear days",
    )


def both_sides(clear_day: ClearDay, chosen: Watched, cause: Cause, base: Array) -> list[Array]:
    """Changes of what is seen, (4, moments), with a cause at its smaller and at its larger value."""
    changes = [
        np.zeros_like(base) if size == 0 else moved_by(clear_day, chosen, cause, sign * size, base)
        for sign, size in ((-1, cause.below), (1, cause.above))
    ]
    first, second = changes
    if first is None or second is None:  # one side cannot be: the other's change stands for it
        known = next((change for change in changes if change is not None), np.zeros_like(base))
        return [known if first is not None else -known, known if second is not None else -known]
    return [first, second]


def moved_by(clear_day: ClearDay, chosen: Watched, cause: Cause, size: float, base: Array) -> Array | None:
    """Change of what is seen by one move; ``None`` where the model refuses the moved value."""
    try:
        moved = MOVES[cause.key](chosen, clear_day.fountain, clear_day.design, size)
    except SizingError:
        return None
    return seen(chosen, moved) - base


def seen(chosen: Watched, moved: Moved) -> Array:
    """Volts and amperes at the panel, flow [m3/s] and jet [m] with one thing moved: (4, moments)."""
    effective, cells = light_of(chosen, moved)
    found = operate(moved.solved, effective, cells)
    voltage, current = at_panel(moved.solved, found, effective, cells)
    jet = moved.jet_seen * np.asarray(jet_height(moved.solved.line.waterway.outlet, moved.flow_seen * found.flow))
    return np.array([voltage, current, found.flow, jet])
