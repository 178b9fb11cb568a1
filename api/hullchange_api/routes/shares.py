"""Links for reviewers: handed out, listed, revoked. The owner's alone."""

from uuid import UUID

from fastapi import APIRouter, Request

from hullchange_api.review_schemas import NewLink, NewShare, ShareCard
from hullchange_api.routes.desks import OneCopy, OneReview

router = APIRouter(prefix="/api/refits/{refit}/shares", tags=["access"])


@router.get("")
def list_shares(copy: OneCopy, review: OneReview) -> tuple[ShareCard, ...]:
    """All links that were handed out; their tokens are not kept."""
    return review.shares.cards(copy.refit)


@router.post("", status_code=201)
def make_share(new: NewShare, copy: OneCopy, review: OneReview, request: Request) -> NewLink:
    """A link for one reviewer. The page it opens sends its last word to ``/api/entry``."""
    card, token = review.shares.make(copy.refit, new)
    return NewLink(share=card, link=f"{request.base_url}#/shared/{token}")


@router.delete("/{share}")
def revoke_share(copy: OneCopy, share: UUID, review: OneReview) -> ShareCard:
    """A link that opens no more, from this moment."""
    return review.shares.revoke(copy.refit, str(share))
