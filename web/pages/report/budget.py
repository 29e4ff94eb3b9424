"""Parts and money of a design in words, for the page that asks for prices and for the one on paper."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from sizing.design import Price
from sizing.foundation import LITRE, SPACE, figures, litres
from sizing.money import Bought, PairCost, Part, TenYears, money
from web.charts.kit.shapes import Table
from web.exports.months import csv_text
from web.forms.part_prices import KEYS, OF_PRICE, PARTS, PRICE_FIELDS

NONE = "–"
"""What stands where a price is missing: never a zero."""


@dataclass(frozen=True)
class Row:
    """One part: key, name, why, how many, price of one and total in words, source, day, its boxes with labels."""

    key: str
    name: str
    why: str
    many: str
    each: str
    total: str
    seen: str
    day: str
    boxes: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Group:
    """A group with its rows and its sum in words."""

    name: str
    rows: tuple[Row, ...]
    total: str


@dataclass(frozen=True)
class Budget:
    """The whole budget in words: the sentence on its total, groups, what is added, ten years."""

    sentence: str
    groups: tuple[Group, ...]
    added: tuple[tuple[str, str], ...]
    total: str
    left_out: tuple[str, ...]
    ten: TenYears
    again: tuple[tuple[str, str, str, str], ...]


def budget(found: Bought) -> Budget:
    """The same in words."""
    costs, ten = found.costs, found.ten
    groups = tuple(group_of(found, name, amount) for name, amount in costs.groups)
    percent = f"{figures(float(costs.contingency_pct))}{SPACE}%"
    added = [(f"For what nobody thought of, {percent} of the parts", shown(costs.contingency, costs.currency))]
    added.append(("Delivery", shown(costs.delivery, costs.currency)))
    if costs.tax_pct:
        added.append((f"Tax, {figures(float(costs.tax_pct))}{SPACE}% of all of it", shown(costs.tax, costs.currency)))
    again = tuple(
        (each.name, times(each.least, each.most), each.reason, span(each.least_cost, each.most_cost, ten.currency))
        for each in ten.replacements
    )
    total = at_least(costs.total if costs.currency else None, costs.currency, bool(costs.missing or costs.other))
    return Budget(costs.sentence, groups, tuple(added), total, found.listed.left_out, ten, again)


def group_of(found: Bought, name: str, amount: Decimal) -> Group:
    """A group; its sum is "at least" where a price is missing, and a dash where all are."""
    lines = [line for line in found.costs.lines if line.part.group == name]
    currency = found.costs.currency
    known = [line.total for line in lines if line.total is not None]
    rows = tuple(row_of(line.part, line.total, currency) for line in lines)
    return Group(name, rows, at_least(amount if known else None, currency, len(known) < len(lines)))


def at_least(amount: Decimal | None, currency: str, lacks: bool) -> str:
    """An amount, told as the least it can be where something is missing."""
    return f"at least {shown(amount, currency)}" if lacks and amount is not None and currency else shown(amount, currency)


def row_of(part: Part, total: Decimal | None, currency: str) -> Row:
    """One part in words; only parts of the list have boxes here, panel, pump and controller have theirs in the form."""
    price = part.price
    each = NONE if price is None else price_of_one(price)
    seen, day = (price.source, price.date) if price is not None else ("", "")
    names = [f"{PARTS}.{part.key}.{of_price}" for of_price in OF_PRICE] if part.key in KEYS else []
    boxes = tuple((name, PRICE_FIELDS[name].label) for name in names)
    name = part.name[0].upper() + part.name[1:]
    return Row(part.key, name, part.reason, quantity_of(part), each, shown(total, currency), seen, day, boxes)


def price_of_one(price: Price) -> str:
    """A price with its cents, and whatever somebody wrote beyond them.

    Examples
    --------
    >>> price_of_one(Price(amount=54.5, currency="EUR")).replace(chr(160), " ")
    '54.50 EUR'
    >>> price_of_one(Price(amount=0.3125, currency="EUR")).replace(chr(160), " ")
    '0.3125 EUR'
    """
    cents = f"{price.amount:.2f}"
    return f"{cents if float(cents) == price.amount else format(price.amount, '.12g')}{SPACE}{price.currency}"


def hours_table(rows: Sequence[PairCost]) -> Table | None:
    """Ten years of the chosen pair and of others, one column each; ``None`` where nothing is priced or there is one alone."""
    if len(rows) < 2 or not any(row.costs.currency for row in rows):
        return None
    lines = (
        ("Panel", *(row.panel for row in rows)),
        ("Pump", *(row.pump for row in rows)),
        ("Water of a year", *(litres(row.water / LITRE) for row in rows)),
        ("Hours of play a year", *(f"{figures(row.running_hours)}{SPACE}h" for row in rows)),
        ("To buy", *(at_least(row.costs.total, row.costs.currency, bool(row.costs.missing or row.costs.other)) for row in rows)),
        ("Ten years, low to high", *(span(row.ten.low, row.ten.high, row.costs.currency) for row in rows)),
        ("An hour of play, low to high", *(hour(row) for row in rows)),
        ("Beside the chosen pair", *(row.difference or NONE for row in rows)),
    )
    titles = tuple(f"Number {row.rank}{', chosen' if row.own else ''}" for row in rows)
    return Table("What ten years cost with the chosen pair and with others, as far as prices are given", ("", *titles), lines)


def pairs_costs_csv(title: str, rows: Sequence[PairCost]) -> str:
    """Ten years of the chosen pair and of others as RFC 4180."""
    head = ("design", "rank", "chosen", "panel", "pump", "water_l", "running_h", "currency", "total", "prices_missing")
    lines: list[tuple[object, ...]] = [(*head, "low", "high", "per_hour_low", "per_hour_high", "difference")]
    for row in rows:
        costs, ten = row.costs, row.ten
        money = (plain(ten.low), plain(ten.high), plain(ten.per_hour_low), plain(ten.per_hour_high))
        chosen = "yes" if row.own else "no"
        known = (row.water / LITRE, row.running_hours, costs.currency, plain(costs.total), len(costs.missing))
        lines.append((title, row.rank, chosen, row.panel, row.pump, *known, *money, row.difference))
    return csv_text(lines)


def hour(row: PairCost) -> str:
    """Price of an hour of play."""
    ten = row.ten
    return NONE if ten.per_hour_low is None else f"{ten.per_hour_low} to {ten.per_hour_high}{SPACE}{ten.currency}"


def quantity_of(part: Part) -> str:
    """How many, with the unit; a dimension is told to a tenth, things are counted."""
    number = f"{part.quantity.normalize():f}"
    return number if part.unit in ("pieces", "pairs") else f"{number}{SPACE}{part.unit}"


def shown(amount: Decimal | None, currency: str) -> str:
    """An amount, or a dash where there is none."""
    return NONE if amount is None or not currency else money(amount, currency)


def times(least: int, most: int) -> str:
    """How often.

    Examples
    --------
    >>> times(0, 3), times(1, 1)
    ('0 to 3 times', 'once')
    """
    if least == most:
        return "once" if least == 1 else f"{least} times"
    return f"{least} to {most} times"


def span(low: Decimal | None, high: Decimal | None, currency: str) -> str:
    """Two amounts, or a dash where they are not known."""
    return NONE if low is None or high is None else f"{low:.2f} to {money(high, currency)}"


def parts_csv(title: str, found: Bought) -> str:
    """The parts with quantities, reasons, prices and totals, and what is added, as RFC 4180."""
    costs = found.costs
    head = ("design", "group", "part", "name", "quantity", "unit", "unit_price", "total", "currency", "source", "date", "why")
    rows: list[tuple[object, ...]] = [head]
    for line in costs.lines:
        part, price = line.part, line.part.price
        known = (price.amount, plain(line.total), price.currency, price.source, price.date) if price else (None,) * 5
        rows.append((title, part.group, part.key, part.name, float(part.quantity), part.unit, *known, part.reason))
    for name, amount in (
        ("contingency", costs.contingency),
        ("delivery", costs.delivery),
        ("tax", costs.tax),
        ("total", costs.total),
    ):
        rows.append(
            (
                title,
                "",
                name,
                "",
                None,
                "",
                None,
                plain(amount),
                costs.currency,
                "",
                "",
                costs.sentence if name == "total" else "",
            )
        )
    return csv_text(rows)


def ten_years_csv(title: str, found: Bought) -> str:
    """What wears out within ten years, water from the tap, and the sum, low and high, as RFC 4180."""
    ten = found.ten
    rows: list[tuple[object, ...]] = [("design", "what", "least", "most", "least_cost", "most_cost", "currency", "why")]
    rows += [
        (title, each.name, each.least, each.most, plain(each.least_cost), plain(each.most_cost), ten.currency, each.reason)
        for each in ten.replacements
    ]
    water = (
        title,
        "water from the tap, litres",
        ten.water / LITRE,
        ten.water / LITRE,
        *[plain(ten.water_cost)] * 2,
        ten.currency,
    )
    rows.append((*water, "what evaporates and splashes away beyond the rain"))
    rows.append((title, "ten years", None, None, plain(ten.low), plain(ten.high), ten.currency, " ".join(ten.sentences)))
    return csv_text(rows)


def plain(amount: Decimal | None) -> float | None:
    """An amount as a number for a spreadsheet; cents are told apart by a float."""
    return None if amount is None else float(amount)
