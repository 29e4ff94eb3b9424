"""Every route of the JSON interface: what it answers, and what it refuses and how."""

import json
import re
from pathlib import Path
from typing import Any

import anyio.to_thread
import jsonschema_rs
import pytest
from fastapi import FastAPI
from starlette.responses import PlainTextResponse

import api.http.app
from api.http.app import create_app
from api.http.examples import EXAMPLE
from sizing.answers.kit import plain
from sizing.answers.shared import StateName
from sizing.design.reading import LARGEST_FILE, read_design
from sizing.foundation.version import MODEL_VERSION
from sizing.operation.operating_point import State
from sizing.report.answer import Answer, sizing_answer
from sizing.report.report import When, size
from tests.asking import (
    APP,
    COMPARISONS,
    JSON,
    MEASUREMENTS,
    ORIENTATIONS,
    PLACES,
    REPORTS,
    ROOT,
    SIZINGS,
    SKIES,
    ask,
    changed,
    post,
    refused,
    started,
)
from tests.together import together

EXAMPLES = sorted((ROOT / "examples").glob("*.json"))
BY_TABLE = [path for path in EXAMPLES if json.loads(path.read_text())["sky"]["kind"] != "weather_file"]


# Answers


@pytest.mark.some(2)
@pytest.mark.parametrize("path", BY_TABLE, ids=lambda path: path.stem)
def test_a_design_file_is_answered_by_its_report(path: Path) -> None:
    response = post(path.read_bytes())
    assert response.status_code == 200, response.text
    assert response.headers["content-type"] == "application/json"
    found = response.json()
    assert found == json.loads(json.dumps(plain(sizing_answer(size(read_design(json.loads(path.read_text())))))))
    assert Answer.model_validate(found)
    assert found["model_version"] == MODEL_VERSION
    assert [month["month"] for month in found["months"]] == list(range(1, 13))
    assert "NaN" not in response.text
    assert "Infinity" not in response.text


def test_the_months_add_up_to_the_year() -> None:
    found = post(EXAMPLE).json()
    water = sum(month["water_l_per_day"] * month["days"] for month in found["months"])
    assert water == pytest.approx(found["year"]["water_l"])
    assert sum(found["year"]["hours_by_state"].values()) == pytest.approx(8760)


def test_every_number_of_the_moment_leads_to_its_working() -> None:
    found = post(EXAMPLE).json()
    ids = {step["id"] for step in found["working"]}
    assert {station["working_id"] for station in found["moment"]["stations"]} <= ids
    assert {given["id"] for step in found["working"] for given in step["inputs"]} <= ids
    named = [*found["working"], *found["how_sure"]["causes"]]
    assert {each["source"] for each in named} - {""} == set(found["sources"])


def test_the_same_question_has_the_same_answer() -> None:
    assert post(EXAMPLE).content == post(EXAMPLE).content


def test_a_value_left_out_is_an_assumption_and_the_same_value_given_is_not() -> None:
    """The kept answers must tell the two apart."""
    silent = {note["code"] for note in post(EXAMPLE).json()["assumptions"]}
    given = {note["code"] for note in post(changed(EXAMPLE, "place/albedo", 0.2)).json()["assumptions"]}
    assert silent - given == {"albedo_assumed"}


@pytest.mark.some(2)
@pytest.mark.parametrize(
    ("query", "expected"),
    [
        ("?month=3", {"month": 3}),
        ("?month=12&hour=9&sky=dull", {"month": 12, "hour": 9, "sky": "dull"}),
        ("?hour=0", {"hour": 0, "state": "night"}),
        ("?sky=usual", {"sky": "usual"}),
        ("?irradiance_w_per_m2=640", {"month": None, "hour": None, "sky": None, "time_h": None}),
        ("?irradiance_w_per_m2=0", {"state": "night"}),
    ],
)
def test_the_moment_can_be_chosen(query: str, expected: dict[str, Any]) -> None:
    moment = post(EXAMPLE, query).json()["moment"]
    assert expected.items() <= moment.items()


def test_a_strength_of_sun_is_worked_out_as_given() -> None:
    stations = post(EXAMPLE, "?irradiance_w_per_m2=640.5").json()["moment"]["stations"]
    assert (stations[0]["name"], stations[0]["value"], stations[0]["unit"]) == ("sun", 640.5, "W/m2")


@pytest.mark.some(1)
@pytest.mark.parametrize("path", BY_TABLE, ids=lambda path: path.stem)
def test_any_hour_of_any_month_can_be_asked_for(path: Path) -> None:
    design = read_design(json.loads(path.read_text()))
    for month, hour, sky in ((1, 0, "clear"), (1, 12, "dull"), (6, 4, "usual"), (6, 23, "dull"), (12, 9, "clear")):
        Answer.model_validate(plain(sizing_answer(size(design, None, When(month, hour, sky)))))


def test_a_mark_before_the_text_and_a_charset_are_fine() -> None:
    marked = b"\xef\xbb\xbf" + json.dumps(EXAMPLE).encode()
    assert ask("POST", SIZINGS, content=marked, headers={"content-type": "Application/JSON; charset=UTF-8"}).status_code == 200


# Wrong parameters


@pytest.mark.parametrize(
    ("query", "parameter", "code"),
    [
        ("?month=13", "month", "out_of_range"),
        ("?month=0", "month", "out_of_range"),
        ("?month=-1", "month", "out_of_range"),
        ("?month=six", "month", "out_of_range"),
        ("?month=", "month", "out_of_range"),
        ("?month=6.0", "month", "out_of_range"),
        ("?month=%D9%A6", "month", "out_of_range"),  # an Arabic six
        ("?hour=24", "hour", "out_of_range"),
        ("?hour=nan", "hour", "out_of_range"),
        ("?sky=cloudy", "sky", "not_a_choice"),
        ("?irradiance_w_per_m2=1500.1", "irradiance_w_per_m2", "out_of_range"),
        ("?irradiance_w_per_m2=inf", "irradiance_w_per_m2", "out_of_range"),
        ("?irradiance_w_per_m2=-1", "irradiance_w_per_m2", "out_of_range"),
        ("?irradiance_w_per_m2=1e3", "irradiance_w_per_m2", "out_of_range"),
        ("?irradiance_w_per_m2=700&month=6", "irradiance_w_per_m2", "two_moments"),
        ("?month=6&month=7", "month", "unknown_parameter"),
        ("?mounth=6", "unknown", "unknown_parameter"),
    ],
)
def test_a_wrong_parameter_is_named(query: str, parameter: str, code: str) -> None:
    found = refused(post(EXAMPLE, query), 422, "invalid-input")
    (error,) = found["errors"]
    assert (error["parameter"], error["code"]) == (parameter, code)
    assert "pointer" not in error
    assert "; " in error["detail"]


def test_many_wrong_parameters_are_not_all_listed() -> None:
    found = refused(post(EXAMPLE, "?" + "&".join(f"a{i}=1" for i in range(500))), 422, "invalid-input")
    assert len(found["errors"]) == 20


# Bodies that cannot be used, by name


def with_text(pointer: str, text: str) -> bytes:
    """The example with a piece of raw JSON in place of one value."""
    return json.dumps(changed(EXAMPLE, pointer, "@here@")).replace('"@here@"', text).encode()


DIGITS = "9" * 5000
NOT_JSON = {
    "empty": b"",
    "spaces": b"  \n",
    "cut off": json.dumps(EXAMPLE).encode()[:-1],
    "two documents": b"{}{}",
    "comment": b"{} // mine",
    "single quotes": b"{'title': 'x'}",
    "bad UTF-8": b'{"title": "\xff\xfe"}',
    "latin 1": '{"title": "Zürich"}'.encode("latin-1"),
    "UTF-16": json.dumps(EXAMPLE).encode("utf-16"),
    "integer of 5,000 digits": with_text("mounting/tilt_deg", DIGITS),
    "arrays 30,000 deep": b"[" * 30000 + b"]" * 30000,
    "objects 10,000 deep": b'{"a":' * 10000 + b"1" + b"}" * 10000,
    "a zero byte": b"{}\x00",
    "compressed": b"\x1f\x8b\x08\x00",
}


@pytest.mark.parametrize("name", NOT_JSON)
def test_what_is_not_json_is_400(name: str) -> None:
    found = refused(post(NOT_JSON[name]), 400, "not-json")
    assert found["errors"][0]["pointer"] == "#"


WRONG = {
    "NaN": (with_text("mounting/tilt_deg", "NaN"), "#/mounting/tilt_deg", "not_a_number"),
    "Infinity": (with_text("mounting/tilt_deg", "Infinity"), "#/mounting/tilt_deg", "not_a_number"),
    "minus Infinity": (with_text("place/latitude_deg", "-Infinity"), "#/place/latitude_deg", "not_a_number"),
    "1e999": (with_text("pipe/length_m", "1e999"), "#/pipe/length_m", "not_a_number"),
    "NaN where a whole number belongs": (with_text("outlet/count", "NaN"), "#/outlet/count", "not_whole"),
    "integer of 4,000 digits": (with_text("mounting/tilt_deg", "9" * 4000), "#/mounting/tilt_deg", "out_of_range"),
    "4,000 digits for a count": (with_text("outlet/count", "9" * 4000), "#/outlet/count", "out_of_range"),
    "lone surrogate": (with_text("title", '"\\ud800"'), "#/title", "not_a_text"),
    "lone surrogate as a name": (b'{"\\ud800": 1, ' + json.dumps(EXAMPLE).encode()[1:], "#", "not_a_text"),
    "zero character": (with_text("title", '"a\\u0000b"'), "#/title", "not_a_text"),
    "doubled field": (with_text("title", '"a", "title": "b"'), "#", "field_doubled"),
    "unknown field": (changed(EXAMPLE, "pipe/lenght_m", 2), "#/pipe/lenght_m", "unknown_field"),
    "unknown field with marks": (changed(EXAMPLE, "pipe", EXAMPLE["pipe"] | {"a/b~c": 1}), "#/pipe/a~1b~0c", "unknown_field"),
    "number in quotes": (changed(EXAMPLE, "mounting/tilt_deg", "35"), "#/mounting/tilt_deg", "not_a_number"),
    "true for a number": (changed(EXAMPLE, "mounting/tilt_deg", True), "#/mounting/tilt_deg", "not_a_number"),
    "null for a number": (changed(EXAMPLE, "mounting/tilt_deg", None), "#/mounting/tilt_deg", "not_a_number"),
    "list for a number": (changed(EXAMPLE, "mounting/tilt_deg", []), "#/mounting/tilt_deg", "not_a_number"),
    "half a nozzle": (changed(EXAMPLE, "outlet/count", 1.5), "#/outlet/count", "not_whole"),
    "number for a text": (changed(EXAMPLE, "title", 7), "#/title", "not_a_text"),
    "long text": (changed(EXAMPLE, "title", "x" * 121), "#/title", "not_a_text"),
    "empty id": (changed(EXAMPLE, "panels/0/id", ""), "#/panels/0/id", "not_a_text"),
    "empty list": (changed(EXAMPLE, "panels", []), "#/panels", "wrong_count"),
    "seven panels": (changed(EXAMPLE, "panels", EXAMPLE["panels"] * 7), "#/panels", "wrong_count"),
    "object for a list": (changed(EXAMPLE, "panels", {}), "#/panels", "wrong_shape"),
    "list for an object": (changed(EXAMPLE, "pipe", []), "#/pipe", "wrong_shape"),
    "kind that is none": (changed(EXAMPLE, "outlet/kind", "waterfall"), "#/outlet/kind", "not_a_choice"),
    "kind missing": (changed(EXAMPLE, "outlet", {}), "#/outlet/kind", "not_a_choice"),
    "fitting that is none": (changed(EXAMPLE, "pipe/fittings/0/kind", "bend"), "#/pipe/fittings/0/kind", "not_a_choice"),
    "later version": (changed(EXAMPLE, "schema_version", 2), "#/schema_version", "not_a_choice"),
    "too low": (changed(EXAMPLE, "mounting/tilt_deg", -0.1), "#/mounting/tilt_deg", "out_of_range"),
    "too high": (changed(EXAMPLE, "mounting/tilt_deg", 90.1), "#/mounting/tilt_deg", "out_of_range"),
    "a list": ([EXAMPLE], "#", "wrong_shape"),
    "a text": ("design", "#", "wrong_shape"),
    "null": (None, "#", "wrong_shape"),
    "NaN alone": (b"NaN", "#", "wrong_shape"),
    "panel not there": (changed(EXAMPLE, "chosen/panel", "p99"), "#/chosen/panel", "not_in_design"),
    "open sea": (
        changed(changed(EXAMPLE, "place/latitude_deg", -30), "place/longitude_deg", -120),
        "#/sky/kind",
        "no_climate_here",
    ),
}


@together("name", WRONG)
def test_a_wrong_value_is_422_with_its_place_and_sentence(name: str) -> None:
    body, pointer, code = WRONG[name]
    found = refused(post(body), 422, "invalid-input")
    error = found["errors"][0]
    assert (error["pointer"], error["code"]) == (pointer, code)
    assert "; " in error["detail"], "a sentence says what to change"


def test_limits_are_told() -> None:
    (error,) = post(changed(EXAMPLE, "mounting/tilt_deg", 90.1)).json()["errors"]
    assert (error["min"], error["max"]) == (0, 90)


def test_several_wrong_values_are_all_named() -> None:
    design = changed(changed(EXAMPLE, "mounting/tilt_deg", 91), "pipe/length_m", -1)
    found = refused(post(design), 422, "invalid-input")
    assert [error["pointer"] for error in found["errors"]] == ["#/mounting/tilt_deg", "#/pipe/length_m"]
    assert found["detail"].startswith("2 values")


def test_a_long_wrong_value_is_not_sent_back() -> None:
    text = post(changed(EXAMPLE, "mounting/tilt_deg", "quince" * 3000)).text
    assert len(text) < 1000


def test_a_weather_file_is_not_read_for_others() -> None:
    for path in ("/etc/passwd", "../examples/weather.epw", "pvlib/data/723170TYA.CSV"):
        found = refused(post(changed(EXAMPLE, "sky", {"kind": "weather_file", "path": path})), 422, "invalid-input")
        (error,) = found["errors"]
        assert (error["pointer"], error["code"]) == ("#/sky/kind", "weather_file_not_here")
        assert path not in json.dumps(found)


@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"content-type": "text/plain"},
        {"content-type": ""},
        {"content-type": "application/x-www-form-urlencoded"},
        {"content-type": "application/jsonp"},
        {"content-type": "json"},
        {"content-type": "application/json", "content-encoding": "gzip"},
    ],
)
def test_what_is_not_declared_as_json_is_415(headers: dict[str, str]) -> None:
    refused(ask("POST", SIZINGS, content=json.dumps(EXAMPLE).encode(), headers=headers), 415, "wrong-content-type")


def test_large_bodies_are_413() -> None:
    padded = json.dumps(EXAMPLE).encode().ljust(LARGEST_FILE)
    assert post(padded).status_code == 200
    for body in (padded + b" ", b"[" * 100_000 + b"]" * 100_000, b" " * 20_000_000):
        refused(post(body), 413, "too-large")


# Other routes


def test_what_is_not_there_is_told_in_json_under_api_and_on_a_page_elsewhere() -> None:
    refused(ask("GET", "/api/v1/nothing"), 404, "not-found")
    page = ask("GET", "/nothing")
    assert (page.status_code, page.headers["content-type"]) == (404, "text/html; charset=utf-8")
    assert "<h1>" in page.text


@pytest.mark.parametrize(
    ("method", "address", "allow"),
    [
        ("GET", SIZINGS, "POST"),
        ("PUT", SIZINGS, "POST"),
        ("OPTIONS", SIZINGS, "POST"),
        ("TRACE", SIZINGS, "POST"),
        ("POST", "/api/v1/schemas/design", "GET, HEAD"),
        ("POST", "/healthz", "GET, HEAD"),
        ("DELETE", "/", "GET, HEAD, POST"),
        ("GET", "/open", "POST"),
        ("POST", "/static/style.css", "GET, HEAD"),
        ("POST", "/problems/busy", "GET, HEAD"),
    ],
)
def test_a_wrong_method_is_told_the_right_ones(method: str, address: str, allow: str) -> None:
    response = ask(method, address)
    assert (response.status_code, response.headers["allow"]) == (405, allow)
    if address.startswith("/api/"):
        refused(response, 405, "method-not-allowed")


def test_no_address_leads_to_another_by_a_slash() -> None:
    assert ask("POST", SIZINGS + "/", headers=JSON).status_code == 404


def test_alive_always_and_ready_after_the_start() -> None:
    app = create_app()
    assert ask("GET", "/healthz", app).text == "alive\n"
    assert ask("GET", "/readyz", app).status_code == 503
    assert started(app, "GET", "/readyz").status_code == 200


def test_a_start_that_cannot_load_its_tables_is_never_ready(
    monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def broken() -> None:
        raise FileNotFoundError("sky.npz")

    monkeypatch.setattr(api.http.app, "example_answer", broken)
    app = create_app()
    response = started(app, "GET", "/readyz", patience=0.3)
    assert (response.status_code, response.text) == (503, "loading\n")
    assert "the tables could not be loaded" in caplog.text


def test_only_two_sizings_run_at_a_time() -> None:
    app = create_app()

    @app.get("/threads")
    async def threads() -> PlainTextResponse:
        return PlainTextResponse(str(anyio.to_thread.current_default_thread_limiter().total_tokens))

    assert started(app, "GET", "/threads").text == "2"


def test_a_crash_and_a_number_that_is_none_are_500_and_say_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    def crash(*_: object) -> bytes:
        raise RuntimeError("secret")

    monkeypatch.setattr(api.http.app, "kept_answer", crash)
    found = refused(post(EXAMPLE), 500, "internal")
    assert "secret" not in json.dumps(found)
    assert "RuntimeError" not in json.dumps(found)


def test_a_typed_parameter_of_a_page_is_refused_without_its_value() -> None:
    app = create_app()

    @app.get("/api/typed")
    def typed(number: int) -> None:
        return None

    response = ask("GET", "/api/typed?number=quince", app)
    found = refused(response, 422, "invalid-input")
    assert found["errors"][0]["parameter"] == "number"
    assert "quince" not in response.text


# Descriptions


def test_the_schema_of_designs_judges_as_the_service_does() -> None:
    response = ask("GET", "/api/v1/schemas/design")
    assert response.headers["content-type"] == "application/schema+json"
    judge = jsonschema_rs.validator_for(response.json())
    for path in EXAMPLES:
        judge.validate(json.loads(path.read_text()))
    for name in ("unknown field", "too high", "empty list", "number in quotes", "kind that is none"):
        assert not judge.is_valid(WRONG[name][0]), name


def test_every_number_of_a_design_says_its_unit_and_limits() -> None:
    numbers = []

    def visit(part: Any) -> None:
        if isinstance(part, dict):
            if part.get("label") and "unit" in part and part["unit"]:
                numbers.append(part)
            for inner in part.values():
                visit(inner)
        elif isinstance(part, list):
            for inner in part:
                visit(inner)

    visit(ask("GET", "/api/v1/schemas/design").json())
    assert len(numbers) > 40
    assert all("advice" in number and number.get("description", "x") for number in numbers)


@pytest.fixture(scope="module")
def described() -> dict[str, Any]:
    response = ask("GET", "/openapi.json")
    assert response.status_code == 200
    found: dict[str, Any] = response.json()
    return found


def test_the_description_holds_the_interface_and_no_page(described: dict[str, Any]) -> None:
    assert described["openapi"].startswith("3.1")
    assert described["info"]["version"] == MODEL_VERSION
    schemas = {"/api/v1/schemas/design", "/api/v1/schemas/site"}
    asked = {SIZINGS, ORIENTATIONS, COMPARISONS, REPORTS, SKIES, PLACES, "/api/v1/reaches", *MEASUREMENTS}
    assert set(described["paths"]) == {*asked, *schemas, "/healthz", "/readyz"}


def test_every_refusal_is_described(described: dict[str, Any]) -> None:
    responses = described["paths"][SIZINGS]["post"]["responses"]
    assert set(responses) == {"200", "400", "408", "413", "414", "415", "422", "503"}
    for status, response in responses.items():
        media = "application/json" if status == "200" else "application/problem+json"
        assert list(response["content"]) == [media]
    assert "HTTPValidationError" not in json.dumps(described)


def test_every_reference_leads_somewhere(described: dict[str, Any]) -> None:
    names = set(re.findall(r'"#/components/schemas/([^"]+)"', json.dumps(described)))
    assert names <= set(described["components"]["schemas"])
    assert {"Design", "Answer", "ProblemDocument", "ErrorItem"} <= set(described["components"]["schemas"])


def test_what_is_asked_for_needs_no_field_with_a_default(described: dict[str, Any]) -> None:
    design = described["components"]["schemas"]["Design"]
    assert set(design["required"]) == {"schema_version", "place", "mounting", "panels", "pumps", "cable", "pipe", "outlet"}


def test_the_worked_example_is_answered_as_documented(described: dict[str, Any]) -> None:
    operation = described["paths"][SIZINGS]["post"]
    asked = operation["requestBody"]["content"]["application/json"]["examples"]["reading_garden"]["value"]
    told = operation["responses"]["200"]["content"]["application/json"]["examples"]["reading_garden"]["value"]
    assert "invented" in asked["title"]
    assert post(asked).json() == told


def test_every_field_of_the_answer_is_described(described: dict[str, Any]) -> None:
    for name, schema in described["components"]["schemas"].items():
        if name.endswith("Answer") or name in ("ErrorItem", "ProblemDocument"):
            for field, held in schema["properties"].items():
                assert held.get("description"), f"{name}.{field}"


def test_the_states_are_those_of_the_operating_point() -> None:
    assert set(StateName.__args__) == {state.name.lower() for state in State}


def test_the_service_is_one_application() -> None:
    assert isinstance(APP, FastAPI)
    assert ask("GET", "/docs").status_code == 404
    assert ask("GET", "/redoc").status_code == 404
