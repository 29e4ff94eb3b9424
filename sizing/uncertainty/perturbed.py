"""One sizing with one thing moved: the same load line, grid and steps, so that only the move makes a difference.

A year of 3000 lit steps and the middle days' best hours are watched, on fewer nodes of the load
line; a moved pump, outlet or panel is solved again on the same nodes. ``MOVES`` says how each cause is moved.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sizing.design.design import Design, NozzleOutlet
from sizing.electric.motor import MotorLabel, motor_current, motor_voltage, no_load_at_speed
from sizing.electric.single_diode import of_more_current
from sizing.fountain.components import Fountain, pump_of
from sizing.hydraulic.nozzle_kinds import nozzle_coefficients
from sizing.hydraulic.outlet import Nozzle, OpenPipe, Outlet, flow_limit, jet_height, outlet_head
from sizing.hydraulic.pipes import fitting_loss, pipe_loss, velocity
from sizing.hydraulic.pump import Pump, lift_speed, pump_load_current
from sizing.hydraulic.pump_curve import assemble
from sizing.light.irradiance import PlaneSun
from sizing.operation.load_line import LoadLine, PipeSystem, load_line, total_head
from sizing.operation.operating_point import (
    CELL_TEMPERATURES,
    IRRADIANCE_STEPS,
    GridPlace,
    Offer,
    OperatingGrid,
    OperatingPoints,
    Supply,
    controlled_match,
    controller_offer,
    direct_match,
    electronic_match,
    flow_alone,
    grid_place,
    own_electronics,
    pump_offer,
    solve_grid,
    starting_grid,
    top_speed,
)
from sizing.operation.year import Year, month_of_day
from sizing.sky.weather import Sky
from sizing.uncertainty.causes import KEYS

Array = NDArray[np.float64]

Calm = Callable[[NDArray[np.int64]], Array]

DRY_NODES, WET_NODES = 20, 60
FARTHER = 1.3
"""[1] Nodes reach beyond the largest flow of the match, which a moved cause may pass."""
MOST_STEPS = 3000
"""Lit steps of the year that are counted: every sixth quarter of an hour, every second hour of a weather file. Of a pump that
runs or does not, without anything between, all are counted."""
SPARE_ROWS = 6
"""Rows of the grid, 5 K each, below the coldest and above the warmest cells: more sun warms them."""
STATES = np.concatenate([np.geomspace(1e-8, 0.2, 120), np.linspace(0.2, 1.0, 161)[1:]])
"""[1] States of a pump at which its speed is tabulated, over its largest flow; near shut-off the table is straight."""


@dataclass(frozen=True, eq=False)
class Watched:
    """What is looked at again and again: the match on fewer nodes, and the steps of the year that are counted.

    ``nodes`` are flows [m3/s], none where nothing flows in any sun, with the pipe's ``friction`` [m] at each. Sun
    [W/m2], cells and air [Cel] of the steps, and where they lie ``on_grid``, in its ``rows``: the last steps, from
    ``counted`` on, are the middle days at the best hours, months by steps of the hour by two. ``weight`` turns a step's
    flow into water of its month [m3]; ``offer`` is what a controller has to give over the grid; ``swing`` [1] is how far
    passing clouds put the light of each step above what a smooth day would have, over the step's own light; ``flow``
    [m3/s] is that of each step with nothing moved.
    """

    solved: OperatingGrid
    offer: Offer | None
    nodes: Array
    friction: Array
    effective: Array
    cell: Array
    air: Array
    on_grid: GridPlace
    rows: slice
    month: NDArray[np.int64]
    counted: int
    weight: float
    swing: Array | float = 0.0
    flow: Array | None = None


@dataclass(frozen=True, eq=False)
class PerturbedYear:
    """Water [m3] and the jet at the best hour of a usual day [m], month by month."""

    water: Array
    jet: Array


def watched(
    fountain: Fountain,
    solved: OperatingGrid,
    sky: Sky,
    sun: PlaneSun,
    operation: OperatingPoints,
    year: Year,
    calm: Calm | None = None,
) -> Watched:
    """Choose the steps, and the nodes of the load line.

    Parameters
    ----------
    calm : gives the light into the cells of a smooth day at chosen steps [W/m2]; where it is not given, clouds stay
    """
    all_lit = np.flatnonzero(sun.effective > 0)
    every = 1 if fountain.pump.drive == "holds_speed" else max(-(-len(all_lit) // MOST_STEPS), 1)
    lit = all_lit[::every]
    steps = np.concatenate([lit, middle_steps(sky, sun, operation, year).ravel()])
    light = (sun.effective[steps], sun.cell_temperature[steps], sky.air_temperature[steps])
    chosen = watched_steps(fountain, solved, *light, sky.month[lit], every * 86400.0 / sky.steps_per_day)
    if calm is None or sky.calm is None:
        return chosen
    return replace(chosen, swing=np.divide(light[0] - calm(steps), light[0], out=np.zeros_like(light[0]), where=light[0] > 0))


def watched_steps(
    fountain: Fountain, solved: OperatingGrid, effective: Array, cell: Array, air: Array, month: NDArray[np.int64], weight: float
) -> Watched:
    """Get a match ready to be moved at given steps, of which the first are counted: as many as have a ``month``."""
    offer = None
    if own_electronics(fountain.pump):
        offer = pump_offer(solved.supply, solved.irradiance, CELL_TEMPERATURES[:, None])
    elif solved.supply.controller_efficiency is not None:
        offer = controller_offer(solved.supply, solved.irradiance, CELL_TEMPERATURES[:, None])
    pipe, top = fountain.waterway.pipe, min(FARTHER * float(solved.line.flow[-1]), flow_limit(fountain.waterway.outlet))
    nodes = top * np.linspace(0.0, 1.0, WET_NODES)[1:] if top > 0 else np.zeros(0)
    on_grid = grid_place(effective, cell)
    warm = on_grid.corner // IRRADIANCE_STEPS
    chosen = Watched(
        solved=solved,
        offer=offer,
        nodes=nodes,
        friction=np.asarray(pipe_loss(replace(pipe, fitting_k=0.0), nodes)),
        effective=effective,
        cell=cell,
        air=air,
        on_grid=on_grid,
        rows=slice(max(int(warm.min()) - SPARE_ROWS, 0), int(warm.max()) + SPARE_ROWS + 2),
        month=month,
        counted=len(month),
        weight=weight,
    )
    ready = replace(chosen, solved=with_other_water(chosen, fountain))
    return replace(ready, flow=flow_alone(ready.solved, effective, cell, on_grid))


def middle_steps(sky: Sky, sun: PlaneSun, operation: OperatingPoints, year: Year) -> NDArray[np.int64]:
    """Steps of the best hour on the one or two days in the middle of each month, by flow: (12, steps an hour, 2)."""
    per_day, per_hour, months = sky.steps_per_day, sky.steps_per_day // 24, month_of_day(sky)
    chosen = np.empty((12, per_hour, 2), dtype=np.int64)
    for index, month in enumerate(year.months):
        days = np.flatnonzero(months == month.month)
        steps = days[:, None] * per_day + month.best_hour * per_hour + np.arange(per_hour)
        order = np.lexsort((sun.effective[steps], operation.flow[steps]), axis=0)
        ranks = order[[(len(days) - 1) // 2, len(days) // 2]]
        chosen[index] = np.take_along_axis(steps, ranks, axis=0).T
    return chosen


def joined(chosen: Watched, supply: Supply, line: LoadLine, offer: Offer | None) -> OperatingGrid:
    """A panel and a load line on the grid; ``offer`` is what the controller, or the panel to the pump's own electronics,
    has to give there."""
    if own_electronics(line.pump):
        return electronic_match(supply, line, chosen.solved.irradiance, offer)
    if offer is None:
        return direct_match(supply, line, chosen.solved.irradiance, chosen.rows)
    return controlled_match(supply, line, chosen.solved.irradiance, offer)


@dataclass(frozen=True, eq=False)
class Moved:
    """A fountain with one thing moved: its match, how much more light the cells get and whether they warm with it, and with
    how much more flow, or how much more height, the jet is seen [1]. ``stands`` are steps that no longer play, where all
    others are as they were."""

    solved: OperatingGrid
    light: float | Array = 1.0
    warms: bool = True
    flow_seen: float = 1.0
    jet_seen: float = 1.0
    stands: NDArray[np.bool_] | None = None


def looked_at(chosen: Watched, moved: Moved) -> PerturbedYear:
    """Water and jet with one thing moved."""
    solved = moved.solved
    if moved.stands is not None and chosen.flow is not None:
        flow = np.where(moved.stands, 0.0, chosen.flow)
    elif solved is chosen.solved and chosen.flow is not None and isinstance(moved.light, float) and moved.light == 1:
        flow = chosen.flow
    elif isinstance(moved.light, float) and moved.light == 1:
        flow = flow_alone(solved, chosen.effective, chosen.cell, chosen.on_grid)
    else:
        flow = flow_alone(solved, *light_of(chosen, moved))
    water = np.asarray(np.bincount(chosen.month, weights=flow[: chosen.counted], minlength=13)[1:] * chosen.weight, dtype=float)
    jet = moved.jet_seen * jet_height(solved.line.waterway.outlet, moved.flow_seen * flow[chosen.counted :])
    return PerturbedYear(water, np.asarray(jet).reshape(12, -1).mean(axis=1))


def light_of(chosen: Watched, moved: Moved) -> tuple[Array, Array]:
    """Light into the cells [W/m2] and how warm they are [Cel] with one thing moved."""
    cell = chosen.air + moved.light * (chosen.cell - chosen.air) if moved.warms else chosen.cell
    return moved.light * chosen.effective, cell


def with_other_panel(chosen: Watched, share: float) -> OperatingGrid:
    """The panel giving ``share`` more current at every voltage, and so more power behind a controller."""
    supply = replace(chosen.solved.supply, panel=of_more_current(chosen.solved.supply.panel, 1 + share))
    offer = None if chosen.offer is None else chosen.offer._replace(power=chosen.offer.power * (1 + share))
    return joined(chosen, supply, chosen.solved.line, offer)


def with_other_water(
    chosen: Watched,
    fountain: Fountain,
    pump: Pump | None = None,
    waterway: PipeSystem | None = None,
    curve: tuple[float, float] = (1.0, 1.0),
) -> OperatingGrid:
    """Another pump, other fittings or another outlet on the same panel and cable; ``curve`` scales its head and flow."""
    pump, waterway = pump or fountain.pump, waterway or fountain.waterway
    if len(chosen.nodes) == 0:
        return solve_grid(fountain.supply, scaled_pump(pump, *curve), waterway)
    if pump.table is not None or own_electronics(pump):
        scaled = scaled_pump(pump, *curve)
        line = load_line(scaled, waterway, top_speed(fountain.supply, scaled))
        return joined(chosen, chosen.solved.supply, line, chosen.offer)
    line = line_along(pump, waterway, chosen.nodes, chosen.friction, curve)
    return joined(chosen, chosen.solved.supply, line, chosen.offer)


def line_along(
    pump: Pump, waterway: PipeSystem, flow: Array, friction: Array, curve: tuple[float, float] = (1.0, 1.0)
) -> LoadLine:
    """The load line at given flows, whatever speed they ask, with the pipe's friction at hand: no search for its end.

    Parameters
    ----------
    flow, friction : (nodes,) [m3/s] above 0 and [m] lost along the pipe at it, without fittings
    curve : [1] factors of the pump's head and flow: such a pump gives its head at a flow as ``pump`` at another
    """
    lift, (head_factor, flow_factor) = waterway.outlet.height, curve
    start = float(lift_speed(lift, head_factor * pump.shut_off_head))
    dry = np.linspace(0.0, start, DRY_NODES) if start > 0 else np.zeros(1)
    loss = friction + fitting_loss(waterway.pipe.fitting_k, velocity(flow, waterway.pipe.diameter))
    head = np.asarray(total_head(lift, loss, outlet_head(waterway.outlet, flow)))
    wet = speed_by_state(pump, flow / flow_factor, head / head_factor)
    speed, flow = np.concatenate([dry, wet]), np.concatenate([np.zeros_like(dry), flow])
    no_load = no_load_at_speed(pump.motor.no_load_current, pump.motor.viscous_share, speed)
    current = np.asarray(motor_current(no_load, speed, pump_load_current(pump, flow / flow_factor, speed)))
    return LoadLine(
        pump=pump,
        waterway=waterway,
        speed=speed,
        flow=flow,
        head=np.zeros_like(flow),
        current=current,
        voltage=np.asarray(motor_voltage(speed, pump.motor.back_emf, current, pump.motor.winding_resistance)),
        jet=np.zeros_like(flow),
        lift_speed=start,
    )


def speed_by_state(pump: Pump, flow: Array, head: Array) -> Array:
    """Speed ratio at which a pump gives each head at each flow (above 0), read from a table of its states.

    By the affinity laws head over flow squared depends on the state flow x = Q/s alone, h(x)/x², and falls with it: no
    search is needed, and what a move changes is not hidden by where a search stopped.
    """
    state = pump.largest_flow * STATES
    curve = np.log(np.maximum(pump.head_curve(state), 1e-12 * pump.shut_off_head) / state**2)
    wanted = np.log(head / flow**2)
    return flow / np.exp(np.interp(-wanted, -curve, np.log(state)))


def scaled_pump(pump: Pump, head: float = 1.0, flow: float = 1.0) -> Pump:
    """A pump with all heads and all flows of its curve times a factor; the currents stay."""
    if pump.table is not None:
        return replace(pump, table=replace(pump.table, heads=pump.table.heads * head, flow=pump.table.flow * flow))
    motor = MotorLabel(pump.rated_voltage, pump.lowest_voltage, pump.highest_voltage)
    scaled = assemble(pump.name, motor, pump.motor, (pump.flow * flow, pump.head * head, pump.load_current), pump.notes)
    return replace(scaled, drive=pump.drive)


def other_sun(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """More sun by a share; the cells warm with it."""
    return Moved(chosen.solved, 1 + size)


def other_clouds(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """Clouds that let the sun swing more about the day's course, by a share of the swing; the cells warm with it."""
    return Moved(chosen.solved, np.maximum(1 + size * np.asarray(chosen.swing), 0.0) * np.ones_like(chosen.effective))


def other_dirt(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """More dirt by a share of the sun; the cells stay as warm."""
    clean = 1 - design.mounting.soiling_pct / 100
    return Moved(chosen.solved, (clean - size) / clean, warms=False)


def other_panel(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """A panel of more current by a share."""
    return Moved(with_other_panel(chosen, size))


def other_winding(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """A motor with more resistance [ohm]."""
    return with_other_motor(chosen, fountain, size, 0.0)


def other_no_load(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """A motor with more no-load current [A]."""
    return with_other_motor(chosen, fountain, 0.0, size)


def with_other_motor(chosen: Watched, fountain: Fountain, resistance: float, current: float) -> Moved:
    """A motor with so much more resistance [ohm] and no-load current [A]."""
    motor = fountain.pump.motor
    values = {
        "winding_resistance_ohm": motor.winding_resistance + resistance,
        "no_load_current_a": motor.no_load_current + current,
    }
    pump = pump_of(fountain.pump_input.model_copy(update=values), fountain.water_density, fountain.pump_pointer)
    return Moved(with_other_water(chosen, fountain, pump))


def other_drive(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """A motor of which such a share of the no-load current grows with speed; electronics that get so much more power."""
    if own_electronics(fountain.pump):
        return Moved(with_other_panel(chosen, size))
    pump = pump_of(fountain.pump_input, fountain.water_density, fountain.pump_pointer, size)
    return Moved(with_other_water(chosen, fountain, pump))


def other_pump_head(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """A pump of more head by a share, at every flow."""
    return Moved(with_other_water(chosen, fountain, curve=(1 + size, 1.0)))


def other_pump_flow(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """A pump of more flow by a share, at every head."""
    return Moved(with_other_water(chosen, fountain, curve=(1.0, 1 + size)))


def other_start(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """A motor that needs so much more current [A] to start; once it turns, nothing is different."""
    motor = fountain.pump.motor
    solved, current = chosen.solved, max(motor.starting_current + size, motor.no_load_current)
    starting = starting_grid(solved.supply, replace(motor, starting_current=current), chosen.offer)
    later = chosen.effective < np.interp(chosen.cell, CELL_TEMPERATURES, starting) if size > 0 else None
    return Moved(replace(solved, starting_irradiance=starting), stands=later)


def other_cut_off(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """Electronics that stop the pump at so many volts more; above them, nothing is different."""
    line = chosen.solved.line
    pump = replace(line.pump, lowest_voltage=line.pump.lowest_voltage + size)
    return Moved(replace(chosen.solved, line=replace(line, pump=pump)))


def other_controller(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """A controller that raises the panel's voltage so far, from 0, not at all, to 1, as far as its power allows."""
    solved, share = chosen.solved, min(max(size, 0.0), 1.0)
    if chosen.offer is None or solved.supply.steps_up:
        return Moved(solved)
    raised = joined(chosen, replace(solved.supply, steps_up=True), solved.line, chosen.offer)
    speed, starting = (
        (1 - share) * before + share * after
        for before, after in ((solved.speed, raised.speed), (solved.starting_irradiance, raised.starting_irradiance))
    )
    return Moved(replace(solved, speed=speed, starting_irradiance=starting))


def other_hose(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """A pipe of so many times more friction of a smooth one."""
    pipe = fountain.waterway.pipe
    waterway = replace(fountain.waterway, pipe=replace(pipe, ribs=pipe.ribs + size))
    rougher = replace(chosen, friction=chosen.friction * (1 + size / pipe.ribs))
    return Moved(with_other_water(rougher, fountain, waterway=waterway))


def other_nozzle(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """A nozzle so far toward one end of what its kind may be, -1 to 1; other outlets stay."""
    given, outlet = design.outlet, fountain.waterway.outlet
    if not (isinstance(given, NozzleOutlet) and isinstance(outlet, Nozzle)):
        return Moved(chosen.solved)
    discharge, velocity = nozzle_coefficients(
        given.nozzle_kind, given.discharge_coefficient, given.velocity_coefficient, toward=size
    )
    outlet = replace(outlet, discharge_coefficient=discharge, velocity_coefficient=velocity)
    return Moved(with_other_water(chosen, fountain, waterway=replace(fountain.waterway, outlet=outlet)))


def other_fittings(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """Fittings that lose more by a share."""
    pipe = fountain.waterway.pipe
    waterway = replace(fountain.waterway, pipe=replace(pipe, fitting_k=pipe.fitting_k * (1 + size)))
    return Moved(with_other_water(chosen, fountain, waterway=waterway))


def other_bore(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """An opening wider by so much [m]; a lip has none."""
    outlet: Outlet = fountain.waterway.outlet
    if isinstance(outlet, Nozzle):
        outlet = replace(outlet, bore=outlet.bore + size)
    elif isinstance(outlet, OpenPipe):
        outlet = replace(outlet, diameter=outlet.diameter + size)
    return Moved(with_other_water(chosen, fountain, waterway=replace(fountain.waterway, outlet=outlet)))


def other_jet(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """A formula of the jet that is off: in height from a nozzle, in the flow at a height from a pipe."""
    if isinstance(fountain.waterway.outlet, Nozzle):
        return Moved(chosen.solved, jet_seen=1 + size)
    return Moved(chosen.solved, flow_seen=1 + size)


Move = Callable[[Watched, Fountain, Design, float], Moved]
MOVES: dict[str, Move] = dict(
    zip(
        KEYS,
        (
            other_sun,
            other_clouds,
            other_dirt,
            other_panel,
            other_winding,
            other_no_load,
            other_drive,
            other_pump_head,
            other_pump_flow,
            other_start,
            other_cut_off,
            other_controller,
            other_hose,
            other_fittings,
            other_bore,
            other_nozzle,
            other_jet,
        ),
        strict=True,
    )
)
"""How each cause is moved, in its own unit."""
