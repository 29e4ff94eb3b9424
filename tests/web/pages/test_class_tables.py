"""Tables of a class’s answers: numbers of a row end alike, words stand left; ranges are drawn, notes have a heading."""

import csv
import io
import re

import pytest

from sizing.design.reading import parse_design
from sizing.measured.bench.answer import bench_answer
from tests.asking import ROOT, ask
from tests.markup import Element
from tests.web.pages.test_class_pages import QUINCE, answer_page, checked, log_of, sent
from web.charts.kit.shapes import Circle, Line
from web.forms.sending import LONGEST_ADDRESS, carried
from web.pages.measured.bench_page import current_marks, found_of, head_marks, misses


def table_of(page: Element, caption: str) -> Element:
    return next(each for each in page.all("table") if each.one("caption").text.startswith(caption))


def cells(row: Element) -> list[str]:
    return [each.text for each in row.all("td")]


def decimals(text: str) -> list[int]:
    """How many decimals each number of a text has."""
    return [len(number.partition(".")[2]) for number in re.findall(r"\d+(?:\.\d+)?", text)]


def test_what_was_measured_ends_like_what_was_predicted() -> None:
    rows = table_of(answer_page("filled"), "Readings beside").one("tbody").all("tr")
    assert len(rows) > 50
    for row in rows:
        what, measured, predicted, off = cells(row)
        assert len(set(decimals(measured + " " + predicted))) == 1, (what, measured, predicted)
        assert decimals(off) == [1]
        assert ("°" in measured) is (what == "Height of the sun")
        assert not re.search(r"\s°", measured + predicted)


def test_columns_of_words_stand_left_and_only_they() -> None:
    page = answer_page("filled")
    row = table_of(page, "Readings beside").one("tbody").all("tr")[0]
    assert [each["class"] for each in row.all("td")] == ["text", "", "", ""]
    why = table_of(answer_page("directions"), "The panel tilted 35°").one("tbody").all("td")
    assert [each["class"] for each in why] == ["text long"]
    assert why[0].text.startswith("clouds were remarked")


def test_volts_of_settings_have_decimals_alike() -> None:
    """The example has settings near 6, 9 and 12 V; 5.99 stood over 6."""
    column = [each.text for each in table_of(answer_page("bench"), "Settings").one("tbody").all("th")]
    assert sorted(set(column), key=float) == ["6.0", "9.0", "12.0"]


def test_notes_have_their_own_heading() -> None:
    page = answer_page("bench")
    headings = [each.text for each in page.all("h2")]
    assert headings.index("What else was noticed") == headings.index("What would help most") + 1
    assert headings.index("Use it") == headings.index("What else was noticed") + 1


def test_a_reading_s_range_is_its_miss_over_how_many_uncertainties_that_is() -> None:
    """Row 19 moved 5.91 L/min where all others say 7.57: its range is 1/13 of its miss in head."""
    design = parse_design((ROOT / "examples" / "quince_court_jet.json").read_bytes())
    found = bench_answer(found_of(design, log_of("bench").encode(), {}))
    heads = [abs(row.head_off_m / row.head_off_times) for row in found.rows]
    currents = [abs(row.current_off_a / row.current_off_times) for row in found.rows]
    for marks, spreads in ((head_marks(found.rows), heads), (current_marks(found.rows), currents)):
        for mark, spread in zip(marks, spreads, strict=True):
            assert mark.high - mark.y == pytest.approx(spread)
            assert mark.y - mark.low == pytest.approx(mark.high - mark.y)
    apart = next(mark for mark in head_marks(found.rows) if mark.apart)
    row = next(row for row in found.rows if row.apart)
    assert (apart.x, apart.y) == (row.flow_l_per_min, row.head_m)
    drawn = misses(found).picture.shapes
    assert sum(isinstance(shape, Circle) for shape in drawn) == len(found.rows) - 1
    assert sum(isinstance(shape, Line) and bool(shape.dash) for shape in drawn) == 2


def test_forty_rows_that_cannot_be_read_are_told_and_the_others_counted() -> None:
    page = checked(sent("bench", log_of("bench") + "12,x,0.5,5,40,a\n" * 55).text)
    told = [each.text for each in page.all("li") if "is no number" in each.text]
    assert len(told) == 40
    assert [each.text for each in page.all("li") if each.text.startswith("and ")] == ["and 15 more"]


def test_a_team_that_looks_like_a_formula_stays_text_in_the_table() -> None:
    log = log_of("bench").replace("A (invented)", "=1+1")
    text = sent("bench", log, table="/readings.csv").text
    teams = {row["team"] for row in csv.DictReader(io.StringIO(text))}
    assert not any(team.startswith(("=", "+", "-", "@")) for team in teams)
    assert any("1+1" in team for team in teams)


def test_a_design_too_long_for_an_address_keeps_its_log_and_leads_on() -> None:
    """All its answers come in one field, as buttons of a long design send them."""
    long = carried(two_pumps())
    assert len(long["answers"]) > LONGEST_ADDRESS
    response = ask("POST", "/class/bench", data=long | {"log": log_of("bench")}, files={"file": ("", b"", "text/csv")})
    assert response.status_code == 200
    page = checked(response.text)
    assert page.one(id="answer").text
    kept = {each["name"] for each in page.one("form", id="log-form").all("input", type="hidden")}
    assert kept == {"answers"}
    for part in ("", "/first-day", "/directions"):
        assert ask("POST", f"/class{part}", data=long).status_code == 200


def two_pumps() -> dict[str, str]:
    """Two pumps with more points than an address holds."""
    texts = dict(QUINCE) | {name.replace("pumps.0.", "pumps.1."): text for name, text in QUINCE.items()}
    texts |= {"pumps.1.id": "other", "pumps.1.name": "Other (invented)"}
    for pump in (0, 1):
        for index in range(40):
            base = f"pumps.{pump}.points.{index}"
            texts |= {
                f"{base}.flow_l_per_min": f"{0.25 * index:.6f}",
                f"{base}.head_m": f"{2.0 - 0.045 * index:.6f}",
                f"{base}.current_a": f"{0.4 + 0.005 * index:.6f}",
            }
    return texts


def test_only_a_tall_table_may_go_on_on_the_next_sheet() -> None:
    page = answer_page("filled")
    assert "tall" in table_of(page, "Readings beside")["class"]
    assert "tall" not in table_of(answer_page("bench"), "Settings")["class"]
    assert re.search(
        r"@media print.*\.numbers\.tall \{ break-inside: auto", (ROOT / "web/static/style.css").read_text(), re.DOTALL
    )
