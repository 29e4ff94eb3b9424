"""A table saved from a spreadsheet or copied out of one, as rows of texts: any usual encoding, any usual mark between cells.

What can be read in one way is read; what cannot is told by its row and column, and the rest is kept.
"""

import codecs
import csv
import io
from dataclasses import dataclass

from sizing.errors import refuse


@dataclass(frozen=True)
class RowProblem:
    """What could not be read: row as a spreadsheet counts it (0: the whole file), column, and one sentence."""

    row: int
    column: str
    sentence: str


def text_of(raw: bytes, called: str, pointer: str, largest: int, advice: str) -> str:
    """The file as text: UTF-8 or UTF-16 with a mark at the start, UTF-8 without, else Windows-1252.

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
        raise refuse(pointer, "file_too_long", f"the {called} is larger than {size}; {advice}")
    wide = raw[:2] in (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
    try:
        text = raw.decode("utf-16" if wide else "utf-8-sig")
    except UnicodeDecodeError:
        text = "" if wide else raw.decode("cp1252", "replace")
    if not text.strip() or "\0" in text:
        raise refuse(pointer, "file_unreadable", f"the {called} is no text; save it as CSV and send that")
    return text


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
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    if lines.startswith("sep="):
        lines = lines.partition("\n")[2]
    between = max(",;\t", key=lines.lstrip("\n").partition("\n")[0].count)
    try:
        rows = list(csv.reader(io.StringIO(lines), delimiter=between, strict=True))
    except csv.Error:
        told = f"the {called} breaks off inside a quoted cell; save it again as CSV"
        raise refuse(pointer, "file_unreadable", told) from None
    return [(number, row) for number, row in enumerate(rows, 1) if any(cell.strip() for cell in row)]
