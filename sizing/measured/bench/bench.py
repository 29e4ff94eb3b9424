"""A bench test from its readings to a pump: flows, fit, what stands apart, the curve, the pump for the design file."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sizing.design.design import PumpInput
from sizing.foundation.errors import Note, SizingError, input_error
from sizing.foundation.formats import figures, quantity
from sizing.hydraulic.pipes import Pipe
from sizing.hydraulic.pump import Pump
from sizing.hydraulic.water import density
from sizing.measured.bench.advice import Further, further_readings
from sizing.measured.bench.bucket import fill_notes
from sizing.measured.bench.curves import Curve, curve_at, states
from sizing.measured.bench.fit import Fit, fit_bench
from sizing.measured.bench.measured_pump import Asked, LabelComparison, compared, first_state, motor_uncertainty, pump_of_bench
from sizing.measured.bench.residuals import (
    MOST_APART,
    Apart,
    Residuals,
    TeamOff,
    apart_of,
    judged,
    refined,
    residuals,
    scatter_of,
    teams_compared,
)
from sizing.measured.bench.sentences import apart_notes, fit_notes, left_out_note, team_notes
from sizing.measured.bench.settings import Readings, Settings, readings_of, settings_of, slips
from sizing.measured.logs.instruments import USUAL, Instruments
from sizing.measured.logs.logs import BenchLog

CURVE_POINTS = 13
FARTHEST = 3.0
"""A pump’s laws are not trusted over a longer way from the measured voltages than this factor."""
MOST_LEVELS = 8
"""A curve is drawn for the measured voltages up to so many."""


@dataclass(frozen=True, eq=False)
class Bench:
    """All that a bench test tells.

    ``apart_mask`` marks the readings that stand apart, ``without`` is the fit without them. ``curve`` is at rated voltage,
    ``shut_off`` its end without flow, ``levels`` at the measured voltages, ``pump`` as in a design file.
    """

    name: str
    rated_voltage: float
    instruments: Instruments
    water_density: float
    log: BenchLog
    readings: Readings
    settings: Settings
    scatter: float
    fit: Fit
    motor: tuple[float, float]
    misses: Residuals
    apart_mask: NDArray[np.bool_]
    apart: tuple[Apart, ...]
    without: Fit | None
    teams: tuple[TeamOff, ...]
    curve: Curve
    shut_off: Curve
    levels: tuple[Curve, ...]
    pump: PumpInput
    label: LabelComparison | None
    further: tuple[Further, ...]
    notes: tuple[Note, ...]


def bench_of(
    log: BenchLog,
    rated_voltage: float,
    instruments: Instruments = USUAL,
    label: Pump | None = None,
    label_input: PumpInput | None = None,
    name: str = "measured pump",
    water_temperature: float = 15.0,
    lift: float | None = None,
    hose: Pipe | None = None,
    day: str | None = None,
) -> Bench:
    """What a bench test tells of a pump.

    Parameters
    ----------
    rated_voltage : [V] at which the pump's points are given
    label, label_input : the pump as its label has it, for comparison and for what a bench cannot tell; one known by its
        power has no curve at a voltage to compare with
    water_temperature : [Cel] 0 to 40
    lift : [m] of the design, at which the flow should be sure
    hose : of the bench, by ``bench_settings.hose_of``; without it heights are taken as heads
    day : of the test, like 2026-05-31, kept with the pump

    Raises
    ------
    InputError
        if the readings are too few, show one state only, or follow no pump that a design could use.
    """
    water = float(density(water_temperature))
    asked = Asked(rated_voltage, name, instruments, water, label_input, day)
    found, suspected, (settings, scatter, fit, pump) = measured(readings_of(log, instruments, hose), asked)
    misses, mask, without = judged(fit, found, suspected, instruments, scatter)
    clean = misses if without is None else residuals(without, found, instruments, scatter)
    apart, teams = apart_of(found, clean, mask), teams_compared(found, misses, mask)
    motor = motor_uncertainty(fit, instruments)
    curve = curve_of(fit, rated_voltage, instruments, water)
    shut_off = curve_at(fit, rated_voltage, np.zeros(1), instruments, water)
    notes = (
        *found.notes,
        *fit_notes(fit, found, settings, rated_voltage, scatter, motor, shut_off),
        *apart_notes(apart, *change_without(fit, without, rated_voltage)),
        *team_notes(teams),
        *fill_notes(found.fill_time[found.flow > 0], settings.repeats),
    )
    return Bench(
        name,
        rated_voltage,
        instruments,
        water,
        log,
        found,
        settings,
        scatter,
        fit,
        motor,
        misses,
        mask,
        apart,
        without,
        teams,
        curve,
        shut_off,
        levels_of(fit, settings, instruments, water),
        pump,
        None if label is None or label.table is not None else compared(fit, label, label_input, instruments, water),
        further_readings(fit, settings, rated_voltage, instruments, lift, hose),
        notes,
    )


Made = tuple[Settings, float, Fit, PumpInput]


def measured(found: Readings, asked: Asked) -> tuple[Readings, NDArray[np.bool_], Made]:
    """A pump from all readings, with those suspected of a slip; only where there is none, from the others alone."""
    suspected = slips(found)
    try:
        return found, suspected, made(found, asked)
    except SizingError:
        if not np.any(suspected):
            raise
        apart, _ = refined(found, suspected, asked.instruments)
        if not np.any(apart) or np.mean(apart) > MOST_APART:
            raise
        others = found.only(~apart)
        result = made(others, asked)
        kept = replace(others, notes=(*others.notes, left_out_note(found, apart)))
        return kept, np.zeros(len(kept.row), dtype=bool), result


def made(found: Readings, asked: Asked) -> Made:
    """Settings, scatter, fit and pump of readings."""
    settings = settings_of(found, asked.instruments)
    near_enough(settings, asked.voltage)
    scatter = scatter_of(found, settings)
    fit = fit_bench(settings, asked.instruments, scatter)
    return settings, scatter, fit, pump_of_bench(fit, asked, len(found.row))


def near_enough(settings: Settings, voltage: float) -> None:
    """Refuse a rated voltage so far from all measured ones that the columns or the rated voltage must be wrong."""
    low, high = float(settings.voltage.min()), float(settings.voltage.max())
    if low / FARTHEST <= voltage <= high * FARTHEST:
        return
    detail = (
        f"the pump was measured at {figures(low)} to {quantity(high, 'V')} and its rated voltage is {quantity(voltage, 'V')}, "
        f"more than {FARTHEST:g} times away; check the rated voltage, and whether volts and amperes are in each other’s columns"
    )
    raise input_error("log", "voltage_too_far", detail, low / FARTHEST, high * FARTHEST)


def curve_of(fit: Fit, voltage: float, instruments: Instruments, density: float) -> Curve:
    """The curve at one voltage, evenly in the pump's states, over what was measured."""
    return curve_at(fit, voltage, states(fit, voltage, CURVE_POINTS, first_state(fit))[0], instruments, density)


def levels_of(fit: Fit, settings: Settings, instruments: Instruments, density: float) -> tuple[Curve, ...]:
    """Curves at the measured voltages, the lowest first; of many voltages some, evenly."""
    count = np.bincount(settings.level)
    means = np.bincount(settings.level, settings.voltage) / count
    if len(means) > MOST_LEVELS:
        means = means[np.unique(np.linspace(0, len(means) - 1, MOST_LEVELS).round().astype(int))]
    return tuple(curve_of(fit, float(voltage), instruments, density) for voltage in means)


def change_without(fit: Fit, without: Fit | None, voltage: float) -> tuple[tuple[float, float] | None, float]:
    """What leaving out the readings that stand apart does to shut-off head and flow half-way up, as shares; to the ranges."""
    if without is None:
        return None, 1.0
    try:
        curves = [states(one, voltage) for one in (fit, without)]
    except SizingError:
        return None, 1.0
    ends = [(float(heads[0]), flows, heads) for flows, heads, _ in curves]
    middle = 0.5 * ends[0][0]
    first, second = (float(np.interp(middle, heads[::-1], flows[::-1])) for _, flows, heads in ends)
    return (ends[1][0] / ends[0][0] - 1, second / first - 1), float(np.sqrt(without.widening / fit.widening))
