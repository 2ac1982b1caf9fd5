"""Alembic revisions."""
