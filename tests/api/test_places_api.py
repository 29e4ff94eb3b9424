"""Finding where a garden is over HTTP: towns, coordinates, and what is refused."""

import json
from typing import Any
from urllib.parse import quote

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pvlib.location import lookup_altitude
from starlette.responses import PlainTextResponse

from api.answers.places import asked_place, places, places_bytes
from api.edge.limits import Front, InFlight
from api.http.examples import EXAMPLE_TEXTS
from sizing.answers.places import PlacesAnswer, kept_elevation
from sizing.foundation.errors import InputError
from sizing.place.towns import find_towns
from tests.asking import PLACES, ask, refused
from tests.draws import drawn

FIELDS = {
    "name",
    "region",
    "country",
    "country_code",
    "latitude_deg",
    "longitude_deg",
    "elevation_m",
    "time_zone",
    "population",
}


def search(text: str, more: str = "") -> Any:
    return ask("GET", f"{PLACES}?q={quote(text)}{more}")


def found(text: str, more: str = "") -> list[dict[str, Any]]:
    """The items of an answer, its shape checked."""
    response = search(text, more)
    assert response.status_code == 200, response.text
    assert response.headers["content-type"] == "application/json"
    answer = response.json()
    assert set(answer) == {"items", "credit"}
    assert answer["credit"] == "GeoNames, CC BY 4.0"
    PlacesAnswer.model_validate(answer)
    items: list[dict[str, Any]] = answer["items"]
    assert all(set(item) == FIELDS for item in items)
    return items


# Towns


def test_a_town_is_found_with_all_that_a_design_needs() -> None:
    town = found("ljubljana", "&most=1")[0]
    assert (town["name"], town["country"], town["country_code"]) == ("Ljubljana", "Slovenia", "SI")
    assert town["time_zone"] == "Europe/Ljubljana"
    # 46 degrees 3 minutes north, 14 degrees 30 minutes east (gazetteers, from memory)
    assert (town["latitude_deg"], town["longitude_deg"]) == pytest.approx((46.05, 14.5), abs=0.03)
    assert 200_000 < town["population"] < 400_000


@pytest.mark.parametrize("text", ["koln", "san, Peru", "Springfield, IL", "santiago", "s", "são paulo", "Kraków"])
def test_towns_come_in_the_order_of_the_search(text: str) -> None:
    assert [(item["name"], item["latitude_deg"], item["population"]) for item in found(text)] == [
        (town.name, town.latitude, town.population) for town in find_towns(text, 12)
    ]


@pytest.mark.parametrize(("more", "count"), [("", 12), ("&most=1", 1), ("&most=7", 7), ("&most=20", 20)])
def test_no_more_towns_than_asked_for(more: str, count: int) -> None:
    assert len(found("san", more)) == count


def test_elevations_are_those_of_the_map() -> None:
    """The judge is pvlib itself."""
    for item in found("la paz"):
        assert item["elevation_m"] == lookup_altitude(item["latitude_deg"], item["longitude_deg"])


def test_a_region_and_a_country_where_there_are_any() -> None:
    assert found("Springfield, IL")[0]["region"] == "Illinois"
    assert {item["country_code"] for item in found("San, Peru")} == {"PE"}


def test_a_larger_number_is_the_longer_list() -> None:
    assert found("san", "&most=5") == found("san", "&most=20")[:5]


@pytest.mark.parametrize("text", ["xqzvw", "(", "%", "\x00", "\ud7ff", "🌻", "日本", "?!", "Paris, Ghana", "xqzvw 12", "x" * 200])
def test_nothing_found_is_an_empty_list(text: str) -> None:
    assert found(text) == []


def test_half_letters_in_an_address_are_no_fault() -> None:
    for raw in ("%ff%fe", "%ed%a0%80", "%c3", "%"):
        response = ask("GET", f"{PLACES}?q={raw}")
        assert response.json() == {"items": [], "credit": "GeoNames, CC BY 4.0"}


def test_a_plus_is_a_space() -> None:
    assert ask("GET", f"{PLACES}?q=new+york").json()["items"][0]["time_zone"] == "America/New_York"


def test_elevations_are_looked_up_for_the_towns_shown_and_only_once() -> None:
    kept_elevation.cache_clear()
    shown = places("san", 12)
    assert kept_elevation.cache_info().misses == len(shown.items) == 12
    assert places("san", 12) == shown
    assert kept_elevation.cache_info().misses == 12


# Coordinates


@pytest.mark.parametrize(
    ("text", "latitude", "longitude"),
    [
        ("46.05 14.51", 46.05, 14.51),
        ("46,05 14,51", 46.05, 14.51),
        ("79 57 W, 36 6 N", 36.1, -79.95),
        ("41° 18' S 174° 46' 48\" E", -41.3, 174.78),  # 46.8 minutes are 0.78 degrees
        ("90 S, 0 E", -90, 0),
        ("90 -180", 90, -180),
        ("0 180", 0, 180),
        ("0 S, 0 W", 0, 0),
    ],
)
def test_coordinates_are_one_place_without_a_name(text: str, latitude: float, longitude: float) -> None:
    (item,) = found(text)
    assert (item["latitude_deg"], item["longitude_deg"]) == pytest.approx((latitude, longitude), abs=1e-9)
    assert {item[field] for field in ("name", "region", "country", "country_code")} == {""}
    assert item["population"] == 0
    assert item["elevation_m"] == lookup_altitude(latitude, longitude)
    assert "-0.0" not in json.dumps(item)


@pytest.mark.parametrize(
    ("text", "zone"),
    [("36.1 N 79.95 W", "America/New_York"), ("46.2 N 14.6 E", "Europe/Ljubljana"), ("34.2 S 18.6 E", "Africa/Johannesburg")],
)
def test_coordinates_have_the_clock_of_the_nearest_town(text: str, zone: str) -> None:
    assert found(text)[0]["time_zone"] == zone


@pytest.mark.parametrize(
    ("text", "code", "words"),
    [
        ("120 14", "out_of_range", "latitude is 120 degrees"),
        ("46.05 N, 190 E", "out_of_range", "longitude is 190 degrees"),
        ("46 75 N, 14 30 E", "out_of_range", "minutes are 75"),
        ("9" * 200, "unclear_coordinates", "only one number"),
        ("46,05", "unclear_coordinates", "decimal comma"),
        ("46.05-14.51", "unclear_coordinates", "dash"),
        ("46.05 N 14.51", "unclear_coordinates", "only one letter"),
        ("46 O 14 N", "unclear_coordinates", "west in another"),
        ("1 2 3", "unclear_coordinates", "3 numbers"),
        ("46.05 N, 14.51 N", "unclear_coordinates", "both numbers are a latitude"),
    ],
)
def test_what_is_meant_as_coordinates_is_answered_by_its_sentence(text: str, code: str, words: str) -> None:
    (error,) = refused(search(text), 422, "invalid-input")["errors"]
    assert (error["parameter"], error["code"]) == ("q", code)
    assert "pointer" not in error
    assert words in error["detail"]
    assert "; " in error["detail"]


def test_limits_of_coordinates_are_told() -> None:
    (error,) = search("120 14").json()["errors"]
    assert (error["min"], error["max"]) == (-90, 90)


def test_a_number_in_the_name_of_a_town_is_no_coordinate() -> None:
    assert found("6th of October City", "&most=1")[0]["country_code"] == "EG"


# Wrong parameters


@pytest.mark.parametrize(
    ("query", "parameter", "code"),
    [
        ("", "q", "missing"),
        ("?most=3", "q", "missing"),
        ("?Q=roma", "unknown", "unknown_parameter"),
        ("?q=", "q", "not_a_text"),
        ("?q=%20%09", "q", "not_a_text"),
        ("?q=%E3%80%80", "q", "not_a_text"),  # a wide space
        ("?q=" + "x" * 201, "q", "not_a_text"),
        ("?q=roma&q=rimini", "q", "unknown_parameter"),
        ("?q=roma&q=roma", "q", "unknown_parameter"),
        ("?q=roma&most=0", "most", "out_of_range"),
        ("?q=roma&most=21", "most", "out_of_range"),
        ("?q=roma&most=-1", "most", "out_of_range"),
        ("?q=roma&most=", "most", "out_of_range"),
        ("?q=roma&most=2.0", "most", "out_of_range"),
        ("?q=roma&most=nan", "most", "out_of_range"),
        ("?q=roma&most=%D9%A3", "most", "out_of_range"),  # an Arabic three
        ("?q=roma&most=" + "9" * 5000, "most", "out_of_range"),
        ("?q=roma&most=3&most=3", "most", "unknown_parameter"),
        ("?q=roma&limit=3", "unknown", "unknown_parameter"),
        ("?q=roma&=3", "unknown", "unknown_parameter"),
    ],
)
def test_a_wrong_parameter_is_named(query: str, parameter: str, code: str) -> None:
    error = refused(ask("GET", PLACES + query), 422, "invalid-input")["errors"][0]
    assert (error["parameter"], error["code"]) == (parameter, code)
    assert "pointer" not in error
    assert "; " in error["detail"]


def test_limits_of_a_parameter_are_told() -> None:
    (error,) = ask("GET", f"{PLACES}?q=roma&most=21").json()["errors"]
    assert (error["min"], error["max"]) == (1, 20)


def test_several_wrong_parameters_are_all_named_but_not_hundreds() -> None:
    assert [error["parameter"] for error in ask("GET", f"{PLACES}?q=&most=x&a=1").json()["errors"]] == ["q", "most", "unknown"]
    many = refused(ask("GET", f"{PLACES}?" + "&".join(f"a{i}=1" for i in range(500))), 422, "invalid-input")
    assert len(many["errors"]) == 20


def test_a_long_address_is_414_and_a_wrong_method_405() -> None:
    refused(ask("GET", f"{PLACES}?q=" + "x" * 8001), 414, "address-too-long")
    response = ask("POST", f"{PLACES}?q=roma")
    refused(response, 405, "method-not-allowed")
    assert response.headers["allow"] == "GET, HEAD"


def test_head_answers_like_get_without_a_body() -> None:
    head = ask("HEAD", f"{PLACES}?q=roma")
    assert (head.status_code, head.content) == (200, b"")


def test_when_too_many_wait_it_is_503() -> None:
    app = Front(InFlight(PlainTextResponse("x"), most=0))
    response = ask("GET", f"{PLACES}?q=roma", app)
    refused(response, 503, "busy")
    assert response.headers["retry-after"]


# Any text


@drawn(100)
@given(st.text(max_size=220), st.sampled_from(["", "1", "20", "21", "x"]))
def test_any_text_is_answered_or_refused_by_a_sentence(text: str, most: str) -> None:
    try:
        asked = asked_place([("q", text), *([("most", most)] if most else [])])
        answer = json.loads(places_bytes(*asked))
    except InputError as error:
        for problem in error.problems:
            assert problem.pointer in ("?q", "?most")
            assert "; " in problem.detail
    else:
        assert len(answer["items"]) <= asked[1]


@drawn(60)
@given(st.floats(-90, 90), st.floats(-180, 180))
def test_any_spot_on_the_earth_is_one_place(latitude: float, longitude: float) -> None:
    (item,) = places(f"{latitude:.5f}, {longitude:.5f}", 3).items
    assert (item.latitude_deg, item.longitude_deg) == pytest.approx((latitude, longitude), abs=1e-5)
    assert "/" in item.time_zone


# The description


def test_the_description_names_the_parameters_and_every_refusal() -> None:
    operation = ask("GET", "/openapi.json").json()["paths"][PLACES]["get"]
    text, most = operation["parameters"]
    assert (text["name"], text["required"], text["schema"]["maxLength"]) == ("q", True, 200)
    assert most["schema"] == {"type": "integer", "minimum": 1, "maximum": 20, "default": 12}
    assert set(operation["responses"]) == {"200", "414", "422", "503"}


def test_the_worked_examples_are_answered_as_documented() -> None:
    operation = ask("GET", "/openapi.json").json()["paths"][PLACES]["get"]
    asked = operation["parameters"][0]["examples"]
    told = operation["responses"]["200"]["content"]["application/json"]["examples"]
    assert set(asked) == set(told) == set(EXAMPLE_TEXTS)
    for name in asked:
        assert search(asked[name]["value"]).json() == told[name]["value"]
    assert len(told["town"]["value"]["items"]) > 1
    assert len(told["coordinates"]["value"]["items"]) == 1
