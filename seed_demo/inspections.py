"""A witness point that the owner attended, and a hold point that waits for them."""

from datetime import datetime
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from models.services.turnover.inspections import (
    answer_inspection_point,
    give_notice,
    set_inspection_points,
)
from seed_demo.people import LEAD, OWNER

CLAUSE = "Intake works specification GH-EL-014, clause 7.5"
NOTICE_HOURS = 24.0


def set_point(session: Session, card_id: UUID, kind: str, now: datetime) -> UUID:
    """Have a card wait for the owner's engineer; return the point's id."""
    (point_id,) = set_inspection_points(
        session,
        person_id=LEAD.id,
        card_ids=[card_id],
        kind=kind,
        party="",
        party_id=OWNER.id,
        notice_hours=NOTICE_HOURS,
        reason=f"{CLAUSE}: the owner's engineer at every withstand test.",
        now=now,
        new_id=uuid4,
    )
    return point_id


def tell(session: Session, point_id: UUID, work_at: datetime, now: datetime) -> None:
    """Record the notice that the owner's engineer was given by post."""
    give_notice(
        session,
        person_id=LEAD.id,
        point_id=point_id,
        notice_id=uuid4(),
        given_at=now,
        work_at=work_at,
        how="By e-mail to the owner's engineer, with the day's plan",
        now=now,
    )


def attend(session: Session, point_id: UUID, password: str, now: datetime) -> None:
    """Sign as the owner's engineer that they were present."""
    answer_inspection_point(
        session,
        person_id=OWNER.id,
        point_id=point_id,
        answer_id=uuid4(),
        answer="present",
        remark="All three phases held for the full minute.",
        password=password,
        now=now,
    )
