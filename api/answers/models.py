"""The answer of a sizing as a checked model: every field with its unit.

``Answer`` mirrors ``sizing.report.answer``; an answer that does not fit it is a bug and never leaves the service.
"""

from typing import Annotated, Literal

from pydantic import Field

from sizing.answers import Exact, MountingAnswer, NoteAnswer, PlaceAnswer, SourceAnswer, StateName, StepAnswer, amount
from sizing.answers import meaning as words
from sizing.design import Design


class SkyAnswer(Exact):
    kind: Literal["built_in", "monthly", "weather_file"] = words("Where the year of sun comes from")
    title: str = words("The same for people")
    hour_basis: str = words("The clock that all hours of this answer follow")
    clearness: list[float] = Field(
        min_length=12, max_length=12, description="Share of the sun above the air that reaches the ground, January first [1]."
    )
    air_temperature_c: list[float] = Field(
        min_length=12, max_length=12, description="Mean air temperature of each month, January first [Cel]."
    )
    year_band: float = amount("How far the sun of a year may be off, one standard deviation as a share", "1")
    month_band: float = amount("How far the sun of a month may be off, one standard deviation as a share", "1")


class VerdictAnswer(Exact):
    headline: str = words("When it plays and how high, in one sentence")
    dry: str = words("How often the poorest month stays dry")
    limit: str = words("How much sun it needs and why less does not do")


class GoalMonthAnswer(Exact):
    month: int = Field(ge=1, le=12, description="Month, 1 to 12.")
    days_out_of_ten: float = amount("Days out of ten on which every step of the goal's hours reaches it", "1")


class GoalAnswer(Exact):
    met: bool = words("Whether enough days of every month of the goal reach it")
    hours: float = amount("Hours of a year, inside the hours and months of the goal, that reach it", "h")
    window_hours: float = amount("All hours of a year inside the hours and months of the goal", "h")
    months: list[GoalMonthAnswer] = Field(min_length=1, max_length=12, description="The months of the goal.")
    poorest_month: int = Field(ge=1, le=12, description="The month on the fewest days of which the goal is reached.")
    sentence: str = words("The same in one sentence")


class MonthAnswer(Exact):
    month: int = Field(ge=1, le=12, description="Month, 1 to 12.")
    days: int = amount("Days in the month", "d")
    poa_kwh_per_m2_day: float = amount("Sun on the panel's plane in a mean day, before reflection and dirt", "kW.h/m2/d")
    running_h_per_day: float = amount("Hours that it plays in a mean day", "h/d")
    water_l_per_day: float = amount("Water lifted in a mean day", "L/d")
    water_low_l_per_day: float = amount("Low end of its likely range, all causes together", "L/d")
    water_high_l_per_day: float = amount("High end of its likely range", "L/d")
    water_dull_l_per_day: float = amount("Water of a dull day: one day in ten has less", "L/d")
    water_usual_l_per_day: float = amount("Water of the middle day of the month", "L/d")
    water_bright_l_per_day: float = amount("Water of a bright day: one day in ten has more", "L/d")
    jet_height_m: float | None = amount("Jet height at the best hour of the usual day; null for a spillway", "m")
    flow_l_per_min: float = amount("Flow at the best hour of the usual day", "L/min")
    best_hour: int = Field(ge=0, le=23, description="Hour of the day that begins the best hour [h].")
    first_hour: float | None = amount("When it starts on the usual day; null where it stays dry", "h")
    last_hour: float | None = amount("When it stops on the usual day; null where it stays dry", "h")
    dry_days: int = amount("Days without any water", "d")
    over_voltage_h: float = amount("Hours of the month above the pump's highest voltage", "h")


class YearAnswer(Exact):
    water_l: float = amount("Water lifted in the year", "L")
    water_low_l: float = amount("Low end of its likely range, all causes together", "L")
    water_high_l: float = amount("High end of its likely range", "L")
    running_h: float = amount("Hours that it plays in the year", "h")
    poa_kwh_per_m2: float = amount("Sun on the panel's plane in the year, before reflection and dirt", "kW.h/m2")
    hours_by_state: dict[StateName, float] = words("Hours of the year in each state [h]")


class SureYearAnswer(Exact):
    water_l: float = amount("Water lifted in the year", "L")
    water_low_l: float = amount("Low end of its likely range", "L")
    water_high_l: float = amount("High end of its likely range", "L")


class SureMonthAnswer(Exact):
    month: int = Field(ge=1, le=12, description="Month, 1 to 12.")
    water_l_per_day: float = amount("Water lifted in a mean day", "L/d")
    water_low_l_per_day: float = amount("Low end of its likely range", "L/d")
    water_high_l_per_day: float = amount("High end of its likely range", "L/d")
    jet_height_m: float | None = amount("Jet height at the best hour of the usual day; null for a spillway", "m")
    jet_low_m: float | None = amount("Low end of its likely range", "m")
    jet_high_m: float | None = amount("High end of its likely range", "m")


class CauseAnswer(Exact):
    key: str = words("Name of the cause")
    given: str = words("What was taken")
    standard_uncertainty: float = amount("Standard uncertainty, both sides together, in the unit named beside it", "*")
    standard_uncertainty_below: float = amount("To the smaller side", "*")
    standard_uncertainty_above: float = amount("To the larger side", "*")
    unit: str = words("Unit of the uncertainties, as UCUM code; 1 is a share of what was taken, for dirt of the sun")
    basis: str = words("How the uncertainty was come by")
    source: str = words("Key of its publication in sources")
    advice: str = words("What would tell better")
    year_share: float = amount("Share in the variance of the year's water", "1")
    month_share: float = amount("Share in the variance of the best month's water", "1")
    jet_share: float = amount("Share in the variance of the jet in the best month", "1")
    low_effect_l: float = amount("What one standard uncertainty may take from the year's water", "L")
    high_effect_l: float = amount("What it may add", "L")
    words: str = words("Its name for people")


class ShrinkAnswer(Exact):
    causes: list[str] = words("Keys of the causes that one measurement settles")
    variance_share: float = amount("Their share in the variance of the year's water", "1")
    water_low_l: float = amount("Low end of the year's likely range, were they known exactly", "L")
    water_high_l: float = amount("High end", "L")
    sentence: str = words("The same in words")


class HowSureAnswer(Exact):
    """Likely means one standard uncertainty to either side (JCGM 100): about two times in three."""

    year: SureYearAnswer = words("The year")
    months: list[SureMonthAnswer] = Field(min_length=12, max_length=12, description="The twelve months.")
    best_month: int = Field(ge=1, le=12, description="The month with most water.")
    causes: list[CauseAnswer] = words("What is not known exactly, in the order of the path")
    shrink_most: ShrinkAnswer | None = words("What would narrow the year's range most; null where nothing is uncertain")


Hours = Annotated[list[float], Field(min_length=24, max_length=24)]
MonthHours = Annotated[list[Hours], Field(min_length=12, max_length=12)]


class UsualDayAnswer(Exact):
    flow_l_per_min: MonthHours = amount("Flow in each hour of the usual day, 12 months of 24 hours", "L/min")
    jet_height_m: MonthHours | None = amount("Jet height likewise; null for a spillway", "m")


class OperatingPointAnswer(Exact):
    irradiance_w_per_m2: float = amount("Sun that reaches the cells", "W/m2")
    cell_temperature_c: float = amount("Temperature of the cells", "Cel")
    voltage_v: float = amount("Voltage at the motor", "V")
    current_a: float = amount("Current of the motor", "A")
    speed_ratio: float = amount("Speed against the speed at rated voltage", "1")
    flow_l_per_min: float = amount("Flow", "L/min")
    head_m: float = amount("Head of the pump", "m")
    jet_height_m: float | None = amount("Jet height; null for a spillway", "m")
    state: StateName = words("What the fountain does")
    reason: str = words("The same in words")


class StationAnswer(Exact):
    name: str = words("Station on the way from the sun to the basin")
    value: float = words("Its one number")
    unit: str = words("Unit of the number, as UCUM code; 1 for a ratio")
    working_id: str | None = words("Where the number stands in working; null if it is not worked out")


class MomentAnswer(Exact):
    month: int | None = Field(ge=1, le=12, description="Month, 1 to 12; null where a strength of sun was asked for.")
    hour: int | None = Field(ge=0, le=23, description="Hour of the day [h]; null likewise.")
    sky: Literal["clear", "usual", "dull"] | None = words("Which day of the month; null likewise")
    day_of_year: int | None = Field(ge=1, le=365, description="The day that was taken, 1 January is 1; null likewise.")
    time_h: float | None = amount("Time of the day, middle of the step; null likewise", "h")
    state: StateName = words("What the fountain does")
    reason: str = words("The same in words")
    stations: list[StationAnswer] = words("The stations in the order in which sun and water travel")


class Answer(Exact):
    """One design sized: its months, its year, one moment worked out, and what was assumed."""

    model_version: str = words("Version of the model; it changes when a number changes")
    title: str = words("Title of the design")
    design: Design = words("The design as it was understood")
    place: PlaceAnswer = words("The place")
    mounting: MountingAnswer = words("How the panel stands, from true north")
    sky: SkyAnswer = words("The year of sun")
    verdict: VerdictAnswer = words("The answer in sentences")
    goal: GoalAnswer | None = words("How far the design's goal is reached; null where it sets none")
    months: list[MonthAnswer] = Field(min_length=12, max_length=12, description="The twelve months, January first.")
    year: YearAnswer = words("Sums of the year")
    how_sure: HowSureAnswer = words("Likely ranges, what causes them, and what would narrow them")
    usual_day: UsualDayAnswer = words("The usual day of each month, hour by hour")
    operating_points: list[OperatingPointAnswer] = words("Panel, pump and pipe together at ten strengths of sun")
    first_playing_irradiance_w_per_m2: float | None = amount(
        "Least sun on the cells that makes it play; null if none does", "W/m2"
    )
    moment: MomentAnswer = words("One moment, station by station")
    assumptions: list[NoteAnswer] = words("What was assumed, each with its value")
    warnings: list[NoteAnswer] = words("What will disappoint or needs a second look")
    working: list[StepAnswer] = words("Every number of the moment and of the months, inputs before results")
    sources: dict[str, SourceAnswer] = words("The publications that working names")
