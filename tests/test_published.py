"""Published values: every check of tests/published/*.toml, with its source and page on failure.

A file is one subject; each [[check]] names the function, its inputs in SI, the value as printed, and
the tolerance that the printed digits or the source's own statement allow. ``known`` says how the value
reached us: "read", "secondary", "identity" or "memory".
"""

import importlib
import tomllib
from pathlib import Path

import numpy as np
import pytest

from sizing.sources import SOURCES

FILES = sorted((Path(__file__).parent / "published").glob("*.toml"))
CHECKS = [
    pytest.param(path.name, check, id=f"{path.stem}:{check['id']}")
    for path in FILES
    for check in tomllib.loads(path.read_text())["check"]
]
KNOWN = {"read", "secondary", "identity", "memory"}


@pytest.mark.parametrize(("file", "check"), CHECKS)
def test_published_value(file: str, check: dict) -> None:
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


def test_enough_published_rows() -> None:
    assert sum(check.values[1]["known"] != "memory" for check in CHECKS) >= 25
