"""Water, pump, pipe and outlet: which head each flow needs, and which head the pump gives.

In come the parts in SI; out come heads, losses, the pump's curves at any speed, and the height of the jet. All functions
broadcast over arrays of flows.

Read: ``water`` (density, viscosity), ``friction`` (the friction factor), ``pipes`` (friction, bends and valves),
``nozzle_kinds`` (how much of the ideal flow an opening passes), ``manifold`` (a ring or row that feeds jets), ``outlet``
(nozzle, open pipe, spillway: head and height), ``spillway`` (its formulas), ``pump`` (affinity laws), ``pump_curve`` (from
published points or a box label to curves), ``power_points`` (flow against power at fixed heads).

2026-11-25, friction from the fluids library. 240 flows take 0.2 ms through ``fluids.vectorized``; our own Newton took 0.017 ms
    for 400. We kept the library, because the load line asks only once; more than 10,000 flows at once would change our mind.
    Between Reynolds numbers of 2000 and 4000 a cubic meets both laws in value and slope, so that head always rises with flow.
2026-11-25, EPANET differs by its friction formula. On 50 random garden systems our flow agrees to 0.003 % when our sum uses
    EPANET's own approximation of the Colebrook equation. With Colebrook itself 45 of 50 agree within 0.3 %, and the largest
    difference is 0.75 % (Reynolds numbers of 4,000 to 18,000). We kept Colebrook; the test bounds both.
2026-12-01, a crown is solved from its far end, without a search. With one friction factor for each flow, all heads along the
    ring grow alike, so one pass over the holes gives feed, lowest and highest jet. Against a solver with a friction factor of
    its own in each stretch the head differs by less than 1 %. A crown's jet is its lowest, so that a goal means all of them.
2026-12-01, flow against power is read at the same share of the way from cut-in to largest power. Refused: flow straight between
    heads at one power, where water begins at the cut-in of the lower head; power straight between heads at one flow, which has
    no end. Real pumps are met within 8 % of the largest flow, at most 3 % above. A flat-topped curve lowers an assumed winding.
"""

from sizing.hydraulic.nozzle_kinds import NOZZLE_NAMES, nozzle_coefficients
from sizing.hydraulic.outlet import Nozzle, OpenPipe, Outlet, Spillway, flow_limit
from sizing.hydraulic.pipes import FITTING_NAMES, PIPE_NAMES, fitting_k
from sizing.hydraulic.power_points import curve_at_speed
from sizing.hydraulic.pump import Pump, pump_head

__all__ = [
    "FITTING_NAMES",
    "NOZZLE_NAMES",
    "PIPE_NAMES",
    "Nozzle",
    "OpenPipe",
    "Outlet",
    "Pump",
    "Spillway",
    "curve_at_speed",
    "fitting_k",
    "flow_limit",
    "nozzle_coefficients",
    "pump_head",
]
