"""Dependencies of routes: application state, and parts of the request."""

import asyncio
from collections.abc import AsyncIterator, Callable
from typing import Annotated, Any, Literal

from fastapi import Depends, Header, Path, Query, Request

from hullchange.errors import ModelError
from hullchange_api.review.reviews import Reviews
from hullchange_api.store.working_copy import WorkingCopy
from hullchange_api.working_copy.working_copies import View, WorkingCopies

LONGEST_NUMBER = 18
GLB = "model/gltf-binary"
GLB_RESPONSE: dict[int | str, dict[str, Any]] = {
    200: {"content": {GLB: {"schema": {"type": "string", "format": "binary"}}}}
}
PNG = "image/png"
PNG_RESPONSE: dict[int | str, dict[str, Any]] = {
    200: {"content": {PNG: {"schema": {"type": "string", "format": "binary"}}}}
}
IMMUTABLE = "public, max-age=31536000, immutable"
Condition = Annotated[
    str | None, Query(description="calculated first; the reference condition if absent")
]
Option = Annotated[str | None, Query(description="one of the document's options")]
RevisionPath = Annotated[int, Path(ge=1, le=1_000_000)]
WorkingOrNumber = Annotated[
    Literal["working"] | RevisionPath, Path(description="number of a revision, or working")
]
Levers = Annotated[
    bool, Query(description="include the righting levers of the chosen condition")
]


async def copies_of(request: Request) -> WorkingCopies:
    """The working copies of this server."""
    copies: WorkingCopies = request.app.state.copies
    return copies


async def reviews_of(request: Request) -> Reviews:
    """The reviews of this server."""
    reviews: Reviews = request.app.state.reviews
    return reviews


def copy_of(refit: str, copies: Annotated[WorkingCopies, Depends(copies_of)]) -> WorkingCopy:
    """The working copy named in the URL."""
    return copies.refits.working_copy(refit)


async def still_wanted_by(request: Request) -> AsyncIterator[Callable[[], None]]:
    """Refuses once the client has gone, so that nothing is saved of what was stopped."""
    await request.body()  # the next message is the disconnect
    watching = asyncio.create_task(_gone(request))

    def require() -> None:
        if watching.done():
            raise ModelError("stopped", "Stopped: nothing was saved.")

    try:
        yield require
    finally:  # whatever was refused meanwhile
        watching.cancel()


async def _gone(request: Request) -> None:
    while (await request.receive())["type"] != "http.disconnect":
        pass


async def expected_edit(
    if_match: Annotated[str | None, Header(description="edit number in quotes")] = None,
) -> int:
    """The edit number that a write is based on.

    Raises:
        ModelError: ``edit-number-missing``.
    """
    number = (if_match or "").strip().removeprefix("W/").strip('"')
    if not number.isdecimal() or len(number) > LONGEST_NUMBER:
        sentence = 'Send the number of the edit you last saw, as If-Match: "12".'
        raise ModelError("edit-number-missing", sentence, "If-Match")
    return int(number)


async def view_of(
    condition: Condition = None, option: Option = None, levers: Levers = False
) -> View:
    """What the page shows."""
    return View(condition, option, levers)


CopiesDep = Annotated[WorkingCopies, Depends(copies_of)]
ReviewsDep = Annotated[Reviews, Depends(reviews_of)]
CopyDep = Annotated[WorkingCopy, Depends(copy_of)]
ExpectedDep = Annotated[int, Depends(expected_edit)]
StillWantedDep = Annotated[Callable[[], None], Depends(still_wanted_by)]
ViewDep = Annotated[View, Depends(view_of)]
