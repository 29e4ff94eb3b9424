"""What must be bought for one design: each part with its quantity, and one sentence why, with the number that asks for it."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from sizing.design.budget_input import Price
from sizing.design.design import ControllerConnection, Design, NozzleOutlet
from sizing.foundation.formats import figures, length, litres, quantity
from sizing.foundation.units import LITRE, LITRE_PER_MINUTE, MILLIMETRE
from sizing.fountain.components import controller_words, fed_by_ring
from sizing.hydraulic.nozzle_kinds import NOZZLE_NAMES
from sizing.hydraulic.outlet import Nozzle, OpenPipe
from sizing.hydraulic.pipes import FITTING_NAMES
from sizing.installation.building import Building
from sizing.installation.reasons import array_power

ELECTRIC, WATER, BASIN = "Panel, pump and wires", "Pipe and outlet", "Basin"
"""Groups of the list, in its order."""
SLACK, ENDS = 0.1, 1.0
"""[1], [m] Length bought beyond what was measured, as a share and for both ends together; common practice, no source."""
MARGIN = "a tenth more and half a metre at each end (common practice, no source)"
CLIP_EVERY = 0.5
"""[m] Distance of clips that hold pipe and cable; common practice, no source."""
OVERLAP = 0.3
"""[m] Liner beyond the rim on each side; common practice, no source."""
STRAINER_TIMES = 10
"""[1] Free area of a strainer over the pipe's; common practice, no source."""


@dataclass(frozen=True)
class Part:
    """One line of the list: key of its price, group, name, how many of which unit, why, and the price of one if known."""

    key: str
    group: str
    name: str
    quantity: Decimal
    unit: str
    reason: str
    price: Price | None


@dataclass(frozen=True)
class PartsList:
    """The parts in the order of the sun and the water, and whole sentences on what is not needed, with the reason."""

    parts: tuple[Part, ...]
    left_out: tuple[str, ...]


def parts_of(built: Building) -> PartsList:
    """The parts of a sized design.

    Parameters
    ----------
    built : of ``building_of``; its fountain need not play
    """
    parts = (*electric(built), *in_the_water(built), *of_the_basin(built))
    fuse = built.wires.fuse
    return PartsList(parts, () if fuse.needed else (f"No fuse is listed. {fuse.sentence}",))


def priced(built: Building, key: str) -> Price | None:
    """The price that the design gives for a part of the list."""
    budget = built.report.design.budget
    return next((row for row in budget.parts if row.part == key), None) if budget is not None else None


def up_to(value: float, step: str) -> Decimal:
    """A quantity rounded up to the next step that can be bought; what a float is off by counts for nothing.

    Examples
    --------
    >>> up_to(7.3, "0.5"), up_to(7.5, "0.5"), up_to(0.0, "0.5")
    (Decimal('7.5'), Decimal('7.5'), Decimal('0.0'))
    """
    return Decimal(math.ceil(value / float(step) - 1e-9)) * Decimal(step)


def pieces(count: int) -> Decimal:
    """A whole number of things."""
    return Decimal(count)


def bought_length(measured: float) -> Decimal:
    """Length to buy [m] for one that was measured, in half metres."""
    return up_to(measured * (1 + SLACK) + ENDS, "0.5")


def electric(built: Building) -> Iterator[Part]:
    """Panels, their mount, pump, controller, cable, connectors, switch and fuse."""
    report, wires = built.report, built.wires
    panel, pump, joined = report.fountain.panel_input, report.fountain.pump_input, report.design.connection
    many = panel.in_series * panel.in_parallel
    strings = f"{panel.in_series} in series, {panel.in_parallel} in parallel"
    why = f"{figures(many)} of them ({strings}) give {array_power(report)} by their label."
    yield Part("panel", ELECTRIC, panel.name, pieces(many), "pieces", why, panel.price)
    mount = (
        f"It holds {figures(many)} panel{'s' if many > 1 else ''} at a tilt of {quantity(report.mounting.tilt, 'deg', 2)} "
        "against the wind, which a licensed person judges."
    )
    yield Part(
        "panel_mount", ELECTRIC, "panel mount with its fixings", pieces(many), "pieces", mount, priced(built, "panel_mount")
    )
    flow = quantity(float(report.operation.flow.max()) / LITRE_PER_MINUTE, "l/min")
    yield Part("pump", ELECTRIC, pump.name, pieces(1), "pieces", f"It lifts up to {flow} in this year of sun.", pump.price)
    if isinstance(joined, ControllerConnection):
        efficiency, volts = quantity(joined.efficiency_pct, "%"), quantity(wires.cold.voltage, "V")
        words = f"{controller_words(joined.controller_kind)} that tracks maximum power"
        passes = f"It is counted on to pass on {efficiency}, and must bear {volts} on a cold dawn."
        yield Part("controller", ELECTRIC, words, pieces(1), "pieces", passes, joined.price)
    yield cable(built)
    pairs = panel.in_parallel * (panel.in_series + 1)
    bears = quantity(wires.design_current, "A")
    plugs = f"A string has one between two panels and one at each of its ends; each must bear {bears}."
    yield Part(
        "connectors",
        ELECTRIC,
        "pairs of connectors for direct current",
        pieces(pairs),
        "pairs",
        plugs,
        priced(built, "connectors"),
    )
    breaks = (
        f"It must break {bears} of direct current at {quantity(wires.cold.voltage, 'V')}, both poles; one for alternating "
        "current does not."
    )
    yield Part("switch", ELECTRIC, "two-pole switch for direct current", pieces(1), "pieces", breaks, priced(built, "switch"))
    if wires.fuse.needed:
        rating = "as rated" if wires.fuse.rating is None else quantity(wires.fuse.rating, "A")
        yield Part(
            "fuse", ELECTRIC, f"fuse for direct current, {rating}, with holder", pieces(panel.in_parallel), "pieces",
            wires.fuse.sentence, priced(built, "fuse"),
        )  # fmt: skip


def cable(built: Building) -> Part:
    """Two-core cable from the panel to the pump."""
    wires = built.wires
    much = bought_length(wires.length)
    thin = wires.smallest
    would = "" if thin is None else f"; the thinnest size that keeps less than 3 % is {thin.size.name}"
    why = (
        f"{quantity(wires.length, 'm')} one way, {MARGIN}; {wires.own.size.name} keeps "
        f"{figures(100 * wires.own.drop_share, 2)} % of the voltage{would}."
    )
    return Part("cable", ELECTRIC, f"two-core cable, {wires.own.size.name}", much, "m", why, priced(built, "cable"))


def in_the_water(built: Building) -> Iterator[Part]:
    """Pipe, fittings, outlet, fixings and strainer."""
    design, outlet = built.report.design, built.report.fountain.waterway.outlet
    bore = quantity(design.pipe.inside_diameter_mm, "mm")
    run = f"{quantity(design.pipe.length_m, 'm')} along its way, {MARGIN}."
    much = bought_length(design.pipe.length_m)
    sort = {"ribbed_hose": "ribbed pond hose", "galvanised_steel": "galvanised steel pipe"}.get(design.pipe.kind or "", "pipe")
    yield Part("pipe", WATER, f"{sort}, {bore} inside", much, "m", run, priced(built, "pipe"))
    counts: dict[str, int] = {}
    for fitting in design.pipe.fittings:
        counts[fitting.kind] = counts.get(fitting.kind, 0) + fitting.count
    if fed_by_ring(design):
        counts["tee_branch"] = counts.get("tee_branch", 0) + 1
    for kind, count in counts.items():
        why = f"The design counts {figures(count)} of them in its pipe of {bore}."
        name = FITTING_NAMES[kind]
        yield Part(kind, WATER, name[0].lower() + name[1:], pieces(count), "pieces", why, priced(built, kind))
    if isinstance(outlet, Nozzle):
        name, number, why = nozzle_part(design, outlet)
    elif isinstance(outlet, OpenPipe):
        name, number = f"upright pipe, {figures(outlet.diameter / MILLIMETRE)} mm inside", 1
        why = f"It ends {length(outlet.height)} above the water."
    else:
        name, number = f"lip of a spillway, {length(outlet.width)} wide", 1
        why = f"The water falls {length(outlet.height)} from it, so it must lie level."
    yield Part("outlet", WATER, name, pieces(number), "pieces", why, priced(built, "outlet"))
    runs = design.pipe.length_m + design.cable.length_m
    clips = f"One each {length(CLIP_EVERY)} along {quantity(runs, 'm')} of pipe and cable (common practice, no source)."
    yield Part(
        "fixings", WATER, "clips for pipe and cable", up_to(runs / CLIP_EVERY, "1"), "pieces", clips, priced(built, "fixings")
    )
    free = STRAINER_TIMES * math.pi / 4 * (design.pipe.inside_diameter_mm / 10) ** 2
    screen = f"Its openings together have at least {figures(free, 2)} cm², ten times the pipe's (common practice, no source)."
    yield Part("strainer", WATER, "strainer around the pump's intake", pieces(1), "pieces", screen, priced(built, "strainer"))


def nozzle_part(design: Design, outlet: Nozzle) -> tuple[str, int, str]:
    """Nozzles, or the one ring or row of pipe that has all openings: name, how many, and why."""
    given = design.outlet
    bore, high = f"{figures(outlet.bore / MILLIMETRE)} mm", f"{length(outlet.height)} above the water"
    kind = getattr(given, "nozzle_kind", None)
    like = f", {NOZZLE_NAMES[kind].lower()}" if kind not in (None, "not_known") else ""
    if isinstance(given, NozzleOutlet) and given.feed is not None:
        feed, holes = given.feed, f"{figures(outlet.count)} holes of {bore}"
        size = f"{length(feed.size_m)} {'across' if feed.kind == 'ring' else 'long'}"
        name = f"{feed.kind} of pipe, {figures(feed.inside_diameter_mm)} mm inside, {size}, with {holes}"
        return name, 1, f"Its {figures(outlet.count)} openings{like} are {high} and must be level."
    why = f"{figures(outlet.count)} opening{'s' if outlet.count > 1 else ''}{like}, {high}."
    return f"nozzle, {bore} bore", outlet.count, why


def of_the_basin(built: Building) -> Iterator[Part]:
    """A tub or a liner, and what lies over the water."""
    basin = built.basin
    if basin.build == "tub":
        need = f"It holds at least {litres(basin.volume / LITRE)}: {basin.words}."
        yield Part("basin", BASIN, "tub", pieces(1), "pieces", need, priced(built, "basin"))
    else:
        sides = [side + 2 * (basin.depth + OVERLAP) for side in (basin.length, basin.width)]
        need = (
            f"{quantity(sides[0], 'm')} by {quantity(sides[1], 'm')}: the water, twice its depth of {length(basin.depth)} and "
            f"{length(OVERLAP)} over the rim on each side (common practice, no source)."
        )
        yield Part("liner", BASIN, "liner", up_to(sides[0] * sides[1], "0.1"), "m²", need, priced(built, "liner"))
    deep = (
        f"Water {length(basin.depth)} deep lies open below it; whether a grid that bears a child, a fence or something else is "
        "asked for is decided by local rules."
    )
    yield Part("cover", BASIN, "grid over the water", up_to(basin.area, "0.1"), "m²", deep, priced(built, "cover"))
