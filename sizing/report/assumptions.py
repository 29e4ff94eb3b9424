"""What the sizing assumed because the design was silent, and what every sizing of this kind assumes."""

from sizing.design.design import ControllerConnection, Design, NozzleOutlet, OpenPipeOutlet, SpillwayOutlet
from sizing.design.fields import Strict
from sizing.foundation.errors import Note
from sizing.foundation.formats import length, quantity
from sizing.foundation.tables import NOZZLE_KINDS, PIPE_KINDS
from sizing.foundation.units import MILLIMETRE
from sizing.fountain.components import Fountain, fitting_sum, pipe_kind_of, roughness_of
from sizing.hydraulic.outlet import Nozzle, jets
from sizing.sky.cold import MARGIN, ColdAir
from sizing.sky.weather import TRUE_SOLAR_TIME, Sky

A_KIND = {
    None: "a smooth cone",
    "not_known": "a smooth cone",
    "smooth_cone": "a smooth cone",
    "brass_jet": "a jet from a shop",
    "drilled_cap": "a hole drilled in a cap",
    "short_tube": "a straight tube",
}
"""Kinds of nozzle in a sentence; one that is not known counts as a smooth cone."""
SMALLEST_TESTED_BORE = 0.009
"""[m] The tests of jet heights used no smaller bore."""


def left_out(design: Design, fountain: Fountain) -> list[Note]:
    """Values that the design left to us, each with the value taken."""
    return [*of_the_light(design), *of_the_panel(design, fountain), *of_the_water(design), *of_the_outlet(design, fountain)]


def unless_given(model: Strict, field: str, code: str, detail: str, pointer: str) -> list[Note]:
    """One note if the design does not hold the field."""
    return [] if field in model.model_fields_set else [Note(code, "info", detail, f"{pointer}/{field}")]


def of_the_light(design: Design) -> list[Note]:
    """What was assumed about ground and dirt."""
    place, mounting = design.place, design.mounting
    ground = f"The ground throws back {place.albedo:g} of the light."
    dirt = f"Dirt on the panel takes {mounting.soiling_pct:g} % of the light all year."
    return [
        *unless_given(place, "albedo", "albedo_assumed", ground, "#/place"),
        *unless_given(mounting, "soiling_pct", "soiling_assumed", dirt, "#/mounting"),
    ]


def of_the_cold(cold: ColdAir) -> list[Note]:
    """The coldest air that cold voltages and frost are judged by, where nobody typed it."""
    if cold.basis == "typed":
        return []
    about, lowest = (quantity(round(air), "Cel") for air in (cold.usual, cold.lowest))
    start = "the coldest hour of the weather file" if cold.basis == "file" else "the mean of the coldest month"
    text = (
        f"The coldest air is {lowest}: the coldest night of ten years, estimated from {start} as about {about}, and "
        f"{quantity(MARGIN, 'K')} for the doubt. Cold voltages and frost are judged by it."
    )
    return [Note("coldest_air_assumed", "info", text, "#/place/coldest_air_c")]


def of_the_panel(design: Design, fountain: Fountain) -> list[Note]:
    """What was assumed about panel, cable and controller."""
    panel, cable, connection = fountain.panel_input, design.cable, design.connection
    notes: list[Note] = []
    for field, words in (
        ("isc_temperature_coefficient_pct_per_c", "short-circuit current"),
        ("voc_temperature_coefficient_pct_per_c", "open-circuit voltage"),
    ):
        share = getattr(panel, field)
        change = f"{'gains' if share > 0 else 'loses'} {abs(share):g} %"
        text = f"The panel's {words} {change} for each degree warmer, as usual for silicon."
        notes += unless_given(panel, field, "temperature_coefficient_assumed", text, fountain.panel_pointer)
    text = f"The cable's copper is at {cable.conductor_temperature_c:g} °C."
    notes += unless_given(cable, "conductor_temperature_c", "conductor_temperature_assumed", text, "#/cable")
    if isinstance(connection, ControllerConnection):
        text = f"The controller passes on {connection.efficiency_pct:g} % of the panel's power."
        notes += unless_given(connection, "efficiency_pct", "controller_efficiency_assumed", text, "#/connection")
        if connection.controller_kind in (None, "not_known"):
            text = "The controller only lowers the panel's voltage, as most do; it cannot raise it."
            notes.append(Note("controller_kind_assumed", "info", text, "#/connection/controller_kind"))
    return notes


def of_the_water(design: Design) -> list[Note]:
    """What was assumed about pipe and water."""
    warmth = f"The water is at {design.water_temperature_c:g} °C all year."
    return [
        *unless_given(design.pipe, "roughness_mm", "roughness_assumed", smoothness(design), "#/pipe"),
        *of_the_ribs(design),
        *unless_given(design, "water_temperature_c", "water_temperature_assumed", warmth, "#"),
    ]


def smoothness(design: Design) -> str:
    """How smooth the pipe was taken to be, and what it may be where nobody said."""
    kind = pipe_kind_of(design)
    like = "new galvanised steel" if kind == "galvanised_steel" else "new plastic"
    smooth = f"The pipe is as smooth as {like}, roughness {roughness_of(design) / MILLIMETRE:g} mm"
    ribs = f"; if it has rings inside, it loses about {PIPE_KINDS['ribbed_hose'].typical:g} times as much head"
    return f"{smooth}{ribs if kind == 'not_known' else ''}."


def of_the_ribs(design: Design) -> list[Note]:
    """How much more than a smooth pipe a ribbed hose was taken to lose."""
    ribs = PIPE_KINDS[pipe_kind_of(design)]
    if ribs.typical == 1:
        return []
    may = f"it may be {ribs.low:g} to {ribs.high:g} times"
    text = f"The ribbed hose loses {ribs.typical:g} times as much head as a smooth pipe; {may}."
    return [Note("ribs_assumed", "info", text, "#/pipe/kind")]


def of_the_outlet(design: Design, fountain: Fountain) -> list[Note]:
    """What was assumed at the outlet and in the fittings."""
    outlet = design.outlet
    notes: list[Note] = []
    if isinstance(outlet, NozzleOutlet):
        notes += of_the_nozzle(outlet, fountain)
    if isinstance(outlet, OpenPipeOutlet):
        text = "The height over an open pipe rests on tests with pipes of 50 mm and more, good to 10 to 15 % there."
        notes.append(Note("open_pipe_extrapolated", "info", text, "#/outlet"))
    if isinstance(outlet, SpillwayOutlet):
        text = "The spillway has a sharp edge; a thick lip needs about a quarter more depth over it."
        notes.append(Note("sharp_lip", "info", text, "#/outlet"))
    low, typical, high = fitting_sum(design)
    if high > low:
        text = f"Fittings together lose {typical:.3g} velocity heads; handbooks range from {low:.3g} to {high:.3g}."
        notes.append(Note("fitting_losses", "info", text, "#/pipe/fittings"))
    return notes


def of_the_nozzle(outlet: NozzleOutlet, fountain: Fountain) -> list[Note]:
    """What was assumed about a nozzle and its jet."""
    built = fountain.waterway.outlet
    notes: list[Note] = []
    if not isinstance(built, Nozzle):
        return notes
    if outlet.discharge_coefficient is None:
        passes = f"The nozzle passes {built.discharge_coefficient:.3g} of the ideal flow, as {A_KIND[outlet.nozzle_kind]} does"
        drilled, tube = (NOZZLE_KINDS[kind].typical[0] for kind in ("drilled_cap", "short_tube"))
        others = f"; a hole drilled in a cap passes {drilled:g} and a straight tube {tube:g}"
        text = f"{passes}{others if outlet.nozzle_kind in (None, 'not_known') else ''}."
        notes.append(Note("discharge_coefficient_assumed", "info", text, "#/outlet/discharge_coefficient"))
    if outlet.velocity_coefficient is None:
        text = f"The jet leaves at {built.velocity_coefficient:.3g} of the ideal speed."
        notes.append(Note("velocity_coefficient_assumed", "info", text, "#/outlet/velocity_coefficient"))
    if built.bore < SMALLEST_TESTED_BORE:
        text = (
            f"Jet heights rest on tests with bores of 9 mm and more; for {outlet.bore_mm:g} mm they are an extrapolation, "
            "and real small jets in wind stay lower."
        )
        notes.append(Note("jet_extrapolated", "info", text, "#/outlet/bore_mm"))
    return notes


def of_the_crown(design: Design, fountain: Fountain, flow: float) -> list[Note]:
    """How a ring or row of jets was taken to share its water, with the heights of its jets at a flow [m3/s]."""
    given, built = design.outlet, fountain.waterway.outlet
    if not isinstance(given, NozzleOutlet) or given.feed is None or not isinstance(built, Nozzle):
        return []
    text = (
        f"The jet's height is that of the lowest of the {built.count} jets; the {given.feed.kind} is level, is as smooth as the "
        "pipe, and has equal holes."
    )
    if flow > 0:
        lowest, mean, highest = (length(float(height)) for height in jets(built, flow))
        text += f" At the year's largest flow the lowest rises {lowest}, the mean jet {mean} and the highest {highest}."
    return [Note("crown_lowest", "info", text, "#/outlet/feed")]


def hours_sentence(sky: Sky) -> str:
    """Which clock the hours follow, in one sentence."""
    if sky.hour_basis == TRUE_SOLAR_TIME:
        return "Hours are true solar time: at 12:00 the sun is at its highest."
    return f"Hours are {sky.hour_basis}."


def always(sky: Sky, design: Design) -> list[Note]:
    """What every sizing assumes."""
    from_file = sky.kind == "weather_file"
    wind = "Wind over the panel comes from the weather file." if from_file else "Wind over the panel is 1 m/s all year."
    sheet = isinstance(design.outlet, SpillwayOutlet)
    air = "No wind blows the falling sheet aside." if sheet else "Jets rise in still air; wind bends and breaks them."
    shadow = "The whole panel is lit alike; a shadow on part of it costs more than its area."
    return [
        Note("hours", "info", hours_sentence(sky), "#/place/time_zone"),
        Note("wind", "info", wind, "#/sky"),
        Note("still_air", "info", air, "#/outlet"),
        Note("even_light", "info", shadow, "#/mounting"),
        Note("no_snow", "info", "No snow lies on the panel.", "#/mounting"),
        Note("new_parts", "info", "Pump, panel and pipe are new and clean.", "#/pumps"),
    ]
