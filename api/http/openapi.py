"""The description of the HTTP interface (OpenAPI 3.1)."""

import copy
import json
from typing import Any

from fastapi import FastAPI
from fastapi.openapi.utils import get_openapi
from pydantic.json_schema import models_json_schema

from api.answers.buildings import kept_building
from api.answers.comparisons import CHOICES, kept_comparison
from api.answers.orientations import kept_orientation
from api.answers.places import USUAL_MOST, places_bytes
from api.answers.reaches import kept_reach
from api.answers.sizings import kept_answer
from api.answers.skies import kept_sky
from api.edge.problems import KINDS, MEDIA_TYPE, ProblemDocument
from api.http.class_examples import put_class_examples
from api.http.examples import EXAMPLE, EXAMPLE_CHOICE, EXAMPLE_MISSED, EXAMPLE_SITE, EXAMPLE_TEXTS
from sizing.answers import MOST_TOWNS
from sizing.design import Design, Site, read_design, read_site
from sizing.measured import BenchRequest, FirstDayRequest, LogRequest, SheetRequest
from sizing.orientation import Wanted
from sizing.place import LONGEST_QUERY
from sizing.report import When

CLASS_REQUESTS = (BenchRequest, LogRequest, SheetRequest, FirstDayRequest)
KEPT_NAMES: dict[str, str] = {
    "sizing__measured__day__answer__LookAnswer": "api__answers__class_models__LookAnswer",
    "sizing__measured__day__answer__SideAnswer": "api__answers__class_models__SideAnswer",
    "sizing__comparison__answer__ComparisonAnswer": "api__answers__comparison_models__ComparisonAnswer",
    "sizing__orientation__answer__SideAnswer": "api__answers__orientation_models__SideAnswer",
    "sizing__installation__answer__LookAnswer": "api__answers__building_models__LookAnswer",
    "sizing__report__sky_answer__ComparisonAnswer": "api__answers__sky_models__ComparisonAnswer",
}
"""Two models of one name are told apart by their modules; here are the public names of those whose module has changed."""
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
DESIGN_BODY: dict[str, Any] = {
    "required": True,
    "description": "The design file itself, at most 65,536 bytes.",
    "content": {"application/json": {"schema": {"$ref": "#/components/schemas/Design"}}},
}
SIZING_EXTRA: dict[str, Any] = {"parameters": WHEN_PARAMETERS, "requestBody": DESIGN_BODY}
WANTED_PARAMETERS: list[dict[str, Any]] = [
    {
        "name": "months",
        "in": "query",
        "description": "Months that count, numbers 1 to 12 with commas between, like 4,5,6; the goal's by default, else all.",
        "schema": {"type": "string", "pattern": "^(1[0-2]|[1-9])(,(1[0-2]|[1-9])){0,11}$"},
    },
    {
        "name": "from_hour",
        "in": "query",
        "description": "Hour of the day from which it counts [h]; together with to_hour. The goal's by default, else 8.",
        "schema": {"type": "number", "minimum": 0, "maximum": 24},
    },
    {
        "name": "to_hour",
        "in": "query",
        "description": "Hour of the day until which it counts [h], later than from_hour. The goal's by default, else 15.",
        "schema": {"type": "number", "minimum": 0, "maximum": 24},
    },
]
ORIENTATION_EXTRA: dict[str, Any] = {"parameters": WANTED_PARAMETERS, "requestBody": copy.deepcopy(DESIGN_BODY)}
COMPARISON_EXTRA: dict[str, Any] = {
    "parameters": [
        {
            "name": "connections",
            "in": "query",
            "description": "Pairs joined as the design says, or each both directly and behind a controller.",
            "schema": {"enum": [*CHOICES], "default": CHOICES[0]},
        }
    ],
    "requestBody": copy.deepcopy(DESIGN_BODY),
}
REACH_EXTRA: dict[str, Any] = {"requestBody": copy.deepcopy(DESIGN_BODY)}
REPORT_EXTRA: dict[str, Any] = {"requestBody": copy.deepcopy(DESIGN_BODY)}


PLACES_EXTRA: dict[str, Any] = {
    "parameters": [
        {
            "name": "q",
            "in": "query",
            "required": True,
            "description": "Name of a town, with or without accents; a state, a country or its code may follow, best after "
            "a comma. Or latitude and longitude in any usual form.",
            "schema": {"type": "string", "minLength": 1, "maxLength": LONGEST_QUERY, "pattern": r"\S"},
            "examples": {name: {"summary": summary, "value": text} for name, (summary, text) in EXAMPLE_TEXTS.items()},
        },
        {
            "name": "most",
            "in": "query",
            "description": "How many towns at most.",
            "schema": {"type": "integer", "minimum": 1, "maximum": MOST_TOWNS, "default": USUAL_MOST},
        },
    ]
}
SKIES_EXTRA: dict[str, Any] = {
    "requestBody": {
        "required": True,
        "description": "A design file's place, sky and mounting, the last two if wanted, at most 65,536 bytes.",
        "content": {"application/json": {"schema": {"$ref": "#/components/schemas/Site"}}},
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


def openapi_document(app: FastAPI) -> dict[str, Any]:
    """The whole description, with worked examples: what is asked and what is answered."""
    made = get_openapi(
        title="Solar fountain sizing",
        version=app.version,
        summary="Sizes a garden fountain that runs straight off the sun.",
        description="Send a design file, get the water and the jet of each month with every number's working. "
        "Or send its first part and get the sky over the garden. "
        "Nothing is stored. Units stand in the names; errors are problem details (RFC 9457).",
        routes=app.routes,
        separate_input_output_schemas=False,
    )
    made = with_kept_names(made)
    schemas = made.setdefault("components", {}).setdefault("schemas", {})
    asked = (ProblemDocument, Design, Site, *CLASS_REQUESTS)
    _, extra = models_json_schema([(model, "validation") for model in asked], ref_template="#/components/schemas/{model}")
    schemas.update(extra["$defs"])
    put_examples(made["paths"])
    put_class_examples(made["paths"])
    return made


def with_kept_names(made: dict[str, Any]) -> dict[str, Any]:
    """The description with the public names of its models, in the order of these names."""
    text = json.dumps(made)
    for name, kept in KEPT_NAMES.items():
        text = text.replace(f'"{name}"', f'"{kept}"').replace(f'/{name}"', f'/{kept}"')
    found: dict[str, Any] = json.loads(text)
    parts = found.get("components", {})
    if "schemas" in parts:
        parts["schemas"] = dict(sorted(parts["schemas"].items()))
    return found


def put_examples(paths: dict[str, Any]) -> None:
    """Put what is asked and what is answered into the routes that compute."""
    sizing, sky, places = paths["/api/v1/sizings"]["post"], paths["/api/v1/skies"]["post"], paths["/api/v1/places"]["get"]
    direction, comparison, reaches, report = (
        paths[f"/api/v1/{name}"]["post"] for name in ("orientations", "comparisons", "reaches", "reports")
    )
    for operation, name, summary, asked, told in (
        (sizing, "reading_garden", "A 20 W panel and a small pump, all invented", EXAMPLE, example_answer()),
        (direction, "reading_garden", "A 20 W panel and a small pump, all invented", EXAMPLE, example_orientation()),
        (comparison, "two_panels", "Two panels, a pump, prices and a goal, all invented", EXAMPLE_CHOICE, example_comparison()),
        (reaches, "missed_goal", "Two panels, prices and a goal that is missed, all invented", EXAMPLE_MISSED, example_reach()),
        (report, "reading_garden", "A 20 W panel and a small pump, all invented", EXAMPLE, example_building()),
        (sky, "walled_yard", "Typed months of sun and a skyline, all invented", EXAMPLE_SITE, example_sky()),
    ):
        content_of(operation["requestBody"])["examples"] = {name: {"summary": summary, "value": asked}}
        content_of(operation["responses"]["200"])["examples"] = {name: {"summary": "The answer to that", "value": told}}
    content_of(places["responses"]["200"])["examples"] = {
        name: {"summary": EXAMPLE_TEXTS[name][0], "value": found} for name, found in example_places().items()
    }


def content_of(described: dict[str, Any]) -> dict[str, Any]:
    """The JSON content of a request or a response in the description."""
    found: dict[str, Any] = described["content"]["application/json"]
    return found


def example_answer() -> dict[str, Any]:
    """The answer to the example, computed, so that it is never out of date."""
    found: dict[str, Any] = json.loads(kept_answer(read_design(EXAMPLE), When()))
    return found


def example_orientation() -> dict[str, Any]:
    """The directions of the example, computed likewise."""
    found: dict[str, Any] = json.loads(kept_orientation(read_design(EXAMPLE), Wanted()))
    return found


def example_comparison() -> dict[str, Any]:
    """The pairs of the example with a choice, computed likewise."""
    found: dict[str, Any] = json.loads(kept_comparison(read_design(EXAMPLE_CHOICE), False))
    return found


def example_reach() -> dict[str, Any]:
    """What would meet the goal of the example that misses it, computed likewise."""
    found: dict[str, Any] = json.loads(kept_reach(read_design(EXAMPLE_MISSED)))
    return found


def example_building() -> dict[str, Any]:
    """What building the example asks for, computed likewise."""
    found: dict[str, Any] = json.loads(kept_building(read_design(EXAMPLE)))
    return found


def example_sky() -> dict[str, Any]:
    """The sky of the example, computed likewise."""
    found: dict[str, Any] = json.loads(kept_sky(read_site(EXAMPLE_SITE)))
    return found


def example_places() -> dict[str, dict[str, Any]]:
    """What the texts of the example find, by the names of the examples."""
    return {name: json.loads(places_bytes(text, USUAL_MOST)) for name, (_, text) in EXAMPLE_TEXTS.items()}
