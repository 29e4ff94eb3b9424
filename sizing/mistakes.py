"""One sentence for each wrong value of a design: what was given, the limit, and what to change."""

import typing
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from sizing.design import Design
from sizing.errors import Problem
from sizing.units import SHOWN


@dataclass(frozen=True)
class Wrong:
    """What a sentence about one wrong value is made of."""

    label: str
    value: str
    unit: str
    low: float | None
    high: float | None
    advice: str
    field: FieldInfo | None
    parent: type[BaseModel] | None
    context: dict[str, Any]

    @property
    def span(self) -> str:
        """The limits in words, empty where there are none."""
        return "" if self.low is None or self.high is None else f"between {self.low:g} and {self.high:g}{self.unit}"


def missing(wrong: Wrong) -> str:
    return f"{wrong.label} is missing; add it" + (f", {wrong.span}" if wrong.span else "")


def unknown(wrong: Wrong) -> str:
    known = ", ".join(wrong.parent.model_fields) if wrong.parent is not None else ""
    return f"{wrong.label} is not a field of the design here; known are {known}; remove it or correct its name"


def out_of_range(wrong: Wrong) -> str:
    return f"{wrong.label} is {wrong.value}{wrong.unit}; it must be {wrong.span}; {wrong.advice}"


def not_a_number(wrong: Wrong) -> str:
    return f"{wrong.label} is {wrong.value}, which cannot be used as a number; write a number {wrong.span}".rstrip()


def not_whole(wrong: Wrong) -> str:
    return f"{wrong.label} is {wrong.value}, which is not a whole number; write a whole number {wrong.span}".rstrip()


def wrong_length(wrong: Wrong) -> str:
    least, most = length(wrong.field, "min_length"), length(wrong.field, "max_length")
    span = f"exactly {most}" if least == most else f"{least or 0} to {most}"
    return f"{wrong.label}: {wrong.context['actual_length']} given; there must be {span}; add or remove some"


def wrong_choice(wrong: Wrong) -> str:
    tag = wrong.context.get("tag")
    choices = str(wrong.context.get("expected_tags") or wrong.context.get("expected") or "").replace("'", "")
    return f"{wrong.label} is {wrong.value if tag is None else shown(tag)}; choose one of: {choices}"


def no_kind(wrong: Wrong) -> str:
    return f"{wrong.label} does not say its kind; choose one of: {kinds(wrong.field)}"


def too_long(wrong: Wrong) -> str:
    return f"{wrong.label} is longer than {wrong.context.get('max_length')} characters; {wrong.advice}"


SENTENCES: dict[str, Callable[[Wrong], str]] = {
    "missing": missing,
    "extra_forbidden": unknown,
    "greater_than_equal": out_of_range,
    "less_than_equal": out_of_range,
    "float_type": not_a_number,
    "finite_number": not_a_number,
    "int_type": not_whole,
    "int_from_float": not_whole,
    "too_short": wrong_length,
    "too_long": wrong_length,
    "union_tag_invalid": wrong_choice,
    "union_tag_not_found": no_kind,
    "literal_error": wrong_choice,
    "string_too_long": too_long,
    "string_too_short": lambda wrong: f"{wrong.label} is empty; write something",
    "string_pattern_mismatch": lambda wrong: (
        f"{wrong.label} is {wrong.value}, which has characters that cannot stand there; {wrong.advice}"
    ),
    "string_unicode": lambda wrong: f"{wrong.label} holds half a character (a lone surrogate); type it again",
    "string_type": lambda wrong: f"{wrong.label} is {wrong.value}, which is not text; put it in quotes",
    "tuple_type": lambda wrong: f"{wrong.label} is {wrong.value}, which is not a list; write it in square brackets",
    "model_type": lambda wrong: f"{wrong.label} is {wrong.value}, which is not an object with fields; write it in curly brackets",
    "model_attributes_type": lambda wrong: (
        f"{wrong.label} is {wrong.value}, which is not an object with fields; write it in curly brackets"
    ),
}


def problem(line: Any) -> Problem:
    """Turn one validation error into a problem with a sentence."""
    kind = line["type"]
    pointer, label, field, parent = locate(line["loc"])
    extra = field.json_schema_extra if field is not None and isinstance(field.json_schema_extra, dict) else {}
    unit = str(extra.get("unit", ""))
    low, high = limits(field)
    wrong = Wrong(
        label=label,
        value=shown(line["input"]),
        unit="" if unit in ("", "1") else f" {SHOWN.get(unit, unit)}",
        low=low,
        high=high,
        advice=str(extra.get("advice", "correct it")),
        field=field,
        parent=parent,
        context=line.get("ctx", {}),
    )
    sentence = SENTENCES.get(kind)
    return Problem(pointer, kind, sentence(wrong) if sentence is not None else line["msg"], low, high)


def without_echoes(problems: list[Problem]) -> list[Problem]:
    """Drop "too few entries" where the entries were there but wrong: they have their own sentences."""
    pointers = [found.pointer for found in problems]
    return [
        found
        for found in problems
        if found.code != "too_short" or not any(pointer.startswith(found.pointer + "/") for pointer in pointers)
    ]


def locate(path: Sequence[str | int]) -> tuple[str, str, FieldInfo | None, type[BaseModel] | None]:
    """Walk the models along an error's path: JSON pointer, label in words, the field, the model it stands in."""
    model: type[BaseModel] | None = Design
    field: FieldInfo | None = None
    pointer, label, row = "#", "the design", ""
    choices: list[type[BaseModel]] = []
    for part in path:
        if choices and isinstance(part, str):
            tagged = [choice for choice in choices if tag_of(choice) == part]
            choices = []
            if tagged:
                model = tagged[0]
                continue
        pointer += "/" + str(part).encode("utf-8", "replace").decode().replace("~", "~0").replace("/", "~1")
        if isinstance(part, int):
            row = f" {part + 1}"
            inner = item_field(field)
            field = inner if inner is not None else field
            label += row if inner is None or not has_label(inner) else ""
            if inner is not None and has_label(inner):
                label = f"{label_of(inner)}, entry{row},"
            continue
        field = model.model_fields.get(part) if model is not None else None
        label = label_of(field) if field is not None and has_label(field) else shown(part)
        if field is None:
            break
        members = models_in(field.annotation)
        model_next = members[0] if len(members) == 1 else None
        choices = members if len(members) > 1 else []
        if model_next is not None or choices:
            model = model_next
    return pointer, label, field, model


def has_label(field: FieldInfo) -> bool:
    return isinstance(field.json_schema_extra, dict) and "label" in field.json_schema_extra


def label_of(field: FieldInfo) -> str:
    return str(typing.cast(dict[str, Any], field.json_schema_extra)["label"])


def item_field(field: FieldInfo | None) -> FieldInfo | None:
    """The field information of the numbers in a list, where the list holds annotated numbers."""
    for argument in walk(field.annotation if field is not None else None):
        for extra in getattr(argument, "__metadata__", ()):
            if isinstance(extra, FieldInfo) and isinstance(extra.json_schema_extra, dict) and "unit" in extra.json_schema_extra:
                return extra
    return None


def walk(annotation: Any) -> list[Any]:
    """An annotation and everything inside it."""
    found = [annotation]
    for argument in typing.get_args(annotation):
        found += walk(argument)
    return found


def models_in(annotation: Any) -> list[type[BaseModel]]:
    """The models that an annotation names, in order."""
    return [part for part in walk(annotation) if isinstance(part, type) and issubclass(part, BaseModel)]


def tag_of(model: type[BaseModel]) -> str | None:
    """The one value of a model's ``kind``, if it has such a field."""
    kind = model.model_fields.get("kind")
    values = typing.get_args(kind.annotation) if kind is not None else ()
    return str(values[0]) if len(values) == 1 else None


def kinds(field: FieldInfo | None) -> str:
    """The kinds that a field may have, for a message."""
    names = [tag_of(model) for model in models_in(field.annotation)] if field is not None else []
    return ", ".join(name for name in names if name)


def limits(field: FieldInfo | None) -> tuple[float | None, float | None]:
    """Lowest and highest value of a number field."""
    low = high = None
    for extra in field.metadata if field is not None else ():
        low = getattr(extra, "ge", low)
        high = getattr(extra, "le", high)
    return low, high


def length(field: FieldInfo | None, name: str) -> int | None:
    """Least or most entries of a list field."""
    for extra in field.metadata if field is not None else ():
        if hasattr(extra, name):
            return int(getattr(extra, name))
    return None


def shown(value: object) -> str:
    """A given value in a message: short, printable, never a whole document."""
    if value is None or isinstance(value, bool):
        return {None: "nothing", True: "true", False: "false"}[value]
    if isinstance(value, int | float):
        return "not a number" if value != value else f"{value:.6g}" if abs(value) < 1e300 else "too large a number"
    if isinstance(value, str):
        cleaned = "".join(letter if letter.isprintable() else "?" for letter in value[:41])
        return f'"{cleaned[:40]}{"..." if len(value) > 40 else ""}"'
    return "an object" if isinstance(value, dict) else "a list" if isinstance(value, list | tuple) else "something else"
