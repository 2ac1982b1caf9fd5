"""Whether a round is somebody's to see."""

from uuid import UUID

from sqlalchemy.orm import Session

from models.services.people.access import person_of, round_of


def see_round(session: Session, *, person_id: UUID, round_id: UUID) -> None:
    """Raise NotFoundError where the round is not theirs to see."""
    round_of(session, person_of(session, person_id), round_id)
