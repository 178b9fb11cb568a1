"""How a figure is derived: formula, inputs, source, grade."""

from typing import Annotated

from fastapi import APIRouter, Query

from hullchange.explain.record import Explanation
from hullchange_api.routes.dependencies import (
    CopiesDep,
    CopyDep,
    Option,
    ReviewsDep,
    RevisionPath,
)
from hullchange_api.working_copy.access import for_reviewers

router = APIRouter(prefix="/api/refits/{refit}/revisions", tags=["explanations"])
Figure = Annotated[
    str,
    Query(
        max_length=1000,
        description="path of a result, a document value (document.) or a constant (constants.)",
    ),
]


@router.get("/working/explanation")
def explain_working(
    path: Figure, copy: CopyDep, copies: CopiesDep, option: Option = None
) -> Explanation:
    """How a figure of the working copy is derived; calculates the full answer if needed."""
    return copies.explanation(copy, option, path)


@router.get("/{revision}/explanation")
@for_reviewers
def explain_revision(
    path: Figure,
    copy: CopyDep,
    revision: RevisionPath,
    reviews: ReviewsDep,
    option: Option = None,
) -> Explanation:
    """How a figure of a revision as it was frozen is derived."""
    return reviews.explanation(copy.refit, revision, option, path)
