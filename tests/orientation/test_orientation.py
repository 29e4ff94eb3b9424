"""Which way the panel should face: whole searches of invented gardens, and published rules of thumb beside them."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sizing.answers.kit import plain
from sizing.design.reading import read_design
from sizing.operation.goal import FlowBand, Goal
from sizing.operation.operating_point import solve_grid
from sizing.orientation.answer import orientation_answer
from sizing.orientation.directions import column_of, equator_azimuth, grid
from sizing.orientation.orientation import Choice, Orientation, Wanted, choice_of, orient, watch_of
from sizing.orientation.planes import Planes, Watch, angles_between, planes_year
from sizing.orientation.sentences import verdict
from sizing.place.place import Place
from sizing.report.report import size
from sizing.sky.solar_position import DAYS_IN_MONTH
from sizing.sky.weather import Sky, built_in_sky, file_sky, monthly_sky
from tests.fountains import FOUNTAINS

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
Example = Callable[..., dict[str, Any]]
OPEN = {"/place/skyline": ..., "/place/time_zone": ...}


def searched(document: dict[str, Any], wanted: Wanted | None = None) -> Orientation:
    return orient(read_design(document), EXAMPLES, wanted)


def aim(found: Orientation, key: str) -> Any:
    return next(each for each in found.aims if each.key == key)


def best(found: Orientation, key: str = "year_water") -> tuple[float, float]:
    place = aim(found, key).best
    return float(found.planes.tilt[place]), float(found.planes.azimuth[place])


def sunlight(sky: Sky, place: Place, planes: Planes) -> np.ndarray:
    """Sun on planes, each month [kWh/m2 a mean day]."""
    jet = FOUNTAINS["jet"]
    none = np.zeros(len(sky.ghi), dtype=bool)
    year = planes_year(
        sky, place, 0.0, solve_grid(jet.supply, jet.pump, jet.waterway), planes, Watch(none, none, FlowBand(np.inf))
    )
    return year.sun / DAYS_IN_MONTH


# The search against the single sizing


@pytest.mark.some(2)
@pytest.mark.parametrize("name", ["quince_court_jet", "terrace_spillway", "fern_bubbler", "weather_file_jet"])
def test_today_is_what_the_sizing_says(example: Example, name: str) -> None:
    design = read_design(example(name=name))
    found, report = orient(design, EXAMPLES), size(design, EXAMPLES)
    assert aim(found, "year_water").today == pytest.approx(report.year.water, rel=1e-3)
    assert aim(found, "year_play").today == pytest.approx(report.year.running_hours, rel=2e-3)
    assert found.sides[0].sun == pytest.approx(report.year.poa_insolation, rel=1e-6)
    assert (found.sides[0].tilt, found.sides[0].azimuth) == (report.mounting.tilt, report.mounting.azimuth)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["quince_court_jet", "terrace_spillway"])
def test_other_directions_are_what_the_sizing_says_of_them(example: Example, name: str) -> None:
    found = searched(example(name=name))
    for place in range(0, len(found.planes.tilt), 101):
        stands = {
            "/mounting/tilt_deg": float(found.planes.tilt[place]),
            "/mounting/azimuth_deg": float(found.planes.azimuth[place]),
        }
        report = size(read_design(example(stands, name=name)))
        assert aim(found, "year_water").values[place] == pytest.approx(report.year.water, rel=3e-3, abs=0.1)  # a step or so
        assert aim(found, "year_play").values[place] == pytest.approx(report.year.running_hours, rel=3e-3, abs=0.75)


@pytest.mark.slow
def test_the_hours_of_the_goal_are_what_the_sizing_says(example: Example) -> None:
    goal = {"jet_height_m": 0.31, "from_hour": 10, "to_hour": 14.5, "months": [5, 6, 9], "days_out_of_ten": 6}
    document = example({"/goal": goal})
    found, report = searched(document), size(read_design(document))
    assert report.goal is not None
    assert aim(found, "goal_hours").today == pytest.approx(report.goal.hours, abs=0.75)
    assert found.main.key == "goal_hours"
    assert found.choice == Choice((5, 6, 9), ((10.0, 14.5),), "goal", "goal")


# Where the best direction lies


@pytest.mark.some(2)
@pytest.mark.parametrize("latitude", [-41.3, -17.9, 28.1, 47.4, 59.9])
def test_under_an_open_sky_the_best_faces_the_equator(example: Example, latitude: float) -> None:
    changes = OPEN | {"/place/latitude_deg": latitude, "/place/longitude_deg": {-41.3: 174.8, -17.9: 25.8}.get(latitude, 10.0)}
    found = searched(example(changes | ({"/sky": clear_months(latitude)} if latitude in (28.1, 59.9) else {})))
    tilt, azimuth = best(found)
    assert azimuth == equator_azimuth(latitude)
    # Slope equal to the latitude, less where summers are bright: 15 degrees either way (Duffie & Beckman 2.20, from memory).
    assert abs(tilt - abs(latitude)) <= 15


def clear_months(latitude: float) -> dict[str, Any]:
    """Twelve typed months of one clearness, so that no season is cloudy."""
    from sizing.sky.solar_position import monthly_extraterrestrial

    above = np.asarray(monthly_extraterrestrial(latitude)) * 24 / 1000
    return {
        "kind": "monthly",
        "ghi_kwh_per_m2_day": [round(float(0.6 * sun), 3) for sun in above],
        "air_temperature_c": [15] * 12,
    }


def test_near_the_equator_the_best_lies_nearly_level(example: Example) -> None:
    found = searched(example(OPEN | {"/place/latitude_deg": 0.3, "/place/longitude_deg": 32.6}))
    tilt, _ = best(found)
    assert tilt <= 10
    assert {"east", "equator", "west"} <= {side.name for side in found.sides}


def test_a_wall_in_the_east_turns_the_best_to_the_west(example: Example) -> None:
    wall = [{"azimuth_deg": at, "altitude_deg": height} for at, height in ((20, 0), (40, 40), (150, 40), (170, 0))]
    opened, walled = (best(searched(example({"/place/skyline": skyline}))) for skyline in ([], wall))
    assert opened[1] == 180
    assert walled[1] >= 200


def test_morning_hours_turn_it_east_and_afternoons_west(example: Example) -> None:
    document = example(OPEN)
    morning, afternoon = (best(searched(document, Wanted(hours=hours)), "hours_water") for hours in ((6, 10), (14, 18)))
    assert 60 <= morning[1] <= 120
    assert 240 <= afternoon[1] <= 300
    assert morning[0] == pytest.approx(afternoon[0], abs=5)
    assert morning[1] + afternoon[1] == pytest.approx(360, abs=10)


def test_winter_months_want_it_steep_and_summer_months_flat(example: Example) -> None:
    winter, summer = (best(searched(example(OPEN), Wanted(months=months)), "months_water") for months in ((11, 12, 1), (5, 6, 7)))
    assert winter[0] >= 55
    assert summer[0] <= 20


def test_the_search_counts_water_not_sunlight(example: Example) -> None:
    # Behind a controller the pump runs at rated voltage in strong sun: more sun at noon gives no more water, so what counts
    # is many hours of middling sun, and the best for play lies flatter than the best for sunlight.
    found = searched(example(OPEN | {"/connection": {"kind": "controller", "efficiency_pct": 93}}))
    sunniest = float(found.planes.tilt[int(np.argmax(found.sun))])
    assert best(found, "year_play")[0] <= sunniest - 10


# Published values


def test_tilted_months_of_madison() -> None:
    # Duffie & Beckman, example 2.19.1 (2.20.1): monthly means on 60 degrees facing south by an isotropic sky, MJ/m2 a day, from
    # memory; the months with ground reflection 0.2. Hay & Davies' bright ring and our days made from means differ by some %:
    # November by 9, the others by up to 3.
    level = (6.44, 9.89, 12.86, 16.05, 21.36, 23.04, 22.58, 20.33, 14.59, 10.48, 6.37, 5.74)
    printed = np.array([14.7, 16.6, 16.5, 16.8, 17.5, 15.6, 15.2, 11.4])
    madison = Place("Madison", 43.0, -89.4, 262.0)
    sky = monthly_sky(madison, [month / 3.6 for month in level], [0.0] * 12)
    found = 3.6 * sunlight(sky, madison, Planes(np.array([60.0]), np.array([180.0])))[0]
    np.testing.assert_allclose(found[3:11], printed, rtol=0.10)
    assert found[3:11].mean() == pytest.approx(printed.mean(), rel=0.04)


def test_tilt_equal_to_latitude_at_greensboro() -> None:
    # 4.76 kWh/m2 a day on the TMY3 file of Greensboro, tilt 36.1, by pvlib's Hay & Davies with ground reflection 0.2.
    sky, place = file_sky("pvlib/data/723170TYA.CSV")
    months = sunlight(sky, place, Planes(np.array([36.1]), np.array([180.0])))[0]
    assert float((months * DAYS_IN_MONTH).sum() / 365) == pytest.approx(4.76, abs=0.02)


@pytest.mark.some(1)
@pytest.mark.parametrize(("latitude", "longitude"), [(33.43, -112.02), (43.0, -89.4), (-33.9, 18.4)])
def test_rules_of_thumb_for_the_seasons(latitude: float, longitude: float) -> None:
    # Duffie & Beckman 2.20, from memory: for the year a slope near the latitude; for the summer 10 to 15 degrees less, for the
    # winter 10 to 15 more. Sunlight alone; ten degrees are left for the climate.
    place = Place("", latitude, longitude, 300.0)
    sky = built_in_sky(place)
    planes = grid()
    equator = column_of(equator_azimuth(latitude))
    tilted = Planes(planes.tilt[equator], planes.azimuth[equator])
    sun = sunlight(sky, place, tilted) * DAYS_IN_MONTH
    summer = np.isin(np.arange(1, 13), (4, 5, 6, 7, 8, 9)) == (latitude > 0)
    for months, offset in ((np.ones(12, bool), 0), (summer, -12.5), (~summer, 12.5)):
        tilt = float(tilted.tilt[int(np.argmax(sun[:, months].sum(axis=1)))])
        assert tilt == pytest.approx(abs(latitude) + offset, abs=12.5)


# What is chosen


def test_what_counts_is_asked_or_the_goal_or_usual() -> None:
    goal = Goal(None, 1e-4, ((9.5, 12.0),), (6, 7), 0.7)
    everything = tuple(range(1, 13))
    assert choice_of(None, Wanted()) == Choice(everything, ((8.0, 15.0),), "assumed", "assumed")
    assert choice_of(goal, Wanted()) == Choice((6, 7), ((9.5, 12.0),), "goal", "goal")
    assert choice_of(goal, Wanted(months=(1,))) == Choice((1,), ((9.5, 12.0),), "asked", "goal")
    assert choice_of(None, Wanted(hours=(7.0, 24.0))) == Choice(everything, ((7.0, 24.0),), "assumed", "asked")


def test_hours_are_those_of_the_sky() -> None:
    sky = built_in_sky(Place("", 47.0, 8.0, 400.0))
    watch = watch_of(sky, Choice((1,), ((8.0, 15.0),), "asked", "asked"), None, FlowBand(np.inf))
    assert sky.hour[watch.hours].min() == 8.125
    assert sky.hour[watch.hours].max() == 14.875
    assert not watch.goal.any()
    half = watch_of(sky, Choice((1,), ((8.1, 8.2),), "asked", "asked"), None, FlowBand(np.inf))
    assert set(sky.hour[half.hours].tolist()) == {8.125}


@pytest.mark.slow
def test_the_whole_day_and_the_whole_year_are_told_once(example: Example) -> None:
    keys = [each.key for each in searched(example(), Wanted(tuple(range(1, 13)), (0.0, 24.0))).aims]
    assert keys == ["year_water", "year_play"]
    keys = [each.key for each in searched(example(), Wanted((5,), (0.0, 24.0))).aims]
    assert keys == ["year_water", "months_water", "year_play", "hours_play"]
    found = searched(example(), Wanted((5,), (0.0, 24.0)))
    assert aim(found, "hours_play").words == "hours of play in May"


# What it says


def said(found: Orientation, key: str = "year_water") -> str:
    text = next(each.sentence for each in orientation_answer(found).aims if each.key == key)
    return text.replace("\N{NO-BREAK SPACE}", " ")


def test_a_wrong_direction_is_told_what_it_gives_up(example: Example) -> None:
    found = searched(example({"/mounting/azimuth_deg": 353.0, "/mounting/tilt_deg": 61.0}))
    water = aim(found, "year_water")
    assert water.given_up == pytest.approx(1 - water.today / water.values[water.best])
    assert water.given_up > 0.5
    text = said(found)
    assert text.startswith("Today's choice, 61° to the north (353°), gives up ")
    assert "of the water in the year:" in text
    best_tilt, best_azimuth = best(found)
    assert f"at the best direction tried, {best_tilt:.0f}° to the south ({best_azimuth:.0f}°)." in text


def test_between_the_planes_of_the_grid_today_may_be_best(example: Example) -> None:
    best_tilt, best_azimuth = best(searched(example()))
    found = searched(example({"/mounting/tilt_deg": best_tilt, "/mounting/azimuth_deg": best_azimuth}))
    assert aim(found, "year_water").given_up == pytest.approx(0, abs=1e-6)
    assert "is as good as any for water in the year" in said(found)


def test_a_fountain_that_never_plays_says_why(example: Example) -> None:
    found = searched(example({"/outlet/height_above_water_m": 9.7}))
    assert all(each.outcome == "never" for each in found.aims)
    expected = "In no direction does this fountain play: even in full sun the pump turns but cannot lift the water to the outlet."
    assert said(found) == expected
    answer = orientation_answer(found)
    assert answer.verdict == expected
    assert answer.tilts.sentence.endswith("it stays dry at every tilt.")
    assert answer.tilts.two_tilts_sentence == ""


def test_too_little_sun_anywhere_says_how_much_it_needs(example: Example) -> None:
    dark = {"kind": "monthly", "ghi_kwh_per_m2_day": [0.05] * 12, "air_temperature_c": [5] * 12}
    found = searched(example({"/sky": dark, "/pumps/0/starting_current_a": 0.9, "/connection": {"kind": "direct"}}))
    assert found.first_sun is not None
    assert said(found).startswith("In no direction does this fountain play: it needs ")


def test_a_goal_out_of_reach_says_so_and_water_counts_first(example: Example) -> None:
    goal = {"jet_height_m": 19.0, "from_hour": 10, "to_hour": 14, "months": [6]}
    found = searched(example({"/goal": goal}))
    assert found.main.key == "year_water"
    assert said(found, "goal_hours") == "No direction brings any hours that meet the goal."


def test_where_direction_makes_no_difference_it_says_so(example: Example) -> None:
    # Light from the whole sky and a white ground: turning changes nothing that a tiny pump could notice at noon in June.
    changes = OPEN | {
        "/connection": {"kind": "controller", "efficiency_pct": 95},
        "/panels/0/in_parallel": 8,
        "/place/albedo": 0.9,
        "/place/latitude_deg": 1.3,
        "/place/longitude_deg": 103.8,
    }
    found = searched(example(changes), Wanted((3,), (11.0, 13.0)))
    play = aim(found, "hours_play")
    assert play.outcome == "alike"
    assert said(found, "hours_play").startswith("Direction makes no difference to hours of play from 11:00 to 13:00 in March: ")


def test_an_upright_best_is_named_as_the_edge(example: Example) -> None:
    found = searched(example({"/mounting/tilt_deg": 0}))
    upright = int(np.flatnonzero((found.planes.tilt == 90) & (found.planes.azimuth == 180))[0])
    edge = replace(found.aims[0], best=upright, today=0.93 * found.aims[0].values[upright], given_up=0.07)
    assert verdict(found, edge).endswith("90° to the south (180°). The best stands upright, and nothing steeper was tried.")
    assert "upright" not in said(found)


def test_flatness_is_what_the_grid_says(example: Example) -> None:
    found = searched(example())
    water = aim(found, "year_water")
    angle = angles_between(found.planes, *best(found))
    near, lost = angle <= water.flatness.angle + 1e-6, water.values < 0.95 * water.values[water.best]
    assert not np.any(near & lost)
    assert angle[lost].min() > water.flatness.angle
    sentence = next(each.within_sentence for each in orientation_answer(found).aims if each.key == "year_water")
    assert (
        sentence.replace("\N{NO-BREAK SPACE}", " ") == f"Anything within {int(water.flatness.angle)}° of it loses less than 5 %."
    )


def test_a_compass_is_reminded_of(example: Example) -> None:
    answer = orientation_answer(searched(example()))
    assert answer.compass.startswith("Directions count from true north; a compass needle")
    read = {"/mounting/azimuth_deg": ..., "/mounting/compass_deg": 170, "/place/compass_date": "2026-05-31"}
    found = searched(example(read))
    declination = found.mounting.declination
    assert declination is not None
    assert orientation_answer(found).compass.startswith(f"The compass used here reads {180 - declination:.0f}° at the best")


def test_a_weak_needle_is_warned_of_beside_the_best_direction(example: Example) -> None:
    """The World Magnetic Model calls a compass unreliable below 6000 nT; its error model gives the degrees."""
    there = {"/place/latitude_deg": 73.0, "/place/longitude_deg": -94.0, "/place/time_zone": "America/Winnipeg"}
    read = {"/mounting/azimuth_deg": ..., "/mounting/compass_deg": 170, "/place/compass_date": "2026-05-31"}
    near, usual = (orientation_answer(orient(read_design(example(read | more)))).compass for more in (there, {}))
    assert "known to about 1.4°" in near  # sqrt(0.26² + (5417 / 3831)²), by hand
    assert "unreliable" in near
    assert "known to about 0.4°" in usual
    assert "unreliable" not in usual


def test_sides_of_a_level_panel_are_tilted(example: Example) -> None:
    found = searched(example({"/mounting/tilt_deg": 0}))
    sides = {side.name: side for side in found.sides}
    assert sides["east"].tilt == sides["equator"].tilt == sides["west"].tilt == 35
    assert sides["today"].sun == pytest.approx(sides["flat"].sun)
    assert sides["best"].values[0] == found.main.values[found.main.best]


def test_tilts_are_planes_of_the_search(example: Example) -> None:
    found = searched(example({"/mounting/azimuth_deg": 180.0, "/mounting/tilt_deg": 40.0}))
    assert found.tilts.monthly == found.equator_tilts.monthly
    np.testing.assert_allclose(found.tilts.monthly_water, found.equator_tilts.monthly_water, rtol=1e-5)
    assert found.tilts.fixed_water.sum() == pytest.approx(aim(found, "year_water").values[column_of(180.0)].max(), rel=1e-3)


def test_the_answer_is_plain_numbers(example: Example) -> None:
    goal = {"flow_l_per_min": 2.0, "from_hour": 9, "to_hour": 12, "months": [4, 5]}
    answer = plain(orientation_answer(searched(example({"/goal": goal}))))
    shapes = {name: np.array(values).shape for name, values in answer["grid"].items() if name not in ("tilt_deg", "azimuth_deg")}
    assert set(shapes) == {
        *("sun_kwh_per_m2", "year_water_l", "months_water_l", "hours_water_l"),
        *("year_play_h", "hours_play_h", "goal_hours_h"),
    }
    assert set(shapes.values()) == {(19, 37)}
    table = np.array(answer["grid"]["year_water_l"])
    np.testing.assert_array_equal(table[:, 0], table[:, 36])
    assert len(set(table[0].tolist())) == 1
    for name in ("year_water", "goal_hours"):
        found = next(each for each in answer["aims"] if each["key"] == name)
        row, column = int(found["best"]["tilt_deg"] / 5), int(found["best"]["azimuth_deg"] / 10)
        suffix = {"L": "_l", "h": "_h"}[found["unit"]]
        assert answer["grid"][name + suffix][row][column] == pytest.approx(found["best"]["value"])


def test_the_chance_of_the_goal_is_what_the_sizing_says(example: Example) -> None:
    """Today's and that of the plane with most goal hours: each equal to the design sized with the panel mounted so."""
    goal = {"jet_height_m": 0.31, "from_hour": 10, "to_hour": 14.5, "months": [5, 6, 9], "days_out_of_ten": 6}
    found = searched(example({"/goal": goal}))
    assert found.chances is not None
    tilt, azimuth = best(found, "goal_hours")
    assert (found.chances.tilt, found.chances.azimuth) == (tilt, azimuth)
    for chance, changes in (
        (found.chances.today, {}),
        (found.chances.best, {"/mounting/tilt_deg": tilt, "/mounting/azimuth_deg": azimuth}),
    ):
        sized = size(read_design(example({"/goal": goal, **changes}))).chance
        assert sized is not None
        assert (chance.chance, chance.outlook) == (sized.chance, sized.outlook)
    answer = orientation_answer(found).goal_chances
    assert answer is not None
    assert (answer.chance, answer.best_chance) == (found.chances.today.chance, found.chances.best.chance)


def test_without_a_goal_there_is_no_chance(example: Example) -> None:
    found = searched(example())
    assert found.chances is None
    assert orientation_answer(found).goal_chances is None
