"""The sky over a garden explained: its months, what the skyline takes, beside the built-in climate."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sizing.design.design import Design
from sizing.design.site import Site
from sizing.foundation.errors import InputError, Note, SizingError
from sizing.fountain.site_setup import Mounting, mounting_of, place_of, sky_of
from sizing.light.skyline_loss import skyline_sentence
from sizing.light.sun_paths import SkylineLoss, SunPaths, skyline_loss, sun_paths
from sizing.place.place import Place
from sizing.sky.clock import clock_notes
from sizing.sky.clock_sky import on_the_clock
from sizing.sky.sky_months import Comparison, SkyYear, side_by_side, sky_months
from sizing.sky.weather import Sky, built_in_sky


@dataclass(frozen=True, eq=False)
class SkyReport:
    """One garden's sky: the year as it is used, the built-in one where it knows the place, skyline and paths."""

    place: Place
    mounting: Mounting | None
    sky: Sky
    year: SkyYear
    built_in: SkyYear | None
    comparison: Comparison | None
    paths: SunPaths
    skyline: SkylineLoss
    skyline_sentence: str
    notes: tuple[Note, ...]


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
    (1528., True)
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
        notes=(*sky.notes, *(clock_notes(place.longitude, zone) if zone else ()), *notes),
    )


def built_in_or_none(place: Place) -> Sky | None:
    """The built-in sky, where the table knows the place."""
    try:
        return built_in_sky(place)
    except (InputError, SizingError):
        return None


def sky_answer(found: SkyReport) -> dict[str, Any]:
    """The same as plain JSON data, units in the names."""
    return {
        "place": {
            "name": found.place.name,
            "latitude_deg": found.place.latitude,
            "longitude_deg": found.place.longitude,
            "elevation_m": found.place.elevation,
        },
        "kind": found.sky.kind,
        "origin": found.year.origin,
        "hour_basis": found.sky.hour_basis,
        "months": months(found.year),
        "year": year(found.year),
        "built_in": None if found.built_in is None else {"months": months(found.built_in), "year": year(found.built_in)},
        "comparison": None
        if found.comparison is None
        else {
            "month_ratio": list(found.comparison.month_ratio),
            "year_ratio": found.comparison.year_ratio,
            "sentence": found.comparison.sentence,
        },
        "skyline": skyline(found),
        "notes": [vars_of(note) for note in found.notes],
    }


def months(found: SkyYear) -> list[dict[str, Any]]:
    """Twelve months of a sky."""
    return [
        {
            "month": month.month,
            "sun_kwh_per_m2_day": month.sun,
            "dull_day_kwh_per_m2": month.sun_dull,
            "usual_day_kwh_per_m2": month.sun_usual,
            "bright_day_kwh_per_m2": month.sun_bright,
            "beam_share": month.beam_share,
            "clearness": month.clearness,
            "air_temperature_c": month.air_temperature,
            "band": month.band,
        }
        for month in found.months
    ]


def year(found: SkyYear) -> dict[str, Any]:
    """A sky's year."""
    return {
        "sun_kwh_per_m2": found.sun,
        "beam_share": found.beam_share,
        "air_temperature_c": found.air_temperature,
        "band": found.band,
    }


def skyline(found: SkyReport) -> dict[str, Any]:
    """The skyline from true north, and what it takes."""
    loss = found.skyline
    return {
        "points": [{"azimuth_deg": azimuth, "altitude_deg": altitude} for azimuth, altitude in found.place.skyline],
        "declination_deg": found.mounting.declination if found.mounting is not None else None,
        "hours_hidden": loss.hours_hidden,
        "beam_lost_kwh_per_m2": loss.beam_lost,
        "months": [
            {
                "month": month.month,
                "hours_up": month.hours_up,
                "hours_hidden": month.hours_hidden,
                "beam_lost_kwh_per_m2": month.beam_lost,
                "first_hour": month.first_hour,
                "last_hour": month.last_hour,
            }
            for month in loss.months
        ],
        "sentence": found.skyline_sentence,
    }


def vars_of(note: Note) -> dict[str, Any]:
    """A note with a capital letter."""
    detail = note.detail[0].upper() + note.detail[1:]
    return {"code": note.code, "severity": note.severity, "detail": detail, "pointer": note.pointer}
