"""The pages: form, results, where the numbers come from, and how programs ask; one design an address."""

import json
from urllib.parse import urlencode

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.responses import RedirectResponse, Response

from sizing import MODEL_VERSION
from sizing.answer import answer
from sizing.errors import InputError, SizingError
from sizing.reading import LARGEST_FILE, parse_design
from sizing.report import Report, When, size
from sizing.setting import place_of
from sizing.skies import explain_sky
from sizing.sources import SOURCES
from sizing.weather import built_in_sky
from sizing.weather_file import LARGEST_FILE as LARGEST_WEATHER_FILE
from web.form import Texts, sentences_of, texts_of, tidy, understand, understand_site
from web.form_page import EXAMPLE, example_texts, form
from web.months_csv import months_csv
from web.places import FIND, search
from web.results_page import SKIES, results_content
from web.site import environment, error_page, mount, page
from web.sky_page import sky_content
from web.weather_upload import NOT_SENT, UPLOAD, Refused, months_of, size_with_file, without_sky

__all__ = ["environment", "error_page", "example_texts", "mount", "pages", "results_content"]

STRONGEST = 1500
"""[W/m2] More sun than falls on any panel for more than a moment."""
MOST_ANSWERS = 1000
"""More answers than any form has."""
LONGEST_ADDRESS = 7000
"""[byte] A design with more rows than an address can carry is shown, and sized by the other interfaces."""
TOO_LONG = (
    "This design has more rows than the address of a page can carry; empty some of them here, or size the file on the "
    "command line or through the interface for programs"
)


def pages() -> APIRouter:
    """The routes that answer with pages and files."""
    router = APIRouter(include_in_schema=False)
    router.add_api_route("/", form_page, methods=["GET"])
    router.add_api_route("/places", places_page, methods=["GET"])
    router.add_api_route("/results", results_page, methods=["GET"])
    router.add_api_route("/months", built_in_months, methods=["GET"])
    router.add_api_route("/sky", sky_page, methods=["GET"])
    router.add_api_route("/weather", weather_page, methods=["POST"])
    router.add_api_route("/weather", without_file, methods=["GET"])
    router.add_api_route("/results.csv", results_csv, methods=["GET"])
    router.add_api_route("/design.json", design_file, methods=["GET"])
    router.add_api_route("/open", open_file, methods=["POST"])
    router.add_api_route("/sources", sources_page, methods=["GET"])
    router.add_api_route("/api", programs_page, methods=["GET"])
    return router


def query(request: Request) -> Texts:
    """The texts that an address holds."""
    return tidy(request.query_params)


def form_page(request: Request) -> Response:
    """The form: the worked example, or the answers that the address holds."""
    texts = query(request)
    return form(texts or dict(example_texts()), {}, example=not texts)


def places_page(request: Request) -> Response:
    """The places that a search may mean, each leading back to the form with all answers kept."""
    texts = query(request)
    sought = texts.pop(FIND, "")
    return page("places.html", sought=sought, found=search(sought, texts), texts=texts, back=f"/?{urlencode(texts)}")


def asked_moment(request: Request) -> When:
    """The moment that an address asks for; what cannot be one is left out."""
    asked = request.query_params

    def whole(name: str, low: int, high: int) -> int | None:
        text = asked.get(name, "")
        return int(text) if text.isascii() and text.isdigit() and len(text) <= 4 and low <= int(text) <= high else None

    strength, kind = whole("moment.strength", 0, STRONGEST), asked.get("moment.sky", "")
    month, hour = whole("moment.month", 1, 12), whole("moment.hour", 0, 23)
    return When(month, hour, kind if kind in SKIES else "clear", None if strength is None else float(strength))


def sized(request: Request) -> tuple[Texts, Report | None, dict[str, str]]:
    """Size what an address holds, or say what is wrong with it."""
    texts = query(request)
    understood = understand(texts)
    if understood.design is None:
        return texts, None, understood.errors
    try:
        return texts, size(understood.design, None, asked_moment(request)), {}
    except SizingError as error:
        return texts, None, sentences_of(texts, error.problems)


def results_page(request: Request) -> Response:
    """The results of one design; the form again if something is wrong, places where a search was left undone."""
    if request.query_params.get(FIND, "").strip():
        return RedirectResponse(f"/places?{urlencode(query(request))}", 303)
    if request.query_params.get(UPLOAD, ""):  # a form sent by GET carries the name of a file, not the file
        return form(query(request), {}, weather_error=NOT_SENT)
    texts, report, errors = sized(request)
    if report is None:
        return form(texts, errors)
    return page("results.html", current="/results", **results_content(report, texts))


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


def without_file(request: Request) -> Response:
    """Who comes to the address of an upload without one is shown the form."""
    kept = urlencode(query(request))
    return RedirectResponse(f"/?{kept}" if kept else "/", 303)


def built_in_months(request: Request) -> Response:
    """The form with the built-in values in its twelve months, to be changed where better ones are known."""
    texts = without_sky(query(request))
    site, errors = understand_site(texts)
    if site is None:
        return form(query(request), errors)
    try:
        place, _ = place_of(site)
        filled = texts | months_of(built_in_sky(place), "Built-in table; overwritten where better values are known")
    except SizingError as error:
        return form(query(request), sentences_of(texts, error.problems))
    where = f"/?{urlencode(filled)}"
    return form(filled, {}) if len(where) > LONGEST_ADDRESS else RedirectResponse(f"{where}#sky-questions", 303)


def sky_page(request: Request) -> Response:
    """The sky over the garden of an address, explained; the form again if something is wrong with place or sun."""
    if request.query_params.get(FIND, "").strip():
        return RedirectResponse(f"/places?{urlencode(query(request))}", 303)
    texts = query(request)
    site, errors = understand_site(texts)
    if site is None:
        return form(texts, errors)
    try:
        found = explain_sky(site)
    except SizingError as error:
        return form(texts, sentences_of(texts, error.problems))
    return page("sky.html", current="/sky", **sky_content(found, site, texts))


def results_csv(request: Request) -> Response:
    """The twelve months as RFC 4180."""
    texts, report, errors = sized(request)
    if report is None:
        return form(texts, errors)
    return download(months_csv(answer(report)).encode(), "text/csv; charset=utf-8; header=present", "fountain-months.csv")


def design_file(request: Request) -> Response:
    """The design as a file to keep; opened again it fills the form."""
    texts = query(request)
    understood = understand(texts)
    if understood.design is None:
        return form(texts, understood.errors)
    given = understood.design.model_dump(mode="json", exclude_unset=True)
    content = json.dumps(given, indent=2, ensure_ascii=False, allow_nan=False)
    return download(content.encode() + b"\n", "application/json", "fountain-design.json")


def download(content: bytes, media: str, filename: str) -> Response:
    """A file that the browser saves."""
    headers = {"content-disposition": f'attachment; filename="{filename}"', "cache-control": "private, no-cache"}
    return Response(content, media_type=media, headers=headers)


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
    where = f"/?{urlencode(texts)}"
    return form(texts, {}, file_error=TOO_LONG) if len(where) > LONGEST_ADDRESS else RedirectResponse(where, 303)


def sources_page(request: Request) -> Response:
    """How it computes, and every publication behind it."""
    return page("sources.html", current="/sources", sources=SOURCES)


def programs_page(request: Request) -> Response:
    """How programs ask."""
    example = json.dumps(json.loads(EXAMPLE.read_text(encoding="utf-8")), indent=2, ensure_ascii=False)
    return page("programs.html", current="/api", base=str(request.base_url), example=example, model_version=MODEL_VERSION)
