"""What ten years cost with the chosen pair and with others of the same design, so that a choice can be defended."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from sizing.building import Building, building_of
from sizing.comparison import Comparison
from sizing.costs import Costs, costs_of
from sizing.design import Chosen
from sizing.pairs import PairFound
from sizing.parts import parts_of
from sizing.report import Report, size
from sizing.ten_years import TenYears, ten_years_of


@dataclass(frozen=True, eq=False)
class PairCost:
    """One pair: its rank, whether it is the chosen one, water of a year [m3], hours of play, its budget and ten years."""

    rank: int
    own: bool
    panel: str
    pump: str
    water: float
    running_hours: float
    costs: Costs
    ten: TenYears


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
        rows.append(cost_of(each.rank, is_own, built if is_own else building_of(sized_with(report, pair.panel, pair.pump))))
    return tuple(rows)


def sized_with(report: Report, panel: str, pump: str) -> Report:
    """The same design with another pair, under the same year of sky."""
    design = report.design.model_copy(update={"chosen": Chosen(panel=panel, pump=pump)})
    return size(design, sky=report.sky if report.sky.kind == "weather_file" else None)


def cost_of(rank: int, own: bool, built: Building) -> PairCost:
    """One pair with its money."""
    report = built.report
    costs = costs_of(parts_of(built).parts, report.design.budget)
    names = (report.fountain.panel_input.name, report.fountain.pump_input.name)
    year = report.year
    return PairCost(rank, own, *names, year.water, year.running_hours, costs, ten_years_of(built, costs))


def cheapest_hour(rows: Iterable[PairCost]) -> PairCost | None:
    """The pair whose hour of play costs least by its low figure; ``None`` where prices are missing or not in one currency."""
    priced = [(row.ten.per_hour_low, row) for row in rows]
    if len({row.costs.currency for _, row in priced}) != 1 or any(price is None for price, _ in priced):
        return None
    return min(priced, key=lambda each: each[0] or Decimal(0))[1]
