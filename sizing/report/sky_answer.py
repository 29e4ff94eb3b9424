"""The answer of a garden's sky, and what obstacles cost: what the HTTP interface writes, every field with its unit."""

from dataclasses import replace
from typing import Literal, Self

from sizing.answers.kit import Exact, amount, meaning
from sizing.answers.shared import NoteAnswer, PlaceAnswer, SkyKind, YearOfSunAnswer
from sizing.foundation.errors import Note
from sizing.foundation.units import LITRE
from sizing.light.sun_paths import SkylineMonth
from sizing.report.garden_sky import HiddenBy, SkyReport
from sizing.report.obstacle_costs import ObstacleCost
from sizing.sky.cold import ColdAir
from sizing.sky.day_courses import DayCourse
from sizing.sky.day_courses import Kind as DayKind
from sizing.sky.sky_months import Comparison, SkyMonth, SkyYear


class SkyMonthAnswer(Exact):
    month: int = meaning("Month, 1 to 12", ge=1, le=12)
    sun_kwh_per_m2_day: float = amount("Sun on level ground in a mean day", "kW.h/m2/d")
    dull_day_kwh_per_m2: float = amount("Sun on level ground of a dull day: one day in ten has less", "kW.h/m2")
    usual_day_kwh_per_m2: float = amount("Sun on level ground of the middle day of the month", "kW.h/m2")
    bright_day_kwh_per_m2: float = amount("Sun on level ground of a bright day: one day in ten has more", "kW.h/m2")
    beam_share: float = amount("Share of it that comes straight from the sun", "1")
    clearness: float = amount("Share of the sun above the air that reaches the ground", "1")
    air_temperature_c: float = amount("Mean air temperature", "Cel")
    band: float = amount("How far the sun of the month may be off, one standard deviation as a share", "1")

    @classmethod
    def of(cls, month: SkyMonth) -> Self:
        return cls(
            month=month.month,
            sun_kwh_per_m2_day=month.sun,
            dull_day_kwh_per_m2=month.sun_dull,
            usual_day_kwh_per_m2=month.sun_usual,
            bright_day_kwh_per_m2=month.sun_bright,
            beam_share=month.beam_share,
            clearness=month.clearness,
            air_temperature_c=month.air_temperature,
            band=month.band,
        )


class SkyYearAnswer(Exact):
    sun_kwh_per_m2: float = amount("Sun on level ground in the year", "kW.h/m2")
    beam_share: float = amount("Share of it that comes straight from the sun", "1")
    air_temperature_c: float = amount("Mean air temperature", "Cel")
    band: float = amount("How far the sun of the year may be off, one standard deviation as a share", "1")

    @classmethod
    def of(cls, year: SkyYear) -> Self:
        return cls(sun_kwh_per_m2=year.sun, beam_share=year.beam_share, air_temperature_c=year.air_temperature, band=year.band)


class BuiltInSkyAnswer(Exact):
    months: list[SkyMonthAnswer] = meaning("The twelve months, January first", min_length=12, max_length=12)
    year: SkyYearAnswer = meaning("The year")

    @classmethod
    def of(cls, year: SkyYear) -> Self:
        return cls(months=[SkyMonthAnswer.of(month) for month in year.months], year=SkyYearAnswer.of(year))


class ComparisonAnswer(Exact):
    month_ratio: list[float | None] = meaning(
        "Sun of this sky over that of the built-in climate, January first; null where that is dark [1]",
        min_length=12,
        max_length=12,
    )
    year_ratio: float = amount("The same for the year", "1")
    sentence: str = meaning("How far the two are apart and which to believe")

    @classmethod
    def of(cls, found: Comparison) -> Self:
        return cls(month_ratio=list(found.month_ratio), year_ratio=found.year_ratio, sentence=found.sentence)


class SkylinePointAnswer(Exact):
    azimuth_deg: float = amount("Direction, clockwise from true north", "deg")
    altitude_deg: float = amount("How high what stands there reaches", "deg")


class SkylineMonthAnswer(Exact):
    month: int = meaning("Month, 1 to 12", ge=1, le=12)
    hours_up: float = amount("Hours of the month that the sun is above level ground", "h")
    hours_hidden: float = amount("Hours of them that the skyline hides it", "h")
    beam_lost_kwh_per_m2: float = amount(
        "Beam that the skyline takes from the panel, or from level ground, in the month", "kW.h/m2"
    )
    first_hour: float | None = amount("From when it hides the sun on most days; null where it does not", "h")
    last_hour: float | None = amount("Until when it hides the sun on most days; null where it does not", "h")

    @classmethod
    def of(cls, month: SkylineMonth) -> Self:
        return cls(
            month=month.month,
            hours_up=month.hours_up,
            hours_hidden=month.hours_hidden,
            beam_lost_kwh_per_m2=month.beam_lost,
            first_hour=month.first_hour,
            last_hour=month.last_hour,
        )


class ColdAirAnswer(Exact):
    lowest_c: float = amount("Coldest air to design for, with a margin where it was estimated", "Cel")
    usual_c: float = amount("Likeliest coldest night of ten years", "Cel")
    basis: Literal["typed", "file", "months"] = meaning(
        "Whether it was typed, or estimated from the coldest hour of a weather file or the mean of the coldest month"
    )

    @classmethod
    def of(cls, cold: ColdAir) -> Self:
        return cls(lowest_c=cold.lowest, usual_c=cold.usual, basis=cold.basis)


class HiddenByAnswer(Exact):
    name: str = meaning("Name of the obstacle")
    azimuth_deg: float = amount("Direction of its middle, clockwise from true north", "deg")
    height_m: float = amount("How far its top is above the panel", "m")
    distance_m: float = amount("How far away it is", "m")
    width_m: float = amount("How wide it is", "m")
    hours_hidden: float = amount("Hours of the year that it hides the sun and nothing else does", "h")
    beam_lost_kwh_per_m2: float = amount("Beam that it takes and nothing else does, in the year", "kW.h/m2")

    @classmethod
    def of(cls, found: HiddenBy) -> Self:
        one = found.obstacle
        return cls(
            name=one.name,
            azimuth_deg=one.azimuth,
            height_m=one.height,
            distance_m=one.distance,
            width_m=one.width,
            hours_hidden=found.hours,
            beam_lost_kwh_per_m2=found.beam,
        )


class SkylineAnswer(Exact):
    points: list[SkylinePointAnswer] = meaning("The skyline from true north, in the order of its directions")
    declination_deg: float | None = amount(
        "Magnetic declination, east positive, where the panel's direction was read from a compass; else null", "deg"
    )
    hours_hidden: float = amount("Hours of the year that the skyline hides the sun", "h")
    beam_lost_kwh_per_m2: float = amount(
        "Beam that the skyline takes from the panel, or from level ground, in the year", "kW.h/m2"
    )
    months: list[SkylineMonthAnswer] = meaning("The twelve months, January first", min_length=12, max_length=12)
    sentence: str = meaning("The same in one sentence")
    obstacles: list[HiddenByAnswer] = meaning("What each obstacle hides alone; empty where none was typed")

    @classmethod
    def of(cls, found: SkyReport) -> Self:
        points = [SkylinePointAnswer(azimuth_deg=towards, altitude_deg=height) for towards, height in found.place.skyline]
        return cls(
            points=points,
            declination_deg=None if found.mounting is None else found.mounting.declination,
            hours_hidden=found.skyline.hours_hidden,
            beam_lost_kwh_per_m2=found.skyline.beam_lost,
            months=[SkylineMonthAnswer.of(month) for month in found.skyline.months],
            sentence=found.skyline_sentence,
            obstacles=[HiddenByAnswer.of(each) for each in found.obstacles],
        )


class DayCourseAnswer(Exact):
    """One day as it runs."""

    kind: DayKind = meaning("Whether one day in ten of its month has less sun, half of them, or nine in ten")
    month: int = meaning("Month, 1 to 12", ge=1, le=12)
    day_of_year: int = meaning("Day of the year, 1 to 365", ge=1, le=365)
    hour: list[float] = amount("Middle of each step, on the clock of this answer", "h")
    sun_w_per_m2: list[float] = amount("Sun on level ground in each step", "W/m2")
    without_clouds_w_per_m2: list[float] | None = amount(
        "The same day if no cloud passed inside it; null where the steps were read from a file", "W/m2"
    )

    @classmethod
    def of(cls, day: DayCourse) -> Self:
        return cls(
            kind=day.kind,
            month=day.month,
            day_of_year=day.day + 1,
            hour=day.hour.tolist(),
            sun_w_per_m2=day.sun.tolist(),
            without_clouds_w_per_m2=None if day.calm is None else day.calm.tolist(),
        )


class ObstacleCostAnswer(Exact):
    """What a year would have without one obstacle, or without all of them, and how much more that is than with them."""

    names: list[str] = meaning("Names of the obstacles that are left out; empty texts where they have none")
    azimuths_deg: list[float] = amount("Directions of their middles, clockwise from true north", "deg")
    running_hours: float = amount("Running hours of the year without them", "h")
    more_running_hours: float = amount("How many more that is", "h")
    water_l: float = amount("Water of the year without them", "L")
    more_water_l: float = amount("How much more that is", "L")
    goal_hours: float | None = amount("Hours of the year without them that reach the goal; null without a goal", "h")
    more_goal_hours: float | None = amount("How many more that is; null likewise", "h")

    @classmethod
    def of(cls, cost: ObstacleCost) -> Self:
        return cls(
            names=[each.name for each in cost.obstacles],
            azimuths_deg=[each.azimuth for each in cost.obstacles],
            running_hours=cost.hours,
            more_running_hours=cost.more_hours,
            water_l=cost.water / LITRE,
            more_water_l=cost.more_water / LITRE,
            goal_hours=cost.goal_hours,
            more_goal_hours=cost.more_goal_hours,
        )


class GardenSkyAnswer(Exact):
    """The sky over one garden: its months, beside the built-in climate, and what the skyline takes."""

    place: PlaceAnswer = meaning("The place")
    kind: SkyKind = meaning("Where the year of sun comes from")
    origin: str = meaning("The same in one sentence")
    hour_basis: str = meaning("The clock that all hours of this answer follow")
    months: list[SkyMonthAnswer] = meaning("The twelve months, January first", min_length=12, max_length=12)
    year: SkyYearAnswer = meaning("The year")
    built_in: BuiltInSkyAnswer | None = meaning(
        "The built-in climate of the same place; null where it is this sky or does not know the place"
    )
    comparison: ComparisonAnswer | None = meaning("This sky against the built-in climate; null likewise")
    skyline: SkylineAnswer = meaning("What the skyline takes of the sun")
    cold: ColdAirAnswer = meaning("The coldest air, by which cold voltages and frost are judged")
    notes: list[NoteAnswer] = meaning("What to know of this sky, and what needs a second look")
    days: list[DayCourseAnswer] = meaning(
        "A dull, a usual and a bright day of the sunniest month as they run", min_length=3, max_length=3
    )


def sky_answer(found: SkyReport) -> GardenSkyAnswer:
    """Everything known of a garden's sky that can be written down."""
    whole, sun = BuiltInSkyAnswer.of(found.year), YearOfSunAnswer.of(found.sky)
    return GardenSkyAnswer(
        place=PlaceAnswer.of(found.place),
        kind=sun.kind,
        origin=found.year.origin,
        hour_basis=sun.hour_basis,
        months=whole.months,
        year=whole.year,
        built_in=None if found.built_in is None else BuiltInSkyAnswer.of(found.built_in),
        comparison=None if found.comparison is None else ComparisonAnswer.of(found.comparison),
        skyline=SkylineAnswer.of(found),
        cold=ColdAirAnswer.of(found.cold),
        notes=[NoteAnswer.of(capital(note)) for note in found.notes],
        days=[DayCourseAnswer.of(day) for day in found.days],
    )


def capital(note: Note) -> Note:
    """A note whose sentence has a capital letter."""
    return replace(note, detail=note.detail[0].upper() + note.detail[1:])
