"""The goal in the design file: a jet or a flow, from a lowest to a highest, in which hours and months, on how many days."""

from typing import Annotated

from pydantic import model_validator

from sizing.design.fields import Strict, Whole, number, rows
from sizing.design.site import clash

GOAL_MONTH = number("goal month", "1", 1, 12, "1 is January, 12 December", 5)
MOST_MORE_WINDOWS = 3


class GoalHours(Strict):
    """A further window of the day."""

    from_hour: float = number("first hour of the goal", "h", 0, 24, "9.5 is half past nine", 12)
    to_hour: float = number("last hour of the goal", "h", 0, 24, "9.5 is half past nine", 14)


class GoalInput(Strict):
    """What the fountain should reach: a jet or a flow, in which hours and months, on how many days out of ten."""

    jet_height_m: float | None = number("jet height to reach", "m", 0.01, 20, "measure from the outlet upward", 0.5, None)
    jet_height_to_m: float | None = number(
        "highest jet wanted", "m", 0.01, 20, "leave it out if the jet may be as high as it likes", 0.8, None
    )
    flow_l_per_min: float | None = number("flow to reach", "L/min", 0.01, 1000, "take litres per minute", 6, None)
    flow_to_l_per_min: float | None = number(
        "largest flow wanted", "L/min", 0.01, 1000, "leave it out if the flow may be as large as it likes", 9, None
    )
    from_hour: float = number("first hour of the goal", "h", 0, 24, "9.5 is half past nine", 10)
    to_hour: float = number("last hour of the goal", "h", 0, 24, "9.5 is half past nine", 15)
    more_windows: tuple[GoalHours, ...] = rows(
        "further windows", "further window", 0, MOST_MORE_WINDOWS, "hours of the same days, beside the first ones", ()
    )
    window_share_pct: float = number(
        "share of the hours that counts", "%", 10, 100, "90 lets a cloud pass; 100 means every step of the hours", 90, 90.0
    )
    months: tuple[Annotated[Whole, GOAL_MONTH], ...] = rows(
        "goal months", "entry", 1, 12, "numbers of the months in which it should play"
    )
    days_out_of_ten: Whole = number("days out of ten", "1", 1, 10, "10 means every day, 5 a usual day", 7, 7)

    @model_validator(mode="after")
    def one_measure(self) -> "GoalInput":
        if self.jet_height_m is None and self.flow_l_per_min is None:
            raise clash(
                "missing",
                "jet_height_m",
                "jet height to reach is missing; add it, between 0.01 and 20 m, or flow_l_per_min in its place",
            )
        if self.jet_height_m is not None and self.flow_l_per_min is not None:
            both = f"flow to reach is {self.flow_l_per_min:g} L/min and the jet height to reach {self.jet_height_m:g} m"
            raise clash("given_twice", "flow_l_per_min", f"{both}; a goal has one of the two; keep one")
        return self

    @model_validator(mode="after")
    def band_the_right_way_up(self) -> "GoalInput":
        for low, high, field, name, unit in (
            (self.jet_height_m, self.jet_height_to_m, "jet_height_to_m", "highest jet wanted", "m"),
            (self.flow_l_per_min, self.flow_to_l_per_min, "flow_to_l_per_min", "largest flow wanted", "L/min"),
        ):
            if high is None:
                continue
            if low is None:
                other = "flow" if unit == "m" else "jet height"
                raise clash(
                    "given_twice",
                    field,
                    f"{name} is {high:g} {unit} but the goal is a {other}; leave it out, or type both ends of one thing",
                )
            if high <= low:
                raise clash(
                    "band_upside_down",
                    field,
                    f"{name} is {high:g} {unit} and the lowest is {low:g} {unit}; it must be more than {low:g} {unit}; "
                    "check for swapped numbers",
                )
        return self

    @model_validator(mode="after")
    def hours_and_months_in_order(self) -> "GoalInput":
        windows = [("", self.from_hour, self.to_hour)]
        windows += [(f"more_windows/{at}/", each.from_hour, each.to_hour) for at, each in enumerate(self.more_windows)]
        for at, (holder, first, last) in enumerate(windows):
            if last <= first:
                raise clash(
                    "hours_out_of_order",
                    f"{holder}to_hour",
                    f"last hour of the goal is {last:g} and the first {first:g}; the last must come later on the same day, at "
                    "24 at the latest; check for swapped numbers",
                )
            for _, begins, ends in windows[:at]:
                if first < ends and begins < last:
                    raise clash(
                        "windows_overlap",
                        f"{holder}from_hour",
                        f"first hour of the goal is {first:g} in a window until {last:g}, and another window goes from "
                        f"{begins:g} to {ends:g}; windows must not overlap; begin at {ends:g} or later, or make them one",
                    )
        for index, month in enumerate(self.months):
            if month in self.months[:index]:
                raise clash("month_doubled", f"months/{index}", f"goal month {month} is named twice; keep one")
        return self
