"""Many planes at once: the sun on hundreds of tilted planes through a year, and the fountain's flow from each.

One plane takes ``plane_sun`` and ``flow_alone``; here the same sums are done for all planes together. The
cosines of all planes are one product of their perpendiculars with the directions of the sun; what the glass
lets through and what the fountain gives are read from two fine tables. Single precision, in blocks that stay
in the processor's cache.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from sizing.foundation.constants import FAIMAN_U0, FAIMAN_U1
from sizing.foundation.units import HOUR
from sizing.light.iam import beam_transmission, diffuse_transmission
from sizing.light.irradiance import anisotropy_index, projection_ratio
from sizing.operation.goal import FlowBand
from sizing.operation.operating_point import OperatingGrid, flow_alone
from sizing.place.place import Place, sky_view_factor, skyline_altitude
from sizing.sky.weather import Sky

Array = NDArray[np.float64]
Short = NDArray[np.float32]
Mask = NDArray[np.bool_]

IRRADIANCE_STEP = 0.25
"""[W/m2] Between two columns of the flow table."""
WARMTH_STEP = 0.25
"""[K] Between two rows of the flow table."""
GLASS_CELLS = 4096
"""Cells of the glass table over the cosine, 0 to 1."""
BLOCK = 64
"""Planes worked on together: with the steps of a month about 150 KB."""


@dataclass(frozen=True, eq=False)
class Planes:
    """Tilts from level and azimuths clockwise from north [deg], one each for every plane."""

    tilt: Array
    azimuth: Array


@dataclass(frozen=True, eq=False)
class Watch:
    """What is counted: the steps of the chosen hours, the steps of the goal, and the flows [m3/s] that reach it."""

    hours: Mask
    goal: Mask
    goal_flow: FlowBand


@dataclass(frozen=True, eq=False)
class PlanesYear:
    """Of each plane and month, shape (planes, 12): sun on the plane before reflection and dirt [kWh/m2], water [m3] and
    hours of play [h], both of them in the chosen hours alone, and the hours that meet the goal [h]."""

    sun: Array
    water: Array
    play: Array
    hours_water: Array
    hours_play: Array
    goal_hours: Array


@dataclass(frozen=True, eq=False)
class PlaneLight:
    """The lit steps of a year, month after month, and within a month by what is counted; single precision.

    ``kind`` (steps,) is 4 x month (0..11), + 2 in the chosen hours, + 1 in those of the goal; ``towards`` (3, steps)
    points at the sun; ``beam`` is beam with the bright ring around the sun, on a plane facing it, and ``diffuse``
    (2, steps) the rest of the sky and the light off the ground [W/m2]; ``heating`` [K m2/W]; air temperature [Cel].
    """

    kind: NDArray[np.int64]
    towards: Short
    beam: Short
    diffuse: Short
    heating: Short
    air_temperature: Short


@dataclass(frozen=True, eq=False)
class Tables:
    """``flow`` [m3/s] in the middle of each cell, row after row from the ``coldest`` cells [Cel], so many columns a row;
    ``glass`` over the cosine: cosine x share that passes glass and dirt [1]."""

    flow: Short
    columns: int
    coldest: float
    glass: Short


@dataclass(frozen=True, eq=False)
class PlaneGeometry:
    """Perpendiculars of planes (planes, 3), and the shares of sky and ground that they see and that reach cells (planes, 2)."""

    perpendicular: Short
    seen: Short
    passed: Short


def planes_year(sky: Sky, place: Place, soiling: float, solved: OperatingGrid, planes: Planes, watch: Watch) -> PlanesYear:
    """The year of one fountain on many planes.

    Agrees with ``plane_sun`` and ``flow_alone`` plane by plane to 0.3 % of the year's water and hours, or to three
    steps where that is more. Beside its result it holds up to about 15 MB, however many planes there are.

    Parameters
    ----------
    sky, place : the year; the place, whose albedo and skyline count
    soiling : share lost to dirt, 0..1
    solved : panel, cable, pump and pipe, solved for all sun
    planes : one or more
    watch : chosen hours and goal, arrays of the sky's shape
    """
    light, stand = light_of(sky, place, watch), stand_of(planes, place, soiling)
    tables = tables_of(solved, light, soiling)
    starts = np.flatnonzero(np.diff(light.kind, prepend=-1))
    least, most = (np.float32(flow) for flow in watch.goal_flow)
    sums = np.zeros((4, len(planes.tilt), 12, 2, 2))
    for steps in (slice(*ends) for ends in pairwise([*starts.tolist(), len(light.kind)])):
        month, counted = divmod(int(light.kind[steps.start]), 4)
        for first in range(0, len(planes.tilt), BLOCK):
            block = slice(first, first + BLOCK)
            sun, flow = sun_and_flow(light, steps, stand, block, tables)
            found = sums[:, block, month, counted // 2, counted % 2]
            found[0], found[1], found[2] = sun.sum(axis=1), flow.sum(axis=1), (flow > 0).sum(axis=1)
            if counted % 2:
                found[3] = ((flow >= least) & (flow <= most) if most < np.inf else flow >= least).sum(axis=1)
    return gathered(sums, 24.0 / sky.steps_per_day)


def sun_and_flow(light: PlaneLight, steps: slice, stand: PlaneGeometry, block: slice, tables: Tables) -> tuple[Short, Short]:
    """Sun on a block of planes [W/m2] and the fountain's flow from each [m3/s], in a run of steps: (planes, steps)."""
    cosine = stand.perpendicular[block] @ light.towards[:, steps]
    through = np.take(tables.glass, (cosine * np.float32(GLASS_CELLS)).astype(np.intp), mode="clip")
    through *= light.beam[steps]
    through += stand.passed[block] @ light.diffuse[:, steps]
    sun = np.maximum(cosine, 0, out=cosine)
    sun *= light.beam[steps]
    sun += stand.seen[block] @ light.diffuse[:, steps]
    row = sun * light.heating[steps]
    row += light.air_temperature[steps] - np.float32(tables.coldest)
    row *= np.float32(1 / WARMTH_STEP)
    cell = np.floor(row, out=row)
    cell *= np.float32(tables.columns)
    through *= np.float32(1 / IRRADIANCE_STEP)
    cell += np.floor(through, out=through)
    return sun, np.take(tables.flow, cell.astype(np.intp), mode="clip")


def light_of(sky: Sky, place: Place, watch: Watch) -> PlaneLight:
    """The lit steps in the order in which they are summed."""
    lit = np.flatnonzero((sky.ghi > 0) | (sky.dhi > 0) | (sky.dni > 0))
    kind = 4 * (sky.month[lit] - 1) + 2 * watch.hours[lit] + watch.goal[lit]
    order = np.argsort(kind, kind="stable")
    lit, kind = lit[order], kind[order]
    zenith, azimuth = np.radians(sky.zenith[lit]), np.radians(sky.azimuth[lit])
    dni, dhi = sky.dni[lit], sky.dhi[lit]
    around_sun = np.asarray(anisotropy_index(dni, sky.extraterrestrial_normal[lit]))
    beam = dni + dhi * around_sun * projection_ratio(1.0, np.cos(zenith))
    if place.skyline:
        beam = beam * (90 - sky.zenith[lit] >= np.asarray(skyline_altitude(sky.azimuth[lit], place.skyline)))
    return PlaneLight(
        kind=kind,
        towards=short(np.stack([np.sin(zenith) * np.sin(azimuth), np.sin(zenith) * np.cos(azimuth), np.cos(zenith)])),
        beam=short(beam),
        diffuse=short(np.stack([dhi * (1 - around_sun), sky.ghi[lit] * place.albedo])),
        heating=short(1 / (float(FAIMAN_U0) + float(FAIMAN_U1) * sky.wind_speed[lit])),
        air_temperature=short(sky.air_temperature[lit]),
    )


def stand_of(planes: Planes, place: Place, soiling: float) -> PlaneGeometry:
    """Perpendiculars of the planes, and what they get of the light from sky and ground."""
    up = np.cos(np.radians(planes.tilt))
    stands = list(zip(planes.tilt.tolist(), planes.azimuth.tolist(), strict=True))
    open_sky = np.array([sky_view_factor(tilt, azimuth, place.skyline) for tilt, azimuth in stands])
    glass = np.array([diffuse_transmission(tilt) for tilt, _ in stands])
    seen = np.stack([(1 + up) / 2 * open_sky, (1 - up) / 2], axis=1)
    return PlaneGeometry(short(perpendiculars(planes)), short(seen), short((1 - soiling) * glass * seen))


def tables_of(solved: OperatingGrid, light: PlaneLight, soiling: float) -> Tables:
    """Flow for all sun and cell temperatures of these steps, and the glass; each cell holds what is true in its middle."""
    most = light.beam + light.diffuse.sum(axis=0)
    coldest = float(np.floor(light.air_temperature.min(initial=0.0)))
    hottest = float((light.air_temperature + light.heating * most).max(initial=0.0))
    columns = int(most.max(initial=0.0) / IRRADIANCE_STEP) + 2
    irradiance = (np.arange(columns, dtype=np.float64) + 0.5) * IRRADIANCE_STEP
    flow = np.empty((int((hottest - coldest) / WARMTH_STEP) + 2, columns), dtype=np.float32)
    for row, held in enumerate(flow):
        held[:] = flow_alone(solved, irradiance, np.full(columns, coldest + (row + 0.5) * WARMTH_STEP))
    cosine = (np.arange(GLASS_CELLS) + 0.5) / GLASS_CELLS
    glass = (1 - soiling) * cosine * beam_transmission(cosine)
    glass[0] = 0.0  # the sun behind the plane falls into the first cell
    return Tables(flow.ravel(), columns, coldest, short(glass))


def gathered(sums: Array, step: float) -> PlanesYear:
    """Sums (quantity, planes, months, in the chosen hours, in those of the goal) with their units; a step [h]."""
    whole, chosen = sums.sum(axis=(3, 4)), sums[:, :, :, 1].sum(axis=3)
    return PlanesYear(
        sun=whole[0] * step / 1000.0,
        water=whole[1] * step * HOUR,
        play=whole[2] * step,
        hours_water=chosen[1] * step * HOUR,
        hours_play=chosen[2] * step,
        goal_hours=whole[3] * step,
    )


def perpendiculars(planes: Planes) -> Array:
    """Directions of the planes' perpendiculars (planes, 3): east, north and up [1].

    Examples
    --------
    >>> perpendiculars(Planes(np.array([0.0, 90.0]), np.array([180.0, 90.0]))).round(3) + 0.0
    array([[0., 0., 1.],
           [1., 0., 0.]])
    """
    tilt, azimuth = np.radians(planes.tilt), np.radians(planes.azimuth)
    return np.stack([np.sin(tilt) * np.sin(azimuth), np.sin(tilt) * np.cos(azimuth), np.cos(tilt)], axis=1)


def angles_between(planes: Planes, tilt: float, azimuth: float) -> Array:
    """Angle of each plane's perpendicular to that of one more plane [deg].

    Examples
    --------
    >>> angles_between(Planes(np.array([0.0, 30.0, 90.0]), np.array([0.0, 180.0, 90.0])), 30.0, 180.0).round(1)
    array([30., 0., 90.])
    """
    one = perpendiculars(Planes(np.array([tilt]), np.array([azimuth])))[0]
    return np.asarray(np.degrees(np.arccos(np.clip(perpendiculars(planes) @ one, -1, 1))))


def short(values: Array) -> Short:
    """In single precision."""
    return np.ascontiguousarray(values, dtype=np.float32)
