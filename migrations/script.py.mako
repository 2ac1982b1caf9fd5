"""${message}

Revision ${up_revision}, after ${down_revision | comma,n}, made ${create_date}.

Both directions are tested with rows before and after, on SQLite and PostgreSQL.
Import nothing of ours here: a revision must read the same in ten years.
"""

import sqlalchemy as sa
from alembic import op
${imports if imports else ""}
revision = ${repr(up_revision)}
down_revision = ${repr(down_revision)}
branch_labels = ${repr(branch_labels)}
depends_on = ${repr(depends_on)}


def upgrade() -> None:
    """Upgrade."""
    ${upgrades if upgrades else "pass"}


def downgrade() -> None:
    """Downgrade."""
    ${downgrades if downgrades else "pass"}
