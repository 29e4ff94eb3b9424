"""What each obstacle costs, as a table for spreadsheets (RFC 4180)."""

from collections.abc import Sequence

from sizing.report import ObstacleCostAnswer
from web.exports.months import csv_text

HEAD = (
    *("design", "without", "azimuth_deg", "running_hours", "more_running_hours", "water_l", "more_water_l"),
    *("goal_hours", "more_goal_hours"),
)


def obstacles_csv(title: str, costs: Sequence[ObstacleCostAnswer]) -> str:
    """One row for each obstacle, and one for all of several.

    Examples
    --------
    >>> obstacles_csv("Jet", []).strip().split(",")[:2]
    ['design', 'without']
    """
    rows = [
        (
            title,
            "; ".join(name or "obstacle" for name in cost.names),
            cost.azimuths_deg[0] if len(cost.azimuths_deg) == 1 else "",
            *(cost.running_hours, cost.more_running_hours, cost.water_l, cost.more_water_l),
            *("" if value is None else value for value in (cost.goal_hours, cost.more_goal_hours)),
        )
        for cost in costs
    ]
    return csv_text([HEAD, *rows])
