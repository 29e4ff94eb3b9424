"""What the routes of measurements answer about real days, as checked models: every field with its unit.

They mirror ``sizing.measured.day.answer``; an answer that does not fit is a bug and never leaves the service.
"""

from typing import Literal

from pydantic import Field

from sizing.answers import Exact, RowProblemAnswer, StateName, StepAnswer, TellAnswer, amount
from sizing.answers import meaning as words

StageName = Literal["sun", "panel", "motor", "pump", "outlet"]
QuantityName = Literal["sun_altitude_deg", "panel_voltage_v", "panel_current_a", "flow_l_per_min", "jet_height_m"]
SkyRemark = Literal["", "clear", "haze", "clouds"]


class RangeAnswer(Exact):
    value: float = words("What is expected, in the unit of the field's name")
    low: float = words("Lower end of the likely range, one standard uncertainty below")
    high: float = words("Upper end of the likely range, one standard uncertainty above")


class AcceptAnswer(Exact):
    value: float = words("What is expected, in the unit of the field's name")
    least: float = words("Least to accept, two combined standard uncertainties below")
    most: float = words("Most to accept, two combined standard uncertainties above")


class MomentLine(Exact):
    time_h: float = amount("Hour of the clock on the wall", "h")
    sun_azimuth_deg: float = amount("Direction of the sun, clockwise from true north", "deg")
    poa_w_per_m2: float = amount("Sun on the panel", "W/m2")
    cell_temperature_c: float = amount("Temperature of the cells", "Cel")
    state: StateName = words("What the fountain does")
    reason: str = words("The same in words")


class SheetLineAnswer(MomentLine):
    sun_altitude_deg: float = amount("Height of the sun, lifted by refraction", "deg")
    panel_voltage_v: RangeAnswer = words("Volts at the panel with the pump on it [V]")
    panel_current_a: RangeAnswer = words("Amperes at the panel with the pump on it [A]")
    flow_l_per_min: RangeAnswer = words("Flow [L/min]")
    jet_height_m: RangeAnswer = words("Jet above the outlet [m]")


class FirstDayLineAnswer(MomentLine):
    sun_altitude_deg: AcceptAnswer = words("Height of the sun [deg]")
    panel_voltage_v: AcceptAnswer = words("Volts at the panel with the pump on it [V]")
    panel_current_a: AcceptAnswer = words("Amperes at the panel with the pump on it [A]")
    flow_l_per_min: AcceptAnswer = words("Flow [L/min]")
    jet_height_m: AcceptAnswer = words("Jet above the outlet [m]")


class DayCauseAnswer(Exact):
    key: str = words("Stable name of the cause")
    taken: str = words("What was taken")
    basis: str = words("How far off it may be")
    source: str = words("Source key")
    share: float = amount("Its share in the variance of the flow at the best hour", "1")
    words: str = words("What is not known exactly")


class LessonAnswer(Exact):
    time_zone: str = words("Whose clock all hours follow")
    tilt_deg: float = amount("Tilt of the panel", "deg")
    azimuth_deg: float = amount("Direction the panel faces, from true north", "deg")
    has_jet: bool = words("Whether the outlet throws water upward; where it is a lip, no jet is predicted or judged")
    notes: list[TellAnswer] = words("What to know of place and clock")


class SheetAnswer(LessonAnswer):
    """A predicted clear day."""

    day: str = words("Day, ISO 8601")
    title: str = words("The same for people")
    lines: list[SheetLineAnswer] = Field(max_length=50, description="A line every half hour while the sun is up.")
    causes: list[DayCauseAnswer] = words("What makes the flow unsure, largest first")
    worked_time_h: float = amount("Hour of the moment that is worked out", "h")
    working: list[StepAnswer] = words("Every number of that moment")


class StageAnswer(Exact):
    stage: StageName = words("Stage of the path")
    sentence: str = words("The judgement in one sentence")
    measured_over_computed: float | None = amount("Measured over computed; null for the sun and where nothing was read", "1")
    measured_less_computed_deg: float | None = amount("For the sun alone: how much higher it was measured", "deg")
    uncertainty: float = amount("Combined standard uncertainty of that", "1")
    off: float = amount("Distance in combined standard uncertainties; beyond two it is in doubt", "1")
    change_per_hour: float | None = words("How that changes through the day, in its own unit per hour; null where not told")
    change_uncertainty: float | None = words("Standard uncertainty of the change")
    readings: int = Field(ge=0, description="Readings behind it.")
    doubtful: bool = words("Whether the stage is in doubt, by its mean or by its change")


class WholeAnswer(Exact):
    quantity: QuantityName = words("What was read, with its unit")
    measured_over_predicted: float | None = amount("Mean of the clear rows; null where nothing was read", "1")
    uncertainty: float = amount("Combined standard uncertainty of that", "1")
    off: float = amount("Distance in combined standard uncertainties", "1")
    readings: int = Field(ge=0, description="Readings behind it.")
    doubtful: bool = words("Whether it lies beyond two of them")


class SideAnswer(Exact):
    measured: float | None = words("What was read, in the unit of the field's name; null where nothing was")
    predicted: float = words("What a clear day should bring at that minute")
    low: float = words("Lower end of the likely range")
    high: float = words("Upper end of the likely range")
    off: float | None = words("Measured less predicted in combined standard uncertainties; null likewise")


class FilledRowAnswer(Exact):
    row: int = Field(ge=1, description="Row as a spreadsheet counts it.")
    day: str = words("Day, ISO 8601")
    time_h: float = amount("Hour of the clock on the wall", "h")
    sky: SkyRemark = words("What was remarked of the sky")
    team: str = words("Label of the team, as it was sent")
    sun_altitude_deg: SideAnswer = words("Height of the sun [deg]")
    panel_voltage_v: SideAnswer = words("Volts at the panel [V]")
    panel_current_a: SideAnswer = words("Amperes at the panel [A]")
    flow_l_per_min: SideAnswer = words("Flow [L/min]")
    jet_height_m: SideAnswer = words("Jet above the outlet [m]")


class FilledSheetAnswer(LessonAnswer):
    """A filled sheet beside its prediction."""

    verdict: str = words("Which stage is off most likely and why, in words")
    likely_stage: StageName | None = words("That stage; null where all agree")
    by_chance: float | None = amount("How often chance alone puts one of the stages so far off; null where all agree", "1")
    stages: list[StageAnswer] = Field(
        min_length=4, max_length=5, description="The stages in the order of the path; a lip has no jet to judge."
    )
    wholes: list[WholeAnswer] = words("Volts, amperes, flow and jet against the prediction, all stages together")
    rows: list[FilledRowAnswer] = words("Every row that was read")
    problems: list[RowProblemAnswer] = words("What could not be read")
    working: list[StepAnswer] = words("The numbers of the judgements")


class ReadingAnswer(Exact):
    quantity: QuantityName = words("What was read, with its unit")
    measured: float = words("What was read")
    expected: float = words("What a clear day should bring")
    least: float = words("Least to accept")
    most: float = words("Most to accept")
    verdict: Literal["accept", "look at", "not judged"] = words("Judgement; under clouds there is none")
    words: str = words("The same for people")


class LookAnswer(Exact):
    day: str = words("Day, ISO 8601")
    time_h: float = amount("Hour of the clock on the wall", "h")
    sky: SkyRemark = words("What was remarked of the sky")
    readings: list[ReadingAnswer] = words("What was read")


class TrendAnswer(Exact):
    quantity: QuantityName = words("What was read, with its unit")
    days: list[str] = words("Days of the looks")
    measured_over_expected: list[float] = words("Measured over expected on each")
    change_per_year: float | None = amount("Change of that a year; null where the looks are too near one another", "1")
    uncertainty_per_year: float = amount("Standard uncertainty of the change", "1")
    sentence: str = words("The same in words")


class KeptAnswer(Exact):
    """The looks that a design holds."""

    sentence: str = words("The last day in a sentence")
    looks: list[LookAnswer] = words("Every look, in the design's order")
    last: FilledSheetAnswer = words("The stages on the last day")
    trends: list[TrendAnswer] = words("How it went over the years")


class FirstDayAnswer(LessonAnswer):
    """What to measure on a clear day and what to accept, and the looks so far."""

    day: str = words("Day, ISO 8601")
    title: str = words("The same for people")
    lines: list[FirstDayLineAnswer] = Field(max_length=3, description="At the sun's highest half hour, and two hours aside.")
    kept: KeptAnswer | None = words("The looks that the design holds; null where it holds none")
