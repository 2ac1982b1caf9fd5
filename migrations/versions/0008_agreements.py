"""Keep who agreed to a lead's decision, and what an instrument can do.

Revision 0008, after 0007.

Both directions are tested with rows before and after, on SQLite and PostgreSQL.
There is no way down once somebody answered: without the answers a withdrawn card or
an outside reading would pass for agreed to, or wait for ever.
Import nothing of ours here: a revision must read the same in ten years.
"""

import sqlalchemy as sa
from alembic import op, util

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None

MESSAGE = "agreement: rows of this table are only ever added"
TAKEN = (
    "SELECT 1 FROM agreement WHERE id = NEW.id "
    "OR disposition_id = NEW.disposition_id OR withdrawal_id = NEW.withdrawal_id"
)
SETTING = "outside_let_stand IN ('does_not_conform', 'deviation')"


def upgrade() -> None:
    """Add the table, the round's setting, and two columns of the instruments."""
    op.create_table(
        "agreement",
        sa.Column("disposition_id", sa.Uuid(), nullable=True),
        sa.Column("withdrawal_id", sa.Uuid(), nullable=True),
        sa.Column("answer", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.Column("by_id", sa.Uuid(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "answer IN ('agreed', 'refused')", name=op.f("ck_agreement_answer")
        ),
        sa.CheckConstraint(
            "(disposition_id IS NULL) <> (withdrawal_id IS NULL)",
            name=op.f("ck_agreement_subject"),
        ),
        sa.CheckConstraint(
            "answer = 'agreed' OR reason IS NOT NULL",
            name=op.f("ck_agreement_reason"),
        ),
        sa.ForeignKeyConstraint(
            ["disposition_id"],
            ["disposition.id"],
            name=op.f("fk_agreement_disposition_id_disposition"),
        ),
        sa.ForeignKeyConstraint(
            ["withdrawal_id"],
            ["card_withdrawal.id"],
            name=op.f("fk_agreement_withdrawal_id_card_withdrawal"),
        ),
        sa.ForeignKeyConstraint(
            ["by_id"], ["person.id"], name=op.f("fk_agreement_by_id_person")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_agreement")),
        sa.UniqueConstraint("disposition_id", name=op.f("uq_agreement_disposition_id")),
        sa.UniqueConstraint("withdrawal_id", name=op.f("uq_agreement_withdrawal_id")),
        sqlite_strict=True,
    )
    _guard()
    op.execute(
        'ALTER TABLE "round" ADD COLUMN outside_let_stand TEXT NOT NULL '
        "DEFAULT 'does_not_conform' "
        f"CONSTRAINT ck_round_outside_let_stand CHECK ({SETTING})"
    )
    op.add_column("instrument", sa.Column("supplies", sa.JSON(), nullable=True))
    op.add_column("instrument", sa.Column("greatest", sa.JSON(), nullable=True))


def _guard() -> None:
    if op.get_bind().dialect.name != "sqlite":
        op.execute(
            "CREATE TRIGGER agreement_append_only "
            "BEFORE UPDATE OR DELETE OR TRUNCATE ON agreement "
            "FOR EACH STATEMENT EXECUTE FUNCTION append_only()"
        )
        return
    for verb in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER agreement_no_{verb.lower()} "
            f"BEFORE {verb} ON agreement BEGIN SELECT RAISE(ABORT, '{MESSAGE}'); END"
        )
    op.execute(
        "CREATE TRIGGER agreement_no_replace BEFORE INSERT ON agreement "
        f"WHEN EXISTS ({TAKEN}) "
        f"BEGIN SELECT RAISE(ABORT, '{MESSAGE}'); END"
    )


def downgrade() -> None:
    """Take them away.

    Raises CommandError, before anything is taken away, where somebody answered.
    """
    found = op.get_bind().scalar(sa.text("SELECT count(*) FROM agreement"))
    if found:
        raise util.CommandError(
            f"Revision 0008 stays: {found} decisions were agreed to or refused, and "
            "below it nothing would say by whom. Nothing was changed. Go back to a "
            "backup made before instead."
        )
    for column in ("greatest", "supplies"):
        op.drop_column("instrument", column)
    op.drop_column("round", "outside_let_stand")
    op.drop_table("agreement")
