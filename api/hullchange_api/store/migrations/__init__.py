"""Migrations of the store's database, one module each, run by Alembic."""
