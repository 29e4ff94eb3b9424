"""From a pump's published points, or its box label, to the curves h and J at speed ratio 1.

Each published point was taken at rated voltage, where a motor turns faster the less it is loaded; it is
first reduced to s = 1 by its own speed ratio (V - I R)/E, then h and J run as monotone curves through
the reduced points (piecewise cubic, so that every point is met and none overshot).

The top of a curve may be flat, as many are printed: where our own guess of the winding would make the reduced curve
rise, the guess is lowered until the curve falls; heads that stay equal, or rise a little, are laid a little lower.
"""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import PchipInterpolator

from sizing.electric.motor import Motor, MotorLabel, motor_current, motor_model, no_load_at_speed, speed_at_voltage
from sizing.foundation.errors import Note, input_error
from sizing.hydraulic.pump import Numeric, Pump, flow_at_speed, head_at_speed, hydraulic_power, wire_to_water_efficiency

Curves = tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]

BEST_EFFICIENCY_LIMIT = 0.60
"""[1] No garden pump turns more of its electricity into lifted water; small ones reach 0.05 to 0.35."""
POOREST_EFFICIENCY = 0.01
LOWEST_HEAD = 1e-6
"""[1] A head at the last point below this share of the first is the end of the curve."""
FLAT_RISE = 0.05
"""[1] A head that rises by no more than this share of the highest from one point to the next is a flat top, not a slip."""
FLAT_FALL = 0.005
"""[1] Share of the highest head by which a flat top is taken to fall from one point to the next."""
LEFT_OF_FALL = 0.05
"""[1] An assumed winding is lowered until the reduced curve keeps this share of each fall of the published one."""
HALVINGS = 40
SHUT_OFF_LOAD_SHARE = 0.60
"""[1] Load current at shut-off over load current at full flow, for a pump known by its box only."""


def pump_from_points(
    name: str,
    motor: MotorLabel,
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
        the best state turns more than 60 % of the electricity into lifted water, or the water takes more
        power than the shaft has.
    """
    check_points(flow, head, pointer)
    head, notes = laid_to_fall(name, head, pointer)
    model, of_motor = motor_model(motor, current, pointer)
    reduced = at_one_speed(motor, model, (flow, head, current))
    if not falls(reduced) and motor.winding_resistance is None:
        label = replace(motor, winding_resistance=falling_resistance(motor, model, (flow, head, current)))
        model, of_motor = motor_model(label, current, pointer)
        of_motor = (assumption_winding_lowered(name, model.winding_resistance, pointer), *of_motor)
        reduced = at_one_speed(motor, model, (flow, head, current))
    if not falls(reduced):
        detail = (
            f"the points of pump {name} no longer form one falling curve once they are brought to one speed; the winding "
            f"resistance of {model.winding_resistance:.3g} ohm is too large for these currents; check it and the currents"
        )
        raise input_error(f"{pointer}/points", "curve_rises", detail)
    notes += of_motor
    if flow[0] > 0:
        notes += (assumption_no_shut_off(name, pointer),)
    if head[-1] > LOWEST_HEAD * head[0]:
        notes += (assumption_run_out(name, pointer),)
    pump = assemble(name, motor, model, extrapolate_curve(*reduced), notes)
    return check_efficiency(pump, motor, (reduced[0][0], reduced[0][-1]), density, pointer, "points")


def pump_from_label(
    name: str,
    motor: MotorLabel,
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
    full_load = rated_current - model.no_load_current
    share = np.linspace(0.0, 1.0, 41)
    load = full_load * (SHUT_OFF_LOAD_SHARE + (1 - SHUT_OFF_LOAD_SHARE) * share)
    shut_off_speed = rated_speed(motor, model, load[0])
    curves = (share * max_flow, max_head / shut_off_speed**2 * (1 - share**2), load)
    pump = assemble(name, motor, model, curves, (*notes, assumption_box_label(name, pointer)))
    return check_efficiency(pump, motor, (0.0, max_flow), density, pointer, "max_flow_l_per_min")


def held_at_one_speed(motor: MotorLabel) -> MotorLabel:
    """The label of a pump whose electronics hold its speed: no winding and no-load current of their own are computed, so
    that its points, or its box, hold as they are."""
    return replace(motor, winding_resistance=0.0, no_load_current=0.0, starting_current=0.0)


def rated_speed(motor: MotorLabel, model: Motor, load_current: Numeric) -> NDArray[np.float64]:
    """Speed ratio at rated voltage for a load current that is given at speed ratio 1."""
    turning = model.viscous_share * model.no_load_current
    emf = model.back_emf + turning * model.winding_resistance
    electrical = (emf, model.winding_resistance, model.no_load_current - turning)
    return np.asarray(speed_at_voltage(motor.rated_voltage, *electrical, load_current))


def at_one_speed(motor: MotorLabel, model: Motor, points: Curves) -> Curves:
    """Flow, head and load current of points taken at rated voltage, brought to speed ratio 1; ``points`` hold currents."""
    flow, head, current = points
    speed = (motor.rated_voltage - current * model.winding_resistance) / model.back_emf
    no_load = no_load_at_speed(model.no_load_current, model.viscous_share, speed)
    return flow / speed, head / speed**2, np.asarray((current - no_load) / speed**2)


def falls(curves: Curves) -> bool:
    """Whether the flow rises and the head falls from each point to the next."""
    return bool(np.all(np.diff(curves[0]) > 0) and np.all(np.diff(curves[1]) < 0))


def falling_resistance(motor: MotorLabel, model: Motor, points: Curves) -> float:
    """Largest winding resistance [ohm] up to the assumed one that leaves a falling curve at one speed.

    Without resistance a motor turns alike at every current, so the published points fall as they are.
    """
    rated = float(points[2][-1])

    def keeps_falling(resistance: float) -> bool:
        tried = replace(model, winding_resistance=resistance, back_emf=motor.rated_voltage - rated * resistance)
        if tried.back_emf <= 0:
            return False
        flow, head, _ = at_one_speed(motor, tried, points)
        steps = np.diff(flow) - LEFT_OF_FALL * np.diff(points[0]), LEFT_OF_FALL * np.diff(points[1]) - np.diff(head)
        return bool(min(np.min(step) for step in steps) >= 0)

    low, high = 0.0, model.winding_resistance
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if keeps_falling(middle) else (low, middle)
    return low


def laid_to_fall(name: str, head: NDArray[np.float64], pointer: str) -> tuple[NDArray[np.float64], tuple[Note, ...]]:
    """Heads that fall from point to point: one that is equal to the head before it, or a little higher, is laid lower.

    Examples
    --------
    >>> laid_to_fall("trial", np.array([3.0, 3.0, 2.8]), "#/pumps/0")[0]
    array([3.   , 2.985, 2.8  ])
    """
    laid = head.copy()
    for i in range(1, len(head)):
        if laid[i] >= laid[i - 1]:
            laid[i] = max(laid[i - 1] - FLAT_FALL * np.max(head), 0.5 * laid[i - 1])
    return laid, () if np.array_equal(laid, head) else (assumption_flat_top(name, pointer),)


def check_points(flow: NDArray[np.float64], head: NDArray[np.float64], pointer: str) -> None:
    """Refuse points whose flow does not rise or whose head rises by more than a flat top does, naming the point."""
    if len(flow) < 2:
        detail = f"a pump curve needs at least 2 points and {len(flow)} is given; add one, or give the box label instead"
        raise input_error(f"{pointer}/points", "too_few_points", detail, 2)
    for i in range(1, len(flow)):
        if flow[i] <= flow[i - 1]:
            detail = (
                f"point {i + 1} of the pump curve has {flow[i] * 6e4:.4g} L/min after {flow[i - 1] * 6e4:.4g} L/min; "
                "the flow must rise from point to point; sort the points and remove doubles"
            )
            raise input_error(f"{pointer}/points/{i}/flow_l_per_min", "flow_not_rising", detail)
        lowest = float(np.min(head[:i]))
        level_to_the_end = i == len(head) - 1 and head[i] >= head[0]
        if head[i] - lowest > FLAT_RISE * np.max(head) or head[i] == lowest == 0 or level_to_the_end:
            detail = (
                f"point {i + 1} of the pump curve has a head of {head[i]:.4g} m after {lowest:.4g} m; "
                "the head must not rise with the flow; check for swapped numbers"
            )
            raise input_error(f"{pointer}/points/{i}/head_m", "curve_rises", detail)


def check_efficiency(pump: Pump, motor: MotorLabel, given: tuple[float, float], density: float, pointer: str, field: str) -> Pump:
    """The pump with its best efficiency; a perpetual-motion label is refused, a doubtful one warned of.

    Parameters
    ----------
    given : flows at speed ratio 1 [m3/s] between which the label speaks; beyond, the curve was continued
    """
    best, shaft = best_shares(pump, motor, given, density)
    if best > BEST_EFFICIENCY_LIMIT:
        detail = (
            f"the pump would turn {100 * best:.0f} % of its electricity into lifted water; small pumps reach 5 to 35 % and "
            "60 % is the limit here; check flow (litres per minute?), head and current"
        )
        raise input_error(f"{pointer}/{field}", "too_efficient", detail, maximum=BEST_EFFICIENCY_LIMIT)
    if shaft > 1:
        detail = (
            f"the water of pump {pump.name} would take {shaft:.3g} times the power that its motor's shaft gives; a winding of "
            f"{pump.motor.winding_resistance:.3g} ohm or a no-load current of {pump.motor.no_load_current:.3g} A is too large; "
            "measure both again"
        )
        raise input_error(f"{pointer}/winding_resistance_ohm", "shaft_too_weak", detail)
    notes = pump.notes
    if best < POOREST_EFFICIENCY:
        notes += (poor_pump(pump.name, best, f"{pointer}/{field}"),)
    beyond, shaft_beyond = best_shares(pump, motor, (0.0, pump.largest_flow), density)
    if beyond > BEST_EFFICIENCY_LIMIT or shaft_beyond > 1:
        notes += (run_out_too_good(pump.name, f"{pointer}/{field}"),)
    return replace(pump, best_efficiency=best, notes=notes)


def best_shares(pump: Pump, motor: MotorLabel, span: tuple[float, float], density: float) -> tuple[float, float]:
    """Largest power of the water, as a share of the electricity at rated voltage, and of the shaft's power.

    Parameters
    ----------
    span : flows at speed ratio 1 [m3/s], between the points too
    """
    state = np.union1d(pump.flow[(pump.flow >= span[0]) & (pump.flow <= span[1])], np.linspace(*span, 101))
    load = pump.load_curve(state)
    speed = rated_speed(motor, pump.motor, load)
    current = motor_current(no_load_at_speed(pump.motor.no_load_current, pump.motor.viscous_share, speed), speed, load)
    lifted = hydraulic_power(density, flow_at_speed(state, speed), head_at_speed(pump.head_curve(state), speed))
    shaft = speed**3 * pump.motor.back_emf * load
    electricity = wire_to_water_efficiency(lifted, motor.rated_voltage, current)
    return float(np.max(electricity)), float(np.max(lifted / shaft))


def extrapolate_curve(flow: NDArray[np.float64], head: NDArray[np.float64], load: NDArray[np.float64]) -> Curves:
    """Carry reduced points to shut-off (parabola of the first two) and to zero head (last slope)."""
    if flow[0] > 0:
        fall = (head[0] - head[1]) / (flow[1] ** 2 - flow[0] ** 2)
        slope = (load[1] - load[0]) / (flow[1] - flow[0])
        flow, head = np.insert(flow, 0, 0.0), np.insert(head, 0, head[0] + fall * flow[0] ** 2)
        load = np.insert(load, 0, max(load[0] - slope * flow[1], 0.2 * load[0]))
    if head[-1] <= LOWEST_HEAD * head[0]:
        head = np.append(head[:-1], 0.0)
    else:
        step = head[-1] * (flow[-1] - flow[-2]) / (head[-2] - head[-1])
        slope = (load[-1] - load[-2]) / (flow[-1] - flow[-2])
        load = np.append(load, max(load[-1] + slope * step, 0.2 * load[-1]))
        flow, head = np.append(flow, flow[-1] + step), np.append(head, 0.0)
    return flow, head, load


def assemble(name: str, motor: MotorLabel, model: Motor, curves: Curves, notes: tuple[Note, ...]) -> Pump:
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
        end_slope=float((head[-1] - head[-2]) / (flow[-1] - flow[-2])),
        best_efficiency=0.0,
        notes=notes,
    )


def assumption_winding_lowered(name: str, resistance: float, pointer: str) -> Note:
    text = (
        f"The curve of pump {name} is flat at the top, so its winding resistance is assumed to be only {resistance:.2g} ohm; "
        "with the usual one the curve would rise. Measure the winding to know."
    )
    return Note("winding_lowered", "info", text, f"{pointer}/winding_resistance_ohm")


def assumption_flat_top(name: str, pointer: str) -> Note:
    text = (
        f"The head of pump {name} stays level or rises a little from one point to the next; it is taken to fall by "
        f"{100 * FLAT_FALL:g} % of the highest head there, which counts a little less water."
    )
    return Note("flat_top", "info", text, f"{pointer}/points")


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


def run_out_too_good(name: str, pointer: str) -> Note:
    text = (
        f"Beyond its last point the curve of pump {name}, continued in a straight line, would lift more water than its "
        "electricity allows; flows beyond that point are too high; add points."
    )
    return Note("run_out_too_good", "warning", text, pointer)
