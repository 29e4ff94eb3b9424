"""What is not known exactly, and what it does to the year, to each month and to the jet.

In come a design, its fountain and the solved year; out come the causes, each with its standard uncertainty, their effects, and
the likely range (two times in three the truth lies in it).

Read: ``causes`` (all of them: what was taken, how far off it may be, what would tell), ``perturbed`` (the same year with one
thing moved, cheaply, and how each cause is moved), ``uncertainty`` (all together, JCGM 100), ``uncertainty_budget`` (the sum as
shown, and what would narrow it).

2026-11-25, a first-order budget, each cause moved through the model. Ten causes; each moves once to either side by its
    standard uncertainty and the year is sized again. What they take and what they add go together as squares, each side for
    itself, because a motor that may stop takes more than it can add. Limits are rectangular on each side (a over √3); a value
    may be as likely too small as too large. Refused: Monte Carlo in every sizing (500 x 2 ms); derivatives by formula
    (thresholds have none).
2026-11-25, its price and its weakness. The moves cost 8 ms of a sizing of 27 ms, because they share what does not change:
    3,000 lit steps and the middle days' best hours, 60 nodes of the load line, friction found once, the pump's speed from a
    table of its states (h(x)/x² falls with x = Q/s, so nothing is searched), only cell temperatures that occur. The thinned
    year moves the ends of the range by less than 0.5 % of the year's water. Against 500 full sizings drawn at random (three
    designs, three seeds): standard deviations 0 to 6 % apart, 64 to 68 % inside. Left out: the pump's current, the pipe's own
    bore and roughness, the water's temperature, and that causes hang together (a pump sold as better than it is errs in head
    and flow alike). A class's own residuals would change our mind: they would replace a catalogue's tolerance.
2026-12-01, the middle of the range is shifted, and what was taken may lie outside. Starting current, lowest voltage, the kind
    of pipe and the kind of nozzle are causes where the design is silent. Each is taken at its better end (no-load current,
    0 V, smooth, a smooth cone), so each can only take water. With the ends put together as before, each side for itself,
    58 to 63 % of draws lay inside for the three jets without a lowest voltage; with the mean of each cause added to the middle and
    the variances about it (JCGM 100, F.2.4.4) 64 to 74 %, 70 % over three such designs and two seeds. Starting current and
    lowest voltage do nothing at first and much later, so each is moved to Gauss's two points. Where both are unknown the
    budget is 10 % too wide, because only the higher threshold acts. Refused: to keep what was taken inside the range (74 to
    78 % inside), and to take typical values in place of the better end, which would change every result without a
    publication to stand on.
"""

from sizing.uncertainty.causes import Cause
from sizing.uncertainty.uncertainty import band, expected, shares
from sizing.uncertainty.uncertainty_budget import remedy_of

__all__ = ["Cause", "band", "expected", "remedy_of", "shares"]
