"""One sentence for each wrong value of a design: what was given, the limit, and what to change."""

import difflib
import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from sizing.design.design import Design
from sizing.design.pointers import LONGEST_SHOWN, Spot, kinds, length, limits, locate, quoted
from sizing.foundation.errors import Problem
from sizing.foundation.units import SHOWN


@dataclass(frozen=True)
class Wrong:
    """What a sentence about one wrong value is made of."""

    spot: Spot
    given: object
    context: dict[str, Any]

    @property
    def label(self) -> str:
        return self.spot.label

    @property
    def value(self) -> str:
        """The given value, with its unit if it is a number."""
        text = shown(self.given)
        return text + self.unit if text.lstrip("-")[0].isdigit() else text

    @property
    def unit(self) -> str:
        """The unit as it stands behind a number, with its space."""
        code = self.spot.extra("unit")
        return "" if code in ("", "1") else "°" if code == "deg" else f" {SHOWN.get(code, code)}"

    @property
    def advice(self) -> str:
        return self.spot.extra("advice") or "correct it"

    @property
    def span(self) -> str:
        """The limits in words, empty where there are none."""
        low, high = limits(self.spot.field)
        return "" if low is None or high is None else f"between {low:g} and {high:g}{self.unit}"

    @property
    def or_nothing(self) -> str:
        """How to end a sentence about a field that may be left out."""
        return "" if self.spot.field is None or self.spot.field.is_required() else ", or leave it out"


def missing(wrong: Wrong) -> str:
    return f"{wrong.label} is missing and must be given; " + (f"add a number {wrong.span}" if wrong.span else "add it")


def unknown(wrong: Wrong) -> str:
    known = [] if wrong.spot.parent is None else list(wrong.spot.parent.model_fields)
    near = difflib.get_close_matches(str(wrong.spot.last)[:LONGEST_SHOWN], known, 1, 0.75)
    change = f"write {near[0]} if that was meant, or remove it" if near else "remove it or correct its name"
    holder = wrong.spot.holder
    holder = holder if holder.startswith("the ") or holder[-1].isdigit() else f"the {holder}"
    return f"{wrong.label} is not a field of {holder}; its fields are {', '.join(known)}; {change}"


def out_of_range(wrong: Wrong) -> str:
    return f"{wrong.label} is {wrong.value}; it must be {wrong.span}; {wrong.advice}"


def not_a_number(wrong: Wrong) -> str:
    if isinstance(wrong.given, float):
        return f"{wrong.label} is {shown(wrong.given)}, not a finite number; write a number {wrong.span}{wrong.or_nothing}"
    if isinstance(wrong.given, str) and re.fullmatch(r"\s*-?\d+([.,]\d+)?\s*", wrong.given):
        return f"{wrong.label} is {wrong.value} in quotes; write the number {wrong.span} without quotes{wrong.or_nothing}"
    return f"{wrong.label} is {wrong.value}, not a number; write a number {wrong.span}{wrong.or_nothing}"


def not_whole(wrong: Wrong) -> str:
    return f"{wrong.label} is {wrong.value}, not a whole number; write a whole number {wrong.span}{wrong.or_nothing}"


def wrong_count(wrong: Wrong) -> str:
    least, most = length(wrong.spot.field, "min_length"), length(wrong.spot.field, "max_length")
    span = f"exactly {most}" if least == most else f"{least} to {most}"
    few = isinstance(wrong.given, list | tuple) and len(wrong.given) < (least or 0)
    count = len(wrong.given) if isinstance(wrong.given, list | tuple) else 0
    entries = "entry" if count == 1 else "entries"
    change = "add what is missing" if few else "remove what is too much"
    return f"{wrong.label}: the list has {count} {entries}; it must have {span}; {change}"


def not_a_choice(wrong: Wrong) -> str:
    given = wrong.given.get("kind") if "tag" in wrong.context and isinstance(wrong.given, dict) else wrong.given
    expected = str(wrong.context.get("expected_tags") or wrong.context.get("expected"))
    choices = re.split(", | or ", expected.replace("'", ""))
    one = choices[0] if len(choices) == 1 else f"one of {', '.join(choices)}"
    return f"{wrong.label} is {shown(given)}; it must be {one}; write it exactly so"


def no_kind(wrong: Wrong) -> str:
    return f"{wrong.label} is missing; it must be one of {wrong.context['expected_tags']}; add it"


def length_of_text(wrong: Wrong) -> str:
    most = length(wrong.spot.field, "max_length")
    count = len(wrong.given) if isinstance(wrong.given, str) else 0
    if count == 0:
        return f"{wrong.label} is empty; it must have 1 to {most} characters; write something"
    return f"{wrong.label} has {count} characters; at most {most} fit; shorten it"


def wrong_letters(wrong: Wrong) -> str:
    return f"{wrong.label} is {wrong.value}, with characters that cannot stand there; {wrong.advice}"


def half_letter(wrong: Wrong) -> str:
    return f"{wrong.label} holds half a character (a lone surrogate), which no text may hold; type it again"


def not_a_text(wrong: Wrong) -> str:
    return f"{wrong.label} is {shown(wrong.given)}, not a text; write it in quotes{wrong.or_nothing}"


def not_a_list(wrong: Wrong) -> str:
    return f"{wrong.label}: a list is needed and {shown(wrong.given)} was given; write it in square brackets{wrong.or_nothing}"


def not_an_object(wrong: Wrong) -> str:
    return f"{wrong.label} is {shown(wrong.given)}, not an object with fields; write it in curly brackets{wrong.or_nothing}"


def unfit(wrong: Wrong) -> str:
    return f"{wrong.label} is {wrong.value}, which cannot stand there; {wrong.advice}"


SENTENCES: dict[str, tuple[str, Callable[[Wrong], str]]] = {
    "missing": ("missing", missing),
    "extra_forbidden": ("unknown_field", unknown),
    "greater_than_equal": ("out_of_range", out_of_range),
    "less_than_equal": ("out_of_range", out_of_range),
    "float_type": ("not_a_number", not_a_number),
    "finite_number": ("not_a_number", not_a_number),
    "int_type": ("not_whole", not_whole),
    "int_from_float": ("not_whole", not_whole),
    "too_short": ("wrong_count", wrong_count),
    "too_long": ("wrong_count", wrong_count),
    "union_tag_invalid": ("not_a_choice", not_a_choice),
    "union_tag_not_found": ("not_a_choice", no_kind),
    "literal_error": ("not_a_choice", not_a_choice),
    "int_parsing_size": ("not_a_choice", lambda wrong: f"{wrong.label} is {shown(wrong.given)}; it must be 1; write 1"),
    "string_too_long": ("not_a_text", length_of_text),
    "string_too_short": ("not_a_text", length_of_text),
    "string_pattern_mismatch": ("not_a_text", wrong_letters),
    "string_unicode": ("not_a_text", half_letter),
    "string_type": ("not_a_text", not_a_text),
    "tuple_type": ("wrong_shape", not_a_list),
    "model_type": ("wrong_shape", not_an_object),
    "model_attributes_type": ("wrong_shape", not_an_object),
}
"""Our own code, and the sentence, for each kind of error of the validation library."""


def problem(line: Any, whole: type[BaseModel] = Design) -> Problem:
    """Turn one validation error of a design, or of its site alone, into a problem with a sentence."""
    kind, context = line["type"], line.get("ctx", {})
    path = list(line["loc"])
    if kind == "clash":
        spot = locate([*path, *(int(part) if part.isdigit() else part for part in context["field"].split("/"))], whole)
        return Problem(spot.pointer, context["code"], in_its_row(context["sentence"], spot.label))
    if kind.startswith("union_tag"):
        context = {**context, "tag": True, "expected_tags": ", ".join(kinds(locate(path, whole).field))}
        path.append("kind")
    given = line["input"]
    if kind == "float_type" and isinstance(given, int) and not isinstance(given, bool):
        kind = "less_than_equal"  # a whole number too long for any float
    code, sentence = SENTENCES.get(kind, ("wrong_value", unfit))
    spot = locate(path, whole)
    low, high = limits(spot.field)
    if code == "wrong_count":
        low, high = length(spot.field, "min_length"), length(spot.field, "max_length")
    return Problem(spot.pointer, code, sentence(Wrong(spot, given, context)), low, high)


def in_its_row(sentence: str, label: str) -> str:
    """A sentence that begins with the plain name of a field, with the row it stands in put behind the name.

    Examples
    --------
    >>> in_its_row("height is missing; add it", "height (skyline point 8)")
    'height (skyline point 8) is missing; add it'
    """
    plain = label.split(" (")[0]
    return label + sentence[len(plain) :] if sentence.startswith(plain + " is ") else sentence


def without_echoes(problems: list[Problem]) -> list[Problem]:
    """Drop "too few entries" where the entries were there but wrong: they have their own sentences."""
    pointers = [found.pointer for found in problems]
    return [
        found
        for found in problems
        if found.code != "wrong_count" or not any(pointer.startswith(found.pointer + "/") for pointer in pointers)
    ]


def shown(value: object) -> str:
    """A given value in a message: short, printable, never a whole document.

    Examples
    --------
    >>> shown(-1e9), shown(True), shown("a\\nb"), shown(10**400)
    ('-1000000000', 'true', '"a?b"', 'a number of 401 digits')
    """
    if value is None or isinstance(value, bool):
        return {None: "nothing (null)", True: "true", False: "false"}[value]
    if isinstance(value, int) and abs(value) >= 10**15:
        digits = int(abs(value).bit_length() * math.log10(2)) + 1
        return f"a number of {digits - (abs(value) < 10 ** (digits - 1))} digits"
    if isinstance(value, int | float):
        return f"{value:.12g}" if math.isfinite(value) else "NaN" if math.isnan(value) else "infinite"
    if isinstance(value, str):
        return quoted(value)
    return "an object" if isinstance(value, dict) else "a list" if isinstance(value, list | tuple) else "something else"
