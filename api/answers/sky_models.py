"""What the routes of places and skies answer, as checked models: every field with its unit.

``GardenSkyAnswer`` mirrors ``sizing.report.garden_sky.sky_answer``; an answer that does not fit it is a bug and never leaves
the service.
"""

from typing import Literal

from pydantic import Field

from api.answers.models import Exact, NoteAnswer, PlaceAnswer, amount, words

CREDIT = "GeoNames, CC BY 4.0"
MOST_TOWNS = 20


class PlaceFoundAnswer(Exact):
    name: str = words("Name of the town; empty where coordinates were asked for")
    region: str = words('State in the United States, elsewhere "near" and a larger town near by; may be empty')
    country: str = words("Country; empty where coordinates were asked for")
    country_code: str = words("Its code of two letters (ISO 3166-1); empty likewise")
    latitude_deg: float = amount("Latitude, north positive", "deg")
    longitude_deg: float = amount("Longitude, east positive", "deg")
    elevation_m: float = amount("Elevation above the sea, looked up, good to about 90 m", "m")
    time_zone: str = words("Time zone by its name in the tz database; that of the nearest town where coordinates were asked for")
    population: int = Field(ge=0, description="People; 0 where the list does not know it.")


class PlacesAnswer(Exact):
    """The places that a text may mean, best first; none where nothing fits."""

    items: list[PlaceFoundAnswer] = Field(max_length=MOST_TOWNS, description="The places, best first.")
    credit: Literal["GeoNames, CC BY 4.0"] = words("Whose list of towns it is, to be named where the names are shown")


class SkyMonthAnswer(Exact):
    month: int = Field(ge=1, le=12, description="Month, 1 to 12.")
    sun_kwh_per_m2_day: float = amount("Sun on level ground in a mean day", "kW.h/m2/d")
    dull_day_kwh_per_m2: float = amount("Sun on level ground of a dull day: one day in ten has less", "kW.h/m2")
    usual_day_kwh_per_m2: float = amount("Sun on level ground of the middle day of the month", "kW.h/m2")
    bright_day_kwh_per_m2: float = amount("Sun on level ground of a bright day: one day in ten has more", "kW.h/m2")
    beam_share: float = amount("Share of it that comes straight from the sun", "1")
    clearness: float = amount("Share of the sun above the air that reaches the ground", "1")
    air_temperature_c: float = amount("Mean air temperature", "Cel")
    band: float = amount("How far the sun of the month may be off, one standard deviation as a share", "1")


class SkyYearAnswer(Exact):
    sun_kwh_per_m2: float = amount("Sun on level ground in the year", "kW.h/m2")
    beam_share: float = amount("Share of it that comes straight from the sun", "1")
    air_temperature_c: float = amount("Mean air temperature", "Cel")
    band: float = amount("How far the sun of the year may be off, one standard deviation as a share", "1")


class BuiltInSkyAnswer(Exact):
    months: list[SkyMonthAnswer] = Field(min_length=12, max_length=12, description="The twelve months, January first.")
    year: SkyYearAnswer = words("The year")


class ComparisonAnswer(Exact):
    month_ratio: list[float | None] = Field(
        min_length=12,
        max_length=12,
        description="Sun of this sky over that of the built-in climate, January first; null where that is dark [1].",
    )
    year_ratio: float = amount("The same for the year", "1")
    sentence: str = words("How far the two are apart and which to believe")


class SkylinePointAnswer(Exact):
    azimuth_deg: float = amount("Direction, clockwise from true north", "deg")
    altitude_deg: float = amount("How high what stands there reaches", "deg")


class SkylineMonthAnswer(Exact):
    month: int = Field(ge=1, le=12, description="Month, 1 to 12.")
    hours_up: float = amount("Hours of the month that the sun is above level ground", "h")
    hours_hidden: float = amount("Hours of them that the skyline hides it", "h")
    beam_lost_kwh_per_m2: float = amount(
        "Beam that the skyline takes from the panel, or from level ground, in the month", "kW.h/m2"
    )
    first_hour: float | None = amount("From when it hides the sun on most days; null where it does not", "h")
    last_hour: float | None = amount("Until when it hides the sun on most days; null where it does not", "h")


class SkylineAnswer(Exact):
    points: list[SkylinePointAnswer] = words("The skyline from true north, in the order of its directions")
    declination_deg: float | None = amount(
        "Magnetic declination, east positive, where the panel's direction was read from a compass; else null", "deg"
    )
    hours_hidden: float = amount("Hours of the year that the skyline hides the sun", "h")
    beam_lost_kwh_per_m2: float = amount(
        "Beam that the skyline takes from the panel, or from level ground, in the year", "kW.h/m2"
    )
    months: list[SkylineMonthAnswer] = Field(min_length=12, max_length=12, description="The twelve months, January first.")
    sentence: str = words("The same in one sentence")


class GardenSkyAnswer(Exact):
    """The sky over one garden: its months, beside the built-in climate, and what the skyline takes."""

    place: PlaceAnswer = words("The place")
    kind: Literal["built_in", "monthly", "weather_file"] = words("Where the year of sun comes from")
    origin: str = words("The same in one sentence")
    hour_basis: str = words("The clock that all hours of this answer follow")
    months: list[SkyMonthAnswer] = Field(min_length=12, max_length=12, description="The twelve months, January first.")
    year: SkyYearAnswer = words("The year")
    built_in: BuiltInSkyAnswer | None = words(
        "The built-in climate of the same place; null where it is this sky or does not know the place"
    )
    comparison: ComparisonAnswer | None = words("This sky against the built-in climate; null likewise")
    skyline: SkylineAnswer = words("What the skyline takes of the sun")
    notes: list[NoteAnswer] = words("What to know of this sky, and what needs a second look")
