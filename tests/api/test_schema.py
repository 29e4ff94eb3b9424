"""Requests made from the description of the interface, to see that it keeps what it says."""

from functools import lru_cache
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, seed, settings
from schemathesis import Case, GenerationMode
from schemathesis.checks import CheckFunction
from schemathesis.specs.openapi import checks

from tests.asking import APP, MEASUREMENTS
from tests.draws import ALL, draws

OPERATIONS = {
    "POST": (
        "/api/v1/sizings",
        "/api/v1/orientations",
        "/api/v1/comparisons",
        "/api/v1/reaches",
        "/api/v1/reports",
        "/api/v1/skies",
        *MEASUREMENTS,
    ),
    "GET": ("/api/v1/places", "/api/v1/schemas/design", "/api/v1/schemas/site", "/healthz", "/readyz"),
}
ASKED = [(method, path) for method, paths in OPERATIONS.items() for path in paths]
NOTHING_TO_GET_WRONG = ("/api/v1/schemas/design", "/api/v1/schemas/site", "/healthz", "/readyz")
"""They take no input, so there is nothing but the one right request."""
CHECKS: list[CheckFunction] = [
    schemathesis.checks.not_a_server_error,
    checks.status_code_conformance,
    checks.content_type_conformance,
    checks.response_headers_conformance,
    checks.response_schema_conformance,
    checks.negative_data_rejection,
]
"""All but acceptance of what fits the schema: such a design may still be no fountain (open sea, a pump curve that rises)."""


@lru_cache(maxsize=1)
def schema() -> Any:
    """The description of the interface, read when the first test asks: making it takes a second of each process."""
    return schemathesis.openapi.from_asgi("/openapi.json", APP)


@pytest.mark.some(15)
@pytest.mark.draws
@pytest.mark.parametrize("mode", [GenerationMode.POSITIVE, GenerationMode.NEGATIVE], ids=["fits", "does not fit"])
@pytest.mark.parametrize(("method", "path"), ASKED)
def test_the_service_keeps_its_description(method: str, path: str, mode: GenerationMode) -> None:
    if mode is GenerationMode.NEGATIVE and path in NOTHING_TO_GET_WRONG:
        assert not schema()[path][method].query
        return

    @seed(20)
    @settings(
        max_examples=1 if path in MEASUREMENTS or (not ALL and method == "POST") else 4 if method == "POST" else draws(25),
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
        database=None,
    )
    @given(schema()[path][method].as_strategy(generation_mode=mode))
    def keeps_it(case: Case) -> None:
        case.call_and_validate(checks=CHECKS)

    keeps_it()


def test_every_operation_that_is_described_is_asked() -> None:
    described = {(method.upper(), path) for path, methods in schema().raw_schema["paths"].items() for method in methods}
    assert described == set(ASKED)
