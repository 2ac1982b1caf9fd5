"""Where an apparatus was, from day to day."""

from collections.abc import Callable
from datetime import date, datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload

from models.schema import Apparatus, Cell, Person, Placement


def add_placement(
    session: Session,
    thing: Apparatus,
    *,
    from_day: date | None,
    reason: str,
    by: Person,
    now: datetime,
    new_id: Callable[[], UUID],
    first: bool = False,
) -> Placement:
    """Keep where *thing* stands now as its next placement.

    *first*: it stood nowhere before, which need not be looked for then.
    """
    number = 1 if first else len(placements_of(session, thing.id)) + 1
    placement = Placement(
        id=new_id(),
        apparatus_id=thing.id,
        number=number,
        cell_id=thing.cell_id,
        from_day=from_day,
        reason=reason,
        by_id=by.id,
        at=now,
    )
    session.add(placement)
    return placement


def placements_of(session: Session, apparatus_id: UUID) -> list[Placement]:
    """Return where an apparatus was, the first placement first."""
    return list(
        session.scalars(
            select(Placement)
            .where(Placement.apparatus_id == apparatus_id)
            .options(
                joinedload(Placement.cell).joinedload(Cell.lineup),
                joinedload(Placement.by),
            )
            .order_by(Placement.number)
        )
    )
