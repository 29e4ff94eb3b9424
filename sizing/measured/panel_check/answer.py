"""The answer of a panel check: every reading beside its label, what may be wrong sitting by sitting, and curves to draw."""

import math
from typing import Literal, Self, cast

import numpy as np
from pydantic import Field

from sizing.answers.kit import Exact, amount, meaning
from sizing.answers.shared import RowProblemAnswer, StepAnswer, TellAnswer, working_of
from sizing.light.clear_sky import CLEAR_SKY_SHARE
from sizing.measured.day.answer import RealDayAnswer, SkyRemark, head_of
from sizing.measured.day.stage_residuals import DOUBT
from sizing.measured.panel_check.diagnosis import Explanation
from sizing.measured.panel_check.faults import SIZE, SUN, WARMTH
from sizing.measured.panel_check.panel_check import Drawn, PanelCheck, Sitting
from sizing.measured.panel_check.points import USED, Beside, Kind
from sizing.measured.panel_check.sentences import ADVICE, NAMES, explanation_sentence
from sizing.measured.panel_check.shapes import Labelled
from sizing.measured.panel_check.working import reading_roots, sitting_roots

MOST_WORKED = 12
"""Readings whose sums are shown one by one."""


class PanelLabelAnswer(Exact):
    open_circuit_voltage_v: float = amount("Open-circuit voltage of one panel by its label", "V")
    short_circuit_current_a: float = amount("Short-circuit current of one panel by its label", "A")
    in_series: int = Field(ge=1, description="Panels in series.")
    in_parallel: int = Field(ge=1, description="Strings side by side.")

    @classmethod
    def of(cls, label: Labelled) -> Self:
        return cls(
            open_circuit_voltage_v=label.voc,
            short_circuit_current_a=label.isc,
            in_series=label.in_series,
            in_parallel=label.in_parallel,
        )


class BesideAnswer(Exact):
    unit: Literal["V", "A"] = meaning("Whether volts or amperes are compared")
    measured: float = meaning("What was measured, in that unit")
    computed: float = meaning("What the label's curve has there")
    ratio: float = amount("Measured over computed", "1")
    uncertainty: float = amount("Combined standard uncertainty of the ratio", "1")
    times_uncertainty: float = amount("Distance from one in that", "1")
    within: bool = meaning("Whether it lies within two of them")


def sides_of(beside: Beside) -> list[BesideAnswer | None]:
    """Every reading beside a curve, columns changed to plain numbers in one go; ``None`` where nothing is compared."""
    columns: list[list[float]] = [
        values.tolist() for values in (beside.measured, beside.computed, beside.ratio, beside.uncertainty, beside.times)
    ]
    return [
        BesideAnswer(
            unit="V" if in_volts else "A",
            measured=measured,
            computed=computed,
            ratio=ratio,
            uncertainty=uncertainty,
            times_uncertainty=times,
            within=abs(times) <= DOUBT,
        )
        if math.isfinite(ratio)
        else None
        for in_volts, measured, computed, ratio, uncertainty, times in zip(beside.in_volts.tolist(), *columns, strict=True)
    ]


class PanelReadingAnswer(Exact):
    row: int = Field(ge=1, description="Row as a spreadsheet counts it.")
    team: str = meaning("Label of the team, as it was sent")
    day: str = meaning("Day, ISO 8601")
    time_h: float = amount("Hour of the clock on the wall", "h")
    sky: SkyRemark = meaning("What was remarked of the sky")
    sitting: int = Field(description="Which sitting it belongs to.")
    kind: str = meaning("open, short, loaded, or why it does not count")
    voltage_v: float = amount("Volts", "V")
    current_a: float = amount("Amperes", "A")
    voltage_uncertainty_v: float = amount("Standard uncertainty of the volts", "V")
    current_uncertainty_a: float = amount("Standard uncertainty of the amperes", "A")
    effective_w_per_m2: float = amount("Clear sun in the cells at that minute", "W/m2")
    cell_temperature_c: float = amount("Computed temperature of the cells", "Cel")
    clear_sky: BesideAnswer | None = meaning("Beside the label under a clear sky; null where nothing is compared")
    told_sun: BesideAnswer | None = meaning("Beside the label at the sun that the short circuit tells; null likewise")
    sun_told_w_per_m2: float | None = amount("Sun that a short circuit tells; null for other readings", "W/m2")
    sun_told_over_clear_sky: float | None = amount("The same over a clear sky's; null likewise", "1")
    working: list[StepAnswer] = meaning("How it was compared, for the first readings")

    @classmethod
    def of(cls, found: PanelCheck, index: int, clear_sky: BesideAnswer | None, told_sun: BesideAnswer | None) -> Self:
        log, readings = found.log, found.readings
        told, effective = float(found.told[index]), float(readings.effective[index])
        worked = index < MOST_WORKED and not found.cloudy[index] and found.kind[index] in USED
        return cls(
            row=int(log.row[index]),
            team=log.team[index],
            day=log.day[index].isoformat(),
            time_h=float(log.hour[index]),
            sky=cast(SkyRemark, log.sky[index]),
            sitting=int(found.sitting[index]),
            kind=Kind(int(found.kind[index])).name.lower(),
            voltage_v=float(log.voltage[index]),
            current_a=float(log.current[index]),
            voltage_uncertainty_v=float(readings.voltage_uncertainty[index]),
            current_uncertainty_a=float(readings.current_uncertainty[index]),
            effective_w_per_m2=effective,
            cell_temperature_c=float(readings.cell_temperature[index]),
            clear_sky=clear_sky,
            told_sun=told_sun,
            sun_told_w_per_m2=told * effective if math.isfinite(told) else None,
            sun_told_over_clear_sky=told if math.isfinite(told) else None,
            working=working_of(reading_roots(found, index)) if worked else [],
        )


class PanelExplanationAnswer(Exact):
    key: str = meaning("Stable name")
    name: str = meaning("The same for people")
    sentence: str = meaning("How much of it")
    advice: str = meaning("What to do")
    likelihood_pct: float | None = amount("How likely among all; null where nothing needs to be explained", "%")
    misfit: float = amount("Sum of squares of the misses in their uncertainties", "1")
    numbers_found: int = Field(ge=0, description="Numbers that were found from the readings for it.")
    score: float = amount("Akaike's criterion: the smaller the better", "1")
    light_over_clear_sky: float = amount("Light in the cells over a clear sky's", "1")
    light_uncertainty: float = amount("Its standard uncertainty", "1")
    cells_warmer_k: float = amount("Cells warmer than computed", "K")
    cells_warmer_uncertainty_k: float = amount("Its standard uncertainty", "K")
    shaded_light_pct: float | None = amount("Light of the shaded part over the rest; null where none is meant", "%")
    shaded_light_uncertainty_pct: float | None = amount("Its standard uncertainty; null likewise", "%")
    parts: int | None = meaning("Into how many parts the cells are led round; null where one")
    resistance_ohm: float | None = amount("Resistance of leads and joints; null where none is meant", "Ohm")
    resistance_uncertainty_ohm: float | None = amount("Its standard uncertainty; null likewise", "Ohm")
    power_over_label: float = amount("Most power over that of the label under a clear sky", "1")

    @classmethod
    def of(cls, each: Explanation, label: Labelled, widening: float) -> Self:
        """One explanation; numbers that do not belong to it are ``None``."""
        suspect = each.fit.suspect
        light, warmer, size = (float(each.fit.numbers[place]) for place in (SUN, WARMTH, SIZE))
        light_off, warmer_off, size_off = (float(widening * each.fit.uncertainty[place]) for place in (SUN, WARMTH, SIZE))
        ohms = SIZE in suspect.free and each.key == "resistance"
        shade = SIZE in suspect.free and not ohms
        return cls(
            key=each.key,
            name=NAMES[each.key],
            sentence=explanation_sentence(each, label, widening),
            advice=ADVICE[each.key],
            likelihood_pct=None if each.likelihood is None else 100 * each.likelihood,
            misfit=each.fit.misfit,
            numbers_found=each.fit.found,
            score=each.score,
            light_over_clear_sky=light,
            light_uncertainty=light_off,
            cells_warmer_k=warmer,
            cells_warmer_uncertainty_k=warmer_off,
            shaded_light_pct=100 * size if shade else None,
            shaded_light_uncertainty_pct=100 * size_off if shade else None,
            parts=suspect.parts if suspect.parts > 1 else None,
            resistance_ohm=size if ohms else None,
            resistance_uncertainty_ohm=size_off if ohms else None,
            power_over_label=each.power,
        )


class PanelCurveAnswer(Exact):
    key: str = meaning("Which curve")
    name: str = meaning("The same for people")
    voltage_v: list[float] = Field(description="Volts [V].")
    current_a: list[float] = Field(description="Amperes [A].")

    @classmethod
    def of(cls, curve: Drawn) -> Self:
        return cls(key=curve.key, name=curve.name, voltage_v=curve.voltage.tolist(), current_a=curve.current.tolist())


class SittingAnswer(Exact):
    sitting: int = Field(description="Its number, as the readings have it.")
    day: str = meaning("Day, ISO 8601")
    from_h: float = amount("First minute, as an hour of the clock", "h")
    to_h: float = amount("Last minute", "h")
    rows: list[int] = meaning("Rows of the log")
    sun_told_over_clear_sky: float | None = amount("Sun that its short circuits tell over a clear sky's; null without any", "1")
    sun_told_uncertainty: float | None = amount("Its standard uncertainty; null likewise", "1")
    sentences: list[str] = meaning("What the readings say")
    likeliest: str | None = meaning("Key of the likeliest explanation; null where nothing could be fitted")
    rivals: list[str] = meaning("Keys of those that fit just as well")
    widening: float | None = amount("Factor by which ranges were widened; null likewise", "1")
    hidden: list[str] = meaning("What these readings could not have shown")
    explanations: list[PanelExplanationAnswer] = meaning("All explanations, the likeliest first")
    curves: list[PanelCurveAnswer] = meaning("Curves for a picture")
    working: list[StepAnswer] = meaning("How the explanations were compared")

    @classmethod
    def of(cls, found: PanelCheck, sitting: Sitting) -> Self:
        diagnosis = sitting.diagnosis
        ranked = () if diagnosis is None else diagnosis.ranked
        widening = 1.0 if diagnosis is None else diagnosis.widening
        return cls(
            sitting=int(found.sitting[sitting.at[0]]),
            day=sitting.day.isoformat(),
            from_h=sitting.first,
            to_h=sitting.last,
            rows=found.log.row[sitting.at].tolist(),
            sun_told_over_clear_sky=sitting.told,
            sun_told_uncertainty=sitting.told_uncertainty,
            sentences=list(sitting.sentences),
            likeliest=None if diagnosis is None else diagnosis.best.key,
            rivals=[] if diagnosis is None else [each.key for each in diagnosis.rivals],
            widening=None if diagnosis is None else diagnosis.widening,
            hidden=[] if diagnosis is None else list(diagnosis.hidden),
            explanations=[PanelExplanationAnswer.of(each, found.label, widening) for each in ranked],
            curves=[PanelCurveAnswer.of(curve) for curve in sitting.curves],
            working=working_of(sitting_roots(found, sitting)),
        )


class PanelCheckAnswer(RealDayAnswer):
    """A panel check."""

    verdict: str = meaning("What the readings say in a sentence or two")
    label: PanelLabelAnswer = meaning("The label")
    clear_sky_uncertainty_pct: float = amount("Standard uncertainty of a clear sky's sun", "%")
    readings: list[PanelReadingAnswer] = meaning("Every row that was read")
    used: int = Field(ge=0, description="Readings that count.")
    sittings: list[SittingAnswer] = meaning("Readings taken one after the other, judged together")
    problems: list[RowProblemAnswer] = meaning("What could not be read")


def panel_check_answer(found: PanelCheck) -> PanelCheckAnswer:
    """All that a panel check tells."""
    return PanelCheckAnswer(
        **{**dict(head_of(found.lesson)), "notes": [TellAnswer.of(note) for note in found.notes]},
        verdict=found.verdict,
        label=PanelLabelAnswer.of(found.label),
        clear_sky_uncertainty_pct=100 * CLEAR_SKY_SHARE,
        readings=[
            PanelReadingAnswer.of(found, index, *sides)
            for index, sides in enumerate(zip(sides_of(found.beside), sides_of(found.shape), strict=True))
        ],
        used=int(np.sum(np.isin(found.kind, USED) & ~found.cloudy)),
        sittings=[SittingAnswer.of(found, sitting) for sitting in found.sittings],
        problems=[RowProblemAnswer.of(problem) for problem in found.log.problems],
    )
