"""The grid of directions, the best plane on it, and how flat the best is; all on surfaces made by hand."""

import numpy as np
import pytest

from sizing.orientation.directions import (
    AZIMUTHS,
    TILTS,
    Flatness,
    as_table,
    best_plane,
    column_of,
    equator_azimuth,
    facing,
    flatness_of,
    grid,
    joined,
    outcome_of,
)
from sizing.orientation.planes import Planes, angles_between

GRID = grid()


def hill(tilt: float, azimuth: float) -> np.ndarray:
    """A smooth surface with its top at a plane: the cosine of the angle to it, above zero."""
    return np.maximum(np.cos(np.radians(angles_between(GRID, tilt, azimuth))), 0.0)


def test_every_plane_once() -> None:
    pairs = set(zip(GRID.tilt.tolist(), GRID.azimuth.tolist(), strict=True))
    assert len(pairs) == len(GRID.tilt) == 1 + 18 * 36
    assert sum(tilt == 0 for tilt, _ in pairs) == 1
    assert max(azimuth for _, azimuth in pairs) == 350


def test_the_table_is_nineteen_by_thirty_seven() -> None:
    tilts, azimuths = as_table(GRID.tilt), as_table(GRID.azimuth)
    assert tilts.shape == (len(TILTS), len(AZIMUTHS)) == (19, 37)
    np.testing.assert_array_equal(tilts, np.repeat(TILTS[:, None], 37, axis=1))
    np.testing.assert_array_equal(azimuths[1:, :36], np.repeat(AZIMUTHS[None, :36], 18, axis=0))
    np.testing.assert_array_equal(azimuths[1:, 36], 0)


@pytest.mark.parametrize("azimuth", [0.0, 70.0, 350.0, 360.0])
def test_a_column_holds_each_tilt(azimuth: float) -> None:
    column = column_of(azimuth)
    np.testing.assert_array_equal(GRID.tilt[column], TILTS)
    np.testing.assert_array_equal(GRID.azimuth[column][1:], azimuth % 360)


@pytest.mark.parametrize(("tilt", "azimuth"), [(0.0, 0.0), (35.0, 180.0), (60.0, 350.0), (90.0, 90.0)])
def test_the_top_of_a_hill_is_found(tilt: float, azimuth: float) -> None:
    best = best_plane(GRID, hill(tilt, azimuth))
    assert (GRID.tilt[best], GRID.azimuth[best]) == (tilt, azimuth)


def test_the_middle_of_a_plateau_is_taken() -> None:
    values = np.minimum(hill(45.0, 180.0), 0.9)
    best = best_plane(GRID, values * (1 + 1e-4 * np.sin(np.arange(649.0))))
    assert (GRID.tilt[best], GRID.azimuth[best]) == (45.0, 180.0)


def test_nothing_and_no_difference() -> None:
    assert outcome_of(np.zeros(649)) == "never"
    assert outcome_of(np.full(649, 7.3)) == "alike"
    assert outcome_of(7.3 + 0.005 * hill(30, 90)) == "alike"
    assert outcome_of(hill(30, 90)) == "found"
    assert GRID.tilt[best_plane(GRID, np.full(649, 7.3))] == 0


def test_flatness_of_a_cosine() -> None:
    # cos(angle) falls to 0.95 at 18.19 degrees: of the planes along the slope, 5 degrees apart, 15 is the last within.
    found = flatness_of(GRID, hill(35.0, 180.0), best_plane(GRID, hill(35.0, 180.0)))
    assert 15 <= found.angle <= np.degrees(np.arccos(0.95))
    assert not found.everywhere


def test_flatness_where_nothing_or_everything_qualifies() -> None:
    peak = np.zeros(649)
    peak[100] = 1.0
    assert flatness_of(GRID, peak, 100) == Flatness(0.0, False)
    found = flatness_of(GRID, 1 - 0.049 * (1 - hill(0.0, 0.0)), 0)
    assert found == Flatness(90.0, True)


def test_one_loser_near_by_bounds_the_angle() -> None:
    values = np.ones(649)
    loser = int(np.flatnonzero((GRID.tilt == 20) & (GRID.azimuth == 180))[0])
    values[loser] = 0.9
    assert flatness_of(GRID, values, 0).angle == pytest.approx(15.0)


@pytest.mark.parametrize(("latitude", "azimuth"), [(47.4, 180.0), (0.0, 180.0), (-0.01, 0.0), (-90.0, 0.0)])
def test_toward_the_equator(latitude: float, azimuth: float) -> None:
    assert equator_azimuth(latitude) == azimuth


def test_parts_are_joined_in_order() -> None:
    found = joined(Planes(np.array([7.3]), np.array([19.1])), facing(TILTS, 360.0), facing(40.0, 270.0))
    assert found.tilt.tolist() == [7.3, *TILTS.tolist(), 40.0]
    assert found.azimuth[1] == 0
    assert found.azimuth[-1] == 270
