"""Designs with several panels and pumps, for the tests of comparisons; all invented."""

import copy
import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from sizing.design.design import Design
from sizing.design.reading import read_design

ROOT = Path(__file__).resolve().parent.parent
GOAL = {"jet_height_m": 0.47, "from_hour": 10, "to_hour": 14.5, "months": [5, 6, 9], "days_out_of_ten": 6}
EUROS = "EUR"


def document(
    currents: Sequence[float] = (0.6, 1.0, 1.7),
    heads: Sequence[float] = (0.7, 1.0, 1.6),
    changes: Mapping[str, Any] | None = None,
    name: str = "quince_court_jet",
) -> dict[str, Any]:
    """An example with a panel for each factor of current and a pump for each factor of head, and a goal; all priced."""
    found: dict[str, Any] = json.loads((ROOT / "examples" / f"{name}.json").read_text(encoding="utf-8"))
    panel, pump = found["panels"][0], found["pumps"][0]
    found["panels"] = [
        panel | {"id": f"p{place}", "imp_a": panel["imp_a"] * by, "isc_a": panel["isc_a"] * by, "price": price(17.3 + 19.1 * by)}
        for place, by in enumerate(currents)
    ]
    found["pumps"] = [stronger(pump, by) | {"id": f"q{place}", "price": price(11.9 + 7.3 * by)} for place, by in enumerate(heads)]
    found.pop("chosen", None)
    return found | {"goal": copy.deepcopy(GOAL)} | dict(changes or {})


def design(*given: Any, **named: Any) -> Design:
    """The same, checked."""
    return read_design(document(*given, **named))


def stronger(pump: Mapping[str, Any], by: float) -> dict[str, Any]:
    """A pump with so many times the head and the current."""
    found = copy.deepcopy(dict(pump))
    for point in found["points"]:
        point["head_m"] *= by
        point["current_a"] *= by
    return found


def price(amount: float, currency: str = EUROS) -> dict[str, Any]:
    return {"amount": round(amount, 2), "currency": currency}
