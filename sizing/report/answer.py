"""The answer of a sizing: what the HTTP interface and ``--json`` write, and what the terminal, pages and tables read."""

from collections.abc import Sequence, Set
from typing import Annotated, Any, Literal, Self, cast

import numpy as np
from numpy.typing import ArrayLike
from pydantic import Field

from sizing.answers.basin_and_jets import BasinSizeAnswer, JetsAnswer
from sizing.answers.kit import Exact, GivenDesign, amount, meaning
from sizing.answers.shared import (
    MountingAnswer,
    NoteAnswer,
    PlaceAnswer,
    QuestionAnswer,
    SkyKind,
    SourceAnswer,
    StateName,
    StepAnswer,
    StrainAnswer,
    YearOfSunAnswer,
    sources_of,
    state_name,
    working_of,
)
from sizing.foundation.units import LITRE, LITRE_PER_MINUTE
from sizing.foundation.version import MODEL_VERSION
from sizing.hydraulic.manifold import shared
from sizing.hydraulic.outlet import Nozzle, Spillway, jets
from sizing.operation.goal import GoalFound
from sizing.operation.operating_point import REASONS, State
from sizing.operation.year import Month
from sizing.report.moment import Moment, Station
from sizing.report.obstacle_costs import obstacle_costs
from sizing.report.report import Report
from sizing.report.sky_answer import ObstacleCostAnswer
from sizing.report.verdict import Verdict, jets_sentence
from sizing.sky.weather import Sky
from sizing.uncertainty.chance import Chance, Outlook
from sizing.uncertainty.uncertainty import HowSure, band, shares
from sizing.uncertainty.uncertainty_budget import Remedy, remedy_of

MomentSky = Literal["clear", "usual", "dull"]


class SkyAnswer(Exact):
    kind: SkyKind = meaning("Where the year of sun comes from")
    title: str = meaning("The same for people")
    hour_basis: str = meaning("The clock that all hours of this answer follow")
    clearness: list[float] = meaning(
        "Share of the sun above the air that reaches the ground, January first [1]", min_length=12, max_length=12
    )
    air_temperature_c: list[float] = meaning(
        "Mean air temperature of each month, January first [Cel]", min_length=12, max_length=12
    )
    year_band: float = amount("How far the sun of a year may be off, one standard deviation as a share", "1")
    month_band: float = amount("How far the sun of a month may be off, one standard deviation as a share", "1")

    @classmethod
    def of(cls, sky: Sky) -> Self:
        year = YearOfSunAnswer.of(sky)
        return cls(
            kind=year.kind,
            title=year.title,
            hour_basis=year.hour_basis,
            clearness=numbers(sky.clearness),
            air_temperature_c=numbers(sky.air_temperature_month),
            year_band=sky.year_band,
            month_band=sky.month_band,
        )


class VerdictAnswer(Exact):
    headline: str = meaning("When it plays and how high, in one sentence")
    dry: str = meaning("How often the poorest month stays dry")
    limit: str = meaning("How much sun it needs and why less does not do")
    borne: str = meaning("What of the play is above the highest voltage known for the pump; empty where none is")

    @classmethod
    def of(cls, verdict: Verdict) -> Self:
        return cls(headline=verdict.headline, dry=verdict.dry, limit=verdict.limit, borne=verdict.borne)


class GoalMonthAnswer(Exact):
    month: int = meaning("Month, 1 to 12", ge=1, le=12)
    days_out_of_ten: float = amount("Days out of ten on which enough steps of the goal's hours reach it", "1")


class GoalAnswer(Exact):
    met: bool = meaning("Whether enough days of every month of the goal reach it, with everything as it was taken")
    chance: float = meaning("Chance that the goal is met: share of 257 sets of errors, all causes at once [1]", ge=0, le=1)
    outlook: Outlook = meaning("likely: a chance of five in six and more; unlikely: less than one in three; even: in between")
    sun_margin: float | None = amount(
        "Sun that the poorest month holds over the sun that the least of the goal needs; null where none would do", "1"
    )
    hours: float = amount("Hours of a year, inside the hours and months of the goal, that reach it", "h")
    window_hours: float = amount("All hours of a year inside the hours and months of the goal", "h")
    hours_above: float = amount("Hours of a year inside them with a higher jet, or more flow, than is wanted", "h")
    months: list[GoalMonthAnswer] = meaning("The months of the goal", min_length=1, max_length=12)
    poorest_month: int = meaning("The month on the fewest days of which the goal is reached", ge=1, le=12)
    hours_borne: float = amount("Of the hours that reach it, those within the highest voltage known for the pump", "h")
    met_borne: bool = meaning("Whether these hours alone meet it")
    sentence: str = meaning("The same in one sentence")

    @classmethod
    def of(cls, goal: GoalFound, chance: Chance, borne: GoalFound, sentence: str) -> Self:
        return cls(
            met=goal.met,
            chance=chance.chance,
            outlook=chance.outlook,
            sun_margin=chance.margin,
            hours=goal.hours,
            window_hours=goal.window_hours,
            hours_above=goal.hours_above,
            months=[GoalMonthAnswer(month=month, days_out_of_ten=10 * share) for month, share in goal.day_share.items()],
            poorest_month=goal.poorest_month,
            hours_borne=borne.hours,
            met_borne=borne.met,
            sentence=sentence,
        )


class MonthAnswer(Exact):
    month: int = meaning("Month, 1 to 12", ge=1, le=12)
    days: int = amount("Days in the month", "d")
    poa_kwh_per_m2_day: float = amount("Sun on the panel's plane in a mean day, before reflection and dirt", "kW.h/m2/d")
    running_h_per_day: float = amount("Hours that it plays in a mean day", "h/d")
    water_l_per_day: float = amount("Water lifted in a mean day", "L/d")
    water_low_l_per_day: float = amount("Low end of its likely range, all causes together", "L/d")
    water_high_l_per_day: float = amount("High end of its likely range", "L/d")
    water_dull_l_per_day: float = amount("Water of a dull day: one day in ten has less", "L/d")
    water_usual_l_per_day: float = amount("Water of the middle day of the month", "L/d")
    water_bright_l_per_day: float = amount("Water of a bright day: one day in ten has more", "L/d")
    jet_height_m: float | None = amount("Jet height at the best hour of the usual day; null for a spillway", "m")
    flow_l_per_min: float = amount("Flow at the best hour of the usual day", "L/min")
    best_hour: int = meaning("Hour of the day that begins the best hour [h]", ge=0, le=23)
    first_hour: float | None = amount("When it starts on the usual day; null where it stays dry", "h")
    last_hour: float | None = amount("When it stops on the usual day; null where it stays dry", "h")
    dry_days: int = amount("Days without any water", "d")
    over_voltage_h: float = amount("Hours of the month above the pump's highest voltage", "h")

    @classmethod
    def of(cls, report: Report, month: Month) -> Self:
        low, high = (float(end[month.month - 1]) / month.days / LITRE for end in report.water_band)
        return cls(
            month=month.month,
            days=month.days,
            poa_kwh_per_m2_day=month.poa_insolation,
            running_h_per_day=month.running_hours,
            water_l_per_day=month.water / LITRE,
            water_low_l_per_day=low,
            water_high_l_per_day=high,
            water_dull_l_per_day=month.water_p10 / LITRE,
            water_usual_l_per_day=month.water_p50 / LITRE,
            water_bright_l_per_day=month.water_p90 / LITRE,
            jet_height_m=None if jetless(report) else month.jet,
            flow_l_per_min=month.flow / LITRE_PER_MINUTE,
            best_hour=month.best_hour,
            first_hour=month.first_hour,
            last_hour=month.last_hour,
            dry_days=month.dry_days,
            over_voltage_h=month.over_voltage_hours,
        )


class YearAnswer(Exact):
    water_l: float = amount("Water lifted in the year", "L")
    water_low_l: float = amount("Low end of its likely range, all causes together", "L")
    water_high_l: float = amount("High end of its likely range", "L")
    running_h: float = amount("Hours that it plays in the year", "h")
    poa_kwh_per_m2: float = amount("Sun on the panel's plane in the year, before reflection and dirt", "kW.h/m2")
    hours_by_state: dict[StateName, float] = meaning("Hours of the year in each state [h]")
    running_months: list[int] = meaning("Months, 1 to 12, whose usual day plays")
    running_water_l_per_day: float = amount("Water lifted on a mean day of those months; 0 where there is none", "L/d")

    @classmethod
    def of(cls, report: Report) -> Self:
        year, (low, high) = report.year, report.year_band
        return cls(
            water_l=year.water / LITRE,
            water_low_l=low / LITRE,
            water_high_l=high / LITRE,
            running_h=year.running_hours,
            poa_kwh_per_m2=year.poa_insolation,
            hours_by_state={state_name(state): hours for state, hours in year.hours_by_state.items()},
            running_months=list(year.running_months),
            running_water_l_per_day=year.running_water / LITRE,
        )


class SureYearAnswer(Exact):
    water_l: float = amount("Water lifted in the year", "L")
    water_low_l: float = amount("Low end of its likely range", "L")
    water_high_l: float = amount("High end of its likely range", "L")

    @classmethod
    def of(cls, year: YearAnswer) -> Self:
        return cls(water_l=year.water_l, water_low_l=year.water_low_l, water_high_l=year.water_high_l)


class SureMonthAnswer(Exact):
    month: int = meaning("Month, 1 to 12", ge=1, le=12)
    water_l_per_day: float = amount("Water lifted in a mean day", "L/d")
    water_low_l_per_day: float = amount("Low end of its likely range", "L/d")
    water_high_l_per_day: float = amount("High end of its likely range", "L/d")
    jet_height_m: float | None = amount("Jet height at the best hour of the usual day; null for a spillway", "m")
    jet_low_m: float | None = amount("Low end of its likely range", "m")
    jet_high_m: float | None = amount("High end of its likely range", "m")

    @classmethod
    def of(cls, month: MonthAnswer, jet_low: float, jet_high: float) -> Self:
        jetless = month.jet_height_m is None
        return cls(
            month=month.month,
            water_l_per_day=month.water_l_per_day,
            water_low_l_per_day=month.water_low_l_per_day,
            water_high_l_per_day=month.water_high_l_per_day,
            jet_height_m=month.jet_height_m,
            jet_low_m=None if jetless else jet_low,
            jet_high_m=None if jetless else jet_high,
        )


class CauseAnswer(Exact):
    key: str = meaning("Name of the cause")
    words: str = meaning("Its name for people")
    given: str = meaning("What was taken")
    standard_uncertainty: float = amount("Standard uncertainty, both sides together, in the unit named beside it", "*")
    standard_uncertainty_below: float = amount("To the smaller side", "*")
    standard_uncertainty_above: float = amount("To the larger side", "*")
    unit: str = meaning("Unit of the uncertainties, as UCUM code; 1 is a share of what was taken, for dirt of the sun")
    basis: str = meaning("How the uncertainty was come by")
    source: str = meaning("Key of its publication in sources")
    advice: str = meaning("What would tell better")
    year_share: float = amount("Share in the variance of the year's water", "1")
    month_share: float = amount("Share in the variance of the best month's water", "1")
    jet_share: float = amount("Share in the variance of the jet in the best month", "1")
    low_effect_l: float = amount("What one standard uncertainty may take from the year's water", "L")
    high_effect_l: float = amount("What it may add", "L")
    mean_effect_l: float = amount("What it does on average; it shifts the middle of the likely range", "L")

    @classmethod
    def each_of(cls, found: HowSure, best: int) -> list[Self]:
        """All causes; ``best`` is the index of the month with most water, 0 to 11."""
        year, month, jet = shares(found.year), shares(found.months).T[best], shares(found.jet).T[best]
        return [
            cls(
                key=cause.key,
                words=cause.words,
                given=cause.taken,
                standard_uncertainty=float(np.sqrt((cause.below**2 + cause.above**2) / 2)),
                standard_uncertainty_below=cause.below,
                standard_uncertainty_above=cause.above,
                unit=cause.unit,
                basis=cause.basis,
                source=cause.source,
                advice=cause.advice,
                year_share=float(year[index]),
                month_share=float(month[index]),
                jet_share=float(jet[index]),
                low_effect_l=float(found.year.below[index]) / LITRE,
                high_effect_l=float(found.year.above[index]) / LITRE,
                mean_effect_l=float(np.broadcast_to(found.year.shift, year.shape)[index]) / LITRE,
            )
            for index, cause in enumerate(found.causes)
        ]


class CrownAnswer(Exact):
    """The jets of a ring or row at the flow of the best hour in the best month; ``jet_height_m`` elsewhere is the lowest."""

    lowest_jet_m: float = amount("Jet of the hole with least head", "m")
    mean_jet_m: float = amount("Mean of all jets", "m")
    highest_jet_m: float = amount("Jet of the hole with most head", "m")
    feed_head_m: float = amount("Head at the feed of the ring or row", "m")
    lost_head_m: float = amount("Head lost from the feed to the hole with least head", "m")
    flow_spread: float = amount("Difference between the holes with most and with least flow, over their mean", "1")

    @classmethod
    def of(cls, report: Report) -> Self | None:
        outlet = report.fountain.waterway.outlet
        if not isinstance(outlet, Nozzle) or outlet.manifold is None:
            return None
        flow = max(report.year.months, key=lambda month: (month.water, month.poa_insolation)).flow
        found, high = shared(outlet.manifold, outlet.area, outlet.discharge_coefficient, flow), jets(outlet, flow)
        return cls(
            lowest_jet_m=float(high.lowest),
            mean_jet_m=float(high.mean),
            highest_jet_m=float(high.highest),
            feed_head_m=float(found.feed),
            lost_head_m=float(found.feed - found.lowest),
            flow_spread=found.flow_spread,
        )


class ShrinkAnswer(Exact):
    causes: list[str] = meaning("Keys of the causes that one measurement settles")
    variance_share: float = amount("Their share in the variance of the year's water", "1")
    water_low_l: float = amount("Low end of the year's likely range, were they known exactly", "L")
    water_high_l: float = amount("High end", "L")
    sentence: str = meaning("The same in words")

    @classmethod
    def of(cls, remedy: Remedy) -> Self:
        return cls(
            causes=list(remedy.keys),
            variance_share=remedy.share,
            water_low_l=remedy.low / LITRE,
            water_high_l=remedy.high / LITRE,
            sentence=remedy.sentence,
        )


class HowSureAnswer(Exact):
    """Likely means one standard uncertainty to either side (JCGM 100): about two times in three."""

    year: SureYearAnswer = meaning("The year")
    months: list[SureMonthAnswer] = meaning("The twelve months", min_length=12, max_length=12)
    best_month: int = meaning("The month with most water", ge=1, le=12)
    causes: list[CauseAnswer] = meaning("What is not known exactly, in the order of the path")
    shrink_most: ShrinkAnswer | None = meaning("What would narrow the year's range most; null where nothing is uncertain")

    @classmethod
    def of(cls, report: Report, months: Sequence[MonthAnswer], year: YearAnswer) -> Self:
        found = report.how_sure
        jet_low, jet_high = (numbers(end) for end in band(np.array([month.jet for month in report.year.months]), found.jet))
        best = max(report.year.months, key=lambda each: (each.water, each.poa_insolation)).month
        remedy = remedy_of(found, report.year.water)
        return cls(
            year=SureYearAnswer.of(year),
            months=[SureMonthAnswer.of(*each) for each in zip(months, jet_low, jet_high, strict=True)],
            best_month=best,
            causes=CauseAnswer.each_of(found, best - 1),
            shrink_most=None if remedy is None else ShrinkAnswer.of(remedy),
        )


Hours = Annotated[list[float], Field(min_length=24, max_length=24)]
MonthHours = Annotated[list[Hours], Field(min_length=12, max_length=12)]


class UsualDayAnswer(Exact):
    flow_l_per_min: MonthHours = amount("Flow in each hour of the usual day, 12 months of 24 hours", "L/min")
    jet_height_m: MonthHours | None = amount("Jet height likewise; null for a spillway", "m")

    @classmethod
    def of(cls, report: Report) -> Self:
        return cls(
            flow_l_per_min=numbers(report.year.usual_flow / LITRE_PER_MINUTE),
            jet_height_m=None if jetless(report) else numbers(report.year.usual_jet),
        )


class OperatingPointAnswer(Exact):
    irradiance_w_per_m2: float = amount("Sun that reaches the cells", "W/m2")
    cell_temperature_c: float = amount("Temperature of the cells", "Cel")
    voltage_v: float = amount("Voltage at the motor", "V")
    current_a: float = amount("Current of the motor", "A")
    speed_ratio: float | None = amount("Speed against the speed at rated voltage; null for a pump known by its power", "1")
    flow_l_per_min: float = amount("Flow", "L/min")
    head_m: float = amount("Head of the pump", "m")
    jet_height_m: float | None = amount("Jet height; null for a spillway", "m")
    state: StateName = meaning("What the fountain does")
    reason: str = meaning("The same in words")

    @classmethod
    def of(cls, report: Report, index: int) -> Self:
        """The point at one of the report's strengths of sun, by its index."""
        found, state = report.points, State(int(report.points.state[index]))
        return cls(
            irradiance_w_per_m2=float(report.strengths[index]),
            cell_temperature_c=float(report.strength_temperature[index]),
            voltage_v=float(found.voltage[index]),
            current_a=float(found.current[index]),
            speed_ratio=None if report.fountain.pump.table is not None else float(found.speed[index]),
            flow_l_per_min=float(found.flow[index]) / LITRE_PER_MINUTE,
            head_m=float(found.head[index]),
            jet_height_m=None if jetless(report) else float(found.jet[index]),
            state=state_name(state),
            reason=REASONS[state],
        )


class StationAnswer(Exact):
    name: str = meaning("Station on the way from the sun to the basin")
    value: float = meaning("Its one number")
    unit: str = meaning("Unit of the number, as UCUM code; 1 for a ratio")
    working_id: str | None = meaning("Where the number stands in working; null if it is not worked out")

    @classmethod
    def of(cls, station: Station, ids: Set[str]) -> Self:
        """A station by its first number; ``ids`` are those of the working."""
        first = station.roots[0]
        return cls(name=station.name, value=first.value, unit=first.unit, working_id=first.name if first.name in ids else None)


class MomentAnswer(Exact):
    month: int | None = meaning("Month, 1 to 12; null where a strength of sun was asked for", ge=1, le=12)
    hour: int | None = meaning("Hour of the day [h]; null likewise", ge=0, le=23)
    sky: MomentSky | None = meaning("Which day of the month; null likewise")
    day_of_year: int | None = meaning("The day that was taken, 1 January is 1; null likewise", ge=1, le=365)
    time_h: float | None = amount("Time of the day, middle of the step; null likewise", "h")
    state: StateName = meaning("What the fountain does")
    reason: str = meaning("The same in words")
    stations: list[StationAnswer] = meaning("The stations in the order in which sun and water travel")

    @classmethod
    def of(cls, moment: Moment, ids: Set[str]) -> Self:
        dated = bool(moment.month)
        return cls(
            month=moment.month or None,
            hour=moment.hour if dated else None,
            sky=cast(MomentSky | None, moment.sky or None),
            day_of_year=moment.day + 1 if dated else None,
            time_h=moment.time if dated else None,
            state=state_name(moment.state),
            reason=REASONS[moment.state],
            stations=[StationAnswer.of(station, ids) for station in moment.stations if station.roots],
        )


class Answer(Exact):
    """One design sized: its months, its year, one moment worked out, and what was assumed."""

    model_version: str = meaning("Version of the model; it changes when a number changes")
    title: str = meaning("Title of the design")
    design: GivenDesign = meaning("The design as it was understood")
    place: PlaceAnswer = meaning("The place")
    mounting: MountingAnswer = meaning("How the panel stands, from true north")
    sky: SkyAnswer = meaning("The year of sun")
    verdict: VerdictAnswer = meaning("The answer in sentences")
    goal: GoalAnswer | None = meaning("How far the design's goal is reached; null where it sets none")
    months: list[MonthAnswer] = meaning("The twelve months, January first", min_length=12, max_length=12)
    year: YearAnswer = meaning("Sums of the year")
    crown: CrownAnswer | None = meaning("How several jets on a ring or row share the water; null for others")
    how_sure: HowSureAnswer = meaning("Likely ranges, what causes them, and what would narrow them")
    usual_day: UsualDayAnswer = meaning("The usual day of each month, hour by hour")
    operating_points: list[OperatingPointAnswer] = meaning("Panel, pump and pipe together at ten strengths of sun")
    first_playing_irradiance_w_per_m2: float | None = amount(
        "Least sun on the cells that makes it play; null if none does", "W/m2"
    )
    moment: MomentAnswer = meaning("One moment, station by station")
    jets: JetsAnswer | None = meaning("The heights of the jet by their names; null for a spillway")
    basin: BasinSizeAnswer = meaning("The basin of the design, or the one that is proposed")
    assumptions: list[NoteAnswer] = meaning("What was assumed, each with its value")
    warnings: list[NoteAnswer] = meaning("What will disappoint or needs a second look")
    obstacles: list[ObstacleCostAnswer] = meaning("What each obstacle costs, and all of several; empty where none was typed")
    strain: StrainAnswer = meaning("What the year asks of the pump, and what plays above the highest voltage known for it")
    questions: list[QuestionAnswer] = meaning("What nobody said, as questions to ask before buying")
    working: list[StepAnswer] = meaning("Every number of the moment and of the months, inputs before results")
    sources: dict[str, SourceAnswer] = meaning("The publications that working names")


def sizing_answer(report: Report) -> Answer:
    """Everything a report holds that can be written down; numbers in full, units in the names."""
    stations = [root for station in report.moment.stations for root in station.roots]
    working = working_of([*stations, *report.months_worked, *report.band_worked])
    months, year = [MonthAnswer.of(report, month) for month in report.year.months], YearAnswer.of(report)
    return Answer(
        model_version=MODEL_VERSION,
        title=report.design.title,
        design=report.design,
        place=PlaceAnswer.of(report.place),
        mounting=MountingAnswer.of(report.mounting),
        sky=SkyAnswer.of(report.sky),
        verdict=VerdictAnswer.of(report.verdict),
        goal=None
        if report.goal is None or report.chance is None
        else GoalAnswer.of(report.goal, report.chance, report.goal_borne or report.goal, report.verdict.goal),
        months=months,
        year=year,
        crown=CrownAnswer.of(report),
        how_sure=HowSureAnswer.of(report, months, year),
        usual_day=UsualDayAnswer.of(report),
        operating_points=[OperatingPointAnswer.of(report, index) for index in range(len(report.strengths))],
        first_playing_irradiance_w_per_m2=report.first_sun,
        moment=MomentAnswer.of(report.moment, {step.id for step in working}),
        jets=None if jetless(report) else JetsAnswer.of(report.jets, jets_sentence(report.jets)),
        basin=BasinSizeAnswer.of(report.basin),
        assumptions=[NoteAnswer.of(note) for note in report.assumptions],
        warnings=[NoteAnswer.of(note) for note in report.warnings],
        obstacles=[ObstacleCostAnswer.of(cost) for cost in obstacle_costs(report)],
        strain=StrainAnswer.of(report.strain),
        questions=[QuestionAnswer.of(unknown) for unknown in report.questions],
        working=working,
        sources=sources_of(working, {cause.source for cause in report.how_sure.causes}),
    )


def jetless(report: Report) -> bool:
    """A spillway has a sheet and no jet."""
    return isinstance(report.fountain.waterway.outlet, Spillway)


def numbers(values: ArrayLike) -> list[Any]:
    """An array as nested lists of plain numbers."""
    return list(np.asarray(values, dtype=float).tolist())
