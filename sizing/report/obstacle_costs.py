"""What each obstacle costs: the year without it, beside the year as it is."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sizing.fountain.components import goal_of
from sizing.light.irradiance import plane_sun
from sizing.operation.goal import flow_band, goal_found
from sizing.operation.operating_point import flow_alone
from sizing.place.obstacles import skyline_with
from sizing.place.place import Obstacle, Place
from sizing.report.report import Report


@dataclass(frozen=True)
class ObstacleCost:
    """What a year would have without some obstacles, and how much more that is than with all of them.

    Running hours [h], water [m3], and hours that reach the goal [h], ``None`` without a goal.
    """

    obstacles: tuple[Obstacle, ...]
    hours: float
    more_hours: float
    water: float
    more_water: float
    goal_hours: float | None
    more_goal_hours: float | None


def obstacle_costs(report: Report) -> tuple[ObstacleCost, ...]:
    """The year without each obstacle in turn and, where there are several, without all of them."""
    obstacles = report.place.obstacles
    alone = [without(report, (one,), place) for one, place in each_left_out(report.place)]
    if len(obstacles) > 1:
        alone.append(without(report, obstacles, with_only(report.place, ())))
    return tuple(alone)


def each_left_out(place: Place) -> Iterator[tuple[Obstacle, Place]]:
    """Each obstacle, and the place without it."""
    for index, obstacle in enumerate(place.obstacles):
        yield obstacle, with_only(place, (*place.obstacles[:index], *place.obstacles[index + 1 :]))


def with_only(place: Place, obstacles: Sequence[Obstacle]) -> Place:
    """A place with these obstacles alone over the skyline that was typed."""
    return replace(place, obstacles=tuple(obstacles), skyline=skyline_with(place.surveyed, obstacles))


def without(report: Report, gone: tuple[Obstacle, ...], place: Place) -> ObstacleCost:
    """The year of a report at a place where some obstacles are gone."""
    sky, stance = report.sky, report.mounting
    sun = plane_sun(sky, place, stance.tilt, stance.azimuth, stance.soiling)
    lit = np.flatnonzero(sun.effective > 0)
    flow = np.zeros(sun.effective.shape)
    flow[lit] = flow_alone(report.match, sun.effective[lit], sun.cell_temperature[lit])
    step = 24.0 / sky.steps_per_day
    hours, water = float(np.count_nonzero(flow > 0)) * step, float(flow.sum()) * step * 3600
    goal, reached = goal_of(report.design), None
    if goal is not None:
        reached = goal_found(goal, sky, flow, flow_band(goal, report.fountain.waterway)).hours
    before = None if report.goal is None else report.goal.hours
    return ObstacleCost(
        obstacles=gone,
        hours=hours,
        more_hours=hours - report.year.running_hours,
        water=water,
        more_water=water - report.year.water,
        goal_hours=reached,
        more_goal_hours=None if reached is None or before is None else reached - before,
    )
