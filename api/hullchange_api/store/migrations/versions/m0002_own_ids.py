"""A record's id is unique within its refit, so that a refit can be copied with its records.

Revision ID: m0002
"""

import sqlalchemy as sa
from alembic import op

revision = "m0002"
down_revision = "m0001"

RECORDS = ("comments", "remarks", "signatures", "attachments")


def upgrade() -> None:
    """Make refit and id the key of records."""
    for name in RECORDS:
        _with_key(name, ("refit", "id"), has_index=False)


def downgrade() -> None:
    """Make the id alone the key of records."""
    for name in RECORDS:
        _with_key(name, ("id",), has_index=True)


def _with_key(name: str, key: tuple[str, ...], *, has_index: bool) -> None:
    """Copy a table and its rows under another key; SQLite cannot change a key in place."""
    old = sa.Table(name, sa.MetaData(), autoload_with=op.get_bind(), resolve_fks=False)
    links = {"refit": "refits.id", "sha256": "blobs.sha256"}
    op.create_table(
        f"{name}_anew",
        *(
            sa.Column(
                column.name,
                column.type,
                *((sa.ForeignKey(links[column.name]),) if column.name in links else ()),
                primary_key=column.name in key,
                nullable=column.nullable,
            )
            for column in sorted(old.columns, key=lambda c: (c.name not in key, c.name == "id"))
        ),
    )
    names = ", ".join(f'"{column.name}"' for column in old.columns)
    op.execute(f"INSERT INTO {name}_anew ({names}) SELECT {names} FROM {name}")
    op.drop_table(name)
    op.rename_table(f"{name}_anew", name)
    if has_index:
        op.create_index(f"ix_{name}_refit", name, ["refit"])
