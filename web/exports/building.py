"""Cable sizes and the months of the basin as tables for spreadsheets (RFC 4180)."""

from collections.abc import Sequence

from sizing.answers import Exact
from sizing.basin import MonthOfWaterAnswer, WaterBalance
from sizing.installation import CableSizeAnswer, Wires
from web.exports.months import csv_text


def wires_csv(title: str, wires: Wires) -> str:
    """One row for each size of cable, the design's own first; the design's title stands in each row."""
    rows = [CableSizeAnswer.of(row) for row in (wires.own, *wires.rows)]
    own = ["yes", *("no" for _ in wires.rows)]
    return csv_text([["design", "own", *names(rows)], *([title, said, *cells(row)] for said, row in zip(own, rows, strict=True))])


def basin_csv(title: str, balance: WaterBalance) -> str:
    """One row for each month of the basin's water."""
    rows = [MonthOfWaterAnswer.of(month) for month in balance.months]
    return csv_text([["design", *names(rows)], *([title, *cells(row)] for row in rows)])


def names(rows: Sequence[Exact]) -> list[str]:
    """Names of the fields that all rows have."""
    return list(type(rows[0]).model_fields)


def cells(row: Exact) -> list[object]:
    """What stands in the fields of a row."""
    return [value for _, value in row]
