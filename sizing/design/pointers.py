"""Where in a design a wrong value stands: its JSON pointer, its name in words, and the field that it fills."""

import typing
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from sizing.design.design import Design
from sizing.foundation.formats import MONTHS

PLAIN_IN_POINTER = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-._~!$&'()*+,;=:@/?")
"""Characters that a URI fragment may hold as they are (RFC 3986, section 3.5)."""
LONGEST_SHOWN = 40
"""Characters of a wrong text that a sentence repeats."""
LONGEST_NAME = 80
"""Characters of an unknown field's name that a pointer repeats; a longer one is pointed at by what holds it."""


@dataclass(frozen=True)
class Spot:
    """A place in the design: JSON pointer, label in words, what holds it, the field and the model it stands in."""

    pointer: str
    label: str
    holder: str
    last: str | int
    field: FieldInfo | None
    parent: type[BaseModel] | None

    def extra(self, name: str) -> str:
        """A word that the field carries, such as its unit; empty where there is none."""
        return extra(self.field, name)


def extra(field: FieldInfo | None, name: str) -> str:
    """A word that a field carries for people; empty where there is none."""
    found = field.json_schema_extra if field is not None else None
    return str(found.get(name, "")) if isinstance(found, dict) else ""


def pointer_part(part: str | int) -> str:
    """One part of a JSON pointer (RFC 6901), fit for a URI fragment.

    Examples
    --------
    >>> pointer_part("a/b~c é")
    'a~1b~0c%20%C3%A9'
    """
    raw = str(part).replace("~", "~0").replace("/", "~1").encode("utf-8", "replace")
    return "".join(chr(byte) if chr(byte) in PLAIN_IN_POINTER else f"%{byte:02X}" for byte in raw)


def locate(path: Sequence[str | int], whole: type[BaseModel] = Design) -> Spot:
    """Walk the models along the path of an error, from the design or, where only that was asked for, from its site.

    Examples
    --------
    >>> spot = locate(("pumps", 0, "points", 2, "flow_l_per_min"))
    >>> spot.pointer, spot.label
    ('#/pumps/0/points/2/flow_l_per_min', 'flow (pump 1, point 3)')
    """
    name = "the design" if whole is Design else "the site"
    spot = Spot("#", name, name, "", None, whole)
    rows: list[str] = []
    choices: list[type[BaseModel]] = []
    model: type[BaseModel] | None = whole
    for part in path:
        if choices and isinstance(part, str):
            tagged = [choice for choice in choices if tag_of(choice) == part]
            choices, model = [], tagged[0] if tagged else model
            if tagged:
                continue
        if isinstance(part, int):
            spot = row_spot(spot, part, rows)
            continue
        spot = field_spot(spot, part, model, rows)
        if spot.field is None:
            break
        members = models_in(spot.field.annotation)
        choices = members if len(members) > 1 else []
        model = members[0] if members else model
    return spot


def row_spot(list_spot: Spot, index: int, rows: list[str]) -> Spot:
    """An entry of a list; ``rows`` collects the entries on the way."""
    pointer, field = f"{list_spot.pointer}/{index}", list_spot.field
    inner = item_field(field)
    if inner is not None:
        row = extra(field, "row")
        name = MONTHS[index] if row == "month" and index < len(MONTHS) else f"{row} {index + 1}"
        return Spot(pointer, f"{extra(inner, 'label')} ({name})", list_spot.label, index, inner, list_spot.parent)
    rows.append(f"{extra(field, 'row') or 'entry'} {index + 1}")
    return Spot(pointer, ", ".join(rows), list_spot.label, index, field, list_spot.parent)


def field_spot(holder: Spot, name: str, model: type[BaseModel] | None, rows: list[str]) -> Spot:
    """A field of an object, known or not."""
    field = model.model_fields.get(name) if model is not None else None
    if field is None:
        pointer = f"{holder.pointer}/{pointer_part(name)}" if len(name) <= LONGEST_NAME else holder.pointer
        return Spot(pointer, quoted(name), holder.label, name, None, model)
    label = extra(field, "label") + (f" ({', '.join(rows)})" if rows else "")
    return Spot(f"{holder.pointer}/{pointer_part(name)}", label, holder.label, name, field, model)


def quoted(text: str) -> str:
    """A text in a sentence: short, printable, in quotes.

    Examples
    --------
    >>> quoted("a\\nb"), len(quoted("x" * 1000))
    ('"a?b"', 45)
    """
    cleaned = "".join(letter if letter.isprintable() else "?" for letter in text[:LONGEST_SHOWN])
    return f'"{cleaned}{"..." if len(text) > LONGEST_SHOWN else ""}"'


def item_field(field: FieldInfo | None) -> FieldInfo | None:
    """The field information of the numbers in a list, where the list holds annotated numbers."""
    for argument in walk(field.annotation if field is not None else None):
        for found in getattr(argument, "__metadata__", ()):
            if isinstance(found, FieldInfo) and extra(found, "unit"):
                return found
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


def kinds(field: FieldInfo | None) -> list[str]:
    """The kinds that a field may have, for a message."""
    names = [tag_of(model) for model in models_in(field.annotation)] if field is not None else []
    return [name for name in names if name]


def limits(field: FieldInfo | None) -> tuple[float | None, float | None]:
    """Lowest and highest value of a number field."""
    low = high = None
    for found in field.metadata if field is not None else ():
        low = getattr(found, "ge", low)
        high = getattr(found, "le", high)
    return low, high


def length(field: FieldInfo | None, name: str) -> int | None:
    """Least or most entries of a list, or characters of a text."""
    for found in field.metadata if field is not None else ():
        if hasattr(found, name):
            return int(getattr(found, name))
    return None
