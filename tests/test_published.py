"""Published values: every check of tests/published/*.toml, with its source and page on failure.

A file is one subject; each [[check]] names the function, its inputs in SI, the value as printed, and
the tolerance that the printed digits or the source's own statement allow. ``known`` says how the value
reached us: "read", "secondary", "identity" or "memory". A row of ``kind = "transcription"`` only looks up a
table that was copied from the very source: it finds a slip of the pen, proves no computing, and is counted apart.
"""

import importlib
import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sizing.sources import SOURCES

FILES = sorted((Path(__file__).parent / "published").glob("*.toml"))
ROWS = [(path, check) for path in FILES for check in tomllib.loads(path.read_text())["check"]]
KNOWN = {"read", "secondary", "identity", "memory"}


def rows_of(kind: str) -> list[Any]:
    """The rows of a kind, each with its own name; a row that names no kind checks something computed."""
    return [
        pytest.param(path.name, check, id=f"{path.stem}:{check['id']}")
        for path, check in ROWS
        if check.get("kind", "computed") == kind
    ]


@pytest.mark.parametrize(("file", "check"), rows_of("computed"))
def test_published_value(file: str, check: dict) -> None:
    compare(file, check)


@pytest.mark.parametrize(("file", "check"), rows_of("transcription"))
def test_table_as_printed(file: str, check: dict) -> None:
    compare(file, check)


def compare(file: str, check: dict) -> None:
    """The value found lies within the tolerance of the one printed."""
    assert check["source"] in SOURCES, f"{file}: unknown source {check['source']}"
    assert check["known"] in KNOWN
    module, name = check["function"].rsplit(".", 1)
    function = getattr(importlib.import_module(f"sizing.{module}"), name)
    found = function(**check["inputs"])
    if "pick" in check:
        found = found[check["pick"]] if isinstance(check["pick"], int) else getattr(found, check["pick"])
    error = np.abs(np.asarray(found) - np.asarray(check["expected"]))
    assert np.all(error <= check["tolerance"]), (
        f"{SOURCES[check['source']].title}, {check['where']}: expected {check['expected']} "
        f"within {check['tolerance']}, found {found}"
    )


def test_every_row_is_of_a_kind_and_enough_check_something_computed() -> None:
    kinds = [check.get("kind", "computed") for _, check in ROWS]
    assert set(kinds) == {"computed", "transcription"}
    assert sum(kind == "computed" and check["known"] != "memory" for kind, (_, check) in zip(kinds, ROWS, strict=True)) >= 25
