"""Count tries at passwords and codes, and keep the code of the first start.

Revision 0013, after 0012.

The failed sign-ins of the last minutes are not carried over, in neither direction.
Import nothing of ours here: a revision must read the same in ten years.
"""

import sqlalchemy as sa
from alembic import op

revision = "0013"
down_revision = "0012"
branch_labels = None
depends_on = None

TIME = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Add the two tables, and drop the one that counted sign-ins alone."""
    op.create_table(
        "throttle",
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("tries", sa.Integer(), nullable=False),
        sa.Column("free_at", TIME, nullable=False),
        sa.Column("ends", TIME, nullable=False),
        sa.PrimaryKeyConstraint("key", name=op.f("pk_throttle")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_throttle_ends"), "throttle", ["ends"])
    op.create_table(
        "first_start",
        sa.Column("code_hash", sa.Text(), nullable=False),
        sa.Column("ends", TIME, nullable=False),
        sa.Column("used_at", TIME, nullable=True),
        sa.Column("holder", sa.Text(), nullable=True),
        sa.Column("organisation_id", sa.Uuid(), nullable=True),
        sa.Column("person_id", sa.Uuid(), nullable=True),
        sa.Column("finished_at", TIME, nullable=True),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.ForeignKeyConstraint(
            ["organisation_id"],
            ["organisation.id"],
            name=op.f("fk_first_start_organisation_id_organisation"),
        ),
        sa.ForeignKeyConstraint(
            ["person_id"], ["person.id"], name=op.f("fk_first_start_person_id_person")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_first_start")),
        sqlite_strict=True,
    )
    op.drop_index("ix_sign_in_attempt_sign_in", "sign_in_attempt")
    op.drop_table("sign_in_attempt")


def downgrade() -> None:
    """Put the former table back, empty."""
    op.create_table(
        "sign_in_attempt",
        sa.Column("sign_in", sa.Text(), nullable=False),
        sa.Column("at", TIME, nullable=False),
        sa.Column("id", sa.Uuid(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sign_in_attempt")),
        sqlite_strict=True,
    )
    op.create_index("ix_sign_in_attempt_sign_in", "sign_in_attempt", ["sign_in"])
    op.drop_table("first_start")
    op.drop_index(op.f("ix_throttle_ends"), "throttle")
    op.drop_table("throttle")
