"""What the class measured: the page of all parts, the first clear day of the finished fountain, and the routes of both."""

import datetime
from typing import Any

from fastapi import APIRouter
from starlette.responses import RedirectResponse, Response

from sizing.design import MOST_RECORDS, MeasurementInput, read_design
from sizing.foundation import InputError, SizingError, alike, clock
from sizing.measured.day import (
    ClearDay,
    FirstDayAnswer,
    Kept,
    KeptAnswer,
    clear_day_of,
    first_day_answer,
    judged_roots,
    kept_looks,
    wanted_on,
)
from sizing.measured.logs import blanks
from web.exports.measured import TO_FILL
from web.forms.fields import Choice, Field, Way
from web.forms.form import Texts, sentences_of, tidy, understand
from web.forms.measured_texts import RECORDS, next_record
from web.forms.reading import read_texts
from web.forms.sending import Fields, both_ways, carried, filled, method_for, short_address
from web.pages.frame.leads import leads
from web.pages.frame.site import page, spreadsheet
from web.pages.frame.unfolded import unfolded
from web.pages.garden.form_page import form
from web.pages.measured.bench_page import BENCH_PAGE
from web.pages.measured.boxes import boxes_of
from web.pages.measured.directions_page import TURNED_PAGE
from web.pages.measured.log_page import WordTable, own_or_example, register
from web.pages.measured.panel_page import PANEL_PAGE
from web.pages.measured.sheet_page import FILLED_PAGE, QUANTITIES, hour_of, sheet_page, sheet_table

LOOK, KEEP, DAY = "look", "keep", "first.day"
JET = f"{LOOK}.jet_height_m"
PARTS = (
    (
        BENCH_PAGE.address,
        BENCH_PAGE.title,
        "A bucket, a stopwatch and two meters give the pump’s own curve, with its likely range. It takes the place of the label "
        "in the design, so that your own pump is sized.",
    ),
    (
        TURNED_PAGE.address,
        TURNED_PAGE.title,
        "Turn and tilt the panel by hand, and write down what it gives. The page says which way is best, and whether the "
        "difference is larger than the scatter.",
    ),
    (
        PANEL_PAGE.address,
        PANEL_PAGE.title,
        "Read the panel open, short-circuited and with some loads, and see the readings on its label’s curve. Dirt, shade and "
        "bad joints look different there.",
    ),
    (
        "/class/sheet",
        "Predict a day, then measure it",
        "Print what a clear sky should bring on a day, every half hour. Then go out and write what you measure beside it.",
    ),
    (
        FILLED_PAGE.address,
        "Bring the filled sheet back",
        "See what was measured beside what was predicted. The page says where along the path something is off most likely.",
    ),
    (
        "/class/first-day",
        "The first clear day, and the years after",
        "See what the finished fountain should do, and what to accept. Looks at it stay in the design, so that years compare.",
    ),
)
"""Address, title and what it is for of each part, in the order of the path."""
BLANKS = {"bench": "a bench test", "directions": "directions and tilts", "panel": "a panel check"}
BOXES = tuple(
    Field(f"{LOOK}.{box.name}", box.label, box.unit_words, box.suffix, box.hint, box.keyboard)
    for box in boxes_of(
        MeasurementInput,
        {"clock_hour": "By the clock on the wall, 13:30", "jet_height_m": "From the outlet upward; 0.95 is 95 cm"},
    )
)
SKIES = Choice(f"{LOOK}.sky", "Sky of the measurement", tuple(Way(sky, sky) for sky in ("clear", "haze", "clouds")), listed=True)


def class_page(fields: Fields) -> Response:
    """All parts, for one design."""
    texts, example = own_or_example(tidy(fields))
    kept = filled(texts)
    return page(
        "class.html",
        current="/class",
        title=texts.get("title", ""),
        example=example,
        leads=leads(kept, "/class"),
        carried=carried(kept),
        method=method_for(kept),
        parts=PARTS,
        blanks=BLANKS,
    )


def asked_clear_day(fields: Fields) -> tuple[Texts, bool, ClearDay | None, Response | None]:
    """The design that a page speaks of, ready for real days; or the form where it is wrong."""
    texts, example = own_or_example(tidy(fields))
    found = understand(texts)
    if found.design is None:
        return texts, example, None, form(texts, found.errors)
    try:
        return texts, example, clear_day_of(found.design), None
    except SizingError as error:
        return texts, example, None, form(texts, sentences_of(texts, error.problems))


def kept_look(fields: Fields, texts: Texts) -> tuple[Texts, dict[str, str]]:
    """The design with one look more, or sentences beside its boxes."""
    at = next_record(texts)
    told = {name.removeprefix(f"{LOOK}."): text.strip() for name, text in fields.items() if name.startswith(f"{LOOK}.")}
    hour = hour_of(told.get("clock_hour", ""))
    typed = {**told, "clock_hour": "" if hour is None else f"{hour:.6g}"}
    if at >= MOST_RECORDS:
        return texts, {f"{LOOK}.day": f"A design keeps at most {MOST_RECORDS} looks; save it as a file and begin another one"}
    put = texts | {
        f"{RECORDS}.{at}.{name}": text for name, text in typed.items() if text and name in MeasurementInput.model_fields
    }
    if hour is None:
        return texts, {f"{LOOK}.clock_hour": "Hour of the measurement must be given, between 0 and 24; write it like 13:30"}
    errors = look_errors(put, at)
    return (texts, errors) if errors else (put, {})


def look_errors(texts: Texts, at: int) -> dict[str, str]:
    """What is wrong with a look, beside the boxes of this page."""
    reading = read_texts(texts)
    unclear = {name: said for name, said in reading.unclear.items() if name.startswith(f"{RECORDS}.{at}.")}
    found = {f"{LOOK}.{name.rsplit('.', 1)[1]}": said for name, said in unclear.items()}
    try:
        read_design(reading.data)
    except InputError as error:
        place = len(reading.data.get(RECORDS, ())) - 1
        for problem in error.problems:
            if problem.pointer.startswith(f"#/{RECORDS}/{place}"):
                name = problem.pointer.rsplit("/", 1)[1]
                said = problem.detail.replace(f" (measurement {place + 1})", "")
                found.setdefault(f"{LOOK}.{name if not name.isdigit() else 'day'}", said[0].upper() + said[1:])
    return found


def wanted_day(fields: Fields, clear_day: ClearDay) -> tuple[str, FirstDayAnswer | None, dict[str, str]]:
    """The day that was asked for, what to measure on it, and what is wrong with it."""
    day = fields.get(DAY, "").strip()[:20] or datetime.date.today().isoformat()
    try:
        return day, first_day_answer(wanted_on(clear_day, datetime.date.fromisoformat(day)), None), {}
    except SizingError as error:
        return day, None, {DAY: error.problems[0].detail[0].upper() + error.problems[0].detail[1:]}
    except ValueError:
        return day, None, {DAY: f"Day is “{day}”, which no calendar has; write it like 2026-05-31"}


def first_day(fields: Fields) -> Response:
    """The first clear day of the finished fountain, and the looks so far."""
    texts, example, clear_day, refused = asked_clear_day(fields)
    if refused is not None or clear_day is None:
        return refused or class_page(fields)
    errors: dict[str, str] = {}
    if fields.get(KEEP):
        texts, errors = kept_look(fields, texts)
        if not errors:
            where = short_address("/class/first-day", texts | {DAY: fields.get(DAY, "")})
            if where:
                return RedirectResponse(f"{where}#looks", 303)
            _, _, clear_day, refused = asked_clear_day(texts)
            if refused is not None or clear_day is None:
                return refused or class_page(fields)
    day, wanted, wrong = wanted_day(fields, clear_day)
    errors |= wrong
    kept = kept_looks(clear_day)
    designed = filled(texts)
    looked = {box.name: fields.get(box.name, "") for box in BOXES} if errors and fields.get(KEEP) else {}
    return page(
        "class_first_day.html",
        422 if errors else 200,
        current="/class/first-day",
        title=texts.get("title", ""),
        example=example,
        leads=leads(designed, "/class/first-day"),
        carried=carried(designed),
        method=method_for(designed),
        day=day,
        day_name=DAY,
        keep=KEEP,
        boxes=[SKIES, *(box for box in BOXES if box.name != SKIES.name and (clear_day.has_jet or box.name != JET))],
        texts={f"{LOOK}.day": day, f"{LOOK}.sky": "clear"} | looked,
        errors=errors,
        wanted=wanted,
        rows=[] if wanted is None else wanted_rows(wanted),
        **kept_content(kept),
    )


def wanted_rows(wanted: FirstDayAnswer) -> list[tuple[str, ...]]:
    """What to measure and what to accept, line by line."""
    return [
        (clock(line.time_h), words, *alike([factor * end for end in (each.value, each.least, each.most)], unit))
        for line in wanted.lines
        for name in wanted.quantities
        for each, (words, unit, factor) in [(line.accepted[name], QUANTITIES[name])]
    ]


def kept_content(kept: Kept | None) -> dict[str, Any]:
    """The looks so far, for the page."""
    if kept is None:
        return {"looks": None, "last": None, "judged": "", "trends": (), "working": None}
    found = KeptAnswer.of(kept)
    rows = []
    for look in found.looks:
        for each in look.readings:
            words, unit, factor = QUANTITIES[each.quantity]
            ends = (each.measured, each.expected, each.least, each.most)
            measured, expected, least, most = alike([factor * end for end in ends], unit)
            when = f"{look.day}, {clock(look.time_h)}: {words.lower()}"
            rows.append((when, measured, expected, f"{least} to {most}", each.verdict))
    head = ("Look", "Measured", "Expected", "Accept", "Verdict")
    roots = judged_roots(kept.last)
    return {
        "looks": WordTable("Looks so far: measured, and what a clear sky should bring", head, tuple(rows), (4,)),
        "last": found.last,
        "judged": found.sentence,
        "trends": [trend.sentence for trend in found.trends],
        "working": unfolded("looks", "How the last look was judged, number by number", roots),
    }


def class_pages(router: APIRouter) -> None:
    """Register everything below ``/class``."""
    both_ways(router, "/class", class_page)
    for name, text in {**blanks(), "filled": ",".join(("day", "time", *TO_FILL)) + "\r\n"}.items():
        router.add_api_route(f"/class/{name}.csv", blank_route(name, text), methods=["GET"])
    for about in (BENCH_PAGE, TURNED_PAGE, PANEL_PAGE, FILLED_PAGE):
        register(router, about)
    both_ways(router, "/class/sheet", sheet_page)
    both_ways(router, "/class/sheet.csv", sheet_table)
    both_ways(router, "/class/first-day", first_day, moves=True)


def blank_route(name: str, text: str) -> Any:
    """The route of a table to fill in."""

    def route() -> Response:
        return spreadsheet(text, f"{name}-blank.csv")

    return route
