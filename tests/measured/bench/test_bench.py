"""A whole bench test: what stands apart, teams, label, advice, sentences, and the way into a design file and its sizing."""

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from sizing.answers.kit import plain
from sizing.design.design import PumpInput
from sizing.design.reading import read_design
from sizing.foundation.errors import InputError
from sizing.fountain.components import pump_of
from sizing.measured.bench.advice import advice_sentence, further_readings
from sizing.measured.bench.answer import MOST_WORKED, bench_answer
from sizing.measured.bench.bench import Bench, bench_of
from sizing.measured.bench.curves import curve_at
from sizing.measured.bench.fit import fit_bench
from sizing.measured.bench.sentences import label_sentences
from sizing.measured.bench.settings import readings_of, settings_of
from sizing.measured.logs.columns import BENCH
from sizing.measured.logs.headings import blank_table
from sizing.measured.logs.instruments import USUAL, Instruments
from sizing.measured.logs.logs import BenchLog, read_bench
from sizing.report.report import size
from tests.measured.bench.benches import Truth, bench_log

EXAMPLES = Path(__file__).resolve().parents[3] / "examples"
OLD = PumpInput(
    id="pond",
    name="Pond pump (invented)",
    rated_voltage_v=12,
    lowest_voltage_v=5,
    highest_voltage_v=24,
    max_head_m=2.4,
    max_flow_l_per_min=11,
    rated_current_a=0.9,
    position="surface",
)


def codes(found: Bench) -> list[str]:
    return [note.code for note in found.notes]


def said(found: Bench, code: str) -> str:
    return next(note.detail for note in found.notes if note.code == code).replace("\N{NO-BREAK SPACE}", " ")


def slipped(log: BenchLog, index: int, seconds: float) -> BenchLog:
    """One reading of the stopwatch that is off."""
    times = log.fill_time.copy()
    times[index] += seconds
    return replace(log, fill_time=times)


@pytest.fixture(scope="module")
def heron() -> Bench:
    design = json.loads((EXAMPLES / "quince_court_jet.json").read_text())
    old = PumpInput(**design["pumps"][0])
    log = read_bench((EXAMPLES / "bench_heron_pump.csv").read_bytes())
    return bench_of(log, 12.0, label=pump_of(old, 999.0, "#"), label_input=old, name="Heron pump (invented)", lift=0.45)


def test_the_example_is_a_bench_with_one_slip(heron) -> None:
    """It was invented: 24 rows, 3 voltages, 3 to 5 heads, two teams, ten seconds too many in row 19."""
    assert heron.log.problems == ()
    assert len(heron.log.row) == 24
    assert int(heron.settings.level.max()) + 1 == 3
    assert sorted(np.bincount(heron.settings.level)) == [3, 4, 5]
    assert all("invented" in team for team in heron.log.team)
    assert [one.row for one in heron.apart] == [19]
    assert said(heron, "reading_apart").startswith("Row 19 of team B (invented) stands apart: it has 5.91 L/min")
    blank = (EXAMPLES / "bench_blank.csv").read_bytes().decode()
    assert blank == blank_table(BENCH)
    assert blank == (EXAMPLES / "bench_heron_pump.csv").read_bytes().decode().splitlines(keepends=True)[0]


def test_a_slip_is_pointed_at_and_kept() -> None:
    """Ten seconds more in one of thirty fillings: named, counted in, and said what it does."""
    log = bench_log(seed=11)
    clean, off = bench_of(log, 12.0), bench_of(slipped(log, 24, 10.0), 12.0)
    assert clean.apart == ()
    assert [one.row for one in off.apart] == [26]
    assert off.apart[0].measured < off.apart[0].expected
    assert len(off.readings.row) == len(log.row)
    assert off.fit.winding != pytest.approx(clean.fit.winding, rel=1e-3)
    assert off.without is not None
    assert off.without.winding == pytest.approx(clean.fit.winding, rel=0.1)
    assert "It was kept" in said(off, "kept")
    assert "narrower" in said(off, "kept")
    assert off.fit.widening > off.without.widening >= 1


def test_heights_from_the_floor_are_asked_about() -> None:
    """At three voltages a height counted from the floor fits no pump: the same 0.5 m is more of a slow pump's head."""
    log = bench_log(seed=11)
    assert not any("floor" in note.detail for note in bench_of(log, 12.0).notes)
    assert "not from the floor" in said(bench_of(replace(log, head=log.head + 0.5), 12.0), "ranges_widened")
    for much in (0.7, 1.0):
        with pytest.raises(InputError, match="heights"):
            bench_of(replace(log, head=log.head + much), 12.0)


@pytest.mark.some(2)
@pytest.mark.parametrize(("column", "factor"), [("voltage", 10.0), ("head", 10.0), ("volume", 10.0), ("fill_time", 0.1)])
def test_a_slipped_decimal_point_is_named_and_the_others_make_the_pump(column, factor) -> None:
    """Kept and pointed at where a pump can still be found, else left out by name; either way the pump without it is right."""
    log = bench_log(seed=14)
    values = getattr(log, column).copy()
    values[21] *= factor
    found = bench_of(replace(log, **{column: values}), 12.0)
    named = [note.detail for note in found.notes if note.code in ("reading_apart", "slip_left_out")]
    assert len(named) == 1
    assert "Row 23" in named[0]
    right = found.without or found.fit
    flow, head, _ = Truth().at(12.0, np.array([0.5]))
    curve = curve_at(right, 12.0, flow, USUAL, 999.0)
    assert curve.head == pytest.approx(head, abs=3 * float(curve.head_uncertainty[0]))


def test_a_wrong_current_is_named_as_one() -> None:
    log = bench_log(seed=12)
    current = log.current.copy()
    current[20] += 0.3
    off = bench_of(replace(log, current=current), 12.0)
    assert [(one.row, one.quantity) for one in off.apart] == [(22, "current")]
    assert off.apart[0].expected == pytest.approx(log.current[20], abs=0.03)


def test_noise_alone_hardly_ever_stands_apart() -> None:
    assert sum(len(bench_of(bench_log(seed=seed), 12.0).apart) for seed in range(20)) <= 1


def test_a_team_whose_bucket_is_off_is_named() -> None:
    """Team B's times are 8 % short: its bucket is not full at the mark, so its flows look 8.7 % larger (1/0.92)."""
    log = bench_log(seed=13, repeats=4)
    times = np.where(np.array(log.team) == "B", 0.92 * log.fill_time, log.fill_time)
    found = bench_of(replace(log, fill_time=times), 12.0)
    assert {team.team: bool(team.differs) for team in found.teams} == {"A": True, "B": True}
    b = next(team for team in found.teams if team.team == "B")
    assert b.share == pytest.approx(0.087, abs=2 * b.uncertainty)
    assert codes(found).count("team_off") == 1
    assert "team_off" not in codes(bench_of(log, 12.0))
    assert "agree within their scatter" in said(bench_of(log, 12.0), "teams_agree")


def test_a_pump_weaker_than_its_label_is_told() -> None:
    """Box: 2.4 m and 11 L/min; the pump stops at 0.88 to 0.92 of that head on its 12 V (its truth)."""
    truth = Truth(shut_off=1.9)
    stops = truth.at(12.0, 0.0)[1]
    found = bench_of(bench_log(truth, seed=3), 12.0, label=pump_of(OLD, 999.0, "#"), label_input=OLD)
    assert found.label is not None
    first = found.label.rows[0]
    assert first.flow == 0
    assert first.label_head == pytest.approx(2.4, rel=1e-3)
    assert first.head == pytest.approx(stops, abs=2 * first.head_uncertainty)
    assert first.head_differs
    text = " ".join(label_sentences(found.label)).replace("\N{NO-BREAK SPACE}", " ")
    assert text.startswith(f"At shut-off and 12 V it has {100 * (1 - first.head / 2.4):.2g} % less head than the box")


def test_a_pump_is_what_its_own_points_say() -> None:
    """The label made from the truth's points: nothing differs."""
    truth = Truth()
    flow, head, current = truth.at(12.0, np.linspace(0, 0.95, 8))
    points = [{"flow_l_per_min": f * 6e4, "head_m": h, "current_a": i} for f, h, i in zip(flow, head, current, strict=True)]
    old = PumpInput(id="own", name="Own (invented)", rated_voltage_v=12, points=points, winding_resistance_ohm=1.6)
    found = bench_of(
        bench_log(truth, seed=4, own=Instruments(volume_calibration=0.0)), 12.0, label=pump_of(old, 999, "#"), label_input=old
    )
    assert found.label is not None
    assert len(found.label.rows) >= 7
    assert sum(row.head_differs for row in found.label.rows) <= 1
    assert not found.label.flow_differs


def test_the_measured_pump_goes_into_a_design_and_is_sized() -> None:
    """Round trip: a year's water with the measured pump against that with the true one, within what a bench can tell."""
    design = json.loads((EXAMPLES / "quince_court_jet.json").read_text())
    truth = Truth(winding=2.4, no_load=0.07, rated_current=0.63, shut_off=1.7)
    flow, head, current = truth.at(12.0, np.linspace(0, 0.97, 9))
    points = [{"flow_l_per_min": f * 6e4, "head_m": h, "current_a": i} for f, h, i in zip(flow, head, current, strict=True)]
    old = PumpInput(**design["pumps"][0])
    own = Instruments(volume_calibration=0.003, volume_reading=2e-5, current_digit=0.002)
    found = bench_of(bench_log(truth, seed=7, own=own), 12.0, own, label_input=old, name="Measured (invented)", day="2026-05-31")
    exact = {**design["pumps"][0], "points": points, "winding_resistance_ohm": 2.4, "no_load_current_a": 0.07}
    water = []
    for pump in (exact, found.pump.model_dump(mode="json", exclude_unset=True)):
        report = size(read_design({**design, "pumps": [pump]}))
        water.append((report.year.water, report.year_band))
    assert found.pump.id == old.id
    assert found.pump.measured is not None
    assert found.pump.measured.date == "2026-05-31"
    assert found.pump.lowest_voltage_v == 6
    assert water[1][0] == pytest.approx(water[0][0], rel=0.04)
    wide, narrow = (high - low for _, (low, high) in water)
    assert narrow < wide


def test_the_pump_for_a_design_keeps_what_a_bench_cannot_tell() -> None:
    found = bench_of(bench_log(seed=5), 12.0, label_input=OLD)
    pump = found.pump
    assert (pump.id, pump.position, pump.lowest_voltage_v, pump.highest_voltage_v) == ("pond", "surface", 5, 24)
    assert pump.points is not None
    assert 5 <= len(pump.points) <= 9
    flows, heads = [point.flow_l_per_min for point in pump.points], [point.head_m for point in pump.points]
    assert flows == sorted(flows)
    assert heads == sorted(heads, reverse=True)
    assert pump.measured is not None
    assert pump.measured.readings == 30
    assert pump.measured.flow_uncertainty_pct == 2
    other = bench_of(bench_log(seed=5), 6.0, label_input=replace_voltage(OLD))
    assert "lowest_voltage_v" not in other.pump.model_fields_set


def replace_voltage(old: PumpInput) -> PumpInput:
    return old.model_copy(update={"lowest_voltage_v": 7.0})


def test_efficiency_is_water_power_over_electricity() -> None:
    """By hand at the truth: density × g × Q × H over V I, at half the flow and 12 V."""
    truth = Truth()
    flow, head, current = truth.at(12.0, np.array([0.5]))
    found = bench_of(bench_log(truth, seed=6), 12.0)
    curve = curve_at(found.fit, 12.0, flow, USUAL, found.water_density)
    by_hand = 999.1 * 9.80665 * flow * head / (12.0 * current)
    assert curve.efficiency == pytest.approx(by_hand, abs=2 * float(curve.efficiency_uncertainty[0]))


def test_advice_names_what_is_missing() -> None:
    """Without readings near shut-off that is what helps its head most; at one voltage a second one is named."""
    low = bench_of(bench_log(seed=8, shares=(0.5, 0.65, 0.8, 0.95)), 12.0)
    assert max(low.further, key=lambda one: one.shut_off).kind == "shut_off"
    assert "raised until the water hardly runs" in advice_sentence(low.further[0]) + advice_sentence(low.further[1])
    assert "shut_off_not_measured" in codes(low)
    assert low.pump.points is not None
    assert low.pump.points[0].flow_l_per_min > 0
    high = bench_of(bench_log(seed=8, shares=(0.05, 0.15, 0.3, 0.45)), 12.0)
    assert "low_hose" in [one.kind for one in high.further]
    one = bench_of(bench_log(seed=8, voltages=(12.0,)), 12.0, lift=0.8)
    assert all(found.kind != "other_voltage_again" for found in one.further)
    assert "a second voltage, 8 V or so" in said(one, "motor_assumed")
    far = bench_of(bench_log(seed=8, voltages=(5.0, 6.0)), 12.0)
    assert "outside the measured 4.95 to 5.96 V" in said(far, "voltage_far")


def test_what_is_promised_of_a_further_reading_comes_true() -> None:
    """Four fillings near shut-off, taken: the range of the shut-off head shrinks by about what was said."""
    truth, shares = Truth(), (0.4, 0.5, 0.65, 0.8, 0.95)
    few = bench_log(truth, shares=shares)
    fit = fit_bench(settings_of(readings_of(few, USUAL), USUAL), USUAL)
    asked = next(
        one for one in further_readings(fit, settings_of(readings_of(few, USUAL), USUAL), 12.0, USUAL) if one.kind == "shut_off"
    )
    extra = bench_log(truth, voltages=(12.0,), shares=(0.02 * 0.95,), repeats=4)
    both = BenchLog(
        **{
            name: np.concatenate([getattr(few, name), getattr(extra, name)])
            for name in ("row", "voltage", "current", "head", "volume", "fill_time")
        },
        team=few.team + ("A",) * 4,
        problems=(),
    )
    more = fit_bench(settings_of(readings_of(both, USUAL), USUAL), USUAL)
    at = [curve_at(one, 12.0, np.zeros(1), USUAL, 999.0).head_by_chance[0] for one in (fit, more)]
    assert 1 - at[1] / at[0] == pytest.approx(asked.shut_off, abs=0.1)
    assert asked.shut_off > 0.2


def test_the_answer_is_plain_and_unfolds() -> None:
    found = bench_of(slipped(bench_log(seed=9), 25, 12.0), 12.0, label=pump_of(OLD, 999.0, "#"), label_input=OLD, lift=0.7)
    answer = bench_answer(found)
    written = plain(answer)
    assert json.loads(json.dumps(written, allow_nan=False)) == written
    assert written["label"]["from"] == "box"
    assert len(answer.rows) == 30
    assert [row.row for row in answer.rows if row.apart] == [27]
    ids = {step.id for step in answer.working}
    assert {"winding_resistance", "no_load_current", "motor_voltage", "head_uncertainty", "wire_to_water_efficiency"} <= ids
    volts = next(step for step in answer.working if step.id == "motor_voltage")
    assert volts.value == pytest.approx(12.0)
    setting = answer.settings[0]
    flow = next(step for step in setting.working if step.name == "bucket_flow")
    assert flow.value * 6e4 == pytest.approx(setting.flow_l_per_min)
    share = next(step for step in setting.working if step.name == "flow_share")
    assert share.value * setting.flow_l_per_min == pytest.approx(setting.uncertainty_l_per_min, rel=0.02)
    assert answer.advice[0].sentence.endswith("narrower.")
    assert MOST_WORKED >= 40


def swapped(log: BenchLog) -> BenchLog:
    """Volts and amperes in each other's columns."""
    return replace(log, voltage=log.current, current=log.voltage)


def upside_down(log: BenchLog) -> BenchLog:
    """Heights measured downward from the longest hose."""
    return replace(log, head=2.5 - log.head)


def gallons(log: BenchLog) -> BenchLog:
    """Millilitres for litres: a thousand times the water."""
    return replace(log, volume=1000 * log.volume)


@pytest.mark.parametrize("wrong", [swapped, upside_down, gallons])
def test_readings_of_no_pump_are_refused_in_one_sentence(wrong) -> None:
    with pytest.raises(InputError) as refused:
        bench_of(wrong(bench_log(seed=2)), 12.0)
    (problem,) = refused.value.problems
    assert problem.pointer == "log"
    assert problem.detail.count(". ") == 0
    assert "check" in problem.detail or "measure" in problem.detail
