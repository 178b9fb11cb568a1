"""Comments, sign-off, attachments, and events."""

from datetime import UTC, datetime
from math import inf
from typing import Annotated
from urllib.parse import quote
from uuid import UUID

from fastapi import APIRouter, Body, Query, Request, Response
from fastapi.responses import StreamingResponse

from hullchange.errors import ModelError
from hullchange_api.review.review_file import Merged, ReviewFile, merge
from hullchange_api.review.status import review_of
from hullchange_api.routes.dependencies import CopyDep, ReviewsDep
from hullchange_api.store.attachments import SHOWN, Upload
from hullchange_api.wire.review import (
    AttachmentCard,
    NewComment,
    NewRemark,
    NewSignature,
    Review,
    UploadQuery,
    Visitor,
)
from hullchange_api.working_copy.access import (
    VisitorDep,
    author_of,
    channel_of,
    for_reviewers,
    why_closed,
)

router = APIRouter(prefix="/api/refits/{refit}", tags=["review"])
ATTACHMENT_POLICY = "sandbox; default-src 'none'; img-src 'self'; style-src 'unsafe-inline'"


@router.get("/review")
@for_reviewers
def read_review(copy: CopyDep, reviews: ReviewsDep) -> Review:
    """Comments with their threads, signatures, and the current review status."""
    return review_of(reviews, copy.refit)


@router.post("/comments")
@for_reviewers
def add_comment(
    new: NewComment, copy: CopyDep, reviews: ReviewsDep, visitor: VisitorDep
) -> Review:
    """The review with one more comment."""
    named = new.model_copy(update={"author": author_of(visitor, new.author)})
    reviews.records.comment(copy.refit, named, channel_of(visitor))
    reviews.events.publish(copy.refit, "review", comment=new.id)
    return review_of(reviews, copy.refit)


@router.post("/comments/{comment}/remarks")
@for_reviewers
def add_remark(
    comment: UUID, new: NewRemark, copy: CopyDep, reviews: ReviewsDep, visitor: VisitorDep
) -> Review:
    """The review with a reply, a closing with its evidence, or a reopening."""
    named = new.model_copy(update={"author": author_of(visitor, new.author)})
    reviews.records.remark(copy.refit, str(comment), named, (channel_of(visitor), ""))
    reviews.events.publish(copy.refit, "review", comment=str(comment))
    return review_of(reviews, copy.refit)


@router.post("/signatures")
@for_reviewers
def sign(new: NewSignature, copy: CopyDep, reviews: ReviewsDep, visitor: VisitorDep) -> Review:
    """The review with one more signature, bound to the hash of what was reviewed."""
    _require_shared(new.revision_sha256, copy.refit, reviews, visitor)
    named = new.model_copy(update={"author": author_of(visitor, new.author)})
    reviews.records.signature(copy.refit, named, channel_of(visitor))
    reviews.events.publish(copy.refit, "review", signature=new.id)
    return review_of(reviews, copy.refit)


@router.post("/review-file")
def merge_review_file(file: ReviewFile, copy: CopyDep, reviews: ReviewsDep) -> Merged:
    """Merge what was written on a shared page: each item once; conflicts are reported."""
    return merge(reviews, copy.refit, file)


@router.get("/attachments")
@for_reviewers
def list_attachments(copy: CopyDep, reviews: ReviewsDep) -> tuple[AttachmentCard, ...]:
    """All photos, scale tickets and certificates."""
    return reviews.attachments.cards(copy.refit)


@router.post("/attachments", status_code=201)
@for_reviewers
def add_attachment(
    query: Annotated[UploadQuery, Query()],
    content: Annotated[bytes, Body(media_type="application/octet-stream")],
    copy: CopyDep,
    reviews: ReviewsDep,
    visitor: VisitorDep,
) -> AttachmentCard:
    """Store a file: the request body is its bytes."""
    who = author_of(visitor, query.author)
    upload = Upload(query.id, query.name, content, who, channel_of(visitor))
    return reviews.attachments.add(copy.refit, upload)


@router.get("/attachments/{attachment}", response_class=Response)
@for_reviewers
def read_attachment(copy: CopyDep, attachment: UUID, reviews: ReviewsDep) -> Response:
    """An attachment's bytes; only photos may be shown inline."""
    card, content = reviews.attachments.content(copy.refit, str(attachment))
    how = "inline" if card.media_type in SHOWN else "attachment"
    headers = {
        "Content-Disposition": f"{how}; filename*=UTF-8''{quote(card.name)}",
        "Content-Security-Policy": ATTACHMENT_POLICY,
        "Cache-Control": "private, max-age=31536000, immutable",
    }
    return Response(content, media_type=card.media_type, headers=headers)


@router.delete("/attachments/{attachment}")
def delete_attachment(copy: CopyDep, attachment: UUID, reviews: ReviewsDep) -> AttachmentCard:
    """A deleted attachment: no longer shown, but its record and hash stay visible."""
    card = reviews.attachments.delete(copy.refit, str(attachment))
    reviews.events.publish(copy.refit, "review", attachment=card.id)
    return card


@router.post("/attachments/{attachment}/back")
def bring_back_attachment(
    copy: CopyDep, attachment: UUID, reviews: ReviewsDep
) -> AttachmentCard:
    """A deleted attachment, restored."""
    card = reviews.attachments.bring_back(copy.refit, str(attachment))
    reviews.events.publish(copy.refit, "review", attachment=card.id)
    return card


@router.get("/events", response_class=StreamingResponse)
@for_reviewers
async def hear_events(
    copy: CopyDep, reviews: ReviewsDep, visitor: VisitorDep, request: Request
) -> StreamingResponse:
    """Every edit, revision, comment and signature, as server-sent events.

    If the client's link closes meanwhile, a last event says so and the stream ends.
    """
    left_s = inf
    if visitor.expires_at is not None:
        ends = datetime.fromisoformat(visitor.expires_at)
        left_s = (ends - datetime.now(UTC)).total_seconds()
    stream = reviews.events.stream(copy.refit, lambda: why_closed(request), left_s)
    headers = {"Cache-Control": "no-store"}
    return StreamingResponse(stream, media_type="text/event-stream", headers=headers)


def _require_shared(sha256: str, refit: str, reviews: ReviewsDep, visitor: Visitor) -> None:
    if visitor.role == "owner":
        return
    opened = {c.sha256 for c in reviews.revisions.cards(refit) if c.number in visitor.revisions}
    if sha256 not in opened:
        raise ModelError("not-shared", "Your link does not open this revision.")
