"""What the budget says of pumps known by their power, or that hold their speed, beside sizing them afresh with one thing off."""

import numpy as np
import pytest

from sizing.design.reading import read_design
from sizing.fountain.components import fountain_of
from sizing.operation.operating_point import flow_alone, solve_grid
from sizing.report.report import Report, size
from tests.power_pumps import PUMPS, with_pump

every_shape = pytest.mark.parametrize("shape", PUMPS)


def water(report: Report, document: dict, light: float = 1.0) -> float:
    """The year's water [m3] of a design under the sun of a report, with so many times the light."""
    fountain = fountain_of(read_design(document))
    solved = solve_grid(fountain.supply, fountain.pump, fountain.waterway)
    sun, air = report.sun, report.sky.air_temperature
    flow = flow_alone(solved, light * sun.effective, air + light * (sun.cell_temperature - air))
    return float(flow.sum()) * 86400 / report.sky.steps_per_day


def changed(document: dict, head: float, flow: float) -> dict:
    """The pump with all its published heads and flows times factors."""
    pump = document["pumps"][0]
    for row in [*pump.get("points", ()), *pump.get("power_points", ())]:
        row["head_m"] *= head
        row["flow_l_per_min"] *= flow
    for name, by in (("max_head_m", head), ("max_flow_l_per_min", flow)):
        if name in pump:
            pump[name] *= by
    return document


@every_shape
@pytest.mark.parametrize("key", ["sky", "pump_flow", "pump_head"])
def test_a_cause_does_what_a_fresh_sizing_with_it_off_does(shape: str, key: str) -> None:
    """Within 8 % of the larger of both effects, or 0.4 % of the year's water where the steps that count are few."""
    report = size(read_design(with_pump(shape)))
    at = [cause.key for cause in report.how_sure.causes].index(key)
    off = report.how_sure.causes[at].above
    moved = []
    for sign in (-1, 1):
        size_of = 1 + sign * off
        if key == "sky":
            moved.append(water(report, with_pump(shape), size_of))
        else:
            factors = (size_of, 1.0) if key == "pump_head" else (1.0, size_of)
            moved.append(water(report, changed(with_pump(shape), *factors)))
    change = np.array(moved) - water(report, with_pump(shape))
    square = float(np.mean(change**2)) ** 0.5
    found = float(((report.how_sure.year.below[at] ** 2 + report.how_sure.year.above[at] ** 2) / 2) ** 0.5)
    assert found == pytest.approx(square, rel=0.08, abs=0.004 * report.year.water)


@every_shape
def test_a_month_lies_inside_or_near_its_likely_range(shape: str) -> None:
    """What is left unsaid at its better end (the nozzle) may put a month above its range, by a tenth at most."""
    report = size(read_design(with_pump(shape)))
    for month, low, high in zip(report.year.months, *report.water_band, strict=True):
        assert 0.9 * low <= month.water * month.days <= 1.15 * high
