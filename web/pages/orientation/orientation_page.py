"""The page of directions: which way the panel should face, what the present choice gives up, tilting with the seasons."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from starlette.responses import Response

from sizing.foundation import LITRE, MONTHS, SizingError, clock, column, figures
from sizing.orientation import (
    ALIKE,
    LARGE,
    Aim,
    Orientation,
    Side,
    TiltsFound,
    Wanted,
    best_words,
    chance_sentence,
    choice_sentence,
    compass_sentence,
    degrees,
    direction,
    flatness_sentence,
    orient,
    orientation_answer,
    tilts_sentence,
    turned,
    two_tilts_sentence,
    verdict,
)
from web.charts.direction_map import direction_map
from web.charts.kit.shapes import Table
from web.exports.orientation import orientation_csv
from web.forms.form import Texts, sentences_of, tidy, understand
from web.forms.sending import WHOLE_DESIGN, Fields, carried, filled, href, method_for
from web.pages.frame.leads import leads
from web.pages.frame.site import page, spreadsheet
from web.pages.garden.form_page import form

COUNTS, FROM, TO, MONTH = "direction.counts", "direction.from", "direction.to", "direction.month."
HOUR = re.compile(r"([0-9]{1,2})(?:[.,]([0-9]{1,2})|:([0-5][0-9]))?")
SIDE_WORDS = {
    "today": "Today’s choice",
    "east": "East",
    "equator": "Toward the equator",
    "west": "West",
    "flat": "Level",
    "best": "The best",
}


@dataclass(frozen=True)
class Asked:
    """Months and hours that count, the key of what the map shows (or empty), hours as sent, a sentence for each wrong one."""

    wanted: Wanted
    counts: str
    texts: Mapping[str, str]
    errors: Mapping[str, str]


@dataclass(frozen=True)
class Told:
    """One aim in words, and where its best direction is tried out; an empty address where there is no better one."""

    key: str
    sentence: str
    within: str
    href: str
    shown: bool


@dataclass(frozen=True)
class Row:
    """One of the directions side by side: its name, how it stands, its numbers, and where it is tried out."""

    name: str
    stands: str
    cells: tuple[str, ...]
    href: str


def orientation_page(fields: Fields) -> Response:
    """Which way the panel should face; the form again if something is wrong with the design."""
    asked, (texts, found, errors) = asked_direction(fields), searched(fields)
    if found is None:
        return form(texts, errors)
    content = orientation_content(found, texts, asked)
    return page("orientation.html", 422 if asked.errors else 200, current="/orientation", **content)


def orientation_table(fields: Fields) -> Response:
    """Every direction as RFC 4180; the form again if something is wrong with the design."""
    texts, found, errors = searched(fields)
    if found is None:
        return form(texts, errors)
    return spreadsheet(orientation_csv(orientation_answer(found)), "fountain-directions.csv")


def searched(fields: Fields) -> tuple[Texts, Orientation | None, dict[str, str]]:
    """Search the directions of what was sent, or say what is wrong with it."""
    texts = tidy(fields)
    understood = understand(texts)
    if understood.design is None:
        return texts, None, understood.errors
    try:
        return texts, orient(understood.design, None, asked_direction(fields).wanted), {}
    except SizingError as error:
        return texts, None, sentences_of(texts, error.problems)


def orientation_content(found: Orientation, texts: Mapping[str, str], asked: Asked) -> dict[str, Any]:
    """Everything that the page prints."""
    texts = filled(texts)
    shown = next((aim for aim in found.aims if aim.key == asked.counts), found.main)
    both = (found.tilts, found.equator_tilts)
    return {
        "title": found.design.title,
        "leads": leads(texts, "/orientation"),
        "results": href("/results", texts),
        "verdict": verdict(found, shown),
        "within": flatness_sentence(shown),
        "compass": compass_sentence(found),
        "goal_chance": chance_sentence(found),
        "plays": any(aim.outcome != "never" for aim in found.aims),
        "chart": None if shown.outcome == "never" else direction_map(found, shown),
        "told": [told(found, aim, texts, shown) for aim in found.aims],
        "use": tried(texts, found, shown),
        "use_words": best_words(found.planes, shown),
        "head": side_head(found),
        "rows": side_rows(found, texts),
        "tilts": [f"{tilts_sentence(each)} {two_tilts_sentence(each)}".strip() for each in both[: 1 + differ(found)]],
        "months": tilt_table(both[: 1 + differ(found)]),
        "csv": href("/orientation.csv", texts | choice_fields(found)),
        **form_parts(found, texts, asked, shown),
    }


def form_parts(found: Orientation, texts: Mapping[str, str], asked: Asked, shown: Aim) -> dict[str, Any]:
    """The small form that chooses what counts."""
    hours = {FROM: clock(found.choice.hours[0]), TO: clock(found.choice.hours[1])}
    return {
        "texts": texts,
        "method": method_for(texts),
        "carried": carried(texts),
        "counts_name": COUNTS,
        "counts": [(aim.key, f"{aim.words[0].upper()}{aim.words[1:]}", aim is shown) for aim in found.aims],
        "month_boxes": [(f"{MONTH}{number}", name, number in found.choice.months) for number, name in enumerate(MONTHS, start=1)],
        "hours": [
            (name, label, asked.texts[name] if asked.errors and name in asked.texts else hours[name], asked.errors.get(name, ""))
            for name, label in ((FROM, "From, hour of the day"), (TO, "To, hour of the day"))
        ],
        "wrong": bool(asked.errors),
        "choice": choice_sentence(found.choice, found.sky.hour_basis),
    }


def choice_fields(found: Orientation) -> dict[str, str]:
    """The chosen months and hours as fields of the page's form."""
    months = {f"{MONTH}{month}": "on" for month in found.choice.months}
    return months | {FROM: clock(found.choice.hours[0]), TO: clock(found.choice.hours[1])}


def told(found: Orientation, aim: Aim, texts: Mapping[str, str], shown: Aim) -> Told:
    """What one aim says."""
    return Told(aim.key, verdict(found, aim), flatness_sentence(aim), tried(texts, found, aim), aim is shown)


def tried(texts: Mapping[str, str], found: Orientation, aim: Aim) -> str:
    """Where the best direction of an aim is sized; empty where it is none, or no better than today's."""
    if aim.outcome != "found" or aim.given_up <= 0:
        return ""
    return with_direction(texts, float(found.planes.tilt[aim.best]), float(found.planes.azimuth[aim.best]))


def with_direction(texts: Mapping[str, str], tilt: float, azimuth: float) -> str:
    """The results of the same design in another direction, told from true north; empty where no address can hold it."""
    other = {name: text for name, text in texts.items() if name != "mounting.compass_deg"}
    where = href("/results", other | {"mounting.tilt_deg": f"{tilt:.12g}", "mounting.azimuth_deg": f"{azimuth:.12g}"})
    return "" if where == f"#{WHOLE_DESIGN}" else where


def side_head(found: Orientation) -> list[str]:
    """Heads of the columns of numbers."""
    aims = [f"{aim.words[0].upper()}{aim.words[1:]}, {unit_of(aim)}" for aim in found.aims]
    return ["Sun on the panel in the year, kWh/m²", *aims]


def unit_of(aim: Aim) -> str:
    """Unit in which an aim is shown."""
    return "h" if aim.unit == "h" else "m³" if float(aim.values.max()) >= LARGE else "L"


def side_rows(found: Orientation, texts: Mapping[str, str]) -> list[Row]:
    """The directions side by side."""
    columns = [column([side.sun for side in found.sides])]
    for place, aim in enumerate(found.aims):
        scale = LITRE if unit_of(aim) == "L" else 1.0
        columns.append(column([side.values[place] / scale for side in found.sides]))
    cells = zip(*columns, strict=True)
    return [row_of(found, side, texts, numbers) for side, numbers in zip(found.sides, cells, strict=True)]


def row_of(found: Orientation, side: Side, texts: Mapping[str, str], cells: tuple[str, ...]) -> Row:
    """One direction."""
    name = SIDE_WORDS[side.name]
    if side.name == "best":
        name = f"{name} for {found.main.words}"
    where = "" if side.name == "today" else with_direction(texts, side.tilt, side.azimuth)
    return Row(name, direction(side.tilt, side.azimuth), cells, where)


def differ(found: Orientation) -> bool:
    """Whether today's azimuth is far enough from the equator's to tell both."""
    return turned(found.tilts.azimuth, found.equator_tilts.azimuth) > ALIKE


def tilt_table(both: tuple[TiltsFound, ...]) -> Table | None:
    """The best tilt of each month, today's way and toward the equator; None where it stays dry."""
    if all(each.fixed_water.sum() <= 0 for each in both):
        return None
    large = max(float(each.monthly_water.max()) for each in both) >= LARGE
    unit, scale = ("m³", 1.0) if large else ("L", LITRE)
    head = ["Month"]
    columns: list[tuple[str, ...]] = [MONTHS]
    every = column([float(value) / scale for each in both for kept in (each.monthly_water, each.fixed_water) for value in kept])
    for place, each in enumerate(both):
        facing = f"facing {degrees(each.azimuth)}°"
        head += [f"Best tilt {facing}, °", f"Water at it, {unit}", f"Water at {figures(each.fixed)}°, {unit}"]
        columns.append(tuple("–" if tilt is None else figures(tilt) for tilt in each.monthly))
        columns += [every[24 * place : 24 * place + 12], every[24 * place + 12 : 24 * place + 24]]
    return Table("Tilting with the months", tuple(head), tuple(zip(*columns, strict=True)))


# What is asked


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
