"""How often a panel's fault is named: ``python -m tests.electric.panel_survey``, 200 panels of each, a few minutes.

Every panel has a sky of its own (6 % of a clear one), cells of their own (3 K), a label that was printed a little off, and
meters with their shares and last digits; its curve is that of a circuit of parts (``panels.py``). All are drawn from
fixed seeds. The figures in README.md come from here; a share of 0.97 in 200 is itself off by 0.012.
"""

from collections import Counter

import numpy as np

from sizing.measured.logs.instruments import USUAL
from sizing.measured.panel_check.diagnosis import diagnosed
from sizing.measured.panel_check.sentences import SURE
from tests.electric.panels import CELLS, SUN, circuit, printed, read

PANELS = 200
FAULTS = {
    "clean": {},
    "a quarter less light": {"share": 0.75},
    "a third of the cells at 0.3 of the light": {"parts": 3, "light": 0.3},
    "half of the cells at 0.2 of the light": {"parts": 2, "light": 0.2},
    "one cell at half of the light, no bypass": {"parts": 36, "light": 0.5, "bypass": False},
    "3 ohm in a joint": {"resistance": 3.0},
}


def survey(share: float = 1.0, **fault: float) -> tuple[Counter[str], int]:
    """What comes first, how often; and how often a fault is told as certain."""
    first: Counter[str] = Counter()
    certain = 0
    for seed in range(PANELS):
        sky, warmer = np.random.default_rng(5000 + seed).standard_normal(2) * (0.06, 3.0)
        curve = circuit(sun=SUN * share * (1 + sky), cells=CELLS + warmer, **fault)
        found = diagnosed(read(*curve, seed), printed(seed), USUAL)
        first[found.best.key] += 1
        certain += found.best.key != "clean" and (found.best.likelihood or 0.0) >= SURE
    return first, certain


def main() -> None:
    """Print the table."""
    for name, fault in FAULTS.items():
        first, certain = survey(**fault)
        named = ", ".join(f"{key} {count}" for key, count in first.most_common())
        print(f"{name}: {named}; a fault as certain {certain}", flush=True)


if __name__ == "__main__":
    main()
