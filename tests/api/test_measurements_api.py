"""What a class measured over HTTP and on the command line: the same numbers, refusals that name what to change."""

import csv
import io
import json
from pathlib import Path
from typing import Any

import pytest

from api.answers.measurements import LARGEST_REQUEST
from api.command.class_options import USUAL_INSTRUMENTS
from api.command.main import BAD_INPUT, DONE, main
from api.http.class_examples import BENCH_ASKED, EXAMPLES, GARDEN, SHEET_ASKED
from sizing.design.reading import parse_design
from sizing.measured.bench import BenchAnswer
from sizing.measured.day import FilledSheetAnswer, FirstDayAnswer, SheetAnswer
from sizing.measured.logs.columns import blanks
from sizing.measured.logs.instruments import USUAL
from sizing.measured.panel_check import PanelCheckAnswer
from sizing.measured.requests import InstrumentsInput, instruments_of
from sizing.measured.trials import TurnedAnswer
from tests.asking import JSON, MEASURED, MEASUREMENTS, ROOT, ask, post, refused

QUINCE = str(ROOT / "examples" / "quince_court_jet.json")
BENCH_LOG = str(ROOT / "examples" / "bench_heron_pump.csv")
CHOSEN = {"panel": "p20", "pump": "x"}
MODELS = {
    "pump-curves": BenchAnswer,
    "directions": TurnedAnswer,
    "panel-checks": PanelCheckAnswer,
    "sheets": SheetAnswer,
    "filled-sheets": FilledSheetAnswer,
    "first-days": FirstDayAnswer,
}


@pytest.mark.parametrize("name", MODELS)
def test_the_examples_are_answered_as_documented(name: str) -> None:
    _, summary, asked, _ = EXAMPLES[name]
    assert "nvented" in summary
    response = post(asked, address=f"{MEASURED}/{name}")
    assert response.status_code == 200, response.text
    MODELS[name].model_validate(response.json())
    ids = {step["id"] for step in response.json().get("working", [])}
    assert {given["id"] for step in response.json().get("working", []) for given in step["inputs"]} <= ids


@pytest.mark.parametrize("address", MEASUREMENTS)
def test_what_is_no_request_is_refused(address: str) -> None:
    refused(post(b"{", address=address), 400, "not-json")
    refused(post([], address=address), 422, "invalid-input")
    refused(post({}, address=address), 422, "invalid-input")
    refused(post(SHEET_ASKED, "?day=1", address=address), 422, "invalid-input")
    refused(ask("POST", address, content=b"{}", headers={"content-type": "text/csv"}), 415, "wrong-content-type")
    found = refused(post(b'{"log": "' + b"x" * LARGEST_REQUEST, address=address), 413, "too-large")
    assert "10,000 rows" in found["detail"]


@pytest.mark.parametrize(
    ("name", "asked", "pointer", "said"),
    [
        ("sheets", {**SHEET_ASKED, "day": "2027-02-30"}, "#/day", "no calendar"),
        ("sheets", {**SHEET_ASKED, "from_hour": 15, "to_hour": 10}, "#/to_hour", "runs from 15 to 10"),
        ("sheets", {**SHEET_ASKED, "design": {**GARDEN, "pumps": []}}, "#/design/pumps", "the list has 0 entries"),
        ("sheets", {**SHEET_ASKED, "design": {**GARDEN, "chosen": CHOSEN}}, "#/design/chosen/pump", "is x"),
        ("pump-curves", {**BENCH_ASKED, "log": "x,y\n1,2\n"}, "#/log", "its first row must name the columns"),
        ("pump-curves", {**BENCH_ASKED, "log": BENCH_ASKED["log"][:90]}, "#/log", ""),
        ("pump-curves", {"log": BENCH_ASKED["log"]}, "#/rated_voltage_v", "is missing"),
        ("pump-curves", {**BENCH_ASKED, "hose_length_m": 1.5}, "#/hose_diameter_mm", "give its length and its inside"),
        ("filled-sheets", {"design": GARDEN, "log": "day,time\n2027-06-03,11:30\n"}, "#/log", "fill in the table"),
        ("first-days", {"design": GARDEN, "day": "3 June"}, "#/day", "write it like 2026-05-31"),
    ],
)
def test_what_cannot_be_used_is_named_in_the_request(name: str, asked: dict[str, Any], pointer: str, said: str) -> None:
    found = refused(post(asked, address=f"{MEASURED}/{name}"), 422, "invalid-input")
    (error,) = found["errors"]
    assert error["pointer"] == pointer
    assert said in error["detail"]


def test_a_log_with_too_many_rows_is_told_in_a_sentence() -> None:
    row = "12.0,0.79,0.25,5,34.1,a\n"
    asked = {"rated_voltage_v": 12, "log": BENCH_ASKED["log"].partition("\n")[0] + "\n" + row * 20_000}
    found = refused(post(asked, address=f"{MEASURED}/pump-curves"), 422, "invalid-input")
    assert "20000 rows; at most 10000 are read" in found["errors"][0]["detail"]


def test_instruments_that_are_better_make_the_ranges_narrower() -> None:
    fine = {"volume_calibration_pct": 0.3, "time_reading_s": 0.1, "volume_reading_l": 0.02}
    answers = [post({**BENCH_ASKED, **more}, address=f"{MEASURED}/pump-curves").json() for more in ({}, {"instruments": fine})]
    usual, better = (answer["settings"][0]["uncertainty_l_per_min"] for answer in answers)
    assert better < 0.5 * usual


def test_the_command_prints_what_the_interface_answers(capsysbinary: pytest.CaptureFixture[bytes]) -> None:
    design = json.loads(Path(QUINCE).read_text(encoding="utf-8"))
    assert main(["class", "sheet", QUINCE, "--day", "2027-06-03", "--from-hour", "10:30", "--to-hour", "12", "--json"]) == DONE
    asked = {"design": design, "day": "2027-06-03", "from_hour": 10.5, "to_hour": 12}
    assert json.loads(capsysbinary.readouterr().out) == ask("POST", f"{MEASURED}/sheets", json=asked, headers=JSON).json()
    assert main(["class", "bench", BENCH_LOG, "--design", QUINCE, "--json"]) == DONE
    asked = {"design": design, "log": Path(BENCH_LOG).read_text(encoding="utf-8")}
    assert json.loads(capsysbinary.readouterr().out) == ask("POST", f"{MEASURED}/pump-curves", json=asked, headers=JSON).json()


@pytest.mark.some(2)
@pytest.mark.parametrize(
    ("part", "log", "address"),
    [
        ("bench", "bench_heron_pump", "pump-curves"),
        ("directions", "directions_millpond", "directions"),
        ("panel", "panel_wren_yard", "panel-checks"),
        ("filled", "filled_reed_court", "filled-sheets"),
    ],
)
def test_instruments_of_the_command_are_those_of_the_interface(
    part: str, log: str, address: str, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    path = ROOT / "examples" / f"{log}.csv"
    fine = (("time_reading_s", 0.1), ("voltage_share_pct", 3), ("sun_height_reading_deg", 3))
    given = [word for name, value in fine for word in ("--instrument", name, str(value))]
    answers = []
    for more in ([], given):
        assert main(["class", part, str(path), "--design", QUINCE, *more, "--json"]) == DONE
        answers.append(json.loads(capsysbinary.readouterr().out))
    asked = {"design": json.loads(Path(QUINCE).read_text(encoding="utf-8")), "log": path.read_text(encoding="utf-8")}
    said = post({**asked, "instruments": dict(fine)}, address=f"{MEASURED}/{address}").json()
    assert answers[1] == said != answers[0]


def test_a_lip_has_no_jet_to_judge(capsysbinary: pytest.CaptureFixture[bytes]) -> None:
    terrace, log = ROOT / "examples" / "terrace_spillway.json", ROOT / "examples" / "filled_reed_court.csv"
    asked = {"design": json.loads(terrace.read_text(encoding="utf-8")), "log": log.read_text(encoding="utf-8")}
    found = post(asked, address=f"{MEASURED}/filled-sheets").json()
    assert found["has_jet"] is False
    assert [stage["stage"] for stage in found["stages"]] == ["sun", "panel", "motor", "pump"]
    assert "throws no jet" in found["problems"][0]["sentence"]
    assert all(row["jet_height_m"]["measured"] is None for row in found["rows"])
    for words in (["sheet"], ["first-day"]):
        assert main(["class", *words, str(terrace), "--day", "2026-12-15"]) == DONE
        assert b"jet" not in capsysbinary.readouterr().out


def test_usual_instruments_are_told_as_they_are() -> None:
    told = dict(zip(*[iter(USUAL_INSTRUMENTS.replace(",", "").split())] * 2, strict=True))
    assert list(told) == list(InstrumentsInput.model_fields)
    assert instruments_of(InstrumentsInput(**{name: float(text) for name, text in told.items()})) == USUAL


def test_a_bench_test_goes_into_the_design_and_is_sized(tmp_path: Path, capsysbinary: pytest.CaptureFixture[bytes]) -> None:
    made = tmp_path / "measured.json"
    asked = ["class", "bench", BENCH_LOG, "--design", QUINCE, "--day", "2026-11-02", "--into", str(made)]
    assert main(asked) == DONE
    assert b"One pump fits all 24 readings" in capsysbinary.readouterr().out
    design = parse_design(made.read_bytes())
    assert design.pumps[0].measured is not None
    assert (design.pumps[0].measured.readings, design.pumps[0].measured.date) == (24, "2026-11-02")
    assert design.pumps[0].id == parse_design(Path(QUINCE).read_bytes()).pumps[0].id
    assert main(["size", str(made), "--json"]) == DONE
    found = json.loads(capsysbinary.readouterr().out)
    causes = {cause["key"]: cause for cause in found["how_sure"]["causes"]}
    assert "24 readings" in causes["pump_head"]["basis"]
    assert main(asked) == BAD_INPUT
    assert b"--into" in capsysbinary.readouterr().err


def test_tables_leave_and_come_back(tmp_path: Path, capsysbinary: pytest.CaptureFixture[bytes]) -> None:
    assert main(["class", "blank", "bench"]) == DONE
    assert capsysbinary.readouterr().out.decode() == blanks()["bench"]
    assert main(["class", "sheet", QUINCE, "--day", "2027-06-03", "--csv"]) == DONE
    rows = list(csv.DictReader(io.StringIO(capsysbinary.readouterr().out.decode())))
    assert [row["time"] for row in rows][:2] == ["9:00", "9:30"]
    for row in rows:
        row |= {f"measured_{name}": row[f"predicted_{name}"] for name in ("panel_voltage_v", "panel_current_a", "flow_l_per_min")}
    path = tmp_path / "filled.csv"
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)
    assert main(["class", "filled", str(path), "--design", QUINCE, "--json"]) == DONE
    found = json.loads(capsysbinary.readouterr().out)
    assert found["likely_stage"] is None
    assert all(abs(row["flow_l_per_min"]["off"]) < 0.2 for row in found["rows"])


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["panel", BENCH_LOG, "--design", QUINCE], "log: the panel log cannot be read: columns day, time are missing"),
        (["bench", BENCH_LOG], "--rated-volts"),
        (["bench", BENCH_LOG, "--rated-volts", "many"], "--rated-volts: “many” is no number"),
        (["bench", BENCH_LOG, "--rated-volts", "12", "--into", "x.json"], "--into: a pump is put into a design"),
        (["bench", BENCH_LOG, "--design", QUINCE, "--instrument", "time_s", "1"], "--instrument: “time_s” is not known"),
        (["bench", BENCH_LOG, "--rated-volts", "12", "--instrument", "time_reading_s", "x"], "--instrument: “x” is no number"),
        (["bench", BENCH_LOG, "--rated-volts", "12", "--instrument", "time_reading_s", "99"], "--instrument: stopwatch is 99 s"),
        (["bench", "none.csv", "--rated-volts", "12"], "none.csv: there is no such file"),
        (["sheet", QUINCE, "--day", "tomorrow"], "--day: “tomorrow” is no day"),
        (["sheet", QUINCE, "--day", "2027-06-03", "--to-hour", "25"], "--to-hour: “25” is no hour"),
        (["sheet", QUINCE, "--day", "2027-06-03", "--from-hour", "20", "--to-hour", "10"], "--to-hour: the sheet runs from 20"),
    ],
)
def test_wrong_words_on_the_command_line(words: list[str], said: str, capsysbinary: pytest.CaptureFixture[bytes]) -> None:
    assert main(["class", *words]) == BAD_INPUT
    told = capsysbinary.readouterr()
    assert said in told.err.decode()
    assert told.out == b""


@pytest.mark.some(2)
@pytest.mark.parametrize(
    "words",
    [
        ["sheet", QUINCE, "--day", "2027-06-03"],
        ["first-day", QUINCE, "--day", "2027-06-03"],
        ["directions", str(ROOT / "examples" / "directions_millpond.csv"), "--design", QUINCE],
        ["panel", str(ROOT / "examples" / "panel_wren_yard.csv"), "--design", QUINCE],
    ],
)
def test_the_terminal_shows_lines_of_eighty_letters(words: list[str], capsysbinary: pytest.CaptureFixture[bytes]) -> None:
    assert main(["class", *words]) == DONE
    text = capsysbinary.readouterr().out.decode()
    assert max(len(line) for line in text.splitlines()) <= 80
    assert ("Never look into the sun" in " ".join(text.split())) is (words[0] != "panel")
    assert "licensed people decide" in " ".join(text.split())
