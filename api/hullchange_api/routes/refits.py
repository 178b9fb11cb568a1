"""The refits: list, create, delete, restore."""

from fastapi import APIRouter

from hullchange_api.routes.dependencies import CopiesDep, ReviewsDep
from hullchange_api.store.files import FILE_NAME
from hullchange_api.wire.working_copy import NewRefit, RefitCard

router = APIRouter(prefix="/api", tags=["refits"])


@router.get("/refits")
def list_refits(copies: CopiesDep) -> tuple[RefitCard, ...]:
    """All refits of this server."""
    return tuple(copies.card(refit) for refit in copies.refits.ids())


@router.post("/refits", status_code=201)
def begin_refit(new: NewRefit, copies: CopiesDep) -> RefitCard:
    """A new refit from the commented starting document."""
    return copies.card(copies.refits.begin(new.name).refit)


@router.delete("/refits/{refit}", status_code=204)
def delete_refit(refit: str, copies: CopiesDep, reviews: ReviewsDep) -> None:
    """Delete a refit that is not signed, with all its records; it can be restored."""
    copies.refits.delete(refit)
    reviews.events.publish(refit, "file")


@router.get("/deleted")
def list_deleted(copies: CopiesDep) -> tuple[RefitCard, ...]:
    """Deleted refits, which can be restored."""
    refits = copies.refits
    return tuple(
        RefitCard(id=refit, name=refits.name_of(refit) or refit, kept_in=FILE_NAME)
        for refit in refits.deleted()
    )


@router.post("/deleted/{refit}")
def bring_back_refit(refit: str, copies: CopiesDep) -> RefitCard:
    """A deleted refit, restored as it was."""
    copies.refits.bring_back(refit)
    return copies.card(refit)
