"""A design's fountain on real days: what it should do under a clear sky, at any moment, with its panel facing anywhere.

The year of a sizing is a year of usual weather. Who measures stands in the garden on one day, at one hour of the clock on
the wall; under a blue sky that moment can be computed.
"""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sizing.design.design import Design
from sizing.electric.panel import point_above_mpp
from sizing.electric.single_diode import at_conditions
from sizing.foundation.errors import Note, SizingError
from sizing.foundation.formats import MONTHS
from sizing.fountain.components import Fountain, fountain_of
from sizing.fountain.site_setup import Mounting, mounting_of, place_of, setting_of
from sizing.hydraulic.outlet import Spillway
from sizing.light.clear_sky import clear_sky
from sizing.light.iam import diffuse_transmission
from sizing.light.irradiance import Light, cell_temperature, light_on_plane
from sizing.operation.operating_point import OperatingGrid, OperatingPoints, operate, solve_grid
from sizing.place.compass import declination
from sizing.place.place import Place, sky_view_factor
from sizing.sky.clock import nearest_town, utc_moments
from sizing.sky.weather import Sky
from sizing.sky.weather_file import CALM

Array = NDArray[np.float64]

VIEW_STEPS = np.array([5.0, 10.0])
"""[deg] Tilts and directions to which the share of the sky that a skyline leaves open is reckoned where a log has more
than ``MOST_VIEWS`` of them: it changes slowly."""
MOST_VIEWS = 200
USUAL_AIR = 15.0
"""[Cel] Air where no climate is known (common practice, no source)."""


@dataclass(frozen=True, eq=False)
class ClearDay:
    """A design ready for real days: its place, clock, panel and pump; ``air`` [Cel] by month and hour, (12, 24)."""

    design: Design
    place: Place
    mounting: Mounting
    time_zone: str
    fountain: Fountain
    solved: OperatingGrid
    sky: Sky | None
    air: Array
    notes: tuple[Note, ...]

    @property
    def has_jet(self) -> bool:
        """Whether the outlet throws water upward; a lip lets it fall."""
        return not isinstance(self.fountain.waterway.outlet, Spillway)


@dataclass(frozen=True, eq=False)
class Expected:
    """What a clear day brings at each moment, arrays of one shape.

    Sun's altitude, lifted by refraction, and azimuth [deg]; sun on the plane and into the cells [W/m2]; cells and air
    [Cel]; volts and amperes at the panel's terminals with the pump on them; flow [m3/s], jet [m]; the operation behind.
    """

    sun_altitude: Array
    sun_azimuth: Array
    poa: Array
    effective: Array
    cell_temperature: Array
    air_temperature: Array
    voltage: Array
    current: Array
    flow: Array
    jet: Array
    operation: OperatingPoints

    @property
    def state(self) -> NDArray[np.int8]:
        """What the fountain does at each moment."""
        return self.operation.state


def clear_day_of(design: Design, folder: Path | None = None) -> ClearDay:
    """Get a design ready for real days.

    Parameters
    ----------
    folder : where a weather file named by the design is looked for; ``None`` refuses weather files

    Raises
    ------
    SizingError
        with one sentence per cause.
    """
    fountain = fountain_of(design)
    place, told_of_place = place_of(design)
    notes = [note for note in told_of_place if note.severity == "warning"]
    sky: Sky | None
    try:
        setting = setting_of(design, folder)
        sky, place, air = setting.sky, setting.place, air_by_hour(setting.sky)
    except SizingError as error:
        if any(not problem.pointer.startswith(("#/sky", "#/place/latitude")) for problem in error.problems):
            raise
        sky, air = None, np.full((12, 24), USUAL_AIR)
        told = f"No climate is known for this place, so the air is taken as {USUAL_AIR:g} °C; write what the thermometer says."
        notes.append(Note("air_assumed", "info", told, "#/sky/kind"))
    zone = design.place.time_zone
    if not zone:
        town, _ = nearest_town(place.latitude, place.longitude)
        zone = town.time_zone
        told = (
            f"The design names no time zone; hours are those of {zone}, the clock of {town.name}, the nearest town of the list."
        )
        notes.append(Note("zone_assumed", "warning", told, "#/place/time_zone"))
    solved = solve_grid(fountain.supply, fountain.pump, fountain.waterway)
    return ClearDay(design, place, mounting_of(design, place), zone, fountain, solved, sky, air, tuple(notes))


def air_by_hour(sky: Sky) -> Array:
    """Mean air temperature [Cel] of each month and hour, shape (12, 24)."""
    at = (sky.month - 1) * 24 + np.floor(sky.hour).astype(int) % 24
    count = np.bincount(at, minlength=288)
    return np.asarray((np.bincount(at, weights=sky.air_temperature, minlength=288) / np.maximum(count, 1)).reshape(12, 24))


def day_words(day: datetime.date) -> str:
    """A day as people write it.

    Examples
    --------
    >>> day_words(datetime.date(2026, 5, 31))
    '31 May 2026'
    """
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def declination_on(clear_day: ClearDay, day: datetime.date) -> float:
    """Declination at a design's place on a day [deg, east positive]."""
    return declination(clear_day.place.latitude, clear_day.place.longitude, clear_day.place.elevation, day)


def expected(
    clear_day: ClearDay,
    day: Sequence[datetime.date],
    hour: Array,
    tilt: Array | float | None = None,
    direction: Array | float | None = None,
    air_temperature: Array | None = None,
) -> Expected:
    """What should be measured at moments of a clear day.

    Parameters
    ----------
    day, hour : of each moment; hours of the clock on the wall [h], shape (moments,)
    tilt, direction : how the panel stands [deg], direction from true north; as in the design by default
    air_temperature : [Cel], NaN or ``None`` where the climate's mean is taken

    Examples
    --------
    >>> from sizing.design.reading import parse_design
    >>> clear_day = clear_day_of(parse_design(Path("examples/quince_court_jet.json").read_bytes()))
    >>> noon = expected(clear_day, [datetime.date(2026, 6, 21)], np.array([13.0]))
    >>> bool(noon.flow[0] > 0), float(noon.sun_altitude[0]) > 60
    (True, True)
    """
    light = clear_sky(utc_moments(day, hour, clear_day.time_zone), clear_day.place)
    shape = np.shape(hour)
    tilt = np.broadcast_to(np.asarray(clear_day.mounting.tilt if tilt is None else tilt, dtype=float), shape)
    direction = np.broadcast_to(np.asarray(clear_day.mounting.azimuth if direction is None else direction, dtype=float), shape)
    poa, effective = on_planes(light, clear_day, tilt, direction)
    months = np.array([each.month for each in day], dtype=int)
    air = clear_day.air[months - 1, np.floor(hour).astype(int) % 24]
    if air_temperature is not None:
        air = np.where(np.isnan(air_temperature), air, air_temperature)
    cells = np.asarray(cell_temperature(poa, air, CALM))
    return in_operation(clear_day, light, poa, effective, cells, air)


def on_planes(light: Light, clear_day: ClearDay, tilt: Array, direction: Array) -> tuple[Array, Array]:
    """Sun on planes of their own at each moment, and what gets into the cells [W/m2]; glass to whole degrees of tilt."""
    rounded = np.rint(tilt).astype(int)
    through = np.zeros((91, 2))
    for each in np.unique(rounded):
        through[each] = diffuse_transmission(float(each))
    view: Array | float = 1.0
    if clear_day.place.skyline:
        stands, at = np.unique(np.array([tilt, direction % 360]).T, axis=0, return_inverse=True)
        if len(stands) > MOST_VIEWS:
            coarse = VIEW_STEPS * np.rint(np.array([tilt, direction % 360]).T / VIEW_STEPS)
            stands, at = np.unique(coarse, axis=0, return_inverse=True)
        views = np.array([sky_view_factor(float(steep), float(turned), clear_day.place.skyline) for steep, turned in stands])
        view = views[at.ravel()]
    soiling = clear_day.mounting.soiling
    poa, effective, *_ = light_on_plane(
        light, clear_day.place, tilt, direction, soiling, view, through[rounded, 0], through[rounded, 1]
    )
    return poa, effective


def in_operation(clear_day: ClearDay, light: Light, poa: Array, effective: Array, cells: Array, air: Array) -> Expected:
    """The operating points, with volts and amperes as a meter at the panel shows them."""
    found = operate(clear_day.solved, effective, cells)
    voltage, current = at_panel(clear_day.solved, found, effective, cells)
    return Expected(
        sun_altitude=90 - light.zenith,
        sun_azimuth=light.azimuth,
        poa=poa,
        effective=effective,
        cell_temperature=cells,
        air_temperature=air,
        voltage=voltage,
        current=current,
        flow=found.flow,
        jet=found.jet,
        operation=found,
    )


def at_panel(solved: OperatingGrid, found: OperatingPoints, effective: Array, cells: Array) -> tuple[Array, Array]:
    """Volts and amperes at the panel's terminals: the cable's drop added; or what a controller holds, that takes all the
    panel has up to what the pump takes at its rated voltage, and lets the volts rise beyond.
    """
    supply = solved.supply
    terminal = found.voltage + found.current * supply.cable_resistance
    if supply.controller_efficiency is None:
        return terminal, found.current
    taken = terminal * found.current / supply.controller_efficiency
    panel = at_conditions(supply.panel, effective, cells)
    full = found.speed < solved.highest_speed * (1 - 1e-9)
    held = np.asarray(point_above_mpp(panel, np.where(full, np.inf, taken))[0])
    if not supply.steps_up:  # the panel cannot have less than what goes out
        held = np.maximum(held, terminal)
    return np.where(taken > 0, held, 0.0), np.divide(taken, held, out=np.zeros_like(taken), where=(taken > 0) & (held > 0))
