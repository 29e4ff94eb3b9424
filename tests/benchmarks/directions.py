"""The search over all directions: a whole design at a new place, and how far it is from single sizings."""

import numpy as np

from sizing.fountain.components import fountain_of
from sizing.fountain.site_setup import mounting_of, place_of, sky_of
from sizing.light.irradiance import plane_sun
from sizing.operation.operating_point import flow_alone, solve_grid
from sizing.orientation.directions import grid
from sizing.orientation.orientation import orient
from tests.benchmarks.computing import new_place
from tests.benchmarks.figures import Figure, taking_turns


def orientation_search(repeats: int = 7) -> list[Figure]:
    """A design under a skyline that was never asked before, from its place to the best direction; then every 60th plane alone."""
    designs = iter([new_place() for _ in range(repeats + 1)])
    orient(next(designs))
    (time,) = taking_turns([lambda: orient(next(designs))], repeats)
    return [
        Figure("orientation search, 19 tilts x 37 azimuths x the whole year", f"{1e3 * time:.0f} ms", "0.5 s", time <= 0.5),
        apart(),
    ]


def apart(every: int = 60) -> Figure:
    """Largest difference of the year's water to the single sizing, planes that bring less than a tenth of the best left out."""
    design = new_place()
    place = place_of(design)[0]
    mounting, (sky, place) = mounting_of(design, place), sky_of(design, place, None)
    fountain = fountain_of(design)
    solved = solve_grid(fountain.supply, fountain.pump, fountain.waterway)
    water = orient(design).aims[0].values
    planes, seconds, worst = grid(), 86400.0 / sky.steps_per_day, 0.0
    for at in range(0, len(water), every):
        sun = plane_sun(sky, place, float(planes.tilt[at]), float(planes.azimuth[at]), mounting.soiling)
        flow = np.where(sun.effective > 0, flow_alone(solved, sun.effective, sun.cell_temperature), 0.0)
        if water[at] > 0.1 * water.max():
            worst = max(worst, abs(water[at] / (float(flow.sum()) * seconds) - 1))
    return Figure("  and the water apart from single sizings", f"{100 * worst:.3f} %", "0.3 %", worst <= 0.003)
