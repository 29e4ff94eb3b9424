"""The matching factor: a share, equal to a hand integration over the slow direct solve."""

import numpy as np
import pytest

from sizing.electric.panel import current_at_voltage
from sizing.electric.single_diode import at_conditions
from sizing.operation.direct_solve import solve_directly
from sizing.operation.matching import matching_factor, motor_energy, panel_energy
from sizing.operation.operating_point import State, operate, solve_grid
from tests.fountains import FOUNTAINS, Fountain, controlled

SUNS = np.array([0.0, 61.0, 137.0, 240.0, 333.0, 471.0, 587.0, 713.0, 846.0, 991.0])
WARMTH = np.array([11.0, 7.3, 13.0, 19.1, 23.0, 29.7, 35.0, 41.3, 47.0, 53.9])
STEP = 0.25


@pytest.mark.some(3)
@pytest.mark.parametrize("name", FOUNTAINS)
@pytest.mark.parametrize("behind", [False, True])
def test_it_is_the_sum_over_the_direct_solve(name: str, behind: bool) -> None:
    fountain: Fountain = controlled(FOUNTAINS[name]) if behind else FOUNTAINS[name]
    parts = (fountain.supply, fountain.pump, fountain.waterway)
    taken = most = 0.0
    for sun, warm in zip(SUNS, WARMTH, strict=True):
        point = solve_directly(*parts, float(sun), float(warm))
        if point.state[0] >= State.CANNOT_LIFT:
            taken += float(point.voltage[0] * point.current[0]) * STEP / 1000
        if sun > 0:  # the top of the power curve by trying ten thousand voltages
            volts = np.linspace(0, 60, 10_001)
            current = current_at_voltage(at_conditions(fountain.supply.panel, float(sun), float(warm)), volts)
            most += float(np.max(volts * current)) * STEP / 1000
    energy = panel_energy(fountain.supply.panel, SUNS, WARMTH, STEP)
    assert energy == pytest.approx(most, rel=1e-4)
    found = float(matching_factor(motor_energy(operate(solve_grid(*parts), SUNS, WARMTH), STEP), energy))
    assert found == pytest.approx(taken / most, rel=3e-3)
    assert 0 < found < 1


def test_a_motor_that_stands_takes_nothing() -> None:
    fountain = FOUNTAINS["spillway"]
    operation = operate(
        solve_grid(fountain.supply, fountain.pump, fountain.waterway), np.array([0.0, 11.0]), np.array([5.0, 7.0])
    )
    assert motor_energy(operation, STEP) == 0.0
    assert panel_energy(fountain.supply.panel, np.zeros(3), np.full(3, 7.3), STEP) == 0.0
