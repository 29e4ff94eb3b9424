"""What a design file keeps of measurements: how sure a pump's own curve is, and what the finished fountain did on which day.

Nobody is named: a record has a day, an hour, and readings.
"""

import datetime
from typing import Literal

from pydantic import model_validator

from sizing.design.fields import Strict, Whole, number, part, text
from sizing.design.site import DATE_PATTERN, FIRST_YEAR, LAST_YEAR, clash

MOST_RECORDS = 40
READINGS = ("sun_altitude_deg", "panel_voltage_v", "panel_current_a", "flow_l_per_min", "jet_height_m")
"""What a record may hold, in the order of the path."""


def day_exists(day: str, label: str, field: str) -> None:
    """Refuse a day that no calendar has, or of a year that nobody measures in."""
    try:
        year = datetime.date.fromisoformat(day).year
    except ValueError:
        raise clash("no_such_day", field, f"{label} is {day}, which no calendar has; write a day like 2026-05-31") from None
    if not FIRST_YEAR <= year <= LAST_YEAR:
        told = f"{label} is {day}; days from {FIRST_YEAR} to {LAST_YEAR} are computed; check the year"
        raise clash("out_of_range", field, told)


class MeasuredCurve(Strict):
    """A pump's points were fitted to readings of that very pump: when, to how many, and how sure they are."""

    date: str | None = text("day of the bench test", 10, None, DATE_PATTERN, "write it like 2026-05-31")
    readings: Whole = number("readings of the bench test", "1", 1, 10000, "count the rows", 24)
    head_uncertainty_pct: float = number("uncertainty of the pump's head", "%", 0, 100, "one standard uncertainty", 2)
    flow_uncertainty_pct: float = number("uncertainty of the pump's flow", "%", 0, 100, "one standard uncertainty", 3)
    winding_uncertainty_ohm: float = number("uncertainty of the winding", "Ohm", 0, 500, "one standard uncertainty", 0.1)
    no_load_uncertainty_a: float = number("uncertainty of the no-load current", "A", 0, 20, "one standard uncertainty", 0.02)

    @model_validator(mode="after")
    def in_the_calendar(self) -> "MeasuredCurve":
        if self.date is not None:
            day_exists(self.date, "day of the bench test", "date")
        return self


class MeasurementInput(Strict):
    """One look at the finished fountain: day, hour of the clock on the wall, sky, and whatever was read."""

    day: str = text("day of the measurement", 10, pattern=DATE_PATTERN, advice="write it like 2026-05-31")
    clock_hour: float = number("hour of the measurement", "h", 0, 24, "13.5 is half past one on the clock on the wall", 13.5)
    sky: Literal["clear", "haze", "clouds"] = part("sky of the measurement", "clear, haze or clouds", "clear")
    air_temperature_c: float | None = number("air temperature", "Cel", -50, 55, "measure it in the shade", 21, None)
    sun_altitude_deg: float | None = number("measured height of the sun", "deg", 0, 90, "0 is level, 90 straight up", 48, None)
    panel_voltage_v: float | None = number("measured panel voltage", "V", 0, 1000, "measure it while the pump runs", 14.2, None)
    panel_current_a: float | None = number("measured panel current", "A", 0, 200, "measure it while the pump runs", 0.8, None)
    flow_l_per_min: float | None = number("measured flow", "L/min", 0, 1000, "take litres per minute", 6.1, None)
    jet_height_m: float | None = number("measured jet height", "m", 0, 20, "measure from the outlet upward", 0.55, None)

    @model_validator(mode="after")
    def in_the_calendar(self) -> "MeasurementInput":
        day_exists(self.day, "day of the measurement", "day")
        if all(getattr(self, name) is None for name in READINGS):
            told = f"the measurement of {self.day} holds no reading; add at least one of {', '.join(READINGS)}, or remove it"
            raise clash("missing", "panel_voltage_v", told)
        return self
