"""From a comparison to its three pictures: all pumps, all panels and pumps, months side by side; nothing computed anew."""

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from sizing.comparison import Comparison, Pair, PairFound, as_designed
from sizing.electric import Diode, at_conditions, current_at_voltage, maximum_power, open_circuit_voltage, speed_at_voltage
from sizing.foundation import LITRE, LITRE_PER_MINUTE, percent, quantity
from sizing.fountain import outlet_of, pipe_of
from sizing.hydraulic import Pump, curve_at_speed, flow_limit
from sizing.light import cell_temperature
from sizing.operation import LoadLine, OperatingGrid, PipeSystem, State, asked_of_panel, needed_flow, operate, system_head
from web.charts.kit.crossing import Curve
from web.charts.kit.shapes import Chart
from web.charts.load_lines import Agreed, LoadDrawn, PanelDrawn, load_lines_chart
from web.charts.pair_names import Names, short
from web.charts.pairs_by_month import DRAWN, PairMonths, pairs_by_month
from web.charts.pumps import PumpDrawn, pumps_chart

Array = NDArray[np.float64]

POINTS = 40
NUMBERED = 6
"""More pumps than this are marked by their number alone."""
SUNS = {"full": 1000.0, "half": 500.0}
"""[W/m2] In the cells."""
CALM = 1.0
"""[m/s] Wind on the panel."""


def waterway_of(found: Comparison) -> PipeSystem:
    """The water's way, the same for all pairs."""
    return PipeSystem(pipe_of(found.design), outlet_of(found.design))


def pump_label(found: Comparison, number: int) -> str:
    """What a pump is called in a picture."""
    return f"pump {number}" if len(found.design.pumps) <= NUMBERED else str(number)


def matches_of(found: Comparison) -> list[PairFound]:
    """The pairs as designed, those joined directly if there are any: their lines cross the panels' curves."""
    sized = [each for each in map(as_designed, found.pairs) if each.match is not None]
    direct = [each for each in sized if each.pair.connection == "direct"]
    return direct or sized


def pumps_picture(found: Comparison, names: Names) -> Chart:
    """Head over flow of all pumps at rated voltage."""
    pumps = {each.pair.pump: each.match.line.pump for each in matches_of(found) if each.match is not None}
    waterway = waterway_of(found)
    most = float(flow_limit(waterway.outlet))
    drawn = []
    for key, (number, name) in names.pumps.items():
        if key in pumps:
            flow, head = at_rated_voltage(pumps[key])
            asked = system_head(waterway, np.minimum(flow, most))
            curve = Curve(name, (flow / LITRE_PER_MINUTE).tolist(), head.tolist())
            drawn.append(PumpDrawn(pump_label(found, number), name, curve, crossing(flow / LITRE_PER_MINUTE, head, asked)))
    top = max(pump.curve.x[-1] for pump in drawn) * LITRE_PER_MINUTE
    flow = np.linspace(0.0, min(top, most), 2 * POINTS)
    system = Curve("", (flow / LITRE_PER_MINUTE).tolist(), system_head(waterway, flow).tolist())
    return pumps_chart(drawn, system)


def at_rated_voltage(pump: Pump) -> tuple[Array, Array]:
    """A pump's curve as makers print it: flow [m3/s] and head [m] at rated voltage, the motor slower where it works harder."""
    if pump.table is not None:
        return curve_at_speed(pump, 1.0, POINTS)
    state = np.linspace(0.0, pump.largest_flow, POINTS)
    motor = pump.motor
    load = np.asarray(pump.load_curve(state))
    speed = speed_at_voltage(pump.rated_voltage, motor.back_emf, motor.winding_resistance, motor.no_load_current, load)
    return np.asarray(state * speed), np.maximum(np.asarray(pump.head_curve(state)) * speed**2, 0.0)


def crossing(flow: Array, head: Array, asked: Array) -> tuple[float, float] | None:
    """Where a pump's curve first falls below what is asked, straight between its points; ``None`` where it is never above.

    Examples
    --------
    >>> crossing(np.array([0.0, 4.0]), np.array([2.0, 0.0]), np.array([0.5, 1.5]))
    (2.0, 1.0)
    """
    spare = head - asked
    if spare[0] <= 0:
        return None
    after = int(np.argmax(spare < 0)) if np.any(spare < 0) else len(spare) - 1
    if spare[after] >= 0:
        return float(flow[-1]), float(head[-1])
    part = spare[after - 1] / (spare[after - 1] - spare[after])
    x, y = (float(each[after - 1] + part * (each[after] - each[after - 1])) for each in (flow, head))
    return x, y


def lines_picture(found: Comparison, names: Names) -> Chart:
    """What all panels give and all pumps ask, in volts and amperes."""
    pairs = matches_of(found)
    air = float(found.sky.air_temperature[found.sky.zenith < 90].mean())
    warmth = {sun: float(np.asarray(cell_temperature(strength, air, CALM))) for sun, strength in SUNS.items()}
    panels = panels_drawn(pairs, names, warmth)
    agreed, said = agreements(found, pairs, names, warmth, {panel.label: panel.watts for panel in panels})
    ring = "where the water comes out" if found.goal is None else "where the goal is reached"
    if pairs[0].pair.connection == "controller":
        said += (
            " A controller lets each pump have the panel's best power, up to rated voltage, where its line ends; a step-down "
            "controller cannot give more volts than the panel has."
        )
    return load_lines_chart(panels, loads_drawn(found, pairs, names), agreed, ring, said)


def panels_drawn(pairs: Sequence[PairFound], names: Names, warmth: dict[str, float]) -> list[PanelDrawn]:
    """The panels at full and half sun, in the order of the design."""
    diodes = {each.pair.panel: each.match.supply.panel for each in pairs if each.match is not None}
    drawn = []
    for key, (number, name) in names.panels.items():
        if key in diodes:
            full, half = (panel_curve(diodes[key], SUNS[sun], warmth[sun]) for sun in SUNS)
            watts = float(np.asarray(maximum_power(at_conditions(diodes[key], SUNS["full"], warmth["full"]))[0]))
            drawn.append(PanelDrawn(f"panel {number}", name, full, half, watts))
    return drawn


def panel_curve(panel: Diode, sun: float, cell: float) -> Curve:
    """Current over voltage of a panel from short circuit to open circuit."""
    conditions = at_conditions(panel, sun, cell)
    end = float(np.asarray(open_circuit_voltage(conditions)))
    volts = np.concatenate([np.linspace(0.0, 0.7 * end, 12), np.linspace(0.7 * end, end, POINTS)[1:]])
    return Curve("", volts.tolist(), np.maximum(np.asarray(current_at_voltage(conditions, volts)), 0.0).tolist())


def loads_drawn(found: Comparison, pairs: Sequence[PairFound], names: Names) -> list[LoadDrawn]:
    """What each pump asks at the panel's end of the cable, the longest line of its pairs."""
    waterway = waterway_of(found)
    needed = 0.0 if found.goal is None else needed_flow(found.goal, waterway)
    drawn = []
    for key, (number, _) in names.pumps.items():
        solved = [each.match for each in pairs if each.match is not None and each.pair.pump == key]
        if solved:
            longest = max(solved, key=lambda match: (match.line.speed[-1], -len(match.line.speed)))
            drawn.append(load_drawn(longest, pump_label(found, number), needed))
    return drawn


def load_drawn(solved: OperatingGrid, label: str, needed: float) -> LoadDrawn:
    """The line of one pump, and where the flow that is needed [m3/s], or any, begins."""
    line = solved.line
    volts, amperes = asked_of_panel(solved)
    if solved.voltage is not None:
        return LoadDrawn(label, Curve(label, volts.tolist(), amperes.tolist()), None)
    kept = line.voltage <= (line.pump.rated_voltage * 1.0001 if solved.supply.controller_efficiency is not None else np.inf)
    shown = np.unique(np.r_[0 : len(volts) : 5, len(volts) - 1, np.argmax(line.flow > 0), max(np.argmax(line.flow > 0) - 1, 0)])
    shown = shown[kept[shown]]
    return LoadDrawn(label, Curve(label, volts[shown].tolist(), line.current[shown].tolist()), begins(line, volts, needed))


def begins(line: LoadLine, volts: Array, needed: float) -> tuple[float, float] | None:
    """Volts and amperes from which a flow is reached; ``None`` where it never is."""
    if line.flow[-1] <= 0 or line.flow[-1] < needed:
        return None
    wet = max(int(np.argmax(line.flow > 0)) - 1, 0)
    x, y = (float(np.interp(needed, line.flow[wet:], values[wet:])) for values in (volts, line.current))
    return x, y


def agreements(
    found: Comparison, pairs: Sequence[PairFound], names: Names, warmth: dict[str, float], watts: dict[str, float]
) -> tuple[list[Agreed], str]:
    """Where pumps and panels agree, and which pair takes most and least of what its panel could give at full sun."""
    order = list(names.pumps)
    agreed, shares = [], dict[Pair, float]()
    strengths, cells = np.array(list(SUNS.values())), np.array(list(warmth.values()))
    for each in sorted(pairs, key=lambda each: (order.index(each.pair.pump), list(names.panels).index(each.pair.panel))):
        if each.match is None:
            continue
        points = operate(each.match, strengths, cells)
        panel = f"panel {names.panels[each.pair.panel][0]}"
        for index, sun in enumerate(SUNS):
            turns = points.state[index] >= State.CANNOT_LIFT
            point = (float(points.voltage[index]), float(points.current[index])) if turns else None
            agreed.append(Agreed(f"pump {names.pumps[each.pair.pump][0]}", panel, sun, point))
            if point is not None and sun == "full":
                shares[each.pair] = point[0] * point[1] / watts[panel]
    return agreed, taken(shares, names)


def taken(shares: Mapping[Pair, float], names: Names) -> str:
    """Which pair takes most of its panel's power at full sun, and which least."""
    sun = quantity(SUNS["full"], "W/m2", 4)
    if not shares:
        return f"Not even at full sun ({sun}) does a pump turn."
    best, worst = max(shares, key=lambda pair: shares[pair]), min(shares, key=lambda pair: shares[pair])
    if best == worst:
        return f"At full sun ({sun}) the pump takes {percent(shares[best])} of what the panel could give."
    most, least = (f"panel {names.panels[pair.panel][0]} with pump {names.pumps[pair.pump][0]}" for pair in (best, worst))
    said = f"At full sun ({sun}) {most} uses {percent(shares[best])} of what the panel could give"
    return f"{said}, {least} only {percent(shares[worst])}."


def months_picture(found: Comparison, names: Names, whole: bool = True) -> Chart:
    """Litres a day month by month, the pairs by rank; ``whole`` lists all of them, else those that are drawn."""
    sized = [
        PairMonths(f"pair {each.rank}", short(names, each.pair), [month.water / LITRE for month in each.year.months])
        for each in found.pairs
        if each.year is not None
    ]
    return pairs_by_month(sized if whole else sized[:DRAWN], found.months)
