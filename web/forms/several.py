"""Several panels and pumps among the texts of a form: how many, which are sized, one more, one less, one alike.

A text is named by the position of its panel or pump, counted from 0: ``pumps.2.rated_voltage_v``. One is there as soon
as any of its texts is filled; a new one is there by its id. ``chosen.pump`` holds the position of the one that is sized.
"""

import re
from collections.abc import Mapping

Texts = dict[str, str]

MOST = {"panels": 6, "pumps": 12}
WORDS = {"panels": "panel", "pumps": "pump"}
MEMBER = re.compile(r"(panels|pumps)\.(0|[1-9][0-9]?)\.(.+)", re.DOTALL)
LONGEST_NAME = 80
OF_A_COPY = re.compile(r", copy( [0-9]{1,2})?$")
ALWAYS = ("id", "position", "known")
"""What a panel or pump has even while nothing was typed for it."""
OPEN = "open"
"""Name of the text that says which one was added or copied last and stands open."""


def positions(texts: Mapping[str, str], key: str) -> list[int]:
    """Positions that hold anything, rising."""
    found = {
        int(match[2])
        for name, text in texts.items()
        if name.startswith(key) and text.strip() and (match := MEMBER.fullmatch(name))
    }
    return sorted(found)


def count(texts: Mapping[str, str], key: str) -> int:
    """How many panels or pumps the texts of a form hold, their positions without gaps; at least one.

    Examples
    --------
    >>> count({"pumps.0.name": "Old", "pumps.1.name": "New"}, "pumps"), count({}, "panels")
    (2, 1)
    """
    return max(len(positions(texts, key)), 1)


def chosen_position(texts: Mapping[str, str], key: str) -> int:
    """Position of the one that is sized: the first where nothing fits."""
    text = texts.get(f"chosen.{WORDS[key]}", "").strip()
    return int(text) if text in [str(position) for position in range(count(texts, key))] else 0


def without_gaps(texts: Mapping[str, str]) -> Texts:
    """The texts with positions counted on from 0, as after one was left out.

    Examples
    --------
    >>> without_gaps({"pumps.0.name": "Old", "pumps.4.name": "New", "chosen.pump": "4"})
    {'pumps.0.name': 'Old', 'pumps.1.name': 'New', 'chosen.pump': '1'}
    """
    found = dict(texts)
    for key in MOST:
        there = positions(found, key)
        if there and there != list(range(len(there))):
            found = moved(found, key, {old: new for new, old in enumerate(there)})
    return found


def moved(texts: Mapping[str, str], key: str, places: Mapping[int, int]) -> Texts:
    """The texts with panels or pumps at new positions; those without a place are left out, and the first is sized for them."""
    chosen = f"chosen.{WORDS[key]}"
    found: Texts = {}
    for name, text in texts.items():
        match = MEMBER.fullmatch(name) if name.startswith(key) else None
        if match is None:
            found[name] = text
        elif int(match[2]) in places:
            found[f"{key}.{places[int(match[2])]}.{match[3]}"] = text
    if text := texts.get(chosen, "").strip():
        old = int(text) if text.isascii() and text.isdigit() and len(text) < 3 else -1
        found[chosen] = str(places.get(old, 0)) if 0 <= old < MOST[key] else text
    return found


def only_chosen(texts: Mapping[str, str]) -> Texts:
    """The texts with the panel and the pump that are sized alone."""
    found = dict(texts)
    for key in MOST:
        if count(found, key) > 1:
            found = moved(found, key, {chosen_position(found, key): 0})
    return found


def added(texts: Mapping[str, str], key: str) -> Texts:
    """One more at the end, with nothing but an id of its own; all as before where the most are there."""
    at = count(texts, key)
    return dict(texts) if at >= MOST[key] else with_ids(texts, key) | {f"{key}.{at}.id": new_id(texts, key)}


def copied(texts: Mapping[str, str], key: str, position: int) -> Texts:
    """One more right behind the one that it is alike to; all as before where the most are there or nothing stands there."""
    number = count(texts, key)
    if number >= MOST[key] or position >= number:
        return dict(texts)
    texts = with_ids(texts, key)
    found = moved(texts, key, {old: old + (old > position) for old in range(number)})
    base, new = f"{key}.{position}.", f"{key}.{position + 1}."
    found |= {new + name.removeprefix(base): text for name, text in texts.items() if name.startswith(base)}
    return found | {f"{new}id": new_id(texts, key), f"{new}name": name_of_copy(texts, key, position)}


def name_of_copy(texts: Mapping[str, str], key: str, position: int) -> str:
    """A name for a copy that none has yet.

    Examples
    --------
    >>> name_of_copy({"pumps.0.name": "Old", "pumps.1.name": "Old, copy"}, "pumps", 1)
    'Old, copy 2'
    """
    taken = [texts.get(f"{key}.{other}.name", "").strip() for other in range(count(texts, key))]
    name = OF_A_COPY.sub("", taken[position])
    endings = ("", *(f" {number}" for number in range(2, MOST[key] + 1)))
    names = (f"{name[: LONGEST_NAME - len(', copy 12')]}, copy{ending}" for ending in endings)
    return next(each for each in names if each not in taken) if name else ""


def removed(texts: Mapping[str, str], key: str, position: int) -> Texts:
    """One less, never the last one; the first is sized where the one that was is gone."""
    number = count(texts, key)
    if number == 1 or position >= number:
        return dict(texts)
    kept = [old for old in range(number) if old != position]
    return moved(texts, key, {old: new for new, old in enumerate(kept)})


def with_ids(texts: Mapping[str, str], key: str) -> Texts:
    """The texts with an id for each, so that an empty one is not lost."""
    return dict(texts) | {f"{key}.{position}.id": text for position, text in enumerate(ids(texts, key))}


def ids(texts: Mapping[str, str], key: str) -> list[str]:
    """Ids by position: those given, and others where there are none or one stands twice.

    Examples
    --------
    >>> ids({"pumps.0.name": "Old", "pumps.1.id": "pump-1", "pumps.2.id": "pump-1"}, "pumps")
    ['pump-2', 'pump-1', 'pump-3']
    """
    number = count(texts, key)
    given = [texts.get(f"{key}.{position}.id", "").strip() for position in range(number)]
    if given == [""]:
        return [WORDS[key]]
    found: list[str] = []
    for position, text in enumerate(given):
        fits = bool(text) and text not in given[:position]
        found.append(text if fits else unused(WORDS[key], [*given, *found]))
    return found


def new_id(texts: Mapping[str, str], key: str) -> str:
    """An id that no panel or pump of the texts has."""
    return unused(WORDS[key], ids(texts, key))


def unused(word: str, taken: list[str]) -> str:
    """The word with the first number, from their count on, that makes it one of a kind."""
    numbers = range(1, len(taken) + 2)
    return next(name for number in numbers if (name := f"{word}-{number}") not in taken)


def is_blank(texts: Mapping[str, str], base: str) -> bool:
    """Whether nothing was typed for a panel or pump."""
    own = {f"{base}.{name}" for name in ALWAYS}
    return not any(text.strip() for name, text in texts.items() if name.startswith(f"{base}.") and name not in own)


def pressed(fields: Mapping[str, str], texts: Mapping[str, str]) -> tuple[Texts, str]:
    """The texts after the button that was pressed, and the panel or pump to look at next.

    Parameters
    ----------
    fields : as sent; ``add`` names a series, ``copy`` and ``remove`` one of its members
    texts : those of them that are the form's

    Examples
    --------
    >>> pressed({"add": "pumps"}, {"pumps.0.name": "Old"})
    ({'pumps.0.name': 'Old', 'pumps.0.id': 'pump', 'pumps.1.id': 'pump-1', 'open': 'pumps.1'}, 'pumps.1')
    """
    plain = {name: text for name, text in texts.items() if name != OPEN}
    key = fields.get("add", "")
    if key in MOST:
        found, at = added(plain, key), count(plain, key)
        return shown(found, key, at)
    for act, change, step in (("copy", copied, 1), ("remove", removed, 0)):
        key, _, place = fields.get(act, "").partition(".")
        if key in MOST and place in [str(position) for position in range(MOST[key])]:
            return shown(change(plain, key, int(place)), key, int(place) + step, stays_open=step == 1)
    return plain, ""


def shown(texts: Texts, key: str, position: int, stays_open: bool = True) -> tuple[Texts, str]:
    """The texts with a mark of what stands open, and its name; the last one where there is none at the position."""
    name = f"{key}.{min(position, count(texts, key) - 1)}"
    return (texts | {OPEN: name} if stays_open else texts), name
