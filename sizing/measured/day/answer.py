"""Answers about real days: a sheet to fill in, a filled sheet beside its prediction, the looks at a finished fountain."""

from collections.abc import Iterable
from typing import Literal, Self, cast

import numpy as np
from numpy.typing import NDArray
from pydantic import Field

from sizing.answers.kit import Exact, amount, meaning
from sizing.answers.shared import RowProblemAnswer, StateName, StepAnswer, TellAnswer, state_name, working_of
from sizing.foundation.units import LITRE_PER_MINUTE
from sizing.foundation.working import Worked
from sizing.measured.day.clear_day import ClearDay, day_words
from sizing.measured.day.clear_day_uncertainty import ClearDayUncertainty
from sizing.measured.day.commissioning import NAMES, Kept, Looked, Trend, Wanted, judged_sentence
from sizing.measured.day.filled_sheet import Compared, Side
from sizing.measured.day.sentences import by_chance, likely_stage, stage_sentence, verdict_sentence
from sizing.measured.day.sheet import Sheet
from sizing.measured.day.stage_residuals import StageResidual
from sizing.operation.operating_point import REASONS, State
from sizing.uncertainty.causes import Cause
from sizing.uncertainty.uncertainty import shares

Array = NDArray[np.float64]

StageName = Literal["sun", "panel", "motor", "pump", "outlet"]
QuantityName = Literal["sun_altitude_deg", "panel_voltage_v", "panel_current_a", "flow_l_per_min", "jet_height_m"]
SkyRemark = Literal["", "clear", "haze", "clouds"]
Verdict = Literal["accept", "look at", "not judged"]

QUANTITY: dict[str, QuantityName] = {
    "sun_height": "sun_altitude_deg",
    "voltage": "panel_voltage_v",
    "current": "panel_current_a",
    "flow": "flow_l_per_min",
    "jet": "jet_height_m",
}
"""What each quantity of a record is called in an answer, with its unit."""
PER_SI = {"sun_height": 1.0, "voltage": 1.0, "current": 1.0, "flow": 1 / LITRE_PER_MINUTE, "jet": 1.0}
"""What an SI value is multiplied by."""
VERDICTS: dict[bool | None, Verdict] = {True: "accept", False: "look at", None: "not judged"}


class RealDayAnswer(Exact):
    """What every answer about real days begins with."""

    time_zone: str = meaning("Whose clock all hours follow")
    tilt_deg: float = amount("Tilt of the panel", "deg")
    azimuth_deg: float = amount("Direction the panel faces, from true north", "deg")
    has_jet: bool = meaning("Whether the outlet throws water upward; where it is a lip, no jet is predicted or judged")
    notes: list[TellAnswer] = meaning("What to know of place and clock")

    @property
    def quantities(self) -> list[QuantityName]:
        """What is measured, in the order of the path; no jet where the outlet is a lip."""
        return [name for name in QUANTITY.values() if self.has_jet or name != "jet_height_m"]


def head_of(clear_day: ClearDay) -> RealDayAnswer:
    """Clock, panel and notes of a design on real days."""
    return RealDayAnswer(
        time_zone=clear_day.time_zone,
        tilt_deg=clear_day.mounting.tilt,
        azimuth_deg=clear_day.mounting.azimuth,
        has_jet=clear_day.has_jet,
        notes=[TellAnswer.of(note) for note in clear_day.notes],
    )


class RangeAnswer(Exact):
    value: float = meaning("What is expected, in the unit of the field's name")
    low: float = meaning("Lower end of the likely range, one standard uncertainty below")
    high: float = meaning("Upper end of the likely range, one standard uncertainty above")

    @classmethod
    def of(cls, sheet: Sheet, name: str, index: int) -> Self:
        ends = (getattr(sheet.found, name), sheet.low[name], sheet.high[name])
        value, low, high = (PER_SI[name] * float(end[index]) for end in ends)
        return cls(value=value, low=low, high=high)


class AcceptAnswer(Exact):
    value: float = meaning("What is expected, in the unit of the field's name")
    least: float = meaning("Least to accept, two combined standard uncertainties below")
    most: float = meaning("Most to accept, two combined standard uncertainties above")

    @classmethod
    def of(cls, wanted: Wanted, name: str, index: int) -> Self:
        found = wanted.sheet.found
        expected = found.sun_altitude if name == "sun_height" else getattr(found, name)
        ends = (expected, wanted.least[name], wanted.most[name])
        value, least, most = (PER_SI[name] * float(end[index]) for end in ends)
        return cls(value=value, least=least, most=most)


class MomentLine(Exact):
    """What a line of a predicted day begins with."""

    time_h: float = amount("Hour of the clock on the wall", "h")
    sun_altitude_deg: float | AcceptAnswer = amount("Height of the sun", "deg")
    sun_azimuth_deg: float = amount("Direction of the sun, clockwise from true north", "deg")
    poa_w_per_m2: float = amount("Sun on the panel", "W/m2")
    cell_temperature_c: float = amount("Temperature of the cells", "Cel")
    state: StateName = meaning("What the fountain does")
    reason: str = meaning("The same in words")


def moment_line(sheet: Sheet, index: int) -> MomentLine:
    """Sun, cells and state of one line."""
    found, state = sheet.found, State(int(sheet.found.state[index]))
    return MomentLine(
        time_h=float(sheet.hour[index]),
        sun_altitude_deg=float(found.sun_altitude[index]),
        sun_azimuth_deg=float(found.sun_azimuth[index]),
        poa_w_per_m2=float(found.poa[index]),
        cell_temperature_c=float(found.cell_temperature[index]),
        state=state_name(state),
        reason=REASONS[state],
    )


class SheetLineAnswer(MomentLine):
    sun_altitude_deg: float = amount("Height of the sun, lifted by refraction", "deg")
    panel_voltage_v: RangeAnswer = meaning("Volts at the panel with the pump on it [V]")
    panel_current_a: RangeAnswer = meaning("Amperes at the panel with the pump on it [A]")
    flow_l_per_min: RangeAnswer = meaning("Flow [L/min]")
    jet_height_m: RangeAnswer = meaning("Jet above the outlet [m]")

    @classmethod
    def of(cls, sheet: Sheet, index: int) -> Self:
        return cls(
            **dict(moment_line(sheet, index)),
            panel_voltage_v=RangeAnswer.of(sheet, "voltage", index),
            panel_current_a=RangeAnswer.of(sheet, "current", index),
            flow_l_per_min=RangeAnswer.of(sheet, "flow", index),
            jet_height_m=RangeAnswer.of(sheet, "jet", index),
        )

    @property
    def ranges(self) -> dict[QuantityName, RangeAnswer]:
        """What is predicted with a likely range, in the order of the path."""
        return {
            "panel_voltage_v": self.panel_voltage_v,
            "panel_current_a": self.panel_current_a,
            "flow_l_per_min": self.flow_l_per_min,
            "jet_height_m": self.jet_height_m,
        }


class FirstDayLineAnswer(MomentLine):
    sun_altitude_deg: AcceptAnswer = meaning("Height of the sun [deg]")
    panel_voltage_v: AcceptAnswer = meaning("Volts at the panel with the pump on it [V]")
    panel_current_a: AcceptAnswer = meaning("Amperes at the panel with the pump on it [A]")
    flow_l_per_min: AcceptAnswer = meaning("Flow [L/min]")
    jet_height_m: AcceptAnswer = meaning("Jet above the outlet [m]")

    @classmethod
    def of(cls, wanted: Wanted, index: int) -> Self:
        line = dict(moment_line(wanted.sheet, index))
        line.update({field: AcceptAnswer.of(wanted, name, index) for name, field in QUANTITY.items()})
        return cls(**line)

    @property
    def accepted(self) -> dict[QuantityName, AcceptAnswer]:
        """What is to be measured, with the ends of what is accepted, in the order of the path."""
        return {
            "sun_altitude_deg": self.sun_altitude_deg,
            "panel_voltage_v": self.panel_voltage_v,
            "panel_current_a": self.panel_current_a,
            "flow_l_per_min": self.flow_l_per_min,
            "jet_height_m": self.jet_height_m,
        }


class DayCauseAnswer(Exact):
    key: str = meaning("Stable name of the cause")
    words: str = meaning("What is not known exactly")
    taken: str = meaning("What was taken")
    basis: str = meaning("How far off it may be")
    source: str = meaning("Source key")
    share: float = amount("Its share in the variance of the flow at the best hour", "1")

    @classmethod
    def of(cls, cause: Cause, share: float) -> Self:
        return cls(key=cause.key, words=cause.words, taken=cause.taken, basis=cause.basis, source=cause.source, share=share)


def causes_of_day(sure: ClearDayUncertainty, flow: Array) -> list[DayCauseAnswer]:
    """Causes by their share in the uncertainty of the flow at the hour with most of it."""
    best = int(np.argmax(flow))
    share = shares(sure.effects["flow"])[:, best]
    rows = [DayCauseAnswer.of(cause, float(part)) for cause, part in zip(sure.causes, share, strict=True) if part > 0]
    return sorted(rows, key=lambda row: -row.share)


class SheetAnswer(RealDayAnswer):
    """A predicted clear day."""

    day: str = meaning("Day, ISO 8601")
    title: str = meaning("The same for people")
    lines: list[SheetLineAnswer] = Field(max_length=50, description="A line every half hour while the sun is up.")
    causes: list[DayCauseAnswer] = meaning("What makes the flow unsure, largest first")
    worked_time_h: float = amount("Hour of the moment that is worked out", "h")
    working: list[StepAnswer] = meaning("Every number of that moment")

    @property
    def ranged(self) -> list[QuantityName]:
        """What is predicted with a likely range."""
        return [name for name in self.quantities if name != "sun_altitude_deg"]


def sheet_answer(sheet: Sheet) -> SheetAnswer:
    """A predicted day: a line every half hour, what makes it unsure, and the best moment's working."""
    return SheetAnswer(
        **dict(head_of(sheet.clear_day)),
        day=sheet.day.isoformat(),
        title=f"A clear {day_words(sheet.day)}",
        lines=[SheetLineAnswer.of(sheet, index) for index in range(len(sheet.hour))],
        causes=causes_of_day(sheet.sure, sheet.found.flow),
        worked_time_h=sheet.moment.time,
        working=working_of(root for station in sheet.moment.stations for root in station.roots),
    )


class StageAnswer(Exact):
    stage: StageName = meaning("Stage of the path")
    sentence: str = meaning("The judgement in one sentence")
    measured_over_computed: float | None = amount("Measured over computed; null for the sun and where nothing was read", "1")
    measured_less_computed_deg: float | None = amount("For the sun alone: how much higher it was measured", "deg")
    uncertainty: float = amount("Combined standard uncertainty of that", "1")
    off: float = amount("Distance in combined standard uncertainties; beyond two it is in doubt", "1")
    change_per_hour: float | None = meaning("How that changes through the day, in its own unit per hour; null where not told")
    change_uncertainty: float | None = meaning("Standard uncertainty of the change")
    readings: int = Field(ge=0, description="Readings behind it.")
    doubtful: bool = meaning("Whether the stage is in doubt, by its mean or by its change")

    @classmethod
    def of(cls, found: StageResidual) -> Self:
        of_sun = found.stage == "sun"
        return cls(
            stage=cast(StageName, found.stage),
            sentence=stage_sentence(found),
            measured_over_computed=None if of_sun else found.ratio,
            measured_less_computed_deg=found.ratio if of_sun else None,
            uncertainty=found.uncertainty,
            off=found.off,
            change_per_hour=found.drift,
            change_uncertainty=None if found.drift is None else found.drift_uncertainty,
            readings=found.count,
            doubtful=found.doubtful,
        )


class WholeAnswer(Exact):
    quantity: QuantityName = meaning("What was read, with its unit")
    measured_over_predicted: float | None = amount("Mean of the clear rows; null where nothing was read", "1")
    uncertainty: float = amount("Combined standard uncertainty of that", "1")
    off: float = amount("Distance in combined standard uncertainties", "1")
    readings: int = Field(ge=0, description="Readings behind it.")
    doubtful: bool = meaning("Whether it lies beyond two of them")

    @classmethod
    def of(cls, found: StageResidual) -> Self:
        return cls(
            quantity=QUANTITY[found.stage],
            measured_over_predicted=found.ratio,
            uncertainty=found.uncertainty,
            off=found.off,
            readings=found.count,
            doubtful=found.doubtful,
        )


class SideAnswer(Exact):
    measured: float | None = meaning("What was read, in the unit of the field's name; null where nothing was")
    predicted: float = meaning("What a clear day should bring at that minute")
    low: float = meaning("Lower end of the likely range")
    high: float = meaning("Upper end of the likely range")
    off: float | None = meaning("Measured less predicted in combined standard uncertainties; null likewise")


def sides_of(side: Side, factor: float) -> list[SideAnswer]:
    """One quantity of every row, measured beside predicted."""
    read = (~np.isnan(side.measured)).tolist()
    columns = [(factor * values).tolist() for values in (side.measured, side.predicted, side.low, side.high)]
    return [
        SideAnswer(measured=measured if known else None, predicted=predicted, low=low, high=high, off=off if known else None)
        for known, measured, predicted, low, high, off in zip(read, *columns, side.off.tolist(), strict=True)
    ]


class FilledRowAnswer(Exact):
    row: int = Field(ge=1, description="Row as a spreadsheet counts it.")
    day: str = meaning("Day, ISO 8601")
    time_h: float = amount("Hour of the clock on the wall", "h")
    sky: SkyRemark = meaning("What was remarked of the sky")
    team: str = meaning("Label of the team, as it was sent")
    sun_altitude_deg: SideAnswer = meaning("Height of the sun [deg]")
    panel_voltage_v: SideAnswer = meaning("Volts at the panel [V]")
    panel_current_a: SideAnswer = meaning("Amperes at the panel [A]")
    flow_l_per_min: SideAnswer = meaning("Flow [L/min]")
    jet_height_m: SideAnswer = meaning("Jet above the outlet [m]")

    @property
    def sides(self) -> dict[QuantityName, SideAnswer]:
        """What was measured beside what was predicted, in the order of the path."""
        return {
            "sun_altitude_deg": self.sun_altitude_deg,
            "panel_voltage_v": self.panel_voltage_v,
            "panel_current_a": self.panel_current_a,
            "flow_l_per_min": self.flow_l_per_min,
            "jet_height_m": self.jet_height_m,
        }


def rows_of(found: Compared) -> list[FilledRowAnswer]:
    """The rows of a filled sheet, each quantity that was read beside its prediction."""
    log = found.log
    by_name = {QUANTITY[name]: sides_of(side, PER_SI[name]) for name, side in found.sides.items()}
    numbers = zip(log.row.tolist(), log.hour.tolist(), strict=True)
    return [
        FilledRowAnswer(
            row=row,
            day=log.day[index].isoformat(),
            time_h=hour,
            sky=cast(SkyRemark, log.sky[index]),
            team=log.team[index],
            **{name: sides[index] for name, sides in by_name.items()},
        )
        for index, (row, hour) in enumerate(numbers)
    ]


class FilledSheetAnswer(RealDayAnswer):
    """A filled sheet beside its prediction."""

    verdict: str = meaning("Which stage is off most likely and why, in words")
    likely_stage: StageName | None = meaning("That stage; null where all agree")
    by_chance: float | None = amount("How often chance alone puts one of the stages so far off; null where all agree", "1")
    stages: list[StageAnswer] = Field(
        min_length=4, max_length=5, description="The stages in the order of the path; a lip has no jet to judge."
    )
    wholes: list[WholeAnswer] = meaning("Volts, amperes, flow and jet against the prediction, all stages together")
    rows: list[FilledRowAnswer] = meaning("Every row that was read")
    problems: list[RowProblemAnswer] = meaning("What could not be read")
    working: list[StepAnswer] = meaning("The numbers of the judgements")


def compared_answer(found: Compared) -> FilledSheetAnswer:
    """A filled sheet beside its prediction, and the stages along the path."""
    worst, chance = likely_stage(found.stages), by_chance(found.stages)
    return FilledSheetAnswer(
        **dict(head_of(found.clear_day)),
        verdict=verdict_sentence(found.stages, found.wholes),
        likely_stage=None if worst is None else cast(StageName, worst.stage),
        by_chance=None if chance is None else chance.value,
        stages=[StageAnswer.of(stage) for stage in found.stages],
        wholes=[WholeAnswer.of(whole) for whole in found.wholes],
        rows=rows_of(found),
        problems=[RowProblemAnswer.of(problem) for problem in found.log.problems],
        working=working_of(judged_roots(found)),
    )


def judged_roots(found: Compared) -> list[Worked]:
    """The numbers of all judgements."""
    chance = by_chance(found.stages)
    roots = [root for judged in (*found.stages, *found.wholes) for root in judged.working]
    return roots if chance is None else [*roots, chance]


class ReadingAnswer(Exact):
    quantity: QuantityName = meaning("What was read, with its unit")
    words: str = meaning("The same for people")
    measured: float = meaning("What was read")
    expected: float = meaning("What a clear day should bring")
    least: float = meaning("Least to accept")
    most: float = meaning("Most to accept")
    verdict: Verdict = meaning("Judgement; under clouds there is none")

    @classmethod
    def of(cls, found: Looked) -> Self:
        factor = PER_SI[found.name]
        return cls(
            quantity=QUANTITY[found.name],
            words=NAMES[found.name],
            measured=factor * found.measured,
            expected=factor * found.expected,
            least=factor * found.least,
            most=factor * found.most,
            verdict=VERDICTS[found.accepted],
        )


class LookAnswer(Exact):
    day: str = meaning("Day, ISO 8601")
    time_h: float = amount("Hour of the clock on the wall", "h")
    sky: SkyRemark = meaning("What was remarked of the sky")
    readings: list[ReadingAnswer] = meaning("What was read")


def looks_of(kept: Kept) -> Iterable[LookAnswer]:
    """Every look, in the design's order."""
    log = kept.whole.log
    for day, hour, sky, look in zip(log.day, log.hour.tolist(), log.sky, kept.looks, strict=True):
        readings = [ReadingAnswer.of(each) for each in look]
        yield LookAnswer(day=day.isoformat(), time_h=hour, sky=cast(SkyRemark, sky), readings=readings)


class TrendAnswer(Exact):
    quantity: QuantityName = meaning("What was read, with its unit")
    days: list[str] = meaning("Days of the looks")
    measured_over_expected: list[float] = meaning("Measured over expected on each")
    change_per_year: float | None = amount("Change of that a year; null where the looks are too near one another", "1")
    uncertainty_per_year: float = amount("Standard uncertainty of the change", "1")
    sentence: str = meaning("The same in words")

    @classmethod
    def of(cls, trend: Trend) -> Self:
        return cls(
            quantity=QUANTITY[trend.name],
            days=[day.isoformat() for day in trend.days],
            measured_over_expected=list(trend.ratios),
            change_per_year=trend.change,
            uncertainty_per_year=trend.uncertainty,
            sentence=trend.sentence,
        )


class KeptAnswer(Exact):
    """The looks that a design holds."""

    sentence: str = meaning("The last day in a sentence")
    looks: list[LookAnswer] = meaning("Every look, in the design's order")
    last: FilledSheetAnswer = meaning("The stages on the last day")
    trends: list[TrendAnswer] = meaning("How it went over the years")

    @classmethod
    def of(cls, kept: Kept) -> Self:
        return cls(
            sentence=judged_sentence(kept),
            looks=list(looks_of(kept)),
            last=compared_answer(kept.last),
            trends=[TrendAnswer.of(trend) for trend in kept.trends],
        )


class FirstDayAnswer(RealDayAnswer):
    """What to measure on a clear day and what to accept, and the looks so far."""

    day: str = meaning("Day, ISO 8601")
    title: str = meaning("The same for people")
    lines: list[FirstDayLineAnswer] = Field(max_length=3, description="At the sun's highest half hour, and two hours aside.")
    kept: KeptAnswer | None = meaning("The looks that the design holds; null where it holds none")


def first_day_answer(wanted: Wanted, kept: Kept | None) -> FirstDayAnswer:
    """What to measure on a clear day, what to accept, and how the looks that the design holds were."""
    sheet = wanted.sheet
    return FirstDayAnswer(
        **dict(head_of(sheet.clear_day)),
        day=sheet.day.isoformat(),
        title=f"A clear {day_words(sheet.day)}",
        lines=[FirstDayLineAnswer.of(wanted, index) for index in range(len(sheet.hour))],
        kept=None if kept is None else KeptAnswer.of(kept),
    )
