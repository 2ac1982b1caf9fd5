"""What the lead decides: dispose, return, withdraw, waive."""

from collections.abc import Callable, Sequence
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from models.errors import ConflictError, Fault, InputError
from models.record.agreement import weak_reason
from models.record.values import DECISIONS
from models.schema import (
    CardReturn,
    CardWithdrawal,
    Disposition,
    Person,
    Reading,
    SealWaiver,
)
from models.services.field.card_facts import CardFacts, gather, round_cards
from models.services.keeping.log import append_log, take_turn
from models.services.keeping.order import following
from models.services.keeping.texts import text_faults
from models.services.people.access import (
    card_of,
    person_of,
    reading_of,
    require,
    require_open,
    round_of,
)
from models.services.turnover.seals_wanted import seals_wanted
from models.signing import keys


def dispose(
    session: Session,
    *,
    person_id: UUID,
    reading_ids: Sequence[UUID],
    decision: str,
    reason: str,
    now: datetime,
    new_id: Callable[[], UUID],
    password: str = "",
) -> None:
    """Record the lead's decision on readings that are not within, all or none.

    Nobody disposes of a reading that they took themselves. Letting an outside
    reading stand needs the lead's *password*, a reason of substance, and then the
    agreement of a second person (`agreements`). Raises InputError,
    WrongPasswordError and ConflictError.
    """
    person = _lead(session, person_id)
    readings = [reading_of(session, person, one) for one in dict.fromkeys(reading_ids)]
    faults = []
    if not readings:
        faults.append(Fault(field="readings", message="Choose at least one reading."))
    if decision not in DECISIONS:
        faults.append(Fault(field="decision", message="Choose a decision."))
    faults.extend(text_faults("reason", reason, "why you decide so"))
    if faults:
        raise InputError(*faults)
    facts = gather(session, list({reading.card for reading in readings}))
    for reading in readings:
        _check_disposable(person, reading, facts[reading.card_id])
    verdicts = {reading.judgement.verdict for reading in readings}
    if "outside" in verdicts and decision != "reject":
        _check_letting_stand(person, reason, password)
    for reading in readings:
        before = facts[reading.card_id].dispositions
        disposition = Disposition(
            id=new_id(),
            reading_id=reading.id,
            judgement_id=reading.judgement.id,
            decision=decision,
            reason=reason.strip(),
            by_id=person.id,
            at=following(now, (d.at for d in before)),
        )
        _dispose(session, person, reading, disposition, now)


def _check_disposable(person: Person, reading: Reading, facts: CardFacts) -> None:
    """Raise ConflictError unless the reading holds and is *person*'s to decide on."""
    require_open(reading.card.round)
    label = reading.point.label
    if reading not in facts.current:
        raise ConflictError(
            f"The reading at {label} is superseded; dispose of the one that holds."
        )
    if reading.judgement.verdict == "within":
        raise ConflictError(
            f"The reading at {label} is within: nothing is to be disposed of."
        )
    if reading.by_id == person.id:
        raise ConflictError(
            f"You took the reading at {label} yourself: somebody else has to dispose "
            "of it."
        )


def _dispose(
    session: Session,
    person: Person,
    reading: Reading,
    disposition: Disposition,
    now: datetime,
) -> None:
    session.add(disposition)
    body: dict[str, object] = {
        "decision": disposition.decision,
        "reason": disposition.reason,
        "verdict": reading.judgement.verdict,
    }
    # The log has an order of its own: after a clock was put back it counts from *now*.
    _log(session, person, "dispose", f"reading {reading.id}", body, now)


def _check_letting_stand(person: Person, reason: str, password: str) -> None:
    """Raise InputError unless the reason has substance and the password is theirs."""
    faults = []
    if weak := weak_reason(reason):
        faults.append(Fault(field="reason", message=weak))
    if not password:
        message = "Write your password: you let an outside reading stand by your name."
        faults.append(Fault(field="password", message=message))
    if faults:
        raise InputError(*faults)
    keys.open_key(person.key.wrapped_key, password, str(person.id))


def return_card(
    session: Session,
    *,
    person_id: UUID,
    card_id: UUID,
    return_id: UUID,
    reason: str,
    now: datetime,
) -> None:
    """Hand a signed card back to the technician; its signature no longer holds."""
    person = _lead(session, person_id)
    card = card_of(session, person, card_id)
    require_open(card.round)
    if faults := text_faults("reason", reason, "what the technician is to do"):
        raise InputError(*faults)
    facts = gather(session, [card])[card.id]
    if facts.state not in ("signed", "signing"):
        raise ConflictError("Only a signed card can be returned; this one is open.")
    session.add(
        CardReturn(
            id=return_id,
            card_id=card.id,
            reason=reason.strip(),
            by_id=person.id,
            at=following(now, (s.at for s in facts.signatures)),
        )
    )
    _log(
        session,
        person,
        "return card",
        f"card {card.id}",
        {"reason": reason.strip()},
        now,
    )


def withdraw_card(
    session: Session,
    *,
    person_id: UUID,
    card_id: UUID,
    withdrawal_id: UUID,
    reason: str,
    now: datetime,
) -> None:
    """Take a card out of the programme; what is on it stays and is printed."""
    person = _lead(session, person_id)
    card = card_of(session, person, card_id)
    require_open(card.round)
    left_out = "why this test is left out"
    faults = text_faults("reason", reason, left_out)
    if not faults and (weak := weak_reason(reason, left_out)):
        faults = [Fault(field="reason", message=weak)]
    if faults:
        raise InputError(*faults)
    facts = gather(session, [card])[card.id]
    if facts.state in ("signed", "withdrawn"):
        raise ConflictError(f"This card is {facts.state} already.")
    if facts.withdrawal:
        raise ConflictError(
            "This card was withdrawn before, and a second person refused it: it stays "
            "in the programme of this round."
        )
    session.add(
        CardWithdrawal(
            id=withdrawal_id,
            card_id=card.id,
            reason=reason.strip(),
            by_id=person.id,
            at=now,
        )
    )
    _log(
        session,
        person,
        "withdraw card",
        f"card {card.id}",
        {"reason": reason.strip()},
        now,
    )


def waive_seal(
    session: Session,
    *,
    person_id: UUID,
    round_id: UUID,
    performer_id: UUID,
    waiver_id: UUID,
    reason: str,
    now: datetime,
) -> None:
    """Record why a performer's signature on the package is not to be had.

    Their signatures on the cards, made with their own key, stand. The reason is
    printed in the package, so signatures made on it before have to be made again.
    Raises ConflictError when that person's signature is not among those missing.
    """
    person = _lead(session, person_id)
    round_ = round_of(session, person, round_id)
    require_open(round_)
    if faults := text_faults("reason", reason, "why this signature is not to be had"):
        raise InputError(*faults)
    facts = list(gather(session, round_cards(session, round_.id)).values())
    if performer_id == person.id:
        raise ConflictError(
            "This is your own signature: sign the package, or another lead says why "
            "it is not to be had."
        )
    missing = seals_wanted(session, round_, facts).missing
    if performer_id not in {p.id for p in missing}:
        raise ConflictError("This person's signature is not missing on the package.")
    session.add(
        SealWaiver(
            id=waiver_id,
            round_id=round_.id,
            person_id=performer_id,
            reason=reason.strip(),
            by_id=person.id,
            at=now,
        )
    )
    _log(
        session,
        person,
        "waive package signature",
        f"round {round_.id}",
        {"of": str(performer_id), "reason": reason.strip()},
        now,
    )


def _lead(session: Session, person_id: UUID) -> Person:
    take_turn(session)
    person = person_of(session, person_id)
    require(person, "lead")
    return person


def _log(
    session: Session,
    person: Person,
    action: str,
    subject: str,
    body: dict[str, object],
    now: datetime,
) -> None:
    session.flush()
    append_log(
        session,
        actor_id=person.id,
        action=action,
        subject=subject,
        body=body,
        now=now,
    )
