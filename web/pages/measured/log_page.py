"""What the pages of a class's logs share: the log as it was sent, its boxes, what stands on the page about the answer."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from fastapi import Request
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.responses import RedirectResponse, Response

from sizing.answers import RowProblemAnswer, TellAnswer
from sizing.design import Design
from sizing.foundation import SizingError
from sizing.measured.logs import LARGEST
from web.charts.kit.shapes import Chart, Table
from web.forms.fields import Field
from web.forms.form import Texts, tidy, understand
from web.forms.sending import MOST_ANSWERS, URLENCODED, Fields, apart, carried, filled, method_for, sent_fields
from web.pages.frame.leads import leads
from web.pages.frame.site import page
from web.pages.frame.unfolded import Chapter
from web.pages.garden.form_page import example_texts, form
from web.pages.measured.boxes import UnclearBox

LOG, FILE = "log", "file"
"""Names of the boxes that take a log: pasted, and as a file."""
LONGEST_SHOWN = 64_000
"""[byte] A longer log is not shown again: the page says so."""
MOST_TOLD = 40
MOST_ROWS = 200
EMPTY = "The log is empty; paste it below its heading, or choose a file"


@dataclass(frozen=True)
class WordTable(Table):
    """A table of which some columns hold words; ``worded`` are their places, from 1 beside the row's header."""

    worded: tuple[int, ...] = ()


@dataclass(frozen=True)
class Section:
    """One part of an answer: heading and its level, sentences, pictures, tables; one picture has its tables beside it."""

    heading: str
    sentences: Sequence[str] = ()
    charts: Sequence[Chart] = ()
    tables: Sequence[Table] = ()
    level: int = 2


@dataclass(frozen=True)
class Shown:
    """An answer on the page: its first sentence, its parts, what could not be read, notes, the numbers behind it, tables to
    take as (address, words), and a design with what was found put in."""

    verdict: str
    sections: Sequence[Section]
    problems: Sequence[RowProblemAnswer]
    notes: Sequence[TellAnswer]
    working: Chapter
    tables: Sequence[tuple[str, str]] = ()
    put_in: Texts = field(default_factory=dict)


@dataclass(frozen=True)
class LogPage:
    """A page that takes a log: address, heading, what it is for, boxes beside the log, where the blank table is, what answers."""

    address: str
    title: str
    about: Sequence[str]
    heading: str
    blank: str
    boxes: Sequence[Field]
    more: Sequence[Field]
    answer: Callable[[Design, bytes, Mapping[str, str]], Shown]
    tables: Mapping[str, Callable[[Design, bytes, Mapping[str, str]], Response]] = field(default_factory=dict)


@dataclass(frozen=True)
class Sent:
    """What came with a request: the design's texts, the log (``None`` where only a design came), and the other boxes."""

    texts: Texts
    log: bytes | None
    boxes: dict[str, str]


async def sent_log(request: Request) -> Sent:
    """Read what was sent: a design with its log, or a design alone."""
    media = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if media == URLENCODED:
        return Sent(tidy(apart(sent_fields(media, await request.body()))), None, {})
    async with request.form(max_files=1, max_fields=MOST_ANSWERS, max_part_size=LARGEST + 1) as fields:
        upload = fields.get(FILE)
        content = await upload.read(LARGEST + 1) if isinstance(upload, UploadFile) else b""
        plain = {name: text for name, text in fields.items() if isinstance(text, str)}
    texts = apart({name: text for name, text in plain.items() if name != LOG})
    return Sent(tidy(texts), content or plain.get(LOG, "").encode("utf-8", "replace"), texts)


def own_or_example(texts: Texts) -> tuple[Texts, bool]:
    """The design that a page speaks of: the worked example where none came."""
    return (texts, False) if texts else (dict(example_texts()), True)


def blank_page(about: LogPage, fields: Fields) -> Response:
    """The page before a log was sent."""
    texts, example = own_or_example(tidy(fields))
    found = understand(texts)
    if found.design is None:
        return form(texts, found.errors)
    return printed(about, texts, example, {}, "", {}, None)


def first_of(rows: int) -> str:
    """How many rows a table shows, where there are more than a page holds.

    Examples
    --------
    >>> first_of(200), first_of(300)
    ('', ' (the first 200 of 300)')
    """
    return f" (the first {MOST_ROWS} of {rows})" if rows > MOST_ROWS else ""


def boxes_of_log(about: LogPage, sent: Sent) -> dict[str, str]:
    """What stands in the boxes beside the log."""
    return {each.name: sent.boxes.get(each.name, "")[:100] for each in (*about.boxes, *about.more)}


def log_page(about: LogPage, sent: Sent) -> Response:
    """The page after a log was sent: the answer, or what has to be changed, with everything typed still there."""
    texts, example = own_or_example(sent.texts)
    found = understand(texts)
    if found.design is None:
        return form(texts, found.errors)
    boxes = boxes_of_log(about, sent)
    if sent.log is None or not sent.log.strip():
        return printed(about, texts, example, boxes, "", {LOG: EMPTY}, None)
    shown_log = sent.log.decode("utf-8-sig", "replace")
    try:
        answer = about.answer(found.design, sent.log, boxes)
    except SizingError as error:
        wrong: dict[str, str] = {}
        for problem in error.problems:
            name = problem.pointer.lstrip("#?/").replace("/", ".")
            wrong.setdefault(name if name in boxes else LOG, problem.detail[0].upper() + problem.detail[1:])
        return printed(about, texts, example, boxes, shown_log, wrong, None)
    except UnclearBox as unclear:
        return printed(about, texts, example, boxes, shown_log, {unclear.name: str(unclear)}, None)
    return printed(about, texts, example, boxes, shown_log, {}, answer)


def printed(
    about: LogPage,
    texts: Texts,
    example: bool,
    boxes: Mapping[str, str],
    log: str,
    errors: Mapping[str, str],
    shown: Shown | None,
) -> Response:
    """Print the page; a long log is not shown again."""
    kept = filled(texts)
    too_long = len(log) > LONGEST_SHOWN
    put_in = {} if shown is None else filled(shown.put_in)
    return page(
        "class_log.html",
        422 if errors else 200,
        current=about.address,
        about=about,
        texts=boxes,
        log=about.heading if too_long or not log else log,
        too_long=too_long,
        opened=any(boxes.get(each.name, "").strip() or each.name in errors for each in about.more),
        errors=errors,
        example=example,
        title=texts.get("title", ""),
        leads=leads(kept, about.address),
        carried=carried(kept),
        shown=shown,
        told=list(shown.problems)[:MOST_TOLD] if shown else [],
        untold=max(len(shown.problems) - MOST_TOLD, 0) if shown else 0,
        put_in=carried(put_in),
        put_in_method=method_for(put_in),
        rows=MOST_ROWS,
        form_method=method_for(kept),
    )


def register(router: Any, about: LogPage) -> None:
    """Register a page that takes a log, and its tables."""

    def by_address(request: Request) -> Response:
        return blank_page(about, apart(dict(request.query_params)))

    async def by_body(request: Request) -> Response:
        sent = await sent_log(request)
        if sent.log is None:
            return await run_in_threadpool(blank_page, about, sent.texts)
        return await run_in_threadpool(log_page, about, sent)

    router.add_api_route(about.address, by_address, methods=["GET"])
    router.add_api_route(about.address, by_body, methods=["POST"])
    for name in about.tables:
        router.add_api_route(f"{about.address}/{name}", table_route(about, name), methods=["POST"])
        router.add_api_route(f"{about.address}/{name}", lambda: RedirectResponse("/class", 303), methods=["GET"])


def table_route(about: LogPage, name: str) -> Callable[[Request], Any]:
    """The route of a table made from a log."""

    def made(sent: Sent) -> Response:
        texts, _ = own_or_example(sent.texts)
        boxes = boxes_of_log(about, sent)
        design = understand(texts).design
        if sent.log is None or design is None:
            return log_page(about, sent)
        try:
            return about.tables[name](design, sent.log, boxes)
        except (SizingError, UnclearBox):
            return log_page(about, sent)

    async def route(request: Request) -> Response:
        sent = await sent_log(request)
        return await run_in_threadpool(made, sent)

    return route
