"""The page of what would meet a goal: one press takes an offer, and everything typed stays."""

import csv
import io
import re
from typing import Any
from urllib.parse import urlencode

import pytest

from sizing.design.reading import parse_design
from sizing.reach.changes import read_again
from sizing.reach.search import reach
from tests.asking import ROOT, ask
from web.forms.form import Texts, texts_of, understand
from web.pages.reach.reach_page import with_offer


def texts(name: str = "orchard_choice", **more: str) -> Texts:
    return texts_of(parse_design((ROOT / "examples" / f"{name}.json").read_bytes())) | more


def got(address: str, fields: Texts) -> Any:
    return ask("GET", f"{address}?{urlencode(fields)}")


def test_the_page_offers_what_the_search_finds() -> None:
    response = got("/reach", texts())
    assert response.status_code == 200
    found = reach(parse_design((ROOT / "examples" / "orchard_choice.json").read_bytes()))
    keys = re.findall(r'name="offer" value="([^"]+)"', response.text)
    assert keys == [offer.key for offer in found.offers]
    assert len(response.content) < 150_000


def test_each_offer_leads_to_the_design_with_its_changes() -> None:
    fields = texts()
    found = reach(parse_design((ROOT / "examples" / "orchard_choice.json").read_bytes()))
    for offer in found.offers:
        taken = with_offer(fields | {"offer": offer.key})
        design = understand(taken).design
        assert design is not None
        assert design.model_dump() == read_again(found.design, offer.changes).model_dump()


@pytest.mark.parametrize(
    "key", ["panel:35W", "panel:panel-20w*3", "connection:controller", "azimuth:90", "pump:pump-24v-18l", "jets:3"]
)
def test_any_change_can_be_taken(key: str) -> None:
    from sizing.reach.changes import changes_of_key

    design = parse_design((ROOT / "examples" / "orchard_choice.json").read_bytes())
    changes = changes_of_key(design, key)
    assert bool(changes) == (key != "panel:35W")
    taken = understand(with_offer(texts() | {"offer": key})).design
    assert taken is not None
    assert taken.model_dump() == read_again(design, changes).model_dump()


def test_what_was_typed_stays_beside_an_offer() -> None:
    fields = texts() | {"outlet.height_above_water_m": "0.20", "pipe.length_m": "1,6"}
    taken = with_offer(fields | {"offer": "nozzle:5"})
    assert taken == fields | {"outlet.bore_mm": "5"}


@pytest.mark.parametrize("key", ["", "nozzle:5.55", "rain:1", "nozzle:5" * 100])
def test_an_offer_that_is_none_changes_nothing(key: str) -> None:
    assert with_offer(texts() | {"offer": key}) == texts()


def test_pressing_leads_to_the_results_of_the_changed_design() -> None:
    response = got("/offer", texts() | {"offer": "nozzle:5"})
    assert response.status_code == 303
    assert "outlet.bore_mm=5&" in response.headers["location"]
    assert response.headers["location"].startswith("/results?")


def test_results_that_miss_a_goal_lead_here_and_others_do_not() -> None:
    assert 'formaction="/reach"' in got("/results", texts()).text
    assert 'formaction="/reach"' not in got("/results", texts() | {"chosen.panel": "2", "chosen.pump": "2"}).text
    assert 'formaction="/reach"' not in got("/results", texts("quince_court_jet")).text


def test_without_a_goal_the_form_asks_for_one() -> None:
    response = got("/reach", texts("quince_court_jet"))
    assert response.status_code == 422
    assert "<form" in response.text


def test_the_table_for_spreadsheets() -> None:
    rows = list(csv.DictReader(io.StringIO(got("/reach.csv", texts()).text)))
    assert [row["number"] for row in rows] == [str(number) for number in range(1, len(rows) + 1)]
    assert {row["part"] for row in rows} >= {"nozzle", "panel"}
    assert rows[0]["outlook"] == "likely"
    assert rows[0]["goal_met"] == "yes"
