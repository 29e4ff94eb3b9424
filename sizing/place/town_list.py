"""The list of towns that ships with the project, and how names are compared.

GeoNames, CC BY 4.0; ``data/README.md`` says how the list was cut. Names are compared folded: small letters
without accents, hyphens as spaces, no apostrophes, "St" and "Sankt" written out as "Saint".
"""

import re
import unicodedata
from array import array
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

TOWN_LIST = Path(__file__).parents[1] / "data" / "towns.npz"
TOWN_SOURCE = "geonames"
DEGREE_UNIT = 1e-4
"""[deg] What one count of latitude and longitude stands for in the list."""
NO_TOWN = 65535
"""Stands in the list where no larger town is near."""
NO_STATE = 255

LETTERS = str.maketrans(
    {"ł": "l", "Ł": "l", "đ": "d", "Đ": "d", "ð": "d", "Ð": "d", "ø": "o", "Ø": "o", "ħ": "h", "Ħ": "h", "ı": "i"}
    | {"ə": "e", "Ə": "e", "ß": "ss", "ẞ": "ss", "æ": "ae", "Æ": "ae", "œ": "oe", "Œ": "oe", "þ": "th", "Þ": "th"}
    | dict.fromkeys("'‘’ʻʼʹ′`´")
)
"""Letters that do not come apart into a plain letter and its accent; apostrophes vanish."""
SHORT_WORDS = (
    (re.compile(r"\b(?:sankt|sint)\b|\bst(?= \w)"), "saint"),
    (re.compile(r"\bste(?= \w)"), "sainte"),
    (re.compile(r"\bmt(?= \w)"), "mount"),
    (re.compile(r"\bft(?= \w)"), "fort"),
)
USUAL_COUNTRY_NAMES = {
    "america": "US",
    "britain": "GB",
    "burma": "MM",
    "cape verde": "CV",
    "congo": "CD",
    "cote divoire": "CI",
    "czech republic": "CZ",
    "east timor": "TL",
    "england": "GB",
    "great britain": "GB",
    "holland": "NL",
    "korea": "KR",
    "macedonia": "MK",
    "northern ireland": "GB",
    "palestine": "PS",
    "scotland": "GB",
    "swaziland": "SZ",
    "turkiye": "TR",
    "uae": "AE",
    "uk": "GB",
    "united states of america": "US",
    "wales": "GB",
}
"""What people also call a country, folded, and its code (from memory)."""


@dataclass(frozen=True)
class Town:
    """A place of the list.

    Region is the state in the United States, elsewhere "near" and the nearest larger town of at least 200,000
    people within 300 km, or empty. Latitude (north positive) and longitude (east positive) [deg]; time zone by
    its name in the tz database; population, 0 where the list does not know it.
    """

    name: str
    region: str
    country: str
    country_code: str
    latitude: float
    longitude: float
    time_zone: str
    population: int


@dataclass(frozen=True, eq=False)
class Lines:
    """Folded names with a newline before and after each; where each ends; which town (row) it names."""

    text: bytes
    ends: "array[int]"
    rows: "array[int]"


@dataclass(frozen=True, eq=False)
class TownList:
    """The list, largest town first: columns by name, texts, and folded names to search.

    ``words`` are the names, ``squeezed`` the same without spaces, ``alternates`` further names, squeezed too;
    ``areas`` tells the columns and counts that a folded
    name or code stands for: of a country, of a state, of a larger town that others are near.
    """

    columns: dict[str, NDArray[np.int64]]
    names: list[str]
    time_zones: list[str]
    countries: list[list[str]]
    states: list[list[str]]
    words: Lines
    squeezed: Lines
    alternates: Lines
    areas: dict[str, list[tuple[str, int]]]


def folded(text: str) -> str:
    """Text as names are compared; each line stays a line.

    Examples
    --------
    >>> folded("St. Étienne-du-Rouvray"), folded("Coeur d'Alene"), folded("ŁÓDŹ  !")
    ('saint etienne du rouvray', 'coeur dalene', 'lodz')
    """
    plain = unicodedata.normalize("NFKD", text.translate(LETTERS)).encode("ascii", "ignore").decode().lower()
    plain = re.sub(r" ?\n ?", "\n", re.sub(r"[^a-z0-9\n]+", " ", plain)).strip(" ")
    for word, whole in SHORT_WORDS:
        plain = word.sub(whole, plain)
    return plain


def searchable(names: str, rows: NDArray[np.int64]) -> Lines:
    """Names parted by newlines, with the row of each."""
    text = b"\n" + names.encode("ascii") + b"\n"
    ends = np.flatnonzero(np.frombuffer(text, np.uint8) == ord("\n"))[1:]
    return Lines(text, array("I", ends.tolist()), array("I", rows.tolist()))


@lru_cache(maxsize=1)
def town_list() -> TownList:
    """The shipped list, read once."""
    with np.load(TOWN_LIST) as file:
        tables = {name: file[name] for name in file.files}
    names, alternates, *texts = (
        tables.pop(name).tobytes().decode() for name in ("name", "alternate", "time_zones", "countries", "states")
    )
    countries, states = ([line.split("\t") for line in text.split("\n")] for text in texts[1:])
    rows = np.arange(len(tables["latitude"]))
    blocks = alternates.split("\0")
    words = folded(names)
    words_of = words.split("\n")
    return TownList(
        columns=tables,
        names=names.split("\n"),
        time_zones=texts[0].split("\n"),
        countries=countries,
        states=states,
        words=searchable(words, rows),
        squeezed=searchable(words.replace(" ", ""), rows),
        alternates=searchable(
            "\n".join(block for block in blocks if block),
            np.repeat(rows[: len(blocks)], [block.count("\n") + 1 if block else 0 for block in blocks]),
        ),
        areas=areas(countries, states, {int(row): words_of[row] for row in np.unique(tables["near"]) if row != NO_TOWN}),
    )


def areas(countries: list[list[str]], states: list[list[str]], larger: dict[int, str]) -> dict[str, list[tuple[str, int]]]:
    """Columns and counts that each folded name or code stands for; "georgia" and "ca" are a country and a state.

    Examples
    --------
    >>> areas([["GE", "GEO", "Georgia"]], [["GA", "Georgia"]], {7: "tbilisi"})["georgia"]
    [('country', 0), ('state', 0)]
    """
    found: dict[str, list[tuple[str, int]]] = {}
    for column, places in (("country", countries), ("state", states)):
        for count, place in enumerate(places):
            usual = [word for word, code in USUAL_COUNTRY_NAMES.items() if column == "country" and code == place[0]]
            for word in dict.fromkeys([*(folded(part).removeprefix("the ") for part in place), *usual]):
                found.setdefault(word, []).append((column, count))
    for row, word in larger.items():
        found.setdefault(word, []).append(("near", row))
    return found


def town(row: int) -> Town:
    """The town in a row of the list, 0 the largest.

    Examples
    --------
    >>> town(0).country
    'China'
    """
    whole = town_list()
    columns = {name: int(column[row]) for name, column in whole.columns.items()}
    code, _, country = whole.countries[columns["country"]]
    region = f"near {whole.names[columns['near']]}" if columns["near"] != NO_TOWN else ""
    return Town(
        name=whole.names[row],
        region=whole.states[columns["state"]][1] if columns["state"] != NO_STATE else region,
        country=country,
        country_code=code,
        latitude=round(columns["latitude"] * DEGREE_UNIT, 4),
        longitude=round(columns["longitude"] * DEGREE_UNIT, 4),
        time_zone=whole.time_zones[columns["time_zone"]],
        population=columns["population"],
    )


def town_positions() -> tuple[Array, Array]:
    """Latitude and longitude [deg] of every town, in the order of the rows.

    Examples
    --------
    >>> latitude, longitude = town_positions()
    >>> bool((abs(latitude) <= 90).all()), bool((abs(longitude) <= 180).all())
    (True, True)
    """
    columns = town_list().columns
    return np.asarray(columns["latitude"] * DEGREE_UNIT), np.asarray(columns["longitude"] * DEGREE_UNIT)
