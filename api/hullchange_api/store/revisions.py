"""Frozen revisions: a document, its files and its results under one hash, never changed."""

import json
from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from hashlib import sha256

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from hullchange.errors import ModelError
from hullchange_api.store import tables
from hullchange_api.store.database import Database
from hullchange_api.wire.review import RevisionCard

DOCUMENT, RESULTS = "document.yaml", "results"


def now(later_s: float = 0.0) -> str:
    """The time, or some seconds later; UTC to the microsecond, so that strings sort by time."""
    at = datetime.now(UTC) + timedelta(seconds=later_s)
    return at.isoformat(timespec="microseconds").replace("+00:00", "Z")


def hash_over(tool: str, files: Mapping[str, bytes]) -> str:
    """SHA-256 of a tool's version and its files by name, whatever their order."""
    named = {name: sha256(content).hexdigest() for name, content in files.items()}
    return sha256(
        json.dumps({"tool": tool, "files": named}, sort_keys=True).encode()
    ).hexdigest()


class Revisions:
    """The revisions of every refit."""

    def __init__(self, database: Database) -> None:
        """Read nothing yet."""
        self._database = database

    def freeze(
        self, refit: str, about: Mapping[str, str | int], files: Mapping[str, bytes]
    ) -> RevisionCard:
        """A new revision.

        Args:
            refit: its id.
            about: edit, note, tool and document_sha256.
            files: by name.

        Raises:
            ModelError: ``not-saved``.
        """
        whole = hash_over(str(about["tool"]), files)
        with self._database.writing() as session:
            last = session.scalar(
                select(func.max(tables.Revision.number)).where(tables.Revision.refit == refit)
            )
            row = tables.Revision(
                refit=refit, number=(last or 0) + 1, made_at=now(), sha256=whole, **about
            )
            session.add(row)
            session.flush()
            for name, content in files.items():
                digest = stored_blob(session, content)
                session.add(
                    tables.RevisionFile(
                        refit=refit, number=row.number, name=name, sha256=digest
                    )
                )
            return card_of(row)

    def cards(self, refit: str) -> tuple[RevisionCard, ...]:
        """All revisions of a refit, oldest first."""
        with self._database.reading() as session:
            rows = session.scalars(
                select(tables.Revision)
                .where(tables.Revision.refit == refit)
                .order_by(tables.Revision.number)
            )
            return tuple(card_of(row) for row in rows)

    def card(self, refit: str, number: int) -> RevisionCard:
        """One revision.

        Raises:
            ModelError: ``unknown-revision``.
        """
        with self._database.reading() as session:
            row = session.get(tables.Revision, (refit, number))
            if row is None:
                sentence = f"There is no revision {number} of {refit}."
                raise ModelError("unknown-revision", sentence)
            return card_of(row)

    def files(self, refit: str, number: int) -> dict[str, bytes]:
        """The files of a revision by name; empty if there is no such revision."""
        with self._database.reading() as session:
            rows = session.execute(
                select(tables.RevisionFile.name, tables.Blob.content)
                .join(tables.Blob, tables.Blob.sha256 == tables.RevisionFile.sha256)
                .where(tables.RevisionFile.refit == refit)
                .where(tables.RevisionFile.number == number)
            )
            return {row.name: row.content for row in rows}


def stored_blob(session: Session, content: bytes) -> str:
    """The digest of some bytes, which are stored if new."""
    digest = sha256(content).hexdigest()
    if session.get(tables.Blob, digest) is None:
        session.add(tables.Blob(sha256=digest, content=content))
        session.flush()
    return digest


def card_of(row: tables.Revision) -> RevisionCard:
    """A row as sent to clients."""
    return RevisionCard.model_validate(row, from_attributes=True)
