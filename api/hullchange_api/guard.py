"""Limits at the door: size of a request, no writing from a foreign page, strict headers."""

from collections.abc import Awaitable, Callable
from urllib.parse import urlsplit

from fastapi import FastAPI, Request, Response

from hullchange.errors import ModelError
from hullchange_api.problems import problem_of, problem_response

LARGEST_BODY = 4 * 1024 * 1024
READS = ("GET", "HEAD", "OPTIONS")
HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "X-Frame-Options": "DENY",
    "Content-Security-Policy": (
        "default-src 'self'; img-src 'self' data: blob:; style-src 'self' 'unsafe-inline'; "
        "connect-src 'self' blob:; object-src 'none'; base-uri 'none'; form-action 'none'"
    ),
}


def guarded(app: FastAPI) -> None:
    """Put the limits before every route of ``app``."""

    @app.middleware("http")
    async def at_the_door(
        request: Request, go_on: Callable[[Request], Awaitable[Response]]
    ) -> Response:
        refusal = _refusal(request)
        response = problem_response(problem_of(refusal)) if refusal else await go_on(request)
        response.headers.update(HEADERS)
        return response


def _refusal(request: Request) -> ModelError | None:
    length = request.headers.get("content-length", "0")
    unsaid = "transfer-encoding" in request.headers
    if unsaid or not length.isdecimal() or int(length) > LARGEST_BODY:
        sentence = "A request may hold 4 MB at the most, and says its length."
        return ModelError("too-large", sentence)
    origin = request.headers.get("origin")
    if request.method in READS or origin is None:
        return None
    if urlsplit(origin).netloc != request.headers.get("host"):
        return ModelError("foreign-origin", "Another page may not write here.")
    return None
