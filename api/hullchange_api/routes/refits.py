"""The refits there are; beginning one, deleting one, and bringing it back."""

from typing import Annotated

from fastapi import APIRouter
from pydantic import StringConstraints

from hullchange.answer.wire import Wire
from hullchange_api.routes.dependencies import OneDesk, OneReview
from hullchange_api.store.files import FILE_NAME
from hullchange_api.wire.working_copy import RefitCard

router = APIRouter(prefix="/api", tags=["refits"])


class Beginning(Wire):
    """A new refit's name."""

    name: Annotated[str, StringConstraints(max_length=200)]


@router.get("/refits")
def list_refits(desk: OneDesk) -> tuple[RefitCard, ...]:
    """All refits of this server."""
    return tuple(desk.card(refit) for refit in desk.shelf.ids())


@router.post("/refits", status_code=201)
def begin_refit(beginning: Beginning, desk: OneDesk) -> RefitCard:
    """A new refit from the commented start."""
    return desk.card(desk.shelf.begin(beginning.name).refit)


@router.delete("/refits/{refit}", status_code=204)
def delete_refit(refit: str, desk: OneDesk, review: OneReview) -> None:
    """Put a refit that is not signed out of sight, with all that is kept of it."""
    desk.shelf.delete(refit)
    review.events.tell(refit, "file")


@router.get("/deleted")
def list_deleted(desk: OneDesk) -> tuple[RefitCard, ...]:
    """The refits that were deleted and can be brought back."""
    shelf = desk.shelf
    return tuple(
        RefitCard(id=refit, name=shelf.name_of(refit) or refit, kept_in=FILE_NAME)
        for refit in shelf.deleted()
    )


@router.post("/deleted/{refit}")
def bring_back_refit(refit: str, desk: OneDesk) -> RefitCard:
    """A refit that was deleted, as it was."""
    desk.shelf.bring_back(refit)
    return desk.card(refit)
