"""From the design file to the parts that the stages compute with, and the list of what was assumed.

Units change here, once: litres per minute, millimetres and per cent come in, SI goes out.
"""

from dataclasses import dataclass, replace

import numpy as np

from sizing.design.design import ControllerConnection, Design, NozzleOutlet, OpenPipeOutlet, PanelInput, PumpInput, by_volts
from sizing.electric.motor import MotorLabel
from sizing.electric.panel import fit_label, fit_notes
from sizing.electric.wiring import cable_resistance
from sizing.foundation.errors import Note, SizingError, input_error
from sizing.foundation.tables import EXIT_LOSS, FITTING_LOSS, PIPE_KINDS
from sizing.foundation.units import LITRE_PER_MINUTE, MILLIMETRE, SQUARE_MILLIMETRE
from sizing.fountain.pump_shape import shape_note
from sizing.hydraulic.manifold import Manifold, ring, row
from sizing.hydraulic.nozzle_kinds import nozzle_coefficients
from sizing.hydraulic.outlet import Nozzle, OpenPipe, Outlet, Spillway
from sizing.hydraulic.pipes import Pipe, fitting_k
from sizing.hydraulic.power_points import PowerPoints, pump_from_power_points
from sizing.hydraulic.pump import Pump
from sizing.hydraulic.pump_curve import held_at_one_speed, pump_from_label, pump_from_points
from sizing.hydraulic.water import density, kinematic_viscosity, viscosity
from sizing.operation.goal import Goal
from sizing.operation.load_line import PipeSystem
from sizing.operation.operating_point import Supply

CONTROLLER_NAMES = {
    "step_down": "Step-down: it only lowers the voltage, as most do",
    "step_up_and_down": "Step-up and step-down: it raises the voltage too",
    "not_known": "Not sure",
}
"""The kinds of controller, in words; one that is not known counts as step-down."""


def controller_words(kind: str | None) -> str:
    """A kind of controller in a sentence.

    Examples
    --------
    >>> controller_words("step_up_and_down"), controller_words(None)
    ('step-up and step-down controller', 'step-down controller')
    """
    return "step-up and step-down controller" if kind == "step_up_and_down" else "step-down controller"


@dataclass(frozen=True, eq=False)
class Fountain:
    """The chosen panel and pump with their cable, pipe and outlet, in SI units."""

    panel_input: PanelInput
    pump_input: PumpInput
    panel_pointer: str
    pump_pointer: str
    panel_notes: tuple[Note, ...]
    supply: Supply
    pump: Pump
    waterway: PipeSystem
    water_density: float


def fountain_of(design: Design, panel_id: str | None = None, pump_id: str | None = None) -> Fountain:
    """The parts of one panel with one pump; the chosen pair unless ids are given."""
    chosen_panel, chosen_pump = (design.chosen.panel, design.chosen.pump) if design.chosen else (None, None)
    panel_index = index_of("panel", [panel.id for panel in design.panels], panel_id or chosen_panel)
    pump_index = index_of("pump", [pump.id for pump in design.pumps], pump_id or chosen_pump)
    water_density = float(density(design.water_temperature_c))
    panel, pump = design.panels[panel_index], design.pumps[pump_index]
    panel_pointer, pump_pointer = f"#/panels/{panel_index}", f"#/pumps/{pump_index}"
    supply = supply_of(design, panel, panel_pointer)
    power = panel.vmp_v * panel.imp_a * panel.in_series * panel.in_parallel
    return Fountain(
        panel_input=panel,
        pump_input=pump,
        panel_pointer=panel_pointer,
        pump_pointer=pump_pointer,
        panel_notes=fit_notes(supply.panel, power, panel_pointer),
        supply=supply,
        pump=pump_of(pump, water_density, pump_pointer),
        waterway=PipeSystem(pipe_of(design), outlet_of(design)),
        water_density=water_density,
    )


def index_of(label: str, ids: list[str], wanted: str | None) -> int:
    """Position of a panel or pump by its id; the first where none is chosen."""
    if wanted is None:
        return 0
    if wanted not in ids:
        detail = f"chosen {label} is {wanted}, and the design has {', '.join(ids)}; choose one of these"
        raise input_error(f"#/chosen/{label}", "not_in_design", detail)
    return ids.index(wanted)


def supply_of(design: Design, panel: PanelInput, pointer: str) -> Supply:
    """Panel array, cable and controller; one of unknown kind only lowers the voltage, as most do."""
    diode = fit_label(
        panel.vmp_v,
        panel.imp_a,
        panel.voc_v,
        panel.isc_a,
        panel.isc_temperature_coefficient_pct_per_c / 100,
        panel.voc_temperature_coefficient_pct_per_c / 100,
        panel.in_series,
        panel.in_parallel,
        pointer=pointer,
    )
    cable = design.cable
    resistance = float(cable_resistance(cable.length_m, cable.area_mm2 * SQUARE_MILLIMETRE, cable.conductor_temperature_c))
    connection = design.connection
    if not isinstance(connection, ControllerConnection):
        return Supply(diode, resistance)
    raises = connection.controller_kind == "step_up_and_down"
    return Supply(diode, resistance, connection.efficiency_pct / 100, raises)


def pump_of(pump: PumpInput, water_density: float, pointer: str, viscous_share: float = 0.0) -> Pump:
    """The pump from its points, its power or its box label; ``viscous_share`` [1] of its no-load current grows with speed."""
    motor = MotorLabel(
        rated_voltage=pump.rated_voltage_v,
        lowest_voltage=pump.lowest_voltage_v,
        highest_voltage=pump.highest_voltage_v,
        winding_resistance=pump.winding_resistance_ohm,
        no_load_current=pump.no_load_current_a,
        starting_current=pump.starting_current_a,
        viscous_share=viscous_share,
    )
    if pump.power_points is not None:
        built = power_pump(pump, motor, water_density, pointer)
    elif pump.drive == "holds_speed":
        built = replace(points_or_box(pump, held_at_one_speed(motor), water_density, pointer), drive="holds_speed")
    else:
        built = points_or_box(pump, motor, water_density, pointer)
    return replace(built, notes=(shape_note(pump, pointer), *built.notes))


def points_or_box(pump: PumpInput, motor: MotorLabel, water_density: float, pointer: str) -> Pump:
    """A pump known by points of its curve, or by its box."""
    if pump.points is not None:
        flow, head, current = np.array([(point.flow_l_per_min, point.head_m, point.current_a) for point in pump.points]).T
        return pump_from_points(pump.name, motor, flow * LITRE_PER_MINUTE, head, current, water_density, pointer)
    if pump.max_head_m is None or pump.max_flow_l_per_min is None or pump.rated_current_a is None:
        raise SizingError()  # the design model lets no such pump through
    flow_limit = pump.max_flow_l_per_min * LITRE_PER_MINUTE
    return pump_from_label(pump.name, motor, pump.max_head_m, flow_limit, pump.rated_current_a, water_density, pointer)


def power_pump(pump: PumpInput, motor: MotorLabel, water_density: float, pointer: str) -> Pump:
    """A pump known by flow against power; without volts its electronics are taken to track the panel's maximum power."""
    given = pump.power_points or ()
    head, power, flow = np.array([(point.head_m, point.power_w, point.flow_l_per_min) for point in given]).T
    volts = np.array([point.voltage_v or 0.0 for point in given]) if by_volts(given) else None
    tracks = pump.drive == "tracks_power" or volts is None
    points = PowerPoints(head, power, flow * LITRE_PER_MINUTE, volts)
    return pump_from_power_points(pump.name, motor, tracks, points, water_density, pointer)


def fed_by_ring(design: Design) -> bool:
    """Whether the jets stand on a ring, into which the water turns off through a tee."""
    return isinstance(design.outlet, NozzleOutlet) and design.outlet.feed is not None and design.outlet.feed.kind == "ring"


def fitting_sum(design: Design) -> tuple[float, float, float]:
    """Sum of the loss coefficients of all fittings: low, typical, high.

    A pipe that ends under the still water behind a spillway loses one velocity head more; nozzle and
    open pipe count their own exit. A ring of jets is fed through a tee.
    """
    ending = float(EXIT_LOSS) if design.outlet.kind == "spillway" else 0.0
    low = typical = high = ending
    if fed_by_ring(design):
        low, typical, high = FITTING_LOSS["tee_branch"][:3]
    for fitting in design.pipe.fittings:
        table = fitting_k(fitting.kind)
        own = (fitting.k, fitting.k, fitting.k) if fitting.k is not None else (table.low, table.typical, table.high)
        low, typical, high = (total + fitting.count * k for total, k in zip((low, typical, high), own, strict=True))
    return low, typical, high


def pipe_of(design: Design) -> Pipe:
    """The pipe with its fittings and the water's viscosity."""
    pipe = design.pipe
    return Pipe(
        length=pipe.length_m,
        diameter=pipe.inside_diameter_mm * MILLIMETRE,
        roughness=roughness_of(design),
        fitting_k=fitting_sum(design)[1],
        kinematic_viscosity=viscosity_of(design),
        ribs=PIPE_KINDS[pipe_kind_of(design)].typical,
    )


def viscosity_of(design: Design) -> float:
    """Kinematic viscosity of the water [m2/s]."""
    return float(kinematic_viscosity(viscosity(design.water_temperature_c), density(design.water_temperature_c)))


def pipe_kind_of(design: Design) -> str:
    """Kind of the pipe; one of which only the roughness was typed is as smooth as that, without ribs."""
    if design.pipe.kind is not None:
        return design.pipe.kind
    return "smooth" if "roughness_mm" in design.pipe.model_fields_set else "not_known"


def roughness_of(design: Design) -> float:
    """Roughness of the pipe's wall [m]: as typed, else that of its kind."""
    if "roughness_mm" in design.pipe.model_fields_set:
        return design.pipe.roughness_mm * MILLIMETRE
    return PIPE_KINDS[pipe_kind_of(design)].roughness


def outlet_of(design: Design) -> Outlet:
    """The outlet; a coefficient left out is that of the kind of nozzle, kept possible beside a given one."""
    outlet = design.outlet
    if isinstance(outlet, NozzleOutlet):
        discharge, velocity = nozzle_coefficients(outlet.nozzle_kind, outlet.discharge_coefficient, outlet.velocity_coefficient)
        size = (outlet.bore_mm * MILLIMETRE, outlet.count, outlet.height_above_water_m)
        return Nozzle(*size, discharge, velocity, manifold_of(design, outlet))
    if isinstance(outlet, OpenPipeOutlet):
        diameter = outlet.inside_diameter_mm or design.pipe.inside_diameter_mm
        return OpenPipe(diameter * MILLIMETRE, outlet.height_above_water_m)
    return Spillway(outlet.width_m, outlet.height_above_water_m, outlet.end_contractions)


def manifold_of(design: Design, outlet: NozzleOutlet) -> Manifold | None:
    """The ring or row that feeds the jets, as smooth inside as the pipe; ``None`` where they stand on one body."""
    feed = outlet.feed
    if feed is None:
        return None
    built = ring if feed.kind == "ring" else row
    width = feed.inside_diameter_mm * MILLIMETRE
    return built(feed.size_m, outlet.count, width, roughness_of(design), viscosity_of(design))


def goal_of(design: Design) -> Goal | None:
    """What the fountain should reach, in SI units; ``None`` where the design sets no goal."""
    goal = design.goal
    if goal is None:
        return None
    flow, flow_to = (
        None if given is None else given * LITRE_PER_MINUTE for given in (goal.flow_l_per_min, goal.flow_to_l_per_min)
    )
    windows = [(goal.from_hour, goal.to_hour), *((each.from_hour, each.to_hour) for each in goal.more_windows)]
    return Goal(
        jet=goal.jet_height_m,
        flow=flow,
        windows=tuple(sorted(windows)),
        months=tuple(sorted(goal.months)),
        day_share=goal.days_out_of_ten / 10,
        window_share=goal.window_share_pct / 100,
        jet_to=goal.jet_height_to_m,
        flow_to=flow_to,
    )
