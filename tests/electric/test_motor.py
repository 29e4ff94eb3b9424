"""The motor: its two equations, their limits, and every sentence about a label that cannot be."""

import numpy as np
import pytest

from sizing.electric.motor import MotorLabel, check_currents, motor_current, motor_model, motor_voltage, speed_at_voltage
from sizing.foundation.errors import InputError

CURRENT = np.array([0.61, 0.87, 1.13])


def test_standing_motor_is_a_resistor() -> None:
    assert motor_current(0.17, 0.0, 1.3) == 0.17
    # 0 x 9.7 V + 0.17 A x 1.9 ohm = 0.323 V
    assert motor_voltage(0.0, 9.7, 0.17, 1.9) == pytest.approx(0.323, rel=1e-12)


def test_load_current_grows_with_the_square_of_speed() -> None:
    twice, once = motor_current(0.17, 1.46, 1.3), motor_current(0.17, 0.73, 1.3)
    assert twice - 0.17 == pytest.approx(4 * (once - 0.17), rel=1e-12)


def test_volts_lost_in_a_cable_cost_speed_and_shut_off_head() -> None:
    """3 % of the volts lost, no winding: speed falls 3 %, shut-off head by 1 - 0.97 x 0.97 = 5.91 %."""
    slower, full = speed_at_voltage(0.97 * 12.0, 12.0, 0.0, 0.2, 1.1), speed_at_voltage(12.0, 12.0, 0.0, 0.2, 1.1)
    assert slower / full == pytest.approx(0.97, rel=1e-12)
    assert (slower / full) ** 2 == pytest.approx(1 - 0.0591, abs=1e-12)


@pytest.mark.parametrize("resistance", [0.0, 1e-9, 0.31, 3.7])
@pytest.mark.parametrize("load", [0.0, 0.013, 1.9])
@pytest.mark.parametrize("voltage", [1.7, 12.0, 37.1])
def test_speed_on_a_battery_puts_back_its_voltage(resistance: float, load: float, voltage: float) -> None:
    speed = speed_at_voltage(voltage, 10.3, resistance, 0.11, load)
    assert motor_voltage(speed, 10.3, motor_current(0.11, speed, load), resistance) == pytest.approx(voltage, rel=1e-12)


def test_scalar_equals_array_element_by_element() -> None:
    voltage, load = np.array([3.1, 7.9, 14.3]), np.array([0.2, 0.9, 1.7])
    together = speed_at_voltage(voltage, 10.3, 1.7, 0.11, load)
    alone = [speed_at_voltage(v, 10.3, 1.7, 0.11, j) for v, j in zip(voltage, load, strict=True)]
    assert together.tolist() == alone


def test_silent_label_is_completed_and_told() -> None:
    model, notes = motor_model(MotorLabel(12.0, 6.0), CURRENT, "#/pumps/3")
    # 15 % of 12 V over 1.13 A; 10 % of 1.13 A; 85 % of 12 V
    assert model.winding_resistance == pytest.approx(1.8 / 1.13, rel=1e-12)
    assert model.no_load_current == model.starting_current == pytest.approx(0.113, rel=1e-12)
    assert model.back_emf == pytest.approx(10.2, rel=1e-12)
    assert model.rated_current == 1.13
    assert [(note.code, note.severity, note.pointer) for note in notes] == [
        ("winding_assumed", "info", "#/pumps/3/winding_resistance_ohm"),
        ("no_load_assumed", "info", "#/pumps/3/no_load_current_a"),
        ("starting_assumed", "info", "#/pumps/3/starting_current_a"),
    ]
    assert notes[0].detail == (
        "Winding resistance assumed to be 1.59 ohm (15 % of rated voltage at rated current); measure it to know."
    )
    assert notes[1].detail == "No-load current assumed to be 0.113 A (10 % of rated current); measure it to know."
    assert notes[2].detail == (
        "Starting current assumed equal to the no-load current, 0.113 A; an old or gritty pump needs more."
    )


def test_full_label_is_taken_as_it_is() -> None:
    model, notes = motor_model(MotorLabel(12.0, 6.0, 24.0, 1.3, 0.19, 0.47), CURRENT)
    assert (model.winding_resistance, model.no_load_current, model.starting_current) == (1.3, 0.19, 0.47)
    # 12 V - 1.13 A x 1.3 ohm = 10.531 V
    assert model.back_emf == pytest.approx(10.531, rel=1e-12)
    assert notes == ()


def test_a_motor_never_starts_on_less_than_its_no_load_current() -> None:
    model, notes = motor_model(MotorLabel(12.0, 6.0, None, 1.3, 0.19, 0.07), CURRENT)
    assert model.starting_current == 0.19
    assert [(note.code, note.severity) for note in notes] == [("starting_raised", "info")]
    assert notes[0].detail == (
        "Starting current is 0.07 A and the motor needs 0.19 A to turn without water; the larger is taken; check both."
    )


def test_current_below_no_load_is_refused() -> None:
    with pytest.raises(InputError) as caught:
        motor_model(MotorLabel(12.0, 6.0, None, None, 0.61), CURRENT, "#/pumps/2")
    problem = caught.value.problems[0]
    assert (problem.pointer, problem.code, problem.maximum) == ("#/pumps/2/no_load_current_a", "no_load_too_high", 0.61)
    assert problem.detail == (
        "a pump current of 0.61 A is not above the no-load current of 0.61 A; "
        "the motor needs more with water than without; check both"
    )


def test_winding_that_takes_most_of_the_voltage_is_refused() -> None:
    """80 % of 12 V at 1.13 A is 9.6/1.13 = 8.496 ohm."""
    limit = 9.6 / 1.13
    with pytest.raises(InputError) as caught:
        motor_model(MotorLabel(12.0, 6.0, None, 1.0001 * limit), CURRENT, "#/pumps/1")
    problem = caught.value.problems[0]
    assert (problem.pointer, problem.code) == ("#/pumps/1/winding_resistance_ohm", "winding_too_large")
    assert (problem.minimum, problem.maximum) == (0, pytest.approx(limit, rel=1e-12))
    assert problem.detail == (
        "a winding of 8.496 ohm takes 9.6 V at 1.13 A, more than 80 % of the rated 12 V; "
        "measure it again with the meter's leads subtracted"
    )
    motor_model(MotorLabel(12.0, 6.0, None, 0.9999 * limit), CURRENT)


def test_the_largest_current_judges_the_winding_wherever_it_stands() -> None:
    with pytest.raises(InputError, match=r"takes 9\.61 V at 3\.1 A"):
        check_currents(12.0, np.array([3.1, 0.9]), 3.1, 0.05, "#/pumps/0")
