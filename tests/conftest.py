"""Shared by all tests."""

import copy
import gc
import importlib
import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from xdist.scheduler import LoadFileScheduling

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))


gc.disable()
"""What is collected is never waste: looking through it again and again took 3 s of a collection and 8 % of all tests."""


def pytest_configure(config: pytest.Config) -> None:
    """Where tests run (not in the process that only shares them out, which needs no physics), much is computed once."""
    if config.getoption("dist", "no") == "no":
        importlib.import_module("tests.draws")
        importlib.import_module("tests.remembered")


def pytest_collection_finish() -> None:
    """From here on there is waste to look for, but not in the thousands of tests."""
    gc.freeze()
    gc.set_threshold(100_000, 50, 100)
    gc.enable()


@pytest.hookimpl(trylast=True)
def pytest_sessionfinish() -> None:
    """All that is left is looked through once, for what was never closed; pytest and Python would do so four times more."""
    gc.collect()
    gc.freeze()


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Of a test marked ``some(n)``, n cases spread over its list run by default; the others are slow.

    Whatever hypothesis draws is marked so.
    """
    cases: dict[tuple[Path, str], list[pytest.Item]] = {}
    for item in items:
        if getattr(getattr(item, "obj", None), "is_hypothesis_test", False):
            item.add_marker(pytest.mark.draws)
        if item.get_closest_marker("some"):
            cases.setdefault((item.path, item.name.partition("[")[0]), []).append(item)
    for each in cases.values():
        kept = spread(len(each), each[0].get_closest_marker("some").args[0])  # type: ignore[union-attr]
        for at, item in enumerate(each):
            if at not in kept:
                item.add_marker(pytest.mark.slow)


def spread(length: int, most: int) -> set[int]:
    """So many places in a list, the first among them, as far from each other as they can be."""
    return {at * (length - 1) // max(1, most - 1) for at in range(min(most, length))}


class Apart(LoadFileScheduling):
    """Tests of a file go to one process, and all tests in a browser to the same one: each process would open its own."""

    def _split_scope(self, nodeid: str) -> str:
        file: str = super()._split_scope(nodeid)
        return "browser" if "tests/browser/" in file else file


def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Apart:
    """How tests are shared out."""
    return Apart(config, log)


def change(document: Any, pointer: str, value: object) -> None:
    """Put a value at a JSON pointer of a document; ``...`` takes out what stands there, "-" ends a list."""
    *way, last = [part.replace("~1", "/").replace("~0", "~") for part in pointer.split("/")[1:]]
    for part in way:
        document = document[int(part)] if isinstance(document, list) else document[part]
    if isinstance(document, list) and last == "-":
        document.append(value)
    elif value is ...:
        document.pop(int(last)) if isinstance(document, list) else document.pop(last, None)
    else:
        document[int(last) if isinstance(document, list) else last] = copy.deepcopy(value)


@pytest.fixture(scope="session")
def example() -> Callable[..., dict[str, Any]]:
    """Builds a design of ``examples/`` as plain data, with values put in (or, with ``...``, taken out) at JSON pointers."""

    def build(changes: dict[str, object] | None = None, name: str = "quince_court_jet") -> dict[str, Any]:
        document: dict[str, Any] = json.loads((ROOT / "examples" / f"{name}.json").read_text(encoding="utf-8"))
        for pointer, value in (changes or {}).items():
            change(document, pointer, value)
        return document

    return build
