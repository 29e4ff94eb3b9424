"""Spillway: Francis' formula and its inverse, limits, refusals. Published values stand in published/outlet.toml."""

import numpy as np
import pytest

from sizing.foundation.errors import InputError
from sizing.foundation.tables import FRANCIS_COEFFICIENT
from sizing.hydraulic.spillway import francis_flow, sheet_thickness, spillway_head

FLOW = np.linspace(0.0, 61.0, 400) * 1e-3 / 60


def test_francis_by_hand() -> None:
    # 1.838 x (0.31 - 0.1 x 2 x 0.0191) x 0.0191^1.5 = 1.838 x 0.30618 x 0.00263967 = 1.485497e-3 m3/s.
    assert francis_flow(0.0191, 0.31, 2) == pytest.approx(1.48550e-3, rel=1e-5)


def test_coefficient_from_the_mean_of_the_measurements() -> None:
    # Unwin section 42: "mean value 0.622"; 2/3 x 0.622 x sqrt(2 x 9.81) = 1.8367, printed as 3.33 in feet.
    assert pytest.approx(2 / 3 * 0.622 * (2 * 9.81) ** 0.5, rel=1e-3) == FRANCIS_COEFFICIENT
    assert pytest.approx(3.33 * 0.3048**0.5, rel=5e-4) == FRANCIS_COEFFICIENT


@pytest.mark.parametrize("ends", [0, 1, 2])
@pytest.mark.parametrize("width", [0.05, 0.19, 0.73])
def test_head_gives_the_flow_back(width: float, ends: int) -> None:
    most = francis_flow(5 * width / ends, width, ends) if ends else 0.05
    flow = np.concatenate([np.geomspace(1e-12, most, 300)])
    head = spillway_head(flow, width, ends)
    assert francis_flow(head, width, ends) == pytest.approx(flow, rel=1e-11)
    assert np.all(np.diff(head) > 0)
    assert head[0] < 1e-7


def test_without_drawn_in_ends_the_head_is_a_power_of_the_flow() -> None:
    # (Q / (1.838 L))^(2/3): 8.3 L/min over 0.37 m: (1.38333e-4 / 0.68006)^(2/3) = 3.4587e-3 m.
    assert spillway_head(8.3e-3 / 60, 0.37) == pytest.approx(3.4587e-3, rel=1e-4)
    assert spillway_head(8 * FLOW, 0.37) == pytest.approx(4 * spillway_head(FLOW, 0.37), rel=1e-12)
    assert spillway_head(2 * FLOW, 0.74) == pytest.approx(spillway_head(FLOW, 0.37), rel=1e-12)


def test_trends_and_shapes() -> None:
    assert spillway_head(0.0, 0.37, 2) == 0.0
    assert np.all(spillway_head(FLOW[1:], 0.37, 2) > spillway_head(FLOW[1:], 0.37, 1))
    assert np.all(spillway_head(FLOW[1:], 0.37, 1) > spillway_head(FLOW[1:], 0.37, 0))
    assert np.all(spillway_head(FLOW[1:], 0.38, 1) < spillway_head(FLOW[1:], 0.37, 1))
    width = np.array([[0.19], [0.37]])
    together = spillway_head(FLOW, width, np.array([[2], [1]]))
    assert together.shape == (2, 400)
    assert spillway_head(float(FLOW[73]), 0.19, 2) == pytest.approx(together[0, 73], rel=1e-12)


@pytest.mark.parametrize("flow", [0.0002, np.array([0.0, 0.0002])])
def test_a_lip_too_narrow_is_refused(flow) -> None:
    # Head 5 L / n = 0.05 m leaves half of a 20 mm lip: 1.838 x 0.01 x 0.05^1.5 = 2.0550e-4 m3/s = 12.3 L/min.
    assert np.all(np.isfinite(spillway_head(flow, 0.02, 2)))
    with pytest.raises(InputError) as caught:
        spillway_head(flow * 1.1, 0.02, 2)
    problem = caught.value.problems[0]
    assert (problem.pointer, problem.code) == ("#/outlet/width_m", "out_of_range")
    assert problem.detail == (
        "flow over the spillway is 13.2 L/min; the weir formula for a lip 0.02 m wide with drawn-in ends "
        "runs from 0 to 12.3 L/min; make the lip wider."
    )
    assert np.all(np.isfinite(spillway_head(flow * 1.1, 0.02, 0)))


def test_thickness_on_the_edge() -> None:
    # 100 US gal/h for each inch of lip: 1.05150e-4 / 0.0254 = 4.1398e-3 m2/s; critical depth
    # (4.1398e-3² / 9.80665)^(1/3) = 0.012045 m = 0.474 in; x 0.715 = 0.339 in: about half the head of 0.68 in.
    flow = 100 * 231 * 0.0254**3 / 3600
    assert sheet_thickness(flow, 0.0254, 1.0) / 0.0254 == pytest.approx(0.474, abs=0.0005)
    assert sheet_thickness(flow, 0.0254) / 0.0254 == pytest.approx(0.339, abs=0.0005)
    # A sheet keeps its proportion to the head whatever the flow: 0.715 x (1.838² / 9.80665)^(1/3) = 0.5013.
    assert sheet_thickness(FLOW[1:], 0.37) / spillway_head(FLOW[1:], 0.37) == pytest.approx(0.5013, abs=0.0002)
    assert sheet_thickness(0.0, 0.37) == 0.0
