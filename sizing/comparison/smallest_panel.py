"""For each pump the smallest panel that would meet the goal, searched in whole watts, or why none can."""

import math
from collections.abc import Callable
from dataclasses import astuple, dataclass

from sizing.comparison.pairs import ConnectionKind, connected
from sizing.comparison.panel_misses import Hindrance, Miss, days_miss, over_voltage_miss, pump_miss, volts_miss
from sizing.comparison.panel_watts import (
    MOST_WATTS,
    Draw,
    Mask,
    PanelString,
    Window,
    draw_of,
    least_watts,
    meets,
    reached_controlled,
    reached_directly,
    reached_on_grid,
    settled,
    string_of,
    supply_of_watts,
    window_of,
)
from sizing.design.design import Design, PumpInput
from sizing.electric.single_diode import of_more_current
from sizing.foundation.errors import SizingError
from sizing.foundation.formats import length, quantity
from sizing.fountain.components import pump_of, supply_of
from sizing.hydraulic.water import density
from sizing.light.irradiance import PlaneSun
from sizing.operation.goal import Goal
from sizing.operation.load_line import PipeSystem
from sizing.operation.operating_point import State, solve_grid
from sizing.report.report import operate_lit
from sizing.sky.weather import Sky


@dataclass(frozen=True)
class SmallestPanel:
    """For one pump (id) the least watts at standard test conditions, whole, with the volts of a panel of the design
    (``like``, its id, with as many in series) and its current scaled; ``None`` where none up to 1000 W does. The
    sentence says which, or why none can."""

    pump: str
    watts: int | None
    like: str | None
    connection: ConnectionKind | None
    sentence: str


@dataclass(frozen=True)
class Joint:
    """A connection: resistance of the cable [Ohm], and the controller's efficiency (``None``: direct)."""

    kind: ConnectionKind
    cable: float
    efficiency: float | None


@dataclass(frozen=True, eq=False)
class Search:
    """What is the same for all pumps: the goal's window and flow [m3/s], the water's way, the year, strings of panels by
    id, and connections, direct first."""

    window: Window
    flow: float
    waterway: PipeSystem
    sky: Sky
    sun: PlaneSun
    strings: tuple[PanelString, ...]
    joints: tuple[Joint, ...]


def smallest_panels(
    design: Design, kinds: tuple[ConnectionKind, ...], goal: Goal, needed: float, waterway: PipeSystem, sky: Sky, sun: PlaneSun
) -> tuple[SmallestPanel, ...]:
    """The smallest panel for each pump, least watts first, then by pump id; pumps that none suits last.

    Parameters
    ----------
    kinds : connections that may join them, direct first
    needed : least flow that reaches the goal [m3/s]
    """
    if math.isfinite(needed):
        search = search_of(design, kinds, goal, needed, waterway, sky, sun)
        water = float(density(design.water_temperature_c))
        found = [smallest_of(search, pump, water) for pump in design.pumps]
    else:
        text = f"No panel does: no flow makes this outlet throw a jet of {length(goal.jet or 0.0)}."
        found = [none_for(pump, text) for pump in design.pumps]
    return tuple(sorted(found, key=lambda each: (each.watts is None, each.watts or 0, each.pump)))


def search_of(
    design: Design, kinds: tuple[ConnectionKind, ...], goal: Goal, needed: float, waterway: PipeSystem, sky: Sky, sun: PlaneSun
) -> Search:
    """What is worked out once for all pumps; a panel with an impossible label is left out, and of those that differ in
    current alone one stands for all."""
    window = window_of(goal, sky, sun)
    strings: list[PanelString] = []
    known: set[tuple[str, ...]] = set()
    joints: dict[ConnectionKind, Joint] = {}
    for panel in sorted(design.panels, key=lambda panel: panel.id):
        alone = panel.model_copy(update={"in_parallel": 1})
        try:
            supplies = [(kind, supply_of(connected(design, kind), alone, "#/panels")) for kind in kinds]
        except SizingError:
            continue
        joints = {kind: Joint(kind, supply.cable_resistance, supply.controller_efficiency) for kind, supply in supplies}
        volts, diode = panel.vmp_v * panel.in_series, supplies[0][1].panel
        shape = tuple(f"{value:.9g}" for value in (volts, *astuple(of_more_current(diode, 1 / panel.imp_a))))
        if shape not in known:
            known.add(shape)
            strings.append(string_of(panel.id, diode, volts, volts * panel.imp_a, window))
    return Search(window, needed, waterway, sky, sun, tuple(strings), tuple(joints.values()))


def smallest_of(search: Search, given: PumpInput, water_density: float) -> SmallestPanel:
    """The smallest panel for one pump; where none suits, why the nearest does not."""
    try:
        draw = draw_of(pump_of(given, water_density, "#/pumps"), search.waterway, search.flow)
    except SizingError as error:
        return none_for(given, f"No panel can be found: {'; '.join(problem.detail for problem in error.problems)}.")
    best: tuple[int, PanelString, Joint] | None = None
    misses: list[Miss] = []
    for joint in search.joints:
        for string in search.strings:
            found = watts_of(search, draw, string, joint, MOST_WATTS if best is None else best[0] - 1)
            if isinstance(found, Miss):
                misses.append(found)
            elif found is not None:
                best = (found, string, joint)
    if best is None:
        nearest = max(misses, key=lambda miss: (miss.hindrance, miss.near))
        return none_for(given, nearest.sentence)
    watts, string, joint = best
    how = "joined directly" if joint.efficiency is None else "behind a controller"
    volts = f"the volts of panel {string.panel} ({quantity(string.volts, 'V')} at maximum power)"
    text = f"{quantity(watts, 'W', 4)} with {volts}, {how}."
    return SmallestPanel(given.id, watts, string.panel, joint.kind, text)


def none_for(pump: PumpInput, sentence: str) -> SmallestPanel:
    """No panel for that pump, and why."""
    return SmallestPanel(pump.id, None, None, None, sentence)


def watts_of(search: Search, draw: Draw, string: PanelString, joint: Joint, most: int) -> int | Miss | None:
    """Least watts up to ``most`` with the volts of one string, why there are none, or ``None`` if they are more."""
    if most < 1:
        return None
    controlled = joint.efficiency is not None
    miss = pump_miss(draw, search.waterway, search.window.goal.jet is not None, controlled)
    if miss is not None:
        return miss
    reached = reaching(search, draw, string, joint)
    guess = least_watts(lambda watts: meets(search.window, reached(watts)), min(most + 2 + most // 50, MOST_WATTS))
    try:
        found = None if guess is None else settled(min(guess, most), on_grid(search, draw, string, joint), most)
        if found is None:
            return sun_miss(search, draw, string, joint, reached(MOST_WATTS)) if most == MOST_WATTS else None
        hours = over_voltage_hours(search, draw, string, joint, found)
    except SizingError as error:
        return Miss(Hindrance.PUMP, 0.0, f"No panel can be found: {'; '.join(problem.detail for problem in error.problems)}.")
    return over_voltage_miss(draw, string, found, hours) if hours > 0 else found


def sun_miss(search: Search, draw: Draw, string: PanelString, joint: Joint, reached: Mask) -> Miss:
    """Why the largest panel does not do: no sun in the hours asked for, too few volts in warm sun, or dull days."""
    days = days_miss(search.window, reached)
    if days.hindrance == Hindrance.NO_SUN or joint.efficiency is not None:
        return days
    return volts_miss(draw, joint.cable, string) or days


def reaching(search: Search, draw: Draw, string: PanelString, joint: Joint) -> Callable[[float], Mask]:
    """Steps of the window that panels of so many watts reach, from the flow's own point of volts and amperes."""
    if joint.efficiency is None:
        return lambda watts: reached_directly(search.window, draw, joint.cable, string, watts)
    efficiency = joint.efficiency
    return lambda watts: reached_controlled(draw, joint.cable, efficiency, string, watts)


def on_grid(search: Search, draw: Draw, string: PanelString, joint: Joint) -> Callable[[int], bool]:
    """Whether panels of so many watts meet the goal, as a sizing finds it."""

    def met(watts: int) -> bool:
        supply = supply_of_watts(string, watts, joint.cable, joint.efficiency)
        return meets(search.window, reached_on_grid(search.window, supply, draw.pump, search.waterway, search.flow))

    return met


def over_voltage_hours(search: Search, draw: Draw, string: PanelString, joint: Joint, watts: int) -> float:
    """Hours of the year above the pump's highest voltage with so many watts [h]."""
    if draw.pump.highest_voltage is None or joint.efficiency is not None:
        return 0.0
    solved = solve_grid(supply_of_watts(string, watts, joint.cable, None), draw.pump, search.waterway)
    found = operate_lit(solved, search.sun.effective, search.sun.cell_temperature)
    return float((found.state == State.OVER_VOLTAGE).sum()) * 24.0 / search.sky.steps_per_day
