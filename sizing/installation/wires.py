"""The cable of a finished sizing: what it keeps of the panel's volts, what that costs in water, and which size would do.

Each size is sized over the report's own sun. The drop is judged at the report's operating points at which the
fountain plays without any loss in the cable: the same points for every size, so a thicker cable never keeps more.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sizing.electric.conductors import GAUGE_SIZES, METRIC_SIZES, CableSize, metric_size, size_resistance
from sizing.electric.wiring import voltage_drop
from sizing.foundation.formats import litres, percent, quantity
from sizing.foundation.units import HOUR, LITRE, SQUARE_MILLIMETRE
from sizing.foundation.working import Worked, by_method, work
from sizing.installation.electric_limits import (
    ColdVoltage,
    FuseRule,
    VoltageLimit,
    cold_voltage,
    fuse_rule,
    licensed_reasons,
    voltage_limits,
    worked_design_current,
)
from sizing.operation.load_line import LoadLine, load_line
from sizing.operation.operating_point import (
    CELL_TEMPERATURES,
    GRID_IRRADIANCE,
    GridPlace,
    Offer,
    OperatingGrid,
    OperatingPoints,
    controlled_match,
    controller_offer,
    direct_match,
    flow_alone,
    grid_place,
    operate,
    top_speed,
)
from sizing.report.moment_power import cable, lost_share, supply_voltage
from sizing.report.report import Report

Array = NDArray[np.float64]

DROP_LIMIT = 0.03
"""[1] Share of the voltage that a cable may keep, by practice (nec_210_19)."""
ROWS_SHOWN, THINNER_SHOWN = 5, 2
"""[1] How many sizes of a family are shown, and how many of them are thinner than the one that would do."""


@dataclass(frozen=True)
class CableRow:
    """One size: resistance [ohm] there and back; largest share of the voltage that it keeps at the operating points
    that count, and the volts there [V]; water of the year with it [m3], and how much less than with the design's own."""

    size: CableSize
    resistance: float
    drop_share: float
    drop_volts: float
    water: float
    water_lost: float


@dataclass(frozen=True)
class DropAt:
    """What the design's own cable keeps at one operating point: sun [W/m2], current [A], volts [V], share of the voltage
    before it [1], and whether the fountain plays there."""

    irradiance: float
    current: float
    volts: float
    share: float
    plays: bool


@dataclass(frozen=True, eq=False)
class Wires:
    """The wiring of one design: length one way [m], temperature of the copper [Cel], limit of the drop [1].

    ``rows`` are the sizes around what is needed, square millimetres first, each family thinnest first; ``smallest`` is
    the thinnest size in square millimetres that stays under the limit (``None`` if none does), ``next_size`` the next
    thicker, ``smallest_gauge`` the thinnest of the wire gauge. ``water_without_loss`` [m3 a year] is that of a cable
    without resistance. ``short_circuit`` and ``design_current`` [A] are those of the whole array. ``licensed`` has whole
    sentences why a licensed person must look; empty does not mean that none need look.
    """

    length: float
    temperature: float
    limit: float
    limit_source: str
    rows: tuple[CableRow, ...]
    points: tuple[DropAt, ...]
    own: CableRow
    smallest: CableRow | None
    next_size: CableRow | None
    smallest_gauge: CableRow | None
    water_without_loss: float
    sentence: str
    short_circuit: float
    design_current: float
    fuse: FuseRule
    cold: ColdVoltage
    limits: tuple[VoltageLimit, ...]
    licensed: tuple[str, ...]
    working: tuple[Worked, ...]


@dataclass(frozen=True, eq=False)
class Bench:
    """The fountain of a report, ready to be joined by one cable after another: load line, power of a controller, the
    moments with sun and their place on the grid, hours of a step, and which operating points count."""

    report: Report
    line: LoadLine
    offer: Offer | None
    lit: NDArray[np.int64]
    on_grid: GridPlace
    step: float
    counting: NDArray[np.bool_]


def wires_of(report: Report) -> Wires:
    """Everything about the cable of a finished sizing; costs about 15 ms.

    Parameters
    ----------
    report : of ``size``; its cable may have no length, and its fountain need not play
    """
    cable_input = report.design.cable
    bench = bench_of(report)
    metric, gauge = needed_sizes(bench, METRIC_SIZES), needed_sizes(bench, GAUGE_SIZES)
    unlossy = year_water(bench, joined(bench, 0.0))
    own = row_of(bench, metric_size(cable_input.area_mm2 * SQUARE_MILLIMETRE), None)
    rows = {size: row_of(bench, size, own.water) for size in (*metric[0], *gauge[0])}
    smallest, thicker, thinnest = (rows[size] if size else None for size in (*metric[1:], gauge[1]))
    current = worked_design_current(report)
    cold = cold_voltage(report)
    controller = report.fountain.supply.controller_efficiency is not None
    return Wires(
        length=cable_input.length_m,
        temperature=cable_input.conductor_temperature_c,
        limit=DROP_LIMIT,
        limit_source="nec_210_19",
        rows=tuple(rows.values()),
        points=drops_at_points(report),
        own=own,
        smallest=smallest,
        next_size=thicker,
        smallest_gauge=thinnest,
        water_without_loss=unlossy,
        sentence=sentence_of(cable_input.length_m, own, smallest, thicker, unlossy),
        short_circuit=dict(current.inputs)["short_circuit_current"].value,
        design_current=current.value,
        fuse=fuse_rule(report, cold.voltage),
        cold=cold,
        limits=voltage_limits(cold.voltage, controller),
        licensed=licensed_reasons(cold.voltage, controller),
        working=(*worked_drop(report), current),
    )


def bench_of(report: Report) -> Bench:
    """What all sizes of cable share."""
    fountain, sun = report.fountain, report.sun
    supply = fountain.supply
    line = load_line(fountain.pump, fountain.waterway, top_speed(supply, fountain.pump))
    controlled = supply.controller_efficiency is not None
    offer = controller_offer(supply, GRID_IRRADIANCE, CELL_TEMPERATURES[:, None]) if controlled else None
    lit = np.flatnonzero(sun.effective > 0)
    place = grid_place(sun.effective[lit], sun.cell_temperature[lit])
    bench = Bench(report, line, offer, lit, place, 24.0 / report.sky.steps_per_day, np.ones(len(report.strengths), bool))
    plays = at_points(bench, joined(bench, 0.0)).flow > 0
    strongest = report.strengths == report.strengths.max()
    return replace(bench, counting=plays if np.any(plays) else strongest)


def joined(bench: Bench, resistance: float) -> OperatingGrid:
    """The fountain of the report, joined by a cable of so many ohms."""
    supply = replace(bench.report.fountain.supply, cable_resistance=resistance)
    if bench.offer is None:
        return direct_match(supply, bench.line, GRID_IRRADIANCE)
    return controlled_match(supply, bench.line, GRID_IRRADIANCE, bench.offer)


def at_points(bench: Bench, solved: OperatingGrid) -> OperatingPoints:
    """The operating points at the report's strengths of sun."""
    return operate(solved, bench.report.strengths, bench.report.strength_temperature)


def year_water(bench: Bench, solved: OperatingGrid) -> float:
    """Water of the year [m3] under the report's own sun."""
    sun = bench.report.sun
    flow = flow_alone(solved, sun.effective[bench.lit], sun.cell_temperature[bench.lit], bench.on_grid)
    return float(flow.sum()) * bench.step * HOUR


def drop_and_share(found: OperatingPoints, resistance: float) -> tuple[Array, Array]:
    """Volts that the cable keeps at each operating point, and their share of the voltage before it; 0 where no current flows."""
    drop = np.asarray(voltage_drop(found.current, resistance))
    before = found.voltage + drop
    return drop, np.where(before > 0, drop / np.where(before > 0, before, 1.0), 0.0)


def worst_drop(bench: Bench, size: CableSize) -> tuple[float, float]:
    """Largest share that a size of cable keeps at the points that count, and the volts there."""
    resistance = resistance_with(bench, size)
    drop, share = drop_and_share(at_points(bench, joined(bench, resistance)), resistance)
    worst = int(np.argmax(np.where(bench.counting, share, -1.0)))
    return float(share[worst]), float(drop[worst])


def resistance_with(bench: Bench, size: CableSize) -> float:
    """Resistance [ohm] of the design's cable in another size."""
    cable_input = bench.report.design.cable
    return size_resistance(size, cable_input.length_m, cable_input.conductor_temperature_c)


def row_of(bench: Bench, size: CableSize, own_water: float | None) -> CableRow:
    """One size under the report's sun; the design's own where no water to compare with is given."""
    resistance = resistance_with(bench, size)
    share, volts = worst_drop(bench, size)
    water = year_water(bench, joined(bench, resistance))
    return CableRow(size, resistance, share, volts, water, 0.0 if own_water is None else own_water - water)


def needed_sizes(bench: Bench, sizes: tuple[CableSize, ...]) -> tuple[tuple[CableSize, ...], CableSize | None, CableSize | None]:
    """Of a family, thinnest first: the sizes to show, the thinnest that stays under the limit, and the next thicker."""
    index = next((index for index, size in enumerate(sizes) if worst_drop(bench, size)[0] < DROP_LIMIT), None)
    middle = len(sizes) - 1 if index is None else index
    first = min(max(middle - THINNER_SHOWN, 0), len(sizes) - ROWS_SHOWN)
    shown = sizes[first : first + ROWS_SHOWN]
    if index is None:
        return shown, None, None
    return shown, sizes[index], sizes[index + 1] if index + 1 < len(sizes) else None


def drops_at_points(report: Report) -> tuple[DropAt, ...]:
    """What the design's own cable keeps at each of the report's operating points."""
    found = report.points
    drop, share = drop_and_share(found, report.fountain.supply.cable_resistance)
    columns = (report.strengths, found.current, drop, share, found.flow > 0)
    return tuple(
        DropAt(float(sun), float(current), float(volts), float(part), bool(plays))
        for sun, current, volts, part, plays in zip(*columns, strict=True)
    )


def worked_drop(report: Report) -> tuple[Worked, ...]:
    """The drop at the strongest sun listed, unfolded down to the table of conductors; nothing without current."""
    found = report.points
    if found.current[-1] <= 0:
        return ()
    how = f"At the operating point of {quantity(float(report.strengths[-1]), 'W/m2')} on the cells."
    current = by_method("motor_current", float(found.current[-1]), "A", "motor_equations", how)
    voltage = by_method("motor_voltage", float(found.voltage[-1]), "V", "motor_equations", how)
    drop = work(voltage_drop, current=current, resistance=cable(report.design))
    before = work(supply_voltage, motor_voltage=voltage, voltage_drop=drop)
    return (work(lost_share, voltage_drop=drop, supply_voltage=before),)


def sentence_of(length: float, own: CableRow, smallest: CableRow | None, thicker: CableRow | None, unlossy: float) -> str:
    """What the cable costs and which size would do, in whole sentences."""
    if length <= 0:
        return "The cable has no length, so it keeps nothing of the panel's voltage, and any size does as well."
    cost = max(unlossy - own.water, 0.0)
    of_all = f" ({percent(cost / unlossy)} of all)" if unlossy > 0 else ""
    limit = percent(DROP_LIMIT)
    found = [
        f"The cable of {own.size.name}, {quantity(length, 'm')} long, keeps up to {percent(own.drop_share, 3)} of the voltage, "
        f"{quantity(own.drop_volts, 'V')}, at the operating points, which costs {litres(cost / LITRE)} of water a year{of_all} "
        "beside a cable without loss."
    ]
    if smallest is None:
        found.append(
            f"Not even {METRIC_SIZES[-1].name} keeps less than {limit}: a shorter cable would, or panel and pump of more volts "
            "and fewer amperes."
        )
    else:
        does = f"{smallest.size.name}, with {percent(smallest.drop_share, 3)}{water_beside(smallest)}"
        found.append(f"The thinnest size that keeps less than {limit} is {does}.")
    if thicker is not None:
        found.append(f"The next is {thicker.size.name}, with {percent(thicker.drop_share, 3)}{water_beside(thicker)}.")
    found.append(f"The limit of {limit} is good practice, named for information in a note of NFPA 70 (NEC), not a requirement.")
    return " ".join(found)


def water_beside(row: CableRow) -> str:
    """How much more or less water a size brings than the design's own; nothing to say below a tenth of a litre.

    Examples
    --------
    >>> water_beside(CableRow(metric_size(2.5e-6), 0.1, 0.01, 0.2, 7.0, -0.73)).replace(chr(160), " ")
    ' and 730 L of water a year more than now'
    """
    if abs(row.water_lost) < LITRE / 10:
        return ""
    return f" and {litres(abs(row.water_lost) / LITRE)} of water a year {'less' if row.water_lost > 0 else 'more'} than now"
