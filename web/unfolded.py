"""The working of a report, number by number, as text for the page."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sizing.report import Report
from sizing.sources import SOURCES
from sizing.words import quantity
from sizing.working import grouped_steps
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


def chapters(report: Report) -> tuple[Chapter, ...]:
    """Each number once, where the path first needs it; the months at the end."""
    parts = [(station.name, TITLES[station.name], station.roots) for station in report.moment.stations]
    parts.append(("months", "The months and the year", report.months_worked))
    known: dict[str, tuple[float, str]] = {}
    found = []
    for (key, title, _), new in zip(parts, grouped_steps(roots for _, _, roots in parts), strict=True):
        known |= {step["id"]: (step["value"], step["unit"]) for step in new}
        found.append(Chapter(key, title, tuple(shown(step, known) for step in new)))
    return tuple(found)


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
