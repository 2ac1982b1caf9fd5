"""Sign cards as performed, with the technician's own key."""

from collections.abc import Callable, Sequence
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from models.errors import ConflictError, Fault, InputError, NotFoundError
from models.schema import Person, Signature
from models.services.field.accept_entries import card_as_it_stands
from models.services.field.card_view import (
    CardFacts,
    card_json,
    gather,
    precondition_codes,
    round_cards,
)
from models.services.keeping.log import append_log, stamp, take_turn, texted
from models.services.keeping.order import following
from models.services.people.access import person_of, require, require_open, round_of
from models.signing import chain, keys, seals

MEANING = (
    "I performed these tests as recorded here, with the instruments and under the "
    "conditions stated, and the preconditions were confirmed before each."
)


def sign_cards(
    session: Session,
    *,
    person_id: UUID,
    round_id: UUID,
    card_ids: Sequence[UUID],
    password: str,
    now: datetime,
    new_id: Callable[[], UUID] = uuid4,
) -> list[dict[str, Any]]:
    """Sign each card as performed; all of them, or none.

    Raises InputError naming what is missing on which card, or that the password
    does not open the key; ConflictError when a card is signed or withdrawn.
    """
    take_turn(session)
    person = person_of(session, person_id)
    require(person, "record")
    round_ = round_of(session, person, round_id)
    require_open(round_)
    by_id = {card.id: card for card in round_cards(session, round_.id)}
    unknown = [card_id for card_id in card_ids if card_id not in by_id]
    if unknown:
        raise NotFoundError("card", unknown[0])
    if not card_ids:
        raise InputError(Fault(field="card_ids", message="Choose a card to sign."))
    facts = gather(session, [by_id[card_id] for card_id in card_ids])
    for one in facts.values():
        if one.state in ("signed", "withdrawn"):
            raise ConflictError(f"{_name(one)} is {one.state} already.")
    faults = [f for one in facts.values() for f in what_is_missing(one)]
    if faults:
        raise InputError(*faults)
    private_key = keys.open_key(person.key.wrapped_key, password, str(person.id))
    for one in facts.values():
        _sign(session, person, one, private_key, now, new_id)
    session.flush()
    return [card_as_it_stands(session, one.card) for one in facts.values()]


def _sign(
    session: Session,
    person: Person,
    facts: CardFacts,
    private_key: Any,
    now: datetime,
    new_id: Callable[[], UUID],
) -> None:
    at = following(now, (r.at for r in facts.returns))
    statement = card_statement(facts, person, at)
    certificate = person.key.certificate_pem
    signature = Signature(
        id=new_id(),
        card_id=facts.card.id,
        meaning="performed",
        statement=statement.decode(),
        seal=seals.seal(private_key, certificate, statement, at),
        fingerprint=seals.fingerprint(certificate),
        by_id=person.id,
        at=at,
    )
    session.add(signature)
    append_log(
        session,
        actor_id=person.id,
        action="sign card as performed",
        subject=f"card {facts.card.id}",
        body={"signature": str(signature.id), "seal": signature.seal},
        now=now,
    )


def card_statement(facts: CardFacts, person: Person, now: datetime) -> bytes:
    """Return what is signed: the card as it stands, who says so, and what it means."""
    card = card_json(facts)
    for left_out in ("signatures", "state", "assigned_to", "returned"):
        card.pop(left_out)
    return chain.canonical(
        texted(
            {
                "card": card,
                "meaning": "performed",
                "statement": MEANING,
                "person": {"id": str(person.id), "name": person.name},
                "at": stamp(now),
            }
        )
    )


def what_is_missing(facts: CardFacts) -> list[Fault]:
    """Return what still stands between a card and its signature."""
    faults = []
    if unread := unread_points(facts):
        faults.append(
            Fault(
                field=str(facts.card.id),
                message=f"{_name(facts)}: no reading yet at {', '.join(unread)}.",
            )
        )
    if open_codes := unanswered_codes(facts):
        faults.append(
            Fault(
                field=str(facts.card.id),
                message=f"{_name(facts)}: still to confirm {', '.join(open_codes)}.",
            )
        )
    return faults


def unread_points(facts: CardFacts) -> list[str]:
    """Return the labels of the points without a reading that holds."""
    read = {r.point_id for r in facts.current}
    return [p.label for p in facts.card.points if p.id not in read]


def unanswered_codes(facts: CardFacts) -> list[str]:
    """Return the codes of the preconditions that nobody has answered."""
    return [
        code
        for code in precondition_codes(facts.card.procedure)
        if code not in facts.confirmed_codes
    ]


def _name(facts: CardFacts) -> str:
    card = facts.card
    return f"{card.apparatus.label}, {card.procedure.replace('_', ' ')}"
