"""Obstacles: what they hide by hand and by looking in every direction, between them nothing, and words for directions."""

import itertools

import numpy as np
import pytest

from sizing.foundation.errors import InputError
from sizing.place.obstacles import half_width, named_direction, skyline_with, top_altitude
from sizing.place.place import Obstacle, sky_view_factor, skyline_altitude

TREE = Obstacle("tree", 225.0, 8.0, 10.0, 6.0)
HOUSE = Obstacle("house", 350.0, 5.0, 12.0, 30.0)
HEDGE = ((60.0, 3.0), (200.0, 12.0), (300.0, 40.0))


def test_by_hand() -> None:
    # 8 m at 10 m: atan 0.8 = 38.66 degrees; half of 6 m at 10 m: atan 0.3 = 16.70 degrees.
    line = skyline_with((), [TREE])
    assert skyline_altitude(225.0, line) == pytest.approx(38.6598, abs=1e-3)
    for edge in (225 - 16.6992, 225 + 16.6992):
        inward = 1 if edge < 225 else -1
        # At the edge the screen is sqrt(109) m away.
        assert skyline_altitude(edge + 0.001 * inward, line) == pytest.approx(np.degrees(np.arctan(8 / 109**0.5)), abs=0.01)
        assert skyline_altitude(edge - 0.001 * inward, line) == pytest.approx(0, abs=1e-6)


def test_limits() -> None:
    assert half_width(1e9, 1.0) == pytest.approx(90)
    assert half_width(1e-9, 1.0) == pytest.approx(0, abs=1e-6)
    assert top_altitude(0.0, 5.0, 10.0) == 0
    assert top_altitude(1e9, 1.0, 0.0) == pytest.approx(90)
    assert top_altitude(5.0, 5.0, 90.0) == pytest.approx(0)
    assert skyline_with(HEDGE, ()) == HEDGE


@pytest.mark.parametrize("skyline", [(), HEDGE, ((10.0, 5.0),)])
@pytest.mark.parametrize("obstacles", [[TREE], [HOUSE], [TREE, HOUSE], [Obstacle("", 180.0, 4.0, 1.0, 100.0), HOUSE, TREE]])
def test_the_higher_counts_in_every_direction(skyline: tuple, obstacles: list[Obstacle]) -> None:
    """Against a search in every direction, each thing for itself, that knows no corners."""
    line = skyline_with(skyline, obstacles)
    for azimuth in np.arange(0.0503, 360, 0.25):
        alone = [float(skyline_altitude(azimuth, skyline))]
        for one in obstacles:
            off = abs((azimuth - one.azimuth + 180) % 360 - 180)
            if off < 90 and one.distance * np.tan(np.radians(off)) < one.width / 2:
                away = one.distance / np.cos(np.radians(off))
                alone.append(np.degrees(np.arctan(one.height / away)))
        assert skyline_altitude(azimuth, line) == pytest.approx(max(alone), abs=1.0), azimuth


def test_order_does_not_matter_and_nothing_grows_twice() -> None:
    lines = [skyline_with(HEDGE, order) for order in itertools.permutations([TREE, HOUSE, TREE])]
    assert all(line == lines[0] for line in lines)
    assert skyline_with((), [TREE, TREE]) == skyline_with((), [TREE])


def test_more_of_anything_hides_more_sky() -> None:
    views = [sky_view_factor(35.0, 180.0, skyline_with((), [Obstacle("", 200.0, height, 10.0, 8.0)])) for height in (0, 2, 8, 30)]
    assert views[0] == pytest.approx(1)
    assert views == sorted(views, reverse=True)
    views = [sky_view_factor(35.0, 180.0, skyline_with((), [Obstacle("", 200.0, 8.0, away, 8.0)])) for away in (2, 10, 100, 1e4)]
    assert views == sorted(views)
    assert views[-1] == pytest.approx(1, abs=1e-4)


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("south-west", 225),
        ("South West", 225),
        ("southwest", 225),
        ("SW", 225),
        ("s.s.w.", 202.5),
        ("north-north-east", 22.5),
        ("N", 0),
        ("west", 270),
        ("0", 0),
        ("360", 0),
        ("180", 180),
        ("179.9999", 179.9999),
        ("12,5°", 12.5),
    ],
)
def test_directions_in_words_and_degrees(text: str, degrees: float) -> None:
    assert named_direction(text, "#") == degrees


@pytest.mark.parametrize("text", ["", "up", "361", "-5", "north-south", "sw-ish", "1e2", "nan"])
def test_no_direction(text: str) -> None:
    with pytest.raises(InputError) as refused:
        named_direction(text, "#/place/obstacles/0/direction")
    assert [(each.pointer, each.code) for each in refused.value.problems] == [("#/place/obstacles/0/direction", "no_direction")]
