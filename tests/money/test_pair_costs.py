"""Ten years of the chosen pair beside others: the same as sizing each alone, and what differs in words."""

import json
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache
from typing import Any

import pytest

from sizing.comparison.comparison import Comparison, compare
from sizing.comparison.pairs import as_designed
from sizing.design.reading import read_design
from sizing.installation.building import Building, building_of
from sizing.money.costs import costs_of
from sizing.money.pair_costs import PairCost, chosen_of, difference, neighbours, pair_costs
from sizing.money.parts import parts_of
from sizing.money.ten_years import ten_years_of
from sizing.report.report import size
from tests.asking import ROOT
from tests.choices import document, price

WATER = {"water_per_m3": price(2.1), "tax_pct": 7.3}


def asked(changes: dict[str, Any]) -> dict[str, Any]:
    """Two panels and two pumps, one pair chosen."""
    return document((0.6, 1.7), (0.7, 1.0), {"chosen": {"panel": "p1", "pump": "q0"}, "budget": WATER} | changes)


@lru_cache(maxsize=1)
def four() -> tuple[Comparison, Building, tuple[PairCost, ...]]:
    """All four pairs."""
    design = read_design(asked({}))
    found, built = compare(design), building_of(size(design))
    return found, built, pair_costs(found, built, found.pairs)


def test_each_pair_costs_what_it_costs_alone() -> None:
    found, _, rows = four()
    assert [row.rank for row in rows] == [1, 2, 3, 4]
    assert [(row.panel, row.pump) for row in rows if row.own] == [(found.design.panels[1].name, found.design.pumps[0].name)]
    for row, pair in zip(rows, found.pairs, strict=True):
        given = asked({"chosen": {"panel": pair.pair.panel, "pump": pair.pair.pump}})
        pair = as_designed(pair) if row.own else pair
        alone = building_of(size(read_design(given | {"outlet": given["outlet"] | {"bore_mm": pair.bore}})))
        costs = costs_of(parts_of(alone).parts, alone.report.design.budget)
        assert (row.costs, row.ten) == (costs, ten_years_of(alone, costs))
        assert (row.water, row.running_hours) == pytest.approx((pair.water, pair.running_hours), rel=1e-12)
        assert (row.difference == "") == row.own


def test_differences_in_words_are_those_of_the_figures() -> None:
    """Panels cost 17.3 + 19.1 x 1.7 = 49.77 and 28.76 EUR: with a tenth more and 7.3 % of tax 1.1 x 1.073 x 21.01 = 24.80."""
    _, _, rows = four()
    own = next(row for row in rows if row.own)
    other = next(row for row in rows if row.costs.total < own.costs.total and row.pump == own.pump and not row.own)
    saved = own.costs.total - other.costs.total
    assert abs(saved - Decimal("24.80")) <= Decimal("0.02")
    said = other.difference.replace("\N{NO-BREAK SPACE}", " ")
    assert said.startswith(f"It costs {saved} EUR less to buy, over ten years ")
    assert said.endswith(f"plays {round(own.running_hours - other.running_hours)} h a year less.")
    assert difference(own, own) == (
        "It costs the same to buy, over ten years the same by the low figures and the same by the high ones, and plays as long."
    )


def test_money_is_not_compared_where_prices_are_missing() -> None:
    _, built, rows = four()
    own, other = (next(row for row in rows if row.own is chosen) for chosen in (True, False))
    parts = [replace(part, price=None) if part.key == "pump" else part for part in parts_of(built).parts]
    lacks = replace(other, costs=costs_of(tuple(parts), None))
    assert difference(own, lacks).endswith("; its money cannot be compared, for not the same prices are missing.")
    nothing = replace(other, costs=costs_of(tuple(replace(part, price=None) for part in parts), None))
    for pair in ((own, nothing), (nothing, own)):
        assert difference(*pair).endswith("; its money cannot be compared, for prices are missing or stand in other currencies.")


def test_pairs_that_are_joined_otherwise_or_cannot_be_sized_are_left_out() -> None:
    found, built, rows = four()
    refused, joined = replace(found.pairs[-1], refused="It cannot be."), replace(found.pairs[-1].pair, connection="controller")
    own = [each for each, row in zip(found.pairs, rows, strict=True) if row.own]
    beside = pair_costs(found, built, [refused, replace(found.pairs[-1], pair=joined), *own])
    assert [(row.rank, row.own, row.difference) for row in beside] == [(own[0].rank, True, "")]


@pytest.mark.some(1)
@pytest.mark.parametrize("zone", [None, "Asia/Tokyo"])
def test_under_a_weather_file_with_and_without_a_clock(zone: str | None) -> None:
    """A sky that is on the clock already is not moved again; litres and hours are those of the comparison."""
    asked = json.loads((ROOT / "examples" / "weather_file_jet.json").read_text(encoding="utf-8"))
    panel = asked["panels"][0]
    asked["panels"] = [panel, panel | {"id": "more", "imp_a": 3.3, "isc_a": 3.5}]
    asked["place"] = {name: value for name, value in asked["place"].items() if name != "time_zone"}
    if zone is not None:
        asked["place"]["time_zone"] = zone
    design = read_design(asked)
    report = size(design, ROOT / "examples")
    found = compare(design, ROOT / "examples")
    rows = pair_costs(found, building_of(report), neighbours(found, chosen_of(found, report)))
    assert len(rows) == 2
    for row, pair in zip(rows, found.pairs, strict=True):
        assert (row.water, row.running_hours) == pytest.approx((pair.water, pair.running_hours), rel=1e-12)
