"""Which column of a log is which: by its heading, in the words and units that people write there, in any order."""

import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from sizing.errors import refuse
from sizing.log_numbers import Units

FILLERS = frozenset(
    {"supply", "pump", "panel", "of", "the", "reading", "above", "water", "outlet", "level", "in", "at", "from", "measured"}
)
"""Words of a heading that do not tell columns apart."""
WORD = re.compile(r"[^\W\d_]+(?:/[^\W\d_]+)?[0-9]?|°[cf]?|%")


@dataclass(frozen=True)
class Column:
    """A column of a log: its name in our own files, what sentences call it, headings that mean it, units, limits in SI.

    ``units`` is empty for texts, days and times; ``usual`` is the unit where neither heading nor cell names one.
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


@dataclass(frozen=True)
class Placed:
    """A column that a file has: where, and in which unit."""

    column: Column
    index: int
    unit: str


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
        match = meaning(heading, columns)
        if match is None:
            unknown.append(heading.strip())
            continue
        column, unit = match
        if unit != column.usual and unit not in column.units:
            known = ", ".join(column.units)
            told = f"the column “{heading.strip()[:40]}” has a unit that is not known; known for {column.label} are {known}"
            raise refuse("log", "unknown_unit", told)
        if column.key in found:
            raise refuse("log", "column_doubled", f"the {called} has two columns for {column.label}; keep one of them")
        found[column.key] = Placed(column, index, unit)
    lacking = [column for column in columns if column.needed and column.key not in found]
    if lacking:
        names = ", ".join(column.key for column in lacking)
        lacks = f"column {names} is missing" if len(lacking) == 1 else f"columns {names} are missing"
        whole = "its first row must name the columns" if not found else lacks
        raise refuse("log", "column_missing", f"the {called} cannot be read: {whole}; begin with the blank table")
    return list(found.values()), unknown


def meaning(heading: str, columns: Sequence[Column]) -> tuple[Column, str] | None:
    """Which column a heading means, and in which unit; ``None`` where it means none.

    Examples
    --------
    >>> litre = Column("volume_l", "volume", frozenset({"volume"}), units={"l": (1e-3, 0), "ml": (1e-6, 0)}, usual="l")
    >>> [meaning(text, [litre])[1] for text in ("volume_l", "Volume (mL)", "Volume in ml", "volume")], meaning("pupil", [litre])
    (['l', 'ml', 'ml', 'l'], None)
    """
    plain = unicodedata.normalize("NFKC", heading).lower().replace("_per_", "/").replace("_", " ")
    plain = re.sub(r"\b(us|imp|uk)[. ]*gal(lons?)?\b", r"\1gal", plain.replace("µ", "u"))
    words = WORD.findall(plain)
    last = len(words) - 1  # where "in" is the inch
    told = [word for at, word in enumerate(words) if word not in FILLERS or (word == "in" and at == last)] or words
    for column in columns:
        if set(told) <= column.words and told:
            return column, column.usual
        *names, unit = told or [""]
        if names and set(names) <= column.words and column.units:
            return column, unit if unit in column.units else "?" if unit not in column.words else column.usual
    alone = [column for column in columns if len(told) == 1 and told[0] in column.units]
    return (alone[0], told[0]) if len(alone) == 1 else None


def blank_table(columns: Sequence[Column]) -> str:
    """The heading of a log to fill in (RFC 4180)."""
    return ",".join(column.key for column in columns) + "\r\n"


def in_units(factors: Mapping[str, float]) -> Units:
    """Units that are factors of an SI unit alone."""
    return {name: (factor, 0.0) for name, factor in factors.items()}
