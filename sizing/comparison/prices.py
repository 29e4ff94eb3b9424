"""What a pair costs: its panels, its pump and its controller, and never a price that nobody gave.

A price that is missing is not zero: without it the pair has no price, and a sentence says which is missing.
"""

from collections.abc import Iterable

from sizing.comparison.pairs import ConnectionKind, Money
from sizing.design.design import ControllerConnection, Design, PanelInput, Price, PumpInput
from sizing.foundation.formats import figures


def pair_price(design: Design, panel: PanelInput, pump: PumpInput, kind: ConnectionKind) -> tuple[Money | None, str]:
    """Price of a pair, or ``None`` and why.

    The price of a panel is that of one; a pair buys as many as stand in series and in parallel.
    """
    parts: list[tuple[str, Price | None, int]] = [
        (f"panel {panel.id}", panel.price, panel.in_series * panel.in_parallel),
        (f"pump {pump.id}", pump.price, 1),
    ]
    if kind == "controller":
        named = design.connection
        parts.append(("the controller", named.price if isinstance(named, ControllerConnection) else None, 1))
    missing = [name for name, price, _ in parts if price is None]
    if missing:
        return None, f"No price: none is given for {listed(missing)}."
    priced = [(name, price, count) for name, price, count in parts if price is not None]
    if len({price.currency for _, price, _ in priced}) > 1:
        told = listed([f"{name} in {price.currency}" for name, price, _ in priced])
        return None, f"No price: currencies differ, {told}."
    return Money(sum(price.amount * count for _, price, count in priced), priced[0][1].currency), ""


def price_per_hour(price: Money | None, running_hours: float) -> Money | None:
    """Price over the playing hours of one year; ``None`` without a price or without play."""
    if price is None or running_hours <= 0:
        return None
    return Money(price.amount / running_hours, price.currency)


def currencies_of(prices: Iterable[Money | None]) -> tuple[str, ...]:
    """Currencies among some prices, in alphabetical order."""
    return tuple(sorted({price.currency for price in prices if price is not None}))


def money_words(price: Money, digits: int = 4) -> str:
    """A price for people.

    Examples
    --------
    >>> money_words(Money(57.4, "EUR")).replace("\\N{NO-BREAK SPACE}", " ")
    '57.40 EUR'
    >>> money_words(Money(0.0312, "EUR"), 2).replace("\\N{NO-BREAK SPACE}", " ")
    '0.031 EUR'
    """
    exact = f"{price.amount:.2f}"
    shown = exact if digits >= 4 and price.amount < 10000 else figures(price.amount, digits)
    return f"{shown}\N{NO-BREAK SPACE}{price.currency}"


def listed(names: list[str]) -> str:
    """Names as people list them.

    Examples
    --------
    >>> listed(["panel a", "pump b", "the controller"])
    'panel a, pump b and the controller'
    """
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)
