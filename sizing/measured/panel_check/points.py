"""Readings at a panel's terminals beside its label: what kind each is, and how far off."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from sizing.electric.panel import current_at_voltage, maximum_power
from sizing.electric.single_diode import Conditions, at_conditions
from sizing.foundation.working import formula
from sizing.light.clear_sky import CLEAR_SKY_SHARE
from sizing.measured.day.stage_residuals import CELL_READING
from sizing.measured.logs.instruments import Instruments, meter_uncertainty
from sizing.measured.panel_check.shapes import Labelled, voltage_at_current

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Numeric = float | Array

ZERO_DIGITS = 2.0
"""[1] A current of so many last digits of the meter is none."""
SHORT_SHARE = 0.05
"""[1] Below this share of the label's open-circuit voltage the leads count as joined (common practice, no source)."""
DARK = 20.0
"""[W/m2] With less sun in the cells than this nothing is compared."""
MOST_VOLTS, MOST_AMPERES = 1.35, 1.6
"""[1] No sun and no cold brings a panel further above its label (cells at -25 Cel have 1.17 times the volts)."""
SITTING = 20 / 60
"""[h] Readings further apart than this were taken under another sky."""
LABEL_SHARE, LABEL_VOLTS = 0.01, 0.005
"""[1] So near a curve fitted to four printed points comes to a panel's own amperes, and volts (common practice, no source)."""


class Kind(IntEnum):
    """What a reading is."""

    OPEN = 0
    SHORT = 1
    LOADED = 2
    DARK = 3
    NOTHING = 4
    IMPOSSIBLE = 5


USED = (Kind.OPEN, Kind.SHORT, Kind.LOADED)


@dataclass(frozen=True, eq=False)
class Readings:
    """What was read and what a clear sky brings, arrays (n,): volts, amperes, sun in the cells [W/m2], cells [Cel] and how
    far they are above the air [K]; standard uncertainties of volts and amperes by the meters, the curve's own counted in."""

    voltage: Array
    current: Array
    effective: Array
    cell_temperature: Array
    rise: Array
    voltage_uncertainty: Array
    current_uncertainty: Array

    def by_chance(self, instruments: Instruments, teams: int) -> "Readings":
        """The same with what is off by chance alone, for a curve through all of them.

        A meter's share is common to all readings of one team and looks like sun or warmth; of several teams each has its own.
        """
        several = teams > 1
        volts = np.hypot(LABEL_VOLTS, instruments.voltage_share * several)
        amperes = np.hypot(LABEL_SHARE, instruments.current_share * several)
        return replace(
            self,
            voltage_uncertainty=np.asarray(meter_uncertainty(self.voltage, float(volts), instruments.voltage_digit)),
            current_uncertainty=np.asarray(meter_uncertainty(self.current, float(amperes), instruments.current_digit)),
        )

    def only(self, which: NDArray[np.bool_] | NDArray[np.int64]) -> "Readings":
        """Some of them."""
        return Readings(*(getattr(self, name)[which] for name in self.__dataclass_fields__))


@dataclass(frozen=True, eq=False)
class Beside:
    """Readings beside a curve, arrays (n,), NaN where nothing is compared: in volts or amperes, what was measured and
    computed, the ratio, its uncertainty, and how many of them it is away from one. ``parts`` are the uncertainty's: meter,
    the other meter, sun, warmth, in the unit of the reading."""

    in_volts: Mask
    measured: Array
    computed: Array
    ratio: Array
    uncertainty: Array
    times: Array
    parts: Array


def readings_of(
    voltage: Array, current: Array, effective: Array, cell_temperature: Array, rise: Array, instruments: Instruments
) -> Readings:
    """Readings with what their meters are good for."""
    volts = meter_uncertainty(voltage, instruments.voltage_share, instruments.voltage_digit)
    amperes = meter_uncertainty(current, float(np.hypot(instruments.current_share, LABEL_SHARE)), instruments.current_digit)
    return Readings(voltage, current, effective, cell_temperature, rise, np.asarray(volts), np.asarray(amperes))


def kinds(found: Readings, label: Labelled, instruments: Instruments) -> NDArray[np.int8]:
    """The kind of each reading.

    A panel in the dark is nothing wrong, nor is a row in which the leads touched nothing; a reading that no panel of this
    label can give has a wrong unit or a slipped decimal point.
    """
    no_current = np.abs(found.current) <= ZERO_DIGITS * instruments.current_digit + 1e-12
    no_voltage = found.voltage <= SHORT_SHARE * label.voc
    kind = np.where(no_current, Kind.OPEN, np.where(no_voltage, Kind.SHORT, Kind.LOADED))
    kind = np.where(no_current & no_voltage, Kind.NOTHING, kind)
    too_much = (found.voltage > MOST_VOLTS * label.voc) | (
        found.current > MOST_AMPERES * label.isc + ZERO_DIGITS * instruments.current_digit
    )
    return np.where(too_much, Kind.IMPOSSIBLE, np.where(found.effective < DARK, Kind.DARK, kind)).astype(np.int8)


@formula("measured / computed", unit="1", source="jcgm_100")
def over_label(measured: Numeric, computed: Numeric) -> Numeric:
    """What was measured over what the label's curve gives.

    Examples
    --------
    >>> over_label(0.77, 0.82)
    0.939
    """
    return measured / computed


@formula(
    "sqrt(meter_part**2 + other_meter_part**2 + sun_part**2 + warmth_part**2) / computed",
    unit="1",
    source="jcgm_100",
)
def ratio_uncertainty(
    meter_part: Numeric, other_meter_part: Numeric, sun_part: Numeric, warmth_part: Numeric, computed: Numeric
) -> Numeric:
    """Standard uncertainty of that ratio: both meters, the clear sky's sun and the cells' temperature, as squares (5.1.2).

    Parameters
    ----------
    meter_part, other_meter_part, sun_part, warmth_part : all in the unit of the reading

    Examples
    --------
    >>> float(ratio_uncertainty(0.01, 0.0, 0.049, 0.001, 0.82))
    0.061
    """
    return np.sqrt(meter_part**2 + other_meter_part**2 + sun_part**2 + warmth_part**2) / computed


def beside_label(
    found: Readings,
    label: Labelled,
    kind: NDArray[np.int8],
    sun: Array,
    warmth: Array,
    sun_share: Array | float,
    warmth_spread: Array | float = CELL_READING,
) -> Beside:
    """Each reading beside the label's curve at a sun [W/m2] and cell temperature [Cel].

    Up to the point of maximum power amperes are compared at the volts that were read; beyond it, where the curve falls
    steeply, and at open circuit, volts at the amperes.

    Parameters
    ----------
    sun_share, warmth_spread : standard uncertainties of the sun as a share [1] and of the cells' temperature [K]
    """
    here = at_conditions(label.diode, sun, warmth)
    used = np.isin(kind, USED) & (sun >= DARK)
    in_volts = used & ((kind == Kind.OPEN) | beyond_maximum(here, found))
    computed = on_curve(here, found, in_volts)
    slope = (on_curve(here, found, in_volts, 1.0) - on_curve(here, found, in_volts, -1.0)) / 2
    more_sun = on_curve(at_conditions(label.diode, 1.01 * sun, warmth), found, in_volts)
    warmer = on_curve(at_conditions(label.diode, sun, warmth + 1), found, in_volts)
    meter = np.where(in_volts, found.voltage_uncertainty, found.current_uncertainty)
    parts = np.array([meter, slope, (more_sun - computed) / 0.01 * sun_share, (warmer - computed) * warmth_spread])
    measured = np.where(in_volts, found.voltage, found.current)
    fits = used & (computed > 0) & np.all(np.isfinite(parts), axis=0)
    computed, measured = np.where(fits, computed, np.nan), np.where(fits, measured, np.nan)
    ratio = np.asarray(over_label(measured, computed))
    uncertainty = np.asarray(ratio_uncertainty(parts[0], parts[1], parts[2], parts[3], computed))
    return Beside(in_volts, measured, computed, ratio, uncertainty, (ratio - 1) / uncertainty, np.where(fits, parts, np.nan))


def beyond_maximum(here: Conditions, found: Readings) -> Mask:
    """Whether a reading lies on the steep side of the curve."""
    _, volts, _ = maximum_power(here)
    return (found.voltage > np.asarray(volts)) & (found.current < 0.95 * np.asarray(current_at_voltage(here, 0.0)))


def on_curve(here: Conditions, found: Readings, in_volts: Mask, moved: float = 0.0) -> Array:
    """Volts or amperes of the curve at the other meter's reading, moved by so many of its uncertainties."""
    amperes = np.maximum(found.current + moved * found.current_uncertainty, 0.0)
    volts = np.maximum(found.voltage + moved * found.voltage_uncertainty, 0.0)
    return np.where(in_volts, voltage_at_current(here, amperes), current_at_voltage(here, volts))


def beside_clear_sky(found: Readings, label: Labelled, kind: NDArray[np.int8]) -> Beside:
    """Each reading beside the label's curve under a clear sky."""
    return beside_label(found, label, kind, found.effective, found.cell_temperature, CLEAR_SKY_SHARE)


def sittings(day: Sequence[datetime.date], hour: Array) -> NDArray[np.int64]:
    """Number of the sitting of each reading: together where no gap is longer than twenty minutes.

    Examples
    --------
    >>> one = datetime.date(2026, 5, 12)
    >>> sittings([one, one, one, one], np.array([13.0, 15.0, 13.1, 13.3]))
    array([0, 1, 0, 0])
    """
    time = np.array([each.toordinal() for each in day]) * 24.0 + hour
    order = np.argsort(time, kind="stable")
    number = np.zeros(len(time), dtype=np.int64)
    number[order] = np.concatenate([[0], np.cumsum(np.diff(time[order]) > SITTING + 1e-9)])
    return number
