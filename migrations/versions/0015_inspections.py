"""Keep hold, witness and review points, the notices given and what came of them.

Revision 0015, after 0014.

Both directions are tested with rows before and after, on SQLite and PostgreSQL.
There is no way down once a point was set: without it a card would pass for one that
waited for nobody. Import nothing of ours here: a revision must read the same in ten
years.
"""

import sqlalchemy as sa
from alembic import op, util

revision = "0015"
down_revision = "0014"
branch_labels = None
depends_on = None

MESSAGE = "rows of this table are only ever added"
TAKEN = {
    "inspection_point": "id = NEW.id",
    "inspection_notice": "id = NEW.id",
    "inspection_answer": "id = NEW.id OR point_id = NEW.point_id",
}
ANSWERS = "'released', 'present', 'absent', 'reviewed', 'withdrawn'"


def upgrade() -> None:
    """Add the three tables; the database refuses to change or delete their rows."""
    op.create_table(
        "inspection_point",
        sa.Column("card_id", sa.Uuid(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("party", sa.Text(), nullable=False),
        sa.Column("person_id", sa.Uuid(), nullable=True),
        sa.Column("notice_hours", sa.Double(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        *_by_and_at("inspection_point"),
        sa.CheckConstraint(
            "kind IN ('hold', 'witness', 'review')",
            name=op.f("ck_inspection_point_kind"),
        ),
        sa.CheckConstraint(
            "notice_hours >= 0", name=op.f("ck_inspection_point_notice")
        ),
        _to("inspection_point", "card_id", "card"),
        _to("inspection_point", "person_id", "person"),
        sqlite_strict=True,
    )
    op.create_table(
        "inspection_notice",
        sa.Column("point_id", sa.Uuid(), nullable=False),
        sa.Column("work_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("given_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("how", sa.Text(), nullable=False),
        *_by_and_at("inspection_notice"),
        _to("inspection_notice", "point_id", "inspection_point"),
        sqlite_strict=True,
    )
    op.create_table(
        "inspection_answer",
        sa.Column("point_id", sa.Uuid(), nullable=False),
        sa.Column("answer", sa.Text(), nullable=False),
        sa.Column("remark", sa.Text(), nullable=True),
        *_by_and_at("inspection_answer"),
        sa.CheckConstraint(
            f"answer IN ({ANSWERS})", name=op.f("ck_inspection_answer_answer")
        ),
        _to("inspection_answer", "point_id", "inspection_point"),
        sa.UniqueConstraint("point_id", name=op.f("uq_inspection_answer_point_id")),
        sqlite_strict=True,
    )
    op.create_index("ix_inspection_point_card_id", "inspection_point", ["card_id"])
    op.create_index("ix_inspection_notice_point_id", "inspection_notice", ["point_id"])
    for table in TAKEN:
        _guard(table)


def _by_and_at(table: str) -> list[sa.schema.SchemaItem]:
    return [
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        _to(table, "by_id", "person"),
        sa.PrimaryKeyConstraint("id", name=op.f(f"pk_{table}")),
    ]


def _to(table: str, column: str, target: str) -> sa.ForeignKeyConstraint:
    name = op.f(f"fk_{table}_{column}_{target}")
    return sa.ForeignKeyConstraint([column], [f"{target}.id"], name=name)


def _guard(table: str) -> None:
    if op.get_bind().dialect.name != "sqlite":
        op.execute(
            f"CREATE TRIGGER {table}_append_only "
            f"BEFORE UPDATE OR DELETE OR TRUNCATE ON {table} "
            "FOR EACH STATEMENT EXECUTE FUNCTION append_only()"
        )
        return
    refuse = f"BEGIN SELECT RAISE(ABORT, '{table}: {MESSAGE}'); END"
    for verb in ("UPDATE", "DELETE"):
        name = f"{table}_no_{verb.lower()}"
        op.execute(f"CREATE TRIGGER {name} BEFORE {verb} ON {table} {refuse}")
    taken = f"SELECT 1 FROM {table} WHERE {TAKEN[table]}"  # noqa: S608 (ours)
    op.execute(
        f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "
        f"WHEN EXISTS ({taken}) {refuse}"
    )


def downgrade() -> None:
    """Take the tables away.

    Raises CommandError, before anything is taken away, where a point was set.
    """
    found = op.get_bind().scalar(sa.text("SELECT count(*) FROM inspection_point"))
    if found:
        raise util.CommandError(
            f"Revision 0015 stays: {found} hold, witness or review points were set, "
            "and below it nothing would say so. Nothing was changed. Go back to a "
            "backup made before instead."
        )
    for table in reversed(TAKEN):
        op.drop_table(table)
