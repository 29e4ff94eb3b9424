"""Outlets: balance of the nozzle, height of the jet, the vertical pipe between its two modes.

Published values stand in published/outlet.toml.
"""

from dataclasses import replace

import numpy as np
import pytest

from sizing.foundation import tables
from sizing.hydraulic.outlet import (
    Nozzle,
    OpenPipe,
    Spillway,
    jet_height,
    nozzle_head,
    nozzle_jet_height,
    nozzle_velocity_head,
    open_pipe_head,
    open_pipe_jet_height,
    outlet_head,
    overflow_height,
    thrown_height,
)

GRAVITY = 9.80665
FLOW = np.linspace(0.0, 31.0, 400) * 1e-3 / 60
OUTLETS = [Nozzle(0.0073, 3, 0.31), OpenPipe(0.0191, 0.42), Spillway(0.37, 0.55), Spillway(0.19, 0.55, 2)]
GALLON_PER_MINUTE = 231 * 0.0254**3 / 60


def test_nozzle_by_hand() -> None:
    # 6.1 L/min = 1.016667e-4 m3/s; pi/4 x 0.0073² = 4.185387e-5 m2; / 0.946: 2.567755 m/s; ² / 19.6133 = 0.336165 m.
    assert nozzle_head(6.1e-3 / 60, 0.0073, 1, 0.946) == pytest.approx(0.336165, rel=1e-5)


def test_exit_kinetic_head_and_loss_make_up_the_nozzle_head() -> None:
    # The stream leaves with the speed Q / (Cc A), Cc = Cd / Cv; a nozzle loses (1/Cv² - 1) of its velocity head.
    nozzle = OUTLETS[0]
    assert isinstance(nozzle, Nozzle)
    area = nozzle.count * np.pi / 4 * nozzle.bore**2 * nozzle.discharge_coefficient / nozzle.velocity_coefficient
    kinetic = (FLOW / area) ** 2 / (2 * GRAVITY)
    lost = (1 / nozzle.velocity_coefficient**2 - 1) * kinetic
    total = outlet_head(nozzle, FLOW)
    assert total == pytest.approx(kinetic + lost, rel=1e-12)
    assert nozzle_velocity_head(total, nozzle.velocity_coefficient) == pytest.approx(kinetic, rel=1e-12)


def test_default_coefficients_are_castels() -> None:
    # Unwin section 50, convergent nozzle of 13° 24': c_c 0.983, c_v 0.962, c 0.946 = 0.983 x 0.962.
    assert (tables.NOZZLE_DISCHARGE_COEFFICIENT, tables.NOZZLE_VELOCITY_COEFFICIENT) == (0.946, 0.962)
    assert pytest.approx(0.983 * 0.962, abs=5e-4) == 0.946
    assert Nozzle(0.01, 1, 0.0).discharge_coefficient.source == "unwin_1911"


def test_two_nozzles_share_the_flow() -> None:
    assert nozzle_head(FLOW, 0.0073, 2, 0.946) == pytest.approx(nozzle_head(FLOW / 2, 0.0073, 1, 0.946), rel=1e-12)
    assert jet_height(Nozzle(0.0073, 2, 0.3), FLOW) == pytest.approx(jet_height(Nozzle(0.0073, 1, 0.3), FLOW / 2), rel=1e-12)


def test_jet_heights_by_hand() -> None:
    # h = H / (1 + phi H), phi = 0.25 / (d + (0.1 d)³), d in mm: 6 mm 0.25/6.216 = 0.040219; 8 mm 0.25/8.512 = 0.029370;
    # 10 mm 0.25/11 = 0.022727.
    expected = {
        0.006: (0.9613, 1.8511, 2.6770, 4.1630),
        0.008: (0.9715, 1.8890, 2.7571, 4.3598),
        0.010: (0.9778, 1.9130, 2.8085, 4.4898),
    }
    for bore, heights in expected.items():
        assert nozzle_jet_height(np.array([1.0, 2.0, 3.0, 5.0]), bore) == pytest.approx(heights, abs=2e-4)


def test_jet_limits() -> None:
    # Never above its velocity head; a thick jet reaches nearly all of it, a very fast one no more than 1 / phi.
    head = np.geomspace(0.01, 30.0, 50)
    for bore in (0.003, 0.0073, 0.0191):
        height = nozzle_jet_height(head, bore)
        assert np.all(height < head)
        assert np.all(np.diff(height) > 0)
        assert height[0] == pytest.approx(0.01, rel=1e-3)
    assert np.all(nozzle_jet_height(head, 0.0073) > nozzle_jet_height(head, 0.0063))
    assert nozzle_jet_height(1e9, 0.010) == pytest.approx(44.0, rel=1e-6)  # 11 / 0.25
    assert nozzle_jet_height(1.7, 0.5) == pytest.approx(1.7, rel=1e-4)


def test_jet_against_other_rules_of_fire_streams() -> None:
    # Freeman, h = H (1 - 0.000113 H / d), known from memory, for 10 mm and more: a little higher, by less than
    # 4 % up to 3 m and less than 10 % up to 10 m.
    for bore in (0.010, 0.013, 0.019):
        for head, apart in ((1.0, 0.04), (3.0, 0.04), (7.0, 0.1), (10.0, 0.1)):
            freeman = head * (1 - 0.000113 * head / bore)
            assert (1 - apart) * freeman < nozzle_jet_height(head, bore) < freeman
    # Mariotte, H = h + h² / 97.45 m: the highest of the published rules; 2 m of head throw 1.96 m.
    assert 0.93 * 1.96 < nozzle_jet_height(2.0, 0.006) < 1.96


def test_open_pipe_by_hand() -> None:
    # 23 L/min = 3.83333e-4 m3/s; pi/4 x 0.0191² = 2.865211e-4 m2; 1.337889 m/s; ² / 19.6133 = 0.0912622 m.
    assert open_pipe_head(23e-3 / 60, 0.0191) == pytest.approx(0.0912622, rel=1e-5)


@pytest.mark.parametrize("diameter", np.linspace(0.005, 0.060, 12))
def test_vertical_pipe_modes_and_the_bridge(diameter: float) -> None:
    inches = diameter / 0.0254
    flow_low = 6.17 * inches**1.25 * (0.37 * inches) ** 1.35 * GALLON_PER_MINUTE
    flow_high = 5.01 * inches**1.99 * (1.4 * inches) ** 0.53 * GALLON_PER_MINUTE
    assert flow_low < flow_high
    height = open_pipe_jet_height(np.array([flow_low, flow_high]), diameter)
    assert height == pytest.approx([0.37 * diameter, 1.4 * diameter], rel=1e-6)
    # Continuous at both ends, rising everywhere, and each mode untouched outside the bridge.
    for joint in (flow_low, flow_high):
        around = open_pipe_jet_height(joint * np.array([1 - 1e-9, 1 + 1e-9]), diameter)
        assert around[1] == pytest.approx(around[0], rel=1e-6)
    flow = np.unique(np.concatenate([np.linspace(0.0, 3 * flow_high, 3001), flow_low * np.geomspace(1e-6, 10, 500)]))
    height = open_pipe_jet_height(flow, diameter)
    assert np.all(np.diff(height) > 0)
    assert height[0] == 0.0
    low, high = flow < 0.999 * flow_low, flow > 1.001 * flow_high
    assert height[low] == pytest.approx(overflow_height(flow[low], diameter), rel=1e-12)
    assert height[high] == pytest.approx(thrown_height(flow[high], diameter), rel=1e-12)


def test_between_the_modes_less_flows_than_either_formula_says() -> None:
    # The manual's remark on the range it leaves open: at the same height the flow is less than by either formula.
    diameter, flow = 2 * 0.0254, 18.0 * GALLON_PER_MINUTE
    inches = open_pipe_jet_height(flow, diameter) / 0.0254
    assert 0.37 * 2 < inches < 1.4 * 2
    assert 5.01 * 2**1.99 * inches**0.53 > 18.0
    assert 6.17 * 2**1.25 * inches**1.35 > 18.0


def test_a_bubbler_may_pass_its_mean_velocity_head() -> None:
    # By hand for 2 in and 10 in: 67.43 gal/min = 4.2545e-3 m3/s, 2.0991 m/s, 0.22465 m; 0.254 / 0.22465 = 1.131.
    flow = 67.435 * GALLON_PER_MINUTE
    assert open_pipe_jet_height(flow, 0.0508) / open_pipe_head(flow, 0.0508) == pytest.approx(1.131, abs=0.002)


@pytest.mark.parametrize("outlet", OUTLETS)
def test_zero_rise_and_shape(outlet) -> None:
    head, height = outlet_head(outlet, FLOW), jet_height(outlet, FLOW)
    assert head[0] == 0.0
    assert height[0] == 0.0
    assert np.all(np.diff(head) > 0)
    assert np.all(np.diff(height) > 0) or isinstance(outlet, Spillway)
    assert np.all(np.isfinite(head))
    assert np.all(np.isfinite(height))
    assert head.shape == height.shape == FLOW.shape
    assert outlet_head(outlet, 0.0) == 0.0
    assert jet_height(outlet, 0.0) == 0.0
    for place in range(0, 400, 37):
        flow = float(FLOW[place])
        assert outlet_head(outlet, flow) == pytest.approx(head[place], rel=1e-12)
        assert jet_height(outlet, flow) == pytest.approx(height[place], rel=1e-12)


def test_scaling() -> None:
    nozzle, pipe = OUTLETS[0], OUTLETS[1]
    assert outlet_head(nozzle, 2 * FLOW) == pytest.approx(4 * outlet_head(nozzle, FLOW), rel=1e-12)
    assert outlet_head(pipe, 2 * FLOW) == pytest.approx(4 * outlet_head(pipe, FLOW), rel=1e-12)
    assert outlet_head(replace(nozzle, bore=2 * 0.0073), FLOW) == pytest.approx(outlet_head(nozzle, FLOW) / 16, rel=1e-12)


def test_height_of_the_outlet_is_no_part_of_its_head() -> None:
    for outlet in OUTLETS:
        assert np.array_equal(outlet_head(replace(outlet, height=7.3), FLOW), outlet_head(outlet, FLOW))


def test_a_spillway_throws_no_jet() -> None:
    assert np.array_equal(jet_height(OUTLETS[2], FLOW), np.zeros(400))
