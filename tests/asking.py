"""Ask the service in this process, over plain ASGI, without a port."""

import asyncio
import json
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

import httpx
from fastapi import FastAPI

from api.http.app import create_app

APP = create_app()
ROOT = Path(__file__).resolve().parent.parent
JSON = {"content-type": "application/json"}
SIZINGS = "/api/v1/sizings"
SKIES = "/api/v1/skies"
ORIENTATIONS = "/api/v1/orientations"
COMPARISONS = "/api/v1/comparisons"
REPORTS = "/api/v1/reports"
PLACES = "/api/v1/places"
MEASURED = "/api/v1/measurements"
MEASUREMENTS = tuple(
    f"{MEASURED}/{name}" for name in ("pump-curves", "directions", "panel-checks", "sheets", "filled-sheets", "first-days")
)


def ask(method: str, address: str, app: Any = APP, **more: Any) -> httpx.Response:
    """One request, answered in this process."""

    async def asked() -> httpx.Response:
        transport = httpx.ASGITransport(app=app, raise_app_exceptions=False)
        async with httpx.AsyncClient(transport=transport, base_url="http://fountain.test") as client:
            return await client.request(method, address, **more)

    return asyncio.run(asked())


def post(design: Any, query: str = "", app: Any = APP, address: str = SIZINGS) -> httpx.Response:
    """Send a design to be sized, or to another address: a document, or bytes as they are."""
    content = design if isinstance(design, bytes) else json.dumps(design).encode()
    return ask("POST", address + query, app, content=content, headers=JSON)


def refused(response: Any, status: int, slug: str) -> dict[str, Any]:
    """Check the shape of a refusal and return it."""
    assert response.status_code == status, response.text
    assert response.headers["content-type"] == "application/problem+json"
    assert response.headers["cache-control"] == "no-store"
    found: dict[str, Any] = response.json()
    assert found["type"] == f"/problems/{slug}"
    assert found["status"] == status
    assert found["title"]
    assert found["detail"]
    assert found["instance"] == f"/requests/{response.headers['x-request-id']}"
    assert "Traceback" not in response.text
    assert "pydantic" not in response.text
    return found


def started(app: FastAPI, method: str, address: str, patience: float = 5.0) -> httpx.Response:
    """One request to a service that has been started and has had some time [s] to load its tables."""

    async def asked() -> httpx.Response:
        async with app.router.lifespan_context(app):
            for _ in range(int(patience / 0.01)):
                if getattr(app.state, "ready", False):
                    break
                await asyncio.sleep(0.01)
            async with httpx.AsyncClient(transport=httpx.ASGITransport(app=app), base_url="http://fountain.test") as client:
                return await client.request(method, address)

    return asyncio.run(asked())


def changed(design: Mapping[str, Any], pointer: str, value: Any) -> dict[str, Any]:
    """A copy of a design with one value changed, or a field added."""
    copy: dict[str, Any] = json.loads(json.dumps(design))
    *way, last = pointer.split("/")
    place: Any = copy
    for part in way:
        place = place[int(part) if part.isdigit() else part]
    place[int(last) if last.isdigit() else last] = value
    return copy


def drive(app: Any, scope: Mapping[str, Any], messages: Iterable[Any]) -> list[dict[str, Any]]:
    """Run an ASGI application by hand: what it receives is given, a number means a pause [s]; returns what it sends."""
    sent: list[dict[str, Any]] = []
    waiting = list(messages)

    async def receive() -> Any:
        while waiting and isinstance(waiting[0], float):
            await asyncio.sleep(waiting.pop(0))
        return waiting.pop(0) if waiting else {"type": "http.disconnect"}

    async def send(message: Any) -> None:
        sent.append(dict(message))

    whole = {
        "type": "http",
        "asgi": {"version": "3.0"},
        "http_version": "1.1",
        "method": "POST",
        "scheme": "http",
        "path": SIZINGS,
        "raw_path": SIZINGS.encode(),
        "root_path": "",
        "query_string": b"",
        "headers": [(b"content-type", b"application/json")],
        "client": ("127.0.0.1", 1),
        "server": ("127.0.0.1", 80),
        **scope,
    }
    asyncio.run(app(whole, receive, send))
    return sent


def piece(body: bytes, more: bool = False) -> dict[str, Any]:
    """A piece of a body on its way in."""
    return {"type": "http.request", "body": body, "more_body": more}
