"""What is not known exactly, and what it does to the year, to each month and to the jet.

In come a design, its fountain and the solved year; out come the causes, each with its standard uncertainty, their effects, and
the likely range (two times in three the truth lies in it).

Read: ``causes`` (all of them: what was taken, how far off it may be, what would tell), ``perturbed`` (the same year with one
thing moved, cheaply, and how each cause is moved), ``uncertainty`` (all together, JCGM 100), ``uncertainty_budget`` (the sum as
shown, and what would narrow it); then ``draws`` (all causes off at once, 257 times), ``sun_needed`` (what a pump asks in each),
``chance`` (in how many a goal is met), ``goal_doubt`` (what pairs share of it), ``sentences``.

2026-11-25, a first-order budget, each cause moved through the model, once to either side by its standard uncertainty. Limits
    are rectangular on each side (a over √3). Refused: full sizings drawn at random (500 x 2 ms); derivatives by formula
    (thresholds have none). It costs 8 ms of a sizing of 27 ms: 3,000 lit steps and the middle days' best hours, 60 nodes of the
    load line. Left out: the pump's current, the pipe's own bore and roughness, the water's temperature, and that causes hang
    together. A class's own residuals would change our mind: they would replace a catalogue's tolerance.
2026-12-01, the middle is shifted, and what was taken may lie outside. Where the design is silent about starting current, lowest
    voltage, pipe and nozzle, each is taken at its better end and can only take water. With means added to the middle and
    variances about it (JCGM 100, F.2.4.4) 64 to 74 % of 500 full sizings lie inside (58 to 63 % with each side for itself).
    Refused: to keep what was taken inside (74 to 78 %); typical values in place of the better end, without a publication.
2026-12-01, the chance of a goal by 257 even draws of all causes at once, not from the budget: a goal is a threshold of
    thresholds. Whether a step reaches it is a matter of its sun alone, so a draw comes down to the sun that pump and panel need
    (3 ms a pump, 0.5 ms a pair more). Within 0.1 of full sizings drawn at random, mostly 0.05. Refused: the largest flow that a
    year holds over the flow needed (it jumps where a pump cuts off); the budget's normal distribution.
"""

from sizing.uncertainty.causes import Cause
from sizing.uncertainty.chance import Chance
from sizing.uncertainty.sentences import chance_explained, chance_words, margin_words, outlook_words
from sizing.uncertainty.uncertainty import band, expected, shares
from sizing.uncertainty.uncertainty_budget import remedy_of

__all__ = [
    "Cause",
    "Chance",
    "band",
    "chance_explained",
    "chance_words",
    "expected",
    "margin_words",
    "outlook_words",
    "remedy_of",
    "shares",
]
