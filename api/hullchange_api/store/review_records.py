"""What was said of a refit: comments, remarks, signatures. Added to, never changed.

Each record has an id of its writer's choosing, so that one that is sent twice, or comes in a
review file a second time, is there once. What came last is the last word, whatever the clocks
of those who wrote say.
"""

import json
from collections.abc import Iterable
from dataclasses import asdict
from typing import Any, TypeVar

from sqlalchemy import select
from sqlalchemy.orm import Session

from hullchange.errors import ModelError
from hullchange_api.store import tables
from hullchange_api.store.arrival import Came, arriving
from hullchange_api.store.database import Database
from hullchange_api.wire.review import NewComment, NewRemark, NewSignature

Row = TypeVar("Row", tables.Comment, tables.Remark, tables.Signature)
HOW_IT_CAME = ("through", "written_at", "arrived_at", "arrival")
MOST_RECORDS = 20_000


class Said:
    """The review of every refit."""

    def __init__(self, database: Database) -> None:
        """Nothing is read yet."""
        self._database = database

    def comment(self, refit: str, new: NewComment, through: str, written_at: str = "") -> bool:
        """Take a comment; ``new`` says its author. Whether it is new.

        Args:
            refit: its id.
            new: the comment, with its author.
            through: how it came, in words.
            written_at: by the writer's clock; empty for what is written now.

        Raises:
            ModelError: ``id-taken``, ``not-saved``, ``too-many``.
        """
        with self._database.writing() as session:
            came = arriving(session, refit, through, written_at)
            return add_once(session, comment_row(refit, new, came))

    def remark(self, refit: str, about: str, new: NewRemark, how: tuple[str, str]) -> bool:
        """Take a remark on a comment. Whether it is new.

        Args:
            refit: its id.
            about: the comment's id.
            new: the remark, with its author.
            how: through what it came, and when it was written; empty for now.

        Raises:
            ModelError: ``unknown-comment``, ``unknown-attachment``, ``not-possible-now`` where
                a closed comment is closed or an open one opened, or where a closing was
                written before the comment was opened again; those of ``comment``.
        """
        with self._database.writing() as session:
            row = remark_row(refit, about, new, arriving(session, refit, *how))
            if session.get(tables.Comment, (refit, about)) is None:
                raise ModelError(
                    "unknown-comment", "There is no comment of this id.", "comment"
                )
            for attachment in new.evidence:
                there = session.get(tables.Attachment, (refit, attachment))
                if there is None or there.removed_at is not None:
                    sentence = "The evidence is not there: send the file first."
                    raise ModelError("unknown-attachment", sentence, "evidence")
            if session.get(tables.Remark, (refit, new.id)) is None:
                _require_sense(session, row)
            return add_once(session, row)

    def signature(
        self, refit: str, new: NewSignature, through: str, written_at: str = ""
    ) -> bool:
        """Take a signature; ``new`` says its author. Whether it is new.

        Args:
            refit: its id.
            new: the signature, with its author.
            through: how it came, in words.
            written_at: by the writer's clock; empty for what is written now.

        Raises:
            ModelError: ``overtaken`` where no revision has the hash that is signed;
                ``no-condition``; those of ``comment``.
        """
        require_conditions(new)
        with self._database.writing() as session:
            is_there = (
                select(tables.Revision.number)
                .where(tables.Revision.refit == refit)
                .where(tables.Revision.sha256 == new.revision_sha256)
            )
            if session.scalar(is_there.limit(1)) is None:
                sentence = "No revision has the hash that is signed: load the review again."
                raise ModelError("overtaken", sentence, "revision_sha256")
            came = arriving(session, refit, through, written_at)
            return add_once(session, signature_row(refit, new, came))

    def remark_words(self, refit: str, id: str) -> str | None:
        """What a remark says; None where there is none of this id."""
        with self._database.reading() as session:
            row = session.get(tables.Remark, (refit, id))
            return None if row is None else row.text

    def comments(self, refit: str) -> list[tables.Comment]:
        """All comments, in the order in which they came."""
        return self._all(refit, tables.Comment)

    def remarks(self, refit: str) -> list[tables.Remark]:
        """All remarks, in the order in which they came."""
        return self._all(refit, tables.Remark)

    def signatures(self, refit: str) -> list[tables.Signature]:
        """All signatures, in the order in which they came."""
        return self._all(refit, tables.Signature)

    def _all(self, refit: str, kind: type[Row]) -> list[Row]:
        with self._database.reading() as session:
            rows = session.scalars(
                select(kind).where(kind.refit == refit).order_by(kind.arrival, kind.id)
            )
            return list(rows)


def require_conditions(new: NewSignature) -> None:
    """Nothing, where an agreement with conditions names one.

    Raises:
        ModelError: ``no-condition``.
    """
    if (new.verdict == "agreed-with-conditions") != bool(new.conditions):
        sentence = "Conditions belong to 'agreed-with-conditions', which needs one at least."
        raise ModelError("no-condition", sentence, "conditions")


def add_once(session: Session, row: Row) -> bool:
    """Whether a record is new; one that is there word for word is taken as the same.

    Raises:
        ModelError: ``id-taken`` where another has its id; ``too-many``.
    """
    there = session.get(type(row), (row.refit, row.id))
    if there is None:
        alike = select(type(row).id).where(type(row).refit == row.refit)
        if len(session.scalars(alike.limit(MOST_RECORDS)).all()) == MOST_RECORDS:
            raise ModelError("too-many", "This refit holds as many records as it may.")
        session.add(row)
        session.flush()
        return True
    if content_of(there) != content_of(row):
        raise ModelError("id-taken", "Another record has this id: choose a new one.", "id")
    return False


def content_of(row: tables.Comment | tables.Remark | tables.Signature) -> dict[str, Any]:
    """What a record says, without how and when it came."""
    names = (column.key for column in row.__table__.columns)
    return {name: getattr(row, name) for name in names if name not in HOW_IT_CAME}


def comment_row(refit: str, new: NewComment, came: Came) -> tables.Comment:
    """A comment as it is kept."""
    return tables.Comment(
        id=new.id,
        refit=refit,
        revision_sha256=new.revision_sha256,
        on=new.on.model_dump_json(),
        kind=new.kind,
        gate=new.gate,
        text=new.text,
        author=new.author or "",
        **asdict(came),
    )


def remark_row(refit: str, about: str, new: NewRemark, came: Came) -> tables.Remark:
    """A remark as it is kept."""
    return tables.Remark(
        id=new.id,
        refit=refit,
        comment=about,
        kind=new.kind,
        text=new.text,
        evidence=json.dumps(new.evidence),
        author=new.author or "",
        **asdict(came),
    )


def signature_row(refit: str, new: NewSignature, came: Came) -> tables.Signature:
    """A signature as it is kept."""
    return tables.Signature(
        id=new.id,
        refit=refit,
        revision_sha256=new.revision_sha256,
        part=new.part,
        verdict=new.verdict,
        scope=new.scope,
        conditions=json.dumps(new.conditions),
        author=new.author or "",
        **asdict(came),
    )


def is_closed(remarks: Iterable[tables.Remark]) -> bool:
    """Whether the last word of a thread, in the order they came, leaves it closed."""
    words = [remark.kind for remark in remarks if remark.kind != "reply"]
    return bool(words) and words[-1] == "closing"


def _require_sense(session: Session, row: tables.Remark) -> None:
    thread = session.scalars(
        select(tables.Remark)
        .where(tables.Remark.refit == row.refit)
        .where(tables.Remark.comment == row.comment)
        .order_by(tables.Remark.arrival, tables.Remark.id)
    ).all()
    closed = is_closed(thread)
    if (row.kind == "closing" and closed) or (row.kind == "reopening" and not closed):
        state = "closed" if closed else "open"
        raise ModelError("not-possible-now", f"The comment is {state} already: load it again.")
    reopened = [one.written_at for one in thread if one.kind == "reopening"]
    is_filed = row.written_at != row.arrived_at
    if row.kind == "closing" and is_filed and row.written_at < max(reopened, default=""):
        # closed before it was opened again, or a clock is wrong: in doubt it stays open
        sentence = "The comment was opened again after this was written: it stays open."
        raise ModelError("not-possible-now", sentence)
