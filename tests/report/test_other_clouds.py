"""What another row of chance numbers for the clouds changes: little water, and no verdict from likely to unlikely."""

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sizing.design.design import Design
from sizing.design.reading import read_design
from sizing.fountain.site_setup import place_of, sky_of
from sizing.report.report import size
from sizing.sky.synthetic_year import synthetic_year
from sizing.sky.weather import Sky

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
GOAL = {"from_hour": 10, "to_hour": 14, "months": [4, 5, 6, 7, 8, 9], "days_out_of_ten": 6}
CASES: list[tuple[str, dict[str, Any]]] = [
    ("orchard_choice", {"chosen": {"panel": "panel-50w", "pump": "pump-24v-18l"}}),
    ("orchard_choice", {"chosen": {"panel": "panel-50w", "pump": "pump-12v-8l"}}),
    ("orchard_choice", {}),
    ("quince_court_jet", {"goal": GOAL | {"jet_height_m": 0.2}}),
    ("quince_court_jet", {"goal": GOAL | {"jet_height_m": 0.45}}),
]
ROWS = range(1, 21)


def with_row(design: Design, row: int) -> Sky:
    """The design's sky with another row of chance numbers."""
    place, _ = place_of(design)
    sky, place = sky_of(design, place, None)
    months = (np.array(sky.clearness), np.array(sky.air_temperature_month))
    year = synthetic_year(place.latitude, *months, stream=row)
    return replace(sky, ghi=year.ghi, dhi=year.dhi, dni=year.dni, calm=year.calm)


@pytest.mark.slow
@pytest.mark.parametrize(("name", "changes"), CASES)
def test_twenty_other_rows_move_a_verdict_to_its_neighbour_at_most(name: str, changes: dict[str, Any]) -> None:
    """The row used lies near the mean of 600; another moves a chance by up to a quarter, and water by up to 3 %."""
    design = read_design(json.loads((EXAMPLES / f"{name}.json").read_text(encoding="utf-8")) | changes)
    taken = size(design)
    assert taken.chance is not None
    for row in ROWS:
        other = size(design, sky=with_row(design, row))
        assert other.chance is not None
        assert {taken.chance.outlook, other.chance.outlook} != {"likely", "unlikely"}
        assert other.chance.chance == pytest.approx(taken.chance.chance, abs=0.30)
        assert other.year.water == pytest.approx(taken.year.water, rel=0.03)
