"""Every pump with every panel over the same year: what each pair does, what it costs, which to choose.

In comes a design with several panels and pumps; out come all pairs by rank, why some fail, the cheapest that meets the goal,
and for each pump the smallest panel that would.

Read: ``pairs`` (with their prices), ``ranking``, ``failures`` (why, in words), ``draw``, ``panel_reach``, ``smallest_panel``
with ``least_watts`` and ``likely_watts``, ``comparison`` (all of it), ``answer``.

2026-11-25, every pair through the whole path, no short cut. 72 pairs at a new place take 0.35 s; 144 with both connections and
    the smallest panels take 1.1 s, because sky and sun on the plane are computed once (4 ms a pair remain). So each pair is
    exactly what sizing it alone gives. No pair keeps its 35,040 steps: 17 MiB for 144 pairs, mostly grids for pictures. More
    than 12 pumps or 6 panels would change our mind.
2026-11-25, rank: suitable first, then price. With a goal: pairs that meet it by price; then those without a known price
    (missing is never zero, a controller's price included); then those that meet it above the voltage that the pump is known
    to bear; then by days of the poorest month, hours, price. Without a goal: by the year's water. Two currencies rank
    nothing. Ties go by pump id, panel id, direct first, so that the order of the options never counts; a dearer pump never
    rises. ``beaten_by`` compares pairs of one currency (or without a price) in all that a buyer may want. Refused: one score.
2026-12-01, a blank is not a yes: where nobody said the highest voltage, the rated one stands in, the least that a label may
    allow. So a blank never improves a rank. Refused: a class of its own after pairs known to break: neither is safer.
2026-11-25, the smallest panel from one point of the load line. Pump, pipe and outlet need one voltage and current for the
    goal's flow whatever the panel; a panel with a times the current gives it in an a-th of the irradiance. So whole watts are
    halved over the goal's window alone and the grid settles them (the found watts and one less): 0.15 s for 12 pumps and 6
    panels, and the same watt as stepping by hand. Refused: sizing every size of panel (10 more grids a pair, 2 s). Only the
    panels' own volts are tried: nobody sells others.
2026-12-01, pairs that are not likely with the design's nozzle stand with the usual bore nearest to it that makes them so.
"""

from sizing.comparison.answer import ComparisonAnswer, PairAnswer, comparison_answer
from sizing.comparison.comparison import Comparison, compare
from sizing.comparison.pairs import Money, Pair, PairFound, as_designed, currencies_of, likely, listed, money_words, suits
from sizing.comparison.smallest_panel import SmallestPanel

__all__ = [
    "Comparison",
    "ComparisonAnswer",
    "Money",
    "Pair",
    "PairAnswer",
    "PairFound",
    "SmallestPanel",
    "as_designed",
    "compare",
    "comparison_answer",
    "currencies_of",
    "likely",
    "listed",
    "money_words",
    "suits",
]
