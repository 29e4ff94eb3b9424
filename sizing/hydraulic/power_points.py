"""A pump known by its flow against electrical power at a few fixed heads, as makers of solar pumps publish it.

Nothing is said of motor or speed. At each published head flow and volts run as monotone curves over the power, from
where the water begins to come (cut-in) to the largest power published. Between two heads they are read in a straight
line at the same share of the way from cut-in to largest power, so that cut-in and top lie between those of the two
heads, and a published point is met exactly. A straight line between heads asks a little more power than a real pump,
whose cut-in bends upward with head.

Nothing is continued: below the lowest published head the flow is that of the lowest head, above the highest there is
none, and beyond the largest power at a head the flow stays.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import PchipInterpolator

from sizing.electric.motor import Motor, MotorLabel, starting_current
from sizing.foundation.errors import Note, input_error
from sizing.foundation.units import LITRE_PER_MINUTE
from sizing.hydraulic.pump import Numeric, PowerTable, Pump, hydraulic_power, pump_head

Array = NDArray[np.float64]

SHARES = np.linspace(0.0, 1.0, 121) ** 2
"""[1] Shares of the way from cut-in to largest power at which each head is tabulated; closer where the water begins."""
LEAST_CUT_IN = 0.5
"""[1] Without a point at zero flow water begins at this share of the lowest published power, or later."""
MOST_EFFICIENCY = 0.75
"""[1] No small pump turns more of its electricity into lifted water; the best screw pumps reach 0.6 (from memory)."""
SLACK = 0.02
"""[1] More flow against more head than against less, up to this share, is a slip of rounding."""


@dataclass(frozen=True, eq=False)
class PowerPoints:
    """Points as they are published: head [m], power [W], flow [m3/s], and volts [V] where all points have them."""

    head: Array
    power: Array
    flow: Array
    voltage: Array | None


@dataclass(frozen=True, eq=False)
class OfHead:
    """The points of one head, power rising, from cut-in on."""

    head: float
    power: Array
    flow: Array
    voltage: Array | None
    continued: bool


def pump_from_power_points(
    name: str, motor: MotorLabel, tracks: bool, points: PowerPoints, density: float, pointer: str = "#/pumps/0"
) -> Pump:
    """Build a pump from flow against power at fixed heads.

    Parameters
    ----------
    tracks : whether its electronics hold the panel at its maximum power; else the points need volts
    density : water [kg/m3], for the efficiency check only

    Raises
    ------
    InputError
        if a head has fewer than two powers, flow or volts do not rise with power, more head gives more flow, or the
        water takes more power than the pump.
    """
    check_power(points, density, pointer)
    heads = filled(capped([of_head(points, head, pointer) for head in np.unique(points.head)]))
    check_heads(heads, points, pointer)
    table = table_of(heads)
    largest = float(table.power[:, -1].max())
    of_cut_in = [assumption_cut_in(name, each, pointer) for each in heads if each.continued]
    least_volts = 0.0 if table.voltage is None else float(table.power[0, 0] / table.voltage[0, 0])
    starting, told = starting_current(motor.starting_current, 0.0 if tracks else least_volts, pointer)
    flow, head = at_largest_power(table)
    load = np.full(len(flow), largest / motor.rated_voltage)
    return Pump(
        name=name,
        rated_voltage=motor.rated_voltage,
        lowest_voltage=motor.lowest_voltage,
        highest_voltage=motor.highest_voltage,
        motor=Motor(0.0, 0.0, starting, motor.rated_voltage, largest / motor.rated_voltage, largest / motor.rated_voltage),
        flow=flow,
        head=head,
        load_current=load,
        head_curve=PchipInterpolator(flow, head),
        load_curve=PchipInterpolator(flow, load),
        end_slope=float((head[-1] - head[-2]) / (flow[-1] - flow[-2])),
        best_efficiency=float(np.max(hydraulic_power(density, points.flow, points.head) / points.power)),
        notes=(assumption_power(name, table, pointer), *of_cut_in, *(() if tracks else told)),
        drive="tracks_power" if tracks else "dc_motor",
        table=table,
    )


def of_head(points: PowerPoints, head: float, pointer: str) -> OfHead:
    """The points of one head in the order of their power, with a cut-in if none is published.

    Of several points without flow the one of most power is the cut-in.
    """
    at = np.flatnonzero(points.head == head)
    at = at[np.argsort(points.power[at], kind="stable")]
    wet = at[points.flow[at] > 0]
    dry = at[points.flow[at] == 0]
    if len(wet) == 0 or len(at) < 2:
        detail = (
            f"the head of {head:.4g} m has {len(wet)} power{'' if len(wet) == 1 else 's'} with flow; each head needs two powers "
            "or more, one of them with flow; add one, or remove this head"
        )
        raise input_error(f"{pointer}/power_points/{int(at[0])}/power_w", "too_few_powers", detail)
    for before, after in pairwise(at):
        check_rise(points, head, int(before), int(after), pointer)
    order = np.append(dry[-1:], wet)
    power, flow = points.power[order], points.flow[order]
    volts = None if points.voltage is None else points.voltage[order]
    if len(dry) > 0:
        return OfHead(head, power, flow, volts, False)
    line = power[0] - flow[0] * (power[1] - power[0]) / (flow[1] - flow[0])
    cut_in = max(line, LEAST_CUT_IN * power[0])
    if volts is not None:
        slope = (volts[1] - volts[0]) / (power[1] - power[0])
        volts = np.append(max(volts[0] - slope * (power[0] - cut_in), LEAST_CUT_IN * volts[0]), volts)
    return OfHead(head, np.append(cut_in, power), np.append(0.0, flow), volts, True)


def check_rise(points: PowerPoints, head: float, before: int, after: int, pointer: str) -> None:
    """Refuse a power that is given twice at a head, or more power with less flow or fewer volts."""
    where = f"{pointer}/power_points/{after}"
    power = f"{points.power[after]:.4g} W against {head:.4g} m"
    if points.power[after] <= points.power[before]:
        detail = f"{power} is given twice; one power has one flow; remove one of the two"
        raise input_error(f"{where}/power_w", "power_doubled", detail)
    less, more = points.flow[before] / LITRE_PER_MINUTE, points.flow[after] / LITRE_PER_MINUTE
    if more < less or more == less > 0:
        detail = (
            f"{power} gives {more:.4g} L/min and {points.power[before]:.4g} W gives {less:.4g} L/min; the flow must rise with "
            "the power; check for swapped numbers"
        )
        raise input_error(f"{where}/flow_l_per_min", "flow_not_rising", detail)
    if points.voltage is not None and points.voltage[after] <= points.voltage[before]:
        detail = (
            f"{power} is at {points.voltage[after]:.4g} V and {points.power[before]:.4g} W at {points.voltage[before]:.4g} V; "
            "the volts must rise with the power; check both"
        )
        raise input_error(f"{where}/voltage_v", "voltage_not_rising", detail)


def check_power(points: PowerPoints, density: float, pointer: str) -> None:
    """Refuse a point whose water takes more power than a pump can make of its electricity."""
    share = hydraulic_power(density, points.flow, points.head) / points.power
    worst = int(np.argmax(share))
    if share[worst] > MOST_EFFICIENCY:
        detail = (
            f"{points.power[worst]:.4g} W against {points.head[worst]:.4g} m would turn {100 * share[worst]:.0f} % of the "
            f"electricity into lifted water; {100 * MOST_EFFICIENCY:.0f} % is the limit here; check flow (litres per minute?), "
            "head and watts"
        )
        raise input_error(f"{pointer}/power_points/{worst}/flow_l_per_min", "too_efficient", detail, maximum=MOST_EFFICIENCY)


def capped(heads: list[OfHead]) -> list[OfHead]:
    """Heads, lowest first, none of which begins later than the next higher one where its cut-in was our own estimate."""
    found = heads[-1:]
    for lower in heads[-2::-1]:
        power = lower.power.copy()
        if lower.continued:
            power[0] = min(power[0], found[0].power[0])
        found.insert(0, OfHead(lower.head, power, lower.flow, lower.voltage, lower.continued))
    return found


def filled(heads: list[OfHead]) -> list[OfHead]:
    """Heads, each with the points of the next higher one beyond its own largest power: less head gives no less water."""
    found = heads[-1:]
    for lower in heads[-2::-1]:
        upper = found[0]
        beyond = (upper.power > lower.power[-1]) & (upper.flow > lower.flow[-1])
        volts = lower.voltage
        if volts is not None and upper.voltage is not None:
            beyond &= upper.voltage > volts[-1]
            volts = np.append(volts, upper.voltage[beyond])
        power, flow = np.append(lower.power, upper.power[beyond]), np.append(lower.flow, upper.flow[beyond])
        found.insert(0, OfHead(lower.head, power, flow, volts, lower.continued))
    return found


def check_heads(heads: list[OfHead], points: PowerPoints, pointer: str) -> None:
    """Refuse more flow against more head at the same power."""
    for lower, upper in pairwise(heads):
        power = np.union1d(lower.power, upper.power)
        less, more = (np.interp(power, each.power, each.flow, left=0.0) for each in (upper, lower))
        worst = int(np.argmax(less - more))
        if less[worst] > more[worst] + SLACK * upper.flow[-1]:
            at = int(np.flatnonzero((points.head == upper.head) & (points.flow > 0))[0])
            high, low = (f"{each[worst] / LITRE_PER_MINUTE:.4g} L/min against" for each in (less, more))
            detail = (
                f"at {power[worst]:.4g} W the pump gives {high} {upper.head:.4g} m and {low} {lower.head:.4g} m; "
                "more head must give less flow; check for swapped numbers"
            )
            raise input_error(f"{pointer}/power_points/{at}/head_m", "flow_rises_with_head", detail)


def table_of(heads: list[OfHead]) -> PowerTable:
    """Every head at the same shares of its way from cut-in to largest power."""
    power = np.array([each.power[0] + SHARES * (each.power[-1] - each.power[0]) for each in heads])
    flow = np.array([PchipInterpolator(each.power, each.flow)(row) for each, row in zip(heads, power, strict=True)])
    volts = [
        PchipInterpolator(each.power, each.voltage)(row)
        for each, row in zip(heads, power, strict=True)
        if each.voltage is not None
    ]
    return PowerTable(np.array([each.head for each in heads]), power, flow, np.array(volts) if volts else None)


def at_largest_power(table: PowerTable) -> tuple[Array, Array]:
    """The pump's curve at the largest powers published: flow rising from zero, head falling to zero."""
    flow, head = table.flow[::-1, -1], table.heads[::-1]
    kept = np.append(True, np.diff(np.maximum.accumulate(flow)) > 0)
    flow, head = flow[kept], head[kept]
    step = 1e-6 * flow[-1]
    flow, head = np.append(flow, flow[-1] + step), np.append(head, 0.0)
    return np.insert(flow, 0, 0.0), np.insert(head, 0, head[0] * (1 + 1e-6))


def curve_at_speed(pump: Pump, speed: float, count: int) -> tuple[Array, Array]:
    """Flow [m3/s] and head [m] of a pump at a speed ratio, to draw; of one known by its power at so much of its largest."""
    if pump.table is None:
        flow = np.linspace(0.0, speed * pump.largest_flow, count)
        return flow, np.maximum(pump_head(pump, flow, speed), 0.0)
    heads = np.linspace(pump.table.heads[-1], pump.table.heads[0], count)
    found = np.array([flow_of_power(pump.table, speed * pump.table.largest_power, float(head)) for head in heads])
    return found, heads


def rows_at(table: PowerTable, head: Numeric, values: Array) -> Array:
    """Values of the table at heads: (..., shares); below the lowest head those of the lowest, above the highest of that."""
    head = np.asarray(head, dtype=float)
    if len(table.heads) == 1:
        return np.broadcast_to(values[0], (*head.shape, values.shape[1]))
    at = np.clip(np.searchsorted(table.heads, head, side="right") - 1, 0, len(table.heads) - 2)
    share = np.clip((head - table.heads[at]) / np.diff(table.heads)[at], 0.0, 1.0)[..., None]
    return np.asarray((1 - share) * values[at] + share * values[at + 1])


def lifts(table: PowerTable, head: Numeric) -> NDArray[np.bool_]:
    """Whether a head is one that is published, or lower."""
    return np.asarray(head) <= table.heads[-1] * (1 + 1e-9)


def cut_in_power(table: PowerTable, head: float) -> float:
    """Power [W] from which water comes against a head; infinite above the highest published head."""
    return float(rows_at(table, head, table.power)[0]) if lifts(table, head) else np.inf


def flow_of_power(table: PowerTable, power: float, head: float) -> float:
    """Flow [m3/s] at a power [W] against a head [m]."""
    if not lifts(table, head):
        return 0.0
    return float(np.interp(power, rows_at(table, head, table.power), rows_at(table, head, table.flow), left=0.0))


def power_of_flow(table: PowerTable, flow: Array, head: Array) -> Array:
    """Power [W] that each flow needs against its head; the largest published where the flow is more than that gives."""
    power, given = rows_at(table, head, table.power), rows_at(table, head, table.flow)
    return along_rows(given, power, flow)


def voltage_of_power(table: PowerTable, power: Array, head: Array) -> Array:
    """Volts [V] at which the pump takes each power against its head; the table has volts."""
    assert table.voltage is not None
    return along_rows(rows_at(table, head, table.power), rows_at(table, head, table.voltage), power)


def along_rows(x: Array, y: Array, wanted: Array) -> Array:
    """Row by row, y where x, which rises along the row, is as wanted; the row's ends beyond them."""
    at = np.clip(np.sum(x < wanted[..., None], axis=-1), 1, x.shape[-1] - 1)[..., None]
    x0, x1, y0, y1 = (np.take_along_axis(v, at - back, axis=-1)[..., 0] for v in (x, y) for back in (1, 0))
    share = np.clip((wanted - x0) / np.maximum(x1 - x0, 1e-300), 0.0, 1.0)
    return np.asarray(y0 + share * (y1 - y0))


def assumption_power(name: str, table: PowerTable, pointer: str) -> Note:
    heads = ", ".join(f"{head:.3g}" for head in table.heads)
    low, high = f"{table.heads[0]:.3g} m", f"{table.heads[-1]:.3g} m"
    text = (
        f"Pump {name} is known at heads of {heads} m and computed in straight lines between them; below {low} it is taken as at "
        f"{low}, above {high} it gives no water, and power beyond the largest published adds none."
    )
    return Note("power_points", "info", text, f"{pointer}/power_points")


def assumption_cut_in(name: str, of: OfHead, pointer: str) -> Note:
    text = (
        f"Pump {name} has no point without flow against {of.head:.3g} m; its water is taken to start at {of.power[0]:.3g} W "
        "(a straight line through its first points, half the lowest power at least)."
    )
    return Note("cut_in_continued", "info", text, f"{pointer}/power_points")
