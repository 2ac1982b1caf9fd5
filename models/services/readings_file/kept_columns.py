"""Which column is what in an instrument's files, as the log has it last."""

import json
from collections.abc import Mapping
from dataclasses import asdict
from datetime import datetime
from typing import NamedTuple
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.record.readings_table import Columns
from models.schema import LogEntry
from models.services.keeping.log import append_log

ACTION = "choose columns"


class Kept(NamedTuple):
    """Columns, and when they were chosen."""

    columns: Columns
    at: datetime


def kept_columns(session: Session, instrument_id: UUID, kind: str) -> Kept | None:
    """Return the columns chosen last for this instrument and kind of file, or None."""
    chosen = select(LogEntry).where(
        LogEntry.action == ACTION, LogEntry.subject == f"instrument {instrument_id}"
    )
    for entry in session.scalars(chosen.order_by(LogEntry.seq.desc())):
        body = json.loads(entry.body)
        if body["kind"] == kind:
            return Kept(Columns(**body["new"]), entry.at)
    return None


def keep_columns(
    session: Session,
    *,
    person_id: UUID,
    instrument_id: UUID,
    kind: str,
    columns: Columns,
    now: datetime,
) -> None:
    """Log the columns where they are others than before."""
    before = kept_columns(session, instrument_id, kind)
    new: Mapping[str, object] = asdict(columns)
    if before and before.columns == columns:
        return
    append_log(
        session,
        actor_id=person_id,
        action=ACTION,
        subject=f"instrument {instrument_id}",
        body={
            "kind": kind,
            "old": asdict(before.columns) if before else None,
            "new": new,
        },
        now=now,
    )
