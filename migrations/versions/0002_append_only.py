"""Refuse update and delete of what people recorded, in the database itself.

Revision 0002, after 0001.

Both directions are tested with rows before and after, on SQLite and PostgreSQL.
Import nothing of ours here: a revision must read the same in ten years.
"""

from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

TABLES = (
    "card_return",
    "card_withdrawal",
    "confirmation",
    "deficiency",
    "deficiency_closing",
    "disposition",
    "judgement",
    "log_entry",
    "note",
    "package",
    "package_file",
    "reading",
    "receipt",
    "seal_waiver",
    "signature",
)
MESSAGE = "rows of this table are only ever added"


def upgrade() -> None:
    """Add the triggers."""
    if op.get_bind().dialect.name == "sqlite":
        for table in TABLES:
            for verb in ("UPDATE", "DELETE"):
                op.execute(
                    f"CREATE TRIGGER {table}_no_{verb.lower()} "
                    f"BEFORE {verb} ON {table} "
                    f"BEGIN SELECT RAISE(ABORT, '{table}: {MESSAGE}'); END"
                )
        return
    op.execute(
        "CREATE FUNCTION append_only() RETURNS trigger LANGUAGE plpgsql AS $$ "
        f"BEGIN RAISE EXCEPTION '%: {MESSAGE}', TG_TABLE_NAME; END $$"
    )
    for table in TABLES:
        op.execute(
            f"CREATE TRIGGER {table}_append_only "
            f"BEFORE UPDATE OR DELETE OR TRUNCATE ON {table} "
            "FOR EACH STATEMENT EXECUTE FUNCTION append_only()"
        )


def downgrade() -> None:
    """Drop the triggers."""
    if op.get_bind().dialect.name == "sqlite":
        for table in TABLES:
            for verb in ("update", "delete"):
                op.execute(f"DROP TRIGGER {table}_no_{verb}")
        return
    for table in TABLES:
        op.execute(f"DROP TRIGGER {table}_append_only ON {table}")
    op.execute("DROP FUNCTION append_only()")
