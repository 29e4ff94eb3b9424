"""What ten years cost: what wears out by the hours of play, water from the tap, and no electricity; low and high.

Lives are ranges with little authority behind them; where a design does not say whether its pump's motor has brushes, both
kinds count. The pump's name never tells.
"""

import math
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal

from sizing.design.budget_input import Price
from sizing.foundation.formats import SPACE, duration, figures, quantity
from sizing.installation.building import Building
from sizing.money.costs import CENT, Costs, cents, costs_of, exact, money
from sizing.money.parts import PartsList, parts_of

YEARS = 10
BRUSHED, BRUSHLESS = (2000.0, 5000.0), (20000.0, 20000.0)
"""[h] Shortest and longest life of a small motor with brushes, and of one without; makers' pages, from memory."""
LIVES = {"brushed": BRUSHED, "brushless": BRUSHLESS, "not_known": (BRUSHED[0], BRUSHLESS[1])}
"""[h] By the kind of motor; one that is not known may be either."""
LIFE_WORDS = {
    "brushed": f"its motor has brushes, which last {figures(BRUSHED[0])} to {figures(BRUSHED[1])} h",
    "brushless": f"its motor has no brushes and lasts about {figures(BRUSHLESS[0])} h",
    "not_known": (
        f"motors with brushes last {figures(BRUSHED[0])} to {figures(BRUSHED[1])} h, without about {figures(BRUSHLESS[0])} h, "
        "and nobody said which this is"
    ),
}
IN_YEARS = {
    "panel": (25.0, 30.0, "panels are warranted for 25 to 30 years (common practice, no source)"),
    "controller": (5.0, 15.0, "electronics outdoors last 5 to 15 years (common practice, no source)"),
    "pipe": (8.0, 25.0, "hose lasts 8 years in the sun, buried pipe 25 and more (common practice, no source)"),
    "liner": (10.0, 25.0, "liners last 10 to 25 years (common practice, no source)"),
    "strainer": (3.0, 10.0, "a strainer lasts 3 to 10 years (common practice, no source)"),
}
"""[a] Shortest and longest life of what wears out with the years, and where that is from."""


@dataclass(frozen=True)
class Replacement:
    """What is bought again within the years: how often, least and most, why, and what that costs at today's price with the
    budget's tax (``None`` without a price)."""

    name: str
    least: int
    most: int
    reason: str
    least_cost: Decimal | None
    most_cost: Decimal | None


@dataclass(frozen=True)
class TenYears:
    """Cost over ten years, low and high, in the currency of the budget; water [m3] and its cost (``None`` without a price).

    ``hours`` are those of play in ten years; ``per_hour_low`` and ``per_hour_high`` the price of one of them. ``complete``
    is whether every price that counts is there. ``sentences`` say it in words.
    """

    currency: str
    replacements: tuple[Replacement, ...]
    water: float
    water_cost: Decimal | None
    hours: float
    low: Decimal
    high: Decimal
    per_hour_low: Decimal | None
    per_hour_high: Decimal | None
    complete: bool
    sentences: tuple[str, ...]


def ten_years_of(built: Building, costs: Costs) -> TenYears:
    """Ten years of a sized design.

    Parameters
    ----------
    costs : of its parts list
    """
    hours = YEARS * built.report.year.running_hours
    replaced = replacements(built, costs)
    budget = built.report.design.budget
    price = None if budget is None else budget.water_per_m3
    water = YEARS * built.balance.year_top_up
    tap = None if price is None or price.currency != costs.currency else volume_cost(price, water)
    low, high = (
        costs.total + sum((cost for each in replaced if (cost := getattr(each, name)) is not None), tap or Decimal(0))
        for name in ("least_cost", "most_cost")
    )
    unpriced = any(each.most and each.most_cost is None for each in replaced)
    complete = bool(costs.currency) and not costs.missing and not costs.other and not unpriced and tap is not None
    found = TenYears(
        currency=costs.currency,
        replacements=replaced,
        water=water,
        water_cost=tap,
        hours=hours,
        low=low,
        high=high,
        per_hour_low=per_hour(low, hours, costs.currency),
        per_hour_high=per_hour(high, hours, costs.currency),
        complete=complete,
        sentences=(),
    )
    return replace(found, sentences=sentences(found, price))


@dataclass(frozen=True, eq=False)
class Bought:
    """Parts, costs and ten years of one design."""

    listed: PartsList
    costs: Costs
    ten: TenYears


def bought(built: Building) -> Bought:
    """Everything about a sized design that has to do with money."""
    listed = parts_of(built)
    costs = costs_of(listed.parts, built.report.design.budget)
    return Bought(listed, costs, ten_years_of(built, costs))


def per_hour(amount: Decimal, hours: float, currency: str) -> Decimal | None:
    """Price of an hour of play in tenths of a cent; ``None`` without play or prices."""
    return (amount / exact(hours)).quantize(CENT / 10, ROUND_HALF_UP) if hours > 0 and currency else None


def volume_cost(price: Price, volume: float) -> Decimal:
    """Cost of a volume [m3] of water."""
    return cents(exact(price.amount) * exact(volume))


def replacements(built: Building, costs: Costs) -> tuple[Replacement, ...]:
    """What wears out within the years; parts that no shortest life ends are left out."""
    hours = built.report.year.running_hours
    found = []
    for line in costs.lines:
        if line.part.key == "pump":
            kind = built.report.fountain.pump_input.motor_kind or "not_known"
            years = [life / hours if hours > 0 else math.inf for life in LIVES[kind]]
            why = f"it runs {duration(round(hours))} a year; {LIFE_WORDS[kind]} (makers' pages, from memory)"
        elif line.part.key in IN_YEARS:
            *years, why = IN_YEARS[line.part.key]
        else:
            continue
        most, least = (again(life) for life in years)
        if most:
            taxed = 1 + costs.tax_pct / 100
            spent = [None if line.total is None else cents(count * line.total * taxed) for count in (least, most)]
            found.append(Replacement(line.part.name, least, most, why, *spent))
    return tuple(found)


def again(life: float) -> int:
    """How often a part of that life [a] is bought again within the years; one that ends with them is not.

    Examples
    --------
    >>> again(25.0), again(10.0), again(9.9), again(0.9)
    (0, 0, 1, 11)
    """
    return 0 if life >= YEARS else math.ceil(YEARS / life - 1e-9) - 1


def sentences(found: TenYears, price: Price | None) -> tuple[str, ...]:
    """The ten years in words, with the price of a cubic metre of water."""
    said = [
        f"No electricity bill: the sun pays, 0 kWh from the mains in {YEARS} years.",
        f"From the tap come about {quantity(found.water, 'm3', 2)} in {YEARS} years{tap_words(found, price)}.",
    ]
    if not found.currency:
        return (*said, "Without prices no cost of ten years can be told.")
    at_least = "" if found.complete else "at least "
    both = "" if found.low == found.high else f"{found.low} to "
    said.append(
        f"Over {YEARS} years it costs {at_least}{both}{money(found.high, found.currency)}"
        + (" as far as prices are given." if at_least else ".")
    )
    if found.replacements:
        said.append("What wears out is counted at today's prices with the same tax, without work and delivery.")
    if found.per_hour_low is not None and found.per_hour_high is not None:
        both = "" if found.per_hour_low == found.per_hour_high else f"{found.per_hour_low} to "
        span = f"{both}{found.per_hour_high}{SPACE}{found.currency}"
        said.append(f"An hour of play costs {at_least}{span}, over {duration(round(found.hours))}.")
    return tuple(said)


def tap_words(found: TenYears, price: Price | None) -> str:
    """What the water from the tap costs, in its own currency."""
    if price is None:
        return "; no price of water is given"
    cost = money(volume_cost(price, found.water), price.currency)
    apart = found.currency and found.water_cost is None
    return f", {cost}, which stands in another currency and is not added" if apart else f", {cost}"
