"""Which column of a log is which: by its heading, in the words and units that people write there, in any order."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from sizing.foundation.csv_file import MARKS, cells_anyhow, usual_mark
from sizing.foundation.errors import input_error
from sizing.measured.logs.cells import Units, known_units, plain_units

FILLERS = frozenset(
    {"supply", "pump", "panel", "of", "the", "reading", "above", "water", "outlet", "level", "in", "at", "from", "measured"}
    | {"value", "to", "on", "and", "dc", "taken", "name", "size", "amount", "length"}
)
"""Words of a heading that do not tell columns apart."""
WORD = re.compile(r"[^\W\d_]+[0-9]?(?:/[^\W\d_]+[0-9]?){0,2}|°[cf]?|%")
READING = re.compile(r"[-+~<>=]?[0-9][0-9.,:]*\s*\S{0,5}")
"""A cell that is a reading and no heading, whatever unit stands in it."""
WATCH = re.compile(r"\b(?:mm?|min):(?:ss?|sec)\b")
STAMPS = ({"date", "time"}, {"day", "date", "time"}, {"datetime"}, {"timestamp"}, {"date/time"}, {"day/time"})
"""Words of a column that has day and time in each cell."""
MOST_ABOVE, MOST_HEADINGS = 12, 60
"""Rows that are searched for the headings, and cells of each."""

REVERSIBLE = ("current_a", "voltage_v", "measured_panel_current_a", "measured_panel_voltage_v")
"""Columns whose sign depends on how the meter's leads were put."""


@dataclass(frozen=True)
class Column:
    """A column of a log: its name in our own files, what sentences call it, headings that mean it, units, limits in SI.

    ``units`` is empty for texts, days and times; ``usual`` is the unit where neither heading nor cell names one. Where
    ``one_of`` has words, a heading needs one of them, for the others mean something else when they stand alone.
    """

    key: str
    label: str
    words: frozenset[str]
    kind: Literal["number", "seconds", "text", "day", "clock", "direction"] = "number"
    units: Units = field(default_factory=dict)
    usual: str = ""
    least: float = 0.0
    most: float = float("inf")
    limits: str = ""
    needed: bool = False
    one_of: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Placed:
    """A column that a file has: where, and in which unit."""

    column: Column
    index: int
    unit: str
    told: bool = False
    """Whether the heading names the unit."""


def placed_columns(headings: Sequence[str], columns: Sequence[Column], called: str) -> tuple[list[Placed], list[str]]:
    """The columns that a file has, and the headings that mean none of them.

    Raises
    ------
    InputError
        with one sentence where a needed column is missing, two mean the same, or a unit is not known.
    """
    found: dict[str, Placed] = {}
    unknown = []
    for index, heading in enumerate(headings):
        if not heading.strip() or heading.strip().lower().startswith("predicted"):
            continue
        match = [(column, "") for column in columns if column.kind in ("day", "clock")] if is_stamp(heading) else []
        match = match or [meant for meant in [meaning(heading, columns)] if meant]
        if not match:
            unknown.append(heading.strip())
        for column, unit in match:
            if unit and unit not in column.units:
                known = known_units(column.units)
                told = f"the column “{heading.strip()[:40]}” has a unit that is not known; known for {column.label} are {known}"
                raise input_error("log", "unknown_unit", told)
            if column.key in found:
                raise input_error("log", "column_doubled", f"the {called} has two columns for {column.label}; keep one of them")
            found[column.key] = Placed(column, index, unit or column.usual, bool(unit))
    lacking = [column for column in columns if column.needed and column.key not in found]
    if lacking:
        names = ", ".join(column.key for column in lacking)
        lacks = f"column {names} is missing" if len(lacking) == 1 else f"columns {names} are missing"
        whole = "its first row must name the columns" if not found else lacks
        raise input_error("log", "column_missing", f"the {called} cannot be read: {whole}; begin with the blank table")
    return list(found.values()), unknown


def is_stamp(heading: str) -> bool:
    """Whether a heading means day and time in one cell."""
    return {word for word in WORD.findall(plain_units(heading)) if word not in FILLERS} in STAMPS and "of" not in heading.lower()


def meaning(heading: str, columns: Sequence[Column]) -> tuple[Column, str] | None:
    """Which column a heading means, and the unit that it names ("" where none); ``None`` where it means none.

    Examples
    --------
    >>> litre = Column("volume_l", "volume", frozenset({"volume"}), units={"l": (1e-3, 0), "ml": (1e-6, 0)}, usual="l")
    >>> [meaning(text, [litre])[1] for text in ("volume_l", "Volume/mL", "Volume in ml", "volume", "volume (cups)")]
    ['l', 'ml', 'ml', '', '?']
    >>> meaning("pupil", [litre]), meaning("5 L", [litre])
    (None, None)
    """
    if READING.fullmatch(heading.strip()):
        return None
    words = [part for word in WORD.findall(WATCH.sub("s", plain_units(heading))) for part in parts(word, columns)]
    last = len(words) - 1  # where "in" is the inch
    told = [word for at, word in enumerate(words) if word not in FILLERS or (word == "in" and at == last)] or words
    *names, unit = told or [""]
    for column in columns:
        if column.one_of and not column.one_of & set(told):
            continue
        if told and set(told) <= column.words | {column.usual if len(told) > 1 else ""}:
            return column, unit if names and unit in column.units else ""
        if names and set(names) <= column.words and unit in column.units:
            return column, unit
    alone = [column for column in columns if len(told) == 1 and told[0] in column.units]
    if alone:
        return (alone[0], told[0]) if len(alone) == 1 else None
    if re.search(r"[(\[/,:]| in ", heading):
        return next(((column, "?") for column in columns if names and set(names) <= column.words and column.units), None)
    return None


def parts(word: str, columns: Sequence[Column]) -> list[str]:
    """A word with a stroke in it as its two words, where it is no unit itself."""
    whole = "/" not in word or any(word in column.words or word in column.units for column in columns)
    return [word] if whole else [part for part in word.split("/", 1) if part]


def headings_at(lines: str, columns: Sequence[Column]) -> tuple[str, int]:
    """What stands between the cells of a log, and how many filled rows stand above its headings.

    The first row that names all needed columns, else the one that names most; the first row where none names two.
    """
    top = "\n".join(lines[:20_000].split("\n")[: 4 * MOST_ABOVE])
    needed = sum(column.needed for column in columns)
    best, found = 1, (usual_mark(lines.lstrip()), 0)
    for at in range(MOST_ABOVE):
        for between in MARKS:
            rows = cells_anyhow(top, between)[at : at + 1]
            named = named_columns(rows[0][1], columns) if rows else set()
            if len(named) > best:
                best, found = len(named), (between, at)
            if len(named) > 1 and sum(column.needed and column.key in named for column in columns) == needed:
                return between, at
    return found


def named_columns(row: Sequence[str], columns: Sequence[Column]) -> set[str]:
    """The columns that the cells of a row name."""
    cells = [cell for cell in row[:MOST_HEADINGS] if cell.strip() and len(cell) < 100]
    both = {column.key for column in columns if column.kind in ("day", "clock") and any(is_stamp(cell) for cell in cells)}
    return both | {match[0].key for match in (meaning(cell, columns) for cell in cells) if match and match[1] != "?"}


def blank_table(columns: Sequence[Column]) -> str:
    """The heading of a log to fill in (RFC 4180)."""
    return ",".join(column.key for column in columns) + "\r\n"


def in_units(factors: Mapping[str, float]) -> dict[str, tuple[float, float]]:
    """Units that are factors of an SI unit alone."""
    return {name: (factor, 0.0) for name, factor in factors.items()}
