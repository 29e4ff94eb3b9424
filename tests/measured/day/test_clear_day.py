"""The clear sky of a real day, and what a design's fountain should do under it."""

import datetime
import json
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from pvlib.irradiance import get_total_irradiance
from pvlib.pvsystem import i_from_v, singlediode

from sizing.design.reading import read_design
from sizing.electric.panel import current_at_voltage
from sizing.electric.single_diode import at_conditions
from sizing.light.clear_sky import clear_sky, turbidity
from sizing.measured.day.clear_day import ClearDay, Expected, clear_day_of, declination_on, expected, on_planes
from sizing.place.place import Place
from sizing.sky.clock import utc_moments

EXAMPLE = json.loads((Path(__file__).parents[3] / "examples" / "quince_court_jet.json").read_text(encoding="utf-8"))
PLACES = (
    Place("a", 46.05, 14.51, 298.0),
    Place("b", -41.29, 174.78, 30.0),
    Place("c", 1.35, 103.82, 15.0),
    Place("d", 63.4, 10.4, 40.0),
)
MAY = datetime.date(2026, 5, 12)
HOURS = np.arange(5.5, 20.6, 0.5)


@lru_cache(maxsize=8)
def clear_day(**changes: Any) -> ClearDay:
    return clear_day_of(read_design(EXAMPLE | {key: json.loads(text) for key, text in changes.items()}))


@lru_cache(maxsize=8)
def day(**changes: Any) -> Expected:
    return expected(clear_day(**changes), [MAY] * len(HOURS), HOURS)


def moments(place: Place) -> np.ndarray:
    noon = np.datetime64("2026-10-05T12:00", "ms") - np.timedelta64(round(place.longitude * 4), "m")
    return noon + np.arange(-720, 720, 7) * np.timedelta64(1, "m")


@pytest.mark.parametrize("place", PLACES)
def test_the_clear_sky_keeps_its_balance_and_its_limits(place: Place) -> None:
    light = clear_sky(moments(place), place)
    up = light.zenith < 90
    assert up.any()
    assert not up.all()
    assert np.all(light.ghi[~up] == 0)
    assert np.all(light.dni[~up] + light.dhi[~up] == 0)
    level = light.dni * np.cos(np.radians(light.zenith)) + light.dhi
    assert light.ghi[up] == pytest.approx(level[up], abs=0.5)  # what falls on level ground is beam and diffuse light
    assert np.all(light.dni < light.extraterrestrial_normal)


@pytest.mark.parametrize(("place", "lowest"), [(PLACES[0], 0.5), (PLACES[1], 0.35), (PLACES[3], 0.35)])
def test_the_clear_sky_beside_haurwitz(place: Place, lowest: float) -> None:
    """Haurwitz (Journal of Meteorology 2, 1945, from memory): 1098 cos z exp(-0.057 / cos z) W/m2, for clean air."""
    light = clear_sky(moments(place), place)
    high = np.cos(np.radians(light.zenith)) > lowest
    cosine = np.cos(np.radians(light.zenith[high]))
    assert light.ghi[high] == pytest.approx(1098 * cosine * np.exp(-0.057 / cosine), rel=0.12)


def test_hazy_tropics_stay_below_clean_air() -> None:
    place = PLACES[2]
    light = clear_sky(moments(place), place)
    high = np.cos(np.radians(light.zenith)) > 0.35
    cosine = np.cos(np.radians(light.zenith[high]))
    assert np.all(light.ghi[high] < 1098 * cosine * np.exp(-0.057 / cosine))  # the same formula, clean air


def test_haze_takes_beam_and_months_have_their_own() -> None:
    assert turbidity(1, 46.05, 14.51) < turbidity(7, 46.05, 14.51)  # winter air is dry (Remund et al. 2003, the map itself)
    place = PLACES[0]
    high = clear_sky(moments(place), replace(place, elevation=2500.0))
    assert high.dni.max() > clear_sky(moments(place), place).dni.max()


def test_the_clock_on_the_wall_has_summer_time() -> None:
    found = utc_moments([MAY, datetime.date(2026, 12, 1)], np.array([13.0, 13.0]), "Europe/Ljubljana")
    assert [str(each)[:16] for each in found] == ["2026-05-12T11:00", "2026-12-01T12:00"]


def test_the_sun_is_highest_when_the_equation_of_time_says() -> None:
    """12 May: 3.7 minutes ahead (from memory); 14.51 degrees east of Greenwich, clock two hours ahead."""
    minutes = 13 + np.arange(-30, 31) / 60
    found = expected(clear_day(), [MAY] * len(minutes), minutes)
    highest = minutes[int(np.argmax(found.sun_altitude))]
    assert highest == pytest.approx(14 - 14.51 / 15 - 3.7 / 60, abs=2 / 60)
    assert float(found.sun_altitude.max()) == pytest.approx(90 - 46.05 + 18.1, abs=0.3)  # declination of that day


@pytest.mark.parametrize(("tilt", "direction"), [(0.0, 180.0), (33.7, 131.0), (71.3, 258.4), (90.0, 12.0)])
def test_planes_beside_pvlib(tilt: float, direction: float) -> None:
    bare = replace(clear_day(), place=replace(clear_day().place, skyline=()))
    light = clear_sky(utc_moments([MAY] * len(HOURS), HOURS, bare.time_zone), bare.place)
    poa, effective = on_planes(light, bare, np.full(len(HOURS), tilt), np.full(len(HOURS), direction))
    judge = get_total_irradiance(
        tilt,
        direction,
        light.zenith,
        light.azimuth,
        light.dni,
        light.ghi,
        light.dhi,
        dni_extra=light.extraterrestrial_normal,
        albedo=0.2,
        model="haydavies",
    )
    assert poa == pytest.approx(np.nan_to_num(judge["poa_global"]), abs=1e-6)
    assert np.all(effective <= poa)


def test_many_planes_at_once_are_each_its_own() -> None:
    tilt, direction = np.linspace(3.0, 87.0, len(HOURS)), np.linspace(11.0, 349.0, len(HOURS))
    together = expected(clear_day(), [MAY] * len(HOURS), HOURS, tilt, direction)
    for index in (4, 13, 22):
        alone = expected(clear_day(), [MAY], HOURS[[index]], tilt[[index]], direction[[index]])
        assert float(alone.effective[0]) == pytest.approx(float(together.effective[index]))
        assert float(alone.flow[0]) == pytest.approx(float(together.flow[index]))


def test_the_meter_s_volts_and_amperes_lie_on_the_panel_s_curve() -> None:
    found = day()
    plays = found.flow > 0
    assert plays.sum() > 10
    panel = clear_day().fountain.supply.panel
    curve = current_at_voltage(at_conditions(panel, found.effective[plays], found.cell_temperature[plays]), found.voltage[plays])
    assert found.current[plays] == pytest.approx(curve, rel=0.01)  # the equation put back; the grid is good to 0.3 % of a year
    assert np.all(found.voltage[plays] > found.operation.voltage[plays])  # the cable keeps some


def test_a_controller_passes_on_what_it_takes_less_its_loss() -> None:
    found = day(connection='{"kind": "controller", "efficiency_pct": 91}')
    plays = found.flow > 0
    motor = found.operation.current * (
        found.operation.voltage + found.operation.current * clear_day().fountain.supply.cable_resistance
    )
    assert 0.91 * (found.voltage * found.current)[plays] == pytest.approx(motor[plays], rel=1e-6)


def test_behind_a_controller_the_meters_show_a_point_of_the_panel_s_own_curve() -> None:
    """pvlib's single diode as judge. Where the pump has all it takes the volts rise beyond the best ones; a strong panel on a
    small pump is there at noon, and at the best volts early and late."""
    found = day(connection='{"kind": "controller", "efficiency_pct": 91}')
    sun = found.effective > 5.0
    here = at_conditions(clear_day().fountain.supply.panel, found.effective[sun], found.cell_temperature[sun])
    curve = (
        here.light_current,
        here.saturation_current,
        here.series_resistance,
        1 / here.shunt_conductance,
        here.thermal_voltage,
    )
    volts, amperes = found.voltage[sun], found.current[sun]
    best = singlediode(*curve)
    assert amperes == pytest.approx(i_from_v(volts, *curve), rel=2e-3, abs=1e-3)
    assert np.all(volts > (1 - 1e-3) * best["v_mp"])
    beyond = volts > 1.01 * best["v_mp"]
    assert 0 < beyond.sum() < len(beyond)


def test_air_that_was_measured_warms_the_cells() -> None:
    warm = expected(clear_day(), [MAY] * 2, np.array([13.0, 13.0]), air_temperature=np.array([31.0, np.nan]))
    usual = expected(clear_day(), [MAY], np.array([13.0]))
    assert float(warm.cell_temperature[0] - warm.air_temperature[0]) == pytest.approx(
        float(usual.cell_temperature[0] - usual.air_temperature[0])
    )
    assert warm.air_temperature[0] == 31.0
    assert warm.air_temperature[1] == usual.air_temperature[0]


def test_a_design_without_a_time_zone_says_whose_clock_is_meant() -> None:
    place = {key: value for key, value in EXAMPLE["place"].items() if key != "time_zone"}
    found = clear_day(place=json.dumps(place))
    assert found.time_zone == "Europe/Ljubljana"
    assert [note.code for note in found.notes] == ["zone_assumed"]
    assert "Ljubljana" in found.notes[0].detail
    sea = clear_day(place=json.dumps({"latitude_deg": 21.31, "longitude_deg": -157.86, "time_zone": "Pacific/Honolulu"}))
    assert [note.code for note in sea.notes] == ["air_assumed"]


def test_north_of_the_compass_is_turned_for_the_day() -> None:
    there = clear_day(place=json.dumps({"latitude_deg": 47.6205, "longitude_deg": -122.3493, "elevation_m": 0}))
    world_magnetic_model_2025 = 15.07  # [deg] Seattle
    assert declination_on(there, datetime.date(2025, 4, 2)) == pytest.approx(world_magnetic_model_2025, abs=0.05)
