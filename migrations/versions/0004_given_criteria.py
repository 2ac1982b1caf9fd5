"""Keep the limits that a maker or a project gives, version by version.

Revision 0004, after 0003.

Both directions are tested with rows before and after, on SQLite and PostgreSQL.
Import nothing of ours here: a revision must read the same in ten years.
"""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

TABLE = "given_criterion"
MESSAGE = "rows of this table are only ever added"
# Every key by which a row can be in the way of another.
TAKEN = (
    "id = NEW.id OR supersedes_id = NEW.supersedes_id "
    "OR (criterion_id = NEW.criterion_id AND version = NEW.version)"
)


def upgrade() -> None:
    """Add the table, and refuse to change or delete its rows."""
    op.create_table(
        TABLE,
        sa.Column("criterion_id", sa.Uuid(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("supersedes_id", sa.Uuid(), nullable=True),
        sa.Column("lineup_id", sa.Uuid(), nullable=False),
        sa.Column("apparatus_kind", sa.Text(), nullable=True),
        sa.Column("apparatus_id", sa.Uuid(), nullable=True),
        sa.Column("quantity", sa.Text(), nullable=False),
        sa.Column("standing", sa.Text(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("document", sa.Text(), nullable=False),
        sa.Column("edition", sa.Text(), nullable=False),
        sa.Column("clause", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("withdrawn", sa.Boolean(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "standing IN ('maker', 'project')", name=op.f("ck_given_criterion_standing")
        ),
        sa.CheckConstraint(
            "apparatus_id IS NULL OR apparatus_kind IS NULL",
            name=op.f("ck_given_criterion_one_scope"),
        ),
        sa.CheckConstraint(
            "(version = 1) = (supersedes_id IS NULL)",
            name=op.f("ck_given_criterion_first"),
        ),
        sa.CheckConstraint(
            "version > 1 OR NOT withdrawn", name=op.f("ck_given_criterion_withdrawn")
        ),
        *_foreign_keys(),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_given_criterion")),
        sa.UniqueConstraint(
            "criterion_id",
            "version",
            name=op.f("uq_given_criterion_criterion_id_version"),
        ),
        sa.UniqueConstraint(
            "supersedes_id", name=op.f("uq_given_criterion_supersedes_id")
        ),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_given_criterion_lineup_id"), TABLE, ["lineup_id"])
    _guard()


def _foreign_keys() -> list[sa.ForeignKeyConstraint]:
    return [
        sa.ForeignKeyConstraint(
            [column], [f"{table}.id"], name=op.f(f"fk_given_criterion_{column}_{table}")
        )
        for column, table in (
            ("criterion_id", TABLE),
            ("supersedes_id", TABLE),
            ("lineup_id", "lineup"),
            ("apparatus_id", "apparatus"),
            ("by_id", "person"),
        )
    ]


def _guard() -> None:
    if op.get_bind().dialect.name != "sqlite":
        op.execute(
            f"CREATE TRIGGER {TABLE}_append_only "
            f"BEFORE UPDATE OR DELETE OR TRUNCATE ON {TABLE} "
            "FOR EACH STATEMENT EXECUTE FUNCTION append_only()"
        )
        return
    for verb in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER {TABLE}_no_{verb.lower()} BEFORE {verb} ON {TABLE} "
            f"BEGIN SELECT RAISE(ABORT, '{TABLE}: {MESSAGE}'); END"
        )
    rows = f"SELECT 1 FROM {TABLE} WHERE {TAKEN}"  # noqa: S608 (names are ours)
    op.execute(
        f"CREATE TRIGGER {TABLE}_no_replace BEFORE INSERT ON {TABLE} "
        f"WHEN EXISTS ({rows}) "
        f"BEGIN SELECT RAISE(ABORT, '{TABLE}: {MESSAGE}'); END"
    )


def downgrade() -> None:
    """Drop the table; its triggers go with it."""
    op.drop_table(TABLE)
