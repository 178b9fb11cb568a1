"""Frozen revisions: made, listed, read, drawn, compared."""

from urllib.parse import quote

from fastapi import APIRouter, Response

from hullchange.present.scene import piece_glb, whole_scene
from hullchange_api.review.revision_page import revision_page
from hullchange_api.review.status import standing_of_revision
from hullchange_api.routes.dependencies import (
    GLB,
    GLB_RESPONSE,
    IMMUTABLE,
    Condition,
    Expected,
    Number,
    OneCopy,
    OneReview,
    Option,
)
from hullchange_api.wire.review import (
    Compared,
    Freezing,
    Frozen,
    ListedRevision,
    RevisionCard,
)
from hullchange_api.working_copy.access import OneVisitor, for_reviewers
from hullchange_api.working_copy.working_copies import View

router = APIRouter(prefix="/api/refits/{refit}/revisions", tags=["revisions"])


@router.get("")
@for_reviewers
def list_revisions(
    copy: OneCopy, review: OneReview, visitor: OneVisitor
) -> tuple[ListedRevision, ...]:
    """All revisions, oldest first; a reviewer's link lists those it opens."""
    cards = review.revisions.cards(copy.refit)
    is_owner = visitor.role == "owner"
    return tuple(
        ListedRevision(
            **card.model_dump(),
            standing=standing_of_revision(review, copy.refit, card.number),
        )
        for card in cards
        if is_owner or card.number in visitor.revisions
    )


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


@router.get("/{revision}/page.html", response_class=Response)
def read_revision_page(
    copy: OneCopy, revision: Number, review: OneReview, option: Option = None
) -> Response:
    """A revision as one HTML file that needs no server; what is said in it is merged back.

    It is held against an earlier revision, which a link need not open: the owner hands it out.
    """
    name = quote(f"{copy.refit}-revision-{revision}.html")
    headers = {"Content-Disposition": f"attachment; filename*=UTF-8''{name}"}
    page = revision_page(review, copy.refit, revision, option)
    return Response(page, media_type="text/html", headers=headers)


@router.get("/{revision}/since/{before}")
@for_reviewers
def compare_revisions(
    copy: OneCopy, revision: Number, before: Number, review: OneReview, option: Option = None
) -> Compared:
    """What is not the same in a revision as in another."""
    return review.since(copy, before, revision, option)


@router.get("/{revision}/meshes/{name}.glb", response_class=Response, responses=GLB_RESPONSE)
@for_reviewers
def read_revision_mesh(
    copy: OneCopy, revision: Number, name: str, review: OneReview
) -> Response:
    """One part's mesh in a revision; its name is the hash of its content."""
    piece = review.piece(copy.refit, revision, name)
    headers = {"ETag": f'"{name}"', "Cache-Control": IMMUTABLE.replace("public", "private")}
    return Response(piece_glb(piece), media_type=GLB, headers=headers)


@router.get("/{revision}/scene.glb", response_class=Response, responses=GLB_RESPONSE)
@for_reviewers
def read_revision_scene(
    copy: OneCopy, revision: Number, review: OneReview, option: Option = None
) -> Response:
    """The whole refit of a revision as glTF."""
    return Response(whole_scene(review.boat(copy.refit, revision, option)), media_type=GLB)
