"""Published values: every check of tests/published/*.toml, with its source and page on failure.

A file is one subject; each [[check]] names the function, its inputs in SI, the value as printed, and the tolerance that the
printed digits or the source's own statement allow; ``tolerance_share`` is a share of each value. ``known`` says how the value
reached us: "read", "secondary", "identity" or "memory".

A row of ``kind = "transcription"`` only looks up a table that was copied from the very source: it finds a slip of the pen,
proves no computing, and is counted apart. A row with ``misses`` is known not to be met: it runs and must fail, and
``farthest`` says how far off it is, in the unit of its tolerance.
"""

import importlib
import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sizing.foundation.sources import SOURCES

FILES = sorted((Path(__file__).resolve().parents[1] / "published").glob("*.toml"))
ROWS = [(path, check) for path in FILES for check in tomllib.loads(path.read_text())["check"]]
KNOWN = {"read", "secondary", "identity", "memory"}


def rows_of(kind: str) -> list[Any]:
    """The rows of a kind, each with its own name; a row that names no kind checks something computed."""
    return [
        pytest.param(path.name, check, id=f"{path.stem}:{check['id']}", marks=must_miss(check))
        for path, check in ROWS
        if check.get("kind", "computed") == kind
    ]


def must_miss(check: dict) -> list[pytest.MarkDecorator]:
    """A row that is known to miss is no success, and a failure once it is met."""
    return [pytest.mark.xfail(raises=AssertionError, strict=True, reason=check["misses"])] if "misses" in check else []


@pytest.mark.parametrize(("file", "check"), rows_of("computed"))
def test_published_value(file: str, check: dict) -> None:
    compare(file, check)


@pytest.mark.parametrize(("file", "check"), rows_of("transcription"))
def test_table_as_printed(file: str, check: dict) -> None:
    compare(file, check)


@pytest.mark.parametrize("check", [check for _, check in ROWS if "misses" in check], ids=lambda check: check["id"])
def test_a_row_that_misses_says_by_how_much(check: dict) -> None:
    """To its two printed digits: nobody can lean on the row while it becomes worse."""
    assert f"{farthest(check):.2g}" == f"{check['farthest']:.2g}"


def compare(file: str, check: dict) -> None:
    """The value found lies within the tolerance of the one printed."""
    assert check["source"] in SOURCES, f"{file}: unknown source {check['source']}"
    assert check["known"] in KNOWN
    allowed = check["tolerance_share"] if "tolerance_share" in check else check["tolerance"]
    assert np.all(errors(check) <= allowed), (
        f"{SOURCES[check['source']].title}, {check['where']}: expected {check['expected']} "
        f"within {allowed}, found {found_for(check)}"
    )


def errors(check: dict) -> np.ndarray:
    """How far each value is from the one printed, in the unit of the row's tolerance."""
    expected = np.asarray(check["expected"])
    apart = np.abs(np.asarray(found_for(check)) - expected)
    return apart / expected if "tolerance_share" in check else apart


def farthest(check: dict) -> float:
    return float(np.max(errors(check)))


def found_for(check: dict) -> Any:
    """What our function makes of the row's inputs."""
    module, name = check["function"].rsplit(".", 1)
    found = getattr(importlib.import_module(f"sizing.{module}"), name)(**check["inputs"])
    if "pick" not in check:
        return found
    return found[check["pick"]] if isinstance(check["pick"], int) else getattr(found, check["pick"])


def test_every_row_is_of_a_kind_and_enough_check_something_computed() -> None:
    kinds = [check.get("kind", "computed") for _, check in ROWS]
    assert set(kinds) == {"computed", "transcription"}
    assert sum(kind == "computed" and check["known"] != "memory" for kind, (_, check) in zip(kinds, ROWS, strict=True)) >= 25
