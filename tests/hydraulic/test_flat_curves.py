"""Ordinary curves of small pumps, made by physics that is not ours, are taken and meet their own points at rated voltage.

The motors here lose in brushes (Coulomb), bearings (viscous) and winding; the pumps follow Euler's head with slip, shock and
friction. A battery of rated voltage turns them; what a maker would print is what flows then (common practice, no source).
"""

from dataclasses import dataclass, replace

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import brentq

from sizing.electric.motor import MotorLabel
from sizing.foundation.errors import InputError
from sizing.hydraulic.pump import Pump, pump_head, pump_load_current
from sizing.hydraulic.pump_curve import pump_from_points
from tests.fountains import LITRE_PER_MINUTE, WATER

Array = NDArray[np.float64]
DEEP = 9806.65
"""[N/m3] Water's weight."""


@dataclass(frozen=True)
class Machine:
    """A motor and pump: volts, winding [Ohm], V s/rad, friction [N m] and [N m s], head [m] = a w² + b w Q - c Q², and
    shaft torque [N m] = (d w² + e w Q) beside the friction; SI."""

    volts: float
    winding: float
    constant: float
    coulomb: float
    viscous: float
    a: float
    b: float
    c: float
    d: float
    e: float

    def speed(self, flow: float, volts: float | None = None) -> float:
        """[rad/s] Where the motor's torque is the pump's and the friction's."""
        volts = self.volts if volts is None else volts

        def spare(w: float) -> float:
            torque = self.constant * (volts - self.constant * w) / self.winding
            return torque - self.coulomb - self.viscous * w - self.d * w**2 - self.e * w * flow

        return float(brentq(spare, 0.0, volts / self.constant))

    def head(self, flow: float) -> float:
        w = self.speed(flow)
        return self.a * w**2 + self.b * w * flow - self.c * flow**2

    def current(self, flow: float) -> float:
        return (self.volts - self.constant * self.speed(flow)) / self.winding

    def points(self, count: int) -> tuple[Array, Array, Array]:
        """What is printed: flow, head, current from shut-off to run-out, to three digits."""
        end = float(brentq(self.head, 1e-6, 1.0))
        flow = np.linspace(0.0, end, count)
        head = np.array([self.head(q) for q in flow])
        head[-1] = 0.0
        current = np.array([self.current(q) for q in flow])
        return tuple(np.array([float(f"{x:.3g}") for x in row]) for row in (flow, head, current))  # type: ignore[return-value]


def machine(volts: float, watts: float, head: float, flow: float, losses: tuple[float, float, float], bend: float) -> Machine:
    """A machine of about those watts, shut-off head and largest flow: shares lost in winding, brushes and bearings at
    300 rad/s, and how flat its top is (0: straight fall, 1: none at first)."""
    w, current = 300.0, watts / volts
    winding = losses[0] * volts / current
    constant = (volts - current * winding) / w
    torque = constant * current
    shaft = torque * (1 - losses[1] - losses[2])
    fall = (1 - bend) * head / flow
    return Machine(
        volts, winding, constant, losses[1] * torque, losses[2] * torque / w, head / w**2, -fall / w, bend * head / flow**2,
        0.45 * shaft / w**2, 0.55 * shaft / (w * flow),
    )  # fmt: skip


MACHINES = [
    machine(12, 6, 1.6, 1.0e-4, (0.10, 0.05, 0.10), 1.0),
    machine(12, 14, 3.0, 1.9e-4, (0.25, 0.05, 0.15), 0.9),
    machine(12, 14, 3.0, 1.9e-4, (0.05, 0.02, 0.30), 1.0),
    machine(24, 30, 5.0, 2.6e-4, (0.15, 0.05, 0.05), 0.5),
    machine(24, 55, 9.0, 3.0e-4, (0.20, 0.10, 0.20), 1.1),
    machine(6, 2, 0.6, 0.5e-4, (0.30, 0.15, 0.10), 0.8),
    machine(12, 25, 2.2, 5.0e-4, (0.12, 0.05, 0.10), 0.2),
    machine(12, 25, 2.2, 5.0e-4, (0.30, 0.02, 0.02), 1.2),
    machine(5, 1.2, 0.45, 0.4e-4, (0.20, 0.20, 0.20), 0.7),
    machine(36, 90, 12.0, 3.2e-4, (0.08, 0.04, 0.08), 1.0),
]


@pytest.mark.parametrize("count", [5, 9])
@pytest.mark.parametrize("made", MACHINES)
def test_a_machine_of_other_physics_is_taken_and_meets_its_points(made: Machine, count: int) -> None:
    flow, head, current = made.points(count)
    pump = pump_from_points("made", MotorLabel(made.volts, 0.0), flow, head, current, WATER)
    meets_its_points(pump, flow, head, current, slack=0.02 * head[0])


@pytest.mark.parametrize("made", MACHINES)
def test_half_the_volts_give_about_half_the_flow_of_the_real_machine(made: Machine) -> None:
    """Off rated voltage only the shape of the losses is unknown: shut-off head at 60 % of the volts within a fifth."""
    flow, head, current = made.points(7)
    pump = pump_from_points("made", MotorLabel(made.volts, 0.0), flow, head, current, WATER)
    slow = made.speed(0.0, 0.6 * made.volts)
    real = made.a * slow**2
    found = float(pump_head(pump, 0.0, turning(pump, 0.0, 0.6 * made.volts)))
    assert found == pytest.approx(real, rel=0.20)


def turning(pump: Pump, flow: float, volts: float) -> float:
    """Speed ratio on a battery, from the two equations of the motor by search."""
    motor = pump.motor

    def spare(s: float) -> float:
        current = motor.no_load_current + s**2 * float(pump_load_current(pump, flow, s))
        return volts - s * motor.back_emf - current * motor.winding_resistance

    return float(brentq(spare, 1e-6, 4.0))


def meets_its_points(pump: Pump, flow: Array, head: Array, current: Array, slack: float) -> None:
    """Each point comes back on a battery of rated volts, and the reduced curve falls."""
    for q, h, i in zip(flow, head, current, strict=True):
        speed = turning(pump, float(q), pump.rated_voltage)
        assert float(pump_head(pump, q, speed)) == pytest.approx(h, abs=slack)
        drawn = pump.motor.no_load_current + speed**2 * float(pump_load_current(pump, q, speed))
        assert drawn == pytest.approx(i, rel=0.02)
    assert np.all(np.diff(pump.head) < 0)
    assert np.all(np.diff(pump.flow) > 0)


PRINTED = {
    "flat top": ((0, 3.0, 0.60), (2, 2.95, 0.72), (5, 2.6, 0.9), (8, 1.7, 1.02), (11, 0, 1.1)),
    "level top": ((0, 3.0, 0.60), (2, 3.0, 0.7), (5, 2.8, 0.9), (9, 0, 1.1)),
    "top that rises": ((0, 3.0, 0.6), (2, 3.1, 0.7), (5, 2.8, 0.9), (9, 0, 1.1)),
    "level to one decimal": ((0, 1.9, 0.5), (1, 1.9, 0.53), (2, 1.9, 0.58), (4, 1.6, 0.7), (6, 1.0, 0.8), (8, 0, 0.86)),
    "steep current": ((0, 2.4, 0.30), (4, 2.3, 0.70), (8, 1.9, 1.1), (12, 0.9, 1.4), (14, 0, 1.5)),
    "current that falls (side channel)": ((0, 9.0, 2.4), (2, 6.2, 1.8), (4, 3.5, 1.3), (6, 0.9, 0.8)),
    "current that falls and rises": ((0, 4.0, 1.0), (3, 3.6, 0.9), (7, 2.4, 1.1), (10, 0, 1.2)),
    "light at shut-off": ((0, 1.4, 0.09), (3, 1.2, 0.5), (6, 0.8, 0.9), (9, 0, 1.2)),
    "straight": ((0, 2.0, 0.5), (5, 1.0, 0.6), (10, 0, 0.7)),
    "steep end": ((0, 5.0, 1.2), (4, 4.9, 1.4), (8, 4.7, 1.7), (10, 2.0, 1.8)),
}
"""[L/min, m, A] Small pumps at 12 V as makers print them (from memory of such sheets, no single source)."""


def printed(name: str, label: MotorLabel | None = None) -> Pump:
    flow, head, current = np.array(PRINTED[name]).T
    return pump_from_points(name, label or MotorLabel(12.0, 5.0), flow * LITRE_PER_MINUTE, head, current, WATER)


@pytest.mark.parametrize("name", PRINTED)
def test_a_printed_curve_is_taken(name: str) -> None:
    flow, head, current = np.array(PRINTED[name]).T
    level = bool(np.any(np.diff(head) >= 0))
    meets_its_points(printed(name), flow * LITRE_PER_MINUTE, head, current, slack=0.05 * head.max() if level else 1e-6)


def test_the_flat_top_lowers_only_our_own_guess_and_says_so() -> None:
    """0.05 m less of 3 m with 0.12 A more leaves room for (12 - 0.6 R)² / (12 - 0.72 R)² below 3/2.95: R below 0.80 ohm."""
    pump = printed("flat top")
    assert 0.5 < pump.motor.winding_resistance < 0.80
    told = [note for note in pump.notes if note.code.startswith("winding")]
    assert [(note.code, note.pointer) for note in told] == [("winding_lowered", "#/pumps/0/winding_resistance_ohm")]
    with pytest.raises(InputError) as refused:
        printed("flat top", MotorLabel(12.0, 5.0, winding_resistance=1.6))
    assert [problem.code for problem in refused.value.problems] == ["curve_rises"]
    assert printed("flat top", MotorLabel(12.0, 5.0, winding_resistance=0.7)).motor.winding_resistance == 0.7


def test_a_level_top_is_never_counted_higher_than_printed() -> None:
    for name in ("level top", "top that rises", "level to one decimal"):
        flow, head, _ = np.array(PRINTED[name]).T
        pump = printed(name)
        assert "flat_top" in {note.code for note in pump.notes}
        for q, h in zip(flow * LITRE_PER_MINUTE, head, strict=True):
            assert float(pump_head(pump, q, turning(pump, q, 12.0))) <= h + 1e-6


def test_an_ordinary_curve_keeps_the_usual_winding() -> None:
    pump = printed("straight")
    assert pump.motor.winding_resistance == pytest.approx(0.15 * 12 / 0.7, rel=1e-12)
    assert {"winding_lowered", "flat_top"}.isdisjoint(note.code for note in pump.notes)


def test_an_assumed_no_load_current_stays_below_what_the_pump_draws() -> None:
    """A tenth of 1.2 A is more than the 0.09 A at shut-off; half of that is taken."""
    assert printed("light at shut-off").motor.no_load_current == pytest.approx(0.045, rel=1e-12)
    with pytest.raises(InputError):
        printed("light at shut-off", replace(MotorLabel(12.0, 5.0), no_load_current=0.12))


def test_a_head_that_never_falls_is_refused() -> None:
    """Level from shut-off to the last point says nothing of where the curve ends."""
    with pytest.raises(InputError) as refused:
        pump_from_points("level", MotorLabel(12.0, 5.0), np.array([0, 1e-4]), np.array([1.0, 1.0]), np.array([1.0, 1.1]), WATER)
    assert [(problem.code, problem.pointer) for problem in refused.value.problems] == [
        ("curve_rises", "#/pumps/0/points/1/head_m")
    ]
