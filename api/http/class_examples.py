"""What the description of the HTTP interface says of measurements: bodies, and worked examples with invented readings."""

import json
from collections.abc import Callable
from functools import lru_cache
from typing import Any

from api.answers.measurements import bench_bytes, filled_bytes, first_day_bytes, panel_bytes, sheet_bytes, turned_bytes
from api.http.examples import EXAMPLE

GARDEN = EXAMPLE | {"place": EXAMPLE["place"] | {"time_zone": "Europe/Rome"}}
"""The example with a clock; place, panel, pump and all readings are invented."""
SHEET_ASKED: dict[str, Any] = {"design": GARDEN, "day": "2027-06-03", "from_hour": 10, "to_hour": 15}
FILLED_ASKED: dict[str, Any] = {
    "design": GARDEN,
    "log": "day,time,measured_panel_voltage_v,measured_panel_current_a,measured_flow_l_per_min,measured_jet_height_cm,sky\n"
    "2027-06-03,11:30,13.1,0.74,5.6,64,clear\n,12:30,13.9,0.79,5.9,71,clear\n",
}
FIRST_DAY_ASKED: dict[str, Any] = {
    "design": GARDEN | {"measurements": [{"day": "2027-06-03", "clock_hour": 13.5, "flow_l_per_min": 6.1}]},
    "day": "2027-06-20",
}
BENCH_ASKED: dict[str, Any] = {
    "design": GARDEN,
    "log": "voltage_v,current_a,head_m,volume_l,fill_time_s,team\n"
    "12.0,0.79,0.25,5,34.1,a\n12.0,0.72,0.9,5,44.8,a\n12.1,0.60,1.8,5,70.6,a\n12.0,0.50,2.2,2,66,a\n"
    "9.0,0.53,0.2,5,46.5,b\n9.0,0.47,0.7,5,68.7,b\n9.0,0.40,1.1,2,55.2,b\n",
    "date": "2027-05-20",
}
TURNED_ASKED: dict[str, Any] = {
    "design": GARDEN,
    "log": "day,time,direction_deg,tilt_deg,current_a,sky,team\n"
    "2027-06-03,11:05,120,35,0.77,clear,a\n,11:10,180,35,0.72,clear,a\n,11:15,240,35,0.54,clear,a\n"
    ",11:25,240,35,0.56,clear,a\n,11:30,180,35,0.75,clear,a\n,11:35,120,35,0.76,clear,a\n",
}
PANEL_ASKED: dict[str, Any] = {
    "design": GARDEN,
    "log": "day,time,voltage_v,current_a,sky,team\n"
    "2027-06-03,13:10,19.6,0,clear,a\n,13:11,0.02,0.93,clear,a\n,13:12,12.4,0.92,clear,a\n,13:13,15.9,0.86,clear,a\n",
}
EXAMPLES: dict[str, tuple[str, str, dict[str, Any], Callable[[bytes], bytes]]] = {
    "pump-curves": ("BenchRequest", "Seven invented readings", BENCH_ASKED, bench_bytes),
    "directions": ("LogRequest", "Six invented readings of three directions", TURNED_ASKED, turned_bytes),
    "panel-checks": ("LogRequest", "Four invented readings at one hour", PANEL_ASKED, panel_bytes),
    "sheets": ("SheetRequest", "A June day, invented", SHEET_ASKED, sheet_bytes),
    "filled-sheets": ("LogRequest", "Two invented readings", FILLED_ASKED, filled_bytes),
    "first-days": ("FirstDayRequest", "A first clear day, invented", FIRST_DAY_ASKED, first_day_bytes),
}
"""By the end of the address: model of the request, words, an example, and what answers it."""


def body_of(name: str) -> dict[str, Any]:
    """The described body of a request."""
    reference = {"$ref": f"#/components/schemas/{EXAMPLES[name][0]}"}
    told = "What is asked, with a log as the text of a CSV where there is one; at most 2.2 MB."
    return {"requestBody": {"required": True, "description": told, "content": {"application/json": {"schema": reference}}}}


def put_class_examples(paths: dict[str, Any]) -> None:
    """Put what is asked and what is answered into the routes of measurements."""
    for name, (_, summary, asked, _) in EXAMPLES.items():
        operation = paths[f"/api/v1/measurements/{name}"]["post"]
        content = "content", "application/json"
        for part, said, value in (
            (operation["requestBody"], summary, asked),
            (operation["responses"]["200"], "The answer to that", example_of(name)),
        ):
            part[content[0]][content[1]]["examples"] = {"reading_garden": {"summary": said, "value": value}}


@lru_cache(maxsize=8)
def example_of(name: str) -> dict[str, Any]:
    """The answer to an example, computed, so that it is never out of date."""
    _, _, asked, answer = EXAMPLES[name]
    found: dict[str, Any] = json.loads(answer(json.dumps(asked).encode()))
    return found
