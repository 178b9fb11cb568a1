"""The order in which records arrived, and when an attachment was deleted.

Revision ID: m0005
"""

import sqlalchemy as sa
from alembic import op

revision = "m0005"
down_revision = "m0004"

RECORDS = ("comments", "remarks", "signatures", "attachments", "shop_words")


def upgrade() -> None:
    """Number existing records as SQLite did; their time of arrival is not known."""
    for name in RECORDS:
        for column in (
            sa.Column("arrival", sa.Integer()),
            sa.Column("arrived_at", sa.String()),
        ):
            column.nullable, default = False, "0" if column.name == "arrival" else "''"
            column.server_default = sa.DefaultClause(sa.text(default))
            op.add_column(name, column)
        op.execute(f"UPDATE {name} SET arrival = rowid")
    op.add_column("attachments", sa.Column("removed_at", sa.String(), nullable=True))


def downgrade() -> None:
    """Drop the columns."""
    op.drop_column("attachments", "removed_at")
    for name in RECORDS:
        op.drop_column(name, "arrived_at")
        op.drop_column(name, "arrival")
