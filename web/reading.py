"""From the texts of the form to a design file, each number read the way people type it."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from web.grids import CELLS, COLUMNS, FITTINGS, KINDS, MONTHLY_AIR, MONTHLY_SUN, POINTS, SKYLINE
from web.numbers import UnclearError, number
from web.places import FIND
from web.position import AXES, position
from web.questions import CHOICES, FIELDS
from web.typed_sky import SIGNS, UNIT, chosen_unit, sun_of_day

PRICED = {f"{part}.0.price.{name}" for part in ("panels", "pumps") for name in ("amount", "currency", "source", "date")}
CARRIED = PRICED | {"panels.0.id", "pumps.0.id"}
"""What a design file may hold and the form does not ask: it is kept with the answers."""
ASIDE = {FIND}
"""What the form asks and no design holds."""
PLAIN_TEXTS = {
    "title",
    "note",
    "place.name",
    "place.time_zone",
    "place.compass_date",
    "sky.origin",
    "panels.0.name",
    "pumps.0.name",
} | {name for name in CARRIED if not name.endswith(".amount")}
WHOLE = {"panels.0.in_series", "panels.0.in_parallel", "outlet.count", "outlet.end_contractions"}
OUTLET_FIELDS = {
    "nozzle": ("bore_mm", "count", "discharge_coefficient", "velocity_coefficient"),
    "open_pipe": ("inside_diameter_mm",),
    "spillway": ("width_m", "end_contractions"),
}
BOX = ("max_head_m", "max_flow_l_per_min", "rated_current_a")


@dataclass
class Reading:
    """One pass over the texts: what is unclear in itself, and which row of a table became which entry of a list."""

    texts: Mapping[str, str]
    unclear: dict[str, str] = field(default_factory=dict)
    rows: dict[str, list[int]] = field(default_factory=dict)
    kinds: list[str] = field(default_factory=list)
    data: dict[str, Any] = field(default_factory=dict)

    def value(self, name: str) -> Any:
        """What a field says; ``None`` where it is empty."""
        text = self.texts.get(name, "").strip()
        if not text:
            return None
        if name in PLAIN_TEXTS:
            return text
        try:
            unit = SIGNS[chosen_unit(self.texts)] if name.startswith(MONTHLY_SUN) else unit_of(name)
            return number(text, unit, whole=name in WHOLE or name.endswith(".count"))
        except UnclearError as unclear:
            self.unclear[name] = f"{label_of(name)}: {unclear}"
            return text

    def way(self, name: str) -> str:
        """How a choice was answered; the first way where nothing is marked."""
        ways = CHOICES[name].ways
        text = self.texts.get(name, ways[0].value)
        if text not in [way.value for way in ways]:
            self.unclear[name] = (
                "This design takes its sun from a weather file; choose that file below and press “Size with this file”, "
                "or take the built-in table, as marked now, or type twelve values"
                if text == "weather_file"
                else f"{CHOICES[name].question}: none of the ways was chosen; “{ways[0].words}” is marked now"
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
        """A price that an opened design brought along."""
        found = self.fill(f"{base}.price", ("amount", "currency", "source", "date"))
        return {"price": found} if found else {}


def read_texts(texts: Mapping[str, str]) -> Reading:
    """Gather the design file that the texts amount to."""
    reading = Reading(texts)
    fittings = fittings_of(reading)
    pipe = reading.fill("pipe", ("length_m", "inside_diameter_mm", "roughness_mm"))
    kind = reading.way("outlet.kind")
    reading.data |= {
        "schema_version": 1,
        "place": place_of(reading),
        "sky": sky_of(reading),
        "mounting": reading.fill("mounting", ("tilt_deg", "azimuth_deg", "compass_deg", "soiling_pct")),
        "panels": [panel_of(reading)],
        "pumps": [pump_of(reading)],
        "connection": connection_of(reading),
        "cable": reading.fill("cable", ("length_m", "area_mm2", "conductor_temperature_c")),
        "pipe": pipe | ({"fittings": fittings} if fittings else {}),
        "outlet": {"kind": kind} | reading.fill("outlet", ("height_above_water_m", *OUTLET_FIELDS.get(kind, ()))),
    }
    top = {name: reading.value(name) for name in ("title", "note", "water_temperature_c")}
    reading.data |= {name: value for name, value in top.items() if value is not None}
    return reading


def place_of(reading: Reading) -> dict[str, Any]:
    """The place, its coordinates read the way people write them."""
    place = reading.fill("place", ("name", "elevation_m", "albedo", "time_zone", "compass_date"))
    where, unclear = position(reading.texts)
    reading.unclear |= unclear
    skyline = reading.table(SKYLINE)
    place |= {name.removeprefix("place."): where[name] for name in AXES if name in where}
    return place | ({"skyline": skyline} if skyline else {})


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
    return {"kind": kind} | (reading.fill("connection", ("efficiency_pct",)) if kind == "controller" else {})


def panel_of(reading: Reading) -> dict[str, Any]:
    """The panel."""
    numbers = ("vmp_v", "imp_a", "voc_v", "isc_a", "in_series", "in_parallel", "name")
    coefficients = ("isc_temperature_coefficient_pct_per_c", "voc_temperature_coefficient_pct_per_c")
    return {"id": "panel"} | reading.fill("panels.0", ("id", *numbers, *coefficients)) | reading.price("panels.0")


def pump_of(reading: Reading) -> dict[str, Any]:
    """The pump, by its points or by its box."""
    voltages = ("rated_voltage_v", "lowest_voltage_v", "highest_voltage_v")
    motor = ("winding_resistance_ohm", "no_load_current_a", "starting_current_a")
    pump = {"id": "pump"} | reading.fill("pumps.0", ("id", "name", *voltages, *motor)) | reading.price("pumps.0")
    pump["position"] = reading.way("pumps.0.position")
    if reading.way("pumps.0.known") == "box":
        return pump | reading.fill("pumps.0", BOX)
    return pump | {"points": reading.table(POINTS)}


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
    return FIELDS[name].suffix if name in FIELDS else CELLS[name].unit if name in CELLS else ""


def label_of(name: str) -> str:
    """What a field asks, in words."""
    return FIELDS[name].label if name in FIELDS else CELLS[name].label if name in CELLS else name.rsplit(".", 1)[-1]
