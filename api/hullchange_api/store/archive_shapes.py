"""What the database holds of one refit, as values that can be written down and taken up."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Any, Literal, TypeVar

from pydantic import Field, JsonValue, StringConstraints
from sqlalchemy import select
from sqlalchemy.orm import Session

from hullchange.answer.wire import Wire
from hullchange.cutting.progress import ShopStep
from hullchange_api.store import tables
from hullchange_api.store.arrival import Came
from hullchange_api.store.review_records import comment_row, remark_row, signature_row
from hullchange_api.wire.review import (
    Digest,
    Id,
    Line,
    NewComment,
    NewRemark,
    NewSignature,
    RevisionNumber,
)

MOMENT = r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}Z"
Moment = Annotated[str, StringConstraints(pattern=f"^{MOMENT}$")]
PerhapsMoment = Annotated[str, StringConstraints(pattern=f"^({MOMENT})?$")]
Count = Annotated[int, Field(ge=0, le=10**15)]
PerhapsDigest = Annotated[str, StringConstraints(pattern="^([0-9a-f]{64})?$")]
MediaType = Literal["image/jpeg", "image/png", "image/webp", "image/heic", "application/pdf"]
Row = TypeVar("Row", bound=tables.Table)


class KeptHistory(Wire):
    """Which step a refit is at, and what its file holds or is about to."""

    edit: Count
    place: Count
    file_text: str
    file_sha256: PerhapsDigest
    before_sha256: PerhapsDigest


class KeptStep(Wire):
    """A step of the undo history."""

    place: Count
    label: str
    document: dict[str, JsonValue]
    text: str | None


class KeptRevision(Wire):
    """A frozen revision; its files by name, with their digests."""

    number: RevisionNumber
    edit: Count
    note: str
    made_at: Moment
    tool: str
    document_sha256: Digest
    sha256: Digest
    files: dict[str, Digest]


class KeptComment(NewComment):
    """A comment, how it came and when."""

    through: Line
    written_at: Moment
    arrived_at: PerhapsMoment = ""
    arrival: Count = 0


class KeptRemark(NewRemark):
    """A remark, on what, how it came and when."""

    comment: Id
    through: Line
    written_at: Moment
    arrived_at: PerhapsMoment = ""
    arrival: Count = 0


class KeptSignature(NewSignature):
    """A signature, how it came and when."""

    through: Line
    written_at: Moment
    arrived_at: PerhapsMoment = ""
    arrival: Count = 0


class KeptAttachment(Wire):
    """An attachment without its bytes."""

    id: Id
    name: str
    media_type: MediaType
    size_bytes: Count
    sha256: Digest
    author: Line
    through: Line
    written_at: Moment
    arrived_at: PerhapsMoment = ""
    arrival: Count = 0
    removed_at: Moment | None = None


class KeptNests(Wire):
    """Where every piece of a revision's plan lies, as it was handed out."""

    number: RevisionNumber
    option: str
    placements: str
    made_at: Moment


class KeptShopWord(Wire):
    """What was said of one step of one piece of steel."""

    id: Id
    piece: str
    step: ShopStep
    done: bool
    shape: str
    note: str
    author: Line
    through: Line
    written_at: Moment
    arrived_at: PerhapsMoment = ""
    arrival: Count = 0


Said = TypeVar("Said", KeptComment, KeptRemark, KeptSignature, KeptAttachment, KeptShopWord)


@dataclass(frozen=True)
class Kept:
    """Everything but the bytes of files; links handed out are not kept: they open one server.

    Attributes:
        history: None for a refit that was never opened, of which nothing else is kept.
        steps: of undo and redo, oldest first.
        revisions: by number.
        comments: oldest first, as all that follows.
        remarks: on comments.
        signatures: on revisions.
        attachments: files beside.
        nests: of revisions.
        shop_words: how far the steel is.
    """

    history: KeptHistory | None = None
    steps: tuple[KeptStep, ...] = ()
    revisions: tuple[KeptRevision, ...] = ()
    comments: tuple[KeptComment, ...] = ()
    remarks: tuple[KeptRemark, ...] = ()
    signatures: tuple[KeptSignature, ...] = ()
    attachments: tuple[KeptAttachment, ...] = ()
    nests: tuple[KeptNests, ...] = ()
    shop_words: tuple[KeptShopWord, ...] = ()


def kept_of(session: Session, refit: str) -> Kept:
    """What is kept of a refit."""
    row = session.get(tables.Refit, refit)
    if row is None:
        return Kept()
    steps, revisions, files, comments, remarks, signatures, attachments, nests, words = (
        _all(session, refit, kind)
        for kind in (
            *(tables.Step, tables.Revision, tables.RevisionFile, tables.Comment),
            *(tables.Remark, tables.Signature, tables.Attachment),
            *(tables.Nests, tables.ShopWord),
        )
    )
    named: dict[int, dict[str, str]] = {r["number"]: {} for r in revisions}
    for file in files:
        named[file["number"]][file["name"]] = file["sha256"]
    return Kept(
        KeptHistory.model_validate(_plain(row, "id", "file")),
        tuple(KeptStep.model_validate(_read(step, "document")) for step in steps),
        tuple(KeptRevision(**r, files=named[r["number"]]) for r in revisions),
        tuple(KeptComment.model_validate(_read(c, "on")) for c in comments),
        tuple(KeptRemark.model_validate(_read(r, "evidence")) for r in remarks),
        tuple(KeptSignature.model_validate(_read(s, "conditions")) for s in signatures),
        tuple(KeptAttachment.model_validate(a) for a in attachments),
        tuple(KeptNests.model_validate(n) for n in nests),
        tuple(KeptShopWord.model_validate(w) for w in words),
    )


def rows_of(refit: str, kept: Kept) -> Iterator[tables.Table]:
    """The same as rows, in an order in which they can be added one by one."""
    assert kept.history is not None, "nothing is kept of a refit that was never opened"
    yield tables.Refit(id=refit, file="", **kept.history.model_dump())
    for step in kept.steps:
        known = step.model_dump() | {"document": json.dumps(step.document)}
        yield tables.Step(refit=refit, **known)
    for revision in kept.revisions:
        yield tables.Revision(refit=refit, **revision.model_dump(exclude={"files"}))
        for name, digest in revision.files.items():
            number = revision.number
            yield tables.RevisionFile(refit=refit, number=number, name=name, sha256=digest)
    for comment in kept.comments:
        yield comment_row(refit, comment, _came(comment))
    for remark in kept.remarks:
        yield remark_row(refit, remark.comment, remark, _came(remark))
    for signature in kept.signatures:
        yield signature_row(refit, signature, _came(signature))
    as_they_are: tuple[tuple[type[tables.Table], tuple[Wire, ...]], ...] = (
        (tables.Attachment, kept.attachments),
        (tables.Nests, kept.nests),
        (tables.ShopWord, kept.shop_words),
    )
    yield from (
        kind(refit=refit, **record.model_dump())
        for kind, records in as_they_are
        for record in records
    )


def _came(record: KeptComment | KeptRemark | KeptSignature) -> Came:
    return Came(record.through, record.written_at, record.arrived_at, record.arrival)


def in_order(records: tuple[Said, ...]) -> tuple[Said, ...]:
    """Records of an archive, numbered by their clocks where it did not number them."""
    if any(record.arrival for record in records):
        return records
    by_clock = sorted(records, key=lambda record: (record.written_at, record.id))
    number = {record.id: k for k, record in enumerate(by_clock, 1)}
    return tuple(record.model_copy(update={"arrival": number[record.id]}) for record in records)


def _all(session: Session, refit: str, kind: type[Row]) -> list[dict[str, Any]]:
    """All rows of a refit as plain values, in the order of their key."""
    columns = kind.__table__.columns
    key = sorted((c for c in columns if c.primary_key), key=lambda c: c.name == "name")
    rows = session.scalars(select(kind).where(columns["refit"] == refit).order_by(*key))
    return [_plain(row, "refit") for row in rows]


def _plain(row: tables.Table, *without: str) -> dict[str, Any]:
    names = (column.key for column in row.__table__.columns)
    return {name: getattr(row, name) for name in names if name not in without}


def _read(row: dict[str, Any], name: str) -> dict[str, Any]:
    return row | {name: json.loads(row[name])}
