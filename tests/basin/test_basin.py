"""The basin of a finished sizing: sizes, where the water falls, what comes back, turnover; by hand sums and limits."""

import json
import math
from functools import lru_cache
from pathlib import Path

import pytest

from sizing.answers.shared import working_of
from sizing.basin.answer import BasinAnswer
from sizing.basin.basin import Basin, basin_of
from sizing.basin.sentences import shape_words
from sizing.design.design import Design
from sizing.design.reading import read_design
from sizing.foundation.formats import NARROW_SPACE, SPACE
from sizing.foundation.sources import SOURCES
from sizing.fountain.basin_under import proposed_basin, to_the_next_ten_centimetres
from sizing.hydraulic.spillway import sheet_thickness, sheet_throw
from sizing.report.report import Report, size

FOLDER = Path(__file__).resolve().parents[2] / "examples"
STEMS = sorted(path.stem for path in FOLDER.glob("*.json"))
ROUND = {"diameter_m": 1.7, "depth_m": 0.37}


def plain(text: str) -> str:
    return text.replace(SPACE, " ").replace(NARROW_SPACE, " ")


@lru_cache
def sized(stem: str, changes: str = "{}") -> Report:
    document = json.loads((FOLDER / f"{stem}.json").read_text(encoding="utf-8"))
    design: Design = read_design(document | json.loads(changes))
    return size(design, FOLDER)


def with_parts(stem: str, **changes: object) -> Report:
    """An example with whole parts of the design in place of its own."""
    return sized(stem, json.dumps(changes, sort_keys=True))


AWKWARD = {
    "never plays": lambda: with_parts("quince_court_jet", outlet={"kind": "nozzle", "bore_mm": 6, "height_above_water_m": 9}),
    "tiny, long wide pipe": lambda: with_parts(
        "quince_court_jet",
        basin={"diameter_m": 0.2, "depth_m": 0.05},
        pipe={"length_m": 100, "inside_diameter_mm": 150, "fittings": []},
    ),
    "outlet at the water": lambda: with_parts(
        "fern_bubbler", outlet={"kind": "open_pipe", "height_above_water_m": 0, "inside_diameter_mm": 20}
    ),
    "deep and long": lambda: with_parts("terrace_spillway", basin={"length_m": 50, "width_m": 0.2, "depth_m": 1.5}),
}
CASES = {stem: (lambda stem=stem: sized(stem)) for stem in STEMS} | AWKWARD


@pytest.mark.some(3)
@pytest.mark.parametrize("name", CASES)
def test_whole_finite_and_unfolding(name: str) -> None:
    report = CASES[name]()
    basin = basin_of(report)
    assert BasinAnswer.of(basin).volume_l == pytest.approx(1000 * basin.volume)
    assert basin.given == (report.design.basin is not None)
    assert 0 <= basin.usable_volume <= basin.volume
    assert basin.freeboard > basin.rise >= 0
    assert basin.lowest_level <= basin.depth
    sentences = (basin.jet_check, basin.held_sentence, basin.turnover_sentence, *basin.notes, *basin.assumptions)
    assert all(text[0].isupper() and text.endswith(".") for text in sentences)
    for step in working_of(basin.working):
        assert step.basis == "given" or step.source in SOURCES, step
        assert step.formula or step.method or step.basis in ("given", "assumed"), step


def test_a_round_and_a_rectangular_basin_by_hand() -> None:
    basin = basin_of(with_parts("quince_court_jet", basin=ROUND))
    # pi / 4 x 1.7^2 = 2.26980 m2; x 0.37 = 0.839827 m3; round it is pi x 1.7 = 5.34071 m.
    assert (basin.area, basin.volume, basin.rim_length) == pytest.approx((2.26980, 0.839827, 5.34071), rel=1e-5)
    assert (basin.length, basin.width, basin.depth) == (1.7, 1.7, 0.37)
    assert plain(basin.words) == "round, 1.7 m across, water 0.37 m deep"
    # The pipe of 1.2 m and 13 mm holds 0.000159279 m3; on 2.26980 m2 that is 0.0701729 mm.
    assert basin.held_back == pytest.approx(1.59279e-4, rel=1e-5)
    assert basin.rise == pytest.approx(7.01729e-5, rel=1e-5)
    assert basin.usable_volume == pytest.approx(2.26980 * (0.37 - 0.1 - 7.01729e-5), rel=1e-5)
    basin = basin_of(with_parts("quince_court_jet", basin={"length_m": 2.3, "width_m": 0.7, "depth_m": 0.31, "build": "tub"}))
    assert (basin.area, basin.volume, basin.rim_length) == pytest.approx((1.61, 0.4991, 6.0), rel=1e-12)
    assert (basin.length, basin.width, basin.build, basin.given) == (2.3, 0.7, "tub", True)
    assert plain(shape_words((2.3, 0.7), 0.31)) == basin.words.replace(SPACE, " ")


def test_the_jet_falls_inside_or_a_basin_that_would_do_is_named() -> None:
    report = sized("quince_court_jet")
    top = report.fountain.waterway.outlet.height + float(report.operation.jet.max())
    proposed = basin_of(report)
    assert not proposed.given
    assert proposed.top == top
    assert proposed.falls_inside
    assert 2 * top <= proposed.length < 2 * top + 0.1
    small = basin_of(with_parts("quince_court_jet", basin=ROUND))
    assert small.falls_inside is False
    assert f"{2 * top:.2f} m across" in plain(small.jet_check)
    assert "85 cm" in plain(small.jet_check)  # half of 1.7 m


def test_a_sheet_lands_where_falling_takes_it() -> None:
    report = sized("terrace_spillway")
    outlet, flow = report.fountain.waterway.outlet, float(report.operation.flow.max())
    # Falling 0.5 m takes sqrt(2 x 0.5 / 9.80665) = 0.319331 s, at the speed on the edge.
    edge = flow / 0.3 / float(sheet_thickness(flow, 0.3))
    assert report.basin.landing == pytest.approx(0.319331 * edge, rel=1e-5)
    assert sheet_throw(0.0191, 0.3, 0.01, 2.0) == pytest.approx(2 * sheet_throw(0.0191, 0.3, 0.01, 0.5), rel=1e-12)
    basin = basin_of(report)
    assert basin.top is None
    assert basin.falls_inside
    narrow = basin_of(with_parts("terrace_spillway", basin={"length_m": 0.25, "width_m": 0.2, "depth_m": 0.3}))
    assert narrow.falls_inside is False
    assert "30 cm along the lip" in plain(narrow.jet_check)
    shape = proposed_basin(outlet, 0.0, report.basin.landing)
    assert shape.length_m == pytest.approx(outlet.width + 0.6)  # type: ignore[union-attr]
    assert shape.width_m == 0.6


def test_a_check_valve_holds_the_pipe() -> None:
    held = basin_of(sized("weather_file_jet"))
    assert (held.held_back, held.rise, held.freeboard) == (0.0, 0.0, 0.05)
    assert "a check valve holds the pipe full" in held.held_sentence
    assert basin_of(AWKWARD["outlet at the water"]()).held_back == 0.0


def test_what_comes_back_scales_with_the_pipe_and_rises_less_in_a_wider_basin() -> None:
    def basin(length: float, across: float) -> Basin:
        pipe = {"length_m": length, "inside_diameter_mm": 13, "fittings": []}
        return basin_of(with_parts("quince_court_jet", pipe=pipe, basin={"diameter_m": across, "depth_m": 0.3}))

    one, two = basin(1.2, 1.0), basin(2.4, 1.0)
    assert two.held_back == pytest.approx(2 * one.held_back, rel=1e-12)
    assert basin(1.2, 2.0).rise == pytest.approx(one.rise / 4, rel=1e-12)


def test_turnover_is_volume_over_flow() -> None:
    report = sized("fern_bubbler")
    basin = basin_of(report)
    assert basin.turnover_hours is not None
    assert basin.turnover_hours * basin.mean_flow * 3600 == pytest.approx(basin.volume, rel=1e-12)
    assert basin.mean_flow * report.year.running_hours * 3600 == pytest.approx(report.year.water, rel=1e-12)
    assert "faster than the 1 to 2 hours" in basin.turnover_sentence
    never = basin_of(AWKWARD["never plays"]())
    assert never.turnover_hours is None
    assert never.turnover_sentence.startswith("The fountain never plays")
    assert (never.falls_inside, never.length) == (None, 1.0)


def test_deep_water_and_basins_that_are_too_small_are_told() -> None:
    deep = basin_of(AWKWARD["deep and long"]())
    assert "61 cm (24 inches) may count as a pool" in plain(deep.notes[0])
    tiny = basin_of(AWKWARD["tiny, long wide pipe"]())
    assert tiny.usable_volume == 0.0
    assert tiny.notes[0].startswith("The basin is too small")
    assert basin_of(sized("fern_bubbler")).notes == ()


def test_sizes_that_can_be_bought() -> None:
    assert [to_the_next_ten_centimetres(value) for value in (1.0, 1.001, 2.3, 0.0)] == [1.0, 1.1, 2.3, 0.0]
    assert math.isclose(to_the_next_ten_centimetres(0.1 + 0.2), 0.3)
