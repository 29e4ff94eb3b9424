"""How each cause is moved: the match, the light and the outlet that a fountain has with one thing a little off."""

from collections.abc import Callable
from dataclasses import replace

from sizing.design.design import Design
from sizing.fountain.components import Fountain, pump_of
from sizing.hydraulic.outlet import Nozzle, OpenPipe, Outlet
from sizing.uncertainty.causes import KEYS
from sizing.uncertainty.perturbed import Moved, Watched, with_other_panel, with_other_water


def other_sun(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """More sun by a share; the cells warm with it."""
    return Moved(chosen.solved, 1 + size)


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


def other_pump_head(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """A pump of more head by a share, at every flow."""
    return Moved(with_other_water(chosen, fountain, curve=(1 + size, 1.0)))


def other_pump_flow(chosen: Watched, fountain: Fountain, design: Design, size: float) -> Moved:
    """A pump of more flow by a share, at every head."""
    return Moved(with_other_water(chosen, fountain, curve=(1.0, 1 + size)))


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
            other_dirt,
            other_panel,
            other_winding,
            other_no_load,
            other_pump_head,
            other_pump_flow,
            other_fittings,
            other_bore,
            other_jet,
        ),
        strict=True,
    )
)
"""How each cause is moved, in its own unit."""
