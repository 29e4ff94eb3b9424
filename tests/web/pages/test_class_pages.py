"""The pages of what a class measured: logs in, answers out, nothing typed is lost, and a measured pump reaches the design."""

import csv
import io
import re
from functools import lru_cache
from typing import Any
from urllib.parse import urlencode

import pytest

from sizing.design.reading import parse_design
from sizing.measured.logs.columns import blanks
from tests.asking import ROOT, ask
from tests.markup import Element, read
from web.exports.measured import TO_FILL
from web.forms.form import texts_of

EXAMPLES = ROOT / "examples"
QUINCE = texts_of(parse_design((EXAMPLES / "quince_court_jet.json").read_bytes()))
LOGS = {
    "bench": "bench_heron_pump.csv",
    "directions": "directions_millpond.csv",
    "panel": "panel_wren_yard.csv",
    "filled": "filled_reed_court.csv",
}


def log_of(name: str) -> str:
    return (EXAMPLES / LOGS[name]).read_text(encoding="utf-8")


def sent(name: str, log: str | bytes, as_file: bool = False, more: dict[str, str] | None = None, table: str = "") -> Any:
    """A log sent to its page, pasted or as a file."""
    raw = log if isinstance(log, bytes) else log.encode()
    fields = QUINCE | (more or {}) | ({} if as_file else {"log": raw.decode("utf-8", "replace")})
    upload = ("log.csv", raw if as_file else b"", "text/csv")
    return ask("POST", f"/class/{name}{table}", data=fields, files={"file": upload})


def checked(html: str) -> Element:
    """A page whose ids are unique, whose boxes have labels, and whose inner links lead somewhere."""
    page = read(html)
    ids = [each["id"] for each in page.walk() if each["id"]]
    assert len(ids) == len(set(ids)), sorted(each for each in ids if ids.count(each) > 1)
    labelled = {each["for"] for each in page.all("label")}
    for box in page.all("input", "textarea", "select"):
        if box["type"] != "hidden":
            assert box["id"] in labelled or box["aria-label"], box.attributes
    for link in page.all("a"):
        if link["href"].startswith("#"):
            assert link["href"][1:] in ids, link["href"]
    for each in page.walk():
        for name in each["aria-describedby"].split() + each["aria-labelledby"].split():
            assert name in ids, name
    assert len(page.all("h1")) == 1
    return page


@pytest.mark.parametrize("name", ["", "/bench", "/directions", "/panel", "/filled", "/sheet", "/first-day"])
def test_pages_stand_with_a_design_and_without(name: str) -> None:
    for query in ("", "?" + urlencode(QUINCE)):
        response = ask("GET", f"/class{name}{query}")
        assert response.status_code == 200
        page = checked(response.text)
        assert ("worked example" in page.text) is (query == "")
    if name in ("/bench", "/directions", "/panel", "/filled"):
        assert "nobody’s name" in page.text


@lru_cache
def answered(name: str) -> Any:
    """The answer to the example of a log, as a file."""
    return sent(name, log_of(name), as_file=True)


@lru_cache
def answer_page(name: str) -> Element:
    """The page of that answer, read and looked through once."""
    return checked(answered(name).text)


@pytest.mark.some(2)
@pytest.mark.parametrize("name", [*LOGS])
def test_a_log_is_answered_and_stays_in_its_box(name: str) -> None:
    log = log_of(name)
    response = answered(name)
    assert response.status_code == 200
    page = answer_page(name)
    assert page.one(id="answer").text
    assert page.one("textarea").text.split() == log.split()
    assert page.all("table")
    assert len(response.content) < 150_000
    kept = {each["name"]: each["value"] for each in page.one("form", id="log-form").all("input", type="hidden")}
    assert kept == {key: text for key, text in QUINCE.items() if text.strip()}


@pytest.mark.parametrize("name", [*LOGS])
def test_what_is_no_log_is_said_beside_the_box_and_kept(name: str) -> None:
    for log, said in (("", "log is empty"), ("pupil,mark\nx,1\n", "must name the columns"), (b"\x00\x01", "is no text")):
        response = sent(name, log)
        assert response.status_code == 422
        page = checked(response.text)
        assert said in page.one(id="log-error").text
        assert page.one(id="error-summary").all("a", href="#log")
        if isinstance(log, str) and log:
            assert page.one("textarea").text.split() == log.split()


def test_rows_that_cannot_be_read_are_listed_and_the_rest_counts() -> None:
    log = log_of("bench") + "12,0.6,0.5,5,0,a\n12,x,0.5,5,40,a\n"
    page = checked(sent("bench", log).text)
    told = [each.text for each in page.all("li") if each.text.startswith("Row")]
    assert told[0].startswith("Row 26, fill_time_s: zero seconds")
    assert told[1].startswith("Row 27, current_a: “x” is no number")
    assert "24 readings" in page.one(id="answer").text


def test_names_of_pictures_and_tables_are_said_once() -> None:
    """A panel log of two days has two pictures, a turned panel two experiments: each region has a name of its own."""
    head, *rows = log_of("panel").splitlines()
    two_days = "\n".join([head, *rows[:3], *(row.replace("05-12", "05-13") for row in rows[:3])])
    for page in (checked(sent("panel", two_days).text), answer_page("directions")):
        labels = [each["aria-label"] for each in page.all("div", role="region")]
        assert len(labels) == len(set(labels)) >= 3


def test_a_bench_shows_head_current_and_efficiency_and_a_turned_panel_what_its_verdict_speaks_of_first() -> None:
    figures = [each["id"] for each in answer_page("bench").all("figure")]
    assert figures == ["bench-head", "bench-misses", "bench-current", "bench-efficiency"]
    turned = answer_page("directions")
    assert "most flow" in turned.one(id="answer").text
    assert turned.all("figure")[0]["id"] == "trial-1-flow"


def test_letters_of_a_page_in_a_team_stay_letters() -> None:
    log = log_of("bench").replace("A (invented)", "<b>&")
    response = sent("bench", log)
    assert "<b>&" not in response.text
    assert "&lt;b&gt;&amp;" in response.text
    checked(response.text)


@pytest.mark.slow
def test_a_log_of_thousands_of_rows_is_answered_without_showing_it_again() -> None:
    """Four tables at most, 200 rows each; all rows stand in the CSV."""
    head, *rows = log_of("filled").splitlines()
    log = "\n".join([head, rows[0], *(rows[1:] * 130)])
    response = sent("filled", log, as_file=True)
    assert response.status_code == 200
    assert len(response.content) < 350_000
    page = checked(response.text)
    assert page.one("textarea").text.split() == ["day,time," + ",".join(TO_FILL)]
    assert "choose the file again" in page.one(id="log-long").text
    assert "the first 200 of" in page.text
    assert len(sent("filled", log, as_file=True, table="/rows.csv").text.splitlines()) == 1562


def test_twenty_thousand_rows_are_refused_with_a_sentence() -> None:
    head, row, *_ = log_of("bench").splitlines()
    response = sent("bench", "\n".join([head, *[row] * 20_000]), as_file=True)
    assert response.status_code == 422
    assert "at most 10000 are read" in checked(response.text).one(id="log-error").text


def test_boxes_beside_the_log_have_their_own_sentences() -> None:
    wrong = {"rated_voltage_v": "500", "hose_length_m": "1,234", "time_reading_s": "-1"}
    for name, text in wrong.items():
        response = sent("bench", log_of("bench"), more={name: text})
        assert response.status_code == 422
        page = checked(response.text)
        assert page.one(id=f"{name}-error").text
        assert page.one("input", id=name)["value"] == text
        assert page.one("textarea").text.split() == log_of("bench").split()
    assert "give its length and its inside diameter" in sent("bench", log_of("bench"), more={"hose_length_m": "1.5"}).text
    plain, hose = (
        checked(sent("bench", log_of("bench"), more=more).text).one(id="answer").text
        for more in ({}, {"hose_length_m": "1.5", "hose_diameter_mm": "13"})
    )
    assert plain != hose


@pytest.mark.some(1)
@pytest.mark.parametrize(
    ("name", "box"), [("panel", "voltage_digit_v"), ("directions", "sun_height_reading_deg"), ("filled", "current_share_pct")]
)
def test_what_instruments_are_good_for_counts_on_every_page(name: str, box: str) -> None:
    refused = checked(sent(name, log_of(name), more={box: "-1"}).text)
    assert refused.one(id=f"{box}-error").text
    assert refused.one("input", id=box)["value"] == "-1"
    coarse = checked(sent(name, log_of(name), more={box: "4"}).text)
    assert coarse.one("input", id=box)["value"] == "4"
    shown = [[each.text for each in page.all("td")] for page in (coarse, answer_page(name))]
    assert shown[0] != shown[1]


def test_a_measured_pump_goes_into_the_design_and_is_sized() -> None:
    page = checked(sent("bench", log_of("bench"), more={"date": "2026-11-02"}).text)
    button = next(each for each in page.all("button") if each.text == "Use this pump in the design")
    form = button.parent.parent if button.parent else None
    assert form is not None
    fields = {each["name"]: each["value"] for each in form.all("input", type="hidden")}
    results = ask("POST", form["action"], data=fields, follow_redirects=True)
    assert results.status_code == 200
    assert read(results.text).one("h1").text.startswith("Plays from")
    design = parse_design(ask("POST", "/design.json", data=fields, follow_redirects=True).content)
    measured = design.pumps[0].measured
    assert measured is not None
    assert (measured.readings, measured.date) == (24, "2026-11-02")
    assert design.pumps[0].name.endswith(", measured")
    again = texts_of(design)
    assert {name: text for name, text in again.items() if ".measured." in name} == {
        name: text for name, text in fields.items() if ".measured." in name
    }
    assert "24 readings" in results.text


@pytest.mark.some(2)
@pytest.mark.parametrize(
    ("name", "table", "column"),
    [
        ("bench", "/curve.csv", "head_m"),
        ("bench", "/readings.csv", "head_off_times"),
        ("directions", "/groups.csv", "comparable_mean"),
        ("panel", "/readings.csv", "clear_sky_ratio"),
        ("filled", "/rows.csv", "predicted_flow_l_per_min"),
    ],
)
def test_answers_leave_as_tables(name: str, table: str, column: str) -> None:
    response = sent(name, log_of(name), table=table)
    assert response.headers["content-type"].startswith("text/csv")
    rows = list(csv.DictReader(io.StringIO(response.text)))
    assert rows
    assert all(float(row[column]) >= 0 for row in rows if row[column] and column != "head_off_times")
    assert ask("GET", f"/class/{name}{table}").status_code == 303
    assert sent(name, "x,y\n", table=table).status_code == 422


def test_blank_tables_are_those_that_are_read() -> None:
    for name in (*blanks(), "filled"):
        text = ask("GET", f"/class/{name}.csv").text
        assert (EXAMPLES / f"{name}_blank.csv").read_bytes().decode().strip() == text.strip()
    assert ask("GET", "/class/bench.csv").text == blanks()["bench"]


def test_a_wrong_design_is_the_form_s() -> None:
    for name in ("bench", "sheet", "first-day"):
        response = ask("GET", f"/class/{name}?" + urlencode(QUINCE | {"pipe.length_m": "abc"}))
        assert response.status_code == 422
        assert '<input id="pipe.length_m"' in response.text
    wrong = {"pipe.length_m": "abc"}
    for table in ("", "/curve.csv"):
        assert '<input id="pipe.length_m"' in sent("bench", log_of("bench"), more=wrong, table=table).text


def test_the_results_lead_to_the_class_and_the_class_to_its_parts() -> None:
    results = read(ask("GET", "/results?" + urlencode(QUINCE)).text)
    assert [each.text for each in results.all("button", formaction="/class")] == ["What the class measured"]
    hub = read(ask("GET", "/class?" + urlencode(QUINCE)).text)
    leads = [each["formaction"] for each in hub.all("button") if each["formaction"]]
    assert leads == ["/class/bench", "/class/directions", "/class/panel", "/class/sheet", "/class/filled", "/class/first-day"]
    for address in leads:
        assert ask("POST", address, data=QUINCE, follow_redirects=True).status_code == 200


def test_every_number_unfolds() -> None:
    for name in LOGS:
        page = answer_page(name)
        steps = page.one("dl").all("dt")
        assert len(steps) >= 4
        assert all(re.search(r"\d", step.text) for step in steps)
