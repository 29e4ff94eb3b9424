"""The basin under a finished fountain: its water, what runs back into it when the pump stops, and what it must keep."""

import math
from dataclasses import dataclass

from sizing.basin.sentences import (
    assumed_of,
    basin_notes,
    check_valve,
    falls_back,
    held_sentence,
    shape_words,
    turnover_sentence,
)
from sizing.basin.shape import (
    CHANNEL,
    LEAST_COVER,
    MARGIN,
    basin_volume,
    depth_to_lose,
    freeboard_of,
    level_rise,
    pipe_volume,
    rectangular_area,
    round_area,
    turnover,
    water_behind_lip,
)
from sizing.design.budget_input import BasinInput, Build, Wind
from sizing.foundation.formats import quantity
from sizing.foundation.units import HOUR, LITRE_PER_MINUTE
from sizing.foundation.working import Worked, assumed, by_method, given, work
from sizing.hydraulic.outlet import Spillway, outlet_head
from sizing.report.report import Report


@dataclass(frozen=True, eq=False)
class Basin:
    """The water's bed. Lengths [m], areas [m2], volumes [m3], flow [m3/s].

    ``given`` tells a basin of the design from a proposed one; ``length`` and ``width`` are both the diameter of a round
    one. ``top`` is the highest water of the year above the still level (``None`` for a spillway or where none plays).
    ``held_back`` comes back when the pump stops, so the level rises by ``rise``, and a rim ``freeboard`` above the
    playing level holds it. Of the depth, ``lowest_level`` stays over the pump and ``usable_depth`` may be lost.
    ``mean_flow`` is that while it plays, ``turnover_hours`` the playing hours in which the whole volume passes the pump
    (``None`` where nothing plays). Sentences: ``words``, ``jet_check``, ``held_sentence``, ``turnover_sentence``,
    ``notes`` and ``assumptions``. ``falls_inside`` is whether the water falls back into the basin on a calm day
    (``None`` where none plays); each number that is summed unfolds in ``working``, the volume first.
    """

    given: bool
    round: bool
    build: Build
    wind: Wind
    dry_spell_days: int
    words: str
    length: float
    width: float
    depth: float
    area: float
    rim_length: float
    volume: float
    top: float | None
    falls_inside: bool | None
    jet_check: str
    held_back: float
    rise: float
    freeboard: float
    held_sentence: str
    lowest_level: float
    usable_depth: float
    usable_volume: float
    mean_flow: float
    turnover_hours: float | None
    turnover_sentence: str
    notes: tuple[str, ...]
    assumptions: tuple[str, ...]
    working: tuple[Worked, ...]


def basin_of(report: Report) -> Basin:
    """The basin of a finished sizing, or the one that is proposed for it.

    Parameters
    ----------
    report : of ``size``; its fountain need not play
    """
    under = report.basin
    basin, is_given = under.basin, under.given
    sides = sides_worked(basin, is_given)
    depth = dimension("depth", basin.depth_m, is_given)
    area = area_worked(sides)
    volume = work(basin_volume, area=area, depth=depth)
    held = held_worked(report)
    rise = work(level_rise, held_back=held, area=area)
    freeboard = work(freeboard_of, rise=rise, margin=assumed("margin", MARGIN, "m", "common_practice"))
    lowest = assumed("lowest_level", min(LEAST_COVER, basin.depth_m), "m", "common_practice")
    usable = work(depth_to_lose, depth=depth, lowest_level=lowest, rise=rise)
    usable_volume = work(basin_volume, area=area, depth=usable)
    mean_flow = report.year.water / (report.year.running_hours * HOUR) if report.year.running_hours > 0 else 0.0
    passes = turnover_worked(volume, mean_flow)
    long, wide = sides[0].value, sides[-1].value
    return Basin(
        given=is_given,
        round=len(sides) == 1,
        build=basin.build,
        wind=basin.wind,
        dry_spell_days=basin.dry_spell_days,
        words=shape_words(tuple(side.value for side in sides), basin.depth_m),
        length=long,
        width=wide,
        depth=basin.depth_m,
        area=area.value,
        rim_length=math.pi * long if len(sides) == 1 else 2 * (long + wide),
        volume=volume.value,
        top=under.top or None,
        falls_inside=under.falls_inside,
        jet_check=falls_back(report),
        held_back=held.value,
        rise=rise.value,
        freeboard=freeboard.value,
        held_sentence=held_sentence(report, held.value, rise.value, freeboard.value),
        lowest_level=lowest.value,
        usable_depth=usable.value,
        usable_volume=usable_volume.value,
        mean_flow=mean_flow,
        turnover_hours=passes[0].value if passes else None,
        turnover_sentence=turnover_sentence(passes[0].value if passes else None),
        notes=basin_notes(basin.depth_m, rise.value, usable.value),
        assumptions=assumed_of(report, is_given),
        working=(volume, usable_volume, freeboard, *passes),
    )


def dimension(name: str, value: float, is_given: bool) -> Worked:
    """A size [m] that the design gave, or that is proposed."""
    if is_given:
        return given(name, value, "m")
    how = "Proposed, since the design has no basin."
    return Worked(name, value, "m", "assumed", "common_practice", method=how)


def sides_worked(basin: BasinInput, is_given: bool) -> tuple[Worked, ...]:
    """Diameter of a round basin, or length and width."""
    if basin.length_m is None or basin.width_m is None:
        return (dimension("diameter", basin.diameter_m or 0.0, is_given),)
    return dimension("length", basin.length_m, is_given), dimension("width", basin.width_m, is_given)


def area_worked(sides: tuple[Worked, ...]) -> Worked:
    """Surface of the water [m2]."""
    if len(sides) == 1:
        return work(round_area, diameter=sides[0])
    return work(rectangular_area, length=sides[0], width=sides[1])


def held_worked(report: Report) -> Worked:
    """Water that comes back when the pump stops [m3]: the whole pipe at most, or what stands above a lip."""
    outlet, pipe = report.fountain.waterway.outlet, report.fountain.waterway.pipe
    parts = []
    if outlet.height > 0 and not check_valve(report):
        parts.append(
            work(
                pipe_volume,
                pipe_diameter=given("pipe_diameter", pipe.diameter, "m"),
                pipe_length=given("pipe_length", pipe.length, "m"),
            )
        )
    flow = float(report.operation.flow.max())
    if isinstance(outlet, Spillway) and flow > 0:
        how = f"Head over the lip at the year's largest flow, {quantity(flow / LITRE_PER_MINUTE, 'l/min')}."
        parts.append(
            work(
                water_behind_lip,
                width=given("width", outlet.width, "m"),
                channel=assumed("channel", CHANNEL, "m", "common_practice"),
                head=by_method("head", float(outlet_head(outlet, flow)), "m", "francis_weir", how),
            )
        )
    return together(parts)


def together(parts: list[Worked]) -> Worked:
    """The parts of what comes back as one number."""
    if not parts:
        return by_method("held_back", 0.0, "m3", "hydrostatics", "Nothing stands above the water level that could run back.")
    text = " + ".join(part.name for part in parts)
    inputs = tuple((part.name, part) for part in parts)
    return Worked("held_back", sum(part.value for part in parts), "m3", "computed", "hydrostatics", text, "", inputs)


def turnover_worked(volume: Worked, mean_flow: float) -> tuple[Worked, ...]:
    """Hours in which the basin passes the pump; nothing where it never plays."""
    if mean_flow <= 0:
        return ()
    how = "Water of the year over the hours in which it plays."
    return (work(turnover, volume=volume, mean_flow=by_method("mean_flow", mean_flow, "m3/s", "hydrostatics", how)),)
