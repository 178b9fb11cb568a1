"""The document's grammar, kinds of part and cautions, which are the same for every refit."""

from fastapi import APIRouter

from hullchange_api.wire.kinds_and_cautions import (
    cautions,
    document_grammar,
    part_kinds,
)
from hullchange_api.wire.working_copy import Caution, DocumentGrammar, PartKind
from hullchange_api.working_copy.access import for_reviewers

router = APIRouter(prefix="/api", tags=["knowledge"])


@router.get("/grammar")
@for_reviewers
def document_grammar_of_this_version() -> DocumentGrammar:
    """What a document may say: its JSON Schema, and which texts name something in it."""
    return document_grammar()


@router.get("/kinds")
@for_reviewers
def list_kinds() -> tuple[PartKind, ...]:
    """The kinds of part, each with the JSON Schema of its form."""
    return part_kinds()


@router.get("/cautions")
@for_reviewers
def list_cautions() -> tuple[Caution, ...]:
    """The cautions shown with every result, in print order."""
    return cautions()
