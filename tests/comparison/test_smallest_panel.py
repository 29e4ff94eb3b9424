"""The smallest panel: what stepping the watts one by one through the whole path finds; why none does; monotone."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from sizing.comparison.comparison import compare
from sizing.comparison.draw import draw_of
from sizing.comparison.least_watts import least_watts, settled
from sizing.comparison.smallest_panel import SmallestPanel
from sizing.design.design import Design
from sizing.design.reading import read_design
from sizing.electric.single_diode import of_more_current
from sizing.fountain.components import fountain_of, goal_of
from sizing.fountain.site_setup import setting_of
from sizing.hydraulic.pump import pump_head
from sizing.light.irradiance import plane_sun
from sizing.operation.goal import flow_band, goal_found
from sizing.operation.load_line import system_head
from sizing.operation.operating_point import State, irradiance_needed, solve_grid
from sizing.report.report import operate_lit
from tests.choices import GOAL, design, document
from tests.fountains import FOUNTAINS

SPACE = "\N{NO-BREAK SPACE}"


def stepped(options: Design, pump: str, like: str, most: int) -> int | None:
    """Label watts from 1 up, each through match, year and goal, until the goal is met without over-voltage."""
    setting = setting_of(options, None)
    place, mounting, sky = setting.place, setting.mounting, setting.sky
    sun = plane_sun(sky, place, mounting.tilt, mounting.azimuth, mounting.soiling)
    goal = goal_of(options)
    assert goal is not None
    given = next(panel for panel in options.panels if panel.id == like)
    for watts in range(1, most + 1):
        by = watts / (given.vmp_v * given.imp_a * given.in_series)
        sized = given.model_copy(update={"imp_a": given.imp_a * by, "isc_a": given.isc_a * by, "in_parallel": 1})
        fountain = fountain_of(options.model_copy(update={"panels": (sized,), "chosen": None}), like, pump)
        solved = solve_grid(fountain.supply, fountain.pump, fountain.waterway)
        found = operate_lit(solved, sun.effective, sun.cell_temperature)
        if goal_found(goal, sky, found.flow, flow_band(goal, fountain.waterway)).met:
            return None if np.any(found.state == State.OVER_VOLTAGE) else watts
    return None


def smallest(options: Design, both: bool = False) -> dict[str, SmallestPanel]:
    return {each.pump: each for each in compare(options, both_connections=both).smallest}


def two_volts(**changes: Any) -> dict[str, Any]:
    """One panel of usual volts and one of fewer, with two pumps."""
    options = document(currents=(1.0, 1.3), heads=(0.9, 1.35), changes=changes)
    options["panels"][1] |= {"vmp_v": 14.1, "voc_v": 17.3}
    return options


@pytest.mark.some(1)
@pytest.mark.parametrize("kind", ["direct", "controller"])
def test_it_is_what_stepping_the_watts_by_hand_finds(kind: str) -> None:
    options = read_design(two_volts(connection={"kind": kind}))
    found = smallest(options)
    for pump in ("q0", "q1"):
        by_hand = [stepped(options, pump, like, 60) for like in ("p0", "p1")]
        possible = [watts for watts in by_hand if watts is not None]
        assert found[pump].watts == min(possible)
        assert found[pump].like == f"p{by_hand.index(min(possible))}"
        assert found[pump].connection == kind


@pytest.mark.some(1)
@pytest.mark.parametrize(("days", "months"), [(9, [6, 7]), (3, [11, 12, 1])])
def test_so_it_is_for_hard_and_for_easy_goals_and_panels_in_series(days: int, months: list[int]) -> None:
    options = two_volts(goal=GOAL | {"days_out_of_ten": days, "months": months, "from_hour": 11.5, "to_hour": 13})
    options["pumps"] = options["pumps"][:1]
    options["panels"] = [options["panels"][1] | {"vmp_v": 8.7, "voc_v": 10.7, "in_series": 2, "in_parallel": 3}]
    checked = read_design(options)
    found = smallest(checked)["q0"]
    assert found.watts is not None
    assert found.watts == stepped(checked, "q0", "p1", 150)


def test_of_two_connections_the_one_that_needs_fewer_watts_is_told() -> None:
    options = read_design(two_volts())
    direct, both = smallest(options), smallest(options, both=True)
    controlled = smallest(read_design(two_volts(connection={"kind": "controller"})))
    for pump, each in both.items():
        watts = [found[pump].watts or 10_000 for found in (direct, controlled)]
        assert each.watts == min(watts)
        assert each.connection == ("direct" if watts[0] <= watts[1] else "controller")


def test_they_stand_by_watts_with_sentences_that_say_which() -> None:
    found = compare(read_design(two_volts())).smallest
    assert [each.watts for each in found] == sorted(each.watts or 0 for each in found)
    first = found[0]
    assert first.likely is not None
    assert first.sentence.startswith(
        f"{first.watts}{SPACE}W with the volts of panel {first.like} "
        f"({'17.6' if first.like == 'p0' else '14.1'}{SPACE}V at maximum power), joined directly. The chance is "
    )
    assert first.sentence.endswith(f" {first.likely.watts}{SPACE}W make it likely.")


def test_a_goal_that_asks_less_never_needs_a_larger_panel() -> None:
    watts = []
    for days in (1, 4, 7, 9):
        (found,) = compare(design(heads=(1.2,), changes={"goal": GOAL | {"days_out_of_ten": days}})).smallest
        watts.append(found.watts or 10_000)
    assert watts == sorted(watts)
    assert watts[0] < watts[-1]


def test_cold_cells_hold_the_volts_that_warm_ones_do_not() -> None:
    found = {}
    for month in (1, 7):
        options = document(currents=(1.0,), heads=(1.0,))
        options["pumps"][0]["highest_voltage_v"] = None
        hours = {"from_hour": 12, "to_hour": 13, "months": [month], "days_out_of_ten": 2}
        options["goal"] = GOAL | hours | {"jet_height_m": 1.75}
        checked = read_design(options)
        found[month] = smallest(checked)["q0"]
        if month == 1:
            assert found[month].watts == stepped(checked, "q0", "p0", 150) is not None
    assert found[7].watts is None
    assert found[7].sentence.startswith("No panel with these volts does: the pump asks ")


# Why none does


@pytest.mark.some(4)
@pytest.mark.parametrize(
    ("changes", "goal", "words"),
    [
        ({"bore": 3}, {"jet_height_m": 19.9}, "No panel does: no flow makes this outlet throw a jet of 19.9 m."),
        (
            {"/highest_voltage_v": 12.5},
            {"jet_height_m": 1.2},
            "No panel does: at its highest voltage of 12.5 V, its jet reaches ",
        ),
        ({"/highest_voltage_v": 12}, {"jet_height_m": 0.3, "lift": 2.1}, "of 12 V, it cannot lift the water 2.1 m."),
        ({"/highest_voltage_v": None}, {"jet_height_m": 1.9}, "No panel with these volts does: the pump asks "),
        (
            {},
            {"from_hour": 3, "to_hour": 12},
            "No panel does: the sun is on it through all of the hours asked for on only 0 of 10",
        ),
        (
            {},
            {"days_out_of_ten": 10, "months": [12], "jet_height_m": 1.3},
            "No panel up to 1000 W does: even that reaches it on only ",
        ),
        ({"/highest_voltage_v": 13.9}, {"days_out_of_ten": 8}, "run the pump above its highest voltage of 13.9 V for "),
        (
            {"controller": True},
            {"jet_height_m": 0.9},
            "at its rated voltage of 12 V, which is all that a controller gives, its jet ",
        ),
        ({"flow": 9.1, "/highest_voltage_v": 12}, {}, "at its highest voltage of 12 V, it moves "),
    ],
)
def test_a_pump_that_no_panel_suits_says_why(changes: dict[str, Any], goal: dict[str, Any], words: str) -> None:
    options = document(currents=(1.0,), heads=(1.0,))
    options["outlet"] |= {"height_above_water_m": goal.get("lift", 0.15), "bore_mm": changes.get("bore", 6)}
    options["pumps"][0] |= {name[1:]: value for name, value in changes.items() if name.startswith("/")}
    options["connection"] = {"kind": "controller" if "controller" in changes else "direct"}
    options["goal"] = GOAL | {name: value for name, value in goal.items() if name != "lift"}
    if "flow" in changes:
        options["goal"] = options["goal"] | {"jet_height_m": None, "flow_l_per_min": changes["flow"]}
    (found,) = compare(read_design(options)).smallest
    assert (found.watts, found.like, found.connection) == (None, None, None)
    assert words in found.sentence.replace(SPACE, " ")
    assert found.sentence.startswith("No panel ")


# The pieces


@pytest.mark.parametrize("name", ["jet", "bubbler", "low_voltage"])
def test_the_point_of_a_flow_is_where_pump_and_pipe_agree(name: str) -> None:
    fountain = FOUNTAINS[name]
    flow = 0.37 * fountain.pump.largest_flow
    draw = draw_of(fountain.pump, fountain.waterway, flow)
    if draw.voltage[-1] > fountain.pump.lowest_voltage * (1 + 1e-9):
        assert draw.flow[-1] == pytest.approx(flow, rel=1e-6)
    assert draw.flow[-1] >= flow * (1 - 1e-6)
    motor = fountain.pump.motor  # V = s E + I R gives back the speed, at which the pump must give the head
    speed = float((draw.voltage[-1] - draw.current[-1] * motor.winding_resistance) / motor.back_emf)
    flow = float(draw.flow[-1])
    assert float(pump_head(fountain.pump, flow, speed)) == pytest.approx(float(system_head(fountain.waterway, flow)), rel=1e-3)


def test_a_scaled_panel_needs_the_sun_that_the_first_needs_for_a_part_of_the_current() -> None:
    panel, warmth = FOUNTAINS["jet"].supply.panel, np.array([7.3, 31.0, 53.0])
    large = irradiance_needed(of_more_current(panel, 2.7), warmth, 14.1, 1.31)
    assert np.allclose(large, irradiance_needed(panel, warmth, 14.1, 1.31 / 2.7), rtol=1e-12)
    assert of_more_current(panel, 1.0) == panel
    assert of_more_current(of_more_current(panel, 3.1), 1 / 3.1).light_current == pytest.approx(panel.light_current)
    assert replace(of_more_current(panel, 2.0)).thermal_voltage == panel.thermal_voltage


@pytest.mark.parametrize("least", [1, 2, 17, 36, 37, 38, 74, 998, 1000])
def test_the_search_finds_the_least_from_any_guess(least: int) -> None:
    for guess in (1, 2, 36, 37, 38, 500, 1000):
        assert settled(guess, lambda watts: watts >= least, 1000) == least
    assert least_watts(lambda watts: watts >= least, 1000) == least
    assert least_watts(lambda watts: watts >= least, least - 1) is None
    if least > 1:
        assert settled(1, lambda watts: watts >= least, least - 1) is None


def test_nothing_smaller_is_sought_where_one_watt_does() -> None:
    easy = document(
        (1.0, 1.3), (0.1,), {"goal": GOAL | {"jet_height_m": 0.01, "from_hour": 12, "to_hour": 12.5, "days_out_of_ten": 1}}
    )
    for panel, by in zip(easy["panels"], (1.0, 0.9), strict=True):
        panel["vmp_v"] *= by
        panel["voc_v"] *= by
    easy["outlet"]["height_above_water_m"] = 0
    assert [found.watts for found in compare(read_design(easy)).smallest] == [1]
