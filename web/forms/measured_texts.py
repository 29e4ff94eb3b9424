"""What a design keeps of measurements, as texts that its pages carry along: the bench test of a pump, looks at the fountain."""

import re
from collections.abc import Callable, Mapping
from typing import Any

from sizing.design import MOST_RECORDS, MeasuredCurve, MeasurementInput
from web.forms.several import MOST

MEASURED, RECORDS = "measured", "measurements"
OF_CURVE, OF_RECORD = tuple(MeasuredCurve.model_fields), tuple(MeasurementInput.model_fields)
CURVE_NAMES = {f"pumps.{pump}.{MEASURED}.{name}" for pump in range(MOST["pumps"]) for name in OF_CURVE}
RECORD_NAMES = {f"{RECORDS}.{index}.{name}" for index in range(MOST_RECORDS) for name in OF_RECORD}
NAMES = CURVE_NAMES | RECORD_NAMES
PLAIN_NAMES = {name for name in NAMES if name.endswith((".date", ".day", ".sky"))}
WHOLE_NAMES = {name for name in CURVE_NAMES if name.endswith(".readings")}

Fill = Callable[[str, tuple[str, ...]], dict[str, Any]]


def measured_of(fill: Fill, base: str) -> dict[str, Any]:
    """The bench test of a pump, if there was one."""
    found = fill(f"{base}.{MEASURED}", OF_CURVE)
    return {MEASURED: found} if found else {}


def records_of(texts: Mapping[str, str], fill: Fill) -> list[dict[str, Any]] | None:
    """The looks at the fountain that the texts hold, in their order; ``None`` where there are none."""
    indices = {int(match[1]) for name in texts if (match := re.match(rf"{RECORDS}\.(\d{{1,2}})\.", name))}
    rows = [row for index in sorted(indices) if (row := fill(f"{RECORDS}.{index}", OF_RECORD))]
    return rows or None


def next_record(texts: Mapping[str, str]) -> int:
    """The first free place for a look at the fountain.

    Examples
    --------
    >>> next_record({"measurements.0.day": "2027-05-31", "measurements.2.day": "2028-06-02"})
    3
    """
    taken = [int(match[1]) for name in texts if (match := re.match(rf"{RECORDS}\.(\d{{1,2}})\.", name))]
    return max(taken, default=-1) + 1
