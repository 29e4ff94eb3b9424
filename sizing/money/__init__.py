"""What must be bought for one design, what it costs today, and what ten years cost.

In come a building and the design's budget; out come parts (each with a quantity and a reason), costs, ten years as a range,
the same for neighbouring pairs, and a price list as CSV, written and read back.

Read: ``parts``, ``costs``, ``price_list``, ``ten_years``, ``pair_costs``, ``answer`` (everything
that building and keeping asks for, as it is written).

2026-11-25, money in decimals, a missing price is no zero. A price is its shortest decimal text (``repr``). Each line total,
    contingency and tax are rounded half up to cents, and cents add up exactly: groups + contingency + delivery + tax = total.
    Refused: floats (0.1 + 0.2); a guess for what is missing (the total says "at least" and names the parts); sums of two
    currencies. Lives over ten years are ranges, since a design does not say whether its motor has brushes.
"""

from sizing.money.answer import BuildingAnswer
from sizing.money.costs import money
from sizing.money.pair_costs import PairCost, chosen_of, costs_beside, neighbours
from sizing.money.parts import Part
from sizing.money.price_list import LARGEST, PriceRead, price_rows, read_prices
from sizing.money.ten_years import Bought, TenYears, bought

__all__ = [
    "LARGEST",
    "Bought",
    "BuildingAnswer",
    "PairCost",
    "Part",
    "PriceRead",
    "TenYears",
    "bought",
    "chosen_of",
    "costs_beside",
    "money",
    "neighbours",
    "price_rows",
    "read_prices",
]
