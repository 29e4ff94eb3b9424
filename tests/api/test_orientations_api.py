"""The search over all directions over HTTP and on the command line: what it answers, and what it refuses and how."""

import csv
import io
import json
import math
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from api.answers.orientations import asked_wanted
from api.command.main import BAD_INPUT, DONE, main
from api.command.printed import CAUTION, WIDTH
from api.command.printed_orientation import orientation_text
from api.edge.problems import json_bytes
from api.http.examples import EXAMPLE, EXAMPLE_SITE
from sizing.answers.kit import plain
from sizing.design.reading import read_design
from sizing.foundation.errors import InputError, SizingError
from sizing.orientation.answer import OrientationAnswer, orientation_answer
from sizing.orientation.orientation import Orientation, Wanted, orient
from tests.asking import JSON, ORIENTATIONS, ROOT, ask, changed, post, refused
from tests.draws import drawn
from web.exports.orientation import orientation_csv

EXAMPLES = sorted((ROOT / "examples").glob("*.json"))
GOAL = {"flow_l_per_min": 2.0, "from_hour": 9.5, "to_hour": 12, "months": [5, 4]}


def directions(design: Any, query: str = "") -> Any:
    return post(design, query, address=ORIENTATIONS)


def answered(design: Any, query: str = "") -> dict[str, Any]:
    response = directions(design, query)
    assert response.status_code == 200, response.text
    assert response.headers["content-type"] == "application/json"
    found: dict[str, Any] = response.json()
    assert plain(OrientationAnswer.model_validate(found)) == found
    return found


# Answers


@pytest.mark.some(2)
@pytest.mark.parametrize(
    ("design", "query", "wanted"),
    [
        (EXAMPLE, "", Wanted()),
        (EXAMPLE | {"goal": GOAL}, "", Wanted()),
        (EXAMPLE, "?months=12,1&from_hour=7.25&to_hour=24", Wanted((12, 1), (7.25, 24.0))),
        (EXAMPLE | {"goal": GOAL}, "?months=7", Wanted(months=(7,))),
    ],
)
def test_a_design_is_answered_by_its_best_direction(design: Any, query: str, wanted: Wanted) -> None:
    found = answered(design, query)
    assert found == plain(orientation_answer(orient(read_design(design), None, wanted)))
    assert ("goal_hours_h" in found["grid"]) == ("goal" in design)


def test_the_choice_tells_where_it_comes_from() -> None:
    choice = answered(EXAMPLE | {"goal": GOAL}, "?months=7")["choice"]
    assert (choice["months"], choice["months_from"]) == ([7], "asked")
    assert (choice["from_hour"], choice["to_hour"], choice["hours_from"]) == (9.5, 12.0, "goal")
    assert choice["sentence"].startswith("Chosen months: July. Chosen hours: 9:30 to 12:00 (those of the goal), ")
    usual = answered(EXAMPLE)["choice"]
    assert (usual["from_hour"], usual["to_hour"], usual["hours_from"], usual["months_from"]) == (8, 15, "assumed", "assumed")
    assert "8:00 to 15:00 (an assumption)" in usual["sentence"]


def test_the_same_question_is_answered_from_what_is_kept() -> None:
    first, second = directions(EXAMPLE), directions(EXAMPLE)
    assert first.content == second.content
    renamed = directions(changed(EXAMPLE, "title", "Another title"))
    assert renamed.json()["title"] == "Another title"
    assert renamed.json()["grid"] == first.json()["grid"]


# Refusals


@pytest.mark.parametrize(
    ("query", "name", "code"),
    [
        ("?months=", "months", "out_of_range"),
        ("?months=0", "months", "out_of_range"),
        ("?months=13", "months", "out_of_range"),
        ("?months=4,,5", "months", "out_of_range"),
        ("?months=4,4", "months", "out_of_range"),
        ("?months=%D9%A4", "months", "out_of_range"),
        ("?months=4&months=5", "months", "unknown_parameter"),
        ("?from_hour=8", "to_hour", "missing"),
        ("?to_hour=8", "from_hour", "missing"),
        ("?from_hour=8&to_hour=8", "to_hour", "hours_out_of_order"),
        ("?from_hour=14&to_hour=8.5", "to_hour", "hours_out_of_order"),
        ("?from_hour=8&to_hour=24.1", "to_hour", "out_of_range"),
        ("?from_hour=-1&to_hour=8", "from_hour", "out_of_range"),
        ("?from_hour=nan&to_hour=8", "from_hour", "out_of_range"),
        ("?hour=8", "unknown", "unknown_parameter"),
    ],
)
def test_a_parameter_that_cannot_be_used_is_named(query: str, name: str, code: str) -> None:
    found = refused(directions(EXAMPLE, query), 422, "invalid-input")
    assert [(error["parameter"], error["code"]) for error in found["errors"]] == [(name, code)]
    assert ";" in found["detail"]


def test_sentences_of_refusals() -> None:
    def sentence(*given: tuple[str, str]) -> str:
        with pytest.raises(InputError) as caught:
            asked_wanted(given)
        return str(caught.value)

    assert sentence(("months", "x")) == (
        "months must be different numbers from 1 to 12 with commas between them; write them like 4,5,6"
    )
    assert sentence(("from_hour", "8")) == "from_hour is given without to_hour; give both, or neither"
    assert sentence(("from_hour", "9"), ("to_hour", "7.5")) == (
        "from_hour is 9 and to_hour 7.5; the second must come later on the same day; check for a swap"
    )
    assert sentence(("to_hour", "25")) == (
        "to_hour is not a number between 0 and 24; write an hour of the day, like 8 or 14.5, or leave it out"
    )
    assert sentence(("months", "1"), ("months", "1")) == "months is given twice; keep one"
    assert sentence(("sky", "dull")) == (
        "the address has a parameter that is not known; known are months, from_hour, to_hour; remove it"
    )
    assert sentence(("a", "1"), ("a", "1")).count("\n") == 1


def test_a_wrong_design_is_refused_as_by_a_sizing() -> None:
    found = refused(directions(changed(EXAMPLE, "mounting/tilt_deg", 91)), 422, "invalid-input")
    assert found["errors"][0]["pointer"] == "#/mounting/tilt_deg"
    found = refused(directions(changed(EXAMPLE, "sky", {"kind": "weather_file", "path": "x.epw"})), 422, "invalid-input")
    assert found["errors"][0]["code"] == "weather_file_not_here"
    refused(directions(EXAMPLE_SITE), 422, "invalid-input")
    refused(directions(b"{"), 400, "not-json")
    refused(ask("POST", ORIENTATIONS, content=b"{}", headers={"content-type": "text/plain"}), 415, "wrong-content-type")
    response = ask("GET", ORIENTATIONS, headers=JSON)
    assert (response.status_code, response.headers["allow"]) == (405, "POST")


def test_an_answer_that_does_not_fit_its_model_never_leaves(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = orient(read_design(EXAMPLE))
    spoiled: tuple[Orientation, ...] = (
        replace(whole, sides=whole.sides[1:]),
        replace(whole, sun=whole.sun * math.nan),
        replace(whole, tilts=replace(whole.tilts, gain=math.nan)),
        replace(whole, aims=whole.aims[1:]),
    )
    for number, found in enumerate(spoiled):
        monkeypatch.setattr("api.answers.orientations.orient", lambda *_, found=found: found)
        assert "grid" not in json.dumps(refused(directions(changed(EXAMPLE, "title", f"spoiled {number}")), 500, "internal"))


# Any design

CHANGES = st.fixed_dictionaries(
    {},
    optional={
        "place": st.sampled_from([(-54.8, -68.3), (-33.9, 18.4), (-0.2, -78.5), (69.6, 18.9)]).map(
            lambda pair: {"name": "", "latitude_deg": pair[0], "longitude_deg": pair[1], "elevation_m": 57}
        ),
        "mounting/tilt_deg": st.floats(0, 90) | st.just(1e-300),
        "mounting/azimuth_deg": st.floats(0, 360) | st.just(359.999),
        "mounting/soiling_pct": st.sampled_from([0, 50]),
        "place/albedo": st.sampled_from([0, 0.9]),
        "place/skyline": st.sampled_from(
            [[], [{"azimuth_deg": 0, "altitude_deg": 90}], [{"azimuth_deg": 120, "altitude_deg": 71}]]
        ),
        "place/time_zone": st.sampled_from(["Pacific/Auckland", "UTC"]),
        "outlet/height_above_water_m": st.sampled_from([0, 0.4, 2.3, 10]),
        "panels/0/in_parallel": st.sampled_from([1, 8]),
        "pumps/0/starting_current_a": st.sampled_from([0, 1.1, 9]),
        "connection": st.sampled_from([{"kind": "direct"}, {"kind": "controller", "efficiency_pct": 91}]),
        "goal": st.sampled_from([None, GOAL, {"jet_height_m": 20, "from_hour": 0, "to_hour": 24, "months": [1]}]),
        "sky": st.sampled_from(
            [{"kind": "built_in"}, {"kind": "monthly", "ghi_kwh_per_m2_day": [0.0] * 12, "air_temperature_c": [-50] * 12}]
        ),
    },
)


@drawn(8)
@given(CHANGES)
def test_any_design_is_answered_in_plain_numbers_or_refused_by_a_sentence(changes: dict[str, Any]) -> None:
    design: dict[str, Any] = EXAMPLE
    for pointer, value in changes.items():
        design = changed(design, pointer, value)
    try:
        found: Orientation | None = orient(read_design(design))
    except SizingError as error:
        told = [problem.detail for problem in error.problems]
        found = None
    if found is None:
        assert all("; " in detail for detail in told)
        return
    for encoding in ("ascii", "utf-8"):
        assert not [line for line in orientation_text(found, encoding).splitlines() if len(line) > WIDTH]
    assert orientation_csv(orientation_answer(found)).count("\r\n") == 1 + 19 * 37
    for aim in json.loads(json_bytes(plain(orientation_answer(found))))["aims"]:
        assert aim["given_up"] <= 1
        assert aim["best"]["value"] >= 0


# Descriptions


def test_the_worked_example_is_answered_as_documented() -> None:
    operation = ask("GET", "/openapi.json").json()["paths"][ORIENTATIONS]["post"]
    asked = operation["requestBody"]["content"]["application/json"]["examples"]["reading_garden"]["value"]
    told = operation["responses"]["200"]["content"]["application/json"]["examples"]["reading_garden"]["value"]
    assert directions(asked).json() == told
    assert set(operation["responses"]) == {"200", "400", "408", "413", "414", "415", "422", "503"}
    assert [parameter["name"] for parameter in operation["parameters"]] == ["months", "from_hour", "to_hour"]


# The command


def outcome(capsysbinary: Any, *arguments: str) -> tuple[int, bytes, str]:
    """Exit code, output and error output of one command."""
    code = main(arguments)
    out, err = capsysbinary.readouterr()
    return code, out, err.decode()


@pytest.mark.some(1)
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_directions_are_printed_within_eighty_columns(path: Path, capsysbinary: Any) -> None:
    code, out, err = outcome(capsysbinary, "orient", str(path), "--months", "4,5,6")
    assert (code, err) == (DONE, "")
    text = out.decode()
    assert max(len(line) for line in text.splitlines()) <= WIDTH
    assert not any(line != line.rstrip() for line in text.splitlines())
    for words in ("Today's choice", "What each aim gives up", "Side by side", "Percent of the best", "best tilt", "true north"):
        assert words in text
    assert " ".join(text.split()).endswith(CAUTION)


def test_any_terminal_can_show_it(monkeypatch: pytest.MonkeyPatch) -> None:
    stream = io.TextIOWrapper(io.BytesIO(), encoding="ascii")
    monkeypatch.setattr(sys, "stdout", stream)
    assert main(["orient", str(EXAMPLES[0])]) == DONE
    text = stream.buffer.getvalue().decode("ascii")  # type: ignore[attr-defined]
    assert "?" not in text
    assert "deg to the south" in " ".join(text.split())


def test_the_command_prints_what_the_interface_answers(tmp_path: Path, capsysbinary: Any) -> None:
    path = tmp_path / "garden.json"
    path.write_text(json.dumps(EXAMPLE), encoding="utf-8")
    _, out, _ = outcome(capsysbinary, "orient", str(path), "--json", "--from-hour", "9", "--to-hour", "12.5")
    assert out == directions(EXAMPLE, "?from_hour=9&to_hour=12.5").content + b"\n"


def test_the_table_for_spreadsheets(tmp_path: Path, capsysbinary: Any) -> None:
    path = tmp_path / "garden.json"
    path.write_text(json.dumps(EXAMPLE | {"title": '=1+1, "so"'}), encoding="utf-8")
    _, out, _ = outcome(capsysbinary, "orient", str(path), "--csv")
    rows = list(csv.DictReader(io.StringIO(out.decode(), newline="")))
    assert len(rows) == 19 * 37
    assert list(rows[0]) == [
        *("design", "tilt_deg", "azimuth_deg", "sun_kwh_per_m2", "year_water_l", "months_water_l", "hours_water_l"),
        *("year_play_h", "hours_play_h", "goal_hours_h"),
    ]
    assert rows[0]["design"] == '\'=1+1, "so"'
    south = next(row for row in rows if (row["tilt_deg"], row["azimuth_deg"]) == ("35.0", "180.0"))
    found = answered(EXAMPLE)
    assert float(south["year_water_l"]) == found["grid"]["year_water_l"][7][18]
    assert south["months_water_l"] == south["goal_hours_h"] == ""
    assert float(south["hours_play_h"]) > 0


def test_options_that_cannot_be_used_are_named_as_typed(capsysbinary: Any) -> None:
    code, out, err = outcome(capsysbinary, "orient", str(EXAMPLES[0]), "--from-hour", "9")
    assert (code, out) == (BAD_INPUT, b"")
    assert err == "--to-hour: from_hour is given without to_hour; give both, or neither\n"
    code, _, err = outcome(capsysbinary, "orient", "no such file.json")
    assert code == BAD_INPUT
    assert "there is no such file" in err


def test_a_weather_file_beside_the_design_is_read(capsysbinary: Any) -> None:
    code, out, _ = outcome(capsysbinary, "orient", str(ROOT / "examples" / "weather_file_jet.json"), "--json")
    assert code == DONE
    assert json.loads(out)["sky"]["kind"] == "weather_file"
