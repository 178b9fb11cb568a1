"""Signing in by a link, and who the visitor is."""

from contextlib import suppress

from fastapi import APIRouter, Request, Response

from hullchange.errors import ModelError
from hullchange_api.routes.dependencies import ReviewsDep
from hullchange_api.wire.review import LinkSecret, ReviewerName, Visitor
from hullchange_api.working_copy.access import (
    SHARE_COOKIE,
    Access,
    VisitorDep,
    for_reviewers,
    person_name,
)

router = APIRouter(prefix="/api", tags=["access"])
open_router = APIRouter(prefix="/api/entry", tags=["access"])
"""Routes for clients that are not signed in."""


@open_router.post("", status_code=204)
def enter(secret: LinkSecret, request: Request, response: Response) -> None:
    """Set the cookie for the secret of a link."""
    access: Access = request.app.state.access
    access.enter(request, response, secret.token)


@open_router.delete("", status_code=204)
def leave(response: Response) -> None:
    """Delete the cookie of a share link."""
    response.delete_cookie(SHARE_COOKIE)


@router.get("/visitor")
@for_reviewers
def read_visitor(visitor: VisitorDep, reviews: ReviewsDep) -> Visitor:
    """The visitor: the owner, or a reviewer with what the link opens."""
    if visitor.refit is None or not visitor.revisions:
        return visitor
    name = ""
    with suppress(ModelError):  # whoever opens the revision reads why it cannot be shown
        name = reviews.document(visitor.refit, visitor.revisions[-1]).boat.name
    return visitor.model_copy(update={"boat": name})


@router.post("/visitor", status_code=204)
@for_reviewers
def name_visitor(
    given: ReviewerName, visitor: VisitorDep, reviews: ReviewsDep, request: Request
) -> None:
    """Store the reviewer's name, once."""
    if visitor.role != "reviewer":
        raise ModelError(
            "not-possible-now", "The owner gives a name with each comment and signature."
        )
    reviews.share_links.name(request.state.share, person_name(given.name))
