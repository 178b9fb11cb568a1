"""Run by Alembic: the steps are taken on the connection that the store hands over."""

from alembic import context

from hullchange_api.store.tables import Table

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Table.metadata,
    transactional_ddl=True,
)
with context.begin_transaction():
    context.run_migrations()
