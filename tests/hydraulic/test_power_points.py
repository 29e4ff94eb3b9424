"""Flow against power at fixed heads: published points come back, monotone between, nothing beyond, wrong tables refused.

The pumps here are made by physics that is not ours (brushes, bearings and winding; Euler's head with slip and friction).
"""

import numpy as np
import pytest
from scipy.optimize import brentq

from sizing.electric.motor import MotorLabel
from sizing.foundation.errors import InputError
from sizing.hydraulic.power_points import (
    LEAST_CUT_IN,
    PowerPoints,
    along_rows,
    cut_in_power,
    flow_of_power,
    power_of_flow,
    pump_from_power_points,
    voltage_of_power,
)
from sizing.hydraulic.pump import PowerTable, Pump
from tests.fountains import LITRE_PER_MINUTE, WATER
from tests.hydraulic.test_flat_curves import MACHINES, Machine

LABEL = MotorLabel(24.0, 0.0)
SCREW = [
    (head, power, max(0.09 * (power - 2.2 * head), 0.0)) for head in (2.0, 5.0, 10.0) for power in (2.2 * head, 40.0, 70.0, 120.0)
]
"""[m, W, L/min] A displacement pump: flow over power in straight lines from a cut-in in proportion to the head."""


def points(rows, volts=None) -> PowerPoints:
    head, power, flow = np.array(rows).T
    return PowerPoints(head, power, flow * LITRE_PER_MINUTE, volts)


def build(rows=SCREW, tracks: bool = True, volts=None) -> Pump:
    return pump_from_power_points("screw", LABEL, tracks, points(rows, volts), WATER, "#/pumps/4")


def table_of(rows=SCREW, **named) -> PowerTable:
    table = build(rows, **named).table
    assert table is not None
    return table


def test_published_points_come_back() -> None:
    """At cut-in the power, above it power, flow and, where they stand, volts."""
    rows = [(2, 10, 0), (2, 25, 8), (2, 60, 15), (6, 26, 0), (6, 40, 5), (6, 60, 10)]
    volts = np.array([9.0, 14, 22, 14.0, 17, 23])
    found = table_of(rows, tracks=False, volts=volts)
    for (head, power, flow), volt in zip(rows, volts, strict=True):
        assert flow_of_power(found, power, head) / LITRE_PER_MINUTE == pytest.approx(flow, abs=0.01)
        assert voltage_of_power(found, np.array([power]), np.array([head])) == pytest.approx([volt], rel=1e-3)
        assert power_of_flow(found, np.array([flow * LITRE_PER_MINUTE]), np.array([head])) == pytest.approx([power], rel=2e-3)


@pytest.mark.parametrize("head", [2.0, 3.1, 5.0, 7.7, 10.0])
@pytest.mark.parametrize("power", [15.0, 31.0, 66.0, 119.0])
def test_straight_lines_are_met_between_heads_too(head: float, power: float) -> None:
    """Where flow is 0.09 (P - 2.2 H) at every head, it is so at the heads between: closed form."""
    exact = max(0.09 * (power - 2.2 * head), 0.0)
    assert flow_of_power(table_of(), power, head) / LITRE_PER_MINUTE == pytest.approx(exact, abs=1e-9)


def test_nothing_is_continued() -> None:
    found = table_of()
    assert cut_in_power(found, 4.0) == pytest.approx(8.8, rel=1e-12)
    assert flow_of_power(found, 8.7, 4.0) == 0
    assert flow_of_power(found, 5000.0, 5.0) == flow_of_power(found, 120.0, 5.0)
    assert flow_of_power(found, 60.0, 0.1) == flow_of_power(found, 60.0, 2.0)
    assert flow_of_power(found, 120.0, 10.0) > 0
    assert flow_of_power(found, 120.0, 10.1) == 0
    assert cut_in_power(found, 10.1) == np.inf


def real(made: Machine, head: float, volts: float) -> tuple[float, float]:
    """Flow [m3/s] and power [W] of a machine on a battery against a head."""

    def lifted(flow: float) -> float:
        w = made.speed(flow, volts)
        return made.a * w**2 + made.b * w * flow - made.c * flow**2 - head

    if lifted(0.0) <= 0:
        return 0.0, 0.0
    flow = float(brentq(lifted, 0.0, 1e-2))
    return flow, volts * (volts - made.constant * made.speed(flow, volts)) / made.winding


def sheet(made: Machine, heads, shares) -> list[tuple[float, float, float]]:
    """What a maker would print at these heads and shares of the rated volts, in W and L/min."""
    found = [(head, *real(made, head, share * made.volts)) for head in heads for share in shares]
    return [(head, power, flow / LITRE_PER_MINUTE) for head, flow, power in found if flow > 0]


@pytest.mark.parametrize("made", MACHINES[:4])
def test_between_heads_a_real_pump_is_met_and_rarely_overstated(made: Machine) -> None:
    """Heads a third, a half and two thirds of shut-off; between them within 8 % of the largest flow, and 3 % above at most."""
    top = made.head(0.0)
    found = table_of(sheet(made, [0.3 * top, 0.5 * top, 0.7 * top], np.linspace(0.6, 1.3, 8)))
    largest = float(found.flow.max())
    for head in (0.35, 0.4, 0.6, 0.65):
        for share in (0.85, 0.95, 1.1, 1.25):
            flow, power = real(made, head * top, share * made.volts)
            if flow > 0:
                off = (flow_of_power(found, power, head * top) - flow) / largest
                assert -0.08 < off < 0.03


@pytest.mark.parametrize("seed", range(20))
def test_flow_rises_with_power_and_falls_with_head(seed: int) -> None:
    """Machines of random losses: on a fine grid of powers and heads, published or not."""
    random = np.random.default_rng(seed)
    made = MACHINES[seed % len(MACHINES)]
    top = made.head(0.0)
    heads = top * np.sort(random.uniform(0.1, 0.6, 4))
    found = table_of(sheet(made, heads, np.sort(np.append(random.uniform(0.4, 1.4, 5), [1.2, 1.3]))))
    power = np.linspace(0.0, 1.5 * found.largest_power, 25)
    flow = np.array([[flow_of_power(found, float(p), float(h)) for p in power] for h in np.linspace(0, 1.05 * heads[-1], 20)])
    assert np.all(np.diff(flow, axis=1) >= -1e-15)
    assert np.all(np.diff(flow, axis=0) <= 0.005 * flow.max())


def test_a_cut_in_that_is_not_published_is_estimated_and_told() -> None:
    """(30 W, 4), (50 W, 8): the line ends at 10 W, below half of 30 W, so 15 W; (30, 2), (40, 4): 20 W."""
    pump = build([(2, 30, 4), (2, 50, 8), (4, 30, 2), (4, 40, 4)])
    assert pump.table is not None
    assert cut_in_power(pump.table, 2.0) == pytest.approx(LEAST_CUT_IN * 30, rel=1e-12)
    assert cut_in_power(pump.table, 4.0) == pytest.approx(20, rel=1e-12)
    codes = [note.code for note in pump.notes]
    assert codes.count("cut_in_continued") == 2
    assert codes.count("power_points") == 1


def test_less_head_gives_no_less_water_where_its_list_ends_sooner() -> None:
    """Against 2 m the list ends at 40 W, against 4 m at 80 W with more flow: that much comes against 2 m too."""
    found = table_of([(2, 10, 0), (2, 40, 6), (4, 20, 0), (4, 40, 3), (4, 80, 9)])
    assert flow_of_power(found, 80.0, 2.0) / LITRE_PER_MINUTE == pytest.approx(9, rel=1e-9)


WRONG = {
    "one power": ([(2, 30, 4), (4, 30, 2), (4, 40, 4)], None, "#/pumps/4/power_points/0/power_w", "too_few_powers"),
    "no water": ([(2, 30, 0), (2, 40, 0)], None, "#/pumps/4/power_points/0/power_w", "too_few_powers"),
    "twice": ([(2, 30, 4), (2, 30, 5)], None, "#/pumps/4/power_points/1/power_w", "power_doubled"),
    "falls": ([(2, 30, 4), (2, 40, 3)], None, "#/pumps/4/power_points/1/flow_l_per_min", "flow_not_rising"),
    "volts": ([(2, 30, 4), (2, 40, 5)], np.array([12.0, 12.0]), "#/pumps/4/power_points/1/voltage_v", "voltage_not_rising"),
    "heads": (
        [(2, 20, 0), (2, 40, 3), (4, 20, 2), (4, 40, 6)], None, "#/pumps/4/power_points/2/head_m", "flow_rises_with_head"
    ),
    "perpetual": ([(9, 20, 0), (9, 40, 60)], None, "#/pumps/4/power_points/1/flow_l_per_min", "too_efficient"),
}  # fmt: skip


@pytest.mark.parametrize(("rows", "volts", "pointer", "code"), WRONG.values(), ids=WRONG)
def test_one_sentence_for_each_wrong_table(rows, volts, pointer: str, code: str) -> None:
    with pytest.raises(InputError) as caught:
        build(rows, tracks=volts is None, volts=volts)
    assert [(problem.pointer, problem.code) for problem in caught.value.problems] == [(pointer, code)]


def test_rows_are_read_between_their_own_ends() -> None:
    x, y = np.array([[1.0, 2.0, 4.0]] * 4), np.array([[10.0, 20.0, 40.0]] * 4)
    assert along_rows(x, y, np.array([0.0, 1.5, 3.0, 9.0])).tolist() == [10, 15, 30, 40]
