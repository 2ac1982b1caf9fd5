"""Alembic's environment: one transaction a migration, on SQLite and PostgreSQL."""

import os
from typing import Any

from alembic import context
from sqlalchemy import JSON, Connection

from models.schema import Base
from models.schema.base import UTCDateTime
from models.schema.engine import make_engine


def render_item(kind: str, item: Any, _context: Any) -> str | bool:
    """Write our column types as plain ones, so that a revision imports nothing."""
    if kind == "type" and isinstance(item, UTCDateTime):
        return "sa.DateTime(timezone=True)"
    return False


def compare_default(
    _context: Any, found: Any, mapped: Any, default: str | None, *rendered: Any
) -> bool | None:
    """Compare defaults of JSON as texts: PostgreSQL has no `=` for the type itself.

    None leaves every other type to Alembic.
    """
    if not isinstance(mapped.type, JSON):
        return None
    there = None if default is None else default.removesuffix("::json").strip("'")
    return there != rendered[-1]


def run(connection: Connection) -> None:
    """Run the migrations on *connection*."""
    context.configure(
        connection=connection,
        target_metadata=Base.metadata,
        render_as_batch=connection.dialect.name == "sqlite",
        compare_type=True,
        compare_server_default=compare_default,
        render_item=render_item,
        transactional_ddl=True,
        transaction_per_migration=True,
    )
    with context.begin_transaction():
        context.run_migrations()


def url() -> str:
    """Return the database's address, from the caller or the environment."""
    given = context.config.attributes.get("url") or os.environ.get(
        "WITNESSMARK_DATABASE"
    )
    if not given:
        raise SystemExit(
            "Say which database: set WITNESSMARK_DATABASE, "
            "for example sqlite:///instance/witnessmark.sqlite"
        )
    return str(given)


engine = make_engine(url(), migrating=True)
try:
    with engine.connect() as connection:
        run(connection)
finally:
    engine.dispose()
