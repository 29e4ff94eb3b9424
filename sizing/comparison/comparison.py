"""Every pump with every panel over one year of sun: what each pair does, what it costs, and which to choose."""

import math
from dataclasses import dataclass, replace
from pathlib import Path
from typing import get_args

import numpy as np
from numpy.typing import NDArray

from sizing.comparison.failures import Case, failure
from sizing.comparison.pairs import (
    ConnectionKind,
    Pair,
    PairFound,
    connected,
    currencies_of,
    kinds_of,
    listed,
    pair_price,
    pairs_of,
    price_per_hour,
    suits,
)
from sizing.comparison.ranking import ranked, ranked_by
from sizing.comparison.smallest_panel import Doubts, SmallestPanel, smallest_panels
from sizing.design.design import ControllerConnection, Design, NozzleOutlet
from sizing.foundation.errors import Note, Problem, SizingError
from sizing.foundation.tables import NOZZLE_KINDS, USUAL_BORES
from sizing.fountain.components import Fountain, fountain_of, goal_of, outlet_of, pipe_of
from sizing.fountain.pump_shape import shapes_note
from sizing.fountain.site_setup import Setting, setting_of
from sizing.fountain.unknowns import Unknown, UnknownCode, unknowns_of
from sizing.light.irradiance import PlaneSun, plane_sun
from sizing.operation.goal import FlowBand, Goal, GoalFound, flow_band, goal_found, in_window
from sizing.operation.load_line import PipeSystem
from sizing.operation.matching import matching_factor, motor_energy, panel_energy
from sizing.operation.operating_point import SAME, OperatingPoints, solve_grid
from sizing.operation.strain import Strain, flow_borne, strain_of, voltage_known_to_be_borne
from sizing.operation.year import year_of
from sizing.place.place import Place
from sizing.report.cautions import coldest_open_circuit
from sizing.report.report import first_playing_sun, operate_lit
from sizing.sky.cold import ColdAir
from sizing.sky.weather import Sky
from sizing.uncertainty.chance import Chance
from sizing.uncertainty.goal_doubt import (
    GoalDoubt,
    PumpDoubt,
    asked_as_taken,
    goal_chance,
    goal_doubt,
    margin_as_taken,
    pump_doubt,
)
from sizing.uncertainty.sun_needed import Asked

Mask = NDArray[np.bool_]

NOON = 12
"""Hour of the day, by the clock of the sky, whose jet is told."""
MOST_PROBLEMS = 20
MOST_LOOKED_AT = 4
"""Other nozzles of one pair whose chance is worked out."""
ALIKE = 0.02
"""[1] A bore nearer to the design's own than this is the same."""


@dataclass(frozen=True, eq=False)
class Comparison:
    """All pairs by rank. ``months`` are the goal's, else all twelve; ``cheapest`` meets the goal at the least price that
    is known, ``nearly`` comes nearest to it of those that do not; ``smallest`` has a panel for each pump, least watts
    first, and is empty without a goal; ``ranked_by`` says what the order rests on."""

    design: Design
    place: Place
    sky: Sky
    goal: Goal | None
    months: tuple[int, ...]
    pairs: tuple[PairFound, ...]
    ranked_by: str
    cheapest: PairFound | None
    nearly: PairFound | None
    smallest: tuple[SmallestPanel, ...]
    notes: tuple[Note, ...]
    questions: tuple[Unknown, ...]


@dataclass(frozen=True, eq=False)
class Shared:
    """What all pairs share: sky, sun on the panel's plane, the coldest air, air in daylight [Cel], the goal with the flows that
    reach it [m3/s], the steps of its window (without a goal those with sun), chosen months, and the energy of each panel at its
    maximum power [kWh] and the doubts of each pump, worked out when they are first asked for."""

    sky: Sky
    sun: PlaneSun
    cold: ColdAir
    air: float
    goal: Goal | None
    band: FlowBand
    asked: Mask
    months: tuple[int, ...]
    panel_energy: dict[str, float]
    doubt: GoalDoubt | None
    pumps: dict[str, PumpDoubt]


def compare(design: Design, folder: Path | None = None, sky: Sky | None = None, both_connections: bool = False) -> Comparison:
    """Size every pump with every panel of a design, over the same year.

    Parameters
    ----------
    design : checked design; which pair it has chosen plays no part
    folder : where a weather file named by the design is looked for; ``None`` refuses weather files
    sky : a year at hand in place of the one that the design names
    both_connections : each pair joined directly and through a controller, not only as the design says

    Raises
    ------
    SizingError
        with one sentence per cause, if no pair at all can be sized.
    """
    here = setting_of(design, folder, sky)
    place, mounting, sky = here.place, here.mounting, here.sky
    sun = plane_sun(sky, place, mounting.tilt, mounting.azimuth, mounting.soiling)
    shared = shared_setting(design, here, sun)
    found: list[PairFound] = []
    problems: list[Problem] = []
    kinds, nozzles = kinds_of(design, both_connections), other_nozzles(design, shared)
    for pair in pairs_of(design, kinds):
        try:
            found.append(with_nozzle(pair_found(connected(design, pair.connection), design, pair, shared), design, nozzles))
        except SizingError as error:
            problems += [problem for problem in error.problems if problem not in problems]
            found.append(refused_pair(design, pair, error))
    if all(each.refused for each in found):
        raise SizingError(*problems[:MOST_PROBLEMS])
    pairs = ranked(found)
    return Comparison(
        design=design,
        place=place,
        sky=sky,
        goal=shared.goal,
        months=shared.months,
        pairs=pairs,
        ranked_by=ranked_by(pairs),
        cheapest=cheapest_of(pairs),
        nearly=nearly_of(pairs),
        smallest=smallest_for(design, kinds, shared),
        notes=notes_of(design, pairs, kinds),
        questions=questions_of(pairs),
    )


def questions_of(pairs: tuple[PairFound, ...]) -> tuple[Unknown, ...]:
    """What to ask before any of the pairs is bought: each thing once, of highest voltages the largest that would come."""
    asked: dict[tuple[str, str], Unknown] = {}
    for unknown in (unknown for each in pairs for unknown in each.questions):
        known = asked.get((unknown.code, unknown.pointer))
        if known is None or (unknown.hours > 0, unknown.asked) > (known.hours > 0, known.asked):
            asked[unknown.code, unknown.pointer] = unknown
    return tuple(sorted(asked.values(), key=lambda each: (list(get_args(UnknownCode)).index(each.code), each.pointer)))


def smallest_for(design: Design, kinds: tuple[ConnectionKind, ...], shared: Shared) -> tuple[SmallestPanel, ...]:
    """The smallest panel for each pump; none without a goal."""
    if shared.goal is None:
        return ()
    waterway = PipeSystem(pipe_of(design), outlet_of(design))
    doubts = None if shared.doubt is None else Doubts(shared.doubt, shared.pumps)
    return smallest_panels(design, kinds, shared.goal, shared.band, waterway, shared.sky, shared.sun, doubts)


def shared_setting(design: Design, here: Setting, sun: PlaneSun) -> Shared:
    """What is computed once for all pairs."""
    goal, sky = goal_of(design), here.sky
    lit = sun.poa > 0
    return Shared(
        sky=sky,
        sun=sun,
        cold=here.cold,
        air=float(sky.air_temperature[lit].mean()) if np.any(lit) else 15.0,
        goal=goal,
        band=FlowBand(0.0) if goal is None else flow_band(goal, PipeSystem(pipe_of(design), outlet_of(design))),
        asked=sun.effective > 0 if goal is None else in_window(goal, sky),
        months=tuple(range(1, 13)) if goal is None else goal.months,
        panel_energy={},
        doubt=None if goal is None else goal_doubt(design, sky, sun, here.place, here.mounting, goal),
        pumps={},
    )


def pair_found(joined: Design, design: Design, pair: Pair, shared: Shared) -> PairFound:
    """One pair over the year; the arrays of its steps are given up again."""
    sky, sun, goal = shared.sky, shared.sun, shared.goal
    fountain = fountain_of(joined, pair.panel, pair.pump)
    solved = solve_grid(fountain.supply, fountain.pump, fountain.waterway)
    operation = operate_lit(solved, sun.effective, sun.cell_temperature)
    year = year_of(sky, sun, operation)
    reached = None if goal is None else goal_found(goal, sky, operation.flow, shared.band)
    chance = None if shared.doubt is None else goal_chance(shared.doubt, doubt_of(shared, pair.pump, fountain), fountain.supply)
    sure = None if reached is None or chance is None else (reached, chance)
    over_voltage = sum(month.over_voltage_hours for month in year.months)
    strain = strain_of(fountain.pump, operation, 24.0 / sky.steps_per_day)
    case = Case(fountain, solved, sun.effective, sun.cell_temperature, operation)
    price, price_note = pair_price(design, fountain.panel_input, fountain.pump_input, pair.connection)
    worst = min(year.months, key=lambda month: (month.water, month.month))
    return PairFound(
        pair=pair,
        panel_input=fountain.panel_input,
        pump_input=fountain.pump_input,
        rank=0,
        failure=failure(case, goal, sure, shared.band, shared.asked, over_voltage),
        match=solved,
        year=year,
        water=year.water,
        worst_month=worst.month,
        worst_water=worst.water,
        running_hours=year.running_hours,
        first_sun=first_playing_sun(solved, shared.air)[0],
        noon_jet=at_noon(year.usual_jet, shared.months),
        noon_flow=at_noon(year.usual_flow, shared.months),
        goal=reached,
        chance=chance,
        matching_factor=share_taken(shared, pair.panel, fountain, operation),
        over_voltage_hours=over_voltage,
        strain=strain,
        goal_borne=None if goal is None else borne(goal, reached, shared, fountain, operation, strain),
        questions=unknowns_of(joined, fountain, strain, coldest_open_circuit(fountain, shared.cold)),
        price=price,
        price_note=price_note,
        price_per_hour=price_per_hour(price, year.running_hours),
        bore=bore_of(joined),
    )


def borne(
    goal: Goal, reached: GoalFound | None, shared: Shared, fountain: Fountain, operation: OperatingPoints, strain: Strain
) -> GoalFound | None:
    """How far a goal is reached while the pump stays within the highest voltage known for it."""
    if strain.above_allowed == 0:
        return reached
    return goal_found(goal, shared.sky, flow_borne(fountain.pump, operation), shared.band)


@dataclass(frozen=True, eq=False)
class OtherNozzle:
    """A nozzle of another usual bore [mm]: the design with it, the water's way, what all pairs with it share, and what each
    pump asks with everything as taken, worked out when it is first asked for."""

    bore: float
    design: Design
    waterway: PipeSystem
    shared: Shared
    asked: dict[str, Asked]


def bore_of(design: Design) -> float | None:
    """Bore of the design's nozzle [mm]; ``None`` for other outlets."""
    return design.outlet.bore_mm if isinstance(design.outlet, NozzleOutlet) else None


def other_nozzles(design: Design, shared: Shared) -> tuple[OtherNozzle, ...]:
    """Usual nozzles beside the design's own, the smallest step first; none without a goal, or for another outlet."""
    own, outlet = bore_of(design), design.outlet
    if own is None or not isinstance(outlet, NozzleOutlet) or shared.goal is None or shared.doubt is None:
        return ()
    kind = NOZZLE_KINDS[outlet.nozzle_kind or "not_known"]
    bores = [bore for bore in USUAL_BORES if kind.narrowest <= bore / 1000 <= kind.widest and abs(bore / own - 1) > ALIKE]
    found = []
    for bore in sorted(bores, key=lambda bore: abs(math.log(bore / own))):
        changed = design.model_copy(update={"outlet": outlet.model_copy(update={"bore_mm": bore})})
        waterway = PipeSystem(pipe_of(changed), outlet_of(changed))
        band, doubt = flow_band(shared.goal, waterway), replace(shared.doubt, design=changed, water=[])
        found.append(OtherNozzle(bore, changed, waterway, replace(shared, band=band, doubt=doubt, pumps={}), {}))
    return tuple(found)


def with_nozzle(found: PairFound, design: Design, nozzles: tuple[OtherNozzle, ...]) -> PairFound:
    """The pair with the usual nozzle, nearest to the design's own, that makes it do what is wanted; as it is where it does
    already, or where none of the nozzles helps."""
    if suits(found) or not nozzles:
        return found
    pair, looked = found.pair, 0
    own = fountain_of(connected(design, pair.connection), pair.panel, pair.pump)
    for nozzle in nozzles:
        fountain = replace(own, waterway=nozzle.waterway)
        try:
            if looked == MOST_LOOKED_AT or not worth_a_look(nozzle, fountain):
                continue
            looked += 1
            if chance_with(nozzle, fountain).outlook == "likely":
                other = pair_found(connected(nozzle.design, pair.connection), nozzle.design, pair, nozzle.shared)
                if suits(other):
                    return replace(other, own=found)
        except SizingError:
            continue
    return found


def worth_a_look(nozzle: OtherNozzle, fountain: Fountain) -> bool:
    """Whether the goal is met with a nozzle if all is as taken, within the highest voltage known for the pump."""
    doubt, pump = nozzle.shared.doubt, fountain.pump_input.id
    if doubt is None or not math.isfinite(nozzle.shared.band.least):
        return False
    if pump not in nozzle.asked:
        nozzle.asked[pump] = asked_as_taken(doubt, fountain)
    asked = nozzle.asked[pump]
    if float(asked.least.voltage[-1]) > voltage_known_to_be_borne(fountain.pump) * SAME:
        return False
    return margin_as_taken(doubt, asked, fountain.supply) >= 1


def chance_with(nozzle: OtherNozzle, fountain: Fountain) -> Chance:
    """Chance of the goal with a nozzle."""
    assert nozzle.shared.doubt is not None
    asked = doubt_of(nozzle.shared, fountain.pump_input.id, fountain)
    return goal_chance(nozzle.shared.doubt, asked, fountain.supply)


def doubt_of(shared: Shared, pump: str, fountain: Fountain) -> PumpDoubt:
    """What a pump asks if anything is off, worked out once for all its pairs."""
    assert shared.doubt is not None
    if pump not in shared.pumps:
        shared.pumps[pump] = pump_doubt(shared.doubt, fountain)
    return shared.pumps[pump]


def share_taken(shared: Shared, panel: str, fountain: Fountain, operation: OperatingPoints) -> float | None:
    """Matching factor of a pair over the year; ``None`` where no sun falls on the panel."""
    sun, step = shared.sun, 24.0 / shared.sky.steps_per_day
    if panel not in shared.panel_energy:
        shared.panel_energy[panel] = panel_energy(fountain.supply.panel, sun.effective, sun.cell_temperature, step)
    most = shared.panel_energy[panel]
    return float(matching_factor(motor_energy(operation, step), most)) if most > 0 else None


def at_noon(usual: NDArray[np.float64], months: tuple[int, ...]) -> dict[int, float]:
    """Value of the hour from 12:00 on the usual day of each chosen month; ``usual`` (12, 24)."""
    return {month: float(usual[month - 1, NOON]) for month in months}


def refused_pair(design: Design, pair: Pair, error: SizingError) -> PairFound:
    """A pair that cannot be sized, with its sentences."""
    panel = next(panel for panel in design.panels if panel.id == pair.panel)
    pump = next(pump for pump in design.pumps if pump.id == pair.pump)
    price, price_note = pair_price(design, panel, pump, pair.connection)
    refused = " ".join(sentence(problem.detail) for problem in error.problems)
    return PairFound(pair, panel, pump, 0, refused=refused, price=price, price_note=price_note)


def sentence(detail: str) -> str:
    """A problem's detail as a sentence."""
    return detail[:1].upper() + detail[1:] + ("" if detail.endswith(".") else ".")


def cheapest_of(pairs: tuple[PairFound, ...]) -> PairFound | None:
    """The pair that likely meets the goal at the least known price; ``None`` without a goal, or where prices cannot tell."""
    if len(currencies_of(found.price for found in pairs)) != 1:
        return None
    return next((found for found in pairs if found.goal is not None and suits(found) and found.price is not None), None)


def nearly_of(pairs: tuple[PairFound, ...]) -> PairFound | None:
    """The first pair by rank that does not do what the goal asks and yet reaches it in some hours."""
    return next((found for found in pairs if found.goal is not None and not suits(found) and found.goal.hours > 0), None)


def notes_of(design: Design, pairs: tuple[PairFound, ...], kinds: tuple[ConnectionKind, ...]) -> tuple[Note, ...]:
    """What to know of the comparison."""
    notes = [Note("same_year", "info", "All pairs are sized over the same year of sun, on the panel's plane of the design.")]
    notes.append(shapes_note(design.pumps))
    if "controller" in kinds:
        notes.append(controller_note(design))
    currencies = currencies_of(found.price for found in pairs)
    if currencies:
        text = (
            "Prices are those that were given for panels (as many as stand in series and in parallel), pump and controller; "
            "cable, pipe and outlet are the same for all pairs. The price of a playing hour is that price over the hours of "
            "one year."
        )
        notes.append(Note("what_prices_hold", "info", text))
    if len(currencies) > 1:
        text = f"Prices in {listed(list(currencies))} are not compared, so the order does not rest on them."
        notes.append(Note("currencies_differ", "warning", text))
    unpriced = sum(found.price is None and found.goal is not None and suits(found) for found in pairs)
    if unpriced and len(currencies) == 1:
        text = f"{unpriced} of the pairs that likely meet the goal have no price and may be cheaper than the cheapest shown."
        notes.append(Note("unpriced_pairs", "warning", text))
    return tuple(notes)


def controller_note(design: Design) -> Note:
    """Whose efficiency the controller has."""
    named = design.connection
    if isinstance(named, ControllerConnection):
        raises = named.controller_kind == "step_up_and_down"
        can = "can raise the panel's voltage as well as lower it" if raises else "only lowers the panel's voltage"
        text = f"The controller passes on {named.efficiency_pct:g} % of the panel's power, as the design says, and {can}."
        return Note("controller_efficiency", "info", text, "#/connection/efficiency_pct")
    text = "We assumed a controller that passes on 90 % of the panel's power and only lowers its voltage; the design names none."
    return Note("controller_assumed", "info", text, "#/connection")
