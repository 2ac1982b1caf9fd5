"""Keep the files that people attach.

Revision 0011, after 0010.

Both directions are tested with rows before and after, on SQLite and PostgreSQL. There
is no way down once a file was attached: nothing would say any more whose it is.
Import nothing of ours here: a revision must read the same in ten years.
"""

import sqlalchemy as sa
from alembic import op, util

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None

MESSAGE = "rows of this table are only ever added"
TAKEN = {
    "stored_file": "digest = NEW.digest",
    "attachment": "id = NEW.id",
    "attachment_withdrawal": "id = NEW.id OR attachment_id = NEW.attachment_id",
}
SUBJECTS = (
    "apparatus",
    "calibration",
    "card",
    "deficiency",
    "instrument",
    "lineup",
    "reading",
    "round",
    "site",
)
TIME = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Add the three tables, to which rows are only ever added."""
    op.create_table(
        "stored_file",
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("size", sa.BigInteger(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("at", TIME, nullable=False),
        sa.PrimaryKeyConstraint("digest", name=op.f("pk_stored_file")),
        sqlite_strict=True,
    )
    op.create_table(
        "attachment",
        sa.Column("subject", sa.Text(), nullable=False),
        sa.Column("subject_id", sa.Uuid(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("sent_digest", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", TIME, nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            f"subject IN {SUBJECTS!r}", name=op.f("ck_attachment_subject")
        ),
        _names("attachment", "digest", "stored_file", "digest"),
        _names("attachment", "by_id", "person", "id"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_attachment")),
        sqlite_strict=True,
    )
    op.create_index(
        "ix_attachment_subject_subject_id", "attachment", ["subject", "subject_id"]
    )
    op.create_table(
        "attachment_withdrawal",
        sa.Column("attachment_id", sa.Uuid(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", TIME, nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        _names("attachment_withdrawal", "attachment_id", "attachment", "id"),
        _names("attachment_withdrawal", "by_id", "person", "id"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_attachment_withdrawal")),
        sa.UniqueConstraint(
            "attachment_id", name=op.f("uq_attachment_withdrawal_attachment_id")
        ),
        sqlite_strict=True,
    )
    for table in TAKEN:
        _guard(table)


def downgrade() -> None:
    """Take them away.

    Raises CommandError, before anything is taken away, where a file was attached.
    """
    found = op.get_bind().scalar(sa.text("SELECT count(*) FROM attachment"))
    if found:
        raise util.CommandError(
            f"Revision 0011 stays: {found} files were attached, and below it nothing "
            "would say to what, by whom and when. Nothing was changed. Go back to a "
            "backup made before instead."
        )
    for table in reversed(TAKEN):
        op.drop_table(table)


def _names(table: str, column: str, other: str, key: str) -> sa.ForeignKeyConstraint:
    name = op.f(f"fk_{table}_{column}_{other}")
    return sa.ForeignKeyConstraint([column], [f"{other}.{key}"], name=name)


def _guard(table: str) -> None:
    """Refuse update, delete and replace, as for what was there before."""
    if op.get_bind().dialect.name != "sqlite":
        op.execute(
            f"CREATE TRIGGER {table}_append_only "
            f"BEFORE UPDATE OR DELETE OR TRUNCATE ON {table} "
            "FOR EACH STATEMENT EXECUTE FUNCTION append_only()"
        )
        return
    refused = f"BEGIN SELECT RAISE(ABORT, '{table}: {MESSAGE}'); END"
    for verb in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER {table}_no_{verb.lower()} BEFORE {verb} ON {table} "
            f"{refused}"
        )
    rows = f"SELECT 1 FROM {table} WHERE {TAKEN[table]}"  # noqa: S608 (ours)
    op.execute(
        f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "
        f"WHEN EXISTS ({rows}) {refused}"
    )
