"""The sunny half of a moment's working: light on the panel, light in the cells, and how warm they are."""

import numpy as np

from sizing.design.design import Design
from sizing.foundation.working import Worked, assumed, by_method, formula, given, work
from sizing.fountain.site_setup import Mounting
from sizing.light.iam import beam_transmission, diffuse_transmission
from sizing.light.irradiance import (
    PlaneSun,
    anisotropy_index,
    beam_on_plane,
    cell_temperature,
    circumsolar_on_plane,
    effective_irradiance,
    ground_on_plane,
    incidence_cosine,
    projection_ratio,
    sky_on_plane,
)
from sizing.place.compass import true_azimuth
from sizing.place.place import Place, sky_view_factor, skyline_altitude
from sizing.sky.weather import Sky

Roots = tuple[Worked, ...]

SKY_METHODS = {
    "built_in": "From the built-in climate table and the synthetic year made from it.",
    "monthly": "From your twelve monthly values and the synthetic year made from them.",
    "weather_file": "Read from the weather file at this hour.",
    "clear_day": "Of a clear sky with the usual turbidity of the month, at this minute of this day.",
}
SKY_SOURCES = {
    "built_in": "collares_pereira_rabl_1979",
    "monthly": "collares_pereira_rabl_1979",
    "weather_file": "typical_years",
    "clear_day": "ineichen_perez_2002",
}


@formula("cos(radians(zenith))", unit="1", source="duffie_beckman")
def zenith_cosine(zenith: float) -> float:
    """Cosine of the sun's angle from straight up.

    Examples
    --------
    >>> zenith_cosine(60.0)
    0.5
    """
    return float(np.cos(np.radians(zenith)))


@formula("beam + circumsolar + sky + ground", unit="W/m2", source="hay_davies_1980")
def plane_of_array_irradiance(beam: float, circumsolar: float, sky: float, ground: float) -> float:
    """Sun on the panel's plane before reflection and dirt [W/m2].

    Examples
    --------
    >>> plane_of_array_irradiance(512.0, 88.0, 60.0, 12.0)
    672.0
    """
    return beam + circumsolar + sky + ground


def sun_station(design: Design, place: Place, mounting: Mounting, sky: Sky, sun: PlaneSun, step: int) -> Roots:
    """Light in the cells first, then cell temperature, light on the plane, and the sun's position."""
    zenith, azimuth = position(sky, step)
    dni, dhi, ghi = (from_sky(sky, name, step) for name in ("dni", "dhi", "ghi"))
    if ghi.value <= 0 and dhi.value <= 0:
        return (by_method("effective_irradiance", 0.0, "W/m2", "duffie_beckman", "It is night: the sun is down.", zenith=zenith),)
    tilt = given("tilt", design.mounting.tilt_deg, "deg")
    facing = direction(place, mounting)
    square = work(incidence_cosine, zenith=zenith, sun_azimuth=azimuth, tilt=tilt, plane_azimuth=facing)
    level = work(zenith_cosine, zenith=zenith)
    ratio = work(projection_ratio, incidence_cosine=square, zenith_cosine=level)
    above_air = from_sky(sky, "extraterrestrial_normal", step)
    index = work(anisotropy_index, dni=dni, extraterrestrial_normal=above_air)
    beam, around = direct_light(place, zenith, azimuth, dni, dhi, square, index, ratio)
    parts = {
        "beam": beam,
        "circumsolar": around,
        "sky": work(sky_on_plane, dhi=dhi, anisotropy_index=index, tilt=tilt, sky_view_factor=open_sky(mounting, place)),
        "ground": work(ground_on_plane, ghi=ghi, albedo=typed(design.place, "albedo", "albedo", "1"), tilt=tilt),
    }
    poa = work(plane_of_array_irradiance, **parts)
    effective = work(effective_irradiance, soiling=soiling(design), **parts, **through_glass(design, square))
    warmth = work(
        cell_temperature,
        irradiance=poa,
        air_temperature=from_sky(sky, "air_temperature", step),
        wind_speed=from_sky(sky, "wind_speed", step),
    )
    return effective, warmth, poa, zenith, azimuth


def direction(place: Place, mounting: Mounting) -> Worked:
    """True direction of the panel, typed so or turned from a compass reading."""
    if mounting.compass_reading is None or mounting.declination is None:
        return given("plane_azimuth", mounting.azimuth, "deg")
    turned = by_method(
        "declination",
        mounting.declination,
        "deg",
        "wmm_2025",
        "World Magnetic Model for the place and the day of the reading, east positive.",
        latitude=given("latitude", place.latitude, "deg"),
        longitude=given("longitude", place.longitude, "deg"),
    )
    return work(true_azimuth, compass_reading=given("compass_reading", mounting.compass_reading, "deg"), declination=turned)


def position(sky: Sky, step: int) -> tuple[Worked, Worked]:
    """Where the sun stands."""
    how, source = "Solar position at the middle of this step of the year.", "spencer_1971"
    if sky.kind == "clear_day":
        how, source = "Solar position at this minute of this day, lifted by the bending of light in the air.", "reda_andreas_2008"
    zenith = by_method("zenith", float(sky.zenith[step]), "deg", source, how)
    return zenith, by_method("sun_azimuth", float(sky.azimuth[step]), "deg", source, how)


def from_sky(sky: Sky, name: str, step: int) -> Worked:
    """A value of the year of sky at one step."""
    units = {"air_temperature": "Cel", "wind_speed": "m/s"}
    value = float(getattr(sky, name)[step])
    if name == "wind_speed" and sky.kind != "weather_file":
        return assumed("wind_speed", value, "m/s", "common_practice")
    return by_method(name, value, units.get(name, "W/m2"), SKY_SOURCES[sky.kind], SKY_METHODS[sky.kind])


def direct_light(
    place: Place, zenith: Worked, azimuth: Worked, dni: Worked, dhi: Worked, square: Worked, index: Worked, ratio: Worked
) -> tuple[Worked, Worked]:
    """Beam and the glow around the sun; nothing where the skyline hides the sun."""
    if place.skyline and 90 - zenith.value < float(np.asarray(skyline_altitude(azimuth.value, place.skyline))):
        hidden = "The skyline hides the sun at this moment."
        return tuple(  # type: ignore[return-value]
            by_method(name, 0.0, "W/m2", "common_practice", hidden, zenith=zenith, sun_azimuth=azimuth)
            for name in ("beam_on_plane", "circumsolar_on_plane")
        )
    beam = work(beam_on_plane, dni=dni, incidence_cosine=square)
    return beam, work(circumsolar_on_plane, dhi=dhi, anisotropy_index=index, projection_ratio=ratio)


def open_sky(mounting: Mounting, place: Place) -> Worked:
    """Share of the plane's sky that the skyline leaves open."""
    share = sky_view_factor(mounting.tilt, mounting.azimuth, place.skyline)
    return by_method(
        "sky_view_factor", share, "1", "duffie_beckman", "Share of the sky before the panel that the skyline leaves open."
    )


def through_glass(design: Design, square: Worked) -> dict[str, Worked]:
    """Shares of beam, sky and ground light that pass the panel's glass."""
    sky, ground = diffuse_transmission(float(design.mounting.tilt_deg))
    return {
        "beam_transmission": by_method(
            "beam_transmission",
            float(beam_transmission(square.value)),
            "1",
            "marion_2017",
            "Snell and Bouguer for one pane of glass at this angle, against light striking it square.",
            incidence_cosine=square,
        ),
        "sky_transmission": by_method("sky_transmission", sky, "1", "marion_2017", "The same glass, averaged over the sky."),
        "ground_transmission": by_method(
            "ground_transmission", ground, "1", "marion_2017", "The same glass, averaged over the ground."
        ),
    }


def soiling(design: Design) -> Worked:
    """Share of the light that dirt takes."""
    value = design.mounting.soiling_pct / 100
    if "soiling_pct" in design.mounting.model_fields_set:
        return given("soiling", value, "1")
    return assumed("soiling", value, "1", "common_practice")


def typed(part: object, field: str, name: str, unit: str) -> Worked:
    """A field of the design: given if it was typed, assumed if its default stands."""
    value = float(getattr(part, field))
    if field in getattr(part, "model_fields_set", set()):
        return given(name, value, unit)
    return assumed(name, value, unit, "common_practice")
