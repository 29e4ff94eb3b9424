"""Twelve months of sun in the unit that the weather service prints them in, brought to kWh/m2 a day and back.

A wrong unit is the commonest slip in typed sun. It is never put right in silence: ``doubtful_unit`` says which
unit would fit the place, and the person decides.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.constants import REFERENCE_IRRADIANCE
from sizing.foundation.errors import Note, SizingError, input_error
from sizing.foundation.working import formula
from sizing.place.place import Place
from sizing.sky.climate import Months, built_in_clearness, daily_sun
from sizing.sky.monthly_values import SUN_POINTER, twelve_numbers
from sizing.sky.solar_position import DAYS_IN_MONTH, monthly_extraterrestrial

Numeric = float | NDArray[np.float64]
Array = NDArray[np.float64]
Unit = Literal["kwh_per_m2_day", "kwh_per_m2_month", "mj_per_m2_day", "mj_per_m2_month", "w_per_m2", "peak_sun_hours"]

UNIT_POINTER = "#/sky/unit"
DULLEST_YEAR, BRIGHTEST_YEAR = 0.22, 0.80
"""[1] No year on land is duller or brighter: the built-in table runs from 0.29 to 0.73."""
USUAL_YEAR = 0.5
"""[1] Clearness of an ordinary year, used where the built-in table knows nothing."""
FITS_TABLE = (0.80, 1.25)
"""[1] The built-in table's year lies within these of the stations it was compared with (the worst was 17 % off)."""


@formula("month_sum / days", unit="kWh/m2", source="si_brochure")
def day_of_month_sum(month_sum: Numeric, days: Numeric) -> Numeric:
    """Sun of a mean day [kWh/m2] from the sum of a month [kWh/m2] of so many days [d].

    Examples
    --------
    >>> day_of_month_sum(142.6, 31)
    4.600
    """
    return month_sum / days


@formula("megajoules / 3.6", unit="kWh/m2", source="si_brochure")
def kilowatt_hours(megajoules: Numeric) -> Numeric:
    """Sun [kWh/m2] from sun in MJ/m2: an hour has 3600 seconds.

    Examples
    --------
    >>> kilowatt_hours(23.04)
    6.400
    """
    return megajoules / 3.6


@formula("mean_irradiance * 24 / 1000", unit="kWh/m2", source="si_brochure")
def day_of_mean_irradiance(mean_irradiance: Numeric) -> Numeric:
    """Sun of a day [kWh/m2] from the mean of its 24 hours, night counted [W/m2].

    Examples
    --------
    >>> day_of_mean_irradiance(187.0)
    4.488
    """
    return mean_irradiance * 24 / 1000


@formula("peak_sun_hours * reference_irradiance / 1000", unit="kWh/m2", source="iec_60904_3")
def day_of_peak_sun_hours(peak_sun_hours: Numeric, reference_irradiance: float = REFERENCE_IRRADIANCE) -> Numeric:
    """Sun of a day [kWh/m2] from the hours that full sun would take to bring as much [h]; not the hours of sunshine.

    Examples
    --------
    >>> day_of_peak_sun_hours(4.7)
    4.700
    """
    return peak_sun_hours * reference_irradiance / 1000


@dataclass(frozen=True)
class TypedUnit:
    """A unit that sun may be typed in: its name in words, and the sun of a mean day from a value and the month's days."""

    words: str
    day_sun: Callable[[Array, Array], Numeric]


TYPED_UNITS: dict[Unit, TypedUnit] = {
    "kwh_per_m2_day": TypedUnit("kWh/m2 a day", lambda values, days: values),
    "kwh_per_m2_month": TypedUnit("kWh/m2 a month", day_of_month_sum),
    "mj_per_m2_day": TypedUnit("MJ/m2 a day", lambda values, days: kilowatt_hours(values)),
    "mj_per_m2_month": TypedUnit(
        "MJ/m2 a month", lambda values, days: day_of_month_sum(np.asarray(kilowatt_hours(values)), days)
    ),
    "w_per_m2": TypedUnit("W/m2 (mean of 24 hours)", lambda values, days: day_of_mean_irradiance(values)),
    "peak_sun_hours": TypedUnit("peak sun hours a day", lambda values, days: day_of_peak_sun_hours(values)),
}
"""In the order in which a form should offer them."""


def typed_unit(unit: str, pointer: str = UNIT_POINTER) -> TypedUnit:
    """The unit of that code.

    Raises
    ------
    SizingError : no such unit
    """
    if unit not in TYPED_UNITS:
        known = ", ".join(TYPED_UNITS)
        raise input_error(
            pointer, "unknown_unit", f"unit of the typed sun is '{unit[:40]}'; the units are {known}; choose one of them."
        )
    return TYPED_UNITS[unit]


def daily_values(values: Sequence[float], unit: str) -> Months:
    """Sun of a mean day of each month [kWh/m2] from twelve values in a unit of ``TYPED_UNITS``.

    Parameters
    ----------
    values : January first, finite; whether they can be is for ``monthly_values.typed_clearness`` to say
    unit : a key of ``TYPED_UNITS``; sums of a month are of its own days, 28 in February

    Raises
    ------
    SizingError : not twelve numbers, or no such unit

    Examples
    --------
    >>> daily_values([59.8, 79.2, 117.8] + [150.0] * 9, "kwh_per_m2_month")[:3]
    (1.929, 2.829, 3.800)
    """
    known = typed_unit(unit)
    twelve_numbers(values, SUN_POINTER, "sun on level ground")
    found = known.day_sun(np.asarray(values, dtype=float), np.asarray(DAYS_IN_MONTH, dtype=float))
    return tuple(np.asarray(found).tolist())


def shown_values(sun: Sequence[float], unit: str) -> Months:
    """Twelve days of sun [kWh/m2] in a unit of ``TYPED_UNITS``: the way back from ``daily_values``.

    Raises
    ------
    SizingError : not twelve numbers, or no such unit

    Examples
    --------
    >>> shown_values([4.5] * 12, "w_per_m2")[:1], shown_values([4.5] * 12, "mj_per_m2_month")[:2]
    ((187.5,), (502.2, 453.6))
    """
    twelve_numbers(sun, SUN_POINTER, "sun on level ground")
    return tuple((np.asarray(sun, dtype=float) / np.array(daily_values([1.0] * 12, unit))).tolist())


def doubtful_unit(place: Place, values: Sequence[float], unit: str) -> Note | None:
    """A warning where the typed months hardly can be in the unit that was chosen; None where they can.

    What is judged is the year: one wrong month is a slip of the pen, for ``monthly_values`` to find. Nothing is
    converted. W/m2 and kWh/m2 a month differ by a third only: they are told apart by the built-in table, where it
    knows the place.

    Parameters
    ----------
    place : of the garden
    values : twelve, as typed
    unit : a key of ``TYPED_UNITS``, as chosen

    Raises
    ------
    SizingError : not twelve numbers, or no such unit

    Examples
    --------
    >>> garden = Place("garden", 43.13, -89.33, 262.0)
    >>> megajoules = (6.4, 9.9, 12.9, 16.1, 21.4, 23.0, 22.6, 20.3, 14.6, 10.5, 6.4, 5.7)
    >>> doubtful_unit(garden, megajoules, "kwh_per_m2_day").detail[:64]
    'as kWh/m2 a day the typed months hold 187 % of the sun above the'
    >>> doubtful_unit(garden, megajoules, "mj_per_m2_day")
    """
    chosen = year_clearness(place, values, unit)
    table = table_year(place)
    usual = USUAL_YEAR if table is None else table
    others = {other: year_clearness(place, values, other) for other in TYPED_UNITS if other not in (unit, "peak_sun_hours")}
    fitting = [other for other, clear in others.items() if fits(clear, table) and not np.isclose(clear, chosen)]
    fitting.sort(key=lambda other: abs(np.log(others[other] / usual)))
    if possible(chosen) and (table is None or fits(chosen, table) or not fitting):
        return None
    best = {TYPED_UNITS[other].words: others[other] for other in fitting[:2]}
    words = typed_unit(unit).words
    text = far_from_table(words, chosen, best, usual) if possible(chosen) else beyond_nature(words, chosen, best)
    return Note("doubtful_unit", "warning", text, SUN_POINTER)


def year_clearness(place: Place, values: Sequence[float], unit: str) -> float:
    """Share of the year's sun above the air [1] that twelve values in a unit would mean."""
    days = np.asarray(DAYS_IN_MONTH)
    above_air = np.asarray(daily_sun(1.0, monthly_extraterrestrial(place.latitude)))
    return float(np.dot(daily_values(values, unit), days) / np.dot(above_air, days))


def table_year(place: Place) -> float | None:
    """Clearness of the year [1] by the built-in table; None where it knows nothing."""
    try:
        clearness, _ = built_in_clearness(place.latitude, place.longitude, place.elevation)
    except SizingError:
        return None
    above_air = monthly_extraterrestrial(place.latitude) * np.asarray(DAYS_IN_MONTH)
    return float(np.dot(clearness, above_air) / above_air.sum())


def possible(clearness: float) -> bool:
    """Whether a year on Earth can have this clearness [1]."""
    return DULLEST_YEAR <= clearness <= BRIGHTEST_YEAR


def fits(clearness: float, table: float | None) -> bool:
    """Whether a year's clearness [1] can be, and is near the built-in table's where that is known."""
    return possible(clearness) and (table is None or FITS_TABLE[0] <= clearness / table <= FITS_TABLE[1])


def beyond_nature(words: str, clearness: float, fitting: dict[str, float]) -> str:
    """Sentence on a year that no place on Earth has."""
    judged = "more than reaches the ground anywhere" if clearness > BRIGHTEST_YEAR else "less than the cloudiest places have"
    known = " or ".join(f"as {name} {100 * clear:.0f} %" for name, clear in fitting.items())
    fit = "which fits this place" if len(fitting) == 1 else "and both fit this place"
    change = f"{known}, {fit}; check the unit" if known else "no other unit fits this place either; check the figures"
    return f"as {words} the typed months hold {share(clearness)} the sun above the air, {judged}; {change}."


def far_from_table(words: str, clearness: float, fitting: dict[str, float], table: float) -> str:
    """Sentence on a year that is possible, yet far from the built-in table, with a unit that would be near it."""
    known = " or ".join(f"as {name} {100 * clear / table:.0f} %" for name, clear in fitting.items())
    return (
        f"as {words} the typed months hold {100 * clearness / table:.0f} % of the sun that the built-in climate gives here, "
        f"{known}; check the unit."
    )


def share(clearness: float) -> str:
    """A clearness in words.

    Examples
    --------
    >>> share(0.517), share(0.004), share(15.86)
    ('52 % of', '0.4 % of', '15.9 times')
    """
    if clearness >= 2:
        return f"{clearness:.1f} times"
    return f"{100 * clearness:.{0 if clearness >= 0.01 else 1}f} % of"
