"""What nobody said becomes a question with its place in the design; what was said becomes none."""

from collections.abc import Callable
from typing import Any

import pytest

from sizing.design.reading import read_design
from sizing.fountain.sentences import question
from sizing.report.report import Report, size

Build = Callable[..., dict[str, Any]]
POWER = [{"head_m": 2, "power_w": watts, "flow_l_per_min": flow} for watts, flow in ((8, 0), (12, 4), (20, 8))]
CONTROLLER = {"kind": "controller", "efficiency_pct": 92}
SAID: dict[str, object] = {
    "/pumps/0/lowest_voltage_v": 6,
    "/pumps/0/highest_voltage_v": 26,
    "/pumps/0/starting_current_a": 0.1,
    "/pumps/0/motor_kind": "brushed",
    "/pumps/0/drive": "dc_motor",
    "/outlet/discharge_coefficient": 0.9,
    "/outlet/velocity_coefficient": 0.95,
    "/pipe/kind": "smooth",
}
BLANKS: dict[str, tuple[dict[str, object], list[tuple[str, str]]]] = {
    "all said": ({}, []),
    "highest voltage": (
        {"/pumps/0/highest_voltage_v": ...},
        [("highest_voltage", "#/pumps/0/highest_voltage_v")],
    ),
    "highest voltage behind a controller": (
        {"/pumps/0/highest_voltage_v": ..., "/connection": CONTROLLER | {"controller_kind": "step_down"}},
        [],
    ),
    "lowest voltage": ({"/pumps/0/lowest_voltage_v": ...}, [("lowest_voltage", "#/pumps/0/lowest_voltage_v")]),
    "a lowest voltage of zero is an answer": ({"/pumps/0/lowest_voltage_v": 0}, []),
    "starting current": ({"/pumps/0/starting_current_a": ...}, [("starting_current", "#/pumps/0/starting_current_a")]),
    "motor": ({"/pumps/0/motor_kind": ...}, [("motor_kind", "#/pumps/0/motor_kind")]),
    "a motor of which one is not sure": (
        {"/pumps/0/motor_kind": "not_known", "/pumps/0/name": "Brushless pump"},
        [("motor_kind", "#/pumps/0/motor_kind")],
    ),
    "drive": ({"/pumps/0/drive": ...}, [("drive", "#/pumps/0/drive")]),
    "power without volts": (
        {"/pumps/0/points": ..., "/pumps/0/power_points": POWER, "/pumps/0/drive": ..., "/pumps/0/starting_current_a": ...},
        [("drive", "#/pumps/0/drive")],
    ),
    "controller": ({"/connection": CONTROLLER}, [("controller_kind", "#/connection/controller_kind")]),
    "a controller of which one is not sure": (
        {"/connection": CONTROLLER | {"controller_kind": "not_known"}},
        [("controller_kind", "#/connection/controller_kind")],
    ),
    "a controller that raises": ({"/connection": CONTROLLER | {"controller_kind": "step_up_and_down"}}, []),
    "nozzle": (
        {"/outlet/discharge_coefficient": ..., "/outlet/velocity_coefficient": ...},
        [("nozzle_kind", "#/outlet/nozzle_kind")],
    ),
    "nozzle of a kind": (
        {"/outlet/discharge_coefficient": ..., "/outlet/nozzle_kind": "drilled_cap"},
        [("nozzle_coefficients", "#/outlet/discharge_coefficient")],
    ),
    "pipe": ({"/pipe/kind": ..., "/pipe/roughness_mm": ...}, [("pipe_kind", "#/pipe/kind")]),
    "no pipe to ask about": ({"/pipe/kind": ..., "/pipe/roughness_mm": ..., "/pipe/length_m": 0}, []),
}


@pytest.fixture
def sized(example: Build) -> Callable[[dict[str, object]], Report]:
    return lambda changes: size(read_design(example({**SAID, **changes})))


@pytest.mark.parametrize(("changes", "asked"), BLANKS.values(), ids=BLANKS)
def test_each_blank_is_one_question(
    changes: dict[str, object], asked: list[tuple[str, str]], sized: Callable[[dict[str, object]], Report]
) -> None:
    report = sized(changes)
    assert [(each.code, each.pointer) for each in report.questions] == asked
    for each in report.questions:
        assert question(each).count("?") == 1
    codes = [note.code for note in report.warnings]
    assert ("highest_voltage_unknown" in codes) == any(code == "highest_voltage" for code, _ in asked)


def test_the_question_names_the_real_volts(sized: Callable[[dict[str, object]], Report]) -> None:
    report = sized({"/pumps/0/highest_voltage_v": ...})
    [asked] = report.questions
    most = float(report.operation.voltage[report.operation.speed > 0].max())
    assert most <= asked.asked < most + 0.11
    assert asked.hours == report.strain.above_rated_voltage > 0
    assert f"{asked.asked:g}" in question(asked)
    assert report.verdict.borne


def test_a_pump_that_only_its_standing_volts_may_break_is_asked_about_too(
    sized: Callable[[dict[str, object]], Report],
) -> None:
    """A pump for 20 V on a panel of 21.7 V without load: it never runs above 20 V, but gets more while it does not run."""
    report = sized({"/pumps/0/highest_voltage_v": ..., "/pumps/0/rated_voltage_v": 20})
    assert report.strain.above_rated_voltage == 0
    [asked] = report.questions
    assert (asked.code, asked.hours) == ("highest_voltage", 0.0)
    assert asked.asked > 21.7
    assert report.verdict.borne == ""


def test_a_goal_is_counted_with_and_without_what_nobody_knows_the_pump_to_bear(
    sized: Callable[[dict[str, object]], Report],
) -> None:
    goal = {"jet_height_m": 0.3, "from_hour": 10, "to_hour": 14, "months": [6], "days_out_of_ten": 5}
    known, blank = sized({"/goal": goal}), sized({"/goal": goal, "/pumps/0/highest_voltage_v": ...})
    assert known.goal == known.goal_borne == blank.goal
    assert blank.goal is not None
    assert blank.goal_borne is not None
    assert blank.goal_borne.hours < blank.goal.hours
    assert blank.year.water == known.year.water
    assert blank.strain.water_above > known.strain.water_above == 0
