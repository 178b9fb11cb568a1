"""A frozen revision as one HTML file, with what was said of it and what changed before it."""

from hullchange.document.options import with_option
from hullchange.present.scene import ScenePiece, scene_pieces
from hullchange_api.review.reviews import ReviewDesk
from hullchange_api.review.shared_page import Shared, SharedReview, scene_in_file, shared_page
from hullchange_api.review.status import review_of_revision, standing_of_revision
from hullchange_api.wire.review import Compared, ListedRevision


def revision_page(review: ReviewDesk, refit: str, number: int, option: str | None) -> bytes:
    """The file; it is held against the revision that was signed last, else the one before.

    Raises:
        ModelError: ``unknown-revision``, ``unknown-option``, ``results-unreadable``,
            ``viewer-not-built``.
    """
    plain = review.plain(refit, number)
    said = review_of_revision(review, refit, number)
    earlier = [c for c in review.revisions.cards(refit) if c.number < number]
    signed = {s.revision_sha256 for s in said.signatures if s.verdict != "not-looked-at"}
    looked_at = [card for card in earlier if card.sha256 in signed] or earlier
    shown = [card.number for card in looked_at[-1:]] + [number]
    before: tuple[ScenePiece, ...] = ()
    since = None
    if len(shown) > 1:
        before = scene_pieces(review.boat(refit, shown[0], None))
        since = Compared(
            comparison=review.compared(refit, shown[0], number, None),
            scene_before=scene_in_file(before),
            scene_after=scene_in_file(scene_pieces(review.boat(refit, number, None))),
        )
    reviewed = SharedReview(
        revisions=tuple(
            ListedRevision(
                **review.revisions.card(refit, one).model_dump(),
                standing=standing_of_revision(review, refit, one),
            )
            for one in shown
        ),
        review=said,
        since=since,
    )
    return shared_page(
        Shared(
            name=refit,
            kept_in=f"revision {number}",
            plain=with_option(plain, option),
            boat=review.boat(refit, number, option),
            told=review.results(refit, number, option),
            reviewed=reviewed,
            before=before,
        )
    )
