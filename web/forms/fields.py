"""The kinds of question on the form, made from the models of the design file: label, unit and limits stand there once.

A field is named as its place in the design file is pointed at, with dots: ``#/pipe/length_m`` is
``pipe.length_m``. So a message about a pointer finds its field, and an address can be read by people.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from sizing.design import limits, locate, walk
from sizing.foundation import SPACE, unit

UNIT_WORDS = {
    "m": "in metres",
    "mm": "in millimetres",
    "mm2": "in square millimetres",
    "deg": "in degrees",
    "Cel": "in °C",
    "%": "in per cent",
    "%/K": "in % per °C",
    "V": "in volts",
    "A": "in amperes",
    "Ohm": "in ohms",
    "L/min": "in litres a minute",
    "kWh/m2/d": "in kWh/m² a day",
    "d": "in days",
}


@dataclass(frozen=True)
class Field:
    """One question: name in the address, label, its unit in words and as the sign behind the box, hint, kind of keyboard.

    ``whole`` ones hold a whole number, ``plain`` ones a text that is taken as it is.
    """

    name: str
    label: str
    unit_words: str = ""
    suffix: str = ""
    hint: str = ""
    keyboard: str = ""
    long: bool = False
    whole: bool = False
    plain: bool = False


@dataclass(frozen=True)
class Way:
    """One way to answer a choice, with the fields or the table that it opens."""

    value: str
    words: str
    fields: "tuple[Field | Choice, ...]" = ()
    table: str = ""


@dataclass(frozen=True)
class Choice:
    """A question answered by one of a few ways; the first one counts where nothing is marked; ``listed`` ones fold up."""

    name: str
    question: str
    ways: tuple[Way, ...]
    listed: bool = False


@dataclass(frozen=True)
class Checks:
    """A question of which any number of answers may be ticked: name and words of each box."""

    name: str
    question: str
    boxes: tuple[tuple[str, str], ...]
    hint: str = ""


@dataclass(frozen=True)
class Group:
    """A heading with its questions, the tables that fold up, and the fields that most people can skip."""

    key: str
    title: str
    lead: str
    fields: tuple[Field | Choice | Checks, ...]
    more: tuple[Field, ...] = ()
    tables: tuple[str, ...] = ()
    about: str = ""

    @property
    def more_about(self) -> str:
        """What the fields are about that most people can skip."""
        return self.about or f"the {self.title.lower()}"


@dataclass(frozen=True)
class Series:
    """A heading over groups of the same questions, of which one or several are shown: panels or pumps to choose from."""

    key: str
    word: str
    title: str
    lead: str
    groups: tuple[Group, ...]

    @property
    def chosen(self) -> str:
        """Name of the answer that says which one is sized, counted from 0 as the names count."""
        return f"chosen.{self.word}"


def ask(*path: str | int, hint: str = "", label: str = "", long: bool = False) -> Field:
    """Make the field of a place in the design; strings that name a kind choose a model and are no part of the name."""
    spot = locate(path)
    code = spot.extra("unit")
    shown = label or spot.extra("label")
    low, _ = limits(spot.field)
    holds = walk(spot.field.annotation if spot.field is not None else None)
    return Field(
        name=name_of(spot.pointer),
        label=shown[0].upper() + shown[1:],
        unit_words=UNIT_WORDS.get(code, ""),
        suffix=unit(code) if code else "",
        hint=together(hint),
        keyboard="numeric" if holds == [int] else "decimal" if low is not None and low >= 0 else "",
        long=long,
        whole=int in holds,
        plain=str in holds,
    )


def every_item(items: "Iterable[Field | Choice | Checks]") -> "Iterator[Field | Choice | Checks]":
    """Questions one after the other, each with those that its ways open."""
    for item in items:
        yield item
        for way in item.ways if isinstance(item, Choice) else ():
            yield from every_item(way.fields)


def together(hint: str) -> str:
    """A hint whose numbers keep to their units at the end of a line."""
    return re.sub(r"(?<=\d) (?=[%×°A-Z])|(?<=×) ", SPACE, hint)


def name_of(pointer: str) -> str:
    """Name of the field that a JSON pointer means.

    Examples
    --------
    >>> name_of("#/pipe/length_m")
    'pipe.length_m'
    """
    return pointer.removeprefix("#").strip("/").replace("/", ".")
