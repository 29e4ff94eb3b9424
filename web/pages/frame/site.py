"""What all pages share: the templates, the files they link to, and the page for what went wrong."""

import hashlib
from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

from fastapi import FastAPI
from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape
from markupsafe import Markup, escape
from starlette.responses import HTMLResponse, Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from sizing.foundation import MODEL_VERSION
from web.charts.kit.svg import svg

FOLDER = Path(__file__).parents[2]
STATIC = FOLDER / "static"
BETWEEN = "\N{INFORMATION SEPARATOR ONE}"
"""Stands between texts that are escaped together."""


class Lasting(StaticFiles):
    """Files whose address changes with their content, so that a browser may keep them for a year."""

    async def get_response(self, path: str, scope: Scope) -> Response:
        response = await super().get_response(path, scope)
        if response.status_code in (200, 304) and scope.get("query_string", b"").startswith(b"v="):
            response.headers["cache-control"] = "public, max-age=31536000, immutable"
        return response


@lru_cache(maxsize=32)
def static(name: str) -> str:
    """Address of a file of the pages, with a mark of its content."""
    mark = hashlib.sha256((STATIC / name).read_bytes()).hexdigest()[:12]
    return f"/static/{name}?v={mark}"


@lru_cache(maxsize=1)
def environment() -> Environment:
    """The templates; a name that a page forgot is an error, never an empty string."""
    found = Environment(
        loader=FileSystemLoader(FOLDER / "templates"),
        autoescape=select_autoescape(default=True),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    found.filters.update(svg=svg, cells=cells)
    found.globals.update(static=static, version=MODEL_VERSION, current="", leads=())
    return found


def cells(texts: Sequence[str]) -> Markup:
    """Texts as cells of a table, escaped all at once: a page has some hundred.

    Examples
    --------
    >>> cells(["7.3", "< 1"])
    Markup('<td>7.3</td><td>&lt; 1</td>')
    """
    return Markup(f"<td>{str(escape(BETWEEN.join(texts))).replace(BETWEEN, '</td><td>')}</td>" if texts else "")


def page(template: str, status: int = 200, **content: Any) -> HTMLResponse:
    """Print a page; its template knows the status too."""
    text = environment().get_template(template).render(status=status, **content)
    return HTMLResponse(text, status, {"cache-control": "private, no-cache" if status == 200 else "no-store"})


def download(content: bytes, media: str, filename: str) -> Response:
    """A file that the browser saves."""
    headers = {"content-disposition": f'attachment; filename="{filename}"', "cache-control": "private, no-cache"}
    return Response(content, media_type=media, headers=headers)


def spreadsheet(text: str, filename: str) -> Response:
    """A table for spreadsheets (RFC 4180), with its header row."""
    return download(text.encode(), "text/csv; charset=utf-8; header=present", filename)


def error_page(status: int, title: str, detail: str) -> HTMLResponse:
    """The page for what went wrong, in plain words; where nothing is, it leads people to the form."""
    if status == 404:
        detail = "No page has this address. Perhaps a letter of it was lost. Begin again at the form, which sizes a fountain."
    return page("error.html", status, title=title, detail=detail)


def mount(app: FastAPI) -> None:
    """Serve the stylesheet and the icon."""
    app.mount("/static", Lasting(directory=STATIC), name="static")
