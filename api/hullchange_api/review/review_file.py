"""A review file: what was said in a shared page, brought back and taken up once."""

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated, Literal

from pydantic import AfterValidator, AwareDatetime, Field, ValidationError, WithJsonSchema

from hullchange.answer.wire import Wire
from hullchange.errors import ModelError
from hullchange_api.review.reviews import ReviewDesk
from hullchange_api.review.status import conflicts_of
from hullchange_api.store.revisions import now
from hullchange_api.wire.review import (
    Digest,
    Id,
    Line,
    NewComment,
    NewRemark,
    NewSignature,
    RevisionCard,
)

MOST_ITEMS = 1000
LARGEST = 4 * 2**20
THROUGH = "a review file"
SHOWN_DIGITS = 8


def _in_utc(at: datetime) -> datetime:
    try:
        return at.astimezone(UTC)
    except OverflowError as error:  # at the end of the years that can be counted
        raise ValueError("is no moment of this age") from error


Moment = Annotated[
    AwareDatetime,
    AfterValidator(_in_utc),
    WithJsonSchema({"type": "string", "format": "date-time"}),
]


class FiledComment(NewComment):
    """A comment that was written in a shared page."""

    author: Line
    written_at: Moment = Field(description="by the clock of the reviewer's machine")


class FiledRemark(NewRemark):
    """A reply, a closing or a reopening that was written in a shared page."""

    comment: Id = Field(description="what it is about")
    evidence: tuple[Id, ...] = Field(default=(), max_length=0)
    author: Line
    written_at: Moment


class FiledSignature(NewSignature):
    """A word on what the shared page holds; its hash may be that of the document alone."""

    author: Line
    written_at: Moment


class ReviewFile(Wire):
    """All that was said in a shared page."""

    form: Literal["hullchange review 1"]
    boat: Line
    document_sha256: Digest = Field(description="of the document that the page holds")
    comments: tuple[FiledComment, ...] = Field(default=(), max_length=MOST_ITEMS)
    remarks: tuple[FiledRemark, ...] = Field(default=(), max_length=MOST_ITEMS)
    signatures: tuple[FiledSignature, ...] = Field(default=(), max_length=MOST_ITEMS)


class Merged(Wire):
    """What became of a review file."""

    new_count: int = Field(description="what is new here")
    known_count: int = Field(description="what was here already")
    conflicts: tuple[str, ...] = Field(description="what does not fit, each in a sentence")


def review_file(path: Path) -> ReviewFile:
    """The review file at a path.

    Raises:
        ModelError: ``not-a-review`` where it is something else, or larger than one may be.
    """
    with path.open("rb") as kept:
        text = kept.read(LARGEST + 1)
    try:
        if len(text) <= LARGEST:
            return ReviewFile.model_validate_json(text)
        why = f"it is larger than {LARGEST // 2**20} MB"
    except ValidationError as error:
        first = error.errors()[0]
        where = ".".join(map(str, first["loc"]))
        why = f"{where or 'its text'}: {first['msg']}"
    sentence = f"{path} is not a review that was saved from a shared page: {why}."
    raise ModelError("not-a-review", sentence)


def merge(review: ReviewDesk, refit: str, file: ReviewFile) -> Merged:
    """Take up what a review file holds, each item once; what does not fit is said.

    An item that is refused stays in the file: when what it lacks is there, the file is merged
    again. A closing of what was closed meanwhile, or an opening of what is open, is taken as a
    reply, so that its words are kept.

    Raises:
        ModelError: ``another-boat``; ``not-saved`` where the store cannot be written.
    """
    boat = review.desk.shelf.working(refit).state.document.boat.name
    here = {card.document_sha256 for card in review.revisions.cards(refit)}
    if file.boat != boat and file.document_sha256 not in here:  # she may be renamed since
        sentence = f"This review is of {file.boat}, and this refit of {boat}: open hers."
        raise ModelError("another-boat", sentence, "boat")
    before = conflicts_of(review, refit)
    merging = _Merging(review, refit)
    for comment in file.comments:
        merging.comment(comment)
    for remark in file.remarks:
        merging.remark(remark)
    for signature in file.signatures:
        merging.signature(signature)
    conflicts = merging.conflicts
    if merging.taken:
        review.events.tell(refit, "review", file=file.document_sha256)
        now_said = conflicts_of(review, refit)
        conflicts = [*conflicts, *(one for one in now_said if one not in before)]
    return Merged(
        new_count=merging.taken, known_count=merging.known, conflicts=tuple(conflicts)
    )


class _Merging:
    """One file being taken up."""

    def __init__(self, review: ReviewDesk, refit: str) -> None:
        self._said = review.said
        self._refit = refit
        self._cards = review.revisions.cards(refit)
        self.taken = 0
        self.known = 0
        self.conflicts: list[str] = []

    def comment(self, filed: FiledComment) -> None:
        """Take up a comment."""
        new = NewComment(**filed.model_dump(exclude={"written_at"}))
        at = _text(filed.written_at)
        self._take(
            f"The comment of {filed.author}",
            lambda: self._said.comment(self._refit, new, THROUGH, at),
        )

    def remark(self, filed: FiledRemark) -> None:
        """Take up a remark, as a reply where it no longer closes or opens anything."""
        new = NewRemark(**filed.model_dump(exclude={"written_at", "comment"}))
        how = THROUGH, _text(filed.written_at)
        whose = f"The answer of {filed.author}"
        if self._said.remark_words(self._refit, new.id) == new.text:
            self.known += 1  # it may have been taken as a reply
            return

        def add() -> bool:
            try:
                return self._said.remark(self._refit, filed.comment, new, how)
            except ModelError as error:
                if error.code != "not-possible-now":
                    raise
                reply = new.model_copy(update={"kind": "reply"})
                why = error.sentence.removesuffix(": load it again.").rstrip(".")
                self.conflicts.append(f"{whose} is a reply now: {why[0].lower()}{why[1:]}.")
                return self._said.remark(self._refit, filed.comment, reply, how)

        self._take(whose, add)

    def signature(self, filed: FiledSignature) -> None:
        """Take up a signature of a revision that is kept here."""
        whose = f"The signature of {filed.author}"
        card = self._card(filed.revision_sha256)
        if card is None:
            shown = filed.revision_sha256[:SHOWN_DIGITS]
            self.conflicts.append(
                f"{whose} is not taken: no revision here holds what was signed ({shown}). "
                "Freeze a revision of that document, then merge this file again."
            )
            return
        content = filed.model_dump(exclude={"written_at"}) | {"revision_sha256": card.sha256}
        new, at = NewSignature(**content), _text(filed.written_at)
        self._take(whose, lambda: self._said.signature(self._refit, new, THROUGH, at))

    def _card(self, digest: str) -> RevisionCard | None:
        """The revision of a hash, else the first of a document of that hash."""
        of_revision = [card for card in self._cards if card.sha256 == digest]
        of_document = [card for card in self._cards if card.document_sha256 == digest]
        return next(iter([*of_revision, *of_document]), None)

    def _take(self, whose: str, add: Callable[[], bool]) -> None:
        try:
            if add():
                self.taken += 1
            else:
                self.known += 1
        except ModelError as error:
            self._refuse(whose, error)

    def _refuse(self, whose: str, error: ModelError) -> None:
        if error.code == "not-saved":
            raise error
        words = {
            "id-taken": "another of the same id says something else here",
            "unknown-comment": "the comment it answers is not here",
        }.get(error.code, error.sentence)
        self.conflicts.append(f"{whose} is not taken: {words.rstrip('.')}.")


def _text(at: AwareDatetime) -> str:
    """A time as the store keeps it; one that is yet to come is now."""
    text = at.isoformat(timespec="microseconds").replace("+00:00", "Z")
    return min(text, now())
