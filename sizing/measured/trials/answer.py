"""What a log of directions and tilts is answered with: experiments group by group, readings as they were, heights of the sun."""

from dataclasses import replace
from typing import Literal, NamedTuple, Self, cast

import numpy as np
from pydantic import Field

from sizing.answers.kit import Exact, amount, meaning
from sizing.answers.shared import RowProblemAnswer, StepAnswer, working_of
from sizing.foundation.units import LITRE_PER_MINUTE
from sizing.foundation.working import Worked, by_method, work
from sizing.measured.day.answer import RealDayAnswer, SkyRemark, head_of
from sizing.measured.logs.logs import TurnLog
from sizing.measured.trials.fit import Difference, comparable
from sizing.measured.trials.orientation_trial import Measured, OrientationTrial, Tried
from sizing.measured.trials.sentences import angle_words, ends_sentence, explanation, held_words, model_sentence, next_sentence
from sizing.measured.trials.sun_heights import SunHeights

QuantityName = Literal["panel_current_a", "panel_voltage_v", "panel_power_w", "flow_l_per_min"]
UnitName = Literal["A", "V", "W", "L/min"]


class Shown(NamedTuple):
    """A quantity in an answer: its name, its unit, and what an SI value is multiplied by."""

    name: QuantityName
    unit: UnitName
    per_si: float


SHOWN = {
    "flow": Shown("flow_l_per_min", "L/min", 1 / LITRE_PER_MINUTE),
    "power": Shown("panel_power_w", "W", 1.0),
    "current": Shown("panel_current_a", "A", 1.0),
    "voltage": Shown("panel_voltage_v", "V", 1.0),
}
"""Quantities in the order in which they are told; a verdict speaks of the first that was measured."""


def known(value: float) -> float | None:
    """A number for an answer; ``None`` where there is none."""
    return float(value) if np.isfinite(value) else None


class TurnedGroupAnswer(Exact):
    angle_deg: float = amount("Direction from true north, or tilt, mean of its readings", "deg")
    words: str = meaning("The direction or tilt for people")
    readings: int = Field(ge=1, description="Readings that count.")
    mean_as_read: float = meaning("Mean of the readings as they were, in the quantity's unit")
    comparable_mean: float = meaning("Mean at the reference moment, days and teams evened out")
    low: float | None = meaning("Lower end of its likely range; null where nothing is left to tell chance by")
    high: float | None = meaning("Upper end of its likely range; null likewise")
    expected: float = meaning("What the design should give there under a clear sky")
    measured_over_expected: float = amount("Comparable mean over what is expected", "1")

    @classmethod
    def of(cls, changed: str, part: Measured, at: int) -> Self:
        fit, angle, factor = part.fit, float(part.angle[at]), SHOWN[part.quantity].per_si
        return cls(
            angle_deg=angle,
            words=angle_words(changed, angle),
            readings=int(fit.count[at]),
            mean_as_read=factor * float(fit.raw[at]),
            comparable_mean=factor * float(fit.mean[at]),
            low=known(factor * float(fit.low[at])),
            high=known(factor * float(fit.high[at])),
            expected=factor * float(part.expected[at]),
            measured_over_expected=float(fit.mean[at] / part.expected[at]),
        )


class DifferenceAnswer(Exact):
    share_pct: float = amount("By how much the first is more than the second", "%")
    uncertainty_pct: float = amount("Standard uncertainty of that", "%")
    confidence_pct: float = amount("How likely it is more than chance (Student's t, two-sided)", "%")
    more_readings_of_each: int | None = meaning(
        "Further readings of each that would settle it; null where no reasonable number would"
    )

    @classmethod
    def of(cls, found: Difference) -> Self:
        return cls(
            share_pct=100 * found.share,
            uncertainty_pct=100 * found.uncertainty,
            confidence_pct=100 * found.confidence,
            more_readings_of_each=found.more,
        )


class ModelLineAnswer(Exact):
    angle_deg: list[float] = Field(description="Directions or tilts [deg].")
    value: list[float] = Field(description="What a clear sky gives at the reference moment, in the quantity's unit.")


class TurnedQuantityAnswer(Exact):
    quantity: QuantityName = meaning("What was measured")
    unit: UnitName = meaning("Its unit")
    groups: list[TurnedGroupAnswer] = meaning("Directions or tilts, angles rising")
    sentences: list[str] = meaning("What the readings say, and the model beside them")
    best_to_least: DifferenceAnswer | None = meaning("Best against least, picked from all pairs; null where it cannot be told")
    best_to_next: DifferenceAnswer | None = meaning("Best against next best; null likewise")
    scatter_pct: float | None = amount("Scatter of a single reading about the fit; null where nothing is left to tell it by", "%")
    freedom: int = Field(description="Readings less the numbers found from them.")
    model: ModelLineAnswer = meaning("The model's line")
    left_out: list[RowProblemAnswer] = meaning("Rows that were read and do not count, with the reason")

    @classmethod
    def of(cls, trial: Tried, part: Measured) -> Self:
        shown, (angles, values) = SHOWN[part.quantity], part.line
        said = (ends_sentence(trial, part), next_sentence(trial, part), model_sentence(trial, part))
        return cls(
            quantity=shown.name,
            unit=shown.unit,
            groups=[TurnedGroupAnswer.of(trial.experiment.changed, part, at) for at in range(len(part.angle))],
            sentences=[sentence for sentence in said if sentence],
            best_to_least=None if part.ends is None else DifferenceAnswer.of(part.ends),
            best_to_next=None if part.next is None else DifferenceAnswer.of(part.next),
            scatter_pct=known(100 * part.fit.scatter),
            freedom=part.fit.freedom,
            model=ModelLineAnswer(angle_deg=angles.tolist(), value=(shown.per_si * values).tolist()),
            left_out=[RowProblemAnswer.of(problem) for problem in part.left_out],
        )


class ExperimentAnswer(Exact):
    changed: Literal["direction", "tilt"] = meaning("Which angle was changed")
    title: str = meaning("The experiment for people")
    held_deg: float = amount("The angle that was held", "deg")
    reference_day: str = meaning("Day of the reference moment, ISO 8601")
    reference_time_h: float = amount("Its hour of the clock on the wall", "h")
    days_and_teams: int = Field(ge=1, description="Days and teams that were evened out.")
    explanation: list[str] = meaning("How the readings were made comparable")
    quantities: list[TurnedQuantityAnswer] = meaning("What was measured")

    @classmethod
    def of(cls, trial: Tried) -> Self:
        return cls(
            changed=trial.experiment.changed,
            title=f"The panel {held_words(trial)}",
            held_deg=trial.experiment.held,
            reference_day=trial.day.isoformat(),
            reference_time_h=trial.hour,
            days_and_teams=trial.blocks,
            explanation=list(explanation(trial)),
            quantities=[TurnedQuantityAnswer.of(trial, part) for part in in_order(trial)],
        )

    @property
    def left_out(self) -> list[RowProblemAnswer]:
        """Rows that do not count for one quantity or several, each once."""
        return list({each.row: each for part in self.quantities for each in part.left_out}.values())


def in_order(trial: Tried) -> list[Measured]:
    """What an experiment measured, in the order in which it is told."""
    order = list(SHOWN)
    return sorted(trial.measured, key=lambda part: order.index(part.quantity))


class TurnedReadingAnswer(Exact):
    row: int = Field(ge=1, description="Row as a spreadsheet counts it.")
    day: str = meaning("Day, ISO 8601")
    time_h: float = amount("Hour of the clock on the wall", "h")
    direction_deg: float = amount("Direction from true north", "deg")
    tilt_deg: float = amount("Tilt", "deg")
    panel_voltage_v: float | None = amount("Volts at the panel", "V")
    panel_current_a: float | None = amount("Amperes at the panel", "A")
    flow_l_per_min: float | None = amount("Flow", "L/min")
    sky: SkyRemark = meaning("What was remarked of the sky")
    team: str = meaning("Label of the team, as it was sent")
    sky_factor: float | None = amount("Measured current over that of a clear sky; null where there is none", "1")

    @classmethod
    def of(cls, found: OrientationTrial, at: int) -> Self:
        log = found.log
        return cls(
            row=int(log.row[at]),
            day=log.day[at].isoformat(),
            time_h=float(log.hour[at]),
            direction_deg=float(log.direction[at]),
            tilt_deg=float(log.tilt[at]),
            panel_voltage_v=known(log.voltage[at]),
            panel_current_a=known(log.current[at]),
            flow_l_per_min=known(log.flow[at] / LITRE_PER_MINUTE),
            sky=cast(SkyRemark, log.sky[at]),
            team=log.team[at],
            sky_factor=known(found.sky_factor[at]),
        )


class SunHeightAnswer(Exact):
    row: int = Field(ge=1, description="Row as a spreadsheet counts it.")
    by: Literal["instrument", "shadow"] = meaning("How it was measured")
    measured_deg: float = amount("Measured height of the sun", "deg")
    uncertainty_deg: float = amount("Its standard uncertainty", "deg")
    computed_deg: float = amount("Computed height, lifted by refraction", "deg")

    @classmethod
    def of(cls, found: SunHeights, at: int) -> Self:
        return cls(
            row=int(found.row[at]),
            by="shadow" if found.by_shadow[at] else "instrument",
            measured_deg=float(found.measured[at]),
            uncertainty_deg=float(found.uncertainty[at]),
            computed_deg=float(found.computed[at]),
        )


class SunHeightsAnswer(Exact):
    rows: list[SunHeightAnswer] = meaning("Every height that was measured")
    offset_deg: float = amount("How much too high all were read", "deg")
    offset_uncertainty_deg: float = amount("Its standard uncertainty", "deg")
    clock_behind_min: float | None = amount("How far the clock was behind; null where the readings cannot tell", "min")
    clock_uncertainty_min: float = amount("Its standard uncertainty", "min")
    sentences: list[str] = meaning("What the differences say")

    @classmethod
    def of(cls, found: SunHeights) -> Self:
        return cls(
            rows=[SunHeightAnswer.of(found, at) for at in range(len(found.row))],
            offset_deg=found.offset,
            offset_uncertainty_deg=found.offset_uncertainty,
            clock_behind_min=found.minutes,
            clock_uncertainty_min=found.minutes_uncertainty,
            sentences=list(found.sentences),
        )


class TurnedAnswer(RealDayAnswer):
    """A log of directions and tilts."""

    verdict: str = meaning("The main result in a sentence")
    experiments: list[ExperimentAnswer] = meaning("The experiments that the log holds, those with most readings first")
    readings: list[TurnedReadingAnswer] = meaning("Every row that was read")
    sun_heights: SunHeightsAnswer | None = meaning("Heights of the sun; null where none was measured")
    problems: list[RowProblemAnswer] = meaning("What could not be read")
    working: list[StepAnswer] = meaning("How readings were carried to the reference moment")


def turned_answer(found: OrientationTrial) -> TurnedAnswer:
    """All that a log of directions and tilts tells."""
    return TurnedAnswer(
        **dict(head_of(found.clear_day)),
        verdict=verdict(found),
        experiments=[ExperimentAnswer.of(trial) for trial in found.tried],
        readings=[TurnedReadingAnswer.of(found, at) for at in range(len(found.log.row))],
        sun_heights=None if found.heights is None else SunHeightsAnswer.of(found.heights),
        problems=[RowProblemAnswer.of(problem) for problem in found.problems],
        working=working_of(trial_roots(found)),
    )


def verdict(found: OrientationTrial) -> str:
    """The largest experiment's main quantity in a sentence, or what the heights of the sun say."""
    if found.tried:
        return ends_sentence(found.tried[0], in_order(found.tried[0])[0])
    return found.heights.sentences[0] if found.heights else ""


def trial_roots(found: OrientationTrial) -> list[Worked]:
    """How readings were carried to the reference moment, and the first height of the sun."""
    carried = [carried_reading(found.log, part) for trial in found.tried for part in trial.measured]
    return [*carried, *(found.heights.working if found.heights else ())]


def carried_reading(log: TurnLog, part: Measured) -> Worked:
    """How the largest reading of a quantity was carried to the reference moment."""
    name, unit, factor = SHOWN[part.quantity]
    at = int(np.argmax(part.values))
    row = int(log.row[part.rows[at]])
    expected = float(part.expected[part.group[at]])
    as_read = float(part_reading(log, part, at))
    reading = Worked("reading", factor * as_read, unit, "measured")
    there = by_method("expected_at_reference", factor * expected, unit, "ineichen_perez_2002", "By the design under a clear sky.")
    then = by_method(
        "expected_then",
        factor * expected / (float(part.values[at]) / as_read),
        unit,
        "ineichen_perez_2002",
        f"By the design under a clear sky, at the minute of row {row}.",
    )
    carried = work(comparable, reading=reading, expected_at_reference=there, expected_then=then)
    return replace(carried, name=f"comparable_{name}", unit=unit)


def part_reading(log: TurnLog, part: Measured, at: int) -> float:
    """The reading behind a comparable one, in SI."""
    row = part.rows[at]
    return float(log.voltage[row] * log.current[row] if part.quantity == "power" else getattr(log, part.quantity)[row])
