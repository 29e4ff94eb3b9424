"""How hard a year is on a pump: counted by hand on a few moments, and against a battery's rule for the watts.

Limits written down first: an unknown highest voltage counts as the rated one; a higher known one never leaves more hours
above it; a controller, which holds the rated voltage, leaves none; water with and without add up to the year's.
"""

from dataclasses import replace

import numpy as np
import pytest

from sizing.operation.operating_point import OperatingPoints, State, operate, solve_grid
from sizing.operation.strain import above_allowed, flow_borne, strain_of
from tests.fountains import FOUNTAINS, controlled, without_cable

SUN, CELL = np.linspace(0.0, 1150.0, 300), np.full(300, 30.0)
JET = FOUNTAINS["jet"]


def five_moments() -> OperatingPoints:
    """Night; 11 V; 13 V; 13 V without lifting; 26 V."""
    state = np.array([State.NIGHT, State.PLAYS, State.PLAYS, State.CANNOT_LIFT, State.PLAYS], dtype=np.int8)
    volts = np.array([0.0, 11.0, 13.0, 13.0, 26.0])
    flow = np.array([0.0, 1e-4, 2e-4, 0.0, 4e-4])
    zero = np.zeros(5)
    return OperatingPoints(state, volts, np.array([0.0, 0.5, 0.5, 0.5, 1.0]), zero, flow, zero, zero)


@pytest.mark.parametrize(
    ("highest", "hours", "play", "litres"),
    [(None, 0.75, 0.5, 0.25 * 3600 * 0.6), (24.0, 0.25, 0.25, 0.25 * 3600 * 0.4), (30.0, 0, 0, 0)],
)
def test_counted_by_hand(highest: float | None, hours: float, play: float, litres: float) -> None:
    """Steps of a quarter of an hour; the pump is rated for 12 V and, by its points, 12 V × 0.63 A = 7.56 W."""
    pump = replace(JET.pump, highest_voltage=highest)
    found = strain_of(pump, five_moments(), 0.25)
    assert (found.known, found.allowed) == (highest is not None, highest or 12.0)
    assert found.rated_power == pytest.approx(7.56)
    assert (found.most_voltage, found.most_power) == (26.0, 26.0)
    assert (found.above_rated_voltage, found.above_rated_power) == (0.75, 0.25)
    assert (found.above_allowed, found.play_above) == (hours, play)
    assert 1000 * found.water_above == pytest.approx(litres)
    assert found.doubtful == (highest is None)


@pytest.mark.parametrize("name", FOUNTAINS)
def test_an_unknown_highest_voltage_is_never_better_than_a_known_one(name: str) -> None:
    fountain = FOUNTAINS[name]
    operation = operate(solve_grid(fountain.supply, fountain.pump, fountain.waterway), SUN, CELL)
    unknown = strain_of(replace(fountain.pump, highest_voltage=None), operation, 1.0)
    assert unknown.above_allowed == unknown.above_rated_voltage > 0
    last = unknown.above_allowed
    for volts in fountain.pump.rated_voltage * np.array([1.0, 1.1, 1.4, 3.0]):
        known = strain_of(replace(fountain.pump, highest_voltage=float(volts)), operation, 1.0)
        assert known.above_allowed <= last
        last = known.above_allowed
    assert last == 0


@pytest.mark.parametrize("name", FOUNTAINS)
def test_behind_a_controller_nothing_is_in_doubt(name: str) -> None:
    fountain = controlled(FOUNTAINS[name])
    pump = replace(fountain.pump, highest_voltage=None)
    operation = operate(solve_grid(fountain.supply, pump, fountain.waterway), SUN, CELL)
    found = strain_of(pump, operation, 1.0)
    assert (found.above_allowed, found.doubtful) == (0, False)
    assert found.most_voltage == pytest.approx(pump.rated_voltage, rel=1e-6)


def test_water_with_and_without_add_up() -> None:
    fountain = without_cable(JET)
    pump = replace(fountain.pump, highest_voltage=None)
    operation = operate(solve_grid(fountain.supply, pump, fountain.waterway), SUN, CELL)
    found, left = strain_of(pump, operation, 1.0), flow_borne(pump, operation)
    assert found.water_above + 3600 * left.sum() == pytest.approx(3600 * operation.flow.sum())
    assert np.all(left[above_allowed(pump, operation)] == 0)
    assert np.all(operation.voltage[left > 0] <= pump.rated_voltage * (1 + 1e-9))


def test_on_a_battery_of_the_rated_voltage_no_point_is_above_the_rated_watts() -> None:
    """Any label: at rated voltage no published point draws more than the pump is counted as rated for."""
    for fountain in FOUNTAINS.values():
        motor = fountain.pump.motor
        assert fountain.pump.rated_power >= fountain.pump.rated_voltage * motor.rated_current * (1 - 1e-12)
