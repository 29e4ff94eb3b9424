"""The front door: what is taken as a design, and DataFrames that agree with sums made apart."""

import json
import math
import subprocess
import sys
from collections import defaultdict
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

import sizing
from sizing import Design, compare, orient, read_design, size
from sizing.foundation.errors import InputError, SizingError
from sizing.notebook.results import Sized
from tests.asking import changed

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = ROOT / "examples"
JET = EXAMPLES / "quince_court_jet.json"
NAMES = ("quince_court_jet", "terrace_spillway", "fern_bubbler", "weather_file_jet")


@pytest.fixture(scope="module")
def results() -> dict[str, Sized]:
    return {name: size(EXAMPLES / f"{name}.json") for name in NAMES}


def plan() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(JET.read_text(encoding="utf-8"))
    return found


# What is taken as a design


def test_one_design_however_it_is_given() -> None:
    text = JET.read_text(encoding="utf-8")
    given = (JET, str(JET), text, "\n " + text, text.encode(), plan())
    (first, *others) = (read_design(each) for each in given)
    assert isinstance(first, Design)
    assert all(other == first for other in others)
    assert read_design(first) is first


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        ("nowhere.json", "nowhere.json: there is no such file; check the name and the folder"),
        (EXAMPLES, f"{EXAMPLES}: this is a folder; name a design file in it"),
        ("a\0b", "a\0b: this cannot be read as a file; check the name"),
        ("{", "the design file is not JSON (line 1, column 2); it may have been cut off or edited; save it again"),
        ("[1]", "a design file holds one object and a list was given; start from one of the examples"),
        (7, "a design file holds one object and 7 was given; start from one of the examples"),
    ],
)
def test_what_is_no_design_is_told_in_one_sentence(given: Any, sentence: str) -> None:
    with pytest.raises(InputError) as told:
        read_design(given)
    assert str(told.value) == sentence


def test_a_wrong_value_is_told_by_the_name_of_its_file(tmp_path: Path) -> None:
    path = tmp_path / "garden.json"
    path.write_text(json.dumps(changed(plan(), "pipe/length_m", -1)), encoding="utf-8")
    with pytest.raises(InputError) as told:
        read_design(path)
    (problem,) = told.value.problems
    assert problem.pointer == "#/pipe/length_m"
    assert problem.detail.startswith(f"{path}: pipe length is -1")


def test_a_weather_file_is_looked_for_beside_the_design_or_where_it_is_said(results: dict[str, Sized]) -> None:
    data = json.loads((EXAMPLES / "weather_file_jet.json").read_text(encoding="utf-8"))
    with pytest.raises(SizingError):
        size(data)
    assert size(data, EXAMPLES).answer.year == results["weather_file_jet"].answer.year


# Months and steps


@pytest.mark.parametrize("name", NAMES)
def test_the_steps_add_up_to_the_months(name: str, results: dict[str, Sized]) -> None:
    """Added up one by one: litres are flow by time, playing hours are steps with flow, sun is power by time."""
    steps, months = results[name].steps, results[name].months
    minutes = 365 * 24 * 60 / len(steps)
    litres, hours, sun = (defaultdict(list) for _ in range(3))
    for month, flow, poa in zip(steps["month"], steps["flow_l_per_min"], steps["poa_w_per_m2"], strict=True):
        litres[month].append(flow * minutes)
        sun[month].append(poa * minutes / 60 / 1000)
        hours[month].append(minutes / 60 if flow > 0 else 0.0)
    for month, row in months.iterrows():
        assert math.fsum(litres[month]) == pytest.approx(row["water_l_per_day"] * row["days"], rel=1e-9)
        assert math.fsum(hours[month]) == pytest.approx(row["running_h_per_day"] * row["days"], rel=1e-9)
        assert math.fsum(sun[month]) == pytest.approx(row["poa_kwh_per_m2_day"] * row["days"], rel=1e-9)


@pytest.mark.parametrize("name", NAMES)
def test_the_steps_are_a_year_in_order(name: str, results: dict[str, Sized]) -> None:
    steps = results[name].steps
    per_day = len(steps) // 365
    dates = pd.to_datetime("2027-" + steps["month"].astype(str) + "-" + steps["day"].astype(str), format="%Y-%m-%d")
    assert dates.diff().dropna().value_counts().to_dict() == {
        pd.Timedelta(0): 365 * (per_day - 1),
        pd.Timedelta(days=1): 364,
    }  # 2027 has 365 days
    assert steps["time_h"].between(0, 24, inclusive="left").all()
    assert (steps.loc[steps["state"] == "night", "irradiance_w_per_m2"] == 0).all()
    assert (steps.loc[~steps["state"].isin(["plays", "over_voltage"]), "flow_l_per_min"] == 0).all()
    assert (steps["poa_w_per_m2"] >= 0).all()


def test_the_hours_of_each_state_are_those_of_its_steps(results: dict[str, Sized]) -> None:
    for result in results.values():
        counted = result.steps["state"].value_counts()
        for state, hours in result.answer.year.hours_by_state.items():
            assert counted[state] * 8760 / len(result.steps) == pytest.approx(hours)


def test_what_is_not_known_is_not_available_and_never_nan(results: dict[str, Sized]) -> None:
    for name, result in results.items():
        for frame in (result.months, result.steps):
            for column in frame.columns:
                if str(frame[column].dtype) == "float64":
                    assert not frame[column].isna().any(), (name, column)
        assert result.months["jet_height_m"].isna().all() == (name == "terrace_spillway")
        assert result.steps["jet_height_m"].isna().all() == (name == "terrace_spillway")
    dry = size(changed(plan(), "outlet/height_above_water_m", 9)).months
    assert all(value is pd.NA for value in dry["first_hour"])
    assert (dry["dry_days"] == dry["days"]).all()


def test_a_column_names_its_unit(results: dict[str, Sized]) -> None:
    units = ("_h", "_w_per_m2", "_c", "_v", "_a", "_l_per_min", "_m")
    without = {"month", "day", "state"}
    assert all(name in without or name.endswith(units) for name in results["quince_court_jet"].steps.columns)


# Pairs and planes


def test_a_pair_is_what_sizing_it_alone_gives() -> None:
    data = json.loads((EXAMPLES / "orchard_choice.json").read_text(encoding="utf-8"))
    pairs = compare(data).pairs
    assert len(pairs) == len(data["panels"]) * len(data["pumps"])
    for _, pair in pairs.head(3).iterrows():
        outlet = data["outlet"] | {"bore_mm": pair["nozzle_bore_mm"]}
        alone = size({**data, "outlet": outlet, "chosen": {"panel": pair["panel"], "pump": pair["pump"]}})
        assert math.fsum(alone.steps["flow_l_per_min"]) * 15 == pytest.approx(pair["water_l"], rel=1e-9)
        assert (alone.steps["flow_l_per_min"] > 0).sum() / 4 == pytest.approx(pair["running_h"])
    assert [pair.water_l for pair in compare(data).answer.pairs] == pairs["water_l"].tolist()
    assert pairs["price"].dtype == "Float64"
    prices = {part["id"]: part.get("price") for part in (*data["panels"], *data["pumps"])}
    for _, pair in pairs.iterrows():
        assert (pair["price"] is pd.NA) == (None in (prices[pair["panel"]], prices[pair["pump"]]))


def test_a_plane_is_what_sizing_it_alone_gives() -> None:
    found = orient(JET)
    planes = found.planes
    assert planes["sun_kwh_per_m2"].max() == max(map(max, found.answer.grid.sun_kwh_per_m2))
    assert len(planes) == len(planes[["tilt_deg", "azimuth_deg"]].drop_duplicates())
    plane = planes[(planes["tilt_deg"] == 35) & (planes["azimuth_deg"] == 140)].iloc[0]
    data = plan()
    mounting = {name: value for name, value in data["mounting"].items() if name not in ("azimuth_deg", "compass_deg")}
    alone = size({**data, "mounting": {**mounting, "tilt_deg": 35, "azimuth_deg": 140}})
    # the search works in single precision and by a table: within 0.3 % of a plane's own
    assert alone.answer.year.water_l == pytest.approx(plane["year_water_l"], rel=0.003)
    assert alone.answer.year.poa_kwh_per_m2 == pytest.approx(plane["sun_kwh_per_m2"], rel=1e-5)


# What is shown


def test_results_are_short_and_safe_to_show() -> None:
    data = changed(plan(), "title", "<script>alert(1)</script>")
    for result in (size(data), compare(data), orient(data)):
        text, shown = repr(result), result._repr_html_()
        assert "\n" not in text
        assert len(text) < 300
        assert "<script>" not in shown
        assert "&lt;script&gt;" in shown
        assert shown.count("<table>") == shown.count("</table>") == 1
    assert size(data)._repr_html_().count("<tr>") == 13


# The door itself


def test_the_door_offers_its_names_and_no_other() -> None:
    assert set(sizing.__all__) <= set(dir(sizing))
    with pytest.raises(AttributeError, match="has no attribute 'sise'"):
        _ = sizing.sise  # type: ignore[attr-defined]


def test_a_room_is_used_without_the_whole_house() -> None:
    script = "import sys, sizing.foundation; print(sorted({'pandas', 'pvlib', 'pydantic', 'scipy'} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, cwd=ROOT, check=True)
    assert done.stdout.strip() == "[]"
