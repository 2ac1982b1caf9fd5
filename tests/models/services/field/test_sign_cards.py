"""Signing cards: complete or not at all, with the technician's own key."""

import json
from collections.abc import Sequence
from typing import Any
from uuid import UUID

import pytest
from cryptography.x509.oid import NameOID
from sqlalchemy import func, select

from models.errors import (
    ConflictError,
    ForbiddenError,
    InputError,
    NotFoundError,
    WrongPasswordError,
)
from models.schema import Authority, LogEntry, Signature
from models.services.field.sign_cards import sign_cards
from models.signing import seals
from tests.scenario import CR, IR, OWNER, PASSWORD, SECOND, TECHNICIAN, VI, Cast, Work

READY = ("breaker 52", CR)


def ready(work: Work) -> None:
    """Leave the contact resistance card with nothing but its signature to come."""
    work.read(*READY, "38.6", "39.4", "40.2")
    work.confirm(*READY, after=True)


def sign(
    work: Work,
    cards: Sequence[UUID],
    by: Cast = TECHNICIAN,
    password: str = PASSWORD,
    **said: Any,
) -> None:
    sign_cards(
        work.session,
        person_id=by.id,
        round_id=work.round_id,
        card_ids=cards,
        password=password,
        now=work.tick(),
        **said,
    )


def signatures(work: Work) -> int:
    return work.session.scalars(select(func.count()).select_from(Signature)).one()


@pytest.mark.any_database
def test_what_is_missing_is_named(confirmed: Work) -> None:
    ready(confirmed)
    confirmed.read("bus", IR, "9.0", "9.5")
    cards = [confirmed.card(*READY).id, confirmed.card("bus", IR).id]
    with pytest.raises(InputError) as refused:
        sign(confirmed, cards)
    assert [(f.field, f.message) for f in refused.value.faults] == [
        (
            str(cards[1]),
            "bus, insulation resistance: no reading yet at C-G, A-B, B-C, C-A.",
        ),
        (
            str(cards[1]),
            "bus, insulation resistance: still to confirm P01a, G14a, P03a.",
        ),
    ]
    assert signatures(confirmed) == 0  # not the complete one either


WRONG_PASSWORDS = ("", "stripe-of-paint ", "Stripe-of-paint", "\ud800", "x" * 5000)


@pytest.mark.any_database
def test_only_the_own_password_signs(confirmed: Work) -> None:
    ready(confirmed)
    for password in WRONG_PASSWORDS:
        with pytest.raises(WrongPasswordError) as refused:
            sign(confirmed, [confirmed.card(*READY).id], password=password)
        assert [f.field for f in refused.value.faults] == ["password"]
    assert signatures(confirmed) == 0


def test_what_changed_since_it_was_seen_is_not_signed(confirmed: Work) -> None:
    """The readings that held; what was meant without signal stands in the log."""
    ready(confirmed)
    card_id = confirmed.card(*READY).id
    seen = {card_id: {one.id for one in confirmed.facts(*READY).current}}
    first = confirmed.facts(*READY).current[0].id
    confirmed.again(*READY, first, "39.1")
    confirmed.confirm(*READY, after=True)
    intent = {"at": "2026-03-03T10:42:00+13:00", "device": "tablet 7f3a"}
    with pytest.raises(InputError) as refused:
        sign(confirmed, [card_id], seen=seen, intents={card_id: intent})
    (fault,) = refused.value.faults
    assert fault.field == str(card_id) and "have changed since" in fault.message
    assert signatures(confirmed) == 0
    now = {card_id: {one.id for one in confirmed.facts(*READY).current}}
    sign(confirmed, [card_id], seen=now, intents={card_id: intent})
    logged = select(LogEntry).where(LogEntry.action == "sign card as performed")
    (row,) = confirmed.session.scalars(logged)
    assert json.loads(row.body)["intended"] == intent


def test_all_or_none(confirmed: Work) -> None:
    """Of two cards one is signed already: the call adds nothing, and says which."""
    ready(confirmed)
    confirmed.read("breaker 52", VI, "held", "held", "held")
    confirmed.confirm("breaker 52", VI, after=True)
    sign(confirmed, [confirmed.card("breaker 52", VI).id])
    cards = [confirmed.card("breaker 52", p).id for p in (CR, VI)]
    with pytest.raises(ConflictError, match="breaker 52, vacuum integrity is signed"):
        sign(confirmed, cards)
    confirmed.session.flush()
    assert signatures(confirmed) == 1
    assert confirmed.facts(*READY).state == "begun"


def test_a_withdrawn_card_is_not_signed(confirmed: Work) -> None:
    confirmed.withdraw("breaker 52", VI)
    with pytest.raises(ConflictError, match="is withdrawn"):
        sign(confirmed, [confirmed.card("breaker 52", VI).id])


def test_nothing_chosen_and_things_that_are_not_there(confirmed: Work) -> None:
    ready(confirmed)
    with pytest.raises(InputError, match="Choose a card"):
        sign(confirmed, [])
    with pytest.raises(NotFoundError):
        sign(confirmed, [confirmed.card(*READY).id, UUID(int=1)])
    with pytest.raises(ForbiddenError):
        sign(confirmed, [confirmed.card(*READY).id], by=OWNER)
    assert signatures(confirmed) == 0


def test_the_same_card_twice_is_signed_once(confirmed: Work) -> None:
    ready(confirmed)
    sign(confirmed, [confirmed.card(*READY).id] * 2)
    assert signatures(confirmed) == 1


def test_the_seal_stands_over_the_card_as_canonical_json(confirmed: Work) -> None:
    confirmed.read(*READY, "38.6", "39.4", "40.2", by=SECOND)
    confirmed.confirm(*READY, after=True)
    confirmed.sign(READY, by=SECOND)
    session = confirmed.session
    row = session.scalars(select(Signature)).one()
    said = json.loads(row.statement)
    # RFC 8785 for names and texts in ASCII: sorted, no blanks, no escapes but needed.
    assert row.statement == json.dumps(
        said, sort_keys=True, separators=(",", ":"), ensure_ascii=False
    )
    root = session.scalars(select(Authority)).one().certificate_pem
    signer = seals.check_seal(row.seal, row.statement.encode(), root)
    subject = {a.oid: a.value for a in signer.subject}
    assert subject[NameOID.COMMON_NAME] == SECOND.name
    assert subject[NameOID.USER_ID] == str(SECOND.id)
    with pytest.raises(seals.BrokenSealError):
        seals.check_seal(row.seal, row.statement.encode() + b" ", root)
    assert said["person"] == {"id": str(SECOND.id), "name": SECOND.name}
    assert said["meaning"] == "performed"
    assert [r["text"] for r in said["card"]["readings"]] == ["38.6", "39.4", "40.2"]
    assert said["card"]["readings"][0]["judgement"]["corrected"] == "38.6"
    logged = session.scalars(
        select(LogEntry.body).where(LogEntry.action == "sign card as performed")
    ).one()
    assert json.loads(logged) == {"signature": str(row.id), "seal": row.seal}


def test_a_return_voids_the_signature_and_keeps_it(confirmed: Work) -> None:
    ready(confirmed)
    confirmed.sign(READY)
    assert confirmed.facts(*READY).state == "signed"
    confirmed.give_back(*READY)
    facts = confirmed.facts(*READY)
    assert (facts.state, facts.signed, len(facts.signatures)) == ("returned", [], 1)
    first = facts.current[0].id
    confirmed.again(*READY, first, "38.9")
    confirmed.confirm(*READY, after=True)
    confirmed.sign(READY)
    facts = confirmed.facts(*READY)
    assert (facts.state, len(facts.signatures)) == ("signed", 2)
    assert facts.signed == [facts.signatures[-1]]
    assert "38.9" in facts.signed[0].statement


def test_a_closed_round_is_not_signed(accepted: Work) -> None:
    with pytest.raises(ConflictError, match="nothing more can be entered"):
        sign(accepted, [accepted.card(*READY).id])


def test_everybody_who_took_a_reading_signs_for_theirs(confirmed: Work) -> None:
    """The second took one reading; the first one's name does not cover it."""
    confirmed.read(*READY, "38.6", "39.4")
    confirmed.read(*READY, "40.2", by=SECOND)
    confirmed.confirm(*READY, after=True)
    confirmed.sign(READY)
    assert confirmed.facts(*READY).state == "signing"
    with pytest.raises(ConflictError, match=f"it waits for {SECOND.name}"):
        confirmed.sign(READY)
    confirmed.sign(READY, by=SECOND)
    facts = confirmed.facts(*READY)
    assert facts.state == "signed"
    signed = {s.by.name: json.loads(s.statement) for s in facts.signatures}
    assert {n: len(s["card"]["readings"]) for n, s in signed.items()} == {
        TECHNICIAN.name: 2,
        SECOND.name: 1,
    }
    assert f"by {TECHNICIAN.name}." in signed[SECOND.name]["statement"]


def test_nobody_signs_who_took_no_reading(confirmed: Work) -> None:
    ready(confirmed)
    with pytest.raises(ConflictError, match="you took none of its readings"):
        confirmed.sign(READY, by=SECOND)
    assert signatures(confirmed) == 0


def test_nothing_is_entered_once_somebody_has_signed(confirmed: Work) -> None:
    confirmed.read(*READY, "38.6", "39.4")
    confirmed.read(*READY, "40.2", by=SECOND)
    confirmed.confirm(*READY, after=True)
    confirmed.sign(READY)
    card = confirmed.card(*READY)
    (answer,) = confirmed.send(confirmed.entry(card, "note", text="wait"), by=SECOND)
    assert answer["status"] == "conflict"
    assert answer["faults"][0]["message"] == (
        f"{TECHNICIAN.name} signed this card already; the lead can return it to you."
    )
