"""The rows of a log as arrays in SI, with a sentence for every cell that could not be read; the other rows are kept."""

import datetime
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.csv_file import RowProblem, cells, text_of
from sizing.errors import refuse
from sizing.log_columns import Column, Placed, placed_columns
from sizing.log_numbers import UnclearCell, cell_clock, cell_number, cell_seconds, decimal_comma
from sizing.site import FIRST_YEAR, LAST_YEAR

Array = NDArray[np.float64]

LARGEST = 2_000_000
"""[byte] 20,000 rows fit, so that their number can be told."""
MOST_ROWS = 10_000
MOST_TOLD = 200
"""Sentences about single rows that are kept; beyond, one says how many more."""
LONGEST_TEAM = 20
POINTS = {
    name: 22.5 * step
    for step, name in enumerate(
        ("n", "nne", "ne", "ene", "e", "ese", "se", "sse", "s", "ssw", "sw", "wsw", "w", "wnw", "nw", "nnw")
    )
}
"""[deg] Directions by their letters."""
DAYS = re.compile(r"([0-9]{1,4})([-./])([0-9]{1,2})\2([0-9]{1,4})")


@dataclass(eq=False)
class Rows:
    """A log: row numbers, numbers by column in SI (NaN where a cell is empty), texts by column, and what could not be read."""

    row: NDArray[np.int64]
    numbers: dict[str, Array]
    texts: dict[str, tuple[str, ...]]
    days: tuple[datetime.date | None, ...]
    problems: list[RowProblem]

    def kept(self, which: NDArray[np.bool_]) -> "Rows":
        """Some of the rows."""
        at = np.flatnonzero(which)
        return Rows(
            self.row[at],
            {key: values[at] for key, values in self.numbers.items()},
            {key: tuple(texts[index] for index in at) for key, texts in self.texts.items()},
            tuple(self.days[index] for index in at) if self.days else (),
            self.problems,
        )


def read_rows(raw: bytes, columns: Sequence[Column], called: str) -> Rows:
    """Read a log.

    Parameters
    ----------
    raw : a CSV with commas, semicolons or tabs between its cells, the first row naming the columns
    columns : those that are looked for
    called : what sentences call the log

    Raises
    ------
    InputError
        with one sentence where it is no such log at all, or too long.
    """
    text = text_of(raw, called, "log", LARGEST, f"at most {MOST_ROWS} rows are read; keep those of one day")
    lines = max(text.count("\n"), text.count("\r"))
    if lines > MOST_ROWS + 1000:
        raise too_long(called, lines - 1)
    (_, headings), *rows = cells(text, called, "log")
    placed, unknown = placed_columns(headings, columns, called)
    if len(rows) > MOST_ROWS:
        raise too_long(called, len(rows))
    problems = [
        RowProblem(1, heading[:40], "this column is not one of the table's; it is not used and not kept") for heading in unknown
    ]
    rows = [(number, row) for number, row in rows if filled(row, placed)]
    whole = [(number, row) for number, row in rows if not broken(row, headings)]
    problems += [
        RowProblem(number, "", "has more cells than the table has columns, as when a comma stands in a number; it is left out")
        for number, row in rows
        if broken(row, headings)
    ]
    comma = decimal_comma(row[each.index] for _, row in whole for each in placed if each.column.units and each.index < len(row))
    found = Rows(np.array([number for number, _ in whole], dtype=np.int64), {}, {}, (), problems)
    for each in placed:
        read_column(found, each, [row[each.index].strip() if each.index < len(row) else "" for _, row in whole], comma)
    for column in columns:
        absent(found, column, len(whole))
    needed = [column.key for column in columns if column.needed and column.kind in ("number", "seconds", "clock", "direction")]
    kept = np.ones(len(whole), dtype=bool)
    for key in needed:
        kept &= ~np.isnan(found.numbers[key])
    if any(column.kind == "day" and column.needed for column in columns):
        kept &= np.array([day is not None for day in found.days], dtype=bool)
    found.problems.sort(key=lambda problem: problem.row)
    return found.kept(kept)


def too_long(called: str, rows: int) -> Exception:
    """The sentence for a log with too many rows."""
    told = f"the {called} has about {rows} rows; at most {MOST_ROWS} are read; keep those of one day, or every second row"
    return refuse("log", "file_too_long", told)


def filled(row: Sequence[str], placed: Sequence[Placed]) -> bool:
    """Whether any cell of a known column is filled."""
    return any(each.index < len(row) and row[each.index].strip() for each in placed)


def broken(row: Sequence[str], headings: Sequence[str]) -> bool:
    """Whether a row has filled cells beyond the last heading."""
    return any(cell.strip() for cell in row[len(headings) :])


def absent(found: Rows, column: Column, count: int) -> None:
    """A column that the file does not have, as empty cells."""
    if column.kind in ("text",):
        found.texts.setdefault(column.key, ("",) * count)
    elif column.kind == "day":
        found.days = found.days or (None,) * count
    else:
        found.numbers.setdefault(column.key, np.full(count, np.nan))


def read_column(found: Rows, placed: Placed, texts: list[str], comma: bool) -> None:
    """One column, cell by cell; what cannot be read is told and left empty."""
    column = placed.column
    if column.kind == "text":
        found.texts[column.key] = tuple("".join(sign for sign in text if sign.isprintable())[:LONGEST_TEAM] for text in texts)
    elif column.kind == "day":
        found.days = tuple(read_days(found, column, texts))
    else:
        reader = {"clock": cell_clock, "direction": direction_reader(placed, comma), "seconds": seconds_reader(placed, comma)}
        read: Callable[[str], float] = reader.get(column.kind, lambda text: cell_number(text, column.units, placed.unit, comma))
        found.numbers[column.key] = read_numbers(found, column, texts, read)


def direction_reader(placed: Placed, comma: bool) -> Callable[[str], float]:
    """How a direction is read: degrees, or the letters of a compass."""

    def read(text: str) -> float:
        plain = text.lower()
        for word in ("north", "south", "east", "west"):
            plain = plain.replace(word, word[0])
        named = re.sub("[^a-z]", "", plain)
        if named in POINTS and not any(sign.isdigit() for sign in text):
            return POINTS[named]
        return cell_number(text, placed.column.units, placed.unit, comma)

    return read


def seconds_reader(placed: Placed, comma: bool) -> Callable[[str], float]:
    """How a stopwatch is read: seconds, or minutes and seconds."""

    def read(text: str) -> float:
        seconds = cell_seconds(text) if ":" in text else None
        return cell_number(text, placed.column.units, placed.unit, comma) if seconds is None else seconds

    return read


def read_numbers(found: Rows, column: Column, texts: list[str], read: Callable[[str], float]) -> Array:
    """Numbers of a column; a row whose needed cell has none is told."""
    values = np.full(len(texts), np.nan)
    for index, text in enumerate(texts):
        try:
            if text:
                values[index] = read(text)
            elif column.needed:
                raise UnclearCell("is empty")
        except UnclearCell as unclear:
            tell(found, index, column, f"“{text[:20]}” {unclear}" if text else str(unclear))
    if np.all(values[~np.isnan(values)] <= 0) and np.any(values < 0) and column.least == 0 and column.key in REVERSIBLE:
        found.problems.append(
            RowProblem(
                0, column.key, f"all {column.label} is below zero, as with leads the wrong way round; it is taken as positive"
            )
        )
        values = np.abs(values)
    outside = np.flatnonzero((values < column.least) | (values > column.most))
    for at in outside:
        tell(found, int(at), column, f"“{texts[at][:20]}” is outside {column.limits}")
    values[outside] = np.nan
    if column.kind == "seconds":
        for at in np.flatnonzero(values == 0):
            tell(found, int(at), column, "zero seconds make no flow; time the filling again")
            values[at] = np.nan
    return values


REVERSIBLE = ("current_a", "voltage_v", "measured_panel_current_a", "measured_panel_voltage_v")
"""Columns whose sign depends on how the meter's leads were put."""


def tell(found: Rows, index: int, column: Column, sentence: str) -> None:
    """Keep a sentence about one cell."""
    if len(found.problems) < MOST_TOLD:
        told = f"{sentence}; the {'row' if column.needed else 'cell'} is left out"
        found.problems.append(RowProblem(int(found.row[index]), column.key, told))
    elif len(found.problems) == MOST_TOLD:
        found.problems.append(RowProblem(0, "", "more rows could not be read; mend these first"))


def read_days(found: Rows, column: Column, texts: list[str]) -> list[datetime.date | None]:
    """Days of a column; an empty cell has the day of the row above."""
    known: dict[str, datetime.date] = {}
    days: list[datetime.date | None] = []
    for index, text in enumerate(texts):
        if not text:
            days.append(days[-1] if days else None)
            if days[-1] is None and column.needed:
                tell(found, index, column, "is empty, and no row above has a day; write it like 2026-05-31")
            continue
        try:
            days.append(known.setdefault(text, cell_day(text)) if text not in known else known[text])
        except UnclearCell as unclear:
            tell(found, index, column, f"“{text[:20]}” {unclear}")
            days.append(None)
    return days


def cell_day(text: str) -> datetime.date:
    """The day that a cell names; where month and day can be exchanged it has two readings.

    Raises
    ------
    UnclearCell
        with the end of a sentence.

    Examples
    --------
    >>> cell_day("2026-05-31").isoformat(), cell_day("31/5/2026").isoformat(), cell_day("3.6.2026").isoformat()
    ('2026-05-31', '2026-05-31', '2026-06-03')
    """
    match = DAYS.match(text)
    if match is None or (match.end() < len(text) and text[match.end()] not in " T"):
        raise UnclearCell("is no day; write it like 2026-05-31")
    first, mark, second, third = int(match[1]), match[2], int(match[3]), int(match[4])
    if len(match[1]) == 4:
        year, month, day = first, second, third
    elif mark == "." or first > 12 or first == second:
        day, month, year = first, second, third
    elif second > 12:
        month, day, year = first, second, third
    else:
        raise UnclearCell("can be read in two ways; write it like 2026-05-31")
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise UnclearCell(f"has no year from {FIRST_YEAR} to {LAST_YEAR}; write it like 2026-05-31")
    try:
        return datetime.date(year, month, day)
    except ValueError:
        raise UnclearCell("is in no calendar; write it like 2026-05-31") from None
