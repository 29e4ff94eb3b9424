"""Pairs of a panel and a pump: which there are, and what is found of each over the same year of sun."""

from dataclasses import dataclass
from typing import Literal

from sizing.design.design import ControllerConnection, Design, DirectConnection, PanelInput, PumpInput
from sizing.operation.goal import GoalFound
from sizing.operation.operating_point import OperatingGrid
from sizing.operation.year import Year

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
    well. ``price_note`` says why there is no price; ``price_per_hour`` is the price over the playing hours of one year.
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
    matching_factor: float | None = None
    over_voltage_hours: float = 0.0
    price: Money | None = None
    price_note: str = ""
    price_per_hour: Money | None = None
    beaten_by: Pair | None = None


def suits(found: PairFound) -> bool:
    """Whether a pair does what is wanted: meets the goal, or plays where there is none, never above its highest voltage."""
    return not found.refused and not found.failure


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
