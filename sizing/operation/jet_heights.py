"""The heights of one fountain's jet, each with its own name: a usual day's, a clear day's, and the highest of the year."""

from dataclasses import dataclass

from sizing.operation.operating_point import OperatingPoints
from sizing.operation.year import BRIGHT, Year, day_of_kind, step_at
from sizing.sky.weather import Sky


@dataclass(frozen=True)
class JetHeights:
    """Heights above the outlet [m]: ``usual`` at the best hour (``hour``, 0..23) of a usual day of the best month (``month``,
    1..12), ``clear`` at the same hour of a clear day of it, ``highest`` of the whole year."""

    month: int
    hour: int
    usual: float
    clear: float
    highest: float


def jet_heights(sky: Sky, year: Year, operation: OperatingPoints) -> JetHeights:
    """The heights of a finished year; zeros where no jet rises."""
    best = max(year.months, key=lambda month: (month.water, month.poa_insolation))
    hour = best.best_hour if best.flow > 0 else 12
    day = day_of_kind(sky, best.month, BRIGHT, hour + 1e-9)
    clear = float(operation.jet[step_at(sky, day, hour + 1e-9)])
    return JetHeights(best.month, hour, best.jet, clear, float(operation.jet.max()))
