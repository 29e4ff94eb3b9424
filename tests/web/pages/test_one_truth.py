"""Every page, the report, the answers and the command say the same of the same basin, jet, motor and goal.

The values are taken out of each by code and compared with one another; the oracle is that they agree.
"""

import json
from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from api.command.printed import report_text
from sizing.comparison.comparison import compare
from sizing.design.reading import read_design
from sizing.foundation.errors import SizingError
from sizing.foundation.formats import length
from sizing.installation.building import Building, building_of
from sizing.money.answer import BuildingAnswer
from sizing.money.ten_years import bought
from sizing.report import jets_sentence, running_words, sizing_answer
from sizing.report.report import Report, size
from tests.asking import ROOT
from tests.conftest import change
from tests.draws import drawn
from web.forms.form import texts_of
from web.pages.report.report_page import report_content
from web.pages.results.pictures import drawing
from web.pages.results.results_page import results_content

EXAMPLES = ROOT / "examples"
DESIGNS: dict[str, tuple[str, dict[str, Any]]] = {
    **{path.stem: (path.stem, {}) for path in sorted(EXAMPLES.glob("*.json"))},
    "small basin": ("quince_court_jet", {"/basin": {"diameter_m": 0.9, "depth_m": 0.2}}),
    "rectangle": (
        "quince_court_jet",
        {"/basin": {"length_m": 2.7, "width_m": 1.9, "depth_m": 0.35}, "/pumps/0/motor_kind": "brushed"},
    ),
    "dry winter": ("quince_court_jet", {"/pumps/0/lowest_voltage_v": 9}),
    "never plays": ("quince_court_jet", {"/outlet/height_above_water_m": 9}),
    "far south": ("orchard_choice", {"/place/latitude_deg": -41.2, "/mounting/azimuth_deg": 10, "/outlet/bore_mm": 5}),
}


@cache
def built(name: str) -> Building:
    stem, changes = DESIGNS[name]
    data = json.loads((EXAMPLES / f"{stem}.json").read_text(encoding="utf-8"))
    for pointer, value in changes.items():
        change(data, pointer, value)
    return building_of(size(read_design(data), EXAMPLES))


def sized(name: str) -> Report:
    return built(name).report


@pytest.mark.parametrize("name", DESIGNS)
def test_one_basin(name: str) -> None:
    found, report = built(name), sized(name)
    given = report.design.basin
    answer, long = sizing_answer(report).basin, BuildingAnswer.of(found).basin
    assert answer.given == long.given == found.basin.given == (given is not None)
    assert answer.depth_m == long.depth_m == found.basin.depth
    assert sorted((answer.length_m, answer.width_m)) == sorted((long.length_m, long.width_m))
    assert answer.falls_inside == long.falls_inside
    assert answer.highest_water_m == long.highest_water_m
    drawn = {row[0]: row[1] for row in drawing(report).table.rows}
    assert drawn["Water deep"] == length(long.depth_m)
    assert drawn["Basin across"] in {length(long.length_m), length(long.width_m)}
    told = "beyond_the_rim" in [note.code for note in report.warnings]
    assert told == (long.falls_inside is False)
    if given is not None:
        assert long.depth_m == given.depth_m
        assert {side for side in (given.diameter_m, given.length_m, given.width_m) if side} == {long.length_m, long.width_m}


@pytest.mark.parametrize("name", DESIGNS)
def test_one_jet_by_each_name(name: str) -> None:
    report = sized(name)
    answer = sizing_answer(report)
    texts = texts_of(report.design)
    pages = (results_content(report, texts), report_content(report, texts, None))
    if answer.jets is None:
        assert report.design.outlet.kind == "spillway"
        assert [page["jets"] for page in pages] == ["", ""]
        return
    jets, month = answer.jets, answer.months[answer.jets.month - 1]
    assert jets.usual_m == month.jet_height_m == answer.how_sure.months[month.month - 1].jet_height_m
    assert answer.usual_day.jet_height_m is not None
    assert jets.usual_m == max(answer.usual_day.jet_height_m[month.month - 1])
    outlet = [station for station in answer.moment.stations if station.name == "outlet"]
    assert jets.clear_m == pytest.approx(outlet[0].value if outlet else 0.0, rel=1e-9)
    drawn = {row[0]: row[1] for row in drawing(report).table.rows}
    assert drawn["Jet now, above the outlet"] == length(jets.clear_m)
    assert drawn["Highest jet of the year, above the outlet"] == length(jets.highest_m)
    assert jets.highest_m >= max(jets.usual_m, 0.99 * jets.clear_m)
    assert {page["jets"] for page in pages} == {jets.sentence, jets_sentence(report.jets)}
    if report.basin.top and getattr(report.design.outlet, "feed", None) is None:
        assert report.basin.top == pytest.approx(report.fountain.waterway.outlet.height + jets.highest_m)
    assert "".join(jets.sentence.split()) in "".join(report_text(answer).split())


@pytest.mark.parametrize("name", [name for name in DESIGNS if DESIGNS[name][0] == "orchard_choice"])
def test_the_pair_that_is_sized_is_the_one_that_is_compared(name: str) -> None:
    report = sized(name)
    found = compare(report.design, EXAMPLES)
    assert report.design.chosen is not None
    own = next(
        each
        for each in found.pairs
        if (each.pair.panel, each.pair.pump) == (report.design.chosen.panel, report.design.chosen.pump)
        and each.pair.connection == report.design.connection.kind
    )
    assert own.water == pytest.approx(report.year.water, rel=1e-9)
    assert own.noon_jet is not None
    for month, jet in own.noon_jet.items():
        assert jet == pytest.approx(float(report.year.usual_jet[month - 1, 12]), rel=1e-9)
    assert own.goal is not None
    assert report.goal is not None
    assert own.goal.met == report.goal.met
    assert own.goal.day_share == report.goal.day_share


@pytest.mark.parametrize("name", DESIGNS)
def test_one_motor(name: str) -> None:
    found, report = built(name), sized(name)
    kind = report.fountain.pump_input.motor_kind
    asked = "motor_kind" in [each.code for each in sizing_answer(report).questions]
    assert asked == (kind in (None, "not_known"))
    often = [(each.least, each.most) for each in bought(found).ten.replacements if each.name == report.fountain.pump_input.name]
    if kind == "brushless":
        assert all(least == most for least, most in often)


@pytest.mark.parametrize("name", DESIGNS)
def test_a_mean_day_is_that_of_the_months_that_run(name: str) -> None:
    report, year = sized(name), sizing_answer(sized(name)).year
    dry = [month for month in range(1, 13) if report.year.usual_flow[month - 1].max() <= 0]
    assert sorted({*year.running_months, *dry}) == list(range(1, 13))
    running = [month for month in sizing_answer(report).months if month.month in year.running_months]
    days = sum(month.days for month in running)
    water = sum(month.water_l_per_day * month.days for month in running)
    assert year.running_water_l_per_day * days == pytest.approx(water, rel=1e-9)
    words = running_words(year.running_months)
    assert bool(words) == (0 < len(running) < 12)
    sure = results_content(report, texts_of(report.design))["sure"]
    assert not words or words in sure.sentences[0]


@drawn(24)
@given(
    stem=st.sampled_from(["quince_court_jet", "terrace_spillway", "fern_bubbler"]),
    across=st.none() | st.floats(0.3, 8),
    rise=st.floats(0.02, 1.5),
    latitude=st.floats(-55, 60),
    motor=st.sampled_from([None, "brushed", "brushless", "not_known"]),
)
def test_random_designs_have_one_basin_one_jet_and_one_motor(
    stem: str, across: float | None, rise: float, latitude: float, motor: str | None
) -> None:
    data = json.loads((EXAMPLES / f"{stem}.json").read_text(encoding="utf-8"))
    data["basin"] = None if across is None else {"diameter_m": across, "depth_m": 0.3}
    data["outlet"]["height_above_water_m"] = rise
    data["pumps"][0]["motor_kind"] = motor
    data["place"] |= {"latitude_deg": latitude, "time_zone": None}
    try:
        report = size(read_design(data))
    except SizingError:
        return
    answer, found = sizing_answer(report), building_of(report)
    assert (answer.basin.length_m, answer.basin.depth_m) == (found.basin.length, found.basin.depth)
    assert answer.basin.falls_inside == found.basin.falls_inside
    assert ("beyond_the_rim" in [note.code for note in answer.warnings]) == (answer.basin.falls_inside is False)
    assert {row[0]: row[1] for row in drawing(report).table.rows}["Basin across"] == length(found.basin.width)
    if answer.jets is not None and answer.basin.falls_inside is not None:
        assert answer.jets.usual_m == answer.months[answer.jets.month - 1].jet_height_m
        assert answer.basin.highest_water_m == pytest.approx(rise + answer.jets.highest_m)
    assert ("motor_kind" in [each.code for each in answer.questions]) == (motor not in ("brushed", "brushless"))
