"""What each obstacle costs, as a table of the results and the report."""

from collections.abc import Iterable

from sizing.foundation import LITRE, SPACE, compass, figures
from sizing.place import Obstacle
from sizing.report import ObstacleCost, Report, obstacle_costs
from web.charts.kit.shapes import Table
from web.pages.results.what_if import signed


def obstacle_table(report: Report) -> Table | None:
    """The year without each obstacle beside the year with all; ``None`` where none was typed."""
    costs = obstacle_costs(report)
    if not costs:
        return None
    asked = report.goal is not None
    head = ("Without", "Running hours a year", "Water a year", *(("Goal hours a year",) if asked else ()))
    return Table("What each obstacle costs: a year without it, and how much more that is", head, tuple(rows(costs, asked)))


def rows(costs: Iterable[ObstacleCost], asked: bool) -> Iterable[tuple[str, ...]]:
    """One row for each obstacle, and one for all of several."""
    for cost in costs:
        water = (f"{figures(cost.water / LITRE)}{SPACE}L", signed(cost.more_water / LITRE, "L", 1))
        found = [beside(cost.hours, cost.more_hours), f"{water[0]} ({water[1]})"]
        if asked and cost.goal_hours is not None and cost.more_goal_hours is not None:
            found.append(beside(cost.goal_hours, cost.more_goal_hours))
        yield called(cost.obstacles), *found


def beside(hours: float, more: float) -> str:
    """Hours, and how many more they are."""
    return f"{figures(hours, 4)}{SPACE}h ({signed(more, 'h', 1)})"


def called(obstacles: tuple[Obstacle, ...]) -> str:
    """An obstacle by its name or direction; several as all."""
    if len(obstacles) > 1:
        return "all of them"
    return name_of(obstacles[0])


def name_of(obstacle: Obstacle) -> str:
    """An obstacle by its name and direction."""
    towards = f"in the {compass(obstacle.azimuth)} ({figures(obstacle.azimuth)}°)"
    return f"{obstacle.name}, {towards}" if obstacle.name else f"the obstacle {towards}"
