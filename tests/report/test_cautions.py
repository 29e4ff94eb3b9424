"""Each warning appears for the designs that earn it and for no others, with the number that says why."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from sizing.design.reading import read_design
from sizing.foundation.errors import Note
from sizing.foundation.formats import NARROW_SPACE, SPACE, duration, quantity
from sizing.operation.operating_point import State
from sizing.report.cautions import (
    VOLTAGE_DOUBT,
    beside_limit,
    cable_caution,
    coldest_open_circuit,
    curve_caution,
    dry_caution,
    start_caution,
)
from sizing.report.report import Report, size

Build = Callable[..., dict[str, Any]]

TAMALE = {"/place/latitude_deg": 9.4, "/place/longitude_deg": -0.85, "/place/skyline": []}
SHORT_CURVE = [
    {"flow_l_per_min": 0, "head_m": 1.8, "current_a": 0.42},
    {"flow_l_per_min": 3, "head_m": 1.6, "current_a": 0.48},
    {"flow_l_per_min": 6, "head_m": 1.18, "current_a": 0.55},
]
CONTROLLER = {"kind": "controller", "efficiency_pct": 92}

RING = {"kind": "ring", "size_m": 0.8, "inside_diameter_mm": 13}
ROW = {"kind": "row", "size_m": 6.0, "inside_diameter_mm": 9}
DESIGNS: dict[str, tuple[dict[str, object], list[str]]] = {
    "an even ring": ({"/outlet/count": 6, "/outlet/bore_mm": 2, "/outlet/feed": RING}, []),
    "a long thin row": ({"/outlet/count": 8, "/outlet/bore_mm": 3, "/outlet/feed": ROW}, ["crown_uneven"]),
    "as it stands": ({}, []),
    "no highest voltage known": ({"/pumps/0/highest_voltage_v": ...}, ["highest_voltage_unknown"]),
    "pump for 12 V only": ({"/pumps/0/highest_voltage_v": 13}, ["over_voltage"]),
    "runs within, stands above": ({"/pumps/0/highest_voltage_v": 20}, ["standing_voltage"]),
    "a controller holds the voltage": ({"/pumps/0/highest_voltage_v": 13, "/connection": CONTROLLER}, []),
    "two panels in series": (
        {"/panels/0/in_series": 2, "/pumps/0/highest_voltage_v": ...},
        ["highest_voltage_unknown", "above_wet_limit"],
    ),
    "two in series at a controller": ({"/panels/0/in_series": 2, "/connection": CONTROLLER}, ["above_wet_limit"]),
    "two in series on a 16 V pump": (
        {"/panels/0/in_series": 2, "/pumps/0/highest_voltage_v": 16},
        ["over_voltage", "above_wet_limit"],
    ),
    "two in parallel": ({"/panels/0/in_parallel": 2}, []),
    "a long thin cable": ({"/cable/length_m": 38, "/cable/area_mm2": 0.75}, ["cable_drop"]),
    "a long thick cable": ({"/cable/length_m": 38, "/cable/area_mm2": 4}, []),
    "a curve that ends early": ({"/pumps/0/points": SHORT_CURVE}, ["beyond_curve"]),
    "a curve that ends early, little flow": ({"/pumps/0/points": SHORT_CURVE, "/outlet/bore_mm": 3}, []),
    "a small panel": (
        {"/panels/0/imp_a": 0.4, "/panels/0/isc_a": 0.43, "/place/skyline": [], **TAMALE, "/pumps/0/lowest_voltage_v": 10},
        ["late_start"],
    ),
    "dry in winter": ({"/pumps/0/lowest_voltage_v": 10.5}, ["dry_months"]),
    "never plays": ({"/outlet/height_above_water_m": 9}, []),
    "a basin as wide as its jet is high": ({"/basin": {"diameter_m": 1.0, "depth_m": 0.3}}, ["beyond_the_rim"]),
    "a wide basin": ({"/basin": {"diameter_m": 4.0, "depth_m": 0.3}}, []),
    "thin climate data": (
        {
            "/place/latitude_deg": -36.9,
            "/place/longitude_deg": -77.7,
            "/place/skyline": [],
            "/mounting/azimuth_deg": 0,
            "/place/time_zone": ...,
        },
        ["thin_climate_data"],
    ),
}


@pytest.fixture(scope="module")
def sized(example: Build) -> Callable[..., Report]:
    return lambda changes=None: size(read_design(example(changes)))


@pytest.mark.some(8)
@pytest.mark.parametrize("name", DESIGNS)
def test_each_design_earns_its_warnings_and_no_others(name: str, sized: Callable[..., Report]) -> None:
    changes, codes = DESIGNS[name]
    found = sized(changes).warnings
    assert [note.code for note in found] == codes
    assert all(note.severity == "warning" for note in found)


def only(report: Report, code: str) -> Note:
    (note,) = [note for note in report.warnings if note.code == code]
    return note


def plain(text: str) -> str:
    return text.replace(SPACE, " ").replace(NARROW_SPACE, " ")


def test_over_voltage_hours_are_those_of_the_year(sized: Callable[..., Report]) -> None:
    report = sized({"/pumps/0/highest_voltage_v": 13})
    hours = report.year.hours_by_state[State.OVER_VOLTAGE]
    assert hours == pytest.approx(float(np.sum(report.operation.voltage > 13)) / 4)
    note = only(report, "over_voltage")
    assert f"above its highest voltage of 13 V for about {plain(duration(hours))} a year" in plain(note.detail)
    assert note.pointer == "#/pumps/0/highest_voltage_v"


def test_the_voltage_on_a_standing_pump(sized: Callable[..., Report]) -> None:
    report = sized({"/pumps/0/highest_voltage_v": 20})
    dawn = report.cold.lowest
    # 21.7 V loses 0.33 % for each degree above 25 °C.
    expected = 21.7 * (1 - 0.0033 * (dawn - 25))
    assert coldest_open_circuit(report.fountain, report.cold) == pytest.approx(expected, rel=1e-9)
    assert expected > 23
    note = only(report, "standing_voltage")
    assert f"can put {plain(quantity(expected, 'V'))} on it on a cold clear morning" in plain(note.detail)
    assert "highest voltage of 20 V" in plain(note.detail)


def test_standing_voltage_is_told_from_the_volt_on(sized: Callable[..., Report]) -> None:
    report = sized()
    cold = coldest_open_circuit(report.fountain, report.cold)
    below = sized({"/pumps/0/highest_voltage_v": cold - 0.01})
    near = sized({"/pumps/0/highest_voltage_v": cold + 0.01})
    above = sized({"/pumps/0/highest_voltage_v": cold * (1 + VOLTAGE_DOUBT) + 0.01})
    assert [note.code for note in below.warnings] == ["standing_voltage"]
    assert [note.code for note in near.warnings] == ["standing_voltage_near"]
    assert above.warnings == ()


def test_nobody_says_below_within_the_doubt_of_the_label() -> None:
    assert [beside_limit(volts, 30.0) for volts in (30.01, 30.0, 29.2, 29.1)] == ["above", "too_near", "too_near", "below"]


def test_typed_cold_moves_the_voltage(sized: Callable[..., Report]) -> None:
    mild, hard = sized({"/place/coldest_air_c": -5}), sized({"/place/coldest_air_c": -30})
    # 21.7 V loses 0.33 % for each degree above 25 °C.
    assert coldest_open_circuit(mild.fountain, mild.cold) == pytest.approx(21.7 * (1 + 0.0033 * 30))
    assert coldest_open_circuit(hard.fountain, hard.cold) == pytest.approx(21.7 * (1 + 0.0033 * 55))


def test_the_wet_limit_counts_panels_in_series(sized: Callable[..., Report]) -> None:
    report = sized({"/panels/0/in_series": 2, "/pumps/0/highest_voltage_v": ...})
    one = coldest_open_circuit(sized().fountain, report.cold)
    note = only(report, "above_wet_limit")
    assert f"reaches {plain(quantity(2 * one, 'V'))} on a cold clear day, above the 30 V" in plain(note.detail)
    assert "a licensed installer must look at this design, and local code decides" in note.detail
    assert note.pointer == "#/panels/0"


def test_what_the_cable_keeps(sized: Callable[..., Report]) -> None:
    report = sized({"/cable/length_m": 38, "/cable/area_mm2": 0.75})
    # Out and back at 40 °C: 2 x 38 x 0.026 x 1.0786 = 2.1313 ohm.
    operation = report.operation
    strongest = int(np.argmax(operation.current * (operation.flow > 0)))
    drop = 2.1313 * float(operation.current[strongest])
    share = 100 * drop / (float(operation.voltage[strongest]) + drop)
    assert share > 5
    assert f"keeps up to {drop:.1f} V ({share:.2g} %)" in plain(only(report, "cable_drop").detail)


def test_the_cable_is_told_above_five_per_cent(sized: Callable[..., Report]) -> None:
    report = sized()
    operation = report.operation
    strongest = int(np.argmax(operation.current * (operation.flow > 0)))
    volts, amperes = float(operation.voltage[strongest]), float(operation.current[strongest])
    for share, told in ((0.0499, False), (0.0501, True)):
        supply = replace(report.fountain.supply, cable_resistance=share / (1 - share) * volts / amperes)
        note = cable_caution(replace(report.fountain, supply=supply), operation)
        assert (note is not None) == told


def test_share_of_time_beyond_the_curve(sized: Callable[..., Report]) -> None:
    report = sized({"/pumps/0/points": SHORT_CURVE})
    playing = report.operation.flow > 0
    # At the last point the pump ran at speed ratio 1: beyond it are the moments with more than 6 L/min over the speed ratio.
    beyond = report.operation.flow[playing] / report.operation.speed[playing] > 6.006 / 60_000
    assert 0 < beyond.mean() < 1
    text = plain(only(report, "beyond_curve").detail)
    assert text.startswith(f"For {100 * beyond.mean():.2g} % of its playing time")
    assert "(6 L/min at rated speed)" in text


def test_a_curve_down_to_no_head_is_never_left(sized: Callable[..., Report]) -> None:
    report = sized()
    assert curve_caution(report.fountain, report.operation) is None


@pytest.mark.parametrize(("sun", "told"), [(None, False), (0.0, False), (600.0, False), (601.0, True), (1199.0, True)])
def test_a_late_start(sun: float | None, told: bool) -> None:
    note = start_caution(sun)
    assert (note is not None) == told
    if note is not None:
        assert plain(quantity(sun or 0, "W/m2", 2)) in plain(note.detail)


@pytest.mark.parametrize(
    ("dry", "words"),
    [
        ({}, None),
        ({1: 15}, None),  # 15 of 31 days are not most
        ({1: 16}, "It stays dry on most days in January."),
        ({11: 16, 12: 31, 1: 20}, "It stays dry on most days in November to January."),
        (dict.fromkeys(range(1, 13), 31), None),  # the verdict says so
    ],
)
def test_dry_months_are_those_dry_on_most_days(dry: dict[int, int], words: str | None, sized: Callable[..., Report]) -> None:
    year = sized().year
    months = tuple(replace(month, dry_days=min(dry.get(month.month, 0), month.days)) for month in year.months)
    note = dry_caution(replace(year, months=months))
    assert (None if note is None else note.detail) == words
