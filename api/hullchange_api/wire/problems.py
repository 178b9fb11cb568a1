"""Refusals as RFC 9457 problem details with a stable code."""

from collections.abc import Mapping
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import Response
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect

from hullchange.errors import DocumentError, Fault, ModelError, Offer
from hullchange.unit_suffixes import unit_of, without_unit
from hullchange_api.wire.unexpected import error_message
from hullchange_api.wire.working_copy import (
    OfferedValue,
    Problem,
    ProblemFault,
    ProblemOffer,
)

MEDIA_TYPE = "application/problem+json"

STATUS_OF_CODE: Mapping[str, int] = {
    "unknown-refit": 404,
    "unknown-mesh": 404,
    "unknown-revision": 404,
    "overtaken": 412,
    "edit-number-missing": 428,
    "nothing-to-undo": 409,
    "refit-exists": 409,
    "open-elsewhere": 409,
    "too-large": 413,
    "archive-not-plain": 415,
    "not-an-archive": 415,
    "not-saved": 507,
    "foreign-origin": 403,
    "foreign-host": 403,
    "secret-link-needed": 403,
    "unknown-link": 403,
    "link-closed": 403,
    "not-shared": 403,
    "unknown-comment": 404,
    "unknown-attachment": 404,
    "unknown-share": 404,
    "unknown-file": 404,
    "no-pack": 409,
    "id-taken": 409,
    "not-possible-now": 409,
    "too-many": 409,
    "wrong-type": 415,
    "too-many-tries": 429,
}
"""Any other refusal is 422: the request was understood but cannot be answered."""

TITLES: Mapping[int, str] = {
    404: "Not found",
    409: "Not possible now",
    412: "Someone else edited first",
    413: "Too large",
    415: "Wrong kind of file",
    422: "Refused",
    429: "Too many requests",
    428: "Edit number missing",
    403: "Not allowed",
    507: "Not saved",
}


def problem_response(problem: Problem) -> Response:
    """A problem as an HTTP response."""
    return Response(
        problem.model_dump_json(), status_code=problem.status, media_type=MEDIA_TYPE
    )


def problem_of(error: ModelError) -> Problem:
    """A refusal as a problem."""
    status = STATUS_OF_CODE.get(error.code, 422)
    faults = (
        error.faults
        if isinstance(error, DocumentError)
        else (Fault(error.code, error.place, error.sentence),)
    )
    return Problem(
        title=TITLES[status],
        status=status,
        detail=str(error),
        code=error.code,
        faults=tuple(
            ProblemFault(code=f.code, place=f.place, sentence=f.sentence) for f in faults
        ),
        offers=tuple(map(_offer, getattr(error, "offers", ()))),
    )


def _offer(offer: Offer) -> ProblemOffer:
    values = (
        OfferedValue.model_validate({"path": path, "value": value})
        for path, value in offer.values
    )
    return ProblemOffer(sentence=offer.sentence, values=tuple(values))


_LIMITS = {"gt": "more than", "ge": "at least", "lt": "less than", "le": "at most"}


def _misfit(fault: Mapping[str, Any]) -> str:
    """What does not fit in a request: a number out of its range by name and unit."""
    key, context = str(fault["loc"][-1]), fault.get("ctx", {})
    limit = next((one for one in _LIMITS if one in context), None)
    name = without_unit(key).replace("_", " ").capitalize()
    if limit is None or not name:
        return str(fault["msg"])
    bound = f"{context[limit]:g} {unit_of(key)}".strip()
    given = f"{fault['input']} {unit_of(key)}".strip()
    return f"{name} is {given}; it must be {_LIMITS[limit]} {bound}."


def _client_gone(request: Request, error: Exception) -> Response:  # noqa: ARG001
    return Response(status_code=400)


def _unexpected(request: Request, error: Exception) -> Response:
    """The response to a programming error; the traceback goes to the server log."""
    message = error_message(error, f"answering {request.method} {request.url.path}")
    detail = f"{message} Reload the page to see what was saved."
    title = "Fault in the program"
    problem = Problem(title=title, status=500, detail=detail, code="mistake")
    return problem_response(problem)


def add_problem_handlers(app: FastAPI) -> None:
    """Make ``app`` return every refusal as a problem."""

    @app.exception_handler(ModelError)
    def refused(request: Request, error: ModelError) -> Response:  # noqa: ARG001
        return problem_response(problem_of(error))

    app.add_exception_handler(ClientDisconnect, _client_gone)
    app.add_exception_handler(Exception, _unexpected)

    @app.exception_handler(RequestValidationError)
    def not_understood(request: Request, error: RequestValidationError) -> Response:  # noqa: ARG001
        faults = tuple(
            ProblemFault(
                code="bad-request",
                place=".".join(str(step) for step in fault["loc"]),
                sentence=_misfit(fault),
            )
            for fault in error.errors()
        )
        detail = "; ".join(f"{f.place}: {f.sentence}" for f in faults)
        return problem_response(
            Problem(
                title="Request not understood",
                status=422,
                detail=detail,
                code="bad-request",
                faults=faults,
            )
        )

    @app.exception_handler(HTTPException)
    def not_possible(request: Request, error: HTTPException) -> Response:
        return problem_response(
            Problem(
                title=TITLES.get(error.status_code, "Not possible"),
                status=error.status_code,
                detail=f"{request.url.path}: {error.detail}.",
                code=f"http-{error.status_code}",
            )
        )
