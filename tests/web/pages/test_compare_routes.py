"""The ways to the comparison and on from it: by address and by body, a pair that is pressed, the box, the file, mistakes."""

import csv
import io
from urllib.parse import parse_qsl, urlencode, urlsplit

import pytest

from tests.asking import ask
from tests.markup import read
from tests.web.pages.test_compare_page import compared, every_pair, lone, orchard, pairs_of, plain, shown, texts
from web.forms.sending import apart
from web.pages.compare.compare_page import with_pair


def test_a_pair_is_sized_when_it_is_pressed() -> None:
    found = read(ask("GET", f"/compare?{urlencode(texts(orchard()))}").text)
    form = found.one(id="whole-design")
    sent = {each["name"]: each["value"] for each in form.all("input", type="hidden")}
    buttons = found.one("table", **{"class": "numbers pairs"}).all("button")
    assert len(buttons) == 12
    assert {(each["form"], each["formaction"], each["name"]) for each in buttons} == {("whole-design", "/pair", "pair")}
    first = compared("orchard").pairs[0]
    panels, pumps = (
        [each.id for each in parts] for parts in (compared("orchard").design.panels, compared("orchard").design.pumps)
    )
    place = (panels.index(first.panel_input.id), pumps.index(first.pump_input.id))
    assert (form["method"], buttons[0].text) == ("post", f"panel {place[0] + 1}, pump {place[1] + 1}")
    response = ask("POST", "/pair", data=sent | {"pair": buttons[0]["value"]})
    assert response.status_code == 303
    where = urlsplit(response.headers["location"])
    told = dict(parse_qsl(where.query))
    assert where.path == "/results"
    assert (told["chosen.panel"], told["chosen.pump"], told["connection.kind"]) == (
        str(place[0]),
        str(place[1]),
        "direct",
    )
    assert "pair" not in told
    results = read(ask("GET", response.headers["location"]).text)
    answers = [each.text for each in results.all("dd")]
    assert first.pump_input.name in answers
    hours = plain(results.one("main").text)
    assert f"{compared('orchard').pairs[0].goal.hours:.0f} of" in hours  # type: ignore[union-attr]


def test_a_short_design_goes_by_address_and_the_other_connection_is_chosen() -> None:
    found = shown("lone", True)
    form = found.one(id="compare-form")
    assert (form["method"], form["action"]) == ("get", "/compare")
    sent = {each["name"]: each["value"] for each in form.all("input", type="hidden")}
    assert sent == texts(lone())
    values = [each["value"] for each in found.one("table", **{"class": "numbers pairs"}).all("button")]
    assert sorted(".".join(each.split(".")[:3]) for each in values) == ["0.0.controller", "0.0.direct"]
    response = ask("GET", f"/pair?{urlencode(sent | {'pair': '0.0.controller', 'connections': 'both'})}")
    told = dict(parse_qsl(urlsplit(response.headers["location"]).query))
    assert (response.status_code, told["connection.kind"]) == (303, "controller")
    assert "connections" not in told


@pytest.mark.parametrize("pressed", ["", "x", "9.0.direct", "0.9.direct", "0.0.magic", "0.0", "00.0.direct", "-1.0.direct"])
def test_a_pair_that_is_not_there_changes_nothing(pressed: str) -> None:
    given = texts(orchard())
    assert with_pair(given | {"pair": pressed}) == given


def test_the_box_for_both_connections_keeps_its_tick() -> None:
    for both in (False, True):
        query = texts(orchard()) | ({"connections": "both"} if both else {"connections": "whatever"})
        found = read(ask("GET", f"/compare?{urlencode(query)}").text)
        box = found.one(id="connections")
        assert ("checked" in box.attributes) == both
        assert (box["name"], box["value"]) == ("connections", "both")
        assert found.one("label", **{"for": "connections"}).text == "Each pair both directly and behind a controller"
        assert len(pairs_of(found)) == 12 * (1 + both)
    found = shown("orchard", True)
    assert "No price is given for the controller; what needs it has no price" in found.one("main").text


def test_a_wrong_answer_comes_back_in_the_form() -> None:
    response = ask("GET", f"/compare?{urlencode(texts(orchard()) | {'pumps.1.rated_voltage_v': 'abc'})}")
    assert response.status_code == 422
    found = read(response.text)
    assert [each["href"] for each in found.one(id="error-summary").all("a")] == ["#pumps.1.rated_voltage_v"]
    assert found.one(id="pumps.1.rated_voltage_v")["value"] == "abc"
    nowhere = {"place.latitude_deg": "-31", "place.longitude_deg": "-25"}
    for path in ("/compare", "/pairs.csv"):
        assert ask("GET", f"{path}?{urlencode(texts(orchard()) | nowhere)}").status_code == 422
        assert ask("GET", path).status_code == 422


@pytest.mark.slow
def test_a_design_too_long_for_an_address_is_compared_at_once_and_said_once() -> None:
    design = every_pair()
    response = ask("POST", "/compare", data=texts(design) | {"connections": ""})
    assert response.status_code == 200
    found = read(response.text)
    assert "This design is too long for the address of a page" in found.one("main").text
    hidden = found.all("input", type="hidden")
    assert [each["name"] for each in hidden] == ["answers"]
    assert apart({"answers": hidden[0]["value"]})["pumps.11.name"].startswith("12 V pond pump number 12")
    pressed = ask("POST", "/pair", data={"answers": hidden[0]["value"], "pair": "5.11.direct"})
    assert pressed.status_code == 200
    assert "12 V pond pump number 12" in read(pressed.text).one("main").text


def test_the_pairs_as_a_file_for_spreadsheets() -> None:
    response = ask("GET", f"/pairs.csv?{urlencode(texts(orchard()))}")
    assert response.headers["content-type"] == "text/csv; charset=utf-8; header=present"
    assert response.headers["content-disposition"] == 'attachment; filename="fountain-pairs.csv"'
    rows = list(csv.DictReader(io.StringIO(response.text, newline="")))
    assert list(rows[0])[:4] == ["design", "rank", "panel", "panel_name"]
    found = compared("orchard")
    for row, each in zip(rows, found.pairs, strict=True):
        assert each.year is not None
        assert float(row["water_l_per_day_month_12"]) == pytest.approx(1000 * each.year.months[11].water)
    both = ask("GET", f"/pairs.csv?{urlencode(texts(orchard()) | {'connections': 'both'})}")
    assert len(list(csv.reader(io.StringIO(both.text)))) == 25


def test_the_form_and_the_line_of_links_lead_here() -> None:
    found = read(ask("GET", f"/?{urlencode(texts(orchard()))}").text)
    assert found.one("button", formaction="/compare").text == "Compare pumps and panels"
    line = shown("lone").one("nav", **{"aria-label": "This design"})
    assert line.one("a", **{"aria-current": "page"}).text == "Compare pumps and panels"
