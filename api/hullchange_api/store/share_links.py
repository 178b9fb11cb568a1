"""Links for reviewers: 256 bits each, of which only the SHA-256 is stored."""

import json
import secrets
from hashlib import sha256
from uuid import uuid4

from sqlalchemy import select

from hullchange.errors import ModelError
from hullchange_api.store import tables
from hullchange_api.store.database import Database
from hullchange_api.store.revisions import now
from hullchange_api.wire.review import NewShare, ShareCard

TOKEN_BYTES = 32
USE_RECORDED_EVERY_SECONDS = 60.0


class ShareLinks:
    """The links of every refit."""

    def __init__(self, database: Database) -> None:
        """Read nothing yet."""
        self._database = database

    def make(self, refit: str, new: NewShare) -> tuple[ShareCard, str]:
        """A link and its token, which is not stored.

        Raises:
            ModelError: ``unknown-revision``, ``not-saved``.
        """
        token = secrets.token_urlsafe(TOKEN_BYTES)
        with self._database.writing() as session:
            for number in new.revisions:
                if session.get(tables.Revision, (refit, number)) is None:
                    sentence = f"There is no revision {number} of {refit}: freeze one first."
                    raise ModelError("unknown-revision", sentence, "revisions")
            row = tables.Share(
                id=str(uuid4()),
                refit=refit,
                token_sha256=digest(token),
                label=new.label,
                revisions=json.dumps(sorted(set(new.revisions))),
                reviewer="",
                made_at=now(),
                expires_at=now(new.opens_for_s),
                revoked_at=None,
                last_used_at=None,
            )
            session.add(row)
            return card_of(row), token

    def cards(self, refit: str) -> tuple[ShareCard, ...]:
        """All links of a refit, oldest first."""
        with self._database.reading() as session:
            rows = session.scalars(
                select(tables.Share)
                .where(tables.Share.refit == refit)
                .order_by(tables.Share.made_at, tables.Share.id)
            )
            return tuple(card_of(row) for row in rows)

    def found(self, token: str) -> tables.Share | None:
        """The link of a token, still open or not; None if there is none."""
        if not self._database.exists:
            return None
        with self._database.reading() as session:
            return session.scalar(
                select(tables.Share).where(tables.Share.token_sha256 == digest(token))
            )

    def use(self, share: tables.Share) -> None:
        """Record that a link was used, at most once a minute."""
        if share.last_used_at is not None and share.last_used_at > now(
            -USE_RECORDED_EVERY_SECONDS
        ):
            return
        with self._database.writing() as session:
            session.get_one(tables.Share, share.id).last_used_at = now()

    def name(self, share: str, reviewer: str) -> None:
        """Store the reviewer's name.

        Raises:
            ModelError: ``not-possible-now`` if another name is stored.
        """
        with self._database.writing() as session:
            row = session.get_one(tables.Share, share)
            if row.reviewer not in ("", reviewer):
                sentence = f"This link belongs to {row.reviewer}: ask for one of your own."
                raise ModelError("not-possible-now", sentence, "name")
            row.reviewer = reviewer

    def revoke(self, refit: str, share: str) -> ShareCard:
        """A link, now revoked.

        Raises:
            ModelError: ``unknown-share``.
        """
        with self._database.writing() as session:
            row = session.get(tables.Share, share)
            if row is None or row.refit != refit:
                raise ModelError("unknown-share", "There is no link with this id.")
            row.revoked_at = row.revoked_at or now()
            return card_of(row)


def digest(token: str) -> str:
    """The hash of a token, stored in its place."""
    return sha256(token.encode()).hexdigest()


def numbers_of(row: tables.Share) -> tuple[int, ...]:
    """The revisions that a link opens."""
    return tuple(json.loads(row.revisions))


def card_of(row: tables.Share) -> ShareCard:
    """A row as sent to clients."""
    return ShareCard(
        id=row.id,
        label=row.label,
        revisions=numbers_of(row),
        reviewer=row.reviewer,
        made_at=row.made_at,
        expires_at=row.expires_at,
        revoked_at=row.revoked_at,
        last_used_at=row.last_used_at,
    )
