"""Take in what a tablet sends: each entry stands alone, sending twice does no harm."""

import hashlib
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from models.errors import (
    ConflictError,
    ForbiddenError,
    InputError,
    NotFoundError,
)
from models.schema import Person, Receipt
from models.services.access import card_of, person_of, require, require_open, round_of
from models.services.baseline import add_baseline, baseline_values
from models.services.card_view import CardFacts, card_json, gather
from models.services.entry_kinds import KINDS, Entry
from models.services.log import append_log, texted
from models.signing import chain


def accept_entries(
    session: Session,
    *,
    person_id: UUID,
    round_id: UUID,
    device: str,
    entries: Sequence[Mapping[str, Any]],
    now: datetime,
    new_id: Callable[[], UUID] = uuid4,
) -> list[dict[str, Any]]:
    """Store *entries* one by one and say what became of each.

    The answer for each is stored, known (seen before with the same content),
    conflict (seen before with other content, or the card's state forbids it) or
    refused with the faults by field, and carries the card as it now stands.
    Raises NotFoundError and ForbiddenError for the whole call only.
    """
    person = person_of(session, person_id)
    require(person, "record")
    round_of(session, person, round_id)
    return [
        _accept_one(session, person, round_id, device, entry, now, new_id)
        for entry in entries
    ]


def _accept_one(
    session: Session,
    person: Person,
    round_id: UUID,
    device: str,
    raw: Mapping[str, Any],
    now: datetime,
    new_id: Callable[[], UUID],
) -> dict[str, Any]:
    answer: dict[str, Any] = {"key": raw.get("key"), "faults": [], "card": None}
    try:
        with session.begin_nested():
            entry = Entry.read(raw, device=device, arrived_at=now)
            facts = _open_card(session, person, round_id, entry)
            answer["status"] = _store(session, person, facts, entry, new_id)
        session.expire(facts.card)
        answer["card"] = card_as_it_stands(session, facts)
    except InputError as error:
        answer["status"] = "refused"
        answer["faults"] = [
            {"field": f.field, "message": f.message} for f in error.faults
        ]
    except (ConflictError, ForbiddenError) as error:
        answer["status"] = "conflict"
        answer["faults"] = [{"field": "", "message": str(error)}]
    except NotFoundError as error:
        answer["status"] = "refused"
        answer["faults"] = [{"field": "card_id", "message": f"There is {error}."}]
    return answer


def _open_card(
    session: Session, person: Person, round_id: UUID, entry: Entry
) -> CardFacts:
    card = card_of(session, person, entry.card_id)
    if card.round_id != round_id:
        raise NotFoundError("card", entry.card_id)
    return gather(session, [card])[card.id]


def _store(
    session: Session,
    person: Person,
    facts: CardFacts,
    entry: Entry,
    new_id: Callable[[], UUID],
) -> str:
    digest = hashlib.sha256(chain.canonical(texted(entry.raw))).hexdigest()
    seen = session.get(Receipt, entry.key)
    if seen is not None:
        if seen.digest == digest and seen.person_id == person.id:
            return "known"
        raise ConflictError(
            "An entry with this key was stored before with other content; "
            "enter it anew."
        )
    require_open(facts.card.round)
    if facts.state in ("signed", "withdrawn"):
        raise ConflictError(
            f"This card is {facts.state}; the lead can return it to you."
        )
    session.add(
        Receipt(
            id=entry.key,
            person_id=person.id,
            digest=digest,
            received_at=entry.arrived_at,
        )
    )
    body = KINDS[entry.kind](session, person, facts, entry, new_id)
    append_log(
        session,
        actor_id=person.id,
        action=entry.kind.replace("_", " "),
        subject=f"card {facts.card.id}",
        body={"key": str(entry.key), "device": entry.device, **body},
        now=entry.arrived_at,
    )
    return "stored"


def card_as_it_stands(session: Session, facts: CardFacts) -> dict[str, Any]:
    """Return the card's JSON, read again."""
    card = facts.card
    shown = card_json(gather(session, [card])[card.id])
    if card.round.kind == "maintenance":
        values = baseline_values(session, card.round.lineup_id)
        add_baseline([shown], [card], values)
    return shown
