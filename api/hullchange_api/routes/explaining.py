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
        description="path of a result, of a value of the document (document.) or of a "
        "constant (constants.)",
    ),
]


@router.get("/working/explanation")
def explain_working(
    path: Figure, copy: CopyDep, copies: CopiesDep, option: Option = None
) -> Explanation:
    """A figure of the working copy; of its whole answer, which is worked out if need be."""
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
    """A figure of a revision as it was frozen."""
    return reviews.explanation(copy.refit, revision, option, path)
