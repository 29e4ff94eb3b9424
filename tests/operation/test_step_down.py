"""A controller that only lowers the voltage. Limits and balances were written down before the code:

- a panel of many volts: it is the step-up-and-down controller (it never has to raise anything);
- a panel of few volts without loss: it is the cable alone, as nothing but the panel's own voltage is there;
- it never does more than one that raises the voltage too, and without loss never less than the cable alone;
- the volts that go out never exceed the panel's, and power out over power in is the efficiency.

Between the limits the slow judge, nested bracketed searches on the equations themselves, must agree with the grid.
"""

from dataclasses import replace

import numpy as np
import pytest

from sizing.electric.panel import current_at_voltage, fit_label, maximum_power, open_circuit_voltage
from sizing.electric.single_diode import at_conditions
from sizing.operation.direct_solve import solve_directly
from sizing.operation.operating_point import OperatingPoints, Supply, operate, solve_grid
from tests.fountains import FOUNTAINS, Fountain, controlled

SUN, CELL = (values.ravel() for values in np.meshgrid(np.linspace(15.0, 1250.0, 60), [-12.0, 18.0, 47.0, 69.0]))
CLOSE = 1e-3
"""[1] Of flow, what interpolation may cost at the kink where the controller begins to pass the voltage through."""
POOR = {name: 1.1 * fountain.pump.rated_voltage for name, fountain in FOUNTAINS.items()}
"""[V] Open-circuit volts of a panel that is too low for the pump."""


def with_panel(fountain: Fountain, volts: float, amperes: float = 3.0) -> Fountain:
    """The fountain with a panel of so many volts without load."""
    panel = fit_label(0.81 * volts, amperes, volts, 1.07 * amperes, 0.0005, -0.0033)
    return replace(fountain, supply=replace(fountain.supply, panel=panel))


def run(fountain: Fountain, efficiency: float | None, steps_up: bool = False) -> OperatingPoints:
    supply = Supply(fountain.supply.panel, fountain.supply.cable_resistance, efficiency, steps_up)
    return operate(solve_grid(supply, fountain.pump, fountain.waterway), SUN, CELL)


every_fountain = pytest.mark.parametrize("name", FOUNTAINS)


@every_fountain
def test_with_volts_to_spare_it_is_any_controller(name: str) -> None:
    fountain = with_panel(FOUNTAINS[name], 4 * FOUNTAINS[name].pump.rated_voltage)
    down, both = run(fountain, 0.91), run(fountain, 0.91, steps_up=True)
    for field in ("state", "voltage", "flow", "jet"):
        assert np.array_equal(getattr(down, field), getattr(both, field))
    assert down.flow.max() > 0


@every_fountain
def test_without_loss_and_with_too_few_volts_it_is_the_cable_alone(name: str) -> None:
    """Every moment at which the pump wants more than the panel's maximum-power voltage; the panel has amperes to spare."""
    fountain = with_panel(FOUNTAINS[name], 0.8 * FOUNTAINS[name].pump.rated_voltage, 12.0)
    down, alone = run(fountain, 1.0), run(fountain, None)
    best = np.asarray(maximum_power(at_conditions(fountain.supply.panel, SUN, CELL))[1])
    wants = (alone.speed > 0) & (alone.voltage + alone.current * fountain.supply.cable_resistance > 1.01 * best)
    assert np.count_nonzero(wants) > 20
    assert down.voltage[wants] == pytest.approx(alone.voltage[wants], rel=CLOSE)


@every_fountain
def test_it_lies_between_the_cable_alone_and_one_that_raises_too(name: str) -> None:
    fountain = with_panel(FOUNTAINS[name], POOR[name])
    down, both, alone = run(fountain, 1.0), run(fountain, 1.0, steps_up=True), run(fountain, None)
    most = float(both.flow.max())
    held = alone.voltage > fountain.pump.rated_voltage  # above it any controller holds the pump back
    assert np.all(down.flow <= both.flow + CLOSE * most)
    assert np.all(down.flow[~held] >= alone.flow[~held] - CLOSE * most)
    assert 0 < down.flow.sum() < 0.999 * both.flow.sum()


@every_fountain
def test_volts_out_never_exceed_the_panels_and_the_power_balances(name: str) -> None:
    fountain, efficiency = with_panel(FOUNTAINS[name], POOR[name]), 0.88
    found = run(fountain, efficiency)
    sun = at_conditions(fountain.supply.panel, SUN, CELL)
    turns = found.speed > 0
    terminal = found.voltage + found.current * fountain.supply.cable_resistance
    assert np.all(terminal[turns] <= np.asarray(open_circuit_voltage(sun))[turns])
    most, best, _ = (np.asarray(values) for values in maximum_power(sun))
    through = turns & (terminal > best * (1 + CLOSE)) & (found.voltage < fountain.pump.rated_voltage * (1 - CLOSE))
    assert np.any(through)
    taken = np.asarray(terminal * current_at_voltage(sun, terminal))[through]
    assert (terminal * found.current)[through] == pytest.approx(efficiency * taken, rel=5e-3)
    assert np.all((terminal * found.current)[turns] <= efficiency * most[turns] * (1 + CLOSE))


@every_fountain
@pytest.mark.parametrize("volts", [1.0, 1.3, 1.7])
def test_the_slow_judge_agrees(name: str, volts: float) -> None:
    fountain = with_panel(FOUNTAINS[name], volts * FOUNTAINS[name].pump.rated_voltage)
    supply = replace(controlled(fountain).supply, steps_up=False)
    quick = operate(solve_grid(supply, fountain.pump, fountain.waterway), SUN[::6], CELL[::6])
    slow = [
        solve_directly(supply, fountain.pump, fountain.waterway, float(sun), float(cell))
        for sun, cell in zip(SUN[::6], CELL[::6], strict=True)
    ]
    flow = np.array([one.flow[0] for one in slow])
    assert [int(one.state[0]) for one in slow] == quick.state.tolist()
    assert quick.flow == pytest.approx(flow, abs=CLOSE * max(float(flow.max()), 1e-9))
    assert quick.flow.sum() == pytest.approx(flow.sum(), rel=CLOSE)


def test_a_motor_that_wants_more_volts_than_the_panel_has_never_starts() -> None:
    """Standing still it wants 8 A through 2 ohm, 16 V: a panel of 9 V without load gives that to no step-down controller."""
    fountain = with_panel(FOUNTAINS["jet"], 9.0, 20.0)
    stuck = replace(fountain.pump.motor, winding_resistance=2.0, starting_current=8.0)
    fountain = replace(fountain, pump=replace(fountain.pump, motor=stuck))
    assert run(fountain, 1.0).flow.max() == 0
    assert run(fountain, 1.0, steps_up=True).flow.max() > 0
