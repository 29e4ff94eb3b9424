"""The description of the HTTP interface (OpenAPI 3.1) and the JSON Schema of the design file."""

import json
from typing import Any

from fastapi import FastAPI
from fastapi.openapi.utils import get_openapi
from pydantic.json_schema import models_json_schema

from api.models import ProblemDocument
from api.problems import KINDS, MEDIA_TYPE
from api.sizings import kept_answer
from sizing.design import Design
from sizing.reading import read_design
from sizing.report import When

EXAMPLE: dict[str, Any] = {
    "schema_version": 1,
    "title": "Reading garden jet (invented)",
    "note": "An invented school with an invented panel and pump.",
    "place": {"name": "Invented school", "latitude_deg": 44.9, "longitude_deg": 6.7, "elevation_m": 530},
    "sky": {"kind": "built_in"},
    "mounting": {"tilt_deg": 35, "azimuth_deg": 190, "soiling_pct": 3},
    "panels": [
        {"id": "p20", "name": "20 W panel (invented)", "vmp_v": 17.6, "imp_a": 1.14, "voc_v": 21.7, "isc_a": 1.22},
    ],
    "pumps": [
        {
            "id": "q12",
            "name": "12 V pump (invented)",
            "rated_voltage_v": 12,
            "lowest_voltage_v": 5,
            "highest_voltage_v": 24,
            "points": [
                {"flow_l_per_min": 0, "head_m": 2.4, "current_a": 0.5},
                {"flow_l_per_min": 4.5, "head_m": 1.8, "current_a": 0.66},
                {"flow_l_per_min": 9, "head_m": 0.2, "current_a": 0.8},
            ],
        }
    ],
    "chosen": {"panel": "p20", "pump": "q12"},
    "connection": {"kind": "direct"},
    "cable": {"length_m": 6, "area_mm2": 1.5},
    "pipe": {
        "length_m": 2.5,
        "inside_diameter_mm": 13,
        "fittings": [{"kind": "entrance", "count": 1}, {"kind": "elbow_90", "count": 2}],
    },
    "outlet": {"kind": "nozzle", "bore_mm": 5, "count": 1, "height_above_water_m": 0.4},
    "water_temperature_c": 15,
}
"""A whole design; place, panel and pump are invented."""

WHEN_PARAMETERS: list[dict[str, Any]] = [
    {
        "name": "month",
        "in": "query",
        "description": "Month of the moment that is worked out; the month with most water by default.",
        "schema": {"type": "integer", "minimum": 1, "maximum": 12},
    },
    {
        "name": "hour",
        "in": "query",
        "description": "Hour that begins the moment [h]; the best hour of the month by default.",
        "schema": {"type": "integer", "minimum": 0, "maximum": 23},
    },
    {
        "name": "sky",
        "in": "query",
        "description": "A clear, a usual or a dull day of that month.",
        "schema": {"enum": ["clear", "usual", "dull"], "default": "clear"},
    },
    {
        "name": "irradiance_w_per_m2",
        "in": "query",
        "description": "In place of the other three: the strength of sun on the cells that is worked out [W/m2].",
        "schema": {"type": "number", "minimum": 0, "maximum": 1500},
    },
]
SIZING_EXTRA: dict[str, Any] = {
    "parameters": WHEN_PARAMETERS,
    "requestBody": {
        "required": True,
        "description": "The design file itself, at most 65,536 bytes.",
        "content": {"application/json": {"schema": {"$ref": "#/components/schemas/Design"}}},
    },
}


def problem_responses(*slugs: str) -> dict[int | str, dict[str, Any]]:
    """The refusals that a route may answer with."""
    found: dict[int | str, dict[str, Any]] = {}
    for slug in slugs:
        kind = KINDS[slug]
        content = {MEDIA_TYPE: {"schema": {"$ref": "#/components/schemas/ProblemDocument"}}}
        found[kind.status] = {"description": f"{kind.title}. {kind.meaning}", "content": content}
        if slug == "busy":
            found[kind.status]["headers"] = {
                "Retry-After": {"description": "Seconds to wait [s].", "schema": {"type": "integer"}}
            }
    return found


def design_schema() -> dict[str, Any]:
    """JSON Schema of the design file (draft 2020-12); each field with label, unit, limits and advice."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "/api/v1/schemas/design",
        **Design.model_json_schema(),
    }


def openapi_document(app: FastAPI) -> dict[str, Any]:
    """The whole description, with a worked example: a design and its answer."""
    made = get_openapi(
        title="Solar fountain sizing",
        version=app.version,
        summary="Sizes a garden fountain that runs straight off the sun.",
        description="Send a design file, get the water and the jet of each month with every number's working. "
        "Nothing is stored. Units stand in the names; errors are problem details (RFC 9457).",
        routes=app.routes,
        separate_input_output_schemas=False,
    )
    schemas = made.setdefault("components", {}).setdefault("schemas", {})
    _, extra = models_json_schema(
        [(ProblemDocument, "validation"), (Design, "validation")], ref_template="#/components/schemas/{model}"
    )
    schemas.update(extra["$defs"])
    operation = made["paths"]["/api/v1/sizings"]["post"]
    operation["requestBody"]["content"]["application/json"]["examples"] = {
        "reading_garden": {"summary": "A 20 W panel and a small pump, all invented", "value": EXAMPLE}
    }
    operation["responses"]["200"]["content"]["application/json"]["examples"] = {
        "reading_garden": {"summary": "The answer to that design", "value": example_answer()}
    }
    return made


def example_answer() -> dict[str, Any]:
    """The answer to the example, computed, so that it is never out of date."""
    found: dict[str, Any] = json.loads(kept_answer(read_design(EXAMPLE), When()))
    return found
