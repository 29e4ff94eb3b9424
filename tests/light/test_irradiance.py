"""Sun on the plane: pvlib as independent judge, limits, the skyline, glass, dust, and cells."""

from functools import lru_cache

import numpy as np
import pytest
from pvlib import iam, irradiance, temperature

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
    plane_sun,
    projection_ratio,
    sky_on_plane,
)
from sizing.place.place import Place, sky_view_factor
from sizing.sky.solar_position import solar_azimuth, solar_zenith
from sizing.sky.weather import Sky, built_in_sky, file_sky
from tests.calm_days import calm

SCHOOL = Place("school", 36.10, -79.95, 273.0)
SOUTHERN = Place("southern school", -33.95, 151.18, 10.0)
PARTS = ("poa", "effective", "beam", "circumsolar", "sky", "ground")


@pytest.fixture(scope="module")
def sky() -> Sky:
    return built_in_sky(SCHOOL)


def judged(sky: Sky, tilt: float, azimuth: float, albedo: float = 0.2) -> dict[str, np.ndarray]:
    """The same plane by pvlib's Hay & Davies."""
    found = irradiance.get_total_irradiance(
        tilt,
        azimuth,
        sky.zenith,
        sky.azimuth,
        sky.dni,
        sky.ghi,
        sky.dhi,
        dni_extra=sky.extraterrestrial_normal,
        albedo=albedo,
        model="haydavies",
    )
    parts = irradiance.haydavies(
        tilt,
        azimuth,
        sky.dhi,
        sky.dni,
        sky.extraterrestrial_normal,
        sky.zenith,
        sky.azimuth,
        return_components=True,
    )
    return {
        "poa": np.asarray(found["poa_global"]),
        "beam": np.asarray(found["poa_direct"]),
        "ground": np.asarray(found["poa_ground_diffuse"]),
        "circumsolar": np.asarray(parts["poa_circumsolar"]),
        "sky": np.asarray(parts["poa_isotropic"]),
    }


file_year = lru_cache(maxsize=2)(file_sky)
"""A weather file, read once for all its planes."""


@pytest.mark.parametrize(("tilt", "azimuth"), [(0.0, 180.0), (7.3, 91.0), (35.0, 180.0), (62.0, 233.0), (90.0, 350.0)])
@pytest.mark.parametrize("path", ["", "pvlib/data/723170TYA.CSV", "pvlib/data/703165TY.csv"])
def test_every_part_as_pvlib_has_it(sky: Sky, path: str, tilt: float, azimuth: float) -> None:
    year, place = file_year(path) if path else (sky, SCHOOL)
    ours = plane_sun(year, place, tilt, azimuth)
    for name, values in judged(year, tilt, azimuth).items():
        assert np.allclose(getattr(ours, name), values, atol=1e-8), name


def test_southern_plane_and_bright_ground_as_pvlib_has_them() -> None:
    snow = Place("snow", -33.95, 151.18, 10.0, albedo=0.65)
    year = built_in_sky(snow)
    ours = plane_sun(year, snow, 48.0, 12.0)
    for name, values in judged(year, 48.0, 12.0, albedo=0.65).items():
        assert np.allclose(getattr(ours, name), values, atol=1e-8), name


def test_incidence_of_the_textbook() -> None:
    # Duffie & Beckman, Example 1.6.1: latitude 43, declination -14, hour angle -22.5, slope 45, facing 15 west of south:
    # cosine 0.817, angle 35 degrees.
    zenith, azimuth = solar_zenith(43.0, -14.0, -22.5), solar_azimuth(43.0, -14.0, -22.5)
    assert incidence_cosine(zenith, azimuth, 45.0, 195.0) == pytest.approx(0.817, abs=0.0005)


def test_incidence_by_limits() -> None:
    assert incidence_cosine(40.0, 123.0, 40.0, 123.0) == pytest.approx(1)  # the sun straight in front
    assert incidence_cosine(40.0, 123.0, 0.0, 7.0) == pytest.approx(np.cos(np.radians(40)))  # level: facing does not matter
    assert incidence_cosine(60.0, 180.0, 90.0, 0.0) == pytest.approx(-np.sin(np.radians(60)))  # from behind
    assert incidence_cosine(33.0, 100.0, 50.0, 200.0) == pytest.approx(float(incidence_cosine(50.0, 200.0, 33.0, 100.0)))


def test_ratio_stays_finite_at_sunrise() -> None:
    # The textbook's warning (Example 2.14.1): at 6:30 the beam ratio of a steep plane is 44, far above the 4.6 of the whole hour.
    ratio = projection_ratio(np.array([0.8, 0.8, 0.8, -0.2]), np.array([0.0, -0.5, 0.02, 0.5]))
    assert ratio == pytest.approx([0.8 / 0.01745, 0.8 / 0.01745, 40.0, 0.0])


def test_sunrise_brings_no_spike(sky: Sky) -> None:
    for tilt, azimuth in ((60.0, 90.0), (90.0, 90.0), (90.0, 270.0)):
        ours = plane_sun(sky, SCHOOL, tilt, azimuth)
        assert np.all(ours.poa <= sky.extraterrestrial_normal)
        assert ours.poa[sky.zenith > 88].max() < 60


def test_level_plane_is_level_ground(sky: Sky) -> None:
    ours = plane_sun(sky, SCHOOL, 0.0, 77.0)
    assert np.allclose(ours.poa, sky.ghi, atol=1e-9)
    assert np.all(ours.ground == 0)


def test_upright_plane_sees_half_sky_and_half_ground(sky: Sky) -> None:
    ours = plane_sun(sky, SCHOOL, 90.0, 180.0)
    assert np.allclose(ours.ground, sky.ghi * 0.2 / 2)
    even = sky.dhi * (1 - sky.dni / sky.extraterrestrial_normal)
    assert np.allclose(ours.sky, even / 2)


@pytest.mark.parametrize("tilt", [0.0, 30.0, 90.0])
def test_night_is_exactly_zero(sky: Sky, tilt: float) -> None:
    ours = plane_sun(sky, SCHOOL, tilt, 180.0, 0.05)
    night = sky.zenith >= 90
    for name in PARTS:
        assert np.all(getattr(ours, name)[night] == 0), name
    assert np.array_equal(ours.cell_temperature[night], sky.air_temperature[night])


def test_parts_add_up_and_are_never_negative(sky: Sky) -> None:
    ours = plane_sun(sky, SCHOOL, 41.0, 150.0, 0.03)
    assert np.allclose(ours.poa, ours.beam + ours.circumsolar + ours.sky + ours.ground)
    for name in PARTS:
        values = getattr(ours, name)
        assert np.isfinite(values).all()
        assert values.min() >= 0
        assert values.shape == sky.ghi.shape
    assert np.all(ours.effective <= ours.poa * 0.97 + 1e-9)


def test_the_equator_side_is_the_sunny_side() -> None:
    southern = built_in_sky(SOUTHERN)
    north_facing = plane_sun(southern, SOUTHERN, 34.0, 0.0).poa.sum()
    assert north_facing > 1.2 * plane_sun(southern, SOUTHERN, 34.0, 180.0).poa.sum()
    east, west = (plane_sun(southern, SOUTHERN, 34.0, facing).poa.sum() for facing in (90.0, 270.0))
    assert east == pytest.approx(west, rel=0.002)  # true solar time: over a year mornings are as bright as afternoons
    smooth = calm(southern)
    east, west = (plane_sun(smooth, SOUTHERN, 34.0, facing).poa.sum() for facing in (90.0, 270.0))
    assert east == pytest.approx(west, rel=1e-9)


def test_azimuth_may_be_given_past_a_full_turn(sky: Sky) -> None:
    assert np.allclose(plane_sun(sky, SCHOOL, 30.0, 540.0).poa, plane_sun(sky, SCHOOL, 30.0, 180.0).poa)


def with_skyline(*points: tuple[float, float]) -> Place:
    return Place("walled", SCHOOL.latitude, SCHOOL.longitude, SCHOOL.elevation, skyline=points)


def test_walled_in_to_the_top_only_the_ground_is_left(sky: Sky) -> None:
    ours = plane_sun(sky, with_skyline((0.0, 90.0)), 40.0, 180.0)
    assert np.all(ours.beam == 0)
    assert np.all(ours.circumsolar == 0)
    assert np.allclose(ours.sky, 0, atol=1e-12)
    assert np.array_equal(ours.poa, ours.sky + ours.ground)


def test_level_skyline_changes_nothing(sky: Sky) -> None:
    open_sky, level = plane_sun(sky, SCHOOL, 40.0, 180.0), plane_sun(sky, with_skyline((90.0, 0.0)), 40.0, 180.0)
    for name in PARTS:
        assert np.allclose(getattr(open_sky, name), getattr(level, name), atol=1e-9), name


def test_a_tree_takes_the_beam_when_the_sun_is_behind_it_and_part_of_the_sky_always(sky: Sky) -> None:
    tree = ((120.0, 0.0), (120.0, 50.0), (150.0, 50.0), (150.0, 0.0))
    place = with_skyline(*tree)
    bare, shaded = plane_sun(sky, SCHOOL, 40.0, 180.0), plane_sun(sky, place, 40.0, 180.0)
    behind = (sky.azimuth > 120) & (sky.azimuth < 150) & (90 - sky.zenith < 50)
    assert np.all(shaded.beam[behind] == 0)
    assert np.all(shaded.circumsolar[behind] == 0)
    clear = (sky.azimuth < 119.9) | (sky.azimuth > 150.1) | (90 - sky.zenith > 50)
    assert np.array_equal(shaded.beam[clear], bare.beam[clear])
    assert np.allclose(shaded.sky, bare.sky * sky_view_factor(40.0, 180.0, tree))
    assert np.array_equal(shaded.ground, bare.ground)


def test_higher_walls_less_sun(sky: Sky) -> None:
    sums = [plane_sun(sky, with_skyline((0.0, height)), 35.0, 180.0).poa.sum() for height in (0, 10, 25, 45, 70)]
    assert sums == sorted(sums, reverse=True)
    assert len(set(sums)) == 5


def test_glass_as_pvlib_has_it() -> None:
    angle = np.array([0.0, 7.3, 45.0, 60.0, 80.0, 89.0])
    assert np.allclose(beam_transmission(np.cos(np.radians(angle))), iam.physical(angle), atol=1e-12)
    assert np.array_equal(beam_transmission(np.array([0.0, -0.4])), [0, 0])
    for tilt in (0.0, 23.4, 60.0, 90.0):
        fine = iam.marion_diffuse("physical", tilt)
        sky_share, ground_share = diffuse_transmission(tilt)
        assert sky_share == pytest.approx(fine["sky"], abs=2e-4)
        assert ground_share == pytest.approx(fine["ground"], abs=1e-3)
    assert diffuse_transmission(0.0)[1] == 0


def test_diffuse_sums_are_kept_by_tilt() -> None:
    diffuse_transmission(12.34)
    before = diffuse_transmission.cache_info().hits
    diffuse_transmission(12.34)
    assert diffuse_transmission.cache_info().hits == before + 1


def test_effective_sun_by_hand() -> None:
    # 0.95 * (0.98 * (500 + 60) + 0.95 * 80 + 0.7 * 10) = 0.95 * (548.8 + 76 + 7) = 600.21
    assert effective_irradiance(0.05, 0.98, 500.0, 60.0, 0.95, 80.0, 0.7, 10.0) == pytest.approx(600.21)


def test_dust_scales_and_covers(sky: Sky) -> None:
    clean, dusty, buried = (plane_sun(sky, SCHOOL, 30.0, 180.0, soiling) for soiling in (0.0, 0.07, 1.0))
    assert np.allclose(dusty.effective, 0.93 * clean.effective)
    assert np.all(buried.effective == 0)
    assert np.array_equal(dusty.poa, clean.poa)


def test_reflection_takes_two_to_five_percent_of_a_usual_year(sky: Sky) -> None:
    # Common practice, no source: two to four percent a year at usual tilts, more on level and upright planes.
    for tilt, least, most in ((30.0, 0.95, 0.98), (0.0, 0.93, 0.97), (90.0, 0.90, 0.96)):
        ours = plane_sun(sky, SCHOOL, tilt, 180.0)
        assert least < ours.effective.sum() / ours.poa.sum() < most


def test_cells_as_pvlib_has_them(sky: Sky) -> None:
    assert cell_temperature(800.0, 20.0, 1.0) == pytest.approx(float(temperature.faiman(800.0, 20.0, 1.0)))
    ours = plane_sun(sky, SCHOOL, 30.0, 180.0, 0.03)
    assert np.allclose(ours.cell_temperature, temperature.faiman(ours.poa, sky.air_temperature, sky.wind_speed))
    assert cell_temperature(0.0, -7.3, 3.0) == -7.3
    assert cell_temperature(500.0, 20.0, 8.0) < cell_temperature(500.0, 20.0, 1.0)


def test_beam_stronger_than_the_sun_is_held() -> None:
    # A faulty file: all diffuse light then comes from around the sun and none from the even sky.
    assert anisotropy_index(1500.0, 1361.0) == 1
    assert sky_on_plane(100.0, anisotropy_index(1500.0, 1361.0), 30.0) == 0


def test_scaling() -> None:
    assert beam_on_plane(2 * 350.0, 0.4) == pytest.approx(2 * beam_on_plane(350.0, 0.4))
    assert circumsolar_on_plane(200.0, 0.3, 1.1) == pytest.approx(2 * circumsolar_on_plane(100.0, 0.3, 1.1))
    assert ground_on_plane(400.0, 0.6, 33.0) == pytest.approx(3 * ground_on_plane(400.0, 0.2, 33.0))
    assert sky_on_plane(120.0, 0.2, 33.0, 0.5) == pytest.approx(sky_on_plane(120.0, 0.2, 33.0) / 2)


def test_scalar_is_array_element_by_element() -> None:
    zenith, azimuth = np.array([10.0, 55.5, 89.9]), np.array([91.0, 180.0, 301.0])
    together = incidence_cosine(zenith, azimuth, 33.0, 170.0)
    assert list(together) == pytest.approx(
        [float(incidence_cosine(z, a, 33.0, 170.0)) for z, a in zip(zenith, azimuth, strict=True)]
    )
    cosines = np.array([-0.3, 0.2, 0.9])
    assert list(beam_transmission(cosines)) == pytest.approx([float(beam_transmission(float(value))) for value in cosines])
    assert list(projection_ratio(cosines, 0.4)) == pytest.approx(
        [float(projection_ratio(float(value), 0.4)) for value in cosines]
    )


def test_best_tilt_lies_between_level_and_upright(sky: Sky) -> None:
    # Trade rule: the best yearly tilt is somewhat flatter than the latitude (common practice, no source).
    sums = {tilt: plane_sun(sky, SCHOOL, float(tilt), 180.0).poa.sum() for tilt in range(0, 91, 5)}
    best = max(sums, key=sums.__getitem__)
    assert 20 <= best <= 36


def test_result_is_frozen(sky: Sky) -> None:
    ours: PlaneSun = plane_sun(sky, SCHOOL, 30.0, 180.0)
    with pytest.raises(AttributeError):
        ours.poa = ours.beam  # type: ignore[misc]
