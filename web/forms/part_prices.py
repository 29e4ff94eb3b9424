"""The boxes of the parts list's prices, and what is added to their sum: names in the address, labels, both ways to a design.

A price is named by its part, as a fitting is: ``budget.parts.cable.amount``. A design file has them as a list.
"""

import re
from collections.abc import Collection, Mapping
from typing import Any, get_args

from sizing.design import PartKey, PartPrice
from web.forms.fields import Field, ask

BUDGET, PARTS = "budget", "budget.parts"
KEYS: tuple[str, ...] = get_args(PartKey)
"""Parts whose price stands in the parts list, in its order."""
OF_PRICE = ("amount", "currency", "source", "date")
SHARED = {"currency": "budget.currency", "source": "budget.source", "date": "budget.date"}
"""Asked once for all prices of the list that do not say it themselves; a design holds it with each price."""
ADDED = ("contingency_pct", "tax_pct")
ADDED_PRICES = ("delivery", "water_per_m3")
BASES = (*(f"{PARTS}.{key}" for key in KEYS), *(f"{BUDGET}.{name}" for name in ADDED_PRICES))
"""What the boxes of each price begin with."""
COLUMNS = {"amount": "price of one", "currency": "currency", "source": "where it was seen", "date": "day of the price"}
OF_ONE = COLUMNS | {"amount": "price"}


def price_field(key: str, of_price: str) -> Field:
    """One box of a part's price, named by the part."""
    made = ask("budget", "parts", 0, of_price, label=f"{key.replace('_', ' ')}: {COLUMNS[of_price]}", long=of_price == "source")
    return Field(f"{PARTS}.{key}.{of_price}", made.label, made.unit_words, made.suffix, made.hint, made.keyboard, made.long)


def shared_field(of_price: str, label: str, hint: str) -> Field:
    """The box that is asked once for all prices of the list."""
    return Field(SHARED[of_price], label, hint=hint, long=of_price == "source")


SHARED_FIELDS = {
    field.name: field
    for field in (
        shared_field("currency", "Currency of these prices", "Three letters, such as EUR"),
        shared_field("date", "Day they were seen", "Like 2026-05-31"),
        shared_field("source", "Where they were seen", "Shop, page, offer"),
    )
}
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
PRICE_FIELDS = {**SHARED_FIELDS, **PART_FIELDS, **ADDED_FIELDS}
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
    """The currency of the prices that name none: the one asked once, else the first readable one that any price names."""
    asked = texts.get(SHARED["currency"], "").strip().upper()
    named = (texts.get(name, "").strip().upper() for name in PRICE_FIELDS if name.endswith(".currency"))
    return asked or next((text for text in named if re.fullmatch("[A-Z]{3}", text)), "")


def unread(texts: Mapping[str, str], wrong: Collection[str]) -> set[str]:
    """Boxes that cannot count while some are wrong: those themselves, and all of a price without an amount or a currency.

    Examples
    --------
    >>> texts = {"budget.parts.pipe.amount": "2", "budget.parts.pipe.date": "May", "budget.parts.fuse.amount": "-3"}
    >>> sorted(unread(texts, ["budget.parts.pipe.date", "budget.parts.fuse.amount"]))
    ['budget.parts.fuse.amount', 'budget.parts.pipe.date']
    """
    bases = {name.rpartition(".")[0] for name in wrong if name.endswith((".amount", ".currency"))} - {BUDGET}
    if SHARED["currency"] in wrong:
        bases |= {base for base in BASES if not texts.get(f"{base}.currency", "").strip()}
    return {name for name in texts if name.rpartition(".")[0] in bases} | set(wrong)


def told_once(texts: Mapping[str, str]) -> dict[str, str]:
    """The same prices, with what all have in common in the boxes that ask for it once, and nothing said twice.

    Examples
    --------
    >>> told_once({"budget.currency": "NZD", "budget.parts.pipe.amount": "2", "budget.parts.pipe.currency": "NZD"})
    {'budget.currency': 'NZD', 'budget.parts.pipe.amount': '2', 'budget.parts.pipe.currency': ''}
    """
    found = dict(texts)
    bases = [base for base in BASES if texts.get(f"{base}.amount", "").strip()]
    for of_price, name in SHARED.items():
        said = {texts.get(f"{base}.{of_price}", "").strip() for base in bases}
        usual = texts.get(name, "").strip() or (said.pop() if len(said) == 1 and len(bases) > 1 else "")
        if usual:
            found[name] = usual
            alike = (f"{base}.{of_price}" for base in bases)
            found |= {box: "" for box in alike if texts.get(box, "").strip().upper() == usual.upper()}
    return found
