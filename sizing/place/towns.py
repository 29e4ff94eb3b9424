"""Finding a town by what people write: "koln", "St Louis", "Springfield, IL", "Tamale Ghana".

The list ships with the project (``town_list``), so that a search asks nobody. Names that are the query come
first ("roma" is another name of Rome), then those that begin with it, those with a word that begins with it,
those of which another name begins with it, those that hold it anywhere; among equals the larger town.
"""

from bisect import bisect_left
from collections.abc import Iterator
from itertools import islice

import numpy as np
from numpy.typing import NDArray

from sizing.place.town_list import Lines, Town, folded, town, town_list

Rows = NDArray[np.bool_]

LONGEST_QUERY = 200
"""Letters; more is no name of a town."""
MOST_WORDS, MOST_AREA_WORDS, MOST_AREAS = 16, 8, 4
"""Words of a name with its areas, words of an area, areas after commas; more is a text, not a town."""
LONGEST_CODE = 3
SHORTEST_BEGINNING = 3
"""Letters of a state or country after a comma that are enough to mean it: "Springfield, Ill"."""
SHORTEST_WITHOUT_SPACES = 4
"""Letters from which on "newyork" begins New York City, and other names are searched by their beginning."""
SHORTEST_INSIDE = 3
"""Letters from which on a name is also searched in its middle."""


def find_towns(query: str, most: int = 12) -> tuple[Town, ...]:
    """Towns that a query may mean, best first.

    Parameters
    ----------
    query : a name in Latin letters, with or without accents; a state, a country or its code may follow, best
        after a comma. A code that leaves nothing, or an area that is unknown, is passed over.
    most : how many at most

    Returns
    -------
    towns : empty where nothing fits

    Examples
    --------
    >>> [(found.name, found.country_code) for found in find_towns("koln", 1)]
    [('Köln', 'DE')]
    >>> [found.region for found in find_towns("Springfield, IL", 1)]
    ['Illinois']
    >>> find_towns("(")
    ()
    """
    if most < 1 or len(query) > LONGEST_QUERY:
        return ()
    name, *areas = [part for part in (folded(" ".join(part.split())) for part in query.split(",")) if part] or [""]
    if not name or name.count(" ") >= MOST_WORDS:
        return ()
    meant = [(area, rows) for area in areas[:MOST_AREAS] if (rows := rows_of_area(area, beginnings=True)) is not None]
    found = rows_by_name(name, both(rows for _, rows in meant), most)
    if not found:
        sure = [rows for area, rows in meant if len(area) > LONGEST_CODE]
        found = rows_by_name(name, both(sure), most) if len(sure) < len(meant) else []
    return tuple(town(row) for row in found)


def both(areas: "Iterator[Rows] | list[Rows]") -> Rows | None:
    """The towns that lie in all of these areas; None where there is no area."""
    inside = None
    for rows in areas:
        inside = rows if inside is None else inside & rows
    return inside


def rows_of_area(area: str, beginnings: bool = False, alone: bool = False) -> Rows | None:
    """The towns of a country or state, by folded name or code, and those near a larger town; None if it is unknown.

    ``beginnings`` where the first letters of a country or state are enough, ``alone`` where a larger town is no area.
    """
    whole = town_list()
    area = area.removeprefix("the ").removeprefix("near ")
    meant = [place for place in whole.areas.get(area, []) if not alone or place[0] != "near"]
    if not meant and beginnings and len(area) >= SHORTEST_BEGINNING:
        meant = [place for name, places in whole.areas.items() if name.startswith(area) for place in places if place[0] != "near"]
    inside = np.zeros(len(whole.names), bool)
    for column, count in meant:
        inside |= whole.columns[column] == count
    return inside if meant else None


def rows_by_name(name: str, inside: Rows | None, most: int) -> list[int]:
    """Rows for a name that may be followed by an area without a comma, or may be an area itself.

    The whole is a name if any town has it; else trailing words are read as an area ("paris texas"); else the
    whole is an area, and its largest towns are meant; else the leading words are a name and the rest is unknown.
    """
    found = rows_by_word(name, inside, most)
    words = name.split(" ")
    for kept in range(max(1, len(words) - MOST_AREA_WORDS), 1 if found else len(words)):
        area = rows_of_area(" ".join(words[kept:]))
        found = found or (rows_by_name(" ".join(words[:kept]), within(area, inside), most) if area is not None else [])
    area = rows_of_area(name, alone=True) if len(name) >= LONGEST_CODE else None
    if area is not None:
        found = joined(found, np.flatnonzero(within(area, inside)).tolist(), most)
    found = joined(found, rows_holding(name, inside, most), most)
    for kept in range(len(words) - 1, 0, -1):
        found = found or rows_named(" ".join(words[:kept]), inside, most)
    return found


def within(area: Rows, inside: Rows | None) -> Rows:
    """The towns of an area that lie inside another one, if there is one."""
    return area if inside is None else inside & area


def joined(first: list[int], more: list[int], most: int) -> list[int]:
    """Rows of both lists in order, each once."""
    return list(dict.fromkeys([*first, *more]))[:most]


def rows_named(name: str, inside: Rows | None, most: int) -> list[int]:
    """Rows of which the name, or another name, is this one."""
    whole, line = town_list(), f"\n{name.replace(' ', '')}\n"
    return collected([(whole.squeezed, line), (whole.alternates, line)], inside, most)


def rows_by_word(name: str, inside: Rows | None, most: int) -> list[int]:
    """Rows whose name is this one, begins with it or has a word that begins with it; then those by another name."""
    whole, squeezed = town_list(), name.replace(" ", "")
    tiers = [(whole.squeezed, f"\n{squeezed}\n"), (whole.alternates, f"\n{squeezed}\n")]
    if len(squeezed) >= SHORTEST_WITHOUT_SPACES:
        tiers += [(whole.squeezed, f"\n{squeezed}"), (whole.words, f" {name}"), (whole.alternates, f"\n{squeezed}")]
    else:
        tiers += [(whole.words, f"\n{name}"), (whole.words, f" {name}")]
    return collected(tiers, inside, most)


def rows_holding(name: str, inside: Rows | None, most: int) -> list[int]:
    """Rows whose name holds these letters anywhere."""
    squeezed = name.replace(" ", "")
    return collected([(town_list().squeezed, squeezed)], inside, most) if len(squeezed) >= SHORTEST_INSIDE else []


def collected(tiers: list[tuple[Lines, str]], inside: Rows | None, most: int) -> list[int]:
    """Rows of each tier in turn, each row once, until there are enough."""
    found: dict[int, None] = {}
    for names, pattern in tiers:
        new = (row for row in hits(names, pattern) if row not in found and (inside is None or inside[row]))
        found |= dict.fromkeys(islice(new, most - len(found)))
    return list(found)


def hits(names: Lines, pattern: str) -> Iterator[int]:
    """Rows of the lines that hold a pattern, each once, largest town first; a newline in it stands for an end of the line.

    Examples
    --------
    >>> list(hits(town_list().words, "\\nljubljana\\n")) == list(hits(town_list().words, "bljana"))
    True
    """
    wanted = pattern.encode("ascii")
    last = -1
    at = names.text.find(wanted)
    while at >= 0:
        line = bisect_left(names.ends, at + 1)
        if names.rows[line] != last:  # further names of a town stand together
            last = names.rows[line]
            yield last
        at = names.text.find(wanted, names.ends[line])
