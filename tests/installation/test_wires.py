"""The cable of a finished sizing: sizes, drops, litres, fuse, cold voltage and limits, against tables and hand sums."""

import math
from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sizing.answers.shared import working_of
from sizing.design.design import Design
from sizing.design.reading import read_design
from sizing.electric.conductors import (
    GAUGE_SIZES,
    METRIC_SIZES,
    gauge_cable_resistance,
    gauge_size,
    metric_size,
    resistance_at_20,
    size_resistance,
    wire_gauge_area,
)
from sizing.electric.panel import current_at_voltage, maximum_power
from sizing.electric.single_diode import at_conditions
from sizing.electric.wiring import cable_resistance
from sizing.foundation.formats import NARROW_SPACE, SPACE
from sizing.foundation.sources import SOURCES
from sizing.foundation.tables import GAUGE_RESISTANCE
from sizing.installation.electric_limits import fuse_rating, licensed_reasons, voltage_limits
from sizing.installation.wires import DROP_LIMIT, Wires, drop_and_share, water_beside, wires_of
from sizing.operation.operating_point import State, operate, solve_grid
from sizing.report.cautions import coldest_open_circuit
from sizing.report.report import Report, size

ROOT = Path(__file__).resolve().parents[2]
Build = Callable[..., dict[str, Any]]
CONTROLLER = {"kind": "controller", "efficiency_pct": 92}


def plain(text: str) -> str:
    return text.replace(SPACE, " ").replace(NARROW_SPACE, " ")


@pytest.fixture(scope="module")
def design_with(example: Build) -> Callable[..., Design]:
    return lambda changes=None, name="quince_court_jet": read_design(example(changes, name))


@pytest.fixture(scope="module")
def sized(design_with: Callable[..., Design]) -> Callable[..., Report]:
    kept: dict[tuple[str, str], Report] = {}

    def size_once(changes: dict[str, object] | None = None, name: str = "quince_court_jet") -> Report:
        key = (repr(changes), name)
        if key not in kept:
            kept[key] = size(design_with(changes, name), ROOT / "examples")
        return kept[key]

    return size_once


DESIGNS: dict[str, tuple[str, dict[str, object]]] = {
    "jet": ("quince_court_jet", {}),
    "jet, long thin cable": ("quince_court_jet", {"/cable/length_m": 38, "/cable/area_mm2": 0.75}),
    "jet, odd area": ("quince_court_jet", {"/cable/length_m": 17.3, "/cable/area_mm2": 1.19}),
    "jet behind a controller": ("quince_court_jet", {"/connection": CONTROLLER}),
    "jet without length": ("quince_court_jet", {"/cable/length_m": 0}),
    "jet that never plays": ("quince_court_jet", {"/outlet/height_above_water_m": 9}),
    "the longest, thinnest, hottest": (
        "quince_court_jet",
        {"/cable/length_m": 200, "/cable/area_mm2": 0.2, "/cable/conductor_temperature_c": 90, "/panels/0/in_parallel": 8},
    ),
    "eight by eight panels": ("quince_court_jet", {"/panels/0/in_series": 8, "/panels/0/in_parallel": 8}),
    "bubbler": ("fern_bubbler", {}),
    "spillway": ("terrace_spillway", {}),
    "spillway without a controller": ("terrace_spillway", {"/connection": {"kind": "direct"}}),
    "weather file": ("weather_file_jet", {}),
}


@pytest.fixture(scope="module", params=DESIGNS)
def found(request: pytest.FixtureRequest, sized: Callable[..., Report]) -> tuple[Report, Wires]:
    name, changes = DESIGNS[request.param]
    report = sized(changes, name)
    return report, wires_of(report)


def with_resistance(report: Report, resistance: float) -> Report:
    """The report's fountain as another module joins it: whole match and operating points from the start."""
    supply = replace(report.fountain.supply, cable_resistance=resistance)
    solved = solve_grid(supply, report.fountain.pump, report.fountain.waterway)
    return replace(report, match=solved, points=operate(solved, report.strengths, report.strength_temperature))


def largest_share(report: Report, area_or_gauge: float | int) -> float:
    """Largest share at the points that count, from a match of its own."""
    cable = report.design.cable
    function = gauge_cable_resistance if isinstance(area_or_gauge, int) else cable_resistance
    resistance = function(cable.length_m, area_or_gauge, cable.conductor_temperature_c)  # type: ignore[arg-type]
    points = with_resistance(report, resistance).points
    shares = points.current * resistance / (points.voltage + points.current * resistance)
    plays = with_resistance(report, 0.0).points.flow > 0
    return float(shares[plays].max() if plays.any() else shares[-1])


# Sizes.


@pytest.mark.parametrize(
    ("gauge", "area"),
    [(18, 0.823), (16, 1.31), (14, 2.08), (12, 3.31), (10, 5.261), (8, 8.367), (6, 13.30), (4, 21.15), (2, 33.62)],
)
def test_areas_of_the_wire_gauge(gauge: int, area: float) -> None:
    # NEC chapter 9 Table 8, mm2 (18 to 8 secondary, 6 to 2 from memory).
    assert wire_gauge_area(float(gauge)) * 1e6 == pytest.approx(area, rel=2.5e-3)
    assert gauge_size(gauge).area == wire_gauge_area(float(gauge))


def test_the_gauge_at_its_two_ends() -> None:
    # By definition 36 is 0.005 inch thick and 0000, three below 0, is 0.46 inch.
    assert wire_gauge_area(36.0) == pytest.approx(math.pi / 4 * (0.005 * 0.0254) ** 2, rel=1e-12)
    assert wire_gauge_area(-3.0) == pytest.approx(math.pi / 4 * (0.46 * 0.0254) ** 2, rel=1e-12)
    # Six gauges are very nearly twice the diameter: 92^(6/39) = 2.0050.
    assert wire_gauge_area(8.0) / wire_gauge_area(14.0) == pytest.approx(2.0050**2, rel=1e-4)


@pytest.mark.parametrize(("gauge", "solid"), [(18, 7.77), (16, 4.89), (14, 3.07), (12, 1.93), (10, 1.21), (8, 0.764)])
def test_strands_resist_two_per_cent_more_than_solid_wire(gauge: int, solid: float) -> None:
    # The same table's solid column, ohm/kft at 75 Cel (secondary); and 17.241 ohm mm2/km x 1.21615 for the bare metal.
    printed = float(GAUGE_RESISTANCE[gauge]) * 304.8
    assert 1.015 < printed / solid < 1.03
    assert solid == pytest.approx(17.241e-9 * 1.21615 / gauge_size(gauge).area * 304.8, rel=0.005)


def test_gauge_resistance_times_area_is_nearly_one_number() -> None:
    products = [float(GAUGE_RESISTANCE[size.gauge or 0]) * size.area for size in GAUGE_SIZES]
    assert max(products) / min(products) < 1.01


def test_a_table_of_75_degrees_brought_to_20_and_back() -> None:
    # 10.3 ohm/km over 1 + 0.00393 x 55 = 1.21615 is 8.4694 ohm/km.
    assert resistance_at_20(0.0103, 75.0) == pytest.approx(8.4694e-3, rel=1e-5)
    assert resistance_at_20(0.0103, 20.0) == 0.0103
    # NEC note: R x (1 + 0.00323 (T - 75)); at 40 Cel 0.88695. The two ways agree within 0.01 %.
    assert gauge_cable_resistance(7.3, 14, 40.0) == pytest.approx(2 * 7.3 * 3.14 / 304.8 * 0.88695, rel=1e-4)


def test_both_families_run_from_thin_to_thick() -> None:
    for family in (METRIC_SIZES, GAUGE_SIZES):
        areas = [each.area for each in family]
        ohms = [size_resistance(each, 7.3, 51.7) for each in family]
        assert areas == sorted(areas)
        assert ohms == sorted(ohms, reverse=True)
    assert [plain(each.name) for each in METRIC_SIZES[:4]] == ["0.5 mm²", "0.75 mm²", "1 mm²", "1.5 mm²"]
    assert [each.name for each in GAUGE_SIZES] == [f"AWG {gauge}" for gauge in (18, 16, 14, 12, 10, 8, 6, 4, 2)]
    assert {each.family for each in METRIC_SIZES} == {"iec"}
    assert {each.family for each in GAUGE_SIZES} == {"awg"}


def test_resistance_of_a_size_scales_with_length_and_rises_with_warmth() -> None:
    for each in (*METRIC_SIZES, *GAUGE_SIZES):
        assert size_resistance(each, 14.6, 40.0) == pytest.approx(2 * size_resistance(each, 7.3, 40.0), rel=1e-14)
        assert size_resistance(each, 0.0, 40.0) == 0.0
        # By hand: 1 + 0.00393 x (75 - 20) = 1.21615.
        assert size_resistance(each, 7.3, 75.0) / size_resistance(each, 7.3, 20.0) == pytest.approx(1.21615, rel=1e-9)


# Drop and litres.


@pytest.mark.some(2)
def test_everything_is_finite_and_whole(found: tuple[Report, Wires]) -> None:
    def numbers(value: object) -> list[float]:
        if isinstance(value, float | int):
            return [float(value)]
        if isinstance(value, tuple):
            return [number for part in value for number in numbers(part)]
        if is_dataclass(value) and not isinstance(value, type):
            return [number for field in fields(value) for number in numbers(getattr(value, field.name))]
        return []

    _, wires = found
    assert len(numbers(wires)) > 80
    assert all(math.isfinite(number) for number in numbers(wires))
    for text in (wires.sentence, wires.fuse.sentence, *wires.licensed, *(limit.sentence for limit in wires.limits)):
        assert text[0].isupper()
        assert text.endswith(".")
        assert "nan" not in text.split()
    assert {wires.fuse.source, wires.limit_source, *(limit.source for limit in wires.limits)} <= SOURCES.keys()


@pytest.mark.some(3)
def test_the_own_cable_is_the_report_itself(found: tuple[Report, Wires]) -> None:
    report, wires = found
    assert wires.own.resistance == pytest.approx(report.fountain.supply.cable_resistance, rel=1e-12)
    assert wires.own.water == pytest.approx(report.year.water, rel=1e-9, abs=1e-9)
    assert wires.own.water_lost == 0
    drop = report.points.current * report.fountain.supply.cable_resistance
    assert [point.volts for point in wires.points] == pytest.approx(list(drop), rel=1e-12)
    assert [point.plays for point in wires.points] == list(report.points.flow > 0)
    assert [point.irradiance for point in wires.points] == list(report.strengths)


def test_drop_is_what_the_panel_gives_above_what_the_motor_gets(sized: Callable[..., Report]) -> None:
    report = sized({"/cable/length_m": 38, "/cable/area_mm2": 0.75})
    for index, point in enumerate(wires_of(report).points):
        conditions = at_conditions(report.fountain.supply.panel, point.irradiance, float(report.strength_temperature[index]))
        before = float(report.points.voltage[index]) + point.volts
        # The operating point is read between the nodes of a grid, which is off by up to 0.3 % where the sun is weakest.
        assert float(current_at_voltage(conditions, before)) == pytest.approx(point.current, rel=5e-3)
        assert point.share == pytest.approx(point.volts / before, rel=1e-12)


def test_behind_a_controller_the_drop_closes_the_balance_of_power(sized: Callable[..., Report]) -> None:
    report = sized({"/connection": CONTROLLER, "/cable/length_m": 38, "/cable/area_mm2": 0.75})
    highest = report.match.highest_speed
    below = 0
    for index, point in enumerate(wires_of(report).points):
        if report.points.speed[index] <= 0 or report.points.speed[index] >= highest * (1 - 1e-9):
            continue
        below += 1
        conditions = at_conditions(report.fountain.supply.panel, point.irradiance, float(report.strength_temperature[index]))
        passed_on = 0.92 * float(maximum_power(conditions)[0])
        assert (float(report.points.voltage[index]) + point.volts) * point.current == pytest.approx(passed_on, rel=3e-3)
    assert below >= 3


@pytest.mark.some(1)
def test_the_size_that_would_do_by_trying_them_all(found: tuple[Report, Wires]) -> None:
    report, wires = found
    areas = [0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35]
    enough = [area for area in areas if largest_share(report, area * 1e-6) < 0.03]
    if not enough:
        assert wires.smallest is None
        assert wires.next_size is None
        assert "Not even 35 mm²" in plain(wires.sentence)
        return
    assert wires.smallest is not None
    assert wires.smallest.size.area == pytest.approx(enough[0] * 1e-6)
    assert [] if wires.next_size is None else [pytest.approx(wires.next_size.size.area * 1e6)] == enough[1:2]
    gauges = [gauge for gauge in (18, 16, 14, 12, 10, 8, 6, 4, 2) if largest_share(report, gauge) < 0.03]
    assert (wires.smallest_gauge.size.gauge if wires.smallest_gauge else None) == (gauges[0] if gauges else None)


def test_rows_are_sized_like_a_design_of_their_own(sized: Callable[..., Report]) -> None:
    report = sized()
    row = next(row for row in wires_of(report).rows if plain(row.size.name) == "0.5 mm²")
    fresh = sized({"/cable/area_mm2": 0.5})
    assert row.water == pytest.approx(fresh.year.water, rel=1e-9)
    assert row.water_lost == pytest.approx(report.year.water - fresh.year.water, rel=1e-6)
    assert row.drop_share == pytest.approx(wires_of(fresh).own.drop_share, rel=1e-9)
    assert row.resistance == pytest.approx(2 * 7.5 * 0.039 * (1 + 0.00393 * 20), rel=1e-12)


@pytest.mark.some(3)
def test_thicker_never_keeps_more_and_never_gives_less(found: tuple[Report, Wires]) -> None:
    _, wires = found
    for family in ("iec", "awg"):
        rows = [row for row in wires.rows if row.size.family == family]
        assert len(rows) == 5
        assert all(np.diff([row.size.area for row in rows]) > 0)
        assert all(np.diff([row.drop_share for row in rows]) <= 1e-12)
        assert all(np.diff([row.resistance for row in rows]) <= 0)
    families = [row.size.family for row in wires.rows]
    assert families == sorted(families, reverse=True)
    assert all(0 <= row.drop_share < 1 for row in (*wires.rows, wires.own))


def test_less_loss_more_water(sized: Callable[..., Report]) -> None:
    for name in ("quince_court_jet", "fern_bubbler", "terrace_spillway"):
        wires = wires_of(sized(None, name))
        iec = [row.water for row in wires.rows if row.size.family == "iec"]
        assert all(np.diff(iec) > 0)
        assert max(iec) < wires.water_without_loss
        assert wires.own.water < wires.water_without_loss


def test_the_recommendation_does_not_hang_on_the_cable_that_is_there(sized: Callable[..., Report]) -> None:
    thin, thick = (wires_of(sized({"/cable/length_m": 31.7, "/cable/area_mm2": area})) for area in (0.3, 16))
    assert thin.smallest is not None
    assert thick.smallest is not None
    assert thin.smallest.size == thick.smallest.size
    assert thin.smallest.drop_share == thick.smallest.drop_share
    assert thin.own.drop_share > 0.03 > thick.own.drop_share


@pytest.mark.slow
def test_longer_and_warmer_keep_more(sized: Callable[..., Report]) -> None:
    shares = [wires_of(sized({"/cable/length_m": length})).own.drop_share for length in (0, 3.1, 7.3, 19.1, 73.0)]
    assert shares[0] == 0
    assert all(np.diff(shares) > 0)
    shares = [wires_of(sized({"/cable/conductor_temperature_c": warm})).own.drop_share for warm in (-20, 13.7, 40, 90)]
    assert all(np.diff(shares) > 0)


def test_no_length_no_loss(sized: Callable[..., Report]) -> None:
    wires = wires_of(sized({"/cable/length_m": 0}))
    assert {row.drop_share for row in (*wires.rows, wires.own)} == {0.0}
    assert {row.drop_volts for row in (*wires.rows, wires.own)} == {0.0}
    assert {row.water_lost for row in wires.rows} == {0.0}
    assert wires.water_without_loss == wires.own.water
    assert wires.smallest is not None
    assert wires.smallest.size == METRIC_SIZES[0]
    assert wires.sentence.startswith("The cable has no length")


def test_where_it_never_plays_the_strongest_sun_counts(sized: Callable[..., Report]) -> None:
    report = sized({"/outlet/height_above_water_m": 9})
    wires = wires_of(report)
    assert set(report.points.state) <= {State.TOO_LITTLE_SUN, State.BELOW_LOWEST_VOLTAGE, State.CANNOT_LIFT}
    assert wires.own.drop_share == wires.points[-1].share > 0
    assert wires.water_without_loss == wires.own.water == 0
    assert "costs 0 L of water a year beside" in plain(wires.sentence)


def test_no_current_no_drop(sized: Callable[..., Report]) -> None:
    report = sized()
    still = replace(report.points, voltage=np.zeros(10), current=np.zeros(10))
    drop, share = drop_and_share(still, 0.3)
    assert not drop.any()
    assert not share.any()


def test_the_sentence_says_what_the_limit_is_worth(sized: Callable[..., Report]) -> None:
    wires = wires_of(sized({"/cable/length_m": 38, "/cable/area_mm2": 0.75}))
    text = plain(wires.sentence)
    assert text.startswith("The cable of 0.75 mm², 38 m long, keeps up to ")
    assert wires.limit == DROP_LIMIT == 0.03
    assert "not a requirement" in text
    assert wires.smallest is not None
    assert f"The thinnest size that keeps less than 3 % is {plain(wires.smallest.size.name)}, with " in text
    assert "of water a year more than now" in text


def test_next_to_no_water_is_not_told(sized: Callable[..., Report]) -> None:
    row = replace(wires_of(sized()).own, size=metric_size(2.5e-6), water_lost=0.00009)
    assert water_beside(row) == ""
    assert plain(water_beside(replace(row, water_lost=0.73))) == " and 730 L of water a year less than now"


# Fuse.


@pytest.mark.some(2)
@pytest.mark.parametrize(
    ("in_series", "in_parallel", "opening"),
    [
        (1, 1, "One panel cannot blow its own fuse: it gives little more than 0.92 A"),
        (2, 1, "One string of panels cannot blow its own fuse: it gives little more than 0.92 A"),
        (1, 2, "Of two panels side by side, one that fails takes only the 0.92 A of the other"),
        (2, 2, "Of two strings side by side, one that fails takes only the 0.92 A of the other"),
    ],
)
def test_one_or_two_need_no_fuse(in_series: int, in_parallel: int, opening: str, sized: Callable[..., Report]) -> None:
    wires = wires_of(sized({"/panels/0/in_series": in_series, "/panels/0/in_parallel": in_parallel}))
    assert (wires.fuse.needed, wires.fuse.rating, wires.fuse.source) == (False, None, "nec_690_9")
    assert plain(wires.fuse.sentence).startswith(opening)
    # 0.92 A x 1.5625 = 1.4375 A for one, 2.875 A for two.
    assert wires.short_circuit == pytest.approx(0.92 * in_parallel)
    assert wires.design_current == pytest.approx(1.4375 * in_parallel)
    assert f"carries {'1.44' if in_parallel == 1 else '2.88'} A" in plain(wires.fuse.sentence)
    assert "for ever" in wires.fuse.sentence
    assert "check current local code" in wires.fuse.sentence


def test_three_strings_are_fused_each(sized: Callable[..., Report]) -> None:
    wires = wires_of(sized({"/panels/0/in_parallel": 3}))
    text = plain(wires.fuse.sentence)
    assert wires.fuse.needed
    # The string's own 0.92 x 1.5625 = 1.4375 A, so 3 A; two others push 1.84 A; the cable carries 3 x 1.4375 = 4.31 A.
    assert wires.fuse.rating == 3.0
    assert text.startswith("Of 3 strings side by side, one that fails takes up to 1.84 A from the others")
    for part in ("at least 1.44 A", "next standard rating is 3 A", "largest series fuse that the panel's maker allows", "4.31 A"):
        assert part in text
    assert wires.fuse.source == "nec_690_8"
    assert wires.design_current == pytest.approx(4.3125)


def test_standard_ratings() -> None:
    # 9 A x 1.5625 = 14.06 A, so 15 A; the largest panel of a design, 22 A, asks for 34.4 A.
    assert [fuse_rating(least) for least in (0.3, 1.0, 1.001, 14.0625, 15.0, 34.375, 40.0)] == [1, 1, 3, 15, 15, 35, 40]
    assert fuse_rating(40.1) is None


# Cold voltage and limits.


def test_cold_voltage_by_hand(sized: Callable[..., Report]) -> None:
    report = sized({"/panels/0/in_series": 2})
    cold = wires_of(report).cold
    # 21.7 V a panel, two in series, loses 0.33 % for each degree above 25 Cel.
    assert cold.voltage == pytest.approx(2 * 21.7 * (1 - 0.0033 * (cold.air_temperature - 25)), rel=1e-9)
    assert cold.air_temperature == pytest.approx(1.63 * min(report.sky.air_temperature_month) - 22 - 5)
    assert cold.voltage == pytest.approx(coldest_open_circuit(report.fountain, report.cold), rel=1e-12)
    assert cold.working.value == cold.voltage


def test_cold_voltage_unfolds_to_the_label(sized: Callable[..., Report]) -> None:
    found = {step.name: step for step in working_of([wires_of(sized()).cold.working])}
    assert found["panel_voc"].basis == "given"
    assert found["cold_dawn"].source == found["coldest_by_month"].source == "cold_comparison"
    assert "less 5 K" in plain(found["cold_dawn"].method)
    assert found["cold_open_circuit_voltage"].source == "iec_62548"


def test_the_drop_unfolds_to_the_table_of_conductors(sized: Callable[..., Report]) -> None:
    wires = wires_of(sized())
    found = {step.name: step for step in working_of(wires.working)}
    assert {"lost_share", "loop_resistance", "design_current", "array_short_circuit_current"} <= found.keys()
    assert found["lost_share"].value == pytest.approx(wires.points[-1].share, rel=1e-12)
    assert found["loop_resistance"].source == "iec_60228"


def test_limits_of_both_families() -> None:
    direct = {limit.source: limit for limit in voltage_limits(30.01, False)}
    # IEC 60364-7-702: 30 V; NEC chapter 9 Table 11: 30 V continuous; IEC 62257-7-1: 120 V (secondary, see SAFETY.md).
    assert {key: limit.limit for key, limit in direct.items()} == {
        "iec_60364_7_702": 30.0,
        "nec_table_11": 30.0,
        "iec_62257_7_1": 120.0,
    }
    assert [limit.exceeded for limit in direct.values()] == [True, True, False]
    assert not any(limit.exceeded for limit in voltage_limits(30.0, False))
    assert [limit.too_near for limit in voltage_limits(29.5, False)] == [True, True, False]  # 3 % of doubt in the label
    assert not any(limit.too_near or limit.exceeded for limit in voltage_limits(29.1, False))
    for limit in (*voltage_limits(24.1, True), *direct.values()):
        assert limit.sentence.endswith("; check current local code.")
        assert plain(limit.sentence).count(" V") >= 2
    assert "not in basins" in direct["iec_62257_7_1"].sentence


def test_a_controller_loses_the_continuous_limit() -> None:
    (american,) = [limit for limit in voltage_limits(24.1, True) if limit.source == "nec_table_11"]
    # NEC chapter 9 Table 11: 12.4 V peak where direct current is interrupted 10 to 200 times a second (secondary).
    assert (american.limit, american.exceeded) == (12.4, True)
    assert "a controller may chop the current" in american.sentence
    assert [limit.exceeded for limit in voltage_limits(12.4, True)] == [False, False, False]


def test_limits_quote_what_the_safety_notes_quote() -> None:
    notes = (ROOT / "SAFETY.md").read_text()
    for number in ("30 V", "12.4 V peak", "120 V dc", "IEC 60364-7-702", "low-voltage contact limit"):
        assert number in notes


@pytest.mark.parametrize(
    ("voltage", "controller", "limits"),
    [
        (24.1, False, []),
        (29.1, False, []),
        (30.0, False, ["30 V"]),
        (30.1, False, ["30 V"]),
        (30.0041, False, ["30 V"]),
        (24.1, True, ["12.4 V"]),
        (11.9, True, []),
        (48.2, True, ["30 V", "12.4 V"]),
        (120.1, False, ["30 V", "120 V"]),
        (193.0, True, ["30 V", "12.4 V", "120 V"]),
    ],
)
def test_who_must_look_and_why(voltage: float, controller: bool, limits: list[str]) -> None:
    told = [plain(text) for text in licensed_reasons(voltage, controller)]
    assert len(told) == len(limits)
    for text, limit in zip(told, limits, strict=True):
        assert text.startswith("A licensed person must look at the wiring, because the array reaches ")
        assert f"above the {limit} " in text or f"stays below the {limit} " in text


def test_two_in_series_need_a_licensed_person(sized: Callable[..., Report]) -> None:
    report = sized({"/panels/0/in_series": 2, "/pumps/0/highest_voltage_v": ...})
    assert len(wires_of(report).licensed) == 1
    assert [note.code for note in report.warnings] == ["highest_voltage_unknown", "above_wet_limit"]
    assert wires_of(sized()).licensed == ()
