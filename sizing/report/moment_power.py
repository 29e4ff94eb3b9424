"""The electrical half of a moment's working: panel, cable and motor, and where their curves cross."""

import numpy as np

from sizing.design.design import ControllerConnection, Design
from sizing.electric.motor import motor_current, motor_voltage
from sizing.electric.panel import current_at_voltage, maximum_power
from sizing.electric.single_diode import (
    at_conditions,
    junction_current,
    light_current,
    saturation_current,
    shunt_conductance,
    thermal_voltage,
)
from sizing.electric.wiring import loop_resistance, resistance_per_length, voltage_drop
from sizing.foundation.units import SQUARE_MILLIMETRE
from sizing.foundation.working import Worked, assumed, by_method, formula, given, solved, work
from sizing.fountain.components import Fountain
from sizing.hydraulic.power_points import cut_in_power
from sizing.hydraulic.pump import (
    head_at_speed,
    hydraulic_power,
    lift_speed,
    pump_load_current,
    state_flow,
    wire_to_water_efficiency,
)
from sizing.hydraulic.water import density
from sizing.operation.operating_point import OperatingPoints, State, own_electronics

Roots = tuple[Worked, ...]


@formula("motor_voltage + voltage_drop", unit="V", source="ohms_law")
def supply_voltage(motor_voltage: float, voltage_drop: float) -> float:
    """Voltage at the panel's (or the controller's) terminals [V]: the motor's and what the cable keeps.

    Examples
    --------
    >>> supply_voltage(11.9, 0.14)
    12.04
    """
    return motor_voltage + voltage_drop


@formula("panel_voltage + panel_current * series_resistance", unit="V", source="de_soto_2006")
def junction_voltage(panel_voltage: float, panel_current: float, series_resistance: float) -> float:
    """Voltage at the cells' junctions [V], behind the panel's series resistance.

    Examples
    --------
    >>> junction_voltage(12.04, 0.87, 0.9)
    12.823
    """
    return panel_voltage + panel_current * series_resistance


@formula("voltage * current", unit="W", source="ohms_law")
def electric_power(voltage: float, current: float) -> float:
    """Power that passes at a voltage and current [W].

    Examples
    --------
    >>> electric_power(12.04, 0.87)
    10.4748
    """
    return voltage * current


@formula("efficiency * panel_power", unit="W", source="ohms_law")
def controller_output(efficiency: float, panel_power: float) -> float:
    """Power that a controller passes on [W].

    Examples
    --------
    >>> controller_output(0.92, 14.5)
    13.34
    """
    return efficiency * panel_power


@formula("power / voltage", unit="A", source="ohms_law")
def current_of_power(power: float, voltage: float) -> float:
    """Current with which a power is taken at a voltage [A].

    Examples
    --------
    >>> current_of_power(10.08, 12.6)
    0.8
    """
    return power / voltage


@formula("voltage_drop / supply_voltage", unit="1", source="ohms_law")
def lost_share(voltage_drop: float, supply_voltage: float) -> float:
    """Share of the supply's voltage that the cable keeps.

    Examples
    --------
    >>> lost_share(0.14, 12.04)
    0.0116
    """
    return voltage_drop / supply_voltage


def supply_stations(
    design: Design, fountain: Fountain, found: OperatingPoints, light: Worked, warmth: Worked
) -> tuple[Roots, Roots, Worked, Worked]:
    """Panel and wire at the moment, and the speed and flow that were found.

    Parameters
    ----------
    light, warmth : worked effective irradiance and cell temperature
    """
    speed = by_method(
        "speed_ratio",
        float(found.speed[0]),
        "1",
        "motor_equations",
        searched(fountain),
    )
    flow = by_method("flow", float(found.flow[0]), "m3/s", "affinity_laws", "Found with the speed, by the same search.")
    current, voltage = motor_demand(design, fountain, found, speed)
    resistance = cable(design)
    drop = work(voltage_drop, current=current, resistance=resistance)
    terminal = work(supply_voltage, motor_voltage=voltage, voltage_drop=drop)
    wire = (work(lost_share, voltage_drop=drop, supply_voltage=terminal), drop, resistance)
    if fountain.supply.controller_efficiency is None:
        panel = direct_panel(fountain, light, warmth, terminal, current)
    else:
        panel = controlled_panel(design, fountain, light, warmth, terminal, current)
    return panel, wire, speed, flow


def searched(fountain: Fountain) -> str:
    """How speed and flow were found, in one sentence."""
    if fountain.pump.table is not None:
        return "The pump's speed is not known: its power over the largest published, found by search."
    if own_electronics(fountain.pump):
        return "The pump's electronics hold its speed wherever the panel's power is enough."
    both = "panel and motor agree on volts and amperes, and pump and pipe on head and flow"
    return f"Found by search: the one speed at which {both}."


def motor_demand(design: Design, fountain: Fountain, found: OperatingPoints, speed: Worked) -> tuple[Worked, Worked]:
    """Current and voltage at the motor; where the pump does not run, those at which the curves would cross."""
    motor = fountain.pump.motor
    if fountain.pump.table is not None or own_electronics(fountain.pump):
        return power_demand(fountain, found)
    if found.speed[0] <= 0:
        why = "Where the panel's curve and the load line cross, although the pump does not turn there."
        return (
            by_method("motor_current", float(found.current[0]), "A", "motor_equations", why),
            by_method("motor_voltage", float(found.voltage[0]), "V", "motor_equations", why),
        )
    load = by_method(
        "load_current",
        float(pump_load_current(fountain.pump, float(found.flow[0]), float(found.speed[0]))),
        "A",
        "motor_equations",
        "Read from the pump's own curve, brought to speed ratio 1, at the flow over the speed ratio.",
    )
    no_load = electrical(fountain, "no_load_current")
    current = work(motor_current, no_load_current=no_load, speed=speed, load_current=load)
    emf = by_method(
        "back_emf",
        motor.back_emf,
        "V",
        "motor_equations",
        "Rated voltage less the winding's drop at rated current.",
        rated_voltage=given("rated_voltage", fountain.pump.rated_voltage, "V"),
        rated_current=given("rated_current", motor.rated_current, "A"),
        winding_resistance=electrical(fountain, "winding_resistance"),
    )
    voltage = work(
        motor_voltage, speed=speed, back_emf=emf, current=current, winding_resistance=electrical(fountain, "winding_resistance")
    )
    return current, voltage


def power_demand(fountain: Fountain, found: OperatingPoints) -> tuple[Worked, Worked]:
    """Current and voltage of a pump that is known by its power, or whose electronics hold its speed."""
    pump, watts = fountain.pump, float(found.voltage[0] * found.current[0])
    if not own_electronics(pump):
        why = "The published voltage at this power and head, straight between your power points; found by search."
    elif fountain.supply.controller_efficiency is not None:
        why = "The controller gives the pump's electronics their rated voltage."
    else:
        why = "Found by search: its electronics hold the panel where it gives the power that the pump takes."
    told = "The power of the points at this flow and head." if pump.table is None else "Read between your power points."
    power = by_method("pump_power", watts, "W", "common_practice", told)
    voltage = by_method("motor_voltage", float(found.voltage[0]), "V", "common_practice", why)
    if found.voltage[0] <= 0:
        return by_method("motor_current", 0.0, "A", "ohms_law", "Without volts no current."), voltage
    return work(current_of_power, power=power, voltage=voltage), voltage


def electrical(fountain: Fountain, name: str) -> Worked:
    """A motor value: given where the label has it, assumed where it is silent (or raised to what the motor needs)."""
    value, unit = getattr(fountain.pump.motor, name), "Ohm" if name == "winding_resistance" else "A"
    field = {"winding_resistance": "winding_resistance_ohm", "no_load_current": "no_load_current_a"}.get(name, f"{name}_a")
    if getattr(fountain.pump_input, field) != value:
        return assumed(name, value, unit, "common_practice")
    if fountain.pump_input.measured is not None:
        return Worked(name, value, unit, "measured")
    return given(name, value, unit)


def cable(design: Design) -> Worked:
    """Resistance of the cable, out and back."""
    one_core = by_method(
        "resistance_per_length",
        resistance_per_length(design.cable.area_mm2 * SQUARE_MILLIMETRE),
        "Ohm/m",
        "iec_60228",
        "Read from the table of flexible copper conductors at 20 °C.",
        area=given("conductor_area", design.cable.area_mm2, "mm2"),
    )
    warm = design.cable.conductor_temperature_c
    known = "conductor_temperature_c" in design.cable.model_fields_set
    temperature = (
        given("conductor_temperature", warm, "Cel") if known else assumed("conductor_temperature", warm, "Cel", "common_practice")
    )
    length = given("cable_length", design.cable.length_m, "m")
    return work(loop_resistance, length=length, resistance_per_length=one_core, conductor_temperature=temperature)


def label_parameter(fountain: Fountain, name: str, unit: str) -> Worked:
    """One of the five parameters that were fitted to the panel's label."""
    panel = fountain.panel_input
    return by_method(
        f"reference_{name}" if name != "series_resistance" else name,
        getattr(fountain.supply.panel, name),
        unit,
        "batzelis_2016",
        "Fitted to the label: the curve passes through its open-circuit, short-circuit and maximum-power points.",
        voltage_at_maximum_power=given("voltage_at_maximum_power", panel.vmp_v, "V"),
        current_at_maximum_power=given("current_at_maximum_power", panel.imp_a, "A"),
        open_circuit_voltage=given("open_circuit_voltage", panel.voc_v, "V"),
        short_circuit_current=given("short_circuit_current", panel.isc_a, "A"),
    )


def direct_panel(fountain: Fountain, light: Worked, warmth: Worked, terminal: Worked, current: Worked) -> Roots:
    """Panel joined to the motor: its current at the terminal voltage equals the motor's."""
    inner = work(
        junction_voltage,
        panel_voltage=terminal,
        panel_current=current,
        series_resistance=label_parameter(fountain, "series_resistance", "Ohm"),
    )
    from_panel = work(junction_current, **worked_diode(fountain, light, warmth), junction_voltage=inner)
    power = work(electric_power, voltage=terminal, current=current)
    agreement = solved("panel_and_motor_agree", current.value, "A", "motor_equations", from_panel, current)
    return power, terminal, agreement


def worked_diode(fountain: Fountain, light: Worked, warmth: Worked) -> dict[str, Worked]:
    """The panel's diode under a sun and at a cell temperature, as ``junction_current`` takes it."""
    per_kelvin, told = (
        fountain.supply.panel.isc_temperature_coefficient,
        "The label's per cent of the array's short-circuit current.",
    )
    coefficient = by_method("isc_temperature_coefficient", per_kelvin, "A/K", "de_soto_2006", told)
    return {
        "light_current": work(
            light_current,
            reference_light_current=label_parameter(fountain, "light_current", "A"),
            isc_temperature_coefficient=coefficient,
            irradiance=light,
            cell_temperature=warmth,
        ),
        "saturation_current": work(
            saturation_current,
            reference_saturation_current=label_parameter(fountain, "saturation_current", "A"),
            cell_temperature=warmth,
        ),
        "shunt_conductance": work(
            shunt_conductance, shunt_resistance=label_parameter(fountain, "shunt_resistance", "Ohm"), irradiance=light
        ),
        "thermal_voltage": work(
            thermal_voltage,
            reference_thermal_voltage=label_parameter(fountain, "thermal_voltage", "V"),
            cell_temperature=warmth,
        ),
    }


def controlled_panel(
    design: Design, fountain: Fountain, light: Worked, warmth: Worked, terminal: Worked, current: Worked
) -> Roots:
    """Panel behind a controller: what it passes on covers what the motor and the cable take."""
    sun = at_conditions(fountain.supply.panel, light.value, warmth.value)
    most, best_voltage, _ = maximum_power(sun)
    connection = design.connection
    share = fountain.supply.controller_efficiency or 1.0
    known = isinstance(connection, ControllerConnection) and "efficiency_pct" in connection.model_fields_set
    efficiency = given("efficiency", share, "1") if known else assumed("efficiency", share, "1", "common_practice")
    taken = work(electric_power, voltage=terminal, current=current)
    if not fountain.supply.steps_up and terminal.value > best_voltage:
        passed = by_method(
            "panel_current",
            float(np.asarray(current_at_voltage(sun, terminal.value))),
            "A",
            "de_soto_2006",
            "Current of the panel at the voltage that motor and cable need, which is above its maximum-power voltage.",
            voltage=terminal,
            irradiance=light,
            cell_temperature=warmth,
        )
        power = work(electric_power, voltage=terminal, current=passed)
        at = by_method(
            "panel_voltage",
            terminal.value,
            "V",
            "ohms_law",
            "A step-down controller cannot raise the voltage: panel and motor are at one voltage.",
        )
        return taken, at, work(controller_output, efficiency=efficiency, panel_power=power)
    largest = by_method(
        "maximum_power",
        float(np.asarray(most)),
        "W",
        "de_soto_2006",
        "Top of the panel's power curve at this sun and cell temperature.",
        irradiance=light,
        cell_temperature=warmth,
    )
    offered = work(controller_output, efficiency=efficiency, panel_power=largest)
    at = by_method(
        "panel_voltage",
        float(np.asarray(best_voltage)),
        "V",
        "de_soto_2006",
        "Where the controller holds the panel: its maximum power.",
    )
    return taken, at, offered


def pump_station(design: Design, fountain: Fountain, found: OperatingPoints, state: State, speed: Worked, flow: Worked) -> Roots:
    """Speed first; then what the pump lifts, or why it does not. Without a known speed the power stands in its place."""
    pump = fountain.pump
    if pump.table is not None:
        return power_station(design, fountain, found, state, flow)
    lift = given("lift", fountain.waterway.outlet.height, "m")
    why = "Head without flow, from the pump's points, brought to speed ratio 1."
    shut_off = by_method("shut_off_head", pump.shut_off_head, "m", "affinity_laws", why)
    needed = work(lift_speed, lift=lift, shut_off_head=shut_off)
    if state < State.PLAYS:
        lowest = given("lowest_voltage", pump.lowest_voltage, "V")
        return (speed, needed, lowest, electrical(fountain, "starting_current"))
    head = pump_head_worked(fountain, found, speed)
    water = work(density, temperature=water_temperature(design))
    lifted = work(hydraulic_power, density=water, flow=flow, head=head)
    volts = by_method("voltage", float(found.voltage[0]), "V", "motor_equations", "At the motor's terminals, see wire.")
    amperes = by_method("current", float(found.current[0]), "A", "motor_equations", "In the motor, see panel.")
    return speed, work(wire_to_water_efficiency, hydraulic_power=lifted, voltage=volts, current=amperes), head, needed


def power_station(design: Design, fountain: Fountain, found: OperatingPoints, state: State, flow: Worked) -> Roots:
    """Power first; then what the pump lifts, or from which power on it would."""
    pump, lift = fountain.pump, fountain.waterway.outlet.height
    assert pump.table is not None
    watts = float(found.voltage[0] * found.current[0])
    power = by_method("pump_power", watts, "W", "common_practice", "Volts times amperes at the pump, see wire.")
    highest = given("highest_published_head", float(pump.table.heads[-1]), "m")
    if lift > highest.value:
        return power, highest, given("lift", lift, "m")
    why = "From which power on water comes against the lift: straight between the heads of your power points."
    begin = by_method("cut_in_power", cut_in_power(pump.table, lift), "W", "common_practice", why)
    if state < State.PLAYS:
        return power, begin, highest
    told = "What pipe and outlet ask at the flow that the power points give for this power, found by search; see pipe."
    head = by_method("pump_head", float(found.head[0]), "m", "hydrostatics", told)
    water = work(density, temperature=water_temperature(design))
    lifted = work(hydraulic_power, density=water, flow=flow, head=head)
    volts = by_method("voltage", float(found.voltage[0]), "V", "common_practice", "At the pump's terminals, see wire.")
    amperes = by_method("current", float(found.current[0]), "A", "ohms_law", "In the pump, see panel.")
    return power, work(wire_to_water_efficiency, hydraulic_power=lifted, voltage=volts, current=amperes), head, begin, highest


def pump_head_worked(fountain: Fountain, found: OperatingPoints, speed: Worked) -> Worked:
    """Head of the pump at the moment, from its own curve and the affinity law."""
    state = float(state_flow(float(found.flow[0]), float(found.speed[0])))
    at_rated = by_method(
        "head_at_rated_speed",
        float(fountain.pump.head_curve(min(state, fountain.pump.largest_flow))),
        "m",
        "affinity_laws",
        "Read from the pump's own curve, brought to speed ratio 1, at the flow over the speed ratio.",
    )
    return work(head_at_speed, head_at_rated_speed=at_rated, speed=speed)


def water_temperature(design: Design) -> Worked:
    """Temperature of the water, given or assumed."""
    value = design.water_temperature_c
    if "water_temperature_c" in design.model_fields_set:
        return given("water_temperature", value, "Cel")
    return assumed("water_temperature", value, "Cel", "common_practice")
