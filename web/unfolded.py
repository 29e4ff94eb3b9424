"""The working of a report, number by number, as text for the page."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from sizing.report import Report
from sizing.sources import SOURCES
from sizing.words import MONTHS, clock, quantity
from sizing.working import grouped_steps, steps
from sizing.year import Month
from web.sums import formula, name, put_in

TITLES = {
    "sun": "Sun on the panel",
    "panel": "Panel",
    "wire": "Wire",
    "pump": "Pump and motor",
    "pipe": "Pipe",
    "outlet": "Where the water comes out",
}


@dataclass(frozen=True)
class Step:
    """One number of the working, ready to print."""

    id: str
    name: str
    value: str
    formula: str
    put_in: str
    method: str
    basis: str
    source: str
    key: str
    inputs: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Chapter:
    """The numbers that one station of the path adds to those before it."""

    key: str
    title: str
    steps: tuple[Step, ...]


@dataclass(frozen=True)
class Column:
    """What the sums of all months share: heading, formula or method, source, and its key."""

    title: str
    said: str
    source: str
    key: str


@dataclass(frozen=True)
class MonthSums:
    """The working of the monthly table: a row for each month, each cell with its id, and the sum of the year."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, tuple[tuple[str, str], ...]], ...]
    year: Step


def chapters(report: Report) -> tuple[Chapter, ...]:
    """Each number of the moment once, where the path first needs it."""
    stations = report.moment.stations
    known: dict[str, tuple[float, str]] = {}
    found = []
    for station, new in zip(stations, grouped_steps(station.roots for station in stations), strict=True):
        known |= values(new)
        found.append(Chapter(station.name, TITLES[station.name], tuple(shown(step, known) for step in new)))
    return tuple(found)


def values(found: Iterable[Mapping[str, Any]]) -> dict[str, tuple[float, str]]:
    """Value and unit of each step by its id."""
    return {step["id"]: (step["value"], step["unit"]) for step in found}


def month_sums(report: Report) -> MonthSums:
    """The working of the months as one table; what all months share is said once."""
    found = {step["id"]: step for step in steps(report.months_worked)}
    known = values(found.values())
    rows = [month_row(found, known, month) for month in report.year.months]
    most = max(report.year.months, key=lambda month: (month.jet, month.water))
    best = "jet" if f"jet_in_{key_of(most)}" in found else "flow"
    titles = {
        "sun": "Sun on the panel, a day",
        "running_hours": "Plays, a day",
        "mean_flow": "Mean flow while it plays",
        "water": "Water, a day",
        best: f"{best.capitalize()} at the best hour",
    }
    columns = tuple(column(title, found[f"{kind}_in_{key_of(most)}"]) for kind, title in titles.items())
    return MonthSums(columns, tuple(rows), shown(found["water_of_year"], known))


def key_of(month: Month) -> str:
    """Name of a month in the ids."""
    return MONTHS[month.month - 1].lower()


def month_row(
    found: Mapping[str, Any], known: Mapping[str, tuple[float, str]], month: Month
) -> tuple[str, tuple[tuple[str, str], ...]]:
    """Name and cells of a month: id and text of each number, the water with its sum."""
    cells = []
    for kind in ("sun", "running_hours", "mean_flow", "water", "jet", "flow"):
        step = found.get(f"{kind}_in_{key_of(month)}")
        if step is None:
            continue
        text = quantity(step["value"], step["unit"], 4)
        if kind == "water":
            inputs = {part["name"]: known[part["id"]] for part in step["inputs"]}
            text = f"{put_in(step['formula'], inputs)} = {text}"
        elif kind in ("jet", "flow"):
            text = f"{text} from {clock(month.best_hour)}"
        cells.append((step["id"], text))
    return MONTHS[month.month - 1], tuple(cells)


def column(title: str, step: Mapping[str, Any]) -> Column:
    """What a column shares, from one of its months: no month's own days and hours."""
    said = formula(step["formula"]) if step["formula"] else re.sub(r"\b(the|its) \d+ days", r"\1 days", step["method"])
    said = re.sub(r"the hour from \d+:\d\d", "the hour named", said)
    return Column(title, said, cited(step["source"]), step["source"])


def shown(step: dict[str, Any], units: Mapping[str, tuple[float, str]]) -> Step:
    """One number of the working as text."""
    inputs = {part["name"]: units[part["id"]] for part in step["inputs"]}
    return Step(
        id=step["id"],
        name=name(step["name"]),
        value=quantity(step["value"], step["unit"], 4),
        formula=formula(step["formula"]) if step["formula"] else "",
        put_in=put_in(step["formula"], inputs) if step["formula"] else "",
        method=step["method"],
        basis=step["basis"],
        source=cited(step["source"]),
        key=step["source"],
        inputs=tuple((name(part["name"]), part["id"]) for part in step["inputs"]),
    )


def cited(key: str) -> str:
    """A publication in a few words; nothing for a number that was given. The page of sources has the rest."""
    if key not in SOURCES:
        return ""
    source = SOURCES[key]
    return source.title if source.read != "practice" else "common practice, no source"
