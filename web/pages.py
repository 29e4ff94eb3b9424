"""The pages: form, results, where the numbers come from, and how programs ask; one design an address."""

import json
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from fastapi import APIRouter, Request
from starlette.datastructures import UploadFile
from starlette.responses import RedirectResponse, Response

from sizing import MODEL_VERSION
from sizing.answer import answer
from sizing.errors import InputError, SizingError
from sizing.reading import LARGEST_FILE, parse_design
from sizing.report import Report, When, size
from sizing.sources import SOURCES
from sizing.units import LITRE
from sizing.words import MONTHS, figures, litres
from web import results
from web.answers import answers
from web.fields import GROUPS
from web.form import Texts, sentences_of, texts_of, tidy, understand
from web.grids import grids
from web.months_csv import months_csv
from web.site import environment, error_page, mount, page
from web.unfolded import chapters

__all__ = ["environment", "error_page", "mount", "pages"]

EXAMPLE = Path(__file__).parent / "example.json"
SUMMARIES = {
    "months": "Your own twelve values of sun and temperature",
    "skyline": "What hides the sun: trees, walls, hills",
    "fittings": "Bends, valves and joints",
}
SKIES = (("clear", "clear"), ("usual", "usual"), ("dull", "dull"))
HOURS_SOLAR = "Hours are true solar time: at 12:00 the sun is at its highest."


@lru_cache(maxsize=1)
def example_texts() -> Mapping[str, str]:
    """The worked example as the form shows it."""
    return texts_of(parse_design(EXAMPLE.read_bytes()))


def pages() -> APIRouter:
    """The routes that answer with pages and files."""
    router = APIRouter(include_in_schema=False)
    router.add_api_route("/", form_page, methods=["GET"])
    router.add_api_route("/results", results_page, methods=["GET"])
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


def form(texts: Texts, errors: dict[str, str], example: bool = False, file_error: str = "") -> Response:
    """Print the form with its texts as they were typed, and a sentence beside each wrong one."""
    tables = grids(texts)
    shown = {name for grid in tables.values() for name in grid.names}
    asked = {item.name for group in GROUPS for item in answers_in(group)}
    return page(
        "form.html",
        422 if errors or file_error else 200,
        current="/",
        groups=GROUPS,
        texts=texts,
        errors=in_order(errors, tables),
        grids=tables,
        opened=opened(texts, errors, tables),
        summaries=SUMMARIES,
        example=example,
        file_error=file_error,
        carried={name: text for name, text in texts.items() if name not in shown | asked},
    )


def answers_in(group: Any) -> list[Any]:
    """All questions of a group, the choices and what they open."""
    found = []
    for item in (*group.fields, *group.more):
        found.append(item)
        for _, _, inner in getattr(item, "ways", ()):
            found += inner
    return found


def in_order(errors: dict[str, str], tables: dict[str, Any]) -> dict[str, str]:
    """The sentences in the order of the page."""
    order = [item.name for group in GROUPS for item in answers_in(group)]
    place = {name: index for index, name in enumerate(order)}
    for group in GROUPS:
        last = max(place.get(item.name, 0) for item in answers_in(group))
        for key in group.tables:
            place |= dict.fromkeys(tables[key].names, last)
    return dict(sorted(errors.items(), key=lambda pair: place.get(pair[0], len(order))))


def opened(texts: Texts, errors: dict[str, str], tables: dict[str, Any]) -> set[str]:
    """What stands open: parts with an error, and parts that hold something of the reader's own."""
    example = example_texts()
    found = {key for key, grid in tables.items() if any(name in errors for name in grid.names)}
    found |= {key for key, grid in tables.items() if any(texts.get(n, "") != example.get(n, "") for n in grid.names)}
    for group in GROUPS:
        names = [item.name for item in group.more]
        if any(name in errors or texts.get(name, "") != example.get(name, "") for name in names):
            found.add(group.key)
    if texts.get("sky.kind") == "monthly":
        found.add("months")
    return found


def asked_moment(request: Request) -> When:
    """The moment that an address asks for; what cannot be one is left out."""
    asked = request.query_params

    def whole(name: str, low: int, high: int) -> int | None:
        text = asked.get(name, "")
        return int(text) if text.isascii() and text.isdigit() and len(text) < 3 and low <= int(text) <= high else None

    strength = asked.get("moment.strength", "")
    sun = float(strength) if strength.isascii() and strength.isdigit() and len(strength) <= 4 else None
    kind = asked.get("moment.sky", "clear")
    kind = kind if kind in dict(SKIES) else "clear"
    return When(whole("moment.month", 1, 12), whole("moment.hour", 0, 23), kind, sun if sun is None or sun <= 1500 else None)


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
    """The results of one design; the form again if something is wrong."""
    texts, report, errors = sized(request)
    if report is None:
        return form(texts, errors)
    return page("results.html", current="/results", **results_content(report, texts))


def results_content(report: Report, texts: Texts) -> dict[str, Any]:
    """Everything that the results page prints."""
    kept = urlencode(texts)
    year = report.year
    listed = answers(texts, example_texts())
    built_in = report.sky.kind == "built_in"
    return {
        "report": report,
        "texts": texts,
        "change": f"/?{kept}",
        "csv": f"/results.csv?{kept}",
        "save": f"/design.json?{kept}",
        "months": MONTHS,
        "skies": SKIES,
        "moment_words": results.moment_words(report),
        "hours_note": HOURS_SOLAR,
        "strip": results.strip(report),
        "drawing": results.drawing(report),
        "year_water": litres(round_to(year.water / LITRE)),
        "year_low": litres(round_to(report.year_band[0] / LITRE)),
        "year_high": litres(round_to(report.year_band[1] / LITRE)),
        "year_hours": figures(year.running_hours),
        "band_note": (
            "The range is that of the sky alone: the built-in table is good to about 8 % a year and 12 % a month; twelve values "
            "from your weather service would narrow it."
            if built_in
            else "The range is that of the sky alone, from your own twelve values."
        ),
        "water": results.water_chart(report),
        "hours": results.hours_chart(report),
        "monthly": results.monthly_table(report),
        "best_key": "flow" if results.is_spillway(report) else "jet",
        "panel_chart": results.panel_chart(report),
        "head_chart": results.head_chart(report),
        "points": results.points_table(report),
        "jets": not results.is_spillway(report),
        "answers": listed,
        "changed": [item for item in listed if item.changed],
        "chapters": chapters(report),
    }


def round_to(value: float, digits: int = 2) -> float:
    """A number with so many significant figures, for sentences that say 'about'."""
    return float(f"{value:.{digits}g}")


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
    content = json.dumps(
        understood.design.model_dump(mode="json", exclude_unset=True), indent=2, ensure_ascii=False, allow_nan=False
    )
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
        design = parse_design(content)
    except InputError as error:
        detail = error.problems[0].detail
        return form(dict(example_texts()), {}, file_error=detail[0].upper() + detail[1:])
    return RedirectResponse(f"/?{urlencode(texts_of(design))}", 303)


def sources_page(request: Request) -> Response:
    """How it computes, and every publication behind it."""
    return page("sources.html", current="/sources", sources=SOURCES)


def programs_page(request: Request) -> Response:
    """How programs ask."""
    example = json.dumps(json.loads(EXAMPLE.read_text(encoding="utf-8")), indent=2, ensure_ascii=False)
    return page("programs.html", current="/api", base=str(request.base_url), example=example, model_version=MODEL_VERSION)
