"""What if: one thing changed at a time, and what comes of it.

Only what can be bought or moved in an afternoon, and what age does by itself; each only where it makes sense and stays
inside the limits of a design file. The sky and the panel's place stay, so the sun of the report is used again.
"""

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sizing.design.design import ControllerConnection, Design, NozzleOutlet, OpenPipeOutlet, PumpInput
from sizing.design.reading import read_design
from sizing.foundation.errors import SizingError
from sizing.foundation.formats import SPACE, figures, quantity
from sizing.foundation.tables import CONDUCTOR_RESISTANCE
from sizing.foundation.units import HOUR, SQUARE_MILLIMETRE
from sizing.fountain.components import Fountain, fountain_of
from sizing.fountain.pump_shape import ELECTRONIC, shape_of
from sizing.hydraulic.outlet import Spillway
from sizing.operation.operating_point import GridPlace, flow_alone, grid_place, operate, solve_grid
from sizing.operation.strain import above_allowed, voltage_known_to_be_borne
from sizing.operation.year import by_hour, month_of_day
from sizing.report.ageing import Settings, Wear, aged
from sizing.report.report import Report

COMMON_BORES = (6.0, 8.0, 10.0, 13.0, 16.0, 19.0, 25.0, 32.0, 38.0, 50.0, 75.0, 100.0)
"""[mm] Inside diameters of hose and pipe that shops have (common practice, no source)."""
LOWER_LIFT = 0.2
"""[m] How much lower the outlet is set."""
BORE_STEP, FINE_BORE_STEP, FINE_BORE = 1.0, 0.5, 4.0
"""[mm] How much wider or narrower a nozzle is taken, and the bore below which the finer step is."""
LIKELY_EFFICIENCY = 90.0
"""[%] Of a controller that is put in (common practice, no source)."""
NOTHING = 0.01
"""[1] A smaller change of the year's water or of the jet is next to nothing."""


@dataclass(frozen=True)
class Change:
    """One change in words, as JSON pointers into the design file with new values (``None`` takes out), and the design with it.

    ``parts`` says what an age is made of, and what each part rests on.
    """

    key: str
    words: str
    settings: Settings
    design: Design
    parts: tuple[Wear, ...] = ()


@dataclass(frozen=True)
class WhatIf:
    """What a change makes of the year: water [m3], hours of play, and the best hour of the usual day of the month that is
    best without it: jet [m], flow [m3/s]. ``more`` of each is the difference to the report. ``over_voltage_hours`` [h a
    year] are those above the highest voltage known for the pump: its highest, or its rated one where none is known."""

    change: Change
    water: float
    more_water: float
    hours: float
    more_hours: float
    jet: float
    more_jet: float
    flow: float
    more_flow: float
    over_voltage_hours: float
    verdict: str


def what_ifs(report: Report) -> tuple[WhatIf, ...]:
    """Every change that makes sense for a design, sized over the same year."""
    return sized(report, changes_of(report.design))


def ages(report: Report) -> tuple[WhatIf, ...]:
    """The fountain at the end of a season and in year ten, each sized over the same year."""
    return sized(report, aged_changes(report.design))


def sized(report: Report, changes: Iterable[Change]) -> tuple[WhatIf, ...]:
    """Changes sized over the year of a report."""
    found, year = [], sunlit(report)
    for change in changes:
        try:
            found.append(with_change(report, change, year))
        except SizingError:
            continue  # such as a lip that the larger flow would leave
    return tuple(found)


def changes_of(design: Design) -> Iterator[Change]:
    """The changes that make sense and stay inside the limits, in the order of the path."""
    document = design.model_dump(mode="json", exclude_unset=True)
    for key, words, settings in (
        *more_panels(design),
        *other_connection(design),
        *thicker_cable(design),
        *wider_pipe(design),
        *lower_outlet(design),
        *other_bores(design),
    ):
        try:
            changed = read_design(changed_document(document, settings))
        except SizingError:
            continue
        yield Change(key, words, settings, changed)
    yield from aged_changes(design)


def aged_changes(design: Design) -> Iterator[Change]:
    """What age does, as changes of a design."""
    document = design.model_dump(mode="json", exclude_unset=True)
    for age in aged(design):
        try:
            yield Change(age.key, age.words, age.settings, read_design(changed_document(document, age.settings)), age.parts)
        except SizingError:
            continue  # such as a pump too small to be smaller


Offer = tuple[str, str, Settings]


def more_panels(design: Design) -> Iterator[Offer]:
    """One more of the chosen panel, side by side."""
    chosen = design.chosen.panel if design.chosen else design.panels[0].id
    for index, panel in enumerate(design.panels):
        if panel.id == chosen:
            count = panel.in_parallel + 1
            yield "panel", f"one more panel beside it, {count} in parallel", ((f"/panels/{index}/in_parallel", count),)


def other_connection(design: Design) -> Iterator[Offer]:
    """A controller where there is none, or none where there is one; a pump with electronics of its own gains nothing by one."""
    if isinstance(design.connection, ControllerConnection):
        settings = (("/connection", {"kind": "direct"}),)
        yield "direct", "no controller, panel straight to the pump", settings
    elif shape_of(chosen_pump(design)) not in ELECTRONIC:
        connection = {"kind": "controller", "efficiency_pct": LIKELY_EFFICIENCY, "controller_kind": "step_down"}
        yield "controller", f"a step-down controller of {figures(LIKELY_EFFICIENCY)}{SPACE}%", (("/connection", connection),)


def chosen_pump(design: Design) -> PumpInput:
    """The pump that is sized."""
    return next((pump for pump in design.pumps if design.chosen and pump.id == design.chosen.pump), design.pumps[0])


def thicker_cable(design: Design) -> Iterator[Offer]:
    """The next conductor of the standard."""
    areas = (area / SQUARE_MILLIMETRE for area, _ in CONDUCTOR_RESISTANCE)
    area = next((round(area, 2) for area in areas if area > 1.001 * design.cable.area_mm2), None)
    if area is not None and design.cable.length_m > 0:
        yield "cable", f"a cable of {figures(area)}{SPACE}mm²", (("/cable/area_mm2", area),)


def wider_pipe(design: Design) -> Iterator[Offer]:
    """The next common bore; an outlet that had the pipe's own diameter keeps it."""
    width = design.pipe.inside_diameter_mm
    wider = next((bore for bore in COMMON_BORES if bore > 1.02 * width), None)
    if wider is None or design.pipe.length_m == 0:
        return
    settings: Settings = (("/pipe/inside_diameter_mm", wider),)
    words = f"a pipe of {figures(wider)}{SPACE}mm inside"
    if isinstance(design.outlet, OpenPipeOutlet) and design.outlet.inside_diameter_mm is None:
        settings = (*settings, ("/outlet/inside_diameter_mm", width))
        words += f", its end still {figures(width)}{SPACE}mm"
    yield "pipe", words, settings


def lower_outlet(design: Design) -> Iterator[Offer]:
    """The outlet nearer to the water."""
    height = design.outlet.height_above_water_m
    lower = round(max(height - LOWER_LIFT, 0.0), 3)
    if lower < height:
        less = figures(100 * (height - lower))
        yield "lift", f"the outlet {less}{SPACE}cm lower", (("/outlet/height_above_water_m", lower),)


def other_bores(design: Design) -> Iterator[Offer]:
    """A nozzle a little wider, and one a little narrower."""
    if not isinstance(design.outlet, NozzleOutlet):
        return
    bore = design.outlet.bore_mm
    step = BORE_STEP if bore >= FINE_BORE else FINE_BORE_STEP
    for key, other in (("wider_nozzle", bore + step), ("narrower_nozzle", bore - step)):
        yield key, f"a nozzle of {figures(other)}{SPACE}mm", (("/outlet/bore_mm", round(other, 3)),)


def changed_document(document: dict[str, Any], settings: Settings) -> dict[str, Any]:
    """A design file with some values put in."""
    changed: dict[str, Any] = json.loads(json.dumps(document))
    for pointer, value in settings:
        *way, last = pointer.strip("/").split("/")
        part: Any = changed
        for name in way:
            part = part[int(name)] if isinstance(part, list) else part.setdefault(name, {})
        part[last] = value
    return changed


@dataclass(frozen=True, eq=False)
class Sunlit:
    """The steps of a year with sun, the light into the cells [W/m2], how warm they are [Cel] and where both lie on the grid;
    and which steps are those of the month that is best in the report, which has ``days``."""

    steps: NDArray[np.int64]
    effective: NDArray[np.float64]
    cell: NDArray[np.float64]
    on_grid: GridPlace
    month: slice
    days: int


def sunlit(report: Report, light: float = 1.0) -> Sunlit:
    """The steps with sun; ``light`` is what gets through the glass, over the report's."""
    sky, sun = report.sky, report.sun
    steps = np.flatnonzero(sun.effective > 0)
    best = max(report.year.months, key=lambda month: (month.water, month.poa_insolation)).month
    days = np.flatnonzero(month_of_day(sky) == best)
    month = slice(int(days[0]) * sky.steps_per_day, (int(days[-1]) + 1) * sky.steps_per_day)
    effective, cell = light * sun.effective[steps], sun.cell_temperature[steps]
    return Sunlit(steps, effective, cell, grid_place(effective, cell), month, len(days))


def with_change(report: Report, change: Change, year_of_sun: Sunlit) -> WhatIf:
    """Size a changed design under the sun of the report."""
    fountain = fountain_of(change.design)
    light = (100 - change.design.mounting.soiling_pct) / (100 - report.design.mounting.soiling_pct)
    water, hours, jet, flow, over = results_of(report, fountain, year_of_sun if light == 1 else sunlit(report, light))
    best = max(report.year.months, key=lambda month: (month.water, month.poa_insolation))
    year, before, allowed = report.year, report.strain.above_allowed, voltage_known_to_be_borne(fountain.pump)
    return WhatIf(
        change,
        water,
        water - year.water,
        hours,
        hours - year.running_hours,
        jet,
        jet - best.jet,
        flow,
        flow - best.flow,
        over,
        verdict((year.water, water), (best.jet, jet), isinstance(fountain.waterway.outlet, Spillway))
        + too_high(over, before, allowed),
    )


def too_high(over: float, before: float, allowed: float) -> str:
    """What more hours above the highest voltage known for the pump [V] add to a verdict.

    Examples
    --------
    >>> too_high(212.0, 0.0, 15.0).replace("\N{NO-BREAK SPACE}", " "), too_high(3.0, 3.0, 15.0)
    (', but above 15 V, the highest voltage known for it, for 212 h a year', '')
    """
    volts, hours = quantity(allowed, "V"), quantity(over, "h")
    return f", but above {volts}, the highest voltage known for it, for {hours} a year" if over > before else ""


def results_of(report: Report, fountain: Fountain, lit: Sunlit) -> tuple[float, float, float, float, float]:
    """Water [m3] and hours of the year, jet [m] and flow [m3/s] at the best hour of the month that is best in the report,
    and hours of the year above the highest voltage known for the pump."""
    per_day = report.sky.steps_per_day
    step = 24.0 / per_day
    solved = solve_grid(fountain.supply, fountain.pump, fountain.waterway)
    flow = flow_alone(solved, lit.effective, lit.cell, lit.on_grid)
    whole = np.zeros_like(report.sun.effective)
    whole[lit.steps] = flow
    usual, line = whole[lit.month], solved.line
    jet, high = (
        float(by_hour(np.median(values.reshape(lit.days, -1), axis=0), per_day).max())
        for values in (np.interp(usual, line.flow, line.jet), usual)
    )
    over = 0.0
    if float(line.voltage.max()) > voltage_known_to_be_borne(fountain.pump):
        found = operate(solved, lit.effective, lit.cell)
        over = step * np.count_nonzero(above_allowed(fountain.pump, found))
    return float(flow.sum()) * step * HOUR, float(np.count_nonzero(flow > 0)) * step, jet, high, over


def verdict(water: tuple[float, float], jet: tuple[float, float], jetless: bool) -> str:
    """Before and after in a word: helps, hurts, both, or does next to nothing."""
    moved = [change for change in (relative(*water), 0.0 if jetless else relative(*jet)) if abs(change) >= NOTHING]
    if not moved:
        return "does next to nothing"
    if all(change > 0 for change in moved):
        return "helps"
    if all(change < 0 for change in moved):
        return "hurts"
    return "more water, lower jet" if moved[0] > 0 else "less water, higher jet"


def relative(before: float, after: float) -> float:
    """Change as a share of the larger of the two."""
    larger = max(before, after)
    return (after - before) / larger if larger > 0 else 0.0
