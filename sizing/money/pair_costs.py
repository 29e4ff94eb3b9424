"""What ten years cost with the chosen pair and with others of the same design, so that a choice can be defended."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from sizing.comparison.comparison import Comparison
from sizing.comparison.pairs import Pair, PairFound
from sizing.design.design import Chosen
from sizing.foundation.formats import duration, quantity
from sizing.installation.building import Building, building_of
from sizing.money.costs import Costs, money
from sizing.money.ten_years import TenYears, bought
from sizing.report.report import Report, size

SIDE_BY_SIDE = 3
"""[1] The chosen pair and two others."""


@dataclass(frozen=True, eq=False)
class PairCost:
    """One pair: its rank, whether it is the chosen one, water of a year [m3], hours of play, its budget and ten years, and
    what differs from the chosen pair, in words (empty for the chosen one itself)."""

    rank: int
    own: bool
    panel: str
    pump: str
    water: float
    running_hours: float
    costs: Costs
    ten: TenYears
    difference: str = ""


def pair_costs(found: Comparison, built: Building, others: Iterable[PairFound]) -> tuple[PairCost, ...]:
    """The chosen pair and others, by rank; a pair that cannot be sized is left out. Each other one is sized anew (about 50 ms).

    Parameters
    ----------
    found : comparison of the design that was built
    others : pairs of it, the chosen one may be among them
    """
    report = built.report
    own = (report.fountain.panel_input.id, report.fountain.pump_input.id, report.design.connection.kind)
    rows = []
    for each in sorted(others, key=lambda each: each.rank):
        pair = each.pair
        is_own = (pair.panel, pair.pump, pair.connection) == own
        if each.refused or (not is_own and pair.connection != own[2]):
            continue
        bore = None if is_own or each.own is None else each.bore
        there = built if is_own else building_of(sized_with(report, pair.panel, pair.pump, bore))
        rows.append(cost_of(each.rank, is_own, there, bore))
    chosen = next((row for row in rows if row.own), None)
    return tuple(row if row.own or chosen is None else replace(row, difference=difference(chosen, row)) for row in rows)


def chosen_of(found: Comparison, report: Report) -> PairFound:
    """The pair that the report sizes."""
    fountain = report.fountain
    pair = Pair(fountain.panel_input.id, fountain.pump_input.id, report.design.connection.kind)
    return next(each for each in found.pairs if each.pair == pair)


def neighbours(found: Comparison, own: PairFound) -> tuple[PairFound, ...]:
    """The chosen pair and the ones next to it by rank, by rank."""
    at = found.pairs.index(own)
    first = min(max(at - 1, 0), max(len(found.pairs) - SIDE_BY_SIDE, 0))
    return found.pairs[first : first + SIDE_BY_SIDE]


def costs_beside(found: Comparison, built: Building) -> tuple[PairCost, ...]:
    """The chosen pair of a comparison and those next to it by rank."""
    return pair_costs(found, built, neighbours(found, chosen_of(found, built.report)))


def sized_with(report: Report, panel: str, pump: str, bore: float | None = None) -> Report:
    """The same design with another pair, and another nozzle [mm] if one is given, under the same year of sky; one of a weather
    file is on its clock already."""
    design = report.design.model_copy(update={"chosen": Chosen(panel=panel, pump=pump)})
    if bore is not None:
        design = design.model_copy(update={"outlet": design.outlet.model_copy(update={"bore_mm": bore})})
    if report.sky.kind != "weather_file":
        return size(design)
    return size(design.model_copy(update={"place": design.place.model_copy(update={"time_zone": None})}), sky=report.sky)


def cost_of(rank: int, own: bool, built: Building, bore: float | None = None) -> PairCost:
    """One pair with its money; its name says its nozzle [mm] where that is not the design's."""
    report, money = built.report, bought(built)
    panel, pump = report.fountain.panel_input.name, report.fountain.pump_input.name
    pump += "" if bore is None else f", nozzle of {quantity(bore, 'mm')}"
    return PairCost(rank, own, panel, pump, report.year.water, report.year.running_hours, money.costs, money.ten)


def difference(own: PairCost, other: PairCost) -> str:
    """What the other pair costs and plays beside the chosen one, in one sentence."""
    hours = other.running_hours - own.running_hours
    plays = f"plays {duration(round(abs(hours)))} a year {'more' if hours > 0 else 'less'}" if round(hours) else "plays as long"
    if not own.costs.currency or own.costs.currency != other.costs.currency:
        return f"It {plays}; its money cannot be compared, for prices are missing or stand in other currencies."
    if unpriced(own) != unpriced(other):
        return f"It {plays}; its money cannot be compared, for not the same prices are missing."
    bought, low, high = (
        more_or_less(there - here, own.costs.currency)
        for here, there in (
            (own.costs.total, other.costs.total),
            (own.ten.low, other.ten.low),
            (own.ten.high, other.ten.high),
        )
    )
    return f"It costs {bought} to buy, over ten years {low} by the low figures and {high} by the high ones, and {plays}."


def unpriced(row: PairCost) -> set[str]:
    """Keys of the parts that have no total."""
    return {line.part.key for line in row.costs.lines if line.total is None}


def more_or_less(amount: Decimal, currency: str) -> str:
    """A difference of money.

    Examples
    --------
    >>> more_or_less(Decimal("-2.5"), "EUR").replace(chr(160), " "), more_or_less(Decimal(0), "EUR")
    ('2.50 EUR less', 'the same')
    """
    return f"{money(abs(amount), currency)} {'more' if amount > 0 else 'less'}" if amount else "the same"
