"""Designs with changes, sized over the goal's hours alone; each part is worked out once.

The light of a year depends on the panel's plane alone, and the grid on everything but the plane: a tilt needs no grid, a
nozzle no light. What comes out is what a whole sizing finds.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from sizing.design.design import Design
from sizing.foundation.errors import SizingError
from sizing.fountain.components import fountain_of, goal_of, index_of, outlet_of, pipe_of, pump_of, supply_of
from sizing.fountain.site_setup import Setting, mounting_of
from sizing.hydraulic.pump import Pump
from sizing.hydraulic.water import density
from sizing.light.irradiance import PlaneSun, plane_sun
from sizing.operation.goal import FlowBand, Goal, day_shares, enough_days, flow_band, in_window, reaching
from sizing.operation.load_line import PipeSystem
from sizing.operation.operating_point import GridPlace, OperatingGrid, Supply, flow_alone, grid_place, operate, solve_grid
from sizing.operation.strain import strain_of, voltage_known_to_be_borne
from sizing.operation.year import DAYS_IN_YEAR, month_of_day
from sizing.reach.changes import Change, Part, together
from sizing.sky.weather import Sky
from sizing.uncertainty.chance import Chance
from sizing.uncertainty.goal_doubt import GoalDoubt, PumpDoubt, goal_chance, goal_doubt, pump_doubt

Array = NDArray[np.float64]
Kept = TypeVar("Kept")

OF_LIGHT: frozenset[Part] = frozenset({"tilt", "azimuth"})
OF_PUMP: frozenset[Part] = frozenset({"pump"})
OF_SUPPLY: frozenset[Part] = frozenset({"panel", "connection"})
OF_WATER: frozenset[Part] = frozenset({"nozzle", "jets", "pipe"})
BRIGHTEST = 200
"""Steps of a year that are looked at first for too many volts."""


@dataclass(frozen=True, eq=False)
class Reached:
    """Share of the days of each month of a goal that count, hours of a year that reach it [h], and the largest flow in its
    hours over the least that reaches it [1], at most 1."""

    met: bool
    day_share: dict[int, float]
    hours: float
    flow_share: float

    @property
    def poorest_month(self) -> int:
        """Month 1..12 on the smallest share of whose days it is reached."""
        return min(self.day_share, key=lambda month: (self.day_share[month], month))

    @property
    def poorest(self) -> float:
        """That share [1]."""
        return self.day_share[self.poorest_month]

    @property
    def nearness(self) -> tuple[float, float, float]:
        """What tells which of two comes nearer to the goal: days, then hours, then flow; more is nearer."""
        return self.poorest, self.hours, self.flow_share


@dataclass(frozen=True, eq=False)
class Workshop:
    """A design whose goal is sought, its setting, the goal, the steps ``inside`` its windows with the sky at them alone, the
    month of each day of the year, and what was worked out already."""

    design: Design
    setting: Setting
    goal: Goal
    inside: NDArray[np.int64]
    hours: Sky
    month_of_day: NDArray[np.int64]
    asked: NDArray[np.int64]
    kept: dict[tuple[str, ...], Any] = field(default_factory=dict)


def workshop_of(design: Design, setting: Setting) -> Workshop:
    """The workshop for a design with a goal."""
    goal = goal_of(design)
    assert goal is not None
    sky = setting.sky
    inside = np.flatnonzero(in_window(goal, sky))
    names = (name for name, value in vars(sky).items() if isinstance(value, np.ndarray) and value.shape == sky.hour.shape)
    hours = replace(sky, **{name: getattr(sky, name)[inside] for name in names})
    asked = np.bincount(hours.day, minlength=DAYS_IN_YEAR)
    return Workshop(design, setting, goal, inside, hours, month_of_day(sky), asked)


def reached_with(shop: Workshop, changes: Sequence[Change]) -> Reached | None:
    """How far a design with some changes reaches the goal; ``None`` where it cannot be sized."""
    try:
        solved, band = grid_with(shop, changes), band_with(shop, changes)
        light = light_with(shop, changes)
    except SizingError:
        return None
    flow = flow_alone(solved, *light)
    reached = reaching(flow, band)
    counted = np.bincount(shop.hours.day[reached], minlength=DAYS_IN_YEAR)
    share = day_shares(shop.goal, shop.month_of_day, counted, shop.asked)
    step = 24.0 / shop.setting.sky.steps_per_day
    near = min(float(flow.max(initial=0.0)) / band.least, 1.0)
    return Reached(enough_days(shop.goal, share), share, float(np.count_nonzero(reached)) * step, near)


def volts_with(shop: Workshop, changes: Sequence[Change]) -> tuple[float, float]:
    """Hours of the year that a pump runs above its highest voltage, or above its rated one where no highest is known [h], and
    the highest voltage that it comes to [V]."""
    pump, solved = pump_with(shop, changes), grid_with(shop, changes)
    limit, most = voltage_known_to_be_borne(pump), float(solved.line.voltage.max())
    if most <= limit:
        return 0.0, most
    effective, cells, brightest = year_light_with(shop, changes)
    step = 24.0 / shop.setting.sky.steps_per_day
    strain = strain_of(pump, operate(solved, effective[brightest], cells[brightest]), step)
    if strain.above_allowed == 0 or not strain.known:
        strain = strain_of(pump, operate(solved, effective, cells), step)
    return strain.above_allowed, strain.most_voltage


def chance_with(shop: Workshop, changes: Sequence[Change], goal: Goal | None = None) -> Chance:
    """Chance that a design with some changes meets its goal, or another one that asks for the same jet or flow."""
    doubt = doubt_with(shop, changes)
    if goal is not None:
        doubt = goal_doubt_of(shop, together(shop.design, changes), goal, sun_with(shop, changes))
    return goal_chance(doubt, asked_with(shop, changes), supply_with(shop, changes))


def goal_doubt_of(shop: Workshop, design: Design, goal: Goal, sun: PlaneSun) -> GoalDoubt:
    """What is not known of a goal, on the plane of some sun."""
    return goal_doubt(design, shop.setting.sky, sun, shop.setting.place, mounting_of(design, shop.setting.place), goal)


# Parts, each worked out once


def kept(shop: Workshop, name: str, parts: frozenset[Part], changes: Sequence[Change], work: Callable[[Design], Kept]) -> Kept:
    """What some parts of a design come to, from the changes that touch them alone."""
    own = [change for change in changes if change.part in parts]
    key = (name, *sorted(change.key for change in own))
    if key not in shop.kept:
        try:
            shop.kept[key] = work(together(shop.design, own))
        except SizingError as error:
            shop.kept[key] = error
    found = shop.kept[key]
    if isinstance(found, SizingError):
        raise found
    return found


def pump_with(shop: Workshop, changes: Sequence[Change]) -> Pump:
    """The pump."""

    def work(design: Design) -> Pump:
        at = index_of("pump", [pump.id for pump in design.pumps], design.chosen.pump if design.chosen else None)
        return pump_of(design.pumps[at], float(density(design.water_temperature_c)), f"#/pumps/{at}")

    return kept(shop, "pump", OF_PUMP, changes, work)


def supply_with(shop: Workshop, changes: Sequence[Change]) -> Supply:
    """Panel, cable and controller."""

    def work(design: Design) -> Supply:
        at = index_of("panel", [panel.id for panel in design.panels], design.chosen.panel if design.chosen else None)
        return supply_of(design, design.panels[at], f"#/panels/{at}")

    return kept(shop, "supply", OF_SUPPLY, changes, work)


def water_with(shop: Workshop, changes: Sequence[Change]) -> PipeSystem:
    """Pipe and outlet."""
    return kept(shop, "water", OF_WATER, changes, lambda design: PipeSystem(pipe_of(design), outlet_of(design)))


def band_with(shop: Workshop, changes: Sequence[Change]) -> FlowBand:
    """The flows that reach the goal."""
    return kept(shop, "band", OF_WATER, changes, lambda _: flow_band(shop.goal, water_with(shop, changes)))


def grid_with(shop: Workshop, changes: Sequence[Change]) -> OperatingGrid:
    """The operating points for all sun."""

    def work(_: Design) -> OperatingGrid:
        return solve_grid(supply_with(shop, changes), pump_with(shop, changes), water_with(shop, changes))

    return kept(shop, "grid", OF_PUMP | OF_SUPPLY | OF_WATER, changes, work)


def doubt_with(shop: Workshop, changes: Sequence[Change]) -> GoalDoubt:
    """The light of the goal's hours in all draws."""
    return kept(shop, "doubt", OF_LIGHT, changes, lambda design: goal_doubt_of(shop, design, shop.goal, sun_with(shop, changes)))


def asked_with(shop: Workshop, changes: Sequence[Change]) -> PumpDoubt:
    """What the pump asks in all draws, with the panel and the plane of the design."""

    def work(design: Design) -> PumpDoubt:
        return pump_doubt(replace(doubt_with(shop, ()), design=design, water=[]), fountain_of(design))

    return kept(shop, "asked", OF_PUMP | OF_WATER, changes, work)


def sun_with(shop: Workshop, changes: Sequence[Change]) -> PlaneSun:
    """Sun on the panel's plane over the whole year."""

    def work(design: Design) -> PlaneSun:
        stand = mounting_of(design, shop.setting.place)
        return plane_sun(shop.setting.sky, shop.setting.place, stand.tilt, stand.azimuth, stand.soiling)

    return kept(shop, "sun", OF_LIGHT, changes, work)


def light_with(shop: Workshop, changes: Sequence[Change]) -> tuple[Array, Array, GridPlace]:
    """Sun on the cells [W/m2] and their temperature [Cel] in the hours of the goal, and where they lie on the grid."""

    def work(design: Design) -> tuple[Array, Array, GridPlace]:
        stand = mounting_of(design, shop.setting.place)
        sun = plane_sun(shop.hours, shop.setting.place, stand.tilt, stand.azimuth, stand.soiling)
        return sun.effective, sun.cell_temperature, grid_place(sun.effective, sun.cell_temperature)

    return kept(shop, "light", OF_LIGHT, changes, work)


def year_light_with(shop: Workshop, changes: Sequence[Change]) -> tuple[Array, Array, NDArray[np.int64]]:
    """The same for the lit steps of the whole year, and which of them are the brightest."""

    def work(_: Design) -> tuple[Array, Array, NDArray[np.int64]]:
        sun = sun_with(shop, changes)
        lit = np.flatnonzero(sun.effective > 0)
        effective = sun.effective[lit]
        return effective, sun.cell_temperature[lit], np.argsort(-effective, kind="stable")[:BRIGHTEST]

    return kept(shop, "year", OF_LIGHT, changes, work)
