"""One sentence for each wrong value, word for word, in ``wrong_values.toml`` and here where TOML cannot hold the value."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from sizing.design.mistakes import SENTENCES
from sizing.design.reading import MOST_PROBLEMS, read_design
from tests.together import together
from tests.wrong import BOX, Build, problems_of

WRONG: list[dict[str, Any]] = tomllib.loads((Path(__file__).parents[1] / "wrong_values.toml").read_text(encoding="utf-8"))[
    "wrong"
]
PUMP = {"id": "p", "name": "a pump (invented)", "rated_voltage_v": 12, **BOX}


@together("wrong", WRONG)
def test_one_wrong_value_one_sentence(wrong: dict[str, Any], example: Build) -> None:
    changes = dict(wrong.get("put", {}))
    changes |= dict.fromkeys(wrong.get("remove", []), ...) | dict.fromkeys(wrong.get("null", []), None)
    (found,) = problems_of(lambda: read_design(example(changes)))
    assert (found.pointer, found.code, found.detail) == (wrong["pointer"], wrong["code"], wrong["sentence"])


BEYOND_TOML: list[tuple[dict[str, object], str, str, str]] = [
    (
        {"/pipe/length_m": 10**5999},
        "#/pipe/length_m",
        "out_of_range",
        "pipe length is a number of 6000 digits; it must be between 0 and 100 m; measure along the pipe; split a longer run",
    ),
    (
        {"/schema_version": 10**40},
        "#/schema_version",
        "not_a_choice",
        "schema version is a number of 41 digits; it must be 1; write 1",
    ),
    ({"/title": "x" * 131}, "#/title", "not_a_text", "title has 131 characters; at most 120 fit; shorten it"),
    (
        {"/title": "half \ud83d of a fish"},
        "#/title",
        "not_a_text",
        "title holds half a character (a lone surrogate), which no text may hold; type it again",
    ),
    (
        {"/half \ud83d": 3},
        "#",
        "not_a_text",
        "the design holds half a character (a lone surrogate), which no text may hold; type it again",
    ),
    (
        {"/pumps": [PUMP] * 13},
        "#/pumps",
        "wrong_count",
        "pumps: the list has 13 entries; it must have 1 to 12; remove what is too much",
    ),
    (
        {"/sky": {"kind": "monthly", "ghi_kwh_per_m2_day": [3] * 13}},
        "#/sky/ghi_kwh_per_m2_day",
        "wrong_count",
        "monthly sun on level ground: the list has 13 entries; it must have exactly 12; remove what is too much",
    ),
    (
        {"/place/skyline": [{"azimuth_deg": 1, "altitude_deg": 1}] * 73},
        "#/place/skyline",
        "wrong_count",
        "skyline: the list has 73 entries; it must have 0 to 72; remove what is too much",
    ),
]


@pytest.mark.parametrize(("changes", "pointer", "code", "sentence"), BEYOND_TOML, ids=[row[3][:30] for row in BEYOND_TOML])
def test_values_that_toml_cannot_hold(changes: dict[str, object], pointer: str, code: str, sentence: str, example: Build) -> None:
    (found,) = problems_of(lambda: read_design(example(changes)))
    assert (found.pointer, found.code, found.detail) == (pointer, code, sentence)


@pytest.mark.parametrize("label", ["panel", "pump"])
def test_an_id_used_twice(label: str, example: Build) -> None:
    design = example()
    design[f"{label}s"].append({**design[f"{label}s"][0], "name": "another"})
    (found,) = problems_of(lambda: read_design(design))
    name = design[f"{label}s"][0]["id"]
    assert (found.pointer, found.code) == (f"#/{label}s/1/id", "id_doubled")
    assert found.detail == f"{label} id {name} is used twice; each {label} needs its own; change one of them"


def test_limits_come_with_the_problem(example: Build) -> None:
    (number,) = problems_of(lambda: read_design(example({"/pipe/length_m": 150})))
    assert (number.minimum, number.maximum) == (0, 100)
    (count,) = problems_of(lambda: read_design(example({"/panels": []})))
    assert (count.minimum, count.maximum) == (1, 6)


def test_every_kind_of_error_of_the_library_that_occurs_has_a_sentence() -> None:
    """Codes are ours and stay when the library changes."""
    assert {code for code, _ in SENTENCES.values()} == {
        *("missing", "unknown_field", "out_of_range", "not_a_number", "not_whole"),
        *("wrong_count", "not_a_choice", "not_a_text", "wrong_shape"),
    }


def test_many_mistakes_are_told_in_order_up_to_a_limit(example: Build) -> None:
    design = example({"/pipe/length_m": -1, "/outlet/bore_mm": "wide", "/place/latitude_deg": 91})
    assert [found.pointer for found in problems_of(lambda: read_design(design))] == [
        *("#/place/latitude_deg", "#/pipe/length_m", "#/outlet/bore_mm"),
    ]
    design |= {f"extra_{number}": 1 for number in range(100)}
    assert len(problems_of(lambda: read_design(design))) == MOST_PROBLEMS


def test_wrong_entries_are_not_also_counted_as_missing(example: Build) -> None:
    points = [{"flow_l_per_min": "none", "head_m": 2, "current_a": 1}, 3]
    found = problems_of(lambda: read_design(example({"/pumps/0/points": points})))
    assert [each.pointer for each in found] == ["#/pumps/0/points/0/flow_l_per_min", "#/pumps/0/points/1"]


def test_a_very_long_name_is_neither_repeated_nor_pointed_at(example: Build) -> None:
    (found,) = problems_of(lambda: read_design(example({"/pipe/" + "x" * 20_000: 1})))
    assert found.pointer == "#/pipe"
    assert len(found.detail) < 250
