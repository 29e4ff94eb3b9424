"""A table saved from a spreadsheet or copied out of one, as rows of texts: any usual encoding, any usual mark between cells.

What can be read in one way is read; what cannot is told by its row and column, and the rest is kept.
"""

import codecs
import csv
import io
import re
from dataclasses import dataclass

from sizing.foundation.errors import input_error

MARKS = ",;\t|"
"""What may stand between cells."""
BINARY = re.compile("[\0-\x08\x0e-\x19]")
"""What no text has in it."""
STRAY_MARKS = re.compile(r'^"(.*)"$|^"|(?<=[^0-9"])"$')
MARK_TOLD = re.compile(r'"?sep=[^\n]{1,2}"?[,;\t|]*\n', re.IGNORECASE)


@dataclass(frozen=True)
class RowProblem:
    """What could not be read: row as a spreadsheet counts it (0: the whole file), column, and one sentence."""

    row: int
    column: str
    sentence: str


def text_of(raw: bytes, called: str, pointer: str, largest: int, advice: str) -> str:
    """The file as text: UTF-8, UTF-16 or UTF-32 with a mark at the start, UTF-8 or UTF-16 without, else Windows-1252.

    Parameters
    ----------
    called : what a sentence calls the file
    pointer : what an error means by it
    largest : [byte]
    advice : what to do about a larger one

    Raises
    ------
    InputError
        where it is larger, or no text at all.

    Examples
    --------
    >>> text_of("höhe;3".encode("utf-16"), "log", "log", 100, "")
    'höhe;3'
    """
    if len(raw) > largest:
        size = f"{largest // 1_000_000} MB" if largest >= 1_000_000 else f"{largest // 1000} KB"
        raise input_error(pointer, "file_too_long", f"the {called} is larger than {size}; {advice}")
    wide = wide_encoding(raw)
    try:
        text = raw.decode(wide or "utf-8-sig")
    except UnicodeDecodeError:
        text = "" if wide else raw.decode("cp1252", "replace")
    if not text.strip() or BINARY.search(text):
        raise input_error(pointer, "file_unreadable", f"the {called} is no text; save it as CSV and send that")
    return text


def wide_encoding(raw: bytes) -> str:
    """The encoding with two or four bytes a letter that a file begins with, marked or not; empty where it has none.

    Examples
    --------
    >>> wide_encoding("volts".encode("utf-16-be")), wide_encoding(b"volts")
    ('utf-16-be', '')
    """
    if raw.startswith((codecs.BOM_UTF32_LE, codecs.BOM_UTF32_BE)):
        return "utf-32"
    if raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return "utf-16"
    first, second = raw[0:64:2], raw[1:64:2]
    if second and second.count(0) == len(second) and 0 not in first:
        return "utf-16-le"
    return "utf-16-be" if first and first.count(0) == len(first) and 0 not in second else ""


def cells(text: str, called: str = "file", pointer: str = "file") -> list[tuple[int, list[str]]]:
    """Rows that hold anything, with their numbers; what stands between the cells is what the header has most of.

    Raises
    ------
    InputError
        where the text breaks off inside a quoted cell.

    Examples
    --------
    >>> cells("part;unit_price\\r\\n\\r\\ncable;1,85\\r\\n")
    [(1, ['part', 'unit_price']), (3, ['cable', '1,85'])]
    """
    lines = plain_lines(text)
    try:
        rows = split(lines, usual_mark(lines))
    except csv.Error:
        told = f"the {called} breaks off inside a quoted cell; save it again as CSV"
        raise input_error(pointer, "file_unreadable", told) from None
    return numbered(rows)


def plain_lines(text: str) -> str:
    """Text with plain ends of lines, without a first line that only tells what stands between cells."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    return MARK_TOLD.sub("", lines, count=1)


def usual_mark(lines: str) -> str:
    """What the first line has most of, of all that stands between cells."""
    return max(MARKS, key=lines.lstrip("\n").partition("\n")[0].count)


def split(lines: str, between: str) -> list[list[str]]:
    """Rows of cells; raises ``csv.Error`` where a quotation mark is never closed."""
    return list(csv.reader(io.StringIO(lines), delimiter=between, strict=True, skipinitialspace=True))


def cells_anyhow(lines: str, between: str) -> list[tuple[int, list[str]]]:
    """Rows that hold anything, with their numbers; where quotation marks do not close, each line is a row without them.

    Examples
    --------
    >>> cells_anyhow('a,b\\n1,"2\\n3,"4,5"\\n', ",")
    [(1, ['a', 'b']), (2, ['1', '2']), (3, ['3', '4,5'])]
    """
    try:
        rows = split(lines, between)
        if '"' not in lines or not any("\n" in cell and between in cell for row in rows for cell in row):
            return numbered(rows)
    except csv.Error:
        pass
    return numbered([line_alone(line, between) for line in lines.split("\n")])


def line_alone(line: str, between: str) -> list[str]:
    """The cells of one line; of marks that do not close, one behind a digit stays, for it may mean the inch."""
    try:
        if line.count('"') % 2 == 0:
            return (split(line, between) or [[]])[0]
    except csv.Error:
        pass
    return [STRAY_MARKS.sub(r"\1", cell.strip()) for cell in line.split(between)]


def numbered(rows: list[list[str]]) -> list[tuple[int, list[str]]]:
    """Rows that hold anything, counted as a spreadsheet counts them."""
    return [(number, row) for number, row in enumerate(rows, 1) if any(cell.strip() for cell in row)]
