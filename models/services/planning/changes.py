"""What was changed in a round's plan, in words: for gate, schedule and package."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from models.procedures import PROCEDURES
from models.schema import PlanChange, Round
from models.services.keeping.log import stamp


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeSaid:
    """A card left out, added or with other points; *was* and *points* are labels."""

    what: str  # left_out, added, points
    card_id: UUID | None
    where: str
    title: str
    detail: str
    was: list[str]
    points: list[str]
    reason: str
    by: str
    at: datetime


def changes_of(round_: Round) -> list[ChangeSaid]:
    """Return the changes of a round's plan, what was left out first."""
    said = [_said(row) for row in round_.changes]
    order = ("left_out", "added", "points")
    return sorted(
        said, key=lambda c: (order.index(c.what), c.where, c.title, c.detail, c.at)
    )


def _said(row: PlanChange) -> ChangeSaid:
    return ChangeSaid(
        what=row.what,
        card_id=row.card_id,
        where=f"Cell {row.cell.number} · {row.apparatus.label}",
        title=PROCEDURES[row.procedure].title,
        detail=row.detail,
        was=list(row.was),
        points=[p.label for p in row.card.points] if row.card else [],
        reason=row.reason,
        by=row.by.name,
        at=row.at,
    )


def plan_json(round_: Round) -> dict[str, Any]:
    """Return the package's `plan`; nothing where nothing was changed or asked."""
    changes = changes_of(round_)
    if not changes and not round_.editions:
        return {}
    return {
        "plan": {
            "changes": [
                {
                    "what": one.what,
                    "where": one.where,
                    "title": one.title,
                    "detail": one.detail,
                    "was": one.was,
                    "points": one.points,
                    "reason": one.reason,
                    "by": one.by,
                    "at": stamp(one.at),
                }
                for one in changes
            ],
            "editions": list(round_.editions),
        }
    }
