"""The pump on its shaft: affinity laws, head and load current at any flow and speed, and the ends of the curve."""

import numpy as np
import pytest

from sizing.hydraulic.pump import (
    flow_at_speed,
    head_at_speed,
    hydraulic_power,
    lift_speed,
    power_at_speed,
    pump_head,
    pump_load_current,
    state_flow,
    wire_to_water_efficiency,
)
from tests.fountains import FOUNTAINS

PUMPS = {name: fountain.pump for name, fountain in FOUNTAINS.items()}
every_pump = pytest.mark.parametrize("name", PUMPS)


def test_power_law_is_the_product_of_the_other_two() -> None:
    flow, head, speed = 0.000137, 1.73, 0.83
    before = hydraulic_power(998.3, flow, head)
    after = hydraulic_power(998.3, flow_at_speed(flow, speed), head_at_speed(head, speed))
    assert after == pytest.approx(power_at_speed(before, speed), rel=1e-12)


def test_lift_speed_is_where_shut_off_head_equals_the_lift() -> None:
    speed = lift_speed(0.73, 2.1)
    assert head_at_speed(2.1, speed) == pytest.approx(0.73, rel=1e-12)
    assert lift_speed(0.0, 2.1) == 0
    # a lift 40 % above the shut-off head asks a speed above the rated one: sqrt(1.4) = 1.1832
    assert lift_speed(1.4 * 2.1, 2.1) == pytest.approx(1.1832, abs=5e-5)


def test_a_cubic_metre_lifted_by_367_m_is_a_kilowatt_hour() -> None:
    # 1000 kg/m3 x 9.80665 m/s2 x 1 m3 x 367.1 m = 3.6000 MJ
    assert hydraulic_power(1000.0, 1 / 3600, 367.1) == pytest.approx(1000.0, abs=0.05)


def test_efficiency_by_hand() -> None:
    # 6.2 W of water from 11.3 V x 2.9 A = 32.77 W: 18.92 %
    assert wire_to_water_efficiency(6.2, 11.3, 2.9) == pytest.approx(0.1892, abs=5e-5)


@every_pump
def test_curves_scale_with_speed(name: str) -> None:
    pump, flow = PUMPS[name], np.linspace(0, 1.2, 13) * PUMPS[name].largest_flow
    for speed in (0.31, 0.73, 1.67):
        assert pump_head(pump, flow * speed, speed) == pytest.approx(speed**2 * pump_head(pump, flow, 1.0), rel=1e-12, abs=1e-12)
        assert pump_load_current(pump, flow * speed, speed) == pytest.approx(pump_load_current(pump, flow, 1.0), rel=1e-12)


@every_pump
def test_nodes_are_met(name: str) -> None:
    pump = PUMPS[name]
    assert pump_head(pump, pump.flow, 1.0) == pytest.approx(pump.head, rel=1e-12, abs=1e-12)
    assert pump_load_current(pump, pump.flow, 1.0) == pytest.approx(pump.load_current, rel=1e-12)
    assert pump.flow[0] == 0
    assert pump.head[-1] == 0
    assert (pump.shut_off_head, pump.largest_flow) == (pump.head[0], pump.flow[-1])


@every_pump
def test_head_falls_with_flow_everywhere_and_below_zero_beyond_the_end(name: str) -> None:
    pump = PUMPS[name]
    for speed in (0.37, 1.0, 1.83):
        head = pump_head(pump, np.linspace(0, 3, 601) * pump.largest_flow * speed, speed)
        assert np.all(np.diff(head) < 0)
        assert head[200] == pytest.approx(0, abs=1e-9)
        assert np.all(head[201:] < 0)


@every_pump
def test_head_at_a_flow_rises_with_speed_where_it_is_a_pump(name: str) -> None:
    pump = PUMPS[name]
    for flow in np.array([0.0, 0.13, 0.57, 0.91]) * pump.largest_flow:
        speed = np.linspace(max(flow / pump.largest_flow, 0.01), 2.7, 400)
        assert np.all(np.diff(pump_head(pump, flow, speed)) > 0)


@every_pump
def test_standing_pump_gives_no_head(name: str) -> None:
    assert pump_head(PUMPS[name], np.array([0.0, 1e-4]), 0.0).tolist() == [0.0, 0.0]
    assert pump_load_current(PUMPS[name], 1e-4, 0.0) == PUMPS[name].load_current[0]


def test_load_current_is_held_beyond_both_ends() -> None:
    pump = PUMPS["jet"]
    assert pump_load_current(pump, 2 * pump.largest_flow, 1.0) == pytest.approx(pump.load_current[-1], rel=1e-12)
    assert pump_load_current(pump, -1e-4, 1.0) == pytest.approx(pump.load_current[0], rel=1e-12)


def test_state_flow_is_zero_where_nothing_flows_or_turns() -> None:
    found = state_flow(np.array([0.0, 1e-4, 1e-4, -1e-4]), np.array([0.7, 0.0, 0.8, 0.8]))
    assert found.tolist() == [0.0, 0.0, 1e-4 / 0.8, 0.0]


@every_pump
def test_scalar_equals_array_element_by_element(name: str) -> None:
    pump = PUMPS[name]
    flow, speed = np.array([0.0, 0.4, 1.1]) * pump.largest_flow, np.array([0.3, 0.9, 1.4])
    for function in (pump_head, pump_load_current):
        assert function(pump, flow, speed).tolist() == [float(function(pump, q, s)) for q, s in zip(flow, speed, strict=True)]
