"""What a search for changes answers: each offer with what it changes, from what to what, what it reaches and what it costs."""

from typing import Any, Literal, Self, get_args

from pydantic import Field

from sizing.answers.kit import Exact, GivenDesign, amount, meaning
from sizing.answers.shared import MonthNumber, PlaceAnswer, YearOfSunAnswer
from sizing.comparison.answer import MoneyAnswer, WantedAnswer
from sizing.design.design import Design
from sizing.foundation.version import MODEL_VERSION
from sizing.reach.changes import Change, Part, read_again
from sizing.reach.search import MOST_OFFERS, Cost, Offer, Reach
from sizing.reach.sentences import TRIED, ask_words, change_words, cost_words, ends, headline
from sizing.reach.workshop import Reached
from sizing.uncertainty.chance import Chance, Outlook

PartName = Literal["nozzle", "jets", "pipe", "tilt", "azimuth", "connection", "panel", "pump", "months", "days"]
assert get_args(PartName) == get_args(Part)


class NewValueAnswer(Exact):
    pointer: str = meaning("Where the value stands in the design file (JSON pointer)")
    value: Any = meaning("The value that is put there; null takes out what stands there")


class ChangeAnswer(Exact):
    part: PartName = meaning("What is changed; months and days are those of the goal")
    before: str = meaning("What it is in the design, with its unit")
    after: str = meaning("What it becomes, with its unit")
    sentence: str = meaning("The same in words")
    values: list[NewValueAnswer] = meaning("The new values of the design file", min_length=1)

    @classmethod
    def of(cls, design: Design, change: Change) -> Self:
        before, after = ends(design, change)
        values = [NewValueAnswer(pointer=pointer, value=value) for pointer, value in change.settings]
        return cls(part=change.part, before=before, after=after, sentence=change_words(design, change), values=values)


class DaysAnswer(Exact):
    month: MonthNumber = meaning("Month, 1 to 12")
    days_out_of_ten: float = amount("Days out of ten of it that count", "1")


class ReachedGoalAnswer(Exact):
    met: bool = meaning("Whether enough days of every month count")
    hours: float = amount("Hours of a year, inside the hours and months of the goal as it stands, that reach it", "h")
    flow_share: float = amount("Largest flow in its hours over the least that reaches it, at most 1", "1")
    poorest_month: MonthNumber = meaning("The month on the fewest days of which it is reached")
    months: list[DaysAnswer] = meaning("Each month that is asked for", min_length=1, max_length=12)

    @classmethod
    def of(cls, reached: Reached) -> Self:
        months = [DaysAnswer(month=month, days_out_of_ten=10 * share) for month, share in reached.day_share.items()]
        return cls(
            met=reached.met,
            hours=reached.hours,
            flow_share=reached.flow_share,
            poorest_month=reached.poorest_month,
            months=months,
        )


class ChanceAnswer(Exact):
    chance: float = meaning("Chance that the goal is met: share of sets of errors, all causes at once [1]", ge=0, le=1)
    outlook: Outlook = meaning("likely: a chance of five in six and more; unlikely: less than one in three; even: in between")

    @classmethod
    def of(cls, found: Chance) -> Self:
        return cls(chance=found.chance, outlook=found.outlook)


class CostAnswer(Exact):
    watts: float = amount("What is added to the panels at standard test conditions; below 0 where they are fewer", "W")
    money: MoneyAnswer | None = meaning("What panels, pump and controller cost more; null where a price is missing")
    not_counted: list[PartName] = meaning("Parts that are changed and whose price is not in it")
    sentence: str = meaning("The same in words")

    @classmethod
    def of(cls, cost: Cost) -> Self:
        money = None if cost.money is None else MoneyAnswer.of(cost.money)
        return cls(watts=cost.watts, money=money, not_counted=list(cost.unpriced), sentence=cost_words(cost))


class OfferAnswer(Exact):
    key: str = meaning("Its name: what is changed, and to what")
    changes: list[ChangeAnswer] = meaning("What is changed", min_length=1, max_length=2)
    reached: ReachedGoalAnswer = meaning("How far the goal is reached then; with less asked for, how far that is")
    chance: ChanceAnswer | None = meaning("How surely the goal is met then; null where that cannot be worked out")
    cost: CostAnswer = meaning("What it costs beside the design")
    ask_volts: float | None = amount(
        "Voltage that the pump comes to, above its rated one, where its highest is not known: to be asked of its maker; null "
        "where nothing has to be asked",
        "V",
    )
    ask: str = meaning("The question in words; empty where nothing has to be asked")
    design: GivenDesign = meaning("The design with these changes")

    @classmethod
    def of(cls, design: Design, offer: Offer) -> Self:
        return cls(
            key=offer.key,
            changes=[ChangeAnswer.of(design, change) for change in offer.changes],
            reached=ReachedGoalAnswer.of(offer.reached),
            chance=None if offer.chance is None else ChanceAnswer.of(offer.chance),
            cost=CostAnswer.of(offer.cost),
            ask_volts=offer.ask_volts,
            ask=ask_words(offer),
            design=read_again(design, offer.changes),
        )


class ReachAnswer(Exact):
    """What would meet a goal that is missed: fewest changes first, then the cheapest; each offer changes other parts."""

    model_version: str = meaning("Version of the model; it changes when a number changes")
    title: str = meaning("Title of the design")
    place: PlaceAnswer = meaning("The place")
    sky: YearOfSunAnswer = meaning("The year of sun")
    goal: WantedAnswer = meaning("What the fountain should reach")
    own: ReachedGoalAnswer = meaning("How far the design reaches it as it is")
    chance: ChanceAnswer = meaning("How surely it does as it is")
    headline: str = meaning("What to do, in one sentence")
    offers: list[OfferAnswer] = meaning(
        "Changes that meet the goal, likely ones first; empty where it is likely met already, or where nothing tried meets it",
        max_length=MOST_OFFERS,
    )
    nearest: OfferAnswer | None = meaning("What comes nearest where no change of the fountain meets the goal safely")
    designs_tried: int = Field(description="How many designs were sized.", ge=1)
    tried: str = meaning("What was tried, in words")


def reach_answer(found: Reach) -> ReachAnswer:
    """Everything a search holds that can be written down."""
    return ReachAnswer(
        model_version=MODEL_VERSION,
        title=found.design.title,
        place=PlaceAnswer.of(found.setting.place),
        sky=YearOfSunAnswer.of(found.setting.sky),
        goal=WantedAnswer.of(found.goal),
        own=ReachedGoalAnswer.of(found.own),
        chance=ChanceAnswer.of(found.chance),
        headline=headline(found),
        offers=[OfferAnswer.of(found.design, offer) for offer in found.offers],
        nearest=None if found.nearest is None else OfferAnswer.of(found.design, found.nearest),
        designs_tried=found.tried,
        tried=TRIED,
    )
