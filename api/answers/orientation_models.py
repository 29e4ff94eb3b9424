"""What the search over all directions answers, as checked models: every field with its unit.

``OrientationAnswer`` mirrors ``sizing.orientation.answer``; an answer that does not fit it is a bug and never
leaves the service.
"""

from typing import Annotated, Literal

from pydantic import Field

from sizing.answers import Exact, MountingAnswer, PlaceAnswer, amount
from sizing.answers import meaning as words
from sizing.design import Design

AimName = Literal["year_water", "months_water", "hours_water", "year_play", "hours_play", "goal_hours"]
OriginName = Literal["asked", "goal", "assumed"]
Months = Annotated[list[Annotated[int, Field(ge=1, le=12)]], Field(min_length=1, max_length=12)]
Row = Annotated[list[float], Field(min_length=37, max_length=37)]
Rows = Annotated[list[Row], Field(min_length=19, max_length=19)]


class YearOfSunAnswer(Exact):
    kind: Literal["built_in", "monthly", "weather_file"] = words("Where the year of sun comes from")
    title: str = words("The same for people")
    hour_basis: str = words("The clock that all hours of this answer follow")


class ChoiceAnswer(Exact):
    months: Months = words("Months that count where months are chosen, 1 to 12")
    from_hour: float = amount("Hour of the day from which it counts where hours are chosen", "h")
    to_hour: float = amount("Hour of the day until which it counts", "h")
    months_from: OriginName = words("Whether the months were asked for, are those of the goal, or were assumed")
    hours_from: OriginName = words("The same of the hours")
    sentence: str = words("The same in words")


class BestPlaneAnswer(Exact):
    tilt_deg: float = amount("Tilt", "deg")
    azimuth_deg: float = amount("Direction it faces, clockwise from true north", "deg")
    value: float = words("What it brings, in the unit of the aim")


class AimAnswer(Exact):
    key: AimName = words("Stable name of what is wanted")
    name: str = words("The same in words")
    unit: Literal["L", "h"] = words("Unit of today and of the best value, as UCUM code")
    outcome: Literal["never", "alike", "found"] = words(
        "never: no direction brings any; alike: all directions bring the same within 0.1 %; found: there is a best one"
    )
    today: float = words("What the direction of the design brings, in the unit of the aim")
    best: BestPlaneAnswer = words("The best plane of the grid; of several within 0.1 % the one in their middle")
    given_up: float = amount("Share of the best value that the direction of the design lacks; may be below 0", "1")
    within_deg: float = amount("Largest angle from the best plane within which no plane of the grid loses more than 5 %", "deg")
    sentence: str = words("What the direction of the design gives up, in words")
    within_sentence: str = words("How exactly the best must be kept, in words; empty where there is none")


class SideValuesAnswer(Exact):
    year_water: float = amount("Water in the year", "L")
    months_water: float | None = Field(None, description="Water in the chosen months, where not all are chosen [L].")
    hours_water: float | None = Field(None, description="Water in the chosen hours of the chosen months [L].")
    year_play: float = amount("Hours of play in the year", "h")
    hours_play: float | None = Field(None, description="Hours of play in the chosen hours of the chosen months [h].")
    goal_hours: float | None = Field(None, description="Hours that meet the goal, where there is one [h].")


class SideAnswer(Exact):
    name: Literal["today", "east", "equator", "west", "flat", "best"] = words("Which direction it is")
    tilt_deg: float = amount("Tilt", "deg")
    azimuth_deg: float = amount("Direction it faces, clockwise from true north", "deg")
    sun_kwh_per_m2: float = amount("Sun on the plane in the year, before reflection and dirt", "kW.h/m2")
    values: SideValuesAnswer = words("What it brings")


class TiltMonthAnswer(Exact):
    month: int = Field(ge=1, le=12, description="Month, 1 to 12.")
    best_tilt_deg: float | None = amount("Tilt with most water; null in a month that stays dry at every tilt", "deg")
    best_water_l: float = amount("Water of the month at it", "L")
    fixed_water_l: float = amount("Water of the month at the best tilt of the year", "L")


class SeasonAnswer(Exact):
    tilt_deg: float = amount("Tilt", "deg")
    months: Months = words("Months in which the panel stands so, from the first to the last")


class TwoTiltsAnswer(Exact):
    seasons: list[SeasonAnswer] = Field(min_length=2, max_length=2, description="The two tilts and their months.")
    water_l: float = amount("Water in the year", "L")
    gain: float = amount("What it is more than at the best tilt that stays, as a share", "1")


class TiltsAnswer(Exact):
    azimuth_deg: float = amount("Direction that the panel faces at all these tilts", "deg")
    fixed_tilt_deg: float = amount("The one tilt with most water in the year", "deg")
    fixed_water_l: float = amount("Water in the year at it", "L")
    months: list[TiltMonthAnswer] = Field(min_length=12, max_length=12, description="The twelve months, January first.")
    monthly_gain: float = amount("What a new tilt each month would bring more, as a share", "1")
    two_tilts: TwoTiltsAnswer | None = words("The best two tilts a year; null where they gain nothing")
    sentence: str = words("The same in words")
    two_tilts_sentence: str = words("What two tilts a year bring, in words")


class GridAnswer(Exact):
    """One row for each tilt, in it one value for each azimuth; the level plane stands at every azimuth, north at both ends."""

    tilt_deg: list[float] = amount("Tilts of the rows", "deg")
    azimuth_deg: list[float] = amount("Azimuths of the columns, clockwise from true north", "deg")
    sun_kwh_per_m2: Rows = amount("Sun on the plane in the year, before reflection and dirt", "kW.h/m2")
    year_water_l: Rows = amount("Water in the year", "L")
    months_water_l: Rows | None = Field(None, description="Water in the chosen months, where not all are chosen [L].")
    hours_water_l: Rows | None = Field(None, description="Water in the chosen hours of the chosen months [L].")
    year_play_h: Rows = amount("Hours of play in the year", "h")
    hours_play_h: Rows | None = Field(None, description="Hours of play in the chosen hours of the chosen months [h].")
    goal_hours_h: Rows | None = Field(None, description="Hours that meet the goal, where there is one [h].")


class OrientationAnswer(Exact):
    """The fountain's year in every direction, and the direction of the design beside the best."""

    model_version: str = words("Version of the model; it changes when a number changes")
    title: str = words("Title of the design")
    design: Design = words("The design as it was understood")
    place: PlaceAnswer = words("The place")
    mounting: MountingAnswer = words("How the panel stands today, from true north")
    sky: YearOfSunAnswer = words("The year of sun")
    verdict: str = words("What today's direction gives up for what counts first")
    compass: str = words("What to know of compass needles")
    choice: ChoiceAnswer = words("Months and hours that count where they are chosen")
    main_aim: AimName = words("What counts first: the goal where any direction meets it, else the water of the year")
    aims: list[AimAnswer] = Field(min_length=2, max_length=6, description="Everything one may want of a direction.")
    side_by_side: list[SideAnswer] = Field(min_length=6, max_length=6, description="Six directions to compare.")
    tilts: TiltsAnswer = words("Tilting with the seasons at today's azimuth")
    equator_tilts: TiltsAnswer = words("The same facing the equator")
    grid: GridAnswer = words("Every direction that was tried")
