"""One moment worked out number by number, from the sun to the jet.

The year is computed with arrays; here the same functions are called once more on plain numbers through
``work``, so that every number shown can be unfolded down to what was given, published or assumed. The
speed and the flow are found by search; both sides of the two equations they solve are shown.
"""

from dataclasses import dataclass

from sizing.design.design import Design
from sizing.foundation.working import Worked, assumed, by_method, given, work
from sizing.fountain.components import Fountain
from sizing.fountain.site_setup import Mounting
from sizing.light.irradiance import PlaneSun, cell_temperature
from sizing.operation.direct_solve import solve_directly
from sizing.operation.operating_point import OperatingPoints, State
from sizing.place.place import Place
from sizing.report.moment_power import pump_station, supply_stations
from sizing.report.moment_sun import sun_station
from sizing.report.moment_water import jet_station, pipe_station
from sizing.sky.weather import Sky


@dataclass(frozen=True, eq=False)
class Station:
    """One station of the path; its first number is the one that stands for it."""

    name: str
    roots: tuple[Worked, ...]


@dataclass(frozen=True, eq=False)
class Moment:
    """A moment: month 1..12, hour 0..23 and sky in words, day 0..364, time of day [h], what happens, working.

    Month 0 stands for a strength of sun that belongs to no day.
    """

    month: int
    hour: int
    sky: str
    day: int
    time: float
    state: State
    operation: OperatingPoints
    stations: tuple[Station, ...]


def moment_of(
    design: Design,
    place: Place,
    mounting: Mounting,
    sky: Sky,
    sun: PlaneSun,
    fountain: Fountain,
    month: int,
    hour: int,
    kind: str,
    step: int,
    near: float | None = None,
) -> Moment:
    """Work out one step of the year.

    Parameters
    ----------
    month, hour, kind : the moment in words, kept for the page
    step : index into the arrays of ``sky`` and ``sun``
    near : speed ratio of the pump in that step, if the grid has found it
    """
    light = sun_station(design, place, mounting, sky, sun, step)
    cell = float(sun.cell_temperature[step])
    found, state, rest = from_light(design, fountain, float(sun.effective[step]), cell, light, near)
    stations = (Station("sun", light), *rest)
    return Moment(month, hour, kind, int(sky.day[step]), float(sky.hour[step]), state, found, stations)


def moment_at_strength(design: Design, fountain: Fountain, irradiance: float, air_temperature: float) -> Moment:
    """Work out one strength of sun on the cells [W/m2, 0 or more], at a mean air temperature [Cel]."""
    light = given("effective_irradiance", irradiance, "W/m2")
    air = by_method("air_temperature", air_temperature, "Cel", "common_practice", "Mean of the year's hours with sun.")
    warmth = work(
        cell_temperature, irradiance=light, air_temperature=air, wind_speed=assumed("wind_speed", 1.0, "m/s", "common_practice")
    )
    found, state, rest = from_light(design, fountain, irradiance, warmth.value, (light, warmth))
    return Moment(0, 0, "", 0, 0.0, state, found, (Station("sun", (light, warmth)), *rest))


def from_light(
    design: Design, fountain: Fountain, effective: float, cell: float, sun: tuple[Worked, ...], near: float | None = None
) -> tuple[OperatingPoints, State, list[Station]]:
    """The operating point under a light, and the stations after the sun."""
    found = solve_directly(fountain.supply, fountain.pump, fountain.waterway, effective, cell, near)
    state = State(int(found.state[0]))
    if state == State.NIGHT:
        return found, state, []
    panel, wire, speed, flow = supply_stations(design, fountain, found, sun[0], sun[1])
    pump = pump_station(design, fountain, found, state, speed, flow)
    stations = [Station("panel", panel), Station("wire", wire), Station("pump", pump)]
    if state >= State.PLAYS:
        stations.append(Station("pipe", pipe_station(design, fountain, pump[2], flow)))
        stations.append(Station("outlet", jet_station(design, fountain, flow)))
    return found, state, stations
