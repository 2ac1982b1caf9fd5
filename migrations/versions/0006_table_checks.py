"""Keep who compared a published table with a licensed copy.

Revision 0006, after 0005.

Both directions are tested with rows before and after, on SQLite and PostgreSQL.
Import nothing of ours here: a revision must read the same in ten years.
"""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None

MESSAGE = "table_check: rows of this table are only ever added"
TAKEN = (
    "SELECT 1 FROM table_check WHERE id = NEW.id OR supersedes_id = NEW.supersedes_id"
)


def upgrade() -> None:
    """Add the table, and refuse to change what is in it."""
    op.create_table(
        "table_check",
        sa.Column("organisation_id", sa.Uuid(), nullable=False),
        sa.Column("table_key", sa.Text(), nullable=False),
        sa.Column("row_name", sa.Text(), nullable=False),
        sa.Column("row_digest", sa.Text(), nullable=False),
        sa.Column("act", sa.Text(), nullable=False),
        sa.Column("figures", sa.JSON(), nullable=False),
        sa.Column("edition", sa.Text(), nullable=False),
        sa.Column("clause", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("supersedes_id", sa.Uuid(), nullable=True),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "act IN ('confirmed', 'corrected', 'withdrawn')",
            name=op.f("ck_table_check_act"),
        ),
        sa.ForeignKeyConstraint(
            ["by_id"], ["person.id"], name=op.f("fk_table_check_by_id_person")
        ),
        sa.ForeignKeyConstraint(
            ["organisation_id"],
            ["organisation.id"],
            name=op.f("fk_table_check_organisation_id_organisation"),
        ),
        sa.ForeignKeyConstraint(
            ["supersedes_id"],
            ["table_check.id"],
            name=op.f("fk_table_check_supersedes_id_table_check"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_table_check")),
        sa.UniqueConstraint("supersedes_id", name=op.f("uq_table_check_supersedes_id")),
        sqlite_strict=True,
    )
    op.create_index(
        op.f("ix_table_check_organisation_id_table_key"),
        "table_check",
        ["organisation_id", "table_key"],
    )
    if op.get_bind().dialect.name == "sqlite":
        _guard_sqlite()
        return
    op.execute(
        "CREATE TRIGGER table_check_append_only "
        "BEFORE UPDATE OR DELETE OR TRUNCATE ON table_check "
        "FOR EACH STATEMENT EXECUTE FUNCTION append_only()"
    )


def _guard_sqlite() -> None:
    """Refuse change and deletion, and REPLACE, which asks no DELETE trigger."""
    for verb in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER table_check_no_{verb.lower()} "
            f"BEFORE {verb} ON table_check BEGIN SELECT RAISE(ABORT, '{MESSAGE}'); END"
        )
    op.execute(
        "CREATE TRIGGER table_check_no_replace BEFORE INSERT ON table_check "
        f"WHEN EXISTS ({TAKEN}) "
        f"BEGIN SELECT RAISE(ABORT, '{MESSAGE}'); END"
    )


def downgrade() -> None:
    """Drop the table, its triggers with it."""
    op.drop_index(
        op.f("ix_table_check_organisation_id_table_key"), table_name="table_check"
    )
    op.drop_table("table_check")
