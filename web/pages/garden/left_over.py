"""Answers of a worked example that belong to its garden alone: they must not stay when somebody names another place.

Trees, note, direction of the panel, title, typed months of sun: whoever changes the town of an example means his or her own.
"""

from collections.abc import Mapping
from functools import lru_cache

from sizing.data import shipped
from sizing.design import parse_design
from web.forms.form import Texts, texts_of
from web.forms.grids import MONTHLY_AIR, MONTHLY_SUN
from web.forms.position import LATITUDE, LONGITUDE

EXAMPLES = shipped("examples/quince_court_jet.json").parent

OF_A_GARDEN = {
    "title": "the name of the design",
    "note": "the note",
    "place.name": "the name of the place",
    "place.elevation_m": "the elevation",
    "place.compass_date": "the day of the compass readings",
    "place.skyline.": "the line of hills and trees",
    "place.coldest_air_c": "the coldest air",
    "place.obstacles.": "the trees and houses",
    "mounting.azimuth_deg": "the direction of the panel",
    "mounting.compass_deg": "the compass reading",
    "sky.origin": "where the months of sun come from",
    f"{MONTHLY_SUN}.": "the months of sun",
    f"{MONTHLY_AIR}.": "the months of air",
}
"""Names of answers, or beginnings of names, that hold in one garden, and what they are."""
FILLED_IN = ("place.name", "place.elevation_m")
"""What a place that was found brings along, or has looked up."""


@lru_cache(maxsize=1)
def all_examples() -> tuple[Mapping[str, str], ...]:
    """The worked examples as the form shows them."""
    return tuple(texts_of(parse_design(path.read_bytes())) for path in sorted(EXAMPLES.glob("*.json")))


def example_of(texts: Mapping[str, str]) -> Mapping[str, str] | None:
    """The example that answers come from: of one title, note or place with them; ``None`` where they are somebody's own."""

    def alike(example: Mapping[str, str], *names: str) -> bool:
        return all(example.get(name) and texts.get(name) == example[name] for name in names)

    for example in all_examples():
        if alike(example, "title") or alike(example, "note") or alike(example, LATITUDE, LONGITUDE):
            return example
    return None


def left_over(texts: Mapping[str, str]) -> dict[str, str]:
    """Answers that are still those of an example's garden: their names, and what they are."""
    example = example_of(texts)
    if example is None:
        return {}
    return {
        name: words
        for name, text in texts.items()
        for beginning, words in OF_A_GARDEN.items()
        if text and (name == beginning or (beginning.endswith(".") and name.startswith(beginning))) and example.get(name) == text
    }


def cleared(texts: Mapping[str, str]) -> tuple[Texts, tuple[str, ...]]:
    """Answers without those of an example's garden, and what was cleared; without months of sun the built-in ones count."""
    gone = left_over(texts)
    kept = {name: text for name, text in texts.items() if name not in gone}
    if any(name.startswith(f"{MONTHLY_SUN}.") for name in gone):
        kept["sky.kind"] = "built_in"
    return kept, tuple(dict.fromkeys(words for name, words in gone.items() if name not in FILLED_IN))


def told(text: str) -> tuple[str, ...]:
    """What was cleared, from the words that an address carries; others are nobody's."""
    return tuple(words for words in dict.fromkeys(OF_A_GARDEN.values()) if words in text.split("; "))


def moved_away(texts: Mapping[str, str]) -> tuple[str, ...]:
    """What is still an example's although the coordinates are somebody's own; empty where nothing is."""
    example = example_of(texts)
    if example is None or all(texts.get(name) == example.get(name) for name in (LATITUDE, LONGITUDE)):
        return ()
    return tuple(dict.fromkeys(left_over(texts).values()))
