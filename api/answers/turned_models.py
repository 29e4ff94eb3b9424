"""What the route of direction and tilt experiments answers, as checked models: every field with its unit.

They mirror ``sizing.measured.trials.answer``; an answer that does not fit is a bug and never leaves the service.
"""

from typing import Literal

from pydantic import Field

from api.answers.class_models import LessonAnswer, RowProblemAnswer, SkyRemark
from sizing.answers import Exact, StepAnswer, amount
from sizing.answers import meaning as words


class TurnedGroupAnswer(Exact):
    angle_deg: float = amount("Direction from true north, or tilt, mean of its readings", "deg")
    readings: int = Field(ge=1, description="Readings that count.")
    mean_as_read: float = words("Mean of the readings as they were, in the quantity's unit")
    comparable_mean: float = words("Mean at the reference moment, days and teams evened out")
    low: float | None = words("Lower end of its likely range; null where nothing is left to tell chance by")
    high: float | None = words("Upper end of its likely range; null likewise")
    expected: float = words("What the design should give there under a clear sky")
    measured_over_expected: float = amount("Comparable mean over what is expected", "1")
    words: str = words("The direction or tilt for people")


class DifferenceAnswer(Exact):
    share_pct: float = amount("By how much the first is more than the second", "%")
    uncertainty_pct: float = amount("Standard uncertainty of that", "%")
    confidence_pct: float = amount("How likely it is more than chance (Student's t, two-sided)", "%")
    more_readings_of_each: int | None = words(
        "Further readings of each that would settle it; null where no reasonable number would"
    )


class ModelLineAnswer(Exact):
    angle_deg: list[float] = Field(description="Directions or tilts [deg].")
    value: list[float] = Field(description="What a clear sky gives at the reference moment, in the quantity's unit.")


class TurnedQuantityAnswer(Exact):
    quantity: Literal["panel_current_a", "panel_voltage_v", "panel_power_w", "flow_l_per_min"] = words("What was measured")
    unit: Literal["A", "V", "W", "L/min"] = words("Its unit")
    groups: list[TurnedGroupAnswer] = words("Directions or tilts, angles rising")
    sentences: list[str] = words("What the readings say, and the model beside them")
    best_to_least: DifferenceAnswer | None = words("Best against least, picked from all pairs; null where it cannot be told")
    best_to_next: DifferenceAnswer | None = words("Best against next best; null likewise")
    scatter_pct: float | None = amount("Scatter of a single reading about the fit; null where nothing is left to tell it by", "%")
    freedom: int = Field(description="Readings less the numbers found from them.")
    model: ModelLineAnswer = words("The model's line")
    left_out: list[RowProblemAnswer] = words("Rows that were read and do not count, with the reason")


class ExperimentAnswer(Exact):
    changed: Literal["direction", "tilt"] = words("Which angle was changed")
    title: str = words("The experiment for people")
    held_deg: float = amount("The angle that was held", "deg")
    reference_day: str = words("Day of the reference moment, ISO 8601")
    reference_time_h: float = amount("Its hour of the clock on the wall", "h")
    days_and_teams: int = Field(ge=1, description="Days and teams that were evened out.")
    explanation: list[str] = words("How the readings were made comparable")
    quantities: list[TurnedQuantityAnswer] = words("What was measured")


class TurnedReadingAnswer(Exact):
    row: int = Field(ge=1, description="Row as a spreadsheet counts it.")
    day: str = words("Day, ISO 8601")
    time_h: float = amount("Hour of the clock on the wall", "h")
    direction_deg: float = amount("Direction from true north", "deg")
    tilt_deg: float = amount("Tilt", "deg")
    panel_voltage_v: float | None = amount("Volts at the panel", "V")
    panel_current_a: float | None = amount("Amperes at the panel", "A")
    flow_l_per_min: float | None = amount("Flow", "L/min")
    sky: SkyRemark = words("What was remarked of the sky")
    team: str = words("Label of the team, as it was sent")
    sky_factor: float | None = amount("Measured current over that of a clear sky; null where there is none", "1")


class SunHeightAnswer(Exact):
    row: int = Field(ge=1, description="Row as a spreadsheet counts it.")
    by: Literal["instrument", "shadow"] = words("How it was measured")
    measured_deg: float = amount("Measured height of the sun", "deg")
    uncertainty_deg: float = amount("Its standard uncertainty", "deg")
    computed_deg: float = amount("Computed height, lifted by refraction", "deg")


class SunHeightsAnswer(Exact):
    rows: list[SunHeightAnswer] = words("Every height that was measured")
    offset_deg: float = amount("How much too high all were read", "deg")
    offset_uncertainty_deg: float = amount("Its standard uncertainty", "deg")
    clock_behind_min: float | None = amount("How far the clock was behind; null where the readings cannot tell", "min")
    clock_uncertainty_min: float = amount("Its standard uncertainty", "min")
    sentences: list[str] = words("What the differences say")


class TurnedAnswer(LessonAnswer):
    """A log of directions and tilts."""

    verdict: str = words("The main result in a sentence")
    experiments: list[ExperimentAnswer] = words("The experiments that the log holds, those with most readings first")
    readings: list[TurnedReadingAnswer] = words("Every row that was read")
    sun_heights: SunHeightsAnswer | None = words("Heights of the sun; null where none was measured")
    problems: list[RowProblemAnswer] = words("What could not be read")
    working: list[StepAnswer] = words("How readings were carried to the reference moment")
