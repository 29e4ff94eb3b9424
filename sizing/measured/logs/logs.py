"""The four logs of a class: bench test, directions and tilts, panel check, and the sheet of a predicted day."""

import datetime
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.csv_file import RowProblem
from sizing.foundation.errors import input_error
from sizing.measured.logs.columns import BENCH, PANEL, SHEET, TURNS
from sizing.measured.logs.rows import Rows, note, read_rows

Array = NDArray[np.float64]
Days = tuple[datetime.date, ...]
Turn = Callable[[datetime.date], float]
"""Declination of the place on a day [deg, east positive]."""

SKIES = {"clear": "clear", "sunny": "clear", "haze": "haze", "hazy": "haze", "thin": "haze", "": ""}
CLOUDY = ("cloud", "overcast", "rain", "shade", "grey", "gray", "dull")


@dataclass(frozen=True, eq=False)
class BenchLog:
    """Readings of a bench test, every cell filled: row numbers, volts, amperes, head [m], volume [m3], fill time [s], team."""

    row: NDArray[np.int64]
    voltage: Array
    current: Array
    head: Array
    volume: Array
    fill_time: Array
    team: tuple[str, ...]
    problems: tuple[RowProblem, ...]


@dataclass(frozen=True, eq=False)
class TurnLog:
    """Readings with the panel turned about: direction from true north and tilt [deg], NaN where a reading is missing.

    Hour of the clock [h], flow [m3/s], height of the sun by instrument [deg], stick and shadow [m]; sky is "clear",
    "haze", "clouds" or "".
    """

    row: NDArray[np.int64]
    day: Days
    hour: Array
    direction: Array
    tilt: Array
    voltage: Array
    current: Array
    flow: Array
    sun_height: Array
    stick: Array
    shadow: Array
    sky: tuple[str, ...]
    team: tuple[str, ...]
    problems: tuple[RowProblem, ...]


@dataclass(frozen=True, eq=False)
class PanelLog:
    """Readings at a panel's terminals: hour of the clock [h], volts, amperes, air [Cel, NaN where empty], sky, team."""

    row: NDArray[np.int64]
    day: Days
    hour: Array
    voltage: Array
    current: Array
    air_temperature: Array
    sky: tuple[str, ...]
    team: tuple[str, ...]
    problems: tuple[RowProblem, ...]


@dataclass(frozen=True, eq=False)
class SheetLog:
    """A sheet that was filled in, NaN where a cell is empty: height of the sun [deg], volts and amperes at the panel with the
    pump on it, flow [m3/s], jet above the outlet [m], air [Cel]."""

    row: NDArray[np.int64]
    day: Days
    hour: Array
    sun_height: Array
    voltage: Array
    current: Array
    flow: Array
    jet: Array
    air_temperature: Array
    sky: tuple[str, ...]
    team: tuple[str, ...]
    problems: tuple[RowProblem, ...]


def read_bench(raw: bytes) -> BenchLog:
    """The log of a bench test.

    Raises
    ------
    InputError
        with one sentence where it is no such log, or no row of it can be read.

    Examples
    --------
    >>> log = read_bench(b"volts;amps;head (cm);volume (mL);fill time\\n12;0,84;120;5000;42\\n")
    >>> float(log.head[0]), float(log.volume[0]), float(log.current[0])
    (1.2, 0.005, 0.84)
    """
    rows = some_rows(read_rows(raw, BENCH, "bench log"), "bench log")
    number = rows.numbers
    return BenchLog(
        rows.row,
        number["voltage_v"],
        number["current_a"],
        number["head_m"],
        number["volume_l"],
        number["fill_time_s"],
        rows.texts["team"],
        told(rows),
    )


def read_turns(raw: bytes, turn: Turn | None = None) -> TurnLog:
    """The log of direction and tilt experiments.

    Parameters
    ----------
    turn : declination of the place on a day; needed where a compass was read

    Raises
    ------
    InputError
        with one sentence where it is no such log, or no row of it can be read.
    """
    rows = read_rows(raw, TURNS, "log of directions")
    number = rows.numbers
    direction, compass = number["direction_deg"], number["compass_deg"]
    if np.any(np.isnan(direction) & ~np.isnan(compass)):
        if turn is None:
            raise input_error("log", "missing", "the log has compass readings, and no place is known to turn them to true north")
        by_day = {day: turn(day) for day in {day for day in rows.days if day is not None}}
        turned = np.array([by_day[day] if day is not None else 0.0 for day in rows.days])
        direction = np.where(np.isnan(direction), (compass + turned) % 360, direction)
    flow = np.where(np.isnan(number["flow_l_per_min"]), number["volume_l"] / number["fill_time_s"], number["flow_l_per_min"])
    measured = np.array([number["voltage_v"], number["current_a"], flow, number["sun_height_deg"], number["shadow_cm"]])
    for index in np.flatnonzero(np.isnan(direction)):
        note(rows.problems, int(rows.row[index]), "direction_deg", "no direction can be read")
    for index in np.flatnonzero(~np.isnan(direction) & np.all(np.isnan(measured), axis=0)):
        note(rows.problems, int(rows.row[index]), "", "nothing was measured in this row")
    fits = ~np.isnan(direction) & ~np.all(np.isnan(measured), axis=0)
    at = np.flatnonzero(fits)
    kept = some_rows(rows.kept(fits), "log of directions")
    number = kept.numbers
    return TurnLog(
        kept.row,
        known_days(kept),
        number["time"],
        direction[at],
        number["tilt_deg"],
        number["voltage_v"],
        number["current_a"],
        flow[at],
        number["sun_height_deg"],
        number["stick_cm"],
        number["shadow_cm"],
        skies(kept),
        kept.texts["team"],
        told(kept),
    )


def read_panel(raw: bytes) -> PanelLog:
    """The log of a panel check.

    Raises
    ------
    InputError
        with one sentence where it is no such log, or no row of it can be read.
    """
    rows = some_rows(read_rows(raw, PANEL, "panel log"), "panel log")
    number = rows.numbers
    return PanelLog(
        rows.row,
        known_days(rows),
        number["time"],
        number["voltage_v"],
        number["current_a"],
        number["air_temperature_c"],
        skies(rows),
        rows.texts["team"],
        told(rows),
    )


def read_sheet(raw: bytes) -> SheetLog:
    """A sheet of a predicted day that was filled in; lines without any reading are passed over.

    Raises
    ------
    InputError
        with one sentence where it is no such sheet, or nothing was filled in.
    """
    rows = read_rows(raw, SHEET, "sheet")
    number = rows.numbers
    given = number["measured_flow_l_per_min"]
    flow = np.where(np.isnan(given), number["volume_l"] / number["fill_time_s"], given)
    measured = np.array([flow, *(number[key] for key in number if key.startswith("measured"))])
    kept = some_rows(rows.kept(~np.all(np.isnan(measured), axis=0)), "sheet")
    at, number = np.flatnonzero(~np.all(np.isnan(measured), axis=0)), kept.numbers
    return SheetLog(
        kept.row,
        known_days(kept),
        number["time"],
        number["measured_sun_height_deg"],
        number["measured_panel_voltage_v"],
        number["measured_panel_current_a"],
        flow[at],
        number["measured_jet_height_cm"],
        number["air_temperature_c"],
        skies(kept),
        kept.texts["team"],
        told(kept),
    )


def some_rows(rows: Rows, called: str) -> Rows:
    """The rows, refused where none could be read."""
    if len(rows.row) == 0:
        told_of = (
            f"row {each.row}, {each.column}" if each.column else f"row {each.row}" for each in rows.problems if each.row > 1
        )
        sentence = next((each.sentence for each in rows.problems if each.row > 1), "")
        first = f": {next(told_of)}: {sentence}" if sentence else ""
        raise input_error(
            "log", "no_rows", f"no row of the {called} can be used{first or '; fill in the table, one reading a row'}"
        )
    return rows


def known_days(rows: Rows) -> Days:
    """Days of rows that all have one."""
    return tuple(day for day in rows.days if day is not None)


def skies(rows: Rows) -> tuple[str, ...]:
    """What was remarked of the sky, in our own words.

    Examples
    --------
    >>> from sizing.measured.logs.rows import Rows
    >>> skies(Rows(np.arange(3), {}, {"sky": ("Sunny", "passing clouds", "thin veil")}, (), []))
    ('clear', 'clouds', 'haze')
    """
    return tuple(sky_meant(text) for text in rows.texts["sky"])


def sky_meant(text: str) -> str:
    """A remark as one of our own words; what is not known is no remark."""
    plain = text.strip().lower()
    if any(word in plain for word in CLOUDY) and not plain.startswith(("no ", "cloudless")):
        return "clouds"
    if plain.startswith(("no cloud", "cloudless")):
        return "clear"
    return SKIES.get(plain.split()[0] if plain else "", "")


def told(rows: Rows) -> tuple[RowProblem, ...]:
    """What could not be read, in the order of the rows."""
    for key in ("voltage_v", "measured_panel_voltage_v"):
        voltage, current = rows.numbers.get(key), rows.numbers.get(key.replace("voltage_v", "current_a"))
        if voltage is not None and current is not None and exchanged(voltage, current):
            sentence = (
                "the current is larger than the voltage; if the two columns stand under each other’s heading, exchange these"
            )
            rows.problems.append(RowProblem(0, key.replace("voltage_v", "current_a"), sentence))
    return tuple(sorted(rows.problems, key=lambda each: each.row))


def exchanged(voltage: Array, current: Array) -> bool:
    """Whether volts may stand under amperes: the middle and the largest are larger there, as with no usual pump or panel.

    Examples
    --------
    >>> exchanged(np.array([0.8, 0.7, 0.0]), np.array([12.0, 11.0, 0.0])), exchanged(np.array([0.1, 20.0]), np.array([0.8, 0.0]))
    (True, False)
    """
    both = ~np.isnan(voltage) & ~np.isnan(current) & (voltage + current > 0)
    if np.count_nonzero(both) < 2:
        return False
    larger = np.median(current[both]) > np.median(voltage[both])
    return bool(larger and np.max(current[both]) > np.max(voltage[both]))
