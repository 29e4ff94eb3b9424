"""The service as a real server on loopback: start, slow and long bodies, HEAD, stop.

The tests are one run of one server: its log at the end holds what the others asked, so they are slow together.
"""

import http.client
import json
import os
import re
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass, field

import pytest

from api.edge.limits import BODY_SECONDS
from api.http.examples import EXAMPLE
from api.http.serving import free_port
from tests.asking import JSON, ROOT, SIZINGS, post

pytestmark = pytest.mark.slow
ENVIRONMENT = {**os.environ, "PYTHONPATH": str(ROOT)}
COMMAND = [sys.executable, "-m", "api.command.main", "serve"]
PATIENCE = 60
"""[s] How long a test waits for an answer that must come at last; no test fails because a busy machine is late."""


@dataclass
class Server:
    """A running service: its port, what it said at its start, and what it wrote to the error output."""

    process: subprocess.Popen[str]
    port: int
    greeting: str
    errors: list[str] = field(default_factory=list)
    reader: threading.Thread | None = None

    def ask(self, method: str, path: str, body: object = None, headers: dict[str, str] | None = None) -> http.client.HTTPResponse:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE)
        connection.request(method, path, body, headers or {})  # type: ignore[arg-type]
        response = connection.getresponse()
        response.body = response.read()  # type: ignore[attr-defined]
        connection.close()
        return response


def started(*more: str) -> Server:
    """Start the command and wait until it says its address."""
    process = subprocess.Popen(
        [*COMMAND, "--port", "0", *more], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=ENVIRONMENT
    )
    assert process.stdout is not None
    greeting = process.stdout.readline()
    found = re.search(r"http://127\.0\.0\.1:(\d+)/", greeting)
    assert found, greeting
    server = Server(process, int(found[1]), greeting)

    def gather() -> None:
        assert process.stderr is not None
        server.errors.extend(process.stderr)

    server.reader = threading.Thread(target=gather, daemon=True)
    server.reader.start()
    return server


def stopped(server: Server, how: signal.Signals) -> int:
    """Stop a server and return its exit code."""
    server.process.send_signal(how)
    code = server.process.wait(PATIENCE)
    assert server.reader is not None
    server.reader.join(PATIENCE)
    for stream in (server.process.stdout, server.process.stderr):
        assert stream is not None
        stream.close()
    return code


@pytest.fixture(scope="module")
def server() -> Iterator[Server]:
    running = started()
    try:
        yield running
    finally:
        if running.process.poll() is None:
            stopped(running, signal.SIGTERM)


@dataclass
class SlowBody:
    """A body that never comes to its end, sent while the other tests of this file run; what was answered, after how long [s]."""

    answer: bytes = b""
    seconds: float = 0.0
    sender: threading.Thread | None = None


@pytest.fixture(scope="module")
def slow_body(server: Server) -> SlowBody:
    slow = SlowBody()

    def send() -> None:
        begun = time.monotonic()
        with socket.create_connection(("127.0.0.1", server.port), timeout=PATIENCE) as line:
            line.sendall(b"POST /api/v1/sizings HTTP/1.1\r\nhost: x\r\ncontent-length: 10\r\n\r\n{")
            slow.answer = line.recv(4096)
            slow.seconds = time.monotonic() - begun

    slow.sender = threading.Thread(target=send, daemon=True)
    slow.sender.start()
    return slow


def test_the_first_page_comes_and_the_start_says_where(server: Server) -> None:
    assert server.ask("GET", "/").status == 200
    assert server.greeting.startswith("Solar fountain sizing is at http://127.0.0.1:")


def test_a_slow_body_disturbs_nobody(server: Server, slow_body: SlowBody) -> None:
    assert slow_body.sender is not None
    assert server.ask("GET", "/healthz").status == 200


def test_a_sizing_over_the_wire(server: Server) -> None:
    response = server.ask("POST", SIZINGS, json.dumps(EXAMPLE), JSON)
    assert response.status == 200
    assert response.body == post(EXAMPLE).content  # type: ignore[attr-defined]
    assert response.getheader("server") is None
    assert response.getheader("date")


def test_a_body_in_chunks_is_read(server: Server) -> None:
    content = json.dumps(EXAMPLE).encode()
    response = server.ask("POST", SIZINGS, iter([content[:7], content[7:]]), JSON)
    assert response.status == 200


def test_a_body_in_chunks_that_does_not_end_is_refused(server: Server) -> None:
    response = server.ask("POST", SIZINGS, iter([b" " * 50_000] * 10), JSON)
    assert response.status == 413
    assert json.loads(response.body)["type"] == "/problems/too-large"  # type: ignore[attr-defined]
    assert response.getheader("connection") == "close"


def test_twenty_megabytes_are_refused_without_being_read(server: Server) -> None:
    with socket.create_connection(("127.0.0.1", server.port), timeout=PATIENCE) as line:
        line.sendall(b"POST /api/v1/sizings HTTP/1.1\r\nhost: x\r\ncontent-length: 20000000\r\n\r\n" + b" " * 1_000_001)
        assert b" 413 " in line.recv(4096)


def test_who_asks_first_is_refused_first(server: Server) -> None:
    with socket.create_connection(("127.0.0.1", server.port), timeout=PATIENCE) as line:
        line.sendall(b"POST /api/v1/sizings HTTP/1.1\r\nhost: x\r\nexpect: 100-continue\r\ncontent-length: 20000000\r\n\r\n")
        assert line.recv(4096).startswith(b"HTTP/1.1 413 ")


def test_head_leaves_the_connection_in_order(server: Server) -> None:
    connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=PATIENCE)
    for method, path in (("HEAD", "/"), ("GET", "/healthz"), ("HEAD", "/openapi.json"), ("HEAD", SIZINGS), ("GET", "/healthz")):
        connection.request(method, path)
        response = connection.getresponse()
        content = response.read()
        assert (content == b"") == (method == "HEAD")
    connection.close()


def test_many_ask_at_once_and_health_answers(server: Server) -> None:
    statuses: list[int] = []

    def one(tilt: int) -> None:
        design = json.loads(json.dumps(EXAMPLE))
        design["mounting"]["tilt_deg"] = tilt
        statuses.append(server.ask("POST", SIZINGS, json.dumps(design), JSON).status)

    threads = [threading.Thread(target=one, args=(tilt,)) for tilt in range(12)]
    for thread in threads:
        thread.start()
    assert server.ask("GET", "/healthz").status == 200
    for thread in threads:
        thread.join()
    assert statuses == [200] * 12


def test_a_port_in_use_is_told_in_one_sentence(server: Server) -> None:
    done = subprocess.run([*COMMAND, "--port", str(server.port)], capture_output=True, text=True, env=ENVIRONMENT)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith(f"port {server.port} is in use; ")
    assert len(done.stderr.splitlines()) == 1


def test_it_stops_at_ctrl_c() -> None:
    assert stopped(started(), signal.SIGINT) == 130


def test_a_slow_body_is_given_up_and_not_before_five_seconds(slow_body: SlowBody) -> None:
    """How long after depends on the machine; that it comes to an end does not."""
    assert slow_body.sender is not None
    slow_body.sender.join(PATIENCE)
    assert slow_body.answer.startswith(b"HTTP/1.1 408 ")
    assert slow_body.seconds >= BODY_SECONDS == 5


def test_it_stops_when_told_and_its_log_is_one_json_line_a_request(server: Server) -> None:
    server.ask("GET", "/results?title=secret")
    assert stopped(server, signal.SIGTERM) in (-signal.SIGTERM, 143)
    lines = [json.loads(line) for line in server.errors]
    assert {"GET", "HEAD", "POST"} <= {line["method"] for line in lines}
    assert {200, 408, 413} <= {line["status"] for line in lines}
    assert not any("secret" in line for line in server.errors)
    assert free_port("127.0.0.1", server.port) == server.port
