"""Place: positions that exist, distances, the skyline and the share of sky it leaves open."""

from itertools import pairwise

import numpy as np
import pytest

from sizing.foundation.errors import SizingError
from sizing.place.place import Place, checked_position, distance, looked_up_elevation, sky_view_factor, skyline_altitude

GARDEN = ((90.0, 25.0), (180.0, 5.0), (270.0, 40.0))
"""House in the east, open south, tall trees in the west."""


def test_place_has_an_open_horizon_and_ordinary_ground_unless_told() -> None:
    place = Place("school", 36.1, -79.95, 273.0)
    assert (place.albedo, place.skyline) == (0.2, ())


@pytest.mark.parametrize(
    ("longitude", "wrapped"), [(190.0, -170.0), (-190.0, 170.0), (180.0, -180.0), (-180.0, -180.0), (359.5, -0.5), (7.3, 7.3)]
)
def test_longitude_wraps_round_the_earth(longitude: float, wrapped: float) -> None:
    assert checked_position(12.0, longitude) == pytest.approx((12.0, wrapped))


@pytest.mark.parametrize(
    ("position", "pointer", "words"),
    [
        ((90.5, 0.0), "#/place/latitude_deg", "latitude is 90.5 degrees; latitudes run from -90 (south pole) to 90 (north pole)"),
        ((float("nan"), 0.0), "#/place/latitude_deg", "latitude is nan degrees"),
        ((10.0, 361.0), "#/place/longitude_deg", "longitude is 361 degrees; longitudes run from -180 (west) to 180 (east)"),
        ((10.0, float("inf")), "#/place/longitude_deg", "longitude is inf degrees"),
    ],
)
def test_a_position_that_is_not_on_earth_is_refused(position: tuple[float, float], pointer: str, words: str) -> None:
    with pytest.raises(SizingError) as caught:
        checked_position(*position)
    assert caught.value.problems[0].pointer == pointer
    assert str(caught.value).startswith(words)
    assert str(caught.value).endswith("check the sign and the decimal point.")


def test_elevation_of_sea_hill_and_date_line() -> None:
    assert looked_up_elevation(-30.0, -30.0) == 0.0
    assert looked_up_elevation(27.99, 86.92) > 4000  # Himalaya; the map tops out near 6600 m
    assert np.isfinite(looked_up_elevation(-16.5, 180.0))
    assert looked_up_elevation(-16.5, 180.0) == looked_up_elevation(-16.5, -180.0)
    assert np.isfinite([looked_up_elevation(90.0, 0.0), looked_up_elevation(-90.0, 0.0)]).all()


def test_distance_by_hand() -> None:
    assert distance(0, 0, 0, 90) == pytest.approx(6371 * np.pi / 2)  # a quarter of the way round
    assert distance(47.3, 8.5, 48.3, 8.5) == pytest.approx(6371 * np.pi / 180)  # one degree of latitude
    assert distance(60, 10, 60, 10.01) == pytest.approx(6371 * np.radians(0.01) * 0.5, rel=1e-6)  # meridians close in by cos 60
    assert distance(-16, 179.9, -16, -179.9) == pytest.approx(distance(-16, 10, -16, 10.2))
    assert distance(12.3, 4.5, -30, 77) == pytest.approx(float(distance(-30, 77, 12.3, 4.5)))
    assert distance(5.1, 6.2, 5.1, 6.2) == 0


def test_empty_skyline_is_level() -> None:
    assert skyline_altitude(123.4, ()) == 0
    assert np.array_equal(skyline_altitude(np.array([0.0, 359.0]), ()), [0, 0])


def test_one_point_is_a_wall_all_round() -> None:
    assert np.array_equal(skyline_altitude(np.array([0.0, 77.7, 359.9]), ((200.0, 12.5),)), [12.5, 12.5, 12.5])


def test_skyline_runs_straight_between_points_and_closes_over_north() -> None:
    assert skyline_altitude(135.0, GARDEN) == pytest.approx(15.0)  # halfway from 25 to 5
    assert skyline_altitude(0.0, GARDEN) == pytest.approx(32.5)  # halfway from 40 (west) over north to 25 (east)
    assert skyline_altitude(-90.0, GARDEN) == skyline_altitude(270.0, GARDEN) == skyline_altitude(630.0, GARDEN) == 40


def test_order_of_points_does_not_matter_and_360_is_0() -> None:
    azimuth = np.linspace(0, 360, 37)
    assert np.allclose(skyline_altitude(azimuth, GARDEN), skyline_altitude(azimuth, GARDEN[::-1]))
    assert skyline_altitude(20.0, ((360.0, 8.0), (40.0, 16.0))) == pytest.approx(12.0)


def test_two_points_at_one_azimuth_make_an_upright_edge() -> None:
    house = ((100.0, 0.0), (100.0, 30.0), (160.0, 30.0), (160.0, 0.0))
    assert skyline_altitude(np.array([99.99, 100.01, 130.0, 159.99, 160.01, 300.0]), house) == pytest.approx(
        [0, 30, 30, 30, 0, 0]
    )


def test_scalar_is_array_element_by_element() -> None:
    azimuth = np.array([0.0, 33.3, 181.0, 359.9])
    together = skyline_altitude(azimuth, GARDEN)
    assert [skyline_altitude(float(at), GARDEN) for at in azimuth] == pytest.approx(list(together))


@pytest.mark.parametrize("height", [0.0, 7.3, 30.0, 62.0, 90.0])
def test_wall_all_round_seen_from_level_ground(height: float) -> None:
    # Light of an even sky from above altitude h on level ground: integral of 2 sin h cos h from h up = cos(h)^2.
    assert sky_view_factor(0.0, 180.0, ((0.0, height),)) == pytest.approx(np.cos(np.radians(height)) ** 2, abs=1e-12)


@pytest.mark.parametrize("height", [0.0, 7.3, 30.0, 62.0, 90.0])
def test_wall_all_round_seen_from_an_upright_plane(height: float) -> None:
    # On an upright plane: integral of (4/pi) cos(h)^2 from h up = 1 - (2 h + sin 2 h) / pi.
    angle = np.radians(height)
    assert sky_view_factor(90.0, 77.0, ((0.0, height),)) == pytest.approx(1 - (2 * angle + np.sin(2 * angle)) / np.pi, abs=1e-12)


def test_half_the_horizon_walled_to_the_top() -> None:
    south_walled = ((90.0, 0.0), (90.0, 90.0), (270.0, 90.0), (270.0, 0.0))
    assert sky_view_factor(0.0, 180.0, south_walled) == pytest.approx(0.5)
    assert sky_view_factor(90.0, 180.0, south_walled) == pytest.approx(0.0, abs=1e-12)
    assert sky_view_factor(90.0, 0.0, south_walled) == pytest.approx(1.0)  # a wall behind an upright plane hides nothing


def test_open_share_against_a_plain_sum_over_small_patches_of_sky() -> None:
    tilt, facing = np.radians(37.3), np.radians(163.0)
    altitude = np.radians((np.arange(900) + 0.5) / 10)[:, None]
    azimuth = np.radians((np.arange(1800) + 0.5) / 5)[None, :]
    cosine = np.cos(tilt) * np.sin(altitude) + np.sin(tilt) * np.cos(altitude) * np.cos(azimuth - facing)
    light = np.maximum(cosine, 0) * np.cos(altitude)
    is_open = altitude > np.radians(skyline_altitude(np.degrees(azimuth), GARDEN))
    assert sky_view_factor(37.3, 163.0, GARDEN) == pytest.approx((light * is_open).sum() / light.sum(), abs=3e-4)


def test_open_share_keeps_its_limits_and_order() -> None:
    assert sky_view_factor(41.0, 200.0, ()) == 1.0
    shares = [sky_view_factor(41.0, 200.0, tuple((at, height * k) for at, height in GARDEN)) for k in (0, 0.3, 0.7, 1, 1.5)]
    assert shares[0] == pytest.approx(1)
    assert all(above > below for above, below in pairwise(shares))
    assert all(0 < share <= 1 for share in shares)


def test_turning_garden_and_plane_together_changes_nothing() -> None:
    turned = tuple(((at + 90) % 360, height) for at, height in GARDEN)
    assert sky_view_factor(33.0, 163.0, GARDEN) == pytest.approx(sky_view_factor(33.0, 253.0, turned), abs=1e-9)
