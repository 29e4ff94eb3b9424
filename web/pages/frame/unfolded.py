"""The working of a report, number by number, as text for the page."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from markupsafe import Markup, escape

from sizing.foundation import MONTHS, Numbered, Worked, clock, numbered, quantity
from sizing.foundation.sources import SOURCES
from sizing.operation import Month
from sizing.report import MONTH_IDS, Report
from web.pages.frame.sums import formula, name, put_in

TITLES = {
    "sun": "Sun on the panel",
    "panel": "Panel",
    "wire": "Wire",
    "pump": "Pump and motor",
    "pipe": "Pipe",
    "outlet": "Where the water comes out",
}


class Step(NamedTuple):
    """One number of the working, ready to print; ``inputs`` are the links to the numbers that went in."""

    id: str
    name: str
    value: str
    formula: str
    put_in: str
    method: str
    basis: str
    source: str
    key: str
    inputs: Markup


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
    groups = numbered(station.roots for station in stations)
    return tuple(
        Chapter(station.name, TITLES[station.name], tuple([shown(found) for found in new]))
        for station, new in zip(stations, groups, strict=True)
    )


def unfolded(key: str, title: str, roots: Iterable[Worked]) -> Chapter:
    """Numbers of another part of the work, each once, with all that went into them."""
    return Chapter(key, title, tuple([shown(found) for found in numbered([tuple(roots)])[0]]))


def month_sums(report: Report) -> MonthSums:
    """The working of the months as one table; what all months share is said once."""
    found = {each.id: each for each in numbered([report.months_worked])[0]}
    rows = [month_row(found, month) for month in report.year.months]
    most = max(report.year.months, key=lambda month: (month.jet, month.water))
    best = "jet" if f"jet_in_{key_of(most)}" in found else "flow"
    titles = {
        "sun": "Sun on the panel, a day",
        "running_hours": "Plays, a day",
        "mean_flow": "Mean flow while it plays",
        "water": "Water, a day",
        best: f"{best.capitalize()} at the best hour",
    }
    columns = tuple(column(title, found[f"{kind}_in_{key_of(most)}"].worked) for kind, title in titles.items())
    return MonthSums(columns, tuple(rows), shown(found["water_of_year"]))


def key_of(month: Month) -> str:
    """Name of a month in the ids."""
    return MONTH_IDS[month.month - 1]


def month_row(found: Mapping[str, Numbered], month: Month) -> tuple[str, tuple[tuple[str, str], ...]]:
    """Name and cells of a month: id and text of each number, the water with its sum."""
    cells = []
    for kind in ("sun", "running_hours", "mean_flow", "water", "jet", "flow"):
        each = found.get(f"{kind}_in_{key_of(month)}")
        if each is None:
            continue
        text = quantity(each.worked.value, each.worked.unit, 4)
        if kind == "water":
            text = f"{put_in(each.worked.formula, inputs_of(each.worked))} = {text}"
        elif kind in ("jet", "flow"):
            text = f"{text} from {clock(month.best_hour)}"
        cells.append((each.id, text))
    return MONTHS[month.month - 1], tuple(cells)


def column(title: str, worked: Worked) -> Column:
    """What a column shares, from one of its months: no month's own days and hours."""
    said = formula(worked.formula) if worked.formula else re.sub(r"\b(the|its) \d+ days", r"\1 days", worked.method)
    said = re.sub(r"the hour from \d+:\d\d", "the hour named", said)
    return Column(title, said, cited(worked.source), worked.source)


def inputs_of(worked: Worked) -> dict[str, tuple[float, str]]:
    """Value and unit of what goes into a number, by its name in the formula."""
    return {name: (part.value, part.unit) for name, part in worked.inputs}


def shown(found: Numbered) -> Step:
    """One number of the working as text."""
    worked = found.worked
    return Step(
        id=found.id,
        name=name(worked.name),
        value=quantity(worked.value, worked.unit, 4),
        formula=formula(worked.formula) if worked.formula else "",
        put_in=put_in(worked.formula, inputs_of(worked)) if worked.formula else "",
        method=worked.method,
        basis=worked.basis.capitalize(),
        source=cited(worked.source),
        key=worked.source,
        inputs=Markup(", ".join([link_to(part, link) for (part, _), link in zip(worked.inputs, found.links, strict=True)])),
    )


@lru_cache(maxsize=1024)
def link_to(part: str, step_id: str) -> str:
    """The link to a number, in words; all designs have much the same ones.

    Examples
    --------
    >>> link_to("back_emf", "back_emf_2")
    '<a href="#back_emf_2">back EMF</a>'
    """
    return f'<a href="#{escape(step_id)}">{escape(name(part))}</a>'


def cited(key: str) -> str:
    """A publication in a few words; nothing for a number that was given. The page of sources has the rest."""
    if key not in SOURCES:
        return ""
    source = SOURCES[key]
    return source.title if source.read != "practice" else "common practice, no source"
