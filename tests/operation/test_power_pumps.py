"""Pumps known by their power, and pumps that hold their speed: grid, direct solve and an outside solve agree; energy balances."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq, minimize_scalar

from sizing.electric.motor import MotorLabel
from sizing.electric.panel import current_at_voltage, fit_label, open_circuit_voltage
from sizing.electric.single_diode import at_conditions
from sizing.hydraulic.outlet import Nozzle, Spillway
from sizing.hydraulic.pipes import Pipe
from sizing.hydraulic.power_points import PowerPoints, pump_from_power_points
from sizing.hydraulic.pump import Pump, hydraulic_power
from sizing.hydraulic.pump_curve import held_at_one_speed, pump_from_points
from sizing.operation.direct_solve import solve_directly
from sizing.operation.load_line import PipeSystem, system_head
from sizing.operation.operating_point import State, Supply, flow_alone, operate, solve_grid
from tests.fountains import LITRE_PER_MINUTE, WATER, Fountain

PANEL = fit_label(18.0, 2.8, 22.0, 3.0, 0.0005, -0.0033)
JET = PipeSystem(Pipe(1.7, 0.0151, 1.5e-6, 2.1, 1.14e-6), Nozzle(0.0061, 1, 0.4, 0.94, 0.96))
SLOPE, PER_HEAD = 0.42, 4.1
"""[L/min/W, W/m] Of a pump whose flow is SLOPE (P - PER_HEAD H) at every head, so that its table is exact between heads."""


def straight(tracks: bool = True, heads=(0.3, 1.0, 2.0, 3.0), largest: float = 40.0) -> Pump:
    """That pump; its volts, where they stand, are 3 V and 0.4 V for each watt."""
    rows = [(h, p, SLOPE * (p - PER_HEAD * h)) for h in heads for p in (PER_HEAD * h, 20.0, largest)]
    head, power, flow = np.array(rows).T
    volts = None if tracks else 3.0 + 0.4 * power
    points = PowerPoints(head, power, np.maximum(flow, 0) * LITRE_PER_MINUTE, volts)
    return pump_from_power_points("straight", MotorLabel(12.0, 0.0), tracks, points, WATER)


def held() -> Pump:
    """Electronics that hold the speed: the points are those of that speed."""
    points = np.array([(0, 2.5, 0.8), (4, 2.2, 1.1), (8, 1.5, 1.4), (12, 0, 1.6)]).T
    label = held_at_one_speed(MotorLabel(12.0, 9.0))
    return replace(
        pump_from_points("held", label, points[0] * LITRE_PER_MINUTE, points[1], points[2], WATER), drive="holds_speed"
    )


SUPPLIES = {"no cable": Supply(PANEL, 0.0), "cable": Supply(PANEL, 0.35), "controller": Supply(PANEL, 0.35, 0.9)}
PUMPS = {"tracks": straight(), "volts": straight(tracks=False), "held": held()}
CASES = {f"{pump}, {supply}": Fountain(SUPPLIES[supply], PUMPS[pump], JET) for pump in PUMPS for supply in SUPPLIES}
SPILL = {name: replace(each, waterway=PipeSystem(JET.pipe, Spillway(0.2, 0.6))) for name, each in CASES.items()}
every_case = pytest.mark.parametrize("fountain", [*CASES.values(), *SPILL.values()], ids=[*CASES, *(f"{n}, lip" for n in SPILL)])


def direct(fountain: Fountain, sun: float, cell: float):
    return solve_directly(fountain.supply, fountain.pump, fountain.waterway, sun, cell)


@pytest.mark.some(5)
@every_case
def test_grid_and_direct_solve_agree(fountain: Fountain) -> None:
    """Flow within 0.5 % of the largest, volts within 2 % (they turn like a root where the pump takes no more), the same state
    but within 1 % of the sun of a change."""
    random = np.random.default_rng(11)
    sun, cell = random.uniform(15.0, 1250.0, 40), random.uniform(-15.0, 70.0, 40)
    solved = solve_grid(fountain.supply, fountain.pump, fountain.waterway)
    ours = operate(solved, sun, cell)
    assert flow_alone(solved, sun, cell) == pytest.approx(ours.flow, rel=1e-12, abs=1e-15)
    largest, alike = float(solved.line.flow.max()), 0
    for i in range(40):
        theirs = direct(fountain, sun[i], cell[i])
        near = {int(direct(fountain, sun[i] * step, cell[i]).state[0]) for step in (0.99, 1.01)}
        assert int(ours.state[i]) in {int(theirs.state[0]), *near}
        if near == {int(theirs.state[0])} == {int(ours.state[i])}:
            alike += 1
            assert ours.flow[i] == pytest.approx(theirs.flow[0], abs=5e-3 * largest)
            if theirs.flow[0] > 0:
                assert ours.voltage[i] == pytest.approx(theirs.voltage[0], rel=0.02)
                assert ours.current[i] * ours.voltage[i] == pytest.approx(theirs.current[0] * theirs.voltage[0], rel=1e-2)
    assert alike > 33


def panel_power(sun: float, cell: float, resistance: float) -> float:
    """Largest power behind a cable, by a search over volts of the panel's own curve."""
    conditions = at_conditions(PANEL, sun, cell)

    def less(volts: float) -> float:
        current = float(current_at_voltage(conditions, volts))
        return -(volts - current * resistance) * current

    end = float(open_circuit_voltage(conditions))
    return -float(minimize_scalar(less, bounds=(0.5 * end, end), method="bounded", options={"xatol": 1e-9}).fun)


@pytest.mark.parametrize("sun", [110.0, 240.0, 480.0, 700.0])
def test_outside_solve_of_a_pump_that_tracks(sun: float) -> None:
    """SLOPE (P - PER_HEAD H(Q)) = Q with P from a search over the panel's volts: scipy alone, none of our tables."""
    supply = SUPPLIES["no cable"]
    power = min(panel_power(sun, 35.0, 0.0), 40.0)
    flow = brentq(lambda q: SLOPE * LITRE_PER_MINUTE * (power - PER_HEAD * float(system_head(JET, q))) - q, 0.0, 1e-3, xtol=1e-14)
    found = solve_directly(supply, PUMPS["tracks"], JET, sun, 35.0)
    assert float(found.flow[0]) == pytest.approx(flow, rel=2e-4)


@pytest.mark.parametrize("sun", [150.0, 300.0, 480.0, 900.0])
def test_outside_solve_of_a_pump_with_volts(sun: float) -> None:
    """3 V + 0.4 V/W P at the pump, P / V through a cable of 0.35 ohm on the panel's own curve: scipy alone."""
    conditions = at_conditions(PANEL, sun, 35.0)

    def spare(power: float) -> float:
        volts = 3.0 + 0.4 * power
        return float(current_at_voltage(conditions, volts + 0.35 * power / volts)) - power / volts

    power = brentq(spare, 1.0, 45.0)
    assert power < 40
    flow = brentq(lambda q: SLOPE * LITRE_PER_MINUTE * (power - PER_HEAD * float(system_head(JET, q))) - q, 0.0, 1e-3, xtol=1e-14)
    found = solve_directly(SUPPLIES["cable"], PUMPS["volts"], JET, sun, 35.0)
    assert float(found.flow[0]) == pytest.approx(flow, rel=1e-3)
    assert float(found.voltage[0]) == pytest.approx(3.0 + 0.4 * power, rel=1e-3)


@pytest.mark.parametrize("cell", [-10.0, 25.0, 60.0])
def test_a_pump_that_holds_its_speed_runs_or_does_not(cell: float) -> None:
    """Its point is where its printed curve meets pipe and nozzle; it starts where the panel has that power, and no sun adds."""
    pump = PUMPS["held"]
    flow = brentq(lambda q: float(pump.head_curve(q)) - float(system_head(JET, q)), 0.0, 2e-4)
    power = 12.0 * float(np.interp(flow / LITRE_PER_MINUTE, [0, 4, 8, 12], [0.8, 1.1, 1.4, 1.6]))
    start = brentq(lambda sun: panel_power(sun, cell, 0.0) - power, 20.0, 1200.0)
    sun = np.array([0.5, 0.98, 1.02, 1.5, 3.0]) * start
    found = operate(solve_grid(SUPPLIES["no cable"], pump, JET), sun, np.full(5, cell))
    assert found.flow == pytest.approx([0, 0, flow, flow, flow], rel=1e-6)
    assert (found.voltage * found.current)[2:] == pytest.approx(power, rel=0.02)
    assert np.all(np.diff(found.voltage[2:]) > 0)
    assert found.state.tolist()[:2] == [State.TOO_LITTLE_SUN] * 2


@every_case
def test_the_panel_gives_what_the_pump_takes(fountain: Fountain) -> None:
    """No moment takes more than the panel's maximum power, and where it plays volts and amperes lie on or below its curve."""
    for sun, cell in ((180.0, 5.0), (420.0, 40.0), (800.0, 20.0), (1100.0, 60.0)):
        found = direct(fountain, sun, cell)
        if found.flow[0] <= 0:
            continue
        supply, amperes = fountain.supply, float(found.current[0])
        at_panel = float(found.voltage[0]) + amperes * supply.cable_resistance
        most = panel_power(sun, cell, 0.0)
        assert at_panel * amperes <= most * (supply.controller_efficiency or 1.0) * (1 + 1e-6)
        if supply.controller_efficiency is None:
            given = float(current_at_voltage(at_conditions(PANEL, sun, cell), at_panel))
            assert amperes == pytest.approx(given, rel=1e-5)
        lifted = hydraulic_power(WATER, found.flow[0], found.head[0])
        assert lifted < 0.75 * found.voltage[0] * amperes


@every_case
def test_more_sun_never_gives_less_water(fountain: Fountain) -> None:
    solved = solve_grid(fountain.supply, fountain.pump, fountain.waterway)
    sun = np.linspace(1.0, 1300.0, 700)
    for cell in (-10.0, 30.0, 65.0):
        assert np.all(np.diff(operate(solved, sun, np.full(sun.shape, cell)).flow) >= -1e-12)


@pytest.mark.parametrize("pump", ["tracks", "held", "volts"])
def test_a_lift_above_the_published_heads_gets_no_water(pump: str) -> None:
    high = PipeSystem(JET.pipe, replace(JET.outlet, height=3.05))
    solved = solve_grid(SUPPLIES["no cable"], PUMPS[pump], high)
    found = operate(solved, np.linspace(1, 1300, 40), np.full(40, 30.0))
    assert not np.any(found.flow)
    assert State.CANNOT_LIFT in found.state


def test_head_is_never_above_the_highest_published() -> None:
    """Much power through a small nozzle would ask 5 m; the table ends at 1.5 m, and so does the flow."""
    pump = straight(heads=(0.5, 1.0, 1.5))
    solved = solve_grid(Supply(PANEL, 0.0), pump, JET)
    found = operate(solved, np.array([900.0]), np.array([30.0]))
    assert float(system_head(JET, found.flow[0])) == pytest.approx(1.5, rel=1e-6)


def test_volts_go_on_beyond_the_largest_power_and_the_water_does_not() -> None:
    """A large panel drives a pump with published volts above them: its flow stays, its volts are told."""
    large = Supply(fit_label(24.0, 8.0, 30.0, 8.6, 0.0005, -0.0033), 0.0)
    found = operate(solve_grid(large, PUMPS["volts"], JET), np.array([600.0, 1100.0]), np.array([30.0, 30.0]))
    assert found.flow[0] == pytest.approx(found.flow[1], rel=1e-9)
    assert found.voltage[1] > 3.0 + 0.4 * 40
    assert found.voltage[1] == pytest.approx(
        float(direct(Fountain(large, PUMPS["volts"], JET), 1100.0, 30.0).voltage[0]), rel=5e-3
    )
