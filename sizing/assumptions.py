"""What the sizing assumed because the design was silent, and what every sizing of this kind assumes."""

from sizing.assembly import Fountain, fitting_sum
from sizing.design import ControllerConnection, Design, NozzleOutlet, OpenPipeOutlet, SpillwayOutlet
from sizing.errors import Note
from sizing.outlet import Nozzle
from sizing.weather import Sky


def left_out(design: Design, fountain: Fountain) -> list[Note]:
    """Values that the design left to us, each with the value taken."""
    notes: list[Note] = []

    def take(given: set[str], field: str, code: str, detail: str, pointer: str) -> None:
        if field not in given:
            notes.append(Note(code, "info", detail, f"{pointer}/{field}"))

    place, mounting, cable, pipe = design.place, design.mounting, design.cable, design.pipe
    take(place.model_fields_set, "albedo", "albedo_assumed", f"The ground throws back {place.albedo:g} of the light.", "#/place")
    dirt = f"Dirt on the panel takes {mounting.soiling_pct:g} % of the light all year."
    take(mounting.model_fields_set, "soiling_pct", "soiling_assumed", dirt, "#/mounting")
    panel = fountain.panel_input
    for field, word, unit in (
        (
            "isc_temperature_coefficient_pct_per_c",
            "short-circuit current changes by",
            panel.isc_temperature_coefficient_pct_per_c,
        ),
        ("voc_temperature_coefficient_pct_per_c", "open-circuit voltage changes by", panel.voc_temperature_coefficient_pct_per_c),
    ):
        text = f"The panel's {word} {unit:+g} % for each degree warmer, as usual for silicon."
        take(panel.model_fields_set, field, "temperature_coefficient_assumed", text, fountain.panel_pointer)
    text = f"The cable's copper is at {cable.conductor_temperature_c:g} °C."
    take(cable.model_fields_set, "conductor_temperature_c", "conductor_temperature_assumed", text, "#/cable")
    text = f"The pipe is as smooth as new plastic, roughness {pipe.roughness_mm:g} mm."
    take(pipe.model_fields_set, "roughness_mm", "roughness_assumed", text, "#/pipe")
    text = f"The water is at {design.water_temperature_c:g} °C all year."
    take(design.model_fields_set, "water_temperature_c", "water_temperature_assumed", text, "#")
    connection = design.connection
    if isinstance(connection, ControllerConnection):
        text = f"The controller passes on {connection.efficiency_pct:g} % of the panel's power."
        take(connection.model_fields_set, "efficiency_pct", "controller_efficiency_assumed", text, "#/connection")
    notes += of_the_outlet(design, fountain)
    return notes


def of_the_outlet(design: Design, fountain: Fountain) -> list[Note]:
    """What was assumed at the outlet and in the fittings."""
    outlet, built = design.outlet, fountain.waterway.outlet
    notes: list[Note] = []
    if isinstance(outlet, NozzleOutlet) and isinstance(built, Nozzle):
        if outlet.discharge_coefficient is None:
            text = f"The nozzle passes {built.discharge_coefficient:.3g} of the ideal flow, as a smooth cone does."
            notes.append(Note("discharge_coefficient_assumed", "info", text, "#/outlet/discharge_coefficient"))
        if outlet.velocity_coefficient is None:
            text = f"The jet leaves at {built.velocity_coefficient:.3g} of the ideal speed."
            notes.append(Note("velocity_coefficient_assumed", "info", text, "#/outlet/velocity_coefficient"))
        if built.bore < 0.009:
            text = (
                f"Jet heights rest on tests with bores of 9 mm and more; for {outlet.bore_mm:g} mm they are an extrapolation, "
                "and real small jets in wind stay lower."
            )
            notes.append(Note("jet_extrapolated", "info", text, "#/outlet/bore_mm"))
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


def always(sky: Sky, design: Design) -> list[Note]:
    """What every sizing assumes."""
    hours = (
        "Hours are true solar time: at 12:00 the sun is at its highest."
        if sky.hour_basis == "true solar time"
        else (f"Hours are {sky.hour_basis}.")
    )
    return [
        Note("hours", "info", hours, "#/sky"),
        Note("wind", "info", "Wind over the panel is 1 m/s unless a weather file says otherwise.", "#/sky"),
        Note("still_air", "info", "Jets rise in still air; wind bends and breaks them.", "#/outlet"),
        Note(
            "even_light", "info", "The whole panel is lit alike; a shadow on part of it costs more than its area.", "#/mounting"
        ),
        Note("no_snow", "info", "No snow lies on the panel.", "#/mounting"),
        Note("new_parts", "info", "Pump, panel and pipe are new and clean.", "#/pumps"),
    ]
