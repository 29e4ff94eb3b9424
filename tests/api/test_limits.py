"""What every request passes: size, time, number, headers, log. First by hand, then a real server on loopback."""

import asyncio
import json
import logging
from functools import partial
from typing import Any

import pytest
from starlette.responses import PlainTextResponse

from api.edge.limits import (
    BODY_SECONDS,
    DRAINED,
    HEADERS,
    LARGEST_ANSWERS,
    LONGEST_QUERY,
    MOST_IN_FLIGHT,
    MOST_WEATHER,
    WEATHER,
    Body,
    Front,
    InFlight,
    log_on_stderr,
)
from api.http.examples import EXAMPLE
from sizing.design.reading import LARGEST_FILE
from tests.asking import APP, SIZINGS, ask, drive, piece, post


async def echo(scope: Any, receive: Any, send: Any) -> None:
    """Answers with the length of the body that it was handed."""
    message = await receive()
    await PlainTextResponse(str(len(message["body"])))(scope, receive, send)


def status_and_text(sent: list[dict[str, Any]]) -> tuple[int, str]:
    return sent[0]["status"], b"".join(message.get("body", b"") for message in sent[1:]).decode()


# Body


def test_a_body_in_pieces_arrives_whole() -> None:
    assert status_and_text(drive(Body(echo), {}, [piece(b"a" * 7, True), piece(b"b" * 3)])) == (200, "10")


def test_the_largest_body_passes_and_one_byte_more_does_not() -> None:
    assert drive(Body(echo), {}, [piece(b"a" * LARGEST_FILE)])[0]["status"] == 200
    assert drive(Body(echo), {}, [piece(b"a" * (LARGEST_FILE + 1))])[0]["status"] == 413


def test_a_form_may_have_its_envelope_around_the_file() -> None:
    form = {"headers": [(b"content-type", b"multipart/form-data; boundary=x")]}
    assert drive(Body(echo), form, [piece(b"a" * (LARGEST_FILE + 4096))])[0]["status"] == 200
    assert drive(Body(echo), form, [piece(b"a" * (LARGEST_FILE + 4097))])[0]["status"] == 413


def test_a_large_body_is_read_a_while_and_then_refused() -> None:
    pieces = [piece(b"a" * 65536, True) for _ in range(320)]  # 20 MB
    left = iter(pieces)
    sent = drive(Body(echo), {}, left)
    assert status_and_text(sent)[0] == 413
    assert (b"connection", b"close") in sent[0]["headers"]


def test_no_more_is_read_than_the_drain() -> None:
    taken = 0

    async def endless() -> dict[str, Any]:
        nonlocal taken
        taken += 65536
        return piece(b"a" * 65536, True)

    sent: list[Any] = []

    async def send(message: Any) -> None:
        sent.append(message)

    scope = {"type": "http", "path": SIZINGS, "method": "POST", "headers": [], "query_string": b""}
    asyncio.run(Body(echo)(scope, endless, send))
    assert sent[0]["status"] == 413
    assert DRAINED < taken <= DRAINED + 65536


def test_who_asks_first_is_refused_before_sending() -> None:
    headers = [(b"content-length", b"20000000"), (b"expect", b"100-continue")]
    sent = drive(Body(echo), {"headers": headers}, [])  # nothing is received at all
    assert sent[0]["status"] == 413


def test_a_slow_body_is_given_up() -> None:
    sent = drive(Body(echo, seconds=0.05), {}, [piece(b"{", True), 0.5, piece(b"}")])
    assert sent[0]["status"] == 408
    assert (b"connection", b"close") in sent[0]["headers"]


def test_a_slow_body_keeps_nobody_waiting() -> None:
    """The slow body ends only once the other request has its answer."""
    order: list[str] = []
    scope = {"type": "http", "path": SIZINGS, "method": "POST", "headers": [], "query_string": b""}

    async def both() -> None:
        answered = asyncio.Event()
        pieces = iter([piece(b"{", True), piece(b"}")])

        async def slow() -> dict[str, Any]:
            found = next(pieces)
            if not found["more_body"]:
                await answered.wait()
            return found

        async def quick() -> dict[str, Any]:
            return piece(b"{}")

        async def told(who: str, message: Any) -> None:
            if message["type"] == "http.response.start":
                order.append(who)
            if who == "quick":
                answered.set()

        app = Body(echo, seconds=60)
        await asyncio.gather(*(app(scope, given, partial(told, given.__name__)) for given in (slow, quick)))

    asyncio.run(both())
    assert order == ["quick", "slow"]


def test_a_slow_body_that_is_too_large_anyway_is_called_so() -> None:
    headers = [(b"content-length", b"20000000")]
    assert drive(Body(echo, seconds=0.05), {"headers": headers}, [piece(b"{", True), 0.5])[0]["status"] == 413


def test_who_leaves_gets_no_answer() -> None:
    assert drive(Body(echo), {}, [piece(b"{", True), {"type": "http.disconnect"}]) == []


@pytest.mark.parametrize("length", [b"-1", b"seven", b"", b"9" * 40])
def test_a_strange_declared_length_changes_nothing(length: bytes) -> None:
    assert drive(Body(echo), {"headers": [(b"content-length", length)]}, [piece(b"abc")])[0]["status"] == 200


def test_the_longest_query_passes_and_one_byte_more_does_not() -> None:
    assert ask("GET", "/healthz?" + "a" * LONGEST_QUERY).status_code == 200
    refused = ask("GET", "/healthz?" + "a" * (LONGEST_QUERY + 1))
    assert refused.status_code == 414
    assert post(EXAMPLE, "?" + "a" * (LONGEST_QUERY + 1)).json()["type"] == "/problems/address-too-long"


def test_after_the_body_the_route_hears_what_the_client_does() -> None:
    heard: list[str] = []

    async def listening(scope: Any, receive: Any, send: Any) -> None:
        heard.extend([(await receive())["type"], (await receive())["type"]])
        await PlainTextResponse("x")(scope, receive, send)

    drive(Body(listening), {}, [piece(b"a"), {"type": "http.disconnect"}])
    assert heard == ["http.request", "http.disconnect"]


def test_one_address_takes_weather_files_and_longer_time() -> None:
    form = {"path": WEATHER, "headers": [(b"content-type", b"multipart/form-data; boundary=x")]}
    megabyte = b"a" * 1_000_000
    pieces = [piece(megabyte, True)] * 5 + [piece(b"a" * 524_288)]
    assert status_and_text(drive(Body(echo), form, pieces)) == (200, "5524288")
    assert drive(Body(echo), form, [*pieces[:5], piece(b"a" * 524_289)])[0]["status"] == 413
    assert drive(Body(echo), {"path": WEATHER}, [piece(b"a" * (LARGEST_FILE + 1))])[0]["status"] == 413
    assert drive(Body(echo), form | {"path": SIZINGS}, [piece(megabyte)])[0]["status"] == 413
    assert drive(Body(echo, seconds=0.05), form, [piece(b"a", True), 0.2, piece(b"b")])[0]["status"] == 200


def test_the_answers_of_a_form_may_be_longer_than_a_design_file() -> None:
    form = {"path": "/results", "headers": [(b"content-type", b"application/x-www-form-urlencoded")]}
    assert status_and_text(drive(Body(echo), form, [piece(b"a" * LARGEST_ANSWERS)])) == (200, "131072")
    assert drive(Body(echo), form, [piece(b"a" * (LARGEST_ANSWERS + 1))])[0]["status"] == 413


def test_only_so_many_weather_files_are_held_at_one_time() -> None:
    starts = flood(Body(slow), WEATHER, MOST_WEATHER + 3)
    assert sorted(start["status"] for start in starts) == [200] * MOST_WEATHER + [503] * 3
    refused = next(start for start in starts if start["status"] == 503)
    assert (b"retry-after", b"2") in refused["headers"]


# InFlight


def flood(app: Any, path: str, count: int) -> list[dict[str, Any]]:
    """The response starts of so many requests at once, while none can finish before all have come."""
    starts: list[dict[str, Any]] = []

    async def one() -> None:
        async def receive() -> dict[str, Any]:
            return piece(b"")

        async def send(message: Any) -> None:
            if message["type"] == "http.response.start":
                starts.append(message)

        await app({"type": "http", "path": path, "method": "POST", "headers": []}, receive, send)

    async def all_at_once() -> None:
        await asyncio.gather(*(one() for _ in range(count)))

    asyncio.run(all_at_once())
    return starts


async def slow(scope: Any, receive: Any, send: Any) -> None:
    await asyncio.sleep(0.05)
    await PlainTextResponse("x")(scope, receive, send)


def test_more_than_can_be_held_are_told_to_come_back() -> None:
    gate = InFlight(slow, most=3)
    starts = flood(gate, SIZINGS, 5)
    assert sorted(start["status"] for start in starts) == [200, 200, 200, 503, 503]
    refused = next(start for start in starts if start["status"] == 503)
    assert (b"retry-after", b"2") in refused["headers"]
    assert gate.count == 0


def test_a_whole_class_at_once_is_held() -> None:
    assert MOST_IN_FLIGHT >= 30
    assert {start["status"] for start in flood(InFlight(slow), SIZINGS, 30)} == {200}


@pytest.mark.parametrize("path", ["/healthz", "/readyz", "/static/style.css", "/problems/busy", "/openapi.json"])
def test_light_addresses_are_answered_however_busy_it_is(path: str) -> None:
    assert [start["status"] for start in flood(InFlight(slow, most=0), path, 2)] == [200, 200]


def test_a_crash_gives_its_place_back() -> None:
    async def crash(scope: Any, receive: Any, send: Any) -> None:
        raise RuntimeError

    gate = InFlight(crash, most=1)
    for _ in range(3):
        with pytest.raises(RuntimeError):
            drive(gate, {}, [])
    assert gate.count == 0


def test_a_full_house_answers_programs_and_people_in_their_own_way() -> None:
    gate = InFlight(slow, most=0)
    for path, media in ((SIZINGS, b"application/problem+json"), ("/results", b"text/html; charset=utf-8")):
        sent = drive(gate, {"path": path}, [])
        assert sent[0]["status"] == 503
        assert (b"content-type", media) in sent[0]["headers"]


# Front


@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("GET", "/healthz"),
        ("GET", "/"),
        ("GET", "/nowhere"),
        ("DELETE", "/healthz"),
        ("POST", SIZINGS),
        ("GET", "/static/style.css"),
    ],
)
def test_every_response_carries_the_security_headers(method: str, path: str) -> None:
    headers = ask(method, path).headers
    for name, value in HEADERS.items():
        assert headers[name.decode()] == value.decode()
    assert "default-src 'none'" in headers["content-security-policy"]
    assert "server" not in headers
    assert "access-control-allow-origin" not in headers
    assert "strict-transport-security" not in headers  # a plain-http school network would lock itself out


def test_an_error_is_never_kept_by_a_cache() -> None:
    async def careless(scope: Any, receive: Any, send: Any) -> None:
        headers = {"cache-control": "public, max-age=600", "server": "secret/1.0"}
        await PlainTextResponse("x", 404 if scope["path"] == "/a" else 200, headers)(scope, receive, send)

    assert ask("GET", "/a", Front(careless)).headers["cache-control"] == "no-store"
    kept = ask("GET", "/b", Front(careless))
    assert kept.headers["cache-control"] == "public, max-age=600"
    assert "server" not in kept.headers


@pytest.mark.parametrize("given", ["abc-DEF_123", "x" * 64])
def test_a_harmless_request_id_is_kept(given: str) -> None:
    assert ask("GET", "/healthz", headers={"x-request-id": given}).headers["x-request-id"] == given
    refused = ask("GET", "/api/nothing", headers={"x-request-id": given})
    assert refused.json()["instance"] == f"/requests/{given}"


@pytest.mark.parametrize("given", ["", "a b", "x" * 65, "a\tb", '"', "../etc", "é"])
def test_any_other_request_id_is_replaced(given: str) -> None:
    made = ask("GET", "/healthz", headers={"x-request-id": given.encode("utf-8")}).headers["x-request-id"]
    assert made != given
    assert len(made) == 32


def lines(caplog: pytest.LogCaptureFixture) -> list[dict[str, Any]]:
    return [json.loads(record.message) for record in caplog.records if record.name == "solar_fountain.requests"]


@pytest.fixture
def heard(caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch) -> pytest.LogCaptureFixture:
    monkeypatch.setattr(logging.getLogger("solar_fountain.requests"), "propagate", True)
    caplog.set_level(logging.INFO, "solar_fountain.requests")
    return caplog


def test_one_log_line_for_one_request_without_its_query(heard: pytest.LogCaptureFixture) -> None:
    ask("GET", "/results?title=secret%20garden", headers={"x-request-id": "seven"})
    (line,) = lines(heard)
    assert {"id": "seven", "method": "GET", "path": "/results", "status": 422}.items() <= line.items()
    assert line["ms"] > 0
    assert line["ts"].endswith("+00:00")
    assert "secret" not in heard.text


def test_a_path_cannot_forge_a_log_line(heard: pytest.LogCaptureFixture) -> None:
    ask("GET", "/a%0A%7B%22status%22:200%7D")
    (record,) = [record for record in heard.records if record.name == "solar_fountain.requests"]
    assert "\n" not in record.message
    assert json.loads(record.message)["path"] == '/a\n{"status":200}'


def test_a_crash_is_logged_here_and_told_to_nobody(heard: pytest.LogCaptureFixture) -> None:
    async def crash(scope: Any, receive: Any, send: Any) -> None:
        raise RuntimeError("the secret of the garden")

    for path, media in (("/api/x", "application/problem+json"), ("/x", "text/html; charset=utf-8")):
        response = ask("GET", path, Front(crash))
        assert response.status_code == 500
        assert response.headers["content-type"] == media
        assert "secret" not in response.text
        assert "RuntimeError" not in response.text
        assert response.headers["content-security-policy"]
    assert "the secret of the garden" in heard.text
    assert [line["status"] for line in lines(heard) if "status" in line] == [500, 500]


def test_a_crash_after_the_answer_began_breaks_off() -> None:
    async def crash(scope: Any, receive: Any, send: Any) -> None:
        await send({"type": "http.response.start", "status": 200, "headers": []})
        raise RuntimeError

    with pytest.raises(RuntimeError):
        drive(Front(crash), {}, [])


def test_head_answers_like_get_without_a_body() -> None:
    for path in ("/healthz", "/", "/openapi.json", "/api/v1/schemas/design", "/problems/busy", "/static/style.css", "/nowhere"):
        get, head = ask("GET", path), ask("HEAD", path)
        assert (head.status_code, head.content) == (get.status_code, b"")
        for name in ("content-type", "content-length", "cache-control"):
            assert head.headers.get(name) == get.headers.get(name), (path, name)


def test_head_where_only_post_is_answered() -> None:
    head = ask("HEAD", SIZINGS)
    assert (head.status_code, head.headers["allow"], head.content) == (405, "POST", b"")


def test_what_is_not_http_passes_untouched() -> None:
    seen: list[str] = []

    async def inner(scope: Any, receive: Any, send: Any) -> None:
        seen.append(scope["type"])

    asyncio.run(Front(Body(InFlight(inner)))({"type": "lifespan"}, None, None))  # type: ignore[arg-type]
    assert seen == ["lifespan"]


def test_the_log_goes_out_while_the_service_runs(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    logger = logging.getLogger("solar_fountain.requests")
    monkeypatch.setattr(logger, "handlers", [])
    with log_on_stderr():
        with log_on_stderr():
            ask("GET", "/healthz")
        ask("GET", "/readyz")
    ask("GET", "/healthz")
    assert [json.loads(line)["path"] for line in capsys.readouterr().err.splitlines()] == ["/healthz", "/readyz"]
    assert logger.handlers == []


def test_the_service_wears_all_three() -> None:
    assert [entry.cls for entry in APP.user_middleware] == [Front, Body, InFlight]
    assert BODY_SECONDS == 5
