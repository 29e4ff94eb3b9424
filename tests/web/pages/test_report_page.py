"""The page to print and sign: what stands on it, why this pair, how it is repeated, and the file that needs no service."""

import json
import re
from collections import Counter
from functools import lru_cache
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest

from api.command.main import BAD_INPUT, DONE, main
from sizing.comparison.comparison import compare
from sizing.design.reading import parse_design
from sizing.foundation.sources import SOURCES
from sizing.foundation.version import MODEL_VERSION
from sizing.hydraulic.outlet import Nozzle
from sizing.installation.safety import safety_of
from sizing.installation.wires import wires_of
from sizing.money.pair_costs import chosen_of, neighbours
from sizing.report.answer import sizing_answer
from sizing.report.report import Report, size
from tests.asking import ROOT, ask
from tests.choices import document
from tests.markup import Element, read
from web.forms.form import texts_of
from web.pages.compare.pairs_tables import choice
from web.pages.report.job import job, outlet
from web.pages.report.report_page import report_file

EXAMPLES = ROOT / "examples"
STEMS = ["quince_court_jet", "terrace_spillway", "fern_bubbler", "orchard_choice"]
LARGEST_PAGE = 150_000


@lru_cache(maxsize=8)
def sized(stem: str) -> Report:
    return size(parse_design((EXAMPLES / f"{stem}.json").read_bytes()), EXAMPLES)


def where(stem: str, **changes: str) -> str:
    return f"/report?{urlencode(texts_of(sized(stem).design) | changes)}"


@lru_cache(maxsize=16)
def shown(address: str) -> Element:
    return read(ask("GET", address).text)


def plain(text: str) -> str:
    return " ".join(text.replace("\N{NO-BREAK SPACE}", " ").replace("\N{NARROW NO-BREAK SPACE}", "").split())


def cells(found: Element, kind: str) -> list[list[str]]:
    """The rows of a table below its head."""
    return [[plain(cell.text) for cell in row.all("th", "td")] for row in table(found, kind).one("tbody").all("tr")]


def table(found: Element, caption: str) -> Element:
    (only,) = [each for each in found.all("table") if each.one("caption").text.startswith(caption)]
    return only


# What stands on it


@pytest.mark.some(1)
@pytest.mark.parametrize("stem", STEMS)
def test_the_sections_come_in_their_order_and_only_where_they_apply(stem: str) -> None:
    found = shown(where(stem))
    sections = [each["id"] for each in found.one("main").all("h2")]
    expected = ["picture", "months", "goal", "choice", "sure", "assumptions", "wires", "basin", "safety", "parts"]
    expected += ["ten-years", "work", "care"]
    expected += ["answers", "sources", "repeat", "signed"]
    left_out = [] if stem == "orchard_choice" else ["goal", "choice"]
    assert [each for each in sections if each in expected] == [each for each in expected if each not in left_out]
    assert len(ask("GET", where(stem)).content) <= LARGEST_PAGE


def test_the_job_says_place_panel_pump_and_water() -> None:
    said = [plain(sentence) for sentence in job(sized("terrace_spillway"))]
    assert said[0] == (
        "A garden fountain at Invented school terrace near Bloemfontein (29.1° south, 26.2° east), 1390 m above the sea; its sun "
        "is taken from the built-in table for the place."
    )
    assert said[1] == (
        "It plays from the panel “50 W panel (invented)”, 2 of them (1 in series, 2 in parallel), which drives the pump “12 V "
        "cascade pump, 35 litres a minute at 1 m (invented)” through a step-down controller that passes on 92 %, "
        "over 6 m of cable with conductors of 4 mm²."
    )
    assert said[2].endswith("25 mm and 4 fittings to a spillway 30 cm wide, 50 cm above the water.")
    assert outlet(Nozzle(0.0073, 3, 0.0)).replace("\N{NO-BREAK SPACE}", " ") == "3 jets of 7.3 mm bore, level with the water"


@pytest.mark.some(1)
@pytest.mark.parametrize("stem", STEMS)
def test_verdict_warnings_and_assumptions_are_those_of_the_sizing(stem: str) -> None:
    report, text = sized(stem), plain(shown(where(stem)).one("main").text)
    for sentence in (report.verdict.headline, report.verdict.dry, report.verdict.limit, report.verdict.goal):
        assert plain(sentence) in text
    for note in (*report.warnings, *report.assumptions):
        assert plain(note.detail) in text


def test_months_sources_and_version_are_those_of_the_answer() -> None:
    found, page = sizing_answer(sized("quince_court_jet")), shown(where("quince_court_jet"))
    rows = cells(page, "The twelve months")
    assert [float(row[3]) for row in rows] == pytest.approx([month.water_l_per_day for month in found.months], rel=0.01)
    for row, month in zip(rows, found.months, strict=True):
        low, high = (float(end) for end in row[4].split(" to "))
        assert low == pytest.approx(month.water_low_l_per_day, rel=0.05, abs=1)
        assert high == pytest.approx(month.water_high_l_per_day, rel=0.05, abs=1)
    titles = [plain(each.text) for each in page.one("ul", **{"class": "small-print"}).all("li")]
    assert len(titles) == len(set(titles)) > len(found.sources)
    for source in (*found.sources.values(), SOURCES["nec_table_11"], SOURCES["iec_60364_7_702"]):
        assert any(said.startswith(plain(source.title)) for said in titles)
    assert f"model version {MODEL_VERSION}," in page.one("main").text


def test_boxes_to_sign_are_empty_and_no_day_is_printed() -> None:
    page = shown(where("quince_court_jet"))
    rows = cells(page, "To fill in by hand")
    assert len(rows) == 3
    assert all(row[1:] == ["", "", ""] for row in rows)
    assert "permits nothing" in page.one("main").text
    assert ask("GET", where("quince_court_jet")).text == ask("GET", where("quince_court_jet")).text


def test_nothing_on_it_has_to_be_unfolded_and_nothing_leads_away() -> None:
    main_part = shown(where("orchard_choice")).one("main")
    assert not main_part.all("details")
    assert {each["href"] for each in main_part.all("a") if not each.inside("nav")} == set()


def test_what_was_typed_is_text_and_never_markup() -> None:
    odd = {"title": "<script>1</script>", "panels.0.name": '"><b>', "note": "{{ 7 * 7 }}", "place.name": "O'Hara & Söhne"}
    page = shown(where("quince_court_jet", **odd))
    assert not page.all("script", "b")
    assert plain(page.one("h1").text) == "<script>1</script>"
    text = page.one("main").text
    assert "O'Hara & Söhne (46.05° north, 14.51° east)" in text
    assert "{{ 7 * 7 }}." in text


def test_a_wrong_answer_comes_back_as_the_form() -> None:
    response = ask("GET", where("quince_court_jet", **{"pipe.length_m": "abc"}))
    assert response.status_code == 422
    assert "pipe.length_m" in [each["href"][1:] for each in read(response.text).one(id="error-summary").all("a")]
    assert ask("GET", where("quince_court_jet", **{"place.latitude_deg": "-31", "place.longitude_deg": "-25"})).status_code == 422


# Why this pair


def test_the_chosen_pair_stands_between_its_neighbours_by_rank() -> None:
    report = sized("orchard_choice")
    found = compare(report.design)
    own = chosen_of(found, report)
    assert own.water == pytest.approx(report.year.water, rel=1e-12)
    assert [each.rank for each in neighbours(found, own)] == [own.rank - 1, own.rank, own.rank + 1]
    # by hand: the first of twelve stands beside the second and third, the last beside the tenth and eleventh
    assert [each.rank for each in neighbours(found, found.pairs[0])] == [1, 2, 3]
    assert [each.rank for each in neighbours(found, found.pairs[-1])] == [10, 11, 12]
    rows = {row[0]: row[1:] for row in cells(shown(where("orchard_choice")), "The chosen pair")}
    beside = neighbours(found, own)
    assert rows["Panel"] == [each.panel_input.name for each in beside]
    assert rows["Pump"] == [each.pump_input.name for each in beside]
    assert [float(price) for price in rows["Price, NZD"]] == [each.price.amount for each in beside if each.price]
    text = plain(shown(where("orchard_choice")).one("main").text)
    assert f"Your pair is number {own.rank} of 12: it is unlikely to meet the goal" in text
    assert "Cheapest that likely meets the goal: " in text


def test_two_pairs_are_two_columns_and_one_is_none() -> None:
    two = size(parse_design(json.dumps(document([1.7, 2.9], [1.1])).encode()))
    found = compare(two.design)
    assert len(neighbours(found, chosen_of(found, two))) == 2
    assert choice(compare(sized("quince_court_jet").design), sized("quince_court_jet")) is None


# To repeat it


def test_the_address_is_printed_whole_and_gives_the_same_page() -> None:
    page = shown(where("orchard_choice"))
    printed = page.one("p", **{"class": "address"}).text
    assert printed.startswith("http://fountain.test/report?")
    again = read(ask("GET", printed.removeprefix("http://fountain.test")).text)
    assert again.one("main").text == page.one("main").text
    buttons = [(button["formaction"], button.text) for button in page.one("form", action="/design.json").all("button")]
    assert buttons[0] == ("", "Save as a design file")
    assert [where for where, _ in buttons[1:]] == ["/parts", "/wires.csv", "/basin.csv", "/pair-costs.csv"]


def test_what_is_sent_as_the_services_address_does_not_count() -> None:
    page = shown(where("quince_court_jet", **{"service.address": "https://elsewhere.test"}))
    assert page.one("p", **{"class": "address"}).text.startswith("http://fountain.test/report?")
    assert "elsewhere" not in page.one("main").text


@pytest.mark.slow
def test_a_design_too_long_for_an_address_says_so() -> None:
    texts = texts_of(parse_design(json.dumps(document([1.7, 2.9], [1.1] * 9)).encode())) | {"note": "x" * 400}
    texts |= {f"pumps.{pump}.name": "n" * 80 for pump in range(9)}
    texts |= {f"panels.{panel}.name": "Ω" * 80 for panel in range(2)}
    response = ask("POST", "/report", data=texts)
    assert response.status_code == 200
    found = read(response.text)
    assert "too long for an address" in found.one("main").text
    assert not found.all("p", **{"class": "address"})


def test_what_fits_is_led_to_its_address() -> None:
    response = ask("POST", "/report", data=texts_of(sized("quince_court_jet").design))
    assert response.status_code == 303
    assert response.headers["location"].startswith("/report?")
    assert "service.address" not in response.headers["location"]


# The file


@pytest.mark.some(2)
@pytest.mark.parametrize("stem", [*STEMS, "weather_file_jet"])
def test_the_file_needs_nothing_else(stem: str) -> None:
    text = report_file(sized(stem), f"{stem}.json", EXAMPLES)
    found = read(text)
    assert not found.all("a", "link", "img", "script", "form", "button")
    assert not [each.attributes for each in found.walk() if {"href", "src", "action"} & each.attributes.keys()]
    assert not re.search(r"url\(|@import|https?://(?!www\.w3\.org/2000/svg)", text)
    ids = Counter(each["id"] for each in found.walk() if "id" in each.attributes)
    assert {name: count for name, count in ids.items() if count > 1} == {}
    assert f"solar-fountain size {stem}.json" in plain(found.one("main").text)
    assert len(text.encode()) <= LARGEST_PAGE


def test_a_weather_file_is_named_where_the_form_has_no_box_for_it() -> None:
    found = read(report_file(sized("weather_file_jet"), "x.json", EXAMPLES)).one("dl", **{"class": "answers"})
    said = dict(zip([each.text for each in found.all("dt")], [each.text for each in found.all("dd")], strict=True))
    assert said["Where the sun comes from"] == f"Weather file: {sized('weather_file_jet').sky.title}"
    assert "the hours of a weather file" in job(sized("weather_file_jet"))[0]


def outcome(capsysbinary: Any, *arguments: str) -> tuple[int, bytes, str]:
    code = main(["report", *arguments])
    out, err = capsysbinary.readouterr()
    return code, out, err.decode()


def test_the_command_writes_one_file_and_prints_nothing(tmp_path: Path, capsysbinary: Any) -> None:
    path = tmp_path / "fountain.html"
    design = str(EXAMPLES / "quince_court_jet.json")
    assert outcome(capsysbinary, design, "--html", str(path)) == (DONE, b"", "")
    assert path.read_text(encoding="utf-8") == report_file(sized("quince_court_jet"), "quince_court_jet.json", EXAMPLES)
    code, out, err = outcome(capsysbinary, design, "--html", "-")
    assert (code, out, err) == (DONE, path.read_bytes(), "")


def test_the_command_keeps_what_is_there_unless_forced(tmp_path: Path, capsysbinary: Any) -> None:
    path = tmp_path / "fountain.html"
    path.write_text("mine")
    design = str(EXAMPLES / "quince_court_jet.json")
    sentence = f"--html: {path} is there already; name another file, or add --force to write over it\n"
    assert outcome(capsysbinary, design, "--html", str(path)) == (BAD_INPUT, b"", sentence)
    assert path.read_text() == "mine"
    assert outcome(capsysbinary, design, "--html", str(path), "--force") == (DONE, b"", "")
    assert path.read_text(encoding="utf-8").startswith("<!doctype html>")


def test_the_command_never_writes_over_its_design(tmp_path: Path, capsysbinary: Any) -> None:
    path = tmp_path / "garden.json"
    path.write_bytes((EXAMPLES / "quince_court_jet.json").read_bytes())
    code, _, err = outcome(capsysbinary, str(path), "--html", str(path), "--force")
    assert code == BAD_INPUT
    assert err == f"--html: {path} is the design file itself, which would be lost; name another file\n"
    assert path.read_bytes() == (EXAMPLES / "quince_court_jet.json").read_bytes()


def test_what_cannot_be_written_or_sized_is_said_in_a_sentence(tmp_path: Path, capsysbinary: Any) -> None:
    design = str(EXAMPLES / "quince_court_jet.json")
    nowhere = tmp_path / "no" / "fountain.html"
    for target, sentence in (
        (nowhere, f"--html: there is no folder {nowhere.parent}; make it, or name another\n"),
        (tmp_path, f"--html: {tmp_path} is a folder; name a file in it, such as {tmp_path / 'fountain.html'}\n"),
    ):
        assert outcome(capsysbinary, design, "--html", str(target)) == (BAD_INPUT, b"", sentence)
    path = tmp_path / "fountain.html"
    code, out, err = outcome(capsysbinary, str(tmp_path / "none.json"), "--html", str(path))
    assert (code, out) == (BAD_INPUT, b"")
    assert "there is no such file" in err
    assert not path.exists()
    assert main(["report", design]) == BAD_INPUT
    assert b"--html" in capsysbinary.readouterr().err


@pytest.mark.parametrize("stem", STEMS)
def test_cable_voltages_and_the_notes_that_apply_stand_on_it(stem: str) -> None:
    found, wires = shown(where(stem)), wires_of(sized(stem))
    text = plain(found.one("main").text)
    for sentence in (wires.sentence, wires.fuse.sentence, *(limit.sentence for limit in wires.limits), *wires.licensed):
        assert plain(sentence) in text
    assert [row[0] for row in cells(found, "Copper there and back")][1:] == [plain(row.size.name) for row in wires.rows]
    notes = found.one("dl", **{"class": "notes"})
    told = [plain(each.text) for each in notes.all("dt")]
    assert [each.removesuffix(" For a licensed person.") for each in told] == [
        plain(note.title) for note in safety_of(sized(stem), wires)
    ]
    assert [plain(each.text) for each in notes.all("dd")] == [
        f"{plain(note.reason)} ({note.anchor})" for note in safety_of(sized(stem), wires)
    ]
