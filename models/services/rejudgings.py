"""The acts of judging again that concern what a person may see."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload

from models.schema import Rejudging
from models.services.rejudge_scope import choosable


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """One act of judging again."""

    id: UUID
    scope: str
    what: str
    reason: str
    counts: Mapping[str, Any]
    by: str
    at: datetime


def rejudgings(session: Session, *, person_id: UUID) -> list[Act]:
    """Return the acts on what the person may see, the newest first."""
    titles = {
        one.subject_id: one.title for one in choosable(session, person_id=person_id)
    }
    rows = session.scalars(
        select(Rejudging)
        .where(Rejudging.subject_id.in_(titles))
        .options(joinedload(Rejudging.by))
        .order_by(Rejudging.at.desc(), Rejudging.id)
    )
    return [
        Act(
            id=row.id,
            scope=titles[row.subject_id],
            what=row.what,
            reason=row.reason,
            counts=row.counts,
            by=row.by.name,
            at=row.at,
        )
        for row in rows
    ]
