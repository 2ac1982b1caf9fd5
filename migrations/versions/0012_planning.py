"""Keep the plan of a round, what was changed in it and why, and the planned days.

Revision 0012, after 0011.

Both directions are tested with rows before and after, on SQLite and PostgreSQL.
There is no way down once a card was left out, added or given other points: without
these rows nothing would say that a round tested less than its programme, or why.
Import nothing of ours here: a revision must read the same in ten years.
"""

import sqlalchemy as sa
from alembic import op, util

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None

MESSAGE = "plan_change: rows of this table are only ever added"
TAKEN = "SELECT 1 FROM plan_change WHERE id = NEW.id"
TIME = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Add both tables, a card's planned day, and the editions asked for a round."""
    op.create_table(
        "plan_draft",
        sa.Column("lineup_id", sa.Uuid(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("programme", sa.Text(), nullable=False),
        sa.Column("choices", sa.JSON(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", TIME, nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        _names("plan_draft", "lineup_id", "lineup"),
        _names("plan_draft", "by_id", "person"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_plan_draft")),
        sa.UniqueConstraint("lineup_id", name=op.f("uq_plan_draft_lineup_id")),
        sqlite_strict=True,
    )
    op.create_table(
        "plan_change",
        sa.Column("round_id", sa.Uuid(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("cell_id", sa.Uuid(), nullable=False),
        sa.Column("apparatus_id", sa.Uuid(), nullable=False),
        sa.Column("procedure", sa.Text(), nullable=False),
        sa.Column("detail", sa.Text(), nullable=False),
        sa.Column("card_id", sa.Uuid(), nullable=True),
        sa.Column("was", sa.JSON(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", TIME, nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "what IN ('left_out', 'added', 'points')", name=op.f("ck_plan_change_what")
        ),
        sa.CheckConstraint(
            "(what = 'left_out') = (card_id IS NULL)", name=op.f("ck_plan_change_card")
        ),
        _names("plan_change", "round_id", "round"),
        _names("plan_change", "cell_id", "cell"),
        _names("plan_change", "apparatus_id", "apparatus"),
        _names("plan_change", "card_id", "card"),
        _names("plan_change", "by_id", "person"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_plan_change")),
        sqlite_strict=True,
    )
    op.create_index("ix_plan_change_round_id", "plan_change", ["round_id"])
    _guard()
    op.add_column("card", sa.Column("planned_on", sa.Date(), nullable=True))
    op.add_column(
        "round", sa.Column("editions", sa.JSON(), nullable=False, server_default="[]")
    )


def _names(table: str, column: str, other: str) -> sa.ForeignKeyConstraint:
    name = op.f(f"fk_{table}_{column}_{other}")
    return sa.ForeignKeyConstraint([column], [f"{other}.id"], name=name)


def _guard() -> None:
    if op.get_bind().dialect.name != "sqlite":
        op.execute(
            "CREATE TRIGGER plan_change_append_only "
            "BEFORE UPDATE OR DELETE OR TRUNCATE ON plan_change "
            "FOR EACH STATEMENT EXECUTE FUNCTION append_only()"
        )
        return
    for verb in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER plan_change_no_{verb.lower()} BEFORE {verb} "
            f"ON plan_change BEGIN SELECT RAISE(ABORT, '{MESSAGE}'); END"
        )
    op.execute(
        "CREATE TRIGGER plan_change_no_replace BEFORE INSERT ON plan_change "
        f"WHEN EXISTS ({TAKEN}) "
        f"BEGIN SELECT RAISE(ABORT, '{MESSAGE}'); END"
    )


def downgrade() -> None:
    """Take them away; plans that were not opened are lost.

    Raises CommandError, before anything is taken away, where a plan was changed.
    """
    found = op.get_bind().scalar(sa.text("SELECT count(*) FROM plan_change"))
    if found:
        raise util.CommandError(
            f"Revision 0012 stays: {found} cards were left out, added or given other "
            "points, and below it nothing would say so. Nothing was changed. Go back "
            "to a backup made before instead."
        )
    op.drop_column("round", "editions")
    op.drop_column("card", "planned_on")
    op.drop_table("plan_change")
    op.drop_table("plan_draft")
