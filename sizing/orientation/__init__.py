"""sizing.orientation."""

from sizing.orientation.aims import Aim, Wanted
from sizing.orientation.answer import orientation_answer
from sizing.orientation.directions import AZIMUTHS, TILTS, Outcome, as_table
from sizing.orientation.orientation import Orientation, Side, orient
from sizing.orientation.seasons import TiltsFound
from sizing.orientation.sentences import (
    ALIKE,
    LARGE,
    amount,
    best_words,
    choice_sentence,
    compass_sentence,
    degrees,
    direction,
    flatness_sentence,
    tilts_sentence,
    turned,
    two_tilts_sentence,
    verdict,
)

__all__ = [
    "ALIKE",
    "AZIMUTHS",
    "LARGE",
    "TILTS",
    "Aim",
    "Orientation",
    "Outcome",
    "Side",
    "TiltsFound",
    "Wanted",
    "amount",
    "as_table",
    "best_words",
    "choice_sentence",
    "compass_sentence",
    "degrees",
    "direction",
    "flatness_sentence",
    "orient",
    "orientation_answer",
    "tilts_sentence",
    "turned",
    "two_tilts_sentence",
    "verdict",
]
