"""Why a pair fails, in words with numbers: the state that costs it most of the hours that were asked for."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.formats import figures, length, percent, quantity
from sizing.foundation.units import LITRE_PER_MINUTE
from sizing.fountain.components import Fountain
from sizing.operation.goal import FlowBand, Goal, GoalFound, reaching
from sizing.operation.operating_point import (
    STATE_WORDS,
    OperatingGrid,
    OperatingPoints,
    State,
    own_electronics,
    starting_sun,
)
from sizing.uncertainty.chance import Chance
from sizing.uncertainty.sentences import chance_words

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

Sure = tuple[GoalFound, Chance]
"""How far a goal is reached, and how surely."""
BRIGHTEST = 1200.0
"""[W/m2] A motor that needs more than this to start is never started."""


@dataclass(frozen=True, eq=False)
class Case:
    """One pair with its year: what light its panel has at each step [W/m2], [Cel], and what comes of it."""

    fountain: Fountain
    solved: OperatingGrid
    irradiance: Array
    cell_temperature: Array
    operation: OperatingPoints


def failure(case: Case, goal: Goal | None, sure: Sure | None, band: FlowBand, asked: Mask, over_voltage: float) -> str:
    """Why a pair does not do what is wanted; empty where it does.

    Parameters
    ----------
    goal, sure : what is wanted, how far it is reached and how surely; both ``None`` where the fountain only has to play
    band : flows that reach the goal [m3/s]; without a goal it is not used
    asked : the steps of the goal's window; without a goal those with sun on the panel
    over_voltage : hours of the year above the pump's highest voltage
    """
    enough = reaching(case.operation.flow, band) if goal is not None else case.operation.flow > 0
    done = bool(np.any(enough & asked)) if sure is None else sure[1].outlook == "likely"
    sentences = (
        [] if done else [unsure(sure[1])] if sure is not None and sure[0].met else [shortfall(case, goal, band, asked, enough)]
    )
    if over_voltage > 0:
        highest = quantity(case.fountain.pump.highest_voltage or 0.0, "V")
        start = "It likely meets the goal, but runs" if done and goal is not None else "It runs"
        sentences.append(f"{start} above the pump's highest voltage of {highest} for {figures(over_voltage)} hours a year.")
    return " ".join(sentences)


def unsure(chance: Chance) -> str:
    """It would meet the goal if all were as taken, and that is not sure enough."""
    return f"It meets the goal only if everything is as taken: the chance is {chance_words(chance.chance)}."


def shortfall(case: Case, goal: Goal | None, band: FlowBand, asked: Mask, enough: Mask) -> str:
    """The sentence of the state in which most of the asked hours are lost."""
    if goal is not None and not np.isfinite(band.least):
        return f"No flow makes this outlet throw a jet of {length(goal.jet or 0.0)}."
    lost = asked & ~enough
    kinds = np.where(case.irradiance > 0, case.operation.state, State.NIGHT)[lost]
    kinds = np.where(kinds == State.OVER_VOLTAGE, State.PLAYS, kinds)
    if not len(kinds):
        return "No sun falls on the panel."
    above = lost & (case.operation.flow > band.most)
    if goal is not None and 2 * np.count_nonzero(above) > len(kinds):
        return too_much(case, goal, np.flatnonzero(above), int(np.count_nonzero(asked)))
    state = State(int(np.argmax(np.bincount(kinds, minlength=len(State)))))
    there = np.flatnonzero(lost)[kinds == state]
    share = percent(len(there) / np.count_nonzero(asked))
    hours = "the sunny hours" if goal is None else "the hours asked for"
    when = f"In {share} of {hours}"
    if state == State.NIGHT:
        return f"{when} no sun falls on the panel."
    if state == State.TOO_LITTLE_SUN:
        return no_start(case, there, when)
    if state == State.BELOW_LOWEST_VOLTAGE:
        held, lowest = quantity(middle(case.operation.voltage[there]), "V", 2), quantity(case.fountain.pump.lowest_voltage, "V")
        return f"{when} it {STATE_WORDS[state]}: the panel holds the pump at about {held}, below its lowest voltage of {lowest}."
    if state == State.CANNOT_LIFT:
        return no_lift(case, there, when)
    return too_low(case, goal, band.least, there, when, not np.any(enough & asked))


def no_start(case: Case, there: NDArray[np.int64], when: str) -> str:
    """The panel's current does not start the motor, ever or at these steps."""
    starting = starting_sun(case.solved, case.cell_temperature[there])
    if np.min(starting) > BRIGHTEST and own_electronics(case.fountain.pump):
        watts = quantity(power_to_start(case.solved), "W", 2)
        return f"No sun brings water: pump, pipe and outlet need {watts}, and the panel never gives that."
    if np.min(starting) > BRIGHTEST:
        wanted = quantity(case.fountain.pump.motor.starting_current, "A", 2)
        given = quantity(case.fountain.supply.panel.light_current, "A", 2)
        if case.fountain.supply.controller_efficiency is None:
            return f"No sun starts its motor: it wants {wanted}, and the panel gives at most about {given} in full sun."
        return f"No sun starts its motor: it wants {wanted}, which the controller cannot make of the panel's power."
    sun, wanted = (quantity(middle(values), "W/m2", 2) for values in (case.irradiance[there], starting))
    return f"{when} there is too little sun to start it: about {sun} reach the cells, and its motor starts at {wanted}."


def power_to_start(solved: OperatingGrid) -> float:
    """Power [W] at which a pump with electronics of its own brings the first water."""
    line = solved.line
    first = len(line.flow) - 1 if line.pump.drive == "holds_speed" else max(int(np.argmax(line.flow > 0)) - 1, 0)
    return float(line.voltage[first] * line.current[first])


def no_lift(case: Case, there: NDArray[np.int64], when: str) -> str:
    """The motor turns, and the water does not reach the outlet."""
    lift = case.fountain.waterway.outlet.height
    pump, needed = case.fountain.pump, case.solved.line.lift_speed
    if not np.isfinite(needed):
        head = length(pump.shut_off_head)
        said = "the highest head published is" if pump.table is not None else "at the speed it holds its head is"
        return f"It cannot lift the water {length(lift)}: {said} {head}."
    if pump.table is not None:
        power = percent(middle(case.operation.speed[there]) / needed)
        return f"{when} it does not lift the water {length(lift)}: it gets about {power} of the power for that."
    if needed >= float(case.operation.speed.max()):
        head = length(float(case.operation.speed.max()) ** 2 * pump.shut_off_head)
        return f"It cannot lift the water {length(lift)}: at its fastest of the year its head is {head}."
    speed = percent(middle(case.operation.speed[there]) / needed)
    return f"{when} it turns without lifting the water {length(lift)}: it reaches about {speed} of the speed for that."


def too_low(case: Case, goal: Goal | None, needed: float, there: NDArray[np.int64], when: str, never: bool) -> str:
    """It plays, and stays below the goal."""
    assert goal is not None
    flow, jet = case.operation.flow, case.operation.jet
    if goal.jet is not None:
        thing, asked = "jet", length(goal.jet)
        value = length(float(jet[there].max())) if never else length(middle(jet[there]))
    else:
        thing, asked = "flow", quantity(needed / LITRE_PER_MINUTE, "l/min", 2)
        shown = float(flow[there].max()) if never else middle(flow[there])
        value = quantity(shown / LITRE_PER_MINUTE, "l/min", 2)
    if never:
        return f"It reaches only {value}: its {thing} never comes to the {asked} asked for."
    return f"{when} its {thing} stays below the {asked} asked for, at about {value}."


def too_much(case: Case, goal: Goal, there: NDArray[np.int64], asked: int) -> str:
    """It plays above the band that is wanted."""
    when = f"In {percent(len(there) / asked)} of the hours asked for"
    if goal.jet_to is not None:
        thing, most, value = "jet", length(goal.jet_to), length(middle(case.operation.jet[there]))
    else:
        thing, most = "flow", quantity((goal.flow_to or 0.0) / LITRE_PER_MINUTE, "l/min", 2)
        value = quantity(middle(case.operation.flow[there]) / LITRE_PER_MINUTE, "l/min", 2)
    return f"{when} its {thing} passes the highest that is wanted, {most}: about {value}."


def middle(values: Array) -> float:
    """Median."""
    return float(np.median(values))
