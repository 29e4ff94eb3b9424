"""One moment worked out number by number, from the sun to the jet.

The year is computed with arrays; here the same functions are called once more on plain numbers through
``work``, so that every number shown can be unfolded down to what was given, published or assumed. The
speed and the flow are found by search; both sides of the two equations they solve are shown.
"""

from dataclasses import dataclass

from sizing.assembly import Fountain
from sizing.design import Design
from sizing.irradiance import PlaneSun
from sizing.moment_power import pump_station, supply_stations
from sizing.moment_sun import sun_station
from sizing.moment_water import jet_station, pipe_station
from sizing.operating_point import Operation, State, solve_directly
from sizing.place import Place
from sizing.weather import Sky
from sizing.working import Worked


@dataclass(frozen=True, eq=False)
class Station:
    """One station of the path; its first number is the one that stands for it."""

    name: str
    roots: tuple[Worked, ...]


@dataclass(frozen=True, eq=False)
class Moment:
    """A step of the year: month 1..12, hour 0..23 and sky in words, day 0..364, time of day [h], what happens, working."""

    month: int
    hour: int
    sky: str
    day: int
    time: float
    state: State
    operation: Operation
    stations: tuple[Station, ...]


def moment_of(
    design: Design, place: Place, sky: Sky, sun: PlaneSun, fountain: Fountain, month: int, hour: int, kind: str, step: int
) -> Moment:
    """Work out one step of the year.

    Parameters
    ----------
    month, hour, kind : the moment in words, kept for the page
    step : index into the arrays of ``sky`` and ``sun``
    """
    effective, cell = float(sun.effective[step]), float(sun.cell_temperature[step])
    found = solve_directly(fountain.supply, fountain.pump, fountain.waterway, effective, cell)
    state = State(int(found.state[0]))
    stations = [Station("sun", sun_station(design, place, sky, sun, step))]
    if state != State.NIGHT:
        light, warmth = stations[0].roots[0], stations[0].roots[1]
        panel, wire, speed, flow = supply_stations(design, fountain, found, light, warmth)
        stations += [Station("panel", panel), Station("wire", wire)]
        stations.append(Station("pump", pump_station(design, fountain, found, state, speed, flow)))
        if state >= State.PLAYS:
            stations.append(Station("pipe", pipe_station(design, fountain, speed, flow)))
            stations.append(Station("outlet", jet_station(design, fountain, flow)))
    return Moment(month, hour, kind, int(sky.day[step]), float(sky.hour[step]), state, found, tuple(stations))
