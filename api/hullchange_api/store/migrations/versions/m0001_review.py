"""The first tables: refits with their history, revisions, and the review.

Revision ID: m0001
"""

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "m0001"
down_revision = None

TABLES = (
    *("refits", "steps", "blobs", "revisions", "revision_files"),
    *("comments", "remarks", "signatures", "attachments", "shares"),
)


def upgrade() -> None:
    """Create the tables."""
    _refits()
    _revisions()
    _records()
    _shares()


def downgrade() -> None:
    """Drop the tables."""
    for name in reversed(TABLES):
        op.drop_table(name)


def _refits() -> None:
    op.create_table(
        "refits",
        _key("id"),
        *_texts("file", "file_text", "file_sha256", "before_sha256"),
        *_numbers("edit", "place"),
    )
    op.create_table(
        "steps",
        _key("refit", sa.ForeignKey("refits.id")),
        sa.Column("place", sa.Integer(), primary_key=True),
        *_texts("label", "document"),
        *_optional_texts("text"),
    )
    content = sa.Column("content", sa.LargeBinary(), nullable=False)
    op.create_table("blobs", _key("sha256"), content)


def _revisions() -> None:
    op.create_table(
        "revisions",
        _key("refit", sa.ForeignKey("refits.id")),
        sa.Column("number", sa.Integer(), primary_key=True),
        *_numbers("edit"),
        *_texts("note", "made_at", "tool", "document_sha256"),
        _text("sha256", index=True),
    )
    op.create_table(
        "revision_files",
        _key("refit"),
        sa.Column("number", sa.Integer(), primary_key=True),
        _key("name"),
        _text("sha256", sa.ForeignKey("blobs.sha256")),
        sa.ForeignKeyConstraint(["refit", "number"], ["revisions.refit", "revisions.number"]),
    )


def _records() -> None:
    op.create_table(
        "comments",
        *_record_columns(),
        *_texts("on", "kind", "text"),
        *_optional_texts("revision_sha256", "gate"),
    )
    op.create_table(
        "remarks", *_record_columns(), *_texts("comment", "kind", "text", "evidence")
    )
    op.create_table(
        "signatures",
        *_record_columns(),
        *_texts("revision_sha256", "verdict", "scope", "conditions"),
        *_optional_texts("part"),
    )
    op.create_table(
        "attachments",
        *_record_columns(),
        *_texts("name", "media_type"),
        *_numbers("size_bytes"),
        _text("sha256", sa.ForeignKey("blobs.sha256")),
    )


def _shares() -> None:
    op.create_table(
        "shares",
        _key("id"),
        _text("refit", sa.ForeignKey("refits.id"), index=True),
        _text("token_sha256", unique=True),
        *_texts("label", "revisions", "reviewer", "made_at", "expires_at"),
        *_optional_texts("revoked_at"),
    )


def _record_columns() -> list["sa.Column[Any]"]:
    """Columns of every record of the review: refit, author, how and when it arrived."""
    refit = _text("refit", sa.ForeignKey("refits.id"), index=True)
    return [_key("id"), refit, *_texts("author", "through", "written_at")]


def _key(name: str, *more: sa.ForeignKey) -> "sa.Column[Any]":
    return sa.Column(name, sa.String(), *more, primary_key=True)


def _text(
    name: str, *more: sa.ForeignKey, index: bool = False, unique: bool = False
) -> "sa.Column[Any]":
    marks: dict[str, Any] = {"index": True} if index else {}
    return sa.Column(name, sa.String(), *more, nullable=False, unique=unique or None, **marks)


def _texts(*names: str) -> list["sa.Column[Any]"]:
    return [_text(name) for name in names]


def _optional_texts(*names: str) -> list["sa.Column[Any]"]:
    return [sa.Column(name, sa.String(), nullable=True) for name in names]


def _numbers(*names: str) -> list["sa.Column[Any]"]:
    return [sa.Column(name, sa.Integer(), nullable=False) for name in names]
