"""A real browser on a real server; the whole folder is left out, with one reason, where there is no Chromium."""

import importlib.util
import json
import shutil
import socket
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
import uvicorn

from api.http.app import create_app

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
SWITCHES = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
PREFERENCES = {
    "autofill": {"profile_enabled": False, "credit_card_enabled": False},
    "credentials_enable_service": False,
}
"""Guessing which of 200 fields is a street, a card or a password takes Chromium longer than loading the form (0.13 s a page)."""
HERE = Path(__file__).parent
PATIENCE = 30_000
"""[ms] Nothing on loopback takes longer, even on a busy machine."""
EXPECTED = ("status of 422", "status of 404", "net::ERR_ABORTED: ")
"""What Chromium says of pages that are refused on purpose, and of an address that turned out to be a file to save."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Leave these tests out where they cannot run."""
    if missing := what_is_missing():
        for item in items:
            if HERE in item.path.parents:
                item.add_marker(pytest.mark.skip(reason=f"tests in a browser need {missing}"))


def what_is_missing() -> str:
    """What would have to be installed, empty where all is there."""
    if CHROMIUM is None:
        return "Chromium, and none is on the path"
    lacking = [name for name in ("playwright", "axe_playwright_python") if importlib.util.find_spec(name) is None]
    return " and ".join(lacking)


@pytest.fixture(scope="session")
def base() -> Iterator[str]:
    """Address of the service, running in a thread on a free port of loopback."""
    with socket.socket() as trial:
        trial.bind(("127.0.0.1", 0))
        port = trial.getsockname()[1]
    server = uvicorn.Server(uvicorn.Config(create_app(), port=port, log_level="error", access_log=False, ws="none"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    end = time.monotonic() + 30
    while not server.started:
        assert time.monotonic() < end, "the service did not start"
        time.sleep(0.02)
    yield f"http://127.0.0.1:{port}"
    server.should_exit = True
    thread.join(10)


@pytest.fixture(scope="package")
def playwright() -> Iterator[Any]:
    """The driver, for the tests of this folder: it must be gone before other tests run loops of their own."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        yield driver


Open = Callable[..., Any]


@pytest.fixture(scope="package")
def windows(
    playwright: Any, base: str, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[tuple[Callable[[bool], Any], list[str]]]:
    """One window with scripts and one without, each opened when first asked for, and what went wrong in them."""
    opened: dict[bool, Any] = {}
    faults: list[str] = []

    def note(said: str) -> None:
        if not any(known in said for known in EXPECTED):
            faults.append(said)

    profile = tmp_path_factory.mktemp("profile")
    (profile / "Default").mkdir()
    (profile / "Default" / "Preferences").write_text(json.dumps(PREFERENCES), encoding="utf-8")
    context = playwright.chromium.launch_persistent_context(
        profile,
        executable_path=CHROMIUM,
        args=SWITCHES,
        base_url=base,
        reduced_motion="reduce",
        accept_downloads=True,
    )
    context.set_default_timeout(PATIENCE)
    context.on("console", lambda message: note(f"{message.type}: {message.text}"))
    context.on("weberror", lambda error: note(f"{error.error}"))
    context.on("requestfailed", lambda request: note(f"{request.failure}: {request.url}"))

    def window(scripts: bool) -> Any:
        if scripts not in opened:
            page = opened[scripts] = context.new_page() if opened else context.pages[0]
            if not scripts:
                context.new_cdp_session(page).send("Emulation.setScriptExecutionDisabled", {"value": True})
        opened[scripts].bring_to_front()
        return opened[scripts]

    yield window, faults
    context.close()


@pytest.fixture
def visit(windows: tuple[Callable[[bool], Any], list[str]]) -> Iterator[Open]:
    """Shows an address; at the end of the test, nothing may have been written to the console and nothing have failed to load."""
    window, faults = windows
    faults.clear()

    def shown(where: str = "/", width: int = 1280, scripts: bool = False) -> Any:
        page = window(scripts)
        page.emulate_media(media="null")
        page.set_viewport_size({"width": width, "height": 900})
        page.goto(where)
        return page

    yield shown
    assert faults == []
