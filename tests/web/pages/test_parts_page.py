"""The page of what must be bought: prices by hand and by file, wrong ones with their sentence, and a budget on paper."""

import csv
import io
import json
from functools import lru_cache
from typing import Any
from urllib.parse import parse_qs, urlencode

import httpx
import pytest

from sizing.design.reading import parse_design
from sizing.installation.building import building_of
from sizing.money.ten_years import bought
from sizing.report.report import size
from tests.asking import ROOT, ask
from tests.markup import Element, read
from web.forms.form import Texts, texts_of, tidy, understand
from web.forms.part_prices import PRICE_FIELDS
from web.pages.report.budget import budget

ORCHARD = ROOT / "examples" / "orchard_choice.json"
PRICES = {"budget.currency": "nzd", "budget.parts.pipe.amount": "2,35", "budget.parts.cable.amount": "1.85"}


@lru_cache(maxsize=2)
def texts(pairs: bool = False) -> Texts:
    """The orchard without the prices of its parts; its chosen pair alone unless all are asked for."""
    found = texts_of(parse_design(ORCHARD.read_bytes()))
    others = ("budget.",) if pairs else ("budget.", "chosen.", "panels.0.", "panels.2.", "pumps.0.", "pumps.2.", "pumps.3.")
    return tidy({name: text for name, text in found.items() if not name.startswith(others)})


def parts(**more: str) -> httpx.Response:
    return ask("GET", f"/parts?{urlencode(texts() | {name.replace('__', '.'): text for name, text in more.items()})}")


def priced(more: dict[str, str]) -> httpx.Response:
    return ask("GET", f"/parts?{urlencode(texts() | more)}")


def words(found: Element) -> str:
    return " ".join(found.one("main").text.replace("\N{NO-BREAK SPACE}", " ").split())


def row(found: Element, name: str) -> list[str]:
    """The cells of one part."""
    rows = [each for each in found.one("table", **{"class": "bought"}).all("tr") if each.all("th")[0].text.startswith(name)]
    return [" ".join(cell.text.split()) for cell in rows[0].all("th", "td")]


def test_every_part_stands_with_its_reason_and_boxes_that_are_named() -> None:
    found = read(parts().text)
    built = building_of(size(parse_design(ORCHARD.read_bytes())))
    text = words(found)
    for part in bought(built).listed.parts:
        assert " ".join(part.reason.replace("\N{NO-BREAK SPACE}", " ").split()) in text
    shown = [each for each in found.all("input") if each["name"] in PRICE_FIELDS]
    assert all(each["aria-label"] or each["id"] in {label["for"] for label in found.all("label")} for each in shown)
    leads = [each["formaction"] for each in found.one("table", **{"class": "bought"}).all("button")]
    assert leads == ["/#panels.0.price.amount", "/#pumps.0.price.amount"]


def test_prices_make_a_budget_and_what_is_missing_stays_missing() -> None:
    """11 m of cable at 1.85 are 20.35, 3 m of pipe at 2.35 are 7.05; with 118.50 for panel and pump 145.90, and a tenth more."""
    found = read(priced(PRICES).text)
    assert row(found, "Two-core cable")[3] == "20.35 NZD"
    assert row(found, "Pipe, ")[3] == "7.05 NZD"
    assert row(found, "Liner")[3] == "–"
    assert row(found, "Pipe and outlet")[1] == "at least 7.05 NZD"
    assert row(found, "Basin")[1] == "–"
    assert row(found, "All together")[1] == "at least 160.49 NZD"
    assert "It costs at least 160.49 NZD." in words(found)
    assert found.one(id="budget.parts.pipe.amount")["value"] == "2,35"


def test_a_wrong_price_has_its_sentence_and_the_rest_counts() -> None:
    response = priced(PRICES | {"budget.parts.liner.amount": "-3", "budget.tax_pct": "abc"})
    assert response.status_code == 422
    found = read(response.text)
    assert found.one("title").text.startswith("Error: ")
    links = [each["href"] for each in found.one(id="error-summary").all("a")]
    assert set(links) == {"#budget.parts.liner.amount", "#budget.tax_pct"}
    assert found.one(id="budget.parts.liner.amount")["value"] == "-3"
    assert row(found, "All together")[1] == "at least 160.49 NZD"


def test_what_is_wrong_in_a_box_asked_once_is_said_once() -> None:
    """Cable 11 m at 1.85 has a currency of its own: with panel and pump 138.85, and a tenth more are 152.74 (13.885 up)."""
    own = {"budget.parts.cable.currency": "NZD", "budget.parts.cable.date": "May", "budget.delivery.amount": "4"}
    for currency, said in (("N1", '"N1", with characters'), ("", "")):
        found = read(priced(PRICES | own | {"budget.currency": currency}).text)
        errors = [each["href"] for each in found.one(id="error-summary").all("a")]
        assert errors == ["#budget.currency", "#budget.parts.cable.date"][not currency :]
        assert found.one(id="budget.parts.cable.date-error").inside("td"), "beside its box"
        assert said in found.one("main").text
        total = "at least 152.74 NZD" if currency else "at least 164.49 NZD"
        assert row(found, "All together")[1] == total, "a price without a currency is not taken for one with"
    alone = read(priced({"budget.parts.cable.amount": "1.85", "budget.parts.pipe.amount": "2"}).text)
    assert [each["href"] for each in alone.one(id="error-summary").all("a")] == ["#budget.currency"]
    assert "Currency of these prices is missing" in alone.one(id="budget.currency-error").text


def test_pairs_stand_beside_the_chosen_one_and_only_where_there_are_several() -> None:
    """With panel and pump of 118.50, parts of 27.40 and a tenth: 160.49, as in the budget."""
    found = read(ask("GET", f"/parts?{urlencode(texts(True) | PRICES)}").text)
    leads = [each["formaction"] for each in found.one("table", **{"class": "bought"}).all("button")]
    assert leads == ["/#panels.1.price.amount", "/#pumps.1.price.amount"]
    (table,) = [each for each in found.all("table", **{"class": "neighbours"}) if "with the chosen pair" in each.text]
    chosen = [each.text.endswith("chosen") for each in table.all("thead")[0].all("th")].index(True)
    (bought,) = [each for each in table.all("tr") if each.all("th")[0].text == "To buy"]
    assert bought.all("th", "td")[chosen].text.replace("\N{NO-BREAK SPACE}", " ") == "at least 160.49 NZD"
    assert "with the chosen pair" not in parts().text


@pytest.mark.slow
def test_a_list_for_a_pair_that_is_not_the_first_fills_the_prices_of_that_pair() -> None:
    response = ask("POST", "/prices", data=texts(True), files={"prices": ("list.csv", b"part,unit_price\npump,71\n", "text/csv")})
    hidden = parse_qs(read(response.text).one("form", action="/prices").one("input", name="answers")["value"])
    assert (hidden["pumps.1.price.amount"], hidden["pumps.1.price.currency"]) == (["71"], ["NZD"])
    assert "pumps.1.price.date" not in hidden, "the day of another price"


def test_a_design_too_long_for_an_address_is_shown_at_once_with_its_prices() -> None:
    columns = {"flow_l_per_min": (0.0, 0.4123456789), "head_m": (2.7123456789, -0.0654321), "current_a": (1.2, 0.004321987)}
    points = {f"pumps.0.points.{at}.{name}": f"{a + b * at:.9f}" for at in range(40) for name, (a, b) in columns.items()}
    skyline = {f"place.skyline.{at}.azimuth_deg": f"{8.987654321 * at:.9f}" for at in range(40)}
    skyline |= {f"place.skyline.{at}.altitude_deg": "2.123456789" for at in range(40)}
    response = ask("POST", "/parts", data=texts() | PRICES | points | skyline)
    assert response.status_code == 200
    found = read(response.text)
    assert row(found, "All together")[1] == "at least 160.49 NZD"
    carried = found.one("form", id="prices").one("input", name="answers")["value"]
    assert "pumps.0.points.39.head_m" in carried
    assert "budget" not in carried, "what has a box here is not sent twice"


def test_what_is_wrong_elsewhere_leads_to_the_form() -> None:
    response = parts(pipe__length_m="abc")
    assert response.status_code == 422
    assert read(response.text).one(id="pipe.length_m")["value"] == "abc"


def test_a_body_is_answered_with_a_short_address() -> None:
    response = ask("POST", "/parts", data=texts() | PRICES)
    assert response.status_code == 303
    assert response.headers["location"].startswith("/parts?")
    assert "budget.parts.pipe.amount=2%2C35" in response.headers["location"]


@pytest.mark.slow
def test_prices_are_kept_on_every_side_of_the_design() -> None:
    kept = texts() | PRICES
    for where in ("/", "/results", "/report"):
        found = read(ask("GET", f"{where}?{urlencode(kept)}").text)
        addresses = [each["href"] for each in found.all("a")] + [f"{each['name']}={each['value']}" for each in found.all("input")]
        assert any("budget.parts.pipe.amount" in each for each in addresses), where
    design = json.loads(ask("GET", f"/design.json?{urlencode(kept)}").text)
    assert [(row["part"], row["amount"], row["currency"]) for row in design["budget"]["parts"]] == [
        ("cable", 1.85, "NZD"),
        ("pipe", 2.35, "NZD"),
    ]


def sent(content: bytes, **more: Any) -> httpx.Response:
    return ask("POST", "/prices", data=texts() | more, files={"prices": ("list.csv", content, "text/csv")})


def test_a_price_list_goes_out_and_comes_back() -> None:
    out = ask("GET", f"/prices.csv?{urlencode(texts() | PRICES)}")
    assert out.headers["content-type"] == "text/csv; charset=utf-8; header=present"
    rows = list(csv.DictReader(io.StringIO(out.text)))
    for each in rows:
        each["unit_price"], each["currency"] = each["unit_price"] or "3.5", "NZD"
    filled = io.StringIO()
    writer = csv.DictWriter(filled, rows[0])
    writer.writeheader()
    writer.writerows(rows)
    found = read(sent(filled.getvalue().encode()).text)
    assert "at least" not in row(found, "All together")[1]
    assert found.one(id="budget.parts.pipe.amount")["value"] == "2.35"
    assert found.one(id="budget.parts.cover.amount")["value"] == "3.5"


def test_a_new_price_loses_the_old_ones_day_and_says_once_what_all_have_in_common() -> None:
    old = {"budget.currency": "", "budget.parts.pipe.date": "2026-05-31", "budget.parts.pipe.source": "a shop"}
    prices = b"part,unit_price,currency,source\r\npipe,2.40,NZD,web page\r\ncable,1.90,NZD,web page\r\n"
    found = read(sent(prices, **(PRICES | old)).text)
    boxes = {each["id"]: each["value"] for each in found.all("input") if each["id"].startswith("budget.")}
    told = {"budget.currency": "NZD", "budget.source": "web page"}
    assert {name: text for name, text in boxes.items() if text} == told | {
        "budget.parts.pipe.amount": "2.4", "budget.parts.cable.amount": "1.9",
    }  # fmt: skip


def test_rows_that_cannot_be_read_are_told_and_the_rest_fills_the_boxes() -> None:
    response = sent(b"part;unit_price;currency\r\ncable;1,85;NZD\r\npipe;-3;NZD\r\npump;70;NZD\r\nnail;3;NZD\r\n")
    assert response.status_code == 200
    found = read(response.text)
    text = words(found)
    assert "Row 3, column unit_price: “-3” is below zero" in text
    assert "Row 5, column part: “nail” is no part of the list" in text
    assert len(found.one(**{"class": "note warning"}).all("li")) == 2, "parts without a row are named as missing, not here too"
    assert row(found, "Two-core cable")[3] == "20.35 NZD"
    assert row(found, "12 V brushless pump")[2] == "70.00 NZD Change"
    assert "2 prices were taken from the price list" in text


def test_files_that_are_none_are_one_sentence_and_lose_nothing() -> None:
    for content, said in ((b"", "Choose the price list"), (b"PK\0\0", "is no text"), (b"x" * 200_000, "larger than 100 KB")):
        response = sent(content, **PRICES)
        assert response.status_code == 422
        found = read(response.text)
        assert said in found.one(id="price-file-error").text
        assert found.one(id="budget.parts.pipe.amount")["value"] == "2,35"


def test_a_file_that_is_refused_unread_says_what_would_do() -> None:
    response = sent(b"x" * 700_000)
    assert response.status_code == 413
    assert "A price list has at most 100 KB." in response.text


def test_parts_as_a_table_for_spreadsheets() -> None:
    response = ask("GET", f"/parts.csv?{urlencode(texts() | PRICES | {'title': '=1+1'})}")
    rows = list(csv.DictReader(io.StringIO(response.text)))
    assert {each["design"] for each in rows} == {"'=1+1"}
    found = {each["part"]: each for each in rows}
    assert (found["cable"]["quantity"], found["cable"]["total"]) == ("11.0", "20.35")
    assert (found["liner"]["unit_price"], found["liner"]["total"]) == ("", "")
    assert found["total"]["total"] == "160.49"
    assert found["total"]["why"].startswith("It costs at least 160.49")


def test_the_report_has_the_same_budget() -> None:
    found = read(ask("GET", f"/report?{urlencode(texts() | PRICES)}").text)
    assert row(found, "All together")[1] == "at least 160.49 NZD"
    assert not found.one("table", **{"class": "bought"}).all("input")
    design = understand(texts() | PRICES).design
    assert design is not None
    assert budget(bought(building_of(size(design)))).total.split() == ["at", "least", "160.49", "NZD"]


def test_cable_and_basin_unfold_down_to_what_was_given() -> None:
    """Basin volume, evaporation of the month that needs most, voltage drop: each with its sum and what goes in."""
    found = read(priced(PRICES).text)
    steps = found.one(id="built-working")
    names = {each["id"] for each in steps.all("dt")}
    assert {"basin_volume", "open_water_evaporation", "voltage_drop", "cold_open_circuit_voltage", "level_fall"} <= names
    for link in steps.all("a"):
        assert link["href"].startswith("/sources#source-") or link["href"].removeprefix("#") in names


def test_ten_years_as_a_table_for_spreadsheets() -> None:
    response = ask("GET", f"/ten-years.csv?{urlencode(texts() | PRICES)}")
    rows = {each["what"]: each for each in csv.DictReader(io.StringIO(response.text))}
    pump = rows["12 V brushless pump, 15 litres a minute (invented)"]
    assert float(pump["most_cost"]) == int(pump["most"]) * 64.0
    assert rows["water from the tap, litres"]["least_cost"] == ""
    assert float(rows["ten years"]["most_cost"]) >= float(rows["ten years"]["least_cost"]) >= 160.49
