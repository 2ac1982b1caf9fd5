"""Sign cards as performed, with the technician's own key."""

from collections.abc import Callable, Collection, Mapping, Sequence
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from models.errors import ConflictError, Fault, InputError, NotFoundError
from models.record.card import unanswered, unread_points
from models.record.signing import performed_statement, performers, signed_for
from models.schema import Person, Signature
from models.services.field.accept_entries import cards_as_they_stand
from models.services.field.card_facts import CardFacts, gather, round_cards
from models.services.field.card_view import card_json
from models.services.keeping.log import append_log, stamp, take_turn, texted
from models.services.keeping.order import following
from models.services.people.access import person_of, require, require_open, round_of
from models.signing import chain, keys, seals


def sign_cards(
    session: Session,
    *,
    person_id: UUID,
    round_id: UUID,
    card_ids: Sequence[UUID],
    password: str,
    seen: Mapping[UUID, Collection[UUID]] | None = None,
    intents: Mapping[UUID, Mapping[str, str]] | None = None,
    now: datetime,
    new_id: Callable[[], UUID] = uuid4,
) -> list[dict[str, Any]]:
    """Sign each card as performed; all of them, or none.

    Everybody signs for the readings that they took. *seen*: by card, the readings that
    held when the signer looked at it. *intents*: by card, when and where the signer
    meant to sign it without signal, for the log. Raises InputError naming what is
    missing on which card or has changed since it was seen, or that the password does
    not open the key; ConflictError when a card is signed or withdrawn, or when this
    person took none of its readings.
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
        _check_signer(one, person)
    faults = [f for one in facts.values() for f in what_is_missing(one)]
    faults += _changed_since(facts, seen or {})
    if faults:
        raise InputError(*faults)
    private_key = keys.open_key(person.key.wrapped_key, password, str(person.id))
    for one in facts.values():
        intent = (intents or {}).get(one.card.id, {})
        _sign(session, person, one, private_key, intent, now, new_id)
    session.flush()
    return cards_as_they_stand(session, [one.card for one in facts.values()])


def _sign(
    session: Session,
    person: Person,
    facts: CardFacts,
    private_key: Any,
    intent: Mapping[str, str],
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
        body={
            "signature": str(signature.id),
            "seal": signature.seal,
            **({"intended": dict(intent)} if intent else {}),
        },
        now=now,
    )


def card_statement(facts: CardFacts, person: Person, now: datetime) -> bytes:
    """Return what is signed: the card with this person's readings, and what it means.

    With a reading goes the one that it replaced, whoever took that.
    """
    card, value = card_json(facts), facts.value
    for left_out in ("signatures", "state", "assigned_to", "returned", "performers"):
        card.pop(left_out)
    own = {str(one.id) for one in signed_for(value, person.id)}
    card["readings"] = [one for one in card["readings"] if one["id"] in own]
    return chain.canonical(
        texted(
            {
                "card": card,
                "meaning": "performed",
                "statement": performed_statement(value, person.id),
                "person": {"id": str(person.id), "name": person.name},
                "at": stamp(now),
            }
        )
    )


def what_is_missing(facts: CardFacts) -> list[Fault]:
    """Return what still stands between a card and its signature."""
    faults, card = [], facts.value
    if unread := unread_points(card):
        faults.append(
            Fault(
                field=str(facts.card.id),
                message=f"{_name(facts)}: no reading yet at {', '.join(unread)}.",
            )
        )
    if open_codes := unanswered(card):
        faults.append(
            Fault(
                field=str(facts.card.id),
                message=f"{_name(facts)}: still to confirm {', '.join(open_codes)}.",
            )
        )
    return faults


def _changed_since(
    facts: Mapping[UUID, CardFacts], seen: Mapping[UUID, Collection[UUID]]
) -> list[Fault]:
    """Return a fault for each card that has other readings than its signer saw."""
    return [
        Fault(
            field=str(card_id),
            message=f"{_name(one)}: its readings have changed since you looked at it. "
            "Look at the card again, then sign.",
        )
        for card_id, one in facts.items()
        if card_id in seen and {r.id for r in one.current} != set(seen[card_id])
    ]


def _check_signer(facts: CardFacts, person: Person) -> None:
    """Raise ConflictError unless this person is to sign this card."""
    if facts.state in ("signed", "withdrawn"):
        raise ConflictError(f"{_name(facts)} is {facts.state} already.")
    people = performers(facts.value)
    own = next((p for p in people if p.id == person.id), None)
    if own is None and people:
        names = " and ".join(p.name for p in people)
        raise ConflictError(
            f"{_name(facts)}: you took none of its readings. {names} took them and "
            "signs for them."
            if len(people) == 1
            else f"{_name(facts)}: you took none of its readings. {names} took them "
            "and sign for them."
        )
    if own and own.signed:
        waiting = " and ".join(p.name for p in people if not p.signed)
        raise ConflictError(f"{_name(facts)}: you have signed; it waits for {waiting}.")


def _name(facts: CardFacts) -> str:
    card = facts.card
    return f"{card.apparatus.label}, {card.procedure.replace('_', ' ')}"
