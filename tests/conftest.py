"""Shared by all tests."""

import copy
import gc
import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))


gc.disable()
"""What is collected is never waste: looking through it again and again took 3 s of a collection and 8 % of all tests."""


def pytest_collection_finish() -> None:
    """From here on there is waste to look for, but not in the thousands of tests."""
    gc.freeze()
    gc.set_threshold(100_000, 50, 100)
    gc.enable()


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
