"""What anybody in the trade expects of panels and fountains: common practice, no source."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from sizing.electric.panel import maximum_power, open_circuit_voltage
from sizing.electric.single_diode import at_conditions
from sizing.hydraulic.outlet import Nozzle, jet_height
from sizing.light.irradiance import PlaneSun, plane_sun
from sizing.operation.operating_point import OperatingPoints, State, operate, solve_grid
from sizing.operation.year import Year, day_of_kind, step_at, year_of
from sizing.place.place import Place
from sizing.sky.solar_position import monthly_extraterrestrial
from sizing.sky.weather import Sky, monthly_sky
from tests.calm_days import calm
from tests.fountains import FOUNTAINS, Fountain, controlled

CLEAR = 0.7
"""[1] Clearness of a month of fine days."""


@cache
def clear_sky(latitude: float) -> Sky:
    """A year of fine, smooth days, 15 Cel all the time: mornings and afternoons differ in nothing but the side of the sun."""
    sun = CLEAR * monthly_extraterrestrial(latitude) * 24 / 1000
    sky = monthly_sky(garden(latitude), sun.tolist(), [15.0] * 12)
    return replace(calm(sky), air_temperature=np.full(sky.ghi.shape, 15.0))


def garden(latitude: float, skyline: tuple[tuple[float, float], ...] = ()) -> Place:
    return Place("trial", latitude, 10.0, 100.0, 0.2, skyline)


@cache
def solved(name: str):
    fountain = FOUNTAINS[name]
    return solve_grid(fountain.supply, fountain.pump, fountain.waterway)


def played(sky: Sky, sun: PlaneSun, name: str = "jet") -> tuple[OperatingPoints, Year]:
    operation = operate(solved(name), sun.effective, sun.cell_temperature)
    return operation, year_of(sky, sun, operation)


def faced(latitude: float, tilt: float, azimuth: float) -> tuple[PlaneSun, OperatingPoints, Year]:
    sky = clear_sky(latitude)
    sun = plane_sun(sky, garden(latitude), tilt, azimuth, 0.02)
    return sun, *played(sky, sun)


def equator(latitude: float) -> float:
    return 180.0 if latitude > 0 else 0.0


# Which way the panel faces


@pytest.mark.parametrize("hour", [9.2, 12.1, 15.7])
def test_square_on_to_the_sun_gives_most(hour: float) -> None:
    """A bright May day, beam only: 15 degrees off, in tilt or in direction, gives less light, current and water."""
    clear = clear_sky(43.7)
    sky = replace(clear, dhi=np.zeros(clear.dhi.shape))
    step = step_at(sky, day_of_kind(sky, 5, 1.0), hour)
    zenith, azimuth = float(sky.zenith[step]), float(sky.azimuth[step])

    def at(tilt: float, direction: float) -> tuple[float, float, float]:
        sun = plane_sun(sky, replace(garden(43.7), albedo=0.0), tilt, direction % 360, 0.02)
        found = operate(solved("jet"), sun.effective[step], sun.cell_temperature[step])
        return float(sun.effective[step]), float(found.current), float(found.flow)

    best = at(zenith, azimuth)
    assert best[2] > 0
    for tilt, direction in ((-15, 0), (15, 0), (0, -25), (0, 25), (15, 40), (-15, -40), (30, 90)):
        off = at(np.clip(zenith + tilt, 0, 90), azimuth + direction)
        assert all(less < more for less, more in zip(off, best, strict=True))


@pytest.mark.some(3)
@pytest.mark.parametrize("latitude", [-41.3, 37.9, 52.1])
@pytest.mark.parametrize("name", ["jet", "low_voltage"])
def test_facing_the_equator_beats_east_and_west_over_a_clear_year(latitude: float, name: str) -> None:
    sky, water, sun_on_plane = clear_sky(latitude), {}, {}
    for side, azimuth in (("equator", equator(latitude)), ("east", 90.0), ("west", 270.0), ("pole", equator(-latitude))):
        sun = plane_sun(sky, garden(latitude), 35.0, azimuth, 0.02)
        year = played(sky, sun, name)[1]
        water[side], sun_on_plane[side] = year.water, year.poa_insolation
    for found in (water, sun_on_plane):
        assert found["equator"] > 1.02 * found["east"]
        assert found["equator"] > 1.02 * found["west"]
        assert min(found["east"], found["west"]) > 1.02 * found["pole"]
    assert water["east"] == pytest.approx(water["west"], rel=1e-6)


@pytest.mark.parametrize("latitude", [-41.3, 52.1])
def test_mornings_mirror_afternoons(latitude: float) -> None:
    sun, operation, _ = faced(latitude, 35.0, equator(latitude))
    for values in (sun.poa, operation.flow, operation.voltage):
        days = values.reshape(365, 96)
        np.testing.assert_allclose(days, days[:, ::-1], rtol=1e-7, atol=1e-9 * values.max())


def test_an_eastern_panel_plays_in_the_morning_and_a_western_one_in_the_afternoon() -> None:
    east, west = (faced(47.3, 60.0, azimuth)[1].flow.reshape(365, 96) for azimuth in (90.0, 270.0))
    assert east[:, :48].sum() > 2 * east[:, 48:].sum()
    np.testing.assert_allclose(east, west[:, ::-1], rtol=1e-6, atol=1e-12)


@pytest.mark.parametrize("latitude", [-38.7, 46.3])
def test_steeper_in_winter_and_flatter_in_summer(latitude: float) -> None:
    steep, flat = (faced(latitude, tilt, equator(latitude))[2].months for tilt in (abs(latitude) + 15, abs(latitude) - 25))
    winter, summer = (11, 5) if latitude > 0 else (5, 11)
    for what in ("poa_insolation", "water"):
        assert getattr(steep[winter], what) > getattr(flat[winter], what)
        assert getattr(flat[summer], what) > getattr(steep[summer], what)


def test_the_seasons_of_the_two_hemispheres_are_six_months_apart() -> None:
    north, south = (faced(latitude, 35.0, equator(latitude))[2].months for latitude in (44.0, -44.0))
    assert north[5].water > 1.3 * north[11].water
    assert south[11].water > 1.3 * south[5].water


# What stands around


def test_a_skyline_in_the_east_costs_the_morning() -> None:
    """Trees 40 degrees high from north-east to south-east: later first hour, same last hour, hardly less in the afternoon."""
    open_sun, open_play, open_year = faced(47.3, 35.0, 180.0)
    trees = garden(47.3, ((29.9, 0.0), (30.0, 40.0), (150.0, 40.0), (150.1, 0.0)))
    sky = clear_sky(47.3)
    sun = plane_sun(sky, trees, 35.0, 180.0, 0.02)
    play, year = played(sky, sun)
    before, after = (values.reshape(365, 96) for values in (open_sun.beam, sun.beam))
    assert after[:, 48:].tolist() == before[:, 48:].tolist()
    assert after[:, :48].sum() < 0.7 * before[:, :48].sum()
    before, after = (values.flow.reshape(365, 96) for values in (open_play, play))
    assert after[:, 48:].sum() > 0.97 * before[:, 48:].sum()
    assert after[:, :48].sum() < 0.7 * before[:, :48].sum()
    for shaded, free in zip(year.months, open_year.months, strict=True):
        assert free.first_hour is not None
        assert shaded.first_hour is not None
        assert shaded.first_hour >= free.first_hour + 0.75
        assert free.last_hour - 0.25 <= shaded.last_hour <= free.last_hour


def test_dirt_costs_water() -> None:
    sky = clear_sky(47.3)
    clean, dusty = (plane_sun(sky, garden(47.3), 35.0, 180.0, soiling) for soiling in (0.0, 0.05))
    assert dusty.effective.sum() == pytest.approx(0.95 * clean.effective.sum(), rel=1e-9)
    assert played(sky, dusty)[1].water < 0.99 * played(sky, clean)[1].water


# Panel and pump


@pytest.mark.parametrize("name", FOUNTAINS)
def test_hotter_cells_give_fewer_volts_and_watts(name: str) -> None:
    sun = at_conditions(FOUNTAINS[name].supply.panel, 800.0, np.array([10.0, 35.0, 60.0]))
    power, voltage, _ = maximum_power(sun)
    for values in (open_circuit_voltage(sun), voltage, power):
        assert np.all(np.diff(values) < 0)


def test_below_the_lift_speed_the_motor_hums_and_no_water_comes() -> None:
    _, operation, _ = faced(47.3, 35.0, 180.0)
    line = solved("jet").line
    dry = operation.state == State.CANNOT_LIFT
    eager = Fountain(FOUNTAINS["jet"].supply, replace(FOUNTAINS["jet"].pump, lowest_voltage=0.0), FOUNTAINS["jet"].waterway)
    hums = operate(solve_grid(eager.supply, eager.pump, eager.waterway), np.array([90.0]), np.array([25.0]))
    assert hums.state.tolist() == [State.CANNOT_LIFT]
    assert 0 < hums.speed[0] < line.lift_speed
    assert hums.flow[0] == 0
    assert not np.any(operation.flow[dry])
    assert np.all(operation.speed[operation.flow > 0] >= line.lift_speed)


def test_a_larger_panel_and_a_controller_play_longer() -> None:
    sky = clear_sky(52.1)
    sun = plane_sun(sky, garden(52.1), 40.0, 180.0, 0.02)
    fountain = FOUNTAINS["bubbler"]
    half = replace(
        fountain.supply.panel,
        light_current=fountain.supply.panel.light_current / 2,
        saturation_current=fountain.supply.panel.saturation_current / 2,
        series_resistance=2 * fountain.supply.panel.series_resistance,
        shunt_resistance=2 * fountain.supply.panel.shunt_resistance,
    )
    hours = []
    for kind in (replace(fountain, supply=replace(fountain.supply, panel=half)), fountain, controlled(fountain)):
        found = operate(solve_grid(kind.supply, kind.pump, kind.waterway), sun.effective, sun.cell_temperature)
        hours.append(year_of(sky, sun, found).running_hours)
    assert hours[0] < 0.9 * hours[1]
    assert hours[1] < 0.9 * hours[2]


def test_a_smaller_nozzle_throws_higher_and_passes_less() -> None:
    fountain = FOUNTAINS["jet"]
    found = []
    for bore in (0.0042, 0.0051, 0.0063):
        nozzle = Nozzle(bore, 1, fountain.waterway.outlet.height)
        way = replace(fountain.waterway, outlet=nozzle)
        moment = operate(solve_grid(fountain.supply, fountain.pump, way), np.array([800.0]), np.array([45.0]))
        assert moment.jet[0] == pytest.approx(float(jet_height(nozzle, float(moment.flow[0]))), rel=2e-3)
        found.append((moment.flow[0], moment.jet[0]))
    flow, jet = np.array(found).T
    assert np.all(np.diff(flow) > 0)
    assert np.all(np.diff(jet) < 0)


def test_noon_is_best_and_the_jet_grows_toward_it() -> None:
    _, operation, year = faced(47.3, 35.0, 180.0)
    for month in year.months:
        assert month.best_hour in (11, 12)
    day = operation.jet.reshape(365, 96)[172]
    playing = np.flatnonzero(day > 0)
    assert np.all(np.diff(day[playing[0] : 48]) > 0)
    assert np.all(np.diff(day[48 : playing[-1] + 1]) < 0)
