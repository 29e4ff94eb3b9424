"""What building a fountain asks for over HTTP, on the command line and as tables: the same numbers everywhere."""

import csv
import io
import json
import math
from typing import Any
from urllib.parse import urlencode

import pytest

from api.command.main import BAD_INPUT, DONE, main
from api.http.examples import EXAMPLE
from sizing.answers.kit import plain
from sizing.comparison.comparison import compare
from sizing.design.reading import parse_design, read_design
from sizing.installation.building import building_of
from sizing.money.answer import BuildingAnswer
from sizing.money.pair_costs import chosen_of, neighbours, pair_costs
from sizing.report.report import size
from tests.asking import REPORTS, ROOT, ask, changed, post, refused
from web.forms.form import texts_of

STEMS = ("quince_court_jet", "terrace_spillway", "fern_bubbler", "orchard_choice")


def document(stem: str) -> bytes:
    return (ROOT / "examples" / f"{stem}.json").read_bytes()


def numbers(value: Any) -> list[float]:
    """All numbers in an answer."""
    if isinstance(value, dict | list):
        return [number for each in (value.values() if isinstance(value, dict) else value) for number in numbers(each)]
    return [value] if isinstance(value, int | float) else []


@pytest.mark.some(2)
@pytest.mark.parametrize("stem", STEMS)
def test_the_answer_is_that_of_the_report_in_plain_finite_numbers(stem: str) -> None:
    response = post(document(stem), address=REPORTS)
    assert response.status_code == 200
    found = response.json()
    assert all(math.isfinite(number) for number in numbers(found))
    design = parse_design(document(stem))
    built, compared = building_of(size(design)), compare(design)
    pairs = (
        pair_costs(compared, built, neighbours(compared, chosen_of(compared, built.report))) if stem == "orchard_choice" else ()
    )
    assert found == plain(BuildingAnswer.of(built, pairs))
    assert [pair["chosen"] for pair in found["pairs"]] == [False, True, False][: len(pairs)]


def test_numbers_are_in_the_units_of_their_names() -> None:
    built, found = building_of(size(read_design(EXAMPLE))), post(EXAMPLE, address=REPORTS).json()
    assert found["wires"]["own"]["water_l"] == pytest.approx(1000 * built.report.year.water)
    assert found["basin"]["volume_l"] == pytest.approx(1000 * built.basin.area * built.basin.depth)
    assert found["water"]["year"]["top_up_l"] == pytest.approx(
        sum(month["top_up_l_per_day"] * month["days"] for month in found["water"]["months"])
    )
    assert found["safety"][0]["note"] == "open-water"


def test_a_design_that_never_plays_is_answered_too() -> None:
    found = post(changed(EXAMPLE, "outlet/height_above_water_m", 6.0), address=REPORTS).json()
    assert (found["basin"]["turnover_h"], found["basin"]["highest_water_m"]) == (None, None)
    assert found["water"]["year"]["splashed_l"] == 0


def test_wrong_designs_and_parameters_are_refused() -> None:
    refused(post(changed(EXAMPLE, "pipe/length_m", -1), address=REPORTS), 422, "invalid-input")
    refused(post(EXAMPLE, "?month=6", address=REPORTS), 422, "invalid-input")
    wrong = dict(EXAMPLE, basin={"depth_m": 0.3, "diameter_m": 1.6, "width_m": 1})
    found = refused(post(wrong, address=REPORTS), 422, "invalid-input")
    assert found["errors"][0]["pointer"] == "#/basin/diameter_m"


def test_the_command_prints_the_same(capsysbinary: pytest.CaptureFixture[bytes]) -> None:
    path = str(ROOT / "examples" / "fern_bubbler.json")
    assert main(["report", path, "--json"]) == DONE
    assert json.loads(capsysbinary.readouterr().out) == post(document("fern_bubbler"), address=REPORTS).json()
    assert main(["report", "none.json", "--json"]) == BAD_INPUT
    assert main(["report", path, "--json", "--html", "-"]) == BAD_INPUT
    assert main(["report", path]) == BAD_INPUT
    assert b"--json" in capsysbinary.readouterr().err


@pytest.mark.parametrize(("address", "key"), [("/wires.csv", "own"), ("/basin.csv", "month")])
def test_tables_for_spreadsheets(address: str, key: str) -> None:
    texts = texts_of(parse_design(document("terrace_spillway"))) | {"title": "=1+1"}
    response = ask("GET", f"{address}?{urlencode(texts)}")
    assert response.headers["content-type"] == "text/csv; charset=utf-8; header=present"
    assert response.headers["content-disposition"].startswith('attachment; filename="fountain-')
    assert response.text.count("\r\n") == response.text.count("\n")
    rows = list(csv.DictReader(io.StringIO(response.text)))
    assert {row["design"] for row in rows} == {"'=1+1"}
    answer = post(document("terrace_spillway"), address=REPORTS).json()
    wanted = answer["water"]["months"] if key == "month" else [answer["wires"]["own"], *answer["wires"]["sizes"]]
    assert len(rows) == len(wanted)
    for row, expected in zip(rows, wanted, strict=True):
        for name, value in expected.items():
            assert row[name] == str(value) if isinstance(value, str) else float(row[name]) == value


def test_a_table_of_a_wrong_design_is_the_form_with_its_sentence() -> None:
    texts = texts_of(read_design(EXAMPLE)) | {"pipe.length_m": "abc"}
    response = ask("GET", f"/basin.csv?{urlencode(texts)}")
    assert response.status_code == 422
    assert "Pipe length" in response.text


def test_ten_years_of_pairs_as_a_table() -> None:
    """To the cent what the interface says, the chosen pair in the middle."""
    response = ask("GET", f"/pair-costs.csv?{urlencode(texts_of(parse_design(document('orchard_choice'))))}")
    rows = list(csv.DictReader(io.StringIO(response.text)))
    found = post(document("orchard_choice"), address=REPORTS).json()["pairs"]
    assert [row["chosen"] for row in rows] == ["no", "yes", "no"]
    for row, pair in zip(rows, found, strict=True):
        assert [float(row[name]) for name in ("total", "low", "high")] == [float(pair[name]) for name in ("total", "low", "high")]
        assert (row["difference"], row["pump"]) == (pair["difference"], pair["pump_name"])
