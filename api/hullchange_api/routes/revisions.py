"""Frozen revisions: create, list, read, draw, compare."""

from urllib.parse import quote

from fastapi import APIRouter, Response

from hullchange.present.scene import piece_glb, whole_scene
from hullchange.present.show_page import show_page
from hullchange_api.review.revision_page import revision_page
from hullchange_api.review.status import listed_revisions, status_of_revision
from hullchange_api.routes.dependencies import (
    GLB,
    GLB_RESPONSE,
    IMMUTABLE,
    Condition,
    CopyDep,
    ExpectedDep,
    Option,
    ReviewsDep,
    RevisionPath,
    StillWantedDep,
)
from hullchange_api.wire.review import (
    Compared,
    Frozen,
    ListedRevision,
    NewRevision,
    RevisionCard,
)
from hullchange_api.working_copy.access import VisitorDep, for_reviewers
from hullchange_api.working_copy.working_copies import View

router = APIRouter(prefix="/api/refits/{refit}/revisions", tags=["revisions"])


@router.get("")
@for_reviewers
def list_revisions(
    copy: CopyDep, reviews: ReviewsDep, visitor: VisitorDep
) -> tuple[ListedRevision, ...]:
    """All revisions, oldest first; a reviewer's link lists those it opens."""
    only = None if visitor.role == "owner" else visitor.revisions
    return tuple(listed_revisions(reviews, copy.refit, only))


@router.post("", status_code=201)
def freeze_revision(
    new: NewRevision,
    copy: CopyDep,
    reviews: ReviewsDep,
    expected: ExpectedDep,
    still_wanted: StillWantedDep,
) -> RevisionCard:
    """Freeze the working copy: document, hull files, results of every option, with one hash.

    Nothing is frozen if the client stops waiting meanwhile.
    """
    return reviews.freeze(copy, expected, new.note, still_wanted)


@router.get("/{revision}")
@for_reviewers
def read_revision(
    copy: CopyDep,
    revision: RevisionPath,
    reviews: ReviewsDep,
    condition: Condition = None,
    option: Option = None,
) -> Frozen:
    """A revision as it was frozen, with its current review status."""
    status = status_of_revision(reviews, copy.refit, revision)
    return reviews.frozen(copy.refit, revision, View(condition, option), status)


@router.get("/{revision}/page.html", response_class=Response)
def read_revision_page(
    copy: CopyDep, revision: RevisionPath, reviews: ReviewsDep, option: Option = None
) -> Response:
    """A revision as one HTML file that needs no server; its review file can be merged back.

    It shows an earlier revision for comparison, which a reviewer's link may not open: so only
    the owner can download it.
    """
    name = quote(f"{copy.refit}-revision-{revision}.html")
    headers = {"Content-Disposition": f"attachment; filename*=UTF-8''{name}"}
    page = revision_page(reviews, copy.refit, revision, option)
    return Response(page, media_type="text/html", headers=headers)


@router.get("/{revision}/show.html", response_class=Response)
def read_page_for_anybody(
    copy: CopyDep, revision: RevisionPath, reviews: ReviewsDep, option: Option = None
) -> Response:
    """A revision as a page to show to anybody: without ledger, costs, notes and review."""
    name = quote(f"{copy.refit}-to-show.html")
    headers = {"Content-Disposition": f"attachment; filename*=UTF-8''{name}"}
    boat = reviews.boat(copy.refit, revision, option)
    page = show_page(boat, reviews.results(copy.refit, revision, option))
    return Response(page, media_type="text/html", headers=headers)


@router.get("/{revision}/since/{before}")
@for_reviewers
def compare_revisions(
    copy: CopyDep,
    revision: RevisionPath,
    before: RevisionPath,
    reviews: ReviewsDep,
    option: Option = None,
) -> Compared:
    """The differences between a revision and an earlier one."""
    return reviews.since(copy, before, revision, option)


@router.get("/{revision}/meshes/{name}.glb", response_class=Response, responses=GLB_RESPONSE)
@for_reviewers
def read_revision_mesh(
    copy: CopyDep, revision: RevisionPath, name: str, reviews: ReviewsDep
) -> Response:
    """One part's mesh in a revision; its name is the hash of its content."""
    piece = reviews.piece(copy.refit, revision, name)
    headers = {"ETag": f'"{name}"', "Cache-Control": IMMUTABLE.replace("public", "private")}
    return Response(piece_glb(piece), media_type=GLB, headers=headers)


@router.get("/{revision}/scene.glb", response_class=Response, responses=GLB_RESPONSE)
@for_reviewers
def read_revision_scene(
    copy: CopyDep, revision: RevisionPath, reviews: ReviewsDep, option: Option = None
) -> Response:
    """The whole refit of a revision as glTF."""
    return Response(whole_scene(reviews.boat(copy.refit, revision, option)), media_type=GLB)
