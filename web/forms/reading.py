"""From the texts of the form to a design file, each number read the way people type it."""

import re
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field
from typing import Any

from pydantic import BaseModel

from sizing.design import MOST_MORE_WINDOWS, OF_BOX, PanelInput, PumpInput
from web.forms.fields import Choice, Series
from web.forms.grids import CELLS, COLUMNS, FITTINGS, KINDS, MONTHLY_AIR, MONTHLY_SUN, OBSTACLES, SKYLINE, WORD_CELLS
from web.forms.measured_texts import NAMES, PLAIN_NAMES, WHOLE_NAMES, measured_of, records_of
from web.forms.numbers import UnclearError, number
from web.forms.panel_and_pump import PANELS, PUMPS, SERIES
from web.forms.part_prices import ADDED, ADDED_PRICES, BUDGET, KEYS, PARTS, PRICE_FIELDS, SHARED, usual_of
from web.forms.places import CLEARED, FIND
from web.forms.position import AXES, position
from web.forms.questions import CHECKS, CHOICES, FIELDS, chosen_of
from web.forms.several import OPEN, chosen_position, count, ids, is_blank
from web.forms.typed_sky import SIGNS, UNIT, chosen_unit, sun_of_day

PRICE = ("amount", "currency", "source", "date")
PRICED = {f"{series.key}.{index}.price" for series in SERIES for index in range(len(series.groups))} | {"connection.price"}
IDS = {f"{series.key}.{index}.id" for series in SERIES for index in range(len(series.groups))}
CHOSEN = {series.chosen for series in SERIES}
CARRIED = IDS | CHOSEN | NAMES | set(PRICE_FIELDS) - set(SHARED.values())
"""What a design file may hold and the form does not always ask: it is kept with the answers."""
ASIDE = {FIND, OPEN, CLEARED}
"""What the form asks or marks and no design holds."""
CARRIED_TEXTS = IDS | PLAIN_NAMES | {name for name in PRICE_FIELDS if name.endswith((".currency", ".source", ".date"))}
PLAIN_TEXTS = {name for name, asked in FIELDS.items() if asked.plain} | CARRIED_TEXTS | WORD_CELLS
WHOLE = {name for name, asked in FIELDS.items() if asked.whole} | WHOLE_NAMES
WINDOWS = "goal.more_windows"
ENDS = ("from_hour", "to_hour")
HOURS = {"goal.from_hour", "goal.to_hour", *(f"{WINDOWS}.{at}.{end}" for at in range(MOST_MORE_WINDOWS) for end in ENDS)}
ON_A_CLOCK = re.compile(r"([01]?[0-9]|2[0-4]):([0-5][0-9])")
OUTLET_FIELDS = {
    "nozzle": ("bore_mm", "count", "discharge_coefficient", "velocity_coefficient"),
    "open_pipe": ("inside_diameter_mm",),
    "spillway": ("width_m", "end_contractions"),
}
GOAL_FIELDS = (
    "jet_height_m",
    "jet_height_to_m",
    "flow_l_per_min",
    "flow_to_l_per_min",
    *ENDS,
    "days_out_of_ten",
    "window_share_pct",
)
BLANK = "{} {} is empty; fill in its boxes, or press “Remove this one”"
APART = {"id", "price", "points", "power_points", "measured"}
"""Fields of a panel or pump that are more than one box or one word."""


@dataclass
class Reading:
    """One pass over the texts: what is unclear in itself, and which row of a table became which entry of a list.

    ``kinds``, ``months`` and ``priced`` are the fittings, the goal's months and the parts with a price in the order of
    their entries, ``blank`` the panels and pumps of several for which nothing was typed.
    """

    texts: Mapping[str, str]
    unclear: dict[str, str] = field(default_factory=dict)
    rows: dict[str, list[int]] = field(default_factory=dict)
    kinds: list[str] = field(default_factory=list)
    months: list[str] = field(default_factory=list)
    blank: list[str] = field(default_factory=list)
    priced: list[str] = field(default_factory=list)
    data: dict[str, Any] = field(default_factory=dict)

    def value(self, name: str) -> Any:
        """What a field says; ``None`` where it is empty."""
        text = self.texts.get(name, "").strip()
        if not text:
            return None
        if name in PLAIN_TEXTS:
            return text.upper() if name.endswith(".currency") else text
        if name in HOURS and (clock := ON_A_CLOCK.fullmatch(text)):
            return int(clock[1]) + int(clock[2]) / 60
        try:
            unit = SIGNS[chosen_unit(self.texts)] if name.startswith(MONTHLY_SUN) else unit_of(name)
            return number(text, unit, whole=name in WHOLE or name.endswith(".count"))
        except UnclearError as unclear:
            self.unclear[name] = f"{label_of(name)}{which_of(name, self.texts)}: {unclear}"
            return text

    def way(self, name: str) -> str:
        """How a choice was answered; the first way where nothing is marked."""
        choice = CHOICES[name]
        text = self.texts.get(name, choice.ways[0].value)
        if text not in [way.value for way in choice.ways]:
            self.unclear[name] = (
                "This design takes its sun from a weather file; choose that file below and press “Size with this file”, "
                "or take the built-in table, as marked now, or type twelve values"
                if text == "weather_file"
                else none_chosen(choice, which_of(name, self.texts))
            )
        return text

    def fill(self, base: str, fields: tuple[str, ...]) -> dict[str, Any]:
        """The filled fields below a name."""
        found = {name: self.value(f"{base}.{name}") for name in fields}
        return {name: value for name, value in found.items() if value is not None}

    def table(self, base: str) -> list[dict[str, Any]]:
        """The rows of a table that hold anything."""
        pattern = re.compile(re.escape(base) + r"\.(\d{1,2})\.")
        indices = sorted({int(match[1]) for name in self.texts if (match := pattern.match(name))})
        columns = tuple(key for key, _, _ in COLUMNS[base])
        filled = [(index, row) for index in indices if (row := self.fill(f"{base}.{index}", columns))]
        self.rows[base] = [index for index, _ in filled]
        return [row for _, row in filled]

    def price(self, base: str) -> dict[str, Any]:
        """A price, if any of it is filled in."""
        found = self.fill(f"{base}.price", PRICE)
        return {"price": found} if found else {}


def read_texts(texts: Mapping[str, str]) -> Reading:
    """Gather the design file that the texts amount to."""
    reading = Reading(texts)
    fittings = fittings_of(reading)
    pipe = reading.fill("pipe", ("length_m", "inside_diameter_mm", "roughness_mm"))
    kind = reading.way("outlet.kind")
    pipe |= words_of(reading, "pipe", "kind")
    words = words_of(reading, "outlet", "nozzle_kind") | feed_of(reading) if kind == "nozzle" else {}
    reading.data |= {
        "schema_version": 1,
        "place": place_of(reading),
        "sky": sky_of(reading),
        "mounting": reading.fill("mounting", ("tilt_deg", "azimuth_deg", "compass_deg", "soiling_pct")),
        "panels": members_of(reading, PANELS, panel_of),
        "pumps": members_of(reading, PUMPS, pump_of),
        "connection": connection_of(reading),
        "cable": reading.fill("cable", ("length_m", "area_mm2", "conductor_temperature_c")),
        "pipe": pipe | ({"fittings": fittings} if fittings else {}),
        "outlet": {"kind": kind} | reading.fill("outlet", ("height_above_water_m", *OUTLET_FIELDS.get(kind, ()))) | words,
    }
    top = {name: reading.value(name) for name in ("title", "note", "water_temperature_c")}
    parts = top | {
        "chosen": chosen_pair(reading),
        "goal": goal_of(reading),
        "basin": basin_of(reading),
        "budget": budget_of(reading),
        "measurements": records_of(reading.texts, reading.fill),
    }
    reading.data |= {name: value for name, value in parts.items() if value is not None}
    return reading


def feed_of(reading: Reading) -> dict[str, Any]:
    """The ring or row that feeds the jets; nothing where nothing of it is filled in."""
    kind, sizes = words_of(reading, "outlet.feed", "kind"), reading.fill("outlet.feed", ("size_m", "inside_diameter_mm"))
    asked = sizes or "outlet.feed.kind" not in reading.unclear
    return {"feed": kind | sizes} if asked and (kind or sizes) else {}


def words_of(reading: Reading, base: str, name: str) -> dict[str, Any]:
    """A choice that is one word of the design; nothing where it was not answered."""
    word = reading.way(f"{base}.{name}")
    return {name: word} if word else {}


def place_of(reading: Reading) -> dict[str, Any]:
    """The place, its coordinates read the way people write them."""
    place = reading.fill("place", ("name", "elevation_m", "albedo", "coldest_air_c", "time_zone", "compass_date"))
    where, unclear = position(reading.texts)
    reading.unclear |= unclear
    tables = {"obstacles": reading.table(OBSTACLES), "skyline": reading.table(SKYLINE)}
    place |= {name.removeprefix("place."): where[name] for name in AXES if name in where}
    return place | {name: rows for name, rows in tables.items() if rows}


def sky_of(reading: Reading) -> dict[str, Any]:
    """The sky as chosen; twelve values only where they are asked for."""
    found: dict[str, Any] = {"kind": reading.way("sky.kind")}
    if found["kind"] != "monthly":
        return found
    for name in (MONTHLY_SUN, MONTHLY_AIR):
        values = [reading.value(f"{name}.{index}") for index in range(12)]
        if name == MONTHLY_SUN:
            reading.way(UNIT)
            values = [sun_of_day(value, month, chosen_unit(reading.texts)) for month, value in enumerate(values)]
        if name == MONTHLY_SUN or any(value is not None for value in values):
            found[name.removeprefix("sky.")] = ["" if value is None else value for value in values]
    return found | reading.fill("sky", ("origin",))


def connection_of(reading: Reading) -> dict[str, Any]:
    """How panel and pump are joined."""
    kind = reading.way("connection.kind")
    if kind != "controller":
        return {"kind": kind}
    words = words_of(reading, "connection", "controller_kind")
    return {"kind": kind} | words | reading.fill("connection", ("efficiency_pct",)) | reading.price("connection")


def members_of(reading: Reading, series: Series, one_of: Callable[[Reading, str], dict[str, Any]]) -> list[dict[str, Any]]:
    """All panels or pumps; one for which nothing was typed says so in one sentence."""
    names = ids(reading.texts, series.key)
    for index in range(len(names)) if len(names) > 1 else ():
        base = f"{series.key}.{index}"
        if is_blank(reading.texts, base):
            reading.blank.append(base)
            reading.unclear[f"{base}.name"] = BLANK.format(series.title, index + 1)
    return [{"id": name} | one_of(reading, f"{series.key}.{index}") for index, name in enumerate(names)]


def chosen_pair(reading: Reading) -> dict[str, Any] | None:
    """Ids of the panel and the pump that are sized; ``None`` where nothing says so."""
    if not any(reading.texts.get(series.chosen, "").strip() for series in SERIES):
        return None
    found = {}
    for series in SERIES:
        text, position = reading.texts.get(series.chosen, "").strip(), chosen_position(reading.texts, series.key)
        if text and text != str(position) and len(reading.data[series.key]) > 1:
            reading.unclear[series.chosen] = none_chosen(chosen_of(series, reading.texts))
        found[series.word] = reading.data[series.key][position]["id"]
    return found


def panel_of(reading: Reading, base: str) -> dict[str, Any]:
    """A panel."""
    return boxes_and_words(reading, base, PanelInput) | reading.price(base)


def pump_of(reading: Reading, base: str) -> dict[str, Any]:
    """A pump, by its points, by its power or by its box."""
    known = reading.way(f"{base}.known")
    pump = boxes_and_words(reading, base, PumpInput, () if known == "box" else OF_BOX) | reading.price(base)
    if known == "box":
        return pump
    if known == "power":
        return pump | {"power_points": reading.table(f"{base}.power_points")}
    return pump | {"points": reading.table(f"{base}.points")} | measured_of(reading.fill, base)


def boxes_and_words(reading: Reading, base: str, model: type[BaseModel], without: Collection[str] = ()) -> dict[str, Any]:
    """What a panel or pump has in a box or as one word of a few: whatever its model holds, but for some."""
    names = [name for name in model.model_fields if name not in APART and name not in without]
    words = {name: reading.way(f"{base}.{name}") for name in names if f"{base}.{name}" in CHOICES}
    filled = reading.fill(base, tuple(name for name in names if name not in words))
    return filled | {name: word for name, word in words.items() if word}


def goal_of(reading: Reading) -> dict[str, Any] | None:
    """What the fountain should reach; ``None`` where nothing of it is filled in."""
    goal = reading.fill("goal", GOAL_FIELDS)
    rows = [(at, row) for at in range(MOST_MORE_WINDOWS) if (row := reading.fill(f"{WINDOWS}.{at}", ENDS))]
    if rows:
        reading.rows[WINDOWS] = [at for at, _ in rows]
        goal[WINDOWS.removeprefix("goal.")] = [row for _, row in rows]
    boxes = CHECKS["goal.months"].boxes
    reading.months = [name for name, _ in boxes if reading.texts.get(name, "").strip()]
    if not goal and not reading.months:
        return None
    numbers = [month for month, (name, _) in enumerate(boxes, 1) if name in reading.months]
    return goal | {"months": numbers}


def basin_of(reading: Reading) -> dict[str, Any] | None:
    """The basin; ``None`` where no number of it is filled in."""
    basin = reading.fill("basin", ("diameter_m", "length_m", "width_m", "depth_m", "dry_spell_days"))
    ways = {name: way for name in ("build", "wind") if (way := reading.way(f"basin.{name}"))}
    return basin | ways if basin else None


def budget_of(reading: Reading) -> dict[str, Any] | None:
    """Prices of the parts list and what is added to them; ``None`` where nothing of it is filled in."""
    usual = usual_of(reading.texts)
    budget = reading.fill(BUDGET, ADDED)
    for name in ADDED_PRICES:
        if price := priced(reading, f"{BUDGET}.{name}", usual):
            budget[name] = price
    found = {key: price for key in KEYS if (price := priced(reading, f"{PARTS}.{key}", usual))}
    reading.priced = list(found)
    if found:
        budget["parts"] = [{"part": key} | price for key, price in found.items()]
    return budget or None


def priced(reading: Reading, base: str, usual: Mapping[str, str]) -> dict[str, Any]:
    """A price of the parts list; what it does not say itself is the usual."""
    found = reading.fill(base, PRICE)
    return {**usual, **found} if "amount" in found else found


def fittings_of(reading: Reading) -> list[dict[str, Any]]:
    """Fittings that are filled in; a count of zero is none."""
    found = []
    for kind in KINDS:
        row = reading.fill(f"{FITTINGS}.{kind}", ("count", "k"))
        if row and row.get("count") != 0:
            found.append({"kind": kind} | row)
            reading.kinds.append(kind)
    return found


def unit_of(name: str) -> str:
    """Sign of a field's unit."""
    return FIELDS[name].suffix if name in FIELDS else "" if name in PRICE_FIELDS else CELLS[name].unit if name in CELLS else ""


def label_of(name: str) -> str:
    """What a field asks, in words."""
    found = FIELDS.get(name) or PRICE_FIELDS.get(name)
    return found.label if found else CELLS[name].label if name in CELLS else name.rsplit(".", 1)[-1]


def which_of(name: str, texts: Mapping[str, str]) -> str:
    """Which of several panels or pumps a field belongs to, in words.

    Examples
    --------
    >>> which_of("pumps.1.name", {"pumps.0.name": "Old", "pumps.1.name": "New"}), which_of("pumps.0.name", {})
    (' (pump 2)', '')
    """
    series = next((each for each in SERIES if name.startswith(f"{each.key}.")), None)
    if series is None or count(texts, series.key) == 1:
        return ""
    return f" ({series.word} {int(name.split('.')[1]) + 1})"


def none_chosen(choice: Choice, which: str = "") -> str:
    """What to say of a choice that was answered by none of its ways."""
    return f"{choice.question}{which}: none of the ways was chosen; “{choice.ways[0].words}” is marked now"
