"""The refits there are; beginning one, deleting one, and bringing it back."""

from typing import Annotated

from fastapi import APIRouter
from pydantic import StringConstraints

from hullchange.answer.wire import Wire
from hullchange_api.routes.dependencies import CopiesDep, ReviewsDep
from hullchange_api.store.files import FILE_NAME
from hullchange_api.wire.working_copy import RefitCard

router = APIRouter(prefix="/api", tags=["refits"])


class Beginning(Wire):
    """A new refit's name."""

    name: Annotated[str, StringConstraints(max_length=200)]


@router.get("/refits")
def list_refits(copies: CopiesDep) -> tuple[RefitCard, ...]:
    """All refits of this server."""
    return tuple(copies.card(refit) for refit in copies.refits.ids())


@router.post("/refits", status_code=201)
def begin_refit(beginning: Beginning, copies: CopiesDep) -> RefitCard:
    """A new refit from the commented start."""
    return copies.card(copies.refits.begin(beginning.name).refit)


@router.delete("/refits/{refit}", status_code=204)
def delete_refit(refit: str, copies: CopiesDep, reviews: ReviewsDep) -> None:
    """Put a refit that is not signed out of sight, with all that is kept of it."""
    copies.refits.delete(refit)
    reviews.events.publish(refit, "file")


@router.get("/deleted")
def list_deleted(copies: CopiesDep) -> tuple[RefitCard, ...]:
    """The refits that were deleted and can be brought back."""
    refits = copies.refits
    return tuple(
        RefitCard(id=refit, name=refits.name_of(refit) or refit, kept_in=FILE_NAME)
        for refit in refits.deleted()
    )


@router.post("/deleted/{refit}")
def bring_back_refit(refit: str, copies: CopiesDep) -> RefitCard:
    """A refit that was deleted, as it was."""
    copies.refits.bring_back(refit)
    return copies.card(refit)
