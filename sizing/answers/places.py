"""The answer to a text that names a place: towns of the list that ships with the project, or coordinates."""

from collections.abc import Iterable
from functools import lru_cache
from typing import Literal, Self

from sizing.answers.kit import Exact, amount, meaning
from sizing.place.place import looked_up_elevation
from sizing.place.towns import Town

CREDIT: Literal["GeoNames, CC BY 4.0"] = "GeoNames, CC BY 4.0"
MOST_TOWNS = 20


class PlaceFoundAnswer(Exact):
    name: str = meaning("Name of the town; empty where coordinates were asked for")
    region: str = meaning('State in the United States, elsewhere "near" and a larger town near by; may be empty')
    country: str = meaning("Country; empty where coordinates were asked for")
    country_code: str = meaning("Its code of two letters (ISO 3166-1); empty likewise")
    latitude_deg: float = amount("Latitude, north positive", "deg")
    longitude_deg: float = amount("Longitude, east positive", "deg")
    elevation_m: float = amount("Elevation above the sea, looked up, good to about 90 m", "m")
    time_zone: str = meaning(
        "Time zone by its name in the tz database; that of the nearest town where coordinates were asked for"
    )
    population: int = meaning("People; 0 where the list does not know it", ge=0)

    @classmethod
    def of(cls, town: Town) -> Self:
        return cls(
            name=town.name,
            region=town.region,
            country=town.country,
            country_code=town.country_code,
            latitude_deg=town.latitude,
            longitude_deg=town.longitude,
            elevation_m=kept_elevation(town.latitude, town.longitude),
            time_zone=town.time_zone,
            population=town.population,
        )


class PlacesAnswer(Exact):
    """The places that a text may mean, best first; none where nothing fits."""

    items: list[PlaceFoundAnswer] = meaning("The places, best first", max_length=MOST_TOWNS)
    credit: Literal["GeoNames, CC BY 4.0"] = meaning("Whose list of towns it is, to be named where the names are shown")


def places_answer(towns: Iterable[Town]) -> PlacesAnswer:
    """Towns, or a place without a name, as they are written."""
    return PlacesAnswer(items=[PlaceFoundAnswer.of(town) for town in towns], credit=CREDIT)


@lru_cache(maxsize=4096)
def kept_elevation(latitude: float, longitude: float) -> float:
    """Elevation [m], looked up once: half a millisecond each, and people look for the same towns."""
    return looked_up_elevation(latitude, longitude)
