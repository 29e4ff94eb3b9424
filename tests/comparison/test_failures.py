"""Why pairs fail: each made design has one cause, and its sentence names it with its numbers."""

import json
import re
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sizing.answers.kit import plain
from sizing.comparison.answer import comparison_answer
from sizing.comparison.comparison import compare
from sizing.comparison.pairs import PairFound, suits
from sizing.design.reading import read_design
from sizing.foundation.errors import SizingError
from sizing.operation.operating_point import State
from tests.choices import GOAL, document
from tests.conftest import change
from tests.draws import drawn

SPACE = "\N{NO-BREAK SPACE}"
PUMP = "/pumps/0"
FEW = {"/panels/0/imp_a": 0.3, "/panels/0/isc_a": 0.32}


def only_pair(changes: dict[str, Any]) -> PairFound:
    options = document(currents=(1.0,), heads=(1.0,))
    for pointer, value in changes.items():
        change(options, pointer, value)
    (found,) = compare(read_design(options)).pairs
    return found


CAUSES: list[tuple[dict[str, Any], str]] = [
    (
        {f"{PUMP}/lowest_voltage_v": 11, **FEW},
        r"In \d+ % of the hours asked for it starts and stops: the panel holds the pump at about [\d.]+ V, "
        r"below its lowest voltage of 11 V\.",
    ),
    (
        {f"{PUMP}/lowest_voltage_v": 0, f"{PUMP}/starting_current_a": 0.61},
        r"In \d+ % of the hours asked for there is too little sun to start it: about \d+ W/m² reach the cells, and its motor "
        r"starts at \d+ W/m²\.",
    ),
    (
        {f"{PUMP}/starting_current_a": 3.1},
        r"No sun starts its motor: it wants 3.1 A, and the panel gives at most about 0.92 A in full sun\.",
    ),
    (
        {f"{PUMP}/starting_current_a": 9, "/connection": {"kind": "controller"}},
        r"No sun starts its motor: it wants 9 A, which the controller cannot make of the panel's power\.",
    ),
    (
        {f"{PUMP}/lowest_voltage_v": 0, "/outlet/height_above_water_m": 5},
        r"It cannot lift the water 5 m: at its fastest of the year its head is [\d.]+ m\.",
    ),
    (
        {f"{PUMP}/lowest_voltage_v": 0, "/outlet/height_above_water_m": 1.43, "/goal/jet_height_m": 0.05},
        r"In \d+ % of the hours asked for it turns without lifting the water 1.43 m: "
        r"it reaches about \d+ % of the speed for that\.",
    ),
    (
        {"/goal/jet_height_m": 0.83},
        r"In \d+ % of the hours asked for its jet stays below the 83 cm asked for, at about \d+ cm\.",
    ),
    (
        {"/goal/jet_height_m": 2.6, "/outlet/bore_mm": 5},
        r"It reaches only [\d.]+ m: its jet never comes to the 2.6 m asked for\.",
    ),
    (
        {"/goal": {"flow_l_per_min": 31, **{k: v for k, v in GOAL.items() if k != "jet_height_m"}}},
        r"It reaches only [\d.]+ L/min: its flow never comes to the 31 L/min asked for\.",
    ),
    ({"/outlet/bore_mm": 3, "/goal/jet_height_m": 19.9}, r"No flow makes this outlet throw a jet of 19.9 m\."),
    ({"/goal/from_hour": 0, "/goal/to_hour": 6}, r"In \d+ % of the hours asked for no sun falls on the panel\."),
    (
        {f"{PUMP}/highest_voltage_v": 12, "/goal/jet_height_m": 0.2, "/panels/0/imp_a": 2.1, "/panels/0/isc_a": 2.3},
        r"It likely meets the goal, but runs above the pump's highest voltage of 12 V for [\d ]+ hours a year\.",
    ),
    (
        {f"{PUMP}/highest_voltage_v": 12, "/goal/days_out_of_ten": 10},
        r"In \d[\d.]* % of the hours asked for its jet stays .* "
        r"It runs above the pump's highest voltage of 12 V for [\d ]+ hours a year\.",
    ),
    (
        {"/goal": None, f"{PUMP}/lowest_voltage_v": 11.9, **FEW},
        r"In \d+ % of the sunny hours it starts and stops: the panel holds the pump at about [\d.]+ V, "
        r"below its lowest voltage of 11.9 V\.",
    ),
    (
        {"/goal": None, "/sky": {"kind": "monthly", "ghi_kwh_per_m2_day": [0.0] * 12, "air_temperature_c": [7.3] * 12}},
        r"No sun falls on the panel\.",
    ),
    (
        {"/goal": None, f"{PUMP}/highest_voltage_v": 12},
        r"It runs above the pump's highest voltage of 12 V for [\d ]+ hours a year\.",
    ),
]


@pytest.mark.parametrize(("changes", "words"), CAUSES)
def test_each_cause_is_named_with_its_numbers(changes: dict[str, Any], words: str) -> None:
    found = only_pair(changes)
    assert re.fullmatch(words, found.failure.replace(SPACE, " ").replace("\N{NARROW NO-BREAK SPACE}", " ")), found.failure
    assert not suits(found)


def test_a_pair_that_does_what_is_wanted_has_no_sentence() -> None:
    found = only_pair({"/goal/jet_height_m": 0.2, "/goal/days_out_of_ten": 3})
    assert (found.failure, suits(found)) == ("", True)
    assert only_pair({"/goal": None}).failure == ""


def test_the_share_of_lost_hours_is_that_of_the_state() -> None:
    found = only_pair({"/goal": None, f"{PUMP}/lowest_voltage_v": 11.9, **FEW})
    assert found.year is not None
    hours = found.year.hours_by_state
    sunny = 8760 - hours[State.NIGHT]
    told = re.match(r"In (\d+)", found.failure)
    assert told is not None
    assert float(told[1]) == pytest.approx(100 * hours[State.BELOW_LOWEST_VOLTAGE] / sunny, abs=0.51)


VALUES = st.fixed_dictionaries(
    {},
    optional={
        f"{PUMP}/lowest_voltage_v": st.sampled_from([0, 3, 11]),
        f"{PUMP}/highest_voltage_v": st.sampled_from([None, 12, 14.7]),
        f"{PUMP}/starting_current_a": st.sampled_from([None, 0, 0.71, 4]),
        f"{PUMP}/points/0/head_m": st.sampled_from([0.4, 1.7, 3.1]),
        "/panels/0/imp_a": st.sampled_from([0.1, 0.86, 5]),
        "/panels/0/vmp_v": st.sampled_from([8.8, 17.1, 22]),
        "/panels/1/in_series": st.sampled_from([1, 2, 8]),
        "/panels/1/price": st.sampled_from([None, {"amount": 7.3, "currency": "USD"}]),
        "/outlet": st.sampled_from(
            [
                {"kind": "spillway", "width_m": 0.02, "height_above_water_m": 0.03},
                {"kind": "open_pipe", "height_above_water_m": 0.2},
                {"kind": "nozzle", "bore_mm": 2.3, "height_above_water_m": 9},
            ]
        ),
        "/goal": st.sampled_from(
            [
                None,
                GOAL,
                {"flow_l_per_min": 0.01, "from_hour": 11, "to_hour": 11.1, "months": [1], "days_out_of_ten": 1},
                {"flow_l_per_min": 900, "from_hour": 0, "to_hour": 24, "months": [6], "days_out_of_ten": 10},
            ]
        ),
        "/sky": st.just({"kind": "monthly", "ghi_kwh_per_m2_day": [0.0] * 12, "air_temperature_c": [-50] * 12}),
        "/place/latitude_deg": st.sampled_from([-54.8, 0.2, 69.6]),
    },
)


@drawn(15)
@given(VALUES, st.booleans())
def test_any_design_gives_an_answer_in_plain_numbers_or_sentences(changes: dict[str, Any], both: bool) -> None:
    options = document(currents=(1.0, 1.9), heads=(1.0, 1.4))
    for pointer, value in changes.items():
        change(options, pointer, value)
    try:
        found = compare(read_design(options), both_connections=both)
    except SizingError as error:
        told = [problem.detail for problem in error.problems]
        found = None
    if found is None:
        assert all("; " in detail for detail in told)
        return
    assert json.dumps(plain(comparison_answer(found)), allow_nan=False)
    assert [each.rank for each in found.pairs] == list(range(1, len(found.pairs) + 1))
    for each in found.pairs:
        done = each.chance.outlook == "likely" if each.chance else each.water > 0
        assert suits(each) == (not each.refused and done and each.over_voltage_hours == 0)
        assert suits(each) or re.match(r"[A-Z].*\.$", each.refused or each.failure)
        assert each.matching_factor is None or 0 <= each.matching_factor <= 1
        assert (each.price is None) == bool(each.price_note)
        assert each.beaten_by is None or not each.refused
        assert all(np.isfinite(value) for value in (each.noon_jet or {}).values())
    if found.goal is not None:
        assert sorted(each.pump for each in found.smallest) == ["q0", "q1"]
        for small in found.smallest:
            assert small.sentence.endswith(".")
            assert (small.watts is None) == (small.like is None) == small.sentence.startswith("No panel")
