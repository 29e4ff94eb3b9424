"""The sky over a garden over HTTP: what it answers, and what it refuses and how."""

import json
import math
from dataclasses import replace
from typing import Any

import jsonschema_rs
import pytest
from hypothesis import given
from hypothesis import strategies as st
from starlette.responses import PlainTextResponse

import api.http.app
from api.answers.skies import parse_site, sky_bytes
from api.edge.limits import Front, InFlight
from api.http.examples import EXAMPLE, EXAMPLE_SITE
from sizing.answers.kit import plain
from sizing.design.reading import LARGEST_FILE, read_site
from sizing.foundation.errors import SizingError
from sizing.report.garden_sky import explain_sky
from sizing.report.sky_answer import GardenSkyAnswer, sky_answer
from sizing.sky.solar_position import DAYS_IN_MONTH
from tests.asking import JSON, SKIES, ask, changed, drive, piece, post, refused
from tests.draws import drawn
from tests.together import together

PLACE = {"latitude_deg": 46.05, "longitude_deg": 14.51}
MONTHLY = {"kind": "monthly", "ghi_kwh_per_m2_day": [1.3, 2.2, 3.5, 4.5, 5.5, 6.0, 6.2, 5.4, 3.9, 2.4, 1.4, 1.0]}
POLAR = {"kind": "monthly", "ghi_kwh_per_m2_day": [0, 0, 0.1, 4, 5, 8, 8, 5, 0.5, 0, 0, 0]}


def sky(site: Any, query: str = "") -> Any:
    return post(site, query, address=SKIES)


def answered(site: Any) -> dict[str, Any]:
    response = sky(site)
    assert response.status_code == 200, response.text
    assert response.headers["content-type"] == "application/json"
    assert "NaN" not in response.text
    assert "Infinity" not in response.text
    found: dict[str, Any] = response.json()
    GardenSkyAnswer.model_validate(found)
    return found


def at(**more: Any) -> dict[str, Any]:
    """A place, with more or other fields."""
    return {"place": PLACE | more}


# Answers


@pytest.mark.parametrize(
    "site",
    [
        {"place": PLACE},
        EXAMPLE_SITE,
        {"place": PLACE, "sky": MONTHLY},
        {"place": PLACE, "mounting": None},
        {"place": PLACE | {"time_zone": "Europe/Ljubljana"}, "mounting": {"tilt_deg": 30, "azimuth_deg": 170}},
        {"place": {"latitude_deg": 90, "longitude_deg": -180}, "sky": POLAR},
        {"place": {"latitude_deg": -30, "longitude_deg": -120}, "sky": MONTHLY | {"ghi_kwh_per_m2_day": [0.0] * 12}},
    ],
)
def test_a_site_is_answered_by_what_there_is_to_know_of_its_sky(site: Any) -> None:
    found = answered(site)
    assert found == json.loads(json.dumps(plain(sky_answer(explain_sky(read_site(site))))))
    assert [month["month"] for month in found["months"]] == list(range(1, 13))
    assert [month["month"] for month in found["skyline"]["months"]] == list(range(1, 13))


def test_the_months_add_up_to_the_year() -> None:
    found = answered(EXAMPLE_SITE)
    sun = sum(month["sun_kwh_per_m2_day"] * days for month, days in zip(found["months"], DAYS_IN_MONTH, strict=True))
    assert sun == pytest.approx(found["year"]["sun_kwh_per_m2"])
    skyline = found["skyline"]
    assert sum(month["hours_hidden"] for month in skyline["months"]) == pytest.approx(skyline["hours_hidden"])
    assert sum(month["beam_lost_kwh_per_m2"] for month in skyline["months"]) == pytest.approx(skyline["beam_lost_kwh_per_m2"])


def test_typed_months_are_the_months_of_the_sky() -> None:
    found = answered({"place": PLACE, "sky": MONTHLY})
    assert [month["sun_kwh_per_m2_day"] for month in found["months"]] == pytest.approx(MONTHLY["ghi_kwh_per_m2_day"], rel=0.01)
    own, built_in = found["year"]["sun_kwh_per_m2"], found["built_in"]["year"]["sun_kwh_per_m2"]
    assert found["comparison"]["year_ratio"] == pytest.approx(own / built_in)


def test_the_built_in_sky_is_compared_with_nothing_and_an_unknown_place_neither() -> None:
    for site in ({"place": PLACE}, {"place": {"latitude_deg": 90, "longitude_deg": 0}, "sky": POLAR}):
        found = answered(site)
        assert found["built_in"] is None
        assert found["comparison"] is None


def test_compass_readings_and_heights_become_true_directions_and_angles() -> None:
    skyline = answered(EXAMPLE_SITE)["skyline"]
    points = [(point["azimuth_deg"], point["altitude_deg"]) for point in skyline["points"]]
    turned = skyline["declination_deg"]
    assert 1 < turned < 4, "a few degrees east in western Europe in these years"
    # 7.5 m at 16 m and at 19 m
    assert points == [
        (80, 4),
        (pytest.approx(118 + turned), pytest.approx(math.degrees(math.atan(7.5 / 16)))),
        (pytest.approx(151 + turned), pytest.approx(math.degrees(math.atan(7.5 / 19)))),
        (165, 6),
        (262, 17),
    ]


def test_without_a_skyline_nothing_is_hidden() -> None:
    skyline = answered({"place": PLACE})["skyline"]
    assert (skyline["points"], skyline["hours_hidden"], skyline["beam_lost_kwh_per_m2"]) == ([], 0, 0)
    # half of 8,760 hours, and a little less on the steps of a quarter of an hour
    assert sum(month["hours_up"] for month in skyline["months"]) == pytest.approx(4380, rel=0.02)


def test_the_clock_is_named() -> None:
    assert answered({"place": PLACE})["hour_basis"] == "true solar time"
    assert answered(at(time_zone="Europe/Ljubljana"))["hour_basis"].startswith("clock time of Europe/Ljubljana")


def test_the_same_question_has_the_same_answer_whatever_its_writing() -> None:
    plain = sky({"place": PLACE}).content
    assert sky({"sky": {"kind": "built_in"}, "place": dict(reversed(PLACE.items()))}).content == plain
    assert sky(b"\xef\xbb\xbf" + json.dumps({"place": PLACE | {"albedo": 0.2}}, indent=2).encode()).content == plain


def test_the_first_part_of_a_design_is_a_site() -> None:
    answered({name: EXAMPLE[name] for name in ("place", "sky", "mounting")})


# What is refused


def raw(text: str, field: str = "latitude_deg") -> bytes:
    """A site with a piece of raw JSON in place of one value of its place."""
    return json.dumps(at(**{field: "@here@"})).replace('"@here@"', text).encode()


NOT_JSON = {
    "empty": b"",
    "cut off": json.dumps({"place": PLACE}).encode()[:-1],
    "two documents": b"{}{}",
    "bad UTF-8": b'{"place": "\xff\xfe"}',
    "UTF-16": json.dumps({"place": PLACE}).encode("utf-16"),
    "integer of 5,000 digits": raw("9" * 5000),
    "arrays 30,000 deep": b"[" * 30000 + b"]" * 30000,
    "objects 10,000 deep": b'{"a":' * 10000 + b"1" + b"}" * 10000,
    "a zero byte": b"{}\x00",
}


@pytest.mark.parametrize("name", NOT_JSON)
def test_what_is_not_json_is_400(name: str) -> None:
    assert refused(sky(NOT_JSON[name]), 400, "not-json")["errors"][0]["pointer"] == "#"


def skyline(*points: Any, **more: Any) -> dict[str, Any]:
    return at(skyline=list(points), **more)


BY_COMPASS = {"compass_deg": 100, "altitude_deg": 10}
LATITUDE, SKYLINE, DATE = "#/place/latitude_deg", "#/place/skyline", "#/place/compass_date"
WRONG: dict[str, tuple[Any, str, str]] = {
    "NaN": (raw("NaN"), LATITUDE, "not_a_number"),
    "Infinity": (raw("Infinity"), LATITUDE, "not_a_number"),
    "minus Infinity": (raw("-Infinity", "albedo"), "#/place/albedo", "not_a_number"),
    "1e999": (raw("1e999", "elevation_m"), "#/place/elevation_m", "not_a_number"),
    "integer of 4,000 digits": (raw("9" * 4000), LATITUDE, "out_of_range"),
    "number in quotes": (raw('"46.05"'), LATITUDE, "not_a_number"),
    "true for a number": (raw("true"), LATITUDE, "not_a_number"),
    "null for a number": (raw("null"), LATITUDE, "not_a_number"),
    "list for a number": (raw("[46]"), LATITUDE, "not_a_number"),
    "beyond the pole": (at(latitude_deg=90.1), LATITUDE, "out_of_range"),
    "beyond the date line": (at(longitude_deg=-180.1), "#/place/longitude_deg", "out_of_range"),
    "lone surrogate": (raw('"\\ud800"', "name"), "#/place/name", "not_a_text"),
    "lone surrogate as a name": (b'{"\\ud800": 1, "place": {"latitude_deg": 1, "longitude_deg": 2}}', "#", "not_a_text"),
    "lone surrogate as a time zone": (raw('"\\udfff"', "time_zone"), "#/place/time_zone", "not_a_text"),
    "zero character": (raw('"a\\u0000b"', "name"), "#/place/name", "not_a_text"),
    "doubled field": (raw('1, "latitude_deg": 2'), "#", "field_doubled"),
    "doubled part": (b'{"place": {}, "place": {}}', "#", "field_doubled"),
    "unknown field of the place": (at(lattitude_deg=2), "#/place/lattitude_deg", "unknown_field"),
    "unknown field with marks": ({"place": PLACE, "a/b~c": 1}, "#/a~1b~0c", "unknown_field"),
    "unknown field of 1,000 letters": ({"place": PLACE, "q" * 1000: 1}, "#", "unknown_field"),
    "a title": ({"place": PLACE, "title": "x"}, "#/title", "unknown_field"),
    "a whole design": (EXAMPLE, "#/schema_version", "unknown_field"),
    "nothing": ({}, "#/place", "missing"),
    "no latitude": ({"place": {"longitude_deg": 3}}, LATITUDE, "missing"),
    "place is null": ({"place": None}, "#/place", "wrong_shape"),
    "place is a list": ({"place": [46, 14]}, "#/place", "wrong_shape"),
    "sky is null": ({"place": PLACE, "sky": None}, "#/sky", "wrong_shape"),
    "sky is a word": ({"place": PLACE, "sky": "built_in"}, "#/sky", "wrong_shape"),
    "sky without kind": ({"place": PLACE, "sky": {}}, "#/sky/kind", "not_a_choice"),
    "kind that is none": ({"place": PLACE, "sky": {"kind": "clear"}}, "#/sky/kind", "not_a_choice"),
    "a list": ([{"place": PLACE}], "#", "wrong_shape"),
    "a text": ("place", "#", "wrong_shape"),
    "NaN alone": (b"NaN", "#", "wrong_shape"),
    "north pole": (at(latitude_deg=90), "#/sky/kind", "no_climate_here"),
    "south pole": (at(latitude_deg=-90, longitude_deg=180), "#/sky/kind", "no_climate_here"),
    "open sea": (at(latitude_deg=-30, longitude_deg=-120), "#/sky/kind", "no_climate_here"),
    "eleven months": (
        {"place": PLACE, "sky": MONTHLY | {"ghi_kwh_per_m2_day": [1] * 11}},
        "#/sky/ghi_kwh_per_m2_day",
        "wrong_count",
    ),
    "brighter than any sky": (
        {"place": PLACE, "sky": MONTHLY | {"ghi_kwh_per_m2_day": [12] * 12}},
        "#/sky/ghi_kwh_per_m2_day/0",
        "out_of_range",
    ),
    "sun in the polar night": (
        {"place": PLACE | {"latitude_deg": 80}, "sky": MONTHLY},
        "#/sky/ghi_kwh_per_m2_day/0",
        "out_of_range",
    ),
    "unknown time zone": (at(time_zone="Mars/Base"), "#/place/time_zone", "unknown_time_zone"),
    "a folder of time zones": (at(time_zone="Europe"), "#/place/time_zone", "unknown_time_zone"),
    "a path for a time zone": (at(time_zone="/etc/passwd"), "#/place/time_zone", "unknown_time_zone"),
    "a path upwards": (at(time_zone="../UTC"), "#/place/time_zone", "not_a_text"),
    "compass without date": (skyline(BY_COMPASS), DATE, "missing"),
    "panel by compass without date": (at() | {"mounting": {"tilt_deg": 30, "compass_deg": 170}}, DATE, "missing"),
    "day that no calendar has": (skyline(BY_COMPASS, compass_date="2026-02-30"), DATE, "not_a_text"),
    "Arabic digits in a date": (skyline(BY_COMPASS, compass_date="٢٠٢٦-٠٢-٠٣"), DATE, "not_a_text"),
    "date as a number": (skyline(BY_COMPASS, compass_date=20260531), DATE, "not_a_text"),
    "date before the model": (skyline(BY_COMPASS, compass_date="2024-12-31"), DATE, "no_compass_model"),
    "compass at the magnetic pole": (
        skyline(BY_COMPASS, compass_date="2026-05-31", latitude_deg=86, longitude_deg=140),
        "#/place",
        "no_compass_here",
    ),
    "one direction, two heights": (
        skyline({"azimuth_deg": 100, "altitude_deg": 10}, {"azimuth_deg": 100, "altitude_deg": 20}),
        f"{SKYLINE}/1/azimuth_deg",
        "direction_doubled",
    ),
    "north twice": (
        skyline({"azimuth_deg": 0, "altitude_deg": 10}, {"azimuth_deg": 360, "altitude_deg": 20}),
        f"{SKYLINE}/1/azimuth_deg",
        "direction_doubled",
    ),
    "direction missing": (skyline({"altitude_deg": 10}), f"{SKYLINE}/0/azimuth_deg", "missing"),
    "direction given twice": (skyline(BY_COMPASS | {"azimuth_deg": 3}), f"{SKYLINE}/0/compass_deg", "given_twice"),
    "height missing": (skyline({"azimuth_deg": 3}), f"{SKYLINE}/0/altitude_deg", "missing"),
    "height without distance": (skyline({"azimuth_deg": 3, "height_m": 7}), f"{SKYLINE}/0/altitude_deg", "missing"),
    "height given twice": (
        skyline({"azimuth_deg": 3, "altitude_deg": 5, "height_m": 7, "distance_m": 9}),
        f"{SKYLINE}/0/altitude_deg",
        "given_twice",
    ),
    "at no distance": (skyline({"azimuth_deg": 3, "height_m": 7, "distance_m": 0}), f"{SKYLINE}/0/distance_m", "out_of_range"),
    "a number for a point": (skyline(12), f"{SKYLINE}/0", "wrong_shape"),
    "object for a skyline": (at(skyline={}), SKYLINE, "wrong_shape"),
    "73 points": (skyline(*({"azimuth_deg": i, "altitude_deg": 9} for i in range(73))), SKYLINE, "wrong_count"),
    "panel without direction": (at() | {"mounting": {"tilt_deg": 30}}, "#/mounting/azimuth_deg", "missing"),
    "panel overhanging": (at() | {"mounting": {"tilt_deg": 91, "azimuth_deg": 180}}, "#/mounting/tilt_deg", "out_of_range"),
}


@together("name", WRONG)
def test_a_wrong_value_is_422_with_its_place_and_sentence(name: str) -> None:
    body, pointer, code = WRONG[name]
    error = refused(sky(body), 422, "invalid-input")["errors"][0]
    assert (error["pointer"], error["code"]) == (pointer, code)
    assert "parameter" not in error
    assert "; " in error["detail"], "a sentence says what to change"


def test_limits_are_told() -> None:
    (error,) = sky(at(latitude_deg=90.1)).json()["errors"]
    assert (error["min"], error["max"]) == (-90, 90)


def test_a_whole_design_is_told_which_fields_are_too_much() -> None:
    found = refused(sky(EXAMPLE), 422, "invalid-input")
    assert {error["pointer"] for error in found["errors"]} == {
        f"#/{name}" for name in EXAMPLE.keys() - {"place", "sky", "mounting"}
    }
    for error in found["errors"]:
        assert error["detail"].endswith(
            "is not a field of the site; its fields are place, sky, mounting; remove it or correct its name"
        )


def test_a_slip_of_the_keyboard_is_guessed_and_what_it_left_out_is_named() -> None:
    errors = refused(sky({"palce": PLACE}), 422, "invalid-input")["errors"]
    assert [(error["pointer"], error["code"]) for error in errors] == [("#/place", "missing"), ("#/palce", "unknown_field")]
    assert "write place if that was meant" in errors[1]["detail"]


def test_many_unknown_fields_are_not_all_listed() -> None:
    found = refused(sky({"place": PLACE} | {f"a{i}": 1 for i in range(500)}), 422, "invalid-input")
    assert len(found["errors"]) == 20


def test_a_long_wrong_value_is_not_sent_back() -> None:
    assert len(sky(changed(EXAMPLE_SITE, "place/latitude_deg", "quince" * 3000)).text) < 1000
    assert len(sky({"place": PLACE, "quince" * 3000: 1}).text) < 1000


def test_a_weather_file_is_not_read_for_others() -> None:
    for path in ("/etc/passwd", "../examples/weather.epw", "pvlib/data/723170TYA.CSV"):
        response = sky({"place": PLACE, "sky": {"kind": "weather_file", "path": path}})
        (error,) = refused(response, 422, "invalid-input")["errors"]
        assert (error["pointer"], error["code"]) == ("#/sky/kind", "weather_file_not_here")
        assert path not in response.text


@pytest.mark.parametrize("query", ["?month=6", "?a=1&b=2&a=1", "?sky", "?=x"])
def test_a_sky_has_no_parameters(query: str) -> None:
    (error,) = refused(sky({"place": PLACE}, query), 422, "invalid-input")["errors"]
    assert (error["parameter"], error["code"]) == ("unknown", "unknown_parameter")


@pytest.mark.parametrize(
    "headers", [{}, {"content-type": "text/plain"}, {"content-type": "application/json", "content-encoding": "gzip"}]
)
def test_what_is_not_declared_as_json_is_415(headers: dict[str, str]) -> None:
    refused(ask("POST", SKIES, content=json.dumps({"place": PLACE}).encode(), headers=headers), 415, "wrong-content-type")


def test_large_bodies_are_413_and_long_addresses_414() -> None:
    padded = json.dumps({"place": PLACE}).encode().ljust(LARGEST_FILE)
    assert sky(padded).status_code == 200
    refused(sky(padded + b" "), 413, "too-large")
    refused(sky({"place": PLACE}, "?a=" + "x" * 8000), 414, "address-too-long")


def test_a_slow_body_is_408() -> None:
    async def unreached(scope: Any, receive: Any, send: Any) -> None:
        raise AssertionError

    app = Front(api.http.app.Body(unreached, seconds=0.02))
    start = drive(app, {"path": SKIES}, [piece(b"{", more=True), 1.0])[0]
    assert start["status"] == 408
    assert (b"content-type", b"application/problem+json") in start["headers"]


def test_when_too_many_wait_it_is_503_but_the_schema_is_told() -> None:
    app = Front(InFlight(PlainTextResponse("x"), most=0))
    response = post({"place": PLACE}, app=app, address=SKIES)
    refused(response, 503, "busy")
    assert response.headers["retry-after"]
    assert ask("GET", "/api/v1/schemas/site", app).status_code == 200


def test_a_wrong_method_is_told_the_right_one() -> None:
    for method in ("GET", "PUT", "OPTIONS", "HEAD"):
        response = ask(method, SKIES, headers=JSON)
        assert (response.status_code, response.headers["allow"]) == (405, "POST")


def test_an_answer_that_does_not_fit_its_model_never_leaves(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = explain_sky(read_site({"place": PLACE}))
    site = {"place": PLACE | {"name": "the answer is spoiled"}}
    for spoiled in (replace(whole, year=replace(whole.year, sun=math.nan)), replace(whole, skyline_sentence=7)):
        monkeypatch.setattr("api.answers.skies.explain_sky", lambda _, spoiled=spoiled: spoiled)
        assert "sun_kwh" not in json.dumps(refused(sky(site), 500, "internal"))


# Any site


NUMBERS = st.floats(-400, 400) | st.sampled_from([0, 90, -90, 180, -180, math.nan, None, "3", 10**400])
POINTS = st.fixed_dictionaries({"azimuth_deg": st.floats(0, 360), "altitude_deg": st.floats(0, 90)}) | st.fixed_dictionaries(
    {},
    optional={
        "azimuth_deg": st.floats(0, 360),
        "compass_deg": st.floats(0, 360),
        "altitude_deg": st.floats(0, 90),
        "height_m": st.floats(0, 9000),
        "distance_m": st.floats(0.1, 3e5),
    },
)
ANYWHERE = st.fixed_dictionaries({"latitude_deg": st.floats(-90, 90) | NUMBERS, "longitude_deg": st.floats(-180, 180) | NUMBERS})
IN_EUROPE = st.fixed_dictionaries(
    {"latitude_deg": st.floats(44, 57), "longitude_deg": st.floats(2, 36)},
    optional={
        "elevation_m": st.floats(0, 3000) | NUMBERS,
        "skyline": st.lists(POINTS, max_size=4),
        "compass_date": st.sampled_from(["2026-05-31", "2031-01-01", "0000-00-00", "x"]),
        "time_zone": st.sampled_from(["Asia/Kolkata", "UTC", "Asia", ""]),
    },
)
SKIES_ASKED = st.sampled_from([{"kind": "built_in"}, MONTHLY, POLAR]) | st.fixed_dictionaries(
    {"kind": st.just("monthly"), "ghi_kwh_per_m2_day": st.lists(st.floats(0, 1.5), min_size=12, max_size=12)}
)
MOUNTINGS = st.none() | st.fixed_dictionaries(
    {"tilt_deg": st.floats(0, 90)}, optional={"azimuth_deg": st.floats(0, 360), "compass_deg": st.floats(0, 360)}
)


@drawn(80)
@given(st.fixed_dictionaries({"place": ANYWHERE | IN_EUROPE}, optional={"sky": SKIES_ASKED, "mounting": MOUNTINGS}))
def test_any_site_is_answered_or_refused_by_a_sentence(site: dict[str, Any]) -> None:
    try:
        sky_bytes(parse_site(json.dumps(site).encode()))
    except SizingError as error:
        for problem in error.problems:
            assert problem.pointer.startswith("#")
            assert "; " in problem.detail


# Descriptions


@pytest.fixture(scope="module")
def operation() -> dict[str, Any]:
    found: dict[str, Any] = ask("GET", "/openapi.json").json()["paths"][SKIES]["post"]
    return found


def test_every_refusal_is_described(operation: dict[str, Any]) -> None:
    assert set(operation["responses"]) == {"200", "400", "408", "413", "414", "415", "422", "503"}


def test_the_worked_example_is_answered_as_documented(operation: dict[str, Any]) -> None:
    asked = operation["requestBody"]["content"]["application/json"]["examples"]["walled_yard"]["value"]
    told = operation["responses"]["200"]["content"]["application/json"]["examples"]["walled_yard"]["value"]
    assert "Invented" in asked["place"]["name"]
    assert sky(asked).json() == told
    assert told["comparison"]["sentence"]
    assert told["skyline"]["hours_hidden"] > 0


def test_the_schema_of_sites_judges_as_the_service_does() -> None:
    response = ask("GET", "/api/v1/schemas/site")
    assert response.headers["content-type"] == "application/schema+json"
    judge = jsonschema_rs.validator_for(response.json())
    for site in (EXAMPLE_SITE, {"place": PLACE}, {"place": PLACE, "sky": MONTHLY}):
        judge.validate(site)
    for name in ("a whole design", "a title", "beyond the pole", "eleven months", "73 points", "place is a list", "nothing"):
        assert not judge.is_valid(WRONG[name][0]), name


def test_the_schema_is_the_first_part_of_the_design_files() -> None:
    site, design = (ask("GET", f"/api/v1/schemas/{name}").json() for name in ("site", "design"))
    assert set(site["properties"]) == {"place", "sky", "mounting"}
    assert site["required"] == ["place"]
    assert site["$id"] == "/api/v1/schemas/site"
    for name in ("PlaceInput", "SkylinePoint", "MonthlySky", "MountingInput"):
        assert site["$defs"][name] == design["$defs"][name]
