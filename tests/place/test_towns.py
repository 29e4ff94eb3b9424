"""Towns: the list as it ships, names as people write them, order judged by a plain search of every town."""

import hashlib
import random
import re
from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sizing.foundation.sources import SOURCES
from sizing.place.place import distance
from sizing.place.town_list import NO_STATE, NO_TOWN, TOWN_LIST, TOWN_SOURCE, Town, folded, town, town_list, town_positions
from sizing.place.towns import find_towns
from tests.draws import drawn

README = (Path(TOWN_LIST).parent / "README.md").read_text(encoding="utf-8")


def first(query: str) -> Town:
    return find_towns(query)[0]


def labels(query: str) -> list[str]:
    return [f"{found.name}, {found.region or found.country}" for found in find_towns(query)]


# The list


def test_the_list_is_small_and_is_the_one_that_the_readme_describes() -> None:
    assert TOWN_LIST.stat().st_size < 1_300_000
    assert hashlib.sha256(TOWN_LIST.read_bytes()).hexdigest() in README
    with np.load(TOWN_LIST) as file:
        for name in file.files:
            assert re.search(rf"^{name} +{hashlib.sha256(file[name].tobytes()).hexdigest()}$", README, re.M), name


def test_the_list_is_credited() -> None:
    assert "GeoNames" in README
    assert "CC BY 4.0" in README
    assert "CC BY 4.0" in SOURCES[TOWN_SOURCE].publisher


def test_every_town_is_whole() -> None:
    whole = town_list()
    latitude, longitude = town_positions()
    assert len(whole.names) == len(latitude) == len(longitude) == 34006
    assert all(name.strip() == name and name.isprintable() and name for name in whole.names)
    assert np.all(np.abs(latitude) < 90)
    assert np.all(np.abs(longitude) <= 180)
    assert np.all(np.diff(whole.columns["population"]) <= 0)
    in_states = np.array([whole.countries[count][0] == "US" for count in whole.columns["country"]])
    assert np.array_equal(whole.columns["state"] != NO_STATE, in_states)
    assert np.all(whole.columns["near"][in_states] == NO_TOWN)
    assert len(whole.words.rows) == len(whole.squeezed.rows) == 34006
    assert all(len(line) > 0 for line in whole.words.text.decode().strip("\n").split("\n"))


@pytest.mark.slow
def test_near_is_the_nearest_larger_town_of_the_country_that_is_no_district() -> None:
    whole = town_list()
    latitude, longitude = town_positions()
    near, country, people = (whole.columns[name] for name in ("near", "country", "population"))
    large = np.flatnonzero(people >= 200_000)
    districts = set()
    for one in large:
        away = np.asarray(distance(latitude[one], longitude[one], latitude[large], longitude[large]))
        if np.any((country[large] == country[one]) & (away < 25) & (people[large] >= 3 * people[one])):
            districts.add(int(one))
    for row in random.Random(7).sample(range(34006), 300):
        larger = np.array(
            [one for one in large if country[one] == country[row] and people[one] > people[row] and one not in districts]
        )
        larger = larger.astype(int)
        away = np.asarray(distance(latitude[row], longitude[row], latitude[larger], longitude[larger]))
        within = larger.size and away.min() < 300
        if whole.columns["state"][row] == NO_STATE and within:
            assert distance(latitude[row], longitude[row], latitude[near[row]], longitude[near[row]]) == pytest.approx(
                away.min(), abs=0.1
            )
            assert town(row).region == f"near {whole.names[near[row]]}"
        else:
            assert near[row] == NO_TOWN


# Where towns are: from memory of an atlas, to a tenth of a degree.
@pytest.mark.parametrize(
    ("query", "country", "latitude", "longitude", "zone"),
    [
        ("Ljubljana", "SI", 46.05, 14.51, "Europe/Ljubljana"),
        ("Tamale", "GH", 9.4, -0.84, "Africa/Accra"),
        ("Greensboro", "US", 36.07, -79.79, "America/New_York"),
        ("Sydney", "AU", -33.87, 151.2, "Australia/Sydney"),
        ("Mumbai", "IN", 19.07, 72.88, "Asia/Kolkata"),
        ("Quito", "EC", -0.2, -78.5, "America/Guayaquil"),
        ("Suva", "FJ", -18.14, 178.44, "Pacific/Fiji"),
        ("St. John's, Canada", "CA", 47.56, -52.71, "America/St_Johns"),
    ],
)
def test_where_towns_are(query: str, country: str, latitude: float, longitude: float, zone: str) -> None:
    found = first(query)
    assert (found.country_code, found.time_zone) == (country, zone)
    assert (found.latitude, found.longitude) == pytest.approx((latitude, longitude), abs=0.1)


# Names


@pytest.mark.parametrize(
    ("forms", "name"),
    [
        (["Köln", "koln", "KÖLN", "Ko\u0308ln", "  köln ", "Cologne", "Koeln", "Keulen"], "Köln"),
        (["Munich", "München", "muenchen", "MUNCHEN", "Monaco di Baviera"], "Munich"),
        (["Bombay", "Mumbai", "mumbai"], "Mumbai"),
        (["Wien", "Vienna", "Dunaj", "bécs"], "Vienna"),
        (["Roma", "Rome", "Rim, Italy"], "Rome"),
        (["Praha", "Prag", "Prague"], "Prague"),
        (["Saigon", "Sài Gòn", "Ho Chi Minh", "ho-chi-minh city"], "Ho Chi Minh City"),
        (["St Louis", "St. Louis", "Saint Louis", "SAINT-LOUIS", "St-Louis"], "St. Louis"),
        (["St. Pölten", "Sankt Pölten", "st polten", "Saint Polten"], "Sankt Pölten"),
        (["Coeur d'Alene", "Coeur d’Alene", "coeur d alene", "coeurdalene", "Cœur d'Alene"], "Coeur d'Alene"),
        (["Łódź", "lodz", "LODZ"], "Łódź"),
        (["São Paulo", "sao paulo", "São-Paulo", "saopaulo"], "São Paulo"),
        (["New York", "newyork", "new york city", "New  York"], "New York City"),
        (["Ft Worth", "Fort Worth", "ft. worth"], "Fort Worth"),
        (["Port of Spain", "port-of-spain"], "Port of Spain"),
        (["Santiago de Cuba"], "Santiago de Cuba"),
    ],
)
def test_one_town_in_many_forms(forms: list[str], name: str) -> None:
    assert {form: first(form).name for form in forms} == dict.fromkeys(forms, name)


@pytest.mark.parametrize(
    ("one", "other"), [("St Gallen", "sankt gallen"), ("L'Aquila", "laquila"), ("Stratford-upon-Avon", "stratford upon avon")]
)
def test_forms_of_a_name_find_the_same_towns(one: str, other: str) -> None:
    assert find_towns(one) == find_towns(other) != ()


def test_folding_by_hand() -> None:
    assert folded("Đà Nẵng") == "da nang"
    assert folded("Þórshöfn Æ ß Ø ł") == "thorshofn ae ss o l"
    assert folded("Sault Ste. Marie") == "sault sainte marie"
    assert folded("St") == "st"  # may yet become Stockholm
    assert folded("a\nSt. b\n c ") == "a\nsaint b\nc"
    assert folded("東京") == ""


# Order


@lru_cache(maxsize=1)
def all_names() -> tuple[list[tuple[str, str]], dict[int, list[str]]]:
    """Every town's name in plain letters, with and without spaces, and the other names of some."""
    whole = town_list()
    others: dict[int, list[str]] = {}
    for row, name in zip(whole.alternates.rows, whole.alternates.text.decode().strip("\n").split("\n"), strict=True):
        others.setdefault(row, []).append(name)
    return [(name, name.replace(" ", "")) for name in map(folded, whole.names)], others


def tier(query: str, joined: str, name: str, together: str, others: list[str]) -> int:
    """How well a town fits a query, by reading its names one by one."""
    if joined == together or joined in others:
        return 0 if joined == together else 1
    if name.startswith(query) or (len(query) > 3 and together.startswith(joined)):
        return 2
    if f" {query}" in name:
        return 3
    if len(query) > 3 and any(other.startswith(joined) for other in others):
        return 4
    return 5 if len(query) > 2 and joined in together else 6


@pytest.mark.some(5)
@pytest.mark.parametrize(
    "query", ["san", "springfield", "halle", "paris", "ang", "new", "york", "sao p", "b", "mo", "rivas", "saint", "wien"]
)
def test_order_against_a_plain_search(query: str) -> None:
    names, others = all_names()
    joined, none = query.replace(" ", ""), list[str]()
    ranked = sorted((tier(query, joined, *both, others.get(row, none)), row) for row, both in enumerate(names))
    expected = [town(row) for rank, row in ranked[:12] if rank < 6]
    assert list(find_towns(query)) == expected


def test_more_results_only_follow() -> None:
    long = find_towns("san", 50)
    assert len(long) == 50
    for most in (1, 7, 12, 49):
        assert find_towns("san", most) == long[:most]
    assert find_towns("san", 0) == find_towns("san", -1) == ()


def test_a_search_leaves_no_trace() -> None:
    queries = ["Springfield, IL", "a", "Georgia", "Paris Texas", "zzzz", "san", "St Louis", "Kranj, near Ljubljana"]
    alone = {query: find_towns(query) for query in queries}
    for seed in range(3):
        random.Random(seed).shuffle(queries)
        assert {query: find_towns(query) for query in queries} == alone
    town_list.cache_clear()
    assert {query: find_towns(query) for query in queries} == alone


# Areas


@pytest.mark.parametrize(
    ("query", "name", "region", "country"),
    [
        ("Springfield, IL", "Springfield", "Illinois", "US"),
        ("springfield il", "Springfield", "Illinois", "US"),
        ("Springfield Illinois", "Springfield", "Illinois", "US"),
        ("Springfield, Ill.", "Springfield", "Illinois", "US"),
        ("Springfield, Oregon, USA", "Springfield", "Oregon", "US"),
        ("Springfield Oregon USA", "Springfield", "Oregon", "US"),
        ("Paris, US", "Paris", "Texas", "US"),
        ("Paris Texas", "Paris", "Texas", "US"),
        ("Paris, France", "Paris", "", "FR"),
        ("Tamale Ghana", "Tamale", "", "GH"),
        ("Tamale, gha", "Tamale", "", "GH"),
        ("York, UK", "York", "near Leeds", "GB"),
        ("York England", "York", "near Leeds", "GB"),
        ("Portland, ME", "Portland", "Maine", "US"),
        ("Portland OR", "Portland", "Oregon", "US"),
        ("Kansas City Kansas", "Kansas City", "Kansas", "US"),
        ("New York New York", "New York City", "New York", "US"),
        ("Washington DC", "Washington", "District of Columbia", "US"),
        ("Batumi, Georgia", "Batumi", "near Tbilisi", "GE"),
        ("Atlanta, Georgia", "Atlanta", "Georgia", "US"),
        ("San José Costa Rica", "San José", "", "CR"),
        ("Malabo Equatorial Guinea", "Malabo", "", "GQ"),
        ("Rotterdam, Netherlands", "Rotterdam", "", "NL"),
        ("Rotterdam, The Netherlands", "Rotterdam", "", "NL"),
        ("Castries, St Lucia", "Castries", "", "LC"),
        ("Kranj, near Ljubljana, Slovenia", "Kranj", "near Ljubljana", "SI"),
        ("Munich, Bavaria", "Munich", "", "DE"),  # regions outside the United States are not in the list
        ("Munich Bavaria", "Munich", "", "DE"),
        ("Perth, WA", "Perth", "", "AU"),  # the code of Washington leaves nothing and is passed over
    ],
)
def test_a_state_or_country_narrows(query: str, name: str, region: str, country: str) -> None:
    found = first(query)
    assert (found.name, found.region, found.country_code) == (name, region, country)


def test_narrowed_results_lie_in_the_area() -> None:
    assert {found.region for found in find_towns("s, Illinois")} == {"Illinois"}
    assert {found.country_code for found in find_towns("san, Peru")} == {"PE"}
    assert {(found.region, found.country_code) for found in find_towns("san, GA", 40)} <= {("Georgia", "US")} | {
        (found.region, "GA") for found in find_towns("san, Gabon")
    }


def test_a_known_country_without_such_a_town_finds_nothing() -> None:
    assert find_towns("Paris, Ghana") == ()
    assert find_towns("Ljubljana, Texas") == ()


def test_an_area_alone_means_its_largest_towns() -> None:
    assert [found.name for found in find_towns("Slovenia", 2)] == ["Ljubljana", "Maribor"]
    assert {"Houston, Texas", "Dallas, Texas"} <= set(labels("Texas"))
    assert {"Tbilisi, Georgia", "Atlanta, Georgia"} <= set(labels("Georgia"))


def test_a_shown_town_can_be_looked_up_again() -> None:
    """What a page shows of a town, typed back, finds it."""
    for row in range(0, 34006, 173):
        shown = town(row)
        parts = [shown.name, shown.region, shown.country]
        assert shown in find_towns(", ".join(part for part in parts if part), 60), shown


# Anything at all


@pytest.mark.parametrize(
    "query",
    [
        "",
        " ",
        ",",
        ",,,",
        "\0",
        "\n",
        "\t\r\v",
        "🙂",
        "東京",
        "(",
        "[-",
        ".*",
        "\\",
        "^$",
        "|",
        "?",
        "+",
        "%",
        "'",
        "a" * 300,
        "'; --",
    ],
)
def test_what_is_no_name_finds_nothing(query: str) -> None:
    assert find_towns(query) == ()


@pytest.mark.parametrize(("query", "letters"), [("[a-", "a"), ("%s", "s"), ("(sa)*n+", "sa n"), ("san\\d", "san d")])
def test_signs_of_search_languages_are_only_signs(query: str, letters: str) -> None:
    assert find_towns(query) == find_towns(letters)


@pytest.mark.parametrize("query", ["a\0b", "Ljub\nljana", "\x1bLjubljana", "Ljubljana🙂", ".*Ljubljana$", "\ud800Ljubljana"])
def test_signs_among_the_letters_are_passed_over(query: str) -> None:
    assert isinstance(find_towns(query), tuple)
    if query.count("Ljubljana"):
        assert first(query).name == "Ljubljana"


@pytest.mark.parametrize("letter", "abcdefghijklmnopqrstuvwxyz0æ")
def test_one_letter_begins_the_largest_towns(letter: str) -> None:
    found = find_towns(letter)
    assert found
    assert all(any(word.startswith(folded(letter)) for word in folded(town.name).split()) for town in found)


@drawn(75)
@given(st.text(max_size=40) | st.text("aeiou nstl,'-.", max_size=12), st.integers(-2, 30))
def test_any_query_is_answered(query: str, most: int) -> None:
    found = find_towns(query, most)
    assert len(found) <= max(most, 0)
    assert len(set(found)) == len(found)
    assert find_towns(query.upper(), most) == find_towns(query.lower(), most) or not query.isascii()
