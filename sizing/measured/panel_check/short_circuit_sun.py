"""The panel as its own light meter: the sun that a short circuit tells, and the curve's shape at that sun.

Haze and dirt scale the current; shade and bad joints change the shape of the curve. Beside the label's curve at the very sun
that the short circuit tells, only the shape is left; this needs no clear sky.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.constants import REFERENCE_CELL_TEMPERATURE, REFERENCE_IRRADIANCE
from sizing.foundation.working import formula
from sizing.measured.day.stage_residuals import CELL_READING
from sizing.measured.panel_check.points import DARK, LABEL_SHARE, Beside, Kind, Readings, beside_label
from sizing.measured.panel_check.shapes import Labelled
from sizing.uncertainty.causes import rectangular

Array = NDArray[np.float64]
Numeric = float | Array

HALF = 0.5
"""[1] Of less light than a clear sky's, so much warms the cells less too: haze does, dirt does not."""


@formula(
    "reference_irradiance * current / (isc + isc_temperature_coefficient * (cell_temperature - reference_cell_temperature))",
    unit="W/m2",
    source="de_soto_2006",
)
def sun_of_short_circuit(
    current: Numeric,
    isc: Numeric,
    isc_temperature_coefficient: Numeric,
    cell_temperature: Numeric,
    reference_irradiance: float = REFERENCE_IRRADIANCE,
    reference_cell_temperature: float = REFERENCE_CELL_TEMPERATURE,
) -> Numeric:
    """Sun in the cells [W/m2] that a panel's own short-circuit current tells: the panel as its own light meter.

    Parameters
    ----------
    current : with the leads joined [A]
    isc, isc_temperature_coefficient : of the label, at 1000 W/m2 and 25 Cel [A, A/K]
    cell_temperature : [Cel]

    Examples
    --------
    >>> sun_of_short_circuit(0.77, 0.92, 0.00046, 45.0)
    828.7
    """
    warming = isc_temperature_coefficient * (cell_temperature - reference_cell_temperature)
    return reference_irradiance * current / (isc + warming)


def told_share(found: Readings, label: Labelled, kind: NDArray[np.int8]) -> Array:
    """Sun that each short circuit tells, over a clear sky's; NaN for all other readings."""
    coefficient = label.diode.isc_temperature_coefficient
    told = np.asarray(sun_of_short_circuit(found.current, label.isc, coefficient, found.cell_temperature))
    short = (kind == Kind.SHORT) & (found.effective >= DARK)
    return np.where(short, told, np.nan) / np.where(short, found.effective, np.nan)


def told_by_nearest(told: Array, hour: Array, sitting: NDArray[np.int64], team: Sequence[str]) -> Array:
    """For each reading the share of the short circuit nearest in time of its own sitting; NaN where it has none.

    A team's own goes before another's, since meters differ.
    """
    found = np.full(len(hour), np.nan)
    _, who = np.unique(np.array(team), return_inverse=True)
    for group in (sitting, sitting * (int(who.max()) + 1) + who):
        near = nearest_of_group(~np.isnan(told), hour, group)
        found = np.where(near >= 0, told[near], found)
    return found


def nearest_of_group(chosen: NDArray[np.bool_], hour: Array, group: NDArray[np.int64]) -> NDArray[np.int64]:
    """For each reading which of the chosen ones of its own group is nearest in time; -1 where there is none.

    Examples
    --------
    >>> nearest_of_group(np.array([True, False, True, False]), np.array([9.0, 9.4, 9.5, 9.0]), np.array([0, 0, 0, 1]))
    array([ 0,  2,  2, -1])
    """
    place = group * 100.0 + hour
    shorts = np.flatnonzero(chosen)
    shorts = shorts[np.argsort(place[shorts], kind="stable")]
    if len(shorts) == 0:
        return np.full(len(hour), -1)
    after = np.clip(np.searchsorted(place[shorts], place), 0, len(shorts) - 1)
    before = np.maximum(after - 1, 0)
    closer = np.where(np.abs(place[shorts[before]] - place) <= np.abs(place[shorts[after]] - place), before, after)
    near = shorts[closer]
    return np.where(group[near] == group, near, -1)


def beside_told_sun(found: Readings, label: Labelled, kind: NDArray[np.int8], told: Array, digit: float) -> Beside:
    """Each reading beside the label's curve at the sun that the short circuit tells; this needs no clear sky.

    Parameters
    ----------
    told : share of a clear sky's sun, NaN where no short circuit is near
    digit : last digit of the ammeter [A]
    """
    known = ~np.isnan(told) & (kind != Kind.SHORT)
    share = np.where(known, told, 1.0)
    warmth = found.cell_temperature + HALF * (share - 1) * found.rise
    shown = np.where(known, kind, Kind.NOTHING).astype(np.int8)
    of_short = digit / np.maximum(share * label.isc * found.effective / REFERENCE_IRRADIANCE, digit)
    return beside_label(
        found, label, shown, share * found.effective, warmth, np.hypot(LABEL_SHARE, of_short), cells_spread(share, found.rise)
    )


def cells_spread(share: Array, rise: Array) -> Array:
    """Standard uncertainty of the cells' temperature [K] where only a share of a clear sky's sun gets into them: behind dirt
    they are as warm as ever, under haze cooler by as much as there is less sun, and either is as likely."""
    return np.hypot(CELL_READING, rectangular(1.0) * HALF * np.abs(share - 1) * rise)
