"""The pages: form, results, where the numbers come from, and how programs ask; one design an address."""

import json
from typing import Any

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.responses import RedirectResponse, Response

from sizing.data import shipped
from sizing.design import LARGEST_FILE, parse_design
from sizing.foundation import MODEL_VERSION, InputError, SizingError
from sizing.foundation.sources import SOURCES
from sizing.fountain import place_of
from sizing.money import LARGEST as LARGEST_LIST
from sizing.report import ObstacleCostAnswer, Report, When, explain_sky, obstacle_costs, size, sizing_answer
from sizing.sky import LARGEST_FILE as LARGEST_WEATHER_FILE
from sizing.sky import built_in_sky
from web.exports.months import months_csv
from web.exports.obstacles import obstacles_csv
from web.forms.form import Texts, sentences_of, texts_of, tidy, understand, understand_site
from web.forms.places import FIND, PLACE_QUESTIONS, TAKE, search
from web.forms.sending import MOST_ANSWERS, Fields, apart, both_ways, carried, method_for, short_address
from web.forms.several import pressed
from web.pages.compare.compare_page import compare_page, compare_table, with_pair
from web.pages.frame.site import download, environment, error_page, mount, page, spreadsheet
from web.pages.garden.form_page import EXAMPLE, example_texts, form
from web.pages.garden.left_over import cleared
from web.pages.garden.sky_page import sky_content
from web.pages.garden.weather_upload import NOT_SENT, UPLOAD, Refused, months_of, size_with_file, without_sky
from web.pages.measured.class_page import class_pages
from web.pages.orientation.orientation_page import orientation_page, orientation_table
from web.pages.reach.reach_page import reach_page, reach_table, with_offer
from web.pages.report.parts_page import UPLOAD as PRICES
from web.pages.report.parts_page import parts_page, parts_table, price_table, ten_years_table, with_file
from web.pages.report.report_page import basin_table, pair_costs_table, report_page, wires_table
from web.pages.results.results_page import SKIES, results_content
from web.pages.results.what_if import with_change

__all__ = ["environment", "error_page", "example_texts", "mount", "pages", "results_content"]

STRONGEST = 1500
"""[W/m2] More sun than falls on any panel for more than a moment."""


def pages() -> APIRouter:
    """The routes that answer with pages and files."""
    router = APIRouter(include_in_schema=False)
    both_ways(router, "/", form_page)
    both_ways(router, "/places", places_page)
    both_ways(router, "/results", results_page)
    both_ways(router, "/change", changed_form, moves=True)
    both_ways(router, "/months", built_in_months, moves=True)
    both_ways(router, "/what-if", changed_results, moves=True)
    both_ways(router, "/compare", compare_page)
    both_ways(router, "/pairs.csv", compare_table)
    both_ways(router, "/pair", paired_results, moves=True)
    both_ways(router, "/reach", reach_page)
    both_ways(router, "/reach.csv", reach_table)
    both_ways(router, "/offer", offered_results, moves=True)
    both_ways(router, "/sky", sky_page)
    router.add_api_route("/weather", weather_page, methods=["POST"])
    router.add_api_route("/weather", without_file, methods=["GET"])
    both_ways(router, "/orientation", orientation_page)
    both_ways(router, "/orientation.csv", orientation_table)
    both_ways(router, "/report", report_page, tells_where=True)
    both_ways(router, "/parts", parts_page)
    both_ways(router, "/parts.csv", parts_table)
    both_ways(router, "/prices.csv", price_table)
    both_ways(router, "/ten-years.csv", ten_years_table)
    router.add_api_route("/prices", price_file, methods=["POST"])
    router.add_api_route("/prices", without_file, methods=["GET"])
    class_pages(router)
    both_ways(router, "/wires.csv", wires_table)
    both_ways(router, "/basin.csv", basin_table)
    both_ways(router, "/pair-costs.csv", pair_costs_table)
    both_ways(router, "/results.csv", results_csv)
    both_ways(router, "/obstacles.csv", obstacles_table)
    both_ways(router, "/design.json", design_file)
    router.add_api_route("/open", open_file, methods=["POST"])
    router.add_api_route("/sources", sources_page, methods=["GET"])
    router.add_api_route("/api", programs_page, methods=["GET"])
    return router


def form_page(fields: Fields) -> Response:
    """The form: the worked example, or the answers that were sent."""
    texts = tidy(fields)
    return form(texts or dict(example_texts()), {}, example=not texts)


def places_page(fields: Fields) -> Response:
    """The places that a search may mean, each leading back to the form with all answers kept."""
    texts = tidy(fields)
    sought = texts.pop(FIND, "")
    kept, gone = cleared(texts)
    found = search(sought, kept, gone)
    if fields.get(TAKE, "") in [str(index) for index in range(len(found.matches))]:
        return to_form(dict(found.matches[int(fields[TAKE])].texts), PLACE_QUESTIONS)
    too_long = any(match.href.startswith("#") for match in found.matches)
    back = "" if too_long else short_address("/", texts)
    return page("places.html", sought=sought, found=found, carried=carried(texts), back=back, method=method_for(texts), gone=gone)


def asked_moment(asked: Fields) -> When:
    """The moment that was asked for; what cannot be one is left out."""

    def whole(name: str, low: int, high: int) -> int | None:
        text = asked.get(name, "")
        return int(text) if text.isascii() and text.isdigit() and len(text) <= 4 and low <= int(text) <= high else None

    strength, kind = whole("moment.strength", 0, STRONGEST), asked.get("moment.sky", "")
    month, hour = whole("moment.month", 1, 12), whole("moment.hour", 0, 23)
    return When(month, hour, kind if kind in SKIES else "clear", None if strength is None else float(strength))


def sized(fields: Fields) -> tuple[Texts, Report | None, dict[str, str]]:
    """Size what was sent, or say what is wrong with it."""
    texts = tidy(fields)
    understood = understand(texts)
    if understood.design is None:
        return texts, None, understood.errors
    try:
        return texts, size(understood.design, None, asked_moment(fields)), {}
    except SizingError as error:
        return texts, None, sentences_of(texts, error.problems)


def results_page(fields: Fields) -> Response:
    """The results of one design; the form again if something is wrong, places where a search was left undone."""
    if fields.get(FIND, "").strip():
        return to_places(fields)
    if fields.get(UPLOAD, ""):  # this button sends the name of a file, not the file
        return form(tidy(fields), {}, weather_error=NOT_SENT)
    texts, report, errors = sized(fields)
    if report is None:
        return form(texts, errors)
    return page("results.html", current="/results", **results_content(report, texts))


def changed_results(fields: Fields) -> Response:
    """The results of a design with one change put in, at an address of their own where they fit."""
    changed = with_change(fields)
    where = short_address("/results", changed)
    return RedirectResponse(where, 303) if where else results_page(changed)


def paired_results(fields: Fields) -> Response:
    """The results of one of the pairs that were compared, at an address of their own where they fit."""
    chosen = with_pair(fields)
    where = short_address("/results", chosen)
    return RedirectResponse(where, 303) if where else results_page(chosen)


def offered_results(fields: Fields) -> Response:
    """The results of a design with an offer taken, at an address of their own where they fit."""
    taken = with_offer(fields)
    where = short_address("/results", taken)
    return RedirectResponse(where, 303) if where else results_page(taken)


async def weather_page(request: Request) -> Response:
    """The results of a design sized by the hours of a weather file that came with the form; nothing is kept."""
    async with request.form(max_files=1, max_fields=MOST_ANSWERS) as fields:
        upload, name, content = fields.get(UPLOAD), "", b""
        if isinstance(upload, UploadFile):
            name, content = upload.filename or "", await upload.read(LARGEST_WEATHER_FILE + 1)
        texts = tidy({name: text for name, text in fields.items() if isinstance(text, str)})
    return await run_in_threadpool(weather_results, texts, name, content)


def weather_results(texts: Texts, name: str, content: bytes) -> Response:
    """Size the answers by a weather file, or print the form again with what is wrong."""
    found = size_with_file(texts, name, content)
    if isinstance(found, Refused):
        return form(texts, found.errors, weather_error=found.file_error)
    return page("results.html", current="/results", **results_content(found.report, found.texts, found.repeated))


async def price_file(request: Request) -> Response:
    """The page of parts with the prices of a file that was sent; nothing is kept."""
    async with request.form(max_files=1, max_fields=MOST_ANSWERS) as fields:
        upload = fields.get(PRICES)
        content = await upload.read(LARGEST_LIST + 1) if isinstance(upload, UploadFile) else b""
        texts = tidy(apart({name: text for name, text in fields.items() if isinstance(text, str)}))
    return await run_in_threadpool(with_file, texts, content)


def without_file(request: Request) -> Response:
    """Who comes to the address of an upload without one is shown the form."""
    return to_form(tidy(request.query_params))


def built_in_months(fields: Fields) -> Response:
    """The form with the built-in values in its twelve months, to be changed where better ones are known."""
    texts = without_sky(tidy(fields))
    site, errors = understand_site(texts)
    if site is None:
        return form(tidy(fields), errors)
    try:
        place, _ = place_of(site)
        filled = texts | months_of(built_in_sky(place), "Built-in table; overwritten where better values are known")
    except SizingError as error:
        return form(tidy(fields), sentences_of(texts, error.problems))
    return to_form(filled, "sky-questions")


def changed_form(fields: Fields) -> Response:
    """The form with one panel or pump more, less or alike, everything else as it was typed."""
    texts, name = pressed(fields, tidy(fields))
    return to_form(texts, f"{name}-questions" if name else "")


def to_form(texts: Texts, fragment: str = "") -> Response:
    """Lead on to the form with other answers, at its own address where they fit."""
    where = short_address("/", texts)
    return RedirectResponse(f"{where}#{fragment}" if fragment else where, 303) if where else form(texts, {})


def to_places(fields: Fields) -> Response:
    """Lead on to the places that a search may mean."""
    texts = tidy(fields)
    where = short_address("/places", texts)
    return RedirectResponse(where, 303) if where else places_page(texts)


def sky_page(fields: Fields) -> Response:
    """The sky over a garden, explained; the form again if something is wrong with place or sun."""
    if fields.get(FIND, "").strip():
        return to_places(fields)
    texts = tidy(fields)
    site, errors = understand_site(texts)
    if site is None:
        return form(texts, errors)
    try:
        found = explain_sky(site)
    except SizingError as error:
        return form(texts, sentences_of(texts, error.problems))
    return page("sky.html", current="/sky", **sky_content(found, site, texts))


def results_csv(fields: Fields) -> Response:
    """The twelve months as RFC 4180."""
    texts, report, errors = sized(fields)
    if report is None:
        return form(texts, errors)
    return spreadsheet(months_csv(sizing_answer(report)), "fountain-months.csv")


def obstacles_table(fields: Fields) -> Response:
    """What each obstacle costs, as RFC 4180."""
    texts, report, errors = sized(fields)
    if report is None:
        return form(texts, errors)
    costs = [ObstacleCostAnswer.of(cost) for cost in obstacle_costs(report)]
    return spreadsheet(obstacles_csv(report.design.title, costs), "fountain-obstacles.csv")


def design_file(fields: Fields) -> Response:
    """The design as a file to keep; opened again it fills the form."""
    texts = tidy(fields)
    understood = understand(texts)
    if understood.design is None:
        return form(texts, understood.errors)
    given = understood.design.model_dump(mode="json", exclude_unset=True)
    content = written(given, 2)
    return download(content if len(content) <= LARGEST_FILE else written(given, None), "application/json", "fountain-design.json")


def written(given: Any, indent: int | None) -> bytes:
    """A design as JSON, with its parts on lines of their own unless that makes it larger than what is read again."""
    return json.dumps(given, indent=indent, ensure_ascii=False, allow_nan=False).encode() + b"\n"


async def open_file(request: Request) -> Response:
    """Read a design file and show it in the form; nothing is kept."""
    async with request.form(max_files=1, max_fields=10) as fields:
        upload = fields.get("design")
        content = await upload.read(LARGEST_FILE + 1) if isinstance(upload, UploadFile) else b""
    if not content:
        return form(dict(example_texts()), {}, file_error="Choose a design file that was saved from this page")
    try:
        texts = texts_of(parse_design(content))
    except InputError as error:
        detail = error.problems[0].detail
        return form(dict(example_texts()), {}, file_error=detail[0].upper() + detail[1:])
    understood = understand(texts)
    if understood.errors:
        return form(texts, understood.errors)
    return to_form(texts)


def sources_page(request: Request) -> Response:
    """How it computes, and every publication behind it."""
    credits = shipped("NOTICE").read_text(encoding="utf-8").split("\n\n")
    return page("sources.html", current="/sources", sources=SOURCES, credits=credits)


def programs_page(request: Request) -> Response:
    """How programs ask."""
    example = json.dumps(json.loads(EXAMPLE.read_text(encoding="utf-8")), indent=2, ensure_ascii=False)
    return page("programs.html", current="/api", base=str(request.base_url), example=example, model_version=MODEL_VERSION)
