"""The chance that the goal is met: as the panel faces today, and on the plane with most hours of the goal."""

from dataclasses import dataclass, replace

from sizing.design.design import Design
from sizing.fountain.components import Fountain
from sizing.fountain.site_setup import Mounting, Setting
from sizing.light.irradiance import plane_sun
from sizing.operation.goal import Goal
from sizing.uncertainty.chance import Chance
from sizing.uncertainty.goal_doubt import goal_chance, goal_doubt, pump_doubt


@dataclass(frozen=True)
class GoalChances:
    """How sure the goal is today, and at the tilt and azimuth [deg] with most hours of it."""

    today: Chance
    best: Chance
    tilt: float
    azimuth: float


def goal_chances(design: Design, fountain: Fountain, setting: Setting, goal: Goal, tilt: float, azimuth: float) -> GoalChances:
    """Chances today and on a plane of this tilt and azimuth [deg]; each is what a sizing of that plane says."""
    other = replace(setting.mounting, tilt=tilt, azimuth=azimuth)
    today, best = (chance_on(design, fountain, setting, each, goal) for each in (setting.mounting, other))
    return GoalChances(today, best, tilt, azimuth)


def chance_on(design: Design, fountain: Fountain, setting: Setting, mounting: Mounting, goal: Goal) -> Chance:
    """Chance that the goal is met with the panel mounted so."""
    sun = plane_sun(setting.sky, setting.place, mounting.tilt, mounting.azimuth, mounting.soiling)
    doubt = goal_doubt(design, setting.sky, sun, setting.place, mounting, goal)
    return goal_chance(doubt, pump_doubt(doubt, fountain), fountain.supply)
