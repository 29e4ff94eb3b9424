"""What the tests of wrong designs share: how a problem must look, and ways through a document."""

import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from sizing.foundation.errors import InputError, Problem

Build = Callable[..., dict[str, Any]]

BOX = {"max_head_m": 2.1, "max_flow_l_per_min": 12, "rated_current_a": 1.1}
MONTHLY = {"kind": "monthly", "ghi_kwh_per_m2_day": [1.1, 1.9, 3.2, 4.4, 5.4, 5.9, 6.0, 5.2, 3.8, 2.3, 1.2, 0.9]}


def problems_of(work: Callable[[], object]) -> tuple[Problem, ...]:
    with pytest.raises(InputError) as caught:
        work()
    for found in caught.value.problems:
        check_sentence(found)
    return caught.value.problems


def check_sentence(found: Problem) -> None:
    """One line, in our own words, that says what was given and what to change, and a pointer and code of good form."""
    assert re.fullmatch(r"#(/[A-Za-z0-9\-._~!$&'()*+,;=:@?%]*)*", found.pointer), found
    assert re.fullmatch(r"[a-z]+(_[a-z]+)*", found.code), found
    assert found.detail.isprintable(), found
    assert found.detail == found.detail.strip()
    assert "  " not in found.detail
    assert 20 < len(found.detail) < 500, found
    assert found.detail.count(";") >= 1, found
    own_words = re.sub(r'"[^"]*"', "", found.detail)  # what was given stands in quotes, whatever it is
    for foreign in ("Input should", "pydantic", "validation", "None", "Traceback", "function", "dict", "str "):
        assert foreign not in own_words, found


def leaves(value: object, pointer: str = "") -> Iterator[tuple[str, object]]:
    """Every place of a document with what stands there."""
    yield pointer, value
    pairs: Any = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for name, inner in pairs:
        yield from leaves(inner, f"{pointer}/{str(name).replace('~', '~0').replace('/', '~1')}")
