"""Sizing one design at a new place, more pairs at the same place, and the grid against the direct solve."""

import copy
import itertools
import json
import statistics
from pathlib import Path

import numpy as np

from sizing.design.design import Design
from sizing.design.reading import parse_design
from sizing.fountain.components import Fountain, fountain_of
from sizing.fountain.site_setup import place_of, sky_of
from sizing.light.irradiance import PlaneSun, plane_sun
from sizing.operation.direct_solve import solve_directly
from sizing.operation.operating_point import operate, solve_grid
from sizing.operation.year import year_of
from sizing.report.report import operate_lit, size
from sizing.sky.weather import Sky
from tests.benchmarks.figures import Figure, seconds, taking_turns
from tests.benchmarks.model_chain import plain_chain, run_year, weather_year

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "quince_court_jet.json"
NUMBERS = itertools.count(1)


def new_place(controller: bool = False) -> Design:
    """The example at a place, a tilt, a direction and under a skyline that were never asked before."""
    number = next(NUMBERS)
    document = json.loads(EXAMPLE.read_text(encoding="utf-8"))
    document["place"] |= {"latitude_deg": 44.1 + 0.0173 * (number % 300), "longitude_deg": 10.3 + 0.0311 * (number % 300)}
    document["place"]["skyline"][0]["altitude_deg"] = 10 + 0.013 * number
    document["mounting"] |= {"tilt_deg": 30 + 0.011 * number, "azimuth_deg": 170 + 0.017 * number}
    if controller:
        document["connection"] = {"kind": "controller", "efficiency_pct": 92}
    return parse_design(json.dumps(document).encode())


def one_design(repeats: int = 15) -> Figure:
    """A design, its full year in quarter-hours and all that the report holds, against the yardstick."""
    weather, place = weather_year()
    chain = plain_chain(place)
    designs = iter([new_place() for _ in range(repeats + 1)])
    size(next(designs))
    run_year(chain, weather)
    ours, yardstick = taking_turns([lambda: size(next(designs)), lambda: run_year(chain, weather)], repeats)
    measured = f"{ours / yardstick:.2f} x ({1e3 * ours:.1f} ms against {1e3 * yardstick:.1f} ms)"
    return Figure(
        "one design, full year, place not seen before, against ModelChain's 8760 hours",
        measured,
        "0.5 x",
        ours <= 0.5 * yardstick,
    )


def lit_year(design: Design) -> tuple[Sky, PlaneSun]:
    """The sky and the light on the panel of a design."""
    sky, place = sky_of(design, place_of(design)[0], None)
    return sky, plane_sun(sky, place, design.mounting.tilt_deg, design.mounting.azimuth_deg, 0.03)


def many_pairs(design: Design) -> Design:
    """Six panels and twelve pumps made from the example's own."""
    document = design.model_dump(mode="json", exclude_unset=True)
    panel, pump = document["panels"][0], document["pumps"][0]
    document["panels"] = [scaled(panel, ("imp_a", "isc_a"), 0.7 + 0.2 * number, number) for number in range(6)]
    document["pumps"] = [
        copy.deepcopy(pump) | {"id": f"pump-{number}", "lowest_voltage_v": 4 + 0.3 * number} for number in range(12)
    ]
    document.pop("chosen", None)
    return parse_design(json.dumps(document).encode())


def scaled(part: dict, names: tuple[str, ...], factor: float, number: int) -> dict:
    return part | {name: part[name] * factor for name in names} | {"id": f"{part['id']}-{number}"}


def further_pairs() -> list[Figure]:
    """Each pair of panel and pump at a place whose light is known: parts, match, year."""
    design = many_pairs(new_place())
    sky, sun = lit_year(design)

    def pair(panel: str, pump: str) -> None:
        fountain = fountain_of(design, panel, pump)
        solved = solve_grid(fountain.supply, fountain.pump, fountain.waterway)
        year_of(sky, sun, operate_lit(solved, sun.effective, sun.cell_temperature))

    times = [seconds(lambda a=a, b=b: pair(a.id, b.id)) for a in design.panels for b in design.pumps]
    middle, whole = statistics.median(times), sum(times)
    return [
        Figure("each further pair of panel and pump at that place", f"{1e3 * middle:.1f} ms", "15 ms", middle <= 0.015),
        Figure(f"{len(times)} pairs", f"{whole:.2f} s", "1 s", whole <= 1.0),
    ]


def against_direct(controller: bool, step: int = 10) -> list[Figure]:
    """The grid for the whole year against the direct solve of every tenth day's hours, brought to the same number of steps."""
    design = new_place(controller)
    sky, sun = lit_year(design)
    fountain = fountain_of(design)
    lit = sun.effective > 0
    chosen = np.flatnonzero(lit & (sky.day % step == 4) & (np.arange(len(sky.day)) % 4 == 1))

    def grid() -> np.ndarray:
        solved = solve_grid(fountain.supply, fountain.pump, fountain.waterway)
        return operate(solved, sun.effective[lit], sun.cell_temperature[lit]).flow

    flows: list[float] = []
    direct = seconds(lambda: flows.extend(direct_flow(fountain, sun, int(at)) for at in chosen)) / len(chosen)
    (ours,) = taking_turns([grid], 9)
    ratio = direct * int(lit.sum()) / ours
    whole = np.zeros(len(sky.day))
    whole[lit] = grid()
    apart = abs(whole[chosen].sum() / sum(flows) - 1)
    how = "behind a controller" if controller else "direct"
    return [
        Figure(
            f"grid against the direct solve, {how}, {int(lit.sum())} steps",
            f"{ratio:.0f} x faster ({1e3 * ours:.1f} ms; direct {1e3 * direct:.1f} ms a step)",
            "500 x",
            ratio >= 500,
        ),
        Figure(f"  and the water apart, {len(chosen)} hours", f"{100 * apart:.4f} %", "0.3 %", apart <= 0.003),
    ]


def direct_flow(fountain: Fountain, sun: PlaneSun, at: int) -> float:
    parts = (fountain.supply, fountain.pump, fountain.waterway)
    return float(solve_directly(*parts, float(sun.effective[at]), float(sun.cell_temperature[at])).flow[0])
