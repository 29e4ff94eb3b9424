"""What nobody said about pump, controller, nozzle and pipe, and what stands in for it: each is a question, never a yes."""

import math
from dataclasses import dataclass
from typing import Literal

from sizing.design.design import ControllerConnection, Design, NozzleOutlet
from sizing.fountain.components import Fountain, pipe_kind_of
from sizing.fountain.pump_shape import ELECTRONIC, shape_known, shape_of
from sizing.operation.strain import Strain

UnknownCode = Literal[
    "highest_voltage",
    "lowest_voltage",
    "starting_current",
    "drive",
    "controller_kind",
    "nozzle_kind",
    "nozzle_coefficients",
    "pipe_kind",
    "motor_kind",
]
CAUSES: dict[UnknownCode, str] = {
    "lowest_voltage": "cut_off",
    "starting_current": "starting",
    "drive": "drive",
    "controller_kind": "controller",
    "nozzle_kind": "nozzle",
    "nozzle_coefficients": "nozzle",
    "pipe_kind": "hose",
}
"""Which cause of doubt in the year's water each is; an unknown highest voltage moves no water, it may end the pump, and an
unknown kind of motor says how soon the next one is bought."""


@dataclass(frozen=True)
class Unknown:
    """One thing that nobody said.

    ``pointer`` leads to its place in the design; ``taken`` is the number that stands in for it, ``None`` where a word does;
    of what drives the pump it is 1 for electronics that track the panel's maximum power and 0 for a DC motor, of a highest
    voltage it is the rated one, and ``asked`` [V] is what the pump would get, for ``hours`` of a year while it
    runs (0: only while it does not run).
    """

    code: UnknownCode
    pointer: str
    part: str
    taken: float | None = None
    asked: float = 0.0
    hours: float = 0.0


def unknowns_of(design: Design, fountain: Fountain, strain: Strain, standing: float) -> tuple[Unknown, ...]:
    """What is not known of a fountain, what may end the pump first.

    Parameters
    ----------
    standing : [V] what the panel puts on the pump while it does not run, on the coldest dawn
    """
    of_the_motor = motor_asked(fountain)
    return (*of_the_highest(fountain, strain, standing), *of_the_pump(fountain), *of_the_others(design), *of_the_motor)


def of_the_highest(fountain: Fountain, strain: Strain, standing: float) -> list[Unknown]:
    """A highest voltage that is not known, where the pump would get more than its rated one."""
    unloaded = standing if fountain.supply.controller_efficiency is None else 0.0
    if strain.known or not (strain.doubtful or unloaded > strain.rated_voltage):
        return []
    asked = strain.most_voltage if strain.doubtful else unloaded
    pointer = f"{fountain.pump_pointer}/highest_voltage_v"
    name = fountain.pump_input.name
    return [Unknown("highest_voltage", pointer, name, strain.rated_voltage, rounded_up(asked), strain.above_allowed)]


def of_the_pump(fountain: Fountain) -> list[Unknown]:
    """What the pump's label leaves open, but for its highest voltage."""
    pump, pointer = fountain.pump_input, fountain.pump_pointer
    found = []
    if "lowest_voltage_v" not in pump.model_fields_set:
        found.append(Unknown("lowest_voltage", f"{pointer}/lowest_voltage_v", pump.name, fountain.pump.lowest_voltage))
    if pump.starting_current_a is None and shape_of(pump) not in ELECTRONIC:
        current = fountain.pump.motor.starting_current
        found.append(Unknown("starting_current", f"{pointer}/starting_current_a", pump.name, current))
    if not shape_known(pump):
        found.append(Unknown("drive", f"{pointer}/drive", pump.name, float(shape_of(pump) in ELECTRONIC)))
    return found


def motor_asked(fountain: Fountain) -> list[Unknown]:
    """A motor that may or may not have brushes; the pump's name does not tell."""
    pump = fountain.pump_input
    if pump.motor_kind in ("brushed", "brushless"):
        return []
    return [Unknown("motor_kind", f"{fountain.pump_pointer}/motor_kind", pump.name)]


def of_the_others(design: Design) -> list[Unknown]:
    """Kinds of controller, nozzle and pipe that nobody said."""
    joined, outlet, found = design.connection, design.outlet, list[Unknown]()
    if isinstance(joined, ControllerConnection) and joined.controller_kind in (None, "not_known"):
        found.append(Unknown("controller_kind", "#/connection/controller_kind", ""))
    if isinstance(outlet, NozzleOutlet) and None in (outlet.discharge_coefficient, outlet.velocity_coefficient):
        kind_known = outlet.nozzle_kind not in (None, "not_known")
        missing = "discharge_coefficient" if outlet.discharge_coefficient is None else "velocity_coefficient"
        if kind_known:
            found.append(Unknown("nozzle_coefficients", f"#/outlet/{missing}", ""))
        else:
            found.append(Unknown("nozzle_kind", "#/outlet/nozzle_kind", ""))
    if design.pipe.length_m > 0 and pipe_kind_of(design) == "not_known":
        found.append(Unknown("pipe_kind", "#/pipe/kind", ""))
    return found


def rounded_up(volts: float) -> float:
    """Volts to ask about, with three digits and never below what comes.

    Examples
    --------
    >>> rounded_up(19.31), rounded_up(123.2), rounded_up(18.0)
    (19.4, 124.0, 18.0)
    """
    tenths = math.ceil(10 * volts - 1e-6) / 10
    return tenths if tenths < 100 else float(math.ceil(volts - 1e-6))
