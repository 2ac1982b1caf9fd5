"""Change what the database refuses to change, as somebody with its files could."""

from uuid import UUID

from sqlalchemy import text
from sqlalchemy.orm import Session


def without_triggers(session: Session, *tables: str) -> None:
    """Drop what keeps rows of *tables* from being changed."""
    for table in tables:
        if on_postgres(session):
            session.execute(text(f"DROP TRIGGER {table}_append_only ON {table}"))
            continue
        for verb in ("update", "delete"):
            session.execute(text(f"DROP TRIGGER {table}_no_{verb}"))


def on_postgres(session: Session) -> bool:
    """Return whether the session is on PostgreSQL."""
    return session.get_bind().dialect.name == "postgresql"


def stored_id(session: Session, identifier: UUID) -> UUID | str:
    """Return an identifier as plain SQL wants it."""
    return identifier if on_postgres(session) else identifier.hex


def change(session: Session, table: str, what: str, row: UUID) -> None:
    """Change a row by plain SQL; *what* is the SET clause."""
    session.execute(
        text(f"UPDATE {table} SET {what} WHERE id = :id"),
        {"id": stored_id(session, row)},
    )
    session.expire_all()
