"""What would meet a goal, held against whole sizings of every design that could be offered."""

import json
import random
from collections.abc import Sequence
from functools import lru_cache
from itertools import combinations
from typing import Any

import pytest

from sizing.design.design import Design
from sizing.design.reading import read_design
from sizing.foundation.errors import InputError, SizingError
from sizing.fountain.components import fountain_of, goal_of
from sizing.fountain.site_setup import setting_of
from sizing.light.irradiance import plane_sun
from sizing.operation.goal import GoalFound, flow_band, goal_found, in_window
from sizing.operation.operating_point import operate, solve_grid
from sizing.operation.strain import strain_of
from sizing.reach.answer import reach_answer
from sizing.reach.changes import OF_GOAL, PARTS, Change, changes_of, changes_of_key, read_again, together, with_chosen
from sizing.reach.search import MOST_OFFERS, Offer, Reach, fit, reach
from sizing.reach.workshop import reached_with, volts_with, workshop_of
from sizing.report.report import chance_of_goal
from sizing.report.what_if import changed_document
from sizing.sky.weather import Sky
from sizing.uncertainty.chance import Chance
from tests.asking import ROOT
from tests.draws import draws

GOAL = {"jet_height_m": 0.8, "from_hour": 10, "to_hour": 15, "months": [4, 5, 6, 7, 8, 9], "days_out_of_ten": 7}


def document(name: str, **more: Any) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((ROOT / "examples" / f"{name}.json").read_text(encoding="utf-8"))
    return found | more


def with_goal(given: dict[str, Any], **goal: Any) -> dict[str, Any]:
    return given | {"goal": {**given.get("goal", GOAL), **goal}}


def unlimited(given: dict[str, Any]) -> dict[str, Any]:
    return given | {"pumps": [pump | {"highest_voltage_v": None} for pump in given["pumps"]]}


def drawn(seed: int) -> dict[str, Any]:
    """The orchard with other parts and another goal."""
    chance = random.Random(seed)
    given = document("orchard_choice")
    given["outlet"] = given["outlet"] | {"bore_mm": chance.choice([4, 6, 9, 11]), "count": chance.choice([1, 1, 3])}
    given["mounting"] = given["mounting"] | {"tilt_deg": chance.choice([5, 30, 70]), "azimuth_deg": chance.choice([8, 90, 200])}
    given["pipe"] = given["pipe"] | {"inside_diameter_mm": chance.choice([10, 16, 25])}
    given["chosen"] = {"panel": chance.choice(given["panels"])["id"], "pump": chance.choice(given["pumps"])["id"]}
    jet, days = chance.choice([0.3, 0.5, 0.9, 2.0]), chance.choice([5, 7, 9])
    given = with_goal(given, jet_height_m=jet, days_out_of_ten=days)
    if chance.random() < 0.3:
        given = with_goal(given, jet_height_to_m=2 * jet)
    for panel in given["panels"]:
        if chance.random() < 0.2:
            panel.pop("price")
    return given


DESIGNS: dict[str, dict[str, Any]] = {
    "orchard": document("orchard_choice"),
    "quince": with_goal(document("quince_court_jet")),
    "quince, highest voltage unknown": unlimited(with_goal(document("quince_court_jet"))),
    "terrace": with_goal(document("terrace_spillway"), jet_height_m=None, flow_l_per_min=25.0),
    "fern": with_goal(document("fern_bubbler"), jet_height_m=0.05),
    **{f"drawn {seed}": drawn(seed) for seed in range(12)},
}
SEVERAL = pytest.mark.parametrize("name", DESIGNS)


@lru_cache(maxsize=8)
def searched(name: str, most_changes: int = 2) -> Reach:
    return reach(read_design(DESIGNS[name]), most_changes=most_changes)


@lru_cache(maxsize=8)
def sky_of(name: str) -> Sky:
    return setting_of(read_design(DESIGNS[name] | {"place": DESIGNS[name]["place"] | {"time_zone": None}}), None).sky


def whole(name: str, design: Design) -> tuple[GoalFound, float]:
    """The goal over a whole year of a design, and the hours above the highest voltage (or the rated one)."""
    setting = setting_of(design, None, sky_of(name))
    stand = setting.mounting
    sun = plane_sun(setting.sky, setting.place, stand.tilt, stand.azimuth, stand.soiling)
    fountain, goal = fountain_of(design), goal_of(design)
    assert goal is not None
    found = operate(solve_grid(fountain.supply, fountain.pump, fountain.waterway), sun.effective, sun.cell_temperature)
    over = strain_of(fountain.pump, found, 24.0 / setting.sky.steps_per_day).above_allowed
    return goal_found(goal, setting.sky, found.flow, flow_band(goal, fountain.waterway)), float(over)


def most_flow(name: str, design: Design) -> float:
    """Largest flow in the hours of the goal [m3/s]."""
    setting, fountain, goal = setting_of(design, None, sky_of(name)), fountain_of(design), goal_of(design)
    assert goal is not None
    stand = setting.mounting
    sun = plane_sun(setting.sky, setting.place, stand.tilt, stand.azimuth, stand.soiling)
    found = operate(solve_grid(fountain.supply, fountain.pump, fountain.waterway), sun.effective, sun.cell_temperature)
    return float(found.flow[in_window(goal, setting.sky)].max())


def changed(name: str, changes: Sequence[Change]) -> Design:
    """A design with changes, by way of its file."""
    own = with_chosen(read_design(DESIGNS[name])).model_dump(mode="json", exclude_unset=True)
    return read_design(changed_document(own, tuple(setting for change in changes for setting in change.settings)))


def watts(design: Design) -> float:
    assert design.chosen is not None
    panel = next(panel for panel in design.panels if panel.id == design.chosen.panel)
    return panel.vmp_v * panel.imp_a * panel.in_series * panel.in_parallel


def price(design: Design) -> float | None:
    """Panels, pump and controller, all in one currency here."""
    assert design.chosen is not None
    panel = next(panel for panel in design.panels if panel.id == design.chosen.panel)
    pump = next(pump for pump in design.pumps if pump.id == design.chosen.pump)
    parts = [(panel.price, panel.in_series * panel.in_parallel), (pump.price, 1)]
    parts += [(getattr(design.connection, "price", None), 1)] if design.connection.kind == "controller" else []
    return None if any(each is None for each, _ in parts) else sum(each.amount * count for each, count in parts if each)


def likelihood(name: str, design: Design) -> Chance:
    """Chance of the goal, as a sizing finds it."""
    setting, fountain, goal = setting_of(design, None, sky_of(name)), fountain_of(design), goal_of(design)
    assert goal is not None
    stand = setting.mounting
    sun = plane_sun(setting.sky, setting.place, stand.tilt, stand.azimuth, stand.soiling)
    return chance_of_goal(design, fountain, setting, sun, goal)


def by_hand(name: str, choices: Sequence[Sequence[Change]]) -> dict[tuple[str, ...], str]:
    """For each set of parts the key of the cheapest choice that likely meets the goal and breaks no limit, by whole sizings."""
    own = with_chosen(read_design(DESIGNS[name]))
    best: dict[tuple[str, ...], tuple[Any, ...]] = {}
    for changes in choices:
        try:
            design = changed(name, changes)
            found, over = whole(name, design)
        except SizingError:
            continue
        pump = fountain_of(design).pump
        if not found.met or (over > 0 and pump.highest_voltage is not None):
            continue
        parts = tuple(change.part for change in changes)
        before, after = price(own), price(design)
        money = (True, 0.0) if before is None or after is None else (False, round(after - before, 6))
        size = round(sum(change.size for change in changes), 9)
        key = "+".join(change.key for change in changes)
        chance = likelihood(name, design)
        rank = (over > 0, chance.outlook != "likely", *money, round(watts(design) - watts(own), 6), size, key)
        best[parts] = min(best.get(parts, rank), rank)
    return {parts: rank[-1] for parts, rank in best.items()}


def of_fountain(offers: Sequence[Offer]) -> dict[tuple[str, ...], str]:
    picked = [offer for offer in offers if not any(change.part in OF_GOAL for change in offer.changes)]
    return {tuple(change.part for change in offer.changes): offer.key for offer in picked}


@pytest.mark.some(3)
@SEVERAL
def test_every_single_change_reaches_what_a_whole_sizing_finds(name: str) -> None:
    shop = workshop_of(with_chosen(read_design(DESIGNS[name])), setting_of(read_design(DESIGNS[name]), None))
    compared = 0
    for change in changes_of(shop.design):
        quick = reached_with(shop, [change])
        if quick is None:
            with pytest.raises(SizingError):
                whole(name, change.design)
            continue
        slow, over = whole(name, change.design)
        assert quick.day_share == slow.day_share, change.key
        assert (quick.met, quick.hours) == (slow.met, slow.hours), change.key
        if slow.met:
            assert (volts_with(shop, [change])[0] > 0) == (over > 0), change.key
        compared += 1
    assert compared >= 40


@pytest.mark.some(2)
@SEVERAL
def test_single_changes_that_are_offered_are_the_cheapest_of_all_whole_sizings(name: str) -> None:
    found = searched(name, 1)
    if found.chance.outlook == "likely":
        assert not found.offers
        return
    assert of_fountain(found.offers) == by_hand(name, [[change] for change in changes_of(read_design(DESIGNS[name]))])


@pytest.mark.slow
@pytest.mark.parametrize("name", ["quince, highest voltage unknown", "fern", "drawn 2", "drawn 9"])
def test_pairs_that_are_offered_are_the_cheapest_of_all_whole_sizings(name: str) -> None:
    found, singles = searched(name), changes_of(read_design(DESIGNS[name]))
    one = by_hand(name, [[change] for change in singles])
    if any(len(offer.changes) == 1 and fit(offer) for offer in found.offers):
        assert of_fountain(found.offers) == one
        return
    two = by_hand(name, [pair for pair in combinations(singles, 2) if pair[0].part != pair[1].part])
    offered = of_fountain([offer for offer in found.offers if len(offer.changes) == 2])
    assert offered.items() <= two.items()
    assert offered or not two or len(found.offers) == MOST_OFFERS or one


def test_pairs_drawn_at_random_reach_what_whole_sizings_find() -> None:
    name = "drawn 4"
    shop = workshop_of(with_chosen(read_design(DESIGNS[name])), setting_of(read_design(DESIGNS[name]), None))
    singles = changes_of(shop.design)
    pairs = [pair for pair in combinations(singles, 2) if pair[0].part != pair[1].part]
    for pair in random.Random(7).sample(pairs, draws(120)):
        quick = reached_with(shop, pair)
        slow, _ = whole(name, changed(name, pair))
        assert quick is not None
        assert (quick.day_share, quick.hours) == (slow.day_share, slow.hours), [change.key for change in pair]


@pytest.mark.some(3)
@SEVERAL
def test_no_offer_breaks_a_limit_and_each_meets_the_goal(name: str) -> None:
    found = searched(name)
    for offer in found.offers:
        design = read_again(found.design, offer.changes)
        reached, over = whole(name, design)
        assert offer.reached.met
        assert reached.met, offer.key
        pump = fountain_of(design).pump
        if pump.highest_voltage is None:
            assert (offer.ask_volts is not None) == (over > 0), offer.key
            assert offer.ask_volts is None or offer.ask_volts > pump.rated_voltage
        else:
            assert over == 0, offer.key


@pytest.mark.some(3)
@SEVERAL
def test_offers_stand_by_safety_number_of_changes_and_price(name: str) -> None:
    found = searched(name)
    order = []
    for offer in found.offers:
        money = offer.cost.money
        known = (True, 0.0) if money is None else (False, money.amount)
        of_goal = sum(change.part in OF_GOAL for change in offer.changes)
        assert offer.chance is not None
        unlikely = offer.chance.outlook != "likely"
        order.append((offer.ask_volts is not None, of_goal > 0, unlikely, len(offer.changes), *known, round(offer.cost.watts, 6)))
    assert order == sorted(order)
    parts = [tuple(change.part for change in offer.changes) for offer in found.offers]
    assert len(parts) == len(set(parts))


@pytest.mark.some(3)
@SEVERAL
def test_watts_and_prices_are_the_difference_of_two_designs(name: str) -> None:
    found = searched(name)
    for offer in found.offers:
        design = read_again(found.design, offer.changes)
        assert offer.cost.watts == pytest.approx(watts(design) - watts(found.design), abs=0.01)
        before, after = price(found.design), price(design)
        if before is None or after is None:
            assert offer.cost.money is None
        else:
            assert offer.cost.money is not None
            assert offer.cost.money.amount == pytest.approx(after - before, abs=0.005)


def test_where_nothing_meets_the_goal_the_nearest_of_all_is_named() -> None:
    given = with_goal(document("quince_court_jet"), jet_height_m=4.0, days_out_of_ten=10)
    design = read_design(given)
    found = reach(design, most_changes=1)
    assert found.nearest is not None
    assert not any(len(offer.changes) == 1 and offer.changes[0].part not in OF_GOAL for offer in found.offers)
    near = []
    for change in changes_of(design):
        reached, over = whole("quince", change.design)
        assert not reached.met or over > 0
        assert (reached.day_share[reached.poorest_month], reached.hours) <= found.nearest.reached.nearness[:2]
        if over == 0:
            goal = goal_of(change.design)
            assert goal is not None
            near.append(most_flow("quince", change.design) / flow_band(goal, fountain_of(change.design).waterway).least)
    assert found.nearest.reached.flow_share == pytest.approx(max(near), rel=1e-9)


def test_the_orchard_comes_near_with_another_nozzle_at_the_same_price() -> None:
    offer = next(offer for offer in searched("orchard").offers if offer.changes[0].part == "nozzle")
    (change,) = offer.changes
    assert float(change.new) < float(change.old)
    assert offer.cost.money is not None
    assert offer.cost.money.amount == 0
    assert offer.cost.unpriced == ("nozzle",)


def test_fewer_days_are_those_that_the_design_likely_reaches() -> None:
    given = with_goal(document("quince_court_jet"), jet_height_m=0.3, days_out_of_ten=8)
    found = reach(read_design(given), most_changes=1)
    days = next(offer for offer in found.offers if offer.changes[-1].part == "days")
    goal = read_again(found.design, days.changes).goal
    assert goal is not None
    assert goal.days_out_of_ten <= 10 * min(found.own.day_share.values())
    assert days.chance is not None
    assert days.chance.chance == likelihood("quince", read_again(found.design, days.changes)).chance


def test_fewer_months_are_those_that_reach_it() -> None:
    given = with_goal(document("quince_court_jet"), jet_height_m=0.3, days_out_of_ten=6, months=[1, 4, 5, 6, 7, 8, 12])
    found = reach(read_design(given))
    (dropped,) = [offer for offer in found.offers if offer.changes[0].part == "months"]
    goal = read_again(found.design, dropped.changes).goal
    assert goal is not None
    assert set(goal.months) <= {month for month, share in found.own.day_share.items() if share >= 0.6}
    assert dropped.chance is not None
    assert dropped.chance.outlook == "likely"


def test_a_goal_that_is_met_needs_nothing() -> None:
    found = reach(read_design(with_goal(document("quince_court_jet"), jet_height_m=0.1, days_out_of_ten=3)))
    assert found.own.met
    assert (found.offers, found.nearest, found.tried) == ((), None, 1)


def test_a_design_without_a_goal_is_refused() -> None:
    with pytest.raises(InputError) as refusal:
        reach(read_design(document("quince_court_jet")))
    assert [(problem.pointer, problem.code) for problem in refusal.value.problems] == [("#/goal", "missing")]


@pytest.mark.some(3)
@SEVERAL
def test_changes_put_together_are_those_of_the_file(name: str) -> None:
    design = with_chosen(read_design(DESIGNS[name]))
    singles = changes_of(design)
    pairs = [pair for pair in combinations(singles, 2) if pair[0].part != pair[1].part]
    for pair in random.Random(3).sample(pairs, 25):
        assert together(design, pair) == read_again(design, pair)


@pytest.mark.some(3)
@SEVERAL
def test_an_offer_is_found_again_by_its_key(name: str) -> None:
    found = searched(name)
    for offer in found.offers:
        again = changes_of_key(found.design, offer.key)
        assert read_again(found.design, again) == read_again(found.design, offer.changes)


@pytest.mark.parametrize(
    "key", ["", "nozzle", "nozzle:7.77", "days:0", "days:99", "days:x", "months:", "months:2,3", "rain:5", "nozzle:5+rain:2"]
)
def test_a_key_that_names_nothing_changes_nothing(key: str) -> None:
    design = read_design(with_goal(document("quince_court_jet")))
    assert changes_of_key(design, key) == ()


@SEVERAL
def test_changes_touch_one_part_each_and_leave_the_file_valid(name: str) -> None:
    changes = changes_of(read_design(DESIGNS[name]))
    keys = [change.key for change in changes]
    assert len(keys) == len(set(keys))
    places = [PARTS.index(change.part) for change in changes]
    assert places == sorted(places)
    assert all(change.size > 0 for change in changes if change.part != "panel")


@pytest.mark.some(2)
@SEVERAL
def test_the_answer_holds_the_changed_designs(name: str) -> None:
    found = searched(name)
    answer = reach_answer(found)
    assert len(answer.offers) == len(found.offers)
    for said, offer in zip(answer.offers, found.offers, strict=True):
        assert said.design == read_again(found.design, offer.changes)
        assert [change.part for change in said.changes] == [change.part for change in offer.changes]
        assert all(change.before != change.after for change in said.changes)
