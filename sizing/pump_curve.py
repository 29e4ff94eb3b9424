"""From a pump's published points, or its box label, to the curves h and J at speed ratio 1.

Each published point was taken at rated voltage, where a motor turns faster the less it is loaded; it is
first reduced to s = 1 by its own speed ratio (V - I R)/E, then h and J run as monotone curves through
the reduced points (piecewise cubic, so that every point is met and none overshot).
"""

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import PchipInterpolator

from sizing.errors import Note, refuse
from sizing.motor import Motor, MotorModel, motor_model
from sizing.pump import Numeric, Pump, hydraulic_power, wire_to_water_efficiency

Curves = tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]

BEST_EFFICIENCY_LIMIT = 0.60
"""[1] No garden pump turns more of its electricity into lifted water; small ones reach 0.05 to 0.35."""
POOREST_EFFICIENCY = 0.01
SHUT_OFF_LOAD_SHARE = 0.60
"""[1] Load current at shut-off over load current at full flow, for a pump known by its box only."""


def pump_from_points(
    name: str,
    motor: Motor,
    flow: NDArray[np.float64],
    head: NDArray[np.float64],
    current: NDArray[np.float64],
    density: float,
    pointer: str = "#/pumps/0",
) -> Pump:
    """Build a pump from points taken at rated voltage.

    Parameters
    ----------
    flow, head, current : (points,) [m3/s, m, A], two or more, flow rising, head falling
    density : water [kg/m3], for the efficiency check only

    Raises
    ------
    InputError
        if the head does not fall, a current is below no-load, the winding would take all the voltage,
        or the best point turns more than 60 % of the electricity into lifted water.
    """
    check_points(flow, head, pointer)
    model, notes = motor_model(motor, current, pointer)
    efficiency = best_efficiency(motor.rated_voltage, flow, head, current, density, pointer)
    if efficiency < POOREST_EFFICIENCY:
        notes += (poor_pump(name, efficiency, pointer),)
    speed = (motor.rated_voltage - current * model.winding_resistance) / model.back_emf
    reduced = complete(flow / speed, head / speed**2, (current - model.no_load_current) / speed**2)
    if np.any(np.diff(reduced[1]) >= 0):
        detail = (
            f"the head of pump {name} no longer falls once its points are brought to one speed; the winding resistance of "
            f"{model.winding_resistance:.3g} ohm is too large for these currents; check it and the currents"
        )
        raise refuse(f"{pointer}/points", "curve_rises", detail)
    if flow[0] > 0:
        notes += (assumption_no_shut_off(name, pointer),)
    if head[-1] > 0:
        notes += (assumption_run_out(name, pointer),)
    return assemble(name, motor, model, reduced, efficiency, notes)


def pump_from_label(
    name: str,
    motor: Motor,
    max_head: float,
    max_flow: float,
    rated_current: float,
    density: float,
    pointer: str = "#/pumps/0",
) -> Pump:
    """Build a pump from what its box says: highest head [m], largest flow [m3/s], rated current [A].

    The curve is the parabola between the two, at rated voltage; the load current rises in a straight
    line from 60 % at shut-off. Both are assumptions and are noted as such.
    """
    model, notes = motor_model(motor, np.array([rated_current]), pointer)
    resistance, no_load, back_emf = model.winding_resistance, model.no_load_current, model.back_emf
    full_load = rated_current - no_load
    shut_off_load = SHUT_OFF_LOAD_SHARE * full_load
    # At shut-off, rated voltage: V = s E + R (I0 + s² J), a quadratic in s.
    root = np.sqrt(back_emf**2 + 4 * resistance * shut_off_load * (motor.rated_voltage - resistance * no_load))
    speed = (root - back_emf) / (2 * resistance * shut_off_load) if resistance > 0 else 1.0
    share = np.linspace(0.0, 1.0, 41)
    flow = share * max_flow
    head = max_head / speed**2 * (1 - share**2)
    load = full_load * (SHUT_OFF_LOAD_SHARE + (1 - SHUT_OFF_LOAD_SHARE) * share)
    voltage = back_emf + (no_load + load) * resistance
    efficiency = best_efficiency(voltage, flow, head, no_load + load, density, pointer)
    notes += (assumption_box_label(name, pointer),)
    if efficiency < POOREST_EFFICIENCY:
        notes += (poor_pump(name, efficiency, pointer),)
    return assemble(name, motor, model, (flow, head, load), efficiency, notes)


def check_points(flow: NDArray[np.float64], head: NDArray[np.float64], pointer: str) -> None:
    """Refuse points whose flow does not rise or whose head does not fall, naming the point."""
    if len(flow) < 2:
        detail = f"a pump curve needs at least 2 points and {len(flow)} is given; add one, or give the box label instead"
        raise refuse(f"{pointer}/points", "too_few_points", detail, 2)
    for i in range(1, len(flow)):
        if flow[i] <= flow[i - 1]:
            detail = (
                f"point {i + 1} of the pump curve has {flow[i] * 6e4:.4g} L/min after {flow[i - 1] * 6e4:.4g} L/min; "
                "the flow must rise from point to point; sort the points and remove doubles"
            )
            raise refuse(f"{pointer}/points/{i}/flow_l_per_min", "flow_not_rising", detail)
        if head[i] >= head[i - 1]:
            detail = (
                f"point {i + 1} of the pump curve has a head of {head[i]:.4g} m after {head[i - 1]:.4g} m; "
                "the head must fall as the flow rises; check for swapped numbers"
            )
            raise refuse(f"{pointer}/points/{i}/head_m", "curve_rises", detail)


def best_efficiency(
    voltage: Numeric,
    flow: NDArray[np.float64],
    head: NDArray[np.float64],
    current: NDArray[np.float64],
    density: float,
    pointer: str,
) -> float:
    """Best wire-to-water efficiency among the points; refuse a perpetual-motion label."""
    best = float(np.max(wire_to_water_efficiency(hydraulic_power(density, flow, head), voltage, current)))
    if best > BEST_EFFICIENCY_LIMIT:
        detail = (
            f"the pump would turn {100 * best:.0f} % of its electricity into lifted water; small pumps reach 5 to 35 % and "
            "60 % is the limit here; check flow (litres per minute?), head and current"
        )
        raise refuse(f"{pointer}/points", "too_efficient", detail, maximum=BEST_EFFICIENCY_LIMIT)
    return best


def complete(flow: NDArray[np.float64], head: NDArray[np.float64], load: NDArray[np.float64]) -> Curves:
    """Carry reduced points to shut-off (parabola of the first two) and to zero head (last slope)."""
    if flow[0] > 0:
        fall = (head[0] - head[1]) / (flow[1] ** 2 - flow[0] ** 2)
        slope = (load[1] - load[0]) / (flow[1] - flow[0])
        flow, head = np.insert(flow, 0, 0.0), np.insert(head, 0, head[0] + fall * flow[0] ** 2)
        load = np.insert(load, 0, max(load[0] - slope * flow[1], 0.2 * load[0]))
    if head[-1] > 0:
        step = head[-1] * (flow[-1] - flow[-2]) / (head[-2] - head[-1])
        slope = (load[-1] - load[-2]) / (flow[-1] - flow[-2])
        load = np.append(load, max(load[-1] + slope * step, 0.2 * load[-1]))
        flow, head = np.append(flow, flow[-1] + step), np.append(head, 0.0)
    return flow, head, load


def assemble(name: str, motor: Motor, model: MotorModel, curves: Curves, efficiency: float, notes: tuple[Note, ...]) -> Pump:
    """Put the curves and the motor together."""
    flow, head, load = curves
    return Pump(
        name=name,
        rated_voltage=motor.rated_voltage,
        lowest_voltage=motor.lowest_voltage,
        highest_voltage=motor.highest_voltage,
        motor=model,
        flow=flow,
        head=head,
        load_current=load,
        head_curve=PchipInterpolator(flow, head),
        load_curve=PchipInterpolator(flow, load),
        best_efficiency=efficiency,
        notes=notes,
    )


def assumption_no_shut_off(name: str, pointer: str) -> Note:
    text = f"Pump {name} has no point at zero flow; its shut-off head is continued as a parabola from the first two points."
    return Note("shut_off_continued", "info", text, f"{pointer}/points/0")


def assumption_run_out(name: str, pointer: str) -> Note:
    text = f"Pump {name} has no point at zero head; beyond its last point the curve is continued in a straight line."
    return Note("run_out_continued", "info", text, f"{pointer}/points")


def assumption_box_label(name: str, pointer: str) -> Note:
    text = (
        f"Pump {name} is known by its box only: head falls as a parabola from the highest head to the largest flow, and the "
        "current at shut-off is taken as 60 % of full load. A few measured points would replace this guess."
    )
    return Note("box_label_curve", "info", text, pointer)


def poor_pump(name: str, efficiency: float, pointer: str) -> Note:
    text = (
        f"Pump {name} turns at best {100 * efficiency:.2g} % of its electricity into lifted water, less than 1 %; "
        "check that flow is in litres per minute, head in metres and current in amperes."
    )
    return Note("poor_efficiency", "warning", text, pointer)
