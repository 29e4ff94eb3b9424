"""The rows of a log as arrays in SI, with a sentence for every cell that could not be read; the other rows are kept."""

import datetime
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import chain, zip_longest

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.csv_file import RowProblem, cells_anyhow, plain_lines, text_of
from sizing.foundation.errors import input_error
from sizing.measured.logs.cells import (
    EMPTY,
    UnclearCell,
    cell_clock,
    cell_day,
    cell_number,
    cell_seconds,
    day_first,
    decimal_comma,
    plain_units,
)
from sizing.measured.logs.headings import REVERSIBLE, Column, Placed, headings_at, named_columns, placed_columns

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
NUMBERS = ("number", "seconds", "clock", "direction")
STARTS = re.compile(r"[^a-z]{0,4}[0-9]|[a-z]{1,3}\.? ?[0-9]", re.IGNORECASE)
"""How a cell with a reading starts, if need be with a sign or a word before it."""
FORMULA = re.compile(r'^="?([-0-9.,:]+)"?$')
DITTO = frozenset({'"', "''", "\N{DITTO MARK}", "\N{RIGHT DOUBLE QUOTATION MARK}"})
WATCHED = re.compile(r":|[0-9]\s*m[^0-9]*[0-9]", re.IGNORECASE)
"""A stopwatch's minutes and seconds, and no plain number."""
Numbered = list[tuple[int, list[str]]]


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
    ends = text.rstrip("\r\n")
    lines = max(ends.count("\n"), ends.count("\r"))
    if lines > MOST_ROWS + 1000:
        raise too_long(called, lines)
    table = plain_lines(text)
    between, above = headings_at(table, columns)
    (first, headings), *rows = cells_anyhow(table, between)[above:]
    placed, unknown = placed_columns(headings, columns, called)
    if len(rows) > MOST_ROWS:
        raise too_long(called, len(rows))
    if "=" in text:
        rows = [(number, [FORMULA.sub(r"\1", cell) for cell in row]) for number, row in rows]
    problems = [
        RowProblem(first, heading[:40], "this column is not one of the table's; it is not used and not kept")
        for heading in unknown
    ]
    placed, whole = whole_rows(rows, headings, placed, columns, problems)
    last = 1 + max(each.index for each in placed)
    cells = list(zip_longest(*(row[:last] for _, row in whole), fillvalue=""))
    texts = [list(map(str.strip, cells[each.index])) if each.index < len(cells) else [""] * len(whole) for each in placed]
    comma = decimal_comma(chain.from_iterable(cells for each, cells in zip(placed, texts, strict=True) if each.column.units))
    found = Rows(np.array([number for number, _ in whole], dtype=np.int64), {}, {}, (), problems)
    for each, column_texts in zip(placed, texts, strict=True):
        read_column(found, each, column_texts, comma)
    for column in columns:
        absent(found, column, len(whole))
    needed = [column.key for column in columns if column.needed and column.kind in NUMBERS]
    kept = np.ones(len(whole), dtype=bool)
    for key in needed:
        kept &= ~np.isnan(found.numbers[key])
    if any(column.kind == "day" and column.needed for column in columns):
        kept &= np.array([day is not None for day in found.days], dtype=bool)
    found.problems.sort(key=lambda problem: problem.row)
    return found.kept(kept)


def whole_rows(
    rows: Numbered, headings: Sequence[str], placed: list[Placed], columns: Sequence[Column], problems: list[RowProblem]
) -> tuple[list[Placed], Numbered]:
    """The columns with the units that a row of its own may give, and the rows that hold a reading; others are told."""
    names = [heading.strip() for heading in headings]
    firsts = [each.index for each in placed if each.column.needed and each.column.kind in NUMBERS]
    whole: Numbered = []
    for at, (number, row) in enumerate(rows):
        if any(index < len(row) and STARTS.match(row[index]) for index in firsts):
            if any(cell.strip() for cell in row[len(headings) :]):
                note(problems, number, "", "has more cells than the table has columns, as when a comma stands in a number")
            else:
                whole.append((number, row))
        elif [cell.strip() for cell in row[: len(names)]] == names or not filled(row, placed):
            continue  # headings once more, as where logs were joined
        elif at == 0 and (given := with_units(number, row, placed)):
            placed = given
        elif len(named_columns(row, columns)) > max(1, len(placed) // 2):
            told = (
                "names other columns than the headings above; the rows from here on are left out, send them as a log of their own"
            )
            problems.append(RowProblem(number, "", told))
            break
        else:
            note(problems, number, "", "has no reading in it")
    return placed, whole


def with_units(number: int, row: Sequence[str], placed: list[Placed]) -> list[Placed]:
    """The columns with the units that the row below the headings gives; empty where it is no such row.

    Raises
    ------
    InputError
        where a heading has another unit.
    """
    found = []
    for each in placed:
        unit = plain_units(row[each.index] if each.index < len(row) else "").strip("()[]<>. ")
        if unit and each.column.units and unit not in EMPTY:
            if unit not in each.column.units:
                return []
            if each.told and each.column.units[unit] != each.column.units[each.unit]:
                told = f"row {number} gives {each.column.label} in {unit} and its heading in {each.unit}; keep one of them"
                raise input_error("log", "unknown_unit", told)
            each = replace(each, unit=unit, told=True)
        found.append(each)
    return found if any(each.told for each in found) else []


def note(problems: list[RowProblem], number: int, column: str, sentence: str, left: str = "the row") -> None:
    """Keep a sentence about a row, where there are not too many."""
    if len(problems) < MOST_TOLD:
        left_out = "it" if not column else left
        problems.append(RowProblem(number, column, f"{sentence}; {left_out} is left out"))
    elif len(problems) == MOST_TOLD:
        problems.append(RowProblem(0, "", "more rows could not be read; mend these first"))


def too_long(called: str, rows: int) -> Exception:
    """The sentence for a log with too many rows."""
    told = f"the {called} has about {rows} rows; at most {MOST_ROWS} are read; keep those of one day, or every second row"
    return input_error("log", "file_too_long", told)


def filled(row: Sequence[str], placed: Sequence[Placed]) -> bool:
    """Whether any cell of a known column is filled."""
    return any(each.index < len(row) and row[each.index].strip() for each in placed)


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
        found.texts[column.key] = tuple("".join(filter(str.isprintable, text))[:LONGEST_TEAM] for text in texts)
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
        seconds = cell_seconds(text) if WATCHED.search(text) else None
        return cell_number(text, placed.column.units, placed.unit, comma) if seconds is None else seconds

    return read


def read_numbers(found: Rows, column: Column, texts: list[str], read: Callable[[str], float]) -> Array:
    """Numbers of a column; a row whose needed cell has none is told."""
    values = np.full(len(texts), np.nan)
    for index, text in enumerate(texts):
        try:
            if text and text not in EMPTY:
                values[index] = read(text)
            elif column.needed:
                raise UnclearCell("holds no reading" if text else "is empty")
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


def tell(found: Rows, index: int, column: Column, sentence: str) -> None:
    """Keep a sentence about one cell."""
    note(found.problems, int(found.row[index]), column.key, sentence, "the row" if column.needed else "the cell")


def read_days(found: Rows, column: Column, texts: list[str]) -> list[datetime.date | None]:
    """Days of a column; an empty cell, or one with a ditto mark, has the day of the row above.

    Where month and day can be exchanged, days of the same column that have one reading decide.
    """
    known: dict[str, datetime.date] = {}
    orders = {order for order in map(day_first, set(texts)) if order is not None}
    order = orders.pop() if len(orders) == 1 else None
    days: list[datetime.date | None] = []
    for index, text in enumerate(texts):
        if not text or text in DITTO:
            days.append(days[-1] if days else None)
            if days[-1] is None and column.needed:
                tell(found, index, column, "is empty, and no row above has a day; write it like 2026-05-31")
            continue
        try:
            if text not in known:
                known[text] = cell_day(text, order)
            days.append(known[text])
        except UnclearCell as unclear:
            tell(found, index, column, f"“{text[:20]}” {unclear}")
            days.append(None)
    return days
