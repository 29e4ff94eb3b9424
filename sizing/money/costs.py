"""What the parts cost: line by line in exact decimals, by group, with what is added; a missing price is never zero.

Rule of rounding: a price is taken as its shortest decimal text; each line total is rounded half up to cents, and so are
contingency and tax; sums of cents are exact.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal

from sizing.design.budget_input import BudgetInput, Price
from sizing.foundation.formats import SPACE
from sizing.money.parts import Part

CENT = Decimal("0.01")
NO_BUDGET = BudgetInput()


@dataclass(frozen=True)
class Line:
    """One part with its total, ``None`` where it has no price or one in another currency."""

    part: Part
    total: Decimal | None


@dataclass(frozen=True)
class Costs:
    """A budget in one currency (empty where nothing is priced): exact amounts that add up.

    ``groups`` are sums by group of what is priced; ``parts`` their sum; ``contingency``, ``delivery`` (``None`` if not given)
    and ``tax`` are added to the ``total``. ``missing`` names parts without a price, ``other`` those in another currency,
    whose sums by currency are ``apart``; ``unused`` has the keys of prices for parts that are not on the list.
    """

    currency: str
    lines: tuple[Line, ...]
    groups: tuple[tuple[str, Decimal], ...]
    parts: Decimal
    contingency_pct: Decimal
    contingency: Decimal
    delivery: Decimal | None
    tax_pct: Decimal
    tax: Decimal
    total: Decimal
    missing: tuple[str, ...]
    other: tuple[str, ...]
    apart: tuple[tuple[str, Decimal], ...]
    unused: tuple[str, ...]
    sentence: str


def costs_of(parts: tuple[Part, ...], budget: BudgetInput | None) -> Costs:
    """The budget of a parts list.

    Parameters
    ----------
    budget : what is added; ``None`` takes the usual contingency of 10 % and nothing else
    """
    budget = budget or NO_BUDGET
    currency = usual_currency(parts, budget.delivery)
    lines = tuple(Line(part, line_total(part, currency)) for part in parts)
    names = tuple(dict.fromkeys(part.group for part in parts))
    groups = tuple((name, total_of(line for line in lines if line.part.group == name)) for name in names)
    added = sum((amount for _, amount in groups), Decimal(0))
    contingency_pct, tax_pct = exact(budget.contingency_pct), exact(budget.tax_pct)
    contingency = cents(added * contingency_pct / 100)
    delivery = in_currency(budget.delivery, currency)
    before_tax = added + contingency + (delivery or Decimal(0))
    tax = cents(before_tax * tax_pct / 100)
    missing = tuple(line.part.name for line in lines if line.part.price is None)
    other = tuple(line.part.name for line in lines if line.part.price is not None and line.total is None)
    if budget.delivery is not None and delivery is None:
        other = (*other, "delivery")
    apart = sums_apart(parts, budget.delivery, currency)
    listed = [part.key for part in parts]
    unused = tuple(row.part for row in budget.parts if row.part not in listed)
    found = Costs(
        currency, lines, groups, added, contingency_pct, contingency, delivery, tax_pct, tax, before_tax + tax,
        missing, other, apart, unused, "",
    )  # fmt: skip
    return replace(found, sentence=sentence_of(found))


def exact(value: float) -> Decimal:
    """A number as its shortest decimal text has it.

    Examples
    --------
    >>> exact(0.1) + exact(0.2)
    Decimal('0.3')
    """
    return Decimal(repr(value))


def cents(amount: Decimal) -> Decimal:
    """An amount rounded half up to cents.

    Examples
    --------
    >>> cents(Decimal("2.345")), cents(Decimal("2.3449"))
    (Decimal('2.35'), Decimal('2.34'))
    """
    return amount.quantize(CENT, ROUND_HALF_UP)


def usual_currency(parts: tuple[Part, ...], delivery: Price | None) -> str:
    """The currency of most prices, the first of equals; empty where there is none."""
    named = [price.currency for price in (*(part.price for part in parts), delivery) if price is not None]
    return max(dict.fromkeys(named), key=named.count, default="")


def sums_apart(parts: tuple[Part, ...], delivery: Price | None, currency: str) -> tuple[tuple[str, Decimal], ...]:
    """What stands in other currencies than the budget's, a sum for each: they are never added."""
    prices = [part.price for part in parts] + [delivery]
    others = dict.fromkeys(price.currency for price in prices if price is not None and price.currency != currency)
    return tuple(
        (each, total_of(Line(part, line_total(part, each)) for part in parts) + (in_currency(delivery, each) or Decimal(0)))
        for each in others
    )


def in_currency(price: Price | None, currency: str) -> Decimal | None:
    """An amount in cents, ``None`` where it is missing or of another currency: currencies are never added."""
    return cents(exact(price.amount)) if price is not None and price.currency == currency else None


def line_total(part: Part, currency: str) -> Decimal | None:
    """Quantity times price of one."""
    if part.price is None or part.price.currency != currency:
        return None
    return cents(part.quantity * exact(part.price.amount))


def total_of(lines: Iterable[Line]) -> Decimal:
    """Sum of the lines that have a total."""
    return sum((line.total for line in lines if line.total is not None), Decimal("0.00"))


def money(amount: Decimal, currency: str) -> str:
    """An amount for people.

    Examples
    --------
    >>> money(Decimal("1234.5"), "EUR").replace(chr(160), " ")
    '1234.50 EUR'
    """
    return f"{cents(amount)}{SPACE}{currency}"


def sentence_of(found: Costs) -> str:
    """What it all costs, or at least; what is missing, in another currency or not on the list is named."""
    count = "1 price is" if len(found.missing) == 1 else f"{len(found.missing)} prices are"
    if not found.currency:
        said = [f"No price is given yet, so no total can be told: {count} missing."]
    else:
        at_least = "at least " if found.missing or found.other else ""
        said = [f"It costs {at_least}{money(found.total, found.currency)}."]
        if found.missing:
            said.append(f"{count} missing and not counted: {'; '.join(found.missing)}.")
    if found.other:
        sums = " and ".join(money(amount, currency) for currency, amount in found.apart)
        said.append(f"Not added, for it stands in another currency: {'; '.join(found.other)}, together {sums}.")
    if found.unused:
        keys = ", ".join(key.replace("_", " ") for key in found.unused)
        said.append(f"Not counted, for the list has no such part: {keys}.")
    return " ".join(said)
