"""What single readings miss the common curve by, which of them stand apart, and whether a team's bucket does.

A reading stands apart where it misses by more than 3.5 robust deviations (median of the absolute misses, as wide as a
normal distribution would have it) and by more than 3.5 of its own uncertainties. It is pointed at, never dropped.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.errors import SizingError
from sizing.measured.bench.curves import last_state
from sizing.measured.bench.equations import equations, falling, weights
from sizing.measured.bench.fit import Fit, fit_bench
from sizing.measured.bench.settings import Readings, Settings, settings_of
from sizing.measured.logs.instruments import Instruments, small_sample

Array = NDArray[np.float64]

APART = 3.5
"""[1] Robust deviations beyond which a reading stands apart (common practice, no source)."""
NORMAL = 1.4826
"""[1] Standard deviation of a normal distribution over its median absolute deviation."""
MOST_APART = 0.2
"""[1] Where more of the readings stand apart, none does: they scatter."""
ENOUGH_OF_A_TEAM = 3
STANDS_APART = 2.0
"""[1] Combined standard uncertainties beyond which two teams differ."""
GRID = 201
ROUNDS = 3


@dataclass(frozen=True, eq=False)
class Residuals:
    """Misses of every reading, (readings,): in head [m] and current [A], each also in its own standard uncertainties.

    ``flow`` [m3/s] and ``current`` [A] are what all readings together expect at that reading's volts and head; NaN where
    the head is outside the measured curve. ``head_by_share`` [m] is what a flow off by its whole would miss in head.
    """

    head_off: Array
    head_pull: Array
    current_off: Array
    current_pull: Array
    flow: Array
    current: Array
    head_by_share: Array
    head_spread: Array


@dataclass(frozen=True)
class Apart:
    """A reading that stands apart: its row, team, which quantity, what was read and expected, and by how many uncertainties."""

    row: int
    team: str
    quantity: Literal["flow", "current"]
    measured: float
    expected: float
    times: float


@dataclass(frozen=True)
class TeamOff:
    """How much a team's flows lie above all other teams' as a share, with one standard uncertainty of the difference."""

    team: str
    readings: int
    share: float
    uncertainty: float
    others: tuple[str, ...]

    @property
    def differs(self) -> bool:
        return abs(self.share) > STANDS_APART * self.uncertainty


def residuals(fit: Fit, found: Readings, instruments: Instruments, scatter: float) -> Residuals:
    """Misses of every reading against the fit."""
    measured = np.stack([found.voltage, found.current, found.head, found.flow], axis=-1)
    ones = np.ones_like(found.flow)
    digits = (instruments.voltage_digit, instruments.current_digit, instruments.head_reading)
    variance = np.stack([*(digit**2 * ones for digit in digits), (scatter * found.chance) ** 2], axis=-1)
    rest, by_reading, _ = equations(measured, fit.values, fit.orders, fit.reach)
    spread = weights(by_reading, variance)[0]
    back_emf = found.voltage - found.current * fit.winding
    state = np.linspace(0.0, last_state(fit), GRID)
    left = falling(state, fit.orders.head)[0] @ fit.values[fit.orders.heads]
    target = np.minimum(found.head / back_emf**2, left[0])
    expected = np.interp(target, left[::-1], state[::-1], left=np.nan) * fit.reach * back_emf
    return Residuals(
        rest[:, 0],
        rest[:, 0] / np.sqrt(spread[:, 0, 0]),
        rest[:, 1],
        rest[:, 1] / np.sqrt(spread[:, 1, 1]),
        expected,
        found.current - rest[:, 1],
        by_reading[:, 0, 3] * found.flow,
        np.sqrt(spread[:, 0, 0]),
    )


def scatter_of(found: Readings, settings: Settings) -> float:
    """How much more the fillings scatter within their settings than bucket and stopwatch allow; 1 or more."""
    count = settings.repeats[settings.member]
    repeated = (count > 1) & (found.chance > 0)
    freedom = int(repeated.sum()) - int(np.sum(settings.repeats > 1))
    if freedom < ENOUGH_OF_A_TEAM:
        return 1.0
    off = (found.flow - settings.flow[settings.member])[repeated] / found.chance[repeated]
    return max(1.0, deviation(off * np.sqrt(count / np.maximum(count - 1, 1))[repeated]))


def deviation(off: Array) -> float:
    """Standard deviation about nothing by the median, which single readings that stand apart do not move."""
    return NORMAL * float(np.median(np.abs(off)))


def standing_apart(misses: Residuals) -> NDArray[np.bool_]:
    """Which readings stand apart in head or in current."""
    apart = np.zeros(len(misses.head_pull), dtype=bool)
    for pull in (misses.head_pull, misses.current_pull):
        apart |= np.abs(pull) > APART * max(1.0, deviation(pull))
    return apart


def judged(
    fit: Fit, found: Readings, suspected: NDArray[np.bool_], instruments: Instruments, scatter: float
) -> tuple[Residuals, NDArray[np.bool_], Fit | None]:
    """Misses against the fit, the readings that stand apart, and the fit that would come of the others, if there are any.

    A reading far off draws the curve to itself; so the others are fitted alone, and all are held against that curve.

    Parameters
    ----------
    suspected : readings with a gross slip, by ``bench_slips``
    """
    misses = residuals(fit, found, instruments, scatter)
    apart = suspected if np.any(suspected) else standing_apart(misses)
    if not np.any(apart) or np.mean(apart) > MOST_APART:
        return misses, np.zeros_like(apart), None
    apart, without = refined(found, apart, instruments)
    return misses, apart, without if np.any(apart) else None


def refined(found: Readings, apart: NDArray[np.bool_], instruments: Instruments) -> tuple[NDArray[np.bool_], Fit | None]:
    """The readings that stand apart from the curve of all others, and that curve; ``None`` where the others have none."""
    without = None
    for _ in range(ROUNDS):
        others = found.only(~apart)
        try:
            settings = settings_of(others, instruments)
            scatter = scatter_of(others, settings)
            without = fit_bench(settings, instruments, scatter)
        except SizingError:
            return apart, None
        again = standing_apart(residuals(without, found, instruments, scatter))
        if np.array_equal(again, apart) or np.mean(again) > MOST_APART:
            break
        apart = again
    return apart, without


def apart_of(found: Readings, misses: Residuals, apart: NDArray[np.bool_]) -> tuple[Apart, ...]:
    """The readings that stand apart, worst first."""
    told = []
    for index in np.flatnonzero(apart):
        of_flow = abs(misses.head_pull[index]) >= abs(misses.current_pull[index]) and np.isfinite(misses.flow[index])
        pair = (found.flow[index], misses.flow[index]) if of_flow else (found.current[index], misses.current[index])
        times = misses.head_pull[index] if of_flow else misses.current_pull[index]
        name: Literal["flow", "current"] = "flow" if of_flow else "current"
        told.append(Apart(int(found.row[index]), found.team[index], name, float(pair[0]), float(pair[1]), abs(float(times))))
    return tuple(sorted(told, key=lambda one: -one.times))


def teams_compared(found: Readings, misses: Residuals, apart: NDArray[np.bool_]) -> tuple[TeamOff, ...]:
    """Each team's flows against all other teams', readings that stand apart left aside.

    A flow off by a share misses in head by that share of ``head_by_share``; the share that fits a team's misses best is
    that team's.
    """
    team = np.array(found.team, dtype=object)
    names = [name for name in dict.fromkeys(found.team) if np.sum((team == name) & ~apart) >= ENOUGH_OF_A_TEAM]
    if len(names) < 2:
        return ()
    sensitivity = -misses.head_by_share / misses.head_spread
    off = -misses.head_pull
    told = []
    for name in names:
        own, rest = (team == name) & ~apart, (team != name) & np.isin(team, names) & ~apart
        shares = [common_share(sensitivity[part], off[part]) for part in (own, rest)]
        if any(spread == 0 for _, spread in shares):
            continue
        difference, spread = shares[0][0] - shares[1][0], float(np.hypot(shares[0][1], shares[1][1]))
        told.append(TeamOff(name, int(own.sum()), float(difference), spread, tuple(one for one in names if one != name)))
    return tuple(told)


def common_share(sensitivity: Array, off: Array) -> tuple[float, float]:
    """Share that fits best, and its standard uncertainty by the scatter that is left; zeros where nothing tells."""
    weight = float(sensitivity @ sensitivity)
    if weight == 0 or len(off) < 2:
        return 0.0, 0.0
    share = float(sensitivity @ off) / weight
    freedom = len(off) - 1
    left = float(np.sum((off - share * sensitivity) ** 2)) / freedom
    return share, float(np.sqrt(max(1.0, left) / weight) * small_sample(freedom))
