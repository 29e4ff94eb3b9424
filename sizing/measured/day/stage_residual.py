"""One stage of a fountain judged by its readings: how far off they are on the whole, and whether they drift through the day."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.working import Worked, assumed, by_method, formula, work
from sizing.measured.logs.instruments import small_sample

Array = NDArray[np.float64]

DOUBT = 2.0
"""[1] So many combined standard uncertainties away, a stage is in doubt: one time in twenty by chance."""
FEWEST_OF_DRIFT, SHORTEST_DRIFT = 4, 3.0
"""[1, h] Readings and hours that a drift needs."""


@dataclass(frozen=True, eq=False)
class StageResidual:
    """One stage: how much was measured over what was computed from the stage before, and how sure that is.

    ``ratio`` [1], for the sun a difference [deg]; ``off`` is its distance from what was computed in combined standard
    uncertainties, ``count`` the readings behind it; ``rows`` and ``each`` are the single ones. ``None`` where nothing was read.
    ``drift`` [1/h, for the sun deg/h] is how it changes through the day, ``None`` where too few readings tell.
    """

    stage: str
    ratio: float | None
    uncertainty: float
    off: float
    count: int
    rows: NDArray[np.int64]
    each: Array
    working: tuple[Worked, ...]
    drift: float | None = None
    drift_uncertainty: float = 0.0

    @property
    def drift_off(self) -> float:
        """Its drift in standard uncertainties; 0 where none is known."""
        return 0.0 if self.drift is None else self.drift / self.drift_uncertainty

    @property
    def distance(self) -> float:
        """The larger of both, without sign."""
        return max(abs(self.off), abs(self.drift_off))

    @property
    def drifts(self) -> bool:
        """Whether its drift says more than its mean."""
        return self.doubtful and abs(self.drift_off) > abs(self.off)

    @property
    def doubtful(self) -> bool:
        """Whether it lies beyond two combined standard uncertainties."""
        return self.ratio is not None and self.distance > DOUBT


@formula("(mean - wanted) / sqrt(common**2 + chance**2)", unit="1", source="jcgm_100")
def distance_in_uncertainties(mean: float, wanted: float, common: float, chance: float) -> float:
    """How far a mean lies from what is wanted, in combined standard uncertainties.

    Parameters
    ----------
    mean, wanted : in one unit
    common : what all readings share; chance : what their mean has of its own

    Examples
    --------
    >>> distance_in_uncertainties(0.88, 1.0, 0.05, 0.02)
    -2.228
    """
    return float((mean - wanted) / np.sqrt(common**2 + chance**2))


def mean_of(values: Array) -> float:
    """Mean of what there is; 0 of nothing."""
    return float(np.mean(values)) if len(values) else 0.0


def judged(stage: str, rows: NDArray[np.int64], values: Array, wanted: float, common: float, chance: Array) -> StageResidual:
    """The mean of a stage's readings against what is wanted.

    Parameters
    ----------
    common : standard uncertainty that all readings share
    chance : standard uncertainty of each by itself; where they scatter more than that, their scatter counts
    """
    count = len(values)
    if count == 0:
        return StageResidual(stage, None, 0.0, 0.0, 0, rows, values, ())
    weight = 1 / np.maximum(chance, 1e-9) ** 2
    mean = float(np.sum(weight * values) / np.sum(weight))
    own = float(1 / np.sqrt(np.sum(weight)))
    if count > 1:
        scatter = float(np.sqrt(np.sum(weight * (values - mean) ** 2) / (count - 1)))
        own *= max(scatter, 1.0) * float(small_sample(count - 1)) if scatter > 1 else 1.0
    unit = "deg" if stage == "sun" else "1"
    parts = {
        "mean": Worked("mean", mean, unit, "measured"),
        "wanted": Worked("wanted", wanted, unit, "computed", "jcgm_100", "", "What was measured equals what was computed."),
        "common": Worked("common", common, unit, "computed", "jcgm_100", "", "Causes that all readings share, as squares."),
        "chance": Worked("chance", own, unit, "computed", "jcgm_100", "", "Of the mean, from instruments and scatter."),
    }
    off = work(distance_in_uncertainties, **parts)
    return StageResidual(stage, mean, float(np.hypot(common, own)), off.value, count, rows, values, (off,))


def drift_of(hour: Array, mean_hour: float, reading: Array, chance: Array) -> float:
    """Slope of a straight line through readings over the hours, each counted by its certainty.

    Parameters
    ----------
    mean_hour : mean of the hours [h], counted by certainty too

    Examples
    --------
    >>> drift_of(np.array([9.0, 11.0, 13.0]), 11.0, np.array([1.1, 1.0, 0.9]), np.full(3, 0.02))
    -0.05
    """
    weight = (hour - mean_hour) / chance**2
    return float(np.sum(weight * reading) / np.sum(weight * (hour - mean_hour)))


def with_drift(found: StageResidual, days: Sequence[datetime.date], hour: Array, chance: Array, sky: float) -> StageResidual:
    """A stage with its drift through the day, where its readings are of one day and spread over enough hours.

    Parameters
    ----------
    sky : standard uncertainty of the drift by the sky alone, per hour
    """
    if len(set(days)) != 1 or len(hour) < FEWEST_OF_DRIFT or np.ptp(hour) < SHORTEST_DRIFT:
        return found
    weight = 1 / np.maximum(chance, 1e-9) ** 2
    middle = float(np.sum(weight * hour) / np.sum(weight))
    drift = drift_of(hour, middle, found.each, np.maximum(chance, 1e-9))
    rest = found.each - (found.ratio or 0.0) - drift * (hour - middle)
    freedom = len(hour) - 2
    scatter = float(np.sqrt(np.sum(weight * rest**2) / freedom))
    own = float(1 / np.sqrt(np.sum(weight * (hour - middle) ** 2))) * (
        scatter * float(small_sample(freedom)) if scatter > 1 else 1.0
    )
    unit = "deg/h" if found.stage == "sun" else "1/h"
    told = "Straight line through the readings over the hours, each counted by its certainty."
    parts = {
        "mean": by_method("mean", drift, unit, "jcgm_100", told),
        "wanted": Worked("wanted", 0.0, unit, "computed", "jcgm_100", "", "What was measured equals what was computed all day."),
        "common": assumed("common", sky, unit, "common_practice"),
        "chance": Worked("chance", own, unit, "computed", "jcgm_100", "", "Of the slope, from instruments and scatter."),
    }
    off = work(distance_in_uncertainties, **parts)
    return replace(found, working=(*found.working, off), drift=drift, drift_uncertainty=float(np.hypot(sky, own)))
