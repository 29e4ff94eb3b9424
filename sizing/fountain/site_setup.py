"""The setting of a fountain: its place with the skyline, how the panel stands, and the year of sky over both.

Compass readings become true directions here; a design without elevation has it looked up.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import overload

from sizing.design.design import Design
from sizing.design.mistakes import quoted
from sizing.design.site import MonthlySky, ObstacleInput, PlaceInput, Site, WeatherFileSky
from sizing.foundation.errors import Note, input_error
from sizing.place.compass import Field, compass_notes, earth_field, true_azimuth
from sizing.place.horizon_survey import Sighting, skyline_of
from sizing.place.obstacles import named_direction, skyline_with
from sizing.place.place import Obstacle, Place, Skyline, looked_up_elevation
from sizing.sky.clock import clock_notes, on_the_clock
from sizing.sky.cold import ColdAir, cold_air
from sizing.sky.weather import Sky, built_in_sky, file_sky, monthly_sky
from sizing.sky.weather_file import LIBRARY_FOLDER


@dataclass(frozen=True)
class Mounting:
    """How the panel stands: tilt and true azimuth [deg], share lost to dirt; compass reading and declination [deg] if read so."""

    tilt: float
    azimuth: float
    soiling: float
    compass_reading: float | None = None
    declination: float | None = None


def place_of(design: Design | Site) -> tuple[Place, tuple[Note, ...]]:
    """The place with its skyline, and what to know of it.

    Raises
    ------
    InputError
        if a compass was read and the date is missing, or the magnetic model does not hold there and then.
    """
    given = design.place
    notes: list[Note] = []
    elevation = given.elevation_m
    if elevation is None:
        elevation = looked_up_elevation(given.latitude_deg, given.longitude_deg)
        detail = f"Elevation looked up: {elevation:.0f} m (good to about 90 m); type your own if you know it."
        notes.append(Note("elevation_looked_up", "info", detail, "#/place/elevation_m"))
    field = compass_field(design, elevation)
    notes += () if field is None else compass_notes(field)
    turned = None if field is None else field.declination
    skyline = skyline_of([sighting(point.azimuth_deg, point.compass_deg, turned, point) for point in given.skyline])
    obstacles = tuple(obstacle_of(index, each, turned) for index, each in enumerate(given.obstacles))
    notes += all_round(skyline)
    whole = skyline_with(skyline, obstacles)
    where = (given.name, given.latitude_deg, given.longitude_deg, elevation, given.albedo)
    return Place(*where, whole, obstacles, skyline), tuple(notes)


def all_round(skyline: Skyline) -> Iterator[Note]:
    """What a skyline of a single point means; many who type one mean a single tree."""
    if len(skyline) == 1 and skyline[0][1] > 0:
        detail = (
            f"The skyline has a single point, so it is taken as a wall of {skyline[0][1]:.3g}° all round. A single tree, house "
            "or mast is an obstacle: type its direction, height, distance and width in the table of obstacles instead."
        )
        yield Note("skyline_all_round", "warning", detail, "#/place/skyline/0")


def obstacle_of(index: int, given: ObstacleInput, turned: float | None) -> Obstacle:
    """An obstacle with its true direction."""
    if given.compass_deg is not None:
        azimuth = true_direction(None, given.compass_deg, turned) % 360
    else:
        azimuth = named_direction(given.direction or "", f"#/place/obstacles/{index}/direction")
    return Obstacle(given.name, azimuth, given.height_m, given.distance_m, given.width_m)


def sighting(azimuth: float | None, compass: float | None, turned: float | None, point: object) -> Sighting:
    """One point of the skyline with its true direction."""
    height, distance, altitude = (getattr(point, name) for name in ("height_m", "distance_m", "altitude_deg"))
    return Sighting(true_direction(azimuth, compass, turned) % 360, altitude, height, distance)


def true_direction(azimuth: float | None, compass: float | None, turned: float | None) -> float:
    """A direction from true north [deg], typed so or read from a compass."""
    if azimuth is not None:
        return azimuth
    return float(true_azimuth(compass if compass is not None else 0.0, turned if turned is not None else 0.0))


def compass_turn(design: Design | Site, elevation: float) -> float | None:
    """Declination for the design's compass readings [deg, east positive]; ``None`` where there are none."""
    field = compass_field(design, elevation)
    return None if field is None else field.declination


def compass_readings(place: PlaceInput) -> Iterator[float | None]:
    """What a compass showed of the skyline and of each obstacle."""
    yield from (point.compass_deg for point in place.skyline)
    yield from (obstacle.compass_deg for obstacle in place.obstacles)


def compass_field(design: Design | Site, elevation: float) -> Field | None:
    """The field of the Earth where and when the design's compass was read; ``None`` where it was not."""
    place = design.place
    panel = design.mounting.compass_deg if design.mounting is not None else None
    if panel is None and all(reading is None for reading in compass_readings(place)):
        return None
    if place.compass_date is None:
        detail = "date of the compass readings is missing; north wanders, so the day counts; add it, like 2026-05-31"
        raise input_error("#/place/compass_date", "missing", detail)
    try:
        day = date.fromisoformat(place.compass_date)
    except ValueError:
        detail = f"date of the compass readings is {quoted(place.compass_date)}, which no calendar has; write it like 2026-05-31"
        raise input_error("#/place/compass_date", "not_a_text", detail) from None
    return earth_field(place.latitude_deg, place.longitude_deg, elevation, day)


@dataclass(frozen=True, eq=False)
class Setting:
    """The place, how the panel stands, the year of sky by the clock that the design names, what to know of them,
    and the coldest air to design for."""

    place: Place
    mounting: Mounting
    sky: Sky
    notes: tuple[Note, ...]
    cold: ColdAir


def setting_of(design: Design, folder: Path | None, sky: Sky | None = None) -> Setting:
    """The setting of a design's fountain.

    Parameters
    ----------
    folder : where a weather file named by the design is looked for; ``None`` refuses weather files
    sky : a year at hand, before any clock is applied, in place of the one that the design names
    """
    place, place_notes = place_of(design)
    mounting = mounting_of(design, place)
    if sky is None:
        sky, place = sky_of(design, place, folder)
    zone = design.place.time_zone
    told = clock_notes(place.longitude, zone) if zone else ()
    clocked = on_the_clock(sky, place.longitude, zone) if zone else sky
    cold = cold_air(clocked, design.place.coldest_air_c)
    return Setting(place, mounting, clocked, (*clocked.notes, *told, *place_notes), cold)


@overload
def mounting_of(design: Design, place: Place) -> Mounting: ...


@overload
def mounting_of(design: Design | Site, place: Place) -> Mounting | None: ...


def mounting_of(design: Design | Site, place: Place) -> Mounting | None:
    """How the panel stands, its direction from true north; ``None`` where a site says nothing of a panel."""
    given = design.mounting
    if given is None:
        return None
    turned = compass_turn(design, place.elevation)
    azimuth = true_direction(given.azimuth_deg, given.compass_deg, turned)
    reading = given.compass_deg
    return Mounting(given.tilt_deg, azimuth, given.soiling_pct / 100, reading, turned if reading is not None else None)


def sky_of(design: Design | Site, place: Place, folder: Path | None) -> tuple[Sky, Place]:
    """The year of sky; a weather file is read only where a folder to read from is given."""
    sky = design.sky
    if isinstance(sky, MonthlySky):
        return monthly_sky(place, sky.ghi_kwh_per_m2_day, sky.air_temperature_c), place
    if isinstance(sky, WeatherFileSky):
        if folder is None:
            detail = (
                "kind of sky is weather_file, which is read by the command line on your own machine only; "
                "give twelve monthly values (kind monthly) or take the built-in sky (kind built_in)"
            )
            raise input_error("#/sky/kind", "weather_file_not_here", detail)
        return file_sky(weather_path(sky.path, folder), place)
    return built_in_sky(place), place


def weather_path(path: str, folder: Path) -> str:
    """Path of a weather file that came with pvlib or lies in ``folder``; a stranger's design can open no other.

    Raises
    ------
    InputError
        if the path leads out of the folder.
    """
    if path.startswith(LIBRARY_FOLDER) or "://" in path:
        return path  # the reader refuses web addresses
    try:
        inside = (folder / path).resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError, ValueError):  # a loop of links
        inside = False
    if not inside:
        detail = (
            f"weather file is {quoted(path)}, outside the folder of the design; only files in that folder are read; "
            "put the file beside the design and write its name"
        )
        raise input_error("#/sky/path", "outside_folder", detail)
    return str(folder / path)
