"""Whether a tablet is revoked: the last decision about it holds."""

from collections.abc import Sequence
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import RevokedTabletError
from models.schema import TabletAct

DECIDED = ("revoke", "admit")


def revocation(acts: Sequence[TabletAct]) -> TabletAct | None:
    """Return the decision that revoked a tablet, None where it is admitted.

    *acts* are the tablet's, in the order of time; a release decides nothing of this.
    """
    decided = [one for one in acts if one.act in DECIDED]
    return decided[-1] if decided and decided[-1].act == "revoke" else None


def require_admitted(session: Session, tablet_id: UUID) -> None:
    """Raise RevokedTabletError for a tablet that was revoked. One indexed query."""
    acts = session.scalars(
        select(TabletAct)
        .where(TabletAct.tablet_id == tablet_id)
        .order_by(TabletAct.at, TabletAct.id)
    ).all()
    if revoked := revocation(acts):
        raise RevokedTabletError(
            f"This tablet was revoked: {revoked.reason} Nothing was stored. What it "
            "holds stays on it; a lead can take it in from a file."
        )
