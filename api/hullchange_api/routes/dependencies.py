"""What routes are handed: the state of the application, and what a request says of itself."""

from typing import Annotated, Any

from fastapi import Depends, Header, Path, Query, Request

from hullchange.errors import ModelError
from hullchange_api.review.reviews import ReviewDesk
from hullchange_api.store.working_copy import WorkingCopy
from hullchange_api.working_copy.working_copies import Desk, View

LONGEST_NUMBER = 18
GLB = "model/gltf-binary"
GLB_RESPONSE: dict[int | str, dict[str, Any]] = {
    200: {"content": {GLB: {"schema": {"type": "string", "format": "binary"}}}}
}
IMMUTABLE = "public, max-age=31536000, immutable"
Condition = Annotated[str | None, Query(description="answered first; the reference if absent")]
Option = Annotated[str | None, Query(description="one of the document's options")]
Number = Annotated[int, Path(ge=1, le=1_000_000)]
Levers = Annotated[bool, Query(description="heel the chosen condition round too")]


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


async def expected_edit(
    if_match: Annotated[str | None, Header(description="edit number in quotes")] = None,
) -> int:
    """Edit number that a write expects.

    Raises:
        ModelError: ``edit-number-missing``.
    """
    number = (if_match or "").strip().removeprefix("W/").strip('"')
    if not number.isdecimal() or len(number) > LONGEST_NUMBER:
        sentence = 'Send the edit number you have seen, as If-Match: "12".'
        raise ModelError("edit-number-missing", sentence, "If-Match")
    return int(number)


async def view_of(
    condition: Condition = None, option: Option = None, levers: Levers = False
) -> View:
    """What the page looks at."""
    return View(condition, option, levers)


OneDesk = Annotated[Desk, Depends(desk_of)]
OneReview = Annotated[ReviewDesk, Depends(review_of)]
OneCopy = Annotated[WorkingCopy, Depends(copy_of)]
Expected = Annotated[int, Depends(expected_edit)]
Looked = Annotated[View, Depends(view_of)]
