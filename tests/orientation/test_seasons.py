"""Tilting with the seasons, on water made by hand."""

import numpy as np
import pytest

from sizing.orientation.directions import TILTS, best_tilt, tilts_found


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
