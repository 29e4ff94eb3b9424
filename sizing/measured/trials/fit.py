"""Is one direction really better: readings of several days and teams in one least-squares fit, and Student's t.

On a logarithm a duller sky or a bucket that holds less is an amount added to all readings of that day and team. So the
logarithm of each reading is taken as one number of its direction (or tilt) plus one number of its day and team, plus chance;
what the days and teams have in common cannot fake a direction.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri, stdtr

from sizing.foundation.working import formula
from sizing.measured.logs.instruments import small_sample

Array = NDArray[np.float64]
Numbers = NDArray[np.int64]

SURE = 0.95
"""[1] A difference is called larger than the scatter where chance alone would make it one time in twenty (usual practice)."""
PERHAPS = 0.80
MOST_MORE = 200


@dataclass(frozen=True)
class Difference:
    """One group against another: share by which it is more [1], standard uncertainty, how likely it is more than chance [1],
    and how many more readings of each would settle it (0: it is settled, ``None``: hopelessly many)."""

    share: float
    uncertainty: float
    confidence: float
    more: int | None


@dataclass(frozen=True, eq=False)
class TrialFit:
    """Groups side by side: count, mean of the readings, comparable mean with its likely range, and the ties between them.

    ``tied`` numbers the sets of groups that days or teams tie together: across sets nothing can be told. ``freedom`` are
    readings less the numbers found from them.
    """

    count: Numbers
    raw: Array
    mean: Array
    low: Array
    high: Array
    tied: Numbers
    freedom: int
    scatter: float
    logs: Array
    covariance: Array


@formula("reading * expected_at_reference / expected_then", unit="1", source="jcgm_100")
def comparable(reading: Array | float, expected_at_reference: Array | float, expected_then: Array | float) -> Array | float:
    """A reading carried to the reference moment, in its own unit: what a clear sky would have made of it there.

    Parameters
    ----------
    reading : as measured
    expected_at_reference, expected_then : by the model for the same direction and tilt, at both moments

    Examples
    --------
    >>> comparable(0.62, 0.80, 0.71)
    0.6986
    """
    return reading * expected_at_reference / expected_then


def ties(group: Numbers, block: Numbers, groups: int) -> Numbers:
    """Number of the set that each group belongs to, where blocks that hold two groups tie them.

    Examples
    --------
    >>> ties(np.array([0, 1, 1, 2, 3]), np.array([0, 0, 1, 1, 2]), 4)
    array([0, 0, 0, 1])
    """
    tied = np.arange(groups)
    for each in np.unique(block):
        members = np.unique(group[block == each])
        joined = np.unique(tied[members])
        tied[np.isin(tied, joined)] = joined.min()
    return np.unique(tied, return_inverse=True)[1].ravel()


def fit_groups(values: Array, raw: Array, group: Numbers, block: Numbers, groups: int) -> TrialFit:
    """Fit groups and blocks together.

    Parameters
    ----------
    values : comparable readings, above 0
    raw : the same readings as they were measured
    group, block : 0.. of each reading
    groups : how many groups there are; each has a reading
    """
    blocks = np.unique(block, return_inverse=True)[1].ravel()
    design = np.zeros((len(values), groups + blocks.max() + 1))
    design[np.arange(len(values)), group] = 1
    design[np.arange(len(values)), groups + blocks] = 1
    logs = np.log(values)
    inverse = np.linalg.pinv(design.T @ design, hermitian=True)
    found = inverse @ (design.T @ logs)
    freedom = len(values) - int(np.linalg.matrix_rank(design))
    rest = logs - design @ found
    scatter = float(np.sqrt(np.sum(rest**2) / freedom)) if freedom > 0 else np.nan
    tied = ties(group, blocks, groups)
    spread = np.zeros((groups, design.shape[1]))  # each group at the mean of the blocks that are tied to it
    for at in range(groups):
        spread[at, at] = 1
        spread[at, groups:] = np.bincount(blocks[tied[group] == tied[at]], minlength=design.shape[1] - groups)
        spread[at, groups:] /= spread[at, groups:].sum()
    mean = spread @ found
    covariance = spread @ inverse @ spread.T * (scatter**2 if freedom > 0 else np.nan)
    wide = np.sqrt(np.maximum(np.diag(covariance), 0)) * (float(small_sample(freedom)) if freedom > 0 else np.nan)
    count = np.bincount(group, minlength=groups)
    means = np.bincount(group, weights=raw, minlength=groups) / count
    ends = (np.exp(mean - wide), np.exp(mean + wide))
    return TrialFit(count, means, np.exp(mean), *ends, tied, freedom, scatter, mean, covariance)


def difference(fit: TrialFit, first: int, second: int, pairs: int = 1) -> Difference | None:
    """One group against another; ``None`` where no day or team ties them or nothing is left to tell chance by.

    Parameters
    ----------
    pairs : how many pairs this one was picked from for being largest (Bonferroni)
    """
    if fit.tied[first] != fit.tied[second] or fit.freedom <= 0:
        return None
    away = float(fit.logs[first] - fit.logs[second])
    variance = fit.covariance[first, first] + fit.covariance[second, second] - 2 * fit.covariance[first, second]
    uncertainty = float(np.sqrt(max(variance, 0.0)))
    if uncertainty < 1e-9:
        return Difference(float(np.expm1(away)), 0.0, 1.0 if abs(away) > 1e-9 else 0.0, 0 if abs(away) > 1e-9 else None)
    chance = 2 * float(stdtr(fit.freedom, -abs(away) / uncertainty)) * pairs
    confidence = max(1 - chance, 0.0)
    wanted = -float(ndtri((1 - SURE) / 2 / pairs))
    more = more_readings(fit, first, second, wanted * uncertainty / abs(away) if away else np.inf, confidence)
    return Difference(float(np.expm1(away)), uncertainty, confidence, more)


def more_readings(fit: TrialFit, first: int, second: int, short: float, confidence: float) -> int | None:
    """How many more readings of each of two groups would make their difference sure, if it is as large as it looks.

    Parameters
    ----------
    short : by how much the uncertainty is too large for that [1]: it falls with the root of the readings
    """
    if confidence >= SURE:
        return 0
    now = min(int(fit.count[first]), int(fit.count[second]))
    more = np.ceil(now * (max(short**2, 1.5) - 1)) if short < 100 else np.inf
    return int(more) if more <= MOST_MORE else None
