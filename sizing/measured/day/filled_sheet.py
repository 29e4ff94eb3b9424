"""A sheet that was filled in, beside its prediction: every reading with its range, and which stage is in residual."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.csv_file import RowProblem
from sizing.measured.day.clear_day import ClearDay, Expected, expected
from sizing.measured.day.clear_day_uncertainty import SEEN, ClearDayUncertainty, clear_day_uncertainty
from sizing.measured.day.stage_residuals import (
    FLOW_READING,
    JET_READING,
    SUN_READING,
    StageResidual,
    judged,
    mean_of,
    stage_residuals,
)
from sizing.measured.logs.instruments import USUAL, Instruments, meter_uncertainty
from sizing.measured.logs.logs import SheetLog

Array = NDArray[np.float64]

QUANTITIES = ("sun_height", *SEEN)


@dataclass(frozen=True, eq=False)
class Side:
    """One quantity, measured and predicted, arrays over the rows; NaN where nothing was read.

    ``low`` and ``high`` are the likely range of the prediction; ``below`` and ``above`` the standard uncertainty of
    measured less predicted, reading and prediction together; ``off`` their difference in those.
    """

    measured: Array
    predicted: Array
    low: Array
    high: Array
    below: Array
    above: Array

    @property
    def off(self) -> Array:
        """Measured less predicted in combined standard uncertainties, NaN where nothing was read."""
        away = self.measured - self.predicted
        return np.asarray(away / np.maximum(np.where(away < 0, self.below, self.above), 1e-12))


@dataclass(frozen=True, eq=False)
class Compared:
    """A filled sheet: its rows, what was expected, each quantity side by side, the stages along the path by themselves, and
    volts, amperes, flow and jet as wholes: what all stages together make of them."""

    clear_day: ClearDay
    log: SheetLog
    found: Expected
    sure: ClearDayUncertainty
    sides: dict[str, Side]
    stages: tuple[StageResidual, ...]
    wholes: tuple[StageResidual, ...]


def compared(clear_day: ClearDay, log: SheetLog, instruments: Instruments = USUAL) -> Compared:
    """Put what was measured beside a clear day's prediction for the same minutes.

    Parameters
    ----------
    log : rows with at least one reading each
    instruments : what the readings are good for
    """
    if not clear_day.has_jet and not np.all(np.isnan(log.jet)):
        told = "the design’s outlet is a lip, which throws no jet; this column is not compared"
        problems = (RowProblem(0, "measured_jet_height_cm", told), *log.problems)
        log = replace(log, jet=np.full(len(log.row), np.nan), problems=problems)
    found = expected(clear_day, log.day, log.hour, air_temperature=log.air_temperature)
    sure = clear_day_uncertainty(clear_day, found)
    sides = {name: side_of(name, log, found, sure, instruments) for name in QUANTITIES}
    wholes = tuple(whole_of(name, sides[name], log, sure, instruments) for name in SEEN)
    return Compared(clear_day, log, found, sure, sides, stage_residuals(clear_day, log, found, instruments), wholes)


def whole_of(name: str, side: Side, log: SheetLog, sure: ClearDayUncertainty, instruments: Instruments) -> StageResidual:
    """One quantity's mean over its prediction, from clear rows: all that is not known of the design counts in."""
    clear = np.array([sky != "clouds" for sky in log.sky], dtype=bool)
    at = np.flatnonzero(clear & ~np.isnan(side.measured) & (side.predicted > 0))
    predicted = side.predicted[at]
    ratio = side.measured[at] / predicted
    less = len(ratio) > 0 and float(np.mean(ratio)) < 1
    common = (sure.below(name) if less else sure.above(name))[at] / predicted
    chance = reading_uncertainty(name, predicted, instruments) / predicted
    return judged(name, log.row[at], ratio, 1.0, mean_of(common), chance)


def side_of(name: str, log: SheetLog, found: Expected, sure: ClearDayUncertainty, instruments: Instruments) -> Side:
    """One quantity of a filled sheet."""
    if name == "sun_height":
        spread = np.full(len(log.row), SUN_READING)
        predicted, below, above = found.sun_altitude, spread, spread
    else:
        predicted, below, above = getattr(found, name), sure.below(name), sure.above(name)
    measured = getattr(log, name)
    reading = reading_uncertainty(name, predicted, instruments)
    low = np.maximum(predicted - below, 0.0)
    return Side(measured, predicted, low, predicted + above, np.hypot(below, reading), np.hypot(above, reading))


def reading_uncertainty(name: str, value: Array, instruments: Instruments) -> Array:
    """Standard uncertainty of reading a quantity of that size, in its own unit."""
    if name == "sun_height":
        return np.full_like(value, instruments.sun_height_reading)
    if name == "voltage":
        return np.asarray(meter_uncertainty(value, instruments.voltage_share, instruments.voltage_digit))
    if name == "current":
        return np.asarray(meter_uncertainty(value, instruments.current_share, instruments.current_digit))
    return FLOW_READING * value if name == "flow" else np.full_like(value, JET_READING)
