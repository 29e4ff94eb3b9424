"""Sun: judged by pvlib (an independent solver), by limits and by symmetry; the books' numbers stand in published/sun.toml."""

import numpy as np
import pandas as pd
import pytest
from pvlib import irradiance as pvlib_irradiance
from pvlib import solarposition

from sizing.sky.solar_position import (
    DAY_OF_YEAR,
    DAYS_IN_MONTH,
    MONTH_OF_DAY,
    daily_extraterrestrial,
    eccentricity,
    equation_of_time,
    extraterrestrial_normal,
    hour_angle,
    month_mean,
    monthly_extraterrestrial,
    position_by_clock,
    solar_azimuth,
    solar_zenith,
    spencer_declination,
    sunset_hour_angle,
    true_solar_time,
)

LATITUDES = [-90.0, -66.6, -33.9, -7.3, 0.0, 23.45, 51.5, 70.0, 90.0]


def test_spencer_against_pvlib() -> None:
    assert np.allclose(spencer_declination(DAY_OF_YEAR), np.degrees(solarposition.declination_spencer71(DAY_OF_YEAR)), atol=1e-12)
    judged = pvlib_irradiance.get_extra_radiation(DAY_OF_YEAR, solar_constant=1361.0, method="spencer")
    assert np.allclose(extraterrestrial_normal(eccentricity(DAY_OF_YEAR)), judged, rtol=1e-12)
    # pvlib has 0.0000075 as first term, the textbook 0.000075: 0.015 minute.
    assert np.allclose(equation_of_time(DAY_OF_YEAR), solarposition.equation_of_time_spencer71(DAY_OF_YEAR), atol=0.02)


def test_position_in_true_solar_time_against_pvlib_by_the_clock() -> None:
    times = pd.date_range("2022-01-01 00:13", "2023-01-01", freq="29h", tz="UTC", inclusive="left")
    judged = solarposition.get_solarposition(times, 36.1, -79.95, method="nrel_numpy")
    day = times.day_of_year
    clock = (times.hour + times.minute / 60).to_numpy(dtype=float)
    turned = hour_angle(true_solar_time(clock, 0.0, -79.95, equation_of_time(np.asarray(day, dtype=float))))
    declination = spencer_declination(np.asarray(day, dtype=float))
    zenith = solar_zenith(36.1, declination, turned)
    azimuth = solar_azimuth(36.1, declination, turned)
    # Spencer's series is up to half a degree off the almanac near the equinoxes.
    assert np.abs(zenith - judged["zenith"]).max() < 0.6
    around = np.abs((azimuth - judged["azimuth"].to_numpy() + 180) % 360 - 180) * np.sin(np.radians(zenith))
    assert around.max() < 0.6


def test_sun_touches_the_horizon_at_published_sunrise_and_sunset() -> None:
    # Golden, Colorado, 2 January 2015, mountain time: 07:21:55, 12:04:45, 16:47:43 (solar position calculator of NREL,
    # as held in the tests of pvlib). At rising and setting the sun's middle stands 90.83 degrees from overhead. The series
    # for the equation of time is up to 0.9 minute off the almanac: 0.2 degree of turn.
    ahead = equation_of_time(2)
    clock = np.array([7 + 21 / 60 + 55 / 3600, 12 + 4 / 60 + 45 / 3600, 16 + 47 / 60 + 43 / 3600])
    solar = true_solar_time(clock, -7.0, -105.1786, ahead)
    zenith = solar_zenith(39.742476, spencer_declination(2), hour_angle(solar))
    assert zenith[[0, 2]] == pytest.approx([90.83, 90.83], abs=0.25)
    assert solar[1] == pytest.approx(12.0, abs=2 / 60)


def test_klein_average_days_fall_in_their_months() -> None:
    # Klein (1977): 17 Jan, 16 Feb, 16 Mar, 15 Apr, 15 May, 11 Jun, 17 Jul, 16 Aug, 15 Sep, 15 Oct, 14 Nov, 10 Dec.
    days = np.array([17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344])
    assert np.array_equal(MONTH_OF_DAY[days - 1], np.arange(1, 13))
    of_month = days - np.concatenate([[0], np.cumsum(DAYS_IN_MONTH)[:-1]])
    assert list(of_month) == [17, 16, 16, 15, 15, 11, 17, 16, 15, 15, 14, 10]


@pytest.mark.parametrize("latitude", LATITUDES)
def test_day_above_the_air_is_the_sum_of_its_moments(latitude: float) -> None:
    hour = (np.arange(2400) + 0.5) / 100
    for day in (1.0, 80.0, 172.0, 265.0, 355.0):
        zenith = solar_zenith(latitude, spencer_declination(day), hour_angle(hour))
        moments = extraterrestrial_normal(eccentricity(day)) * np.maximum(np.cos(np.radians(zenith)), 0)
        assert daily_extraterrestrial(day, latitude) == pytest.approx(moments.mean(), rel=2e-5, abs=1e-3)


def test_poles_and_equator_by_hand() -> None:
    # At the pole at midsummer the sun stands at its declination all day; at the equator at equinox 1/pi of it comes down.
    top = 1361 * float(eccentricity(172))
    assert daily_extraterrestrial(172, 90.0) == pytest.approx(top * np.sin(np.radians(spencer_declination(172))))
    assert daily_extraterrestrial(172, -90.0) == 0
    assert daily_extraterrestrial(355, 80.0) == 0
    assert sunset_hour_angle(0.0, 23.1) == pytest.approx(90)
    assert sunset_hour_angle(75.0, 20.0) == 180
    assert sunset_hour_angle(75.0, -20.0) == 0
    assert sunset_hour_angle(51.5, 0.0) == pytest.approx(90)


def test_southern_summer_is_stronger() -> None:
    north, south = monthly_extraterrestrial(40.0), monthly_extraterrestrial(-40.0)
    assert south[11] / north[5] == pytest.approx(1.0344 / 0.9682, rel=0.01)  # Earth is nearer the sun in January
    assert monthly_extraterrestrial(-90.0)[5] == 0


@pytest.mark.parametrize(
    ("latitude", "declination", "where"), [(51.5, 10.0, 180), (-33.9, 10.0, 0), (10.0, 23.0, 0), (-10.0, -23.0, 180)]
)
def test_where_the_noon_sun_stands(latitude: float, declination: float, where: float) -> None:
    assert solar_azimuth(latitude, declination, 0.0) == pytest.approx(where, abs=1e-9)
    assert solar_zenith(latitude, declination, 0.0) == pytest.approx(abs(latitude - declination))


def test_morning_and_afternoon_mirror() -> None:
    turned = np.array([7.3, 33.0, 88.0, 120.0])
    assert np.allclose(solar_zenith(47.0, 12.0, turned), solar_zenith(47.0, 12.0, -turned))
    assert np.allclose(solar_azimuth(47.0, 12.0, turned), 360 - solar_azimuth(47.0, 12.0, -turned))
    assert np.all(solar_azimuth(47.0, 12.0, -turned) < 180)  # east of south in the morning


def test_hemispheres_mirror() -> None:
    turned = np.array([-70.0, -20.0, 55.0])
    assert np.allclose(solar_zenith(47.0, 12.0, turned), solar_zenith(-47.0, -12.0, turned))
    assert np.allclose(np.cos(np.radians(solar_azimuth(47.0, 12.0, turned) + solar_azimuth(-47.0, -12.0, turned))), -1)


def test_sun_overhead_and_at_the_poles_is_finite() -> None:
    assert solar_zenith(12.3, 12.3, 0.0) == pytest.approx(0, abs=1e-6)
    assert 0 <= solar_azimuth(12.3, 12.3, 0.0) <= 360
    assert solar_zenith(90.0, 23.0, np.array([0.0, 123.0])) == pytest.approx([67, 67])
    assert solar_zenith(70.0, 23.0, 180.0) == pytest.approx(87)  # midnight sun, 3 degrees up


def test_scalar_is_array_element_by_element() -> None:
    days = np.array([1.0, 77.0, 200.0, 365.0])
    for function in (spencer_declination, eccentricity, equation_of_time):
        assert [float(function(float(day))) for day in days] == pytest.approx(list(function(days)))
    assert [float(daily_extraterrestrial(float(day), 47.1)) for day in days] == pytest.approx(
        list(daily_extraterrestrial(days, 47.1))
    )


def test_month_means() -> None:
    assert np.allclose(month_mean(MONTH_OF_DAY.astype(float)), np.arange(1, 13))
    assert len(MONTH_OF_DAY) == 365


def test_clock_times_with_offset_and_in_utc_are_one_moment() -> None:
    with_offset = position_by_clock(["2003-10-17T12:30:30-07:00"], 39.74, -105.18, 1830.0)
    in_utc = position_by_clock(pd.DatetimeIndex(["2003-10-17 19:30:30"]), 39.74, -105.18, 1830.0)
    assert with_offset[0] == pytest.approx(in_utc[0])
    assert with_offset[1] == pytest.approx(in_utc[1])
