"""Names and order of every answer are as they were published: programs of other people read them.

``shapes/`` is a record of the public interface, made when it was published: the names of each answer in their order, without
values. A name may be added where somebody asked for it (add it to the record); none may change, move or go unannounced.
"""

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from api.command.main import DONE, main
from tests.asking import ROOT, SKIES, ask, post

EXAMPLES = ROOT / "examples"
LOGS = {
    "pump-curves": {"log": "bench_heron_pump.csv", "name": "heron", "rated_voltage_v": 12.0},
    "directions": {"log": "directions_millpond.csv"},
    "panel-checks": {"log": "panel_wren_yard.csv"},
    "filled-sheets": {"log": "filled_reed_court.csv"},
    "sheets": {"day": "2026-05-26", "from_hour": 9.5, "to_hour": 15},
    "first-days": {"day": "2027-05-12"},
}
RECORDS = {path.stem: json.loads(path.read_text(encoding="utf-8")) for path in (Path(__file__).parent / "shapes").glob("*.json")}
CASES = [(question, case) for question, record in sorted(RECORDS.items()) for case in record]


def shape(value: Any) -> Any:
    """The names of an answer in their order: an object by its names, a list by the different shapes in it, a value by 0."""
    if isinstance(value, dict):
        return {name: shape(inner) for name, inner in value.items()}
    if isinstance(value, list):
        found: list[Any] = []
        for inner in map(shape, value):
            if not any(same(inner, other) for other in found):
                found.append(inner)
        return found
    return 0


def same(one: Any, other: Any) -> bool:
    """Whether two shapes agree in names and in their order."""
    return json.dumps(one) == json.dumps(other)


@cache
def plan(name: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((EXAMPLES / f"{name}.json").read_text(encoding="utf-8"))
    return found


def answered(question: str, case: str, capsysbinary: pytest.CaptureFixture[bytes]) -> Any:
    """What a question is answered today."""
    if question in ("size", "orient", "report", "compare"):
        assert main([question, str(EXAMPLES / f"{case}.json"), "--json"]) == DONE
        return json.loads(capsysbinary.readouterr().out)
    if question == "skies":
        site = {name: part for name, part in plan(case).items() if name in ("place", "sky", "mounting")}
        return post(site, address=SKIES).json()
    if question == "places":
        return ask("GET", f"/api/v1/places?q={case}").json()
    asked = dict(LOGS[case])
    if "log" in asked:
        asked["log"] = (EXAMPLES / str(asked["log"])).read_text(encoding="utf-8")
    return post({"design": plan("quince_court_jet"), **asked}, address=f"/api/v1/measurements/{case}").json()


@pytest.mark.parametrize(("question", "case"), CASES)
def test_names_and_their_order_are_those_of_the_public_record(
    question: str, case: str, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    today, record = shape(answered(question, case, capsysbinary)), RECORDS[question][case]
    assert today == record
    assert same(today, record), "the names are the same, their order has changed"


def test_the_record_holds_every_question() -> None:
    assert set(RECORDS) == {"size", "orient", "report", "compare", "skies", "places", "measurements"}
    assert set(RECORDS["measurements"]) == set(LOGS)
    for question in ("size", "orient", "report", "compare"):
        assert set(RECORDS[question]) >= {"quince_court_jet", "terrace_spillway", "fern_bubbler", "orchard_choice"}
