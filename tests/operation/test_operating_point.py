"""Where panel and pump meet: both balances put back, powers in order, states named rightly, cable, controller, limits."""

from dataclasses import replace

import numpy as np
import pytest

from sizing.electric.motor import MotorLabel
from sizing.electric.panel import current_at_voltage, fit_label, maximum_power, open_circuit_voltage, short_circuit_current
from sizing.electric.single_diode import at_conditions
from sizing.hydraulic.pump import hydraulic_power, pump_head, pump_load_current
from sizing.hydraulic.pump_curve import pump_from_points
from sizing.operation.load_line import system_head
from sizing.operation.operating_point import (
    CELL_TEMPERATURES,
    HIGHEST_IRRADIANCE,
    NEVER,
    REASONS,
    OperatingPoints,
    State,
    flow_alone,
    irradiance_needed,
    operate,
    solve_grid,
    top_speed,
)
from tests.fountains import FOUNTAINS, LITRE_PER_MINUTE, WATER, Fountain, controlled

every_fountain = pytest.mark.parametrize("name", FOUNTAINS)
RANDOM = np.random.default_rng(20250614)
SUN, CELL = RANDOM.uniform(1.0, 1300.0, 400), RANDOM.uniform(-20.0, 75.0, 400)
GRID_SHARE = 2e-3
"""[1] What interpolation may add to a balance that the equations keep exactly."""


def run(fountain: Fountain, irradiance, cell_temperature) -> OperatingPoints:
    solved = solve_grid(fountain.supply, fountain.pump, fountain.waterway)
    return operate(solved, np.asarray(irradiance, float), np.asarray(cell_temperature, float))


def both(name: str) -> list[Fountain]:
    """The fountain straight on its panel, and behind a controller."""
    return [FOUNTAINS[name], controlled(FOUNTAINS[name])]


def lifted(fountain: Fountain, height: float) -> Fountain:
    way = fountain.waterway
    return replace(fountain, waterway=replace(way, outlet=replace(way.outlet, height=height)))


def supplied(fountain: Fountain, **values) -> Fountain:
    return replace(fountain, supply=replace(fountain.supply, **values))


# The balances


@every_fountain
def test_current_balance_put_back(name: str) -> None:
    fountain = FOUNTAINS[name]
    found = run(fountain, SUN, CELL)
    terminal = found.voltage + found.current * fountain.supply.cable_resistance
    given = current_at_voltage(at_conditions(fountain.supply.panel, SUN, CELL), terminal)
    turns = found.speed > 0
    assert turns.sum() > 200
    assert found.current[turns] == pytest.approx(given[turns], rel=GRID_SHARE)


@every_fountain
def test_motor_and_head_balance_put_back(name: str) -> None:
    for fountain in both(name):
        found = run(fountain, SUN, CELL)
        pump, turns, plays = fountain.pump, found.speed > 0, found.flow > 0
        motor = pump.motor
        drawn = motor.no_load_current + found.speed**2 * pump_load_current(pump, found.flow, found.speed)
        asked = found.speed * motor.back_emf + drawn * motor.winding_resistance
        assert found.current[turns] == pytest.approx(drawn[turns], rel=GRID_SHARE)
        assert found.voltage[turns] == pytest.approx(asked[turns], rel=GRID_SHARE)
        assert found.head[plays] == pytest.approx(system_head(fountain.waterway, found.flow[plays]), rel=GRID_SHARE)
        assert found.head[turns] == pytest.approx(pump_head(pump, found.flow, found.speed)[turns], rel=3 * GRID_SHARE)


@every_fountain
def test_power_only_gets_less_on_its_way(name: str) -> None:
    for fountain in both(name):
        found = run(fountain, SUN, CELL)
        most = np.asarray(maximum_power(at_conditions(fountain.supply.panel, SUN, CELL))[0])
        supplied_power = (found.voltage + found.current * fountain.supply.cable_resistance) * found.current
        electric = found.voltage * found.current
        shaft = found.speed * fountain.pump.motor.back_emf * (found.current - fountain.pump.motor.no_load_current)
        water = hydraulic_power(WATER, found.flow, found.head)
        turns = found.speed > 0
        slack = 1 + GRID_SHARE
        assert np.all(supplied_power[turns] <= most[turns] * slack)
        assert np.all(electric[turns] <= supplied_power[turns])
        assert np.all(shaft[turns] <= electric[turns])
        assert np.all(water[turns] <= shaft[turns] * slack)
        assert np.all(water[found.flow > 0] > 0)


# States


def test_every_state_has_its_reason() -> None:
    assert set(REASONS) == set(State)
    assert len(set(REASONS.values())) == len(State)


@every_fountain
def test_no_sun_is_night(name: str) -> None:
    for fountain in both(name):
        found = run(fountain, np.zeros(3), [-13.7, 7.3, 55.0])
        assert np.all(found.state == State.NIGHT)
        for part in (found.voltage, found.current, found.speed, found.flow, found.head, found.jet):
            assert part.tolist() == [0.0, 0.0, 0.0]


@every_fountain
def test_a_huge_lift_is_never_reached(name: str) -> None:
    for fountain in both(name):
        found = run(lifted(fountain, 10.0 * fountain.pump.shut_off_head), SUN, CELL)
        assert not np.any(found.flow)
        assert not np.any(found.jet)
        assert set(found.state.tolist()) <= {State.TOO_LITTLE_SUN, State.BELOW_LOWEST_VOLTAGE, State.CANNOT_LIFT}
        assert np.all(found.state[SUN > 900] == State.CANNOT_LIFT)
        assert np.all(found.speed[SUN > 900] > 0)


@every_fountain
def test_without_lift_it_plays_as_soon_as_it_turns(name: str) -> None:
    fountain = FOUNTAINS[name]
    eager = lifted(replace(fountain, pump=replace(fountain.pump, lowest_voltage=0.0)), 0.0)
    solved = solve_grid(eager.supply, eager.pump, eager.waterway)
    starts = float(np.interp(31.0, CELL_TEMPERATURES, solved.starting_irradiance))
    found = operate(solved, np.array([0.999, 1.02, 1.3]) * starts, np.full(3, 31.0))
    assert found.state.tolist() == [State.TOO_LITTLE_SUN, State.PLAYS, State.PLAYS]
    assert found.flow[0] == 0
    assert 0 < found.flow[1] < found.flow[2]


@every_fountain
def test_no_flow_below_the_lift_speed(name: str) -> None:
    for fountain in both(name):
        found = run(fountain, SUN, CELL)
        lowest = np.sqrt(fountain.waterway.outlet.height / fountain.pump.shut_off_head)
        assert np.all(found.speed[found.flow > 0] >= lowest)
        assert np.all(found.flow[found.speed < lowest] == 0)


@every_fountain
def test_states_agree_with_what_flows(name: str) -> None:
    for fountain in both(name):
        found = run(fountain, SUN, CELL)
        turns = found.state >= State.CANNOT_LIFT
        assert np.array_equal(found.speed > 0, turns)
        assert np.array_equal(found.flow > 0, found.state >= State.PLAYS)
        assert np.all(found.voltage[turns] >= fountain.pump.lowest_voltage)
        assert np.all(found.voltage[found.state == State.BELOW_LOWEST_VOLTAGE] < fountain.pump.lowest_voltage)
        assert np.all(found.head[~turns] == 0)


def test_over_voltage_still_plays_and_is_counted_apart() -> None:
    fountain = FOUNTAINS["jet"]
    fragile = replace(fountain, pump=replace(fountain.pump, highest_voltage=13.1))
    found, before = run(fragile, SUN, CELL), run(fountain, SUN, CELL)
    over = found.state == State.OVER_VOLTAGE
    assert np.array_equal(over, (before.voltage > 13.1) & (before.flow > 0))
    assert 20 < over.sum() < 300
    assert found.flow.tolist() == before.flow.tolist()


def test_starting_current_is_a_threshold_of_sun() -> None:
    """1.9 A at (0.31 + 0.053) ohm x 1.9 A = 0.69 V, where the panel gives its short-circuit current, 5.88 A in full sun."""
    fountain = FOUNTAINS["spillway"]
    solved = solve_grid(fountain.supply, fountain.pump, fountain.waterway)
    at_25 = float(np.interp(25.0, CELL_TEMPERATURES, solved.starting_irradiance))
    assert at_25 == pytest.approx(1000 * 1.9 / 5.88, rel=2e-3)
    found = operate(solved, np.array([0.995, 1.005]) * at_25, np.full(2, 25.0))
    assert found.state[0] == State.TOO_LITTLE_SUN
    assert found.state[1] > State.TOO_LITTLE_SUN


def test_a_motor_that_no_panel_starts_says_so() -> None:
    for fountain in both("jet"):
        stuck = replace(fountain, pump=replace(fountain.pump, motor=replace(fountain.pump.motor, starting_current=300.0)))
        solved = solve_grid(stuck.supply, stuck.pump, stuck.waterway)
        assert np.all(solved.starting_irradiance <= NEVER)
        found = operate(solved, SUN, CELL)
        assert np.all(found.state == State.TOO_LITTLE_SUN)
        assert not np.any(found.speed)


# Trends


@every_fountain
def test_more_sun_gives_more_volts_and_more_water(name: str) -> None:
    rising = np.linspace(0.0, 1900.0, 1901)
    for fountain in both(name):
        for cell in (-17.3, 31.0, 71.9):
            found = run(fountain, rising, np.full(rising.shape, cell))
            for values in (found.voltage, found.current, found.flow, found.jet):
                assert np.all(np.diff(values) >= -1e-9 * np.max(values))
            assert np.all(np.diff(found.state) >= 0)


def test_hot_cells_give_fewer_volts_where_voltage_limits() -> None:
    """In strong sun a small motor sits near open circuit, where 30 K cost about a tenth of the volts."""
    found = run(FOUNTAINS["low_voltage"], np.full(3, 1250.0), [20.0, 50.0, 80.0])
    assert np.all(np.diff(found.voltage) < 0)
    assert np.all(np.diff(found.flow) < 0)


@every_fountain
def test_no_cable_is_the_limit_of_a_short_one(name: str) -> None:
    for fountain in both(name):
        none = run(supplied(fountain, cable_resistance=0.0), SUN, CELL)
        short = run(supplied(fountain, cable_resistance=1e-9), SUN, CELL)
        assert short.flow == pytest.approx(none.flow, rel=1e-6, abs=1e-12)
        assert short.voltage == pytest.approx(none.voltage, rel=1e-6, abs=1e-9)


@every_fountain
def test_a_cable_of_twice_the_length_takes_water(name: str) -> None:
    for fountain in both(name):
        resistance = 3 * fountain.supply.cable_resistance
        once = run(supplied(fountain, cable_resistance=resistance), SUN, CELL)
        twice = run(supplied(fountain, cable_resistance=2 * resistance), SUN, CELL)
        assert np.all(twice.flow <= once.flow + 1e-12)
        assert twice.flow.sum() < once.flow.sum()


@pytest.mark.parametrize("connection", [lambda fountain: fountain, controlled], ids=["direct", "controller"])
@pytest.mark.parametrize("pump", FOUNTAINS)
def test_two_panels_side_by_side_never_lower_the_flow(pump: str, connection) -> None:
    label = (17.8, 1.05, 21.9, 1.13, 0.0005, -0.0033)
    fountain = connection(FOUNTAINS[pump])
    one = run(supplied(fountain, panel=fit_label(*label)), SUN, CELL)
    two = run(supplied(fountain, panel=fit_label(*label, in_parallel=2)), SUN, CELL)
    assert np.all(two.flow >= one.flow - 1e-12)
    assert two.flow.sum() > one.flow.sum()


@every_fountain
def test_higher_lift_less_water(name: str) -> None:
    for fountain in both(name):
        fountain = replace(fountain, pump=replace(fountain.pump, lowest_voltage=0.0))
        height = fountain.waterway.outlet.height
        flows = [run(lifted(fountain, factor * height), SUN, CELL).flow for factor in (0.7, 1.0, 1.3)]
        for less, more in ((flows[1], flows[0]), (flows[2], flows[1])):
            assert np.all(less <= more * (1 + GRID_SHARE))
            assert less.sum() < more.sum()


# The controller


@every_fountain
@pytest.mark.parametrize("efficiency", [0.61, 0.93, 1.0])
def test_a_controller_never_beats_its_efficiency_nor_rated_voltage(name: str, efficiency: float) -> None:
    fountain = controlled(FOUNTAINS[name], efficiency)
    found = run(fountain, SUN, CELL)
    offered = efficiency * np.asarray(maximum_power(at_conditions(fountain.supply.panel, SUN, CELL))[0])
    taken = (found.voltage + found.current * fountain.supply.cable_resistance) * found.current
    turns = found.speed > 0
    assert np.all(taken[turns] <= offered[turns] * (1 + GRID_SHARE))
    assert np.all(found.voltage <= fountain.pump.rated_voltage * (1 + 1e-9))
    limited = turns & (found.voltage < fountain.pump.rated_voltage * (1 - 1e-6))
    assert taken[limited] == pytest.approx(offered[limited], rel=2 * GRID_SHARE)


@every_fountain
def test_a_better_controller_never_lowers_the_flow(name: str) -> None:
    worse, better = (run(controlled(FOUNTAINS[name], share), SUN, CELL).flow for share in (0.81, 0.97))
    assert np.all(better >= worse - 1e-12)
    assert better.sum() > worse.sum()


@every_fountain
def test_a_controller_plays_at_less_sun_where_the_match_is_poor(name: str) -> None:
    """Here each panel's voltage is half as high again as the pump's: direct, the panel's current sets the start."""
    rising = np.linspace(1.0, 1200.0, 1200)
    direct, controller = (run(fountain, rising, np.full(rising.shape, 35.0)) for fountain in both(name))
    first_direct, first_controlled = (float(rising[np.argmax(found.flow > 0)]) for found in (direct, controller))
    assert first_controlled < 0.7 * first_direct


# The edges of the grid, and shapes


def test_irradiance_needed_is_the_inverse_of_the_panel() -> None:
    panel = FOUNTAINS["jet"].supply.panel
    volts, amperes = np.meshgrid([0.0, 3.7, 11.9, 17.3], [0.01, 0.37, 0.91])
    for cell in (-21.0, 25.0, 63.0):
        sun = irradiance_needed(panel, np.array(cell), volts, amperes)
        assert current_at_voltage(at_conditions(panel, sun, cell), volts) == pytest.approx(amperes, rel=1e-9)


def test_no_sun_makes_up_for_a_voltage_beyond_the_leak() -> None:
    panel = replace(FOUNTAINS["jet"].supply.panel, shunt_resistance=15.0)
    # 30 V across 15 ohm leak 2 A, more than the light's 1.2 A, at any strength of sun
    assert irradiance_needed(panel, np.array([25.0]), 30.0, 0.1).tolist() == [np.inf]


@every_fountain
def test_top_speed_is_never_passed(name: str) -> None:
    for fountain in both(name):
        top = top_speed(fountain.supply, fountain.pump)
        found = run(fountain, [HIGHEST_IRRADIANCE, HIGHEST_IRRADIANCE, 1000.0], [-50.0, 110.0, 25.0])
        assert np.all(found.speed <= top * (1 + 1e-9))
        if fountain.supply.controller_efficiency is None:
            coldest = at_conditions(fountain.supply.panel, HIGHEST_IRRADIANCE, -50.0)
            assert top * fountain.pump.motor.back_emf <= open_circuit_voltage(coldest) * (1 + 1e-12)


def test_a_panel_of_far_too_many_volts_keeps_a_fine_load_line() -> None:
    """Eight panels in series on one pump: current, not voltage, bounds the speed, and the line ends there."""
    fountain = FOUNTAINS["low_voltage"]
    tall = supplied(fountain, panel=fit_label(17.6, 1.14, 21.7, 1.22, 0.0005, -0.0033, in_series=8))
    top = top_speed(tall.supply, tall.pump)
    brightest = at_conditions(tall.supply.panel, HIGHEST_IRRADIANCE, 110.0)
    spare = float(short_circuit_current(brightest)) - tall.pump.motor.no_load_current
    assert top == pytest.approx(np.sqrt(spare / tall.pump.load_current.min()), rel=1e-2)
    assert top < 0.1 * float(open_circuit_voltage(brightest)) / tall.pump.motor.back_emf


def test_a_panel_weaker_than_the_no_load_current_never_turns_the_pump() -> None:
    fountain = FOUNTAINS["spillway"]
    weak = supplied(fountain, panel=fit_label(17.6, 0.0131, 21.7, 0.0142, 0.0005, -0.0033))
    found = run(weak, SUN, CELL)
    assert np.all(found.state == State.TOO_LITTLE_SUN)
    assert np.all(np.isfinite(found.voltage))


@pytest.mark.parametrize(("sun", "cell"), [(2500.0, 25.0), (2000.0, 200.0), (700.0, -90.0), (1e-9, 25.0), (-3.0, 25.0)])
def test_beyond_the_grid_nothing_breaks(sun: float, cell: float) -> None:
    for fountain in both("jet"):
        found = run(fountain, [sun], [cell])
        for part in (found.voltage, found.current, found.speed, found.flow, found.head, found.jet):
            assert np.all(np.isfinite(part))
            assert np.all(part >= 0)
        assert (found.state[0] == State.NIGHT) == (sun <= 0)


@every_fountain
def test_scalar_equals_array_element_by_element(name: str) -> None:
    for fountain in both(name):
        solved = solve_grid(fountain.supply, fountain.pump, fountain.waterway)
        together = operate(solved, SUN[:40].reshape(8, 5), CELL[:40].reshape(8, 5))
        assert together.flow.shape == (8, 5)
        for i in range(0, 40, 7):
            alone = operate(solved, SUN[i], CELL[i])
            for part in OperatingPoints.__dataclass_fields__:
                assert float(getattr(alone, part)) == getattr(together, part).flat[i]


@every_fountain
def test_flow_alone_is_the_flow_of_the_operation(name: str) -> None:
    for fountain in both(name):
        solved = solve_grid(fountain.supply, fountain.pump, fountain.waterway)
        sun = np.append(SUN, [0.0, 0.0])
        cell = np.append(CELL, [-5.0, 30.0])
        assert flow_alone(solved, sun, cell).tolist() == operate(solved, sun, cell).flow.tolist()


def bent() -> Fountain:
    """A regenerative pump: its current falls steeply as soon as water flows, so its load line bends back on itself."""
    flow = np.array([0.0, 1.3, 2.9, 5.3, 8.1]) * LITRE_PER_MINUTE
    motor = MotorLabel(12.0, 4.0, winding_resistance=3.1, no_load_current=0.21)
    points = np.array([4.1, 3.3, 2.4, 1.2, 0.0]), np.array([2.3, 1.5, 1.0, 0.8, 0.7])
    pump = pump_from_points("regenerative", motor, flow, *points, WATER)
    panel = fit_label(17.8, 2.25, 21.9, 2.41, 0.0005, -0.0033)
    return Fountain(replace(FOUNTAINS["jet"].supply, panel=panel), pump, lifted(FOUNTAINS["jet"], 1.1).waterway)


def test_a_load_line_that_bends_back() -> None:
    """Speed jumps where the motor is relieved; everything still rises with the sun, and never lies beyond the panel."""
    line = solve_grid(bent().supply, bent().pump, bent().waterway).line
    assert np.any(np.diff(line.current) < 0)
    rising = np.linspace(1.0, 1500.0, 1500)
    for fountain in (bent(), controlled(bent())):
        found = run(fountain, rising, np.full(rising.shape, 31.0))
        assert np.all(np.diff(found.speed) >= 0)
        assert np.all(np.diff(found.flow) >= 0)
        assert np.all(found.voltage <= 12.0 * (1 + 1e-9)) or fountain.supply.controller_efficiency is None
        assert np.any(found.flow > 0)
