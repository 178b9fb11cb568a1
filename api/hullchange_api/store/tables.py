"""The tables of the store; times are UTC in ISO 8601, long texts and files are blobs.

Records are ordered by ``arrival``, a running number within their refit, never by a clock.
"""

from sqlalchemy import ForeignKey, ForeignKeyConstraint
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column


class Table(DeclarativeBase):
    """Base class of all tables."""


class Refit(Table):
    """A refit: its present edit and step, and its document file."""

    __tablename__ = "refits"

    id: Mapped[str] = mapped_column(primary_key=True)
    file: Mapped[str]
    """Absolute path of the document; empty if it is in the data folder."""
    edit: Mapped[int]
    place: Mapped[int]
    """The number of the present step."""
    file_text: Mapped[str]
    """Text that the file holds or is about to: stored here first."""
    file_sha256: Mapped[str]
    before_sha256: Mapped[str]
    """Digest of what the file held before, until it is written."""


class Step(Table):
    """One step of the undo history."""

    __tablename__ = "steps"

    refit: Mapped[str] = mapped_column(ForeignKey("refits.id"), primary_key=True)
    place: Mapped[int] = mapped_column(primary_key=True)
    label: Mapped[str]
    document: Mapped[str]
    """JSON of the document's plain values."""
    text: Mapped[str | None]
    """The document as written to the file; None until then."""


class Blob(Table):
    """Bytes, named by their SHA-256."""

    __tablename__ = "blobs"

    sha256: Mapped[str] = mapped_column(primary_key=True)
    content: Mapped[bytes]


class Revision(Table):
    """A frozen state of a refit; never changed."""

    __tablename__ = "revisions"

    refit: Mapped[str] = mapped_column(ForeignKey("refits.id"), primary_key=True)
    number: Mapped[int] = mapped_column(primary_key=True)
    edit: Mapped[int]
    note: Mapped[str]
    made_at: Mapped[str]
    tool: Mapped[str]
    """Version that calculated the results."""
    document_sha256: Mapped[str]
    sha256: Mapped[str] = mapped_column(index=True)
    """Hash of the tool's version and every file."""


class RevisionFile(Table):
    """One file of a revision: document, lines, results."""

    __tablename__ = "revision_files"

    refit: Mapped[str] = mapped_column(primary_key=True)
    number: Mapped[int] = mapped_column(primary_key=True)
    name: Mapped[str] = mapped_column(primary_key=True)
    sha256: Mapped[str] = mapped_column(ForeignKey("blobs.sha256"))

    __table_args__ = (
        ForeignKeyConstraint(["refit", "number"], ["revisions.refit", "revisions.number"]),
    )


class Comment(Table):
    """A comment and what it is pinned to; never changed."""

    __tablename__ = "comments"

    refit: Mapped[str] = mapped_column(ForeignKey("refits.id"), primary_key=True)
    id: Mapped[str] = mapped_column(primary_key=True)
    revision_sha256: Mapped[str | None]
    """Revision that was reviewed; None for the working copy."""
    on: Mapped[str]
    """JSON of what it is pinned to."""
    kind: Mapped[str]
    gate: Mapped[str | None]
    text: Mapped[str]
    author: Mapped[str]
    through: Mapped[str]
    written_at: Mapped[str]
    arrived_at: Mapped[str]
    arrival: Mapped[int]


class Remark(Table):
    """An addition to a comment: a reply, a closing with evidence, a reopening."""

    __tablename__ = "remarks"

    refit: Mapped[str] = mapped_column(ForeignKey("refits.id"), primary_key=True)
    id: Mapped[str] = mapped_column(primary_key=True)
    comment: Mapped[str]
    """No foreign key: a review file may bring a remark before its comment."""
    kind: Mapped[str]
    text: Mapped[str]
    evidence: Mapped[str]
    """JSON list of attachments' ids."""
    author: Mapped[str]
    through: Mapped[str]
    written_at: Mapped[str]
    arrived_at: Mapped[str]
    arrival: Mapped[int]


class Signature(Table):
    """A reviewer's verdict on a revision, or on one part of it; never changed."""

    __tablename__ = "signatures"

    refit: Mapped[str] = mapped_column(ForeignKey("refits.id"), primary_key=True)
    id: Mapped[str] = mapped_column(primary_key=True)
    revision_sha256: Mapped[str]
    part: Mapped[str | None]
    """None for the whole refit."""
    verdict: Mapped[str]
    scope: Mapped[str]
    conditions: Mapped[str]
    """JSON list of sentences."""
    author: Mapped[str]
    through: Mapped[str]
    written_at: Mapped[str]
    arrived_at: Mapped[str]
    arrival: Mapped[int]


class Attachment(Table):
    """A photo, scale ticket or certificate."""

    __tablename__ = "attachments"

    refit: Mapped[str] = mapped_column(ForeignKey("refits.id"), primary_key=True)
    id: Mapped[str] = mapped_column(primary_key=True)
    name: Mapped[str]
    media_type: Mapped[str]
    size_bytes: Mapped[int]
    sha256: Mapped[str] = mapped_column(ForeignKey("blobs.sha256"))
    author: Mapped[str]
    through: Mapped[str]
    written_at: Mapped[str]
    arrived_at: Mapped[str]
    arrival: Mapped[int]
    removed_at: Mapped[str | None]
    """When it was deleted; its bytes stay, so that it can be restored."""


class Share(Table):
    """A link for one reviewer; the token itself is not stored."""

    __tablename__ = "shares"

    id: Mapped[str] = mapped_column(primary_key=True)
    refit: Mapped[str] = mapped_column(ForeignKey("refits.id"), index=True)
    token_sha256: Mapped[str] = mapped_column(unique=True)
    label: Mapped[str]
    revisions: Mapped[str]
    """JSON list of the numbers of the revisions that it opens."""
    reviewer: Mapped[str]
    """Name that the reviewer gave; empty until then."""
    made_at: Mapped[str]
    expires_at: Mapped[str]
    revoked_at: Mapped[str | None]
    last_used_at: Mapped[str | None]


class Nests(Table):
    """The place of every piece of a revision's option on its sheet; never changed."""

    __tablename__ = "nests"

    refit: Mapped[str] = mapped_column(primary_key=True)
    number: Mapped[int] = mapped_column(primary_key=True)
    option: Mapped[str] = mapped_column(primary_key=True)
    """Name of the option; empty for the base design."""
    placements: Mapped[str]
    """JSON."""
    made_at: Mapped[str]

    __table_args__ = (
        ForeignKeyConstraint(["refit", "number"], ["revisions.refit", "revisions.number"]),
    )


class ShopRecord(Table):
    """A record about one step of one piece of steel; never changed."""

    __tablename__ = "shop_words"

    refit: Mapped[str] = mapped_column(ForeignKey("refits.id"), primary_key=True)
    id: Mapped[str] = mapped_column(primary_key=True)
    piece: Mapped[str]
    step: Mapped[str]
    done: Mapped[bool]
    shape: Mapped[str]
    """Digest of the piece's shape at that time."""
    note: Mapped[str]
    author: Mapped[str]
    through: Mapped[str]
    written_at: Mapped[str]
    arrived_at: Mapped[str]
    arrival: Mapped[int]
