"""What a tablet says of itself with each call: its program, what it still holds."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.schema import Tablet
from models.services.tablets.held_rounds import tell


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
