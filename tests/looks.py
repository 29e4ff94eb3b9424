"""A fountain in May, with one thing changed, and what a class would read at it."""

import copy
import datetime
import json
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np

from sizing.design.reading import read_design
from sizing.measured.day.clear_day import ClearDay, clear_day_of, expected
from sizing.measured.day.sheet import Sheet, sheet_of
from sizing.measured.logs.logs import SheetLog

FOLDER = Path(__file__).parents[1] / "examples"
EXAMPLE = json.loads((FOLDER / "quince_court_jet.json").read_text(encoding="utf-8"))
SPILLWAY = json.loads((FOLDER / "terrace_spillway.json").read_text(encoding="utf-8"))
MAY = datetime.date(2026, 5, 12)
HOURS = np.arange(9.5, 16.1, 0.5)


def changed(base: dict[str, Any], **places: Any) -> dict[str, Any]:
    """A design with values changed at places written with double underscores."""
    data = copy.deepcopy(base)
    for place, value in places.items():
        *path, last = place.split("__")
        part = data
        for name in path:
            part = part[int(name)] if name.isdigit() else part[name]
        part[last] = value
    return data


@lru_cache(maxsize=16)
def clear_day(text: str = json.dumps(EXAMPLE)) -> ClearDay:
    return clear_day_of(read_design(json.loads(text)))


@lru_cache(maxsize=4)
def sheet() -> Sheet:
    return sheet_of(clear_day(), MAY, 8.0, 17.0)


def filled(truth: ClearDay, seed: int = 0, clock: float = 0.0, sky: str = "clear") -> SheetLog:
    """What a class would read at another fountain, noise drawn."""
    draw = np.random.default_rng(seed)
    found = expected(truth, [MAY] * len(HOURS), HOURS)
    sun = expected(truth, [MAY] * len(HOURS), HOURS + clock).sun_altitude

    def off(share: float, digit: float = 0.0) -> np.ndarray:
        return 1 + draw.normal(0, share, len(HOURS)) + (draw.normal(0, digit, len(HOURS)) if digit else 0)

    return SheetLog(
        row=np.arange(2, len(HOURS) + 2),
        day=(MAY,) * len(HOURS),
        hour=HOURS,
        sun_height=sun + draw.normal(0, 0.8, len(HOURS)),
        voltage=found.voltage * off(0.004),
        current=found.current * off(0.008),
        flow=found.flow * off(0.015),
        jet=found.jet + draw.normal(0, 0.02, len(HOURS)),
        air_temperature=np.full(len(HOURS), np.nan),
        sky=(sky,) * len(HOURS),
        team=("",) * len(HOURS),
        problems=(),
    )
