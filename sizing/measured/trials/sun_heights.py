"""Heights of the sun by a sighting instrument, or by a stick and its shadow, beside the computed ones."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.aligned_numbers import give_or_take
from sizing.foundation.csv_file import RowProblem
from sizing.foundation.formats import figures, quantity
from sizing.foundation.working import Worked, formula, work
from sizing.measured.day.clear_day import ClearDay, Expected, expected
from sizing.measured.logs.instruments import Instruments, small_sample
from sizing.measured.logs.logs import TurnLog
from sizing.place.horizon_survey import altitude_from_shadow

Array = NDArray[np.float64]

MINUTE = 1 / 60
"""[h]"""
APART = 2.0
"""[1] Beyond so many standard uncertainties something is off."""
DOWN = 2.0
"""[deg] Below this a height of the sun is no reading of it."""
LEAST_MINUTES = 4.0
"""[min] A smaller shift of the clock is nobody's concern."""


@dataclass(frozen=True, eq=False)
class SunHeights:
    """Rows with a height of the sun [deg]: measured, its standard uncertainty, computed, and what their differences tell.

    ``offset`` [deg] is how much too high all were read, ``minutes`` how far the clock is ahead; each with its standard
    uncertainty. Minutes are ``None`` where the readings cannot tell them from an offset.
    """

    row: NDArray[np.int64]
    by_shadow: NDArray[np.bool_]
    measured: Array
    uncertainty: Array
    computed: Array
    offset: float
    offset_uncertainty: float
    minutes: float | None
    minutes_uncertainty: float
    sentences: tuple[str, ...]
    working: tuple[Worked, ...]


@formula(
    "degrees(sqrt((shadow * stick_uncertainty)**2 + (stick * stick_uncertainty)**2) / (stick**2 + shadow**2))",
    unit="deg",
    source="jcgm_100",
)
def shadow_altitude_uncertainty(stick: Array | float, shadow: Array | float, stick_uncertainty: float) -> Array | float:
    """Standard uncertainty of a height of the sun [deg] from a stick and its shadow [m], each read so well [m].

    Examples
    --------
    >>> float(shadow_altitude_uncertainty(1.0, 0.577, 0.01))
    0.496
    """
    both = np.sqrt((shadow * stick_uncertainty) ** 2 + (stick * stick_uncertainty) ** 2)
    return np.degrees(both / (stick**2 + shadow**2))


def sun_is_down(found: Expected) -> NDArray[np.bool_]:
    """Where the computed sun is so far below the level that no clock a little off lifts it."""
    return np.asarray(found.sun_altitude < -DOWN)


def heights_at_night(log: TurnLog, found: Expected) -> tuple[RowProblem, ...]:
    """Rows with a height of the sun although it is down."""
    sighted = ~np.isnan(log.sun_height) | (~np.isnan(log.stick) & ~np.isnan(log.shadow))
    why = "the sun is down there on that day at that hour; check both, and the time zone; its height is left out"
    return tuple(RowProblem(int(log.row[at]), "", why) for at in np.flatnonzero(sighted & sun_is_down(found)))


def sun_heights(log: TurnLog, clear_day: ClearDay, found: Expected, instruments: Instruments) -> SunHeights | None:
    """The heights of a log; ``None`` where it holds none that was read by day."""
    shadowed = ~np.isnan(log.stick) & ~np.isnan(log.shadow)
    by_shadow = np.isnan(log.sun_height) & shadowed
    at = np.flatnonzero((~np.isnan(log.sun_height) | shadowed) & ~sun_is_down(found))
    if len(at) == 0:
        return None
    stick, shadow, by = log.stick[at], log.shadow[at], by_shadow[at]
    measured = np.where(by, altitude_from_shadow(stick, shadow), log.sun_height[at])
    spread = np.where(by, shadow_altitude_uncertainty(stick, shadow, instruments.stick_reading), instruments.sun_height_reading)
    computed = found.sun_altitude[at]
    days, hours = [log.day[index] for index in at], log.hour[at]
    later = expected(clear_day, days, np.minimum(hours + MINUTE, 24 - 1e-6)).sun_altitude
    away, rate = measured - computed, later - computed
    offset, minutes = offset_and_shift(away, spread, rate)
    return SunHeights(
        log.row[at],
        by,
        measured,
        spread,
        computed,
        *offset,
        *minutes,
        told(away, offset, minutes),
        worked(measured, computed),
    )


def offset_and_shift(away: Array, spread: Array, rate: Array) -> tuple[tuple[float, float], tuple[float | None, float]]:
    """A common offset [deg] and a shift of the clock [min] that fit the differences best, each with its uncertainty.

    Parameters
    ----------
    away : measured less computed [deg]; spread : its standard uncertainty [deg]
    rate : by how much the computed height changes in a minute [deg/min]

    Examples
    --------
    >>> rate = np.array([0.15, 0.1, -0.1, -0.15])
    >>> offset, shift = offset_and_shift(0.5 + 20 * rate, np.full(4, 0.3), rate)
    >>> round(offset[0], 6), round(shift[0], 6)
    (0.5, 20.0)
    """
    weight = 1 / spread**2
    alone = float(np.sum(weight * away) / np.sum(weight))
    if len(away) < 4 or np.ptp(rate) < 0.1:
        widened = widening(away - alone, spread, len(away) - 1)
        return (alone, widened / float(np.sqrt(np.sum(weight)))), (None, 0.0)
    design = np.array([np.ones(len(away)), rate]).T
    inverse = np.linalg.inv(design.T @ (weight[:, None] * design))
    found = inverse @ (design.T @ (weight * away))
    widened = widening(away - design @ found, spread, len(away) - 2)
    off = np.sqrt(np.diag(inverse)) * widened
    return (float(found[0]), float(off[0])), (float(found[1]), float(off[1]))


def widening(rest: Array, spread: Array, freedom: int) -> float:
    """How much wider the uncertainties are where the readings scatter more than they should."""
    if freedom < 1:
        return 1.0
    scatter = float(np.sqrt(np.sum((rest / spread) ** 2) / freedom))
    return max(scatter, 1.0) * (float(small_sample(freedom)) if scatter > 1 else 1.0)


def told(away: Array, offset: tuple[float, float], minutes: tuple[float | None, float]) -> tuple[str, ...]:
    """What the differences say, in sentences."""
    count = "One height" if len(away) == 1 else f"{len(away)} heights"
    typical = quantity(float(np.sqrt(np.mean(away**2))), "deg", 2)
    said = [
        f"{count} of the sun {'was' if len(away) == 1 else 'were'} measured, {typical} from the computed ones (root mean square)."
    ]
    size, spread = offset
    if abs(size) > APART * spread:
        side = "high" if size > 0 else "low"
        said.append(
            f"They were read {give_or_take(abs(size), spread, f'too {side} throughout', 'deg')}: look at the instrument’s zero "
            "and its plumb line, or whether the stick leans and the ground slopes."
        )
    else:
        side = "high" if size > 0 else "low"
        said.append(f"No offset that all share shows: {give_or_take(abs(size), spread, f'too {side}', 'deg')}.")
    shift, unsure = minutes
    if shift is None:
        said.append("Readings in the morning and in the afternoon would tell whether the clock was right.")
    elif abs(shift) > max(APART * unsure, LEAST_MINUTES):
        side = "behind" if shift > 0 else "ahead"
        hour = " An hour is summer time." if 45 < abs(shift) < 75 else ""
        said.append(
            f"The clock was {give_or_take(abs(shift), unsure, side, 'min')}: look at the clock, the "
            f"time zone and the longitude.{hour}"
        )
    else:
        said.append(f"The clock was right to {figures(max(APART * unsure, 1.0), 2)} minutes.")
    return tuple(said)


def worked(measured: Array, computed: Array) -> tuple[Worked, ...]:
    """The first difference, as a sum."""
    first = work(
        height_difference,
        measured_height=Worked("measured_height", float(measured[0]), "deg", "measured"),
        computed_height=Worked(
            "computed_height",
            float(computed[0]),
            "deg",
            "computed",
            "reda_andreas_2008",
            "",
            "At that minute, lifted by the air.",
        ),
    )
    return (first,)


@formula("measured_height - computed_height", unit="deg", source="jcgm_100")
def height_difference(measured_height: float, computed_height: float) -> float:
    """How much higher the sun was measured than computed [deg].

    Examples
    --------
    >>> height_difference(41.0, 39.888)
    1.112
    """
    return measured_height - computed_height
