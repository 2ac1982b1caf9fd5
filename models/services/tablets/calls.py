"""What a tablet says of itself with each call: whether it may, what it still holds."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import RevokedTabletError
from models.schema import Tablet, TabletAct
from models.services.tablets.held_rounds import tell

DECIDED = ("revoke", "admit")


def require_admitted(session: Session, tablet_id: UUID) -> None:
    """Raise RevokedTabletError for a tablet that was revoked. One indexed query."""
    last = session.scalars(
        select(TabletAct)
        .where(TabletAct.tablet_id == tablet_id, TabletAct.act.in_(DECIDED))
        .order_by(TabletAct.at.desc(), TabletAct.id.desc())
        .limit(1)
    ).first()
    if last is not None and last.act == "revoke":
        raise RevokedTabletError(
            f"This tablet was revoked: {last.reason} Nothing was stored. What it holds "
            "stays on it; a lead can take it in from a file."
        )


def note_call(
    session: Session,
    *,
    person_id: UUID,
    round_id: UUID,
    tablet_id: UUID,
    program: str | None,
    left: Mapping[str, Any] | None,
    now: datetime,
) -> None:
    """Note when a known tablet called, with which program, and what it still holds."""
    tablet = session.get(Tablet, tablet_id)
    if tablet is None:
        return
    tablet.last_at, tablet.last_by_id = now, person_id
    if program:
        tablet.program = program
    if left is not None:
        tell(
            session,
            person_id=person_id,
            round_id=round_id,
            said={**left, "tablet": tablet_id},
            now=now,
        )
