"""From points or a box label to the pump's curves: the points come back, the ends are carried on, wrong labels refused."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq

from sizing.electric.motor import MotorLabel, motor_current, motor_voltage
from sizing.foundation.errors import InputError
from sizing.hydraulic.pump import Pump, pump_head, pump_load_current
from sizing.hydraulic.pump_curve import BEST_EFFICIENCY_LIMIT, POOREST_EFFICIENCY, pump_from_label, pump_from_points, rated_speed
from tests.fountains import LITRE_PER_MINUTE, WATER

MOTOR = MotorLabel(12.0, 5.0)
FLOW = np.array([0.0, 3.1, 6.7, 9.3, 11.9]) * LITRE_PER_MINUTE
HEAD = np.array([2.63, 2.31, 1.74, 1.07, 0.0])
CURRENT = np.array([0.63, 0.71, 0.83, 0.91, 0.97])


def build(flow=FLOW, head=HEAD, current=CURRENT, motor=MOTOR, name="trial", pointer="#/pumps/4") -> Pump:
    return pump_from_points(name, motor, np.asarray(flow), np.asarray(head), np.asarray(current), WATER, pointer)


def speed_on_battery(pump: Pump, flow: float, voltage: float) -> float:
    """Speed at which the motor asks that voltage while that flow passes, by search."""

    def surplus(speed: float) -> float:
        current = motor_current(pump.motor.no_load_current, speed, float(pump_load_current(pump, flow, speed)))
        return float(motor_voltage(speed, pump.motor.back_emf, current, pump.motor.winding_resistance)) - voltage

    return float(brentq(surplus, 1e-6, 3.0, xtol=1e-14, rtol=1e-14))


MOTORS = {
    "silent label": MOTOR,
    "no winding": replace(MOTOR, winding_resistance=0.0),
    "large winding": replace(MOTOR, winding_resistance=2.9),
    "no no-load current": replace(MOTOR, no_load_current=0.0),
    "large no-load current": replace(MOTOR, no_load_current=0.57),
}


@pytest.mark.parametrize("motor", MOTORS.values(), ids=MOTORS)
def test_every_point_comes_back_at_rated_voltage(motor: MotorLabel) -> None:
    pump = build(motor=motor)
    for flow, head, current in zip(FLOW, HEAD, CURRENT, strict=True):
        speed = speed_on_battery(pump, flow, 12.0)
        assert float(pump_head(pump, flow, speed)) == pytest.approx(head, rel=1e-6, abs=1e-9)
        drawn = motor_current(pump.motor.no_load_current, speed, float(pump_load_current(pump, flow, speed)))
        assert drawn == pytest.approx(current, rel=1e-6)


def test_last_point_turns_at_speed_ratio_one_and_lighter_points_faster() -> None:
    pump = build()
    speed = [speed_on_battery(pump, flow, 12.0) for flow in FLOW]
    assert speed[-1] == pytest.approx(1.0, rel=1e-12)
    assert np.all(np.diff(speed) < 0)


def test_reduction_by_hand() -> None:
    """V = 12 V, R = 2 ohm: E = 12 - 0.97 x 2 = 10.06 V; the first point turns at s = (12 - 0.63 x 2)/10.06 = 1.06759."""
    pump = build(motor=replace(MOTOR, winding_resistance=2.0, no_load_current=0.1))
    # h = 2.63/1.06759^2 = 2.30751 m; J = (0.63 - 0.1)/1.06759^2 = 0.465015 A
    assert pump.shut_off_head == pytest.approx(2.30751, rel=1e-5)
    assert pump.load_current[0] == pytest.approx(0.465015, rel=1e-5)
    # the second point, s = (12 - 1.42)/10.06 = 1.05169: flow 3.1/1.05169 = 2.94764 L/min
    assert pump.flow[1] / LITRE_PER_MINUTE == pytest.approx(2.94764, rel=1e-5)


def test_two_points_are_enough_and_make_a_straight_line() -> None:
    pump = build([0, 2e-4], [1.9, 0.0], [0.5, 0.9], replace(MOTOR, winding_resistance=0.0))
    assert pump_head(pump, np.array([0.5e-4, 1.3e-4]), 1.0) == pytest.approx([1.9 * 0.75, 1.9 * 0.35], rel=1e-12)
    # at the share x of the flow: 999.1 x 9.80665 x 2e-4 x 1.9 x (1 - x) W of 12 V x (0.5 + 0.4 x) A; best where
    # 0.5 - x - 0.4 x² = 0, x = 0.42705: 3.7232 x 0.24468 W of 12 V x 0.67082 A, 11.317 %
    assert pump.best_efficiency == pytest.approx(0.11317, abs=1e-5)
    assert not [note for note in pump.notes if note.severity == "warning"]


@pytest.mark.parametrize("box", [(2.1, 12.3, 1.1), (0.31, 4.7, 0.19), (5.3, 41.0, 4.7)])
@pytest.mark.parametrize("motor", MOTORS.values(), ids=MOTORS)
def test_box_label_comes_back_at_rated_voltage(box: tuple[float, float, float], motor: MotorLabel) -> None:
    head, flow, current = box[0], box[1] * LITRE_PER_MINUTE, box[2]
    motor = motor if (motor.no_load_current or 0) < current and (motor.winding_resistance or 0) * current < 9 else MOTOR
    pump = pump_from_label("box", motor, head, flow, current, WATER)
    shut_off, full = speed_on_battery(pump, 0.0, 12.0), speed_on_battery(pump, flow, 12.0)
    assert float(pump_head(pump, 0.0, shut_off)) == pytest.approx(head, rel=1e-9)
    assert full == pytest.approx(1.0, rel=1e-9)
    assert float(pump_head(pump, flow, full)) == pytest.approx(0.0, abs=1e-9 * head)
    drawn = motor_current(pump.motor.no_load_current, full, float(pump_load_current(pump, flow, full)))
    assert drawn == pytest.approx(current, rel=1e-9)
    # between them a parabola in the flow at one speed, and a straight load line from 60 %
    half = float(pump_head(pump, 0.5 * flow, 1.0)) / float(pump_head(pump, 0.0, 1.0))
    assert half == pytest.approx(0.75, rel=1e-9)
    load = pump_load_current(pump, np.array([0.0, 0.25, 1.0]) * flow, 1.0)
    assert load / load[-1] == pytest.approx([0.6, 0.7, 1.0], rel=1e-9)
    assert [note.code for note in pump.notes if note.code == "box_label_curve"] == ["box_label_curve"]


def test_points_and_box_of_the_same_pump_agree() -> None:
    """A pump whose points lie on the box's own assumptions gives the same curves."""
    box = pump_from_label("box", MOTOR, 2.1, 2e-4, 1.1, WATER)
    flow = np.linspace(0, 2e-4, 9)
    speed = np.array([speed_on_battery(box, q, 12.0) for q in flow])
    current = motor_current(box.motor.no_load_current, speed, pump_load_current(box, flow, speed))
    points = build(flow, pump_head(box, flow, speed), current)
    some = np.linspace(0, 2e-4, 41)
    assert pump_head(points, some, 1.0) == pytest.approx(pump_head(box, some, 1.0), abs=2e-3)
    assert pump_load_current(points, some, 1.0) == pytest.approx(pump_load_current(box, some, 1.0), rel=2e-3)


def test_curve_is_carried_to_shut_off_as_a_parabola() -> None:
    """Points on h = 2.3 - 9e7 q² (no winding, so already at one speed): the parabola is found again."""
    flow = np.array([0.7e-4, 1.1e-4, 1.5e-4])
    pump = build(flow, 2.3 - 9e7 * flow**2, [0.6, 0.7, 0.8], replace(MOTOR, winding_resistance=0.0, no_load_current=0.1))
    assert pump.flow[0] == 0
    assert pump.shut_off_head == pytest.approx(2.3, rel=1e-12)
    # load falls on its line: 0.5 - (0.7 - 0.6)/0.4e-4 x 0.7e-4 = 0.325 A
    assert pump.load_current[0] == pytest.approx(0.325, rel=1e-12)


def test_curve_is_carried_to_no_head_in_a_straight_line() -> None:
    """From 1.0 m at 1.1e-4 and 0.6 m at 1.5e-4 m3/s the line reaches zero at 2.1e-4, its load 0.8 + 0.6/0.4 x 0.1 A."""
    pump = build(
        [0, 1.1e-4, 1.5e-4], [1.7, 1.0, 0.6], [0.6, 0.8, 0.9], replace(MOTOR, winding_resistance=0.0, no_load_current=0.1)
    )
    assert pump.largest_flow == pytest.approx(2.1e-4, rel=1e-12)
    assert pump.head[-1] == 0
    assert pump.load_current[-1] == pytest.approx(0.95, rel=1e-12)
    note = next(note for note in pump.notes if note.code == "run_out_continued")
    assert (note.severity, note.pointer) == ("info", "#/pumps/4/points")
    assert note.detail == "Pump trial has no point at zero head; beyond its last point the curve is continued in a straight line."


def test_load_carried_on_never_vanishes() -> None:
    """A load that falls steeply toward an end is held at a fifth of the last point's."""
    motor = replace(MOTOR, winding_resistance=0.0, no_load_current=0.05)
    falling = build([0, 1e-5, 2e-5], [1.7, 1.5, 1.2], [0.9, 0.6, 0.1], motor)
    assert falling.load_current[-1] == pytest.approx(0.2 * 0.05, rel=1e-12)
    rising = build([1e-5, 1.2e-5, 2e-5], [1.7, 1.5, 0.0], [0.1, 0.3, 0.5], motor)
    assert rising.load_current[0] == pytest.approx(0.2 * 0.05, rel=1e-12)


def test_shut_off_continued_is_told() -> None:
    pump = build(FLOW[1:], HEAD[1:], CURRENT[1:])
    note = next(note for note in pump.notes if note.code == "shut_off_continued")
    assert (note.severity, note.pointer) == ("info", "#/pumps/4/points/0")
    assert note.detail == (
        "Pump trial has no point at zero flow; its shut-off head is continued as a parabola from the first two points."
    )


@pytest.mark.parametrize("last", [1e-17, 1e-9, 1e-6])
def test_a_head_of_almost_nothing_ends_the_curve(last: float) -> None:
    pump = build(head=[*HEAD[:-1], last])
    assert pump.head[-1] == 0
    assert pump.largest_flow == pytest.approx(FLOW[-1], rel=1e-12)


def refusal(*arguments, **named) -> tuple:
    with pytest.raises(InputError) as caught:
        build(*arguments, **named)
    assert len(caught.value.problems) == 1
    problem = caught.value.problems[0]
    return problem.pointer, problem.code, problem.detail, problem.minimum, problem.maximum


def test_one_point_is_refused() -> None:
    assert refusal([1e-4], [1.0], [0.7]) == (
        "#/pumps/4/points",
        "too_few_points",
        "a pump curve needs at least 2 points and 1 is given; add one, or give the box label instead",
        2,
        None,
    )


@pytest.mark.parametrize("second", [3.1, 2.9])
def test_flow_that_does_not_rise_is_refused(second: float) -> None:
    flow = FLOW.copy()
    flow[2] = second * LITRE_PER_MINUTE
    assert refusal(flow) == (
        "#/pumps/4/points/2/flow_l_per_min",
        "flow_not_rising",
        f"point 3 of the pump curve has {second} L/min after 3.1 L/min; "
        "the flow must rise from point to point; sort the points and remove doubles",
        None,
        None,
    )


@pytest.mark.parametrize("third", [2.45, 9.3])
def test_head_that_rises_is_refused(third: float) -> None:
    """More than a twentieth of the highest head above the lowest before it: 0.05 x 2.63 m above 2.31 m."""
    head = HEAD.copy()
    head[2] = third
    assert refusal(head=head)[:2] == ("#/pumps/4/points/2/head_m", "curve_rises")


def test_two_points_without_head_are_refused() -> None:
    assert refusal(head=[*HEAD[:-2], 0.0, 0.0])[:2] == ("#/pumps/4/points/4/head_m", "curve_rises")


def test_current_that_falls_below_no_load_is_refused() -> None:
    pointer, code, detail, _, most = refusal(current=[0.63, 0.5, 0.3, 0.2, 0.1], motor=replace(MOTOR, no_load_current=0.11))
    assert (pointer, code, most) == ("#/pumps/4/no_load_current_a", "no_load_too_high", 0.1)
    assert detail.startswith("a pump current of 0.1 A is not above the no-load current of 0.11 A;")


def test_winding_too_large_is_refused() -> None:
    pointer, code, *_ = refusal(motor=replace(MOTOR, winding_resistance=11.0))
    assert (pointer, code) == ("#/pumps/4/winding_resistance_ohm", "winding_too_large")


UNFOLDED = (
    "the points of pump trial no longer form one falling curve once they are brought to one speed; the winding resistance of "
    "4 ohm is too large for these currents; check it and the currents"
)


def test_head_that_rises_once_at_one_speed_is_refused() -> None:
    """Speeds (12 - 4 I)/E fall to a quarter: the last head of 1.5 m, times sixteen, would stand above the first."""
    motor = replace(MOTOR, winding_resistance=4.0)
    assert refusal([0, 1e-4], [1.9, 1.5], [0.6, 2.39], motor) == ("#/pumps/4/points", "curve_rises", UNFOLDED, None, None)


def test_flow_that_turns_back_once_at_one_speed_is_refused() -> None:
    """Current that falls with the flow: the second point turns three times as fast, so its flow counts for less."""
    motor = replace(MOTOR, winding_resistance=4.0, no_load_current=0.01)
    assert refusal([1e-4, 1.1e-4], [1.9, 1.5], [2.3, 0.4], motor) == ("#/pumps/4/points", "curve_rises", UNFOLDED, None, None)


@pytest.mark.parametrize("times", [6.0, 60.0])
def test_perpetual_motion_is_refused(times: float) -> None:
    pointer, code, detail, _, most = refusal(flow=times * FLOW)
    assert (pointer, code, most) == ("#/pumps/4/points", "too_efficient", BEST_EFFICIENCY_LIMIT)
    assert detail.endswith(
        "% of its electricity into lifted water; small pumps reach 5 to 35 % and 60 % is the limit here; "
        "check flow (litres per minute?), head and current"
    )


def test_perpetual_motion_between_two_points_is_refused() -> None:
    """Neither end lifts water and moves it; half way 5e-4 m3/s against 1.5 m are 7.35 W of 12 V x 0.8 A: 77 %."""
    pointer, code, detail, *_ = refusal([0, 1e-3], [3.0, 0.0], [0.8, 0.8], replace(MOTOR, winding_resistance=0.0))
    assert (pointer, code) == ("#/pumps/4/points", "too_efficient")
    assert detail.startswith("the pump would turn 77 % of its electricity into lifted water;")


def test_perpetual_motion_on_a_box_is_refused() -> None:
    with pytest.raises(InputError) as caught:
        pump_from_label("box", MOTOR, 3.0, 600 * LITRE_PER_MINUTE, 1.1, WATER, "#/pumps/2")
    problem = caught.value.problems[0]
    assert (problem.pointer, problem.code) == ("#/pumps/2/max_flow_l_per_min", "too_efficient")


def test_water_that_takes_more_than_the_shaft_has_is_refused() -> None:
    """12 V, 0.9 A through 8 ohm leaves 4.8 V on the back-EMF and, less 0.09 A, 3.888 W on the shaft; 2e-4 m3/s against
    2.5 m take 4.900 W, 1.260 times as much, though only 45 % of the electricity."""
    flow, head, current = [0, 2e-4, 3e-4], [3.6, 2.5, 0.5], [0.9, 0.9, 0.9]
    pointer, code, detail, *_ = refusal(flow, head, current, replace(MOTOR, winding_resistance=8.0))
    assert (pointer, code) == ("#/pumps/4/winding_resistance_ohm", "shaft_too_weak")
    ratio = float(detail.split()[7])
    assert 1.26 <= ratio < 1.3
    assert detail == (
        f"the water of pump trial would take {ratio} times the power that its motor's shaft gives; a winding of 8 ohm or a "
        "no-load current of 0.09 A is too large; measure both again"
    )
    assert build(flow, head, current).best_efficiency == pytest.approx(0.454, abs=0.01)


def test_poor_pump_is_warned_of() -> None:
    """Litres an hour typed as litres a minute of another pump: a sixtieth of the flow."""
    pump = build(flow=FLOW / 60)
    assert pump.best_efficiency < POOREST_EFFICIENCY
    note = next(note for note in pump.notes if note.severity == "warning")
    assert (note.code, note.pointer) == ("poor_efficiency", "#/pumps/4/points")
    assert note.detail == (
        f"Pump trial turns at best {100 * pump.best_efficiency:.2g} % of its electricity into lifted water, less than 1 %; "
        "check that flow is in litres per minute, head in metres and current in amperes."
    )


def test_curve_carried_on_beyond_reason_is_warned_of() -> None:
    """Two points near shut-off: the line through them ends at thirty times the last flow, 13 m³/h from some 10 W."""
    pump = build([0, 1.2e-4], [3.0, 2.9], [0.7, 0.72], replace(MOTOR, winding_resistance=0.0))
    note = next(note for note in pump.notes if note.severity == "warning")
    assert (note.code, note.pointer) == ("run_out_too_good", "#/pumps/4/points")
    assert note.detail == (
        "Beyond its last point the curve of pump trial, continued in a straight line, would lift more water than its "
        "electricity allows; flows beyond that point are too high; add points."
    )


def test_best_efficiency_is_that_of_the_best_point_or_better() -> None:
    pump = build()
    at_points = WATER * 9.80665 * FLOW * HEAD / (12.0 * CURRENT)
    assert at_points.max() <= pump.best_efficiency < 1.03 * at_points.max()


@pytest.mark.parametrize("measured", [0.0273, 0.1221, 0.1844, 0.1534])
def test_a_measured_small_pump_lies_inside_the_limits(measured: float) -> None:
    """Overall efficiency of a small submersible pump at four heads (Ardiansyah, Luthfi & Hudaya, ICIRD 2019)."""
    assert POOREST_EFFICIENCY < measured < BEST_EFFICIENCY_LIMIT


def test_curves_never_overshoot_their_points() -> None:
    """A curve with a knee, where a plain cubic would swing above the points."""
    flow, head = np.array([0, 1, 2, 3, 4.0]) * 3e-5, np.array([2.0, 1.99, 1.98, 0.4, 0.0])
    pump = build(flow, head, [0.5, 0.51, 0.52, 0.9, 0.91], replace(MOTOR, winding_resistance=0.0))
    fine = np.linspace(0, pump.largest_flow, 999)
    assert np.all(np.diff(pump.head_curve(fine)) <= 0)
    assert np.all(np.diff(pump.load_curve(fine)) >= 0)


def test_rated_speed_is_one_at_the_last_point() -> None:
    pump = build()
    assert float(rated_speed(MOTOR, pump.motor, pump.load_current[-1])) == pytest.approx(1.0, rel=1e-12)
