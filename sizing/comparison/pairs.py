"""Pairs of a panel and a pump: which there are, what is found of each over the same year of sun, and what it costs.

A price that is missing is not zero: without it the pair has no price, and a sentence says which is missing.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from sizing.design.design import ControllerConnection, Design, DirectConnection, PanelInput, Price, PumpInput
from sizing.foundation.formats import figures
from sizing.fountain.sentences import question
from sizing.fountain.unknowns import Unknown
from sizing.operation.goal import GoalFound
from sizing.operation.operating_point import OperatingGrid
from sizing.operation.strain import Strain
from sizing.operation.year import Year
from sizing.uncertainty.chance import Chance

ConnectionKind = Literal["direct", "controller"]


@dataclass(frozen=True)
class Pair:
    """A panel and a pump by their ids in the design, and what joins them."""

    panel: str
    pump: str
    connection: ConnectionKind


@dataclass(frozen=True)
class Money:
    """An amount in a currency (three letters, ISO 4217)."""

    amount: float
    currency: str


@dataclass(frozen=True, eq=False)
class PairFound:
    """What is found of one pair.

    Water [m3] a year, ``worst_water`` [m3 a day] in its poorest month, hours [h] a year; ``first_sun`` on the cells that
    makes it play [W/m2]; ``noon_jet`` [m] and ``noon_flow`` [m3/s] on a usual day of each chosen month, over the hour that
    begins at 12:00; ``matching_factor`` [1], ``None`` without any sun. ``refused`` says why the pair cannot be sized at
    all (then numbers are zero or ``None``), ``failure`` why it does not do what is wanted; both are empty where all is
    well. ``questions`` ask what nobody said; ``goal_borne`` is how far it reaches the goal while the pump stays within the
    highest voltage known for it. ``price_note`` says why there is no price; ``price_per_hour``
    is the price over the playing hours of one year.
    ``bore`` is that of the nozzle [mm], ``None`` for other outlets; where it is not the design's, ``own`` is the pair with it.
    """

    pair: Pair
    panel_input: PanelInput
    pump_input: PumpInput
    rank: int
    refused: str = ""
    failure: str = ""
    match: OperatingGrid | None = None
    year: Year | None = None
    water: float = 0.0
    worst_month: int = 1
    worst_water: float = 0.0
    running_hours: float = 0.0
    first_sun: float | None = None
    noon_jet: dict[int, float] | None = None
    noon_flow: dict[int, float] | None = None
    goal: GoalFound | None = None
    chance: Chance | None = None
    matching_factor: float | None = None
    over_voltage_hours: float = 0.0
    strain: Strain | None = None
    goal_borne: GoalFound | None = None
    questions: tuple[Unknown, ...] = ()
    price: Money | None = None
    price_note: str = ""
    price_per_hour: Money | None = None
    beaten_by: Pair | None = None
    bore: float | None = None
    own: "PairFound | None" = None

    @property
    def hours_not_borne(self) -> float:
        """Hours of the year [h] above the highest voltage known for the pump: the highest, or the rated one where no
        highest is known."""
        return 0.0 if self.strain is None else self.strain.above_allowed

    @property
    def doubt(self) -> str:
        """What to ask before the pair can count as safe; empty where its pump stays within its known voltage."""
        if self.strain is None or not self.strain.doubtful:
            return ""
        return next((question(each) for each in self.questions if each.code == "highest_voltage"), "")


def likely(found: PairFound) -> bool:
    """Whether a pair likely meets the goal, whatever the volts of its pump."""
    return found.chance is not None and found.chance.outlook == "likely"


def suits(found: PairFound) -> bool:
    """Whether a pair likely meets the goal, or plays where there is none, within the highest voltage known for its pump."""
    return not found.refused and not found.failure and not found.doubt


def as_designed(found: PairFound) -> PairFound:
    """The pair with the design's own nozzle."""
    return found if found.own is None else found.own


def kinds_of(design: Design, both_connections: bool = False) -> tuple[ConnectionKind, ...]:
    """The connections that are asked for: the design's own, or both."""
    return ("direct", "controller") if both_connections else (design.connection.kind,)


def pairs_of(design: Design, kinds: tuple[ConnectionKind, ...]) -> tuple[Pair, ...]:
    """Every panel with every pump, joined in each way.

    They stand by pump id, then panel id, direct first, whatever their order in the design: the order that breaks ties.
    """
    panels, pumps = (sorted(part.id for part in parts) for parts in (design.panels, design.pumps))
    return tuple(Pair(panel, pump, kind) for pump in pumps for panel in panels for kind in kinds)


def connected(design: Design, kind: ConnectionKind) -> Design:
    """The design joined that way; a controller that it does not name has the default efficiency."""
    if design.connection.kind == kind:
        return design
    other = DirectConnection(kind="direct") if kind == "direct" else ControllerConnection(kind="controller")
    return design.model_copy(update={"connection": other})


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
