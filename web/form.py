"""Between the texts of a form and a design: both ways, with every text kept as it was typed.

The texts go into a design file as they are understood; the design model judges them, and its sentences
come back to the fields they point at. Nothing is judged twice.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sizing.design import Design
from sizing.errors import InputError, Problem
from sizing.reading import read_design
from web.fields import FITTINGS, GROUPS, MONTH_COUNT, POINT_ROWS, SKYLINE_ROWS, Choice, flat, suffix_of
from web.numbers import UnclearError, number

Texts = dict[str, str]

PLAIN_TEXTS = {"title", "note", "place.name", "place.time_zone", "panels.0.name", "pumps.0.name", "panels.0.id", "pumps.0.id"}
WHOLE = {"panels.0.in_series", "panels.0.in_parallel", "outlet.count", "outlet.end_contractions"}
POINT_COLUMNS = ("flow_l_per_min", "head_m", "current_a")
SKYLINE_COLUMNS = ("azimuth_deg", "altitude_deg")
SKY_LISTS = ("sky.ghi_kwh_per_m2_day", "sky.air_temperature_c")
OUTLET_FIELDS = {
    "nozzle": ("bore_mm", "count", "discharge_coefficient", "velocity_coefficient"),
    "open_pipe": ("inside_diameter_mm",),
    "spillway": ("width_m", "end_contractions"),
}
BOX = ("max_head_m", "max_flow_l_per_min", "rated_current_a")
LONGEST_TEXT = 600


@dataclass(frozen=True)
class Answer:
    """What became of a form: the texts as typed, the design or ``None``, and a sentence for each wrong field."""

    texts: Texts
    design: Design | None
    errors: dict[str, str]


def tidy(texts: Mapping[str, str]) -> Texts:
    """The texts that belong to the form, without overlong ones' tails."""
    return {name: text[:LONGEST_TEXT] for name, text in texts.items() if known(name)}


def known(name: str) -> bool:
    """Whether a name is one of the form's."""
    return (
        name in names()
        or re.fullmatch(
            r"(pumps\.0\.points\.\d{1,2}\.(flow_l_per_min|head_m|current_a)|place\.skyline\.\d{1,2}\.(azimuth_deg|altitude_deg)"
            r"|sky\.(ghi_kwh_per_m2_day|air_temperature_c)\.\d{1,2}|fittings\.\w+\.(count|k)"
            r"|(panels|pumps)\.0\.(id|price\.(amount|currency|source|date)))",
            name,
        )
        is not None
    )


def names() -> set[str]:
    """Names of all fields and choices that are no rows of a table."""
    found = {field.name for group in GROUPS for field in flat(group)}
    return found | {item.name for group in GROUPS for item in group.fields if isinstance(item, Choice)}


def understand(texts: Mapping[str, str]) -> Answer:
    """Turn the texts of a form into a design, or into sentences beside their fields."""
    kept = tidy(texts)
    reading = Reading(kept)
    data = reading.data()
    try:
        design = read_design(data)
    except InputError as error:
        return Answer(kept, None, reading.sentences(error.problems))
    if reading.unclear:
        return Answer(kept, None, dict(reading.unclear))
    return Answer(kept, design, {})


def sentences_of(texts: Texts, problems: tuple[Problem, ...]) -> dict[str, str]:
    """Problems that show only in the sizing, beside the fields they point at."""
    reading = Reading(texts)
    reading.data()
    return reading.sentences(problems)


class Reading:
    """One pass over the texts; remembers which row of a table became which entry of a list."""

    def __init__(self, texts: Texts) -> None:
        self.texts = texts
        self.unclear: dict[str, str] = {}
        self.rows: dict[str, list[int]] = {}

    def value(self, name: str) -> Any:
        """What a field says; ``None`` where it is empty."""
        text = self.texts.get(name, "").strip()
        if not text:
            return None
        if name in PLAIN_TEXTS or "price." in name:
            return text
        try:
            return number(text, suffix_of(name), whole=name in WHOLE or name.endswith(".count"))
        except UnclearError as unclear:
            self.unclear[name] = f"{unclear}"
            return text

    def fill(self, base: str, fields: tuple[str, ...]) -> dict[str, Any]:
        """The filled fields below a name."""
        found = {field: self.value(f"{base}.{field}") for field in fields}
        return {field: value for field, value in found.items() if value is not None}

    def table(self, base: str, columns: tuple[str, ...]) -> list[dict[str, Any]]:
        """The rows of a table that hold anything."""
        pattern = re.compile(re.escape(base) + r"\.(\d{1,2})\.")
        indices = sorted({int(match[1]) for name in self.texts if (match := pattern.match(name))})
        filled = [(index, row) for index in indices if (row := self.fill(f"{base}.{index}", columns))]
        self.rows[base] = [index for index, _ in filled]
        return [row for _, row in filled]

    def data(self) -> dict[str, Any]:
        """The design file that the texts amount to."""
        place = self.fill("place", ("name", "latitude_deg", "longitude_deg", "elevation_m", "albedo", "time_zone"))
        place["skyline"] = self.table("place.skyline", SKYLINE_COLUMNS)
        pipe: dict[str, Any] = self.fill("pipe", ("length_m", "inside_diameter_mm", "roughness_mm"))
        pipe["fittings"] = self.fittings()
        connection = {"kind": self.texts.get("connection.kind", "direct")}
        if connection["kind"] == "controller":
            connection |= self.fill("connection", ("efficiency_pct",))
        kind = self.texts.get("outlet.kind", "nozzle")
        outlet = {"kind": kind} | self.fill("outlet", ("height_above_water_m", *OUTLET_FIELDS.get(kind, ())))
        data: dict[str, Any] = {
            "schema_version": 1,
            "place": place,
            "sky": self.sky(),
            "mounting": self.fill("mounting", ("tilt_deg", "azimuth_deg", "soiling_pct")),
            "panels": [self.panel()],
            "pumps": [self.pump()],
            "connection": connection,
            "cable": self.fill("cable", ("length_m", "area_mm2", "conductor_temperature_c")),
            "pipe": pipe,
            "outlet": outlet,
        }
        top = {name: self.value(name) for name in ("title", "note", "water_temperature_c")}
        return data | {name: value for name, value in top.items() if value is not None}

    def sky(self) -> dict[str, Any]:
        """The sky as chosen; twelve values only where they are asked for."""
        kind = self.texts.get("sky.kind", "built_in")
        if kind != "monthly":
            return {"kind": kind}
        found: dict[str, Any] = {"kind": kind}
        for name in SKY_LISTS:
            values = [self.value(f"{name}.{index}") for index in range(MONTH_COUNT)]
            if name == SKY_LISTS[0] or any(value is not None for value in values):
                found[name.removeprefix("sky.")] = ["" if value is None else value for value in values]
        return found

    def panel(self) -> dict[str, Any]:
        """The panel."""
        numbers = ("vmp_v", "imp_a", "voc_v", "isc_a", "in_series", "in_parallel", "name")
        coefficients = ("isc_temperature_coefficient_pct_per_c", "voc_temperature_coefficient_pct_per_c")
        return {"id": "panel"} | self.fill("panels.0", ("id", *numbers, *coefficients)) | self.price("panels.0")

    def pump(self) -> dict[str, Any]:
        """The pump, by its points or by its box."""
        voltages = ("rated_voltage_v", "lowest_voltage_v", "highest_voltage_v")
        motor = ("winding_resistance_ohm", "no_load_current_a", "starting_current_a")
        pump = {"id": "pump"} | self.fill("pumps.0", ("id", "name", *voltages, *motor)) | self.price("pumps.0")
        if "pumps.0.position" in self.texts:
            pump["position"] = self.texts["pumps.0.position"]
        if self.texts.get("pumps.0.known") == "box":
            return pump | self.fill("pumps.0", BOX)
        return pump | {"points": self.table("pumps.0.points", POINT_COLUMNS)}

    def price(self, base: str) -> dict[str, Any]:
        """A price that an opened design brought along."""
        found = self.fill(f"{base}.price", ("amount", "currency", "source", "date"))
        return {"price": found} if found else {}

    def fittings(self) -> list[dict[str, Any]]:
        """Fittings with a count; zero counts as none."""
        found = []
        self.fitting_kinds = []
        for kind, _ in FITTINGS:
            row = self.fill(f"fittings.{kind}", ("count", "k"))
            if row.get("count", 0) != 0:
                found.append({"kind": kind} | row)
                self.fitting_kinds.append(kind)
        return found

    def sentences(self, problems: tuple[Problem, ...]) -> dict[str, str]:
        """Each problem beside the field it points at, in the words of the form."""
        found: dict[str, str] = {}
        for problem in problems:
            name = self.field_of(problem.pointer)
            sentence = self.unclear.get(name, problem.detail)
            found.setdefault(name, sentence[0].upper() + sentence[1:])
        return found

    def field_of(self, pointer: str) -> str:
        """The field that a pointer means; the first one below it where it means a part of the design."""
        parts = pointer.removeprefix("#").strip("/").split("/")
        if parts[:2] == ["pipe", "fittings"] and len(parts) > 2:
            kinds = self.fitting_kinds
            parts = [
                "fittings",
                kinds[int(parts[2])] if int(parts[2]) < len(kinds) else kinds[0],
                parts[3] if len(parts) > 3 else "count",
            ]
        for base, rows in self.rows.items():
            depth = base.count(".") + 1
            if (
                parts[:depth] == base.split(".")
                and len(parts) > depth
                and parts[depth].isdigit()
                and int(parts[depth]) < len(rows)
            ):
                parts[depth] = str(rows[int(parts[depth])])
        name = ".".join(parts)
        return name if name in names() or known(name) else first_below(name)


def first_below(name: str) -> str:
    """The field to show a message at that means a whole part of the design."""
    if name in ("pumps.0", "pumps.0.points"):
        return "pumps.0.points.0.flow_l_per_min" if name.endswith("points") else "pumps.0.known"
    for group in GROUPS:
        for field in flat(group):
            if field.name.startswith(name + "."):
                return field.name
    return {"sky": "sky.kind", "connection": "connection.kind", "place.skyline": "place.skyline.0.azimuth_deg"}.get(name, "title")


def texts_of(design: Design) -> Texts:
    """The texts that a design puts into the form; numbers in full."""
    data = design.model_dump(mode="json", exclude_none=True)
    chosen = data.pop("chosen", {})
    data["panels"] = [panel for panel in data["panels"] if panel["id"] == chosen.get("panel", panel["id"])][:1]
    data["pumps"] = [pump for pump in data["pumps"] if pump["id"] == chosen.get("pump", pump["id"])][:1]
    fittings = data["pipe"].pop("fittings", [])
    data["fittings"] = {}
    for fitting in fittings:
        row = data["fittings"].setdefault(fitting["kind"], {"count": 0})
        row["count"] += fitting["count"]
        row |= {"k": fitting["k"]} if "k" in fitting else {}
    texts: Texts = {}

    def visit(name: str, value: Any) -> None:
        if isinstance(value, dict):
            for part, below in value.items():
                visit(f"{name}.{part}" if name else part, below)
        elif isinstance(value, list):
            for index, below in enumerate(value):
                visit(f"{name}.{index}", below)
        else:
            texts[name] = f"{value:.12g}" if isinstance(value, float) else str(value)

    visit("", data)
    texts["pumps.0.known"] = "points" if "points" in data["pumps"][0] else "box"
    return {name: text for name, text in texts.items() if known(name)}


def row_count(texts: Texts, base: str, least: int) -> int:
    """How many rows a table of the form needs: those filled and two to spare."""
    pattern = re.compile(re.escape(base) + r"\.(\d{1,2})\.")
    used = [int(match[1]) for name, text in texts.items() if (match := pattern.match(name)) and text.strip()]
    return min(max([least, *(index + 3 for index in used)]), {"place.skyline": 72, "pumps.0.points": 40}[base])


ROWS = {"place.skyline": SKYLINE_ROWS, "pumps.0.points": POINT_ROWS}
