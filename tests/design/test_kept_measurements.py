"""What a design keeps of measurements: limits, sentences, the way through the form and back, and what it does to the ranges."""

import json
from pathlib import Path
from typing import Any

import pytest

from sizing.design.reading import read_design
from sizing.foundation.errors import InputError
from sizing.report.report import size
from sizing.uncertainty.causes import Cause, causes_of
from web.forms.form import texts_of, understand

EXAMPLE = json.loads((Path(__file__).parents[2] / "examples" / "quince_court_jet.json").read_text(encoding="utf-8"))
BENCH = {
    "date": "2026-05-31",
    "readings": 24,
    "head_uncertainty_pct": 1.7,
    "flow_uncertainty_pct": 2.3,
    "winding_uncertainty_ohm": 0.13,
    "no_load_uncertainty_a": 0.019,
}
LOOK = {"day": "2027-06-02", "clock_hour": 12.4, "panel_voltage_v": 12.7, "flow_l_per_min": 5.3}


def with_measurements(bench: dict[str, Any] | None = BENCH, looks: tuple[dict[str, Any], ...] = (LOOK,)) -> dict[str, Any]:
    data = json.loads(json.dumps(EXAMPLE))
    if bench is not None:
        data["pumps"][0]["measured"] = bench
        data["pumps"][0] |= {"winding_resistance_ohm": 1.3, "no_load_current_a": 0.11}
    return data | {"measurements": list(looks)}


def test_the_form_carries_measurements_both_ways() -> None:
    design = read_design(with_measurements(looks=(LOOK, {**LOOK, "day": "2028-05-30", "sky": "haze"})))
    found = understand(texts_of(design))
    assert not found.errors
    assert found.design is not None
    assert found.design.measurements == design.measurements
    assert found.design.pumps == design.pumps


@pytest.mark.parametrize(
    ("change", "pointer", "words"),
    [
        ({"day": "2027-02-31"}, "#/measurements/0/day", "no calendar"),
        ({"day": "0001-01-01"}, "#/measurements/0/day", "from 2000 to 2100"),
        ({"clock_hour": 24.5}, "#/measurements/0/clock_hour", "between 0 and 24"),
        ({"panel_voltage_v": None, "flow_l_per_min": None}, "#/measurements/0/panel_voltage_v", "holds no reading"),
        ({"sky": "wet"}, "#/measurements/0/sky", "clear"),
        ({"who": "anybody"}, "#/measurements/0/who", "who"),
    ],
)
def test_a_record_that_cannot_be_is_refused_with_its_place(change: dict[str, Any], pointer: str, words: str) -> None:
    with pytest.raises(InputError) as caught:
        read_design(with_measurements(looks=({**LOOK, **change},)))
    (problem,) = caught.value.problems
    assert problem.pointer == pointer
    assert words in problem.detail


def test_a_bench_test_needs_points() -> None:
    data = with_measurements()
    points = data["pumps"][0].pop("points")
    data["pumps"][0] |= {"max_head_m": points[0]["head_m"], "max_flow_l_per_min": 9.3, "rated_current_a": 0.9}
    with pytest.raises(InputError, match="bench test is given for a pump without points"):
        read_design(data)


def test_the_ranges_of_a_measured_pump_are_those_of_its_bench_test() -> None:
    def causes(data: dict[str, Any]) -> dict[str, Cause]:
        report = size(read_design(data))
        return {cause.key: cause for cause in causes_of(report.design, report.fountain, report.sky, 0.5)}

    label, bench = causes(with_measurements(None)), causes(with_measurements())
    assert (bench["pump_head"].below, bench["pump_flow"].above) == (0.017, 0.023)  # as typed above
    assert (bench["winding"].below, bench["no_load"].above) == (0.13, 0.019)
    assert all(label[key] == bench[key] for key in ("sky", "soiling", "panel", "fittings", "bore"))
    assert "24 readings" in bench["pump_flow"].basis
    assert "2026-05-31" in bench["winding"].basis


def test_measured_values_of_the_motor_say_so_in_the_working() -> None:
    report = size(read_design(with_measurements()))
    found = {part.name: part for station in report.moment.stations for root in station.roots for part in below(root)}
    assert {found[name].basis for name in ("winding_resistance", "no_load_current")} == {"measured"}


def below(part: Any) -> list[Any]:
    return [part, *(deeper for _, each in part.inputs for deeper in below(each))]
