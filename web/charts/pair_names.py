"""Panels, pumps and pairs by their numbers and names: numbers as in the form, where ids hardly show."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from sizing.comparison import Comparison, Pair, PairFound
from sizing.foundation import quantity


@dataclass(frozen=True)
class Names:
    """Number (from 1) and name of each panel and pump by its id, and whether pairs differ in how they are joined."""

    panels: Mapping[str, tuple[int, str]]
    pumps: Mapping[str, tuple[int, str]]
    joins_differ: bool


def names_of(found: Comparison) -> Names:
    """Names of everything that was compared."""
    panels = {panel.id: (number, panel.name) for number, panel in enumerate(found.design.panels, 1)}
    pumps = {pump.id: (number, pump.name) for number, pump in enumerate(found.design.pumps, 1)}
    return Names(panels, pumps, len({each.pair.connection for each in found.pairs}) > 1)


def short(names: Names, pair: Pair) -> str:
    """A pair by numbers.

    Examples
    --------
    >>> names = Names({"a": (1, "20 W")}, {"b": (1, "Old"), "c": (2, "New")}, True)
    >>> short(names, Pair("a", "c", "controller"))
    'panel 1, pump 2, controller'
    """
    said = f"panel {names.panels[pair.panel][0]}, pump {names.pumps[pair.pump][0]}"
    return f"{said}, {pair.connection}" if names.joins_differ else said


def full(names: Names, pair: Pair) -> str:
    """A pair by its names, with numbers where several have the same name.

    Examples
    --------
    >>> names = Names({"a": (1, "20 W")}, {"b": (1, "Old"), "c": (2, "Old")}, True)
    >>> full(names, Pair("a", "c", "controller"))
    '20 W with Old (pump 2), behind a controller'
    """
    said = f"{told(names.panels, pair.panel, 'panel')} with {told(names.pumps, pair.pump, 'pump')}"
    if not names.joins_differ:
        return said
    return f"{said}, joined directly" if pair.connection == "direct" else f"{said}, behind a controller"


def with_nozzle(found: PairFound) -> str:
    """What follows the name of a pair whose nozzle is not the design's; nothing where it is.

    Examples
    --------
    >>> with_nozzle(PairFound(Pair("a", "b", "direct"), None, None, 1, bore=8.0))
    ''
    """
    if found.own is None or found.bore is None or found.own.bore is None:
        return ""
    return f" and a nozzle of {quantity(found.bore, 'mm')} instead of {quantity(found.own.bore, 'mm')}"


def told(given: Mapping[str, tuple[int, str]], wanted: str, word: str) -> str:
    """A panel or pump by its name, with its number where that tells it from others."""
    number, name = given[wanted]
    alike = [other for other, (_, its) in given.items() if its == name]
    return f"{name} ({word} {number})" if len(alike) > 1 else name


def by_number(names: Names, sentence: str) -> str:
    """A sentence with numbers in place of ids.

    Examples
    --------
    >>> names = Names({"a.b": (1, "20 W")}, {"q": (3, "Old")}, False)
    >>> by_number(names, "The volts of panel a.b (17.4 V) suit pump q, not panel a.bc.")
    'The volts of panel 1 (17.4 V) suit pump 3, not panel a.bc.'
    """
    for word, given in (("panel", names.panels), ("pump", names.pumps)):
        ids = "|".join(re.escape(each) for each in sorted(given, key=len, reverse=True))
        sentence = re.sub(rf"\b{word} ({ids})(?![\w-])", lambda match: f"{word} {given[match[1]][0]}", sentence)  # noqa: B023
    return sentence
