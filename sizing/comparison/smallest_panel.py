"""For each pump the smallest panel that would meet the goal, searched in whole watts, or why none can.

Pump, pipe and outlet ask one point of volts and amperes for a flow, whatever the panel. A panel with a times the
current drives it in the sun in which the unscaled panel would drive an a-th part of that current; so the sun that a
size of panel needs is known without solving its grid, and the least watts are found by halving. What is found is
settled by the grid itself.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import astuple, dataclass
from enum import IntEnum
from functools import cache

import numpy as np
from numpy.typing import NDArray

from sizing.comparison.draw import Draw, draw_of
from sizing.comparison.least_watts import least_watts, settled
from sizing.comparison.likely_watts import least_likely
from sizing.comparison.pairs import ConnectionKind, connected
from sizing.comparison.panel_reach import (
    Joint,
    PanelString,
    Window,
    meets,
    reached_controlled,
    reached_directly,
    reached_on_grid,
    reached_stepped_down,
    shares_of,
    string_of,
    sun_asked,
    supply_of_watts,
    window_of,
)
from sizing.design.design import Design, PumpInput
from sizing.electric.panel import open_circuit_voltage
from sizing.electric.single_diode import at_conditions, of_more_current
from sizing.foundation.errors import SizingError
from sizing.foundation.formats import MONTHS, figures, length, quantity
from sizing.foundation.units import LITRE_PER_MINUTE
from sizing.fountain.components import pump_of, supply_of
from sizing.fountain.unknowns import rounded_up
from sizing.hydraulic.outlet import jet_height
from sizing.hydraulic.pump import Pump
from sizing.hydraulic.water import density
from sizing.light.irradiance import PlaneSun
from sizing.operation.goal import FlowBand, Goal
from sizing.operation.load_line import PipeSystem
from sizing.operation.operating_point import (
    CELL_TEMPERATURES,
    State,
    Supply,
    own_electronics,
    solve_grid,
)
from sizing.operation.strain import strain_of
from sizing.report.report import operate_lit
from sizing.sky.weather import Sky
from sizing.uncertainty.chance import Chance
from sizing.uncertainty.goal_doubt import GoalDoubt, PumpDoubt, goal_chance
from sizing.uncertainty.sentences import chance_words

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

MOST_WATTS = 1000
"""[W] The largest panel that is looked for."""
WARM_CELLS = 50.0
"""[Cel] Cells in bright summer sun."""
BRIGHT = 1000.0
"""[W/m2] Bright sun."""
BAND_REACH = 3
"""A third more watts than the lower end of a band needs are looked through for its upper end: more only bring more water."""


class Hindrance(IntEnum):
    """What keeps a pump from the goal; the nearest miss last."""

    PUMP = 0
    PANEL_VOLTS = 1
    NO_SUN = 2
    DULL_DAYS = 3
    TOO_MUCH = 4
    OVER_VOLTAGE = 5


@dataclass(frozen=True)
class Miss:
    """Why the panels of one voltage do not do with one connection; of several, that with the largest hindrance, then the
    nearest, is told."""

    hindrance: Hindrance
    near: float
    sentence: str


@dataclass(frozen=True)
class LikelyPanel:
    """Least watts that make a goal likely, like those of ``SmallestPanel``, and how sure it is with them [1]."""

    watts: int
    like: str
    connection: ConnectionKind
    chance: float


@dataclass(frozen=True)
class SmallestPanel:
    """For one pump (id) the least watts at standard test conditions, whole, with the volts of a panel of the design
    (``like``, its id, with as many in series) and its current scaled, that meets the goal with everything as it was taken;
    ``None`` where none up to 1000 W does. The sentence says which, or why none can. ``asked`` [V] is what the pump would get
    above its rated voltage where nobody knows whether it may, 0 where all is known. ``chance`` [1] is how sure the goal is
    with it, ``likely`` the least that makes it likely."""

    pump: str
    watts: int | None
    like: str | None
    connection: ConnectionKind | None
    sentence: str
    asked: float = 0.0
    chance: float | None = None
    likely: LikelyPanel | None = None


@dataclass(frozen=True, eq=False)
class Search:
    """What is the same for all pumps: the goal's window and flows [m3/s], the water's way, the year, strings of panels by
    id, and connections, direct first."""

    window: Window
    band: FlowBand
    waterway: PipeSystem
    sky: Sky
    sun: PlaneSun
    strings: tuple[PanelString, ...]
    joints: tuple[Joint, ...]


@dataclass(frozen=True, eq=False)
class Doubts:
    """What is not known of the goal, and of each pump by id."""

    goal: GoalDoubt
    pumps: Mapping[str, PumpDoubt]


def smallest_panels(
    design: Design,
    kinds: tuple[ConnectionKind, ...],
    goal: Goal,
    band: FlowBand,
    waterway: PipeSystem,
    sky: Sky,
    sun: PlaneSun,
    doubts: Doubts | None = None,
) -> tuple[SmallestPanel, ...]:
    """The smallest panel for each pump, least watts first, then by pump id; pumps of which nobody knows whether they bear
    its volts after the others, pumps that none suits last.

    Parameters
    ----------
    kinds : connections that may join them, direct first
    band : flows that reach the goal [m3/s]
    doubts : for the chance; without them none is told
    """
    if math.isfinite(band.least):
        search = search_of(design, kinds, goal, band, waterway, sky, sun)
        water = float(density(design.water_temperature_c))
        found = [smallest_of(search, pump, water, doubts) for pump in design.pumps]
    else:
        text = f"No panel does: no flow makes this outlet throw a jet of {length(goal.jet or 0.0)}."
        found = [none_for(pump, text) for pump in design.pumps]
    return tuple(sorted(found, key=lambda each: (each.watts is None, each.asked > 0, each.watts or 0, each.pump)))


def search_of(
    design: Design, kinds: tuple[ConnectionKind, ...], goal: Goal, band: FlowBand, waterway: PipeSystem, sky: Sky, sun: PlaneSun
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
        joints = {kind: joint_of(kind, supply) for kind, supply in supplies}
        volts, diode = panel.vmp_v * panel.in_series, supplies[0][1].panel
        shape = tuple(f"{value:.9g}" for value in (volts, *astuple(of_more_current(diode, 1 / panel.imp_a))))
        if shape not in known:
            known.add(shape)
            strings.append(string_of(panel.id, diode, volts, volts * panel.imp_a, window))
    return Search(window, band, waterway, sky, sun, tuple(strings), tuple(joints.values()))


def joint_of(kind: ConnectionKind, supply: Supply) -> Joint:
    """How a panel of that supply is joined."""
    return Joint(kind, supply.cable_resistance, supply.controller_efficiency, supply.steps_up)


def smallest_of(search: Search, given: PumpInput, water_density: float, doubts: Doubts | None) -> SmallestPanel:
    """The smallest panel for one pump; where none suits, why the nearest does not."""
    try:
        draw = draw_of(pump_of(given, water_density, "#/pumps"), search.waterway, search.band.least)
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
    asked = volts_to_ask(search, draw, string, joint, watts)
    ask = f" Ask the maker first: are {quantity(asked, 'V')} allowed?" if asked else ""
    text = f"{quantity(watts, 'W', 4)} with {volts}, {how}."
    if doubts is None or given.id not in doubts.pumps:
        return SmallestPanel(given.id, watts, string.panel, joint.kind, f"{text}{ask}", asked)
    sure = chance_with(doubts, given.id, string, joint)
    chance, likely = sure(watts).chance, likely_of(search, draw, doubts, given.id, best, sure)
    text = f"{text} The chance is {chance_words(chance)} then. {likely_words(likely, string.panel, joint.kind)}{ask}"
    return SmallestPanel(given.id, watts, string.panel, joint.kind, text, asked, chance, likely)


def likely_words(found: LikelyPanel | None, like: str, kind: ConnectionKind) -> str:
    """The least watts that make a goal likely, beside those, like a panel and joined in a way, that just meet it.

    Examples
    --------
    >>> likely_words(LikelyPanel(27, "p0", "direct", 0.86), "p1", "direct").replace("\N{NO-BREAK SPACE}", " ")
    '27 W with the volts of panel p0 make it likely.'
    """
    if found is None:
        return f"No panel up to {quantity(MOST_WATTS, 'W', 4)} makes it likely."
    volts = "" if found.like == like else f" with the volts of panel {found.like}"
    how = "" if found.connection == kind else ", joined directly," if found.connection == "direct" else ", behind a controller,"
    return f"{quantity(found.watts, 'W', 4)}{volts}{how} make it likely."


def chance_with(doubts: Doubts, pump: str, string: PanelString, joint: Joint) -> Callable[[int], Chance]:
    """The chance of the goal with panels of so many watts; each is worked out once."""

    @cache
    def chance(watts: int) -> Chance:
        return goal_chance(doubts.goal, doubts.pumps[pump], supply_of_watts(string, watts, joint))

    return chance


def likely_of(
    search: Search, draw: Draw, doubts: Doubts, pump: str, just: tuple[int, PanelString, Joint], chance: Callable[[int], Chance]
) -> LikelyPanel | None:
    """The least watts that make the goal likely without over-voltage, with the volts and the connection that just meet it;
    where none do, with the first others that can."""
    watts, string, joint = just
    found = likely_with(search, draw, string, joint, watts, chance)
    for other in search.joints if found is None else ():
        for volts in search.strings:
            if found is None and (volts, other) != (string, joint):
                found = likely_with(search, draw, volts, other, watts, chance_with(doubts, pump, volts, other))
    return found


def likely_with(
    search: Search, draw: Draw, string: PanelString, joint: Joint, first: int, chance: Callable[[int], Chance]
) -> LikelyPanel | None:
    """The least watts of one string that make the goal likely without over-voltage."""
    watts = least_likely(chance, first, MOST_WATTS, math.isfinite(search.band.most))
    if watts is None or over_voltage_hours(search, draw, string, joint, watts) > 0:
        return None
    return LikelyPanel(watts, string.panel, joint.kind, chance(watts).chance)


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
    reached = steps_reached(search, draw, string, joint)
    guess = least_watts(lambda watts: meets(search.window, reached(watts)), min(most + 2 + most // 50, MOST_WATTS))
    try:
        found = None if guess is None else settled(min(guess, most), on_grid(search, draw, string, joint), most)
        if found is None:
            return sun_miss(search, draw, string, joint, reached(MOST_WATTS)) if most == MOST_WATTS else None
        if math.isfinite(search.band.most):
            found = within_band(search, draw, string, joint, found)
            if found is None:
                return too_much_miss(search, string)
            if found > most:
                return None
        hours = over_voltage_hours(search, draw, string, joint, found)
    except SizingError as error:
        return Miss(Hindrance.PUMP, 0.0, f"No panel can be found: {'; '.join(problem.detail for problem in error.problems)}.")
    return over_voltage_miss(draw, string, found, hours) if hours > 0 else found


def within_band(search: Search, draw: Draw, string: PanelString, joint: Joint, least: int) -> int | None:
    """Least watts from ``least`` on, which reach the lower end on enough days, that stay below the upper end on enough."""
    met = on_grid(search, draw, string, joint, search.band)
    tried = range(least, min(least + max(least // BAND_REACH, 1), MOST_WATTS) + 1)
    return next((watts for watts in tried if met(watts)), None)


def sun_miss(search: Search, draw: Draw, string: PanelString, joint: Joint, reached: Mask) -> Miss:
    """Why the largest panel does not do: no sun in the hours asked for, too few volts in warm sun, or dull days."""
    days = days_miss(search.window, reached)
    if days.hindrance == Hindrance.NO_SUN or (joint.efficiency is not None and joint.steps_up):
        return days
    return volts_miss(draw, joint.cable, string) or days


def steps_reached(search: Search, draw: Draw, string: PanelString, joint: Joint) -> Callable[[float], Mask]:
    """Steps of the window that panels of so many watts reach, from the flow's own point of volts and amperes."""
    if joint.efficiency is None and own_electronics(draw.pump):
        return lambda watts: reached_controlled(draw, joint.cable, 1.0, string, watts)
    if joint.efficiency is None:
        return lambda watts: reached_directly(search.window, draw, joint.cable, string, watts)
    efficiency = joint.efficiency
    if joint.steps_up:
        return lambda watts: reached_controlled(draw, joint.cable, efficiency, string, watts)
    return lambda watts: reached_stepped_down(search.window, draw, joint.cable, efficiency, string, watts)


def on_grid(search: Search, draw: Draw, string: PanelString, joint: Joint, band: FlowBand | None = None) -> Callable[[int], bool]:
    """Whether panels of so many watts meet the goal, as a sizing finds it; its lower end alone, unless a band is given."""

    def met(watts: int) -> bool:
        supply, asked = supply_of_watts(string, watts, joint), band or FlowBand(search.band.least)
        return meets(search.window, reached_on_grid(search.window, supply, draw.pump, search.waterway, asked))

    return met


def over_voltage_hours(search: Search, draw: Draw, string: PanelString, joint: Joint, watts: int) -> float:
    """Hours of the year above the pump's highest voltage with so many watts [h]."""
    if draw.pump.highest_voltage is None or joint.efficiency is not None:
        return 0.0
    supply, coldest = supply_of_watts(string, watts, joint), float(search.sun.cell_temperature.min())
    brightest = at_conditions(supply.panel, float(search.sun.effective.max()), coldest)
    if search.sun.effective.max() <= 0 or float(open_circuit_voltage(brightest)) <= draw.pump.highest_voltage:
        return 0.0
    solved = solve_grid(supply, draw.pump, search.waterway)
    found = operate_lit(solved, search.sun.effective, search.sun.cell_temperature)
    return float((found.state == State.OVER_VOLTAGE).sum()) * 24.0 / search.sky.steps_per_day


def volts_to_ask(search: Search, draw: Draw, string: PanelString, joint: Joint, watts: int) -> float:
    """Volts above the rated ones that a pump of unknown highest voltage would get with so many watts; 0 where none [V]."""
    if draw.pump.highest_voltage is not None or joint.efficiency is not None:
        return 0.0
    solved = solve_grid(supply_of_watts(string, watts, joint), draw.pump, search.waterway)
    found = operate_lit(solved, search.sun.effective, search.sun.cell_temperature)
    strain = strain_of(draw.pump, found, 24.0 / search.sky.steps_per_day)
    return rounded_up(strain.most_voltage) if strain.doubtful else 0.0


# Why none does


def pump_miss(draw: Draw, waterway: PipeSystem, goal_is_jet: bool, controlled: bool) -> Miss | None:
    """The pump does not reach the flow at the highest voltage it may have, or that a controller gives it."""
    pump = draw.pump
    if draw.short:
        return Miss(Hindrance.PUMP, float(draw.flow[-1]), short_sentence(pump, waterway, float(draw.flow[-1]), goal_is_jet))
    most, name = (pump.rated_voltage, "rated voltage") if controlled else (pump.highest_voltage, "highest voltage")
    if most is None or draw.voltage[-1] <= most * (1 + 1e-9):
        return None
    flow = float(np.interp(most, np.maximum.accumulate(draw.voltage), draw.flow))
    comes = what_comes(waterway, flow, goal_is_jet)
    ending = ", which is all that a controller gives" if controlled else ""
    return Miss(Hindrance.PUMP, flow, f"No panel does: at its {name} of {quantity(most, 'V')}{ending}, {comes}.")


def what_comes(waterway: PipeSystem, flow: float, goal_is_jet: bool) -> str:
    """What a pump does at most, after the words that say where."""
    if flow <= 0:
        return f"it cannot lift the water {length(waterway.outlet.height)}"
    if goal_is_jet:
        return f"its jet reaches {length(float(jet_height(waterway.outlet, flow)))}"
    return f"it moves {quantity(flow / LITRE_PER_MINUTE, 'l/min', 2)}"


def short_sentence(pump: Pump, waterway: PipeSystem, flow: float, goal_is_jet: bool) -> str:
    """Why no panel does for a pump that never gives the flow."""
    where = "at the speed it holds" if pump.table is None else "at the largest power and the heads that are published"
    return f"No panel does: {where}, {what_comes(waterway, flow, goal_is_jet)}."


def volts_miss(draw: Draw, cable: float, string: PanelString) -> Miss | None:
    """Panels of these volts do not hold the voltage that the flow asks, however large, in bright sun on warm cells."""
    asked = sun_asked(draw, cable, string.diode, MOST_WATTS / string.watts)
    if np.interp(WARM_CELLS, CELL_TEMPERATURES, asked) <= BRIGHT:
        return None
    wanted = float(draw.voltage[-1])
    held = float(open_circuit_voltage(at_conditions(string.diode, BRIGHT, WARM_CELLS)))
    text = (
        f"No panel with these volts does: the pump asks {quantity(wanted, 'V')} for it, and in bright sun on warm cells "
        f"panel {string.panel} has at most {quantity(held, 'V')}, even without load."
    )
    return Miss(Hindrance.PANEL_VOLTS, held / wanted, text)


def days_miss(window: Window, reached: Mask) -> Miss:
    """The largest panel reaches the goal on too few days; ``reached`` are its steps of the window."""
    lit = shares_of(window, window.irradiance > 0)
    sunless = min(lit.values()) < window.goal.day_share
    share = lit if sunless else shares_of(window, reached)
    month = min(share, key=lambda number: (share[number], number))
    days = f"{figures(10 * share[month], 2)} of 10 days in {MONTHS[month - 1]}"
    if sunless:
        text = f"No panel does: the sun is on it through all of the hours asked for on only {days}."
        return Miss(Hindrance.NO_SUN, share[month], text)
    text = f"No panel up to {MOST_WATTS} W does: even that reaches it on only {days}, as the others are too dull."
    return Miss(Hindrance.DULL_DAYS, share[month], text)


def too_much_miss(search: Search, string: PanelString) -> Miss:
    """What reaches the lower end of the band on enough days passes its upper end on too many."""
    goal = search.window.goal
    most = length(goal.jet_to) if goal.jet_to is not None else quantity((goal.flow_to or 0.0) / LITRE_PER_MINUTE, "l/min", 2)
    told = f"one that is large enough for dull days passes {most} on bright ones"
    text = f"No panel with the volts of panel {string.panel} does: {told}."
    return Miss(Hindrance.TOO_MUCH, 0.0, text)


def over_voltage_miss(draw: Draw, string: PanelString, watts: int, hours: float) -> Miss:
    """It would do, above the pump's highest voltage."""
    highest = quantity(draw.pump.highest_voltage or 0.0, "V")
    text = (
        f"No panel with these volts does: {quantity(watts, 'W')} with the volts of panel {string.panel} would reach it, but run "
        f"the pump above its highest voltage of {highest} for {figures(hours)} hours a year."
    )
    return Miss(Hindrance.OVER_VOLTAGE, -hours, text)
