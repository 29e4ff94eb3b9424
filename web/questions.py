"""The questions of the form in the order of the page, which is the order in which the sun and the water travel."""

from collections.abc import Iterable, Iterator

from web.fields import Choice, Field, Group, Way, ask
from web.typed_sky import UNIT, UNIT_WORDS

PLACE = Group(
    "place",
    "Place",
    "Where the garden is. The sun of each month is looked up from the place.",
    (
        ask("title", label="name of this design", long=True),
        ask("place", "name", label="place, as you call it", long=True),
        ask("place", "latitude_deg", hint="North is positive; 46° 3' N will do, or both, like 46.05, 14.51"),
        ask("place", "longitude_deg", hint="East is positive; empty if both stand beside it"),
    ),
    (
        ask("place", "elevation_m", label="elevation above the sea", hint="Leave it empty to have it looked up"),
        ask("place", "albedo", hint="Grass and paving reflect about 0.2 of the light"),
        ask("place", "time_zone", hint="Like Europe/Ljubljana; left empty, hours go by the sun", long=True),
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
            (
                Way("built_in", "Built-in table for the place"),
                Way(
                    "monthly",
                    "Twelve values of your own",
                    (
                        Choice(UNIT, "Unit of the sun's values", tuple(Way(*pair) for pair in UNIT_WORDS.items()), listed=True),
                        ask("sky", "monthly", "origin", hint="Station, years, web page: so that others find it", long=True),
                    ),
                    "months",
                ),
            ),
        ),
    ),
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
        ask("mounting", "compass_deg", label="or its compass reading", hint="In place of the direction; keep iron away"),
        ask(
            "place", "compass_date", label="day of the compass readings", hint="North wanders, so the day counts: like 2026-05-31"
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
            (Way("submersible", "In the water"), Way("surface", "Beside the water")),
        ),
        Choice(
            "pumps.0.known",
            "What you know of the pump",
            (
                Way("points", "Points of its curve", table="points"),
                Way(
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
)
WIRE = Group(
    "cable",
    "Wire",
    "The cable from the panel to the pump, and whether something stands between them.",
    (
        ask("cable", "length_m", hint="From panel to pump along the ground, counted once"),
        ask("cable", "area_mm2", label="area of one conductor", hint="It is printed on the cable, like 2 × 1.5"),
        Choice(
            "connection.kind",
            "How panel and pump are joined",
            (
                Way("direct", "Straight to each other"),
                Way(
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
NOZZLE = (
    ask("outlet", "nozzle", "bore_mm", hint="Width of one opening"),
    ask("outlet", "nozzle", "count", hint="How many openings"),
)
OPEN_PIPE = (
    ask("outlet", "open_pipe", "inside_diameter_mm", label="inside diameter at its end", hint="Empty if it is the pipe's"),
)
SPILLWAY = (
    ask("outlet", "spillway", "width_m", hint="Along the lip"),
    ask("outlet", "spillway", "end_contractions", hint="0 if the channel is as wide as the lip, 2 if the lip stands free"),
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
            (
                Way("nozzle", "Nozzle with one or more jets", NOZZLE),
                Way("open_pipe", "Open pipe that bubbles", OPEN_PIPE),
                Way("spillway", "Spillway, a sheet over a lip", SPILLWAY),
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


def every_item(items: Iterable[Field | Choice]) -> Iterator[Field | Choice]:
    """Questions one after the other, each with those that its ways open."""
    for item in items:
        yield item
        for way in item.ways if isinstance(item, Choice) else ():
            yield from every_item(way.fields)


ITEMS = [item for group in GROUPS for item in every_item((*group.fields, *group.more))]
FIELDS = {item.name: item for item in ITEMS if isinstance(item, Field)}
CHOICES = {item.name: item for item in ITEMS if isinstance(item, Choice)}
