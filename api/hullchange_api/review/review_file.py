"""Review files: what a reviewer wrote on a shared page, to be merged."""

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated, Literal

from pydantic import AfterValidator, AwareDatetime, Field, ValidationError, WithJsonSchema

from hullchange.answer.wire import Wire
from hullchange.errors import ModelError
from hullchange_api.review.reviews import Reviews
from hullchange_api.review.status import conflicts_of
from hullchange_api.store.revisions import now
from hullchange_api.wire.review import (
    Digest,
    Id,
    NewComment,
    NewRemark,
    NewSignature,
    OneLine,
    RevisionCard,
)

MOST_ITEMS = 1000
LARGEST = 4 * 2**20
CHANNEL = "a review file"
SHOWN_DIGITS = 8


def _in_utc(at: datetime) -> datetime:
    try:
        return at.astimezone(UTC)
    except OverflowError as error:  # outside the years that a datetime can hold
        raise ValueError("is not a possible date and time") from error


FiledMoment = Annotated[
    AwareDatetime,
    AfterValidator(_in_utc),
    WithJsonSchema({"type": "string", "format": "date-time"}),
]


class FiledComment(NewComment):
    """A comment written on a shared page."""

    author: OneLine
    written_at: FiledMoment = Field(description="by the reviewer's clock")


class FiledRemark(NewRemark):
    """A reply, closing or reopening written on a shared page."""

    comment: Id = Field(description="comment that it is on")
    evidence: tuple[Id, ...] = Field(default=(), max_length=0)
    author: OneLine
    written_at: FiledMoment


class FiledSignature(NewSignature):
    """A signature written on a shared page; its hash may be that of the document alone."""

    author: OneLine
    written_at: FiledMoment


class ReviewFile(Wire):
    """The comments, remarks and signatures written on a shared page."""

    form: Literal["hullchange review 1"]
    boat: OneLine
    document_sha256: Digest = Field(description="of the document on the page")
    comments: tuple[FiledComment, ...] = Field(default=(), max_length=MOST_ITEMS)
    remarks: tuple[FiledRemark, ...] = Field(default=(), max_length=MOST_ITEMS)
    signatures: tuple[FiledSignature, ...] = Field(default=(), max_length=MOST_ITEMS)


class Merged(Wire):
    """The result of merging a review file."""

    new_count: int = Field(description="items that are new here")
    known_count: int = Field(description="items that were here already")
    conflicts: tuple[str, ...] = Field(description="items that do not fit, one sentence each")


def review_file(path: Path) -> ReviewFile:
    """The review file at a path.

    Raises:
        ModelError: ``not-a-review`` if it is something else, or too large.
    """
    with path.open("rb") as file:
        text = file.read(LARGEST + 1)
    try:
        if len(text) <= LARGEST:
            return ReviewFile.model_validate_json(text)
        why = f"it is larger than {LARGEST // 2**20} MB"
    except ValidationError as error:
        first = error.errors()[0]
        where = ".".join(map(str, first["loc"]))
        why = f"{where or 'its text'}: {first['msg']}"
    sentence = f"{path} is not a review saved from a shared page: {why}."
    raise ModelError("not-a-review", sentence)


def merge(reviews: Reviews, refit: str, file: ReviewFile) -> Merged:
    """Merge a review file: each item once, with a conflict for each that does not fit.

    Merge it again once the things that refused items depend on are there. Closing a comment
    that is already closed, or reopening an open one, becomes a reply, so that its text is kept.

    Raises:
        ModelError: ``another-boat``; ``not-saved`` if the database cannot be written.
    """
    boat = reviews.copies.refits.working_copy(refit).state.document.boat.name
    here = {card.document_sha256 for card in reviews.revisions.cards(refit)}
    if file.boat != boat and file.document_sha256 not in here:  # it may have been renamed since
        sentence = (
            f"This review is of {file.boat}, but this refit is of {boat}: open the "
            f"refit of {file.boat}."
        )
        raise ModelError("another-boat", sentence, "boat")
    before = conflicts_of(reviews, refit)
    merging = _Merging(reviews, refit)
    for comment in file.comments:
        merging.comment(comment)
    for remark in file.remarks:
        merging.remark(remark)
    for signature in file.signatures:
        merging.signature(signature)
    conflicts = merging.conflicts
    if merging.new:
        reviews.events.publish(refit, "review", file=file.document_sha256)
        after = conflicts_of(reviews, refit)
        conflicts = [*conflicts, *(one for one in after if one not in before)]
    return Merged(new_count=merging.new, known_count=merging.known, conflicts=tuple(conflicts))


class _Merging:
    """The merging of one file."""

    def __init__(self, reviews: Reviews, refit: str) -> None:
        self._records = reviews.records
        self._refit = refit
        self._cards = reviews.revisions.cards(refit)
        self.new = 0
        self.known = 0
        self.conflicts: list[str] = []

    def comment(self, filed: FiledComment) -> None:
        """Add a comment."""
        new = NewComment(**filed.model_dump(exclude={"written_at"}))
        at = _stored_time(filed.written_at)
        self._count(
            f"The comment of {filed.author}",
            lambda: self._records.comment(self._refit, new, CHANNEL, at),
        )

    def remark(self, filed: FiledRemark) -> None:
        """Add a remark, as a reply if it no longer closes or opens anything."""
        new = NewRemark(**filed.model_dump(exclude={"written_at", "comment"}))
        how = CHANNEL, _stored_time(filed.written_at)
        whose = f"The answer of {filed.author}"
        if self._records.remark_text(self._refit, new.id) == new.text:
            self.known += 1  # perhaps as a reply
            return

        def add() -> bool:
            try:
                return self._records.remark(self._refit, filed.comment, new, how)
            except ModelError as error:
                if error.code != "not-possible-now":
                    raise
                reply = new.model_copy(update={"kind": "reply"})
                why = error.sentence.removesuffix(": reload it.").rstrip(".")
                self.conflicts.append(
                    f"{whose} was added as a reply, since {why[0].lower()}{why[1:]}."
                )
                return self._records.remark(self._refit, filed.comment, reply, how)

        self._count(whose, add)

    def signature(self, filed: FiledSignature) -> None:
        """Add a signature, if its revision is here."""
        whose = f"The signature of {filed.author}"
        card = self._card(filed.revision_sha256)
        if card is None:
            shown = filed.revision_sha256[:SHOWN_DIGITS]
            self.conflicts.append(
                f"{whose} was left out: no revision here has the document that was signed "
                f"({shown}). Freeze a revision of that document, then merge this file again."
            )
            return
        content = filed.model_dump(exclude={"written_at"}) | {"revision_sha256": card.sha256}
        new, at = NewSignature(**content), _stored_time(filed.written_at)
        self._count(whose, lambda: self._records.signature(self._refit, new, CHANNEL, at))

    def _card(self, digest: str) -> RevisionCard | None:
        """The revision with a hash, else the first whose document has that hash."""
        of_revision = [card for card in self._cards if card.sha256 == digest]
        of_document = [card for card in self._cards if card.document_sha256 == digest]
        return next(iter([*of_revision, *of_document]), None)

    def _count(self, whose: str, add: Callable[[], bool]) -> None:
        try:
            if add():
                self.new += 1
            else:
                self.known += 1
        except ModelError as error:
            self._refuse(whose, error)

    def _refuse(self, whose: str, error: ModelError) -> None:
        if error.code == "not-saved":
            raise error
        words = {
            "id-taken": "a different one with the same id is already here",
            "unknown-comment": "the comment it answers is not here",
        }.get(error.code, error.sentence)
        self.conflicts.append(f"{whose} was left out: {words.rstrip('.')}.")


def _stored_time(at: AwareDatetime) -> str:
    """A time as it is stored; one in the future becomes now."""
    text = at.isoformat(timespec="microseconds").replace("+00:00", "Z")
    return min(text, now())
