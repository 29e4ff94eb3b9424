"""What would meet a goal that is missed: the cheapest few changes, one at a time first, then two together."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from pathlib import Path

from sizing.comparison.pairs import Money, pair_price
from sizing.design.design import Design, PanelInput
from sizing.foundation.errors import SizingError, input_error
from sizing.fountain.components import fountain_of, index_of
from sizing.fountain.site_setup import Setting, setting_of
from sizing.operation.goal import ROUNDING, Goal
from sizing.reach.changes import (
    OF_GOAL,
    PARTS,
    Change,
    Part,
    array_watts,
    changes_of,
    fewer_days,
    fewer_months,
    read_again,
    together,
    with_chosen,
)
from sizing.reach.workshop import Reached, Workshop, chance_with, pump_with, reached_with, volts_with, workshop_of
from sizing.report.report import Report
from sizing.sky.weather import Sky
from sizing.uncertainty.chance import Chance

MOST_OFFERS = 8
"""Offers that are named; each touches other things than the ones before."""


@dataclass(frozen=True)
class Cost:
    """What changes add: panel watts [W], money for panels, pump and controller (``None`` where a price is missing), and the
    changed parts whose price plays no part in it."""

    watts: float
    money: Money | None
    unpriced: tuple[Part, ...]


@dataclass(frozen=True, eq=False)
class Offer:
    """Changes that meet the goal, or come nearest: how far it is reached with them, and what they cost.

    ``ask_volts`` is the voltage [V] that the pump comes to where its highest voltage is not known and it runs above the rated
    one: only its maker can say whether that is allowed. ``chance`` is that of the goal, worked out for what is named.
    """

    changes: tuple[Change, ...]
    reached: Reached
    cost: Cost
    chance: Chance | None = None
    ask_volts: float | None = None

    @property
    def key(self) -> str:
        """Its name in an address."""
        return "+".join(change.key for change in self.changes)


@dataclass(frozen=True, eq=False)
class Reach:
    """How far a design reaches its goal and how surely, and what would meet it: ``offers``, fewest changes and cheapest first,
    each of other parts; ``nearest`` comes nearest where nothing does. ``tried`` counts the designs that were sized."""

    design: Design
    setting: Setting
    goal: Goal
    own: Reached
    chance: Chance
    offers: tuple[Offer, ...]
    nearest: Offer | None
    tried: int


def reach(design: Design, folder: Path | None = None, sky: Sky | None = None, most_changes: int = 2) -> Reach:
    """Search for the changes that meet the goal of a design.

    Parameters
    ----------
    design : checked design with a goal
    folder : where a weather file named by the design is looked for; ``None`` refuses weather files
    sky : a year at hand in place of the one that the design names
    most_changes : 1 leaves out pairs of changes

    Raises
    ------
    SizingError
        if the design sets no goal, or cannot be sized as it is.
    """
    if design.goal is None:
        detail = "the design sets no goal, so nothing can be missed; add a goal: a jet height or a flow, hours and months"
        raise input_error("#/goal", "missing", detail)
    fountain_of(design)
    design = with_chosen(design)
    return found_in(workshop_of(design, setting_of(design, folder, sky)), most_changes)


def reach_of(report: Report) -> Reach | None:
    """Single changes that meet the goal of a design that was sized; ``None`` where it has none, or likely meets it."""
    if report.chance is None or report.chance.outlook == "likely":
        return None
    setting = Setting(report.place, report.mounting, report.sky, (), report.cold)
    return found_in(workshop_of(with_chosen(report.design), setting), most_changes=1)


def found_in(shop: Workshop, most_changes: int = 2) -> Reach:
    """The search in a workshop."""
    own, chance = reached_with(shop, ()), chance_with(shop, ())
    assert own is not None
    if chance.outlook == "likely":
        return Reach(shop.design, shop.setting, shop.goal, own, chance, (), None, 1)
    changes = changes_of(shop.design)
    tried = sized(shop, ((change,) for change in changes))
    offers = [*best_of_parts(shop, meeting(shop, tried)), *asking_less(shop, (), own, own)]
    if most_changes > 1 and not any(fit(offer) for offer in offers):
        two = sized(shop, pairs_of([each[0] for each, _ in tried]))
        pairs = best_of_parts(shop, meeting(shop, two))
        singly = any(not of_goal(offer) for offer in offers)
        offers += [offer for offer in pairs if settled(offer) or not singly]
        offers += [] if any(fit(offer) for offer in offers) else with_less(shop, tried, own)
        tried += two
    known = cheap_first(offers)
    nearest = None if any(fit(offer) for offer in offers) else nearest_of(shop, tried, own)
    return Reach(shop.design, shop.setting, shop.goal, own, chance, tuple(known[:MOST_OFFERS]), nearest, 1 + len(tried))


def settled(offer: Offer) -> bool:
    """Whether an offer likely meets the goal and leaves nothing to ask."""
    return offer.ask_volts is None and offer.chance is not None and offer.chance.outlook == "likely"


def of_goal(offer: Offer) -> bool:
    """Whether an offer asks for less."""
    return any(change.part in OF_GOAL for change in offer.changes)


def fit(offer: Offer) -> bool:
    """Whether an offer likely meets the goal as it stands and leaves nothing to ask."""
    return settled(offer) and not of_goal(offer)


Tried = tuple[tuple[Change, ...], Reached]


def sized(shop: Workshop, choices: Iterable[tuple[Change, ...]]) -> list[Tried]:
    """Every choice of changes that can be sized, with what it reaches."""
    found = ((changes, reached_with(shop, changes)) for changes in choices)
    return [(changes, reached) for changes, reached in found if reached is not None]


def meeting(shop: Workshop, tried: Iterable[Tried]) -> list[Offer]:
    """Those that meet the goal, with their cost."""
    return [Offer(changes, reached, cost_of(shop.design, changes)) for changes, reached in tried if reached.met]


def pairs_of(changes: Sequence[Change]) -> Iterator[tuple[Change, Change]]:
    """Every two changes of different parts."""
    return ((one, other) for one, other in combinations(changes, 2) if one.part != other.part)


def asking_less(shop: Workshop, changes: tuple[Change, ...], reached: Reached, own: Reached) -> list[Offer]:
    """What of the goal a design with some changes likely reaches, in fewer months or on fewer days, where it may be more than
    without them."""
    kept, alone = reaching_months(shop.goal, reached), reaching_months(shop.goal, own)
    found = []
    if len(kept) > (len(alone) if changes else 0):
        found += [likely_months(shop, changes, reached, kept)]
    if tenths(reached) > (tenths(own) if changes else 0):
        found += [likely_days(shop, changes, reached)]
    return [offer for each in found if each is not None and (offer := checked(shop, each)) is not None]


def likely_months(shop: Workshop, changes: tuple[Change, ...], reached: Reached, months: Sequence[int]) -> Offer | None:
    """The goal in as many of some months as it is likely met in; the poorest are left out first."""
    left = list(months)
    while left:
        less, goal = fewer_months(shop.design, left), replace(shop.goal, months=tuple(left))
        chance = chance_with(shop, changes, goal)
        if less is not None and chance.outlook == "likely":
            there = within(reached, left, goal.day_share)
            return Offer((*changes, less), there, cost_of(shop.design, changes), chance)
        left.remove(min(left, key=lambda month: (reached.day_share[month], month)))
    return None


def likely_days(shop: Workshop, changes: tuple[Change, ...], reached: Reached) -> Offer | None:
    """The goal on as many days of ten as it is likely met on, half of those asked for or more."""
    for days in range(tenths(reached), math.ceil(10 * shop.goal.day_share / 2 - ROUNDING) - 1, -1):
        less, goal = fewer_days(shop.design, days), replace(shop.goal, day_share=days / 10)
        chance = chance_with(shop, changes, goal)
        if less is not None and chance.outlook == "likely":
            there = within(reached, goal.months, goal.day_share)
            return Offer((*changes, less), there, cost_of(shop.design, changes), chance)
    return None


def with_less(shop: Workshop, singles: Iterable[Tried], own: Reached) -> list[Offer]:
    """One change of the fountain with one of the goal: that which gives up fewest months, and that which gives up fewest days."""
    offers = [offer for changes, reached in singles for offer in asking_less(shop, changes, reached, own) if settled(offer)]
    found = []
    for part in OF_GOAL:
        group = [offer for offer in cheap_first(offers) if offer.changes[-1].part == part]
        found += sorted(group, key=lambda offer: offer.changes[-1].size)[:1]
    return found


def reaching_months(goal: Goal, reached: Reached) -> list[int]:
    """Months of a goal on enough days of which it is reached."""
    return [month for month in goal.months if reached.day_share[month] >= goal.day_share - ROUNDING]


def tenths(reached: Reached) -> int:
    """Whole days of ten that the poorest month reaches."""
    return math.floor(10 * reached.poorest + ROUNDING)


def within(reached: Reached, months: Iterable[int], day_share: float) -> Reached:
    """The same where less is asked for."""
    share = {month: reached.day_share[month] for month in months}
    return Reached(min(share.values()) >= day_share - ROUNDING, share, reached.hours, reached.flow_share)


# What is kept of many


def best_of_parts(shop: Workshop, meeting: Sequence[Offer]) -> list[Offer]:
    """Of the offers that touch the same parts the first one that likely meets the goal and breaks no limit; else the
    first by even chance, and only then one that leaves volts to ask."""
    groups: dict[tuple[Part, ...], list[Offer]] = {}
    for offer in cheap_first(meeting):
        groups.setdefault(tuple(change.part for change in offer.changes), []).append(offer)
    found = []
    for group in groups.values():
        best: Offer | None = None
        for offer in group:
            known = checked(shop, offer)
            if known is not None and (best is None or kind_of(known) < kind_of(best)):
                best = known
            if best is not None and settled(best):
                break
        found += [] if best is None else [best]
    return found


def kind_of(offer: Offer) -> tuple[bool, bool]:
    """How far an offer can be trusted; less is better: volts to ask, then whether the goal is only met by an even chance."""
    return offer.ask_volts is not None, offer.chance is None or offer.chance.outlook != "likely"


def checked(shop: Workshop, offer: Offer) -> Offer | None:
    """The offer with its chance and what is to be asked; ``None`` where it breaks a limit of the pump, or of a design file."""
    fountain = [change for change in offer.changes if change.part not in OF_GOAL]
    try:
        read_again(shop.design, offer.changes)
        hours, volts = volts_with(shop, fountain)
        if hours > 0 and pump_with(shop, fountain).highest_voltage is not None:
            return None
        chance = offer.chance or chance_with(shop, fountain)
    except SizingError:
        return None
    return replace(offer, chance=chance, ask_volts=volts if hours > 0 else None)


def nearest_of(shop: Workshop, tried: Iterable[Tried], own: Reached) -> Offer | None:
    """Of the choices that do not meet the goal and break no limit the one that comes nearest; of equal ones the cheapest."""
    better = [each for each in tried if not each[1].met and each[1].nearness > own.nearness]
    for level in sorted({each[1].nearness for each in better}, reverse=True):
        for offer in cheap_first(Offer(*each, cost_of(shop.design, each[0])) for each in better if each[1].nearness == level):
            safe = checked(shop, offer)
            if safe is not None and safe.ask_volts is None:
                return safe
    return None


def cheap_first(offers: Iterable[Offer]) -> list[Offer]:
    """Volts to ask last, asking for less before them, then what is not likely; then fewest changes, money, watts, and size."""
    return sorted(offers, key=order_of)


def order_of(offer: Offer) -> tuple[object, ...]:
    """What an offer is sorted by."""
    money = offer.cost.money
    return (
        offer.ask_volts is not None,
        of_goal(offer),
        kind_of(offer),
        len(offer.changes),
        money is None,
        0.0 if money is None else round(money.amount, 6),
        round(offer.cost.watts, 6),
        round(sum(change.size for change in offer.changes), 9),
        tuple(PARTS.index(change.part) for change in offer.changes),
        offer.key,
    )


# What it costs


def cost_of(design: Design, changes: Sequence[Change]) -> Cost:
    """Watts and money that changes add to a design whose pair is named."""
    after = together(design, [change for change in changes if change.part in ("panel", "pump", "connection")])
    watts = array_watts(panel_of(after)) - array_watts(panel_of(design))
    unpriced = tuple(change.part for change in changes if change.part in ("nozzle", "jets", "pipe"))
    before_money, after_money = price_of(design), price_of(after)
    if before_money is None or after_money is None or before_money.currency != after_money.currency:
        return Cost(watts, None, unpriced)
    return Cost(watts, Money(after_money.amount - before_money.amount, after_money.currency), unpriced)


def price_of(design: Design) -> Money | None:
    """Price of panels, pump and controller."""
    assert design.chosen is not None
    pump = design.pumps[index_of("pump", [pump.id for pump in design.pumps], design.chosen.pump)]
    return pair_price(design, panel_of(design), pump, design.connection.kind)[0]


def panel_of(design: Design) -> PanelInput:
    """The chosen panel."""
    assert design.chosen is not None
    return design.panels[index_of("panel", [panel.id for panel in design.panels], design.chosen.panel)]
