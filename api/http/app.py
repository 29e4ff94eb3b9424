"""The service: the JSON routes, the pages of ``web``, and what stands before both."""

import asyncio
import gc
import logging
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from functools import lru_cache
from typing import Annotated, Any

import anyio.to_thread
from fastapi import APIRouter, Depends, FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Match, Mount

from api.answers.asked import asked_when
from api.answers.buildings import kept_building
from api.answers.comparisons import asked_connections, kept_comparison
from api.answers.orientations import asked_wanted, kept_orientation
from api.answers.places import asked_place, places_bytes
from api.answers.reaches import kept_reach
from api.answers.sizings import kept_answer
from api.answers.skies import kept_sky, parse_site, refuse_parameters
from api.edge.bodies import design_body
from api.edge.limits import Body, Front, InFlight, log_on_stderr
from api.edge.problems import BY_STATUS, KINDS, QUERY, explanation, json_bytes, refusal, slug_of
from api.http.class_routes import measured
from api.http.openapi import (
    COMPARISON_EXTRA,
    ORIENTATION_EXTRA,
    PLACES_EXTRA,
    REACH_EXTRA,
    REPORT_EXTRA,
    SIZING_EXTRA,
    SKIES_EXTRA,
    example_answer,
    example_comparison,
    example_orientation,
    example_places,
    example_reach,
    example_sky,
    openapi_document,
    problem_responses,
)
from sizing.answers import PlacesAnswer
from sizing.comparison import ComparisonAnswer
from sizing.design import design_schema, parse_design, site_schema
from sizing.foundation import MODEL_VERSION, Problem, SizingError
from sizing.money import BuildingAnswer
from sizing.orientation import OrientationAnswer
from sizing.reach import ReachAnswer
from sizing.report import Answer, GardenSkyAnswer
from web.routes import mount, pages

THREADS = 2
"""Sizings at one time in a process: more only wait for each other and for the health check."""
BODY_REFUSED = ("not-json", "body-too-slow", "too-large", "address-too-long", "wrong-content-type", "invalid-input", "busy")
"""What may befall a request with a design, or a part of one, in its body."""
METHODS = ("GET", "POST", "PUT", "PATCH", "DELETE", "OPTIONS")

routes = APIRouter()


class SchemaResponse(Response):
    """A JSON Schema."""

    media_type = "application/schema+json"


@routes.post(
    "/api/v1/sizings",
    summary="Size one design",
    response_model=Answer,
    response_description="The design sized over a whole year.",
    responses=problem_responses(*BODY_REFUSED),
    openapi_extra=SIZING_EXTRA,
)
def sizing(request: Request, body: Annotated[bytes, Depends(design_body)]) -> Response:
    when = asked_when(request.query_params.multi_items())
    return Response(kept_answer(parse_design(body), when), media_type="application/json")


@routes.post(
    "/api/v1/orientations",
    summary="Find the best direction for one design",
    response_model=OrientationAnswer,
    response_description="The design's year in every direction, and its own beside the best.",
    responses=problem_responses(*BODY_REFUSED),
    openapi_extra=ORIENTATION_EXTRA,
)
def orientation(request: Request, body: Annotated[bytes, Depends(design_body)]) -> Response:
    wanted = asked_wanted(request.query_params.multi_items())
    return Response(kept_orientation(parse_design(body), wanted), media_type="application/json")


@routes.post(
    "/api/v1/comparisons",
    summary="Compare every pump with every panel of one design",
    response_model=ComparisonAnswer,
    response_description="Every pair over the same year, by rank.",
    responses=problem_responses(*BODY_REFUSED),
    openapi_extra=COMPARISON_EXTRA,
)
def comparison(request: Request, body: Annotated[bytes, Depends(design_body)]) -> Response:
    both = asked_connections(request.query_params.multi_items())
    return Response(kept_comparison(parse_design(body), both), media_type="application/json")


@routes.post(
    "/api/v1/reaches",
    summary="What would meet the goal of one design",
    response_model=ReachAnswer,
    response_description="Changes that meet the goal, fewest and cheapest first, or what comes nearest.",
    responses=problem_responses(*BODY_REFUSED),
    openapi_extra=REACH_EXTRA,
)
def reaches(request: Request, body: Annotated[bytes, Depends(design_body)]) -> Response:
    refuse_parameters(request.query_params.multi_items())
    return Response(kept_reach(parse_design(body)), media_type="application/json")


@routes.post(
    "/api/v1/reports",
    summary="What building and keeping one design asks for",
    response_model=BuildingAnswer,
    response_description="Wires, safety notes, basin and its water, frost, and who does and looks after what.",
    responses=problem_responses(*BODY_REFUSED),
    openapi_extra=REPORT_EXTRA,
)
def building(request: Request, body: Annotated[bytes, Depends(design_body)]) -> Response:
    refuse_parameters(request.query_params.multi_items())
    return Response(kept_building(parse_design(body)), media_type="application/json")


@routes.post(
    "/api/v1/skies",
    summary="Explain the sky over one garden",
    response_model=GardenSkyAnswer,
    response_description="The sky month by month, beside the built-in climate, and what the skyline takes.",
    responses=problem_responses(*BODY_REFUSED),
    openapi_extra=SKIES_EXTRA,
)
def sky(request: Request, body: Annotated[bytes, Depends(design_body)]) -> Response:
    refuse_parameters(request.query_params.multi_items())
    return Response(kept_sky(parse_site(body)), media_type="application/json")


@routes.get(
    "/api/v1/places",
    summary="Find where a garden is",
    response_model=PlacesAnswer,
    response_description="The places that the text may mean, best first; none where nothing fits.",
    responses=problem_responses("address-too-long", "invalid-input", "busy"),
    openapi_extra=PLACES_EXTRA,
)
def places_by_text(request: Request) -> Response:
    text, most = asked_place(request.query_params.multi_items())
    return Response(places_bytes(text, most), media_type="application/json")


@routes.get(
    "/api/v1/schemas/design",
    summary="JSON Schema of the design file",
    response_class=SchemaResponse,
    responses={200: {"content": {SchemaResponse.media_type: {"schema": {"type": "object"}}}}},
)
async def schema_of_designs() -> Response:
    return SchemaResponse(written_schema())


@routes.get(
    "/api/v1/schemas/site",
    summary="JSON Schema of what a sky is asked for with: a design file's first part",
    response_class=SchemaResponse,
    responses={200: {"content": {SchemaResponse.media_type: {"schema": {"type": "object"}}}}},
)
async def schema_of_sites() -> Response:
    return SchemaResponse(written_site_schema())


@routes.get("/openapi.json", include_in_schema=False)
def description(request: Request) -> Response:
    return Response(written_description(request.app), media_type="application/json")


@routes.get("/healthz", summary="Whether the service is alive", response_class=PlainTextResponse)
async def health() -> Response:
    return PlainTextResponse("alive\n")


@routes.get(
    "/readyz",
    summary="Whether the tables are loaded",
    response_class=PlainTextResponse,
    responses={503: {"description": "Not yet."}},
)
async def readiness(request: Request) -> Response:
    ready = getattr(request.app.state, "ready", False)
    return PlainTextResponse("ready\n" if ready else "loading\n", 200 if ready else 503)


@routes.get("/problems/{slug}", include_in_schema=False)
async def problem_page(slug: str) -> Response:
    if slug not in KINDS:
        raise HTTPException(404)
    return PlainTextResponse(explanation(slug))


@lru_cache(maxsize=1)
def written_schema() -> bytes:
    return json_bytes(design_schema())


@lru_cache(maxsize=1)
def written_site_schema() -> bytes:
    return json_bytes(site_schema())


@lru_cache(maxsize=1)
def written_description(app: FastAPI) -> bytes:
    return json_bytes(openapi_document(app))


async def sizing_refused(request: Request, error: Any) -> Response:
    """A design that cannot be sized: its own sentences."""
    return refusal(request.scope, slug_of(error), problems=error.problems)


async def http_refused(request: Request, error: Any) -> Response:
    """An address or method that is not there, or what a page refused."""
    headers = {"allow": ", ".join(allowed(request))} if error.status_code == 405 else dict(error.headers or {})
    return refusal(request.scope, BY_STATUS.get(error.status_code, ""), status=error.status_code, headers=headers)


async def parameters_refused(request: Request, error: Any) -> Response:
    """A typed parameter of a page that does not fit; the values themselves are not repeated."""
    names = [str(line["loc"][-1]) for line in error.errors()]
    problems = [Problem(QUERY + name, "out_of_range", f"{name} cannot be used as it is; correct it") for name in names]
    return refusal(request.scope, "invalid-input", problems=problems)


def allowed(request: Request) -> list[str]:
    """The methods that the address of a request answers."""
    scope = request.scope
    outside = {**scope, "root_path": scope.get("app_root_path", scope.get("root_path", ""))}  # as before any mount
    found = []
    for method in METHODS:
        for route in request.app.router.routes:
            fits, _ = route.matches({**outside, "method": method})
            if fits is Match.FULL and (method == "GET" or not isinstance(route, Mount)):
                found.append(method)
                break
    return [name for method in found for name in ((method, "HEAD") if method == "GET" else (method,))]


@asynccontextmanager
async def lifespan(app: FastAPI) -> AsyncIterator[None]:
    """Start with few threads and load the tables while the first pages are answered already."""
    anyio.to_thread.current_default_thread_limiter().total_tokens = THREADS
    with log_on_stderr():
        task = asyncio.create_task(warm_up(app))
        yield
        task.cancel()
        with suppress(asyncio.CancelledError):
            await task


async def warm_up(app: FastAPI) -> None:
    """Answer the examples once: every table is loaded then, and ``/readyz`` says so."""
    try:
        await anyio.to_thread.run_sync(answer_examples, abandon_on_cancel=True)
    except Exception:
        logging.getLogger("solar_fountain").exception("the tables could not be loaded")
    else:
        app.state.ready = True


def answer_examples() -> None:
    """Size a design, search its directions, compare its pairs, meet a goal, explain a sky, find a town and coordinates.

    Whatever is loaded then stays as long as the service, so later collections of garbage pass it by: of a log's thousands of
    rows they took half the time.
    """
    example_answer()
    example_orientation()
    example_comparison()
    example_reach()
    example_sky()
    example_places()
    gc.collect()
    gc.freeze()


def create_app() -> FastAPI:
    """Build the service."""
    app = FastAPI(
        title="Solar fountain sizing",
        version=MODEL_VERSION,
        docs_url=None,
        redoc_url=None,
        openapi_url=None,
        redirect_slashes=False,
        lifespan=lifespan,
    )
    app.include_router(routes)
    app.include_router(measured)
    app.include_router(pages())
    mount(app)
    app.add_exception_handler(SizingError, sizing_refused)
    app.add_exception_handler(HTTPException, http_refused)
    app.add_exception_handler(RequestValidationError, parameters_refused)
    app.add_middleware(InFlight)
    app.add_middleware(Body)
    app.add_middleware(Front)
    return app
