"""What does not depend on a refit: kinds of part, cautions."""

from fastapi import APIRouter

from hullchange_api.wire.kinds_and_cautions import cautions, part_kinds
from hullchange_api.wire.working_copy import Caution, PartKind
from hullchange_api.working_copy.access import for_reviewers

router = APIRouter(prefix="/api", tags=["knowledge"])


@router.get("/kinds")
@for_reviewers
def list_kinds() -> tuple[PartKind, ...]:
    """The kinds of part, each with the schema its form is drawn from."""
    return part_kinds()


@router.get("/cautions")
@for_reviewers
def list_cautions() -> tuple[Caution, ...]:
    """The cautions that stand beside every result, in the order they are printed."""
    return cautions()
