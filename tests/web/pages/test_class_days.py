"""Pages of a predicted day and of the first clear day: what is asked, what is wrong with it, looks that a design keeps."""

import csv
import io
import re
from urllib.parse import urlencode

import pytest

from sizing.design.reading import parse_design
from tests.asking import ROOT, ask
from tests.web.pages.test_class_pages import QUINCE, checked
from web.forms.form import texts_of


def test_a_sheet_is_predicted_and_leaves_as_a_table() -> None:
    asked = {"sheet.day": "2026-05-12", "sheet.from_hour": "10:30", "sheet.to_hour": "12"}
    page = checked(ask("GET", "/class/sheet?" + urlencode(QUINCE | asked)).text)
    times = [each.text for each in page.all("th", scope="row")]
    assert times == ["10:30", "11:00", "11:30", "12:00"]
    assert "Never look into the sun" in page.text
    assert re.fullmatch(
        r"On a clear day the jet should be highest at 12:00: .*\scm, two times in three\.", page.one(**{"class": "lead"}).text
    )
    button = next(each for each in page.all("button") if each.text == "11:00")
    worked = checked(ask("GET", "/class/sheet?" + urlencode(QUINCE | asked | {button["name"]: button["value"]})).text)
    assert "open" in worked.one("details", id="sheet-working").attributes
    assert worked.one("details", id="sheet-working").one("summary").text == "How the numbers of 11:00 were computed"
    rows = list(csv.DictReader(io.StringIO(ask("GET", "/class/sheet.csv?" + urlencode(QUINCE | asked)).text)))
    assert [row["time"] for row in rows] == times
    assert all(row["measured_flow_l_per_min"] == "" for row in rows)


def test_a_lip_throws_no_jet_and_none_is_asked_for() -> None:
    terrace = texts_of(parse_design((ROOT / "examples" / "terrace_spillway.json").read_bytes()))
    asked = urlencode(terrace | {"sheet.day": "2026-12-15", "sheet.from_hour": "9", "sheet.to_hour": "11"})
    page = checked(ask("GET", f"/class/sheet?{asked}").text)
    heads = [each.text for each in page.one("table", **{"class": "numbers filling"}).one("thead").all("th")]
    assert " | ".join(heads) == (
        "Time | Sun’s height, ° | read | Sun’s direction, ° | Panel, V | read | Panel, A | read | Flow, L/min | read | Sky"
    )
    assert "jet" not in ask("GET", f"/class/sheet.csv?{asked}").text
    page = checked(ask("GET", f"/class/first-day?{urlencode(terrace | {'first.day': '2026-12-15'})}").text)
    assert "Jet" not in [each.text for each in page.all("td", "th")]
    assert page.all("input", id="look.flow_l_per_min")
    assert not page.all("input", id="look.jet_height_m")


@pytest.mark.parametrize(
    ("asked", "box", "said"),
    [
        ({"sheet.day": "2026-02-30"}, "sheet.day", "no calendar"),
        ({"sheet.from_hour": "late"}, "sheet.from_hour", "no hour between 0 and 24"),
        ({"sheet.from_hour": "15", "sheet.to_hour": "9"}, "sheet.to_hour", "runs from 15 to 9"),
        ({"sheet.from_hour": "0", "sheet.to_hour": "2"}, "sheet.from_hour", "the sun is down"),
    ],
)
def test_a_day_that_cannot_be_is_said_beside_its_box(asked: dict[str, str], box: str, said: str) -> None:
    response = ask("GET", "/class/sheet?" + urlencode(QUINCE | {"sheet.day": "2026-05-12"} | asked))
    assert response.status_code == 422
    page = checked(response.text)
    assert said in page.one(id=f"{box}-error").text
    assert page.one("input", id=box)["value"] == asked[box]


def test_a_look_is_kept_with_the_design_and_judged() -> None:
    look = {"look.day": "2027-05-12", "look.clock_hour": "13:00", "look.sky": "clear", "look.flow_l_per_min": "5,1"}
    response = ask(
        "POST", "/class/first-day", data=QUINCE | look | {"keep": "yes", "first.day": "2027-05-12"}, follow_redirects=True
    )
    assert response.status_code == 200
    page = checked(response.text)
    assert "look at: flow" in page.text
    kept = {each["name"]: each["value"] for each in page.one("form", id="look-form").all("input", type="hidden")}
    assert (kept["measurements.0.clock_hour"], kept["measurements.0.flow_l_per_min"]) == ("13", "5,1")
    design = parse_design(ask("POST", "/design.json", data=kept, follow_redirects=True).content)
    assert design.measurements[0].flow_l_per_min == 5.1
    later = kept | look | {"keep": "yes", "look.day": "2029-05-14", "look.flow_l_per_min": "4.4"}
    page = checked(ask("POST", "/class/first-day", data=later, follow_redirects=True).text)
    assert "Flow: " in page.text
    assert "a year" in page.text


@pytest.mark.some(2)
@pytest.mark.parametrize(
    ("change", "box", "said"),
    [
        ({"look.clock_hour": "noon"}, "clock_hour", "write it like 13:30"),
        ({"look.day": "2027-02-30"}, "day", "no calendar"),
        ({"look.flow_l_per_min": ""}, "panel_voltage_v", "holds no reading"),
        ({"look.flow_l_per_min": "many"}, "flow_l_per_min", "not a number"),
        ({"look.sky": "wet"}, "sky", "clear"),
    ],
)
def test_a_look_that_cannot_be_is_said_beside_its_box(change: dict[str, str], box: str, said: str) -> None:
    look = {"look.day": "2027-05-12", "look.clock_hour": "13:00", "look.sky": "clear", "look.flow_l_per_min": "5.1"} | change
    response = ask("POST", "/class/first-day", data=QUINCE | look | {"keep": "yes", "first.day": "2027-05-12"})
    assert response.status_code == 422
    page = checked(response.text)
    assert said in page.one(id=f"look.{box}-error").text
    for name, text in look.items():
        assert name == "look.sky" or page.one("input", id=name)["value"] == text
