"""Shared by all tests."""

import copy
import gc
import inspect
import json
import sys
from collections import OrderedDict
from collections.abc import Callable
from functools import lru_cache, wraps
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from xdist.scheduler import LoadFileScheduling

import sizing.comparison.comparison
import sizing.installation.building
import sizing.installation.wires
import sizing.money.pair_costs
import sizing.orientation.orientation
import sizing.report.report
import sizing.sky.weather
from sizing.sky.weather import Sky

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))


gc.disable()
"""What is collected is never waste: looking through it again and again took 3 s of a collection and 8 % of all tests."""


def once(module: ModuleType, name: str, most: int, room: ModuleType) -> None:
    """Let a function of a design be computed once for each design, folder and question in this process.

    The same designs are sized, compared and turned round by many tests: computing each once takes a fifth off all of them.
    Whoever is given a year of sky is never remembered, and a folder counts only where a weather file is looked for in it;
    ``size.__wrapped__`` is the function itself.
    """
    function = getattr(module, name)
    arguments = inspect.signature(function)
    kept: OrderedDict[tuple[object, ...], object] = OrderedDict()

    @wraps(function)
    def remembered(design: Any, *given: Any, **named: Any) -> Any:
        if any(isinstance(each, Sky) for each in (*given, *named.values())):
            return function(design, *given, **named)
        asked = arguments.bind(design, *given, **named)
        asked.apply_defaults()
        if design.sky is None or design.sky.kind != "weather_file":
            asked.arguments["folder"] = None
        key = (design.model_dump_json(exclude_unset=True), *list(asked.arguments.values())[1:])
        if key not in kept:
            kept[key] = function(design, *given, **named)
            if len(kept) > most:
                kept.popitem(last=False)
        kept.move_to_end(key)
        return kept[key]

    setattr(module, name, remembered)
    setattr(room, name, remembered)


def once_for_a_report(name: str, home: ModuleType, *others: ModuleType) -> None:
    """Let a function of a report alone be computed once for each report, wherever it is called."""
    remembered = lru_cache(maxsize=48)(getattr(home, name))
    for module in (home, *others):
        setattr(module, name, remembered)


sizing.sky.weather.sky_of_bytes = lru_cache(maxsize=8)(sizing.sky.weather.sky_of_bytes)
once(sizing.report.report, "size", 48, sizing.report)
once(sizing.comparison.comparison, "compare", 16, sizing.comparison)
once(sizing.orientation.orientation, "orient", 24, sizing.orientation)
once_for_a_report("wires_of", sizing.installation.wires, sizing.installation.building)
once_for_a_report("building_of", sizing.installation.building, sizing.installation, sizing.money.pair_costs)


def pytest_collection_finish() -> None:
    """From here on there is waste to look for, but not in the thousands of tests."""
    gc.freeze()
    gc.set_threshold(100_000, 50, 100)
    gc.enable()


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Of a test marked ``some(n)``, n cases spread over its list run by default; the others are slow."""
    cases: dict[tuple[Path, str], list[pytest.Item]] = {}
    for item in items:
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
