"""The public answer: plain JSON, the promised names, and references that lead somewhere."""

import json
import math
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from sizing.answers.kit import plain
from sizing.design.reading import read_design
from sizing.foundation.sources import SOURCES
from sizing.foundation.version import MODEL_VERSION
from sizing.report.answer import sizing_answer
from sizing.report.report import When, size

Build = Callable[..., dict[str, Any]]
ROOT = Path(__file__).resolve().parents[2]
NAMES = ("quince_court_jet", "terrace_spillway", "fern_bubbler", "weather_file_jet")

KEYS = {
    "": {
        *(
            "model_version",
            "title",
            "design",
            "place",
            "mounting",
            "sky",
            "verdict",
            "goal",
            "months",
            "year",
            "crown",
            "how_sure",
            "usual_day",
        ),
        "operating_points",
        *(
            "first_playing_irradiance_w_per_m2",
            "moment",
            "jets",
            "basin",
            "assumptions",
            "obstacles",
            "warnings",
            "strain",
            "questions",
            "working",
        ),
        "sources",
    },
    "place": {"name", "latitude_deg", "longitude_deg", "elevation_m"},
    "mounting": {"tilt_deg", "azimuth_deg", "compass_deg", "declination_deg"},
    "sky": {"kind", "title", "hour_basis", "clearness", "air_temperature_c", "year_band", "month_band"},
    "verdict": {"headline", "dry", "limit", "borne"},
    "months": {
        *("month", "days", "poa_kwh_per_m2_day", "running_h_per_day", "water_l_per_day", "water_low_l_per_day"),
        *("water_high_l_per_day", "water_dull_l_per_day", "water_usual_l_per_day", "water_bright_l_per_day", "jet_height_m"),
        *("flow_l_per_min", "best_hour", "first_hour", "last_hour", "dry_days", "over_voltage_h"),
    },
    "year": {
        "water_l",
        "water_low_l",
        "water_high_l",
        "running_h",
        "poa_kwh_per_m2",
        "hours_by_state",
        "running_months",
        "running_water_l_per_day",
    },
    "how_sure": {"year", "months", "best_month", "causes", "shrink_most"},
    "usual_day": {"flow_l_per_min", "jet_height_m"},
    "operating_points": {
        *("irradiance_w_per_m2", "cell_temperature_c", "voltage_v", "current_a", "speed_ratio", "flow_l_per_min", "head_m"),
        *("jet_height_m", "state", "reason"),
    },
    "moment": {"month", "hour", "sky", "day_of_year", "time_h", "state", "reason", "stations"},
    "assumptions": {"code", "severity", "detail", "pointer"},
    "working": {"id", "name", "value", "unit", "basis", "source", "formula", "substituted", "method", "inputs"},
}
STATES = {"night", "too_little_sun", "below_lowest_voltage", "cannot_lift", "plays", "over_voltage"}


@pytest.fixture(scope="module")
def answers(example: Build) -> dict[str, dict[str, Any]]:
    return {name: plain(sizing_answer(size(read_design(example(name=name)), ROOT / "examples"))) for name in NAMES}


def everything(value: object, where: str = "") -> Iterator[tuple[str, object]]:
    yield where, value
    pairs: Any = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for name, inner in pairs:
        yield from everything(inner, f"{where}/{name}")


@pytest.mark.parametrize("name", NAMES)
def test_plain_finite_json_that_survives_the_journey(name: str, answers: dict[str, dict[str, Any]]) -> None:
    found = answers[name]
    for where, value in everything(found):
        assert type(value) in (dict, list, str, int, float, bool, type(None)), (where, type(value))
        assert not isinstance(value, float) or math.isfinite(value), where
        assert not isinstance(value, dict) or all(type(key) is str for key in value), where
    assert json.loads(json.dumps(found, allow_nan=False)) == found


@pytest.mark.parametrize("name", NAMES)
def test_the_promised_names(name: str, answers: dict[str, dict[str, Any]]) -> None:
    found = answers[name]
    for part, keys in KEYS.items():
        block = found[part] if part else found
        for one in block if isinstance(block, list) else [block]:
            assert set(one) == keys, part
    for warning in found["warnings"]:
        assert set(warning) == KEYS["assumptions"]
    assert set(found["year"]["hours_by_state"]) == STATES
    assert found["model_version"] == MODEL_VERSION


@pytest.mark.parametrize("name", NAMES)
def test_twelve_months_in_order(name: str, answers: dict[str, dict[str, Any]]) -> None:
    months = answers[name]["months"]
    assert [month["month"] for month in months] == list(range(1, 13))
    assert sum(month["days"] for month in months) == 365
    assert all(type(month["best_hour"]) is int and 0 <= month["best_hour"] <= 23 for month in months)
    for month in months:
        assert month["water_low_l_per_day"] <= month["water_high_l_per_day"]
        assert month["water_dull_l_per_day"] <= month["water_usual_l_per_day"] <= month["water_bright_l_per_day"]
    total = sum(month["water_l_per_day"] * month["days"] for month in months)
    assert answers[name]["year"]["water_l"] == pytest.approx(total, rel=1e-9)


@pytest.mark.parametrize("name", NAMES)
def test_units_of_the_answer_are_those_of_its_names(name: str, answers: dict[str, dict[str, Any]], example: Build) -> None:
    report = size(read_design(example(name=name)), ROOT / "examples")
    found = answers[name]
    # 1 m3 = 1000 L; 1 m3/s = 60,000 L/min.
    assert found["year"]["water_l"] == pytest.approx(1000 * report.year.water)
    assert found["months"][5]["flow_l_per_min"] == pytest.approx(60_000 * report.year.months[5].flow)
    assert found["operating_points"][-1]["flow_l_per_min"] == pytest.approx(60_000 * float(report.points.flow[-1]))
    assert found["operating_points"][-1]["irradiance_w_per_m2"] == 1000


@pytest.mark.parametrize("name", NAMES)
def test_the_usual_day_holds_the_months_best_hour(name: str, answers: dict[str, dict[str, Any]]) -> None:
    found = answers[name]
    flow, jet = found["usual_day"]["flow_l_per_min"], found["usual_day"]["jet_height_m"]
    assert [len(day) for day in flow] == [24] * 12
    for month, day in zip(found["months"], flow, strict=True):
        assert month["flow_l_per_min"] == max(day)
        assert day[month["best_hour"]] == pytest.approx(max(day))
    if jet is not None:
        assert [len(day) for day in jet] == [24] * 12
        assert [month["jet_height_m"] for month in found["months"]] == [max(day) for day in jet]


def test_a_spillway_has_no_jet_anywhere(answers: dict[str, dict[str, Any]]) -> None:
    for name, found in answers.items():
        none = name == "terrace_spillway"
        assert (found["usual_day"]["jet_height_m"] is None) == none
        assert all((month["jet_height_m"] is None) == none for month in found["months"])
        assert all((point["jet_height_m"] is None) == none for point in found["operating_points"])


def test_a_dry_usual_day_has_no_first_and_last_hour(example: Build) -> None:
    found = plain(sizing_answer(size(read_design(example({"/outlet/height_above_water_m": 9})))))
    assert {(month["first_hour"], month["last_hour"]) for month in found["months"]} == {(None, None)}
    assert found["first_playing_irradiance_w_per_m2"] is None
    assert found["year"]["water_l"] == 0
    assert {point["state"] for point in found["operating_points"]} == {"below_lowest_voltage", "cannot_lift"}


@pytest.mark.parametrize("name", NAMES)
def test_working_unfolds_to_the_end(name: str, answers: dict[str, dict[str, Any]]) -> None:
    found = answers[name]
    ids = [step["id"] for step in found["working"]]
    assert len(set(ids)) == len(ids)
    earlier: set[str] = set()
    for step in found["working"]:
        assert {part["id"] for part in step["inputs"]} <= earlier, step["id"]
        earlier.add(step["id"])
        assert step["basis"] in {"given", "assumed", "published", "measured", "computed"}
        assert step["source"] in found["sources"] or (step["basis"] == "given" and not step["source"])
        assert step["formula"] or step["method"] or step["basis"] != "computed", step["id"]
        assert bool(step["formula"]) == bool(step["substituted"])


@pytest.mark.parametrize("name", NAMES)
def test_stations_lead_into_the_working(name: str, answers: dict[str, dict[str, Any]]) -> None:
    found = answers[name]
    values = {step["id"]: (step["value"], step["unit"]) for step in found["working"]}
    names = [station["name"] for station in found["moment"]["stations"]]
    assert names == ["sun", "panel", "wire", "pump", "pipe", "outlet"]
    for station in found["moment"]["stations"]:
        assert values[station["working_id"]] == (station["value"], station["unit"])


@pytest.mark.parametrize("name", NAMES)
def test_sources_are_those_that_the_working_and_the_causes_name(name: str, answers: dict[str, dict[str, Any]]) -> None:
    found = answers[name]
    named = [*found["working"], *found["how_sure"]["causes"]]
    assert set(found["sources"]) == {each["source"] for each in named if each["source"]}
    for key, source in found["sources"].items():
        assert source == {
            "title": SOURCES[key].title,
            "publisher": SOURCES[key].publisher,
            "year": SOURCES[key].year,
            "where": SOURCES[key].where,
            "read": SOURCES[key].read,
        }


def test_pointers_of_notes_stand_in_the_design_or_name_a_field_left_out(answers: dict[str, dict[str, Any]]) -> None:
    for found in answers.values():
        for note in [*found["assumptions"], *found["warnings"]]:
            *way, _ = note["pointer"].removeprefix("#/").split("/")
            at: Any = found["design"]
            for part in way:
                at = at[int(part)] if isinstance(at, list) else at[part]
            assert isinstance(at, dict | list), note


@pytest.mark.parametrize("name", NAMES)
def test_the_echoed_design_gives_the_same_answer_again(name: str, answers: dict[str, dict[str, Any]]) -> None:
    again = plain(sizing_answer(size(read_design(answers[name]["design"]), ROOT / "examples")))
    assert again == answers[name]


def test_a_moment_is_named_and_a_strength_is_not(example: Build) -> None:
    design = read_design(example())
    report = size(design, None, When(4, 10, "usual"))
    named = plain(sizing_answer(report))["moment"]
    assert (named["month"], named["hour"], named["sky"]) == (4, 10, "usual")
    assert named["day_of_year"] == report.moment.day + 1  # 1 January is day 1
    assert 91 <= named["day_of_year"] <= 120
    assert named["time_h"] == 10.125
    strength = plain(sizing_answer(size(design, None, When(strength=612.0))))["moment"]
    assert {strength[key] for key in ("month", "hour", "sky", "day_of_year", "time_h")} == {None}
    assert strength["stations"][0]["value"] == 612.0


def test_the_night_is_a_state_with_a_reason(example: Build) -> None:
    night = plain(sizing_answer(size(read_design(example()), None, When(1, 1))))["moment"]
    assert (night["state"], night["reason"]) == ("night", "night")
    assert [station["name"] for station in night["stations"]] == ["sun"]


@pytest.mark.parametrize("name", NAMES)
def test_how_sure_says_the_same_ranges_as_the_months_and_the_year(name: str, answers: dict[str, dict[str, Any]]) -> None:
    found = answers[name]
    sure = found["how_sure"]
    assert sure["year"] == {key: found["year"][key] for key in sure["year"]}
    for told, month in zip(sure["months"], found["months"], strict=True):
        assert {key: told[key] for key in told if key in month} == {key: month[key] for key in told if key in month}
        if told["jet_height_m"] is not None:
            assert told["jet_low_m"] <= told["jet_high_m"]
    assert sum(cause["year_share"] for cause in sure["causes"]) == pytest.approx(1)
    middle = sure["year"]["water_l"] + sum(cause["mean_effect_l"] for cause in sure["causes"])
    squares = ((cause["low_effect_l"] ** 2 + cause["high_effect_l"] ** 2) / 2 for cause in sure["causes"])
    half = (sum(squares) - sum(cause["mean_effect_l"] ** 2 for cause in sure["causes"])) ** 0.5
    assert middle - half == pytest.approx(sure["year"]["water_low_l"])
    assert middle + half == pytest.approx(sure["year"]["water_high_l"])
    values = {step["id"]: step["value"] for step in found["working"]}
    assert values["likely_low_of_year"] == pytest.approx(sure["year"]["water_low_l"])
    assert values["likely_high_of_year"] == pytest.approx(sure["year"]["water_high_l"])
    best = max(found["months"], key=lambda month: month["water_l_per_day"])
    assert sure["best_month"] == best["month"]
    assert set(sure["shrink_most"]["causes"]) <= {cause["key"] for cause in sure["causes"]}


def test_a_crown_says_its_lowest_mean_and_highest_jet(example: Build) -> None:
    ring = {"kind": "ring", "size_m": 0.6, "inside_diameter_mm": 13}
    changes = {"/outlet/count": 12, "/outlet/bore_mm": 3, "/outlet/nozzle_kind": "drilled_cap", "/outlet/feed": ring}
    found = plain(sizing_answer(size(read_design(example(changes)))))
    crown, best = found["crown"], max(found["months"], key=lambda month: month["water_l_per_day"])
    assert crown["lowest_jet_m"] == pytest.approx(best["jet_height_m"], rel=0.01)
    assert crown["lowest_jet_m"] < crown["mean_jet_m"] < crown["highest_jet_m"]
    assert 0 < crown["lost_head_m"] < crown["feed_head_m"]
    # A hole's flow goes with the root of its head, a jet nearly with the head: half of the difference in height.
    spread = (crown["highest_jet_m"] - crown["lowest_jet_m"]) / crown["mean_jet_m"]
    assert crown["flow_spread"] == pytest.approx(spread / 2, rel=0.1)
    outlet = next(station for station in found["moment"]["stations"] if station["name"] == "outlet")
    assert outlet["value"] > 0
    assert "rawn_1961" in found["sources"]
    assert [note["pointer"] for note in found["assumptions"] if note["code"] == "crown_lowest"] == ["#/outlet/feed"]
