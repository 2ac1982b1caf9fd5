"""Log what somebody who sets up has changed: old and new value of each field."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.schema.base import Record
from models.services.keeping.log import append_log


def change_fields(
    session: Session,
    row: Record,
    given: Mapping[str, Any],
    *,
    person_id: UUID,
    now: datetime,
) -> bool:
    """Put *given* into *row* and log what differs; False where nothing does."""
    changed = {
        name: {"old": getattr(row, name), "new": value}
        for name, value in given.items()
        if getattr(row, name) != value
    }
    if not changed:
        return False
    for name, value in given.items():
        setattr(row, name, value)
    session.flush()
    append_log(
        session,
        actor_id=person_id,
        action=f"change {row.__tablename__}",
        subject=f"{row.__tablename__} {row.id}",
        body=changed,
        now=now,
    )
    return True
