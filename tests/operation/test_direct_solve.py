"""The direct solve puts both balances back, and bounds what the grid adds: 0.3 % of the year's water."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from sizing.electric.motor import MotorLabel
from sizing.electric.panel import current_at_voltage, fit_label, maximum_power
from sizing.electric.single_diode import at_conditions
from sizing.foundation.errors import InputError
from sizing.hydraulic.outlet import Nozzle, OpenPipe, Outlet, Spillway
from sizing.hydraulic.pipes import Pipe
from sizing.hydraulic.pump import hydraulic_power, lift_speed, pump_head
from sizing.hydraulic.pump_curve import pump_from_label, pump_from_points
from sizing.light.irradiance import plane_sun
from sizing.operation.direct_solve import first_speed, panel_surplus, power_taken, solve_directly
from sizing.operation.load_line import PipeSystem, motor_demand, system_head
from sizing.operation.operating_point import OperatingPoints, State, Supply, operate, solve_grid
from sizing.place.place import Place
from sizing.sky.weather import built_in_sky
from tests.draws import drawn
from tests.fountains import FOUNTAINS, LITRE_PER_MINUTE, WATER, Fountain, controlled
from tests.operation.test_operating_point import bent

CASES = {
    f"{name}, {how}": make(found)
    for name, found in FOUNTAINS.items()
    for how, make in (("direct", lambda fountain: fountain), ("controller", controlled))
}
every_case = pytest.mark.parametrize("fountain", CASES.values(), ids=CASES)
PARTS = ("voltage", "current", "speed", "flow", "head", "jet")


def moments(fountain: Fountain, irradiance: np.ndarray, cell_temperature: np.ndarray) -> OperatingPoints:
    """The direct solve of many moments."""
    parts = (fountain.supply, fountain.pump, fountain.waterway)
    found = [solve_directly(*parts, float(sun), float(cell)) for sun, cell in zip(irradiance, cell_temperature, strict=True)]
    return OperatingPoints(
        **{name: np.concatenate([getattr(one, name) for one in found]) for name in OperatingPoints.__dataclass_fields__}
    )


def grid(fountain: Fountain, irradiance: np.ndarray, cell_temperature: np.ndarray) -> OperatingPoints:
    return operate(solve_grid(fountain.supply, fountain.pump, fountain.waterway), irradiance, cell_temperature)


@pytest.mark.some(3)
@every_case
def test_both_balances_put_back(fountain: Fountain) -> None:
    random = np.random.default_rng(7)
    sun, cell = random.uniform(30.0, 1250.0, 25), random.uniform(-15.0, 70.0, 25)
    found = moments(fountain, sun, cell)
    turns, plays = found.speed > 0, found.flow > 0
    terminal = found.voltage + found.current * fountain.supply.cable_resistance
    conditions = at_conditions(fountain.supply.panel, sun, cell)
    if fountain.supply.controller_efficiency is None:
        assert found.current[turns] == pytest.approx(current_at_voltage(conditions, terminal)[turns], rel=1e-7)
    else:
        offered = fountain.supply.controller_efficiency * np.asarray(maximum_power(conditions)[0])
        held = found.voltage >= fountain.pump.rated_voltage * (1 - 1e-9)
        free = turns & ~held
        assert (terminal * found.current)[free] == pytest.approx(offered[free], rel=1e-7)
        assert np.all((terminal * found.current)[held] <= offered[held])
        assert found.voltage[held] == pytest.approx(fountain.pump.rated_voltage, rel=1e-9)
    assert pump_head(fountain.pump, found.flow, found.speed)[plays] == pytest.approx(found.head[plays], rel=1e-7)
    assert system_head(fountain.waterway, found.flow)[plays] == pytest.approx(found.head[plays], rel=1e-7)


@pytest.mark.some(3)
@every_case
def test_grid_and_direct_solve_agree(fountain: Fountain) -> None:
    """Any sun and cell temperature: states equal, volts of a turning pump within 0.2 %, all the water within 0.03 %."""
    random = np.random.default_rng(11)
    sun, cell = random.uniform(1.0, 1250.0, 40), random.uniform(-15.0, 70.0, 40)
    ours, direct = grid(fountain, sun, cell), moments(fountain, sun, cell)
    assert ours.state.tolist() == direct.state.tolist()
    turns = direct.speed > 0
    assert ours.voltage[turns] == pytest.approx(direct.voltage[turns], rel=2e-3)
    assert ours.flow.sum() == pytest.approx(direct.flow.sum(), rel=3e-4)
    assert ours.flow == pytest.approx(direct.flow, abs=5e-3 * fountain.pump.largest_flow)
    assert ours.jet == pytest.approx(direct.jet, abs=5e-3)


@pytest.mark.some(1)
@pytest.mark.parametrize("make", [lambda fountain: fountain, controlled], ids=["direct", "controller"])
def test_a_year_of_the_grid_against_the_direct_solve(make) -> None:
    """Every fortieth day of a year, hour by hour: water within 0.3 % (the benchmarks take the whole year)."""
    fountain = make(FOUNTAINS["jet"])
    place = Place("trial", 46.05, 14.51, 298.0)
    sky = built_in_sky(place)
    sun = plane_sun(sky, place, 35.0, 175.0, 0.03)
    chosen = (sky.day % 40 == 4) & (np.arange(len(sky.day)) % 4 == 1) & (sun.effective > 0)
    light, cell = sun.effective[chosen], sun.cell_temperature[chosen]
    assert len(light) > 100
    ours, direct = grid(fountain, light, cell), moments(fountain, light, cell)
    assert ours.flow.sum() == pytest.approx(direct.flow.sum(), rel=3e-3)
    assert (ours.state != direct.state).sum() <= 2
    # in fact ten times as near
    assert ours.flow.sum() == pytest.approx(direct.flow.sum(), rel=3e-4)


def test_night_is_night() -> None:
    for fountain in CASES.values():
        found = moments(fountain, np.array([0.0, -1.0]), np.array([10.0, -10.0]))
        assert found.state.tolist() == [State.NIGHT, State.NIGHT]
        assert all(not np.any(getattr(found, name)) for name in PARTS)


def test_where_nothing_turns_voltage_and_current_are_still_told() -> None:
    """Below the lowest voltage the curves cross, and the pump's electronics keep it from turning."""
    fountain = FOUNTAINS["bubbler"]
    found = moments(fountain, np.array([150.0]), np.array([35.0]))
    assert found.state.tolist() == [State.BELOW_LOWEST_VOLTAGE]
    assert 0 < found.voltage[0] < fountain.pump.lowest_voltage
    assert found.current[0] > fountain.pump.motor.no_load_current
    assert (found.speed[0], found.flow[0], found.head[0]) == (0, 0, 0)


def test_surpluses_by_hand() -> None:
    pump, waterway = FOUNTAINS["spillway"].pump, FOUNTAINS["spillway"].waterway
    # standing: 0.43 A through 0.31 ohm
    assert motor_demand(pump, waterway, 0.0, 0.0) == pytest.approx((0.43 * 0.31, 0.43), rel=1e-12)
    # 11.3 V and 2.1 A behind 0.2 ohm: (11.3 + 0.42) x 2.1 = 24.612 W
    assert power_taken(11.3, 2.1, 0.2) == pytest.approx(24.612, rel=1e-12)
    sun = at_conditions(FOUNTAINS["jet"].supply.panel, 700.0, 40.0)
    assert panel_surplus(sun, 11.3, 0.5, 0.4) == pytest.approx(float(current_at_voltage(sun, 11.5)) - 0.5, rel=1e-12)


def test_first_speed_takes_the_lowest_of_several_and_the_ends() -> None:
    fountain = bent()

    def wave(speed: float) -> float:
        return float(np.cos(7 * speed))

    assert first_speed(wave, fountain.pump, fountain.waterway, 3.0) == pytest.approx(np.pi / 14, rel=1e-9)
    assert first_speed(lambda speed: -1.0, fountain.pump, fountain.waterway, 3.0) == 0.0
    assert first_speed(lambda speed: 1.0, fountain.pump, fountain.waterway, 3.0) == 3.0


@pytest.mark.some(1)
@pytest.mark.parametrize("make", [lambda fountain: fountain, controlled], ids=["direct", "controller"])
def test_a_bent_load_line_is_jumped_at_the_same_sun(make) -> None:
    """As the sun grows the motor stays on the slower branch to its end, by the grid and by the direct solve."""
    fountain = make(bent())
    rising = np.linspace(20.0, 1000.0, 36)
    cell = np.full(rising.shape, 25.0)
    ours, direct = grid(fountain, rising, cell), moments(fountain, rising, cell)
    start = float(lift_speed(fountain.waterway.outlet.height, fountain.pump.shut_off_head))
    apart = np.flatnonzero(np.abs(ours.speed - direct.speed) > 5e-3)
    assert len(apart) <= 1
    assert np.any(direct.flow > 0)
    assert np.any(direct.speed < start)
    steps = np.diff(direct.speed[direct.speed > 0])
    assert steps.max() > 0.04


# Any plausible fountain

share = st.floats(0.0, 1.0)


@st.composite
def outlets(draw, head: float) -> Outlet:
    height = draw(st.one_of(st.just(0.0), st.floats(0.0, 1.3))) * head
    kind = draw(st.integers(0, 2))
    if kind == 0:
        bore = draw(st.floats(0.0005, 0.06))
        return Nozzle(bore, draw(st.integers(1, 30)), height, draw(st.floats(0.4, 0.96)), 0.97)
    if kind == 1:
        return OpenPipe(draw(st.floats(0.004, 0.06)), height)
    return Spillway(draw(st.floats(0.02, 2.0)), height, draw(st.integers(0, 2)))


@st.composite
def fountains(draw) -> Fountain:
    """Panels of 1 to 500 W, pumps of 3 to 60 V, any pipe; currents may rise or fall with the flow."""
    voltage, head = draw(st.floats(3.0, 60.0)), draw(st.floats(0.05, 15.0))
    flow = draw(st.floats(1.0, 90.0)) * LITRE_PER_MINUTE
    water_power = 1000 * 9.81 * head * flow / 4
    current = water_power / draw(st.floats(0.02, 0.45)) / voltage
    winding = draw(st.one_of(st.none(), st.floats(0.0, 0.5)))
    motor = MotorLabel(
        voltage,
        draw(st.one_of(st.just(0.0), st.floats(0.0, 0.9))) * voltage,
        draw(st.one_of(st.none(), st.floats(1.0, 2.0).map(lambda factor: factor * voltage))),
        None if winding is None else winding * voltage / current,
        draw(st.one_of(st.none(), st.floats(0.0, 0.3).map(lambda part: part * current))),
        draw(st.one_of(st.none(), st.floats(0.0, 1.0).map(lambda part: part * current))),
    )
    if draw(st.booleans()):
        pump = pump_from_label("any", motor, head, flow, current, WATER)
    else:
        steps = np.cumsum([0.0, *draw(st.lists(st.floats(0.05, 1.0), min_size=1, max_size=7))])
        along = draw(st.floats(0.0, 0.3)) + steps / steps[-1] * draw(st.floats(0.5, 0.7))
        tilt = draw(st.floats(-0.5, 0.8))
        pump = pump_from_points(
            "any", motor, along * flow, head * (1 - along ** draw(st.floats(0.7, 3.0))), current * (1 - tilt * (1 - along)), WATER
        )
    voc, isc = draw(st.floats(2.0, 50.0)), draw(st.floats(0.05, 10.0))
    panel = fit_label(0.81 * voc, 0.93 * isc, voc, isc, 0.0005, -0.0033, draw(st.integers(1, 3)), draw(st.integers(1, 3)))
    pipe = Pipe(
        draw(st.floats(0.0, 40.0)), draw(st.floats(0.004, 0.05)), draw(st.floats(0.0, 1e-4)), draw(st.floats(0, 30)), 1.1e-6
    )
    efficiency = draw(st.one_of(st.none(), st.floats(0.5, 1.0)))
    return Fountain(Supply(panel, draw(st.floats(0.0, 3.0)), efficiency), pump, PipeSystem(pipe, draw(outlets(head))))


EDGES = np.array([0.0, 1e-6, 3.0, 97.0, 311.0, 623.0, 1003.0, 1400.0, 2000.0])


def check_consistent(fountain: Fountain, found: OperatingPoints) -> None:
    """Finite, never below zero, and the state says what flows."""
    pump = fountain.pump
    for name in PARTS:
        values = getattr(found, name)
        assert np.all(np.isfinite(values)), name
        assert np.all(values >= 0), name
    turns, plays = found.state >= State.CANNOT_LIFT, found.state >= State.PLAYS
    assert np.array_equal(found.flow > 0, plays)
    assert not np.any(found.speed[~turns])
    assert not np.any(found.jet[~plays])
    assert np.all(found.voltage[turns] >= pump.lowest_voltage)
    if pump.highest_voltage is not None:
        apart = np.abs(found.voltage / pump.highest_voltage - 1) > 1e-9  # just at the limit, a last digit decides
        assert np.array_equal((found.state == State.OVER_VOLTAGE)[apart], (plays & (found.voltage > pump.highest_voltage))[apart])
    water = hydraulic_power(WATER, found.flow, found.head)
    assert np.all(water <= found.voltage * found.current * 1.01 + 1e-9)


@drawn(60, derandomize=True, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(data=st.data())
def test_any_plausible_fountain_is_solved_or_refused_with_a_sentence(data) -> None:
    try:
        fountain = data.draw(fountains())
        found = grid(fountain, EDGES[:, None], np.array([[-60.0, -21.0, 25.0, 77.0, 120.0]]))
        one = solve_directly(fountain.supply, fountain.pump, fountain.waterway, 700.0, 41.0)
    except InputError as error:
        refused = error.problems
    else:
        refused = ()
    if refused:
        assert all(problem.pointer.startswith("#/") and problem.detail for problem in refused)
        return
    check_consistent(fountain, found)
    check_consistent(fountain, one)
    assert np.all(found.state[0] == State.NIGHT)
    assert not np.any(found.state[1:] == State.NIGHT)


def test_a_perfect_controller_without_cable_hands_over_all_power() -> None:
    fountain = controlled(FOUNTAINS["jet"], 1.0)
    bare = replace(fountain, supply=replace(fountain.supply, cable_resistance=0.0))
    found = moments(bare, np.array([310.0]), np.array([37.0]))
    most = float(maximum_power(at_conditions(bare.supply.panel, 310.0, 37.0))[0])
    assert float(found.voltage[0] * found.current[0]) == pytest.approx(most, rel=1e-7)


@pytest.mark.some(2)
@pytest.mark.parametrize("fountain", [*FOUNTAINS.values(), controlled(FOUNTAINS["jet"]), controlled(FOUNTAINS["spillway"])])
def test_a_search_that_begins_near_the_answer_finds_the_same(fountain: Fountain) -> None:
    """Beside the answer, far from it, and at standstill."""
    parts = (fountain.supply, fountain.pump, fountain.waterway)
    for sun in (211.0, 473.0, 911.0):
        whole = solve_directly(*parts, sun, 37.3)
        for near in (float(whole.speed[0]) * 1.0007, float(whole.speed[0]) * 1.4, 0.0, 0.13):
            found = solve_directly(*parts, sun, 37.3, near)
            assert found.state == whole.state
            for name in ("speed", "flow", "head", "current", "voltage"):
                np.testing.assert_allclose(getattr(found, name), getattr(whole, name), rtol=1e-8, atol=1e-12, err_msg=name)
