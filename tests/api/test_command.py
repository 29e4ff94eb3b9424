"""The command line: what it prints, where it goes, and how it ends."""

import csv
import io
import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from api.command.main import BAD_INPUT, DONE, INTERNAL, INTERRUPTED, main
from api.command.printed import CAUTION, WIDTH, report_text, shown, station_value, year_sentence
from api.http.examples import EXAMPLE
from api.http.openapi import example_answer
from sizing.design.reading import LARGEST_FILE, parse_design
from sizing.foundation.version import MODEL_VERSION
from sizing.report.answer import Answer, StationAnswer, YearAnswer, sizing_answer
from sizing.report.report import size
from tests.asking import ROOT, changed, post
from web.exports.months import cell, csv_text, months_csv

EXAMPLES = sorted((ROOT / "examples").glob("*.json"))
ENVIRONMENT = {**os.environ, "PYTHONPATH": str(ROOT)}


@pytest.fixture
def design(tmp_path: Path) -> Path:
    path = tmp_path / "garden.json"
    path.write_text(json.dumps(EXAMPLE), encoding="utf-8")
    return path


def outcome(capsysbinary: Any, *arguments: str) -> tuple[int, bytes, str]:
    """Exit code, output and error output of one command."""
    code = main(arguments)
    out, err = capsysbinary.readouterr()
    return code, out, err.decode()


def run(*arguments: str, **more: Any) -> subprocess.CompletedProcess[bytes]:
    """One command in a process of its own."""
    return subprocess.run([sys.executable, "-m", "api.command.main", *arguments], capture_output=True, env=ENVIRONMENT, **more)


# What is printed


@pytest.mark.some(2)
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_a_design_is_printed_within_eighty_columns(path: Path, capsysbinary: Any) -> None:
    code, out, err = outcome(capsysbinary, "size", str(path))
    assert (code, err) == (DONE, "")
    text = out.decode()
    lines = text.splitlines()
    assert max(len(line) for line in lines) <= WIDTH
    assert not any(line != line.rstrip() for line in lines)
    assert lines[0] == json.loads(path.read_text())["title"]
    for word in ("Month by month", "Jan", "Dec", "The year:", "Operating points", "One moment", "Assumptions"):
        assert word in text
    assert " ".join(text.split()).endswith(CAUTION)
    assert text.isprintable() or all(letter.isprintable() or letter == "\n" for letter in text)


def test_the_table_holds_the_numbers_of_the_answer(design: Path, capsysbinary: Any) -> None:
    _, out, _ = outcome(capsysbinary, "size", str(design))
    found = example_answer()
    row = next(line.split() for line in out.decode().splitlines() if line.startswith("Jun"))
    june = found["months"][5]
    assert float(row[1]) == pytest.approx(june["poa_kwh_per_m2_day"], abs=0.005)
    assert float(row[3]) == pytest.approx(june["water_l_per_day"], abs=0.5)
    assert found["verdict"]["headline"][:30] in out.decode()


@pytest.mark.some(1)
@pytest.mark.parametrize(
    ("path", "encoding"),
    [(path, "ascii") for path in EXAMPLES] + [(EXAMPLES[0], other) for other in ("cp1252", "utf-8", "utf-16")],
    ids=lambda each: getattr(each, "stem", each),
)
def test_any_terminal_can_show_it(path: Path, encoding: str, monkeypatch: pytest.MonkeyPatch) -> None:
    stream = io.TextIOWrapper(io.BytesIO(), encoding=encoding)
    monkeypatch.setattr(sys, "stdout", stream)
    assert main(["size", str(path)]) == DONE
    text = stream.buffer.getvalue().decode(encoding)  # type: ignore[attr-defined]
    assert max(len(line) for line in text.splitlines()) <= WIDTH
    questions = sizing_answer(size(parse_design(path.read_bytes()), path.parent)).questions
    asked = sum(each.sentence.count("?") for each in questions)
    assert text.count("?") == asked  # no letter is missing: only questions have one
    assert ("kWh/m2" in text) == (encoding == "ascii")


def test_letters_that_an_output_lacks_are_spelled() -> None:
    assert shown("−3 °C, 7.3 m³ × 2, 1.4 Ω, 30°", "ascii") == "-3 deg C, 7.3 m3 x 2, 1.4 ohm, 30 deg"
    assert shown("Gärten λ", "latin-1") == "Gärten ?"


def test_nothing_printed_moves_the_cursor_or_turns_the_writing_round() -> None:
    assert shown("a\x1b[31mb\u202ec\x07\x9b\ud800") == "a?[31mb?c???"


def test_a_night_a_strength_and_a_spillway_are_printed_too(design: Path, capsysbinary: Any) -> None:
    _, night, _ = outcome(capsysbinary, "size", str(design), "--month", "12", "--hour", "0")
    assert "One moment, 0:08 on a clear day in December; the fountain: night." in night.decode()
    _, strength, _ = outcome(capsysbinary, "size", str(design), "--irradiance", "640.5")
    assert "One moment, at this strength of sun; the fountain: plays." in strength.decode()
    spillway = changed(EXAMPLE, "outlet", {"kind": "spillway", "width_m": 0.2, "height_above_water_m": 0.3})
    design.write_text(json.dumps(spillway))
    _, out, _ = outcome(capsysbinary, "size", str(design))
    heads = next(line for line in out.decode().splitlines() if "plays" in line and "sun" in line)
    assert "jet" not in heads.split()


def test_large_numbers_still_fit() -> None:
    data = example_answer()
    for month in data["months"]:
        for name in ("water_l_per_day", "water_low_l_per_day", "water_high_l_per_day"):
            month[name] *= 200  # 500,000 litres a day is past the largest pump of a design file
        month["flow_l_per_min"] *= 100
    found = Answer.model_validate(data)
    assert max(len(line) for line in report_text(found).splitlines()) <= WIDTH


def test_the_year_in_litres_or_cubic_metres() -> None:
    water = {"water_l": 9800.0, "water_low_l": 9100.0, "water_high_l": 10400.0}
    running = {"running_months": [6, 7], "running_water_l_per_day": 160.0}
    year = YearAnswer(**water, **running, running_h=73.0, poa_kwh_per_m2=1430.0, hours_by_state={"plays": 73.0})
    spaces = {"\N{NO-BREAK SPACE}": " ", "\N{NARROW NO-BREAK SPACE}": " "}
    plain = str.maketrans(spaces)
    assert year_sentence(year).translate(plain) == (
        "The year: 9800 L of water (9100 L to 10 400 L), 73 h of play, 1430 kWh/m² of sun on the panel."
    )
    assert "12.3 m³" in year_sentence(year.model_copy(update={"water_l": 12340.0})).translate(plain)


@pytest.mark.parametrize(
    ("value", "unit", "working", "text"),
    [
        (0.618, "m", "nozzle_jet_height", "62 cm"),
        (0.0213, "1", "lost_share", "2.1 %"),
        (1.29, "1", "speed_ratio", "1.29"),
        (912.4, "W/m2", None, "912 W/m²"),
    ],
)
def test_a_station_is_told_as_people_say_it(value: float, unit: str, working: str | None, text: str) -> None:
    station = StationAnswer(name="x", value=value, unit=unit, working_id=working)
    assert station_value(station).replace("\N{NO-BREAK SPACE}", " ") == text


# JSON and CSV


def test_json_is_the_answer_of_the_service(design: Path, capsysbinary: Any) -> None:
    for more, query in (((), ""), (("--month", "3", "--hour", "9", "--sky", "dull"), "?month=3&hour=9&sky=dull")):
        code, out, err = outcome(capsysbinary, "size", str(design), "--json", *more)
        assert (code, err) == (DONE, "")
        assert out == post(EXAMPLE, query).content + b"\n"


def test_json_is_utf_8_whatever_the_terminal(monkeypatch: pytest.MonkeyPatch, design: Path) -> None:
    design.write_text(json.dumps(changed(EXAMPLE, "title", "Zürich"), ensure_ascii=False), encoding="utf-8")
    stream = io.TextIOWrapper(io.BytesIO(), encoding="ascii")
    monkeypatch.setattr(sys, "stdout", stream)
    assert main(["size", str(design), "--json"]) == DONE
    assert json.loads(stream.buffer.getvalue())["title"] == "Zürich"  # type: ignore[attr-defined]


def test_csv_is_a_table_for_spreadsheets(design: Path, capsysbinary: Any) -> None:
    code, out, _ = outcome(capsysbinary, "size", str(design), "--csv")
    assert code == DONE
    text = out.decode("ascii")
    assert text.count("\r\n") == text.count("\n") == 13
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    months = example_answer()["months"]
    assert [int(row["month"]) for row in rows] == list(range(1, 13))
    assert [float(row["water_l_per_day"]) for row in rows] == [month["water_l_per_day"] for month in months]
    assert {row["design"] for row in rows} == {EXAMPLE["title"]}


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\0"])
def test_no_text_of_a_table_is_run(start: str) -> None:
    assert cell(f"{start}1+1").lstrip('"').startswith("'" + start)


def test_numbers_of_a_table_are_left_alone() -> None:
    assert [cell(value) for value in (-7.3, 0, 1e-9, None)] == ["-7.3", "0", "1e-09", ""]


def test_marks_of_a_table_are_quoted() -> None:
    wild = 'a,"b"\nc'
    assert list(csv.reader(io.StringIO(csv_text([(wild, 7.3)]), newline=""))) == [[wild, "7.3"]]


def test_a_title_that_is_a_formula_is_disarmed() -> None:
    found = Answer.model_validate({**example_answer(), "title": '=HYPERLINK("http://a")'})
    rows = list(csv.reader(io.StringIO(months_csv(found), newline="")))
    assert rows[1][0] == '\'=HYPERLINK("http://a")'


# What cannot be used


def test_each_wrong_value_has_its_line(design: Path, capsysbinary: Any) -> None:
    design.write_text(json.dumps(changed(changed(EXAMPLE, "mounting/tilt_deg", 91), "pipe/length_m", -1)))
    code, out, err = outcome(capsysbinary, "size", str(design))
    assert (code, out) == (BAD_INPUT, b"")
    first, second = err.splitlines()
    assert first.startswith("#/mounting/tilt_deg: panel tilt is 91")
    assert second.startswith("#/pipe/length_m: pipe length is -1")


FILES = {
    "missing": (None, "there is no such file"),
    "empty": (b"", "the file is empty"),
    "spaces": (b" \n\n", "the file is empty"),
    "too large": (b" " * (LARGEST_FILE + 1), "more than 65536 bytes"),
    "not JSON": (b"title: x", "is not JSON"),
    "not text": (b"\xff\xfe\x00", "is not UTF-8"),
    "NaN": (json.dumps(changed(EXAMPLE, "mounting/tilt_deg", float("nan"))).encode(), "panel tilt"),
    "deep": (b"[" * 30000, "nested too deeply"),
    "list": (b"[]", "holds one object"),
}


@pytest.mark.parametrize("name", FILES)
@pytest.mark.parametrize("form", [(), ("--json",), ("--csv",)])
def test_a_file_that_is_no_design_is_told_in_one_sentence(
    name: str, form: tuple[str, ...], tmp_path: Path, capsysbinary: Any
) -> None:
    content, sentence = FILES[name]
    path = tmp_path / "garden.json"
    if content is not None:
        path.write_bytes(content)
    code, out, err = outcome(capsysbinary, "size", str(path), *form)
    assert (code, out) == (BAD_INPUT, b"")
    assert len(err.splitlines()) == 1
    assert sentence in err


def test_a_folder_a_strange_name_and_a_locked_file(tmp_path: Path, capsysbinary: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    assert "this is a folder" in outcome(capsysbinary, "size", str(tmp_path))[2]
    code, _, err = outcome(capsysbinary, "size", "a\0b")
    assert (code, len(err.splitlines())) == (BAD_INPUT, 1)
    _, _, err = outcome(capsysbinary, "size", "no\nsuch\x1b[2Jfile")
    assert len(err.splitlines()) == 1
    assert "\x1b" not in err

    def locked(*_: object) -> None:
        raise PermissionError

    monkeypatch.setattr("builtins.open", locked)
    code, _, err = outcome(capsysbinary, "size", "garden.json")
    assert (code, err) == (BAD_INPUT, "garden.json: this file may not be read; change its permissions or copy it\n")


def test_a_design_comes_in_by_standard_input(monkeypatch: pytest.MonkeyPatch, capsysbinary: Any) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(json.dumps(EXAMPLE).encode())))
    code, out, _ = outcome(capsysbinary, "size", "-", "--json")
    assert (code, out) == (DONE, post(EXAMPLE).content + b"\n")
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(b"")))
    assert outcome(capsysbinary, "size", "-")[2].startswith("-: the file is empty")


def test_a_weather_file_is_looked_for_beside_the_design(design: Path, capsysbinary: Any) -> None:
    design.write_text(json.dumps(changed(EXAMPLE, "sky", {"kind": "weather_file", "path": "none.epw"})))
    code, _, err = outcome(capsysbinary, "size", str(design))
    assert code == BAD_INPUT
    assert err.startswith("#/sky/path: ")
    assert "none.epw" in err


@pytest.mark.parametrize(
    ("option", "text", "start"),
    [
        ("--month", "13", "--month: month is not a whole number between 1 and 12"),
        ("--hour", "x", "--hour: hour is not a whole number between 0 and 23"),
        ("--sky", "cloudy", "--sky: sky must be one of: clear, usual, dull"),
        ("--irradiance", "1e9", "--irradiance: irradiance is not a number between 0 and 1500 W/m2"),
    ],
)
def test_a_wrong_moment_is_told(option: str, text: str, start: str, design: Path, capsysbinary: Any) -> None:
    code, out, err = outcome(capsysbinary, "size", str(design), option, text)
    assert (code, out) == (BAD_INPUT, b"")
    assert err.startswith(start)


@pytest.mark.parametrize(
    "arguments", [(), ("size",), ("grow", "x"), ("size", "x", "--json", "--csv"), ("size", "x", "--mounth", "6")]
)
def test_a_wrong_command_is_told(arguments: tuple[str, ...], capsysbinary: Any) -> None:
    code, out, err = outcome(capsysbinary, *arguments)
    assert (code, out) == (BAD_INPUT, b"")
    assert "usage: solar-fountain" in err


def test_the_version_and_the_help(capsysbinary: Any) -> None:
    assert outcome(capsysbinary, "--version")[:2] == (DONE, f"solar-fountain {MODEL_VERSION}\n".encode())
    code, out, _ = outcome(capsysbinary, "--help")
    assert code == DONE
    assert b"size" in out
    assert b"serve" in out


# What goes wrong here


def test_a_fault_of_ours_is_one_sentence(design: Path, capsysbinary: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    def crash(*_: object) -> None:
        raise RuntimeError("secret")

    monkeypatch.setattr("sizing.report.size", crash)
    monkeypatch.delenv("SOLAR_FOUNTAIN_DEBUG", raising=False)
    monkeypatch.setattr("api.command.main.turn_off", lambda stream: None)
    code, out, err = outcome(capsysbinary, "size", str(design))
    assert (code, out) == (INTERNAL, b"")
    assert len(err.splitlines()) == 1
    assert "SOLAR_FOUNTAIN_DEBUG=1" in err
    monkeypatch.setenv("SOLAR_FOUNTAIN_DEBUG", "1")
    with pytest.raises(RuntimeError, match="secret"):
        main(["size", str(design)])


def test_interrupted(design: Path, capsysbinary: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupt(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("sizing.report.size", interrupt)
    assert outcome(capsysbinary, "size", str(design)) == (INTERRUPTED, b"", "")


@pytest.mark.slow
def test_a_reader_that_leaves_early_is_no_fault(design: Path) -> None:
    process = subprocess.Popen(
        [sys.executable, "-m", "api.command.main", "size", str(design), "--json"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=ENVIRONMENT,
    )
    assert process.stdout is not None
    assert process.stderr is not None
    process.stdout.close()
    with process.stderr:
        assert process.stderr.read() == b""
    assert process.wait() == DONE


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no output that is always full")
def test_an_output_without_room_is_told() -> None:
    script = "import sys; from api.command.main import put_out; sys.exit(put_out(None, lambda _: b'litres'))"
    with open("/dev/full", "wb") as full:
        done = subprocess.run([sys.executable, "-c", script], stdout=full, stderr=subprocess.PIPE, env=ENVIRONMENT)
    assert done.returncode == INTERNAL
    assert done.stderr == b"the output could not be written; check that there is room where it goes\n"


def test_help_and_wrong_files_wait_for_no_heavy_import() -> None:
    """pvlib and what it brings alone take most of a second."""
    script = (
        "import sys; from api.command.main import main; main(['--help']); main(['size', 'none.json']); "
        "print(sorted({'pvlib', 'scipy', 'pandas', 'uvicorn', 'fastapi'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, env=ENVIRONMENT)
    assert done.stdout.endswith("[]\n")


def test_it_runs_as_a_program() -> None:
    assert run("--version").stdout == f"solar-fountain {MODEL_VERSION}\n".encode()
    assert run("size", "none.json").returncode == BAD_INPUT


def thousands(text: str) -> str:
    """A text with single spaces, and none inside numbers."""
    return re.sub(
        r"(?<=\d) (?=\d{3}\b)", "", " ".join(re.sub("[\N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}]", " ", text).split())
    )


@pytest.mark.some(2)
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_how_sure_and_what_if_are_printed(path: Path, capsysbinary: Any) -> None:
    code, out, _ = outcome(capsysbinary, "size", str(path))
    assert code == DONE
    text = thousands(out.decode())
    match = re.search(
        r"How sure: about (\d+) L a day over the year(?: if all that was assumed is right)?, likely (\d+) L to (\d+) L", text
    )
    assert match
    found = sizing_answer(size(parse_design(path.read_bytes()), path.parent)).how_sure
    held = [water / 365 for water in (found.year.water_l, found.year.water_low_l, found.year.water_high_l)]
    assert [float(part) for part in match.groups()] == [pytest.approx(value, rel=0.05) for value in held]
    first = max(found.causes, key=lambda cause: cause.year_share)
    assert first.words in text.partition("The three causes that count most")[2]
    assert thousands(found.shrink_most.sentence) in text
    assert "What one change would do" in text
    assert "one more panel beside it" in text


def test_a_fountain_that_never_plays_is_not_called_sure(design: Path, capsysbinary: Any) -> None:
    design.write_text(json.dumps(changed(EXAMPLE, "outlet/height_above_water_m", 9)))
    code, out, _ = outcome(capsysbinary, "size", str(design))
    assert code == DONE
    assert b"How sure" not in out
    assert b"What one change would do" in out
