"""Synthetic year: fixtures of an independent implementation, months that add up, limits, and light that balances."""

import numpy as np
import pandas as pd
import pytest
from pvlib.solarposition import spa_python
from scipy.integrate import quad
from scipy.optimize import brentq

from sizing.sky.solar_position import (
    DAY_OF_YEAR,
    DAYS_IN_MONTH,
    MONTH_OF_DAY,
    daily_extraterrestrial,
    month_mean,
    monthly_extraterrestrial,
)
from sizing.sky.synthetic_year import (
    CLEAREST_DAY,
    SyntheticYear,
    air_temperature,
    clearest_day,
    daily_clearness,
    daily_temperature_range,
    day_quantiles,
    diffuse_share,
    peakedness,
    share_out,
    synthetic_year,
)

MILD = np.full(12, 12.0)
CLOUDY = np.array([0.21, 0.28, 0.35, 0.41, 0.44, 0.43, 0.45, 0.44, 0.40, 0.33, 0.24, 0.19])


def mean_by_month(year: SyntheticYear) -> np.ndarray:
    return month_mean(year.ghi.reshape(365, 96).mean(axis=1))


@pytest.mark.parametrize("latitude", [-54.8, -33.9, -7.3, 0.0, 23.4, 36.1, 51.5, 60.2, 69.6])
def test_months_bring_exactly_their_sun(latitude: float) -> None:
    # At the edge of polar night a day of a few minutes may have no step in it: 0.002 W/m2 of a month.
    year = synthetic_year(latitude, CLOUDY, MILD)
    assert np.allclose(mean_by_month(year), CLOUDY * monthly_extraterrestrial(latitude), rtol=1e-9, atol=0.005)


@pytest.mark.parametrize("clearness", [0.0, 0.02, 0.08, 0.33, 0.5, 0.74, 0.80, 0.85, 0.95])
def test_any_mean_clearness_comes_back(clearness: float) -> None:
    above_air = np.asarray(daily_extraterrestrial(DAY_OF_YEAR, 45.0))
    days = daily_clearness(np.full(12, clearness), above_air)
    assert np.allclose(month_mean(days * above_air), clearness * month_mean(above_air))
    assert days.max() <= max(CLEAREST_DAY, clearness) + 1e-12
    assert days.min() >= 0


def test_light_balances_in_every_step() -> None:
    for latitude in (-33.9, 0.0, 51.5, 69.6):
        year = synthetic_year(latitude, CLOUDY, MILD)
        upright = np.maximum(np.cos(np.radians(year.zenith)), 0)
        assert np.allclose(year.ghi, year.dhi + year.dni * upright, atol=1e-9)
        assert np.all(year.dhi <= year.ghi + 1e-12)
        assert np.all(year.dni <= year.extraterrestrial_normal)
        assert min(year.ghi.min(), year.dhi.min(), year.dni.min()) >= 0


def test_night_is_exactly_dark() -> None:
    year = synthetic_year(51.5, CLOUDY, MILD)
    night = year.zenith >= 90
    assert night.any()
    for light in (year.ghi, year.dhi, year.dni):
        assert np.all(light[night] == 0)


def test_polar_night_midnight_sun_pole_and_equator() -> None:
    north = synthetic_year(78.0, np.full(12, 0.4), MILD)
    december, june = north.month == 12, north.month == 6
    assert np.all(north.ghi[december] == 0)
    assert np.all(north.ghi[june] > 0)
    for latitude in (-90.0, 0.0, 90.0):
        year = synthetic_year(latitude, np.full(12, 0.4), MILD)
        assert all(
            np.isfinite(getattr(year, name)).all() for name in ("zenith", "azimuth", "ghi", "dhi", "dni", "air_temperature")
        )
    equator = synthetic_year(0.0, np.full(12, 0.5), MILD)
    lit = (equator.ghi > 0).reshape(365, 96).sum(axis=1) / 4
    assert np.all(lit == 12)


def test_hemispheres_mirror_half_a_year_apart() -> None:
    # Month sums of a southern place equal the northern ones six months on, but for Earth's distance (7 %) and month lengths.
    north = mean_by_month(synthetic_year(40.0, np.full(12, 0.5), MILD))
    south = mean_by_month(synthetic_year(-40.0, np.full(12, 0.5), MILD))
    assert np.allclose(np.roll(south, 6), north, rtol=0.09)


def test_sun_of_today_not_of_the_1960s() -> None:
    # Zenith at noon against pvlib, mean of a whole leap cycle (2023 to 2026); leap years move a date by up to 0.2 degree.
    noon = synthetic_year(50.0, CLOUDY, MILD).zenith.reshape(365, 96)[:, 47:49].mean(axis=1)
    declination = []
    for year in range(2023, 2027):
        days = pd.date_range(f"{year}-01-01 12:00", f"{year}-12-31 12:00", freq="D", tz="UTC")
        days = days[~((days.month == 2) & (days.day == 29))]
        declination.append(spa_python(days, 90.0, 0.0, pressure=0)["elevation"].to_numpy())
    assert np.abs(50.0 - noon - np.mean(declination, axis=0)).max() < 0.12  # 0.05 of it: two steps either side of noon


def test_morning_and_afternoon_are_alike() -> None:
    year = synthetic_year(36.1, CLOUDY, MILD)
    by_day = year.calm.ghi.reshape(365, 96)
    assert np.allclose(by_day, by_day[:, ::-1])
    assert year.hour[:3] == pytest.approx([0.125, 0.375, 0.625])
    assert np.array_equal(year.month[::96], MONTH_OF_DAY)
    assert np.array_equal(year.day[::96], np.arange(365))


def test_hour_share_of_a_day_as_published() -> None:
    # Duffie & Beckman, Example 2.13.2: Madison (43 N), 23 August, sunset hour angle about 100: between 13 and 14 falls 0.118
    # of the day's sun (answer from memory).
    by_day = synthetic_year(43.0, CLOUDY, MILD).calm.ghi.reshape(365, 96)[234]
    assert by_day[52:56].sum() / by_day.sum() == pytest.approx(0.118, abs=0.001)


def test_flat_and_peaked_days() -> None:
    # a + b cos w with a = 0.409 + 0.5016 sin(ws - 60), b = 0.6609 - 0.4767 sin(ws - 60); at ws = 90, w = 0:
    # 0.409 + 0.2508 + 0.6609 - 0.23835 = 1.08235.
    assert peakedness(0.0, 90.0) == pytest.approx(1.08235)
    assert peakedness(90.0, 90.0) == pytest.approx(0.6598)


def test_clearest_day_by_hand() -> None:
    # 0.6313 + 0.267 * 0.75 = 0.83155, the last term being nil there; at 0.3 it is 11.9 * 0.45^8 = 0.02001.
    assert clearest_day(0.75) == pytest.approx(0.83155)
    assert clearest_day(0.3) == pytest.approx(0.6313 + 0.0801 - 0.02001, abs=1e-5)


@pytest.mark.parametrize("mean", [0.1, 0.3, 0.5, 0.7])
def test_spread_of_days_against_the_density_integrated_apart(mean: float) -> None:
    top, bottom = float(clearest_day(mean)), min(0.05, mean / 2)

    def moment(slope: float, power: int, upto: float = top) -> float:
        return quad(lambda k: k**power * (top - k) * np.exp(slope * (k - top)), bottom, upto)[0]

    slope = brentq(lambda value: moment(value, 1) / moment(value, 0) - mean, -200, 200)
    days = day_quantiles(np.full(12, mean))[0]
    for index in (0, 7, 15, 30):
        share = moment(slope, 0, float(days[index])) / moment(slope, 0)
        assert share == pytest.approx((index + 0.5) / 31, abs=0.004)


def test_days_are_ordered_and_as_many_as_the_month_has() -> None:
    found = day_quantiles(np.linspace(0.1, 0.7, 12))
    assert [len(days) for days in found] == list(DAYS_IN_MONTH)
    assert all(np.all(np.diff(days) > 0) for days in found)


def test_diffuse_share_limits_and_shape() -> None:
    assert diffuse_share(0.0, 95.0) == diffuse_share(0.0, 70.0) == 1
    assert diffuse_share(0.9, 95.0) == 0.175
    assert diffuse_share(0.9, 70.0) == 0.143
    clear = np.linspace(0, 0.7, 71)
    for sunset in (70.0, 95.0):
        assert np.all(np.diff(diffuse_share(clear[1:], sunset)) < 0.004)  # brighter days have a smaller diffuse share
    together = diffuse_share(np.array([0.2, 0.5]), np.array([70.0, 95.0]))
    assert list(together) == pytest.approx([float(diffuse_share(0.2, 70.0)), float(diffuse_share(0.5, 95.0))])


def test_temperature_of_the_day() -> None:
    # (0.51 / 0.17)^2 = 9 K between the warmest hour, 15, and the coldest, 3.
    assert daily_temperature_range(0.51) == pytest.approx(9)
    assert air_temperature(10.0, 9.0, 15.0) == pytest.approx(14.5)
    assert air_temperature(10.0, 9.0, 3.0) == pytest.approx(5.5)
    monthly = np.arange(12.0) - 3
    year = synthetic_year(51.5, CLOUDY, monthly)
    assert np.allclose(month_mean(year.air_temperature.reshape(365, 96).mean(axis=1)), monthly)


def test_a_day_without_steps_of_sun_is_dark_not_wrong() -> None:
    assert np.array_equal(share_out(np.array([5.0, 0.0]), np.array([[0.0, 0.0], [1.0, 3.0]])), [[0.0], [0.0]])


def test_the_year_is_the_same_each_time() -> None:
    assert np.array_equal(synthetic_year(36.1, CLOUDY, MILD).dni, synthetic_year(36.1, CLOUDY, MILD).dni)
