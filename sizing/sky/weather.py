"""The year of sky over the fountain: from the built-in climate, from twelve typed values, or from a weather file.

Each gives the same thing, a ``Sky``: 365 days in even steps, with the sun's place and strength in each.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.errors import Note
from sizing.place.place import Place
from sizing.sky.climate import THIN_COVERAGE, Months, built_in_clearness, built_in_temperature, position_text
from sizing.sky.monthly_values import AIR_POINTER, POLAR_NIGHT, typed_clearness, typed_temperature
from sizing.sky.solar_position import (
    DAY_OF_YEAR,
    DAYS_IN_YEAR,
    MONTH_OF_DAY,
    eccentricity,
    extraterrestrial_normal,
    month_mean,
    monthly_extraterrestrial,
    position_by_clock,
)
from sizing.sky.synthetic_year import STEPS_PER_DAY, CalmSun, SyntheticYear, synthetic_year
from sizing.sky.weather_file import CALM, file_notes, read_file, weather_file

Array = NDArray[np.float64]

TRUE_SOLAR_TIME = "true solar time"
MADE_UP_CLOUDS = Note(
    "made_up_clouds",
    "info",
    "clouds pass over each day at random, as often as over real days that are as bright; the same place always gets the same "
    "clouds.",
    "#/sky/kind",
)
"""Told of every year that is made of monthly values."""


@dataclass(frozen=True, eq=False)
class Sky:
    """A year of sky, 365 days in even steps, each value at the middle of its step, shape (365 x steps a day,).

    Day 0..364, month 1..12, hour [h, 0..24) on the clock that ``hour_basis`` names; zenith and azimuth of the
    sun [deg]; sun above the air on a plane facing it, and global, diffuse and beam (normal) sun [W/m2]; air
    temperature [Cel]; wind [m/s]; clearness [1] and mean air temperature [Cel] of each month; how far a year
    and a month may be off (one standard deviation, as a share); what the reader should know.
    """

    kind: Literal["built_in", "monthly", "weather_file", "clear_day"]
    title: str
    steps_per_day: int
    hour_basis: str
    day: NDArray[np.int64]
    month: NDArray[np.int64]
    hour: Array
    zenith: Array
    azimuth: Array
    extraterrestrial_normal: Array
    ghi: Array
    dhi: Array
    dni: Array
    air_temperature: Array
    wind_speed: Array
    clearness: Months
    air_temperature_month: Months
    year_band: float
    month_band: float
    notes: tuple[Note, ...]
    calm: CalmSun | None = None
    """The same days without passing clouds, of a made-up year; None where hours were read."""


def built_in_sky(place: Place) -> Sky:
    """The year that the climate table gives for a place on land.

    Raises
    ------
    SizingError : where the table has no data

    Examples
    --------
    >>> sky = built_in_sky(Place("school", 36.10, -79.95, 273.0))
    >>> sky.steps_per_day, float(sky.ghi.sum() / 4000)
    (96, 1539.)
    """
    clearness, coverage = built_in_clearness(place.latitude, place.longitude, place.elevation)
    temperature = built_in_temperature(place.latitude, place.longitude, place.elevation)
    where = position_text(place.latitude, place.longitude)
    notes = [
        Note(
            "built_in_climate",
            "info",
            "the sun of each month comes from a built-in climate table, good to about 8 % over a year and 12 % in a month; "
            "twelve values from the local weather service are about twice as good.",
            "#/sky/kind",
        )
    ]
    if coverage < THIN_COVERAGE:
        notes.append(
            Note(
                "thin_climate_data",
                "warning",
                f"the built-in climate has little land data near {where}; "
                "type 12 monthly values of sun or name a weather file if you can.",
                "#/sky/kind",
            )
        )
    notes.append(MADE_UP_CLOUDS)
    sky = in_solar_time("built_in", f"Built-in climate at {where}", place.latitude, clearness, temperature)
    return replace(sky, year_band=0.08, month_band=0.12, notes=tuple(notes))


def monthly_sky(place: Place, ghi: Sequence[float], air_temperature: Sequence[float] | None = None) -> Sky:
    """The year whose months have the typed sun.

    Parameters
    ----------
    ghi : sun on level ground, January to December [kWh/m2 a day]
    air_temperature : mean of each month [Cel], -60..60; from the built-in table where not given

    Raises
    ------
    SizingError : not twelve numbers, or more sun than reaches the ground anywhere

    Examples
    --------
    >>> typed = (0.6, 1.4, 2.5, 3.4, 4.8, 4.9, 4.9, 4.1, 2.7, 1.6, 0.8, 0.5)
    >>> sky = monthly_sky(Place("school", 52.30, 4.77, 0.0), typed)
    >>> float(sky.ghi[sky.month == 5].sum() / 4000 / 31)
    4.800
    """
    clearness, notes = typed_clearness(place, ghi)
    if air_temperature is None:
        temperature = built_in_temperature(place.latitude, place.longitude, place.elevation)
        text = "air temperature comes from the built-in climate table, which is about 1.4 K off the mean of a month."
        notes += (Note("built_in_temperature", "info", text, AIR_POINTER),)
    else:
        temperature = typed_temperature(air_temperature)
    where = position_text(place.latitude, place.longitude)
    sky = in_solar_time("monthly", f"Typed monthly sun at {where}", place.latitude, clearness, temperature)
    return replace(sky, year_band=0.02, month_band=0.04, notes=(*notes, MADE_UP_CLOUDS))


def in_solar_time(
    kind: Literal["built_in", "monthly"], title: str, latitude: float, clearness: Months, temperature: Months
) -> Sky:
    """A made-up year, as a sky without bands or notes."""
    year: SyntheticYear = synthetic_year(latitude, np.array(clearness), np.array(temperature))
    return Sky(
        kind=kind,
        title=title,
        steps_per_day=len(year.day) // DAYS_IN_YEAR,
        hour_basis=TRUE_SOLAR_TIME,
        day=year.day,
        month=year.month,
        hour=year.hour,
        zenith=year.zenith,
        azimuth=year.azimuth,
        extraterrestrial_normal=year.extraterrestrial_normal,
        ghi=year.ghi,
        dhi=year.dhi,
        dni=year.dni,
        air_temperature=year.air_temperature,
        wind_speed=np.full(len(year.day), CALM),
        clearness=clearness,
        air_temperature_month=temperature,
        year_band=0.0,
        month_band=0.0,
        notes=(),
        calm=year.calm,
    )


def hidden_clouds(steps_per_day: int) -> tuple[Note, ...]:
    """What to know of a file whose steps are longer than a passing cloud; nothing of shorter ones."""
    if steps_per_day >= STEPS_PER_DAY:
        return ()
    text = (
        "the weather file gives means of an hour or half an hour, which hide passing clouds: in a month of one-minute records, "
        "hours reached a goal on 0.75 more days in ten than quarters of an hour did."
    )
    return (Note("hidden_clouds", "info", text, "#/sky/kind"),)


def file_sky(path: str, place: Place | None = None) -> tuple[Sky, Place]:
    """The year of a weather file, and the place: the design's if it has one, else the file's.

    Parameters
    ----------
    path : of an EPW or TMY3 file on this computer; "pvlib/data/NAME" names one that ships with pvlib
    place : of the design, or None

    Raises
    ------
    SizingError : the file cannot be read or trusted

    Examples
    --------
    >>> sky, place = file_sky("pvlib/data/723170TYA.CSV")
    >>> place.name, sky.steps_per_day, float(sky.ghi.sum() / 1000)
    ('Greensboro Piedmont Triad Int', 24, 1566.)
    """
    return sky_of_bytes(read_file(path), path, place)


def sky_of_bytes(raw: bytes, name: str, place: Place | None = None) -> tuple[Sky, Place]:
    """As ``file_sky``, for a file that was sent rather than named.

    Parameters
    ----------
    raw : bytes of an EPW or TMY3 file
    name : of the file, for sentences
    place : of the design, or None
    """
    file = weather_file(raw, name)
    zenith, azimuth = position_by_clock(file.times, file.latitude, file.longitude, file.elevation)
    per_day = file.steps_per_day
    hour = np.tile((np.arange(per_day) + 0.5) * 24 / per_day, DAYS_IN_YEAR)
    normal = np.asarray(extraterrestrial_normal(np.asarray(eccentricity(DAY_OF_YEAR))))
    above_air = monthly_extraterrestrial(file.latitude)
    sun = month_mean(file.ghi.reshape(DAYS_IN_YEAR, per_day).mean(axis=1))
    up = zenith < 90
    clearness = tuple(np.where(above_air >= POLAR_NIGHT, sun / np.maximum(above_air, POLAR_NIGHT), 0).tolist())
    own = Place(file.name, file.latitude, file.longitude, file.elevation)
    sky = Sky(
        kind="weather_file",
        title=f"{file.name}, {file.form} file",
        steps_per_day=per_day,
        hour_basis=f"standard time of the weather file, UTC{file.utc_offset:+g}",
        day=np.repeat(np.arange(DAYS_IN_YEAR), per_day),
        month=np.repeat(MONTH_OF_DAY, per_day),
        hour=hour,
        zenith=zenith,
        azimuth=azimuth,
        extraterrestrial_normal=np.repeat(normal, per_day),
        ghi=file.ghi,
        dhi=np.where(up, file.dhi, file.ghi),
        dni=np.where(up, file.dni, 0.0),
        air_temperature=file.air_temperature,
        wind_speed=file.wind_speed,
        clearness=clearness,
        air_temperature_month=tuple(month_mean(file.air_temperature.reshape(DAYS_IN_YEAR, per_day).mean(axis=1)).tolist()),
        year_band=0.02,
        month_band=0.04,
        notes=(*file_notes(file, zenith, clearness, place), *hidden_clouds(per_day)),
    )
    return sky, own if place is None else place
