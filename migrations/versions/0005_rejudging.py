"""Keep which edition is used, and each act of judging again.

Revision 0005, after 0004.

Both directions are tested with rows before and after, on SQLite and PostgreSQL.
There is no way down once somebody judged again. The judgements would stay, but
not by which rule they were given nor that turnover kept the verdict before them:
up again, a verdict given after turnover would pass for the round's own.
Import nothing of ours here: a revision must read the same in ten years.
"""

import sqlalchemy as sa
from alembic import op, util

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None

TABLES = ("edition_choice", "rejudging")
MESSAGE = "rows of this table are only ever added"
REPLACED = "(reading_id = NEW.reading_id AND seq = NEW.seq)"
STRICT = {"sqlite_strict": True}  # on SQLite the table is copied
FOREIGN_KEY = "fk_judgement_rejudging_id_rejudging"


def upgrade() -> None:
    """Add two tables that are only ever added to, and what judgements say more."""
    op.create_table(
        "edition_choice",
        sa.Column("owner_id", sa.Uuid(), nullable=False),
        sa.Column("site_id", sa.Uuid(), nullable=True),
        sa.Column("table_key", sa.Text(), nullable=False),
        sa.Column("print_key", sa.Text(), nullable=True),
        sa.Column("document", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint("version >= 1", name=op.f("ck_edition_choice_version")),
        sa.ForeignKeyConstraint(
            ["owner_id"],
            ["organisation.id"],
            name=op.f("fk_edition_choice_owner_id_organisation"),
        ),
        sa.ForeignKeyConstraint(
            ["site_id"], ["site.id"], name=op.f("fk_edition_choice_site_id_site")
        ),
        sa.ForeignKeyConstraint(
            ["by_id"], ["person.id"], name=op.f("fk_edition_choice_by_id_person")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_edition_choice")),
        sqlite_strict=True,
    )
    op.create_index(
        "ix_edition_choice_owner_id_table_key",
        "edition_choice",
        ["owner_id", "table_key"],
    )
    op.create_table(
        "rejudging",
        sa.Column("scope", sa.Text(), nullable=False),
        sa.Column("subject_id", sa.Uuid(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("counts", sa.JSON(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "scope IN ('lineup', 'site', 'owner')", name=op.f("ck_rejudging_scope")
        ),
        sa.ForeignKeyConstraint(
            ["by_id"], ["person.id"], name=op.f("fk_rejudging_by_id_person")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_rejudging")),
        sqlite_strict=True,
    )
    _grow_judgement()
    for table in TABLES:
        _guard(table, "id = NEW.id")


def downgrade() -> None:
    """Take both tables and the columns away; judgements stay.

    Raises CommandError, before anything is taken away, where somebody judged again.
    """
    _refuse_once_judged_again()
    for table in TABLES:
        _unguard(table)
    with op.batch_alter_table("judgement", table_kwargs=STRICT) as table:
        table.drop_index(op.f("ix_judgement_rejudging_id"))
        table.drop_constraint(op.f(FOREIGN_KEY), type_="foreignkey")
        for column in ("rejudging_id", "rule", "after_turnover"):
            table.drop_column(column)
    _guard_copied()
    op.drop_table("rejudging")
    op.drop_index("ix_edition_choice_owner_id_table_key", "edition_choice")
    op.drop_table("edition_choice")


def _refuse_once_judged_again() -> None:
    judgement = sa.table("judgement", sa.column("rejudging_id"))
    found = op.get_bind().scalar(
        sa.select(sa.func.count())
        .select_from(judgement)
        .where(judgement.c.rejudging_id.is_not(None))
    )
    if found:
        raise util.CommandError(
            f"Revision 0005 stays: {found} judgements were given when somebody judged "
            "again, and below it nothing would say which of them turnover set aside. "
            "Nothing was changed. Go back to a backup made before instead."
        )


def _grow_judgement() -> None:
    with op.batch_alter_table("judgement", table_kwargs=STRICT) as table:
        table.add_column(sa.Column("rejudging_id", sa.Uuid(), nullable=True))
        table.add_column(sa.Column("rule", sa.JSON(), nullable=True))
        table.add_column(
            sa.Column(
                "after_turnover",
                sa.Boolean(),
                server_default=sa.false(),
                nullable=False,
            )
        )
        table.create_foreign_key(
            op.f(FOREIGN_KEY), "rejudging", ["rejudging_id"], ["id"]
        )
        table.create_index(op.f("ix_judgement_rejudging_id"), ["rejudging_id"])
    _guard_copied()


def _guard_copied() -> None:
    """A copied SQLite table has lost its triggers."""
    if op.get_bind().dialect.name == "sqlite":
        _guard("judgement", "id = NEW.id", REPLACED)


def _guard(table: str, *taken: str) -> None:
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
    rows = f"SELECT 1 FROM {table} WHERE {' OR '.join(taken)}"  # noqa: S608 (ours)
    op.execute(
        f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "
        f"WHEN EXISTS ({rows}) {refused}"
    )


def _unguard(table: str) -> None:
    if op.get_bind().dialect.name != "sqlite":
        op.execute(f"DROP TRIGGER {table}_append_only ON {table}")
        return
    for verb in ("update", "delete", "replace"):
        op.execute(f"DROP TRIGGER {table}_no_{verb}")
