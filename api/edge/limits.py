"""What every request passes before it reaches a route, as plain ASGI.

``Front``      gives the request its id, answers HEAD like GET, sets the security headers, turns a crash into
               a page that says nothing of it, writes one log line
``Body``       refuses a long address, a large or a slow body, and hands the whole body on
``InFlight``   refuses what would only wait in vain
"""

import asyncio
import json
import logging
import re
import time
import traceback
import uuid
from collections.abc import Awaitable, Callable, Iterator, MutableMapping
from contextlib import contextmanager
from datetime import UTC, datetime
from typing import Any

from api.edge.problems import refusal
from sizing.design import LARGEST_FILE
from sizing.measured.logs import LARGEST as LARGEST_LOG
from sizing.money import LARGEST as LARGEST_PRICE_LIST
from sizing.sky import LARGEST_FILE as LARGEST_WEATHER_FILE

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

LONGEST_QUERY = 8000
"""[byte] RFC 9110 section 4.1 asks for at least this much of an address."""
FORM_ENVELOPE = 4096
"""[byte] What a form adds around the file that it sends."""
WEATHER = "/weather"
"""The one address that takes a weather file."""
PRICES = "/prices"
"""The one address that takes a price list."""
CLASS_PAGES, CLASS_ROUTES = "/class/", "/api/v1/measurements/"
"""What the addresses begin with that take a log."""
ANSWERS_BESIDE = 524_288
"""[byte] What a form sends beside such a file: up to 2,500 answers, each with its own heading."""
LARGEST_ANSWERS = 131_072
"""[byte] The answers of the longest form: 40 points of each of 12 pumps are 52,000 bytes, a name before every number."""
LARGEST_MEASUREMENTS = LARGEST_LOG + LARGEST_LOG // 10 + LARGEST_FILE
"""[byte] A log and a design in one JSON document, where each end of a line is two characters."""
DRAINED = 1_000_000
"""[byte] Read and thrown away before a refusal, so that the sender reads our answer and not a broken connection."""
BODY_SECONDS = 5.0
WEATHER_SECONDS = 30.0
"""[s] 5 MB by 1.4 Mbit/s, an old copper line's way up."""
MOST_WEATHER = 20
"""Weather files and logs in memory at one time: 100 MB at worst."""
TOO_LARGE = {
    WEATHER: "A weather file has at most 5 MB; an hourly year is about 2 MB. Go back, choose a file of one year, or type twelve "
    "months.",
    PRICES: "A price list has at most 100 KB. Go back, and choose a list with one row for each part.",
}
"""What is said of a file that is refused unread."""
LOG_TOO_LARGE = "A log has at most 2 MB and 10,000 rows. Keep the rows of one day, or every second one, and send it again."
MOST_IN_FLIGHT = 40
"""A school class at once: 40 sizings of 30 to 50 ms on two threads wait about a second at worst."""
RETRY = {"retry-after": "2"}
LIGHT = ("/healthz", "/readyz", "/openapi.json", "/static/", "/problems/", "/api/v1/schemas/")
"""Addresses that compute nothing: answered however busy the rest is."""

REQUEST_ID = re.compile(rb"[A-Za-z0-9_-]{1,64}")
HEADERS = {
    b"content-security-policy": b"default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self'; base-uri 'none'; "
    b"object-src 'none'; frame-ancestors 'none'",
    b"x-content-type-options": b"nosniff",
    b"referrer-policy": b"same-origin",
    b"cross-origin-opener-policy": b"same-origin",
    b"permissions-policy": b"geolocation=(), camera=(), microphone=()",
    b"x-frame-options": b"DENY",
}
LOG = logging.getLogger("solar_fountain.requests")


@contextmanager
def log_on_stderr() -> Iterator[None]:
    """Let the log lines out, each as it is, while the service runs; a logger that was set up otherwise is left alone."""
    LOG.setLevel(logging.INFO)
    if LOG.handlers:
        yield
        return
    handler = logging.StreamHandler()
    handler.setFormatter(logging.Formatter("%(message)s"))
    LOG.addHandler(handler)
    LOG.propagate = False
    try:
        yield
    finally:
        LOG.removeHandler(handler)
        LOG.propagate = True


def header(scope: Scope, name: bytes) -> bytes:
    """The first header of that name, empty if there is none."""
    return next((value for key, value in scope["headers"] if key == name), b"")


def request_id(scope: Scope) -> str:
    """The client's own id where it is harmless, else a new one."""
    given = header(scope, b"x-request-id")
    return given.decode("ascii") if REQUEST_ID.fullmatch(given) else uuid.uuid4().hex


def with_headers(scope: Scope, message: Message) -> Message:
    """A response start with our headers; an error is never kept by a cache."""
    own = HEADERS | {b"x-request-id": scope["request_id"].encode()}
    kept = [(key, value) for key, value in message.get("headers", ()) if key.lower() not in own and key.lower() != b"server"]
    if message["status"] >= 400:
        kept = [(key, value) for key, value in kept if key.lower() != b"cache-control"] + [(b"cache-control", b"no-store")]
    elif not any(key.lower() == b"cache-control" for key, _ in kept):
        kept.append((b"cache-control", b"no-cache"))
    return {**message, "headers": [*kept, *own.items()]}


class Front:
    """Outermost: id, HEAD, headers, crashes, log."""

    def __init__(self, app: App) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        head = scope["method"] == "HEAD"
        inner = {**scope, "request_id": request_id(scope), "method": "GET" if head else scope["method"]}
        started, status = time.perf_counter(), 0

        async def answer(message: Message) -> None:
            nonlocal status
            if message["type"] == "http.response.start":
                status = message["status"]
                message = with_headers(inner, message)
            elif head:
                message = {**message, "body": b""}
            await send(message)

        try:
            await self.app(inner, receive, answer)
        except Exception:
            LOG.error(json.dumps({"ts": now(), "id": inner["request_id"], "error": traceback.format_exc()}))
            if status:
                raise
            await refusal(inner, "internal")(inner, receive, answer)
        finally:
            write_line(inner, scope["method"], status, time.perf_counter() - started)


def now() -> str:
    """The time in UTC, ISO 8601."""
    return datetime.now(UTC).isoformat(timespec="milliseconds")


def write_line(scope: Scope, method: str, status: int, seconds: float) -> None:
    """One JSON line for one request, without what stands behind the question mark."""
    line = {"ts": now(), "id": scope["request_id"], "method": method[:16], "path": scope["path"][:200]}
    LOG.info(json.dumps({**line, "status": status, "ms": round(1000 * seconds, 1)}))


class Body:
    """Reads the whole body within its limits, so that no route waits for a client."""

    def __init__(self, app: App, seconds: float = BODY_SECONDS) -> None:
        self.app = app
        self.seconds = seconds
        self.weather = 0

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
        elif not heavy(scope):
            await self.read(scope, receive, send)
        elif self.weather >= MOST_WEATHER:
            await refusal(scope, "busy", headers={"connection": "close", **RETRY})(scope, receive, send)
        else:
            self.weather += 1
            try:
                await self.read(scope, receive, send)
            finally:
                self.weather -= 1

    async def read(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Read one request's body and hand it on."""
        if len(scope.get("query_string", b"")) > LONGEST_QUERY:
            await refusal(scope, "address-too-long")(scope, receive, send)
            return
        largest = largest_body(scope)
        declared = declared_length(scope)
        if declared > largest and header(scope, b"expect").lower() == b"100-continue":
            await self.refuse("too-large", scope, receive, send)
            return
        try:
            async with asyncio.timeout(WEATHER_SECONDS if heavy(scope) else self.seconds):
                size, content = await whole_body(receive, largest)
        except TimeoutError:
            await self.refuse("too-large" if declared > largest else "body-too-slow", scope, receive, send)
            return
        if size < 0:
            return  # the client left; nobody is there to answer
        if size > largest:
            await self.refuse("too-large", scope, receive, send)
            return
        await self.app(scope, replay(content, receive), send)

    async def refuse(self, slug: str, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuse and close the connection: what is still on its way would be taken for the next request."""
        told = LOG_TOO_LARGE if scope["path"].startswith((CLASS_PAGES, CLASS_ROUTES)) else TOO_LARGE.get(scope["path"], "")
        detail = told if slug == "too-large" else ""
        await refusal(scope, slug, detail, headers={"connection": "close"})(scope, receive, send)


def heavy(scope: Scope) -> bool:
    """Whether an address takes a weather file or a log, which are large and may come slowly."""
    return bool(scope["path"] == WEATHER or scope["path"].startswith((CLASS_PAGES, CLASS_ROUTES)))


def largest_body(scope: Scope) -> int:
    """Largest body [byte]: a design file, a form's answers, the envelope of a form that sends a file, that file, or a log."""
    media = header(scope, b"content-type").lower()
    form = media.startswith(b"multipart/")
    if form and scope["path"] == WEATHER and scope["method"] == "POST":
        return LARGEST_WEATHER_FILE + ANSWERS_BESIDE
    if form and scope["path"] == PRICES and scope["method"] == "POST":
        return LARGEST_PRICE_LIST + ANSWERS_BESIDE
    if form and scope["path"].startswith(CLASS_PAGES) and scope["method"] == "POST":
        return LARGEST_LOG + ANSWERS_BESIDE
    if scope["path"].startswith(CLASS_ROUTES):
        return LARGEST_MEASUREMENTS
    if media.startswith(b"application/x-www-form-urlencoded"):
        return LARGEST_ANSWERS
    return LARGEST_FILE + (FORM_ENVELOPE if form else 0)


def declared_length(scope: Scope) -> int:
    """What the header says of the body's length [byte]; 0 where it says nothing."""
    digits = header(scope, b"content-length")
    return int(digits) if digits.isdigit() and len(digits) < 20 else 0


async def whole_body(receive: Receive, largest: int) -> tuple[int, bytes]:
    """Size and content of the body; size -1 where the client left. Beyond ``largest`` the content is dropped."""
    pieces: list[bytes] = []
    size = 0
    while True:
        message = await receive()
        if message["type"] == "http.disconnect":
            return -1, b""
        piece = message.get("body", b"")
        size += len(piece)
        if size <= largest:
            pieces.append(piece)
        if size > (largest + DRAINED if largest > DRAINED else DRAINED) or not message.get("more_body", False):
            return size, b"".join(pieces)


def replay(content: bytes, receive: Receive) -> Receive:
    """Hand a body that was read already to the route, then whatever the client does next."""
    waiting = [content]

    async def again() -> Message:
        if waiting:
            return {"type": "http.request", "body": waiting.pop(), "more_body": False}
        return await receive()

    return again


class InFlight:
    """Refuses a request when as many as can be held are in work or waiting."""

    def __init__(self, app: App, most: int = MOST_IN_FLIGHT) -> None:
        self.app = app
        self.most = most
        self.count = 0

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http" or scope["path"].startswith(LIGHT):
            await self.app(scope, receive, send)
            return
        if self.count >= self.most:
            await refusal(scope, "busy", headers=RETRY)(scope, receive, send)
            return
        self.count += 1
        try:
            await self.app(scope, receive, send)
        finally:
            self.count -= 1
