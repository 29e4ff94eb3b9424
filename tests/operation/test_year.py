"""The year gathered: made-up operations whose sums can be done by hand, in steps of 15 minutes and of an hour."""

import numpy as np
import pytest

from sizing.light.irradiance import PlaneSun
from sizing.operation.operating_point import OperatingPoints, State
from sizing.operation.year import BRIGHT, DULL, USUAL, by_hour, day_of_kind, month_of_day, step_at, year_of
from sizing.sky.weather import Sky

LENGTHS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
FIRST_DAY = np.cumsum((0, *LENGTHS[:-1]))
STEPS = [24, 96]
every_step = pytest.mark.parametrize("per_day", STEPS)


def sky_of(per_day: int, ghi: np.ndarray | None = None) -> Sky:
    """A sky of which only the clock, the months and the level sun matter here."""
    count = 365 * per_day
    zero = np.zeros(count)
    return Sky(
        kind="built_in",
        title="trial",
        steps_per_day=per_day,
        hour_basis="true solar time",
        day=np.repeat(np.arange(365), per_day),
        month=np.repeat(np.repeat(np.arange(1, 13), LENGTHS), per_day),
        hour=np.tile((np.arange(per_day) + 0.5) * 24 / per_day, 365),
        zenith=zero,
        azimuth=zero,
        extraterrestrial_normal=zero,
        ghi=zero if ghi is None else ghi,
        dhi=zero,
        dni=zero,
        air_temperature=zero,
        wind_speed=zero,
        clearness=(0.5,) * 12,
        air_temperature_month=(10.0,) * 12,
        year_band=0.0,
        month_band=0.0,
        notes=(),
    )


def gathered(flow: np.ndarray, poa: np.ndarray | None = None, jet: np.ndarray | None = None, state: np.ndarray | None = None):
    """Year of a flow given as (365, steps a day) [m3/s]; it plays where water flows, and the rest is night."""
    per_day = flow.shape[1]
    flat = flow.ravel()
    zero = np.zeros(flat.shape)
    states = np.where(flat > 0, State.PLAYS, State.NIGHT).astype(np.int8) if state is None else state.ravel()
    operation = OperatingPoints(states, zero, zero, zero, flat, zero, zero if jet is None else jet.ravel())
    sun = PlaneSun(zero if poa is None else poa.ravel(), zero, zero, zero, zero, zero, zero)
    return year_of(sky_of(per_day), sun, operation)


def block(per_day: int, start: int, end: int, value: float, days=slice(None)) -> np.ndarray:
    """(365, steps): a value from one full hour to another on some days."""
    values = np.zeros((365, per_day))
    values[days, start * per_day // 24 : end * per_day // 24] = value
    return values


@every_step
def test_even_flow_from_nine_to_four(per_day: int) -> None:
    """6 l/min for 7 hours: 0.0001 m3/s x 25 200 s = 2.52 m3 a day, 919.8 m3 and 2555 h a year."""
    year = gathered(block(per_day, 9, 16, 1e-4))
    assert year.water == pytest.approx(919.8, rel=1e-12)
    assert year.running_hours == 2555.0
    assert year.daily_water == pytest.approx(np.full(365, 2.52), rel=1e-12)
    for number, month in enumerate(year.months, 1):
        assert (month.month, month.days) == (number, LENGTHS[number - 1])
        assert month.water == pytest.approx(2.52, rel=1e-12)
        assert month.running_hours == pytest.approx(7.0, rel=1e-12)
        assert (month.water_p10, month.water_p50, month.water_p90) == pytest.approx((2.52,) * 3, rel=1e-12)
        assert (month.first_hour, month.last_hour, month.best_hour) == (9.0, 16.0, 12)
        assert month.flow == pytest.approx(1e-4, rel=1e-12)
        assert (month.dry_days, month.over_voltage_hours) == (0, 0.0)
    assert year.usual_flow.shape == year.usual_jet.shape == (12, 24)
    assert year.usual_flow[4, 9:16] == pytest.approx(np.full(7, 1e-4), rel=1e-12)
    assert not np.any(year.usual_flow[4, :9])
    assert not np.any(year.usual_flow[4, 16:])


@every_step
def test_sun_on_the_plane_adds_up(per_day: int) -> None:
    """500 W/m2 for 8 hours is 4 kWh/m2 a day, 1460 a year; July alone twice that."""
    poa = block(per_day, 8, 16, 500.0)
    poa[FIRST_DAY[6] : FIRST_DAY[7]] *= 2
    year = gathered(np.zeros((365, per_day)), poa)
    assert [month.poa_insolation for month in year.months] == pytest.approx([4.0] * 6 + [8.0] + [4.0] * 5, rel=1e-12)
    assert year.poa_insolation == pytest.approx(1460 + 31 * 4, rel=1e-12)


@every_step
def test_a_year_without_water(per_day: int) -> None:
    year = gathered(np.zeros((365, per_day)))
    assert (year.water, year.running_hours) == (0.0, 0.0)
    for month in year.months:
        assert (month.first_hour, month.last_hour, month.flow, month.jet, month.water_p90) == (None, None, 0.0, 0.0, 0.0)
        assert month.dry_days == month.days


@every_step
@pytest.mark.parametrize("day", [0, 30, 31, 58, 59, 180, 181, 364])
def test_water_on_one_day_belongs_to_its_month_alone(per_day: int, day: int) -> None:
    """3 l/min for 2 hours: 0.36 m3, spread over the days of one month; no usual day plays."""
    year = gathered(block(per_day, 11, 13, 5e-5, day))
    own = int(np.searchsorted(FIRST_DAY, day, side="right"))
    for month in year.months:
        if month.month == own:
            assert month.water == pytest.approx(0.36 / month.days, rel=1e-12)
            assert month.running_hours == pytest.approx(2 / month.days, rel=1e-12)
            assert month.dry_days == month.days - 1
        else:
            assert (month.water, month.running_hours, month.dry_days) == (0.0, 0.0, month.days)
        assert (month.first_hour, month.flow, month.water_p50) == (None, 0.0, 0.0)
    assert year.daily_water[day] == pytest.approx(0.36, rel=1e-12)
    assert year.water == pytest.approx(0.36, rel=1e-12)


@every_step
def test_dull_usual_and_bright_days(per_day: int) -> None:
    """April's 30 days bring 0, 1, ... 29 parts of 0.36 m3, out of order: quantiles at 0.1 x 29 = 2.9, 14.5 and 26.1 parts."""
    order = (7 * np.arange(30)) % 30
    flow = np.zeros((365, per_day))
    for day, part in enumerate(order):
        flow[90 + day] = block(per_day, 11, 13, 5e-5 * part)[0]
    april = gathered(flow).months[3]
    found = (april.water_p10, april.water_p50, april.water_p90)
    assert found == pytest.approx((2.9 * 0.36, 14.5 * 0.36, 26.1 * 0.36), rel=1e-12)
    assert april.water == pytest.approx(14.5 * 0.36, rel=1e-12)
    assert april.dry_days == 1
    # the usual day is the median of each hour: half way between 14 and 15 parts of 3 l/min
    assert april.flow == pytest.approx(14.5 * 5e-5, rel=1e-12)


def test_the_usual_day_needs_half_of_the_days() -> None:
    """In a month of 31 days an hour that plays on 15 of them is not usual, on 16 it is."""
    for days, first in ((15, None), (16, 7.0)):
        january = gathered(block(96, 7, 8, 1e-4, slice(0, days))).months[0]
        assert january.first_hour == first
        assert january.dry_days == 31 - days


def test_first_and_last_hour_are_the_edges_of_their_quarter_hours() -> None:
    flow = np.zeros((365, 96))
    flow[:, 29:70] = 1e-4
    june = gathered(flow).months[5]
    # quarter-hours 29 to 69: from 7.25 to 17.5 h
    assert (june.first_hour, june.last_hour) == (7.25, 17.5)
    assert june.running_hours == pytest.approx(10.25, rel=1e-12)


def test_a_day_that_plays_from_midnight_to_midnight() -> None:
    june = gathered(np.full((365, 96), 1e-4)).months[5]
    assert (june.first_hour, june.last_hour, june.running_hours) == (0.0, 24.0, 24.0)


@pytest.mark.parametrize(("start", "end", "best"), [(9, 16, 12), (0, 24, 11), (3, 4, 3), (20, 22, 20)])
def test_best_hour_of_a_level_run_is_its_middle(start: int, end: int, best: int) -> None:
    """Of an even number of equal hours, the earlier of the middle two."""
    assert gathered(block(96, start, end, 1e-4)).months[8].best_hour == best


def test_best_hour_and_jet_of_the_usual_day() -> None:
    """The quarter-hours from 13 to 14 h bring 4, 5, 6, 7 l/min and jets of 0.4 to 0.7 m: means 5.5 l/min and 0.55 m."""
    flow = block(96, 10, 16, 1 / 60000)
    flow[:, 52:56] = np.array([4, 5, 6, 7]) / 60000
    year = gathered(flow, jet=6000 * flow)
    march = year.months[2]
    assert march.best_hour == 13
    assert march.flow == pytest.approx(5.5 / 60000, rel=1e-12)
    assert march.jet == pytest.approx(0.55, rel=1e-12)
    assert year.usual_jet[2, 10] == pytest.approx(0.1, rel=1e-12)


@every_step
def test_hours_of_each_state(per_day: int) -> None:
    """Every day: 10 h night, 3 h too little sun, 1 h below voltage, 2 h dry, 7 h play, 1 h over voltage."""
    hours = {
        State.NIGHT: 10,
        State.TOO_LITTLE_SUN: 3,
        State.BELOW_LOWEST_VOLTAGE: 1,
        State.CANNOT_LIFT: 2,
        State.PLAYS: 7,
        State.OVER_VOLTAGE: 1,
    }
    day = np.repeat(list(hours), np.array(list(hours.values())) * per_day // 24)
    state = np.tile(day, (365, 1)).astype(np.int8)
    flow = np.where(state >= State.PLAYS, 1e-4, 0.0)
    year = gathered(flow, state=state)
    assert year.hours_by_state == {kind: 365.0 * count for kind, count in hours.items()}
    assert sum(year.hours_by_state.values()) == 8760
    assert year.running_hours == 8 * 365
    assert [month.over_voltage_hours for month in year.months] == [float(length) for length in LENGTHS]


def test_both_step_lengths_tell_the_same_day() -> None:
    coarse = np.zeros((365, 24))
    coarse[:, 6:18] = np.arange(12) * 1e-5
    fine = np.repeat(coarse, 4, axis=1)
    by_hours, by_quarters = gathered(coarse), gathered(fine)
    assert by_hours.water == pytest.approx(by_quarters.water, rel=1e-12)
    assert by_hours.usual_flow == pytest.approx(by_quarters.usual_flow, rel=1e-12)
    assert by_hours.months[7].first_hour == by_quarters.months[7].first_hour == 7.0


def test_months_add_up_to_the_year() -> None:
    random = np.random.default_rng(3)
    flow = random.uniform(-1e-4, 1e-4, (365, 96)).clip(0)
    poa = random.uniform(0, 900, (365, 96))
    year = gathered(flow, poa)
    days = np.array(LENGTHS)
    assert sum(days * [month.water for month in year.months]) == pytest.approx(year.water, rel=1e-12)
    assert sum(days * [month.running_hours for month in year.months]) == pytest.approx(year.running_hours, rel=1e-12)
    assert sum(days * [month.poa_insolation for month in year.months]) == pytest.approx(year.poa_insolation, rel=1e-12)
    assert year.water == pytest.approx(flow.sum() * 900, rel=1e-12)


def test_mean_of_each_hour() -> None:
    assert by_hour(np.arange(24.0), 24).tolist() == list(range(24))
    # four quarter-hours of hour h are 4h, 4h + 1, 4h + 2, 4h + 3: mean 4h + 1.5
    assert by_hour(np.arange(96.0), 96).tolist() == [4 * hour + 1.5 for hour in range(24)]


def test_month_of_each_day() -> None:
    months = month_of_day(sky_of(24))
    assert months.shape == (365,)
    assert [int(np.flatnonzero(months == number)[0]) for number in range(1, 13)] == FIRST_DAY.tolist()
    assert (months[58], months[59], months[364]) == (2, 3, 12)


@every_step
def test_day_of_a_kind_by_its_rank(per_day: int) -> None:
    """June's 30 days in the order 0, 7, 14, ...: rank round(0.1 x 29) = 3, round(14.5) = 14, round(26.1) = 26."""
    order = (7 * np.arange(30)) % 30
    ghi = np.zeros((365, per_day))
    ghi[151:181, per_day // 2] = 10.0 + order
    sky = sky_of(per_day, ghi.ravel())
    for quantile, rank in ((0.0, 0), (DULL, 3), (USUAL, 14), (BRIGHT, 26), (1.0, 29)):
        assert day_of_kind(sky, 6, quantile) == 151 + int(np.flatnonzero(order == rank)[0])


def test_a_bright_moment_is_bright_although_its_day_is_not() -> None:
    """Two days of June: one bright but for a cloud at noon, the other dull but for a gap at noon."""
    ghi = np.full((365, 24), 0.0)
    ghi[151:181, 8:16] = 300.0
    ghi[160, 8:16], ghi[160, 12] = 900.0, 20.0
    ghi[170, 8:16], ghi[170, 12] = 100.0, 950.0
    sky = sky_of(24, ghi.ravel())
    assert day_of_kind(sky, 6, 1.0) == 160
    assert day_of_kind(sky, 6, 1.0, 12.0) == 170
    assert day_of_kind(sky, 6, 0.0, 12.0) == 160
    assert day_of_kind(sky, 6, 1.0, 9.0) == 160


def test_day_of_a_kind_without_any_sun_is_still_of_its_month() -> None:
    for quantile in (0.0, 0.5, 1.0):
        assert 334 <= day_of_kind(sky_of(24), 12, quantile) <= 364


@every_step
def test_step_that_holds_a_time_of_day(per_day: int) -> None:
    sky = sky_of(per_day)
    for day in (0, 17, 364):
        for hour in np.arange(0, 24, 0.125):
            step = step_at(sky, day, float(hour))
            assert sky.day[step] == day
            # the step's middle is less than half a step away, or half a step at its first moment
            assert -1e-9 <= hour - (sky.hour[step] - 12 / per_day) < 24 / per_day - 1e-9
    assert step_at(sky, 364, 23.999) == 365 * per_day - 1
