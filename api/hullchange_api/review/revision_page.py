"""A frozen revision as one HTML file, with its review and its changes."""

from hullchange.document.options import with_option
from hullchange.present.scene import ScenePiece, scene_pieces
from hullchange_api.review.reviews import Reviews
from hullchange_api.review.shared_page import (
    PageContent,
    SharedReview,
    scene_in_file,
    shared_page,
)
from hullchange_api.review.status import listed_revisions, review_of_revision
from hullchange_api.wire.review import Compared


def revision_page(reviews: Reviews, refit: str, number: int, option: str | None) -> bytes:
    """The file, compared with the last revision signed before it, else the previous one.

    Raises:
        ModelError: ``unknown-revision``, ``unknown-option``, ``results-unreadable``,
            ``viewer-not-built``.
    """
    plain = reviews.plain(refit, number)
    review = review_of_revision(reviews, refit, number)
    earlier = [c for c in reviews.revisions.cards(refit) if c.number < number]
    signed = {s.revision_sha256 for s in review.signatures if s.verdict != "not-looked-at"}
    reviewed = [card for card in earlier if card.sha256 in signed] or earlier
    shown = [card.number for card in reviewed[-1:]] + [number]
    before: tuple[ScenePiece, ...] = ()
    since = None
    if len(shown) > 1:
        before = scene_pieces(reviews.boat(refit, shown[0], None))
        since = Compared(
            comparison=reviews.compared(refit, shown[0], number, None),
            scene_before=scene_in_file(before),
            scene_after=scene_in_file(scene_pieces(reviews.boat(refit, number, None))),
        )
    shared_review = SharedReview(
        revisions=tuple(listed_revisions(reviews, refit, shown)),
        review=review,
        since=since,
    )
    return shared_page(
        PageContent(
            name=refit,
            kept_in=f"revision {number}",
            plain=with_option(plain, option),
            boat=reviews.boat(refit, number, option),
            answer=reviews.results(refit, number, option),
            reviewed=shared_review,
            before=before,
        )
    )
