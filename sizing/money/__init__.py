"""sizing.money."""

from sizing.money.answer import building_answer, wires_answer
from sizing.money.costs import money
from sizing.money.pair_costs import PairCost, chosen_of, costs_beside, neighbours
from sizing.money.parts import Part
from sizing.money.price_list import LARGEST, PriceRead, price_rows, read_prices
from sizing.money.ten_years import Bought, TenYears, bought

__all__ = [
    "LARGEST",
    "Bought",
    "PairCost",
    "Part",
    "PriceRead",
    "TenYears",
    "bought",
    "building_answer",
    "chosen_of",
    "costs_beside",
    "money",
    "neighbours",
    "price_rows",
    "read_prices",
    "wires_answer",
]
