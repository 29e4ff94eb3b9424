"""A sheet for one day: what a clear sky should bring every half hour, how sure that is, and room for what is measured."""

import datetime
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.design.site import FIRST_YEAR, LAST_YEAR
from sizing.foundation.errors import input_error
from sizing.foundation.formats import clock
from sizing.light.clear_sky import clear_sky
from sizing.light.irradiance import plane_sun
from sizing.measured.day.clear_day import ClearDay, Expected, day_words, expected
from sizing.measured.day.clear_day_uncertainty import SEEN, ClearDayUncertainty, clear_day_uncertainty
from sizing.report.moment import Moment, moment_of
from sizing.sky.clock import utc_moments
from sizing.sky.weather import Sky
from sizing.sky.weather_file import CALM

Array = NDArray[np.float64]

STEP = 0.5
"""[h] between the lines of a sheet."""


@dataclass(frozen=True, eq=False)
class Sheet:
    """Moments of one clear day: hours of the clock [h], what is expected, likely ranges, and the best moment worked out.

    ``low`` and ``high`` hold the ends of the likely range of volts, amperes, flow [m3/s] and jet [m] by name.
    """

    clear_day: ClearDay
    day: datetime.date
    hour: Array
    found: Expected
    sure: ClearDayUncertainty
    low: dict[str, Array]
    high: dict[str, Array]
    moment: Moment


def sheet_of(
    clear_day: ClearDay, day: datetime.date, from_hour: float, to_hour: float, worked_hour: float | None = None
) -> Sheet:
    """Predict one day.

    Parameters
    ----------
    day : of the calendar
    from_hour, to_hour : [h] of the clock on the wall, 0..24; lines every half hour, the last hour among them
    worked_hour : the line nearest to it is worked out number by number [h]; the one with most sun by default

    Raises
    ------
    InputError
        if the hours are no span of a day, the year lies far off, or the sun is down throughout.

    Examples
    --------
    >>> from pathlib import Path
    >>> from sizing.measured.day.clear_day import clear_day_of
    >>> from sizing.design.reading import parse_design
    >>> clear_day = clear_day_of(parse_design(Path("examples/quince_court_jet.json").read_bytes()))
    >>> sheet = sheet_of(clear_day, datetime.date(2026, 5, 12), 11.0, 12.5)
    >>> sheet.hour, bool(np.all(sheet.low["flow"] < sheet.found.flow))
    (array([11. , 11.5, 12. , 12.5]), True)
    """
    if not 0 <= from_hour < to_hour <= 24:
        told = (
            f"the sheet runs from {from_hour:g} to {to_hour:g}; hours lie between 0 and 24 and the last comes after the first; "
            "check for swapped numbers"
        )
        raise input_error("?to_hour", "hours_out_of_order", told, 0, 24)
    refuse_far_day(day)
    hours = np.arange(from_hour, to_hour + 1e-9, STEP)
    hours = np.minimum(hours, 24 - 1 / 3600)
    found = expected(clear_day, [day] * len(hours), hours)
    up = found.sun_altitude > 0
    if not np.any(up):
        told = (
            f"on {day_words(day)} the sun is down from {clock(from_hour)} to {clock(to_hour)} here; take hours of daylight, "
            "or check the time zone and the day"
        )
        raise input_error("?from_hour", "no_sun", told)
    hours = hours[up]
    found = expected(clear_day, [day] * len(hours), hours)
    sure = clear_day_uncertainty(clear_day, found)
    low = {name: np.maximum(getattr(found, name) - sure.below(name), 0.0) for name in SEEN}
    high = {name: getattr(found, name) + sure.above(name) for name in SEEN}
    best = int(np.argmax(found.effective) if worked_hour is None else np.argmin(np.abs(hours - worked_hour)))
    return Sheet(clear_day, day, hours, found, sure, low, high, worked_moment(clear_day, day, hours, found, best))


def refuse_far_day(day: datetime.date) -> None:
    """Refuse a day of a year that nobody measures in.

    Raises
    ------
    InputError
        if the year lies before ``FIRST_YEAR`` or after ``LAST_YEAR``.
    """
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        told = f"the day is {day.isoformat()}; days from {FIRST_YEAR} to {LAST_YEAR} are computed; check the year"
        raise input_error("?day", "out_of_range", told)


def worked_moment(clear_day: ClearDay, day: datetime.date, hours: Array, found: Expected, best: int) -> Moment:
    """One of the moments, number by number."""
    sky = sky_of_moments(clear_day, day, hours)
    mounting = clear_day.mounting
    sun = plane_sun(sky, clear_day.place, mounting.tilt, mounting.azimuth, mounting.soiling)
    near = float(found.operation.speed[best])
    hour = int(hours[best])
    return moment_of(
        clear_day.design,
        clear_day.place,
        mounting,
        sky,
        sun,
        clear_day.fountain,
        day.month,
        hour,
        "clear",
        best,
        near if near > 0 else None,
    )


def sky_of_moments(clear_day: ClearDay, day: datetime.date, hours: Array) -> Sky:
    """Moments of a clear day in the shape of a sky."""
    light = clear_sky(utc_moments([day] * len(hours), hours, clear_day.time_zone), clear_day.place)
    count = len(hours)
    number = min(day.timetuple().tm_yday, 365) - 1
    return Sky(
        kind="clear_day",
        title=f"A clear {day_words(day)}",
        steps_per_day=count,
        hour_basis=f"the clock on the wall, {clear_day.time_zone}",
        day=np.full(count, number),
        month=np.full(count, day.month),
        hour=hours,
        zenith=light.zenith,
        azimuth=light.azimuth,
        extraterrestrial_normal=light.extraterrestrial_normal,
        ghi=light.ghi,
        dhi=light.dhi,
        dni=light.dni,
        air_temperature=clear_day.air[day.month - 1, np.floor(hours).astype(int) % 24],
        wind_speed=np.full(count, CALM),
        clearness=(),
        air_temperature_month=(),
        year_band=0.0,
        month_band=0.0,
        notes=(),
    )
