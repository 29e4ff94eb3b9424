"""The report: one design sized from its place to the water of each month.

``size`` runs the path once and keeps what the pages, the command line and the HTTP interface show; it
opens no file but a weather file from a folder that the caller names.
"""

from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sizing.design.design import Design
from sizing.foundation.errors import Note
from sizing.foundation.working import Worked
from sizing.fountain.basin_under import BasinUnder, basin_under
from sizing.fountain.components import Fountain, fountain_of, goal_of
from sizing.fountain.site_setup import Mounting, Setting, setting_of
from sizing.fountain.unknowns import Unknown, unknowns_of
from sizing.hydraulic.outlet import above_lowest
from sizing.light.irradiance import PlaneSun, calm_light, cell_temperature, plane_sun
from sizing.operation.goal import Goal, GoalFound, flow_band, goal_found
from sizing.operation.jet_heights import JetHeights, jet_heights
from sizing.operation.operating_point import OperatingGrid, OperatingPoints, State, operate, solve_grid
from sizing.operation.strain import Strain, flow_borne, strain_of
from sizing.operation.year import DULL, USUAL, Year, day_of_kind, step_at, year_of
from sizing.place.place import Place
from sizing.report.assumptions import always, left_out, of_the_cold, of_the_crown
from sizing.report.cautions import cautions, coldest_open_circuit, unknown_volts
from sizing.report.moment import Moment, moment_at_strength, moment_of
from sizing.report.months_worked import months_worked
from sizing.report.verdict import Verdict, verdict_of
from sizing.sky.cold import ColdAir
from sizing.sky.weather import Sky
from sizing.uncertainty.chance import Chance
from sizing.uncertainty.goal_doubt import goal_chance, goal_doubt, pump_doubt
from sizing.uncertainty.uncertainty import HowSure, band, how_sure
from sizing.uncertainty.uncertainty_budget import band_worked

STRENGTHS = np.array([100.0, 200.0, 300.0, 400.0, 500.0, 600.0, 700.0, 800.0, 900.0, 1000.0])
"""[W/m2] Strengths of sun at which operating points are listed."""
CLEAR = "clear"
SKIES = {CLEAR: 0.9, "usual": USUAL, "dull": DULL}
"""Which day of a month a word means: the share of the month's days that are duller."""


@dataclass(frozen=True)
class When:
    """A moment in words: month 1..12, hour 0..23, sky "clear", "usual" or "dull"; ``None`` picks the best.

    A strength of sun on the cells [W/m2] takes the place of all three.
    """

    month: int | None = None
    hour: int | None = None
    sky: str = "clear"
    strength: float | None = None


@dataclass(frozen=True, eq=False)
class Report:
    """Everything that one sizing found; ``goal_borne`` counts only while the pump stays within the voltage that it is known to
    bear; ``water_band`` (12 months) and ``year_band`` are likely ranges [m3], of all causes."""

    design: Design
    place: Place
    mounting: Mounting
    fountain: Fountain
    sky: Sky
    sun: PlaneSun
    match: OperatingGrid
    operation: OperatingPoints
    year: Year
    water_band: tuple[NDArray[np.float64], NDArray[np.float64]]
    year_band: tuple[float, float]
    how_sure: HowSure
    strengths: NDArray[np.float64]
    strength_temperature: NDArray[np.float64]
    points: OperatingPoints
    first_sun: float | None
    moment: Moment
    months_worked: tuple[Worked, ...]
    band_worked: tuple[Worked, ...]
    verdict: Verdict
    cold: ColdAir
    basin: BasinUnder
    jets: JetHeights
    goal: GoalFound | None
    chance: Chance | None
    goal_borne: GoalFound | None
    strain: Strain
    questions: tuple[Unknown, ...]
    assumptions: tuple[Note, ...]
    warnings: tuple[Note, ...]


def size(design: Design, folder: Path | None = None, when: When | None = None, sky: Sky | None = None) -> Report:
    """Size one design: its chosen panel and pump, over a whole year.

    Parameters
    ----------
    design : checked design
    folder : where a weather file named by the design is looked for; ``None`` refuses weather files
    when : the moment that is worked out number by number; the clear best hour of the best month by default
    sky : a year at hand, such as that of a weather file that was sent, in place of the one the design names

    Raises
    ------
    SizingError
        with one sentence per cause, if the place has no built-in sky, a label is impossible, ...
    """
    fountain = fountain_of(design)
    setting = setting_of(design, folder, sky)
    place, mounting, sky = setting.place, setting.mounting, setting.sky
    sun = plane_sun(sky, place, mounting.tilt, mounting.azimuth, mounting.soiling)
    solved = solve_grid(fountain.supply, fountain.pump, fountain.waterway)
    operation = operate_lit(solved, sun.effective, sun.cell_temperature)
    year = year_of(sky, sun, operation)
    calm = partial(calm_light, sky, place, mounting.tilt, mounting.azimuth, mounting.soiling)
    sure = how_sure(design, fountain, sky, sun, solved, operation, year, calm)
    strain = strain_of(fountain.pump, operation, 24.0 / sky.steps_per_day)
    asked = unknowns_of(design, fountain, strain, coldest_open_circuit(fountain, setting.cold))
    low, high = band(np.array([month.water * month.days for month in year.months]), sure.months)
    year_low, year_high = (float(end) for end in band(year.water, sure.year))
    worked = months_worked(sky, year)
    goal = goal_of(design)
    reached, borne = goal_reached(goal, fountain, sky, operation, strain)
    chance = None if goal is None else chance_of_goal(design, fountain, setting, sun, goal)
    daylight_air = float(sky.air_temperature[sun.poa > 0].mean()) if np.any(sun.poa > 0) else 15.0
    warmth = np.asarray(cell_temperature(STRENGTHS, daylight_air, 1.0))
    first, below = first_playing_sun(solved, daylight_air)
    when = when or When()
    if when.strength is None:
        chosen = pick(sky, year, when)
        moment = moment_of(design, place, mounting, sky, sun, fountain, *chosen, near=float(operation.speed[chosen[-1]]))
    else:
        moment = moment_at_strength(design, fountain, when.strength, daylight_air)
    heights = jet_heights(sky, year, operation)
    if (moment.month, moment.hour, moment.sky) == (heights.month, heights.hour, CLEAR):
        heights = replace(heights, clear=float(moment.operation.jet[0]))  # one moment, one number: that of the strip
    outlet, most = fountain.waterway.outlet, float(operation.flow.max())
    basin = basin_under(design, outlet, float(operation.jet.max() + above_lowest(outlet, most)), most)
    info, loud = told_on_the_way(setting.notes, fountain.panel_notes, fountain.pump.notes)
    return Report(
        design=design,
        place=place,
        mounting=mounting,
        fountain=fountain,
        sky=sky,
        sun=sun,
        match=solved,
        operation=operation,
        year=year,
        water_band=(low, high),
        year_band=(year_low, year_high),
        how_sure=sure,
        strengths=STRENGTHS,
        strength_temperature=warmth,
        points=operate(solved, STRENGTHS, warmth),
        first_sun=first,
        moment=moment,
        months_worked=worked,
        band_worked=band_worked(worked[-1], sure),
        verdict=verdict_of(fountain, year, first, below, goal, reached, chance, strain, borne),
        cold=setting.cold,
        basin=basin,
        jets=heights,
        goal=reached,
        chance=chance,
        goal_borne=borne,
        strain=strain,
        questions=asked,
        assumptions=(
            *info,
            *left_out(design, fountain),
            *of_the_crown(design, fountain, float(operation.flow.max())),
            *of_the_cold(setting.cold),
            *always(sky, design),
        ),
        warnings=(*loud, *unknown_volts(asked), *cautions(fountain, setting.cold, year, operation, first, basin)),
    )


def goal_reached(
    goal: Goal | None, fountain: Fountain, sky: Sky, operation: OperatingPoints, strain: Strain
) -> tuple[GoalFound | None, GoalFound | None]:
    """How far a goal is reached: with all play, and while the pump stays within the highest voltage known for it."""
    if goal is None:
        return None, None
    flows = flow_band(goal, fountain.waterway)
    reached = goal_found(goal, sky, operation.flow, flows)
    if strain.above_allowed == 0:
        return reached, reached
    return reached, goal_found(goal, sky, flow_borne(fountain.pump, operation), flows)


def chance_of_goal(design: Design, fountain: Fountain, here: Setting, sun: PlaneSun, goal: Goal) -> Chance:
    """How sure a goal is with the chosen pair."""
    doubt = goal_doubt(design, here.sky, sun, here.place, here.mounting, goal)
    return goal_chance(doubt, pump_doubt(doubt, fountain), fountain.supply)


def told_on_the_way(*notes: tuple[Note, ...]) -> tuple[list[Note], list[Note]]:
    """Notes of the stages, as sentences with a capital letter: those that inform, those that warn."""
    told = [replace(note, detail=note.detail[0].upper() + note.detail[1:]) for stage in notes for note in stage]
    return [note for note in told if note.severity == "info"], [note for note in told if note.severity == "warning"]


def operate_lit(solved: OperatingGrid, irradiance: NDArray[np.float64], cell: NDArray[np.float64]) -> OperatingPoints:
    """Operating points of a year; the nights are zeros and cost nothing."""
    lit = np.flatnonzero(irradiance > 0)
    found = operate(solved, irradiance[lit], cell[lit])
    whole = {}
    for name in OperatingPoints.__dataclass_fields__:
        values = getattr(found, name)
        whole[name] = np.zeros(irradiance.shape, dtype=values.dtype)
        whole[name][lit] = values
    return OperatingPoints(**whole)


def first_playing_sun(solved: OperatingGrid, air_temperature: float) -> tuple[float | None, State]:
    """Least sun on the cells that makes the fountain play [W/m2], and what it does with a little less.

    ``None`` and the state in full sun, if no sun up to 1200 W/m2 does.
    """
    sun = np.linspace(0.0, 1200.0, 1201)
    found = operate(solved, sun, np.asarray(cell_temperature(sun, air_temperature, 1.0)))
    plays = found.flow > 0
    if not np.any(plays):
        return None, State(int(found.state[1000]))
    first = int(np.argmax(plays))
    return float(sun[first]), State(int(found.state[max(first - 1, 0)]))


def pick(sky: Sky, year: Year, when: When) -> tuple[int, int, str, int]:
    """Month, hour, sky and the step of the year that a moment in words means."""
    best = max(year.months, key=lambda month: (month.water, month.poa_insolation))
    month = when.month or best.month
    usual = year.months[month - 1]
    hour = when.hour if when.hour is not None else (usual.best_hour if usual.flow > 0 else 12)
    day = day_of_kind(sky, month, SKIES[when.sky], hour + 1e-9)
    return month, hour, when.sky, step_at(sky, day, hour + 1e-9)
