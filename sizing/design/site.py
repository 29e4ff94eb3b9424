"""The first part of the design file: where the garden is, what sky stands over it, and how the panel stands."""

from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from sizing.design.fields import Strict, number, part, rows, text

FIRST_YEAR, LAST_YEAR = 2000, 2100
"""Days of measurements lie in these years."""
DATE_PATTERN = r"^\d{4}-\d{2}-\d{2}$"


def clash(code: str, field: str, sentence: str) -> PydanticCustomError:
    """Error for values that cannot stand together; ``field`` names the one to look at first."""
    return PydanticCustomError("clash", "{sentence}", {"code": code, "field": field, "sentence": sentence})


def one_direction(label: str, azimuth: float | None, compass: float | None) -> None:
    """Refuse a direction that is missing or given twice."""
    if azimuth is None and compass is None:
        sentence = f"{label} is missing; add it, between 0 and 360 ° from true north, or as compass_deg from a compass"
        raise clash("missing", "azimuth_deg", sentence)
    if azimuth is not None and compass is not None:
        sentence = f"{label} is given twice, from true north ({azimuth:g} °) and from a compass ({compass:g} °); keep one"
        raise clash("given_twice", "compass_deg", sentence)


class SkylinePoint(Strict):
    """A direction, true or by compass, and how high what stands there reaches: an angle, or height and distance."""

    azimuth_deg: float | None = number("skyline direction", "deg", 0, 360, "count clockwise from north", 135, None)
    compass_deg: float | None = number(
        "skyline compass reading", "deg", 0, 360, "read it clockwise from magnetic north", 132, None
    )
    altitude_deg: float | None = number("skyline height angle", "deg", 0, 90, "0 is level, 90 straight up", 12, None)
    height_m: float | None = number(
        "height above the panel", "m", 0, 9000, "measure from the panel's height up to the top", 7, None
    )
    distance_m: float | None = number("distance", "m", 0.1, 300000, "measure along the ground", 25, None)

    @model_validator(mode="after")
    def direction_and_height(self) -> "SkylinePoint":
        one_direction("skyline direction", self.azimuth_deg, self.compass_deg)
        pair = (self.height_m, self.distance_m)
        if self.altitude_deg is None and None in pair:
            sentence = "skyline height angle is missing; add it, between 0 and 90 °, or both height_m and distance_m"
            raise clash("missing", "altitude_deg", sentence)
        if self.altitude_deg is not None and pair != (None, None):
            sentence = f"skyline height angle ({self.altitude_deg:g} °) and height and distance are given; keep one of the two"
            raise clash("given_twice", "altitude_deg", sentence)
        return self


class ObstacleInput(Strict):
    """A thing that stands against the sky, for itself: between obstacles the horizon is level."""

    name: str = text("name of the obstacle", 60, "")
    direction: str | None = text(
        "direction of the obstacle",
        40,
        None,
        advice="write a word such as south-west, or degrees from north",
    )
    compass_deg: float | None = number(
        "obstacle compass reading", "deg", 0, 360, "read it clockwise from magnetic north, to its middle", 222, None
    )
    height_m: float = number(
        "obstacle height above the panel",
        "m",
        0,
        9000,
        "measure from the panel's height up to the top",
        6,
    )
    distance_m: float = number(
        "obstacle distance", "m", 0.3, 300000, "measure from the panel to its foot; what is at the panel hides all of it", 12
    )
    width_m: float = number("obstacle width", "m", 0.01, 100000, "measure across, as seen from the panel", 5)

    @model_validator(mode="after")
    def one_direction_is_given(self) -> "ObstacleInput":
        label, word = "direction of the obstacle", (self.direction or "").strip()
        if not word and self.compass_deg is None:
            sentence = f"{label} is missing; add it, such as south-west or 225, or what a compass shows there"
            raise clash("missing", "direction", sentence)
        if word and self.compass_deg is not None:
            sentence = f"{label} is given twice, as {word} and from a compass ({self.compass_deg:g} °); keep one"
            raise clash("given_twice", "compass_deg", sentence)
        return self


class PlaceInput(Strict):
    name: str = text("place name", 80, "")
    latitude_deg: float = number("latitude", "deg", -90, 90, "north is positive, south negative", 47.4)
    longitude_deg: float = number("longitude", "deg", -180, 180, "east is positive, west negative", 8.5)
    elevation_m: float | None = number("elevation", "m", -430, 5500, "leave it out to have it looked up", 410, None)
    coldest_air_c: float | None = number(
        "coldest air of many years",
        "Cel",
        -70,
        30,
        "type the coldest of about ten years, or leave it out",
        -18,
        None,
    )
    time_zone: str | None = text("time zone", 64, None, r"^[A-Za-z0-9_+\-/]*$", "write it like Europe/Ljubljana")
    compass_date: str | None = text("date of the compass readings", 10, None, DATE_PATTERN, "write it like 2026-05-31")
    skyline: tuple[SkylinePoint, ...] = rows(
        "skyline", "skyline point", 0, 72, "directions and heights of what hides the sun", ()
    )
    obstacles: tuple[ObstacleInput, ...] = rows(
        "obstacles", "obstacle", 0, 12, "trees, houses and masts, each for itself; between them the horizon is level", ()
    )
    albedo: float = number("ground reflection", "1", 0, 0.9, "grass and paving reflect about 0.2", 0.2, 0.2)


class BuiltInSky(Strict):
    kind: Literal["built_in"] = part("kind of sky", "built_in takes the climate that ships with the program")


GHI_NUMBER = number("monthly sun on level ground", "kWh/m2/d", 0, 12, "give the mean of one day in that month", 4.2)
TEMPERATURE_NUMBER = number("monthly air temperature", "Cel", -50, 45, "give the month's mean", 14)


class MonthlySky(Strict):
    kind: Literal["monthly"] = part("kind of sky", "monthly takes twelve typed values")
    ghi_kwh_per_m2_day: tuple[Annotated[float, GHI_NUMBER], ...] = rows(
        "monthly sun on level ground", "month", 12, 12, "mean day of each month, January first"
    )
    air_temperature_c: tuple[Annotated[float, TEMPERATURE_NUMBER], ...] | None = rows(
        "monthly air temperature", "month", 12, 12, "mean of each month, January first", None
    )
    origin: str = text("where the monthly values come from", 200, "")


class WeatherFileSky(Strict):
    kind: Literal["weather_file"] = part("kind of sky", "weather_file reads an EPW or TMY3 file")
    path: str = text("weather file", 400, advice="write the file's name, beside the design file")


SkyInput = Annotated[
    BuiltInSky | MonthlySky | WeatherFileSky,
    Field(
        discriminator="kind",
        json_schema_extra={"label": "sky", "unit": "", "advice": "where the sun of the year comes from"},
    ),
]


class MountingInput(Strict):
    tilt_deg: float = number("panel tilt", "deg", 0, 90, "0 lies flat, 90 stands upright", 35)
    azimuth_deg: float | None = number(
        "panel direction", "deg", 0, 360, "count clockwise from true north: 180 faces south", 180, None
    )
    compass_deg: float | None = number("panel compass reading", "deg", 0, 360, "read it clockwise from magnetic north", 176, None)
    soiling_pct: float = number("loss to dirt", "%", 0, 50, "a washed panel loses 1 to 5 %", 3, 3.0)

    @model_validator(mode="after")
    def direction_is_clear(self) -> "MountingInput":
        one_direction("panel direction", self.azimuth_deg, self.compass_deg)
        return self


class Site(Strict):
    """A design file's first part alone: enough to ask for the sky over a garden."""

    place: PlaceInput = part("place", "where the garden is")
    sky: SkyInput = BuiltInSky(kind="built_in")
    mounting: MountingInput | None = part("mounting", "how the panel stands", None)
