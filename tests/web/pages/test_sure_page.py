"""How sure, what if and the goal on the results page: ranges in words, bars, and buttons that keep their promises."""

import re
from functools import lru_cache
from urllib.parse import parse_qsl, urlsplit

import pytest

from sizing.design.reading import read_design
from sizing.report.report import Report, size
from sizing.report.what_if import what_ifs
from tests.asking import ask
from tests.markup import Element, read
from tests.web.pages.test_pages import address, design_texts, results
from web.charts.causes import Share, causes_chart
from web.charts.kit.shapes import Rectangle, Text
from web.forms.form import Texts, understand
from web.forms.sending import apart
from web.pages.frame.site import page
from web.pages.results.results_page import results_content
from web.pages.results.sure import about, sure
from web.pages.results.what_if import signed, with_change

NAMES = ("quince_court_jet", "terrace_spillway", "fern_bubbler")
GOAL = {"jet_height_m": 0.3, "from_hour": 10, "to_hour": 15, "months": [5, 6], "days_out_of_ten": 7}


@lru_cache
def report_of(name: str) -> Report:
    design = understand(design_texts(name)).design
    assert design is not None
    return size(design)


@lru_cache
def page_of(name: str) -> Element:
    response = ask("GET", address("/results", design_texts(name)))
    assert response.status_code == 200
    return read(response.text)


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ").replace("\N{NARROW NO-BREAK SPACE}", "")


@pytest.mark.some(1)
@pytest.mark.parametrize("name", NAMES)
def test_ranges_of_the_page_are_those_of_the_report(name: str) -> None:
    report, words = report_of(name), plain(page_of(name).one("main").text)
    match = re.search(
        r"Over the year (?:about )?([\d.]+) L a day(?: if all that was assumed is right)?, likely ([\d.]+) to ([\d.]+)\.", words
    )
    assert match
    said = [float(part) for part in match.groups()]
    held = [1000 * water / 365 for water in (report.year.water, *report.year_band)]
    assert said == [pytest.approx(value, rel=0.05) for value in held]
    best = max(range(12), key=lambda month: report.year.months[month].water)
    match = re.search(
        r"its best month, (?:about )?([\d.]+) L a day(?: if all that was assumed is right)?, likely ([\d.]+) to ([\d.]+)", words
    )
    assert match
    days = report.year.months[best].days
    held = [1000 * report.year.months[best].water, *(1000 * float(end[best]) / days for end in report.water_band)]
    assert [float(part) for part in match.groups()] == [pytest.approx(value, rel=0.05) for value in held]
    assert ("and a jet of about" in words) == (name != "terrace_spillway")
    assert "about two times in three" in words


def test_ranges_have_as_many_figures_as_they_can_bear() -> None:
    assert plain(about(0.6392, 0.5411, 0.7386)) == "about 640 L a day, likely 540 to 740"
    assert plain(about(0.6392, 0.6291, 0.6486)) == "about 639 L a day, likely 629 to 649"


@pytest.mark.some(1)
@pytest.mark.parametrize("name", NAMES)
def test_every_effect_of_a_sum_stands_in_the_table(name: str) -> None:
    """Links of the sum lead to the cells; the formula with its numbers gives the range."""
    found = page_of(name)
    links = [each["href"][1:] for each in found.one(id="sure-working").all("a") if each["href"].startswith("#")]
    assert {f"{cause}_{part}" for cause in ("sky", "bore") for part in ("shift", "spread")} <= set(links)
    for link in links:
        assert found.one(id=link)
    section = sure(report_of(name))
    assert section is not None
    assert [step.id for step in section.sums] == [
        *("combined_shift", "combined_effect", "likely_low_of_year", "likely_high_of_year"),
    ]


def test_nothing_that_plays_has_no_section() -> None:
    found = read(ask("GET", results({"outlet.height_above_water_m": "9"})).text)
    assert not found.all(id="sure")


def test_bars_stand_in_order_and_measure_the_shares() -> None:
    chart = causes_chart(
        [Share("the sky", 0.2, 0.1), Share("the pump’s flow", 0.7, 0.5), Share("dirt", 0.001, 0.4), Share("x", 0, 0)]
    )
    assert [row[0] for row in chart.table.rows] == ["the pump’s flow", "dirt", "the sky", "x"]
    assert chart.table.rows[0] == ("the pump’s flow", "70.0", "50.0")
    bars = [shape for shape in chart.picture.shapes if isinstance(shape, Rectangle)][2:]  # the first two are the key
    # Room for the numbers: 400 - 46 = 354 for the largest, 0.7; 0.4 / 0.7 and 0.2 / 0.7 of it, an outline 1.5 less.
    assert [bar.width for bar in bars] == [
        354,
        pytest.approx(251.4, abs=0.1),
        pytest.approx(200.8, abs=0.1),
        101.1,
        pytest.approx(49.1, abs=0.1),
    ]
    said = [shape.content for shape in chart.picture.shapes if isinstance(shape, Text)]
    assert "x" not in said
    assert plain(chart.finding).startswith(
        "For the year’s water the pump’s flow counts most, with 70 % of the variance; for the jet the same"
    )
    assert max(shape.x for shape in chart.picture.shapes if isinstance(shape, Text)) <= 400


def test_a_spillway_has_no_bars_for_a_jet() -> None:
    chart = causes_chart([Share("the sky", 0.2, None), Share("the pump’s flow", 0.8, None)])
    assert chart.table.head == ("Cause", "Water, % of variance")
    assert len([shape for shape in chart.picture.shapes if isinstance(shape, Rectangle)]) == 3
    assert causes_chart([Share("the sky", 0.0, 0.0)]).finding == "Nothing plays, so there is nothing to be unsure of."


def pressed(name: str, key: str) -> Texts:
    """What a browser sends when a change is pressed on the results page."""
    form = page_of(name).one(id="moment-form")
    sent = {each["name"]: each["value"] for each in form.all("input", type="hidden")}
    return sent | {"moment.month": "7", "moment.hour": "11", "moment.sky": "usual", "what_if": key}


@pytest.mark.some(1)
@pytest.mark.parametrize("name", NAMES)
def test_every_change_leads_to_a_page_that_keeps_its_promise(name: str) -> None:
    report, found = report_of(name), page_of(name)
    buttons = found.all("button", formaction="/what-if")
    changes = what_ifs(report)
    assert [each["value"] for each in buttons] == [each.change.key for each in changes]
    assert all(each["form"] == "moment-form" and each["name"] == "what_if" for each in buttons)
    for change in changes:
        response = ask("GET", "/what-if", params=pressed(name, change.change.key))
        assert response.status_code == 303
        where = response.headers["location"]
        texts = dict(parse_qsl(urlsplit(where).query))
        assert urlsplit(where).path == "/results"
        assert (texts["moment.month"], texts["moment.hour"], texts["moment.sky"]) == ("7", "11", "usual")
        assert "what_if" not in texts
        design = understand({key: text for key, text in texts.items() if not key.startswith("moment.")}).design
        assert design is not None
        assert size(design).year.water == pytest.approx(change.water, rel=1e-9)


def test_a_change_of_a_design_too_long_for_an_address_is_shown_at_once() -> None:
    """A hundred points of skyline with two hundred digits each; a short one sent the same way leads on to its address."""
    sent = pressed("quince_court_jet", "cable")
    long = {f"place.skyline.{row}.azimuth_deg": f"{3 * row}.1{'0' * 200}" for row in range(100)}
    long |= {f"place.skyline.{row}.altitude_deg": f"5.1{'0' * 200}" for row in range(100)}
    response = ask("POST", "/what-if", data=sent | long)
    assert response.status_code == 200
    form = read(response.text).one(id="moment-form")
    assert form["method"] == "post"
    assert apart({"answers": form.one("input", name="answers")["value"]})["cable.area_mm2"] == "2.5"
    short = ask("POST", "/what-if", data=sent)
    assert short.status_code == 303
    assert "cable.area_mm2=2.5" in short.headers["location"]


def test_an_unknown_change_and_a_wrong_answer_change_nothing() -> None:
    texts = design_texts("quince_court_jet")
    assert with_change(texts | {"what_if": "wings"}) == texts
    assert with_change(texts | {"what_if": "pipe", "pipe.length_m": "abc"}) == texts | {"pipe.length_m": "abc"}


def test_differences_have_a_sign_and_no_false_precision() -> None:
    assert plain(signed(0.031, "cm", 0.1)) == "0 cm"
    assert plain(signed(-15.94, "cm", 0.1)) == "−16 cm"
    assert plain(signed(469_300, "L", 780)) == "+470000 L"


def test_the_goal_is_told_with_its_months() -> None:
    design = understand(design_texts("quince_court_jet")).design
    assert design is not None
    document = design.model_dump(mode="json", exclude_unset=True) | {"goal": GOAL}
    report = size(read_design(document))
    assert report.goal is not None
    found = read(bytes(page("results.html", **results_content(report, design_texts("quince_court_jet"))).body).decode())
    words = plain(found.one("main").text)
    assert plain(report.verdict.goal) in words
    rows = next(each for each in found.all("table") if each.one("caption").text == "Days out of ten that reach the goal").all(
        "tr"
    )[1:]
    assert [row.one("th").text for row in rows] == ["May", "June"]
    assert [float(row.one("td").text) for row in rows] == [
        pytest.approx(10 * report.goal.day_share[month], abs=0.05) for month in (5, 6)
    ]
