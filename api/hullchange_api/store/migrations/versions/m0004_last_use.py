"""When a share link was last used.

Revision ID: m0004
"""

import sqlalchemy as sa
from alembic import op

revision = "m0004"
down_revision = "m0003"


def upgrade() -> None:
    """Add the column, unknown for existing links."""
    op.add_column("shares", sa.Column("last_used_at", sa.String(), nullable=True))


def downgrade() -> None:
    """Drop the column."""
    op.drop_column("shares", "last_used_at")
