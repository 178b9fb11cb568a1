"""Comments, remarks and signatures. Records are added, never changed.

The client chooses a record's id, so that one sent twice, or found again in a review file, is
stored once. The record that arrived last counts, whatever the writers' clocks say.
"""

import json
from collections.abc import Iterable
from dataclasses import asdict
from typing import Any, TypeVar

from sqlalchemy import select
from sqlalchemy.orm import Session

from hullchange.errors import ModelError
from hullchange_api.store import tables
from hullchange_api.store.arrival import Arrival, next_arrival
from hullchange_api.store.database import Database
from hullchange_api.wire.review import NewComment, NewRemark, NewSignature

StoredRecord = TypeVar("StoredRecord", tables.Comment, tables.Remark, tables.Signature)
ARRIVAL_COLUMNS = ("through", "written_at", "arrived_at", "arrival")
MOST_RECORDS = 20_000
NO_CONDITION = (
    "List at least one condition with “agreed with conditions”, and none with any "
    "other verdict."
)


class ReviewRecords:
    """The review records of every refit."""

    def __init__(self, database: Database) -> None:
        """Read nothing yet."""
        self._database = database

    def comment(self, refit: str, new: NewComment, through: str, written_at: str = "") -> bool:
        """Store a comment; True if it is new.

        Args:
            refit: its id.
            new: the comment, with its author.
            through: channel, in words.
            written_at: by the writer's clock; empty if it is written now.

        Raises:
            ModelError: ``id-taken``, ``not-saved``, ``too-many``.
        """
        with self._database.writing() as session:
            arrival = next_arrival(session, refit, through, written_at)
            return add_once(session, comment_row(refit, new, arrival))

    def remark(self, refit: str, about: str, new: NewRemark, how: tuple[str, str]) -> bool:
        """Store a remark on a comment; True if it is new.

        Args:
            refit: its id.
            about: the comment's id.
            new: the remark, with its author.
            how: channel, and time of writing (empty for now).

        Raises:
            ModelError: ``unknown-comment``, ``unknown-attachment``; ``not-possible-now`` if it
                closes a closed comment, reopens an open one, or closes one that was reopened
                after it was written; those of ``comment``.
        """
        with self._database.writing() as session:
            row = remark_row(refit, about, new, next_arrival(session, refit, *how))
            if session.get(tables.Comment, (refit, about)) is None:
                raise ModelError(
                    "unknown-comment", "There is no comment with this id.", "comment"
                )
            for attachment in new.evidence:
                stored = session.get(tables.Attachment, (refit, attachment))
                if stored is None or stored.removed_at is not None:
                    sentence = "The evidence file is not here: send it first."
                    raise ModelError("unknown-attachment", sentence, "evidence")
            if session.get(tables.Remark, (refit, new.id)) is None:
                _require_possible(session, row)
            return add_once(session, row)

    def signature(
        self, refit: str, new: NewSignature, through: str, written_at: str = ""
    ) -> bool:
        """Store a signature; True if it is new.

        Args:
            refit: its id.
            new: the signature, with its author.
            through: channel, in words.
            written_at: by the writer's clock; empty if it is written now.

        Raises:
            ModelError: ``overtaken`` if no revision has the signed hash;
                ``no-condition``; those of ``comment``.
        """
        require_conditions(new)
        with self._database.writing() as session:
            signed = (
                select(tables.Revision.number)
                .where(tables.Revision.refit == refit)
                .where(tables.Revision.sha256 == new.revision_sha256)
            )
            if session.scalar(signed.limit(1)) is None:
                sentence = "No revision has the signed hash: reload the review."
                raise ModelError("overtaken", sentence, "revision_sha256")
            arrival = next_arrival(session, refit, through, written_at)
            return add_once(session, signature_row(refit, new, arrival))

    def remark_text(self, refit: str, id: str) -> str | None:
        """The text of a remark; None if there is none with this id."""
        with self._database.reading() as session:
            row = session.get(tables.Remark, (refit, id))
            return None if row is None else row.text

    def comments(self, refit: str) -> list[tables.Comment]:
        """All comments, in order of arrival."""
        return self._all(refit, tables.Comment)

    def remarks(self, refit: str) -> list[tables.Remark]:
        """All remarks, in order of arrival."""
        return self._all(refit, tables.Remark)

    def signatures(self, refit: str) -> list[tables.Signature]:
        """All signatures, in order of arrival."""
        return self._all(refit, tables.Signature)

    def _all(self, refit: str, kind: type[StoredRecord]) -> list[StoredRecord]:
        with self._database.reading() as session:
            rows = session.scalars(
                select(kind).where(kind.refit == refit).order_by(kind.arrival, kind.id)
            )
            return list(rows)


def require_conditions(new: NewSignature) -> None:
    """Refuse unless conditions are listed exactly when the verdict needs them.

    Raises:
        ModelError: ``no-condition``.
    """
    if (new.verdict == "agreed-with-conditions") != bool(new.conditions):
        raise ModelError("no-condition", NO_CONDITION, "conditions")


def add_once(session: Session, row: StoredRecord) -> bool:
    """Add a record; True if it is new, False if an equal one is there.

    Raises:
        ModelError: ``id-taken`` if another record has its id; ``too-many``.
    """
    stored = session.get(type(row), (row.refit, row.id))
    if stored is None:
        ids = select(type(row).id).where(type(row).refit == row.refit)
        if len(session.scalars(ids.limit(MOST_RECORDS)).all()) == MOST_RECORDS:
            raise ModelError("too-many", "This refit has as many records as it may.")
        session.add(row)
        session.flush()
        return True
    if content_of(stored) != content_of(row):
        raise ModelError("id-taken", "Another record has this id: choose a new one.", "id")
    return False


def content_of(row: tables.Comment | tables.Remark | tables.Signature) -> dict[str, Any]:
    """The columns of a record, except how and when it arrived."""
    names = (column.key for column in row.__table__.columns)
    return {name: getattr(row, name) for name in names if name not in ARRIVAL_COLUMNS}


def comment_row(refit: str, new: NewComment, arrival: Arrival) -> tables.Comment:
    """A comment as a row."""
    return tables.Comment(
        id=new.id,
        refit=refit,
        revision_sha256=new.revision_sha256,
        on=new.on.model_dump_json(),
        kind=new.kind,
        gate=new.gate,
        text=new.text,
        author=new.author or "",
        **asdict(arrival),
    )


def remark_row(refit: str, about: str, new: NewRemark, arrival: Arrival) -> tables.Remark:
    """A remark as a row."""
    return tables.Remark(
        id=new.id,
        refit=refit,
        comment=about,
        kind=new.kind,
        text=new.text,
        evidence=json.dumps(new.evidence),
        author=new.author or "",
        **asdict(arrival),
    )


def signature_row(refit: str, new: NewSignature, arrival: Arrival) -> tables.Signature:
    """A signature as a row."""
    return tables.Signature(
        id=new.id,
        refit=refit,
        revision_sha256=new.revision_sha256,
        part=new.part,
        verdict=new.verdict,
        scope=new.scope,
        conditions=json.dumps(new.conditions),
        author=new.author or "",
        **asdict(arrival),
    )


def is_closed(remarks: Iterable[tables.Remark]) -> bool:
    """Whether a thread, in order of arrival, ends closed."""
    kinds = [remark.kind for remark in remarks if remark.kind != "reply"]
    return bool(kinds) and kinds[-1] == "closing"


def _require_possible(session: Session, row: tables.Remark) -> None:
    thread = session.scalars(
        select(tables.Remark)
        .where(tables.Remark.refit == row.refit)
        .where(tables.Remark.comment == row.comment)
        .order_by(tables.Remark.arrival, tables.Remark.id)
    ).all()
    closed = is_closed(thread)
    if (row.kind == "closing" and closed) or (row.kind == "reopening" and not closed):
        state = "closed" if closed else "open"
        raise ModelError("not-possible-now", f"The comment is already {state}: reload it.")
    reopened = [one.written_at for one in thread if one.kind == "reopening"]
    is_from_file = row.written_at != row.arrived_at
    if row.kind == "closing" and is_from_file and row.written_at < max(reopened, default=""):
        # written before the reopening, or by a wrong clock: in doubt the comment stays open
        sentence = "The comment was reopened after this was written, so it stays open."
        raise ModelError("not-possible-now", sentence)
