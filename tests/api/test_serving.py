"""How the service is started: its options, its port, what it says; ``test_server`` starts it."""

import socket

import pytest

import api.http.serving
from api.http.serving import ServingError, announce, answers, free_port, serve, whole


@pytest.mark.parametrize("text", ["0", "17", "x", "", "-1", "1.5", "٣", "9999999"])
def test_a_wrong_option_is_told(text: str) -> None:
    with pytest.raises(ServingError, match="--workers must be a whole number between 1 and 16; write one, or leave it out"):
        whole("workers", text, 1, 16)


@pytest.mark.parametrize("host", ["203.0.113.7", "no such name", "a" * 300, "::g"])
def test_an_address_of_elsewhere_is_told(host: str) -> None:
    with pytest.raises(ServingError, match=r"--host is not an address of this computer; leave it out, or write 0\.0\.0\.0"):
        free_port(host, 0)


def test_a_port_of_the_administrator_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    class Locked(socket.socket):
        def bind(self, *_: object) -> None:
            raise PermissionError

    monkeypatch.setattr(socket, "socket", Locked)
    with pytest.raises(ServingError, match="port 80 needs an administrator; choose one above 1023"):
        free_port("127.0.0.1", 80)


def test_a_free_port_is_found() -> None:
    assert 1023 < free_port("127.0.0.1", 0) < 65536


def test_the_settings_reach_the_server(monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[object] = []
    monkeypatch.setattr(api.http.serving, "announce", lambda *_: None)
    monkeypatch.setattr(api.http.serving.uvicorn.Server, "run", lambda self: seen.append(self.config))
    monkeypatch.setattr(api.http.serving.uvicorn, "run", lambda app, **settings: seen.append(settings))
    serve("127.0.0.1", "0", "1", False)
    serve("127.0.0.1", "0", "2", False)
    one, several = seen
    for name, value in (("limit_concurrency", 200), ("timeout_keep_alive", 5), ("timeout_graceful_shutdown", 10)):
        assert getattr(one, name) == several[name] == value  # type: ignore[index]
    assert several["workers"] == 2  # type: ignore[index]
    assert one.server_header is False  # type: ignore[attr-defined]
    assert one.access_log is False  # type: ignore[attr-defined]


def test_the_address_is_said_and_opened_once_it_answers(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    replies = iter([False, False, True])
    opened: list[str] = []
    monkeypatch.setattr(api.http.serving, "answers", lambda host, port: next(replies))
    monkeypatch.setattr(api.http.serving.webbrowser, "open", opened.append)
    announce("::", 8000, True)
    assert capsys.readouterr().out == "Solar fountain sizing is at http://[::1]:8000/ (Ctrl+C stops it)\n"
    assert opened == ["http://[::1]:8000/"]


def test_nothing_is_said_of_a_service_that_never_answers(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(api.http.serving, "PATIENCE", 0.0)
    announce("127.0.0.1", free_port("127.0.0.1", 0), True)
    assert capsys.readouterr().out == ""


def test_a_port_where_nobody_listens_does_not_answer() -> None:
    assert not answers("127.0.0.1", free_port("127.0.0.1", 0))
