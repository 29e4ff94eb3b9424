"""Twelve typed months of sun and temperature: what cannot be is refused, what hardly can be is pointed out."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.errors import Note, SizingError, input_error
from sizing.foundation.formats import MONTHS
from sizing.place.place import Place
from sizing.sky.climate import Months, built_in_clearness, daily_sun
from sizing.sky.solar_position import DAYS_IN_MONTH, monthly_extraterrestrial

Array = NDArray[np.float64]

SUN_POINTER = "#/sky/ghi_kwh_per_m2_day"
AIR_POINTER = "#/sky/air_temperature_c"
CLEAREST_TYPED, DIMMEST_TYPED = 0.85, 0.10
"""[1] No month anywhere is clearer than the first; one dimmer than the second is likely a slip of the pen."""
POLAR_NIGHT = 1.0
"""[W/m2] A month with less sun above the air than this counts as polar night."""
COLDEST_MONTH, WARMEST_MONTH = -60.0, 60.0
"""[Cel] No mean of a month on Earth lies outside."""
NEAR_TABLE = (0.7, 1.4)
"""[1] A typed year with less or more of the built-in table's sun than this is worth a second look."""


def typed_clearness(place: Place, ghi: Sequence[float]) -> tuple[Months, tuple[Note, ...]]:
    """Clearness of each month [1] from typed sun on level ground [kWh/m2 a day], and what looks doubtful in it.

    Raises
    ------
    SizingError : not twelve numbers, below 0, or more sun than reaches the ground anywhere

    Examples
    --------
    >>> sun = (1.8, 2.7, 3.6, 4.5, 5.9, 6.4, 6.3, 5.6, 4.1, 2.9, 1.8, 1.6)
    >>> clearness, notes = typed_clearness(Place("school", 43.0, -89.4, 270.0), sun)
    >>> clearness[5], notes
    (0.554, ())
    """
    twelve_numbers(ghi, SUN_POINTER, "sun on level ground")
    above_air = monthly_extraterrestrial(place.latitude)
    for month, top in enumerate(above_air.tolist()):
        possible_month(month, float(ghi[month]), top)
    clearness = tuple(float(sun) * 1000 / 24 / max(top, POLAR_NIGHT) for sun, top in zip(ghi, above_air.tolist(), strict=True))
    found = [
        *dark_months(ghi, above_air, clearness),
        *wrong_half(place, ghi, above_air),
        *far_from_table(place, above_air, clearness),
    ]
    return clearness, tuple(found)


def typed_temperature(air_temperature: Sequence[float]) -> Months:
    """Typed mean air temperature [Cel] of each month.

    Raises
    ------
    SizingError : not twelve numbers, or outside -60..60

    Examples
    --------
    >>> typed_temperature([10] * 12)[0]
    10.0
    """
    twelve_numbers(air_temperature, AIR_POINTER, "air temperature")
    for month, value in enumerate(air_temperature):
        if not COLDEST_MONTH <= value <= WARMEST_MONTH:
            raise input_error(
                f"{AIR_POINTER}/{month}",
                "out_of_range",
                f"mean air temperature of {MONTHS[month]} is {value:g} degrees C; months on Earth lie between "
                f"{COLDEST_MONTH:g} and {WARMEST_MONTH:g}; check the sign and that it is not in Fahrenheit.",
                COLDEST_MONTH,
                WARMEST_MONTH,
            )
    return tuple(float(value) for value in air_temperature)


def twelve_numbers(values: Sequence[float], pointer: str, words: str) -> None:
    """Refuse anything but twelve finite numbers."""
    if len(values) != 12 or not np.all(np.isfinite(np.asarray(values, dtype=float))):
        raise input_error(
            pointer,
            "not_twelve",
            f"{words} has {len(values)} values; a year has 12 months; give a number for each, January first.",
        )


def possible_month(month: int, sun: float, above_air: float) -> None:
    """Refuse a month that is darker than dark or brighter than the sun above the air allows."""
    most = CLEAREST_TYPED * float(daily_sun(1.0, above_air)) if above_air >= POLAR_NIGHT else 0.0
    if 0 <= sun <= most:
        return
    if most == 0:
        change = "the sun does not rise in that month here; type 0, or check the latitude."
    else:
        change = f"at this latitude at most {most:.2f} reaches the ground; give the mean of a day, not of a month, and not in MJ."
    raise input_error(
        f"{SUN_POINTER}/{month}",
        "out_of_range",
        f"sun of {MONTHS[month]} is {sun:g} kWh/m2 a day; {change}",
        0,
        round(most, 2),
    )


def dark_months(ghi: Sequence[float], above_air: Array, clearness: Months) -> list[Note]:
    """Warnings of months darker than the cloudiest places have."""
    notes = []
    for month, (sun, top, clear) in enumerate(zip(ghi, above_air.tolist(), clearness, strict=True)):
        if top >= 20 and clear < DIMMEST_TYPED:
            text = (
                f"sun of {MONTHS[month]} is {sun:g} kWh/m2 a day, only {100 * clear:.0f} % of the sun above the air; "
                "the cloudiest places have about 20 %; check the figure."
            )
            notes.append(Note("very_dark_month", "warning", text, f"{SUN_POINTER}/{month}"))
    return notes


def wrong_half(place: Place, ghi: Sequence[float], above_air: Array) -> list[Note]:
    """A warning where winter is typed brighter than summer."""
    summer = above_air >= np.sort(above_air)[6]
    sun = np.asarray(ghi, dtype=float)
    if abs(place.latitude) <= 30 or sun[summer].sum() >= sun[~summer].sum():
        return []
    half = "south" if place.latitude < 0 else "north"
    text = (
        f"the typed months are brighter in winter than in summer for {abs(place.latitude):g} degrees {half}; "
        "check the sign of the latitude and that January stands first."
    )
    return [Note("seasons_reversed", "warning", text, SUN_POINTER)]


def far_from_table(place: Place, above_air: Array, clearness: Months) -> list[Note]:
    """A warning where the typed year is far from the built-in table, if that knows the place."""
    try:
        table, _ = built_in_clearness(place.latitude, place.longitude, place.elevation)
    except SizingError:
        return []
    days = above_air * np.array(DAYS_IN_MONTH)
    ratio = float(np.dot(clearness, days) / np.dot(table, days))
    if NEAR_TABLE[0] <= ratio <= NEAR_TABLE[1]:
        return []
    text = (
        f"the typed year has {100 * ratio:.0f} % of the sun that the built-in climate table gives here; the table is seldom more "
        "than 20 % off; check the place and that the figures are kWh/m2 a day on level ground."
    )
    return [Note("far_from_table", "warning", text, SUN_POINTER)]
