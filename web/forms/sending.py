"""The answers of a form on their way to a page: in its address where they fit, else in the body of the request.

A page of a design is a function of the fields that were sent, and is registered for both ways at once::

    def compare_page(fields: Mapping[str, str]) -> Response: ...

    both_ways(router, "/compare", compare_page)

The form asks by GET while it is short and by POST where it is long (several panels or pumps). What comes by POST and
fits is answered with 303 and the short address, so that it can be shared, kept and gone back to; what does not fit is
given to the page at once. On such a page no link can carry the design: make links with ``href`` (it leads to the
buttons of the whole design then) and pass ``leads=leads(texts, "/compare")``, which prints these buttons with a sentence.
A form of your own has ``method="{{ method }}"`` with ``method=method_for(texts)``, and as hidden fields those of
``carried(texts)``: each answer on its own, or one field with all of them where they are many; ``fields`` has them apart
again. ``moves=True`` is for addresses that only lead on to the form with other answers (``to_form``): they need no
address of their own.
"""

from collections.abc import Callable, Mapping
from functools import lru_cache
from urllib.parse import parse_qsl, urlencode

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response

Fields = Mapping[str, str]
Page = Callable[[Fields], Response]

LONGEST_ADDRESS = 7000
"""[byte] A design with more answers than this is sent in a body, and kept as a file."""
LONGEST_LINK = 3000
"""[byte] A page says a longer design once, in a form with buttons, and not again in each of its links."""
ANSWERS = "answers"
"""Name of the field that holds all answers as an address would."""
SERVICE = "service.address"
"""Name of the field that holds the service's own address, for pages that print theirs; it is never sent on."""
MOST_ANSWERS = 4000
"""More answers than any form has: twelve pumps with forty points each are about 1800, a whole skyline 360."""
WHOLE_DESIGN = "whole-design"
"""Where a page prints the buttons that carry a design too long for links."""
URLENCODED = "application/x-www-form-urlencoded"


def both_ways(router: APIRouter, address: str, page: Page, moves: bool = False, tells_where: bool = False) -> None:
    """Register a page of a design for GET and POST; one that ``tells_where`` is given the service's own address too."""

    def given(request: Request, fields: dict[str, str]) -> dict[str, str]:
        return fields | {SERVICE: str(request.base_url)} if tells_where else fields

    def by_address(request: Request) -> Response:
        return page(given(request, apart(dict(request.query_params))))

    async def by_body(request: Request) -> Response:
        fields = apart(sent_fields(request.headers.get("content-type", ""), await request.body()))
        where = "" if moves else short_address(address, fields)
        return RedirectResponse(where, 303) if where else await run_in_threadpool(page, given(request, fields))

    router.add_api_route(address, by_address, methods=["GET"])
    router.add_api_route(address, by_body, methods=["POST"])


def sent_fields(content_type: str, body: bytes) -> dict[str, str]:
    """The fields of a form's body; of a name that stands twice the last one, as in an address.

    Raises
    ------
    HTTPException
        415 where the body is no form of that kind, 413 where it has more answers than any form.

    Examples
    --------
    >>> sent_fields("application/x-www-form-urlencoded", b"title=Our+pond&note=")
    {'title': 'Our pond', 'note': ''}
    """
    if content_type.partition(";")[0].strip().lower() != URLENCODED:
        raise HTTPException(415)
    return parsed(body.decode("utf-8", "replace"))


def parsed(text: str) -> dict[str, str]:
    """The fields of a query; more than any form has are refused with 413."""
    try:
        return dict(parse_qsl(text, keep_blank_values=True, max_num_fields=MOST_ANSWERS))
    except ValueError:
        raise HTTPException(413) from None


def carried(texts: Fields) -> dict[str, str]:
    """The hidden fields of a form that carries a design: its answers, or one field with all where they are many.

    Examples
    --------
    >>> carried({"title": "Our pond", "note": ""}), list(carried({"note": "x" * 4000}))
    ({'title': 'Our pond'}, ['answers'])
    """
    kept = filled(texts)
    together = encoded(tuple(kept.items()))
    return kept if len(together) <= LONGEST_LINK else {ANSWERS: together}


def apart(fields: Fields) -> dict[str, str]:
    """The fields with each answer on its own again; what was sent beside them counts more.

    Examples
    --------
    >>> apart({"answers": "title=Our+pond&note=x", "note": "y"})
    {'title': 'Our pond', 'note': 'y'}
    """
    beside = {name: text for name, text in fields.items() if name != ANSWERS}
    return parsed(fields[ANSWERS]) | beside if ANSWERS in fields else beside


def filled(fields: Fields) -> dict[str, str]:
    """What is not empty: empty boxes would only lengthen an address."""
    return {name: text for name, text in fields.items() if text.strip()}


@lru_cache(maxsize=4)
def encoded(fields: tuple[tuple[str, str], ...]) -> str:
    """The fields as an address has them; a page asks for the same ones ten times over.

    Examples
    --------
    >>> encoded((("title", "Our pond"), ("note", "a&b")))
    'title=Our+pond&note=a%26b'
    """
    return urlencode(fields)


def short_address(address: str, fields: Fields) -> str:
    """The address with all answers, or an empty text where it would be too long.

    Examples
    --------
    >>> short_address("/results", {"title": "Our pond", "note": ""}), short_address("/results", {"note": "x" * 8000})
    ('/results?title=Our+pond', '')
    """
    kept = encoded(tuple(filled(fields).items()))
    where = f"{address}?{kept}" if kept else address
    return where if len(where) <= LONGEST_ADDRESS else ""


def href(address: str, texts: Fields, fragment: str = "") -> str:
    """Where a link with all answers leads; where they do not fit, to the buttons that carry them.

    Examples
    --------
    >>> href("/", {"title": "Our pond"}, "place-questions"), href("/", {"note": "x" * 8000})
    ('/?title=Our+pond#place-questions', '#whole-design')
    """
    where = short_address(address, texts)
    return f"#{WHOLE_DESIGN}" if not where else f"{where}#{fragment}" if fragment else where


def method_for(texts: Fields) -> str:
    """How a form with these answers as hidden fields is sent."""
    return "post" if ANSWERS in carried(texts) else "get"
