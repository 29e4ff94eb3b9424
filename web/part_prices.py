"""The boxes of the parts list's prices, and what is added to their sum: names in the address, labels, both ways to a design.

A price is named by its part, as a fitting is: ``budget.parts.cable.amount``. A design file has them as a list.
"""

from collections.abc import Mapping
from typing import Any, get_args

from sizing.buying import PartKey, PartPrice
from web.fields import Field, ask

BUDGET, PARTS = "budget", "budget.parts"
KEYS: tuple[str, ...] = get_args(PartKey)
"""Parts whose price stands in the parts list, in its order."""
OF_PRICE = ("amount", "currency", "source", "date")
SHARED = {"currency": "budget.currency", "source": "budget.source", "date": "budget.date"}
"""Asked once for all prices of the list that do not say it themselves; a design holds it with each price."""
ADDED = ("contingency_pct", "tax_pct")
ADDED_PRICES = ("delivery", "water_per_m3")
COLUMNS = {"amount": "price of one", "currency": "currency", "source": "where it was seen", "date": "day of the price"}
OF_ONE = COLUMNS | {"amount": "price"}


def price_field(key: str, of_price: str) -> Field:
    """One box of a part's price, named by the part."""
    made = ask("budget", "parts", 0, of_price, label=f"{key.replace('_', ' ')}: {COLUMNS[of_price]}", long=of_price == "source")
    return Field(f"{PARTS}.{key}.{of_price}", made.label, made.unit_words, made.suffix, made.hint, made.keyboard, made.long)


PART_FIELDS = {field.name: field for key in KEYS for field in (price_field(key, each) for each in OF_PRICE)}
ADDED_FIELDS = {
    field.name: field
    for field in (
        ask("budget", "contingency_pct", label="for what nobody thought of", hint="10 if left empty"),
        ask("budget", "tax_pct", label="tax on all of it", hint="0 if the prices hold it already"),
        *(ask("budget", "delivery", each, label=f"delivery: {words}") for each, words in OF_ONE.items()),
        *(ask("budget", "water_per_m3", each, label=f"a cubic metre of water: {words}") for each, words in OF_ONE.items()),
    )
}
PRICE_FIELDS = {**PART_FIELDS, **ADDED_FIELDS}
"""Every box of the page of parts, by its name."""


def shared(rows: list[dict[str, Any]]) -> dict[str, str]:
    """What all prices have in common, by the name of the box that asks for it once; it is taken out of the rows.

    Examples
    --------
    >>> rows = [{"amount": 1, "currency": "EUR", "source": "a"}, {"amount": 2, "currency": "EUR", "source": "b"}]
    >>> shared(rows), rows[0]
    ({'budget.currency': 'EUR'}, {'amount': 1, 'source': 'a'})
    """
    found = {}
    for of_price, name in SHARED.items():
        values = {row.get(of_price, "") for row in rows}
        if len(rows) > 1 and len(values) == 1 and (value := values.pop()):
            found[name] = value
            for row in rows:
                del row[of_price]
    return found


def by_part(prices: tuple[PartPrice, ...], rows: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    """Rows of a design's prices by their part, without the part's own key."""
    return {
        price.part: {name: value for name, value in row.items() if name != "part"}
        for price, row in zip(prices, rows, strict=True)
    }


def usual_of(texts: Mapping[str, str]) -> dict[str, str]:
    """What is said once for all prices that do not say it themselves."""
    asked = {of_price: texts.get(name, "").strip() for of_price, name in SHARED.items()}
    return {of_price: text for of_price, text in (asked | {"currency": currency_of(texts)}).items() if text}


def currency_of(texts: Mapping[str, str]) -> str:
    """The currency of the prices that name none: the one asked once, else the first that any price names."""
    asked = texts.get(SHARED["currency"], "").strip().upper()
    named = (texts[name].strip().upper() for name in PRICE_FIELDS if name.endswith(".currency") and texts.get(name, "").strip())
    return asked or next(named, "")
