"""The tables of the form: rows of numbers with a name and a label for each cell."""

from dataclasses import dataclass

from sizing.words import MONTHS
from web.fields import FITTINGS
from web.form import POINT_COLUMNS, ROWS, SKY_LISTS, SKYLINE_COLUMNS, Texts, row_count


@dataclass(frozen=True)
class Cell:
    """One box: its name in the address and what a screen reader says."""

    name: str
    label: str
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
    def names(self) -> set[str]:
        """Names of all boxes."""
        return {cell.name for row in self.rows for cell in row.cells}


def grids(texts: Texts) -> dict[str, Grid]:
    """All tables of the form, with as many rows as the texts need."""
    return {"skyline": skyline(texts), "months": months(), "points": points(texts), "fittings": fittings()}


def skyline(texts: Texts) -> Grid:
    """What hides the sun: directions and height angles."""
    words = ("Direction, ° from north", "Height angle, °")
    rows = numbered("place.skyline", SKYLINE_COLUMNS, words, row_count(texts, "place.skyline", ROWS["place.skyline"]))
    return Grid("What hides the sun: trees, walls, hills. Leave it empty for an open horizon.", "Point", words, rows)


def points(texts: Texts) -> Grid:
    """The pump's curve at rated voltage."""
    words = ("Flow, L/min", "Head, m", "Current, A")
    rows = numbered("pumps.0.points", POINT_COLUMNS, words, row_count(texts, "pumps.0.points", ROWS["pumps.0.points"]))
    return Grid("Points of the pump's curve at rated voltage, flow rising from row to row", "Point", words, rows)


def numbered(base: str, columns: tuple[str, ...], words: tuple[str, ...], count: int) -> tuple[Row, ...]:
    """Rows named by their number."""
    return tuple(
        Row(
            str(index + 1),
            tuple(Cell(f"{base}.{index}.{key}", f"{word}, point {index + 1}") for key, word in zip(columns, words, strict=True)),
        )
        for index in range(count)
    )


def months() -> Grid:
    """Twelve values of sun and temperature."""
    words = ("Sun on level ground, kWh/m² a day", "Air temperature, °C (may stay empty)")
    rows = tuple(
        Row(
            month,
            (
                Cell(f"{SKY_LISTS[0]}.{index}", f"{words[0]}, {month}"),
                Cell(f"{SKY_LISTS[1]}.{index}", f"{words[1]}, {month}", ""),
            ),
        )
        for index, month in enumerate(MONTHS)
    )
    return Grid("Your own twelve values; used only if chosen above", "Month", words, rows)


def fittings() -> Grid:
    """How many of each fitting, and a loss coefficient of one's own."""
    words = ("How many", "Loss coefficient (may stay empty)")
    rows = tuple(
        Row(
            name,
            (Cell(f"fittings.{kind}.count", f"{name}: how many", "numeric"), Cell(f"fittings.{kind}.k", f"{name}: {words[1]}")),
        )
        for kind, name in FITTINGS
    )
    return Grid("Bends, valves and joints between pump and outlet", "Fitting", words, tuple(rows))
