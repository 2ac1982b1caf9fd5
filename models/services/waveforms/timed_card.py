"""A card whose times may be measured in waveform records, as its page needs it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.errors import ConflictError
from models.procedures import PROCEDURES
from models.schema import Reading
from models.services.field.card_facts import CardFacts, gather
from models.services.field.card_values import where_of
from models.services.field.round_document import instruments_json
from models.services.keeping.attachments import AttachmentView, attached
from models.services.people.access import card_of, person_of, require

KINDS = ("waveform", "cff")  # of files that hold a record


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedPoint:
    """A point of the card; *read* is the reading that holds, or None."""

    id: UUID
    label: str
    given: Mapping[str, Any]
    read: Reading | None


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedCard:
    """The card: *measured* is "trip" or "contact"; *asks* are its conditions."""

    id: UUID
    round_id: UUID
    title: str
    where: str
    position: int
    zone: str
    measured: str
    unit: str
    state: str
    asks: Sequence[Mapping[str, Any]]
    defaults: Mapping[str, Any]
    points: Sequence[TimedPoint]
    instruments: Sequence[tuple[UUID, str]]
    records: Sequence[AttachmentView]
    may_add: bool

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
    procedure = PROCEDURES[card.procedure]
    files = attached(session, person_id=person_id, subject="card", subject_id=card_id)
    holding = {one.point_id: one for one in facts.current}
    return TimedCard(
        id=card.id,
        round_id=card.round_id,
        title=f"{procedure.title} · {card.apparatus.label}",
        where=where_of(card),
        position=card.position,
        zone=card.round.lineup.site.zone,
        measured=procedure.waveform,
        unit=card.unit,
        state=facts.state,
        asks=procedure.asks,
        defaults=card.defaults,
        points=[
            TimedPoint(
                id=point.id,
                label=point.label,
                given=point.given,
                read=holding.get(point.id),
            )
            for point in card.points
        ],
        instruments=[
            (UUID(one["id"]), f"{one['tag']} · {one['name']}")
            for one in instruments_json(session, person.organisation_id)
            if card.procedure in one["procedures"] and not one["retired"]
        ],
        records=[
            one
            for one in files.files
            if one.kind.name in KINDS and one.withdrawn is None
        ],
        may_add=files.may_add,
    )


def timed_facts(session: Session, person_id: UUID, card_id: UUID) -> CardFacts:
    """Return what is on the card; raises as `timed_card` does."""
    person = person_of(session, person_id)
    require(person, "record")
    card = card_of(session, person, card_id)
    if not PROCEDURES[card.procedure].waveform:
        raise ConflictError(
            "The readings of this card are no times: waveform records are for the "
            "timing of relays and breakers."
        )
    return gather(session, [card])[card.id]
