"""Let a reading be without an instrument: what is compared by eye needs none.

Revision 0021, after 0020.

Both directions are tested with rows before and after, on SQLite and PostgreSQL. Every
reading of before keeps its instrument. There is no way down while a reading has none:
an instrument that was not there cannot be made up.
Import nothing of ours here: a revision must read the same in ten years.
"""

import sqlalchemy as sa
from alembic import op, util

revision = "0021"
down_revision = "0020"
branch_labels = None
depends_on = None

MESSAGE = "rows of this table are only ever added"
STRICT = {"sqlite_strict": True}  # on SQLite the table is copied
TAKEN = "id = NEW.id OR supersedes_id = NEW.supersedes_id"
# Named checks of the table: they are not read back from SQLite.
CHECKS = (
    ("interval", "low IS NULL OR high IS NULL OR low <= high"),
    ("superseding_reason", "supersedes_id IS NULL OR reason IS NOT NULL"),
)
READING = sa.table("reading", sa.column("instrument_id", sa.Uuid()))


def upgrade() -> None:
    """Allow a reading without an instrument."""
    _instrument(optional=True)


def downgrade() -> None:
    """Ask for an instrument again; CommandError while a reading has none."""
    without = sa.select(sa.func.count()).where(READING.c.instrument_id.is_(None))
    count = op.get_bind().execute(without).scalar_one()
    if count:
        raise util.CommandError(
            f"Revision 0021 stays: {count} readings were taken by eye, and below it "
            "each has an instrument. Nothing was changed. Go back to a backup made "
            "before instead."
        )
    _instrument(optional=False)


def _instrument(*, optional: bool) -> None:
    if op.get_bind().dialect.name != "sqlite":
        op.alter_column(
            "reading", "instrument_id", existing_type=sa.Uuid(), nullable=optional
        )
        return
    _unguard()
    checks = [
        sa.CheckConstraint(text, name=op.f(f"ck_reading_{name}"))
        for name, text in CHECKS
    ]
    with op.batch_alter_table("reading", table_kwargs=STRICT, table_args=checks) as one:
        one.alter_column("instrument_id", existing_type=sa.Uuid(), nullable=optional)
    _guard()


def _guard() -> None:
    """Refuse update, delete and replace on SQLite, as for what was there before."""
    refused = f"BEGIN SELECT RAISE(ABORT, 'reading: {MESSAGE}'); END"
    for verb in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER reading_no_{verb.lower()} BEFORE {verb} ON reading "
            f"{refused}"
        )
    rows = f"SELECT 1 FROM reading WHERE {TAKEN}"  # noqa: S608 (ours)
    op.execute(
        "CREATE TRIGGER reading_no_replace BEFORE INSERT ON reading "
        f"WHEN EXISTS ({rows}) {refused}"
    )


def _unguard() -> None:
    for verb in ("update", "delete", "replace"):
        op.execute(f"DROP TRIGGER reading_no_{verb}")
