"""The readings of a bench test, which of them are suspected of a slip, and its settings: repeats at one voltage and height.

Two readings are the same where they differ by less than two combined standard uncertainties of the instruments.
"""

from bisect import bisect_right
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.electric.motor import DEFAULT_NO_LOAD_SHARE, DEFAULT_WINDING_SHARE
from sizing.foundation.errors import Note, input_error
from sizing.foundation.tables import EXIT_LOSS
from sizing.hydraulic.pipes import Pipe, fitting_k, pipe_loss
from sizing.hydraulic.water import density, kinematic_viscosity, viscosity
from sizing.measured.bench.bucket import bucket_flow, chance_share, flow_share
from sizing.measured.logs.instruments import Instruments, meter_uncertainty, small_sample
from sizing.measured.logs.logs import BenchLog

Array = NDArray[np.float64]

SAME = 2 * np.sqrt(2)
"""[1] Two combined standard uncertainties of two readings, in those of one."""
FEWEST_READINGS = 3
SMOOTH = 1.5e-6
"""[m] Roughness of a plastic hose, as usual in a design."""
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


@dataclass(frozen=True, eq=False)
class Readings:
    """Rows that can be used: row number, volts, amperes, flow [m3/s], its uncertainty by chance, team.

    ``height`` [m] of the outlet is as read; ``head`` [m] is the pump's: the height, and what the bench's hose takes if known.
    """

    row: NDArray[np.int64]
    voltage: Array
    current: Array
    height: Array
    head: Array
    volume: Array
    fill_time: Array
    flow: Array
    chance: Array
    team: tuple[str, ...]
    notes: tuple[Note, ...]

    def only(self, which: NDArray[np.bool_]) -> "Readings":
        """Some of the readings."""
        arrays = ("row", "voltage", "current", "height", "head", "volume", "fill_time", "flow", "chance")
        kept = {name: getattr(self, name)[which] for name in arrays}
        return Readings(**kept, team=tuple(np.array(self.team, dtype=object)[which]), notes=self.notes)


@dataclass(frozen=True, eq=False)
class Settings:
    """Means of the repeats of each setting, (settings,), by voltage and head.

    ``scatter`` is the standard deviation of the flow as a share of it, widened for small samples; ``chance`` and
    ``uncertainty`` [m3/s] are those of the mean flow, without and with the bucket's mark; ``reading`` [m3/s] is what the
    instruments alone allow in one filling; ``level`` numbers the voltages, ``member`` [readings] names a reading's setting.
    """

    voltage: Array
    current: Array
    height: Array
    head: Array
    flow: Array
    repeats: NDArray[np.int64]
    teams: NDArray[np.int64]
    scatter: Array
    chance: Array
    uncertainty: Array
    reading: Array
    level: NDArray[np.int64]
    member: NDArray[np.int64]


def hose_of(length: float, diameter: float, water_temperature: float = 15.0) -> Pipe:
    """The bench's own hose, smooth plastic; the water enters it from the pump and leaves it with all its speed.

    Parameters
    ----------
    length, diameter : [m] the diameter inside
    water_temperature : [Cel] 0 to 40

    Examples
    --------
    >>> float(pipe_loss(hose_of(1.5, 0.013), 10 / 60000))
    0.3834
    """
    viscous = float(kinematic_viscosity(viscosity(water_temperature), density(water_temperature)))
    return Pipe(length, diameter, SMOOTH, fitting_k("entrance").typical + EXIT_LOSS, viscous)


def readings_of(log: BenchLog, instruments: Instruments, hose: Pipe | None = None) -> Readings:
    """Flow of every row; rows that can tell nothing of the pump are left out and named.

    Parameters
    ----------
    hose : of the bench, by ``hose_of``; without it heights are taken as heads

    Raises
    ------
    InputError
        if fewer than three rows are left.
    """
    sound = (log.fill_time > 0) & (log.voltage > 0) & (log.current > 0) & (log.volume >= 0) & (log.head >= 0)
    time = np.where(sound, log.fill_time, 1.0)
    flow = np.asarray(bucket_flow(log.volume, time))
    chance = np.hypot(instruments.volume_reading, flow * instruments.time_reading) / time
    head = log.head if hose is None else log.head + pipe_loss(hose, flow)
    every = Readings(
        row=log.row,
        voltage=log.voltage,
        current=log.current,
        height=log.head,
        head=head,
        volume=log.volume,
        fill_time=log.fill_time,
        flow=flow,
        chance=chance,
        team=log.team,
        notes=left_out(log.row[~sound]),
    )
    found = without_too_high(every.only(sound), instruments)
    if len(found.row) < FEWEST_READINGS:
        detail = (
            f"the bench test has {len(found.row)} usable {'row' if len(found.row) == 1 else 'rows'}; a pump curve needs at least "
            f"{FEWEST_READINGS} at two or more heights; measure with the hose low, half-way up and near the height where the "
            "water stops"
        )
        raise input_error("log", "too_few_readings", detail, FEWEST_READINGS)
    return found


def left_out(row: NDArray[np.int64]) -> tuple[Note, ...]:
    """Rows without volts, amperes or seconds."""
    if row.size == 0:
        return ()
    text = f"{rows_named(row)} left out: volts, amperes and seconds must be above zero while the pump runs."
    return (Note("row_not_usable", "warning", text, "log"),)


def without_too_high(found: Readings, instruments: Instruments) -> Readings:
    """Of the rows without any flow at one voltage only the lowest tells the shut-off head: higher up no water comes either."""
    dry = found.flow <= 0
    if not np.any(dry):
        return found
    level = same(found.voltage, voltage_width(found.voltage, instruments))
    lowest = np.full(level.max() + 1, np.inf)
    np.minimum.at(lowest, level[dry], found.head[dry])
    kept = ~dry | (found.head <= lowest[level] + SAME * instruments.head_reading)
    if np.all(kept):
        return found
    text = (
        f"{rows_named(found.row[~kept])} left out: no water came, and at that voltage none came lower down either; only the "
        "lowest such height tells where the pump stops."
    )
    note = Note("above_shut_off", "info", text, "log")
    remaining = found.only(kept)
    return Readings(**{**vars(remaining), "notes": (*found.notes, note)})


def rows_named(row: NDArray[np.int64]) -> str:
    """The rows a sentence is about, at most five of them, with the verb.

    Examples
    --------
    >>> rows_named(np.array([7])), rows_named(np.array([2, 3, 9]))
    ('Row 7 was', 'Rows 2, 3 and 9 were')
    """
    names = [str(int(number)) for number in row[:5]]
    if len(names) == 1:
        return f"Row {names[0]} was"
    last = f"{len(row) - 4} more" if len(row) > 5 else names[-1]
    return f"Rows {', '.join(names[: 4 if len(row) > 5 else -1])} and {last} were"


def voltage_width(voltage: Array, instruments: Instruments) -> Array:
    """How far two voltages may differ and still be the same [V]."""
    return np.asarray(SAME * meter_uncertainty(voltage, instruments.voltage_share, instruments.voltage_digit))


def same(values: Array, width: Array) -> NDArray[np.int64]:
    """Number the groups of values that lie within a width of the smallest of their group.

    Examples
    --------
    >>> same(np.array([9.0, 12.0, 9.1, 6.0]), np.full(4, 0.15))
    array([1, 2, 1, 0])
    """
    order = np.argsort(values, kind="stable")
    ranked, widths = values[order].tolist(), width[order].tolist()
    starts = []
    first = 0
    while first < len(ranked):
        starts.append(first)
        first = bisect_right(ranked, ranked[first] + widths[first], first + 1)
    marks = np.zeros(len(ranked), dtype=np.int64)
    marks[starts[1:]] = 1
    group = np.empty(len(ranked), dtype=np.int64)
    group[order] = np.cumsum(marks)
    return group


def settings_of(found: Readings, instruments: Instruments) -> Settings:
    """Group the readings and take the means."""
    level = same(found.voltage, voltage_width(found.voltage, instruments))
    span = 2 * (found.height.max() + 1)
    spread = level * span + found.height
    member = same(spread, np.full(len(spread), SAME * instruments.head_reading))
    count = np.bincount(member)

    def mean(values: Array) -> Array:
        return np.asarray(np.bincount(member, values) / count)

    flow = mean(found.flow)
    squares = np.bincount(member, (found.flow - flow[member]) ** 2)
    freedom = np.maximum(count - 1, 1)
    scatter = np.sqrt(squares / freedom) * np.where(count > 1, small_sample(freedom), 0.0)
    reading = np.sqrt(mean(found.chance**2))
    chance = np.asarray(chance_share(reading, scatter, count.astype(float)))
    wet = np.where(flow > 0, flow, 1.0)
    share = np.asarray(flow_share(chance / wet, instruments.volume_calibration))
    whole = np.where(flow > 0, share * wet, chance)
    names = {name: number for number, name in enumerate(dict.fromkeys(found.team))}
    pairs = np.unique(np.stack([member, [names[name] for name in found.team]]), axis=1)
    return Settings(
        voltage=mean(found.voltage),
        current=mean(found.current),
        height=mean(found.height),
        head=mean(found.head),
        flow=flow,
        repeats=count,
        teams=np.bincount(pairs[0], minlength=len(count)),
        scatter=np.where(flow > 0, scatter / wet, 0.0),
        chance=chance,
        uncertainty=whole,
        reading=reading,
        level=np.asarray(mean(level.astype(float)).round(), dtype=np.int64),
        member=member,
    )


def slips(found: Readings) -> NDArray[np.bool_]:
    """Which rows are suspected of a gross slip (a decimal point, a swapped pair), by what most rows have in common.

    Least median of squares: many small groups of rows each draw a rough curve of head and of current over the pump's state;
    the curve to which half of all rows lie nearest is taken, and rows far from it are suspected. Half of the rows could be
    wrong without moving it. The groups are drawn by a fixed rule, so that the same log gives the same answer.
    """
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
