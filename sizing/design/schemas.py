"""The JSON Schemas of what people write: a design file, and its first part."""

from typing import Any

from pydantic import BaseModel

from sizing.design.design import Design
from sizing.design.site import Site


def design_schema() -> dict[str, Any]:
    """JSON Schema of the design file (draft 2020-12); each field with label, unit, limits and advice."""
    return schema_of(Design, "design")


def site_schema() -> dict[str, Any]:
    """The same of a design file's first part, with which a sky is asked for."""
    return schema_of(Site, "site")


def schema_of(model: type[BaseModel], name: str) -> dict[str, Any]:
    """JSON Schema of a model, with its address."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"/api/v1/schemas/{name}",
        **model.model_json_schema(),
    }
