"""Whole fountains for the tests: the jet of ``examples/`` and three others, all invented but plausible."""

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from sizing.design.reading import parse_design
from sizing.electric.motor import MotorLabel
from sizing.electric.panel import fit_label
from sizing.fountain.components import fountain_of
from sizing.hydraulic.outlet import Nozzle, OpenPipe, Spillway
from sizing.hydraulic.pipes import Pipe
from sizing.hydraulic.pump import Pump
from sizing.hydraulic.pump_curve import pump_from_label, pump_from_points
from sizing.operation.load_line import PipeSystem
from sizing.operation.operating_point import Supply

ROOT = Path(__file__).resolve().parent.parent
LITRE_PER_MINUTE = 1e-3 / 60
WATER = 999.1
"""[kg/m3] at 15 Cel."""


@dataclass(frozen=True)
class Fountain:
    """Panel with cable, pump, and pipe with outlet."""

    supply: Supply
    pump: Pump
    waterway: PipeSystem


def jet() -> Fountain:
    """The worked example of ``examples/``."""
    found = fountain_of(parse_design((ROOT / "examples" / "quince_court_jet.json").read_bytes()))
    return Fountain(found.supply, found.pump, found.waterway)


def spillway() -> Fountain:
    """Two panels side by side, a cascade pump with measured winding and a high starting current, a lip."""
    panel = fit_label(18.2, 2.75, 22.2, 2.94, 0.0005, -0.0031, in_parallel=2)
    motor = MotorLabel(12.0, 6.3, 15.1, winding_resistance=0.31, no_load_current=0.43, starting_current=1.9)
    points = np.array([(0, 2.4, 3.1), (15, 1.95, 3.7), (25, 1.5, 4.1), (35, 1.0, 4.4), (50, 0.0, 4.9)]).T
    pump = pump_from_points("cascade", motor, points[0] * LITRE_PER_MINUTE, points[1], points[2], WATER)
    return Fountain(Supply(panel, 0.053), pump, PipeSystem(Pipe(2.3, 0.0251, 1.5e-6, 4.7, 1.14e-6), Spillway(0.29, 0.53)))


def bubbler() -> Fountain:
    """A pump known by its box, an open pipe end; the curve's shut-off head is 1.9 m."""
    panel = fit_label(17.8, 2.25, 21.9, 2.41, 0.0005, -0.0033)
    pump = pump_from_label("bubbler", MotorLabel(12.0, 4.9), 1.9, 31 * LITRE_PER_MINUTE, 2.1, WATER)
    return Fountain(Supply(panel, 0.171), pump, PipeSystem(Pipe(3.1, 0.0191, 7e-6, 3.3, 1.14e-6), OpenPipe(0.0191, 0.23)))


def low_voltage() -> Fountain:
    """A 6 V pump with points from the middle of its curve only, on an 18-cell panel, two thin jets."""
    panel = fit_label(8.9, 1.03, 10.9, 1.11, 0.0006, -0.0034)
    motor = MotorLabel(6.0, 2.9, 12.0, no_load_current=0.061)
    points = np.array([(2.3, 1.31, 0.71), (4.7, 1.02, 0.83), (7.1, 0.57, 0.94)]).T
    pump = pump_from_points("six volts", motor, points[0] * LITRE_PER_MINUTE, points[1], points[2], WATER)
    return Fountain(Supply(panel, 0.093), pump, PipeSystem(Pipe(0.7, 0.0127, 1.5e-6, 2.9, 1.31e-6), Nozzle(0.0037, 2, 0.31)))


FOUNTAINS = {"jet": jet(), "spillway": spillway(), "bubbler": bubbler(), "low_voltage": low_voltage()}


def controlled(fountain: Fountain, efficiency: float = 0.93) -> Fountain:
    """The same behind a controller."""
    return replace(fountain, supply=replace(fountain.supply, controller_efficiency=efficiency))


def without_cable(fountain: Fountain) -> Fountain:
    return replace(fountain, supply=replace(fountain.supply, cable_resistance=0.0))
