"""Cable sizes and the months of the basin as tables for spreadsheets (RFC 4180)."""

from collections.abc import Mapping, Sequence
from typing import Any

from web.exports.months import csv_text


def wires_csv(title: str, found: Mapping[str, Any]) -> str:
    """One row for each size of cable, the design's own first; the design's title stands in each row.

    Parameters
    ----------
    found : the wiring of a design as ``sizing.wires_answer`` has it
    """
    return table(title, [{"own": "yes"} | found["own"], *({"own": "no"} | row for row in found["sizes"])])


def basin_csv(title: str, found: Mapping[str, Any]) -> str:
    """One row for each month of the basin's water.

    Parameters
    ----------
    found : the water of a basin as ``sizing.basin.answer`` has it
    """
    return table(title, found["months"])


def table(title: str, rows: Sequence[Mapping[str, object]]) -> str:
    """Rows with the same names, one column for each, and the design's title before them.

    Examples
    --------
    >>> table("Ours", [{"month": 1, "rain_mm": 7.3}])
    'design,month,rain_mm\\r\\nOurs,1,7.3\\r\\n'
    """
    return csv_text([["design", *rows[0]], *([title, *row.values()] for row in rows)])
