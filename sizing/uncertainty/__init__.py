"""What is not known exactly, and what it does to the year, to each month and to the jet.

In come a design, its fountain and the solved year; out come the causes, each with its standard uncertainty, their effects, and
the likely range (two times in three the truth lies in it).

Read: ``causes`` (all of them: what was taken, how far off it may be, what would tell), ``perturbed`` (the same year with one
thing moved, cheaply, and how each cause is moved), ``uncertainty`` (all together, JCGM 100), ``uncertainty_budget`` (the sum as
shown, and what would narrow it).

2026-11-25, a first-order budget, each cause moved through the model, once to either side by its standard uncertainty. Limits
    are rectangular on each side (a over √3); a value may be as likely too small as too large. Refused: Monte Carlo in every
    sizing (500 x 2 ms); derivatives by formula (thresholds have none).
2026-11-25, its price and its weakness. The moves cost 8 ms of a sizing of 27 ms, because they share what does not change:
    3,000 lit steps and the middle days' best hours, 60 nodes of the load line, the pump's speed from a table of its states.
    The thinned year moves the ends of the range by less than 0.5 %. Left out: the pump's current, the pipe's own bore and
    roughness, the water's temperature, and that causes hang together (a pump sold as better than it is errs in head and flow
    alike). A class's own residuals would change our mind: they would replace a catalogue's tolerance.
2026-12-01, the middle is shifted, and what was taken may lie outside. Starting current, lowest voltage, kind of pipe and of
    nozzle are causes; where the design is silent each is taken at its better end and can only take water. With each side for
    itself 58 to 63 % of 500 full sizings lay inside (three jets without a lowest voltage); with means added to the middle and
    variances about it (JCGM 100, F.2.4.4) 64 to 74 %, 70 % over all. Thresholds are moved to Gauss's two points; two of them
    together are 10 % too wide, as only the higher acts. Refused: to keep what was taken inside (74 to 78 %); typical values
    in place of the better end, which would change every result without a publication to stand on.
"""

from sizing.uncertainty.causes import Cause
from sizing.uncertainty.uncertainty import band, expected, shares
from sizing.uncertainty.uncertainty_budget import remedy_of

__all__ = ["Cause", "band", "expected", "remedy_of", "shares"]
