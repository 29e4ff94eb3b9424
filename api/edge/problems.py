"""Every refusal in one shape: RFC 9457 problem details for programs, a plain page for people.

Each kind of problem has a name, a status and a page under ``/problems`` that says what it means and what
to do. The sentences about a design come from ``sizing``; nothing here repeats what a client sent.
"""

import json
from collections.abc import Iterable, Mapping, MutableMapping, Sequence
from dataclasses import dataclass
from http import HTTPStatus
from typing import Any

from pydantic import BaseModel, Field
from starlette.responses import Response

from sizing.foundation import Problem, SizingError

MEDIA_TYPE = "application/problem+json"
QUERY = "?"
"""A pointer that begins so names a parameter of the address, not a place in the design file."""


@dataclass(frozen=True)
class Kind:
    """One kind of refusal: its status, its title, what it means and what to do about it."""

    status: int
    title: str
    meaning: str
    remedy: str


KINDS = {
    "not-json": Kind(
        400,
        "The request is not JSON",
        "The body could not be read as a JSON document in UTF-8.",
        "Save the design file again, or run it through a JSON checker; a file cut off in the middle does this.",
    ),
    "not-found": Kind(404, "Nothing here", "No page or route has this address.", "Check the address; /openapi.json lists them."),
    "method-not-allowed": Kind(
        405,
        "Wrong method for this address",
        "The address exists, and it does not answer this method.",
        "Use one of the methods that the header Allow names.",
    ),
    "body-too-slow": Kind(
        408,
        "The request came too slowly",
        "The body was not complete in time.",
        "Send it again; look at the connection if it repeats.",
    ),
    "too-large": Kind(
        413,
        "The request is too large",
        "A design file has at most 65,536 bytes.",
        "Remove what does not belong: a design is numbers and a few names.",
    ),
    "address-too-long": Kind(
        414, "The address is too long", "The part after the question mark has at most 8,000 bytes.", "Use a design file instead."
    ),
    "wrong-content-type": Kind(
        415,
        "The request is not sent as JSON",
        "The body must be declared as application/json and must not be compressed.",
        "Send the header Content-Type: application/json.",
    ),
    "invalid-input": Kind(
        422,
        "Some inputs need changing",
        "The document was read, and some of its values cannot be used. Each has its own sentence under errors.",
        "Change the values that the pointers name. GET /api/v1/schemas/design gives every field with its limits.",
    ),
    "internal": Kind(
        500, "Something went wrong here", "This is our fault, not yours.", "Try again; if it repeats, report the request id."
    ),
    "busy": Kind(
        503,
        "Too many sizings at once",
        "The computer is working on as many requests as it can hold.",
        "Wait the seconds that the header Retry-After names, then send the same request again.",
    ),
}
BY_STATUS = {kind.status: slug for slug, kind in KINDS.items()}

CODES = {
    "missing": "a field or parameter that must be there is not",
    "unknown_field": "a field that the design file does not have, often a slip of the keyboard",
    "out_of_range": "a number outside its limits; min and max give them",
    "not_a_number": "something else where a number belongs, or a number too large to be one",
    "not_whole": "a broken number where only a whole one makes sense",
    "wrong_count": "a list with too many or too few entries",
    "not_a_choice": "a word that is none of the choices",
    "not_a_text": "a text too long, empty, or with characters that cannot stand there",
    "wrong_shape": "a list, an object or a plain value where another of the three belongs",
    "wrong_value": "a value that does not fit for another reason; its sentence says which",
    "field_doubled": "one name twice in one object; a reader would silently lose one of the values",
    "unknown_parameter": "a parameter of the address that is not known, or given twice",
}
"""Codes with a meaning of their own; every other code names one rule of the trade, and its sentence says which."""


class ErrorItem(BaseModel):
    pointer: str | None = Field(None, description="JSON Pointer into the design file, for a wrong value there.")
    parameter: str | None = Field(None, description="Name of the parameter, for a wrong value in the address.")
    code: str = Field(description="Stable name of the mistake; /problems/invalid-input explains the codes.")
    detail: str = Field(description="One sentence: what was given, the limit, what to change.")
    min: float | None = Field(None, description="Lowest value allowed.")
    max: float | None = Field(None, description="Highest value allowed.")


class ProblemDocument(BaseModel):
    """Problem details as in RFC 9457."""

    type: str = Field(description="Address of the page that explains this kind of problem.")
    title: str = Field(description="The kind of problem.")
    status: int = Field(description="HTTP status.")
    detail: str = Field(description="What is wrong with this request.")
    instance: str = Field(description="Names this request; its last part is the request id.")
    errors: list[ErrorItem] | None = Field(None, description="One entry for each wrong value.")


def json_bytes(document: object) -> bytes:
    """Write a document as JSON; NaN and infinity are bugs and raise, half a character becomes a question mark.

    Examples
    --------
    >>> json_bytes({"jet_height_m": 0.618, "name": "Zürich"}).decode()
    '{"jet_height_m":0.618,"name":"Zürich"}'
    """
    text = json.dumps(document, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    return text.encode("utf-8", "replace")


def slug_of(error: SizingError) -> str:
    """The kind of problem that an error of ``sizing`` is to a client.

    Examples
    --------
    >>> slug_of(SizingError(Problem("#", "not_json", "the design file is not JSON; save it again")))
    'not-json'
    """
    codes = {problem.code for problem in error.problems}
    if codes & {"not_json", "not_text"}:
        return "not-json"
    return "too-large" if codes == {"too_large"} else "invalid-input"


def error_items(problems: Iterable[Problem]) -> list[dict[str, Any]]:
    """The ``errors`` of a problem document, one for each wrong value.

    Examples
    --------
    >>> error_items([Problem("#/pipe/length_m", "out_of_range", "pipe length is 150 m; ...", 0, 100)])
    [{'pointer': '#/pipe/length_m', 'code': 'out_of_range', 'detail': 'pipe length is 150 m; ...', 'min': 0, 'max': 100}]
    """
    items = []
    for problem in problems:
        name = "parameter" if problem.pointer.startswith(QUERY) else "pointer"
        limits = {"min": problem.minimum, "max": problem.maximum}
        items.append(
            {
                name: problem.pointer.removeprefix(QUERY),
                "code": problem.code,
                "detail": problem.detail,
            }
            | {key: value for key, value in limits.items() if value is not None}
        )
    return items


def document(slug: str, status: int, detail: str, request_id: str, problems: Sequence[Problem] = ()) -> dict[str, Any]:
    """A problem document; a status without a kind of its own has the type ``about:blank``."""
    kind = KINDS.get(slug)
    found: dict[str, Any] = {
        "type": f"/problems/{slug}" if kind else "about:blank",
        "title": kind.title if kind else HTTPStatus(status).phrase,
        "status": status,
        "detail": detail,
        "instance": f"/requests/{request_id}",
    }
    return found | ({"errors": error_items(problems)} if problems else {})


def detail_of(problems: Sequence[Problem]) -> str:
    """One problem in its own words, several by their number."""
    return problems[0].detail if len(problems) == 1 else f"{len(problems)} values need changing; each is named under errors"


def refusal(
    scope: MutableMapping[str, Any],
    slug: str,
    detail: str = "",
    problems: Sequence[Problem] = (),
    status: int | None = None,
    headers: Mapping[str, str] | None = None,
) -> Response:
    """The response to a request that is refused: JSON under ``/api/``, a page elsewhere."""
    kind = KINDS.get(slug)
    code = status or (kind.status if kind else 500)
    said = detail or (detail_of(problems) if problems else f"{kind.meaning} {kind.remedy}" if kind else HTTPStatus(code).phrase)
    if str(scope.get("path", "")).startswith("/api/"):
        content = json_bytes(document(slug, code, said, str(scope.get("request_id", "unknown")), problems))
        return Response(content, code, dict(headers or {}), MEDIA_TYPE)
    from web.pages.frame import error_page  # here: programs and the command line need no pages

    title = kind.title if kind else HTTPStatus(code).phrase
    response = error_page(code, title, " ".join(problem.detail for problem in problems) or said)
    response.headers.update(headers or {})
    return response


def explanation(slug: str) -> str:
    """What a kind of problem means, as plain text."""
    kind = KINDS[slug]
    lines = [f"{kind.title} ({kind.status})", "", kind.meaning, kind.remedy]
    if slug == "invalid-input":
        lines += ["", "Codes:", *(f"  {code}: {meaning}" for code, meaning in CODES.items())]
        lines += ["  any other code names one rule of the trade, and the sentence beside it says which"]
    return "\n".join(lines) + "\n"
