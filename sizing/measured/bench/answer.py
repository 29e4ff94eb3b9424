"""The answer of a bench test: the pump that follows from it, how well, and every reading beside it."""

from typing import Literal, Self

import numpy as np
from pydantic import ConfigDict, Field

from sizing.answers.kit import Exact, GivenPump, amount, meaning
from sizing.answers.shared import RowProblemAnswer, StepAnswer, TellAnswer, working_of
from sizing.foundation.units import LITRE, LITRE_PER_MINUTE
from sizing.measured.bench.advice import Further, advice_sentence
from sizing.measured.bench.bench import Bench
from sizing.measured.bench.curves import Curve
from sizing.measured.bench.measured_pump import LabelComparison, LabelRow
from sizing.measured.bench.residuals import Apart, TeamOff
from sizing.measured.bench.sentences import label_sentences
from sizing.measured.bench.working import bench_roots, setting_roots

MOST_WORKED = 40
"""Settings whose sum is shown one by one."""
MOST_ADVICE = 3


def known(value: float) -> float | None:
    """A number; ``None`` where there is none."""
    return float(value) if np.isfinite(value) else None


class SettingAnswer(Exact):
    voltage_v: float = amount("Volts of the setting, mean of its readings", "V")
    current_a: float = amount("Amperes, mean of its readings", "A")
    height_m: float = amount("Height of the hose's end above the water, as read", "m")
    head_m: float = amount("Head of the pump, the bench's hose added where it is known", "m")
    repeats: int = Field(ge=1, description="Readings of the setting.")
    teams: int = Field(ge=1, description="Teams that took them.")
    flow_l_per_min: float = amount("Flow, mean of the readings", "L/min")
    uncertainty_l_per_min: float = amount("Its combined standard uncertainty", "L/min")
    by_chance_l_per_min: float = amount("The part of it that repeats make smaller", "L/min")
    scatter_pct: float | None = amount("Scatter of the repeats; null for a single reading", "%")
    working: list[StepAnswer] = meaning("How flow and uncertainty were found, for the first settings")

    @classmethod
    def of(cls, found: Bench, index: int) -> Self:
        settings = found.settings
        return cls(
            voltage_v=float(settings.voltage[index]),
            current_a=float(settings.current[index]),
            height_m=float(settings.height[index]),
            head_m=float(settings.head[index]),
            repeats=int(settings.repeats[index]),
            teams=int(settings.teams[index]),
            flow_l_per_min=float(settings.flow[index]) / LITRE_PER_MINUTE,
            uncertainty_l_per_min=float(settings.uncertainty[index]) / LITRE_PER_MINUTE,
            by_chance_l_per_min=float(settings.chance[index]) / LITRE_PER_MINUTE,
            scatter_pct=100 * float(settings.scatter[index]) if settings.repeats[index] > 1 else None,
            working=working_of(setting_roots(found, index)) if index < MOST_WORKED else [],
        )


class FitAnswer(Exact):
    winding_resistance_ohm: float = amount("Winding", "Ohm")
    winding_uncertainty_ohm: float = amount("Its standard uncertainty", "Ohm")
    winding_assumed: bool = meaning("Whether the readings could not tell it")
    no_load_current_a: float = amount("No-load current", "A")
    no_load_uncertainty_a: float = amount("Its standard uncertainty", "A")
    no_load_assumed: bool = meaning("Whether the readings could not tell it")
    shut_off_measured: bool = meaning("Whether a reading without flow is among them")
    shut_off_head_m: float = amount("Head without flow at rated voltage", "m")
    shut_off_head_uncertainty_m: float = amount("Its standard uncertainty", "m")
    largest_flow_l_per_min: float = amount("Largest flow at rated voltage that the readings reach", "L/min")
    best_efficiency_pct: float = amount("Best wire-to-water efficiency at rated voltage", "%")
    best_efficiency_uncertainty_pct: float = amount("Its standard uncertainty", "%")
    best_flow_l_per_min: float = amount("Flow at which it is reached", "L/min")
    states: int = Field(ge=1, description="Distinct states of the pump that were measured.")
    misfit: float = amount("Sum of squares of the misses in their uncertainties", "1")
    freedom: int = Field(ge=0, description="Readings less the numbers found from them.")
    widening: float = amount("Factor by which the ranges were widened, as the settings miss the curve", "1")
    scatter: float = amount("Scatter of the repeats as a share of what the instruments allow", "1")

    @classmethod
    def of(cls, found: Bench) -> Self:
        fit, curve, shut_off = found.fit, found.curve, found.shut_off
        best = int(np.argmax(curve.efficiency))
        return cls(
            winding_resistance_ohm=fit.winding,
            winding_uncertainty_ohm=found.motor[0],
            winding_assumed=bool(fit.usual[0]),
            no_load_current_a=fit.no_load,
            no_load_uncertainty_a=found.motor[1],
            no_load_assumed=bool(fit.usual[1]),
            shut_off_measured=bool(curve.flow[0] == 0),
            shut_off_head_m=float(shut_off.head[0]),
            shut_off_head_uncertainty_m=float(shut_off.head_uncertainty[0]),
            largest_flow_l_per_min=float(curve.flow[-1]) / LITRE_PER_MINUTE,
            best_efficiency_pct=100 * float(curve.efficiency[best]),
            best_efficiency_uncertainty_pct=100 * float(curve.efficiency_uncertainty[best]),
            best_flow_l_per_min=float(curve.flow[best]) / LITRE_PER_MINUTE,
            states=fit.states,
            misfit=fit.misfit,
            freedom=fit.freedom,
            widening=float(np.sqrt(fit.widening)),
            scatter=found.scatter,
        )


class CurveRowAnswer(Exact):
    flow_l_per_min: float = amount("Flow", "L/min")
    head_m: float = amount("Head", "m")
    head_low_m: float = amount("Lower end of its likely range", "m")
    head_high_m: float = amount("Upper end of its likely range", "m")
    current_a: float = amount("Current", "A")
    current_low_a: float = amount("Lower end of its likely range", "A")
    current_high_a: float = amount("Upper end of its likely range", "A")
    efficiency_pct: float = amount("Wire-to-water efficiency", "%")
    efficiency_low_pct: float = amount("Lower end of its likely range", "%")
    efficiency_high_pct: float = amount("Upper end of its likely range", "%")

    @classmethod
    def of(cls, curve: Curve, index: int) -> Self:
        head, spread = float(curve.head[index]), float(curve.head_uncertainty[index])
        current, off = float(curve.current[index]), float(curve.current_uncertainty[index])
        share, wide = float(curve.efficiency[index]), float(curve.efficiency_uncertainty[index])
        return cls(
            flow_l_per_min=float(curve.flow[index]) / LITRE_PER_MINUTE,
            head_m=head,
            head_low_m=max(head - spread, 0.0),
            head_high_m=head + spread,
            current_a=current,
            current_low_a=max(current - off, 0.0),
            current_high_a=current + off,
            efficiency_pct=100 * share,
            efficiency_low_pct=100 * max(share - wide, 0.0),
            efficiency_high_pct=100 * (share + wide),
        )


class PumpCurveAnswer(Exact):
    voltage_v: float = amount("Voltage at the motor", "V")
    rows: list[CurveRowAnswer] = meaning("The curve from the smallest to the largest flow measured")

    @classmethod
    def of(cls, curve: Curve) -> Self:
        return cls(voltage_v=curve.voltage, rows=[CurveRowAnswer.of(curve, index) for index in range(len(curve.flow))])


class BenchRowAnswer(Exact):
    row: int = Field(ge=1, description="Row as a spreadsheet counts it.")
    team: str = meaning("Label of the team, as it was sent")
    voltage_v: float = amount("Volts", "V")
    current_a: float = amount("Amperes", "A")
    height_m: float = amount("Height as read", "m")
    head_m: float = amount("Head of the pump", "m")
    volume_l: float = amount("Volume", "L")
    fill_time_s: float = amount("Fill time", "s")
    flow_l_per_min: float = amount("Flow", "L/min")
    expected_flow_l_per_min: float | None = amount("Flow that the common curve has there; null where it has none", "L/min")
    head_off_m: float = amount("Head above the common curve", "m")
    head_off_times: float = amount("The same in its standard uncertainty", "1")
    current_off_a: float = amount("Current above the common curve", "A")
    current_off_times: float = amount("The same in its standard uncertainty", "1")
    setting: int = Field(ge=0, description="Position of its setting in the list of settings.")
    apart: bool = meaning("Whether it stands apart from the others")

    @classmethod
    def of(cls, found: Bench, index: int) -> Self:
        readings, misses = found.readings, found.misses
        return cls(
            row=int(readings.row[index]),
            team=readings.team[index],
            voltage_v=float(readings.voltage[index]),
            current_a=float(readings.current[index]),
            height_m=float(readings.height[index]),
            head_m=float(readings.head[index]),
            volume_l=float(readings.volume[index]) / LITRE,
            fill_time_s=float(readings.fill_time[index]),
            flow_l_per_min=float(readings.flow[index]) / LITRE_PER_MINUTE,
            expected_flow_l_per_min=known(misses.flow[index] / LITRE_PER_MINUTE),
            head_off_m=float(misses.head_off[index]),
            head_off_times=float(misses.head_pull[index]),
            current_off_a=float(misses.current_off[index]),
            current_off_times=float(misses.current_pull[index]),
            setting=int(found.settings.member[index]),
            apart=bool(found.apart_mask[index]),
        )


class ApartAnswer(Exact):
    row: int = Field(ge=1, description="Row as a spreadsheet counts it.")
    team: str = meaning("Label of the team")
    quantity: Literal["flow", "current"] = meaning("What stands apart")
    times_uncertainty: float = amount("How far, in its standard uncertainty", "1")
    measured: float = meaning("What was read, in the unit beside it")
    expected: float = meaning("What the other readings say")
    unit: Literal["L/min", "A"] = meaning("Unit of both")

    @classmethod
    def of(cls, one: Apart) -> Self:
        factor = LITRE_PER_MINUTE if one.quantity == "flow" else 1.0
        return cls(
            row=one.row,
            team=one.team,
            quantity=one.quantity,
            times_uncertainty=one.times,
            measured=one.measured / factor,
            expected=one.expected / factor,
            unit="L/min" if one.quantity == "flow" else "A",
        )


class TeamAnswer(Exact):
    team: str = meaning("Label of the team")
    readings: int = Field(ge=0, description="Its readings.")
    above_others_pct: float = amount("Flow above that of the other teams", "%")
    uncertainty_pct: float = amount("Standard uncertainty of that", "%")
    differs: bool = meaning("Whether it lies beyond two of them")

    @classmethod
    def of(cls, team: TeamOff) -> Self:
        return cls(
            team=team.team,
            readings=team.readings,
            above_others_pct=100 * team.share,
            uncertainty_pct=100 * team.uncertainty,
            differs=bool(team.differs),
        )


class FurtherAnswer(Exact):
    kind: str = meaning("What kind of reading")
    voltage_v: float = amount("At which volts", "V")
    height_m: float = amount("At which height", "m")
    curve_narrower_pct: float = amount("How much narrower the range of the curve would be", "%")
    shut_off_narrower_pct: float = amount("How much narrower that of the shut-off head", "%")
    flow_narrower_pct: float | None = amount("How much narrower that of the flow at the design's lift; null without one", "%")
    sentence: str = meaning("The advice in words")

    @classmethod
    def of(cls, one: Further) -> Self:
        return cls(
            kind=one.kind,
            voltage_v=one.voltage,
            height_m=one.height,
            curve_narrower_pct=100 * one.curve,
            shut_off_narrower_pct=100 * one.shut_off,
            flow_narrower_pct=None if one.flow is None else 100 * one.flow,
            sentence=advice_sentence(one),
        )


class LabelRowAnswer(Exact):
    flow_l_per_min: float = amount("Flow of the label's point", "L/min")
    label_head_m: float = amount("Head by the label", "m")
    head_m: float = amount("Head by the bench", "m")
    head_uncertainty_m: float = amount("Its standard uncertainty", "m")
    head_differs: bool = meaning("Whether they differ by more than two of them")
    label_current_a: float = amount("Current by the label", "A")
    current_a: float = amount("Current by the bench", "A")
    current_uncertainty_a: float = amount("Its standard uncertainty", "A")
    current_differs: bool = meaning("Whether they differ by more than two of them")

    @classmethod
    def of(cls, row: LabelRow) -> Self:
        return cls(
            flow_l_per_min=row.flow / LITRE_PER_MINUTE,
            label_head_m=row.label_head,
            head_m=row.head,
            head_uncertainty_m=row.head_uncertainty,
            head_differs=row.head_differs,
            label_current_a=row.label_current,
            current_a=row.current,
            current_uncertainty_a=row.current_uncertainty,
            current_differs=row.current_differs,
        )


class LabelComparedAnswer(Exact):
    model_config = ConfigDict(populate_by_name=True)

    voltage_v: float = amount("Voltage of the comparison", "V")
    gives: Literal["points", "box"] = Field(
        validation_alias="from", serialization_alias="from", description="What the label gives."
    )
    sentences: list[str] = meaning("The comparison in words")
    head_m: float = amount("A height of use", "m")
    label_flow_l_per_min: float = amount("Flow there by the label", "L/min")
    flow_l_per_min: float | None = amount("Flow there by the bench; null where it was not reached", "L/min")
    flow_uncertainty_l_per_min: float | None = amount("Its standard uncertainty; null likewise", "L/min")
    rows: list[LabelRowAnswer] = meaning("The label's points beside the bench")

    @classmethod
    def of(cls, label: LabelComparison) -> Self:
        return cls(
            voltage_v=label.voltage,
            gives="points" if label.points else "box",
            sentences=list(label_sentences(label)),
            head_m=label.head,
            label_flow_l_per_min=label.label_flow / LITRE_PER_MINUTE,
            flow_l_per_min=known(label.flow / LITRE_PER_MINUTE),
            flow_uncertainty_l_per_min=known(label.flow_uncertainty / LITRE_PER_MINUTE),
            rows=[LabelRowAnswer.of(row) for row in label.rows],
        )


class BenchAnswer(Exact):
    """A bench test: the pump that follows from it, and how well."""

    name: str = meaning("Name of the pump")
    rated_voltage_v: float = amount("Voltage at which the pump's points are given", "V")
    readings: int = Field(ge=0, description="Readings that were used.")
    left_out_rows: list[int] = meaning("Rows that no pump could follow with")
    settings: list[SettingAnswer] = meaning("Readings at the same volts and height, together")
    fit: FitAnswer = meaning("The numbers of the fit")
    curve: PumpCurveAnswer = meaning("The pump at rated voltage")
    curves: list[PumpCurveAnswer] = meaning("The pump at the measured voltages")
    rows: list[BenchRowAnswer] = meaning("Every reading beside the common curve")
    apart: list[ApartAnswer] = meaning("Readings that stand apart; they are kept")
    teams: list[TeamAnswer] = meaning("Teams beside one another")
    notes: list[TellAnswer] = meaning("What to know of the fit")
    problems: list[RowProblemAnswer] = meaning("What could not be read")
    advice: list[FurtherAnswer] = meaning("Which further readings would help most")
    pump: GivenPump = meaning("The pump for a design file")
    label: LabelComparedAnswer | None = meaning("The pump beside its label; null without a design")
    working: list[StepAnswer] = meaning("How the numbers were found")


def bench_answer(found: Bench) -> BenchAnswer:
    """All that a bench test tells."""
    return BenchAnswer(
        name=found.name,
        rated_voltage_v=found.rated_voltage,
        readings=len(found.readings.row),
        left_out_rows=np.setdiff1d(found.log.row, found.readings.row).tolist(),
        settings=[SettingAnswer.of(found, index) for index in range(len(found.settings.flow))],
        fit=FitAnswer.of(found),
        curve=PumpCurveAnswer.of(found.curve),
        curves=[PumpCurveAnswer.of(curve) for curve in found.levels],
        rows=[BenchRowAnswer.of(found, index) for index in range(len(found.readings.row))],
        apart=[ApartAnswer.of(one) for one in found.apart],
        teams=[TeamAnswer.of(team) for team in found.teams],
        notes=[TellAnswer.of(note) for note in found.notes],
        problems=[RowProblemAnswer.of(problem) for problem in found.log.problems],
        advice=[FurtherAnswer.of(one) for one in found.further[:MOST_ADVICE]],
        pump=found.pump,
        label=None if found.label is None else LabelComparedAnswer.of(found.label),
        working=working_of(bench_roots(found)),
    )
