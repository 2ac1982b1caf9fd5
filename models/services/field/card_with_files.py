"""A card that takes readings from its files: what its page needs, whatever the kind."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.procedures import PROCEDURES
from models.record.shapes.round_document import DocumentInstrument
from models.schema import Card, Person
from models.services.field.card_facts import CardFacts, gather
from models.services.field.card_values import where_of
from models.services.field.round_document import instruments_json
from models.services.keeping.attachments import Attached, AttachmentView, attached
from models.services.people.access import card_of, person_of, require


@dataclass(frozen=True, slots=True, kw_only=True)
class CardWithFiles:
    """The card: *asks* are its conditions, *files* those that may hold readings."""

    id: UUID
    round_id: UUID
    title: str
    where: str
    position: int
    zone: str
    asks: Sequence[Mapping[str, Any]]
    defaults: Mapping[str, Any]
    instruments: Sequence[tuple[UUID, str]]
    files: Sequence[AttachmentView]
    may_add: bool


def card_to_record_on(session: Session, person_id: UUID, card_id: UUID) -> CardFacts:
    """Return what is on the card, for somebody who may record on it.

    Raises NotFoundError, ForbiddenError.
    """
    person = person_of(session, person_id)
    require(person, "record")
    card = card_of(session, person, card_id)
    return gather(session, [card])[card.id]


def shown_with_files(
    session: Session, card: Card, person: Person, kinds: Collection[str]
) -> dict[str, Any]:
    """Return the fields of `CardWithFiles`; *kinds* are of files that hold readings."""
    procedure = PROCEDURES[card.procedure]
    files = attached(session, person_id=person.id, subject="card", subject_id=card.id)
    register = instruments_json(session, person.organisation_id)
    return {
        "id": card.id,
        "round_id": card.round_id,
        "title": f"{procedure.title} · {card.apparatus.label}",
        "where": where_of(card),
        "position": card.position,
        "zone": card.round.lineup.site.zone,
        "asks": procedure.asks,
        "defaults": card.defaults,
        "instruments": instruments_for(register, {card.procedure}),
        "files": files_of_kinds(files, kinds),
        "may_add": files.may_add,
    }


def instruments_for(
    register: Sequence[DocumentInstrument], procedures: Collection[str]
) -> list[tuple[UUID, str]]:
    """Return the instruments in use for one of the procedures, with their names."""
    return [
        (UUID(one["id"]), f"{one['tag']} · {one['name']}")
        for one in register
        if set(procedures) & set(one["procedures"]) and not one["retired"]
    ]


def files_of_kinds(files: Attached, kinds: Collection[str]) -> list[AttachmentView]:
    """Return the files of these kinds that were not withdrawn."""
    return [
        one for one in files.files if one.kind.name in kinds and one.withdrawn is None
    ]
