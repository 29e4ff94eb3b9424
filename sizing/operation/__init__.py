"""Where panel, pump and pipe agree, at every irradiance, and the year that comes of it.

In come the supply (panel, cable, connection), the pump, and the pipe with its outlet; then irradiance and cell temperature,
step by step. Out come volts, flow, jet and a state with a reason for each step, and months, usual days and the goal.

Read: ``load_line`` (pump, pipe and outlet as one line in volts and amperes), ``operating_point`` (where the panel meets it, on
a grid), ``year`` (steps to months and days), ``goal``, ``strain`` (hours above rated volts and watts),
``jet_heights`` (which jet is a usual day's, a clear day's and the year's highest),
``matching`` (the share of the panel's energy that the motor takes),
``direct_solve`` (one moment from the equations themselves: the slow judge).

2026-11-25, the match needs no search. Chosen: the flow runs along one load line of pump, pipe and outlet, and the single-diode
    equation is solved for the irradiance, in which it is linear; so each node of the load line gives at once the sun that
    drives it. Refused: a root search for each step of the year or on a grid. Why: one panel, pump and pipe at all irradiances
    and temperatures take about 2 ms, and nothing has to converge. A nested bracketed search (``solve_directly``) stays beside
    it as judge; over a year they differ by less than 0.3 %. A motor whose current depends on the panel (pulsed drives) would
    change our mind.
2026-12-01, electronics of a pump's own are driven by power. Where they track the panel's maximum the flow follows the power;
    where they hold one speed they take one power or stand, at the panel's voltage above its best one, and start where the panel
    can give that power at all. Refused: a load line in volts and amperes for them, as no such line exists. The no-load current
    of a DC motor stays constant in the sizing and its growth with speed is a cause of doubt, since points of one voltage
    cannot tell them apart; two no-load readings at two voltages would change our mind.
2026-11-25, no hysteresis at the start. A running pump may keep on a little below the cut-in irradiance. We count only what the
    starting sun allows: this errs to the safe side and keeps the operating point a function of irradiance and temperature.
"""

from sizing.operation.goal import GoalFound, needed_flow
from sizing.operation.load_line import LoadLine, PipeSystem, system_head
from sizing.operation.operating_point import REASONS, STATE_WORDS, OperatingGrid, State, Supply, asked_of_panel, operate
from sizing.operation.strain import Strain
from sizing.operation.year import Month

__all__ = [
    "REASONS",
    "STATE_WORDS",
    "GoalFound",
    "LoadLine",
    "Month",
    "OperatingGrid",
    "PipeSystem",
    "State",
    "Strain",
    "Supply",
    "asked_of_panel",
    "needed_flow",
    "operate",
    "system_head",
]
