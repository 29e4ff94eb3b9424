"""Reads a typical-year or one-year weather file (EPW or TMY3) and trusts nothing in it.

pvlib's readers turn the text into a table; everything a reader lets pass in silence is looked for here:
missing rows, text among numbers, 9999 for "not measured", dates that repeat. The result is a year of 365
days in order, each value standing at the middle of its interval. ``file_notes`` has what its reader should know: years it
comes from, a wrong clock, parts that do not add up.
"""

import io
import re
from collections.abc import Callable
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from pvlib.iotools import read_epw, read_tmy3

from sizing.foundation.errors import InputError, Note, input_error
from sizing.foundation.formats import MONTHS
from sizing.place.place import Place, distance
from sizing.sky.climate import Months
from sizing.sky.monthly_values import CLEAREST_TYPED
from sizing.sky.solar_position import DAY_OF_YEAR, DAYS_IN_MONTH, DAYS_IN_YEAR, equation_of_time, true_solar_time

Array = NDArray[np.float64]
Reader = Callable[[io.StringIO], tuple[pd.DataFrame, dict[str, str]]]

POINTER = "#/sky/path"
LIBRARY_FOLDER = "pvlib/data/"
"""A path that begins so names a file that came with the installed pvlib library."""
LARGEST_FILE = 5_000_000
"""[byte] An hourly year is 1.5 to 2 million."""
CALM = 1.0
"""[m/s] Wind where the file has none."""
LIMITS = {
    "ghi": ("global sun", "W/m2", 0, 1500),
    "dni": ("beam sun", "W/m2", 0, 1500),
    "dhi": ("diffuse sun", "W/m2", 0, 1500),
    "temp_air": ("air temperature", "degrees C", -90, 60),
}
HEADING_LIMITS = {
    "latitude": ("latitude", -90, 90),
    "longitude": ("longitude", -180, 180),
    "altitude": ("elevation", -500, 9000),
    "TZ": ("time zone", -14, 14),
}
FAR_FROM_FILE = 100.0
"""[km] Beyond this a weather file is another place's weather."""
CLOCK_SHIFT = 0.25
"""[h] The bright middle of the days may stand this far from solar noon."""
CLOSURE = 0.05
"""[1] Beam and diffuse sun of a year may miss the global sun by this much."""


@dataclass(frozen=True, eq=False)
class WeatherFile:
    """A year read from a file: 365 days in order, values at the middle of each interval.

    Coordinates [deg], elevation [m], offset of its clock from UTC [h]; times in UTC; global, diffuse and
    beam (normal) sun [W/m2], air temperature [Cel], wind speed [m/s]; which years the rows come from, how
    many rows had no wind, and whether a 29 February was left out.
    """

    name: str
    form: str
    latitude: float
    longitude: float
    elevation: float
    utc_offset: float
    steps_per_day: int
    times: pd.DatetimeIndex
    ghi: Array
    dhi: Array
    dni: Array
    air_temperature: Array
    wind_speed: Array
    years: tuple[int, int]
    windless_rows: int
    leap_day_left_out: bool


def refusal(code: str, sentence: str) -> InputError:
    """Error at the path of the weather file."""
    return input_error(POINTER, code, sentence)


def short(path: str) -> str:
    """A path fit for a sentence."""
    printable = "".join(letter if letter.isprintable() else "?" for letter in path)
    return f"weather file '{printable}'" if len(printable) <= 80 else f"weather file '...{printable[-77:]}'"


def read_file(path: str) -> bytes:
    """Bytes of a weather file on this computer, or of one that ships with pvlib ("pvlib/data/NAME").

    Raises
    ------
    SizingError : no such file, a folder, a web address, too large, or not readable
    """
    if "://" in path or re.search(r"\b(https?|ftp):/", path.lower()):
        raise refusal(
            "not_a_file", f"{short(path)} is a web address; nothing is fetched from the web; save the file and give its path."
        )
    try:
        place = Path(str(files("pvlib"))) / "data" / Path(path).name if path.startswith(LIBRARY_FOLDER) else Path(path)
        if place.is_dir():
            raise refusal("not_a_file", f"{short(path)} is a folder; name the EPW or TMY3 file in it.")
        if not place.is_file():
            raise refusal(
                "not_found",
                f"{short(path)} is not there; give the path of an EPW or TMY3 file "
                f"(to try one: {LIBRARY_FOLDER}723170TYA.CSV), or use the built-in sky.",
            )
        with place.open("rb") as file:
            raw = file.read(LARGEST_FILE + 1)
    except (OSError, ValueError) as problem:
        if isinstance(problem, InputError):
            raise
        raise refusal("not_readable", f"{short(path)} cannot be read; check its name and who may read it.") from problem
    if len(raw) > LARGEST_FILE:
        raise refusal(
            "too_large", f"{short(path)} is over {LARGEST_FILE / 1e6:.0f} MB; a year of hours is about 2 MB; give one year only."
        )
    return raw


def weather_file(raw: bytes, path: str) -> WeatherFile:
    """The year that the bytes of an EPW or TMY3 file hold, checked.

    Parameters
    ----------
    raw : the bytes of the file
    path : its name, for the sentences of errors

    Raises
    ------
    SizingError : not EPW or TMY3, damaged, not a whole year, or values that cannot be
    """
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = raw.decode("latin-1")
    lines = text.split("\n", 2)
    if text.startswith("LOCATION,"):
        return checked(text, path, "EPW", read_epw, 8)
    if len(lines) > 1 and lines[1].startswith("Date (MM/DD/YYYY),Time (HH:MM)"):
        return checked(text, path, "TMY3", read_tmy3, 2)
    raise refusal(
        "unknown_format",
        f"{short(path)} is neither EPW (first line begins with LOCATION) nor TMY3 (second line begins with Date); "
        "choose another file or type 12 monthly values.",
    )


def checked(text: str, path: str, form: str, reader: Reader, header_lines: int) -> WeatherFile:
    """Read, check, put in order."""
    try:
        table, header = reader(io.StringIO(text))
        position = {key: float(header[key]) for key in HEADING_LIMITS}
        per_hour = steps_per_hour(len(table), path)
        middle = middle_of_rows(table, form, per_hour)
    except InputError:
        raise
    except (ValueError, KeyError, IndexError, TypeError, AttributeError, OverflowError) as problem:
        raise refusal(
            "damaged", f"{short(path)} cannot be read as {form}: its heading, a date or an hour is damaged; fetch it again."
        ) from problem
    for key, (words, least, most) in HEADING_LIMITS.items():
        if not least <= position[key] <= most:
            raise refusal("damaged", f"{short(path)} states {words} {position[key]:g}; it must be {least} to {most}; correct it.")
    columns = {key: column(table, key, path, header_lines) for key in LIMITS}
    wind, windless = wind_column(table)
    if columns["ghi"].sum() <= 0 or columns["dhi"].sum() <= 0:
        raise refusal("no_sun", f"{short(path)} holds no global sun or no diffuse sun at all; choose a complete file.")
    years = (int(middle.year.min()), int(middle.year.max()))
    kept, order, times, leap = days_in_order(middle, per_hour, path)
    picked = {key: values[kept][order] for key, values in columns.items()}
    return WeatherFile(
        name=str(header.get("city") or header.get("Name") or "weather station").strip('" ').title(),
        form=form,
        latitude=position["latitude"],
        longitude=position["longitude"],
        elevation=position["altitude"],
        utc_offset=position["TZ"],
        steps_per_day=24 * per_hour,
        times=(times - pd.Timedelta(hours=position["TZ"])).tz_localize("UTC"),
        ghi=picked["ghi"],
        dhi=picked["dhi"],
        dni=picked["dni"],
        air_temperature=picked["temp_air"],
        wind_speed=wind[kept][order],
        years=years,
        windless_rows=windless,
        leap_day_left_out=leap,
    )


def steps_per_hour(rows: int, path: str) -> int:
    """1 for an hourly year of 365 or 366 days, 2 for half-hours; anything else is refused."""
    for per_hour in (1, 2):
        if rows in (8760 * per_hour, 8784 * per_hour):
            return per_hour
    raise refusal(
        "not_a_year",
        f"{short(path)} holds {rows:,} rows; a whole year has 8,760 hours or 17,520 half-hours "
        "(8,784 or 17,568 in a leap year); fetch the whole file again.",
    )


def middle_of_rows(table: pd.DataFrame, form: str, per_hour: int) -> pd.DatetimeIndex:
    """Middle of each row's interval on the clock of the file, read from the date and hour it prints."""
    half = pd.Timedelta(hours=0.5 / per_hour)
    if form == "TMY3":
        dates = pd.to_datetime(table["Date (MM/DD/YYYY)"], format="%m/%d/%Y")
        ends = pd.to_timedelta(table["Time (HH:MM)"].astype(str) + ":00")
        return pd.DatetimeIndex(dates + ends - half)
    dates = pd.to_datetime(table[["year", "month", "day"]])
    starts = pd.to_timedelta(table["hour"].astype(int) - 1, unit="h")
    within = pd.to_timedelta(np.arange(len(table)) % per_hour / per_hour, unit="h")
    return pd.DatetimeIndex(dates + starts + within + half)


def days_in_order(
    middle: pd.DatetimeIndex, per_hour: int, path: str
) -> tuple[NDArray[np.bool_], NDArray[np.int64], pd.DatetimeIndex, bool]:
    """Which rows stay, in which order they make a year from 1 January, their times, and if 29 February was dropped."""
    leap_rows = np.asarray((middle.month == 2) & (middle.day == 29))
    leap = len(middle) == 8784 * per_hour
    kept = ~leap_rows if leap else np.ones(len(middle), dtype=bool)
    # The midnight row of a 28 February reads 29 February 00:00 in some files; it belongs to the 28th.
    moved = middle if leap else pd.DatetimeIndex(np.where(leap_rows, middle - pd.Timedelta(days=1), middle))
    times = moved[kept]
    first_of_month = np.concatenate([[0], np.cumsum(DAYS_IN_MONTH)[:-1]])
    day = first_of_month[times.month - 1] + times.day - 1
    slot = np.asarray(day * 24 * per_hour + times.hour * per_hour + times.minute * per_hour // 60)
    counted = np.bincount(slot, minlength=DAYS_IN_YEAR * 24 * per_hour)
    if len(counted) != DAYS_IN_YEAR * 24 * per_hour or np.any(counted != 1):
        wrong = int(np.flatnonzero(counted != 1)[0])
        date = pd.Timestamp(2001, 1, 1) + pd.Timedelta(hours=wrong / per_hour)
        raise refusal(
            "not_a_year",
            f"{short(path)} holds the hour from {date:%H:%M} on {date.day} {date:%B} {counted[wrong]} times; "
            "each hour of the year must stand in it once; fetch the file again.",
        )
    order = np.argsort(slot)
    return kept, order, times[order], leap


def column(table: pd.DataFrame, key: str, path: str, header_lines: int) -> Array:
    """One column as numbers, each within its limits."""
    words, unit, least, most = LIMITS[key]
    if key not in table.columns:
        raise refusal("damaged", f"{short(path)} has no column for {words}; choose another file.")
    values = pd.to_numeric(table[key], errors="coerce").to_numpy(dtype=float)
    wrong = np.flatnonzero(~((values >= least) & (values <= most)))
    if len(wrong):
        line = int(wrong[0]) + header_lines + 1
        raise refusal(
            "out_of_range",
            f"{short(path)} has {words} '{str(table[key].iloc[wrong[0]])[:20]}' in line {line:,}; "
            f"it must be a number from {least} to {most} {unit} (9999 or 99.9 marks a missing value); choose a complete file.",
        )
    return values


def wind_column(table: pd.DataFrame) -> tuple[Array, int]:
    """Wind speed [m/s], ``CALM`` where the file has none, and how many rows that were."""
    if "wind_speed" not in table.columns:
        return np.full(len(table), CALM), len(table)
    values = pd.to_numeric(table["wind_speed"], errors="coerce").to_numpy(dtype=float)
    windless = ~((values >= 0) & (values <= 100))
    return np.where(windless, CALM, values), int(windless.sum())


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
