"""The body of a request that sends JSON."""

from fastapi import Request
from starlette.exceptions import HTTPException


async def design_body(request: Request) -> bytes:
    """The body of a request that declares it as JSON."""
    media = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if media != "application/json" or request.headers.get("content-encoding", "identity").lower() != "identity":
        raise HTTPException(415)
    return await request.body()
