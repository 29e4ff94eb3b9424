"""What is answered on building and keeping a fountain: wires, safety, basin, water, frost and care, and what it all costs.

Money is exact text, such as "24.90", and ``None`` where a price is missing, which is never zero.
"""

from decimal import Decimal
from typing import Self

from sizing.answers.kit import Exact, GivenDesign, amount, meaning
from sizing.basin.answer import BasinAnswer, FrostAnswer, WaterBalanceAnswer
from sizing.design.budget_input import Price
from sizing.foundation.units import LITRE, LITRE_PER_MINUTE
from sizing.foundation.version import MODEL_VERSION
from sizing.installation.answer import CareAnswer, SafetyNoteAnswer, WiresAnswer
from sizing.installation.building import Building
from sizing.money.costs import Costs, Line
from sizing.money.pair_costs import PairCost
from sizing.money.ten_years import Replacement, TenYears, bought
from sizing.report.ageing import Wear, Worn
from sizing.report.report import Report
from sizing.report.what_if import WhatIf, ages


class PriceAnswer(Exact):
    amount: float = meaning("Price of one, in the currency")
    currency: str = meaning("Currency, three capital letters (ISO 4217)")
    source: str = meaning("Where it was seen")
    date: str = meaning("Day it was seen")

    @classmethod
    def of(cls, price: Price) -> Self:
        return cls(amount=price.amount, currency=price.currency, source=price.source, date=price.date)


class PartAnswer(Exact):
    part: str = meaning("Key of the part")
    group: str = meaning("Group of the list")
    name: str = meaning("Name for people")
    quantity: float = meaning("How many of the unit")
    unit: str = meaning("Unit of the quantity")
    reason: str = meaning("Why, with a number of the design")
    price: PriceAnswer | None = meaning("Price of one; null where it is missing, which is never zero")
    total: str | None = meaning("Quantity times price, exact to the cent; null without a price in the budget's currency")

    @classmethod
    def of(cls, line: Line) -> Self:
        part = line.part
        return cls(
            part=part.key,
            group=part.group,
            name=part.name,
            quantity=float(part.quantity),
            unit=part.unit,
            reason=part.reason,
            price=None if part.price is None else PriceAnswer.of(part.price),
            total=text_or_none(line.total),
        )


class GroupAnswer(Exact):
    group: str = meaning("Group of the list")
    total: str = meaning("Sum of what is priced in it")


class SumAnswer(Exact):
    currency: str = meaning("Currency, three capital letters (ISO 4217)")
    total: str = meaning("Sum in it")


class CostsAnswer(Exact):
    currency: str = meaning("Currency of the budget; empty where nothing is priced")
    groups: list[GroupAnswer] = meaning("Sums by group")
    parts: str = meaning("Sum of all parts that are priced")
    contingency_pct: float = amount("What is added for what nobody thought of", "%")
    contingency: str = meaning("The same in money")
    delivery: str | None = meaning("Delivery; null where none is given")
    tax_pct: float = amount("Tax on all of it", "%")
    tax: str = meaning("The same in money")
    total: str = meaning("All together; at least, where prices are missing")
    missing: list[str] = meaning("Parts without a price")
    other_currency: list[str] = meaning("What stands in another currency and is not added")
    other_sums: list[SumAnswer] = meaning("Sums of what stands in other currencies")
    unused_prices: list[str] = meaning("Keys of prices for parts that the design does not need")
    sentence: str = meaning("The total in words")

    @classmethod
    def of(cls, costs: Costs) -> Self:
        return cls(
            currency=costs.currency,
            groups=[GroupAnswer(group=name, total=str(total)) for name, total in costs.groups],
            parts=str(costs.parts),
            contingency_pct=float(costs.contingency_pct),
            contingency=str(costs.contingency),
            delivery=text_or_none(costs.delivery),
            tax_pct=float(costs.tax_pct),
            tax=str(costs.tax),
            total=str(costs.total),
            missing=list(costs.missing),
            other_currency=list(costs.other),
            other_sums=[SumAnswer(currency=currency, total=str(total)) for currency, total in costs.apart],
            unused_prices=list(costs.unused),
            sentence=costs.sentence,
        )


class ReplacementAnswer(Exact):
    name: str = meaning("Part that wears out")
    least: int = meaning("How often it is bought again within ten years, at least")
    most: int = meaning("How often at most")
    reason: str = meaning("Its life, and where that is from")
    least_cost: str | None = meaning("Least cost; null without a price")
    most_cost: str | None = meaning("Most cost; null without a price")

    @classmethod
    def of(cls, again: Replacement) -> Self:
        return cls(
            name=again.name,
            least=again.least,
            most=again.most,
            reason=again.reason,
            least_cost=text_or_none(again.least_cost),
            most_cost=text_or_none(again.most_cost),
        )


class TenYearsAnswer(Exact):
    replacements: list[ReplacementAnswer] = meaning("What wears out within ten years")
    water_l: float = amount("Water from the tap in ten years", "L")
    water_cost: str | None = meaning("Its cost; null without a price of water")
    running_h: float = amount("Hours of play in ten years", "h")
    low: str = meaning("Cost of ten years, low")
    high: str = meaning("Cost of ten years, high")
    per_hour_low: str | None = meaning("Price of an hour of play, low; null without play or prices")
    per_hour_high: str | None = meaning("The same, high")
    complete: bool = meaning("Whether every price that counts is there")
    sentences: list[str] = meaning("The ten years in words")

    @classmethod
    def of(cls, ten: TenYears) -> Self:
        return cls(
            replacements=[ReplacementAnswer.of(again) for again in ten.replacements],
            water_l=ten.water / LITRE,
            water_cost=text_or_none(ten.water_cost),
            running_h=ten.hours,
            low=str(ten.low),
            high=str(ten.high),
            per_hour_low=text_or_none(ten.per_hour_low),
            per_hour_high=text_or_none(ten.per_hour_high),
            complete=ten.complete,
            sentences=list(ten.sentences),
        )


class PairCostAnswer(Exact):
    rank: int = meaning("Place by rank, 1 is first")
    chosen: bool = meaning("Whether it is the pair that the design chooses")
    panel_name: str = meaning("Name of the panel")
    pump_name: str = meaning("Name of the pump")
    water_l: float = amount("Water of a year", "L")
    running_h: float = amount("Hours of play in a year", "h")
    currency: str = meaning("Currency of its budget; empty where nothing is priced")
    total: str = meaning("To buy, all together; at least, where prices are missing")
    missing: list[str] = meaning("Parts without a price")
    low: str = meaning("Cost of ten years, low")
    high: str = meaning("Cost of ten years, high")
    per_hour_low: str | None = meaning("Price of an hour of play over ten years, low; null without play or prices")
    per_hour_high: str | None = meaning("The same, high")
    difference: str = meaning("What differs from the chosen pair, in words; empty for that one")

    @classmethod
    def of(cls, pair: PairCost) -> Self:
        return cls(
            rank=pair.rank,
            chosen=pair.own,
            panel_name=pair.panel,
            pump_name=pair.pump,
            water_l=pair.water / LITRE,
            running_h=pair.running_hours,
            currency=pair.costs.currency,
            total=str(pair.costs.total),
            missing=list(pair.costs.missing),
            low=str(pair.ten.low),
            high=str(pair.ten.high),
            per_hour_low=text_or_none(pair.ten.per_hour_low),
            per_hour_high=text_or_none(pair.ten.per_hour_high),
            difference=pair.difference,
        )


class WearAnswer(Exact):
    part: Worn = meaning("flow of the pump, bore of the outlet, panel, or soiling of the glass")
    words: str = meaning("What it is, in words")
    basis: str = meaning("What the figure rests on, in words")
    source: str = meaning("Key of its publication in sources; common_practice where there is none")

    @classmethod
    def of(cls, wear: Wear) -> Self:
        return cls(part=wear.part, words=wear.words, basis=wear.basis, source=wear.source)


class AgeAnswer(Exact):
    """The year of a fountain that has grown old, everything else as it is."""

    key: str = meaning("Name of the age")
    words: str = meaning("The same in words")
    water_l: float = amount("Water of the year", "L")
    more_water_l: float = amount("Difference to the new fountain", "L")
    running_h: float = amount("Hours of play in the year", "h")
    jet_height_m: float | None = amount("Jet at the best hour of the month that is best when new; null for a spillway", "m")
    more_jet_m: float | None = amount("Difference to the new fountain; null for a spillway", "m")
    flow_l_per_min: float = amount("Flow at that hour", "L/min")
    parts: list[WearAnswer] = meaning("What wears, and what each figure rests on")

    @classmethod
    def of(cls, report: Report, found: WhatIf) -> Self:
        none = report.design.outlet.kind == "spillway"
        return cls(
            key=found.change.key,
            words=found.change.words,
            water_l=found.water / LITRE,
            more_water_l=found.more_water / LITRE,
            running_h=found.hours,
            jet_height_m=None if none else found.jet,
            more_jet_m=None if none else found.more_jet,
            flow_l_per_min=found.flow / LITRE_PER_MINUTE,
            parts=[WearAnswer.of(wear) for wear in found.change.parts],
        )


class BuildingAnswer(Exact):
    model_version: str = meaning("Version of the model")
    title: str = meaning("Title of the design")
    design: GivenDesign = meaning("The design as it was understood")
    wires: WiresAnswer = meaning("Cable, fuse and voltages")
    safety: list[SafetyNoteAnswer] = meaning("Notes of SAFETY.md that apply, what hurts most first; none of them is permission")
    basin: BasinAnswer = meaning("The basin of the design, or the one that is proposed")
    water: WaterBalanceAnswer = meaning("What evaporates, splashes away, rains in and is topped up")
    frost: FrostAnswer = meaning("When it freezes")
    care: CareAnswer = meaning("What is looked at through the year, and who does what")
    ages: list[AgeAnswer] = meaning("The fountain at the end of a season and in year ten")
    parts: list[PartAnswer] = meaning("What must be bought")
    not_needed: list[str] = meaning("What is not listed, and why")
    costs: CostsAnswer = meaning("The budget of these parts; money is exact text")
    ten_years: TenYearsAnswer = meaning("What ten years cost, low and high")
    pairs: list[PairCostAnswer] = meaning("The chosen pair and those next to it by rank; none where there is one alone")

    @classmethod
    def of(cls, built: Building, pairs: tuple[PairCost, ...] = ()) -> Self:
        """Everything that follows from a sizing; ``pairs`` has the chosen pair beside others, where the design has several."""
        design, money = built.report.design, bought(built)
        return cls(
            model_version=MODEL_VERSION,
            title=design.title,
            design=design,
            wires=WiresAnswer.of(built.wires),
            safety=[SafetyNoteAnswer.of(note) for note in built.notes],
            basin=BasinAnswer.of(built.basin),
            water=WaterBalanceAnswer.of(built.balance),
            frost=FrostAnswer.of(built.frost),
            care=CareAnswer.of(built.care),
            ages=[AgeAnswer.of(built.report, age) for age in ages(built.report)],
            parts=[PartAnswer.of(line) for line in money.costs.lines],
            not_needed=list(money.listed.left_out),
            costs=CostsAnswer.of(money.costs),
            ten_years=TenYearsAnswer.of(money.ten),
            pairs=[PairCostAnswer.of(pair) for pair in pairs],
        )


def text_or_none(money: Decimal | None) -> str | None:
    """Exact money as text."""
    return None if money is None else str(money)
