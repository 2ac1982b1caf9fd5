"""Keep which edition is used, and each act of judging again.

Revision 0005, after 0004.

Both directions are tested with rows before and after, on SQLite and PostgreSQL.
Import nothing of ours here: a revision must read the same in ten years.
"""

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Nothing yet."""


def downgrade() -> None:
    """Nothing yet."""
