"""Comparisons over HTTP and on the command line: what is answered, and what is refused and how."""

import csv
import io
import json
import math
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from api.answers.comparisons import asked_connections
from api.command.main import BAD_INPUT, DONE, main
from api.command.printed import CAUTION, WIDTH
from api.command.printed_comparison import comparison_text
from api.http.examples import EXAMPLE, EXAMPLE_CHOICE, EXAMPLE_SITE
from sizing.answers.kit import plain
from sizing.comparison.answer import ComparisonAnswer, comparison_answer
from sizing.comparison.comparison import Comparison, compare
from sizing.design.reading import read_design
from sizing.foundation.errors import InputError
from tests.asking import COMPARISONS, JSON, ROOT, ask, changed, post, refused
from tests.choices import document
from web.exports.pairs import pairs_csv

EXAMPLES = sorted((ROOT / "examples").glob("*.json"))


def comparison(design: Any, query: str = "") -> Any:
    return post(design, query, address=COMPARISONS)


def answered(design: Any, query: str = "") -> dict[str, Any]:
    response = comparison(design, query)
    assert response.status_code == 200, response.text
    found: dict[str, Any] = response.json()
    assert plain(ComparisonAnswer.model_validate(found)) == found
    return found


@pytest.mark.some(2)
@pytest.mark.parametrize(
    ("design", "query", "both"),
    [
        (EXAMPLE_CHOICE, "", False),
        (EXAMPLE_CHOICE, "?connections=both", True),
        (EXAMPLE, "?connections=designed", False),
        (document(name="quince_court_jet"), "?connections=both", True),
    ],
)
def test_every_pair_is_answered_by_rank(design: Any, query: str, both: bool) -> None:
    found = answered(design, query)
    assert found == plain(comparison_answer(compare(read_design(design), both_connections=both)))
    assert len(found["pairs"]) == len(design["panels"]) * len(design["pumps"]) * (1 + both)
    if "goal" not in design:
        assert (found["goal"], found["cheapest"], found["smallest_panels"]) == (None, None, [])


def test_numbers_are_in_the_units_of_their_names() -> None:
    pair, found = answered(EXAMPLE_CHOICE)["pairs"][0], compare(read_design(EXAMPLE_CHOICE)).pairs[0]
    assert pair["water_l"] == pytest.approx(1000 * found.water)
    assert pair["worst_water_l_per_day"] == pytest.approx(min(pair["water_l_per_day"]))
    days = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
    assert sum(a * b for a, b in zip(pair["water_l_per_day"], days, strict=True)) == pytest.approx(pair["water_l"])
    assert [each["month"] for each in pair["noon"]] == [5, 6, 7]
    assert pair["goal"]["days_out_of_ten"] >= 6
    assert pair["price"]["amount"] == pytest.approx(pair["price_per_playing_hour"]["amount"] * pair["running_h"])


def test_a_pair_that_cannot_be_sized_has_a_sentence_and_no_numbers() -> None:
    design = document()
    design["panels"][0]["vmp_v"] = 21.6
    last = answered(design)["pairs"][-1]
    assert last["refused"].startswith("Panel ")
    names = ("water_l", "worst_month", "running_h", "over_voltage_h", "water_l_per_day", "matching_factor", "goal")
    assert [last[name] for name in names] == [None] * len(names)
    assert (last["noon"], last["suits"], last["failure"]) == ([], False, "")
    assert last["price"]["amount"] > 0


def test_a_spillway_has_no_jet_at_noon() -> None:
    design = json.loads((ROOT / "examples" / "terrace_spillway.json").read_text(encoding="utf-8"))
    found = answered(design)
    assert all(each["jet_height_m"] is None for each in found["pairs"][0]["noon"])
    assert max(each["flow_l_per_min"] for each in found["pairs"][0]["noon"]) > 0
    assert "Flow from 12:00 to 13:00" in comparison_text(compare(read_design(design)))


def test_the_same_question_is_answered_from_what_is_kept() -> None:
    first, second = comparison(EXAMPLE_CHOICE), comparison(EXAMPLE_CHOICE)
    assert first.content == second.content
    assert comparison(EXAMPLE_CHOICE, "?connections=both").content != first.content
    assert comparison(changed(EXAMPLE_CHOICE, "title", "Another")).json()["title"] == "Another"


@pytest.mark.parametrize(
    ("query", "name", "code", "sentence"),
    [
        ("?connections=", "connections", "not_a_choice", "connections must be designed or both; write one of the two"),
        ("?connections=Both", "connections", "not_a_choice", "connections must be designed or both; write one of the two"),
        ("?connections=both&connections=both", "connections", "unknown_parameter", "connections is given twice; keep one"),
        ("?both=1", "unknown", "unknown_parameter", "the address has a parameter that is not known; known is connections"),
    ],
)
def test_a_parameter_that_cannot_be_used_is_named(query: str, name: str, code: str, sentence: str) -> None:
    found = refused(comparison(EXAMPLE, query), 422, "invalid-input")
    assert [(error["parameter"], error["code"]) for error in found["errors"]] == [(name, code)]
    assert sentence in found["errors"][0]["detail"]


def test_two_wrong_parameters_are_both_named() -> None:
    with pytest.raises(InputError) as caught:
        asked_connections([("a", "1"), ("connections", "x")])
    assert len(caught.value.problems) == 2


def test_a_wrong_design_is_refused_as_by_a_sizing() -> None:
    found = refused(comparison(changed(EXAMPLE, "mounting/tilt_deg", 91)), 422, "invalid-input")
    assert found["errors"][0]["pointer"] == "#/mounting/tilt_deg"
    found = refused(
        comparison(changed(EXAMPLE, "panels", [EXAMPLE["panels"][0] | {"id": f"p{n}"} for n in range(7)])), 422, "invalid-input"
    )
    assert found["errors"][0]["pointer"] == "#/panels"
    found = refused(comparison(changed(EXAMPLE, "panels/0/vmp_v", 21.6)), 422, "invalid-input")
    assert found["errors"][0]["pointer"] == "#/panels/0/vmp_v"
    found = refused(comparison(changed(EXAMPLE, "sky", {"kind": "weather_file", "path": "x.epw"})), 422, "invalid-input")
    assert found["errors"][0]["code"] == "weather_file_not_here"
    refused(comparison(EXAMPLE_SITE), 422, "invalid-input")
    refused(comparison(b"{"), 400, "not-json")
    refused(ask("POST", COMPARISONS, content=b"{}", headers={"content-type": "text/plain"}), 415, "wrong-content-type")
    response = ask("GET", COMPARISONS, headers=JSON)
    assert (response.status_code, response.headers["allow"]) == (405, "POST")


def test_an_answer_that_does_not_fit_its_model_never_leaves(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = compare(read_design(EXAMPLE))
    (pair,) = whole.pairs
    spoiled: tuple[Comparison, ...] = (
        replace(whole, pairs=()),
        replace(whole, pairs=(replace(pair, matching_factor=math.nan),)),
        replace(whole, pairs=(replace(pair, water=math.inf),)),
        replace(whole, pairs=(replace(pair, rank=0),)),
    )
    for number, found in enumerate(spoiled):
        monkeypatch.setattr("api.answers.comparisons.compare", lambda *_, found=found, **__: found)
        assert "pairs" not in json.dumps(refused(comparison(changed(EXAMPLE, "title", f"spoiled {number}")), 500, "internal"))


def test_the_worked_example_is_answered_as_documented() -> None:
    operation = ask("GET", "/openapi.json").json()["paths"][COMPARISONS]["post"]
    asked = operation["requestBody"]["content"]["application/json"]["examples"]["two_panels"]["value"]
    told = operation["responses"]["200"]["content"]["application/json"]["examples"]["two_panels"]["value"]
    assert comparison(asked).json() == told
    assert told["cheapest"] is not None
    assert set(operation["responses"]) == {"200", "400", "408", "413", "414", "415", "422", "503"}
    (parameter,) = operation["parameters"]
    assert parameter["schema"] == {"enum": ["designed", "both"], "default": "designed"}


# The command


def outcome(capsysbinary: Any, *arguments: str) -> tuple[int, bytes, str]:
    """Exit code, output and error output of one command."""
    code = main(arguments)
    out, err = capsysbinary.readouterr()
    return code, out, err.decode()


def written(folder: Path, design: dict[str, Any]) -> str:
    path = folder / "garden.json"
    path.write_text(json.dumps(design), encoding="utf-8")
    return str(path)


@pytest.mark.some(2)
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_examples_are_compared_within_eighty_columns(path: Path, capsysbinary: Any) -> None:
    code, out, err = outcome(capsysbinary, "compare", str(path), "--both-connections")
    assert (code, err) == (DONE, "")
    text = out.decode()
    assert max(len(line) for line in text.splitlines()) <= WIDTH
    assert not any(line != line.rstrip() for line in text.splitlines())
    assert " ".join(text.split()).endswith(CAUTION)


def test_the_text_holds_what_was_found() -> None:
    design = document((0.6, 1.0, 2.9))
    design["pumps"][2] |= {"id": "a" * 40, "price": None}
    design["panels"][0]["vmp_v"] = 21.6
    found = compare(read_design(design), both_connections=True)
    for encoding in ("ascii", "utf-8"):
        text = comparison_text(found, encoding)
        assert max(len(line) for line in text.splitlines()) <= WIDTH
    whole = " ".join(text.split())
    for words in (
        "18 pairs of 3 panels and 3 pumps. Wanted: a jet of 47 cm for 90 % of the time from 10:00 to 14:30",
        "Cheapest that likely meets the goal: panel ",
        "Nearest of those that do not: panel ",
        f"Pumps: no. 1 q0; no. 2 q1; no. 3 {'a' * 40}.",
        "Smallest panel with which each pump just meets the goal",
        "Why pairs fail",
        "cannot be sized: Panel fill factor",
        "Pairs without a price, by rank",
    ):
        assert words in whole
    assert whole.count("Panel fill factor") == 1


def test_without_a_goal_the_text_says_so() -> None:
    text = comparison_text(compare(read_design(EXAMPLE)))
    assert "1 pair of 1 panel and 1 pump. The design sets no goal." in text
    assert "Cheapest" not in text


def test_any_terminal_can_show_it(monkeypatch: pytest.MonkeyPatch) -> None:
    stream = io.TextIOWrapper(io.BytesIO(), encoding="ascii")
    monkeypatch.setattr(sys, "stdout", stream)
    assert main(["compare", str(EXAMPLES[0])]) == DONE
    text = stream.buffer.getvalue().decode("ascii")  # type: ignore[attr-defined]
    found = comparison_text(compare(read_design(json.loads(EXAMPLES[0].read_text(encoding="utf-8")))))
    assert text.count("?") == found.count("?")


def test_the_command_prints_what_the_interface_answers(tmp_path: Path, capsysbinary: Any) -> None:
    path = written(tmp_path, EXAMPLE_CHOICE)
    _, out, _ = outcome(capsysbinary, "compare", path, "--json", "--both-connections")
    assert out == comparison(EXAMPLE_CHOICE, "?connections=both").content + b"\n"


def test_the_table_for_spreadsheets(tmp_path: Path, capsysbinary: Any) -> None:
    design = EXAMPLE_CHOICE | {"title": '=1+1, "so"'}
    design["panels"] = [design["panels"][0] | {"name": "@risky"}, design["panels"][1] | {"price": None}]
    _, out, _ = outcome(capsysbinary, "compare", written(tmp_path, design), "--csv")
    rows = list(csv.DictReader(io.StringIO(out.decode(), newline="")))
    assert out.decode() == pairs_csv(comparison_answer(compare(read_design(design))))
    assert len(rows[0]) == 1 + 17 + 7 + 10 + 3 * 12 + 10
    found = {row["panel"]: row for row in rows}
    pairs = {pair["panel"]: pair for pair in answered(design)["pairs"]}
    assert len(rows) == 2
    assert found["p20"]["design"] == '\'=1+1, "so"'
    assert found["p20"]["panel_name"] == "'@risky"
    assert float(found["p20"]["water_l"]) == pairs["p20"]["water_l"]
    assert float(found["p20"]["noon_jet_m_month_6"]) == pairs["p20"]["noon"][1]["jet_height_m"]
    assert found["p20"]["noon_jet_m_month_1"] == ""
    assert float(found["p20"]["goal_hours"]) == pairs["p20"]["goal"]["hours"]
    assert float(found["p20"]["goal_chance"]) == pairs["p20"]["goal"]["chance"]
    assert found["p20"]["goal_outlook"] == pairs["p20"]["goal"]["outlook"]
    assert (found["p35"]["price"], found["p35"]["currency"]) == ("", "")
    assert found["p35"]["price_note"] == "No price: none is given for panel p35."
    assert found["p20"]["currency"] == "EUR"


def test_what_cannot_be_used_is_told_with_the_exit_code_of_a_sizing(tmp_path: Path, capsysbinary: Any) -> None:
    code, out, err = outcome(capsysbinary, "compare", "no such file.json")
    assert (code, out) == (BAD_INPUT, b"")
    assert "there is no such file" in err
    code, _, err = outcome(capsysbinary, "compare", written(tmp_path, changed(EXAMPLE, "panels/0/vmp_v", 21.6)))
    assert code == BAD_INPUT
    assert err.startswith("#/panels/0/vmp_v: ")
    code, _, _ = outcome(capsysbinary, "compare", str(EXAMPLES[0]), "--json", "--csv")
    assert code == BAD_INPUT


def test_a_weather_file_beside_the_design_is_read(capsysbinary: Any) -> None:
    code, out, _ = outcome(capsysbinary, "compare", str(ROOT / "examples" / "weather_file_jet.json"), "--json")
    assert code == DONE
    assert json.loads(out)["sky"]["kind"] == "weather_file"
