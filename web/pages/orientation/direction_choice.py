"""What the page of directions is asked for: what its map shows, and which months and hours count."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from sizing.orientation import Wanted

COUNTS, FROM, TO, MONTH = "direction.counts", "direction.from", "direction.to", "direction.month."
HOUR = re.compile(r"([0-9]{1,2})(?:[.,]([0-9]{1,2})|:([0-5][0-9]))?")


@dataclass(frozen=True)
class Asked:
    """Months and hours that count, the key of what the map shows (or empty), hours as sent, a sentence for each wrong one."""

    wanted: Wanted
    counts: str
    texts: Mapping[str, str]
    errors: Mapping[str, str]


def asked_direction(fields: Mapping[str, str]) -> Asked:
    """Read the fields of the page's own form; what is wrong is left out and told.

    Examples
    --------
    >>> asked = asked_direction({"direction.month.5": "on", "direction.from": "9:30", "direction.to": "14"})
    >>> asked.wanted
    Wanted(months=(5,), hours=(9.5, 14.0))
    >>> asked_direction({"direction.from": "14", "direction.to": "9"}).errors["direction.to"]
    'Counting from 14 to 9 would end before it begins; the second hour must come later on the same day'
    """
    months = tuple(month for month in range(1, 13) if fields.get(f"{MONTH}{month}", ""))
    hours, errors = hours_of(fields)
    texts = {name: fields[name][:12] for name in (FROM, TO) if name in fields}
    return Asked(Wanted(months or None, hours), fields.get(COUNTS, ""), texts, errors)


def hours_of(fields: Mapping[str, str]) -> tuple[tuple[float, float] | None, dict[str, str]]:
    """The two hours, or a sentence beside the one that is wrong; neither where both are left empty."""
    texts = {name: fields.get(name, "").strip() for name in (FROM, TO)}
    if not any(texts.values()):
        return None, {}
    hours = {name: hour_of(text) for name, text in texts.items()}
    errors = {
        name: "Enter an hour of the day between 0 and 24, like 9 or 9:30; or leave both hours empty"
        for name, hour in hours.items()
        if hour is None
    }
    first, last = hours[FROM], hours[TO]
    if first is None or last is None:
        return None, errors
    if first >= last:
        said = f"Counting from {texts[FROM]} to {texts[TO]} would end before it begins"
        return None, {TO: f"{said}; the second hour must come later on the same day"}
    return (first, last), {}


def hour_of(text: str) -> float | None:
    """An hour as people write it; None where it is none.

    Examples
    --------
    >>> hour_of("9:30"), hour_of("9,5"), hour_of("24"), hour_of("24.5"), hour_of("noon")
    (9.5, 9.5, 24.0, None, None)
    """
    found = HOUR.fullmatch(text.strip())
    if found is None:
        return None
    hour = int(found[1]) + (float(f"0.{found[2]}") if found[2] else int(found[3]) / 60 if found[3] else 0.0)
    return hour if hour <= 24 else None
