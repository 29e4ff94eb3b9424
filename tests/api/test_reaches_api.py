"""What would meet a goal, over HTTP and on the command line."""

import csv
import io
import json
from pathlib import Path
from typing import Any

import pytest

from api.command.main import BAD_INPUT, DONE, main
from api.command.printed import WIDTH
from api.command.printed_reach import reach_text
from api.http.examples import EXAMPLE, EXAMPLE_MISSED
from sizing.answers.kit import plain
from sizing.design.reading import read_design
from sizing.reach.answer import ReachAnswer, reach_answer
from sizing.reach.search import reach
from tests.asking import ROOT, post, refused

REACHES = "/api/v1/reaches"
ORCHARD = ROOT / "examples" / "orchard_choice.json"


def answered(design: Any) -> dict[str, Any]:
    response = post(design, address=REACHES)
    assert response.status_code == 200, response.text
    found: dict[str, Any] = response.json()
    assert plain(ReachAnswer.model_validate(found)) == found
    return found


@pytest.mark.parametrize("design", [EXAMPLE_MISSED, json.loads(ORCHARD.read_text())])
def test_the_answer_is_the_search(design: Any) -> None:
    found = answered(design)
    assert found == plain(reach_answer(reach(read_design(design))))
    assert found["offers"]


def test_an_offered_design_meets_its_goal_when_it_is_sized() -> None:
    found = answered(EXAMPLE_MISSED)
    for offer in found["offers"]:
        sized = post(offer["design"]).json()
        assert sized["goal"]["met"]
        assert sized["goal"]["months"] == offer["reached"]["months"]


def test_a_design_without_a_goal_is_refused() -> None:
    problems = refused(post(EXAMPLE, address=REACHES), 422, "invalid-input")["errors"]
    assert [(problem["pointer"], problem["code"]) for problem in problems] == [("#/goal", "missing")]


def test_the_address_takes_no_parameters() -> None:
    assert refused(post(EXAMPLE_MISSED, "?changes=3", address=REACHES), 422, "invalid-input")


def test_the_command_prints_text_json_and_csv(capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    assert main(["reach", str(ORCHARD), "--json"]) == DONE
    answer = json.loads(capfdbinary.readouterr().out)
    assert answer == answered(json.loads(ORCHARD.read_text()))
    assert main(["reach", str(ORCHARD), "--csv"]) == DONE
    rows = list(csv.DictReader(io.StringIO(capfdbinary.readouterr().out.decode())))
    assert [row["part"] for row in rows] == [offer["changes"][0]["part"] for offer in answer["offers"]]
    assert [float(row["goal_hours"]) for row in rows] == [offer["reached"]["hours"] for offer in answer["offers"]]
    assert main(["reach", str(ORCHARD)]) == DONE
    lines = capfdbinary.readouterr().out.decode().splitlines()
    assert max(map(len, lines)) <= WIDTH
    assert sum(line.startswith("- ") for line in lines) == len(rows)


def test_without_a_goal_the_command_says_so(capfdbinary: pytest.CaptureFixture[bytes], tmp_path: Path) -> None:
    assert main(["reach", str(ROOT / "examples" / "quince_court_jet.json")]) == BAD_INPUT
    assert capfdbinary.readouterr().err.startswith(b"#/goal: ")


@pytest.mark.parametrize(("jet", "days"), [(0.05, 1), (6.0, 10)])
def test_text_says_so_where_nothing_is_missed_and_where_nothing_helps(jet: float, days: int) -> None:
    design = EXAMPLE_MISSED | {"goal": EXAMPLE_MISSED["goal"] | {"jet_height_m": jet, "days_out_of_ten": days}}
    found = reach(read_design(design), most_changes=1)
    assert found.own.met == (jet < 1)
    assert not found.offers
    assert reach_text(found, "ascii").isascii()
