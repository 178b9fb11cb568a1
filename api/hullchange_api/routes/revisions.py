"""Frozen revisions: made, listed, read, drawn, compared."""

from typing import Annotated

from fastapi import APIRouter, Path, Response

from hullchange.present.scene import piece_glb, whole_scene
from hullchange_api.access import OneVisitor, for_reviewers
from hullchange_api.desk import View
from hullchange_api.review_schemas import Freezing, Frozen, RevisionCard
from hullchange_api.routes.desks import OneCopy, OneReview
from hullchange_api.routes.meshes import BINARY, GLB, IMMUTABLE
from hullchange_api.routes.working import Condition, Expected, Option
from hullchange_api.standing import standing_of_revision

router = APIRouter(prefix="/api/refits/{refit}/revisions", tags=["revisions"])
Number = Annotated[int, Path(ge=1, le=1_000_000)]


@router.get("")
@for_reviewers
def list_revisions(
    copy: OneCopy, review: OneReview, visitor: OneVisitor
) -> tuple[RevisionCard, ...]:
    """All revisions, oldest first; a reviewer's link lists those it opens."""
    cards = review.revisions.cards(copy.refit)
    is_owner = visitor.role == "owner"
    return tuple(card for card in cards if is_owner or card.number in visitor.revisions)


@router.post("", status_code=201)
def freeze_revision(
    freezing: Freezing, copy: OneCopy, review: OneReview, expected: Expected
) -> RevisionCard:
    """Freeze the working copy: document, hull files, results of every plan, under one hash."""
    return review.freeze(copy, expected, freezing.note)


@router.get("/{revision}")
@for_reviewers
def read_revision(
    copy: OneCopy,
    revision: Number,
    review: OneReview,
    condition: Condition = None,
    option: Option = None,
) -> Frozen:
    """A revision as it was frozen; whether it is signed is said as of now."""
    standing = standing_of_revision(review, copy.refit, revision)
    return review.frozen(copy.refit, revision, View(condition, option), standing)


@router.get("/{revision}/meshes/{name}.glb", response_class=Response, responses=BINARY)
@for_reviewers
def read_revision_mesh(
    copy: OneCopy, revision: Number, name: str, review: OneReview
) -> Response:
    """One part's mesh in a revision; its name is the hash of its content."""
    piece = review.piece(copy.refit, revision, name)
    headers = {"ETag": f'"{name}"', "Cache-Control": IMMUTABLE.replace("public", "private")}
    return Response(piece_glb(piece), media_type=GLB, headers=headers)


@router.get("/{revision}/scene.glb", response_class=Response, responses=BINARY)
@for_reviewers
def read_revision_scene(
    copy: OneCopy, revision: Number, review: OneReview, option: Option = None
) -> Response:
    """The whole refit of a revision as glTF."""
    return Response(whole_scene(review.boat(copy.refit, revision, option)), media_type=GLB)
