"""Pumps known by their power, or that hold their speed, among others: their smallest panel and why they fail."""

import pytest

from sizing.comparison.answer import comparison_answer
from sizing.comparison.comparison import compare
from sizing.design.reading import read_design
from sizing.report.report import size
from tests.comparison.test_smallest_panel import stepped
from tests.power_pumps import PUMPS, with_pump

GOAL = {"jet_height_m": 0.25, "from_hour": 11, "to_hour": 13, "months": [6, 7], "days_out_of_ten": 6}


@pytest.mark.parametrize("shape", PUMPS)
def test_the_smallest_panel_is_what_stepping_the_watts_finds(shape: str) -> None:
    options = read_design(with_pump(shape) | {"goal": GOAL})
    found = compare(options)
    (each,) = found.smallest
    assert each.watts is not None
    assert each.watts == stepped(options, options.pumps[0].id, options.panels[0].id, 80)


@pytest.mark.parametrize(("shape", "jet"), [("power_points", 2.0), ("power_points_volts", 2.0), ("constant_speed_points", 2.0)])
def test_no_panel_lifts_a_pump_beyond_what_is_published(shape: str, jet: float) -> None:
    (each,) = compare(read_design(with_pump(shape) | {"goal": GOAL | {"jet_height_m": jet}})).smallest
    assert each.watts is None


@pytest.mark.parametrize("shape", PUMPS)
def test_each_pair_is_what_sizing_it_alone_gives_and_says_its_shape(shape: str) -> None:
    options = read_design(with_pump(shape))
    answer = comparison_answer(compare(options))
    assert [pair.pump_shape for pair in answer.pairs] == [shape]
    assert answer.pairs[0].water_l == pytest.approx(1000 * size(options).year.water, rel=1e-9)
    assert {"pump_shapes", "pump_shapes_assumed"} & {note.code for note in answer.notes}
