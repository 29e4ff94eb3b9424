"""The grid of directions, the best plane on it, how flat the best is, tilts through the seasons; all on surfaces made by hand."""

import numpy as np
import pytest

from sizing.orientation.directions import (
    AZIMUTHS,
    TILTS,
    Flatness,
    as_table,
    best_plane,
    best_tilt,
    column_of,
    equator_azimuth,
    facing,
    flatness_of,
    grid,
    joined,
    outcome_of,
    tilts_found,
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


# Tilting with the seasons, on water made by hand


def water(*wanted: float) -> np.ndarray:
    """Months of 100 m3 at the wanted tilt, less 0.1 m3 for each degree beside it squared over 10."""
    return 100 - 0.01 * (TILTS[:, None] - np.array(wanted)[None, :]) ** 2


def test_each_month_finds_its_own() -> None:
    wanted = (65, 55, 40, 25, 10, 5, 10, 25, 40, 55, 65, 70)
    found = tilts_found(180.0, water(*wanted))
    assert found.monthly == wanted
    np.testing.assert_allclose(found.monthly_water, 100)
    # The sum of squares is least at the mean of the wanted tilts, 465 / 12 = 38.75; of the grid, 40 is nearest.
    assert found.fixed == 40
    squares = sum((tilt - 40) ** 2 for tilt in wanted)
    assert found.fixed_water.sum() == pytest.approx(1200 - 0.01 * squares)
    assert found.gain == pytest.approx(0.01 * squares / (1200 - 0.01 * squares))


def test_two_halves_of_a_year() -> None:
    found = tilts_found(180.0, water(60, 60, 60, 20, 20, 20, 20, 20, 20, 60, 60, 60))
    assert found.two is not None
    winter, summer = sorted(found.two.seasons, key=lambda season: -season.tilt)
    assert (winter.tilt, winter.months) == (60, (10, 11, 12, 1, 2, 3))
    assert (summer.tilt, summer.months) == (20, (4, 5, 6, 7, 8, 9))
    # Fixed at 40 each month lacks 0.01 x 20 x 20 = 4 of 100.
    assert found.two.water == pytest.approx(1200)
    assert found.two.gain == pytest.approx(1200 / 1152 - 1)


def test_one_odd_month_stands_alone() -> None:
    found = tilts_found(0.0, water(*(10,) * 11, 80))
    assert found.two is not None
    assert {season.months for season in found.two.seasons} == {(12,), tuple(range(1, 12))}


def test_months_are_those_of_the_year_once() -> None:
    found = tilts_found(0.0, water(5, 15, 40, 70, 80, 75, 60, 20, 5, 5, 5, 5))
    assert found.two is not None
    assert sorted(month for season in found.two.seasons for month in season.months) == list(range(1, 13))


def test_nothing_to_gain() -> None:
    assert tilts_found(180.0, water(*(35,) * 12)).two is None
    assert tilts_found(180.0, water(*(35,) * 12)).gain == 0
    assert tilts_found(180.0, np.full((19, 12), 7.3)).two is None


def test_dry_months_have_no_tilt() -> None:
    values = water(*(35,) * 12)
    values[:, [0, 11]] = 0
    found = tilts_found(180.0, values)
    assert found.monthly[0] is found.monthly[11] is None
    assert found.monthly[5] == 35
    nothing = tilts_found(180.0, np.zeros((19, 12)))
    assert nothing.monthly == (None,) * 12
    assert nothing.gain == 0
    assert nothing.two is None


def test_scaling_changes_no_choice() -> None:
    values = water(65, 55, 40, 25, 10, 5, 10, 25, 40, 55, 65, 70)
    one, thousand = tilts_found(180.0, values), tilts_found(180.0, 1000 * values)
    assert one.monthly == thousand.monthly
    assert one.two is not None
    assert thousand.two is not None
    assert one.two.seasons == thousand.two.seasons
    assert one.gain == pytest.approx(thousand.gain)


def test_of_equal_tilts_the_middle() -> None:
    assert best_tilt(np.array([7.0, 7.0, 7.0, 7.0, 7.0])) == 2
    assert best_tilt(np.array([0.0, 7.0, 7.0, 0.0])) == 1
