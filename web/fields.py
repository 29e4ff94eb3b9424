"""The fields of the form, made from the models of the design file: label, unit and limits stand there once.

A field is named as its place in the design file is pointed at, with dots: ``#/pipe/length_m`` is
``pipe.length_m``. So a message about a pointer finds its field, and an address can be read by people.
"""

from dataclasses import dataclass, field

from sizing.mistakes import locate
from sizing.words import unit

UNIT_WORDS = {
    "m": "in metres",
    "mm": "in millimetres",
    "mm2": "in square millimetres",
    "deg": "in degrees",
    "Cel": "in °C",
    "%": "in per cent",
    "%/K": "in % per °C",
    "V": "in volts",
    "A": "in amperes",
    "Ohm": "in ohms",
    "L/min": "in litres a minute",
    "kWh/m2/d": "in kWh/m² a day",
}
MONTH_COUNT, SKYLINE_ROWS, POINT_ROWS = 12, 8, 6
FITTINGS = (
    ("entrance", "Open pipe end or strainer at the pump"),
    ("elbow_90", "Right-angle bend"),
    ("elbow_45", "Half bend (45°)"),
    ("tee_run", "Tee, water straight through"),
    ("tee_branch", "Tee, water turning off"),
    ("check_valve", "Non-return valve"),
    ("ball_valve", "Ball valve, open"),
    ("gate_valve", "Gate valve, open"),
    ("hose_barb", "Hose barb"),
)


@dataclass(frozen=True)
class Field:
    """One question: name in the address, label with its unit, sign behind the box, hint, kind of keyboard."""

    name: str
    label: str
    suffix: str = ""
    hint: str = ""
    keyboard: str = ""
    long: bool = False


@dataclass(frozen=True)
class Choice:
    """A question answered by one of a few ways, each with the fields it opens."""

    name: str
    question: str
    hint: str
    ways: tuple[tuple[str, str, tuple[Field, ...]], ...]


@dataclass(frozen=True)
class Group:
    """A heading with its questions; ``more`` are those that most people can skip."""

    key: str
    title: str
    lead: str
    fields: tuple[Field | Choice, ...]
    more: tuple[Field | Choice, ...] = ()
    tables: tuple[str, ...] = field(default=())


def ask(*path: str | int, hint: str = "", label: str = "", long: bool = False) -> Field:
    """Make the field of a place in the design; strings that name a kind choose a model and are no part of the name."""
    spot = locate(path)
    pointer, words, info = spot.pointer, spot.label, spot.field
    extra = info.json_schema_extra if info is not None and isinstance(info.json_schema_extra, dict) else {}
    code = str(extra.get("unit", ""))
    shown = label or str(extra.get("label", words))
    tail = UNIT_WORDS.get(code, "")
    name = pointer.removeprefix("#/").replace("/", ".")
    whole = info is not None and info.annotation is int
    low = next((part.ge for part in (info.metadata if info is not None else ()) if hasattr(part, "ge")), None)
    keyboard = "numeric" if whole else "decimal" if code and low is not None and low >= 0 else ""
    text = shown[0].upper() + shown[1:] + (f", {tail}" if tail else "")
    return Field(name, text, unit(code) if code else "", hint, keyboard, long)


PLACE = Group(
    "place",
    "Place",
    "Where the garden is. The sun of each month is looked up from the place.",
    (
        ask("title", label="name of this design", long=True),
        ask("place", "name", label="place, as you call it", long=True),
        ask("place", "latitude_deg", hint="North is positive, south negative"),
        ask("place", "longitude_deg", hint="East is positive, west negative"),
    ),
    (
        ask("place", "elevation_m", label="elevation above the sea", hint="Leave it empty to have it looked up"),
        ask("place", "albedo", hint="Grass and paving reflect about 0.2 of the light"),
        ask("place", "time_zone", hint="Kept with the design, like Europe/Ljubljana; hours here are solar time"),
        ask("note", label="note", hint="Whatever should stay with this design", long=True),
    ),
    ("skyline",),
)
SKY = Group(
    "sky",
    "Sun",
    "Twelve monthly values from your local weather service are worth more than any refinement of the built-in table.",
    (
        Choice(
            "sky.kind",
            "Where the sun comes from",
            "",
            (("built_in", "Built-in table for the place", ()), ("monthly", "Twelve values of your own, below", ())),
        ),
    ),
    (),
    ("months",),
)
PANEL = Group(
    "panels.0",
    "Panel",
    "Five numbers from the label on its back, and where it stands.",
    (
        ask("panels", 0, "name", long=True),
        ask("panels", 0, "vmp_v", hint="Vmp or Umpp on the label"),
        ask("panels", 0, "imp_a", hint="Imp or Impp on the label"),
        ask("panels", 0, "voc_v", hint="Voc or Uoc on the label"),
        ask("panels", 0, "isc_a", hint="Isc on the label"),
        ask("panels", 0, "in_series", hint="Joined plus to minus: the volts add up"),
        ask("panels", 0, "in_parallel", hint="Joined plus to plus: the amperes add up"),
        ask("mounting", "tilt_deg", hint="0 lies flat, 90 stands upright"),
        ask(
            "mounting",
            "azimuth_deg",
            label="direction the panel faces",
            hint="Clockwise from true north: 90 east, 180 south, 270 west",
        ),
    ),
    (
        ask("mounting", "soiling_pct", label="light lost to dirt", hint="A panel washed now and then loses 1 to 5 %"),
        ask("panels", 0, "isc_temperature_coefficient_pct_per_c", hint="About 0.05 for silicon"),
        ask("panels", 0, "voc_temperature_coefficient_pct_per_c", hint="About -0.33 for silicon"),
    ),
)
PUMP = Group(
    "pumps.0",
    "Pump",
    "Points of its curve if you have them (maker's sheet or your own bucket and stopwatch), else what the box says.",
    (
        ask("pumps", 0, "name", long=True),
        ask("pumps", 0, "rated_voltage_v", hint="The volts at which the points or the box values hold"),
        ask("pumps", 0, "lowest_voltage_v", hint="Below it the pump's electronics switch off; 0 if it has none"),
        ask("pumps", 0, "highest_voltage_v", hint="Leave it empty if the label does not say"),
        Choice(
            "pumps.0.position",
            "Where the pump stands",
            "",
            (("submersible", "In the water", ()), ("surface", "Beside the water", ())),
        ),
        Choice(
            "pumps.0.known",
            "What you know of the pump",
            "",
            (
                ("points", "Points of its curve, in the table below", ()),
                (
                    "box",
                    "Only what its box says",
                    (
                        ask("pumps", 0, "max_head_m", hint="The height at which no water comes any more"),
                        ask("pumps", 0, "max_flow_l_per_min", hint="Litres an hour over 60"),
                        ask("pumps", 0, "rated_current_a", hint="Watts over volts"),
                    ),
                ),
            ),
        ),
    ),
    (
        ask("pumps", 0, "winding_resistance_ohm", hint="Leave it empty if not measured"),
        ask("pumps", 0, "no_load_current_a", hint="Leave it empty if not measured"),
        ask("pumps", 0, "starting_current_a", hint="Leave it empty if not measured"),
    ),
    ("points",),
)
WIRE = Group(
    "cable",
    "Wire",
    "The cable from the panel to the pump, and whether something stands between them.",
    (
        ask("cable", "length_m", hint="From panel to pump along the ground, counted once"),
        ask("cable", "area_mm2", label="area of one conductor", hint="It is printed on the cable, like 2 x 1.5"),
        Choice(
            "connection.kind",
            "How panel and pump are joined",
            "",
            (
                ("direct", "Straight to each other", ()),
                (
                    "controller",
                    "Through a controller that tracks maximum power (MPPT)",
                    (ask("connection", "controller", "efficiency_pct", hint="Good ones pass on 90 to 96 %"),),
                ),
            ),
        ),
    ),
    (ask("cable", "conductor_temperature_c", hint="Copper in summer sun has about 40 °C"),),
)
PIPE = Group(
    "pipe",
    "Pipe",
    "From the pump to the outlet.",
    (
        ask("pipe", "length_m", hint="Measure along the pipe, not straight through the air"),
        ask("pipe", "inside_diameter_mm", hint="The bore, not the outside"),
    ),
    (
        ask("pipe", "roughness_mm", hint="0.0015 for new plastic, 0.15 for galvanised steel"),
        ask("water_temperature_c", hint="15 on a usual day"),
    ),
    ("fittings",),
)
OUTLET = Group(
    "outlet",
    "Fountain",
    "Where the water comes out.",
    (
        ask("outlet", "nozzle", "height_above_water_m", hint="From the water level up to the opening or the lip"),
        Choice(
            "outlet.kind",
            "What the water plays from",
            "",
            (
                (
                    "nozzle",
                    "Nozzle with one or more jets",
                    (
                        ask("outlet", "nozzle", "bore_mm", hint="Width of one opening"),
                        ask("outlet", "nozzle", "count", hint="How many openings"),
                    ),
                ),
                (
                    "open_pipe",
                    "Open pipe that bubbles",
                    (
                        ask(
                            "outlet",
                            "open_pipe",
                            "inside_diameter_mm",
                            label="inside diameter at its end",
                            hint="Empty if it is the pipe's",
                        ),
                    ),
                ),
                (
                    "spillway",
                    "Spillway, a sheet over a lip",
                    (
                        ask("outlet", "spillway", "width_m", hint="Along the lip"),
                        ask(
                            "outlet",
                            "spillway",
                            "end_contractions",
                            hint="0 if the channel is as wide as the lip, 2 if the lip stands free",
                        ),
                    ),
                ),
            ),
        ),
    ),
    (
        ask(
            "outlet", "nozzle", "discharge_coefficient", label="nozzle discharge coefficient", hint="Leave it empty if not known"
        ),
        ask("outlet", "nozzle", "velocity_coefficient", label="nozzle velocity coefficient", hint="Leave it empty if not known"),
    ),
)
GROUPS = (PLACE, SKY, PANEL, PUMP, WIRE, PIPE, OUTLET)


def flat(group: Group) -> list[Field]:
    """All plain fields of a group, those inside choices too."""
    found: list[Field] = []
    for item in (*group.fields, *group.more):
        if isinstance(item, Field):
            found.append(item)
        else:
            for _, _, inner in item.ways:
                found += inner
    return found


SUFFIXES = {field.name: field.suffix for group in GROUPS for field in flat(group)} | {
    "flow_l_per_min": "L/min",
    "head_m": "m",
    "current_a": "A",
    "azimuth_deg": "°",
    "altitude_deg": "°",
}


def suffix_of(name: str) -> str:
    """Unit sign of a field, or of a column where the field is a cell of a table."""
    return SUFFIXES.get(name, SUFFIXES.get(name.rsplit(".", 1)[-1], ""))
