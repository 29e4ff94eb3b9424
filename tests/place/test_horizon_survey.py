"""Skyline from sightings: limits, signs, order, and every refusal word for word."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sizing.foundation.errors import SizingError
from sizing.place.horizon_survey import Sighting, altitude_from_shadow, obstacle_altitude, shadow_length, skyline_of
from sizing.place.place import skyline_altitude

angles = st.floats(0, 360)
heights = st.floats(0, 9000)
distances = st.floats(1e-3, 300_000)


def problems(*sightings: Sighting, pointer: str = "#/place/skyline") -> list[tuple[str, str, str]]:
    with pytest.raises(SizingError) as caught:
        skyline_of(sightings, pointer)
    return [(problem.pointer, problem.code, problem.detail) for problem in caught.value.problems]


def test_limits_of_an_obstacle() -> None:
    assert obstacle_altitude(0.0, 7.3) == 0
    assert obstacle_altitude(7.3, 7.3) == pytest.approx(45)
    assert obstacle_altitude(7.3, 1e-9) == pytest.approx(90)
    assert obstacle_altitude(7.3, 1e9) == pytest.approx(0, abs=1e-6)
    assert obstacle_altitude(-7.3, 19.1) == -obstacle_altitude(7.3, 19.1)  # a thing below the panel stands below the level


def test_only_the_ratio_counts_and_arrays_go_element_by_element() -> None:
    height, distance = np.array([0.31, 7.3, 26.0]), np.array([0.0191, 19.1, 45.0])
    together = obstacle_altitude(height, distance)
    assert together == pytest.approx([obstacle_altitude(h, d) for h, d in zip(height, distance, strict=True)], rel=1e-15)
    assert obstacle_altitude(3.7 * height, 3.7 * distance) == pytest.approx(together)


@given(st.floats(0.01, 100), st.floats(0.1, 90))
def test_the_sun_stands_where_its_shadow_says(height: float, altitude: float) -> None:
    assert altitude_from_shadow(height, shadow_length(height, altitude)) == pytest.approx(altitude, abs=1e-9)


def test_a_wall_by_angle_and_by_tape_is_the_same_skyline() -> None:
    # Wall 26 m above the panel, 45 m due south, 52 m to the west, 8 m to the east (Duffie & Beckman, Example 1.9.2).
    # West end at 180 + atan(52/45) = 229.13, east end at 180 - atan(8/45) = 169.92.
    west, east = 180 + np.degrees(np.arctan(52 / 45)), 180 - np.degrees(np.arctan(8 / 45))
    tape = [
        Sighting(west, height=26.0, distance=float(np.hypot(45, 52))),
        Sighting(180.0, height=26.0, distance=45.0),
        Sighting(east, height=26.0, distance=float(np.hypot(45, 8))),
    ]
    found = skyline_of(tape)
    assert [azimuth for azimuth, _ in found] == pytest.approx([169.92, 180, 229.13], abs=0.01)
    assert [altitude for _, altitude in found] == pytest.approx([29.6, 30.0, 20.7], abs=0.1)
    assert skyline_of([Sighting(azimuth, altitude) for azimuth, altitude in found]) == found


def test_points_are_put_in_order_and_north_is_one_direction() -> None:
    assert skyline_of([]) == ()
    mixed = [Sighting(350.0, 10.0), Sighting(360.0, 7.3), Sighting(10, 30)]
    assert skyline_of(mixed) == ((0.0, 7.3), (10, 30.0), (350.0, 10.0))
    assert skyline_altitude(5.0, skyline_of(mixed)) == pytest.approx((7.3 + 30) / 2)


def test_the_same_sighting_twice_is_one_point() -> None:
    assert skyline_of([Sighting(73.0, 12.0), Sighting(73.0, 12.0), Sighting(0.0, 3.0), Sighting(360.0, 3.0)]) == (
        (0.0, 3.0),
        (73.0, 12.0),
    )
    assert skyline_of([Sighting(73.0, 45.0), Sighting(73.0, height=7.3, distance=7.3)]) == ((73.0, 45.0),)


def test_a_direction_with_two_heights_is_refused() -> None:
    sentence = (
        "skyline direction 73 degrees stands twice, with 12 and 20.5 degrees of height; "
        "one direction has one height; for an upright edge set one of them half a degree aside."
    )
    assert problems(Sighting(73.0, 12.0), Sighting(80.0, 12.0), Sighting(73.0, 20.5)) == [
        ("#/place/skyline/2/azimuth_deg", "direction_doubled", sentence)
    ]
    ((pointer, _, detail),) = problems(Sighting(360.0, 12.0), Sighting(0.0, 20.0), pointer="#/other")
    assert pointer == "#/other/1/azimuth_deg"
    assert detail.startswith("skyline direction 0 degrees stands twice")


def test_an_upright_edge_half_a_degree_aside_stands() -> None:
    edge = skyline_of([Sighting(90.0, 0.0), Sighting(90.5, 20.0), Sighting(180.0, 20.0), Sighting(180.5, 0.0)])
    assert skyline_altitude(np.array([89.0, 91.0, 179.0, 181.0]), edge) == pytest.approx([0, 20, 20, 0])


REFUSED = [
    (
        Sighting(73.0, height=7.3, distance=0.0),
        "distance_m",
        "out_of_range",
        "skyline distance is 0 m; what stands at the panel itself has no direction; "
        "measure from the panel's middle to the foot of the thing.",
    ),
    (
        Sighting(73.0, height=7.3, distance=-4.0),
        "distance_m",
        "out_of_range",
        "skyline distance is -4 m; it runs from 0 to 300,000 m; measure over the ground.",
    ),
    (
        Sighting(73.0, height=-0.4, distance=4.0),
        "height_m",
        "out_of_range",
        "skyline height above the panel is -0.4 m; it runs from 0 to 9,000 m; "
        "measure from the height of the panel; leave out what stands lower.",
    ),
    (
        Sighting(73.0, -3.0),
        "altitude_deg",
        "out_of_range",
        "skyline height angle is -3 degrees; it runs from 0 to 90 degrees; 0 is level, 90 straight up.",
    ),
    (
        Sighting(365.0, 3.0),
        "azimuth_deg",
        "out_of_range",
        "skyline direction is 365 degrees; it runs from 0 to 360 degrees; count clockwise from north.",
    ),
    (
        Sighting(float("nan"), 3.0),
        "azimuth_deg",
        "out_of_range",
        "skyline direction is nan degrees; it runs from 0 to 360 degrees; count clockwise from north.",
    ),
    (
        Sighting(73.0, height=float("inf"), distance=3.0),
        "height_m",
        "out_of_range",
        "skyline height above the panel is inf m; it runs from 0 to 9,000 m; "
        "measure from the height of the panel; leave out what stands lower.",
    ),
    (
        Sighting(73.0, 12.0, height=3.0),
        "altitude_deg",
        "given_twice",
        "skyline point has a height angle and also a height or a distance; one of the two is enough; "
        "leave out the angle, or leave out height and distance.",
    ),
    (
        Sighting(73.0),
        "altitude_deg",
        "missing",
        "skyline point has no height angle; give the angle, or a height and a distance.",
    ),
    (
        Sighting(73.0, distance=3.0),
        "height_m",
        "missing",
        "skyline point has no height; measure how far it stands above the panel.",
    ),
    (
        Sighting(73.0, height=3.0),
        "distance_m",
        "missing",
        "skyline point has no distance; measure it over the ground.",
    ),
]


@pytest.mark.parametrize(("sighting", "field", "code", "sentence"), REFUSED)
def test_what_cannot_be_is_refused_with_a_sentence(sighting: Sighting, field: str, code: str, sentence: str) -> None:
    assert problems(Sighting(10.0, 5.0), sighting) == [(f"#/place/skyline/1/{field}", code, sentence)]


def test_every_wrong_sighting_is_told_at_once() -> None:
    found = problems(*[sighting for sighting, _, _, _ in REFUSED])
    assert [(pointer, code) for pointer, code, _ in found] == [
        (f"#/place/skyline/{index}/{field}", code) for index, (_, field, code, _) in enumerate(REFUSED)
    ]


@settings(deadline=None)
@given(st.lists(st.tuples(angles, heights, distances), max_size=12, unique_by=lambda point: round(point[0]) % 360))
def test_any_sightings_make_a_skyline(points: list[tuple[float, float, float]]) -> None:
    found = skyline_of([Sighting(azimuth, height=height, distance=distance) for azimuth, height, distance in points])
    assert len(found) == len(points)
    assert list(found) == sorted(found)
    assert all(0 <= azimuth < 360 and 0 <= altitude <= 90 for azimuth, altitude in found)
