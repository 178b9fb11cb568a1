"""Run by Alembic: migrates over the connection that the store passes."""

from alembic import context

from hullchange_api.store.tables import Table

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Table.metadata,
    transactional_ddl=True,
)
with context.begin_transaction():
    context.run_migrations()
