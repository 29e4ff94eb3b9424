"""The water half of a moment's working: pipe, fittings, outlet and jet."""

from sizing.design.design import Design
from sizing.foundation.tables import NOZZLE_KINDS, PIPE_KINDS
from sizing.foundation.units import LITRE_PER_MINUTE, MILLIMETRE
from sizing.foundation.working import Worked, assumed, by_method, formula, given, solved, work
from sizing.fountain.components import Fountain, pipe_kind_of
from sizing.hydraulic.friction import LAMINAR_LIMIT, friction_factor, laminar_friction_factor
from sizing.hydraulic.manifold import shared
from sizing.hydraulic.outlet import (
    JET_LIMIT,
    OVERFLOW_LIMIT,
    Nozzle,
    OpenPipe,
    jet_height,
    nozzle_head,
    nozzle_jet_height,
    nozzle_velocity_head,
    open_pipe_head,
    overflow_height,
    thrown_height,
)
from sizing.hydraulic.pipes import fitting_loss, friction_loss, reynolds_number, ribbed_factor, velocity
from sizing.hydraulic.spillway import sheet_thickness, spillway_head
from sizing.hydraulic.water import density, kinematic_viscosity, viscosity
from sizing.operation.load_line import total_head
from sizing.report.moment_power import water_temperature

Roots = tuple[Worked, ...]


@formula("60000 * flow", unit="l/min", source="hydrostatics")
def flow_in_litres(flow: float) -> float:
    """Flow in litres per minute, from cubic metres per second.

    Examples
    --------
    >>> flow_in_litres(0.0001)
    6.0
    """
    return flow / LITRE_PER_MINUTE


def pipe_station(design: Design, fountain: Fountain, pump_head: Worked, flow: Worked) -> Roots:
    """Total head first, then the flow, the loss in the pipe, and that the pump gives what the pipe asks."""
    pipe = fountain.waterway.pipe
    bore = given("diameter", design.pipe.inside_diameter_mm * MILLIMETRE, "m")
    speed_of_water = work(velocity, flow=flow, diameter=bore)
    factor = friction(design, fountain, bore, speed_of_water)
    straight = work(
        friction_loss,
        friction_factor=factor,
        length=given("pipe_length", design.pipe.length_m, "m"),
        diameter=bore,
        velocity=speed_of_water,
    )
    fittings = by_method(
        "k", pipe.fitting_k, "1", "epanet_fittings", "Sum over the fittings: count times the table's value, or your own."
    )
    bends = work(fitting_loss, k=fittings, velocity=speed_of_water)
    both = work(pipe_loss_sum, friction_loss=straight, fitting_loss=bends)
    lift = given("lift", fountain.waterway.outlet.height, "m")
    head = work(total_head, lift=lift, pipe_loss=both, outlet_head=outlet_head_worked(design, fountain, flow))
    agreement = solved("pump_and_pipe_agree", head.value, "m", "hydrostatics", pump_head, head)
    return head, work(flow_in_litres, flow=flow), both, agreement


@formula("friction_loss + fitting_loss", unit="m", source="darcy_weisbach")
def pipe_loss_sum(friction_loss: float, fitting_loss: float) -> float:
    """Head lost between pump and outlet [m].

    Examples
    --------
    >>> pipe_loss_sum(0.21, 0.04)
    0.25
    """
    return friction_loss + fitting_loss


def friction(design: Design, fountain: Fountain, bore: Worked, speed_of_water: Worked) -> Worked:
    """Friction factor, that of a smooth pipe times what ribs inside add."""
    smooth, ribs = smooth_friction(design, fountain, bore, speed_of_water), fountain.waterway.pipe.ribs
    if ribs == 1:
        return smooth
    return work(ribbed_factor, smooth_factor=smooth, ribs=assumed("ribs", ribs, "1", PIPE_KINDS[pipe_kind_of(design)].source))


def smooth_friction(design: Design, fountain: Fountain, bore: Worked, speed_of_water: Worked) -> Worked:
    """Friction factor without ribs, with the Reynolds number that decides which law holds."""
    temperature = water_temperature(design)
    viscous = work(
        kinematic_viscosity,
        viscosity=work(viscosity, temperature=temperature),
        density=work(density, temperature=temperature),
    )
    reynolds = work(reynolds_number, velocity=speed_of_water, diameter=bore, kinematic_viscosity=viscous)
    if reynolds.value <= LAMINAR_LIMIT:
        return work(laminar_friction_factor, reynolds=reynolds)
    value = fountain.waterway.pipe.roughness
    known = "roughness_mm" in design.pipe.model_fields_set
    roughness = given("roughness", value, "m") if known else assumed("roughness", value, "m", "epanet_roughness")
    return by_method(
        "friction_factor",
        float(friction_factor(reynolds.value, value / bore.value)),
        "1",
        "clamond_2009",
        "Solution of the Colebrook equation; between Reynolds numbers 2000 and 4000 a smooth bridge from laminar flow.",
        reynolds=reynolds,
        roughness=roughness,
        diameter=bore,
    )


def outlet_head_worked(design: Design, fountain: Fountain, flow: Worked) -> Worked:
    """Head that the outlet takes, its exit counted once."""
    outlet = fountain.waterway.outlet
    if isinstance(outlet, Nozzle):
        return nozzle_head_worked(design, outlet, flow)
    if isinstance(outlet, OpenPipe):
        return work(open_pipe_head, flow=flow, diameter=given("outlet_diameter", outlet.diameter, "m"))
    return by_method(
        "spillway_head",
        float(spillway_head(flow.value, outlet.width, outlet.end_contractions)),
        "m",
        "francis_weir",
        "Francis formula solved for the head over the lip.",
        flow=flow,
        width=given("spillway_width", outlet.width, "m"),
        end_contractions=given("end_contractions", outlet.end_contractions, "1"),
    )


def nozzle_head_worked(design: Design, outlet: Nozzle, flow: Worked) -> Worked:
    """Head at the inlet of the nozzles, or at the feed of the ring or row that they stand on."""
    inputs = nozzle_inputs(design, outlet)
    if outlet.manifold is None:
        return work(nozzle_head, flow=flow, **inputs)
    how = "Hole after hole from the far end of the ring or row: each passes the root of the head beside it."
    found = shared(outlet.manifold, outlet.area, outlet.discharge_coefficient, flow.value)
    width = given("feed_diameter", outlet.manifold.diameter, "m")
    return by_method("feed_head", float(found.feed), "m", "rawn_1961", how, flow=flow, feed_diameter=width, **inputs)


def lowest_head_worked(design: Design, outlet: Nozzle, flow: Worked) -> Worked:
    """Head beside the hole of a ring or row that has least of it."""
    if outlet.manifold is None:
        return work(nozzle_head, flow=flow, **nozzle_inputs(design, outlet))
    found = shared(outlet.manifold, outlet.area, outlet.discharge_coefficient, flow.value)
    how = "The head of the feed less friction along the ring or row and the speed of the water that passes by, at its worst hole."
    feed = nozzle_head_worked(design, outlet, flow)
    return by_method("lowest_head", float(found.lowest), "m", "rawn_1961", how, feed_head=feed)


def nozzle_inputs(design: Design, outlet: Nozzle) -> dict[str, Worked]:
    """Bore, count and discharge coefficient of the nozzle."""
    return {
        "bore": given("bore", outlet.bore, "m"),
        "count": given("count", outlet.count, "1"),
        "discharge_coefficient": coefficient(design, "discharge_coefficient", outlet.discharge_coefficient),
    }


def coefficient(design: Design, name: str, share: float) -> Worked:
    """A coefficient of the nozzle: typed, published for its kind, or assumed where the kind is not known."""
    if getattr(design.outlet, name, None) is not None:
        return given(name, share, "1")
    kind = getattr(design.outlet, "nozzle_kind", None)
    if kind in (None, "not_known"):
        return assumed(name, share, "1", "unwin_1911")
    return Worked(name, share, "1", "published", NOZZLE_KINDS[kind].source)


def jet_station(design: Design, fountain: Fountain, flow: Worked) -> Roots:
    """How high the water plays, or how thick the sheet over a spillway is."""
    outlet = fountain.waterway.outlet
    litres = work(flow_in_litres, flow=flow)
    if isinstance(outlet, Nozzle):
        head = lowest_head_worked(design, outlet, flow)
        speed = coefficient(design, "velocity_coefficient", outlet.velocity_coefficient)
        rise = work(nozzle_velocity_head, nozzle_head=head, velocity_coefficient=speed)
        return work(nozzle_jet_height, velocity_head=rise, bore=given("bore", outlet.bore, "m")), rise, litres
    if isinstance(outlet, OpenPipe):
        return open_pipe_height(outlet, flow), litres
    width = given("spillway_width", outlet.width, "m")
    return litres, work(sheet_thickness, flow=flow, width=width)


def open_pipe_height(outlet: OpenPipe, flow: Worked) -> Worked:
    """Height over an open pipe by the law that holds at this flow."""
    height = float(jet_height(outlet, flow.value))
    diameter = given("outlet_diameter", outlet.diameter, "m")
    if height <= OVERFLOW_LIMIT * outlet.diameter:
        return work(overflow_height, flow=flow, diameter=diameter)
    if height >= JET_LIMIT * outlet.diameter:
        return work(thrown_height, flow=flow, diameter=diameter)
    method = "Between the law of the spilling pipe and that of the jet, on a smooth bridge."
    return by_method("open_pipe_jet_height", height, "m", "usbr_pipe", method, flow=flow, diameter=diameter)
