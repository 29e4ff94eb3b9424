"""Requests made from the description of the interface, to see that it keeps what it says."""

import schemathesis
from hypothesis import HealthCheck, Phase, seed, settings
from schemathesis import Case
from schemathesis.checks import CheckFunction
from schemathesis.specs.openapi import checks

from tests.asking import APP

SCHEMA = schemathesis.openapi.from_asgi("/openapi.json", APP)
CHECKS: list[CheckFunction] = [
    schemathesis.checks.not_a_server_error,
    checks.status_code_conformance,
    checks.content_type_conformance,
    checks.response_headers_conformance,
    checks.response_schema_conformance,
    checks.negative_data_rejection,
    checks.unsupported_method,
    checks.allow_header_conformance,
]
"""All but acceptance of what fits the schema: such a design may still be no fountain (open sea, a pump curve that rises)."""


@SCHEMA.parametrize()
@seed(20)
@settings(max_examples=25, deadline=None, phases=[Phase.explicit, Phase.generate], suppress_health_check=list(HealthCheck))
def test_the_service_keeps_its_description(case: Case) -> None:
    case.call_and_validate(checks=CHECKS)
