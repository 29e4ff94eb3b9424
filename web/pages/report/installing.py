"""What the report says to whoever wires and looks after the fountain: cable, fuse, cold voltage, and the notes that apply."""

from dataclasses import dataclass

from sizing.foundation import LITRE, MINUS, figures, quantity
from sizing.installation import CableRow, SafetyNote, Wires
from sizing.sky import MARGIN
from web.charts.kit.shapes import Table


@dataclass(frozen=True)
class Installing:
    """The cable's table with its sentence, sentences on fuse and voltages, reasons for a licensed person, and notes."""

    cable: str
    table: Table
    fuse: str
    cold: str
    limits: tuple[str, ...]
    licensed: tuple[str, ...]
    notes: tuple[SafetyNote, ...]


def installing(wires: Wires, notes: tuple[SafetyNote, ...]) -> Installing:
    """Wires and safety of a finished sizing."""
    return Installing(
        cable=wires.sentence,
        table=cable_table(wires),
        fuse=wires.fuse.sentence,
        cold=cold_sentence(wires),
        limits=tuple(limit.sentence for limit in wires.limits),
        licensed=wires.licensed,
        notes=notes,
    )


def cable_table(wires: Wires) -> Table:
    """The sizes around what is needed; the design's own first."""
    rows = [line(wires.own, f"{wires.own.size.name}, this design"), *(line(row, row.size.name) for row in wires.rows)]
    caption = (
        f"Copper there and back over {quantity(wires.length, 'm')} at {quantity(wires.temperature, 'Cel')}; "
        "drop where it is largest"
    )
    head = ("Size", "Resistance, ohm", "Drop, V", "Drop, %", "Water lost, L a year")
    return Table(caption, head, tuple(rows))


def line(row: CableRow, name: str) -> tuple[str, ...]:
    """One size in figures; water against the design's own cable."""
    lost = row.water_lost / LITRE
    shown = "0" if abs(lost) < 1 else f"{MINUS if lost < 0 else ''}{figures(abs(lost), 2)}"
    return name, figures(row.resistance), figures(row.drop_volts, 2), figures(100 * row.drop_share, 2), shown


def cold_sentence(wires: Wires) -> str:
    """The highest voltage that the panels reach."""
    cold = wires.cold
    air, usual = (quantity(round(degrees, 1), "Cel") for degrees in (cold.air_temperature, cold.air.usual))
    known = (
        "the coldest air that you typed"
        if cold.air.basis == "typed"
        else f"coldest night of ten years, about {usual}, less {quantity(MARGIN, 'K')} for the doubt"
    )
    return f"The panels' open-circuit voltage is {quantity(cold.voltage, 'V')} at {air} ({known})."
