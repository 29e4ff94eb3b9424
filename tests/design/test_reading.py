"""Bytes and values that hold no design: each is refused at its own place, and nothing else ever escapes."""

import copy
import json
import math
from typing import Any

import pytest

from sizing.design.reading import LARGEST_FILE, parse_design, read_design
from tests.conftest import change
from tests.wrong import MONTHLY, Build, leaves, problems_of


def whole_designs(example: Build) -> list[dict[str, Any]]:
    """Designs that together use every field."""
    full = {
        "/sky": {**MONTHLY, "air_temperature_c": [1, 3, 7, 11, 16, 20, 22, 21, 17, 11, 6, 2]},
        "/panels/0/price": {"amount": 24.9, "currency": "EUR", "source": "a shop (invented)", "date": "2026-05-31"},
        "/pumps/0/winding_resistance_ohm": 1.4,
        "/pumps/0/no_load_current_a": 0.1,
        "/pumps/0/starting_current_a": 0.2,
        "/place/albedo": 0.2,
        "/outlet/discharge_coefficient": 0.9,
        "/outlet/velocity_coefficient": 0.95,
        "/pipe/fittings/0/k": 0.5,
    }
    others = [example(name=name) for name in ("terrace_spillway", "fern_bubbler", "weather_file_jet")]
    return [example(full), *others]


@pytest.mark.some(1)
@pytest.mark.parametrize(("place", "at_least"), [(0, 500), (1, 300), (2, 300), (3, 300)])
def test_no_number_takes_another_kind_of_value(example: Build, place: int, at_least: int) -> None:
    design = whole_designs(example)[place]
    tried = 0
    for pointer, value in leaves(design):
        if isinstance(value, bool) or not isinstance(value, int | float) or pointer == "/schema_version":
            continue
        for bad in (math.nan, math.inf, -math.inf, True, False, "7", "", [], [1], {}, "\ud800"):
            document = copy.deepcopy(design)
            change(document, pointer, bad)
            found = problems_of(lambda document=document: read_design(document))
            assert [(each.pointer, each.code) for each in found] in (
                [(f"#{pointer}", "not_a_number")],
                [(f"#{pointer}", "not_whole")],
            ), (pointer, bad)
            tried += 1
        for bad in (1e30, -1e30, 10**400):
            document = copy.deepcopy(design)
            change(document, pointer, bad)
            found = problems_of(lambda document=document: read_design(document))
            assert [(each.pointer, each.code) for each in found] == [(f"#{pointer}", "out_of_range")], (pointer, bad)
    assert tried > at_least


def test_no_text_takes_another_kind_of_value(example: Build) -> None:
    for design in whole_designs(example):
        for pointer, value in leaves(design):
            if not isinstance(value, str):
                continue
            for bad in (3, True, math.nan, [], {}, "x" * 501, "\x1b[31m", "\ud800"):
                document = copy.deepcopy(design)
                change(document, pointer, bad)
                (found,) = problems_of(lambda document=document: read_design(document))
                assert found.pointer == f"#{pointer}"
                assert found.code in {"not_a_text", "not_a_choice"}


def test_no_object_or_list_takes_another_shape_or_an_unknown_field(example: Build) -> None:
    for design in whole_designs(example):
        for pointer, value in leaves(design):
            if not isinstance(value, dict | list) or not pointer:
                continue
            other: object = [] if isinstance(value, dict) else {}
            for bad in (other, 3, "x", True):
                document = copy.deepcopy(design)
                change(document, pointer, bad)
                (found,) = problems_of(lambda document=document: read_design(document))
                assert (found.pointer, found.code) == (f"#{pointer}", "wrong_shape")
            if isinstance(value, dict):
                document = copy.deepcopy(design)
                change(document, f"{pointer}/fountain_pen", 3)
                (found,) = problems_of(lambda document=document: read_design(document))
                assert (found.pointer, found.code) == (f"#{pointer}/fountain_pen", "unknown_field")


@pytest.mark.parametrize("given_value", [[], [1, 2], 3, 7.3, "x", None, True])
def test_a_design_is_an_object(given_value: object) -> None:
    (found,) = problems_of(lambda: read_design(given_value))
    assert (found.pointer, found.code) == ("#", "wrong_shape")
    (found,) = problems_of(lambda: parse_design(json.dumps(given_value).encode()))
    assert found.code == "wrong_shape"


BYTES = {
    "empty": (
        b"",
        "not_json",
        "the design file is not JSON (line 1, column 1); it may have been cut off or edited; save it again",
    ),
    "spaces": (b"  \n\n", "not_json", "the design file is not JSON (line 3, column 1)"),
    "cut off": (b'{"title": "a", ', "not_json", "line 1, column 1"),
    "single quotes": (b"{'title': 'a'}", "not_json", "line 1, column 2"),
    "two documents": (b"{}\n{}", "not_json", "line 2, column 1"),
    "utf-16": ('{"title": "a"}'.encode("utf-16"), "not_text", "the design file is not UTF-8 text (byte 1); save it as UTF-8"),
    "latin-1": ('{"title": "Zürich"}'.encode("latin-1"), "not_text", "(byte 13)"),
    "a zip": (b"PK\x03\x04\x14\x00\xff\xfe", "not_text", "save it as UTF-8"),
    "70 KB": (b'{"title": "' + b"x" * 70_000 + b'"}', "too_large", "70013 bytes; at most 65536 are read"),
    "deep lists": (b"[" * 60_000, "not_json", "nested too deeply"),
    "100,000 deep": (b"[" * 100_000 + b"]" * 100_000, "too_large", "200000 bytes"),
    "deep objects": (b'{"a":' * 13_000, "not_json", "nested too deeply"),
    "6,000 digits": (b'{"pipe": {"length_m": ' + b"9" * 6000 + b"}}", "not_json", "thousands of digits"),
    "doubled name": (b'{"pipe": {"length_m": 1, "length_m": 2}}', "field_doubled", 'the field "length_m" stands twice'),
    "doubled odd name": (b'{"a\\n": 1, "a\\n": 2}', "field_doubled", 'the field "a?" stands twice'),
}


@pytest.mark.parametrize("name", BYTES)
def test_bytes_that_hold_no_design(name: str) -> None:
    content, code, words = BYTES[name]
    (found,) = problems_of(lambda: parse_design(content))
    assert (found.pointer, found.code) == ("#", code)
    assert words in found.detail


def test_numbers_beyond_any_float(example: Build) -> None:
    content = json.dumps(example()).replace('"length_m": 1.2', '"length_m": 1e999').encode()
    (found,) = problems_of(lambda: parse_design(content))
    assert (found.pointer, found.code) == ("#/pipe/length_m", "not_a_number")
    content = content.replace(b"1e999", b"-Infinity")
    assert problems_of(lambda: parse_design(content))[0].detail.startswith("pipe length is infinite")
    content = content.replace(b"-Infinity", b"NaN")
    assert problems_of(lambda: parse_design(content))[0].detail.startswith("pipe length is NaN")


def test_a_byte_order_mark_does_no_harm(example: Build) -> None:
    plain = json.dumps(example()).encode()
    assert parse_design(b"\xef\xbb\xbf" + plain) == parse_design(plain)


def test_the_largest_file_is_read(example: Build) -> None:
    plain = json.dumps(example()).encode()
    assert parse_design(plain + b" " * (LARGEST_FILE - len(plain))).title == example()["title"]
