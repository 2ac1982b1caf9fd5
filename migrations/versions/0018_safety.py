"""Keep the acts of safety, the settings of a site, and which rounds go by the list.

Revision 0018, after 0017.

Both directions are tested with rows before and after, on SQLite and PostgreSQL. A
round on which a precondition was confirmed or a reading taken goes on by the list in
force before. There is no way down once an act was stored: below it nothing would say
under which clearance a reading was taken. The settings of sites are lost below.
Import nothing of ours here: a revision must read the same in ten years.
"""

import sqlalchemy as sa
from alembic import op, util

revision = "0018"
down_revision = "0017"
branch_labels = None
depends_on = None

MESSAGE = "safety_act: rows of this table are only ever added"
TAKEN = "SELECT 1 FROM safety_act WHERE id = NEW.id"
ALSO_TAKEN = "site_id = NEW.site_id AND seq = NEW.seq"
TIME = sa.DateTime(timezone=True)
EARLIER = """
UPDATE round SET earlier_list = :yes WHERE id IN (
  SELECT round_id FROM card WHERE id IN (SELECT card_id FROM confirmed_together)
  UNION SELECT round_id FROM card WHERE id IN (SELECT card_id FROM reading))
"""


def upgrade() -> None:
    """Add the table of acts, and a column each to sites and rounds."""
    op.create_table(
        "safety_act",
        sa.Column("site_id", sa.Uuid(), nullable=False),
        sa.Column("lineup_id", sa.Uuid(), nullable=True),
        sa.Column("round_id", sa.Uuid(), nullable=True),
        sa.Column("seq", sa.Integer(), nullable=False),
        sa.Column("act", sa.Text(), nullable=False),
        sa.Column("span", sa.Text(), nullable=True),
        sa.Column("scope", sa.Text(), nullable=True),
        sa.Column("of_id", sa.Uuid(), nullable=False),
        sa.Column("card_id", sa.Uuid(), nullable=True),
        sa.Column("cell_id", sa.Uuid(), nullable=True),
        sa.Column("code", sa.Text(), nullable=True),
        sa.Column("by_id", sa.Uuid(), nullable=True),
        sa.Column("person_id", sa.Uuid(), nullable=True),
        sa.Column("person_name", sa.Text(), nullable=True),
        sa.Column("device", sa.Text(), nullable=False),
        sa.Column("at", TIME, nullable=False),
        sa.Column("arrived_at", TIME, nullable=False),
        sa.Column("body", sa.JSON(), nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "by_id IS NOT NULL OR act = 'stop'", name=op.f("ck_safety_act_by")
        ),
        sa.CheckConstraint(
            "span IN ('crew', 'isolation', 'stop')", name=op.f("ck_safety_act_span")
        ),
        *(_to(column, column.removesuffix("_id")) for column in NAMES),
        _to("by_id", "person"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_safety_act")),
        sa.UniqueConstraint("site_id", "seq", name=op.f("uq_safety_act_site_id_seq")),
        sqlite_strict=True,
    )
    _index_where("span", ["site_id", "span", "at"], "span IS NOT NULL")
    _index_where("round", ["round_id", "seq"], "round_id IS NOT NULL")
    _index_where("card_id", ["card_id"], "card_id IS NOT NULL")
    _guard()
    op.add_column(
        "site", sa.Column("safety", sa.JSON(), nullable=False, server_default="{}")
    )
    op.add_column(
        "round",
        sa.Column(
            "earlier_list", sa.Boolean(), nullable=False, server_default=sa.false()
        ),
    )
    yes = sa.bindparam("yes", True, sa.Boolean())  # noqa: FBT003 (its value)
    op.get_bind().execute(sa.text(EARLIER).bindparams(yes))


NAMES = ("site_id", "lineup_id", "round_id", "card_id", "cell_id", "person_id")


def _to(column: str, target: str) -> sa.ForeignKeyConstraint:
    name = op.f(f"fk_safety_act_{column}_{target}")
    return sa.ForeignKeyConstraint([column], [f"{target}.id"], name=name)


def _index_where(name: str, columns: list[str], where: str) -> None:
    op.create_index(
        f"ix_safety_act_{name}",
        "safety_act",
        columns,
        sqlite_where=sa.text(where),
        postgresql_where=sa.text(where),
    )


def _guard() -> None:
    if op.get_bind().dialect.name != "sqlite":
        op.execute(
            "CREATE TRIGGER safety_act_append_only "
            "BEFORE UPDATE OR DELETE OR TRUNCATE ON safety_act "
            "FOR EACH STATEMENT EXECUTE FUNCTION append_only()"
        )
        return
    for verb in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER safety_act_no_{verb.lower()} BEFORE {verb} "
            f"ON safety_act BEGIN SELECT RAISE(ABORT, '{MESSAGE}'); END"
        )
    op.execute(
        "CREATE TRIGGER safety_act_no_replace BEFORE INSERT ON safety_act "
        f"WHEN EXISTS ({TAKEN} OR {ALSO_TAKEN}) "
        f"BEGIN SELECT RAISE(ABORT, '{MESSAGE}'); END"
    )


def downgrade() -> None:
    """Take them away; the settings of sites are lost.

    Raises CommandError, before anything is taken away, where an act was stored.
    """
    found = op.get_bind().scalar(sa.text("SELECT count(*) FROM safety_act"))
    if found:
        raise util.CommandError(
            f"Revision 0018 stays: {found} acts of safety were stored, and below it "
            "nothing would say so. Nothing was changed. Go back to a backup made "
            "before instead."
        )
    op.drop_column("round", "earlier_list")
    op.drop_column("site", "safety")
    op.drop_table("safety_act")
