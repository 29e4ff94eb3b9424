"""The months of an answer as a table for spreadsheets (RFC 4180)."""

from collections.abc import Sequence

from sizing.report import Answer, MonthAnswer

RISKY = ("=", "+", "-", "@", "\t", "\r", "\0")
"""A spreadsheet may run a text cell that begins so."""


def cell(value: object) -> str:
    """One cell: numbers in full, nothing for ``None``, a text so that no spreadsheet runs it.

    Examples
    --------
    >>> cell(-0.5), cell(None), cell("=1+1"), cell('a "quoted" word')
    ('-0.5', '', "'=1+1", '"a ""quoted"" word"')
    """
    if value is None:
        return ""
    if not isinstance(value, str):
        return repr(value)
    text = f"'{value}" if value.startswith(RISKY) else value
    return '"' + text.replace('"', '""') + '"' if any(mark in text for mark in '",\r\n') else text


def csv_text(rows: Sequence[Sequence[object]]) -> str:
    """Rows with commas between the cells and CRLF after each row.

    Examples
    --------
    >>> csv_text([("month", "water_l_per_day"), (1, 7.3)])
    'month,water_l_per_day\\r\\n1,7.3\\r\\n'
    """
    return "".join(",".join(cell(value) for value in row) + "\r\n" for row in rows)


def months_csv(found: Answer) -> str:
    """The twelve months of an answer; the design's title stands in each row, so that tables can be stacked."""
    names = list(MonthAnswer.model_fields)
    rows = [[found.title, *(getattr(month, name) for name in names)] for month in found.months]
    return csv_text([["design", *names], *rows])
