"""Other nozzles in a comparison, held against sizing every pair with every usual bore."""

import json
import math
from functools import lru_cache
from typing import Any

import pytest

from sizing.comparison.comparison import Comparison, compare, other_nozzles
from sizing.comparison.pairs import PairFound, as_designed, suits
from sizing.design.reading import read_design
from sizing.foundation.tables import USUAL_BORES
from sizing.operation.strain import strain_of
from sizing.report.report import size
from tests.asking import ROOT
from web.charts.pair_names import names_of
from web.forms.form import texts_of, understand
from web.pages.compare.compare_page import with_pair
from web.pages.compare.pairs_tables import pairs_table


def orchard(**outlet: Any) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((ROOT / "examples" / "orchard_choice.json").read_text(encoding="utf-8"))
    found["outlet"] = found["outlet"] | outlet
    return found


@lru_cache(maxsize=4)
def compared(bore: float = 8.0) -> Comparison:
    return compare(read_design(orchard(bore_mm=bore)))


def alone(each: PairFound, bore: float) -> Any:
    """The pair sized by itself with a nozzle."""
    chosen = {"panel": each.pair.panel, "pump": each.pair.pump}
    return size(read_design(orchard(bore_mm=bore) | {"chosen": chosen}))


def does(report: Any) -> bool:
    strain = strain_of(report.fountain.pump, report.operation, 24.0 / report.sky.steps_per_day)
    return bool(report.chance.outlook == "likely") and strain.above_allowed == 0


@pytest.mark.some(4)
@pytest.mark.parametrize("index", range(12))
def test_a_pair_stands_with_the_nearest_usual_nozzle_that_makes_it_likely(index: int) -> None:
    each = compared().pairs[index]
    if each.own is None and suits(each):
        assert each.bore == 8
        return
    likely = [bore for bore in USUAL_BORES if bore != 8 and does(alone(each, bore))]
    if each.own is None:
        assert not likely
    else:
        assert each.bore == min(likely, key=lambda bore: abs(math.log(bore / 8)))


@pytest.mark.some(1)
@pytest.mark.parametrize("index", range(3))
def test_numbers_are_those_of_the_pair_with_its_nozzle(index: int) -> None:
    each = compared().pairs[index]
    assert each.bore is not None
    found = alone(each, each.bore)
    assert each.goal == found.goal
    assert each.water == found.year.water
    assert each.chance is not None
    assert each.chance.chance == pytest.approx(found.chance.chance, abs=0.02)
    assert as_designed(each).bore == 8


def test_the_orchard_costs_little_more_than_half_with_another_nozzle() -> None:
    found = compared()
    assert found.cheapest is not None
    assert found.cheapest.price is not None
    kept = [each.price.amount for each in map(as_designed, found.pairs) if suits(each) and each.price is not None]
    assert found.cheapest.price.amount < 0.6 * min(kept)


def test_without_a_goal_or_a_nozzle_nothing_is_tried() -> None:
    without = orchard()
    without.pop("goal")
    assert all(each.own is None and each.bore == 8 for each in compare(read_design(without)).pairs)
    pipe = orchard() | {"outlet": {"kind": "open_pipe", "height_above_water_m": 0.2}}
    assert all(each.own is None and each.bore is None for each in compare(read_design(pipe)).pairs)


def test_only_bores_that_the_kind_is_made_in_are_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[float] = []

    def watched(*given: Any) -> Any:
        found = other_nozzles(*given)
        tried.extend(each.bore for each in found)
        return found

    monkeypatch.setattr("sizing.comparison.comparison.other_nozzles", watched)
    compare.__wrapped__(read_design(orchard(nozzle_kind="brass_jet", bore_mm=6)))  # type: ignore[attr-defined]
    assert sorted(tried) == [bore for bore in USUAL_BORES if bore != 6 and 1 <= bore <= 25]
    assert tried == sorted(tried, key=lambda bore: abs(math.log(bore / 6)))


def test_one_press_takes_pair_and_nozzle() -> None:
    found = compared()
    _, rows = pairs_table(found, names_of(found))
    for each, row in zip(found.pairs, rows, strict=True):
        taken = understand(with_pair(texts_of(found.design) | {"pair": row.picks})).design
        assert taken is not None
        assert taken.chosen is not None
        assert (taken.chosen.panel, taken.chosen.pump) == (each.pair.panel, each.pair.pump)
        assert taken.outlet.bore_mm == each.bore  # type: ignore[union-attr]


@pytest.mark.parametrize("bore", ["7.7", "", "x", "-1", "5.0"])
def test_a_press_with_another_bore_keeps_the_nozzle(bore: str) -> None:
    texts = texts_of(compared().design)
    assert with_pair(texts | {"pair": f"0.0.direct.{bore}"})["outlet.bore_mm"] == "8"
