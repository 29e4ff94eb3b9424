"""Wrong values of a design file: each is told by one sentence, at its own place, and nothing else ever escapes."""

import json
import math
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sizing.answer import answer
from sizing.errors import InputError, Problem
from sizing.mistakes import SENTENCES
from sizing.pointers import pointer_part
from sizing.reading import LARGEST_FILE, MOST_PROBLEMS, parse_design, read_design
from sizing.report import size

Build = Callable[..., dict[str, Any]]

BOX = {"max_head_m": 2.1, "max_flow_l_per_min": 12, "rated_current_a": 1.1}
MONTHLY = {"kind": "monthly", "ghi_kwh_per_m2_day": [1.1, 1.9, 3.2, 4.4, 5.4, 5.9, 6.0, 5.2, 3.8, 2.3, 1.2, 0.9]}
PUMP = {"id": "p", "name": "a pump (invented)", "rated_voltage_v": 12, **BOX}
SPILLWAY = {"kind": "spillway", "width_m": 0.3, "height_above_water_m": 0.4}


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
    for foreign in ("Input should", "pydantic", "validation", "None", "Traceback", "function", "dict", "str "):
        assert foreign not in found.detail, found


WRONG: list[tuple[dict[str, object], str, str, str]] = [
    (
        {"/pipe/length_m": 150},
        "#/pipe/length_m",
        "out_of_range",
        "pipe length is 150 m; it must be between 0 and 100 m; measure along the pipe; split a longer run",
    ),
    (
        {"/place/latitude_deg": -90.5},
        "#/place/latitude_deg",
        "out_of_range",
        "latitude is -90.5°; it must be between -90 and 90°; north is positive, south negative",
    ),
    (
        {"/panels/0/vmp_v": -17.6},
        "#/panels/0/vmp_v",
        "out_of_range",
        "voltage at maximum power (panel 1) is -17.6 V; it must be between 0.4 and 100 V; read it from the panel's label",
    ),
    (
        {"/pumps/0/points/2/flow_l_per_min": 1e9},
        "#/pumps/0/points/2/flow_l_per_min",
        "out_of_range",
        "flow (pump 1, point 3) is 1000000000 L/min; it must be between 0 and 1000 L/min; take litres per minute",
    ),
    (
        {"/place/skyline/1/altitude_deg": 91},
        "#/place/skyline/1/altitude_deg",
        "out_of_range",
        "skyline height angle (skyline point 2) is 91°; it must be between 0 and 90°; 0 is level, 90 straight up",
    ),
    (
        {"/sky": MONTHLY, "/sky/ghi_kwh_per_m2_day/2": -3.2},
        "#/sky/ghi_kwh_per_m2_day/2",
        "out_of_range",
        "monthly sun on level ground (March) is -3.2 kWh/m² a day; it must be between 0 and 12 kWh/m² a day; "
        "give the mean of one day in that month",
    ),
    (
        {"/panels/0/isc_temperature_coefficient_pct_per_c": 5},
        "#/panels/0/isc_temperature_coefficient_pct_per_c",
        "out_of_range",
        "temperature coefficient of short-circuit current (panel 1) is 5 % per °C; it must be between -0.1 and 0.2 % per °C; "
        "silicon gains about 0.05",
    ),
    (
        {"/outlet/bore_mm": 0},
        "#/outlet/bore_mm",
        "out_of_range",
        "nozzle bore is 0 mm; it must be between 0.5 and 60 mm; measure the opening of one jet",
    ),
    (
        {"/pipe/inside_diameter_mm": 0},
        "#/pipe/inside_diameter_mm",
        "out_of_range",
        "pipe inside diameter is 0 mm; it must be between 2 and 150 mm; measure the bore, not the outside",
    ),
    (
        {"/pipe/inside_diameter_mm": -13},
        "#/pipe/inside_diameter_mm",
        "out_of_range",
        "pipe inside diameter is -13 mm; it must be between 2 and 150 mm; measure the bore, not the outside",
    ),
    (
        {"/pipe/length_m": math.nan},
        "#/pipe/length_m",
        "not_a_number",
        "pipe length is NaN, not a finite number; write a number between 0 and 100 m",
    ),
    (
        {"/pipe/length_m": -math.inf},
        "#/pipe/length_m",
        "not_a_number",
        "pipe length is infinite, not a finite number; write a number between 0 and 100 m",
    ),
    (
        {"/pipe/length_m": "2,5"},
        "#/pipe/length_m",
        "not_a_number",
        'pipe length is "2,5" in quotes; write the number between 0 and 100 m without quotes',
    ),
    (
        {"/pipe/length_m": "long"},
        "#/pipe/length_m",
        "not_a_number",
        'pipe length is "long", not a number; write a number between 0 and 100 m',
    ),
    (
        {"/pipe/length_m": True},
        "#/pipe/length_m",
        "not_a_number",
        "pipe length is true, not a number; write a number between 0 and 100 m",
    ),
    (
        {"/pipe/length_m": None},
        "#/pipe/length_m",
        "not_a_number",
        "pipe length is nothing (null), not a number; write a number between 0 and 100 m",
    ),
    (
        {"/place/albedo": []},
        "#/place/albedo",
        "not_a_number",
        "ground reflection is a list, not a number; write a number between 0 and 0.9, or leave it out",
    ),
    (
        {"/pipe/length_m": 10**5999},
        "#/pipe/length_m",
        "out_of_range",
        "pipe length is a number of 6000 digits m; it must be between 0 and 100 m; measure along the pipe; split a longer run",
    ),
    (
        {"/panels/0/in_series": 1.5},
        "#/panels/0/in_series",
        "not_whole",
        "panels in series (panel 1) is 1.5, not a whole number; write a whole number between 1 and 8, or leave it out",
    ),
    (
        {"/pipe/fittings/1/count": 0},
        "#/pipe/fittings/1/count",
        "out_of_range",
        "number of fittings (fitting 2) is 0; it must be between 1 and 50; leave the fitting out if there is none",
    ),
    (
        {"/title": 7.3},
        "#/title",
        "not_a_text",
        "title is 7.3, not a text; write it in quotes, or leave it out",
    ),
    (
        {"/title": "x" * 131},
        "#/title",
        "not_a_text",
        "title has 131 characters; at most 120 fit; shorten it",
    ),
    (
        {"/title": "two\nlines"},
        "#/title",
        "not_a_text",
        'title is "two?lines", with characters that cannot stand there; use plain characters on one line',
    ),
    (
        {"/title": "half \ud83d of a fish"},
        "#/title",
        "not_a_text",
        "title holds half a character (a lone surrogate), which no text may hold; type it again",
    ),
    (
        {"/panels/0/name": ""},
        "#/panels/0/name",
        "not_a_text",
        "panel name (panel 1) is empty; it must have 1 to 80 characters; write something",
    ),
    (
        {"/pumps/0/id": "pump no 1"},
        "#/pumps/0/id",
        "not_a_text",
        'pump id (pump 1) is "pump no 1", with characters that cannot stand there; '
        "use letters, digits, dots, dashes and underscores only",
    ),
    (
        {"/panels/0/price": {"amount": 24.9, "currency": "euro"}},
        "#/panels/0/price/currency",
        "not_a_text",
        "currency (panel 1) has 4 characters; at most 3 fit; shorten it",
    ),
    (
        {"/panels/0/price": {"amount": 24.9, "currency": "EUR", "date": "last May"}},
        "#/panels/0/price/date",
        "not_a_text",
        'price date (panel 1) is "last May", with characters that cannot stand there; write it like 2026-05-31',
    ),
    (
        {"/pipe/lenght_m": 2},
        "#/pipe/lenght_m",
        "unknown_field",
        '"lenght_m" is not a field of the pipe; its fields are length_m, inside_diameter_mm, roughness_mm, fittings; '
        "write length_m if that was meant, or remove it",
    ),
    (
        {"/place/skyline/0/tree": "oak"},
        "#/place/skyline/0/tree",
        "unknown_field",
        '"tree" is not a field of skyline point 1; its fields are azimuth_deg, altitude_deg; remove it or correct its name',
    ),
    (
        {"/pumps/0/points/1/fish": 3},
        "#/pumps/0/points/1/fish",
        "unknown_field",
        '"fish" is not a field of pump 1, point 2; its fields are flow_l_per_min, head_m, current_a; '
        "remove it or correct its name",
    ),
    (
        {"/sky/fish ü~1~0": 3},
        "#/sky/fish%20%C3%BC~1~0",
        "unknown_field",
        '"fish ü/~" is not a field of the sky; its fields are kind; remove it or correct its name',
    ),
    (
        {"/half \ud83d": 3},
        "#",
        "not_a_text",
        "the design holds half a character (a lone surrogate), which no text may hold; type it again",
    ),
    ({"/pipe": ...}, "#/pipe", "missing", "pipe is missing and must be given; add it"),
    (
        {"/cable/length_m": ...},
        "#/cable/length_m",
        "missing",
        "one-way cable length is missing and must be given; add a number between 0 and 200 m",
    ),
    ({"/chosen/pump": ...}, "#/chosen/pump", "missing", "chosen pump is missing and must be given; add it"),
    (
        {"/panels": []},
        "#/panels",
        "wrong_count",
        "panels: the list has 0 entries; it must have 1 to 6; add what is missing",
    ),
    (
        {"/pumps": [PUMP] * 13},
        "#/pumps",
        "wrong_count",
        "pumps: the list has 13 entries; it must have 1 to 12; remove what is too much",
    ),
    (
        {"/pumps/0/points": [{"flow_l_per_min": 0, "head_m": 2, "current_a": 1}]},
        "#/pumps/0/points",
        "wrong_count",
        "pump points (pump 1): the list has 1 entry; it must have 2 to 40; add what is missing",
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
    (
        {"/pipe/fittings": {}},
        "#/pipe/fittings",
        "wrong_shape",
        "fittings: a list is needed and an object was given; write it in square brackets, or leave it out",
    ),
    ({"/pipe": [2.5]}, "#/pipe", "wrong_shape", "pipe is a list, not an object with fields; write it in curly brackets"),
    (
        {"/panels/0": "20 W"},
        "#/panels/0",
        "wrong_shape",
        'panel 1 is "20 W", not an object with fields; write it in curly brackets',
    ),
    (
        {"/sky": "sunny"},
        "#/sky",
        "wrong_shape",
        'sky is "sunny", not an object with fields; write it in curly brackets, or leave it out',
    ),
    (
        {"/connection": {"kind": "battery", "capacity_ah": 7}},
        "#/connection/kind",
        "not_a_choice",
        'kind of connection is "battery"; it must be one of direct, controller; write it exactly so',
    ),
    (
        {"/outlet": {"bore_mm": 5}},
        "#/outlet/kind",
        "not_a_choice",
        "kind of outlet is missing; it must be one of nozzle, open_pipe, spillway; add it",
    ),
    (
        {"/outlet/kind": 3},
        "#/outlet/kind",
        "not_a_choice",
        "kind of outlet is 3; it must be one of nozzle, open_pipe, spillway; write it exactly so",
    ),
    (
        {"/outlet/kind": ["nozzle"]},
        "#/outlet/kind",
        "not_a_choice",
        "kind of outlet is a list; it must be one of nozzle, open_pipe, spillway; write it exactly so",
    ),
    (
        {"/pumps/0/position": "in the shed"},
        "#/pumps/0/position",
        "not_a_choice",
        'pump position (pump 1) is "in the shed"; it must be one of submersible, surface; write it exactly so',
    ),
    ({"/schema_version": 2}, "#/schema_version", "not_a_choice", "schema version is 2; it must be 1; write it exactly so"),
    (
        {"/schema_version": True},
        "#/schema_version",
        "not_a_choice",
        'schema version is "true"; it must be 1; write it exactly so',
    ),
    (
        {"/schema_version": 10**40},
        "#/schema_version",
        "not_a_choice",
        "schema version is a number of 41 digits; it must be 1; write 1",
    ),
    (
        {"/pumps/0/points": ...},
        "#/pumps/0/points",
        "pump_undescribed",
        "a pump is given without points and without box values; it needs either points (flow, head, current) or all three of "
        "max_head_m, max_flow_l_per_min and rated_current_a from its box; add one or the other",
    ),
    (
        {"/pumps/0/points": ..., "/pumps/0/max_head_m": 2.1},
        "#/pumps/0/max_flow_l_per_min",
        "pump_undescribed",
        "a pump is given without max_flow_l_per_min and rated_current_a; it needs either points (flow, head, current) or all "
        "three of max_head_m, max_flow_l_per_min and rated_current_a from its box; add one or the other",
    ),
    (
        {"/pumps/0/max_head_m": 2.1},
        "#/pumps/0/max_head_m",
        "pump_described_twice",
        "a pump has both points and max_head_m from its box; only one of the two can count; "
        "keep the points and remove max_head_m",
    ),
    (
        {"/pumps/0/lowest_voltage_v": 12},
        "#/pumps/0/lowest_voltage_v",
        "voltages_out_of_order",
        "lowest voltage is 12 V and rated voltage 12 V; the lowest must be below the rated; check for swapped numbers",
    ),
    (
        {"/pumps/0/highest_voltage_v": 11.5},
        "#/pumps/0/highest_voltage_v",
        "voltages_out_of_order",
        "highest voltage is 11.5 V and rated voltage 12 V; the highest must not be below the rated; check for swapped numbers",
    ),
    (
        {"/outlet/discharge_coefficient": 0.95, "/outlet/velocity_coefficient": 0.9},
        "#/outlet/velocity_coefficient",
        "coefficients_impossible",
        "velocity coefficient is 0.9 and discharge coefficient 0.95; a jet cannot pass more than its bore at its speed; "
        "the velocity coefficient must not be below the discharge coefficient; check both",
    ),
]


@pytest.mark.parametrize(("changes", "pointer", "code", "sentence"), WRONG, ids=[f"{row[2]}-{row[1]}" for row in WRONG])
def test_one_wrong_value_one_sentence(changes: dict[str, object], pointer: str, code: str, sentence: str, example: Build) -> None:
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


def leaves(value: object, pointer: str = "") -> Iterator[tuple[str, object]]:
    """Every place of a document with what stands there."""
    yield pointer, value
    pairs: Any = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for name, inner in pairs:
        yield from leaves(inner, f"{pointer}/{name}")


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


def test_no_number_takes_another_kind_of_value(example: Build) -> None:
    tried = 0
    for design in whole_designs(example):
        for pointer, value in leaves(design):
            if isinstance(value, bool) or not isinstance(value, int | float) or pointer == "/schema_version":
                continue
            for bad in (math.nan, math.inf, -math.inf, True, False, "7", "", [], [1], {}, "\ud800"):
                document = json.loads(json.dumps(design))
                put(document, pointer, bad)
                found = problems_of(lambda document=document: read_design(document))
                assert [(each.pointer, each.code) for each in found] in (
                    [(f"#{pointer}", "not_a_number")],
                    [(f"#{pointer}", "not_whole")],
                ), (pointer, bad)
                tried += 1
            for bad in (1e30, -1e30, 10**400):
                document = json.loads(json.dumps(design))
                put(document, pointer, bad)
                found = problems_of(lambda document=document: read_design(document))
                assert [(each.pointer, each.code) for each in found] == [(f"#{pointer}", "out_of_range")], (pointer, bad)
    assert tried > 1500


def test_no_text_takes_another_kind_of_value(example: Build) -> None:
    for design in whole_designs(example):
        for pointer, value in leaves(design):
            if not isinstance(value, str):
                continue
            for bad in (3, True, math.nan, [], {}, "x" * 501, "\x1b[31m", "\ud800"):
                document = json.loads(json.dumps(design))
                put(document, pointer, bad)
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
                document = json.loads(json.dumps(design))
                put(document, pointer, bad)
                (found,) = problems_of(lambda document=document: read_design(document))
                assert (found.pointer, found.code) == (f"#{pointer}", "wrong_shape")
            if isinstance(value, dict):
                document = json.loads(json.dumps(design))
                put(document, f"{pointer}/fountain_pen", 3)
                (found,) = problems_of(lambda document=document: read_design(document))
                assert (found.pointer, found.code) == (f"#{pointer}/fountain_pen", "unknown_field")


def put(document: Any, pointer: str, value: object) -> None:
    """Put a value at a pointer of plain names."""
    *way, last = pointer.split("/")[1:]
    for part in way:
        document = document[int(part)] if isinstance(document, list) else document[part]
    document[int(last) if isinstance(document, list) else last] = value


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


SIZED: list[tuple[dict[str, object], str, str, str]] = [
    ({"/chosen/pump": "other"}, "#/chosen/pump", "not_in_design", "chosen pump is other, and the design has pump-12v-10l"),
    ({"/chosen/panel": "other"}, "#/chosen/panel", "not_in_design", "chosen panel is other, and the design has panel-15w"),
    ({"/panels/0/vmp_v": 21.7}, "#/panels/0/vmp_v", "vmp_not_below_voc", "panel vmp is 21.7 V; it must be below voc, 21.7 V"),
    ({"/panels/0/imp_a": 1.5}, "#/panels/0/imp_a", "imp_not_below_isc", "panel imp is 1.5 A; it must be below isc, 0.92 A"),
    ({"/pumps/0/points/2/head_m": 1.6}, "#/pumps/0/points/2/head_m", "curve_rises", "head of 1.6 m after 1.6 m"),
    (
        {"/pumps/0/points/2/flow_l_per_min": 3},
        "#/pumps/0/points/2/flow_l_per_min",
        "flow_not_rising",
        "3 L/min after 3 L/min; the flow must rise",
    ),
    (
        # The parabola's best point: 60/sqrt(3) = 34.6 L/min at 2.1 m x 2/3 = 1.4 m, 7.9 W of 13.2 W at most.
        {"/pumps/0/points": ..., **{f"/pumps/0/{name}": value for name, value in {**BOX, "max_flow_l_per_min": 60}.items()}},
        "#/pumps/0/max_flow_l_per_min",
        "too_efficient",
        "60 % is the limit here",
    ),
    ({"/pumps/0/no_load_current_a": 0.42}, "#/pumps/0/no_load_current_a", "no_load_too_high", "0.42 A is not above the no-load"),
    (
        {"/pumps/0/winding_resistance_ohm": 16},
        "#/pumps/0/winding_resistance_ohm",
        "winding_too_large",
        "measure it again with the meter's leads subtracted",
    ),
    ({"/place/latitude_deg": 90}, "#/sky/kind", "no_climate_here", "type 12 monthly values of sun"),
    ({"/place/latitude_deg": -90}, "#/sky/kind", "no_climate_here", "type 12 monthly values of sun"),
    (
        {"/place/latitude_deg": -30, "/place/longitude_deg": -120},
        "#/sky/kind",
        "no_climate_here",
        "the built-in climate has no data at 30.00 S, 120.00 W",
    ),
    (
        {"/sky": {**MONTHLY, "ghi_kwh_per_m2_day": [11] * 12}},
        "#/sky/ghi_kwh_per_m2_day/0",
        "out_of_range",
        "sun of January is 11 kWh/m2 a day",
    ),
    (
        {"/sky": {"kind": "weather_file", "path": "pvlib/data/723170TYA.CSV"}},
        "#/sky/kind",
        "weather_file_not_here",
        "kind of sky is weather_file, which is read by the command line on your own machine only; "
        "give twelve monthly values (kind monthly) or take the built-in sky (kind built_in)",
    ),
    (
        {"/outlet": {**SPILLWAY, "width_m": 0.02, "height_above_water_m": 0.02, "end_contractions": 2}, "/pumps/0/points": ...}
        | {f"/pumps/0/{name}": value for name, value in {**BOX, "max_flow_l_per_min": 40, "rated_current_a": 3}.items()},
        "#/outlet/width_m",
        "out_of_range",
        "make the lip wider",
    ),
]


@pytest.mark.parametrize(("changes", "pointer", "code", "words"), SIZED, ids=[f"{row[2]}-{row[1]}" for row in SIZED])
def test_values_that_only_the_sizing_can_judge(
    changes: dict[str, object], pointer: str, code: str, words: str, example: Build
) -> None:
    (found,) = problems_of(lambda: size(read_design(example(changes))))
    assert (found.pointer, found.code) == (pointer, code)
    assert words in found.detail


PATHS = {
    "../../../../etc/passwd": ("outside_folder", 'weather file is "../../../../etc/passwd", outside the folder of the design'),
    "/etc/passwd": ("outside_folder", "put the file beside the design and write its name"),
    "sub/../../other.epw": ("outside_folder", "only files in that folder are read"),
    "link.epw": ("outside_folder", "outside the folder"),
    "loop": ("outside_folder", "outside the folder"),
    "http://example.org/year.epw": ("not_a_file", "nothing is fetched from the web"),
    "file:///etc/passwd": ("not_a_file", "nothing is fetched from the web"),
    ".": ("not_a_file", "is a folder"),
    "pvlib/data/": ("not_found", "is not there"),
    "pvlib/data/..": ("not_a_file", "is a folder"),
    "pvlib/data/../../../../../etc/passwd": ("not_found", "is not there"),
    "missing.epw": ("not_found", "is not there"),
    "notes.txt": ("unknown_format", "neither EPW"),
    "x" * 300: ("not_readable", "cannot be read"),
}


@pytest.mark.parametrize("path", PATHS)
def test_paths_that_lead_astray(path: str, example: Build, tmp_path: Path) -> None:
    folder = tmp_path / "garden"
    folder.mkdir()
    (folder / "notes.txt").write_text("sunny\n")
    (tmp_path / "other.epw").write_text("LOCATION,elsewhere\n")
    (folder / "link.epw").symlink_to(tmp_path / "other.epw")
    (folder / "loop").symlink_to(folder / "loop")
    code, words = PATHS[path]
    design = read_design(example({"/sky": {"kind": "weather_file", "path": path}}))
    (found,) = problems_of(lambda: size(design, folder))
    assert (found.pointer, found.code) == ("#/sky/path", code)
    assert words in found.detail


def test_an_empty_path(example: Build) -> None:
    (found,) = problems_of(lambda: read_design(example({"/sky": {"kind": "weather_file", "path": ""}})))
    assert found.detail == "weather file is empty; it must have 1 to 400 characters; write something"


JSON_VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**30), 10**30)
    | st.floats()
    | st.text(max_size=8)
    | st.sampled_from(["nozzle", "spillway", "open_pipe", "controller", "direct", "monthly", "\ud800", "é/~ "]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=6,
)


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_any_change_gives_a_report_or_sentences(data: st.DataObject, example: Build) -> None:
    document = example(name=data.draw(st.sampled_from(["quince_court_jet", "terrace_spillway", "fern_bubbler"])))
    for _ in range(data.draw(st.integers(1, 3))):
        mutate(document, data)
    problems: tuple[Problem, ...] = ()
    try:
        found = size(read_design(document))
        assert json.dumps(answer(found), allow_nan=False)
    except InputError as error:
        problems = error.problems
    for problem in problems[:MOST_PROBLEMS]:
        check_sentence(problem)
        assert stands(document, problem.pointer), problem


def mutate(document: dict[str, Any], data: st.DataObject) -> None:
    """Replace, take out or add one value somewhere; numbers are often only stretched, so that some designs live."""
    pointer, old = data.draw(st.sampled_from([place for place in leaves(document) if place[0]]))
    *way, last = pointer.split("/")[1:]
    holder: Any = document
    for part in way:
        holder = holder[int(part)] if isinstance(holder, list) else holder[part]
    what = data.draw(st.sampled_from(["stretch", "stretch", "stretch", "replace", "take out", "add"]))
    if what == "take out":
        del holder[int(last) if isinstance(holder, list) else last]
    elif what == "add" and isinstance(holder, dict):
        holder[data.draw(st.text(max_size=12))] = data.draw(JSON_VALUES)
    elif what == "add":
        holder.append(data.draw(JSON_VALUES))
    else:
        stretched = what == "stretch" and isinstance(old, int | float)
        value = old * data.draw(st.sampled_from([0, 0.3, 0.8, 1.1, 1.9, 10, -1])) if stretched else data.draw(JSON_VALUES)
        holder[int(last) if isinstance(holder, list) else last] = value


def stands(document: Any, pointer: str) -> bool:
    """Whether a pointer's value, or what should hold it, is in the document; names are compared as the pointer writes them."""
    parts = pointer.split("/")[1:]
    for index, part in enumerate(parts):
        inner = dict(enumerate(document)) if isinstance(document, list) else document if isinstance(document, dict) else {}
        named = {pointer_part(name): value for name, value in inner.items()}
        if part not in named:
            return index == len(parts) - 1 or document is None or not isinstance(document, dict | list)
        document = named[part]
    return True
