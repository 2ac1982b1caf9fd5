"""Keep assignments with their days, invitations, and the keys from before a reset.

Revision 0017, after 0016.

Both directions are tested with rows before and after, on SQLite and PostgreSQL. An
assignment that was made before holds from its day in the site's zone. Downwards the
assignments stay to which no end is set, and invitations are dropped. There is no way
down once a key was revoked, or while somebody has not enrolled: below, what a revoked
key signed would pass for good, and a person has a password and one key.
Import nothing of ours here: a revision must read the same in ten years.
"""

from datetime import UTC, datetime
from typing import Any
from uuid import uuid4
from zoneinfo import ZoneInfo

import sqlalchemy as sa
from alembic import op, util

revision = "0017"
down_revision = "0016"
branch_labels = None
depends_on = None

STRICT = {"sqlite_strict": True}  # on SQLite the tables are copied
TIME = sa.DateTime(timezone=True)

OLD = sa.table(
    "site_assignment",
    sa.column("person_id", sa.Uuid()),
    sa.column("site_id", sa.Uuid()),
    sa.column("since", TIME),
)
NEW = sa.table(
    "site_assignment",
    sa.column("id", sa.Uuid()),
    sa.column("person_id", sa.Uuid()),
    sa.column("site_id", sa.Uuid()),
    sa.column("from_day", sa.Date()),
    sa.column("until_day", sa.Date()),
    sa.column("made_at", TIME),
    sa.column("made_by_id", sa.Uuid()),
)
SITE = sa.table("site", sa.column("id", sa.Uuid()), sa.column("zone"))


def upgrade() -> None:
    """Copy the assignments, add the invitations, let there be several keys."""
    _assignments_with_days()
    op.create_table(
        "invitation",
        sa.Column("person_id", sa.Uuid(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("token_sha256", sa.Text(), nullable=False),
        sa.Column("made_at", TIME, nullable=False),
        sa.Column("made_by_id", sa.Uuid(), nullable=False),
        sa.Column("ends_at", TIME, nullable=False),
        sa.Column("used_at", TIME, nullable=True),
        sa.Column("withdrawn_at", TIME, nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "kind IN ('enrol', 'reset')", name=op.f("ck_invitation_kind")
        ),
        _names("invitation", "person_id", "person"),
        _names("invitation", "made_by_id", "person"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_invitation")),
        sa.UniqueConstraint("token_sha256", name=op.f("uq_invitation_token_sha256")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_invitation_person_id"), "invitation", ["person_id"])
    with op.batch_alter_table("person", table_kwargs=STRICT) as batch:
        batch.alter_column("password_hash", existing_type=sa.Text(), nullable=True)
        batch.add_column(
            sa.Column("version", sa.Integer(), nullable=False, server_default="1")
        )
    with op.batch_alter_table("signing_key", table_kwargs=STRICT) as batch:
        batch.drop_constraint(op.f("uq_signing_key_person_id"), type_="unique")
        batch.add_column(sa.Column("revoked_at", TIME, nullable=True))
    op.create_index(op.f("ix_signing_key_person_id"), "signing_key", ["person_id"])
    op.create_index(
        "uq_signing_key_current",
        "signing_key",
        ["person_id"],
        unique=True,
        sqlite_where=sa.text("revoked_at IS NULL"),
        postgresql_where=sa.text("revoked_at IS NULL"),
    )


def downgrade() -> None:
    """Take them away.

    Raises CommandError, before anything is changed, where a key was revoked or
    somebody has not enrolled.
    """
    _refuse_a_loss()
    op.drop_index("uq_signing_key_current", "signing_key")
    op.drop_index(op.f("ix_signing_key_person_id"), "signing_key")
    with op.batch_alter_table("signing_key", table_kwargs=STRICT) as batch:
        batch.drop_column("revoked_at")
        batch.create_unique_constraint(op.f("uq_signing_key_person_id"), ["person_id"])
    with op.batch_alter_table("person", table_kwargs=STRICT) as batch:
        batch.drop_column("version")
        batch.alter_column("password_hash", existing_type=sa.Text(), nullable=False)
    op.drop_table("invitation")
    _assignments_without_days()


def _refuse_a_loss() -> None:
    ask = op.get_bind().scalar
    revoked = ask(
        sa.text("SELECT count(*) FROM signing_key WHERE revoked_at IS NOT NULL")
    )
    waiting = ask(sa.text("SELECT count(*) FROM person WHERE password_hash IS NULL"))
    if revoked or waiting:
        raise util.CommandError(
            f"Revision 0017 stays: {revoked} keys were revoked and {waiting} persons "
            "have not enrolled, and below it there is no place for either. Nothing "
            "was changed. Go back to a backup made before instead."
        )


def _assignments_with_days() -> None:
    run = op.get_bind().execute
    zones = {row.id: ZoneInfo(row.zone) for row in run(sa.select(SITE))}
    rows = [
        {
            "id": uuid4(),
            "person_id": row.person_id,
            "site_id": row.site_id,
            "from_day": _utc(row.since).astimezone(zones[row.site_id]).date(),
            "until_day": None,
            "made_at": row.since,
            "made_by_id": None,
        }
        for row in run(sa.select(OLD)).all()
    ]
    op.drop_table("site_assignment")
    op.create_table(
        "site_assignment",
        sa.Column("person_id", sa.Uuid(), nullable=False),
        sa.Column("site_id", sa.Uuid(), nullable=False),
        sa.Column("from_day", sa.Date(), nullable=False),
        sa.Column("until_day", sa.Date(), nullable=True),
        sa.Column("made_at", TIME, nullable=False),
        sa.Column("made_by_id", sa.Uuid(), nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "until_day IS NULL OR from_day <= until_day",
            name=op.f("ck_site_assignment_days"),
        ),
        _names("site_assignment", "person_id", "person"),
        _names("site_assignment", "site_id", "site"),
        _names("site_assignment", "made_by_id", "person"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_site_assignment")),
        sqlite_strict=True,
    )
    for column in ("person_id", "site_id"):
        name = op.f(f"ix_site_assignment_{column}")
        op.create_index(name, "site_assignment", [column])
    if rows:
        run(sa.insert(NEW), rows)


def _assignments_without_days() -> None:
    run = op.get_bind().execute
    kept: dict[tuple[Any, Any], Any] = {}
    for row in run(sa.select(NEW).where(NEW.c.until_day.is_(None))).all():
        key = (row.person_id, row.site_id)
        kept[key] = min(row.made_at, kept.get(key, row.made_at))
    op.drop_table("site_assignment")
    op.create_table(
        "site_assignment",
        sa.Column("person_id", sa.Uuid(), nullable=False),
        sa.Column("site_id", sa.Uuid(), nullable=False),
        sa.Column("since", TIME, nullable=False),
        _names("site_assignment", "person_id", "person"),
        _names("site_assignment", "site_id", "site"),
        sa.PrimaryKeyConstraint(
            "person_id", "site_id", name=op.f("pk_site_assignment")
        ),
        sqlite_strict=True,
    )
    rows = [
        {"person_id": person, "site_id": site, "since": made_at}
        for (person, site), made_at in kept.items()
    ]
    if rows:
        run(sa.insert(OLD), rows)


def _names(table: str, column: str, other: str) -> sa.ForeignKeyConstraint:
    name = op.f(f"fk_{table}_{column}_{other}")
    return sa.ForeignKeyConstraint([column], [f"{other}.id"], name=name)


def _utc(at: datetime) -> datetime:
    """Return *at* with its zone: SQLite drops it."""
    return at if at.tzinfo else at.replace(tzinfo=UTC)
