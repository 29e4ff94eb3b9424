"""Sun on the panel: beam, the bright ring around the sun, the rest of the sky, and light off the ground.

Hay & Davies (1980) share the diffuse light out: where the beam is strong, that much of the diffuse light
comes from around the sun, the rest evenly from the whole sky. The skyline then hides what stands behind it,
glass throws back what strikes it slantwise, dust takes its part, and the rest warms and feeds the cells.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.constants import FAIMAN_U0, FAIMAN_U1
from sizing.foundation.working import formula
from sizing.light.iam import beam_transmission, diffuse_transmission
from sizing.place.place import Place, sky_view_factor, skyline_altitude
from sizing.sky.weather import Sky

Numeric = float | NDArray[np.float64]
Array = NDArray[np.float64]

LOWEST_SUN = 0.01745
"""[1] Cosine of 89 degrees: nearer the horizon the ratio of plane to level sun is no longer let grow."""


@dataclass(frozen=True, eq=False)
class PlaneSun:
    """Sun on the tilted plane in every step of a sky; arrays of the sky's shape.

    ``poa`` [W/m2] is what falls on the plane, skyline counted, before reflection and soiling; beam,
    circumsolar, sky and ground [W/m2] are its parts; ``effective`` [W/m2] is what gets into the cells;
    cell temperature [Cel].
    """

    poa: Array
    effective: Array
    cell_temperature: Array
    beam: Array
    circumsolar: Array
    sky: Array
    ground: Array


@dataclass(frozen=True, eq=False)
class Light:
    """Moments with light, arrays of one shape: the sun's zenith and azimuth [deg], sun above the air on a plane facing it,
    and global, diffuse and beam (normal) sun on the ground [W/m2]."""

    zenith: Array
    azimuth: Array
    extraterrestrial_normal: Array
    ghi: Array
    dhi: Array
    dni: Array


@formula(
    "cos(radians(zenith)) * cos(radians(tilt))"
    " + sin(radians(zenith)) * sin(radians(tilt)) * cos(radians(sun_azimuth - plane_azimuth))",
    unit="1",
    source="duffie_beckman",
)
def incidence_cosine(zenith: Numeric, sun_azimuth: Numeric, tilt: Numeric, plane_azimuth: Numeric) -> Numeric:
    """Cosine of the angle between the sun and the plane's perpendicular [1]; negative behind the plane.

    Parameters
    ----------
    zenith, sun_azimuth : of the sun [deg]
    tilt, plane_azimuth : of the plane [deg], tilt from level, azimuth clockwise from north

    Examples
    --------
    >>> float(incidence_cosine(60.62, 153.0, 45.0, 165.0))
    0.949
    """
    upright = np.cos(np.radians(zenith)) * np.cos(np.radians(tilt))
    return upright + np.sin(np.radians(zenith)) * np.sin(np.radians(tilt)) * np.cos(np.radians(sun_azimuth - plane_azimuth))


@formula("maximum(incidence_cosine, 0) / maximum(zenith_cosine, 0.01745)", unit="1", source="duffie_beckman")
def projection_ratio(incidence_cosine: Numeric, zenith_cosine: Numeric) -> Numeric:
    """Beam on the plane as a multiple of beam on level ground [1]; held where the sun stands within 1 degree of level.

    Examples
    --------
    >>> float(projection_ratio(0.817, 0.491))
    1.664
    """
    return np.maximum(incidence_cosine, 0) / np.maximum(zenith_cosine, LOWEST_SUN)


@formula("minimum(dni / extraterrestrial_normal, 1)", unit="1", source="hay_davies_1980")
def anisotropy_index(dni: Numeric, extraterrestrial_normal: Numeric) -> Numeric:
    """Share of the diffuse light that comes from around the sun [1]: the share of the beam that passes the air.

    Parameters
    ----------
    dni, extraterrestrial_normal : beam below and above the air [W/m2]

    Examples
    --------
    >>> float(anisotropy_index(700.0, 1361.0))
    0.5143
    """
    return np.minimum(dni / extraterrestrial_normal, 1)


@formula("dni * maximum(incidence_cosine, 0)", unit="W/m2", source="duffie_beckman")
def beam_on_plane(dni: Numeric, incidence_cosine: Numeric) -> Numeric:
    """Beam on the plane [W/m2] from the beam on a plane facing the sun [W/m2].

    Examples
    --------
    >>> float(beam_on_plane(700.0, 0.817))
    571.9
    """
    return dni * np.maximum(incidence_cosine, 0)


@formula("dhi * anisotropy_index * projection_ratio", unit="W/m2", source="hay_davies_1980")
def circumsolar_on_plane(dhi: Numeric, anisotropy_index: Numeric, projection_ratio: Numeric) -> Numeric:
    """Diffuse light from around the sun on the plane [W/m2].

    Examples
    --------
    >>> circumsolar_on_plane(120.0, 0.5143, 1.664)
    102.7
    """
    return dhi * anisotropy_index * projection_ratio


@formula("dhi * (1 - anisotropy_index) * (1 + cos(radians(tilt))) / 2 * sky_view_factor", unit="W/m2", source="hay_davies_1980")
def sky_on_plane(dhi: Numeric, anisotropy_index: Numeric, tilt: Numeric, sky_view_factor: Numeric = 1.0) -> Numeric:
    """Diffuse light from the rest of the sky on the plane [W/m2].

    Parameters
    ----------
    dhi : diffuse sun on level ground [W/m2]
    anisotropy_index : share of it that comes from around the sun [1]
    tilt : [deg]
    sky_view_factor : share of the sky that nothing hides [1]

    Examples
    --------
    >>> float(sky_on_plane(120.0, 0.5143, 45.0))
    49.75
    """
    return dhi * (1 - anisotropy_index) * (1 + np.cos(np.radians(tilt))) / 2 * sky_view_factor


@formula("ghi * albedo * (1 - cos(radians(tilt))) / 2", unit="W/m2", source="liu_jordan_1960")
def ground_on_plane(ghi: Numeric, albedo: Numeric, tilt: Numeric) -> Numeric:
    """Light off the ground on the plane [W/m2].

    Parameters
    ----------
    ghi : global sun on level ground [W/m2]
    albedo : share that the ground throws back [1]
    tilt : [deg]

    Examples
    --------
    >>> float(ground_on_plane(500.0, 0.2, 45.0))
    14.64
    """
    return ghi * albedo * (1 - np.cos(np.radians(tilt))) / 2


@formula(
    "(1 - soiling) * (beam_transmission * (beam + circumsolar) + sky_transmission * sky + ground_transmission * ground)",
    unit="W/m2",
    source="marion_2017",
)
def effective_irradiance(
    soiling: Numeric,
    beam_transmission: Numeric,
    beam: Numeric,
    circumsolar: Numeric,
    sky_transmission: Numeric,
    sky: Numeric,
    ground_transmission: Numeric,
    ground: Numeric,
) -> Numeric:
    """Sun that gets through dust and glass into the cells [W/m2].

    Parameters
    ----------
    soiling : share lost to dust [1]
    beam_transmission, sky_transmission, ground_transmission : share that passes the glass [1]
    beam, circumsolar, sky, ground : on the plane [W/m2]

    Examples
    --------
    >>> effective_irradiance(0.03, 0.99, 572.0, 103.0, 0.957, 50.0, 0.75, 14.6)
    705.2
    """
    passed = beam_transmission * (beam + circumsolar) + sky_transmission * sky + ground_transmission * ground
    return (1 - soiling) * passed


@formula("air_temperature + irradiance / (heat_loss + wind_loss * wind_speed)", unit="Cel", source="faiman_2008")
def cell_temperature(
    irradiance: Numeric,
    air_temperature: Numeric,
    wind_speed: Numeric,
    heat_loss: float = FAIMAN_U0,
    wind_loss: float = FAIMAN_U1,
) -> Numeric:
    """Temperature of the cells [Cel].

    Parameters
    ----------
    irradiance : on the plane [W/m2]
    air_temperature : [Cel]
    wind_speed : [m/s]

    Examples
    --------
    >>> cell_temperature(800.0, 20.0, 1.0)
    45.13
    """
    return air_temperature + irradiance / (heat_loss + wind_loss * wind_speed)


def plane_sun(sky: Sky, place: Place, tilt: float, azimuth: float, soiling: float = 0.0) -> PlaneSun:
    """Sun on a tilted plane through the year of a sky; exactly 0 at night.

    Parameters
    ----------
    sky : the year
    place : its albedo and skyline count
    tilt : [deg] from level, 0..90
    azimuth : [deg] the plane faces, clockwise from north
    soiling : share lost to dust, 0..1

    Examples
    --------
    >>> from sizing.sky.weather import built_in_sky
    >>> school = Place("school", 36.10, -79.95, 273.0)
    >>> float(plane_sun(built_in_sky(school), school, 30.0, 180.0).poa.sum() / 4000)
    1704.
    """
    lit = np.flatnonzero((sky.ghi > 0) | (sky.dhi > 0) | (sky.dni > 0))
    light = Light(sky.zenith[lit], sky.azimuth[lit], sky.extraterrestrial_normal[lit], sky.ghi[lit], sky.dhi[lit], sky.dni[lit])
    view = sky_view_factor(tilt, azimuth, place.skyline)
    parts = light_on_plane(light, place, tilt, azimuth, soiling, view, *diffuse_transmission(float(tilt)))
    whole = [in_year(part, lit, len(sky.ghi)) for part in parts]
    cells = np.asarray(cell_temperature(whole[0], sky.air_temperature, sky.wind_speed))
    return PlaneSun(whole[0], whole[1], cells, *whole[2:])


def calm_light(sky: Sky, place: Place, tilt: float, azimuth: float, soiling: float, steps: NDArray[np.int64]) -> Array:
    """Light that gets into the cells at chosen steps [W/m2] if no cloud passed inside the day, shape (steps,).

    Parameters
    ----------
    sky : a year whose clouds are made up; of any other there is nothing to leave out, and what it has is given back
    tilt, azimuth, soiling : as ``plane_sun`` takes them
    """
    sun = sky.calm or sky
    light = Light(
        sky.zenith[steps], sky.azimuth[steps], sky.extraterrestrial_normal[steps], sun.ghi[steps], sun.dhi[steps], sun.dni[steps]
    )
    view = sky_view_factor(tilt, azimuth, place.skyline)
    return light_on_plane(light, place, tilt, azimuth, soiling, view, *diffuse_transmission(float(tilt)))[1]


def light_on_plane(
    light: Light,
    place: Place,
    tilt: Numeric,
    azimuth: Numeric,
    soiling: float,
    view: Numeric,
    through_sky: Numeric,
    through_ground: Numeric,
) -> tuple[Array, Array, Array, Array, Array, Array]:
    """Light on a plane, or on a plane for each moment: all of it, what gets into the cells, beam, circumsolar, sky, ground.

    Parameters
    ----------
    light : moments with light
    tilt, azimuth : of the plane [deg]
    soiling, view, through_sky, through_ground : share lost to dust, share of the sky in view, glass [1]
    """
    facing = np.asarray(incidence_cosine(light.zenith, light.azimuth, tilt, azimuth))
    ratio = np.asarray(projection_ratio(facing, np.cos(np.radians(light.zenith))))
    around_sun = np.asarray(anisotropy_index(light.dni, light.extraterrestrial_normal))
    seen = 90 - light.zenith >= np.asarray(skyline_altitude(light.azimuth, place.skyline)) if place.skyline else 1.0
    beam = np.asarray(beam_on_plane(light.dni, facing)) * seen
    circumsolar = np.asarray(circumsolar_on_plane(light.dhi, around_sun, ratio)) * seen
    even = np.asarray(sky_on_plane(light.dhi, around_sun, tilt, view))
    ground = np.asarray(ground_on_plane(light.ghi, place.albedo, tilt))
    through = beam_transmission(facing)
    effective = effective_irradiance(soiling, through, beam, circumsolar, through_sky, even, through_ground, ground)
    return beam + circumsolar + even + ground, np.asarray(effective), beam, circumsolar, even, ground


def in_year(values: Array, steps: NDArray[np.int64], length: int) -> Array:
    """Values at the given steps of a year, 0 at all others."""
    year = np.zeros(length)
    year[steps] = values
    return year
