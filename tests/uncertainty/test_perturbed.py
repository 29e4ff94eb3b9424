"""One thing moved: the quick load line against the whole one, and every moved part against the part built anew."""

from dataclasses import replace

import numpy as np
import pytest

from sizing.electric.panel import current_at_voltage, fit_label
from sizing.electric.single_diode import at_conditions, of_more_current
from sizing.hydraulic.outlet import Nozzle
from sizing.hydraulic.pipes import pipe_loss
from sizing.hydraulic.pump import pump_head
from sizing.operation.load_line import load_line, speed_at, system_head
from sizing.uncertainty.perturbed import line_along, scaled_pump, speed_by_state
from tests.fountains import FOUNTAINS, Fountain


@pytest.mark.parametrize("fountain", FOUNTAINS.values(), ids=FOUNTAINS)
def test_speed_from_the_table_is_that_of_the_search(fountain: Fountain) -> None:
    """Down to a hundred-thousandth of the pump's largest flow, as with the thinnest nozzles."""
    pump = fountain.pump
    flow = pump.largest_flow * np.array([1e-5, 3e-4, 0.0073, 0.061, 0.31, 0.67, 0.93])
    head = np.array([0.21, 0.34, 0.43, 0.55, 0.61, 0.83, 1.07])
    found = speed_by_state(pump, flow, head)
    np.testing.assert_allclose(found, speed_at(pump, flow, head, 20.0), rtol=2e-4)
    np.testing.assert_allclose(pump_head(pump, flow, found), head, rtol=5e-4)


@pytest.mark.parametrize("fountain", FOUNTAINS.values(), ids=FOUNTAINS)
def test_the_quick_line_is_the_whole_line(fountain: Fountain) -> None:
    whole = load_line(fountain.pump, fountain.waterway, 1.3)
    flow = whole.flow[whole.flow > 0][::5]
    pipe = fountain.waterway.pipe
    quick = line_along(fountain.pump, fountain.waterway, flow, pipe_loss(replace(pipe, fitting_k=0.0), flow))
    wet = quick.flow > 0
    for name in ("speed", "current", "voltage"):
        np.testing.assert_allclose(getattr(quick, name)[wet], getattr(whole, name)[whole.flow > 0][::5], rtol=3e-4, err_msg=name)
    assert quick.lift_speed == whole.lift_speed


@pytest.mark.parametrize("fountain", FOUNTAINS.values(), ids=FOUNTAINS)
@pytest.mark.parametrize("curve", [(1.073, 1.0), (1.0, 0.911), (0.93, 1.09)])
def test_a_scaled_curve_is_the_pump_built_with_it(fountain: Fountain, curve: tuple[float, float]) -> None:
    """The same pump asked at another flow and head, against one whose nodes were scaled."""
    flow = fountain.pump.largest_flow * np.linspace(0.02, 0.7, 9)
    friction = pipe_loss(replace(fountain.waterway.pipe, fitting_k=0.0), flow)
    asked = line_along(fountain.pump, fountain.waterway, flow, friction, curve)
    built = line_along(scaled_pump(fountain.pump, *curve), fountain.waterway, flow, friction)
    for name in ("speed", "current", "voltage"):
        np.testing.assert_allclose(getattr(asked, name), getattr(built, name), rtol=1e-6, err_msg=name)
    one = scaled_pump(fountain.pump, *curve)
    np.testing.assert_allclose(pump_head(one, flow, 1.0), curve[0] * pump_head(fountain.pump, flow / curve[1], 1.0), rtol=1e-9)


def test_friction_at_hand_and_fittings_make_the_head_of_the_pipe() -> None:
    fountain = FOUNTAINS["bubbler"]
    flow = fountain.pump.largest_flow * np.linspace(0.02, 0.7, 9)
    friction = pipe_loss(replace(fountain.waterway.pipe, fitting_k=0.0), flow)
    line = line_along(fountain.pump, fountain.waterway, flow, friction)
    head = pump_head(fountain.pump, flow, line.speed[line.flow > 0])
    np.testing.assert_allclose(head, system_head(fountain.waterway, flow), rtol=1e-3)


def test_a_panel_of_more_current_gives_it_at_every_voltage() -> None:
    """Against the label with five per cent more current fitted anew."""
    label = (17.6, 1.14, 21.7, 1.22, 0.0005, -0.0033)
    plain, stronger = fit_label(*label), fit_label(17.6, 1.05 * 1.14, 21.7, 1.05 * 1.22, 0.0005, -0.0033)
    moved = of_more_current(plain, 1.05)
    volts = np.linspace(0, 20, 9)
    for sun, cell in ((317.0, 19.0), (911.0, 53.0)):
        found = [current_at_voltage(at_conditions(panel, sun, cell), volts) for panel in (moved, stronger, plain)]
        np.testing.assert_allclose(found[0], found[1], rtol=1e-6, atol=1e-9)
        np.testing.assert_allclose(found[0], 1.05 * np.asarray(found[2]), rtol=1e-6, atol=1e-9)


def test_a_thin_nozzle_has_a_line_too() -> None:
    fountain = FOUNTAINS["jet"]
    thin = replace(fountain.waterway, outlet=Nozzle(0.0005, 1, 0.3))
    whole = load_line(fountain.pump, thin, 1.2)
    flow = whole.flow[whole.flow > 0]
    quick = line_along(fountain.pump, thin, flow, pipe_loss(replace(thin.pipe, fitting_k=0.0), flow))
    np.testing.assert_allclose(quick.speed[quick.flow > 0], whole.speed[whole.flow > 0], rtol=3e-4)
