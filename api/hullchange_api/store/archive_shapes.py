"""The schemas of an archive, made from the database rows of a refit and back."""

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
from hullchange_api.store.arrival import Arrival
from hullchange_api.store.review_records import comment_row, remark_row, signature_row
from hullchange_api.wire.review import (
    Digest,
    Id,
    NewComment,
    NewRemark,
    NewSignature,
    OneLine,
    RevisionNumber,
)

MOMENT = r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}Z"
Moment = Annotated[str, StringConstraints(pattern=f"^{MOMENT}$")]
OptionalMoment = Annotated[str, StringConstraints(pattern=f"^({MOMENT})?$")]
Count = Annotated[int, Field(ge=0, le=10**15)]
OptionalDigest = Annotated[str, StringConstraints(pattern="^([0-9a-f]{64})?$")]
MediaType = Literal["image/jpeg", "image/png", "image/webp", "image/heic", "application/pdf"]
TableRow = TypeVar("TableRow", bound=tables.Table)


class ArchivedHistory(Wire):
    """The present step of a refit, and what its file holds or is about to."""

    edit: Count
    place: Count
    file_text: str
    file_sha256: OptionalDigest
    before_sha256: OptionalDigest


class ArchivedStep(Wire):
    """A step of the undo history."""

    place: Count
    label: str
    document: dict[str, JsonValue]
    text: str | None


class ArchivedRevision(Wire):
    """A frozen revision, with the digests of its files by name."""

    number: RevisionNumber
    edit: Count
    note: str
    made_at: Moment
    tool: str
    document_sha256: Digest
    sha256: Digest
    files: dict[str, Digest]


class ArchivedComment(NewComment):
    """A comment, with how and when it arrived."""

    through: OneLine
    written_at: Moment
    arrived_at: OptionalMoment = ""
    arrival: Count = 0


class ArchivedRemark(NewRemark):
    """A remark, with its comment and how and when it arrived."""

    comment: Id
    through: OneLine
    written_at: Moment
    arrived_at: OptionalMoment = ""
    arrival: Count = 0


class ArchivedSignature(NewSignature):
    """A signature, with how and when it arrived."""

    through: OneLine
    written_at: Moment
    arrived_at: OptionalMoment = ""
    arrival: Count = 0


class ArchivedAttachment(Wire):
    """An attachment without its bytes."""

    id: Id
    name: str
    media_type: MediaType
    size_bytes: Count
    sha256: Digest
    author: OneLine
    through: OneLine
    written_at: Moment
    arrived_at: OptionalMoment = ""
    arrival: Count = 0
    removed_at: Moment | None = None


class ArchivedNests(Wire):
    """The place of every piece of a revision's option on its sheet."""

    number: RevisionNumber
    option: str
    placements: str
    made_at: Moment


class ArchivedShopRecord(Wire):
    """A record about one step of one piece of steel."""

    id: Id
    piece: str
    step: ShopStep
    done: bool
    shape: str
    note: str
    author: OneLine
    through: OneLine
    written_at: Moment
    arrived_at: OptionalMoment = ""
    arrival: Count = 0


Arrived = TypeVar(
    "Arrived",
    ArchivedComment,
    ArchivedRemark,
    ArchivedSignature,
    ArchivedAttachment,
    ArchivedShopRecord,
)


@dataclass(frozen=True)
class ArchivedRefit:
    """Everything but the bytes of files, and share links, which belong to one server.

    Attributes:
        history: None for a refit that was never opened, which has nothing else either.
        steps: of undo and redo, oldest first.
        revisions: by number.
        comments: oldest first, like all that follows.
        remarks: on comments.
        signatures: on revisions.
        attachments: without their bytes.
        nests: of revisions.
        shop_words: records about pieces of steel.
    """

    history: ArchivedHistory | None = None
    steps: tuple[ArchivedStep, ...] = ()
    revisions: tuple[ArchivedRevision, ...] = ()
    comments: tuple[ArchivedComment, ...] = ()
    remarks: tuple[ArchivedRemark, ...] = ()
    signatures: tuple[ArchivedSignature, ...] = ()
    attachments: tuple[ArchivedAttachment, ...] = ()
    nests: tuple[ArchivedNests, ...] = ()
    shop_words: tuple[ArchivedShopRecord, ...] = ()


def archived_refit(session: Session, refit: str) -> ArchivedRefit:
    """A refit as stored in the database."""
    row = session.get(tables.Refit, refit)
    if row is None:
        return ArchivedRefit()
    steps, revisions, files, comments, remarks, signatures, attachments, nests, records = (
        _all(session, refit, kind)
        for kind in (
            *(tables.Step, tables.Revision, tables.RevisionFile, tables.Comment),
            *(tables.Remark, tables.Signature, tables.Attachment),
            *(tables.Nests, tables.ShopRecord),
        )
    )
    named: dict[int, dict[str, str]] = {r["number"]: {} for r in revisions}
    for file in files:
        named[file["number"]][file["name"]] = file["sha256"]
    return ArchivedRefit(
        ArchivedHistory.model_validate(_values(row, "id", "file")),
        tuple(ArchivedStep.model_validate(_with_json(step, "document")) for step in steps),
        tuple(ArchivedRevision(**r, files=named[r["number"]]) for r in revisions),
        tuple(ArchivedComment.model_validate(_with_json(c, "on")) for c in comments),
        tuple(ArchivedRemark.model_validate(_with_json(r, "evidence")) for r in remarks),
        tuple(
            ArchivedSignature.model_validate(_with_json(s, "conditions")) for s in signatures
        ),
        tuple(ArchivedAttachment.model_validate(a) for a in attachments),
        tuple(ArchivedNests.model_validate(n) for n in nests),
        tuple(ArchivedShopRecord.model_validate(w) for w in records),
    )


def rows_of(refit: str, archived: ArchivedRefit) -> Iterator[tables.Table]:
    """An archived refit as rows, in an order that foreign keys allow."""
    assert archived.history is not None, "a refit that was never opened has no rows"
    yield tables.Refit(id=refit, file="", **archived.history.model_dump())
    for step in archived.steps:
        known = step.model_dump() | {"document": json.dumps(step.document)}
        yield tables.Step(refit=refit, **known)
    for revision in archived.revisions:
        yield tables.Revision(refit=refit, **revision.model_dump(exclude={"files"}))
        for name, digest in revision.files.items():
            number = revision.number
            yield tables.RevisionFile(refit=refit, number=number, name=name, sha256=digest)
    for comment in archived.comments:
        yield comment_row(refit, comment, _arrival(comment))
    for remark in archived.remarks:
        yield remark_row(refit, remark.comment, remark, _arrival(remark))
    for signature in archived.signatures:
        yield signature_row(refit, signature, _arrival(signature))
    unconverted: tuple[tuple[type[tables.Table], tuple[Wire, ...]], ...] = (
        (tables.Attachment, archived.attachments),
        (tables.Nests, archived.nests),
        (tables.ShopRecord, archived.shop_words),
    )
    yield from (
        kind(refit=refit, **record.model_dump())
        for kind, records in unconverted
        for record in records
    )


def _arrival(record: ArchivedComment | ArchivedRemark | ArchivedSignature) -> Arrival:
    return Arrival(record.through, record.written_at, record.arrived_at, record.arrival)


def in_order(records: tuple[Arrived, ...]) -> tuple[Arrived, ...]:
    """Records of an archive; numbered by time if it has no arrival numbers."""
    if any(record.arrival for record in records):
        return records
    by_clock = sorted(records, key=lambda record: (record.written_at, record.id))
    number = {record.id: k for k, record in enumerate(by_clock, 1)}
    return tuple(record.model_copy(update={"arrival": number[record.id]}) for record in records)


def _all(session: Session, refit: str, kind: type[TableRow]) -> list[dict[str, Any]]:
    """All rows of a refit as plain values, in order of their key."""
    columns = kind.__table__.columns
    key = sorted((c for c in columns if c.primary_key), key=lambda c: c.name == "name")
    rows = session.scalars(select(kind).where(columns["refit"] == refit).order_by(*key))
    return [_values(row, "refit") for row in rows]


def _values(row: tables.Table, *without: str) -> dict[str, Any]:
    names = (column.key for column in row.__table__.columns)
    return {name: getattr(row, name) for name in names if name not in without}


def _with_json(row: dict[str, Any], name: str) -> dict[str, Any]:
    return row | {name: json.loads(row[name])}
