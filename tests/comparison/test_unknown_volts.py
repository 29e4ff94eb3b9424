"""A blank is not a yes: taking the highest voltage from a pump never helps it, whatever the design.

Why it must hold: a pump is counted as bearing its rated voltage where nobody said more, and no label may name a highest
voltage below the rated one; so a blank is the strictest label that there can be, and all other numbers stay.
"""

from typing import Any

import numpy as np
import pytest

from sizing.comparison.comparison import Comparison, compare
from sizing.comparison.pairs import suits
from sizing.design.reading import read_design
from tests.choices import GOAL, document, price

RANDOM = [pytest.param(seed, id=f"design {seed}") for seed in range(12)]
HIGHEST = (12.0, 13.1, 15.0, 16.4, 19.0, 26.0, None)


def random_document(seed: int) -> dict[str, Any]:
    """Panels, pumps, prices, labels and a goal (or none) by chance."""
    random = np.random.default_rng(seed)
    found = document(random.uniform(0.5, 2.2, 2).tolist(), random.uniform(0.7, 1.7, 3).tolist())
    for pump in found["pumps"]:
        pump.pop("highest_voltage_v", None)
        if (highest := HIGHEST[random.integers(len(HIGHEST))]) is not None:
            pump["highest_voltage_v"] = highest
        pump["price"] = None if random.random() < 0.2 else price(float(random.uniform(5, 40)))
    goal = GOAL | {"jet_height_m": float(random.uniform(0.1, 0.8)), "days_out_of_ten": int(random.integers(1, 8))}
    found["goal"] = None if random.random() < 0.25 else goal
    if random.random() < 0.4:
        found["panels"][0]["vmp_v"] *= 0.8
        found["panels"][0]["voc_v"] *= 0.8
    return found


def blank(options: dict[str, Any], pump: str) -> dict[str, Any]:
    """The same without the highest voltage of one pump."""
    pumps = [
        {name: value for name, value in each.items() if each["id"] != pump or name != "highest_voltage_v"}
        for each in options["pumps"]
    ]
    return options | {"pumps": pumps}


def best_rank(found: Comparison, pump: str) -> int:
    return min(each.rank for each in found.pairs if each.pair.pump == pump)


def suiting(found: Comparison, pump: str) -> set[Any]:
    return {each.pair for each in found.pairs if each.pair.pump == pump and suits(each)}


@pytest.mark.some(3)
@pytest.mark.parametrize("seed", RANDOM)
def test_a_blank_highest_voltage_never_improves_a_pumps_rank(seed: int) -> None:
    options = random_document(seed)
    both = bool(seed % 2)
    before = compare(read_design(options), both_connections=both)
    for pump in ("q0", "q1", "q2"):
        after = compare(read_design(blank(options, pump)), both_connections=both)
        assert best_rank(after, pump) >= best_rank(before, pump)
        assert suiting(after, pump) <= suiting(before, pump)
        if after.cheapest is not None and after.cheapest.pair.pump == pump:
            assert before.cheapest is not None
            assert before.cheapest.pair.pump == pump
        for each in after.pairs:
            if each.pair.pump == pump and each.strain is not None and each.strain.doubtful:
                assert each.rank > max((other.rank for other in after.pairs if suits(other)), default=0)


def test_the_random_designs_hold_every_kind() -> None:
    """The test above proves nothing unless blanks really cost rank and suiting somewhere."""
    moved = lost = 0
    for seed in (0, 1, 2, 3, 5):
        options = random_document(seed)
        before = compare(read_design(options))
        for pump in ("q0", "q1", "q2"):
            after = compare(read_design(blank(options, pump)))
            moved += best_rank(after, pump) > best_rank(before, pump)
            lost += suiting(after, pump) < suiting(before, pump)
    assert moved > 0
    assert lost > 0


def test_a_pair_in_doubt_says_what_to_ask_and_is_never_the_cheapest() -> None:
    options = document((1.0, 1.7), (1.0, 1.6))
    for pump in options["pumps"]:
        pump.pop("highest_voltage_v")
        pump["name"] = pump["id"]
    found = compare(read_design(options))
    met = [each for each in found.pairs if each.goal is not None and each.goal.met]
    assert met
    assert found.cheapest is None
    for each in found.pairs:
        assert each.strain is not None
        assert (each.strain.known, each.over_voltage_hours) == (False, 0.0)
        assert each.strain.above_rated_voltage == each.hours_not_borne > 0
        assert each.doubt
        [asked] = [unknown for unknown in each.questions if unknown.code == "highest_voltage"]
        assert asked.asked >= each.strain.most_voltage > 12
        assert asked.asked < each.strain.most_voltage + 0.11
    [both] = [[each for each in found.questions if each.code == "highest_voltage"]]
    assert [each.pointer for each in both] == ["#/pumps/0/highest_voltage_v", "#/pumps/1/highest_voltage_v"]
    for each in both:
        most = [pair.strain.most_voltage for pair in found.pairs if pair.strain and pair.pump_input.name == each.part]
        assert each.asked >= max(most)
    for smallest in found.smallest:
        assert smallest.watts is None or smallest.asked > 12


def test_a_known_label_leaves_nothing_to_ask() -> None:
    found = compare(read_design(document((1.0,), (1.0,))))
    [pair] = found.pairs
    assert pair.strain is not None
    assert pair.strain.above_rated_voltage > 0  # it runs above rated, and its label of 26 V allows that
    assert (pair.doubt, pair.hours_not_borne) == ("", 0.0)
    assert "highest_voltage" not in {each.code for each in found.questions}


def test_play_that_nobody_knows_the_pump_to_bear_is_shown_with_and_without() -> None:
    options = document((1.7,), (1.6,))
    options["pumps"][0]["highest_voltage_v"] = 12.5
    [pair] = compare(read_design(options)).pairs
    assert pair.goal is not None
    assert pair.goal_borne is not None
    assert pair.goal_borne.hours < pair.goal.hours
    assert pair.strain is not None
    assert 0 < pair.strain.water_above < pair.water
    assert 0 < pair.strain.play_above < pair.running_hours
