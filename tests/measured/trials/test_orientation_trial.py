"""Direction and tilt experiments: the right order under a changing sky, and a confidence that is what it says.

Readings are made by the model with a sky that drifts and jumps between days and teams, and drawn noise.
"""

import datetime
import json
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sizing.design.reading import read_design
from sizing.foundation.errors import InputError
from sizing.measured.day.clear_day import ClearDay, clear_day_of, declination_on, expected
from sizing.measured.logs.instruments import USUAL, small_sample
from sizing.measured.logs.logs import TurnLog, read_turns
from sizing.measured.trials.answer import turned_answer
from sizing.measured.trials.fit import TrialFit, comparable, difference, fit_groups, ties
from sizing.measured.trials.orientation_trial import clusters, experiments, trial_of
from sizing.measured.trials.sun_heights import offset_and_shift, shadow_altitude_uncertainty, sun_heights
from sizing.place.horizon_survey import altitude_from_shadow, shadow_length

FOLDER = Path(__file__).parents[3] / "examples"
MAY = datetime.date(2026, 5, 19)
DIRECTIONS = (95.0, 125.0, 155.0, 185.0, 215.0, 245.0)


@lru_cache(maxsize=1)
def clear_day() -> ClearDay:
    data = json.loads((FOLDER / "quince_court_jet.json").read_text(encoding="utf-8"))
    data["place"]["skyline"] = []
    return clear_day_of(read_design(data))


def log_of(
    directions: Any, tilts: Any, hours: Any, days: Any = None, teams: Any = None, sky: Any = None, factor: Any = 1.0
) -> TurnLog:
    """A log whose currents are the model's times a factor of the sky; what is not given is one day, one team, no remark."""
    count, empty = len(directions), np.full(len(directions), np.nan)
    days = tuple(days or (MAY,) * count)
    found = expected(clear_day(), days, np.array(hours), np.array(tilts), np.array(directions))
    return TurnLog(
        row=np.arange(2, count + 2),
        day=days,
        hour=np.array(hours, dtype=float),
        direction=np.array(directions, dtype=float),
        tilt=np.array(tilts, dtype=float),
        voltage=empty,
        current=found.current * factor,
        flow=empty,
        sun_height=empty,
        stick=empty,
        shadow=empty,
        sky=tuple(sky or ("",) * count),
        team=tuple(teams or ("",) * count),
        problems=(),
    )


# Which readings belong together


def test_directions_gather_across_north_and_tilts_do_not() -> None:
    log = log_of([354.0, 357.0, 3.0, 92.0, 88.0, 181.0], [34.0, 36.0, 35.0, 35.0, 33.0, 36.0], [11.0] * 6)
    (found,) = experiments(log)
    assert (found.changed, found.held) == ("direction", pytest.approx(34.833, abs=0.001))
    assert found.angle == pytest.approx([90.0, 181.0, 358.0], abs=0.01)
    assert found.group.tolist() == [2, 2, 2, 0, 0, 1]
    assert clusters(np.array([10.0, 14.9, 15.1]), 5.0).tolist() == [0, 0, 1]


def test_a_log_may_hold_both_kinds() -> None:
    log = log_of([90.0, 180.0, 270.0, 180.0, 180.0], [35.0, 35.0, 35.0, 10.0, 60.0], [12.0] * 5)
    assert {(each.changed, round(each.held)) for each in experiments(log)} == {("direction", 35), ("tilt", 180)}


# The fit


def simulated(effects: np.ndarray, seed: int, noise: float = 0.05, repeats: int = 6) -> TrialFit:
    """Readings of all groups in turn by days and teams whose sky differs by a fifth."""
    draw = np.random.default_rng(seed)
    groups = len(effects)
    group = np.arange(groups * repeats) % groups
    block = np.arange(groups * repeats) // (2 * groups)
    values = np.exp(effects[group] + draw.normal(0, 0.2, block.max() + 1)[block] + draw.normal(0, noise, len(group)))
    return fit_groups(values, values, group, block, groups)


@pytest.mark.slow
def test_without_a_true_difference_sureness_is_rare() -> None:
    """95 % means one time in twenty; picked from 15 pairs and divided by as many, it is at most that."""
    sure = 0
    for seed in range(200):
        fit = simulated(np.zeros(6), seed)
        order = np.argsort(-fit.mean)
        found = difference(fit, int(order[0]), int(order[-1]), 15)
        sure += found is not None and found.confidence >= 0.95
    assert sure <= 18  # 9 % of 200: three standard deviations above one in twenty


@pytest.mark.slow
def test_two_groups_alone_are_sure_one_time_in_twenty() -> None:
    sure = sum(found.confidence >= 0.95 for seed in range(300) if (found := difference(simulated(np.zeros(2), seed), 0, 1)))
    assert 4 <= sure <= 28  # of 300; 15 wanted


def test_a_true_difference_is_found_and_its_range_is_honest() -> None:
    effects = np.array([0.0, 0.08, 0.17, 0.29, 0.19, 0.05])
    right = inside = 0
    for seed in range(150):
        fit = simulated(effects, 1000 + seed)
        right += int(np.argmax(fit.mean)) == 3
        found = difference(fit, 3, 0)
        assert found is not None
        inside += abs(np.log1p(found.share) - 0.29) < found.uncertainty * float(small_sample(fit.freedom))
    assert right >= 143
    assert 0.58 <= inside / 150 <= 0.79  # 68 % wanted


def test_a_day_at_six_tenths_of_the_sun_changes_nothing_when_all_were_measured_on_it() -> None:
    group, block = np.tile(np.arange(3), 4), np.repeat(np.arange(2), 6)
    values = np.array([1.0, 1.3, 1.7])[group] * np.where(block == 1, 0.6, 1.0)
    fit = fit_groups(values, values, group, block, 3)
    assert np.exp(fit.logs[2] - fit.logs[0]) == pytest.approx(1.7)
    assert fit.freedom == 12 - 3 - 1
    assert fit.scatter == pytest.approx(0.0, abs=1e-12)


def test_groups_that_no_day_ties_are_not_compared() -> None:
    group, block = np.array([0, 0, 1, 1, 2, 2]), np.array([0, 0, 0, 0, 1, 1])
    assert ties(group, block, 3).tolist() == [0, 0, 1]
    fit = fit_groups(np.array([1.0, 1.1, 1.4, 1.5, 9.0, 9.3]), np.ones(6), group, block, 3)
    assert difference(fit, 2, 0) is None
    found = difference(fit, 1, 0)
    assert found is not None
    assert found.share == pytest.approx(np.sqrt(1.4 * 1.5 / 1.1) - 1)
    alone = fit_groups(np.array([1.0, 1.2]), np.ones(2), np.array([0, 1]), np.array([0, 0]), 2)
    assert difference(alone, 0, 1) is None


def test_equal_readings_are_no_difference() -> None:
    fit = fit_groups(np.full(6, 0.73), np.full(6, 0.73), np.array([0, 0, 0, 1, 1, 1]), np.zeros(6, dtype=int), 2)
    found = difference(fit, 0, 1)
    assert found is not None
    assert found.share == pytest.approx(0, abs=1e-12)
    assert (found.confidence, found.more) == (0.0, None)


# Whole logs


@pytest.mark.parametrize("seed", range(4))
def test_the_order_under_a_changing_sky(seed: int) -> None:
    """Four rounds by two teams on two days, the sky falling by a quarter through each and a fifth duller on the second."""
    draw = np.random.default_rng(seed)
    count = 4 * len(DIRECTIONS)
    order = np.concatenate([draw.permutation(DIRECTIONS) for _ in range(4)])
    hours = np.tile(np.linspace(10.2, 12.4, 2 * len(DIRECTIONS)), 2)
    days = [MAY] * (count // 2) + [datetime.date(2026, 5, 22)] * (count // 2)
    teams = ["a", "b"] * (count // 2)
    factor = np.repeat([1.0, 0.8], count // 2) * (1 + draw.normal(0, 0.02, count))
    found = trial_of(log_of(order, [35.0] * count, hours, days, teams, factor=factor), clear_day())
    (trial,) = found.tried
    part = trial.measured[0]
    model = np.argsort(-part.expected)
    assert np.argmax(part.fit.mean) in model[:2]
    assert np.argmin(part.fit.mean) == model[-1]
    assert part.ends is not None
    assert part.ends.confidence > 0.99


def test_square_on_gives_the_most_and_the_best_tilt_changes_through_the_day() -> None:
    """Common practice, no source: the panel that faces the sun gives most current and flow; a low sun wants a steep panel."""
    hours, tilts = (9.0, 13.0, 17.0), np.arange(0.0, 90.1, 5.0)
    best = []
    for hour in hours:
        sun = expected(clear_day(), [MAY], np.array([hour]))
        turned = (np.arange(-60.0, 61.0, 20.0) + float(sun.sun_azimuth[0])) % 360
        steep = np.full(len(turned), 90 - float(sun.sun_altitude[0]))
        across = expected(clear_day(), [MAY] * len(turned), np.full(len(turned), hour), steep, turned)
        assert int(np.argmax(across.current)) == int(np.argmax(across.flow)) == 3  # the middle one faces the sun
        facing = np.full(len(tilts), float(sun.sun_azimuth[0]))
        up = expected(clear_day(), [MAY] * len(tilts), np.full(len(tilts), hour), tilts, facing)
        best.append(float(tilts[np.argmax(up.current)]))
        assert abs(best[-1] - (90 - float(sun.sun_altitude[0]))) <= 7.5
    assert best[1] < best[0]
    assert best[1] < best[2]


def test_carrying_a_reading_to_another_hour() -> None:
    """A log without noise, taken over four hours, gives the model's own numbers at the reference moment."""
    hours = np.linspace(9.5, 13.5, 12)
    found = trial_of(log_of(DIRECTIONS * 2, [35.0] * 12, hours), clear_day())
    part = found.tried[0].measured[0]
    assert part.fit.mean == pytest.approx(part.expected, rel=1e-9)
    assert found.sky_factor == pytest.approx(np.ones(12))
    assert comparable(0.7, 0.9, 0.8) == pytest.approx(0.7875)  # by hand


@pytest.mark.parametrize("nothing", [0.0, 5e-324, 1e-9])
def test_clouds_nights_and_dry_panels_are_told_and_not_counted(nothing: float) -> None:
    sky = ["", "clouds", "", "", "", ""]
    log = log_of([90.0, 90.0, 90.0, 180.0, 180.0, 180.0], [35.0] * 6, [11.0, 11.1, 23.5, 11.2, 11.3, 11.4], sky=sky)
    log = replace(log, current=np.array([0.5, 0.2, 0.1, 0.7, 0.71, nothing]))
    part = trial_of(log, clear_day()).tried[0].measured[0]
    assert [(each.row, each.sentence.split()[0]) for each in part.left_out] == [(3, "clouds"), (4, "a"), (7, "nothing")]
    assert part.fit.count.tolist() == [1, 2]


def test_a_log_without_an_experiment_is_refused() -> None:
    with pytest.raises(InputError, match="hold no experiment"):
        trial_of(log_of([180.0, 181.0, 180.0], [35.0] * 3, [11.0, 11.5, 12.0]), clear_day())


def test_heights_are_told_where_no_experiment_holds_and_none_by_night() -> None:
    """In May the sun is down at half past eleven at night in the middle of Europe (common knowledge)."""
    log = log_of([90.0, 180.0, 90.0, 180.0], [35.0] * 4, [11.0, 11.1, 23.5, 11.2], sky=["clouds"] * 4)
    log = replace(log, sun_height=np.array([np.nan, 56.0, 40.0, 57.0]))
    found = trial_of(log, clear_day())
    assert found.heights is not None
    assert found.heights.row.tolist() == [3, 5]
    assert [(each.row, each.sentence.split("; ")[0][:19]) for each in found.problems] == [
        (0, "the readings of the"),
        (4, "the sun is down the"),
    ]
    night = replace(log, sun_height=np.array([np.nan, np.nan, 40.0, np.nan]))
    with pytest.raises(InputError, match=r"row 4: the sun is down"):
        trial_of(night, clear_day())


def test_the_invented_example() -> None:
    raw = (FOLDER / "directions_millpond.csv").read_bytes()
    found = trial_of(read_turns(raw, lambda day: declination_on(clear_day(), day)), clear_day())
    answer = turned_answer(found)
    assert [each.changed for each in answer.experiments] == ["direction", "tilt"]
    assert answer.verdict.startswith("South-east")
    assert [each.row for each in answer.experiments[0].left_out] == [30]
    assert "comparable_flow_l_per_min" in {step.id for step in answer.working}
    assert answer.sun_heights is not None
    assert len(answer.sun_heights.rows) == 8


# Heights of the sun


def test_a_stick_and_its_shadow() -> None:
    """Golden, Colorado, 17 October 2003: apparent altitude 39.888 degrees (Reda & Andreas 2008), so a shadow of 1.196 sticks."""
    assert float(shadow_length(1.0, 39.888)) == pytest.approx(1.196, abs=0.002)
    assert float(altitude_from_shadow(1.0, 1.196)) == pytest.approx(39.888, abs=0.05)
    assert float(altitude_from_shadow(1.0, 0.577)) == pytest.approx(60.0, abs=0.05)  # tan 60 degrees is the root of three
    drawn = np.random.default_rng(3).normal(0, 0.012, (2, 4000))
    spread = np.std(altitude_from_shadow(1.0 + drawn[0], 1.196 + drawn[1]))
    assert float(shadow_altitude_uncertainty(1.0, 1.196, 0.012)) == pytest.approx(float(spread), rel=0.05)


def heights(hours: Any, by: np.ndarray) -> TurnLog:
    count = len(hours)
    log = log_of([180.0] * count, [35.0] * count, hours)
    return replace(log, sun_height=expected(clear_day(), [MAY] * count, np.array(hours)).sun_altitude + by)


def test_an_instrument_s_zero_and_a_clock_are_told_apart() -> None:
    hours = np.array([8.5, 9.5, 10.5, 15.5, 16.5, 17.5])
    log = heights(hours, np.full(6, 3.1))
    found = sun_heights(log, clear_day(), expected(clear_day(), log.day, log.hour), USUAL)
    assert found is not None
    assert found.offset == pytest.approx(3.1, abs=0.01)
    assert any("too high throughout" in said for said in found.sentences)
    late = replace(log, sun_height=expected(clear_day(), log.day, log.hour + 0.4).sun_altitude)
    shifted = sun_heights(late, clear_day(), expected(clear_day(), log.day, log.hour), USUAL)
    assert shifted is not None
    assert shifted.minutes == pytest.approx(24, abs=1.5)
    assert any("\N{NO-BREAK SPACE}min behind" in said for said in shifted.sentences)
    assert abs(shifted.offset) < 0.5


def test_a_morning_alone_cannot_tell_the_clock() -> None:
    (_, _), (minutes, _) = offset_and_shift(np.array([1.0, 1.1, 0.9, 1.0]), np.full(4, 0.5), np.array([0.16, 0.15, 0.14, 0.13]))
    assert minutes is None
