"""The JSON routes of what a class measured."""

from typing import Annotated

from fastapi import APIRouter, Depends, Request
from starlette.responses import Response

from api.answers.measurements import bench_bytes, filled_bytes, first_day_bytes, panel_bytes, sheet_bytes, turned_bytes
from api.answers.skies import refuse_parameters
from api.edge.bodies import design_body
from api.http.class_examples import body_of
from api.http.openapi import problem_responses
from sizing.measured.bench import BenchAnswer
from sizing.measured.day import FilledSheetAnswer, FirstDayAnswer, SheetAnswer
from sizing.measured.panel_check import PanelCheckAnswer
from sizing.measured.trials import TurnedAnswer

REFUSED = ("not-json", "body-too-slow", "too-large", "address-too-long", "wrong-content-type", "invalid-input", "busy")
"""What may befall a request with a log in its body."""
JSON = "application/json"

measured = APIRouter(prefix="/api/v1/measurements")
Body = Annotated[bytes, Depends(design_body)]


@measured.post(
    "/pump-curves",
    summary="From a bench test to a pump",
    response_model=BenchAnswer,
    response_description="The pump that follows from the readings, with likely ranges, and which reading would help most.",
    responses=problem_responses(*REFUSED),
    openapi_extra=body_of("pump-curves"),
)
def pump_curve(request: Request, body: Body) -> Response:
    refuse_parameters(request.query_params.multi_items())
    return Response(bench_bytes(body), media_type=JSON)


@measured.post(
    "/directions",
    summary="What turning and tilting the panel did",
    response_model=TurnedAnswer,
    response_description="Directions and tilts made comparable, how sure their differences are, and heights of the sun.",
    responses=problem_responses(*REFUSED),
    openapi_extra=body_of("directions"),
)
def directions(request: Request, body: Body) -> Response:
    refuse_parameters(request.query_params.multi_items())
    return Response(turned_bytes(body), media_type=JSON)


@measured.post(
    "/panel-checks",
    summary="Hold a panel against its label",
    response_model=PanelCheckAnswer,
    response_description="Readings beside the label's curve, what may be wrong, and what the readings cannot tell.",
    responses=problem_responses(*REFUSED),
    openapi_extra=body_of("panel-checks"),
)
def panel_check(request: Request, body: Body) -> Response:
    refuse_parameters(request.query_params.multi_items())
    return Response(panel_bytes(body), media_type=JSON)


@measured.post(
    "/sheets",
    summary="Predict a clear day, half hour by half hour",
    response_model=SheetAnswer,
    response_description="What a clear sky should bring, with likely ranges.",
    responses=problem_responses(*REFUSED),
    openapi_extra=body_of("sheets"),
)
def sheet(request: Request, body: Body) -> Response:
    refuse_parameters(request.query_params.multi_items())
    return Response(sheet_bytes(body), media_type=JSON)


@measured.post(
    "/filled-sheets",
    summary="Hold a filled sheet against its prediction",
    response_model=FilledSheetAnswer,
    response_description="Measured beside predicted, and which stage is off most likely.",
    responses=problem_responses(*REFUSED),
    openapi_extra=body_of("filled-sheets"),
)
def filled_sheet(request: Request, body: Body) -> Response:
    refuse_parameters(request.query_params.multi_items())
    return Response(filled_bytes(body), media_type=JSON)


@measured.post(
    "/first-days",
    summary="What to measure at the finished fountain, and the looks so far",
    response_model=FirstDayAnswer,
    response_description="What to accept on a clear day, and how the looks that the design holds were.",
    responses=problem_responses(*REFUSED),
    openapi_extra=body_of("first-days"),
)
def first_day(request: Request, body: Body) -> Response:
    refuse_parameters(request.query_params.multi_items())
    return Response(first_day_bytes(body), media_type=JSON)
