"""What obstacles cost, against sizings of the same garden without them."""

import copy
import json
from pathlib import Path
from typing import Any

import pytest

from api.command.printed_sure import obstacle_blocks
from sizing.design.reading import read_design
from sizing.report.answer import sizing_answer
from sizing.report.garden_sky import explain_sky
from sizing.report.obstacle_costs import obstacle_costs
from sizing.report.report import size
from web.exports.obstacles import obstacles_csv

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
TREE = {"name": "lime", "direction": "south-west", "height_m": 8, "distance_m": 10, "width_m": 6}
MAST = {"direction": "140", "height_m": 5, "distance_m": 6, "width_m": 0.5}
GOAL = {"jet_height_m": 0.3, "from_hour": 10, "to_hour": 16, "months": [5, 6, 7, 8], "days_out_of_ten": 6}


def design(*obstacles: dict[str, Any], skyline: list[Any] | None = None) -> dict[str, Any]:
    document: dict[str, Any] = json.loads((EXAMPLES / "quince_court_jet.json").read_text())
    document["place"] |= {"skyline": skyline or [], "obstacles": copy.deepcopy(list(obstacles))}
    return document | {"goal": GOAL}


def test_what_is_told_is_what_a_sizing_without_it_finds() -> None:
    report = size(read_design(design(TREE, MAST)))
    costs = obstacle_costs(report)
    assert [len(cost.obstacles) for cost in costs] == [1, 1, 2]
    for cost, rest in zip(costs, ([MAST], [TREE], []), strict=True):
        alone = size(read_design(design(*rest)))
        assert alone.goal is not None
        assert cost.hours == pytest.approx(alone.year.running_hours)
        assert cost.water == pytest.approx(alone.year.water, rel=1e-6)
        assert cost.goal_hours == pytest.approx(alone.goal.hours)
        assert cost.more_water == pytest.approx(alone.year.water - report.year.water, rel=1e-3)
        assert cost.more_hours > 0
        assert cost.more_goal_hours is not None
        assert cost.more_goal_hours >= 0


def test_one_obstacle_is_no_wall_all_round() -> None:
    tree = size(read_design(design(TREE)))
    ring = size(read_design(design(skyline=[{"azimuth_deg": 225, "altitude_deg": 38.66}])))
    free = size(read_design(design()))
    assert ring.year.water < tree.year.water < free.year.water
    assert "skyline_all_round" in {note.code for note in ring.warnings} - {note.code for note in tree.warnings}
    two = size(read_design(design(skyline=[{"azimuth_deg": 225, "altitude_deg": 9}, {"azimuth_deg": 90, "altitude_deg": 9}])))
    assert "skyline_all_round" not in {note.code for note in two.warnings}


def test_behind_the_panel_nothing_is_lost_of_the_beam() -> None:
    behind = {"direction": "north", "height_m": 3, "distance_m": 10, "width_m": 4}
    (cost,) = obstacle_costs(size(read_design(design(behind))))
    (found,) = explain_sky(read_design(design(behind))).obstacles
    assert (found.hours, found.beam) == (0, 0)
    assert cost.more_water >= 0  # a little of the sky's even light is gone


def test_every_way_out_has_them() -> None:
    report = size(read_design(design(TREE, MAST)))
    answer = sizing_answer(report)
    assert [each.names for each in answer.obstacles] == [["lime"], [""], ["lime", ""]]
    assert len(obstacle_blocks(answer)) == 1
    lines = obstacles_csv("Jet", answer.obstacles).splitlines()
    assert len(lines) == 4
    assert lines[1].startswith("Jet,lime,225")
    assert sizing_answer(size(read_design(design()))).obstacles == []
