"""The operating flow of 50 random garden fountains against the EPANET 2.2 solver (through wntr).

Reservoir, pump, pipe with fittings and lift are the same on both sides. The nozzle is an emitter,
q = C p^0.5 with C = Cd A sqrt(2 g); every fifth system is an open pipe instead, an exit loss of 1 into a
reservoir at the height of its end. The pump's curve h0 (1 - (q/qmax)²) is EPANET's three-point power curve.

The two sides differ in one published formula: EPANET takes Swamee and Jain's explicit approximation of
the Colebrook equation (EPANET 2.2 User Manual, ch. 3), we solve the equation itself. At the Reynolds numbers
of a garden hose the two factors are up to 2.2 % apart in these systems, so the flows of the few that are
nearly all friction are up to 0.75 % apart (45 of 50 within 0.3 %). The bounds:

* with EPANET's own friction formula (and its gravity of 32.2 ft/s²) in our sum, all 50 flows agree to 0.01 %;
* with the Colebrook equation, all 50 agree to 0.05 % plus six tenths of the difference of the two factors
  (a loss that rises at least as q^1.75 moves the flow by at most 1/1.75 of its own change);
* so wherever the factors are within 0.4 % of one another, laminar flow among it, the flows agree to 0.3 %.
"""

import tempfile
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq

import sizing.operation.load_line
from sizing.electric.motor import MotorLabel
from sizing.hydraulic.friction import friction_factor
from sizing.hydraulic.outlet import Nozzle, OpenPipe, outlet_head
from sizing.hydraulic.pipes import Pipe, fitting_loss, friction_loss, pipe_loss, reynolds_number, velocity
from sizing.hydraulic.pump import Pump
from sizing.hydraulic.pump_curve import pump_from_label
from sizing.operation.load_line import PipeSystem, flow_at

pytestmark = pytest.mark.filterwarnings("ignore:Changing the headloss formula:UserWarning")

GRAVITY = 9.80665
UNIT_VISCOSITY = 1.1e-5 * 0.3048**2
"""[m2/s] EPANET's viscosity is a ratio to 1.1e-5 ft2/s."""
EPANET_GRAVITY = 32.2 * 0.3048
"""[m/s2] EPANET works in feet and rounds: 0.08 % above standard gravity."""
LITRE_PER_MINUTE = 1e-3 / 60


@dataclass(frozen=True)
class System:
    """A pump curve h0 (1 - (q / largest)²), a pipe and an outlet."""

    shut_off_head: float
    largest_flow: float
    pipe: Pipe
    outlet: Nozzle | OpenPipe


def pump_head(system: System, flow: float) -> float:
    return system.shut_off_head * (1 - (flow / system.largest_flow) ** 2)


def solve(system: System, loss) -> float:
    """Flow where the pump's head meets lift, pipe and outlet, with ``loss(pipe, flow)`` for the pipe."""

    def surplus(flow: float) -> float:
        asked = system.outlet.height + loss(system.pipe, flow) + outlet_head(system.outlet, flow)
        return float(pump_head(system, flow) - asked)

    return float(brentq(surplus, 0.0, system.largest_flow, xtol=1e-14, rtol=1e-13))


def random_systems(count: int) -> list[System]:
    """Garden sizes: bores 8 to 25 mm, runs 0.3 to 20 m, lifts 0.1 to 2 m, nozzles 3 to 12 mm, 1 to 30 L/min."""
    random = np.random.default_rng(20250601)
    found: list[System] = []
    while len(found) < count:
        bore, lift = random.uniform(0.008, 0.025), random.uniform(0.1, 2.0)
        roughness = np.exp(random.uniform(np.log(1.5e-6), np.log(1e-4)))
        pipe = Pipe(random.uniform(0.3, 20.0), bore, roughness, random.uniform(0.0, 12.0), random.uniform(0.7e-6, 1.6e-6))
        nozzle = Nozzle(random.uniform(0.003, 0.012), int(random.integers(1, 4)), lift, random.uniform(0.6, 0.98))
        head, most = lift + random.uniform(0.3, 6.0), np.exp(random.uniform(np.log(1.3), np.log(60.0))) * LITRE_PER_MINUTE
        system = System(head, most, pipe, OpenPipe(bore, lift) if len(found) % 5 == 4 else nozzle)
        if 1.0 < solve(system, pipe_loss) / LITRE_PER_MINUTE < 30.0:
            found.append(system)
    return found


@lru_cache(maxsize=1)
def epanet() -> Any:
    """The wntr package, imported by the first test that asks (it takes over a second); it changes how numpy prints
    numbers, and with it every docstring example, so that is put back."""
    shown_as = np.get_printoptions()
    import wntr

    np.set_printoptions(**shown_as)
    return wntr


def empty_network(viscosity: float) -> Any:
    network = epanet().network.WaterNetworkModel()
    network.options.hydraulic.headloss = "D-W"
    network.options.hydraulic.inpfile_units = "LPS"
    network.options.hydraulic.viscosity = viscosity / UNIT_VISCOSITY
    network.options.hydraulic.accuracy = 1e-8
    network.options.time.duration = 0
    network.add_reservoir("basin", base_head=0.0)
    return network


def run(network: Any) -> Any:
    with tempfile.TemporaryDirectory() as folder:
        return epanet().sim.EpanetSimulator(network).run_sim(file_prefix=str(Path(folder) / "network"))


def epanet_flow(system: System) -> float:
    """The same system drawn in EPANET. Roughness goes to wntr in metres."""
    pipe, outlet = system.pipe, system.outlet
    network = empty_network(pipe.kinematic_viscosity)
    head, most = system.shut_off_head, system.largest_flow
    network.add_curve("curve", "HEAD", [(0.0, head), (most / 2, 0.75 * head), (most, 0.0)])
    network.add_junction("foot", base_demand=0.0, elevation=0.0)
    network.add_pump("pump", "basin", "foot", pump_type="HEAD", pump_parameter="curve")
    exit_loss = 0.0
    if isinstance(outlet, Nozzle):
        network.add_junction("end", base_demand=0.0, elevation=outlet.height)
        area = outlet.count * np.pi / 4 * outlet.bore**2
        network.get_node("end").emitter_coefficient = outlet.discharge_coefficient * area * (2 * GRAVITY) ** 0.5
    else:
        network.add_reservoir("end", base_head=outlet.height)
        exit_loss = 1.0
    size = {"length": pipe.length, "diameter": pipe.diameter, "roughness": pipe.roughness}
    network.add_pipe("pipe", "foot", "end", minor_loss=pipe.fitting_k + exit_loss, **size)
    return float(run(network).link["flowrate"].loc[0, "pipe"])


def swamee_jain(reynolds: float, roughness: float) -> float:
    return float(0.25 / np.log10(roughness / 3.7 + 5.74 / reynolds**0.9) ** 2)


def epanet_factor(reynolds: float, roughness: float) -> float:
    """EPANET's friction factor: 64/Re, Swamee-Jain, and a cubic between that meets both in value and slope."""
    if reynolds <= 2000:
        return 64 / reynolds
    if reynolds >= 4000:
        return swamee_jain(reynolds, roughness)
    slope = (swamee_jain(4000.4, roughness) - swamee_jain(3999.6, roughness)) / 0.8
    ends = np.array([[2000.0**power for power in range(4)], [4000.0**power for power in range(4)]])
    slopes = np.array([[power * joint ** (power - 1) for power in range(4)] for joint in (2000.0, 4000.0)])
    right = [0.032, swamee_jain(4000.0, roughness), -1.6e-5, slope]
    cubic = np.linalg.solve(np.vstack([ends, slopes]), right)
    return float(np.polyval(cubic[::-1], reynolds))


def epanet_loss(pipe: Pipe, flow: float) -> float:
    if flow == 0:
        return 0.0
    speed = velocity(flow, pipe.diameter)
    factor = epanet_factor(reynolds_number(speed, pipe.diameter, pipe.kinematic_viscosity), pipe.roughness / pipe.diameter)
    friction = friction_loss(factor, pipe.length, pipe.diameter, speed, EPANET_GRAVITY)
    return float(friction + fitting_loss(pipe.fitting_k, speed, EPANET_GRAVITY))


SYSTEMS = random_systems(50)


@pytest.fixture(scope="module")
def judged() -> np.ndarray:
    """EPANET's flow of each system [m3/s]."""
    return np.array([epanet_flow(system) for system in SYSTEMS])


def factor_difference(system: System, flow: float) -> float:
    """How far EPANET's friction factor is from ours at a flow, as a share."""
    pipe = system.pipe
    reynolds = float(reynolds_number(velocity(flow, pipe.diameter), pipe.diameter, pipe.kinematic_viscosity))
    roughness = pipe.roughness / pipe.diameter
    return abs(epanet_factor(reynolds, roughness) / float(friction_factor(reynolds, roughness)) - 1)


def test_the_systems_are_of_every_kind() -> None:
    reynolds = [velocity(solve(s, pipe_loss), s.pipe.diameter) * s.pipe.diameter / s.pipe.kinematic_viscosity for s in SYSTEMS]
    laminar, between = np.array(reynolds) < 2000, (np.array(reynolds) >= 2000) & (np.array(reynolds) < 4000)
    assert laminar.sum() >= 2
    assert between.sum() >= 5
    assert (~laminar & ~between).sum() >= 25


def test_everything_but_the_friction_formula_agrees(judged: np.ndarray) -> None:
    flow = np.array([solve(system, epanet_loss) for system in SYSTEMS])
    assert flow == pytest.approx(judged, rel=1e-4)


def test_flow_with_the_colebrook_equation(judged: np.ndarray) -> None:
    flow = np.array([solve(system, pipe_loss) for system in SYSTEMS])
    apart = np.abs(flow / judged - 1)
    factor = np.array([factor_difference(system, q) for system, q in zip(SYSTEMS, flow, strict=True)])
    assert np.all(apart < 0.0005 + 0.6 * factor)
    assert np.all(apart[factor < 0.004] < 0.003)
    assert apart.max() < 0.008
    assert (apart < 0.003).sum() >= 45


def as_pump(system: System) -> Pump:
    """The same curve as a pump whose motor has no winding, so that its points stand at speed ratio 1."""
    amperes = 2 * 1000 * GRAVITY * system.shut_off_head * system.largest_flow / 12
    motor = MotorLabel(12.0, 0.0, winding_resistance=0.0)
    return pump_from_label("curve", motor, system.shut_off_head, system.largest_flow, amperes, 1000.0)


def test_flow_at_finds_the_same_flow_with_the_same_friction_formula(judged: np.ndarray, monkeypatch) -> None:
    """The search that the fountain's year uses, on the same 50 systems; its curve runs through 41 points of the parabola."""
    monkeypatch.setattr(sizing.operation.load_line, "pipe_loss", epanet_loss)
    flow = np.array([flow_at(as_pump(system), PipeSystem(system.pipe, system.outlet), 1.0) for system in SYSTEMS])
    assert flow == pytest.approx(judged, rel=1e-4)


def test_flow_at_with_the_colebrook_equation(judged: np.ndarray) -> None:
    flow = np.array([flow_at(as_pump(system), PipeSystem(system.pipe, system.outlet), 1.0) for system in SYSTEMS])
    factor = np.array([factor_difference(system, q) for system, q in zip(SYSTEMS, flow, strict=True)])
    assert np.all(np.abs(flow / judged - 1) < 0.0006 + 0.6 * factor)


@pytest.mark.parametrize(("bore", "gallons"), [(0.622, 2), (0.622, 5), (0.824, 5), (1.049, 2), (1.049, 5), (1.049, 10)])
def test_smooth_pipe_alone(bore: float, gallons: float) -> None:
    """Schedule 40 pipe of half, three quarters and one inch: Swamee-Jain and Colebrook are within 2 % of each other."""
    flow, diameter = gallons * 231 * 0.0254**3 / 60, bore * 0.0254
    network = empty_network(UNIT_VISCOSITY)
    network.add_junction("end", base_demand=flow, elevation=0.0)
    network.add_pipe("pipe", "basin", "end", length=30.48, diameter=diameter, roughness=1.5e-6, minor_loss=0.0)
    lost = -float(run(network).node["head"].loc[0, "end"])
    pipe = Pipe(30.48, diameter, 1.5e-6, 0.0, UNIT_VISCOSITY)
    assert epanet_loss(pipe, flow) == pytest.approx(lost, rel=1e-4)
    assert pipe_loss(pipe, flow) == pytest.approx(lost, rel=0.02)
