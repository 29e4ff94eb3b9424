"""The page that compares pumps and panels: its verdict, its table, why pairs fail, buttons that size a pair, and its files."""

import json
import re
from collections import Counter
from collections.abc import Mapping
from functools import lru_cache
from typing import Any
from urllib.parse import parse_qsl, urlencode, urlsplit

import pytest

from sizing.comparison.comparison import Comparison, compare
from sizing.comparison.pairs import suits
from sizing.design.reading import read_design
from tests.asking import ROOT, ask
from tests.choices import document, stronger
from tests.markup import Element, read
from web.charts.pair_names import names_of
from web.forms.form import texts_of
from web.pages.compare.choice_words import headline, lead, mark, runner_up
from web.pages.compare.compare_page import compare_content
from web.pages.compare.pairs_tables import pairs_table, reasons_of, smallest_table
from web.pages.frame.site import page

EVERY = 72


def orchard(**changes: Any) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((ROOT / "examples" / "orchard_choice.json").read_text(encoding="utf-8"))
    return found | changes


def lone(**changes: Any) -> dict[str, Any]:
    """One panel and one pump."""
    found = orchard(**changes)
    found.pop("chosen", None)
    return found | {"panels": found["panels"][1:2], "pumps": found["pumps"][:1]}


def without_goal() -> dict[str, Any]:
    found = orchard()
    found.pop("goal")
    return found


def unpriced() -> dict[str, Any]:
    found = orchard()
    for part in (*found["panels"], *found["pumps"]):
        part.pop("price")
    return found


def partly_impossible() -> dict[str, Any]:
    """Too much lift for most, and one label that cannot be."""
    found = orchard()
    found["outlet"]["height_above_water_m"] = 1.6
    found["panels"][0]["vmp_v"] = 21.4
    return found


def every_pair() -> dict[str, Any]:
    """Six panels with twelve pumps, with names as long as shops have them."""
    found = document(
        [0.5 + 0.23 * number for number in range(6)], [0.6 + 0.1 * number for number in range(12)], {"title": "Seventy-two"}
    )
    for number, panel in enumerate(found["panels"]):
        panel["name"] = f"{7 * number + 10} W panel of the third shelf in the shop"
    for number, pump in enumerate(found["pumps"]):
        pump["name"] = f"12 V pond pump number {number + 1} with a cable of five metres"
    return found


def texts(design: Mapping[str, Any]) -> dict[str, str]:
    return texts_of(read_design(design))


@lru_cache(maxsize=16)
def compared(name: str, both: bool = False) -> Comparison:
    return compare(read_design(DESIGNS[name]()), both_connections=both)


@lru_cache(maxsize=16)
def markup(name: str, both: bool = False) -> str:
    found = compared(name, both)
    response = page("compare.html", current="/compare", **compare_content(found, texts(DESIGNS[name]()), both))
    return bytes(response.body).decode()


@lru_cache(maxsize=16)
def shown(name: str, both: bool = False) -> Element:
    return read(markup(name, both))


def plain(text: str) -> str:
    return " ".join(text.replace("\N{NO-BREAK SPACE}", " ").replace("\N{NARROW NO-BREAK SPACE}", "").split())


DESIGNS = {
    "orchard": orchard,
    "without a goal": without_goal,
    "unpriced": unpriced,
    "partly impossible": partly_impossible,
    "lone": lone,
    "every pair": every_pair,
}
CASES = [(name, False) for name in DESIGNS] + [("orchard", True), ("lone", True)]


def pairs_of(found: Element) -> list[list[str]]:
    """Cells of the table of pairs."""
    body = found.one("table", **{"class": "numbers pairs"}).one("tbody")
    return [[plain(cell.text) for cell in row.all("th", "td")] for row in body.all("tr")]


# What the page says first


def test_with_a_goal_the_cheapest_pair_leads_and_the_next_one_lacks_something() -> None:
    found = compared("orchard")
    names = names_of(found)
    assert found.cheapest is not None
    # By hand from the example: what the panels and the pumps cost.
    panel, pump, bore = found.cheapest.panel_input, found.cheapest.pump_input, found.cheapest.bore
    price = {"panel-10w": 32.0, "panel-20w": 54.5, "panel-50w": 97.0}[panel.id]
    price += {"pump-12v-8l": 38.0, "pump-12v-15l": 64.0, "pump-12v-box": 29.5, "pump-24v-18l": 81.0}[pump.id]
    nozzle = "" if found.cheapest.own is None else f" and a nozzle of {bore:g} mm instead of 8 mm"
    assert plain(headline(found, names)) == (
        f"Cheapest that likely meets the goal: {panel.name} with {pump.name}{nozzle}, for {price:.2f} NZD."
    )
    said = plain(" ".join(lead(found, names)))
    assert said.startswith(
        "Wanted: a jet of 40 cm for 90 % of the time from 11:00 to 15:00, October to March, on 7 days out of 10."
    )
    meeting = [each for each in found.pairs if suits(each)]
    following = next(each.price for each in meeting if each is not found.cheapest and each.price is not None)
    assert said.endswith(f" {len(meeting)} of 12 pairs likely meet it; the next costs {following.amount:.2f} NZD.")
    near = found.nearly
    assert near is not None
    last = plain(" ".join(runner_up(found, names)))
    assert last.startswith(f"Nearest of those that do not: {near.panel_input.name} with {near.pump_input.name}, for ")
    assert last.endswith(plain(near.failure))
    assert plain(shown("orchard").one("h1").text) == plain(headline(found, names))


def test_without_a_goal_most_water_leads_and_the_cheapest_is_told() -> None:
    found = compared("without a goal")
    first, names = found.pairs[0], names_of(found)
    assert first.water == max(each.water for each in found.pairs)
    assert plain(headline(found, names)).startswith(f"Most water: {first.panel_input.name} with {first.pump_input.name}, ")
    cheapest = min((each for each in found.pairs if each.water > 0), key=lambda each: each.price.amount)  # type: ignore[union-attr]
    assert f"{100 * cheapest.water / first.water:.2g} % of that." in plain(lead(found, names)[0])


@pytest.mark.slow
def test_prices_that_are_missing_or_differ_decide_nothing() -> None:
    found = compared("unpriced")
    names = names_of(found)
    assert re.match(r"^4 of 12 pairs likely meet the goal, most surely ", plain(headline(found, names)))
    assert "Which is cheapest cannot be told: no price is known for any of them." in lead(found, names)
    head, _ = pairs_table(found, names)
    assert not [each for each in head if each.startswith("Price")]
    assert "No prices are given, so none are compared" in shown("unpriced").one("main").text
    mixed = orchard()
    mixed["pumps"][0]["price"] = {"amount": 38, "currency": "AUD"}
    mixed["panels"][2]["price"] = {"amount": 97, "currency": "AUD"}
    told = compare(read_design(mixed))
    said = lead(told, names_of(told))
    assert "Which is cheapest cannot be told: prices are in several currencies." in said
    assert {cell[2][-3:] for cell in rows_of(told)} <= {"NZD", "AUD", "–"}


def rows_of(found: Comparison) -> list[tuple[str, str, str]]:
    """Label, mark and price of each row."""
    head, rows = pairs_table(found, names_of(found))
    place = next(index for index, each in enumerate(head) if each.startswith("Price"))
    return [(row.label, row.mark, row.cells[place]) for row in rows]


def test_a_goal_that_nobody_meets_and_one_that_everybody_meets() -> None:
    goal = orchard()["goal"]
    never = compare(read_design(orchard(goal=goal | {"jet_height_m": 9.3})))
    names = names_of(never)
    assert headline(never, names) == "No pair likely meets the goal."
    assert runner_up(never, names) == [
        "None reaches it in any hour of the year.",
        "No size of panel would do with any of these pumps; why stands below.",
    ]
    small = orchard()
    small["panels"] = small["panels"][:1]
    weak = compare(read_design({name: value for name, value in small.items() if name != "chosen"}))
    least = min((each.likely for each in weak.smallest if each.likely is not None), key=lambda each: each.watts)
    assert headline(weak, names_of(weak)) == "No pair likely meets the goal."
    assert plain(runner_up(weak, names_of(weak))[-1]) == (
        f"A panel of {least.watts} W would likely do for 24 V garden pump, 18 litres a minute (invented)."
    )
    assert {mark(never, each) for each in never.pairs} == {"never reaches the goal"}
    easy = orchard(goal={"flow_l_per_min": 0.07, "from_hour": 12, "to_hour": 13, "months": [12], "days_out_of_ten": 1})
    easy["panels"], easy["pumps"] = easy["panels"][2:], easy["pumps"][:2]
    for part in (*easy["panels"], *easy["pumps"]):
        part.pop("price")
    easy.pop("chosen", None)
    found = compare(read_design(easy))
    assert headline(found, names_of(found)).startswith("Both pairs likely meet the goal, most surely 50 W panel (invented) with ")
    assert runner_up(found, names_of(found)) == []


def test_one_pair_is_nothing_to_compare_and_the_form_is_one_link_away() -> None:
    found = shown("lone")
    assert found.one("h1").text == "There is nothing to compare yet: this design has one panel and one pump."
    link = next(each for each in found.one("main").all("a") if each.text == "in the form")
    where = urlsplit(link["href"])
    assert (where.path, where.fragment) == ("/", "pumps-questions")
    assert dict(parse_qsl(where.query)) == texts(lone())
    assert not found.all("svg")
    assert len(found.all("table")) == 1  # the smallest panel for the one pump
    assert not shown("lone", True).all("a", href=link["href"])
    assert len(pairs_of(shown("lone", True))) == 2


# The table of pairs


@pytest.mark.some(2)
@pytest.mark.parametrize(("name", "both"), [case for case in CASES if case != ("lone", False)])
def test_pairs_stand_by_rank_with_the_numbers_of_the_comparison(name: str, both: bool) -> None:
    found, rows = compared(name, both), pairs_of(shown(name, both))
    head = [plain(each.text) for each in shown(name, both).one("table", **{"class": "numbers pairs"}).one("thead").all("th")]
    assert len(rows) == len(found.pairs)
    large = any(each.endswith("m³") for each in head)
    for row, each in zip(rows, found.pairs, strict=True):
        cells = dict(zip(head, row, strict=True))
        assert row[0].startswith(f"{each.rank}. panel ")
        if each.refused:
            assert row[1].startswith("cannot be sized")
            assert cells["First sun that plays, W/m²"] == "–"
            continue
        water = next(text for key, text in cells.items() if key.startswith("Water a year"))
        assert float(water) == pytest.approx(each.water * (1 if large else 1000), rel=0.01, abs=0.6)
        hours = next(text for key, text in cells.items() if key.startswith(("Hours that reach", "Plays, hours")))
        assert float(hours) == round(each.goal.hours if each.goal else each.running_hours)
        assert each.matching_factor is not None
        assert float(cells["Panel’s energy taken, %"]) == pytest.approx(100 * each.matching_factor, abs=0.51)
        assert each.noon_jet is not None
        key, scale = ("Jet at noon, cm", 100) if "Jet at noon, cm" in cells else ("Jet at noon, m", 1)
        ends = [float(part) for part in cells[key].split("–")]
        assert ends == sorted(ends)
        for end, jet in zip((ends[0], ends[-1]), (min(each.noon_jet.values()), max(each.noon_jet.values())), strict=True):
            assert end == pytest.approx(scale * jet, abs=0.51 if scale == 100 else 0.06)
        if each.price is not None:
            price = next(text for key, text in cells.items() if key.startswith("Price, "))
            assert float(price) == pytest.approx(each.price.amount)


def test_marks_say_in_words_what_a_pair_comes_to() -> None:
    found = compared("orchard")
    marks = {each.rank: mark(found, each) for each in found.pairs}
    assert marks[1] == "likely meets the goal, cheapest"
    assert set(marks.values()) >= {"may meet the goal or miss it", "never reaches the goal"}
    missed = next(each for each in found.pairs if each.chance and each.chance.outlook == "unlikely")
    assert re.fullmatch(r"unlikely to meet the goal: (no day|\d(\.\d)? of 10 days) in [A-Z][a-z]+", mark(found, missed))
    rows = pairs_of(shown("orchard"))
    ranks = {each.pair: each.rank for each in found.pairs}
    for row, each in zip(rows, found.pairs, strict=True):
        assert ("beaten by" in row[1]) == (each.beaten_by is not None)
        if each.beaten_by is not None:
            assert f"beaten by pair {ranks[each.beaten_by]} in everything" in row[1]
    assert {mark(compared("without a goal"), each) for each in compared("without a goal").pairs if not each.doubt} == {"plays"}


def test_above_the_highest_voltage_is_no_suitable_pair() -> None:
    design = orchard()
    design["pumps"] = [pump | {"highest_voltage_v": pump["rated_voltage_v"] + 0.3} for pump in design["pumps"]]
    for panel in design["panels"]:
        panel |= {"imp_a": 1.7 * panel["imp_a"], "isc_a": 1.7 * panel["isc_a"]}
    found = compare(read_design(design))
    worn = [each for each in found.pairs if each.chance and each.chance.outlook == "likely" and each.over_voltage_hours > 0]
    assert worn
    assert {mark(found, each) for each in worn} == {"likely meets the goal, above its highest voltage"}
    _, rows = pairs_table(found, names_of(found))
    assert not any(row.good for row in rows if row.rank in [each.rank for each in worn])
    assert all(row.why for row in rows if row.rank in [each.rank for each in worn])


@pytest.mark.some(2)
@pytest.mark.parametrize(("name", "both"), CASES)
def test_every_pair_that_fails_has_its_sentence_and_a_link_to_it(name: str, both: bool) -> None:
    found = compared(name, both)
    reasons = reasons_of(found, names_of(found))
    assert len({reason.sentence for reason in reasons}) == len(reasons)
    failing = [each for each in found.pairs if each.refused or each.failure or each.doubt]
    ids = [part.id for part in (*found.design.panels, *found.design.pumps)]
    assert not [reason for reason in reasons for part in ids if re.search(rf"(panel|pump) {re.escape(part)}\b", reason.sentence)]
    if len(found.pairs) > 1:
        page_of_it = shown(name, both)
        links = page_of_it.one("table", **{"class": "numbers pairs"}).all("a")
        assert len(links) == len(failing)
        for link, each in zip(links, failing, strict=True):
            told = page_of_it.one(id=link["href"][1:])
            assert re.search(rf"\b{each.rank}\b", told.text.partition(":")[0])


def test_the_smallest_panel_of_each_pump_or_why_none_can() -> None:
    for name in ("orchard", "partly impossible"):
        found = compared(name)
        table = smallest_table(found, names_of(found))
        assert table is not None
        assert [row[1] for row in table.rows] == ["–" if each.watts is None else str(each.watts) for each in found.smallest]
        likely = [each.likely for each in found.smallest]
        assert [row[2] for row in table.rows] == ["–" if each is None else str(each.watts) for each in likely]
        assert all(row[3] for row in table.rows)
    assert smallest_table(compared("without a goal"), names_of(compared("without a goal"))) is None
    none = compare(read_design(orchard(goal=orchard()["goal"] | {"jet_height_m": 9.3})))
    table = smallest_table(none, names_of(none))
    assert table is not None
    assert {row[1] for row in table.rows} == {"–"}
    assert all(row[3].startswith("No panel ") for row in table.rows)


def test_two_pumps_of_one_name_are_told_apart() -> None:
    design = orchard()
    design["goal"] |= {"jet_height_m": 0.2}
    design["pumps"] = [stronger(design["pumps"][0], by) | {"id": name} for by, name in ((0.9, "weak"), (1.3, "strong"))]
    design.pop("chosen", None)
    found = compare(read_design(design))
    assert re.search(r"minute \(invented\) \(pump [12]\)(, for| and a nozzle) ", plain(headline(found, names_of(found))))


# Markup


@pytest.mark.some(3)
@pytest.mark.parametrize(("name", "both"), CASES)
def test_ids_are_unique_and_every_reference_leads_somewhere(name: str, both: bool) -> None:
    found = shown(name, both)
    ids = Counter(each["id"] for each in found.walk() if "id" in each.attributes)
    assert {each: count for each, count in ids.items() if count > 1} == {}
    for each in found.walk():
        for attribute in ("aria-labelledby", "for", "form"):
            assert set(each[attribute].split()) <= set(ids)
        if each["href"].startswith("#"):
            assert each["href"][1:] in ids
        assert each.tag not in ("script", "style")
        assert not [attribute for attribute in each.attributes if attribute == "style" or attribute.startswith("on")]


@pytest.mark.some(3)
@pytest.mark.parametrize(("name", "both"), [case for case in CASES if case != ("lone", False)])
def test_every_picture_has_title_description_finding_and_a_table(name: str, both: bool) -> None:
    found = shown(name, both)
    pictures = found.all("svg")
    assert [each.all("title")[0].text for each in pictures] == ["All pumps", "All panels and pumps", "Months side by side"]
    for each in pictures:
        assert each.one("desc").text.count(".") >= 1
        figure = each.parent
        assert figure is not None
        assert figure.tag == "figure"
        assert len(figure.one("figcaption").text) > 30
        assert figure.parent is not None
        assert figure.parent.one("details").one("table").one("caption").text
    for table in found.all("table"):
        assert len({len(row.all("th", "td")) for row in table.all("tr")}) == 1
        assert all(head.text for head in table.all("th"))


def test_names_with_markup_stay_names() -> None:
    design = orchard(title="<b>Ours</b>")
    design["pumps"][1]["name"] = '"><script>'
    response = ask("GET", f"/compare?{urlencode(texts(design))}")
    found = read(response.text)
    assert not found.all("script", "b")
    assert '"><script>' in found.one("table", **{"class": "numbers pairs"}).text


@pytest.mark.slow
def test_seventy_two_pairs_are_all_listed_on_a_page_that_is_light() -> None:
    found = shown("every pair")
    assert len(pairs_of(found)) == EVERY
    assert len(markup("every pair").encode()) <= 150_000
    captions = {each.one("caption").text: len(each.one("tbody").all("tr")) for each in found.all("table")}
    assert captions["Litres a day in each month"] == EVERY
    assert next(count for caption, count in captions.items() if caption.startswith("Jet from 12:00")) == EVERY
    twice = read(
        bytes(
            page(
                "compare.html",
                current="/compare",
                **compare_content(compare(read_design(every_pair()), both_connections=True), texts(every_pair()), True),
            ).body
        ).decode()
    )
    assert len(pairs_of(twice)) == 2 * EVERY
    assert "Month by month these many pairs stand in the CSV." in twice.one("main").text
