"""All pairs over one year: the same as sizing each alone, whatever the order of the options; ranks, prices, marks."""

import itertools
import random
from dataclasses import fields
from typing import Any

import numpy as np
import pytest

from sizing.comparison.comparison import Comparison, compare
from sizing.comparison.pairs import PairFound, as_designed, money_words, pair_price, suits
from sizing.comparison.ranking import chance_shown
from sizing.design.reading import read_design
from sizing.foundation.errors import InputError, SizingError
from sizing.fountain.site_setup import place_of
from sizing.report.report import size
from sizing.sky.weather import monthly_sky
from tests.choices import GOAL, design, document, price

SPACE = "\N{NO-BREAK SPACE}"


@pytest.fixture(scope="module")
def both() -> Comparison:
    return compare(design(), both_connections=True)


def told(found: Comparison) -> list[tuple[Any, ...]]:
    """Everything of a comparison that is a plain value, to compare two exactly."""
    apart = ("match", "year", "panel_input", "pump_input", "questions", "own")
    names = [field.name for field in fields(PairFound) if field.name not in apart]
    pairs = [tuple(getattr(pair, name) for name in names) for pair in found.pairs]
    chosen = [None if pair is None else pair.pair for pair in (found.cheapest, found.nearly)]
    return [*pairs, *found.smallest, *chosen, found.ranked_by, *(note.detail for note in found.notes)]


def by_ids(found: Comparison) -> dict[tuple[str, str, str], PairFound]:
    return {(each.pair.panel, each.pair.pump, each.pair.connection): each for each in found.pairs}


@pytest.mark.parametrize(("panel", "pump", "kind"), [("p1", "q1", "direct"), ("p0", "q2", "controller")])
def test_a_pair_is_found_as_sizing_it_alone_finds_it(panel: str, pump: str, kind: str, both: Comparison) -> None:
    connection = {"kind": kind} if kind == "direct" else {"kind": kind, "efficiency_pct": 90}
    alone = size(read_design(document() | {"chosen": {"panel": panel, "pump": pump}, "connection": connection}))
    pair = as_designed(by_ids(both)[panel, pump, kind])
    assert pair.year is not None
    assert pair.year.months == alone.year.months
    assert pair.year.hours_by_state == alone.year.hours_by_state
    assert (pair.water, pair.running_hours) == (alone.year.water, alone.year.running_hours)
    assert np.array_equal(pair.year.usual_jet, alone.year.usual_jet)
    assert (pair.goal, pair.first_sun) == (alone.goal, alone.first_sun)
    worst = min(alone.year.months, key=lambda month: month.water)
    assert (pair.worst_month, pair.worst_water) == (worst.month, worst.water)
    assert pair.noon_jet == {month: alone.year.usual_jet[month - 1, 12] for month in (5, 6, 9)}


@pytest.mark.some(1)
@pytest.mark.parametrize("goal", [GOAL, None])
def test_the_order_of_the_options_changes_nothing(goal: Any) -> None:
    options = document() | {"goal": goal}
    options["panels"][2]["price"] = None
    found = told(compare(read_design(options), both_connections=True))
    shuffle = random.Random(7)
    for _ in range(2):
        shuffle.shuffle(options["panels"])
        shuffle.shuffle(options["pumps"])
        assert told(compare(read_design(options), both_connections=True)) == found


def test_ranks_run_from_one_and_pairs_stand_in_their_classes(both: Comparison) -> None:
    assert [each.rank for each in both.pairs] == list(range(1, 19))
    met = [each.chance is not None and each.chance.outlook == "likely" for each in both.pairs]
    assert True in met
    assert met == sorted(met, reverse=True)
    amounts = [each.price.amount for each in both.pairs if suits(each) and each.price is not None]
    assert amounts == sorted(amounts)
    unpriced = [each.price is None for each in both.pairs if suits(each)]
    assert unpriced == sorted(unpriced)
    chances = [round(each.chance.chance, 2) for each in both.pairs if each.chance and each.chance.outlook != "likely"]
    assert chances == sorted(chances, reverse=True)
    priced = [each for each in both.pairs if suits(each) and each.price is not None]
    assert both.cheapest is (priced[0] if priced else None)
    assert both.nearly is both.pairs[met.index(False)]


@pytest.mark.some(2)
@pytest.mark.parametrize("goal", [GOAL, None])
@pytest.mark.parametrize("pump", [0, 1, 2])
def test_doubling_a_price_never_raises_a_rank(pump: int, goal: Any) -> None:
    options = document() | {"goal": goal}
    before = {key: each.rank for key, each in by_ids(compare(read_design(options))).items()}
    options["pumps"][pump]["price"]["amount"] *= 2
    after = {key: each.rank for key, each in by_ids(compare(read_design(options))).items()}
    mine = [key for key in before if key[1] == f"q{pump}"]
    assert all(after[key] >= before[key] for key in mine)


def test_without_a_goal_the_water_of_the_year_counts() -> None:
    found = compare(design(changes={"goal": None}))
    waters = [each.water for each in found.pairs]
    assert waters == sorted(waters, reverse=True)
    assert found.months == tuple(range(1, 13))
    assert (found.goal, found.cheapest, found.nearly, found.smallest) == (None, None, None, ())
    assert found.ranked_by.startswith("Ranked by the water they move in a year")
    assert all(each.goal is None for each in found.pairs)


def test_marks_are_those_of_every_pair_held_against_every_other(both: Comparison) -> None:
    def better(one: PairFound, other: PairFound) -> bool:
        if (one.price is None) != (other.price is None):
            return False
        pairs = [
            (one.water, other.water),
            (one.worst_water, other.worst_water),
            (-one.hours_not_borne, -other.hours_not_borne),
        ]
        assert one.goal is not None
        assert other.goal is not None
        pairs.append((chance_shown(one), chance_shown(other)))
        pairs.append((one.goal.hours, other.goal.hours))
        pairs.append((min(one.goal.day_share.values()), min(other.goal.day_share.values())))
        pairs.append((-(one.first_sun or 2000), -(other.first_sun or 2000)))
        if one.price is not None and other.price is not None:
            pairs.append((-one.price.amount, -other.price.amount))
        return all(a >= b for a, b in pairs) and any(a > b for a, b in pairs)

    marked = 0
    for each in both.pairs:
        beaters = [rival for rival in both.pairs if better(rival, each)]
        assert each.beaten_by == (beaters[0].pair if beaters else None)
        assert all(rival.rank < each.rank for rival in beaters)
        marked += bool(beaters)
    assert 0 < marked < len(both.pairs)


def test_a_twin_at_the_same_price_beats_nothing_and_a_dearer_one_is_beaten() -> None:
    options = document(currents=(1.0, 1.0), heads=(1.0,))
    found = compare(read_design(options))
    assert [(each.pair.panel, each.beaten_by) for each in found.pairs] == [("p0", None), ("p1", None)]
    options["panels"][0]["price"]["amount"] += 0.01
    found = compare(read_design(options))
    assert [each.pair.panel for each in found.pairs] == ["p1", "p0"]
    assert found.pairs[1].beaten_by == found.pairs[0].pair


# A larger panel


@pytest.mark.parametrize("head", [0.7, 1.6])
def test_a_larger_panel_joined_directly_never_loses_the_goal(head: float) -> None:
    found = compare(design(currents=(0.4, 0.9, 1.3, 2.2, 3.7, 9.1), heads=(head,)))
    hours = [by_ids(found)[f"p{place}", "q0", "direct"].goal.hours for place in range(6)]  # type: ignore[union-attr]
    assert hours == sorted(hours)
    assert hours[0] < hours[-1]


# Prices


def test_a_pair_buys_its_panels_its_pump_and_its_controller() -> None:
    options = document(currents=(1.0,), heads=(1.0,))
    options["panels"][0] |= {"price": price(23.7), "in_series": 2, "in_parallel": 3}
    options["pumps"][0]["price"] = price(31.3)
    checked = read_design(options)
    found, note = pair_price(checked, checked.panels[0], checked.pumps[0], "direct")
    assert found is not None
    assert (found.amount, found.currency, note) == (pytest.approx(6 * 23.7 + 31.3), "EUR", "")  # 173.5
    options["connection"] = {"kind": "controller", "price": price(19.9)}
    checked = read_design(options)
    found, _ = pair_price(checked, checked.panels[0], checked.pumps[0], "controller")
    assert found is not None
    assert found.amount == pytest.approx(193.4)
    assert pair_price(checked, checked.panels[0], checked.pumps[0], "direct")[0] is not None


@pytest.mark.parametrize(
    ("panel", "pump", "kind", "note"),
    [
        (None, price(7), "direct", "No price: none is given for panel p0."),
        (None, None, "direct", "No price: none is given for panel p0 and pump q0."),
        (None, None, "controller", "No price: none is given for panel p0, pump q0 and the controller."),
        (price(9), price(7), "controller", "No price: none is given for the controller."),
        (price(9, "USD"), price(7), "direct", "No price: currencies differ, panel p0 in USD and pump q0 in EUR."),
    ],
)
def test_a_missing_price_is_never_zero(panel: Any, pump: Any, kind: Any, note: str) -> None:
    options = document(currents=(1.0,), heads=(1.0,))
    options["panels"][0]["price"], options["pumps"][0]["price"] = panel, pump
    checked = read_design(options)
    assert pair_price(checked, checked.panels[0], checked.pumps[0], kind) == (None, note)


def test_a_price_of_nothing_is_a_price() -> None:
    options = document(currents=(1.0,), heads=(1.0,))
    options["panels"][0]["price"], options["pumps"][0]["price"] = price(0), price(0)
    (pair,) = compare(read_design(options)).pairs
    assert pair.price is not None
    assert pair.price_per_hour is not None
    assert (pair.price.amount, pair.price_per_hour.amount) == (0.0, 0.0)


def test_the_price_of_an_hour_is_that_of_one_year(both: Comparison) -> None:
    for each in both.pairs:
        if each.price is None:
            assert each.price_per_hour is None
        else:
            assert each.price_per_hour is not None
            assert each.price_per_hour.amount * each.running_hours == pytest.approx(each.price.amount)


def test_prices_in_two_currencies_rank_nothing() -> None:
    options = document(currents=(1.7, 2.2), heads=(1.0, 1.1))
    for part in (*options["panels"][:1], options["pumps"][0]):
        part["price"]["currency"] = "USD"
    found = compare(read_design(options))
    assert sorted(each.price.currency if each.price else "" for each in found.pairs) == ["", "", "EUR", "USD"]
    assert found.cheapest is None
    assert any(suits(each) for each in found.pairs)
    assert "price" not in found.ranked_by
    assert "Prices in EUR and USD are not compared, so the order does not rest on them." in [note.detail for note in found.notes]


def test_money_is_shown_with_its_currency() -> None:
    options = document(currents=(1.0,), heads=(1.0,))
    (pair,) = compare(read_design(options)).pairs
    assert pair.price is not None
    assert money_words(pair.price) == f"55.60{SPACE}EUR"  # 17.3 + 19.1 + 11.9 + 7.3


# Pairs that cannot be sized


def test_a_pair_that_cannot_be_sized_does_not_stop_the_others() -> None:
    options = document()
    options["pumps"][1]["points"][0]["head_m"] = 0.01
    options["panels"][0]["vmp_v"] = 21.6
    found = compare(read_design(options))
    refused = [each for each in found.pairs if each.refused]
    assert len(refused) == 5
    assert [each.rank for each in refused] == [5, 6, 7, 8, 9]
    for each in refused:
        assert each.refused[0].isupper()
        assert each.refused.endswith(".")
        assert (each.year, each.match, each.beaten_by, each.failure) == (None, None, None, "")
        assert not suits(each)
    assert all(each.beaten_by not in [bad.pair for bad in refused] for each in found.pairs)
    whole = compare(design())
    kept = {key: each.water for key, each in by_ids(whole).items() if key in by_ids(found) and not by_ids(found)[key].refused}
    assert kept == {key: each.water for key, each in by_ids(found).items() if not each.refused}
    lost = next(each for each in found.smallest if each.pump == "q1")
    assert lost.watts is None
    assert "head must not rise with the flow" in lost.sentence


def test_a_design_without_any_possible_pair_is_refused() -> None:
    options = document()
    for panel in options["panels"]:
        panel["vmp_v"] = 21.6
    with pytest.raises(SizingError) as caught:
        compare(read_design(options))
    assert {problem.pointer for problem in caught.value.problems} >= {f"#/panels/{place}/vmp_v" for place in range(3)}


def test_more_than_six_panels_or_twelve_pumps_are_refused() -> None:
    for currents, heads, name in (([1.0] * 7, [1.0], "panels"), ([1.0], [1.0] * 13, "pumps")):
        with pytest.raises(InputError) as caught:
            design(currents, heads)
        assert caught.value.problems[0].pointer == f"#/{name}"


def test_six_panels_twelve_pumps_both_ways_keep_no_year_of_steps() -> None:
    found = compare(design(currents=(0.6, 1.7), heads=(0.7, 1.6)), both_connections=True)
    for each in found.pairs:
        assert each.year is not None
        assert each.match is not None
        kept = [*vars(each.year).values(), *vars(each.match).values(), *vars(each.match.line).values()]
        assert sum(array.nbytes for array in kept if isinstance(array, np.ndarray)) < 100_000


def test_a_sky_at_hand_takes_the_place_of_the_designs_own() -> None:
    options = design()
    place, _ = place_of(options)
    found = compare(options, sky=monthly_sky(place, (2.3,) * 12, None))
    assert found.sky.kind == "monthly"
    own = by_ids(compare(options))
    assert all(as_designed(each).water < as_designed(own[key]).water for key, each in by_ids(found).items())


def test_both_connections_are_the_design_joined_both_ways(both: Comparison) -> None:
    controlled = compare(design(changes={"connection": {"kind": "controller"}}))
    for key, each in by_ids(controlled).items():
        assert by_ids(both)[key].water == each.water
    assert [note.code for note in both.notes if "controller" in note.code] == ["controller_assumed"]
    assert [note.code for note in controlled.notes if "controller" in note.code] == ["controller_efficiency"]
    assert len(by_ids(both)) == 18
    keys = itertools.product(("p0", "p1", "p2"), ("q0", "q1", "q2"), ("direct", "controller"))
    assert set(by_ids(both)) == set(keys)
