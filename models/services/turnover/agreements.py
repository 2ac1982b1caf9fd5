"""What needs a second person's agreement: to be seen, and to be answered by name."""

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import (
    ConflictError,
    Fault,
    ForbiddenError,
    InputError,
    NotFoundError,
)
from models.record.agreement import Question, Somebody, why_not_agree
from models.record.values import DECISIONS
from models.schema import (
    Agreement,
    Card,
    CardWithdrawal,
    Disposition,
    Lineup,
    Person,
    Reading,
    Round,
    Site,
)
from models.services.field.card_facts import CardFacts, gather
from models.services.field.card_values import said_reading, where
from models.services.keeping.log import append_log, take_turn
from models.services.keeping.order import following
from models.services.keeping.texts import text_faults
from models.services.people.access import (
    person_of,
    require_open,
    sees_site,
    visible_sites,
)
from models.signing import keys

ANSWERS = {"agreed": "I agree to this.", "refused": "I do not agree to this."}
Subject = Disposition | CardWithdrawal


@dataclass(frozen=True, slots=True, kw_only=True)
class AgreementView:
    """A decision that needs agreement, as the person asked sees it."""

    subject_id: UUID
    kind: str  # reading, card
    site_name: str
    zone: str
    lineup_name: str
    round_id: UUID
    round_title: str
    where: str
    what: str
    verdict: str | None
    why_verdict: str
    decided: str
    reason: str
    by: str
    at: datetime
    answer: str | None
    answer_reason: str | None
    answered_by: str | None
    answered_at: datetime | None
    prints: str  # what the package will say once it is agreed to
    why_not: str  # why this person is not to answer; empty where they are


def agreement_view(
    session: Session, *, person_id: UUID, subject_id: UUID
) -> AgreementView:
    """Return the decision; NotFoundError when it is not theirs to see."""
    person = person_of(session, person_id)
    return _view(session, person, _subject(session, person, subject_id))


def waiting_agreements(session: Session, *, person_id: UUID) -> list[AgreementView]:
    """Return the decisions that wait for this person, the oldest first."""
    person = person_of(session, person_id)
    rows: list[Subject] = [
        *session.scalars(
            select(Disposition)
            .join(Reading)
            .join(Card, Card.id == Reading.card_id)
            .join(Round)
            .join(Lineup)
            .where(Lineup.site_id.in_(visible_sites(person)), Round.state == "open")
            .where(Disposition.decision != "reject", ~Disposition.agreement.has())
        ),
        *session.scalars(
            select(CardWithdrawal)
            .join(Card)
            .join(Round)
            .join(Lineup)
            .where(Lineup.site_id.in_(visible_sites(person)), Round.state == "open")
            .where(~CardWithdrawal.agreement.has())
        ),
    ]
    waiting = [row for row in rows if _waits(_facts(session, row), row)]
    views = [_view(session, person, row) for row in waiting]
    return sorted((v for v in views if not v.why_not), key=lambda v: v.at)


def answer_decision(
    session: Session,
    *,
    person_id: UUID,
    subject_id: UUID,
    agreement_id: UUID,
    answer: str,
    reason: str,
    password: str,
    now: datetime,
) -> None:
    """Agree to a decision by name, or refuse it with a reason.

    A refused decision does not hold: the reading is to be decided anew, the card
    stays in the programme. Raises ForbiddenError for whoever is not to answer,
    ConflictError when it does not wait for an answer, InputError and
    WrongPasswordError.
    """
    take_turn(session)
    person = person_of(session, person_id)
    subject = _subject(session, person, subject_id)
    facts = _facts(session, subject)
    require_open(facts.card.round)
    if not _waits(facts, subject):
        raise ConflictError("This decision does not wait for an answer any more.")
    if why := why_not_agree(_question(session, subject), _somebody(person)):
        raise ForbiddenError(why)
    _check_answer(answer, reason)
    keys.open_key(person.key.wrapped_key, password, str(person.id))
    said = reason.strip() or None
    row = Agreement(
        id=agreement_id,
        answer=answer,
        reason=said,
        by_id=person.id,
        at=following(now, [subject.at]),
    )
    subject.agreement = row
    session.add(row)
    session.flush()
    append_log(
        session,
        actor_id=person.id,
        action="answer decision",
        subject=_logged(subject),
        body={"decision": str(subject.id), "answer": answer, "reason": said},
        now=now,
    )


def waits_for_agreement(facts: CardFacts) -> list[Subject]:
    """Return the decisions on a card that hold and nobody has answered yet."""
    rows: list[Subject] = [
        found
        for reading in facts.current
        if (found := facts.disposition_of(reading)) is not None
    ]
    if facts.withdrawal:
        rows.append(facts.withdrawal)
    return [row for row in rows if _waits(facts, row)]


def _waits(facts: CardFacts, subject: Subject) -> bool:
    if subject.agreement is not None:
        return False
    if isinstance(subject, CardWithdrawal):
        return True
    reading = subject.reading
    return (
        subject.decision != "reject"
        and reading.judgement.verdict == "outside"
        and reading in facts.current
        and facts.disposition_of(reading) is subject
    )


def _check_answer(answer: str, reason: str) -> None:
    faults = []
    if answer not in ANSWERS:
        faults.append(Fault(field="answer", message="Agree, or refuse."))
    if answer == "refused" or reason.strip():
        faults.extend(text_faults("reason", reason, "why you do not agree"))
    if faults:
        raise InputError(*faults)


def _subject(session: Session, person: Person, subject_id: UUID) -> Subject:
    found: Subject | None = session.get(Disposition, subject_id)
    if found is None:
        found = session.get(CardWithdrawal, subject_id)
    if found is None or not _sees(session, person, _card(found)):
        raise NotFoundError("decision", subject_id)
    return found


def _sees(session: Session, person: Person, card: Card) -> bool:
    return sees_site(session, person, card.round.lineup.site_id)


def _card(subject: Subject) -> Card:
    return subject.card if isinstance(subject, CardWithdrawal) else subject.reading.card


def _facts(session: Session, subject: Subject) -> CardFacts:
    card = _card(subject)
    return gather(session, [card])[card.id]


def _somebody(person: Person) -> Somebody:
    return Somebody(id=person.id, roles=person.roles)


def _question(session: Session, subject: Subject) -> Question:
    site: Site = _card(subject).round.lineup.site
    people = select(Person.id).where(
        Person.organisation_id == site.owner_id,
        Person.held_roles.any(role="owner", until=None),
        Person.active,
    )
    withdrawal = isinstance(subject, CardWithdrawal)
    return Question(
        kind="card" if withdrawal else "reading",
        decided_by=subject.by_id,
        taken_by=None if isinstance(subject, CardWithdrawal) else subject.reading.by_id,
        owner_has_people=session.scalars(people).first() is not None,
    )


def _logged(subject: Subject) -> str:
    if isinstance(subject, CardWithdrawal):
        return f"card {subject.card_id}"
    return f"reading {subject.reading_id}"


def _view(session: Session, person: Person, subject: Subject) -> AgreementView:
    facts = _facts(session, subject)
    round_, given = facts.card.round, subject.agreement
    what, verdict, why, decided = _said(facts, subject)
    return AgreementView(
        subject_id=subject.id,
        kind="card" if isinstance(subject, CardWithdrawal) else "reading",
        site_name=round_.lineup.site.name,
        zone=round_.lineup.site.zone,
        lineup_name=round_.lineup.name,
        round_id=round_.id,
        round_title=round_.title,
        where=where(facts),
        what=what,
        verdict=verdict,
        why_verdict=why,
        decided=decided,
        reason=subject.reason,
        by=subject.by.name,
        at=subject.at,
        answer=given.answer if given else None,
        answer_reason=given.reason if given else None,
        answered_by=given.by.name if given else None,
        answered_at=given.at if given else None,
        prints=_prints(subject, round_.outside_let_stand),
        why_not=_why_not(session, person, facts, subject),
    )


def _said(facts: CardFacts, subject: Subject) -> tuple[str, str | None, str, str]:
    """Return what it is about, its verdict and why, and what was decided."""
    if isinstance(subject, CardWithdrawal):
        return "The whole card", None, "", "withdrawn from the programme"
    reading = subject.reading
    return (
        f"{reading.point.label}: {said_reading(reading)}",
        reading.judgement.verdict,
        str(facts.say(reading.judgement)["reason"]),
        DECISIONS[subject.decision],
    )


def _why_not(
    session: Session, person: Person, facts: CardFacts, subject: Subject
) -> str:
    if facts.card.round.state != "open":
        return f"{facts.card.round.title} is turned over."
    if not _waits(facts, subject):
        return "This decision does not wait for an answer any more."
    return why_not_agree(_question(session, subject), _somebody(person))


def _prints(subject: Subject, outside_let_stand: str) -> str:
    if isinstance(subject, Disposition) and outside_let_stand != "deviation":
        return (
            "The package says DOES NOT CONFORM also where you agree: this round was "
            "opened so."
        )
    return "The package lists it as a deviation, with both names and the reason."
