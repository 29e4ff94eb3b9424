"""Designs whose pump is known by its power, or holds its speed: the worked example with another pump (invented)."""

import json
from copy import deepcopy
from typing import Any

from tests.fountains import ROOT

KNOWN = ("points", "winding_resistance_ohm", "no_load_current_a", "starting_current_a")
ROWS = [(head, watts, max(0.9 * (watts - 4.1 * head), 0.0)) for head in (0.3, 1.0, 1.8) for watts in (4.1 * head, 8.0, 16.0)]
"""[m, W, L/min]"""


def power_points(volts: bool) -> list[dict[str, float]]:
    """Points of that pump; its volts, where they stand, are 4 V and 0.9 V for each watt."""
    found = [{"head_m": head, "power_w": watts, "flow_l_per_min": flow} for head, watts, flow in ROWS]
    found = [row | ({"voltage_v": 4 + 0.9 * row["power_w"]} if volts else {}) for row in found]
    return [{name: round(value, 4) for name, value in row.items()} for row in found]


PUMPS: dict[str, dict[str, Any]] = {
    "power_points": {"power_points": power_points(False), "drive": "tracks_power"},
    "power_points_volts": {"power_points": power_points(True)},
    "constant_speed_points": {"drive": "holds_speed"},
    "constant_speed_box": {"drive": "holds_speed", "max_head_m": 1.6, "max_flow_l_per_min": 11, "rated_current_a": 0.6},
}
"""What such a pump has in place of a motor's points, by the shape that it is taken to have."""


def with_pump(shape: str, name: str = "quince_court_jet") -> dict[str, Any]:
    """An example with that pump."""
    found: dict[str, Any] = deepcopy(json.loads((ROOT / "examples" / f"{name}.json").read_text(encoding="utf-8")))
    pump = found["pumps"][0]
    dropped = KNOWN if shape != "constant_speed_points" else KNOWN[1:]
    found["pumps"][0] = {key: value for key, value in pump.items() if key not in dropped} | deepcopy(PUMPS[shape])
    return found
