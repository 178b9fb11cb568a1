"""Links for reviewers: create, list, revoke; for the owner only."""

from urllib.parse import urlsplit
from uuid import UUID

from fastapi import APIRouter, Request

from hullchange_api.routes.dependencies import CopyDep, ReviewsDep
from hullchange_api.wire.review import NewLink, NewShare, ShareCard
from hullchange_api.working_copy.request_limits import is_loopback

router = APIRouter(prefix="/api/refits/{refit}/shares", tags=["access"])


@router.get("")
def list_shares(copy: CopyDep, reviews: ReviewsDep) -> tuple[ShareCard, ...]:
    """All share links; their tokens are not stored."""
    return reviews.share_links.cards(copy.refit)


@router.post("", status_code=201)
def make_share(new: NewShare, copy: CopyDep, reviews: ReviewsDep, request: Request) -> NewLink:
    """A link for one reviewer; the page it opens sends its token to ``/api/entry``.

    It has the address that other computers reach, if there is one.
    """
    card, token = reviews.share_links.make(copy.refit, new)
    base = str(request.base_url)
    if is_loopback(urlsplit(base).hostname):
        base = request.app.state.address or base
    return NewLink(
        share=card,
        link=f"{base}#/shared/{token}",
        opens_here_alone=is_loopback(urlsplit(base).hostname),
    )


@router.delete("/{share}")
def revoke_share(copy: CopyDep, share: UUID, reviews: ReviewsDep) -> ShareCard:
    """A link, revoked from now on; the reviewer's open page is notified."""
    card = reviews.share_links.revoke(copy.refit, str(share))
    reviews.events.publish(copy.refit, "link", share=card.id)
    return card
