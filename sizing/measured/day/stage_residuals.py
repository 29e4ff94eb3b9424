"""Predicted against measured, stage by stage: each stage is asked only what it does with what was measured before it.

A wrong panel makes the whole fountain weaker, and yet its pump may do exactly what it should with the volts that it gets.
So each stage is judged by the readings at its own two ends: the sun by its height; panel and light by whether the amperes
fit the volts under that sun; the motor by the amperes at the volts; pump and pipe by the flow at the volts; the outlet by
the jet at the flow. What lies beyond two combined standard uncertainties is in doubt, and so are sun and light that drift
through the day: a panel turned too far east gives more in the morning and less in the afternoon.
"""

import numpy as np
from numpy.typing import NDArray

from sizing.electric.panel import open_circuit_voltage
from sizing.electric.single_diode import at_conditions
from sizing.foundation.errors import SizingError
from sizing.hydraulic.outlet import jet_height
from sizing.light.clear_sky import CLEAR_SKY_SHARE
from sizing.measured.day.clear_day import ClearDay, Expected
from sizing.measured.day.stage_residual import StageResidual, judged, mean_of, with_drift
from sizing.measured.logs.instruments import Instruments
from sizing.measured.logs.logs import SheetLog
from sizing.operation.operating_point import OperatingGrid, irradiance_needed
from sizing.uncertainty.causes import after_the_sky
from sizing.uncertainty.perturbed import MOVES, Moved, watched_steps
from sizing.uncertainty.uncertainty import together

Array = NDArray[np.float64]

STAGES = ("sun", "panel", "motor", "pump", "outlet")
JET_READING = 0.03
"""[m] A jet's top dances; read against a stick (common practice, no source)."""
FLOW_READING = 0.02
"""[1] One filling of a bucket by chance, its mark apart (common practice, no source)."""
SKY_DRIFT = CLEAR_SKY_SHARE / 6
"""[1/h] Haze comes or goes through half a day by as much as it differs from day to day (common practice, no source)."""
CELL_READING = 3.0
"""[K] Cells are so much warmer or colder than computed, as the wind blows (common practice, no source)."""
SUN_READING = 0.1
"""[deg] Computed height of the sun, for minutes of the clock."""
STEEP = 0.93
"""[1] Nearer to the open-circuit voltage than this the amperes say little of the light."""


def doubts(lesson: ClearDay, log: SheetLog, found: Expected, instruments: Instruments) -> tuple[StageResidual, ...]:
    """Judge every stage by the readings at its two ends; a lip has none, for nobody measures the water's sheet.

    Parameters
    ----------
    found : what is expected at each row of the log
    """
    clear = np.array([sky != "clouds" for sky in log.sky], dtype=bool)
    judged_stages = (
        of_the_sun(log, found, instruments),
        of_the_panel(lesson, log, found, instruments, clear),
        *of_motor_and_pump(lesson, log, instruments),
    )
    return (*judged_stages, of_the_outlet(lesson, log, instruments)) if lesson.has_jet else judged_stages


def of_the_sun(log: SheetLog, found: Expected, instruments: Instruments) -> StageResidual:
    """Height of the sun: clock, day and place, and the instrument itself."""
    read = ~np.isnan(log.sun_height)
    away = (log.sun_height - found.sun_altitude)[read]
    chance = np.full(len(away), instruments.sun_height_reading)
    found_off = judged("sun", log.row[read], away, 0.0, SUN_READING, chance)
    return with_drift(found_off, [log.day[row] for row in np.flatnonzero(read)], log.hour[read], chance, 0.0)


def of_the_panel(
    lesson: ClearDay, log: SheetLog, found: Expected, instruments: Instruments, clear: NDArray[np.bool_]
) -> StageResidual:
    """Light in the cells that the panel's volts and amperes tell, over that of a clear sky."""
    read = clear & ~np.isnan(log.voltage) & ~np.isnan(log.current) & (found.effective > 0)
    panel, at = lesson.fountain.supply.panel, np.flatnonzero(read)
    flat = log.voltage[at] < STEEP * np.asarray(
        open_circuit_voltage(at_conditions(panel, found.effective[at], found.cell_temperature[at]))
    )
    at = at[flat & (log.current[at] > 0)]
    cells, volts, amperes, light = found.cell_temperature[at], log.voltage[at], log.current[at], found.effective[at]
    told = irradiance_needed(panel, cells, volts, amperes)
    alone = (
        irradiance_needed(panel, cells, volts + instruments.voltage_digit, amperes),
        irradiance_needed(panel, cells, volts, amperes + instruments.current_digit),
        irradiance_needed(panel, cells + CELL_READING, volts, amperes),
    )
    chance = together(np.array([(other - told) / light for other in alone]))
    shares = (
        irradiance_needed(panel, cells, volts * (1 + instruments.voltage_share), amperes),
        irradiance_needed(panel, cells, volts, amperes * (1 + instruments.current_share)),
    )
    own = [cause for cause in after_the_sky(lesson.design, lesson.fountain, 0.0) if cause.key in ("soiling", "panel")]
    meters = [mean_of((other - told) / light) for other in shares]
    common = float(together(np.array([CLEAR_SKY_SHARE, *meters, *(max(cause.below, cause.above) for cause in own)])))
    found_off = judged("panel", log.row[at], told / light, 1.0, common, chance)
    return with_drift(found_off, [log.day[row] for row in at], log.hour[at], chance, SKY_DRIFT)


def of_motor_and_pump(lesson: ClearDay, log: SheetLog, instruments: Instruments) -> tuple[StageResidual, StageResidual]:
    """Amperes and flow at the volts that the motor gets; behind a controller, flow at the watts that it passes on."""
    supply = lesson.fountain.supply
    by_power = supply.controller_efficiency is not None
    rows = np.flatnonzero((log.voltage > 0) & (log.current > 0))
    volts, amperes = log.voltage[rows], log.current[rows]
    drive = volts - amperes * supply.cable_resistance
    if supply.controller_efficiency is not None:
        drive = supply.controller_efficiency * volts * amperes
    line = driven_line(lesson.solved, by_power)
    moves = moved_lines(lesson)
    inside = (drive >= line[0][0]) & (drive <= line[0][-1])
    share = np.hypot(instruments.voltage_share, instruments.current_share if by_power else 0.0) * drive
    digit = drive * together(np.array([instruments.voltage_digit / volts, by_power * instruments.current_digit / amperes]))
    results = []
    for stage, at, values, of_all, of_each in (
        ("motor", 1, amperes, instruments.current_share, instruments.current_digit / amperes),
        ("pump", 2, log.flow[rows], instruments.volume_calibration, np.full(len(rows), FLOW_READING)),
    ):
        use = inside & ~np.isnan(values)
        if stage == "motor" and by_power:
            use = np.zeros_like(use)
        computed = np.interp(drive, line[0], line[at])
        use &= computed > 0
        ratio = values[use] / computed[use]
        by_share, by_digit = (
            (np.interp(drive + step, line[0], line[at]) - computed)[use] / computed[use] for step in (share, digit)
        )
        chance = np.hypot(of_each[use], by_digit)
        changes = [np.interp(drive[use], other[0], other[at]) / computed[use] - 1 for other in moves]
        common = mean_of(together(np.array([*changes, by_share, np.full(len(ratio), of_all)])))
        results.append(judged(stage, log.row[rows[use]], ratio, 1.0, common, chance))
    return results[0], results[1]


def driven_line(solved: OperatingGrid, by_power: bool) -> tuple[Array, Array, Array]:
    """What drives the motor (volts, or watts behind a controller), rising, and its amperes and flow there."""
    line = solved.line
    drive = line.voltage * line.current if by_power else line.voltage
    rising = drive >= np.maximum.accumulate(drive)
    return drive[rising], line.current[rising], line.flow[rising]


def moved_lines(lesson: ClearDay) -> list[tuple[Array, Array, Array]]:
    """The line with each cause of pump, pipe and outlet moved to its larger side."""
    by_power = lesson.fountain.supply.controller_efficiency is not None
    light = (np.array([500.0]), np.array([30.0]), np.array([15.0]))
    chosen = watched_steps(lesson.fountain, lesson.solved, *light, np.zeros(0, dtype=np.int64), 1.0)
    lines: list[tuple[Array, Array, Array]] = []
    for cause in after_the_sky(lesson.design, lesson.fountain, 0.0):
        if cause.key in ("winding", "no_load", "pump_head", "pump_flow", "fittings", "bore") and cause.above > 0:
            try:
                moved: Moved = MOVES[cause.key](chosen, lesson.fountain, lesson.design, cause.above)
            except SizingError:
                continue
            lines.append(driven_line(moved.solved, by_power))
    return lines


def of_the_outlet(lesson: ClearDay, log: SheetLog, instruments: Instruments) -> StageResidual:
    """Jet over the flow that was measured."""
    read = ~np.isnan(log.jet) & ~np.isnan(log.flow) & (log.flow > 0)
    flow, outlet = log.flow[read], lesson.fountain.waterway.outlet
    computed = np.asarray(jet_height(outlet, flow))
    good = computed > 0
    flow, computed, jet = flow[good], computed[good], log.jet[read][good]
    by_filling, by_mark = (
        (np.asarray(jet_height(outlet, flow * (1 + share))) - computed) / computed
        for share in (FLOW_READING, instruments.volume_calibration)
    )
    chance = np.hypot(by_filling, JET_READING / computed)
    own = [
        max(cause.below, cause.above)
        for cause in after_the_sky(lesson.design, lesson.fountain, float(computed.max(initial=0.0)))
        if cause.key == "jet_formula"
    ]
    common = float(together(np.array([*own, mean_of(by_mark)])))
    return judged("outlet", log.row[read][good], jet / computed, 1.0, common, chance)
