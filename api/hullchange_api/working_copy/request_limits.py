"""Limits on every request (size, origin, host name), and headers of every response."""

import json
from collections.abc import Awaitable, Callable
from contextlib import suppress
from ipaddress import ip_address
from urllib.parse import urlsplit

from fastapi import FastAPI, Request, Response
from starlette.requests import ClientDisconnect

from hullchange.errors import ModelError
from hullchange_api.store.files import MEGABYTE
from hullchange_api.wire.problems import problem_of, problem_response

LARGEST_BODY = 4 * MEGABYTE
LARGER_BODIES = {
    "/attachments": 25 * MEGABYTE,
    "/api/archive": 100 * MEGABYTE,
    **dict.fromkeys(
        (f"/hull-sources/{name}" for name in ("scan", "cloud", "step", "pdf-page")),
        20 * MEGABYTE,
    ),
}
FORWARDED = ("forwarded", "via", "x-forwarded-for", "x-forwarded-host", "x-real-ip")
"""Headers that a proxy adds to a request."""
READS = ("GET", "HEAD", "OPTIONS")
HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "X-Frame-Options": "DENY",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Content-Security-Policy": (
        "default-src 'self'; img-src 'self' data: blob:; style-src 'self' 'unsafe-inline'; "
        "connect-src 'self' blob:; object-src 'none'; base-uri 'none'; form-action 'none'; "
        "frame-ancestors 'none'"
    ),
}


def add_request_limits(app: FastAPI, names: tuple[str, ...], *, is_secret: bool) -> None:
    """Apply the limits before every route of ``app``.

    Args:
        app: the application.
        names: host names it answers to, besides ``localhost`` and IP addresses.
        is_secret: whether the owner's pages need a secret link. If not, everybody is the
            owner, so only requests from this computer are answered.
    """

    @app.middleware("http")
    async def limited(
        request: Request, call_next: Callable[[Request], Awaitable[Response]]
    ) -> Response:
        try:
            refusal = (
                (None if is_secret else _forwarded(request))
                or _refusal(request, names)
                or await _lone_surrogate(request)
            )
        except ClientDisconnect:
            return Response(status_code=400)  # the client has gone
        response = (
            problem_response(problem_of(refusal)) if refusal else await call_next(request)
        )
        for name, value in HEADERS.items():
            response.headers.setdefault(name, value)
        return response


def is_loopback(host: str | None) -> bool:
    """Whether a host name always means this computer."""
    with suppress(ValueError):
        return host == "localhost" or ip_address(host or "").is_loopback
    return False


def _forwarded(request: Request) -> ModelError | None:
    """A refusal if a request shows signs of being forwarded from another computer."""
    host = ""
    with suppress(ValueError):
        host = urlsplit(f"//{request.headers.get('host', '')}").hostname or ""
    is_forwarded = any(name in request.headers for name in FORWARDED)
    if not is_forwarded and (is_loopback(host) or not _is_own_name(host, ())):
        return None
    sentence = (
        "This server's port is forwarded, so everyone who reaches it would be the owner: stop "
        "it, and start it with --secret-link."
    )
    return ModelError("secret-link-needed", sentence)


def _refusal(request: Request, names: tuple[str, ...]) -> ModelError | None:
    host = request.headers.get("host", "")
    if not _is_own_name(host, names):
        # DNS rebinding: another site may point its own name at this address
        return ModelError("foreign-host", "This server does not answer to that host name.")
    most = next(
        (m for end, m in LARGER_BODIES.items() if request.url.path.endswith(end)), LARGEST_BODY
    )
    length = request.headers.get("content-length", "0")
    has_no_length = "transfer-encoding" in request.headers
    if has_no_length or not length.isdecimal() or int(length) > most:
        sentence = (
            f"A request may be at most {most // MEGABYTE} MB here, and must state its length."
        )
        return ModelError("too-large", sentence)
    origin = request.headers.get("origin")
    if request.method in READS or origin is None:
        return None
    with suppress(ValueError):
        if urlsplit(origin).netloc == host:
            return None
    return ModelError("foreign-origin", "Another page may not write here.")


async def _lone_surrogate(request: Request) -> ModelError | None:
    """A refusal if JSON holds a lone surrogate, which no file can store."""
    if request.method in READS or any(request.url.path.endswith(end) for end in LARGER_BODIES):
        return None
    body = await request.body()
    if b"\\ud" not in body.lower():
        return None
    try:
        value = json.loads(body)
    except (ValueError, RecursionError):
        return None  # refused by the route
    try:
        json.dumps(value, ensure_ascii=False).encode()
    except UnicodeEncodeError:
        return ModelError(
            "not-text",
            "A text in the request contains a lone surrogate, half a character: delete it.",
        )
    return None


def _is_own_name(host: str, names: tuple[str, ...]) -> bool:
    try:
        name = urlsplit(f"//{host}").hostname or ""
        if name in ("localhost", *names):
            return True
        ip_address(name)
    except ValueError:
        return False
    return True
