"""The design file's models: every field says what it is, in which unit, between which limits, and what to do."""

import math
import re
import typing
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from sizing.design.design import Design
from sizing.design.pointers import item_field, length, limits, models_in, walk
from sizing.design.reading import read_design
from tests.together import together

Build = Callable[..., dict[str, Any]]


def every_model(model: type[BaseModel], found: dict[str, type[BaseModel]] | None = None) -> dict[str, type[BaseModel]]:
    """A model and all models inside it, by name."""
    found = {} if found is None else found
    if model.__name__ not in found:
        found[model.__name__] = model
        for field in model.model_fields.values():
            for inner in models_in(field.annotation):
                every_model(inner, found)
    return found


MODELS = every_model(Design)


def every_field() -> Iterator[tuple[str, FieldInfo]]:
    """All fields with their names, and the numbers inside lists."""
    for name, model in MODELS.items():
        for field_name, field in model.model_fields.items():
            yield f"{name}.{field_name}", field
            inner = item_field(field)
            if inner is not None:
                yield f"{name}.{field_name}[]", inner


FIELDS = dict(every_field())
LISTS = {name: field for name, field in FIELDS.items() if tuple in map(typing.get_origin, walk(field.annotation))}
NUMBERS = {
    name: field
    for name, field in FIELDS.items()
    if name.endswith("[]") or (name not in LISTS and {float, int} & set(walk(field.annotation)))
}
TEXTS = {name: field for name, field in FIELDS.items() if str in walk(field.annotation)}


def extra(field: FieldInfo) -> dict[str, Any]:
    assert isinstance(field.json_schema_extra, dict)
    return dict(field.json_schema_extra)


def test_the_walk_finds_the_whole_design() -> None:
    assert {"SkylinePoint", "Price", "PumpPoint", "SpillwayOutlet", "WeatherFileSky", "ControllerConnection"} <= set(MODELS)
    assert len(NUMBERS) >= 50
    assert {"MonthlySky.ghi_kwh_per_m2_day[]", "PumpInput.winding_resistance_ohm", "NozzleOutlet.count"} <= set(NUMBERS)
    assert {"Design.title", "Price.currency", "PanelInput.id"} <= set(TEXTS)
    assert {"Design.panels", "PlaceInput.skyline", "MonthlySky.air_temperature_c"} <= set(LISTS)


@together("name", FIELDS)
def test_every_field_has_label_unit_and_advice(name: str) -> None:
    words = extra(FIELDS[name])
    assert re.fullmatch(r"[a-z][^\n]*[a-z0-9]", words["label"]), words
    assert words["unit"] == words["unit"].strip()
    assert len(words["advice"]) > 5
    assert words["advice"][-1] not in ".;,"


@together("name", NUMBERS)
def test_every_number_has_limits_and_lies_within_them(name: str) -> None:
    field = NUMBERS[name]
    low, high = limits(field)
    assert low is not None
    assert high is not None
    assert math.isfinite(low)
    assert low < high < 1e6
    assert low <= field.examples[0] <= high  # type: ignore[index]
    assert extra(field)["unit"] in {
        *("1", "%", "m", "mm", "mm2", "deg", "Cel", "V", "A", "Ohm", "%/K", "L/min", "W", "kWh/m2/d", "h", "d"),
    }
    if not field.is_required() and field.default is not None:
        assert low <= field.default <= high


@together("name", NUMBERS)
def test_the_unit_of_a_number_stands_in_its_name(name: str) -> None:
    endings = {
        "deg": "_deg",
        "m": "_m",
        "mm": "_mm",
        "mm2": "_mm2",
        "V": "_v",
        "A": "_a",
        "Ohm": "_ohm",
        "%": "_pct",
        "Cel": "_c",
    }
    endings |= {"d": "_days", "h": "_hour", "W": "_w", "L/min": "_l_per_min", "%/K": "_pct_per_c", "kWh/m2/d": "_kwh_per_m2_day"}
    unit = extra(NUMBERS[name])["unit"]
    if unit != "1":
        assert name.removesuffix("[]").endswith(endings[unit])


@together("name", TEXTS)
def test_every_text_is_bounded_and_takes_no_control_characters(name: str) -> None:
    field = TEXTS[name]
    longest = length(field, "max_length")
    assert longest is not None
    assert longest <= 500
    pattern = next(found.pattern for found in field.metadata if getattr(found, "pattern", None))
    assert not any(re.search(pattern, letter) for letter in ("\x00", "\x1b", "\x85", "\u2028", "a\x7f"))


@together("name", LISTS)
def test_every_list_is_bounded(name: str) -> None:
    assert length(LISTS[name], "max_length") is not None
    assert length(LISTS[name], "max_length") <= 72  # type: ignore[operator]


def test_every_kind_has_one_word_of_its_own() -> None:
    for field in ("sky", "connection", "outlet"):
        names = [
            typing.get_args(model.model_fields["kind"].annotation) for model in models_in(Design.model_fields[field].annotation)
        ]
        assert all(len(name) == 1 for name in names)
        assert len(set(names)) == len(names) >= 2


def test_the_schema_carries_labels_units_and_limits() -> None:
    schema = Design.model_json_schema()
    length_field = schema["$defs"]["PipeInput"]["properties"]["length_m"]
    assert (length_field["label"], length_field["unit"], length_field["minimum"], length_field["maximum"]) == (
        "pipe length",
        "m",
        0,
        100,
    )
    assert schema["properties"]["panels"]["maxItems"] == 6
    assert schema["$defs"]["PanelInput"]["properties"]["in_series"]["type"] == "integer"
    assert schema["additionalProperties"] is False


def test_silent_fields_take_their_defaults(example: Build) -> None:
    bare = example({"/title": ..., "/note": ..., "/sky": ..., "/chosen": ..., "/connection": ..., "/pipe/fittings": ...})
    design = read_design(bare)
    assert (design.title, design.sky.kind, design.chosen, design.connection.kind) == ("", "built_in", None, "direct")
    assert design.pipe.fittings == ()
    assert read_design(example({"/water_temperature_c": ...})).water_temperature_c == 15.0


def test_a_design_cannot_be_changed_afterwards(example: Build) -> None:
    design = read_design(example())
    with pytest.raises(ValidationError, match="frozen"):
        design.title = "another"  # type: ignore[misc]


def test_a_whole_number_may_carry_a_decimal_point(example: Build) -> None:
    design = read_design(example({"/panels/0/in_series": 2.0, "/pipe/fittings/0/count": 3.0}))
    assert type(design.panels[0].in_series) is int
    assert (design.panels[0].in_series, design.pipe.fittings[0].count) == (2, 3)


def test_whole_numbers_stand_for_lengths_too(example: Build) -> None:
    assert read_design(example({"/pipe/length_m": 2})).pipe.length_m == 2.0


def test_both_ends_of_every_angle_are_taken(example: Build) -> None:
    """Exactly 180 degrees is where 179.9999 is; and so at every end, of every angle."""
    angles = {name: field for name, field in NUMBERS.items() if extra(field)["unit"] == "deg"}
    assert {"PlaceInput.longitude_deg", "MountingInput.azimuth_deg", "SkylinePoint.compass_deg"} <= set(angles)
    for name, field in angles.items():
        model, field_name = name.split(".")
        least, most = limits(field)
        other = {"azimuth_deg": "compass_deg", "compass_deg": "azimuth_deg"}.get(field_name)
        where = {"PlaceInput": "/place", "MountingInput": "/mounting", "SkylinePoint": "/place/skyline/0"}.get(model)
        if where is None:
            continue
        for end in (least, most, most - 1e-4, least + 1e-4):
            changes: dict[str, object] = {f"{where}/{field_name}": end, "/place/compass_date": "2026-05-31"}
            if other is not None:
                changes[f"{where}/{other}"] = ...
            read_design(example(changes))
