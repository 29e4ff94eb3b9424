"""The sky over a garden explained: its months, what the skyline takes, beside the built-in climate."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from sizing.design.design import Design
from sizing.design.site import Site
from sizing.foundation.errors import InputError, Note, SizingError
from sizing.fountain.site_setup import Mounting, mounting_of, place_of, sky_of
from sizing.light.skyline_loss import skyline_sentence
from sizing.light.sun_paths import SkylineLoss, SunPaths, skyline_loss, sun_paths
from sizing.place.place import Obstacle, Place
from sizing.report.obstacle_costs import each_left_out
from sizing.sky.clock import clock_notes, on_the_clock
from sizing.sky.cold import ColdAir, cold_air
from sizing.sky.day_courses import DayCourse, day_courses
from sizing.sky.sky_months import Comparison, SkyYear, side_by_side, sky_months
from sizing.sky.weather import Sky, built_in_sky


@dataclass(frozen=True)
class HiddenBy:
    """What one obstacle alone hides: hours of sun a year [h], and beam on the plane [kWh/m2 a year]."""

    obstacle: Obstacle
    hours: float
    beam: float


@dataclass(frozen=True, eq=False)
class SkyReport:
    """One garden's sky: the year as it is used, the built-in one where it knows the place, skyline and paths, three days."""

    place: Place
    mounting: Mounting | None
    sky: Sky
    year: SkyYear
    built_in: SkyYear | None
    comparison: Comparison | None
    paths: SunPaths
    skyline: SkylineLoss
    skyline_sentence: str
    obstacles: tuple[HiddenBy, ...]
    cold: ColdAir
    notes: tuple[Note, ...]
    days: tuple[DayCourse, DayCourse, DayCourse]


def explain_sky(site: Site | Design, folder: Path | None = None) -> SkyReport:
    """Gather what there is to know of the sky over a garden.

    Parameters
    ----------
    site : a design, or its first part alone
    folder : where a weather file is looked for; ``None`` refuses weather files

    Raises
    ------
    SizingError
        as a sizing of the same place does.

    Examples
    --------
    >>> from sizing.design.reading import read_site
    >>> found = explain_sky(read_site({"place": {"latitude_deg": 36.1, "longitude_deg": -79.95}}))
    >>> found.year.sun, found.built_in is None
    (1539., True)
    """
    place, notes = place_of(site)
    sky, place = sky_of(site, place, folder)
    mounting = mounting_of(site, place)
    zone = site.place.time_zone
    told = on_the_clock(sky, place.longitude, zone) if zone else sky
    tilt, azimuth = (mounting.tilt, mounting.azimuth) if mounting is not None else (0.0, 180.0)
    loss = skyline_loss(told, place, tilt, azimuth)
    other = None if sky.kind == "built_in" else built_in_or_none(place)
    return SkyReport(
        place=place,
        mounting=mounting,
        sky=told,
        year=sky_months(sky),
        built_in=None if other is None else sky_months(other),
        comparison=None if other is None else side_by_side(sky, other),
        paths=sun_paths(place),
        skyline=loss,
        skyline_sentence=skyline_sentence(loss),
        cold=cold_air(told, site.place.coldest_air_c),
        obstacles=tuple(hidden_by(told, place, loss, tilt, azimuth)),
        notes=(*sky.notes, *(clock_notes(place.longitude, zone) if zone else ()), *notes),
        days=day_courses(told),
    )


def built_in_or_none(place: Place) -> Sky | None:
    """The built-in sky, where the table knows the place."""
    try:
        return built_in_sky(place)
    except (InputError, SizingError):
        return None


def hidden_by(sky: Sky, place: Place, loss: SkylineLoss, tilt: float, azimuth: float) -> Iterator[HiddenBy]:
    """What each obstacle hides that nothing else does: the loss as it is, less the loss without it."""
    for obstacle, rest in each_left_out(place):
        left = skyline_loss(sky, rest, tilt, azimuth)
        yield HiddenBy(obstacle, loss.hours_hidden - left.hours_hidden, loss.beam_lost - left.beam_lost)
