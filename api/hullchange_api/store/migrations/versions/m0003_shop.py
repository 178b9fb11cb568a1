"""Records of cutting: nests of revisions, and the progress of each piece.

Revision ID: m0003
"""

import sqlalchemy as sa
from alembic import op

revision = "m0003"
down_revision = "m0002"


def upgrade() -> None:
    """Create the tables."""
    op.create_table(
        "nests",
        sa.Column("refit", sa.String(), primary_key=True),
        sa.Column("number", sa.Integer(), primary_key=True),
        sa.Column("option", sa.String(), primary_key=True),
        *(sa.Column(name, sa.String(), nullable=False) for name in ("placements", "made_at")),
        sa.ForeignKeyConstraint(["refit", "number"], ["revisions.refit", "revisions.number"]),
    )
    texts = ("piece", "step", "shape", "note", "author", "through", "written_at")
    refit = sa.ForeignKey("refits.id")
    op.create_table(
        "shop_words",
        sa.Column("refit", sa.String(), refit, primary_key=True),
        sa.Column("id", sa.String(), primary_key=True),
        *(sa.Column(name, sa.String(), nullable=False) for name in texts),
        sa.Column("done", sa.Boolean(), nullable=False),
    )


def downgrade() -> None:
    """Drop the tables."""
    op.drop_table("shop_words")
    op.drop_table("nests")
