"""The refits: list, create, delete, restore."""

from fastapi import APIRouter

from hullchange.answer.drawing import Outline
from hullchange.start.first_document import first_document
from hullchange_api.routes.dependencies import CopiesDep, ReviewsDep, StillWantedDep
from hullchange_api.store.examples import example_text, examples
from hullchange_api.store.files import FILE_NAME
from hullchange_api.wire.hull_sources import NewRefit
from hullchange_api.wire.working_copy import (
    CopiedRefit,
    ExampleCard,
    OpenedDocument,
    RefitCard,
)

router = APIRouter(prefix="/api", tags=["refits"])


@router.get("/refits")
def list_refits(copies: CopiesDep) -> tuple[RefitCard, ...]:
    """All refits of this server."""
    return tuple(copies.card(refit) for refit in copies.refits.ids())


@router.post("/refits", status_code=201)
def begin_refit(new: NewRefit, copies: CopiesDep, still_wanted: StillWantedDep) -> RefitCard:
    """A new refit from her dimensions, or from the commented starting document.

    Whatever is not given is listed as assumed.
    """
    if new.dimensions is None:
        return copies.card(copies.refits.begin(new.name).refit)
    text = first_document(new.name, new.dimensions.dimensions())
    return copies.card(copies.refits.begin_with(text, still_wanted=still_wanted).refit)


@router.post("/refits/{refit}/copy", status_code=201)
def copy_refit(
    refit: str, new: CopiedRefit, copies: CopiesDep, still_wanted: StillWantedDep
) -> RefitCard:
    """A copy of a refit under another name, without its history and review."""
    return copies.card(copies.refits.copy(refit, new.name, still_wanted).refit)


@router.get("/refits/{refit}/outlines")
def read_outlines(refit: str, copies: CopiesDep) -> tuple[Outline, ...]:
    """The refit from the side, for a small picture."""
    return copies.outlines(refit)


@router.post("/documents", status_code=201)
def open_document(
    given: OpenedDocument, copies: CopiesDep, still_wanted: StillWantedDep
) -> RefitCard:
    """A new refit from the text of a document; the file it came from stays as it is."""
    return copies.card(copies.refits.begin_with(given.text, given.name, still_wanted).refit)


@router.get("/examples")
def list_examples() -> tuple[ExampleCard, ...]:
    """The example boats."""
    return examples()


@router.post("/examples/{example}", status_code=201)
def open_example(example: str, copies: CopiesDep, still_wanted: StillWantedDep) -> RefitCard:
    """The example as a refit of this server: the one that is there, or a new one."""
    if example in copies.refits.ids():
        return copies.card(example)
    text = example_text(example)
    return copies.card(copies.refits.begin_with(text, still_wanted=still_wanted).refit)


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
