"""What does not depend on a refit: kinds of part, cautions."""

from functools import cache

from fastapi import APIRouter

from hullchange.parts.registry import KINDS
from hullchange.study.cautions import CAUTIONS
from hullchange_api.access import for_reviewers
from hullchange_api.schemas import Caution, PartKind

router = APIRouter(prefix="/api", tags=["knowledge"])


@router.get("/kinds")
@for_reviewers
def list_kinds() -> tuple[PartKind, ...]:
    """The kinds of part, each with the schema its form is drawn from."""
    return _kinds()


@cache
def _kinds() -> tuple[PartKind, ...]:
    return tuple(
        PartKind(
            kind=name,
            title=kind.title,
            about=kind.about,
            parameters=kind.parameters.model_json_schema(),
            example=kind.example.model_dump(mode="json", exclude_none=True),
        )
        for name, kind in KINDS.items()
    )


@router.get("/cautions")
@for_reviewers
def list_cautions() -> tuple[Caution, ...]:
    """The cautions that stand beside every result, in the order they are printed."""
    return tuple(Caution(topic=c.topic, sentence=c.sentence, source=c.source) for c in CAUTIONS)
