"""The order of pairs, and which of them another pair beats in everything.

Nothing here depends on the order in which panels and pumps stand in the design: what still ties stands by pump
id, then panel id, direct before controller.
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from sizing.comparison.pairs import PairFound, currencies_of, likely

WITH_GOAL = (
    "Ranked by price among the pairs that likely meet the goal; then those that do and have no price, those that do but "
    "run above the highest voltage known for their pump (its highest, or its rated one where nobody said the highest), and "
    "the others, by their chance, which counts as none where it rests on such a voltage."
)
WITH_GOAL_UNPRICED = (
    "Ranked by the chance that the goal is met, then by the days of the poorest month that reach it; pairs that run above the "
    "highest voltage known for their pump come after the others that likely meet it."
)
WITHOUT_GOAL = (
    "Ranked by the water they move in a year, pairs that run above the highest voltage known for their pump after the "
    "others; with a goal, those that meet it would be ranked by price."
)


def ranked_by(pairs: Sequence[PairFound]) -> str:
    """What the order of some pairs rests on, in one sentence."""
    if all(found.goal is None for found in pairs):
        return WITHOUT_GOAL
    return WITH_GOAL if len(currencies_of(found.price for found in pairs)) == 1 else WITH_GOAL_UNPRICED


def ranked(pairs: Sequence[PairFound]) -> tuple[PairFound, ...]:
    """The pairs by rank, numbered from 1, each with the best one that beats it in everything.

    Prices count where all are in one currency; a price that is missing stands after every other.
    """
    comparable = len(currencies_of(found.price for found in pairs)) == 1
    ordered = sorted(pairs, key=lambda found: rank_key(found, comparable))
    beaters = beaten(ordered)
    return tuple(
        replace(found, rank=place + 1, beaten_by=None if beater is None else ordered[beater].pair)
        for place, (found, beater) in enumerate(zip(ordered, beaters, strict=True))
    )


def rank_key(found: PairFound, comparable: bool) -> tuple[int, tuple[float, ...], tuple[str, str, bool]]:
    """What a pair is sorted by: its class, its numbers (less is better), its ids."""
    price = found.price.amount if comparable and found.price is not None else float("inf")
    ids = (found.pair.pump, found.pair.panel, found.pair.connection == "controller")
    water = (-found.water, -found.worst_water, -found.running_hours)
    if found.refused:
        return 5, (), ids
    if found.goal is None:
        group = 0 if found.water > 0 and found.hours_not_borne == 0 else 2 if found.water > 0 else 4
        return group, (*water, price), ids
    borne = found.goal_borne or found.goal
    chance = chance_shown(found) if borne.hours == found.goal.hours else 0.0  # nobody knows whether play that breaks it counts
    near = (-chance, -borne.day_share[borne.poorest_month], -borne.hours)
    if not likely(found):
        return 4, (*near, price, *water), ids
    group = 2 if found.hours_not_borne > 0 else 0 if price < float("inf") else 1
    return group, (price, *near, *water), ids


def chance_shown(found: PairFound) -> float:
    """Chance of a pair, to the hundredth that is shown: smaller differences rank nothing."""
    return 0.0 if found.chance is None else round(found.chance.chance, 2)


def beaten(pairs: Sequence[PairFound]) -> list[int | None]:
    """For each pair the first one that is at least as good in everything and better in something; ``None`` if none is.

    Everything is water in the year and in the poorest month, the goal's chance, hours and days (or the hours of play), the
    sun that starts it, the hours above the highest voltage known for the pump, and the price. Two pairs without a price
    are compared in the rest; a pair with a price and one without, or prices in two currencies, are not compared.
    """
    scores = np.array([score(found) for found in pairs])
    money = np.array(["" if found.price is None else found.price.currency for found in pairs])
    sized = np.array([not found.refused for found in pairs])
    result: list[int | None] = []
    for place in range(len(pairs)):
        rivals = sized & sized[place] & (money == money[place])
        rivals &= np.all(scores >= scores[place], axis=1) & np.any(scores > scores[place], axis=1)
        result.append(int(np.argmax(rivals)) if np.any(rivals) else None)
    return result


def score(found: PairFound) -> tuple[float, ...]:
    """The numbers of a pair by which it may beat another, more is better; a missing price counts alike everywhere."""
    goal = found.goal
    days = 0.0 if goal is None else goal.day_share[goal.poorest_month]
    wanted = (found.running_hours if goal is None else goal.hours, days, chance_shown(found))
    sun = -2000.0 if found.first_sun is None else -found.first_sun
    price = 0.0 if found.price is None else -found.price.amount
    return (found.water, found.worst_water, *wanted, sun, -found.hours_not_borne, price)
