"""Refuse INSERT OR REPLACE into what is only ever added, on SQLite.

Revision 0003, after 0002.

SQLite's REPLACE deletes the row that is in the way without asking a DELETE
trigger; PostgreSQL has no such statement.

Both directions are tested with rows before and after, on SQLite and PostgreSQL.
Import nothing of ours here: a revision must read the same in ten years.
"""

from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

# Every key by which a row can be in the way of another.
KEYS = {
    "card_return": ["id"],
    "card_withdrawal": ["id", "card_id"],
    "confirmation": ["id"],
    "deficiency": ["id", "round_id number"],
    "deficiency_closing": ["id", "deficiency_id"],
    "disposition": ["id"],
    "judgement": ["id", "reading_id seq"],
    "log_entry": ["seq"],
    "note": ["id"],
    "package": ["id", "round_id revision attempt"],
    "package_file": ["id", "package_id seq"],
    "reading": ["id", "supersedes_id"],
    "receipt": ["id"],
    "seal_waiver": ["id", "round_id person_id"],
    "signature": ["id"],
}
MESSAGE = "rows of this table are only ever added"


def upgrade() -> None:
    """Add the triggers."""
    if op.get_bind().dialect.name != "sqlite":
        return
    for table, keys in KEYS.items():
        taken = " OR ".join(f"({_same(key.split())})" for key in keys)
        rows = f"SELECT 1 FROM {table} WHERE {taken}"  # noqa: S608 (names are ours)
        op.execute(
            f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "
            f"WHEN EXISTS ({rows}) "
            f"BEGIN SELECT RAISE(ABORT, '{table}: {MESSAGE}'); END"
        )


def _same(columns: list[str]) -> str:
    return " AND ".join(f"{column} = NEW.{column}" for column in columns)


def downgrade() -> None:
    """Drop the triggers."""
    if op.get_bind().dialect.name != "sqlite":
        return
    for table in KEYS:
        op.execute(f"DROP TRIGGER {table}_no_replace")
