"""Keep how a site compares contact resistance: corrected to 20 degC, or as read.

Revision 0020, after 0019.

Both directions are tested with rows before and after, on SQLite and PostgreSQL. Every
site of before corrects, as all did. What a site chose is lost on the way down; rules of
rounds that were opened keep what they say.
Import nothing of ours here: a revision must read the same in ten years.
"""

import sqlalchemy as sa
from alembic import op

revision = "0020"
down_revision = "0019"
branch_labels = None
depends_on = None

COLUMN = "contact_correction"


def upgrade() -> None:
    """Add the column; every site corrects to 20 degC."""
    column = sa.Column(COLUMN, sa.Text(), nullable=False, server_default="to_20")
    op.add_column("site", column)


def downgrade() -> None:
    """Take it away."""
    op.drop_column("site", COLUMN)
