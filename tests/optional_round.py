"""A round with every card that the gear may have, the optional ones too."""

from datetime import datetime
from uuid import uuid4

from sqlalchemy.orm import Session

from models.services.setup.plan_round import plan_round
from tests.scenario import LEAD, Work, lineup_id


def begin_with_optional_cards(session: Session, at: datetime) -> Work:
    """Open an acceptance round of draw-out breakers as the lead."""
    round_id = plan_round(
        session,
        person_id=LEAD.id,
        lineup_id=lineup_id(),
        kind="acceptance",
        programme="Acceptance, draw-out breakers",
        now=at,
        new_id=uuid4,
        optional=True,
    )
    return Work(session, round_id, at)
