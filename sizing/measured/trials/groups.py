"""Which readings belong to one experiment: the panel turned at one tilt, or tilted in one direction."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sizing.measured.logs.logs import TurnLog

Array = NDArray[np.float64]
Rows = NDArray[np.int64]

DIRECTION_STEP, TILT_STEP = 10.0, 5.0
"""[deg] Readings within so much of one another count as one direction, as one tilt (common practice, no source)."""
MOST_EXPERIMENTS = 8


@dataclass(frozen=True, eq=False)
class Experiment:
    """Rows in which one angle was changed and the other held: what was changed, the held angle [deg], the rows of the log,
    and the group of each row, whose angles [deg] rise."""

    changed: Literal["direction", "tilt"]
    held: float
    rows: Rows
    group: NDArray[np.int64]
    angle: Array


def clusters(values: Array, step: float, around: bool = False) -> NDArray[np.int64]:
    """Number of the cluster of each value [deg]: from the first of a cluster to the last is at most a step.

    Parameters
    ----------
    around : whether 360 is 0 again

    Examples
    --------
    >>> clusters(np.array([180.0, 91.0, 88.0, 183.0]), 10.0), clusters(np.array([358.0, 3.0, 90.0]), 10.0, around=True)
    (array([1, 0, 0, 1]), array([0, 0, 1]))
    """
    values = np.asarray(values, dtype=float)
    if around:
        turned = np.sort(np.unique(values % 360))
        gaps = np.diff(np.append(turned, turned[0] + 360))
        start = turned[(int(np.argmax(gaps)) + 1) % len(turned)]
        values = (values - start) % 360
    found = np.zeros(len(values), dtype=np.int64)
    number, first = -1, -np.inf
    for at in np.argsort(values, kind="stable"):
        if values[at] > first + step:
            number, first = number + 1, values[at]
        found[at] = number
    return found


def mean_direction(directions: Array) -> float:
    """Mean of directions [deg], 0..360: that of their unit vectors.

    Examples
    --------
    >>> mean_direction(np.array([350.0, 20.0]))
    5.0
    """
    angle = np.radians(directions)
    return float(np.degrees(np.arctan2(np.sin(angle).mean(), np.cos(angle).mean())) % 360)


def experiments(log: TurnLog) -> tuple[Experiment, ...]:
    """The experiments that a log holds, those with most readings first.

    Readings at one tilt and two or more directions are one; so are those in one direction and at two or more tilts.
    """
    turned = clusters(log.direction, DIRECTION_STEP, around=True)
    tilted = clusters(log.tilt, TILT_STEP)
    found = [
        *(experiment(log, "direction", np.flatnonzero(tilted == held), turned) for held in np.unique(tilted)),
        *(experiment(log, "tilt", np.flatnonzero(turned == held), tilted) for held in np.unique(turned)),
    ]
    kept = [each for each in found if len(each.angle) > 1]
    return tuple(sorted(kept, key=lambda each: -len(each.rows))[:MOST_EXPERIMENTS])


def experiment(log: TurnLog, changed: Literal["direction", "tilt"], rows: Rows, cluster: NDArray[np.int64]) -> Experiment:
    """The rows of one held angle, by what was changed."""
    known, group = np.unique(cluster[rows], return_inverse=True)
    if changed == "direction":
        held = float(np.mean(log.tilt[rows]))
        angle = np.array([mean_direction(log.direction[rows[group == each]]) for each in range(len(known))])
    else:
        held = mean_direction(log.direction[rows])
        angle = np.array([log.tilt[rows[group == each]].mean() for each in range(len(known))])
    order = np.argsort(angle)
    place = np.empty_like(order)
    place[order] = np.arange(len(order))
    return Experiment(changed, held, rows, place[group.ravel()], angle[order])
