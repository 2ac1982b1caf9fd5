"""A card whose times may be measured in waveform records, as its page needs it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.errors import ConflictError
from models.judging.series import Series
from models.procedures import PROCEDURES
from models.schema import Reading
from models.services.field.card_facts import CardFacts
from models.services.field.card_with_files import (
    CardWithFiles,
    card_to_record_on,
    shown_with_files,
)
from models.services.people.access import person_of

KINDS = ("waveform", "cff")  # of files that hold a record
TABLES = ("csv", "txt")  # of files that may hold a curve
CURVE = "curve"


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedPoint:
    """A point of the card; *read* is the reading that holds, or None."""

    id: UUID
    label: str
    given: Mapping[str, Any]
    read: Reading | None


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedCard(CardWithFiles):
    """The card: *measured* is "trip", "contact" or "curve"."""

    measured: str
    unit: str
    state: str
    plate: Mapping[str, Any]
    curve: Series | None  # of a card on which a curve is kept
    points: Sequence[TimedPoint]

    def point(self, point_id: UUID | None) -> TimedPoint | None:
        """Return the point of this identifier, or None."""
        return next((one for one in self.points if one.id == point_id), None)

    @property
    def next_point(self) -> TimedPoint | None:
        """The first point without a reading."""
        return next((one for one in self.points if one.read is None), None)


def timed_card(session: Session, *, person_id: UUID, card_id: UUID) -> TimedCard:
    """Return the card.

    Raises NotFoundError, ForbiddenError, and ConflictError for a card whose readings
    are no times of a record.
    """
    facts = timed_facts(session, person_id, card_id)
    card, person = facts.card, person_of(session, person_id)
    holding = {one.point_id: one for one in facts.current}
    procedure = PROCEDURES[card.procedure]
    is_curve = procedure.waveform == CURVE
    kinds = (*KINDS, *TABLES) if is_curve else KINDS
    return TimedCard(
        **shown_with_files(session, card, person, kinds),
        measured=procedure.waveform,
        plate=card.apparatus.nameplate,
        curve=procedure.series[0] if is_curve else None,
        unit=card.unit,
        state=facts.state,
        points=[
            TimedPoint(
                id=point.id,
                label=point.label,
                given=point.given,
                read=holding.get(point.id),
            )
            for point in card.points
        ],
    )


def timed_facts(session: Session, person_id: UUID, card_id: UUID) -> CardFacts:
    """Return what is on the card; raises as `timed_card` does."""
    facts = card_to_record_on(session, person_id, card_id)
    if not PROCEDURES[facts.card.procedure].waveform:
        raise ConflictError(
            "The readings of this card are no times: waveform records are for the "
            "timing of relays and breakers."
        )
    return facts
