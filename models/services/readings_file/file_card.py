"""A card whose readings come from files, as its page needs it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.procedures import PROCEDURES
from models.services.field.card_facts import CardFacts, gather
from models.services.field.card_values import where_of
from models.services.field.round_document import instruments_json
from models.services.keeping.attachments import AttachmentView, attached
from models.services.people.access import card_of, person_of, require

KINDS = ("csv", "xlsx", "txt")  # of files that hold a table


@dataclass(frozen=True, slots=True, kw_only=True)
class FileCard:
    """The card: *asks* are its conditions, *files* those that may hold readings."""

    id: UUID
    round_id: UUID
    title: str
    where: str
    position: int
    zone: str
    unit: str | None
    asks: Sequence[Mapping[str, Any]]
    defaults: Mapping[str, Any]
    points: Sequence[str]
    instruments: Sequence[tuple[UUID, str]]
    files: Sequence[AttachmentView]
    may_add: bool


def file_card(session: Session, *, person_id: UUID, card_id: UUID) -> FileCard:
    """Return the card; NotFoundError, ForbiddenError."""
    card = facts_of(session, person_id, card_id).card
    procedure = PROCEDURES[card.procedure]
    files = attached(session, person_id=person_id, subject="card", subject_id=card_id)
    organisation = person_of(session, person_id).organisation_id
    return FileCard(
        id=card.id,
        round_id=card.round_id,
        title=f"{procedure.title} · {card.apparatus.label}",
        where=where_of(card),
        position=card.position,
        zone=card.round.lineup.site.zone,
        unit=card.unit,
        asks=procedure.asks,
        defaults=card.defaults,
        points=[point.label for point in card.points],
        instruments=[
            (UUID(one["id"]), f"{one['tag']} · {one['name']}")
            for one in instruments_json(session, organisation)
            if card.procedure in one["procedures"] and not one["retired"]
        ],
        files=[
            one
            for one in files.files
            if one.kind.name in KINDS and one.withdrawn is None
        ],
        may_add=files.may_add,
    )


def facts_of(session: Session, person_id: UUID, card_id: UUID) -> CardFacts:
    """Return what is on the card, for somebody who may record on it."""
    person = person_of(session, person_id)
    require(person, "record")
    card = card_of(session, person, card_id)
    return gather(session, [card])[card.id]
