"""All pumps with all panels at a place not seen before, with and without the search for the smallest panels."""

import copy
import json
import statistics
import tracemalloc

from sizing.comparison.comparison import compare
from sizing.design.design import Design
from sizing.design.reading import parse_design
from tests.benchmarks.computing import new_place, scaled
from tests.benchmarks.figures import Figure, seconds

GOAL = {"jet_height_m": 0.47, "from_hour": 10, "to_hour": 15, "months": [4, 5, 6, 7, 8, 9], "days_out_of_ten": 7}


def many_pairs(goal: bool) -> Design:
    """Six panels of different volts and currents, twelve pumps of different heads, at a new place."""
    document = new_place().model_dump(mode="json", exclude_unset=True)
    panel, pump = document["panels"][0], document["pumps"][0]
    document["panels"] = [scaled(panel, ("imp_a", "isc_a"), 0.7 + 0.3 * number, number) for number in range(6)]
    document["panels"] = [
        scaled(one, ("vmp_v", "voc_v"), 0.9 + 0.03 * number, number) for number, one in enumerate(document["panels"])
    ]
    document["pumps"] = []
    for number in range(12):
        stronger = copy.deepcopy(pump) | {"id": f"pump-{number}", "lowest_voltage_v": 4 + 0.3 * number}
        for point in stronger["points"]:
            point["head_m"] *= 0.6 + 0.1 * number
            point["current_a"] *= 0.6 + 0.1 * number
        document["pumps"].append(stronger)
    document.pop("chosen", None)
    return parse_design(json.dumps(document | ({"goal": GOAL} if goal else {})).encode())


def comparisons(repeats: int = 5) -> list[Figure]:
    """Medians of whole comparisons, each at a new place, and the memory that one holds."""
    compare(many_pairs(True))
    cases = [
        ("72 pairs compared, place included, without a goal", False, False, 1.0),
        ("  with a goal and the smallest panel for each of 12 pumps", True, False, 1.5),
        ("  both directly and behind a controller: 144 pairs and 12 smallest panels", True, True, 3.0),
    ]
    figures = []
    for work, goal, both, reach in cases:
        designs = [many_pairs(goal) for _ in range(repeats)]
        middle = statistics.median(
            seconds(lambda design=design, both=both: compare(design, both_connections=both)) for design in designs
        )
        figures.append(Figure(work, f"{middle:.2f} s", f"{reach:g} s", middle <= reach))
    tracemalloc.start()
    found = compare(many_pairs(True), both_connections=True)
    kept, most = (size / 2**20 for size in tracemalloc.get_traced_memory())
    tracemalloc.stop()
    figures.append(
        Figure(f"  memory of {len(found.pairs)} pairs", f"{kept:.0f} MiB kept, {most:.0f} MiB at most", "50 MiB", most <= 50)
    )
    return figures
