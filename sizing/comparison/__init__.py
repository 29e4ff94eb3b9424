"""sizing.comparison."""

from sizing.comparison.answer import comparison_answer
from sizing.comparison.comparison import Comparison, compare
from sizing.comparison.pairs import Money, Pair, PairFound, suits
from sizing.comparison.prices import currencies_of, listed, money_words

__all__ = [
    "Comparison",
    "Money",
    "Pair",
    "PairFound",
    "compare",
    "comparison_answer",
    "currencies_of",
    "listed",
    "money_words",
    "suits",
]
