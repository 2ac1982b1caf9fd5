"""Keep which tablets there are, and which rounds they took along.

Revision 0019, after 0018.

Both directions are tested with rows before and after, on SQLite and PostgreSQL. There
is no way down once something was decided about a tablet, or while one holds entries
that only this server's share opens.
Import nothing of ours here: a revision must read the same in ten years.
"""

import sqlalchemy as sa
from alembic import op, util

revision = "0019"
down_revision = "0018"
branch_labels = None
depends_on = None

MESSAGE = "tablet_act: rows of this table are only ever added"
TAKEN = "SELECT 1 FROM tablet_act WHERE id = NEW.id"
TIME = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Add the four tables."""
    op.create_table(
        "tablet",
        sa.Column("label", sa.Text(), nullable=False),
        sa.Column("program", sa.Text(), nullable=False),
        sa.Column("browser", sa.Text(), nullable=False),
        sa.Column("first_at", TIME, nullable=False),
        sa.Column("last_at", TIME, nullable=False),
        sa.Column("last_by_id", sa.Uuid(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        _to("tablet", "last_by_id", "person"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_tablet")),
        sqlite_strict=True,
    )
    op.create_table(
        "tablet_share",
        sa.Column("tablet_id", sa.Uuid(), nullable=False),
        sa.Column("person_id", sa.Uuid(), nullable=False),
        sa.Column("share", sa.LargeBinary(), nullable=False),
        sa.Column("made_at", TIME, nullable=False),
        _to("tablet_share", "tablet_id", "tablet"),
        _to("tablet_share", "person_id", "person"),
        sa.PrimaryKeyConstraint("tablet_id", "person_id", name=op.f("pk_tablet_share")),
        sqlite_strict=True,
    )
    op.create_table(
        "tablet_round",
        sa.Column("tablet_id", sa.Uuid(), nullable=False),
        sa.Column("round_id", sa.Uuid(), nullable=False),
        sa.Column("person_id", sa.Uuid(), nullable=False),
        sa.Column("taken_at", TIME, nullable=False),
        sa.Column("given_back_at", TIME, nullable=True),
        sa.Column("entries", sa.Integer(), nullable=False),
        sa.Column("photos", sa.Integer(), nullable=False),
        sa.Column("intents", sa.Integer(), nullable=False),
        sa.Column("oldest_at", TIME, nullable=True),
        sa.Column("told_at", TIME, nullable=False),
        _to("tablet_round", "tablet_id", "tablet"),
        _to("tablet_round", "round_id", "round"),
        _to("tablet_round", "person_id", "person"),
        sa.PrimaryKeyConstraint(
            "tablet_id", "round_id", "person_id", name=op.f("pk_tablet_round")
        ),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_tablet_round_round_id"), "tablet_round", ["round_id"])
    op.create_table(
        "tablet_act",
        sa.Column("tablet_id", sa.Uuid(), nullable=False),
        sa.Column("round_id", sa.Uuid(), nullable=True),
        sa.Column("act", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", TIME, nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "act IN ('revoke', 'admit', 'release')", name=op.f("ck_tablet_act_act")
        ),
        sa.CheckConstraint(
            "(act = 'release') = (round_id IS NOT NULL)",
            name=op.f("ck_tablet_act_round"),
        ),
        _to("tablet_act", "tablet_id", "tablet"),
        _to("tablet_act", "round_id", "round"),
        _to("tablet_act", "by_id", "person"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_tablet_act")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_tablet_act_tablet_id"), "tablet_act", ["tablet_id"])
    op.create_index(op.f("ix_tablet_act_round_id"), "tablet_act", ["round_id"])
    _guard()


def _to(table: str, column: str, target: str) -> sa.ForeignKeyConstraint:
    name = op.f(f"fk_{table}_{column}_{target}")
    return sa.ForeignKeyConstraint([column], [f"{target}.id"], name=name)


def _guard() -> None:
    if op.get_bind().dialect.name != "sqlite":
        op.execute(
            "CREATE TRIGGER tablet_act_append_only "
            "BEFORE UPDATE OR DELETE OR TRUNCATE ON tablet_act "
            "FOR EACH STATEMENT EXECUTE FUNCTION append_only()"
        )
        return
    for verb in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER tablet_act_no_{verb.lower()} BEFORE {verb} "
            f"ON tablet_act BEGIN SELECT RAISE(ABORT, '{MESSAGE}'); END"
        )
    op.execute(
        "CREATE TRIGGER tablet_act_no_replace BEFORE INSERT ON tablet_act "
        f"WHEN EXISTS ({TAKEN}) BEGIN SELECT RAISE(ABORT, '{MESSAGE}'); END"
    )


def downgrade() -> None:
    """Take them away.

    Raises CommandError, before anything is taken away, where something was decided
    about a tablet, or where one has a share.
    """
    for table, what in (
        ("tablet_act", "decisions about tablets were stored"),
        ("tablet_share", "tablets may hold entries that only a share here opens"),
    ):
        found = op.get_bind().scalar(sa.text(f"SELECT count(*) FROM {table}"))  # noqa: S608
        if found:
            raise util.CommandError(
                f"Revision 0019 stays: {found} {what}. Nothing was changed. Go back "
                "to a backup made before instead."
            )
    for table in ("tablet_act", "tablet_round", "tablet_share", "tablet"):
        op.drop_table(table)
