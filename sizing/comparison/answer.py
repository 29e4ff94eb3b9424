"""What a comparison answers: every pair by rank with its numbers in full, each field with its meaning and its unit."""

from typing import Annotated, Self

from pydantic import Field

from sizing.answers.kit import Exact, GivenDesign, amount, meaning
from sizing.answers.shared import (
    MonthNumber,
    Months,
    NoteAnswer,
    PlaceAnswer,
    QuestionAnswer,
    StrainAnswer,
    WindowAnswer,
    YearOfSunAnswer,
    windows_of,
)
from sizing.comparison.comparison import Comparison
from sizing.comparison.pairs import ConnectionKind, Money, Pair, PairFound, suits
from sizing.comparison.smallest_panel import MOST_WATTS, LikelyPanel, SmallestPanel
from sizing.foundation.units import LITRE, LITRE_PER_MINUTE
from sizing.foundation.version import MODEL_VERSION
from sizing.fountain.pump_shape import Shape, shape_of
from sizing.operation.goal import Goal, GoalFound
from sizing.report.verdict import goal_words
from sizing.uncertainty.chance import Chance, Outlook

MOST_PAIRS = 144
"""Twelve pumps, six panels, two connections."""
TwelveMonths = Annotated[list[float], Field(min_length=12, max_length=12)]


class PairIds(Exact):
    panel: str = meaning("Id of the panel in the design")
    pump: str = meaning("Id of the pump in the design")
    connection: ConnectionKind = meaning("What joins them: the cable alone, or a controller")

    @classmethod
    def of(cls, pair: Pair) -> Self:
        return cls(panel=pair.panel, pump=pair.pump, connection=pair.connection)


class MoneyAnswer(Exact):
    amount: float = meaning("Amount in the currency")
    currency: str = meaning("Currency, three capital letters (ISO 4217)")

    @classmethod
    def of(cls, price: Money) -> Self:
        return cls(amount=price.amount, currency=price.currency)


class WantedAnswer(Exact):
    jet_height_m: float | None = amount("Jet to reach; null where a flow is asked for", "m")
    jet_height_to_m: float | None = amount("Highest jet that is wanted; null where any is", "m")
    flow_l_per_min: float | None = amount("Flow to reach; null where a jet is asked for", "L/min")
    flow_to_l_per_min: float | None = amount("Largest flow that is wanted; null where any is", "L/min")
    from_hour: float = amount("Hour of the day from which it counts", "h")
    to_hour: float = amount("Hour of the day until which it counts", "h")
    windows: list[WindowAnswer] = meaning("The windows of the day that count, in its order", min_length=1, max_length=4)
    window_share_pct: float = amount("Share of the windows' steps that must reach it for a day to count", "%")
    months: Months = meaning("Months in which it counts, 1 to 12")
    days_out_of_ten: float = amount("Days out of ten of every month that must reach it", "1")
    sentence: str = meaning("The same in words")

    @classmethod
    def of(cls, goal: Goal) -> Self:
        return cls(
            jet_height_m=goal.jet,
            jet_height_to_m=goal.jet_to,
            flow_l_per_min=None if goal.flow is None else goal.flow / LITRE_PER_MINUTE,
            flow_to_l_per_min=None if goal.flow_to is None else goal.flow_to / LITRE_PER_MINUTE,
            from_hour=goal.from_hour,
            to_hour=goal.to_hour,
            windows=windows_of(goal.windows),
            window_share_pct=100 * goal.window_share,
            months=list(goal.months),
            days_out_of_ten=10 * goal.day_share,
            sentence=goal_words(goal),
        )


class NoonAnswer(Exact):
    month: MonthNumber = meaning("Month, 1 to 12")
    jet_height_m: float | None = amount("Jet height in the hour from 12:00 on a usual day; null for a spillway", "m")
    flow_l_per_min: float = amount("Flow in that hour", "L/min")


class ReachedAnswer(Exact):
    met: bool = meaning("Whether enough days of every month of the goal reach it, with everything as it was taken")
    chance: float = meaning("Chance that the goal is met: share of 257 sets of errors, all causes at once [1]", ge=0, le=1)
    outlook: Outlook = meaning("likely: a chance of five in six and more; unlikely: less than one in three; even: in between")
    sun_margin: float | None = amount(
        "Sun that the poorest month holds over the sun that the least of the goal needs; null where none would do", "1"
    )
    hours: float = amount("Hours of a year, inside the hours and months of the goal, that reach it", "h")
    window_hours: float = amount("All hours of a year inside the hours and months of the goal", "h")
    hours_above: float = amount("Hours of a year inside them with a higher jet, or more flow, than is wanted", "h")
    poorest_month: MonthNumber = meaning("The month on the fewest days of which it is reached")
    days_out_of_ten: float = amount("Days out of ten of that month that reach it", "1")
    hours_borne: float = amount("Of the hours that reach it, those within the highest voltage known for the pump", "h")
    met_borne: bool = meaning("Whether these hours alone meet it")

    @classmethod
    def of(cls, goal: GoalFound, chance: Chance, borne: GoalFound) -> Self:
        return cls(
            met=goal.met,
            chance=chance.chance,
            outlook=chance.outlook,
            sun_margin=chance.margin,
            hours=goal.hours,
            window_hours=goal.window_hours,
            hours_above=goal.hours_above,
            poorest_month=goal.poorest_month,
            days_out_of_ten=10 * goal.day_share[goal.poorest_month],
            hours_borne=borne.hours,
            met_borne=borne.met,
        )


class PairAnswer(Exact):
    rank: int = meaning("Place in the order, 1 is first", ge=1, le=MOST_PAIRS)
    panel: str = meaning("Id of the panel in the design")
    pump: str = meaning("Id of the pump in the design")
    connection: ConnectionKind = meaning("What joins them: the cable alone, or a controller")
    panel_name: str = meaning("Name of the panel")
    pump_name: str = meaning("Name of the pump")
    pump_shape: Shape = meaning("How the pump was taken: what is known of it, and what drives it")
    nozzle_bore_mm: float | None = amount(
        "Bore of the nozzle with which all numbers of this pair are; null without a nozzle", "mm"
    )
    nozzle_instead_of_mm: float | None = amount(
        "Bore of the design's own nozzle, with which the pair does not likely meet the goal; null where it is kept", "mm"
    )
    goal_with_own_nozzle: ReachedAnswer | None = meaning("How far it reaches the goal with that; null where it is kept")
    suits: bool = meaning(
        "Whether it likely meets the goal (or plays, where there is none) and its pump stays within its known volts"
    )
    ask_first: str = meaning("What to ask the maker before it may count as safe; empty where nothing")
    refused: str = meaning("Why the pair cannot be sized at all; empty where it could")
    failure: str = meaning("Why it does not do what is wanted; empty where it does")
    water_l: float | None = amount("Water lifted in the year; like all numbers null where the pair could not be sized", "L")
    worst_month: int | None = meaning("Month with least water in a mean day, 1 to 12", ge=1, le=12)
    worst_water_l_per_day: float | None = amount("Water of a mean day in it", "L/d")
    running_h: float | None = amount("Hours that it plays in the year", "h")
    over_voltage_h: float | None = amount("Hours of the year above the pump's highest voltage", "h")
    strain: StrainAnswer | None = meaning("What the year asks of the pump; null where the pair could not be sized")
    water_l_per_day: TwelveMonths | None = amount("Water of a mean day of each month, January first", "L/d")
    noon: list[NoonAnswer] = meaning("Noon on a usual day of each chosen month", max_length=12)
    goal: ReachedAnswer | None = meaning("How far it reaches the goal; null where there is none")
    first_playing_irradiance_w_per_m2: float | None = amount(
        "Least sun on the cells that makes it play; null where none does", "W/m2"
    )
    matching_factor: float | None = amount(
        "Share of the panel's energy at maximum power that the motor takes while it turns, over the year", "1"
    )
    price: MoneyAnswer | None = meaning("Price of panels, pump and controller; null where one is not known")
    price_note: str = meaning("Why there is no price; empty where there is one")
    price_per_playing_hour: MoneyAnswer | None = meaning("That price over the hours of play of one year")
    beaten_by: PairIds | None = meaning("A pair at least as good in everything and better in something; null if there is none")

    @classmethod
    def of(cls, found: PairFound, has_jet: bool) -> Self:
        """Numbers of the year are null where there is no year."""
        year = found.year
        return cls(
            rank=found.rank,
            panel=found.pair.panel,
            pump=found.pair.pump,
            connection=found.pair.connection,
            panel_name=found.panel_input.name,
            pump_name=found.pump_input.name,
            pump_shape=shape_of(found.pump_input),
            nozzle_bore_mm=found.bore,
            nozzle_instead_of_mm=None if found.own is None else found.own.bore,
            goal_with_own_nozzle=None if found.own is None else reached_answer(found.own),
            suits=suits(found),
            ask_first=found.doubt,
            refused=found.refused,
            failure=found.failure,
            water_l=None if year is None else found.water / LITRE,
            worst_month=None if year is None else found.worst_month,
            worst_water_l_per_day=None if year is None else found.worst_water / LITRE,
            running_h=None if year is None else found.running_hours,
            over_voltage_h=None if year is None else found.over_voltage_hours,
            strain=None if found.strain is None else StrainAnswer.of(found.strain),
            water_l_per_day=None if year is None else [month.water / LITRE for month in year.months],
            noon=noon_of(found, has_jet),
            goal=reached_answer(found),
            first_playing_irradiance_w_per_m2=found.first_sun,
            matching_factor=found.matching_factor,
            price=None if found.price is None else MoneyAnswer.of(found.price),
            price_note=found.price_note,
            price_per_playing_hour=None if found.price_per_hour is None else MoneyAnswer.of(found.price_per_hour),
            beaten_by=None if found.beaten_by is None else PairIds.of(found.beaten_by),
        )


def reached_answer(found: PairFound) -> ReachedAnswer | None:
    """How far a pair reaches the goal; ``None`` where there is none."""
    if found.goal is None or found.chance is None:
        return None
    return ReachedAnswer.of(found.goal, found.chance, found.goal_borne or found.goal)


def noon_of(found: PairFound, has_jet: bool) -> list[NoonAnswer]:
    """The hour from 12:00 on the usual day of each chosen month; nothing where the pair could not be sized."""
    if found.noon_jet is None or found.noon_flow is None:
        return []
    return [
        NoonAnswer(
            month=month,
            jet_height_m=found.noon_jet[month] if has_jet else None,
            flow_l_per_min=found.noon_flow[month] / LITRE_PER_MINUTE,
        )
        for month in sorted(found.noon_jet)
    ]


class LikelyPanelAnswer(Exact):
    power_w: int = meaning("Least power at standard test conditions with which the goal is likely met [W]", ge=1, le=MOST_WATTS)
    like_panel: str = meaning("Id of the panel whose volts it has, its current scaled")
    connection: ConnectionKind = meaning("What joins them")
    chance: float = meaning("Chance that the goal is met with it [1]", ge=0, le=1)

    @classmethod
    def of(cls, found: LikelyPanel) -> Self:
        return cls(power_w=found.watts, like_panel=found.like, connection=found.connection, chance=found.chance)


class SmallestPanelAnswer(Exact):
    pump: str = meaning("Id of the pump in the design")
    power_w: int | None = meaning(
        "Least power at standard test conditions that meets the goal with everything as it was taken [W]", ge=1, le=MOST_WATTS
    )
    chance: float | None = meaning("Chance that the goal is met with it [1]; null without a panel", ge=0, le=1)
    likely: LikelyPanelAnswer | None = meaning("The least with which the goal is likely met; null where none up to 1000 W does")
    like_panel: str | None = meaning("Id of the panel whose volts it has, its current scaled")
    connection: ConnectionKind | None = meaning("What joins them")
    asked_v: float = amount("Volts above its rated ones that the pump would get and nobody knows whether it may; else 0", "V")
    sentence: str = meaning("The same in words, or why no panel does")

    @classmethod
    def of(cls, found: SmallestPanel) -> Self:
        return cls(
            pump=found.pump,
            power_w=found.watts,
            chance=found.chance,
            likely=None if found.likely is None else LikelyPanelAnswer.of(found.likely),
            like_panel=found.like,
            connection=found.connection,
            asked_v=found.asked,
            sentence=found.sentence,
        )


class ComparisonAnswer(Exact):
    """Every pump with every panel of a design over the same year, by rank."""

    model_version: str = meaning("Version of the model; it changes when a number changes")
    title: str = meaning("Title of the design")
    design: GivenDesign = meaning("The design as it was understood")
    place: PlaceAnswer = meaning("The place")
    sky: YearOfSunAnswer = meaning("The year of sun")
    goal: WantedAnswer | None = meaning("What the fountain should reach; null where the design has no goal")
    months: Months = meaning("Chosen months: those of the goal, else all")
    ranked_by: str = meaning("What the order rests on")
    pairs: list[PairAnswer] = meaning("All pairs by rank", min_length=1, max_length=MOST_PAIRS)
    cheapest: PairIds | None = meaning("The pair that likely meets the goal at the least known price")
    nearly: PairIds | None = meaning("The pair that comes nearest to the goal of those that do not likely meet it")
    smallest_panels: list[SmallestPanelAnswer] = meaning(
        "For each pump the smallest panel that would meet the goal; empty without a goal", max_length=12
    )
    notes: list[NoteAnswer] = meaning("What to know of the comparison")
    questions: list[QuestionAnswer] = meaning("What to ask before any of the pairs is bought", max_length=60)


def comparison_answer(found: Comparison) -> ComparisonAnswer:
    """Everything a comparison holds that can be written down."""
    has_jet = found.design.outlet.kind != "spillway"
    return ComparisonAnswer(
        model_version=MODEL_VERSION,
        title=found.design.title,
        design=found.design,
        place=PlaceAnswer.of(found.place),
        sky=YearOfSunAnswer.of(found.sky),
        goal=None if found.goal is None else WantedAnswer.of(found.goal),
        months=list(found.months),
        ranked_by=found.ranked_by,
        pairs=[PairAnswer.of(each, has_jet) for each in found.pairs],
        cheapest=None if found.cheapest is None else PairIds.of(found.cheapest.pair),
        nearly=None if found.nearly is None else PairIds.of(found.nearly.pair),
        smallest_panels=[SmallestPanelAnswer.of(each) for each in found.smallest],
        notes=[NoteAnswer.of(note) for note in found.notes],
        questions=[QuestionAnswer.of(unknown) for unknown in found.questions],
    )
