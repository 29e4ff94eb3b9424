"""Predicted against measured, stage by stage: each stage is asked only what it does with what was measured before it.

A wrong panel makes the whole fountain weaker, and yet its pump may do exactly what it should with the volts that it gets.
So each stage is judged by the readings at its own two ends: the sun by its height; panel and light by whether the amperes
fit the volts under that sun; the motor by the amperes at the volts; pump and pipe by the flow at the volts; the outlet by
the jet at the flow. What lies beyond two combined standard uncertainties is in doubt.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.causes import after_the_sky
from sizing.class_logs import SheetLog
from sizing.clear_sky import CLEAR_SKY_SHARE
from sizing.diode import at_conditions
from sizing.errors import SizingError
from sizing.instruments import Instruments, meter_uncertainty, small_sample
from sizing.lessons import Expected, Lesson
from sizing.moved import Moved, watched_steps
from sizing.moves import MOVES
from sizing.operating_point import Match, irradiance_needed
from sizing.outlet import jet_height
from sizing.panel import open_circuit_voltage
from sizing.uncertainty import together
from sizing.working import Worked, formula, work

Array = NDArray[np.float64]

STAGES = ("sun", "panel", "motor", "pump", "outlet")
DOUBT = 2.0
"""[1] So many combined standard uncertainties away, a stage is in doubt: one time in twenty by chance."""
JET_READING = 0.03
"""[m] A jet's top dances; read against a stick (common practice, no source)."""
FLOW_READING = 0.02
"""[1] A flow that was read with a bucket (common practice, no source)."""
CELL_READING = 3.0
"""[K] Cells are so much warmer or colder than computed, as the wind blows (common practice, no source)."""
SUN_READING = 0.1
"""[deg] Computed height of the sun, for minutes of the clock."""
STEEP = 0.93
"""[1] Nearer to the open-circuit voltage than this the amperes say little of the light."""


@dataclass(frozen=True, eq=False)
class Doubt:
    """One stage: how much was measured over what was computed from the stage before, and how sure that is.

    ``ratio`` [1], for the sun a difference [deg]; ``off`` is its distance from what was computed in combined standard
    uncertainties, ``count`` the readings behind it; ``rows`` and ``each`` are the single ones. ``None`` where nothing was read.
    """

    stage: str
    ratio: float | None
    uncertainty: float
    off: float
    count: int
    rows: NDArray[np.int64]
    each: Array
    working: tuple[Worked, ...]

    @property
    def doubtful(self) -> bool:
        """Whether it lies beyond two combined standard uncertainties."""
        return self.ratio is not None and abs(self.off) > DOUBT


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


def doubts(lesson: Lesson, log: SheetLog, found: Expected, instruments: Instruments) -> tuple[Doubt, ...]:
    """Judge every stage by the readings at its two ends.

    Parameters
    ----------
    found : what is expected at each row of the log
    """
    clear = np.array([sky != "clouds" for sky in log.sky], dtype=bool)
    return (
        of_the_sun(log, found, instruments),
        of_the_panel(lesson, log, found, instruments, clear),
        *of_motor_and_pump(lesson, log, instruments),
        of_the_outlet(lesson, log),
    )


def of_the_sun(log: SheetLog, found: Expected, instruments: Instruments) -> Doubt:
    """Height of the sun: clock, day and place, and the instrument itself."""
    read = ~np.isnan(log.sun_height)
    away = (log.sun_height - found.sun_altitude)[read]
    chance = np.full(len(away), instruments.sun_height_reading)
    return judged("sun", log.row[read], away, 0.0, SUN_READING, chance)


def of_the_panel(lesson: Lesson, log: SheetLog, found: Expected, instruments: Instruments, clear: NDArray[np.bool_]) -> Doubt:
    """Light in the cells that the panel's volts and amperes tell, over that of a clear sky."""
    read = clear & ~np.isnan(log.voltage) & ~np.isnan(log.current) & (found.effective > 0)
    panel, at = lesson.fountain.supply.panel, np.flatnonzero(read)
    flat = log.voltage[at] < STEEP * np.asarray(
        open_circuit_voltage(at_conditions(panel, found.effective[at], found.cell_temperature[at]))
    )
    at = at[flat & (log.current[at] > 0)]
    cells, volts, amperes, light = found.cell_temperature[at], log.voltage[at], log.current[at], found.effective[at]
    told = irradiance_needed(panel, cells, volts, amperes)
    more_volts = meter_uncertainty(volts, instruments.voltage_share, instruments.voltage_digit)
    more_amperes = meter_uncertainty(amperes, instruments.current_share, instruments.current_digit)
    others = (
        irradiance_needed(panel, cells, volts + more_volts, amperes),
        irradiance_needed(panel, cells, volts, amperes + more_amperes),
        irradiance_needed(panel, cells + CELL_READING, volts, amperes),
    )
    chance = together(np.array([(other - told) / light for other in others]))
    own = [cause for cause in after_the_sky(lesson.design, lesson.fountain, 0.0) if cause.key in ("soiling", "panel")]
    common = float(together(np.array([CLEAR_SKY_SHARE, *(max(cause.below, cause.above) for cause in own)])))
    return judged("panel", log.row[at], told / light, 1.0, common, chance)


def of_motor_and_pump(lesson: Lesson, log: SheetLog, instruments: Instruments) -> tuple[Doubt, Doubt]:
    """Amperes and flow at the volts that the motor gets; behind a controller, flow at the watts that it passes on."""
    supply = lesson.fountain.supply
    read = ~np.isnan(log.voltage) & ~np.isnan(log.current) & (log.current > 0)
    drive = log.voltage - log.current * supply.cable_resistance
    if supply.controller_efficiency is not None:
        drive = supply.controller_efficiency * log.voltage * log.current
    line = driven_line(lesson.solved, supply.controller_efficiency is not None)
    moves = moved_lines(lesson)
    step = drive * (instruments.voltage_share if supply.controller_efficiency is None else instruments.current_share)
    results = []
    for stage, at, values, share in (
        ("motor", 1, log.current, instruments.current_share),
        ("pump", 2, log.flow, FLOW_READING),
    ):
        use = read & ~np.isnan(values)
        if stage == "motor" and supply.controller_efficiency is not None:
            use = np.zeros_like(use)
        computed = np.interp(drive, line[0], line[at])
        use &= (computed > 0) & (drive <= line[0][-1])
        ratio = values[use] / computed[use]
        slope = (np.interp(drive + step, line[0], line[at]) - computed)[use] / computed[use]
        chance = np.hypot(share, slope)
        changes = np.array([np.interp(drive[use], other[0], other[at]) / computed[use] - 1 for other in moves])
        common = float(np.mean(together(changes))) if len(moves) and use.any() else 0.0
        results.append(judged(stage, log.row[use], ratio, 1.0, common, chance))
    return results[0], results[1]


def driven_line(solved: Match, by_power: bool) -> tuple[Array, Array, Array]:
    """What drives the motor (volts, or watts behind a controller), rising, and its amperes and flow there."""
    line = solved.line
    drive = line.voltage * line.current if by_power else line.voltage
    rising = drive >= np.maximum.accumulate(drive)
    return drive[rising], line.current[rising], line.flow[rising]


def moved_lines(lesson: Lesson) -> list[tuple[Array, Array, Array]]:
    """The line with each cause of pump, pipe and outlet moved to its larger side."""
    by_power = lesson.fountain.supply.controller_efficiency is not None
    light = (np.array([500.0]), np.array([30.0]), np.array([15.0]))
    chosen = watched_steps(lesson.fountain, lesson.solved, *light, np.zeros(0, dtype=np.int64), 1.0)
    lines = []
    for cause in after_the_sky(lesson.design, lesson.fountain, 0.0):
        if cause.key in ("winding", "no_load", "pump_head", "pump_flow", "fittings", "bore") and cause.above > 0:
            try:
                moved: Moved = MOVES[cause.key](chosen, lesson.fountain, lesson.design, cause.above)
            except SizingError:
                continue
            lines.append(driven_line(moved.solved, by_power))
    return lines


def of_the_outlet(lesson: Lesson, log: SheetLog) -> Doubt:
    """Jet over the flow that was measured."""
    read = ~np.isnan(log.jet) & ~np.isnan(log.flow) & (log.flow > 0)
    flow, outlet = log.flow[read], lesson.fountain.waterway.outlet
    computed = np.asarray(jet_height(outlet, flow))
    good = computed > 0
    flow, computed, jet = flow[good], computed[good], log.jet[read][good]
    slope = (np.asarray(jet_height(outlet, flow * (1 + FLOW_READING))) - computed) / computed
    chance = np.hypot(slope, JET_READING / computed)
    own = [
        max(cause.below, cause.above)
        for cause in after_the_sky(lesson.design, lesson.fountain, float(computed.max(initial=0.0)))
        if cause.key == "jet_formula"
    ]
    return judged("outlet", log.row[read][good], jet / computed, 1.0, float(together(np.array(own))), chance)


def judged(stage: str, rows: NDArray[np.int64], values: Array, wanted: float, common: float, chance: Array) -> Doubt:
    """The mean of a stage's readings against what is wanted.

    Parameters
    ----------
    common : standard uncertainty that all readings share
    chance : standard uncertainty of each by itself; where they scatter more than that, their scatter counts
    """
    count = len(values)
    if count == 0:
        return Doubt(stage, None, 0.0, 0.0, 0, rows, values, ())
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
    return Doubt(stage, mean, float(np.hypot(common, own)), off.value, count, rows, values, (off,))
