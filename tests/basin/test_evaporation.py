"""Evaporation of open water: published days, brackets of measurements, limits, trends and the working."""

from dataclasses import replace

import numpy as np
import pytest

from sizing.answers.shared import working_of
from sizing.basin.evaporation import (
    WIND,
    Air,
    air_over_water,
    air_pressure,
    carried_by_wind,
    clear_share,
    evaporated_by_sun,
    evaporation_worked,
    lowest_and_highest,
    net_long_wave,
    net_radiation,
    net_short_wave,
    open_water_evaporation,
    psychrometric_constant,
    saturation_vapour_pressure,
    vapour_slope,
)
from sizing.place.place import Place
from sizing.sky.weather import built_in_sky, monthly_sky

LOW, HIGH, MIDDLE, WIND_UCCLE = 12.3, 21.5, 16.9, 2.078
SUN, CLEAR = 22.07e6 / 86400, 30.90e6 / 86400


def uccle(albedo: float) -> tuple[float, float, float, float, float]:
    """Net radiation, slope, psychrometric constant, vapour pressure and its saturation of FAO-56 example 18."""
    low, high = saturation_vapour_pressure(LOW), saturation_vapour_pressure(HIGH)
    vapour = (low * 0.84 + high * 0.63) / 2
    lost = net_long_wave(LOW, HIGH, vapour, clear_share(SUN, CLEAR))
    energy = net_radiation(net_short_wave(SUN, albedo), lost)
    slope = vapour_slope(saturation_vapour_pressure(MIDDLE), MIDDLE)
    constant = psychrometric_constant(air_pressure(100.0))
    return float(energy), float(slope), float(constant), float(vapour), float((low + high) / 2)


def test_the_reference_crop_of_the_example() -> None:
    # FAO-56 example 18: Rn 13.28 MJ/m2, ET0 3.88 mm/d; the crop's own two terms stand here, the rest is the product's.
    energy, slope, constant, vapour, saturated = uccle(0.23)
    assert energy * 0.0864 == pytest.approx(13.28, abs=0.01)
    wind = 900 / (MIDDLE + 273) * WIND_UCCLE * (saturated - vapour) / 1000
    crop = (slope * evaporated_by_sun(energy) + constant * wind) / (slope + constant * (1 + 0.34 * WIND_UCCLE))
    assert crop == pytest.approx(3.88, abs=0.005)


def test_open_water_in_the_same_weather() -> None:
    # Recomputed apart from this code, same weather, albedo 0.08: 5.25 mm/d, 35 % above the grass.
    energy, slope, constant, vapour, saturated = uccle(0.08)
    wind = carried_by_wind(WIND_UCCLE, saturated, vapour)
    assert open_water_evaporation(evaporated_by_sun(energy), wind, slope, constant) == pytest.approx(5.25, abs=0.005)


def test_vapour_pressure_from_humidity() -> None:
    # FAO-56 example 5: 25 Cel with 54 %, 18 Cel with 82 %: 1.70 kPa.
    found = (saturation_vapour_pressure(18.0) * 0.82 + saturation_vapour_pressure(25.0) * 0.54) / 2
    assert found / 1000 == pytest.approx(1.70, abs=0.005)


@pytest.mark.parametrize(("temperature", "pascal"), [(10.0, 1228.2), (20.0, 2339.3), (30.0, 4247.0), (40.0, 7384.9)])
def test_saturation_against_the_water_of_iapws(temperature: float, pascal: float) -> None:
    # Known to lie 0.04 % (20 Cel) to 0.13 % (40 Cel) below.
    assert saturation_vapour_pressure(temperature) == pytest.approx(pascal, rel=1.5e-3)


def test_the_slope_is_the_slope() -> None:
    for temperature in (-7.3, 16.9, 31.1):
        ends = [saturation_vapour_pressure(temperature + step) for step in (-0.01, 0.01)]
        slope = vapour_slope(saturation_vapour_pressure(temperature), temperature)
        assert slope == pytest.approx((ends[1] - ends[0]) / 0.02, rel=1e-3)


def test_the_same_heat_as_outdoor_pools() -> None:
    # Smith, Loef and Jones (smith_lof_jones_1998): quiet outdoor pools lose 74 % of (95 + 0.425 v)(pw - pa)/Y. Water at 80 F,
    # dew point 60 F, still and at 100 ft/min (0.508 m/s): 5.4 and 7.8 mm/d, times 0.74 4.0 and 5.8.
    # Penman's wind part alone is about 0.6 of that.
    water, dew = saturation_vapour_pressure((80 - 32) / 1.8), saturation_vapour_pressure((60 - 32) / 1.8)
    assert 0.5 * 4.0 < carried_by_wind(0.508, water, dew) < 5.8
    # With the energy of a summer's day, assumed as 150 W/m2 net, the whole lies between the two.
    slope, constant = vapour_slope(water, 26.67), psychrometric_constant(air_pressure(0.0))
    both = [open_water_evaporation(evaporated_by_sun(150.0), carried_by_wind(v, water, dew), slope, constant) for v in (0, 0.508)]
    assert 4.0 < both[0] < both[1] < 5.8


def by_month(over: Air) -> np.ndarray:
    """Evaporation of each month that the air has [mm/d]."""
    return np.array([evaporation_worked(over, month + 1).value for month in range(len(over.sun))])


def test_a_pan_in_the_desert() -> None:
    # Tombstone, Arizona (tombstone_pan), 31.71 N 110.07 W, 1380 m: pan 3.3 mm/d in January and 11.0 in June; times 0.7
    # 2.3 and 7.7 mm/d.
    # Found with open wind: 2.32 and 7.95. A sky from a table, a class of wind and no humidity: 10 % is asked.
    place = Place("Tombstone", 31.71, -110.07, 1380.0)
    found = by_month(air_over_water(built_in_sky(place), place, "open"))
    assert found[0] == pytest.approx(2.3, rel=0.1)
    assert found[5] == pytest.approx(7.7, rel=0.1)
    assert int(np.argmax(found)) == 5


def air(**changes: float) -> Air:
    kept = Air(np.array([213.7]), np.array([391.0]), np.array([9.1]), np.array([23.3]), 273.1, 2.0)
    return replace(
        kept, **{name: value if name in ("elevation", "wind") else np.array([value]) for name, value in changes.items()}
    )


def test_trends_and_limits() -> None:
    usual = by_month(air())[0]
    for more in ({"sun": 251.0}, {"wind": 4.0}, {"highest": 27.0}):
        assert by_month(air(**more))[0] > usual, more
    # Air that is always saturated: the wind carries nothing, and only the sun's part remains.
    saturated = air(lowest=17.0, highest=17.0)
    still = replace(saturated, wind=0.0)
    assert by_month(saturated)[0] == pytest.approx(by_month(still)[0], rel=1e-12)
    # No sun and warm saturated air: dew, which is not evaporation.
    assert by_month(replace(still, sun=np.array([0.0])))[0] == 0.0


def test_twelve_months_unfold() -> None:
    place = Place("school", 52.30, 4.77, 0.0)
    over = air_over_water(built_in_sky(place), place, "sheltered")
    found = by_month(over)
    assert found.shape == (12,)
    for month in (1, 7, 12):
        worked = evaporation_worked(over, month)
        assert {step.source for step in working_of([worked])} >= {"fao_56", "mcmahon_2013", "common_practice"}
    assert WIND["sheltered"] < WIND["open"] < WIND["exposed"]
    assert by_month(replace(over, wind=WIND["exposed"])).sum() > found.sum()


def test_polar_night_has_an_evaporation_too() -> None:
    place = Place("far north", 71.0, 25.8, 30.0)
    sky = monthly_sky(place, (0, 0.2, 1.4, 3.2, 4.4, 4.6, 4.5, 3.2, 1.7, 0.5, 0, 0))
    found = by_month(air_over_water(sky, place, "open"))
    assert np.all(np.isfinite(found))
    assert np.all(found >= 0)
    assert found[0] < 1 < found[6]
    lowest, highest = lowest_and_highest(sky)
    assert np.all(lowest <= highest)
