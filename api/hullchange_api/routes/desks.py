"""What every route is handed: the desk, the review desk, the working copy of an address."""

from typing import Annotated

from fastapi import Depends, Request

from hullchange_api.desk import Desk
from hullchange_api.review_desk import ReviewDesk
from hullchange_api.store.working import WorkingCopy


async def desk_of(request: Request) -> Desk:
    """The desk of the application that answers."""
    desk: Desk = request.app.state.desk
    return desk


async def review_of(request: Request) -> ReviewDesk:
    """The review desk of the application that answers."""
    review: ReviewDesk = request.app.state.review
    return review


def copy_of(refit: str, desk: Annotated[Desk, Depends(desk_of)]) -> WorkingCopy:
    """The working copy named in the address."""
    return desk.shelf.working(refit)


OneDesk = Annotated[Desk, Depends(desk_of)]
OneReview = Annotated[ReviewDesk, Depends(review_of)]
OneCopy = Annotated[WorkingCopy, Depends(copy_of)]
