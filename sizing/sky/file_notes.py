"""What the reader of a weather file should know: years it comes from, a wrong clock, parts that do not add up."""

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.errors import Note
from sizing.foundation.formats import MONTHS
from sizing.place.place import Place, distance
from sizing.sky.climate import Months
from sizing.sky.monthly_values import CLEAREST_TYPED
from sizing.sky.solar_position import DAY_OF_YEAR, DAYS_IN_YEAR, equation_of_time, true_solar_time
from sizing.sky.weather_file import CALM, POINTER, WeatherFile

Array = NDArray[np.float64]

FAR_FROM_FILE = 100.0
"""[km] Beyond this a weather file is another place's weather."""
CLOCK_SHIFT = 0.25
"""[h] The bright middle of the days may stand this far from solar noon."""
CLOSURE = 0.05
"""[1] Beam and diffuse sun of a year may miss the global sun by this much."""


def file_notes(file: WeatherFile, zenith: Array, clearness: Months, place: Place | None) -> tuple[Note, ...]:
    """What the reader of a weather file should know: whose years, and what in it does not fit.

    Parameters
    ----------
    file : read and checked
    zenith : of the sun in each row [deg]
    clearness : of each month [1]
    place : of the design, or None
    """
    first, last = file.years
    if first < last - 1:
        text = f"the months of the weather file come from years between {first} and {last}: a typical year, not a real one."
        told = [Note("typical_year", "info", text, POINTER)]
    else:
        text = f"the weather file holds one real year, {last}; another year may be 5 % brighter or dimmer."
        told = [Note("single_year", "info", text, POINTER)]
    if file.leap_day_left_out:
        told.append(
            Note("leap_day_left_out", "info", "29 February of the weather file is left out; the year has 365 days.", POINTER)
        )
    if file.windless_rows:
        text = f"{file.windless_rows:,} rows of the weather file have no wind; {CALM:g} m/s is taken there."
        told.append(Note("no_wind", "info", text, POINTER))
    return (*told, *clock_notes(file), *closure_notes(file, zenith), *clearness_notes(clearness), *distance_notes(file, place))


def clock_notes(file: WeatherFile) -> list[Note]:
    """A warning if the bright middle of the days does not stand at solar noon: a wrong clock, zone or longitude."""
    shift = noon_shift(file)
    if abs(shift) <= CLOCK_SHIFT:
        return []
    text = (
        f"the days of the weather file are brightest {abs(shift):.2f} h {'after' if shift > 0 else 'before'} solar noon; "
        "its clock, time zone or longitude is likely wrong, so morning and afternoon are mixed up; use another file if you can."
    )
    return [Note("clock_shifted", "warning", text, POINTER)]


def noon_shift(file: WeatherFile) -> float:
    """Mean hour of a day's sun minus solar noon [h], median of the days that have sun."""
    by_day = file.ghi.reshape(DAYS_IN_YEAR, file.steps_per_day)
    bright = by_day.sum(axis=1) > 0
    clock = (np.arange(file.steps_per_day) + 0.5) * 24 / file.steps_per_day
    middle = by_day[bright] @ clock / by_day[bright].sum(axis=1)
    ahead = np.asarray(equation_of_time(DAY_OF_YEAR[bright]))
    return float(np.median(np.asarray(true_solar_time(middle, file.utc_offset, file.longitude, ahead)) - 12))


def closure_notes(file: WeatherFile, zenith: Array) -> list[Note]:
    """A warning if beam and diffuse sun do not add up to the global sun."""
    per_kwh = 1000 * file.steps_per_day / 24
    parts = float((file.dhi + file.dni * np.maximum(np.cos(np.radians(zenith)), 0)).sum()) / per_kwh
    whole = float(file.ghi.sum()) / per_kwh
    if abs(parts / whole - 1) <= CLOSURE:
        return []
    text = (
        f"beam and diffuse sun of the weather file add up to {parts:.0f} kWh/m2 a year, its global sun to {whole:.0f}; "
        "one of them is wrong; use another file if you can."
    )
    return [Note("parts_do_not_add_up", "warning", text, POINTER)]


def clearness_notes(clearness: Months) -> list[Note]:
    """A warning of months brighter than any sky."""
    odd = [MONTHS[month] for month, clear in enumerate(clearness) if clear > CLEAREST_TYPED]
    if not odd:
        return []
    text = f"the weather file has more sun in {', '.join(odd)} than a clear sky lets through; check it against another source."
    return [Note("impossible_sun", "warning", text, POINTER)]


def distance_notes(file: WeatherFile, place: Place | None) -> list[Note]:
    """A warning if the file is of another place than the design."""
    if place is None:
        return []
    apart = float(distance(file.latitude, file.longitude, place.latitude, place.longitude))
    if apart <= FAR_FROM_FILE:
        return []
    text = (
        f"the weather file is of {file.name}, {apart:,.0f} km from the place of the design; its sun is that of another place; "
        "choose a nearer file or correct the place."
    )
    return [Note("file_far_away", "warning", text, POINTER)]
