"""Rows with a gross slip (a decimal point, a swapped pair): found before any fit, by what most rows have in common.

Least median of squares: many small groups of rows each draw a rough curve of head and of current over the pump's state;
the curve to which half of all rows lie nearest is taken, and rows far from it are suspected. Half of the rows could be
wrong without moving it. The groups are drawn by a fixed rule, so that the same log gives the same answer.
"""

import numpy as np
from numpy.typing import NDArray

from sizing.electric.motor import DEFAULT_NO_LOAD_SHARE, DEFAULT_WINDING_SHARE
from sizing.measured.bench.settings import Readings

Array = NDArray[np.float64]

GROUPS, GROUP_SIZE = 240, 5
MOST_JUDGED = 300
"""Rows on which a rough curve is judged; of more, some evenly."""
FEWEST = 8
"""Of fewer rows none is suspected."""
FAR = 8.0
"""[1] Robust deviations from the rough curve beyond which a row is suspected."""
ROUGH = 0.03
"""[1] What a rough curve misses anyway, as a share of its middle value."""
NORMAL = 1.4826
FARTHEST_STATE = 2.0


def slips(found: Readings) -> NDArray[np.bool_]:
    """Which rows are suspected of a gross slip."""
    count = len(found.row)
    if count < FEWEST:
        return np.zeros(count, dtype=bool)
    winding = DEFAULT_WINDING_SHARE * float(np.median(found.voltage / found.current))
    back_emf = np.maximum(found.voltage - winding * found.current, 0.2 * found.voltage)
    state = found.flow / back_emf
    state = np.minimum(state / max(float(np.quantile(state, 0.8)), 1e-15), FARTHEST_STATE)
    load = found.current - DEFAULT_NO_LOAD_SHARE * float(np.median(found.current))
    apart = np.zeros(count, dtype=bool)
    rows = np.random.default_rng(count).integers(0, count, (GROUPS, GROUP_SIZE))
    for seen, bends in ((found.head / back_emf**2, 2), (load / back_emf**2, 1)):
        apart |= far_from_most(state[:, None] ** np.arange(bends + 1), seen, rows)
    return apart


def far_from_most(parts: Array, seen: Array, rows: NDArray[np.int64]) -> NDArray[np.bool_]:
    """Rows far from the curve to which half of them lie nearest.

    Parameters
    ----------
    parts : (readings, numbers) of the curve
    seen : (readings,)
    rows : (groups, size) the rows that draw each curve
    """
    some = np.unique(np.linspace(0, len(seen) - 1, MOST_JUDGED).round().astype(int))
    group = parts[rows]
    normal = np.einsum("gki,gkj->gij", group, group) + 1e-9 * np.eye(parts.shape[1])
    numbers = np.linalg.solve(normal, np.einsum("gki,gk->gi", group, seen[rows])[..., None])[..., 0]
    missed = np.median(np.abs(numbers @ parts[some].T - seen[some]), axis=1)
    off = np.abs(parts @ numbers[int(np.argmin(missed))] - seen)
    return np.asarray(off > FAR * max(NORMAL * float(np.median(off)), ROUGH * float(np.median(np.abs(seen)))))
