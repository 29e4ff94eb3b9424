"""Many planes at once: plane by plane the same as one plane alone; symmetry, limits, and the sun straight on."""

from dataclasses import replace

import numpy as np
import pytest

from sizing.light.irradiance import plane_sun
from sizing.operation.goal import FlowBand
from sizing.operation.operating_point import OperatingGrid, flow_alone, solve_grid
from sizing.orientation.planes import Planes, PlanesYear, Watch, angles_between, perpendiculars, planes_year
from sizing.place.place import Place
from sizing.sky.clock import on_the_clock
from sizing.sky.weather import Sky, built_in_sky, file_sky
from tests.calm_days import calm
from tests.fountains import FOUNTAINS, Fountain, controlled

YARD = Place("walled yard", 47.37, 8.54, 408.0, 0.27, ((60.0, 5.0), (91.0, 31.0), (118.0, 24.0), (150.0, 2.0), (262.0, 17.0)))
SOUTHERN = Place("southern yard", -33.93, 18.42, 41.0)
TROPICAL = Place("tropical yard", 1.35, 103.82, 15.0)
COARSE = Planes(
    np.array([0.0, 15.0, 15.0, 35.0, 35.0, 35.0, 37.3, 60.0, 60.0, 90.0, 90.0, 90.0]),
    np.array([0.0, 90.0, 200.0, 0.0, 110.0, 180.0, 231.7, 70.0, 180.0, 0.0, 180.0, 270.0]),
)

NAMES = ("sun", "water", "play", "hours_water", "hours_play", "goal_hours")


def solved(fountain: Fountain) -> OperatingGrid:
    return solve_grid(fountain.supply, fountain.pump, fountain.waterway)


def watched(sky: Sky, first: float = 8.0, last: float = 15.0, goal_flow: float = 3.7e-5) -> Watch:
    summer = (sky.month >= 4) & (sky.month <= 9) & (sky.hour > 10) & (sky.hour < 14)
    return Watch((sky.hour > first) & (sky.hour < last), summer, FlowBand(goal_flow))


def one_by_one(sky: Sky, place: Place, found: OperatingGrid, planes: Planes, watch: Watch) -> dict[str, np.ndarray]:
    """The same by the single sizing, the year's sums of each plane."""
    step = 24.0 / sky.steps_per_day
    rows = []
    for tilt, azimuth in zip(planes.tilt.tolist(), planes.azimuth.tolist(), strict=True):
        sun = plane_sun(sky, place, tilt, azimuth, 0.031)
        flow = np.where(sun.effective > 0, flow_alone(found, sun.effective, sun.cell_temperature), 0.0)
        plays = flow > 0
        inside = watch.hours
        rows.append(
            (
                sun.poa.sum() * step / 1000,
                flow.sum() * step * 3600,
                plays.sum() * step,
                flow[inside].sum() * step * 3600,
                plays[inside].sum() * step,
                ((flow >= watch.goal_flow.least) & watch.goal).sum() * step,
            )
        )
    return dict(zip(NAMES, np.array(rows).T, strict=True))


def near(many: PlanesYear, single: dict[str, np.ndarray], sky: Sky) -> None:
    """Within 0.3 %, or three steps where that is more; the sun within rounding."""
    step = 24.0 / sky.steps_per_day
    np.testing.assert_allclose(many.sun.sum(axis=1), single["sun"], rtol=1e-6)
    for water in ("water", "hours_water"):
        np.testing.assert_allclose(getattr(many, water).sum(axis=1), single[water], rtol=3e-3, atol=1e-3 * single[water].max())
    for hours in ("play", "hours_play", "goal_hours"):
        np.testing.assert_allclose(getattr(many, hours).sum(axis=1), single[hours], rtol=3e-3, atol=3 * step)


@pytest.mark.some(3)
@pytest.mark.parametrize("name", [*FOUNTAINS])
@pytest.mark.parametrize("behind", [False, True])
def test_each_plane_as_alone(name: str, behind: bool) -> None:
    found = solved(controlled(FOUNTAINS[name]) if behind else FOUNTAINS[name])
    sky = on_the_clock(built_in_sky(YARD), YARD.longitude, "Europe/Zurich")
    watch = watched(sky)
    near(planes_year(sky, YARD, 0.031, found, COARSE, watch), one_by_one(sky, YARD, found, COARSE, watch), sky)


@pytest.mark.some(1)
@pytest.mark.parametrize("place", [SOUTHERN, TROPICAL], ids=["southern", "tropical"])
def test_each_plane_as_alone_elsewhere(place: Place) -> None:
    found, sky = solved(FOUNTAINS["jet"]), built_in_sky(place)
    watch = watched(sky)
    near(planes_year(sky, place, 0.031, found, COARSE, watch), one_by_one(sky, place, found, COARSE, watch), sky)


def test_each_plane_as_alone_in_a_weather_file() -> None:
    sky, place = file_sky("pvlib/data/723170TYA.CSV")
    found, watch = solved(FOUNTAINS["jet"]), watched(sky)
    near(planes_year(sky, place, 0.031, found, COARSE, watch), one_by_one(sky, place, found, COARSE, watch), sky)


def test_months_are_summed_where_they_are() -> None:
    found, sky = solved(FOUNTAINS["jet"]), built_in_sky(YARD)
    many = planes_year(sky, YARD, 0.0, found, COARSE, watched(sky))
    sun = plane_sun(sky, YARD, 35.0, 180.0)
    months = np.bincount(sky.month, weights=sun.poa, minlength=13)[1:] / 4000
    np.testing.assert_allclose(many.sun[5], months, rtol=1e-6)
    assert np.all(many.goal_hours[:, [0, 1, 2, 9, 10, 11]] == 0)
    assert np.all(many.hours_water <= many.water)
    assert np.all(many.hours_play <= many.play)


def test_no_window_no_goal() -> None:
    found, sky = solved(FOUNTAINS["jet"]), built_in_sky(YARD)
    none = np.zeros(len(sky.ghi), dtype=bool)
    whole = planes_year(sky, YARD, 0.0, found, COARSE, Watch(~none, ~none, FlowBand(np.inf)))
    empty = planes_year(sky, YARD, 0.0, found, COARSE, Watch(none, none, FlowBand(1e-9)))
    np.testing.assert_array_equal(whole.hours_water, whole.water)
    np.testing.assert_allclose(whole.water, empty.water, rtol=1e-5)
    for nothing in (empty.hours_water, empty.hours_play, empty.goal_hours, whole.goal_hours):
        assert not nothing.any()


def test_without_sun_nothing() -> None:
    sky = built_in_sky(YARD)
    dark = replace(sky, ghi=0 * sky.ghi, dhi=0 * sky.dhi, dni=0 * sky.dni)
    many = planes_year(dark, YARD, 0.03, solved(FOUNTAINS["jet"]), COARSE, watched(sky))
    assert all(not getattr(many, name).any() for name in NAMES)


def test_square_to_the_sun_is_the_most_at_any_moment() -> None:
    # One clear step of a year, beam alone: a plane square to the sun gets dni x 0.25 h, one turned by 60 degrees half of it.
    sky = built_in_sky(SOUTHERN)
    step = int(np.flatnonzero((sky.day == 51) & (sky.hour > 9.3))[0])
    one = np.arange(len(sky.ghi)) == step
    clear = replace(sky, ghi=0 * sky.ghi, dhi=0 * sky.dhi, dni=np.where(one, 871.3, 0.0))
    height, direction = float(sky.zenith[step]), float(sky.azimuth[step])
    planes = Planes(
        np.array([height, height + 5, height - 5, height, height, abs(height - 60)]),
        np.array([direction, direction, direction, direction + 7, direction - 7, direction + (180 if height < 60 else 0)]),
    )
    many = planes_year(clear, SOUTHERN, 0.0, solved(FOUNTAINS["jet"]), planes, watched(sky))
    sun, water = many.sun.sum(axis=1), many.water.sum(axis=1)
    assert sun[0] == pytest.approx(0.8713 * 0.25, rel=1e-5)
    assert sun[5] == pytest.approx(0.5 * 0.8713 * 0.25, rel=1e-5)
    assert np.all(sun[1:] < sun[0])
    assert water[0] > 0
    assert np.all(water[1:] <= water[0])
    assert water[5] < water[0]


def test_mornings_mirror_afternoons() -> None:
    # Smooth days are the same before and after solar noon, so the sun on 180 + x equals that on 180 - x.
    # The air is warmer after noon, and warm cells give less: the flow may differ by half a per cent.
    place = replace(YARD, skyline=())
    turned = np.array([10.0, 40.0, 70.0, 90.0])
    tilts = np.array([20.0, 35.0, 35.0, 60.0])
    planes = Planes(np.tile(tilts, 2), np.concatenate([180 - turned, 180 + turned]))
    sky = calm(built_in_sky(place))
    many = planes_year(sky, place, 0.03, solved(FOUNTAINS["jet"]), planes, watched(sky))
    np.testing.assert_allclose(many.sun[:4], many.sun[4:], rtol=1e-6)
    np.testing.assert_allclose(many.water[:4].sum(axis=1), many.water[4:].sum(axis=1), rtol=5e-3)
    even = replace(sky, air_temperature=np.full_like(sky.air_temperature, 14.3))
    alike = planes_year(even, place, 0.03, solved(FOUNTAINS["jet"]), planes, watched(sky))
    np.testing.assert_allclose(alike.water[:4], alike.water[4:], rtol=1e-4, atol=1e-6)


def test_half_a_beam_when_a_wall_takes_the_morning() -> None:
    walled = replace(YARD, skyline=((0.0, 0.0), (0.0, 89.0), (180.0, 89.0), (180.0, 0.0)))
    opened = replace(YARD, skyline=())
    sky = calm(built_in_sky(opened))
    only_beam = replace(sky, ghi=0 * sky.ghi, dhi=0 * sky.dhi)
    level = Planes(np.zeros(1), np.zeros(1))
    found = solved(FOUNTAINS["jet"])
    half, whole = (planes_year(only_beam, place, 0.0, found, level, watched(sky)).sun.sum() for place in (walled, opened))
    assert half == pytest.approx(0.5 * whole, rel=1e-6)


@pytest.mark.parametrize(
    ("tilt", "azimuth", "expected"),
    [(0.0, 123.0, (0, 0, 1)), (90.0, 0.0, (0, 1, 0)), (90.0, 270.0, (-1, 0, 0)), (30.0, 180.0, (0, -0.5, np.sqrt(0.75)))],
)
def test_perpendiculars(tilt: float, azimuth: float, expected: tuple[float, float, float]) -> None:
    np.testing.assert_allclose(perpendiculars(Planes(np.array([tilt]), np.array([azimuth])))[0], expected, atol=1e-15)


def test_angles_are_those_of_the_sphere() -> None:
    # Two planes of one tilt t, turned against each other by a: sin(angle / 2) = sin(t) sin(a / 2); here t 40, a 60 degrees.
    angle = angles_between(Planes(np.array([40.0, 40.0]), np.array([150.0, 210.0])), 40.0, 210.0)
    assert angle[0] == pytest.approx(2 * np.degrees(np.arcsin(np.sin(np.radians(40)) * 0.5)), abs=1e-9)
    assert angle[1] == pytest.approx(0, abs=1e-5)


def test_the_block_of_planes_does_not_matter() -> None:
    found, sky = solved(FOUNTAINS["low_voltage"]), built_in_sky(TROPICAL)
    many = Planes(np.full(131, 33.3), np.arange(131) * 2.7)
    whole = planes_year(sky, TROPICAL, 0.02, found, many, watched(sky))
    last = planes_year(sky, TROPICAL, 0.02, found, Planes(many.tilt[-1:], many.azimuth[-1:]), watched(sky))
    np.testing.assert_allclose(whole.water[-1], last.water[0], rtol=1e-5, atol=1e-7)
