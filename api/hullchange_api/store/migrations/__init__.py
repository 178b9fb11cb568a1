"""Steps that bring the store's database up to date, one module each, by Alembic."""
