"""Predicted against measured, stage by stage: each stage is asked only what it does with what was measured before it.

A wrong panel makes the whole fountain weaker, and yet its pump may do exactly what it should with the volts that it gets.
So each stage is judged by the readings at its own two ends: the sun by its height; panel and light by whether the amperes
fit the volts under that sun; the motor by the amperes at the volts; pump and pipe by the flow at the volts; the outlet by
the jet at the flow. What lies beyond two combined standard uncertainties is in doubt, and so are sun and light that drift
through the day: a panel turned too far east gives more in the morning and less in the afternoon.
"""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sizing.design.design import NozzleOutlet
from sizing.electric.panel import open_circuit_voltage
from sizing.electric.single_diode import at_conditions
from sizing.foundation.errors import SizingError
from sizing.foundation.working import Worked, assumed, by_method, formula, work
from sizing.hydraulic.nozzle_kinds import nozzle_coefficients
from sizing.hydraulic.outlet import Nozzle, jet_height
from sizing.light.clear_sky import CLEAR_SKY_SHARE
from sizing.measured.day.clear_day import ClearDay, Expected
from sizing.measured.logs.instruments import Instruments, small_sample
from sizing.measured.logs.logs import SheetLog
from sizing.operation.operating_point import OperatingGrid, irradiance_needed
from sizing.uncertainty.causes import after_the_sky, of_the_nozzle
from sizing.uncertainty.perturbed import MOVES, Moved, watched_steps
from sizing.uncertainty.uncertainty import together

Array = NDArray[np.float64]

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


def stage_residuals(clear_day: ClearDay, log: SheetLog, found: Expected, instruments: Instruments) -> tuple[StageResidual, ...]:
    """Judge every stage by the readings at its two ends; a lip has none, for nobody measures the water's sheet.

    Parameters
    ----------
    found : what is expected at each row of the log
    """
    clear = np.array([sky != "clouds" for sky in log.sky], dtype=bool)
    judged_stages = (
        of_the_sun(log, found, instruments),
        of_the_panel(clear_day, log, found, instruments, clear),
        *of_motor_and_pump(clear_day, log, instruments),
    )
    return (*judged_stages, of_the_outlet(clear_day, log, instruments)) if clear_day.has_jet else judged_stages


def of_the_sun(log: SheetLog, found: Expected, instruments: Instruments) -> StageResidual:
    """Height of the sun: clock, day and place, and the instrument itself."""
    read = ~np.isnan(log.sun_height)
    away = (log.sun_height - found.sun_altitude)[read]
    chance = np.full(len(away), instruments.sun_height_reading)
    found_off = judged("sun", log.row[read], away, 0.0, SUN_READING, chance)
    return with_drift(found_off, [log.day[row] for row in np.flatnonzero(read)], log.hour[read], chance, 0.0)


def of_the_panel(
    clear_day: ClearDay, log: SheetLog, found: Expected, instruments: Instruments, clear: NDArray[np.bool_]
) -> StageResidual:
    """Light in the cells that the panel's volts and amperes tell, over that of a clear sky."""
    read = clear & ~np.isnan(log.voltage) & ~np.isnan(log.current) & (found.effective > 0)
    panel, at = clear_day.fountain.supply.panel, np.flatnonzero(read)
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
    own = [cause for cause in after_the_sky(clear_day.design, clear_day.fountain, 0.0) if cause.key in ("soiling", "panel")]
    meters = [mean_of((other - told) / light) for other in shares]
    common = float(together(np.array([CLEAR_SKY_SHARE, *meters, *(max(cause.below, cause.above) for cause in own)])))
    found_off = judged("panel", log.row[at], told / light, 1.0, common, chance)
    return with_drift(found_off, [log.day[row] for row in at], log.hour[at], chance, SKY_DRIFT)


def of_motor_and_pump(clear_day: ClearDay, log: SheetLog, instruments: Instruments) -> tuple[StageResidual, StageResidual]:
    """Amperes and flow at the volts that the motor gets; behind a controller, flow at the watts that it passes on."""
    supply = clear_day.fountain.supply
    by_power = supply.controller_efficiency is not None
    rows = np.flatnonzero((log.voltage > 0) & (log.current > 0))
    volts, amperes = log.voltage[rows], log.current[rows]
    drive = volts - amperes * supply.cable_resistance
    if supply.controller_efficiency is not None:
        drive = supply.controller_efficiency * volts * amperes
    line = driven_line(clear_day.solved, by_power)
    moves = moved_lines(clear_day)
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


def moved_lines(clear_day: ClearDay) -> list[tuple[Array, Array, Array]]:
    """The line with each cause of pump, pipe and outlet moved to its larger side."""
    by_power = clear_day.fountain.supply.controller_efficiency is not None
    light = (np.array([500.0]), np.array([30.0]), np.array([15.0]))
    chosen = watched_steps(clear_day.fountain, clear_day.solved, *light, np.zeros(0, dtype=np.int64), 1.0)
    lines: list[tuple[Array, Array, Array]] = []
    for cause in after_the_sky(clear_day.design, clear_day.fountain, 0.0):
        if (
            cause.key in ("winding", "no_load", "pump_head", "pump_flow", "hose", "fittings", "bore", "nozzle")
            and cause.above > 0
        ):
            try:
                moved: Moved = MOVES[cause.key](chosen, clear_day.fountain, clear_day.design, cause.above)
            except SizingError:
                continue
            lines.append(driven_line(moved.solved, by_power))
    return lines


def kind_of_nozzle(clear_day: ClearDay, flow: Array, computed: Array) -> list[float]:
    """What the kind of nozzle may do to a jet at a measured flow, over the jet: the root mean square of both sides."""
    given, outlet = clear_day.design.outlet, clear_day.fountain.waterway.outlet
    if not (isinstance(given, NozzleOutlet) and isinstance(outlet, Nozzle)) or len(flow) == 0:
        return []
    cause = of_the_nozzle(clear_day.design)
    typed = (given.nozzle_kind, given.discharge_coefficient, given.velocity_coefficient)
    changes = []
    for toward in (-cause.below, cause.above):
        share, speed = nozzle_coefficients(*typed, toward=toward)
        other = replace(outlet, discharge_coefficient=share, velocity_coefficient=speed)
        changes.append(mean_of(np.asarray(jet_height(other, flow)) / computed - 1))
    return [float(together(np.array(changes))) / 2**0.5]


def of_the_outlet(clear_day: ClearDay, log: SheetLog, instruments: Instruments) -> StageResidual:
    """Jet over the flow that was measured."""
    read = ~np.isnan(log.jet) & ~np.isnan(log.flow) & (log.flow > 0)
    flow, outlet = log.flow[read], clear_day.fountain.waterway.outlet
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
        for cause in after_the_sky(clear_day.design, clear_day.fountain, float(computed.max(initial=0.0)))
        if cause.key == "jet_formula"
    ]
    own += kind_of_nozzle(clear_day, flow, computed)
    common = float(together(np.array([*own, mean_of(by_mark)])))
    return judged("outlet", log.row[read][good], jet / computed, 1.0, common, chance)
