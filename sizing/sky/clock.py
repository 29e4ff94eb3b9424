"""The clock on the wall: how far it is from the sun's time, or from a weather file's, on each day of the year.

Zone rules come from the tz database, through the standard library (the package tzdata where a system has
none, as Windows). The reference year is 2025, without
29 February; dates of summer time shift by a few days from year to year. Nothing here reads a clock.
"""

import datetime
import re
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.errors import Note, input_error
from sizing.foundation.formats import MONTHS, clock
from sizing.foundation.working import formula
from sizing.place.place import checked_position, distance
from sizing.place.town_list import Town, town, town_positions
from sizing.sky.solar_position import DAY_OF_YEAR, DAYS_IN_MONTH, DAYS_IN_YEAR, MONTH_OF_DAY, equation_of_time
from sizing.sky.synthetic_year import CalmSun
from sizing.sky.weather import Sky

Numeric = float | NDArray[np.float64]
Array = NDArray[np.float64]

REFERENCE_YEAR = 2025
POINTER = "#/place/time_zone"
ZONE_NAME = re.compile(r"[A-Z][A-Za-z0-9_+\-]*(?:/[A-Za-z0-9_+\-]+)*")
LONGEST_NAME = 64
FAR_FROM_SUN = 3.5
"""[h] No clock that people keep is further from the sun (west of China: 3 h; Galicia in summer: 2.6 h)."""
MOSTLY = 300
"""[d] A clock that is ahead for longer than this is the usual one, set back for a while (Morocco in Ramadan)."""
SIZES = {0.5: "half an hour", 1.0: "one hour", 2.0: "two hours"}


@lru_cache(maxsize=64)
def utc_offsets(time_zone: str, year: int = REFERENCE_YEAR) -> Array:
    """How far the clock is ahead of UTC at noon of each day [h], summer time included, shape (365,), not to be written to.

    Parameters
    ----------
    time_zone : name in the tz database
    year : 29 February is left out

    Raises
    ------
    InputError : if there is no such zone

    Examples
    --------
    >>> utc_offsets("Europe/Ljubljana")[[0, 180]]
    array([1., 2.])
    """
    zone = zone_of(time_zone)
    first = datetime.datetime(year, 1, 1, 12, tzinfo=zone)
    noons = (first + datetime.timedelta(days=day) for day in range(366))
    kept = [noon for noon in noons if noon.year == year and (noon.month, noon.day) != (2, 29)]
    offsets = np.array([(noon.utcoffset() or datetime.timedelta()).total_seconds() / 3600 for noon in kept])
    offsets.setflags(write=False)
    return offsets


def utc_moments(day: Sequence[datetime.date], hour: Array, time_zone: str) -> NDArray[np.datetime64]:
    """Moments of UTC at hours of the clock on the wall [h, 0..24], each on its own day; shape (moments,).

    Raises
    ------
    InputError : if there is no such zone

    Examples
    --------
    >>> utc_moments([datetime.date(2026, 7, 1)], np.array([13.5]), "Europe/Ljubljana")
    array(['2026-07-01T11:30:00.000'], dtype='datetime64[ms]')
    """
    zone = zone_of(time_zone)
    midnights = [datetime.datetime(on.year, on.month, on.day) for on in day]
    walls = [midnight + datetime.timedelta(hours=at) for midnight, at in zip(midnights, hour.tolist(), strict=True)]
    offsets = [zone.utcoffset(wall) or datetime.timedelta() for wall in walls]
    return np.array([wall - offset for wall, offset in zip(walls, offsets, strict=True)], dtype="datetime64[ms]")


def zone_of(time_zone: str) -> ZoneInfo:
    """The rules of a zone; only names are looked up, never paths."""
    if len(time_zone) <= LONGEST_NAME and ZONE_NAME.fullmatch(time_zone):
        try:
            return ZoneInfo(time_zone)
        except (ZoneInfoNotFoundError, OSError, ValueError):
            pass
    shown = "".join(sign if sign.isprintable() else " " for sign in time_zone[:LONGEST_NAME])
    detail = f'time zone is "{shown}"; the tz database has no such zone; write it like Europe/Ljubljana or America/New_York.'
    raise input_error(POINTER, "unknown_time_zone", detail)


@formula("(utc_offset - longitude / 15 - equation_of_time / 60 + 12) % 24 - 12", unit="h", source="duffie_beckman")
def sun_to_clock(utc_offset: Numeric, longitude: Numeric, equation_of_time: Numeric) -> Numeric:
    """What to add to true solar time [h] to read the clock, -12..12.

    Parameters
    ----------
    utc_offset : [h] of the clock, summer time included
    longitude : [deg], east positive
    equation_of_time : [min]

    Examples
    --------
    >>> sun_to_clock(2.0, 14.51, -4.0)
    1.0993
    """
    return (utc_offset - longitude / 15 - equation_of_time / 60 + 12) % 24 - 12


@formula("(utc_offset - file_utc_offset + 12) % 24 - 12", unit="h", source="duffie_beckman")
def file_to_clock(utc_offset: Numeric, file_utc_offset: Numeric) -> Numeric:
    """What to add to the hour of a weather file [h] to read the clock, -12..12; both offsets from UTC [h].

    Examples
    --------
    >>> file_to_clock(-4.0, -5.0)
    1.0
    """
    return (utc_offset - file_utc_offset + 12) % 24 - 12


def clock_shift(hour_basis: str, longitude: float, time_zone: str) -> Array:
    """What to add to a sky's hour [h] to read the clock on each day, shape (365,); take the sum modulo 24.

    Parameters
    ----------
    hour_basis : as a sky states it: "true solar time", or words that end in the fixed offset of a file, "UTC-5"
    longitude : [deg], east positive; counts for true solar time only
    time_zone : name in the tz database

    Examples
    --------
    >>> shift = clock_shift("true solar time", 14.51, "Europe/Ljubljana")
    >>> float(12 + shift[0]), float(12 + shift[180])
    (12.08, 13.09)
    >>> clock_shift("standard time of the weather file, UTC+1", 14.51, "Europe/Ljubljana")[[0, 180]]
    array([0., 1.])
    """
    offsets = utc_offsets(time_zone)
    of_file = re.search(r"UTC([+-]\d+(?:\.\d+)?)$", hour_basis)
    if of_file:
        return np.asarray(file_to_clock(offsets, float(of_file[1])))
    if hour_basis != "true solar time":
        raise ValueError(f"no clock is known by the words {hour_basis!r}")
    return np.asarray(sun_to_clock(offsets, longitude, equation_of_time(DAY_OF_YEAR)))


def summer_time(time_zone: str, year: int = REFERENCE_YEAR) -> str | None:
    """When the clock is changed, in words; None where it never is.

    Examples
    --------
    >>> summer_time("Europe/Ljubljana"), summer_time("Asia/Kolkata")
    ('summer time from 30 March to 25 October', None)
    >>> summer_time("Australia/Lord_Howe")
    'summer time, half an hour ahead, from 5 October to 5 April'
    """
    offsets = utc_offsets(time_zone, year)
    changes = [int(day) for day in np.flatnonzero(np.diff(offsets)) + 1]
    if not changes:
        return None
    if len(changes) != 2:
        return "clocks change on " + ", ".join(day_in_words(day) for day in changes)
    ahead = offsets > offsets.min()
    size = float(offsets.max() - offsets.min())
    words = SIZES.get(size, f"{size:g} hours")
    back = int(ahead.sum()) > MOSTLY
    first, next_first = changes if bool(ahead[changes[0]]) != back else changes[::-1]
    span = f"from {day_in_words(first)} to {day_in_words(next_first - 1)}"
    if back:
        return f"clocks are {words} back {span}"
    return f"summer time {span}" if size == 1 else f"summer time, {words} ahead, {span}"


def day_in_words(day: int) -> str:
    """Day of the year, 0..364, as on a calendar.

    Examples
    --------
    >>> day_in_words(0), day_in_words(59)
    ('1 January', '1 March')
    """
    month = int(MONTH_OF_DAY[day % DAYS_IN_YEAR])
    return f"{day % DAYS_IN_YEAR - sum(DAYS_IN_MONTH[: month - 1]) + 1} {MONTHS[month - 1]}"


def clock_notes(longitude: float, time_zone: str) -> tuple[Note, ...]:
    """A warning where the clock and the sun are so far apart that zone or longitude must be wrong.

    Examples
    --------
    >>> [note.code for note in clock_notes(-122.3, "Europe/Ljubljana")]
    ['clock_far_from_sun']
    """
    shift = float(np.median(clock_shift("true solar time", longitude, time_zone)))
    if abs(shift) <= FAR_FROM_SUN:
        return ()
    detail = (
        f"by the clock of {time_zone} the sun would stand highest at about {clock((12 + shift) % 24, 10)}; "
        "check the time zone and the sign of the longitude (west is negative)."
    )
    return (Note("clock_far_from_sun", "warning", detail, POINTER),)


def nearest_town(latitude: float, longitude: float) -> tuple[Town, float]:
    """The town of the list that is nearest to a place, and its distance [km]: its clock is a good guess.

    Examples
    --------
    >>> found, away = nearest_town(46.05, 14.51)
    >>> found.name, found.time_zone, away < 2
    ('Ljubljana', 'Europe/Ljubljana', True)
    """
    latitude, longitude = checked_position(latitude, longitude)
    away = np.asarray(distance(latitude, longitude, *town_positions()))
    row = int(np.argmin(away))
    return town(row), float(away[row])


def on_the_clock(sky: Sky, longitude: float, time_zone: str) -> Sky:
    """The same year with its steps in the order of the clock, summer time included.

    Each day's steps are moved by the whole number of steps that is nearest to the clock's lead, so an hour is
    off by half a step at most; what passes midnight comes back at the other end of its own day. Nothing of a day
    is lost or added.

    Parameters
    ----------
    longitude : of the place [deg], east positive
    time_zone : name in the tz database

    Raises
    ------
    InputError
        if there is no such zone.

    Examples
    --------
    >>> from sizing.place.place import Place
    >>> from sizing.sky.weather import built_in_sky
    >>> sky = on_the_clock(built_in_sky(Place("school", 46.05, 14.51, 298.0)), 14.51, "Europe/Ljubljana")
    >>> sky.hour_basis
    'clock time of Europe/Ljubljana, summer time from 30 March to 25 October'
    """
    per_day = sky.steps_per_day
    steps = np.rint(clock_shift(sky.hour_basis, longitude, time_zone) * per_day / 24).astype(int)
    day = np.arange(DAYS_IN_YEAR)[:, None]
    source = (day * per_day + (np.arange(per_day)[None, :] - steps[:, None]) % per_day).ravel()
    changes = summer_time(time_zone)
    basis = f"clock time of {time_zone}" + (f", {changes}" if changes else "")
    return replace(
        sky,
        hour_basis=basis,
        zenith=sky.zenith[source],
        azimuth=sky.azimuth[source],
        extraterrestrial_normal=sky.extraterrestrial_normal[source],
        ghi=sky.ghi[source],
        dhi=sky.dhi[source],
        dni=sky.dni[source],
        air_temperature=sky.air_temperature[source],
        wind_speed=sky.wind_speed[source],
        calm=None if sky.calm is None else CalmSun(sky.calm.ghi[source], sky.calm.dhi[source], sky.calm.dni[source]),
    )
