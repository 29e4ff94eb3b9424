"""What if: each change as a row whose button sizes it, at an address of its own.

The button sends all answers with the name of the change; the answers with the change put in are led on to. A link for
each change would carry the whole design once more for each.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sizing.foundation import LITRE, LITRE_PER_MINUTE, MINUS, SPACE, figures, length_unit
from sizing.report import Change, Report, WhatIf, changes_of
from web.forms.fields import name_of
from web.forms.form import understand

WHAT_IF = "what_if"
"""Name of the field that says which change was pressed."""


@dataclass(frozen=True)
class Row:
    """A change: its name, its words, and what it makes different."""

    key: str
    words: str
    water: str
    jet: str
    hours: str
    verdict: str


def changed_texts(texts: Mapping[str, str], change: Change) -> dict[str, str]:
    """The answers of the form with a change put in."""
    found = dict(texts)
    for pointer, value in change.settings:
        name = name_of(pointer)
        for part, new in value.items() if isinstance(value, dict) else ((None, value),):
            found[f"{name}.{part}" if part else name] = f"{new:.12g}" if isinstance(new, float) else str(new)
    return found


def with_change(fields: Mapping[str, str]) -> dict[str, str]:
    """What was sent with the change that was pressed put in, the moment kept; as it was where there is no such change."""
    key, texts = fields.get(WHAT_IF, ""), {name: text for name, text in fields.items() if name != WHAT_IF}
    design = understand(texts).design
    change = None if design is None else next((found for found in changes_of(design) if found.key == key), None)
    return texts if change is None else changed_texts(texts, change)


def rows(report: Report, found: tuple[WhatIf, ...], jetless: bool) -> tuple[Row, ...]:
    """The table, in the order of the path."""
    unit, per_metre = length_unit(max((each.jet for each in found), default=0.0))
    finest = 0.1 if unit == "cm" else 0.01
    said = []
    for each in found:
        share = each.more_water / report.year.water if report.year.water > 0 else None
        water = signed(each.more_water / LITRE, "L", 1 if share is None else 0.001 * report.year.water / LITRE)
        water += "" if share is None else f" ({signed(100 * share, '%', 0.1)})"
        if jetless:
            jet = signed(each.more_flow / LITRE_PER_MINUTE, "L/min", 0.1)
        else:
            jet = signed(each.more_jet * per_metre, unit, finest)
        hours = signed(each.more_hours, "h", 1)
        said.append(Row(each.change.key, each.change.words, water, jet, hours, each.verdict))
    return tuple(said)


def signed(value: float, unit: str, finest: float) -> str:
    """A difference with its sign, two figures; less than half of the finest is none.

    Examples
    --------
    >>> [signed(value, "h", 1).replace("\N{NO-BREAK SPACE}", " ") for value in (412.3, -7.3, 0.31)]
    ['+410 h', '−7.3 h', '0 h']
    """
    if abs(value) < 0.5 * finest:
        return f"0{SPACE}{unit}"
    return f"{'+' if value > 0 else MINUS}{figures(abs(value), 2)}{SPACE}{unit}"


@dataclass(frozen=True)
class Age:
    """An age and what it is made of: words of the parts that rest on the same, what that is, and its source key."""

    words: str
    parts: tuple[tuple[str, str, str], ...]


def ages_told(found: Iterable[WhatIf]) -> tuple[Age, ...]:
    """What each age is made of."""
    told = []
    for each in found:
        grounds = dict.fromkeys((wear.basis, wear.source) for wear in each.change.parts)
        parts = tuple(
            (", ".join(wear.words for wear in each.change.parts if wear.source == source), basis, source)
            for basis, source in grounds
        )
        told.append(Age(each.change.words[0].upper() + each.change.words[1:], parts))
    return tuple(age for age in told if age.parts)
