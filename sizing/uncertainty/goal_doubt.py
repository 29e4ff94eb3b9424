"""A goal and all that is not known: what pumps and panels share, what one pump asks, and the chance of one with a panel."""

from dataclasses import dataclass
from functools import partial

import numpy as np

from sizing.design.design import Design
from sizing.fountain.components import Fountain
from sizing.fountain.site_setup import Mounting
from sizing.light.irradiance import PlaneSun, calm_light
from sizing.operation.goal import Goal
from sizing.operation.operating_point import Supply
from sizing.place.place import Place
from sizing.sky.weather import Sky
from sizing.uncertainty.causes import causes_of, of_clouds
from sizing.uncertainty.chance import Chance, GoalLight, chance_of, fit_of, goal_light
from sizing.uncertainty.draws import Drawn, drawn
from sizing.uncertainty.sun_needed import Asked, Water, asked_of, water_drawn


@dataclass(frozen=True, eq=False)
class GoalDoubt:
    """What is the same for all pumps and panels of a design: the light of the goal's windows, the water's way in all draws,
    filled in by the first pump, and the share of the light that dirt leaves."""

    design: Design
    sky: Sky
    goal: Goal
    light: GoalLight
    clean: float
    water: list[Water]


@dataclass(frozen=True, eq=False)
class PumpDoubt:
    """What one pump asks in all draws, and the draws."""

    asked: Asked
    drawn: Drawn


def goal_doubt(design: Design, sky: Sky, sun: PlaneSun, place: Place, mounting: Mounting, goal: Goal) -> GoalDoubt:
    """Get ready to tell how sure a goal is, on the plane of ``sun``."""
    calm = partial(calm_light, sky, place, mounting.tilt, mounting.azimuth, mounting.soiling)
    light = goal_light(goal, sky, sun, of_clouds(sky).above, calm)
    return GoalDoubt(design, sky, goal, light, 1 - mounting.soiling, [])


def pump_doubt(doubt: GoalDoubt, fountain: Fountain) -> PumpDoubt:
    """Ask one pump in all draws."""
    causes = causes_of(doubt.design, fountain, doubt.sky, doubt.goal.jet or 0.0)
    found = drawn(causes, doubt.sky)
    if not doubt.water:
        doubt.water.append(water_drawn(doubt.design, fountain.waterway, doubt.goal, found.off))
    return PumpDoubt(asked_of(fountain, {cause.key: cause for cause in causes}, found, doubt.water[0]), found)


def goal_chance(doubt: GoalDoubt, pump: PumpDoubt, supply: Supply) -> Chance:
    """Chance that a pump meets the goal with a panel."""
    return chance_of(doubt.light, pump.asked, supply, pump.drawn, doubt.clean)


def asked_as_taken(doubt: GoalDoubt, fountain: Fountain) -> Asked:
    """What a pump asks with everything as taken, in a tenth of the time that all draws take."""
    causes = {cause.key: cause for cause in causes_of(doubt.design, fountain, doubt.sky, doubt.goal.jet or 0.0)}
    nothing = Drawn({key: np.zeros(1) for key in causes}, np.zeros((12, 1)))
    return asked_of(fountain, causes, nothing, water_drawn(doubt.design, fountain.waterway, doubt.goal, nothing.off))


def margin_as_taken(doubt: GoalDoubt, asked: Asked, supply: Supply) -> float:
    """Sun that the poorest month holds over the sun that the least of the goal needs, all as taken [1]; 0 where none would do."""
    fit = fit_of(doubt.light, asked, supply, np.ones(1))
    return float(fit.held.min() / fit.least.needed[-1])
