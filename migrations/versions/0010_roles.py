"""Let a person hold several roles, with an administrator's among them.

Revision 0010, after 0009.

Roles are rows of their own, kept as history: a signature is printed with the role
that was held when it was made. Both directions are tested with rows before and after,
on SQLite and PostgreSQL. Downwards a person who holds several keeps one: that of the
lead before the technician's. There is no way down while somebody holds no other role
than the administrator's.
Import nothing of ours here: a revision must read the same in ten years.
"""

from uuid import uuid4

import sqlalchemy as sa
from alembic import op, util

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None

STRICT = {"sqlite_strict": True}  # on SQLite the table is copied
TIME = sa.DateTime(timezone=True)
BEFORE = ("lead", "technician", "owner")  # the first of them is kept downwards
CHECK = "role IN ('technician', 'lead', 'owner')"

PERSON = sa.table(
    "person",
    sa.column("id", sa.Uuid()),
    sa.column("role"),
    sa.column("sign_in"),
    sa.column("created_at", TIME),
)
ROLE = sa.table(
    "person_role",
    sa.column("id", sa.Uuid()),
    sa.column("person_id", sa.Uuid()),
    sa.column("role"),
    sa.column("since", TIME),
    sa.column("until", TIME),
)


def upgrade() -> None:
    """Make a row of each person's role, and drop the column."""
    op.create_table(
        "person_role",
        sa.Column("person_id", sa.Uuid(), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("since", TIME, nullable=False),
        sa.Column("until", TIME, nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.CheckConstraint(
            "role IN ('technician', 'lead', 'owner', 'administrator')",
            name=op.f("ck_person_role_role"),
        ),
        sa.ForeignKeyConstraint(
            ["person_id"], ["person.id"], name=op.f("fk_person_role_person_id_person")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_person_role")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_person_role_person_id"), "person_role", ["person_id"])
    op.create_index(
        "uq_person_role_held",
        "person_role",
        ["person_id", "role"],
        unique=True,
        sqlite_where=sa.text("until IS NULL"),
        postgresql_where=sa.text("until IS NULL"),
    )
    run = op.get_bind().execute
    rows = [
        {
            "id": uuid4(),
            "person_id": row.id,
            "role": row.role,
            "since": row.created_at,
            "until": None,
        }
        for row in run(sa.select(PERSON))
    ]
    if rows:
        run(sa.insert(ROLE), rows)
    with op.batch_alter_table("person", table_kwargs=STRICT) as batch:
        batch.drop_constraint(op.f("ck_person_role"), type_="check")
        batch.drop_column("role")


def downgrade() -> None:
    """Put one role of each person back.

    Raises CommandError, before anything is changed, for who holds none of those
    that there were.
    """
    kept = _kept_roles()
    op.add_column("person", sa.Column("role", sa.Text(), nullable=True))
    run = op.get_bind().execute
    for person_id, role in kept.items():
        run(sa.update(PERSON).where(PERSON.c.id == person_id).values(role=role))
    with op.batch_alter_table("person", table_kwargs=STRICT) as batch:
        batch.alter_column("role", existing_type=sa.Text(), nullable=False)
        batch.create_check_constraint(op.f("ck_person_role"), CHECK)
    op.drop_table("person_role")


def _kept_roles() -> dict[object, str]:
    run = op.get_bind().execute
    held: dict[object, set[str]] = {}
    for row in run(sa.select(ROLE).where(ROLE.c.until.is_(None))):
        held.setdefault(row.person_id, set()).add(row.role)
    kept, without = {}, []
    for person in run(sa.select(PERSON.c.id, PERSON.c.sign_in)):
        own = [role for role in BEFORE if role in held.get(person.id, ())]
        if own:
            kept[person.id] = own[0]
        else:
            without.append(person.sign_in)
    if without:
        names = ", ".join(sorted(without))
        raise util.CommandError(
            f"Revision 0010 stays: {names} would have no role below it. Nothing was "
            "changed. Go back to a backup made before instead."
        )
    return kept
