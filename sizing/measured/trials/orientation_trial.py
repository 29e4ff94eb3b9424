"""Direction and tilt experiments: what a class's readings say, made comparable over hours, days and teams, beside the model."""

import datetime
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.csv_file import RowProblem
from sizing.foundation.errors import input_error
from sizing.measured.day.clear_day import ClearDay, Expected, expected
from sizing.measured.logs.instruments import USUAL, Instruments
from sizing.measured.logs.logs import TurnLog
from sizing.measured.trials.fit import Difference, TrialFit, comparable, difference, fit_groups
from sizing.measured.trials.sun_heights import SunHeights, heights_at_night, sun_heights

Array = NDArray[np.float64]
Rows = NDArray[np.int64]

DIRECTION_STEP, TILT_STEP = 10.0, 5.0
"""[deg] Readings within so much of one another count as one direction, as one tilt (common practice, no source)."""
MOST_EXPERIMENTS = 8
QUANTITIES = ("current", "voltage", "power", "flow")
LEAST_READINGS = 3
NO_EXPERIMENT = (
    "hold no experiment: two or more directions at one tilt, or tilts in one direction, with at least three readings of one "
    "kind by day and under a sky that is not cloudy"
)
SWEEP = 5.0
"""[deg] Between the points of the model's line."""
NOTHING = 1e-6
"""[1] Share of what is to be expected below which a reading is nothing, and a moment too dark to carry a reading from or to."""


@dataclass(frozen=True, eq=False)
class Experiment:
    """Rows in which one angle was changed and the other held: what was changed, the held angle [deg], the rows of the log,
    and the group of each row, whose angles [deg] rise."""

    changed: Literal["direction", "tilt"]
    held: float
    rows: Rows
    group: NDArray[np.int64]
    angle: Array


@dataclass(frozen=True, eq=False)
class Measured:
    """One quantity of an experiment: rows that count and those that do not, group by group, beside the model.

    ``angle`` [deg] of each group; ``expected`` of each group at the reference moment, in SI; ``ends`` the best group against
    the least, ``next`` against the next best; ``line`` the model's angles [deg] and values. Groups that no reading could be
    carried for are left out.
    """

    quantity: str
    rows: Rows
    group: NDArray[np.int64]
    angle: Array
    fit: TrialFit
    expected: Array
    values: Array
    ends: Difference | None
    next: Difference | None
    line: tuple[Array, Array]
    left_out: tuple[RowProblem, ...]


@dataclass(frozen=True, eq=False)
class Tried:
    """An experiment with its reference moment, days and teams, and what was measured."""

    experiment: Experiment
    day: datetime.date
    hour: float
    blocks: int
    measured: tuple[Measured, ...]


@dataclass(frozen=True, eq=False)
class OrientationTrial:
    """All that a log of directions tells; ``sky_factor`` is measured over expected of each row's current [1], NaN where none;
    ``problems`` what could not be read or used."""

    clear_day: ClearDay
    log: TurnLog
    found: Expected
    tried: tuple[Tried, ...]
    sky_factor: Array
    heights: SunHeights | None
    problems: tuple[RowProblem, ...]


def trial_of(log: TurnLog, clear_day: ClearDay, instruments: Instruments = USUAL) -> OrientationTrial:
    """What a log of directions and tilts tells.

    Raises
    ------
    InputError
        if it holds neither an experiment nor a height of the sun.
    """
    found = expected(clear_day, log.day, log.hour, log.tilt, log.direction)
    heights = sun_heights(log, clear_day, found, instruments)
    tried = tuple(trial for each in experiments(log) if (trial := tried_of(log, clear_day, found, each)).measured)
    problems = tuple(sorted(log.problems + heights_at_night(log, found), key=lambda each: each.row))
    if not tried and heights is None:
        first = f"; row {problems[0].row}: {problems[0].sentence}" if problems else ""
        raise input_error("log", "no_experiment", f"the readings of the log {NO_EXPERIMENT}; add readings{first}")
    if not tried and np.any(~np.isnan([log.voltage, log.current, log.flow])):
        problems = (RowProblem(0, "", f"the readings of the panel and the pump {NO_EXPERIMENT}"), *problems)
    factor = np.divide(log.current, found.current, out=np.full(len(log.row), np.nan), where=found.current > 0)
    return OrientationTrial(clear_day, log, found, tried, factor, heights, problems)


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


def quantity_of(name: str, source: TurnLog | Expected) -> Array:
    """Volts, amperes, watts or flow [m3/s] of a log or of what is expected."""
    return source.voltage * source.current if name == "power" else np.asarray(getattr(source, name))


def tried_of(log: TurnLog, clear_day: ClearDay, found: Expected, experiment: Experiment) -> Tried:
    """One experiment: its reference moment is the middle hour of its readings on the day with most of them."""
    days = [log.day[row] for row in experiment.rows]
    day = max(dict.fromkeys(days), key=days.count)
    hour = float(np.median(log.hour[experiment.rows]))
    count = len(experiment.rows)
    there = expected(clear_day, [day] * count, np.full(count, hour), log.tilt[experiment.rows], log.direction[experiment.rows])
    names = [f"{log.day[row].isoformat()} {log.team[row]}" for row in experiment.rows]
    block = np.unique(np.array(names), return_inverse=True)[1].ravel()
    line = model_line(clear_day, experiment, day, hour)
    parts = (measured_of(name, log, found, experiment, there, block, line) for name in QUANTITIES)
    return Tried(experiment, day, hour, int(block.max()) + 1, tuple(part for part in parts if part is not None))


def measured_of(
    name: str,
    log: TurnLog,
    found: Expected,
    experiment: Experiment,
    there: Expected,
    block: NDArray[np.int64],
    line: tuple[Array, Expected],
) -> Measured | None:
    """One quantity of an experiment; ``None`` where too few readings can be compared."""
    rows = experiment.rows
    reading, then, at_reference = quantity_of(name, log)[rows], quantity_of(name, found)[rows], quantity_of(name, there)
    read = ~np.isnan(reading)
    cloudy = np.array([log.sky[row] == "clouds" for row in rows], dtype=bool)
    carried = (then > NOTHING * at_reference) & (at_reference > NOTHING * then)
    something = reading > NOTHING * then
    use = read & ~cloudy & carried & something
    left = left_out(log, rows, read, cloudy, carried, something)
    known, group = np.unique(experiment.group[use], return_inverse=True)
    if use.sum() < LEAST_READINGS or len(known) < 2:
        return None
    values = np.asarray(comparable(reading[use], at_reference[use], then[use]))
    fit = fit_groups(values, reading[use], group.ravel(), block[use], len(known))
    predicted = np.bincount(group.ravel(), weights=at_reference[use]) / fit.count
    order = np.argsort(-fit.mean, kind="stable")
    pairs = len(known) * (len(known) - 1) // 2
    return Measured(
        name,
        rows[use],
        group.ravel(),
        experiment.angle[known],
        fit,
        predicted,
        values,
        difference(fit, int(order[0]), int(order[-1]), pairs),
        difference(fit, int(order[0]), int(order[1])),
        (line[0], quantity_of(name, line[1])),
        left,
    )


def left_out(
    log: TurnLog,
    rows: Rows,
    read: NDArray[np.bool_],
    cloudy: NDArray[np.bool_],
    carried: NDArray[np.bool_],
    something: NDArray[np.bool_],
) -> tuple[RowProblem, ...]:
    """Rows that were read and do not count, each with its reason."""
    told = []
    for at in np.flatnonzero(read & (cloudy | ~carried | ~something)):
        why = (
            "clouds were remarked; it is shown, and not counted"
            if cloudy[at]
            else "a clear sky gives nothing there at that moment or at the reference moment, so it cannot be carried"
            if not carried[at]
            else "nothing was measured although something was to be expected; it is shown, and not counted"
        )
        told.append(RowProblem(int(log.row[rows[at]]), "", why))
    return tuple(told)


def model_line(clear_day: ClearDay, experiment: Experiment, day: datetime.date, hour: float) -> tuple[Array, Expected]:
    """What the model expects over all angles at the reference moment."""
    if experiment.changed == "direction":
        angle = np.arange(0.0, 360.1, SWEEP)
        tilt, direction = np.full(len(angle), experiment.held), angle % 360
    else:
        angle = np.arange(0.0, 90.1, SWEEP)
        tilt, direction = angle, np.full(len(angle), experiment.held)
    return angle, expected(clear_day, [day] * len(angle), np.full(len(angle), hour), tilt, direction)
