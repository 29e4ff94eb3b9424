"""Pump, pipe and outlet together: one flow at each speed, one speed at each flow, one line of volts and amperes."""

from dataclasses import replace

import numpy as np
import pytest

from sizing.electric.motor import MotorLabel, motor_current, motor_voltage
from sizing.foundation.errors import InputError
from sizing.hydraulic.outlet import Nozzle, OpenPipe, Spillway, jet_height, outlet_head
from sizing.hydraulic.pipes import Pipe, pipe_loss
from sizing.hydraulic.pump import lift_speed, pump_head, pump_load_current
from sizing.hydraulic.pump_curve import pump_from_label, pump_from_points
from sizing.operation.load_line import PipeSystem, flow_at, head_rise, load_line, speed_at, system_head, total_head
from tests.fountains import FOUNTAINS, LITRE_PER_MINUTE, WATER

GRAVITY = 9.80665
every_fountain = pytest.mark.parametrize("name", FOUNTAINS)
SMOOTH = Pipe(0.0, 0.0191, 0.0, 3.7, 1.14e-6)
"""No length: its loss goes with the square of the flow."""


def parabola(head: float = 2.1, flow: float = 2e-4):
    """A pump without winding resistance whose head at speed ratio 1 is head (1 - (q/flow)²)."""
    return pump_from_label("parabola", MotorLabel(12.0, 0.0, winding_resistance=0.0), head, flow, 1.3, WATER)


def test_head_is_a_sum() -> None:
    assert total_head(0.53, 0.17, 0.71) == pytest.approx(1.41, rel=1e-12)
    way = FOUNTAINS["jet"].waterway
    flow = np.array([0.0, 3.1e-5, 1.7e-4])
    parts = way.outlet.height + pipe_loss(way.pipe, flow) + outlet_head(way.outlet, flow)
    assert system_head(way, flow) == pytest.approx(parts, rel=1e-12)
    assert float(system_head(way, 0.0)) == way.outlet.height


@pytest.mark.parametrize("lift", [0.0, 0.37, 1.9])
@pytest.mark.parametrize("speed", [0.43, 1.0, 1.61])
def test_flow_of_a_parabola_against_the_sum_by_hand(lift: float, speed: float) -> None:
    """s² h - h q²/m² = lift + c q² gives q = sqrt((s² h - lift)/(c + h/m²)): all losses go with the square of the flow."""
    pump, way = parabola(), PipeSystem(SMOOTH, Nozzle(0.0061, 1, lift, 0.93))
    nozzle = 1 / (2 * GRAVITY * (0.93 * np.pi / 4 * 0.0061**2) ** 2)
    bends = 3.7 / (2 * GRAVITY * (np.pi / 4 * 0.0191**2) ** 2)
    surplus = speed**2 * 2.1 - lift
    expected = np.sqrt(surplus / (nozzle + bends + 2.1 / 2e-4**2)) if surplus > 0 else 0.0
    assert flow_at(pump, way, speed) == pytest.approx(expected, rel=1e-4, abs=1e-15)


def test_without_lift_and_with_square_losses_flow_goes_with_speed() -> None:
    way = PipeSystem(SMOOTH, Nozzle(0.0061, 1, 0.0, 0.93))
    for pump in (fountain.pump for fountain in FOUNTAINS.values()):
        flow = np.array([flow_at(pump, way, speed) for speed in (0.23, 0.71, 1.42)])
        assert flow / flow[1] == pytest.approx([0.23 / 0.71, 1.0, 2.0], rel=1e-8)


@every_fountain
def test_no_flow_up_to_the_lift_speed_and_some_above(name: str) -> None:
    fountain = FOUNTAINS[name]
    start = lift_speed(fountain.waterway.outlet.height, fountain.pump.shut_off_head)
    for speed in (-0.1, 0.0, 0.5 * start, (1 - 1e-12) * start):
        assert flow_at(fountain.pump, fountain.waterway, speed) == 0
    assert 0 < flow_at(fountain.pump, fountain.waterway, 1.001 * start) < 0.2 * fountain.pump.largest_flow


def test_without_lift_the_slowest_turn_moves_water() -> None:
    fountain = FOUNTAINS["jet"]
    level = replace(fountain.waterway, outlet=replace(fountain.waterway.outlet, height=0.0))
    assert flow_at(fountain.pump, level, 1e-3) > 0
    line = load_line(fountain.pump, level, 1.3)
    assert line.lift_speed == 0
    assert np.all(line.flow[1:] > 0)


@every_fountain
def test_both_sides_of_the_head_balance(name: str) -> None:
    fountain = FOUNTAINS[name]
    line = load_line(fountain.pump, fountain.waterway, 1.7)
    wet = line.flow > 0
    assert wet.sum() > 200
    assert line.head[wet] == pytest.approx(system_head(fountain.waterway, line.flow[wet]), rel=1e-9)
    assert np.all(line.head[~wet] <= fountain.waterway.outlet.height * (1 + 1e-12))
    assert line.head[~wet] == pytest.approx(line.speed[~wet] ** 2 * fountain.pump.shut_off_head, rel=1e-12)


@every_fountain
def test_the_line_obeys_the_motor(name: str) -> None:
    fountain = FOUNTAINS[name]
    pump, motor = fountain.pump, fountain.pump.motor
    line = load_line(pump, fountain.waterway, 1.7)
    current = motor_current(motor.no_load_current, line.speed, pump_load_current(pump, line.flow, line.speed))
    assert line.current == pytest.approx(current, rel=1e-12)
    assert line.voltage == pytest.approx(motor_voltage(line.speed, motor.back_emf, current, motor.winding_resistance), rel=1e-12)
    assert line.current[0] == motor.no_load_current
    assert line.voltage[0] == pytest.approx(motor.no_load_current * motor.winding_resistance, rel=1e-12)


@every_fountain
def test_everything_rises_along_the_line(name: str) -> None:
    fountain = FOUNTAINS[name]
    line = load_line(fountain.pump, fountain.waterway, 1.7)
    for values in (line.speed, line.head, line.current, line.voltage):
        assert np.all(np.diff(values) > 0)
    wet = line.flow > 0
    assert np.all(np.diff(line.flow[wet]) > 0)
    assert line.jet.tolist() == np.asarray(jet_height(fountain.waterway.outlet, line.flow), dtype=float).tolist()
    assert line.speed[-1] == pytest.approx(1.7, rel=1e-9)
    assert line.speed[~wet][-1] == pytest.approx(line.lift_speed, rel=1e-12)


def test_a_line_that_never_lifts_stays_dry() -> None:
    fountain = FOUNTAINS["jet"]
    high = replace(fountain.waterway, outlet=replace(fountain.waterway.outlet, height=9.7))
    line = load_line(fountain.pump, high, 1.3)
    # sqrt(9.7 m / shut-off head) is far above 1.3
    assert line.lift_speed > 1.3
    assert line.speed[-1] == 1.3
    assert not np.any(line.flow)
    assert not np.any(line.jet)


@every_fountain
def test_speed_and_flow_are_each_others_inverse(name: str) -> None:
    fountain = FOUNTAINS[name]
    start = lift_speed(fountain.waterway.outlet.height, fountain.pump.shut_off_head)
    speed = np.array([1.02, 1.3, 2.1, 3.3]) * start
    flow = np.array([flow_at(fountain.pump, fountain.waterway, s) for s in speed])
    back = speed_at(fountain.pump, flow, system_head(fountain.waterway, flow), 4.0)
    assert back == pytest.approx(speed, rel=1e-8)


def test_speed_is_held_at_the_top_where_more_is_asked() -> None:
    pump = FOUNTAINS["jet"].pump
    assert speed_at(pump, np.array([1e-4]), np.array([50.0]), 1.7) == pytest.approx([1.7], rel=1e-9)


def test_a_curve_with_a_knee_is_solved_too() -> None:
    """Newton's step from the parabola goes astray here; the bounds bring it back."""
    motor = MotorLabel(12.0, 5.0, winding_resistance=0.0, no_load_current=0.05)
    flow, head = np.array([0, 1, 2, 2.1, 4]) * 3e-5, np.array([2.0, 1.99, 1.98, 0.3, 0.0])
    pump = pump_from_points("knee", motor, flow, head, np.array([0.5, 0.51, 0.52, 0.9, 0.91]), WATER)
    asked = np.linspace(1e-6, 2e-4, 501)
    wanted = 0.02 + 4e7 * asked**2
    found = speed_at(pump, asked, wanted, 4.0)
    assert pump_head(pump, asked, found) == pytest.approx(wanted, rel=1e-9)


@every_fountain
def test_rise_of_head_with_speed_against_differences(name: str) -> None:
    pump = FOUNTAINS[name].pump
    flow = np.array([0.17, 0.43, 0.81]) * pump.largest_flow
    speed = np.array([0.83, 1.21, 1.07])
    step = 1e-6
    slope = (pump_head(pump, flow, speed + step) - pump_head(pump, flow, speed - step)) / (2 * step)
    assert head_rise(pump, flow, speed) == pytest.approx(slope, rel=1e-5)


def test_published_points_come_back_from_the_load_line() -> None:
    """A wide short pipe to a height that asks just the published head: at rated voltage flow, head and current return."""
    flow = np.array([3.1, 6.7, 9.3]) * LITRE_PER_MINUTE
    head, current = np.array([2.31, 1.74, 1.07]), np.array([0.71, 0.83, 0.91])
    pump = pump_from_points("trial", MotorLabel(12.0, 5.0), flow, head, current, WATER)
    for i in range(3):
        lift = head[i] - outlet_head(OpenPipe(0.1, 0.0), flow[i])
        way = PipeSystem(Pipe(0.0, 0.1, 0.0, 0.0, 1.14e-6), OpenPipe(0.1, float(lift)))
        speed = float(speed_at(pump, flow[i : i + 1], system_head(way, flow[i : i + 1]), 3.0)[0])
        drawn = motor_current(pump.motor.no_load_current, speed, float(pump_load_current(pump, flow[i], speed)))
        assert motor_voltage(speed, pump.motor.back_emf, drawn, pump.motor.winding_resistance) == pytest.approx(12.0, rel=1e-6)
        assert drawn == pytest.approx(current[i], rel=1e-6)
        assert float(pump_head(pump, flow[i], speed)) == pytest.approx(head[i], rel=1e-6)
        assert flow_at(pump, way, speed) == pytest.approx(flow[i], rel=1e-6)


def changed(**values: float) -> PipeSystem:
    """The waterway of the jet with other values of its pipe, or of its outlet."""
    way = FOUNTAINS["jet"].waterway
    pipe = {key: value for key, value in values.items() if hasattr(way.pipe, key)}
    outlet = {key: value for key, value in values.items() if key not in pipe}
    return PipeSystem(replace(way.pipe, **pipe), replace(way.outlet, **outlet))


@pytest.mark.parametrize(
    ("name", "less", "more"),
    [
        ("length", 7.3, 1.9),
        ("diameter", 0.0083, 0.0127),
        ("roughness", 1e-4, 1e-6),
        ("fitting_k", 9.1, 2.3),
        ("kinematic_viscosity", 1.79e-6, 0.7e-6),
        ("height", 0.47, 0.21),
        ("bore", 0.0043, 0.0067),
        ("count", 1, 3),
        ("discharge_coefficient", 0.63, 0.97),
    ],
)
def test_what_costs_flow(name: str, less: float, more: float) -> None:
    pump = FOUNTAINS["jet"].pump
    assert 0 < flow_at(pump, changed(**{name: less}), 0.91) < flow_at(pump, changed(**{name: more}), 0.91)


def test_pipe_of_no_length_and_no_bends_is_no_pipe() -> None:
    pump, outlet = parabola(), Nozzle(0.0061, 1, 0.3, 0.93)
    nothing = flow_at(pump, PipeSystem(Pipe(0.0, 0.0191, 1.5e-6, 0.0, 1.14e-6), outlet), 1.0)
    wide = flow_at(pump, PipeSystem(Pipe(3.0, 1.0, 1.5e-6, 5.0, 1.14e-6), outlet), 1.0)
    assert wide == pytest.approx(nothing, rel=1e-6)


def test_a_lip_too_narrow_for_the_pump_is_refused() -> None:
    pump = FOUNTAINS["spillway"].pump
    way = replace(FOUNTAINS["spillway"].waterway, outlet=Spillway(0.023, 0.21, 2))
    with pytest.raises(InputError) as caught:
        flow_at(pump, way, 1.0)
    problem = caught.value.problems[0]
    assert (problem.pointer, problem.code) == ("#/outlet/width_m", "out_of_range")
    assert problem.detail.endswith("make the lip wider.")
    # slowly turned, the same lip passes what comes
    assert 0 < flow_at(pump, way, 0.35) < flow_at(pump, way, 0.4)
