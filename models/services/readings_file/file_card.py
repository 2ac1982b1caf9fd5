"""A card whose readings come from files, as its page needs it."""

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from sqlalchemy.orm import Session

from models.services.field.card_with_files import (
    CardWithFiles,
    card_to_record_on,
    shown_with_files,
)
from models.services.people.access import person_of

KINDS = ("csv", "xlsx", "txt")  # of files that hold a table


@dataclass(frozen=True, slots=True, kw_only=True)
class FileCard(CardWithFiles):
    """The card: *points* are their labels."""

    unit: str | None
    points: Sequence[str]


def file_card(session: Session, *, person_id: UUID, card_id: UUID) -> FileCard:
    """Return the card; NotFoundError, ForbiddenError."""
    card = card_to_record_on(session, person_id, card_id).card
    person = person_of(session, person_id)
    return FileCard(
        **shown_with_files(session, card, person, KINDS),
        unit=card.unit,
        points=[point.label for point in card.points],
    )
