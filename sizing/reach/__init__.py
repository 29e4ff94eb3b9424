"""What would meet a goal that is missed: the cheapest few changes, fewest first, each ready to be taken.

In comes a design with a goal; out come offers (nozzle, jets, pipe, tilt, azimuth, connection, panel, pump, or asking for less),
each with what it changes, what the goal then reaches and what it costs, or what comes nearest where nothing does.

Read: ``changes`` (what may be changed, and how), ``workshop`` (designs with changes, sized over the goal's hours),
``search`` (one change, then two, and what is kept of them), ``sentences``, ``answer``.

2026-12-01, every choice is sized, none is guessed. The light depends on the panel's plane alone and the operating grid on
    everything but the plane, so both are kept and each choice costs one look-up over the goal's hours: about 90 single changes
    take 0.13 s, 3,300 with all pairs 1.8 s (processor time, two busy cores). A page of its own, then. Refused: stopping at the
    first that does along one part (a wider nozzle may help and hurt, and more watts may break the pump's limit); whole
    watts (nobody sells 37 W: usual sizes err to the side where nobody buys too little); narrower pipes.
2026-12-01, order: what likely meets the goal (five times in six), the fountain before the goal, fewest changes, money (or watts
    where a price is missing), then the smallest step. Of offers that touch the same parts the first likely one is named, else
    the first by even chance; pairs are tried where no single change is likely. A pump whose highest
    voltage is not known is trusted with its rated voltage only: an offer that passes it comes last, with the question for its
    maker; one that passes a known highest voltage is never made. Prices are those of panels, pump and controller; what
    a nozzle or a pipe costs is not known, and said so.
"""

from sizing.reach.answer import OfferAnswer, ReachAnswer, reach_answer
from sizing.reach.changes import Change, changes_of_key, read_again, with_chosen
from sizing.reach.search import Offer, Reach, reach, reach_of
from sizing.reach.sentences import (
    TRIED,
    ask_words,
    chance_said,
    change_words,
    cost_words,
    headline,
    lead,
    offer_sentence,
    offer_words,
    reached_words,
)

__all__ = [
    "TRIED",
    "Change",
    "Offer",
    "OfferAnswer",
    "Reach",
    "ReachAnswer",
    "ask_words",
    "chance_said",
    "change_words",
    "changes_of_key",
    "cost_words",
    "headline",
    "lead",
    "offer_sentence",
    "offer_words",
    "reach",
    "reach_answer",
    "reach_of",
    "reached_words",
    "read_again",
    "with_chosen",
]
