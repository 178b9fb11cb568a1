"""The review of a refit: threads, pins, signatures and what made them stale."""

import json
from collections import defaultdict
from collections.abc import Collection, Iterator
from pathlib import Path

import hullchange
from hullchange.answer.assessment import Assessment, ConditionResult
from hullchange.answer.changes import ChangeResult
from hullchange.boat.boat import Boat
from hullchange.comparison.differences import ValueChange, in_words
from hullchange.comparison.signed_changes import what_changed
from hullchange.document.document import Document
from hullchange.document.matching import PlainDocument
from hullchange.document.paths import value_at
from hullchange.errors import ModelError
from hullchange.plain_words import SURVEY
from hullchange.present.scene import scene_pieces
from hullchange_api.review.reviews import Reviews
from hullchange_api.review.sign_off import review_status, superseded
from hullchange_api.store import tables
from hullchange_api.store.refits import Refits
from hullchange_api.store.review_records import is_closed
from hullchange_api.wire.review import (
    Changed,
    Comment,
    ListedRevision,
    Pin,
    Remark,
    Review,
    ReviewStatus,
    Signature,
)
from hullchange_api.working_copy.working_copies import WorkingCopies

NAMED_AT_MOST = 200
NAMED = ("existing", "tanks", "openings", "conditions", "targets", "weights", "voids")
"""Sections of the document that hold things by name."""
SECTIONS = frozenset(Assessment.model_fields) | {"constants"}
"""First steps of the paths of figures that open."""


def review_of(reviews: Reviews, refit: str) -> Review:
    """The review of a refit, compared with its working copy."""
    copy = reviews.copies.refits.working_copy(refit)
    state = copy.state
    pins = Pins(reviews.copies.boat(copy, state, None), state.plain)
    signatures = signatures_of(reviews, refit, state.document, hullchange.__version__)
    return _review(reviews, refit, pins, signatures)


def review_of_revision(reviews: Reviews, refit: str, number: int) -> Review:
    """The review of a refit, compared with one of its revisions.

    Raises:
        ModelError: ``unknown-revision``.
    """
    pins = Pins(reviews.boat(refit, number, None), reviews.plain(refit, number))
    return _review(reviews, refit, pins, _signatures_for(reviews, refit, number))


def _review(
    reviews: Reviews, refit: str, pins: "Pins", signatures: tuple[Signature, ...]
) -> Review:
    threads: dict[str, list[tables.Remark]] = defaultdict(list)
    for remark in reviews.records.remarks(refit):
        threads[remark.comment].append(remark)
    comments = reviews.records.comments(refit)
    known = {comment.id for comment in comments}
    return Review(
        refit=refit,
        standing=review_status(signatures),
        comments=tuple(_comment(c, threads[c.id], pins) for c in comments),
        loose_remarks=tuple(
            _remark(r) for c, thread in threads.items() if c not in known for r in thread
        ),
        signatures=signatures,
    )


def status_of_revision(reviews: Reviews, refit: str, number: int) -> ReviewStatus:
    """The review status of one revision."""
    return review_status(_signatures_for(reviews, refit, number))


def listed_revisions(
    reviews: Reviews, refit: str, only: Collection[int] | None
) -> Iterator[ListedRevision]:
    """Revisions with their review status, oldest first.

    Args:
        reviews: of all refits.
        refit: whose revisions.
        only: numbers of those that are listed; None for all.
    """
    cards = reviews.revisions.cards(refit)
    for card in cards:
        if only is None or card.number in only:
            standing = status_of_revision(reviews, refit, card.number)
            yield ListedRevision(
                **card.model_dump(), standing=standing, has_newer=card is not cards[-1]
            )


def _signatures_for(reviews: Reviews, refit: str, number: int) -> tuple[Signature, ...]:
    tool = reviews.revisions.card(refit, number).tool
    return signatures_of(reviews, refit, reviews.document(refit, number), tool)


def signatures_of(
    reviews: Reviews, refit: str, document: Document, tool: str
) -> tuple[Signature, ...]:
    """All signatures of a refit, compared with a document assessed by a version of the tool."""
    by_hash = {card.sha256: card for card in reviews.revisions.cards(refit)}
    signatures = []
    for row in reviews.records.signatures(refit):
        card = by_hash.get(row.revision_sha256)
        changes: tuple[ValueChange, ...] = ()
        if card is not None:
            signed = reviews.document(refit, card.number)
            changes = what_changed(signed, document, row.part or "")
        other_tool = "" if card is None or card.tool == tool else card.tool
        why = _why(changes, other_tool, tool, is_here=card is not None)
        signatures.append(
            Signature(
                id=row.id,
                revision_sha256=row.revision_sha256,
                revision=None if card is None else card.number,
                part=row.part,
                verdict=row.verdict,
                scope=row.scope,
                conditions=tuple(json.loads(row.conditions)),
                author=row.author,
                through=row.through,
                written_at=row.written_at,
                arrived_at=row.arrived_at or None,
                arrival=row.arrival,
                is_superseded=False,
                is_stale=bool(why),
                changed=tuple(
                    Changed(path=c.path, before=c.before, after=c.after)
                    for c in changes[:NAMED_AT_MOST]
                ),
                why_stale=why,
            )
        )
    over = superseded(tuple(signatures))
    return tuple(one.model_copy(update={"is_superseded": one.id in over}) for one in signatures)


def conflicts_of(reviews: Reviews, refit: str) -> tuple[str, ...]:
    """Signatures that contradict each other, for the working copy."""
    document = reviews.copies.refits.working_copy(refit).state.document
    return review_status(
        signatures_of(reviews, refit, document, hullchange.__version__)
    ).conflicts


def status_of_file(folder: Path, file: Path, document: Document) -> ReviewStatus:
    """The review status of a document; unsigned if the data folder does not know its file."""
    refits = Refits(folder)
    try:
        refit = refits.refit_of(file)
        if refit is None or not refits.database.exists:
            return review_status(())
        reviews = Reviews(WorkingCopies(refits))
        return review_status(signatures_of(reviews, refit, document, hullchange.__version__))
    finally:
        refits.close()


class Pins:
    """The things in a refit that a comment can be pinned to."""

    def __init__(self, boat: Boat, plain: PlainDocument) -> None:
        """Collect the parts of a boat and its document."""
        self._boat = boat
        self._plain = plain
        self._parts = {piece.id for piece in scene_pieces(boat)}

    def holds(self, pin: Pin) -> bool:
        """Whether what a comment is pinned to exists."""
        if pin.path is not None:
            return self._has_value(pin.path)
        if pin.part is None:
            return True
        return pin.part in self._parts and (pin.plate is None or self._has_plate(pin))

    def _has_plate(self, pin: Pin) -> bool:
        name = (pin.part or "").removeprefix("existing.")
        part = self._boat.parts.get(name) or self._boat.existing.get(name)
        ids = {plate.id for plate in part.part.plates} if part is not None else set()
        return (pin.plate or "").removeprefix(f"{pin.part}.") in ids

    def _has_value(self, path: str) -> bool:
        try:
            value_at(self._plain, path)
        except ModelError:
            return self._is_result(path)
        return True

    def _is_result(self, path: str) -> bool:
        """Whether a figure that opens belongs to something in the refit."""
        document = self._boat.document
        match path.split("."):
            case ["document" | "items" | "cockpits" | "replaced", *of]:
                found = self._has_thing(of)
            case ["targets", *_] as of:
                found = self._has_thing(of)
            case ["conditions", name, *of]:
                known = name == SURVEY or name in document.conditions
                field = of[1:] if of[:1] in (["as_found"], ["refit"]) else of
                found = known and {*field[:1]} <= {*ConditionResult.model_fields}
            case ["parts", name, *_]:
                found = name in self._parts
            case ["changes", name, field, *_]:
                found = name in document.changes and field in ChangeResult.model_fields
            case ["waterfall", "steps", name, *_]:
                found = name in document.changes
            case [section, *_]:
                found = section in SECTIONS and section != "changes"
        return found

    def _has_thing(self, keys: list[str]) -> bool:
        """Whether the thing a path belongs to exists, its value given or left to the usual."""
        named = {"changes": 4, **dict.fromkeys(NAMED, 2)}.get(keys[0], 0)
        return not named or self._has_value(".".join(keys[:named]))


def _why(changes: tuple[ValueChange, ...], other_tool: str, tool: str, *, is_here: bool) -> str:
    if not is_here:
        return "the signed revision is not here."
    reasons = []
    if changes:
        reasons.append(f"changed: {in_words(list(changes))}")
    if other_tool:
        reasons.append(f"calculated with hullchange {tool}, signed with {other_tool}")
    return f"{'; '.join(reasons)}." if reasons else ""


def _comment(row: tables.Comment, thread: list[tables.Remark], pins: Pins) -> Comment:
    pin = Pin.model_validate_json(row.on)
    return Comment(
        id=row.id,
        on=pin,
        kind=row.kind,
        gate=row.gate,
        text=row.text,
        author=row.author,
        through=row.through,
        written_at=row.written_at,
        arrived_at=row.arrived_at or None,
        revision_sha256=row.revision_sha256,
        state="closed" if is_closed(thread) else "open",
        is_adrift=not pins.holds(pin),
        thread=tuple(_remark(remark) for remark in thread),
    )


def _remark(row: tables.Remark) -> Remark:
    return Remark(
        id=row.id,
        comment=row.comment,
        kind=row.kind,
        text=row.text,
        evidence=tuple(json.loads(row.evidence)),
        author=row.author,
        through=row.through,
        written_at=row.written_at,
        arrived_at=row.arrived_at or None,
    )
