"""The questions of the form in the order of the page, which is the order in which the sun and the water travel."""

from collections.abc import Iterator, Mapping

from sizing.design import MOST_MORE_WINDOWS
from sizing.foundation import MONTHS
from sizing.fountain import CONTROLLER_NAMES
from sizing.hydraulic import NOZZLE_NAMES, PIPE_NAMES
from sizing.report import MONTH_IDS
from web.forms.fields import Checks, Choice, Field, Group, Series, Way, ask, every_item
from web.forms.panel_and_pump import PANELS, PUMPS, price_of
from web.forms.several import count
from web.forms.typed_sky import UNIT, UNIT_WORDS


def not_said_or(names: Mapping[str, str], counted: str) -> tuple[Way, ...]:
    """The kinds of a thing as ways to answer, after what silence is counted as."""
    return Way("", f"Not said: counted as {counted}"), *(Way(*pair) for pair in names.items())


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
        ask("place", "coldest_air_c", hint="Left empty, the coldest night of ten years is estimated"),
        ask("place", "time_zone", hint="Like Europe/Ljubljana; left empty, hours go by the sun", long=True),
        ask("note", label="note", hint="Whatever should stay with this design", long=True),
    ),
    ("obstacles", "skyline"),
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
MOUNTING = Group(
    "mounting",
    "Where the panel stands",
    "How steep it is and which way it faces.",
    (
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
    (ask("mounting", "soiling_pct", label="light lost to dirt", hint="A panel washed now and then loses 1 to 5 %"),),
    about="where it stands",
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
                    (
                        Choice(
                            "connection.controller_kind",
                            "What the controller can do",
                            not_said_or(CONTROLLER_NAMES, "step-down"),
                            listed=True,
                        ),
                        ask("connection", "controller", "efficiency_pct", hint="Good ones pass on 90 to 96 %"),
                    ),
                ),
            ),
        ),
    ),
    (
        ask("cable", "conductor_temperature_c", hint="Copper in summer sun has about 40 °C"),
        *price_of("connection", "controller", whose="the controller"),
    ),
)
PIPE = Group(
    "pipe",
    "Pipe",
    "From the pump to the outlet.",
    (
        ask("pipe", "length_m", hint="Measure along the pipe, not straight through the air"),
        ask("pipe", "inside_diameter_mm", hint="The bore, not the outside"),
        Choice("pipe.kind", "What the pipe is like inside", not_said_or(PIPE_NAMES, "smooth"), listed=True),
    ),
    (
        ask("pipe", "roughness_mm", hint="Leave it empty to take that of the kind of pipe"),
        ask("water_temperature_c", hint="15 on a usual day"),
    ),
    ("fittings",),
)
FEEDS = (
    Way("", "One body, or a single jet"),
    Way("ring", "A closed ring of pipe with holes"),
    Way("row", "A straight pipe with holes, closed at its end"),
)
NOZZLE = (
    ask("outlet", "nozzle", "bore_mm", hint="Width of one opening"),
    ask("outlet", "nozzle", "count", hint="How many openings"),
    Choice("outlet.feed.kind", "How several jets are fed", FEEDS, listed=True),
    ask("outlet", "nozzle", "feed", "size_m", label="ring across, or row along", hint="Empty without a ring or row"),
    ask("outlet", "nozzle", "feed", "inside_diameter_mm", label="inside diameter of ring or row", hint="Empty without one"),
    Choice("outlet.nozzle_kind", "What the opening is like", not_said_or(NOZZLE_NAMES, "a smooth cone"), listed=True),
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
BASIN = Group(
    "basin",
    "Basin (may stay empty)",
    "What the water falls back into. Left empty, a size is proposed from the height of the jet.",
    (
        ask("basin", "diameter_m", label="diameter, if it is round", hint="Of the water, not of the rim"),
        ask("basin", "length_m", label="or length", hint="And width, if it is rectangular"),
        ask("basin", "width_m", label="and width"),
        ask("basin", "depth_m", hint="From the water down to the bottom"),
        Choice(
            "basin.build",
            "Kind of basin",
            (
                Way("", "Not said: counted as one with a liner"),
                Way("liner", "Dug or built, with a liner"),
                Way("tub", "A tub that is bought"),
            ),
            listed=True,
        ),
        Choice(
            "basin.wind",
            "Wind over it",
            (
                Way("", "Not said: counted as open"),
                Way("open", "Open: low plants and fences"),
                Way("sheltered", "Sheltered: walls or hedges around"),
                Way("exposed", "Exposed: a hill, a roof, a shore"),
            ),
            listed=True,
        ),
    ),
    (ask("basin", "dry_spell_days", hint="21 if left empty"),),
    about="the basin",
)
GOAL = Group(
    "goal",
    "What it should reach (may stay empty)",
    "A jet or a flow, in which hours and months, on how many days: then the results say whether it does.",
    (
        ask("goal", "jet_height_m", hint="From the opening upward"),
        ask(
            "goal", "jet_height_to_m", label="and no higher than", hint="May stay empty; a high jet sprays past the basin in wind"
        ),
        ask("goal", "flow_l_per_min", label="or flow to reach", hint="In place of the jet, for a bubbler or a spillway"),
        ask("goal", "flow_to_l_per_min", label="and no more than", hint="May stay empty"),
        ask("goal", "from_hour", label="from hour", hint="On the clock, like 9.5 or 9:30"),
        ask("goal", "to_hour", label="to hour", hint="Later on the same day"),
        ask("goal", "days_out_of_ten", label="days out of ten", hint="7 if left empty; 10 means every day"),
        ask(
            "goal", "window_share_pct", label="share of those hours", hint="90 if left empty: a day counts though a cloud passes"
        ),
        Checks(
            "goal.months",
            "Months in which it should play",
            tuple((f"goal.months.{name}", month) for name, month in zip(MONTH_IDS, MONTHS, strict=True)),
        ),
    ),
    tuple(
        ask("goal", "more_windows", at, end, label=f"{word} of window {at + 2}", hint=hint)
        for at in range(MOST_MORE_WINDOWS)
        for end, word, hint in (("from_hour", "first hour", "On the same days"), ("to_hour", "last hour", ""))
    ),
    about="further hours of the day, such as 10 to 11 and 12 to 14",
)
SECTIONS: tuple[Group | Series, ...] = (PLACE, SKY, PANELS, MOUNTING, PUMPS, WIRE, PIPE, OUTLET, BASIN, GOAL)
"""The headings of the page."""


def groups_of(texts: Mapping[str, str]) -> Iterator[Group]:
    """The groups of questions that a form with these texts shows, each panel and pump on its own."""
    for section in SECTIONS:
        if isinstance(section, Series):
            yield from section.groups[: count(texts, section.key)]
        else:
            yield section


def chosen_of(series: Series, texts: Mapping[str, str]) -> Choice:
    """The question which of several is sized."""
    ways = (Way(str(index), called(series, texts, index)) for index in range(count(texts, series.key)))
    return Choice(series.chosen, f"{series.title} that is sized", tuple(ways), listed=True)


def called(series: Series, texts: Mapping[str, str], index: int) -> str:
    """A panel or pump by its place and name.

    Examples
    --------
    >>> called(PUMPS, {"pumps.1.name": "Old pond pump"}, 1), called(PUMPS, {}, 2)
    ('2. Old pond pump', '3. Pump without a name')
    """
    name = texts.get(f"{series.key}.{index}.name", "").strip()
    return f"{index + 1}. {name or f'{series.title} without a name'}"


GROUPS = tuple(group for section in SECTIONS for group in (section.groups if isinstance(section, Series) else (section,)))
"""All groups that a form can ever show."""
ITEMS = [item for group in GROUPS for item in every_item((*group.fields, *group.more))]
FIELDS = {item.name: item for item in ITEMS if isinstance(item, Field)}
CHOICES = {item.name: item for item in ITEMS if isinstance(item, Choice)}
CHECKS = {item.name: item for item in ITEMS if isinstance(item, Checks)}
BOXES = {name: item for item in CHECKS.values() for name, _ in item.boxes}
"""Which question a box to tick belongs to."""
