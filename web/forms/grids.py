"""The tables of the form: rows of numbers with a name and a label for each cell."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from sizing.foundation import MONTHS
from sizing.hydraulic import FITTING_NAMES
from web.forms.several import MOST, count
from web.forms.typed_sky import SIGNS, chosen_unit

SKYLINE, OBSTACLES, FITTINGS = "place.skyline", "place.obstacles", "fittings"
MONTHLY_SUN, MONTHLY_AIR = "sky.ghi_kwh_per_m2_day", "sky.air_temperature_c"


def points_of(index: int) -> str:
    """Name of the table of a pump's points, counted from 0."""
    return f"pumps.{index}.points"


def power_points_of(index: int) -> str:
    """Name of the table of a pump's flow against power, counted from 0."""
    return f"pumps.{index}.power_points"


POINTS = points_of(0)
ALL_POINTS = tuple(points_of(index) for index in range(MOST["pumps"]))
ALL_POWER_POINTS = tuple(power_points_of(index) for index in range(MOST["pumps"]))
COLUMNS: dict[str, tuple[tuple[str, str, str], ...]] = {
    SKYLINE: (
        ("azimuth_deg", "Direction from north", "°"),
        ("compass_deg", "or compass reading", "°"),
        ("altitude_deg", "Height angle", "°"),
        ("height_m", "or height above the panel", "m"),
        ("distance_m", "and distance", "m"),
    ),
    OBSTACLES: (
        ("name", "Name", ""),
        ("direction", "Direction: °, or like south-west", ""),
        ("compass_deg", "or compass reading", "°"),
        ("height_m", "Height above the panel", "m"),
        ("distance_m", "Distance", "m"),
        ("width_m", "Width", "m"),
    ),
    **dict.fromkeys(ALL_POINTS, (("flow_l_per_min", "Flow", "L/min"), ("head_m", "Head", "m"), ("current_a", "Current", "A"))),
    **dict.fromkeys(
        ALL_POWER_POINTS,
        (
            ("head_m", "Head", "m"),
            ("power_w", "Power", "W"),
            ("flow_l_per_min", "Flow", "L/min"),
            ("voltage_v", "Voltage if published", "V"),
        ),
    ),
}
"""Key, word and unit of each column of the tables whose rows are numbered."""
SKYLINE_CAPTION = (
    "Where the horizon is higher than level; leave it empty for an open one. Of each point give one direction, from true "
    "north or by compass, and one height: the angle above level, or how far the top stands above the panel and how far away"
)
OBSTACLES_CAPTION = (
    "Trees, houses, masts: each for itself, with an open horizon between them; leave it empty where there are none. Distance is "
    "measured from the panel to the foot, width across as seen from the panel"
)
POINTS_CAPTION = "Points of the pump's curve at rated voltage, flow rising from row to row"
POWER_POINTS_CAPTION = (
    "Flow at each electrical power, head by head; a power at which no water comes yet (flow 0) says where it starts. Give the "
    "voltage at every point or at none"
)
LEAST_ROWS = {SKYLINE: 8, OBSTACLES: 2, **dict.fromkeys((*ALL_POINTS, *ALL_POWER_POINTS), 6)}
MOST_ROWS = {SKYLINE: 72, OBSTACLES: 12, **dict.fromkeys((*ALL_POINTS, *ALL_POWER_POINTS), 40)}
SPARE_ROWS = 2
ROW_WORDS = {OBSTACLES: "Obstacle"}
"""What a row is, where it is no point."""
WORDS = ("name", "direction")
"""Columns that hold words."""
KINDS = FITTING_NAMES
"""Fittings in words."""


@dataclass(frozen=True)
class Cell:
    """One box: its name in the address, what a screen reader says, its unit, and the kind of keyboard."""

    name: str
    label: str
    unit: str = ""
    keyboard: str = "decimal"


@dataclass(frozen=True)
class Row:
    """A row with its header."""

    name: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True)
class Grid:
    """A table of boxes."""

    caption: str
    corner: str
    columns: tuple[str, ...]
    rows: tuple[Row, ...]

    @property
    def cells(self) -> dict[str, Cell]:
        """All boxes by name, row by row."""
        return {cell.name: cell for row in self.rows for cell in row.cells}


def grids(texts: Mapping[str, str]) -> dict[str, Grid]:
    """All tables of the form, with as many rows as the texts need; those of numbered rows by the name of their list."""
    found = {"obstacles": numbered(OBSTACLES, OBSTACLES_CAPTION, texts), "skyline": numbered(SKYLINE, SKYLINE_CAPTION, texts)}
    found |= {"months": months(SIGNS[chosen_unit(texts)])}
    for index in range(count(texts, "pumps")):
        found[points_of(index)] = numbered(points_of(index), POINTS_CAPTION, texts)
        found[power_points_of(index)] = numbered(power_points_of(index), POWER_POINTS_CAPTION, texts)
    return found | {"fittings": fittings()}


def numbered(base: str, caption: str, texts: Mapping[str, str]) -> Grid:
    """A table whose rows are numbered: those that hold something, and some to spare."""
    pattern = re.compile(re.escape(base) + r"\.(\d{1,2})\.")
    used = [int(match[1]) for name, text in texts.items() if (match := pattern.match(name)) and text.strip()]
    most = min(max([LEAST_ROWS[base], *(index + 1 + SPARE_ROWS for index in used)]), MOST_ROWS[base])
    rows = tuple(numbered_row(base, index) for index in range(most))
    columns = tuple(f"{word}, {unit}" if unit else word for _, word, unit in COLUMNS[base])
    return Grid(caption, ROW_WORDS.get(base, "Point"), columns, rows)


@lru_cache(maxsize=1024)
def numbered_row(base: str, index: int) -> Row:
    """A row of such a table, counted from 0; its boxes are empty, so every form has the same ones."""
    row = ROW_WORDS.get(base, "Point").lower()
    said = [(key, f"{bare(word.partition(':')[0])} of {row} {index + 1}", unit) for key, word, unit in COLUMNS[base]]
    cells = (Cell(f"{base}.{index}.{key}", label, unit, "" if key in WORDS else "decimal") for key, label, unit in said)
    return Row(str(index + 1), tuple(cells))


def bare(word: str) -> str:
    """A column's word without the one that ties it to the column before.

    Examples
    --------
    >>> bare("or compass reading")
    'Compass reading'
    """
    word = word.removeprefix("or ").removeprefix("and ")
    return word[0].upper() + word[1:]


@lru_cache(maxsize=8)
def months(sign: str) -> Grid:
    """Twelve values of sun, in the unit of that sign, and temperature."""
    rows = tuple(
        Row(
            month,
            (
                Cell(f"{MONTHLY_SUN}.{index}", f"Sun in {month}", sign),
                Cell(f"{MONTHLY_AIR}.{index}", f"Air temperature in {month}", "°C", ""),
            ),
        )
        for index, month in enumerate(MONTHS)
    )
    words = ("Sun on level ground, in the unit chosen above", "Air temperature, °C (may stay empty)")
    return Grid("Means of each month; used only if chosen above", "Month", words, rows)


@lru_cache(maxsize=1)
def fittings() -> Grid:
    """How many of each fitting, and a loss coefficient of one's own."""
    rows = tuple(
        Row(
            name,
            (
                Cell(f"{FITTINGS}.{kind}.count", f"{name}: how many", "", "numeric"),
                Cell(f"{FITTINGS}.{kind}.k", f"{name}: loss coefficient"),
            ),
        )
        for kind, name in KINDS.items()
    )
    words = ("How many", "Loss coefficient (may stay empty)")
    return Grid("Bends, valves and joints between pump and outlet", "Fitting", words, rows)


def every_cell() -> dict[str, Cell]:
    """Each box that a table can ever have, by its name."""
    full = {f"{base}.{most - 1}.{COLUMNS[base][0][0]}": "0" for base, most in MOST_ROWS.items()}
    return {name: cell for grid in grids(full).values() for name, cell in grid.cells.items()}


CELLS = every_cell()
WORD_CELLS = {name for name in CELLS if name.startswith(OBSTACLES) and name.endswith(WORDS)}
"""Boxes of tables that hold words, kept as they are typed."""
