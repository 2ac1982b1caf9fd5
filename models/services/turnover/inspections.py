"""Set hold, witness and review points, give notice, and answer them by name."""

from collections.abc import Callable, Sequence
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from models.errors import (
    ConflictError,
    Fault,
    ForbiddenError,
    InputError,
    NotFoundError,
)
from models.record.agreement import weak_reason
from models.record.inspection import (
    ANSWERS,
    KINDS,
    SAID,
    WITHDRAWN,
    Asked,
    Notice,
    why_not_answer,
)
from models.schema import (
    Card,
    InspectionAnswer,
    InspectionNotice,
    InspectionPoint,
    Person,
    Site,
    SiteAssignment,
)
from models.services.keeping.log import append_log, stamp, take_turn
from models.services.keeping.order import following
from models.services.keeping.texts import text_faults
from models.services.people.access import (
    card_of,
    may,
    person_of,
    require,
    require_open,
    sees_site,
)
from models.signing import keys

LONGEST_NOTICE = 24.0 * 90  # hours


def set_inspection_points(
    session: Session,
    *,
    person_id: UUID,
    card_ids: Sequence[UUID],
    kind: str,
    party: str,
    party_id: UUID | None,
    notice_hours: float,
    reason: str,
    now: datetime,
    new_id: Callable[[], UUID],
) -> list[UUID]:
    """Have cards wait for somebody; return the points' ids, a point a card.

    *party_id*: the party has an account, and then answers for itself; else *party*
    says who it is. Raises InputError, ForbiddenError, ConflictError and
    NotFoundError; nothing is stored then.
    """
    take_turn(session)
    person = person_of(session, person_id)
    require(person, "plan")
    cards = [card_of(session, person, one) for one in dict.fromkeys(card_ids)]
    for card in cards:
        require_open(card.round)
    named = _party(session, cards, party_id) if party_id and cards else None
    faults = _faults(cards, kind, party if named is None else named.name, reason)
    if not 0 <= notice_hours <= LONGEST_NOTICE:
        message = f"Write a notice between 0 and {LONGEST_NOTICE:g} hours."
        faults.append(Fault(field="notice_hours", message=message))
    if faults:
        raise InputError(*faults)
    made = []
    for card in cards:
        row = InspectionPoint(
            id=new_id(),
            card_id=card.id,
            kind=kind,
            party=party.strip() if named is None else party_words(named),
            person_id=None if named is None else named.id,
            notice_hours=notice_hours,
            reason=reason.strip(),
            by_id=person.id,
            at=now,
        )
        session.add(row)
        session.flush()
        body = {"kind": kind, "party": row.party, "reason": row.reason}
        _log(session, person, "set inspection point", row, body, now)
        made.append(row.id)
    return made


def give_notice(
    session: Session,
    *,
    person_id: UUID,
    point_id: UUID,
    notice_id: UUID,
    given_at: datetime,
    work_at: datetime,
    how: str,
    now: datetime,
) -> None:
    """Record that the party was told when the work is done; nothing is sent."""
    take_turn(session)
    person = person_of(session, person_id)
    require(person, "record")
    point = inspection_point_of(session, person, point_id)
    require_open(point.card.round)
    _require_unanswered(point)
    faults = text_faults("how", how, "how the notice was given, and to whom")
    if given_at > now:
        message = "This lies ahead: record a notice once it is given."
        faults.append(Fault(field="given_at", message=message))
    if work_at < given_at:
        message = "The work cannot lie before its notice."
        faults.append(Fault(field="work_at", message=message))
    if faults:
        raise InputError(*faults)
    row = InspectionNotice(
        id=notice_id,
        given_at=given_at,
        work_at=work_at,
        how=how.strip(),
        by_id=person.id,
        at=following(now, (one.at for one in point.notices)),
    )
    point.notices.append(row)
    session.flush()
    body = {"given_at": stamp(given_at), "work_at": stamp(work_at), "how": row.how}
    _log(session, person, "give notice", point, body, now)


def answer_inspection_point(
    session: Session,
    *,
    person_id: UUID,
    point_id: UUID,
    answer_id: UUID,
    answer: str,
    remark: str,
    password: str,
    now: datetime,
) -> None:
    """Release, be present, be found absent, review, or withdraw the point; once.

    Raises ForbiddenError for whoever is not to answer so, ConflictError where it is
    answered or the round turned over, InputError and WrongPasswordError.
    """
    take_turn(session)
    person = person_of(session, person_id)
    point = inspection_point_of(session, person, point_id)
    require_open(point.card.round)
    _require_unanswered(point)
    if why := why_not(session, person, point, answer, now):
        raise ForbiddenError(why)
    if faults := _answer_faults(point, person, answer, remark):
        raise InputError(*faults)
    keys.open_key(person.key.wrapped_key, password, str(person.id))
    said = remark.strip() or None
    point.answer = InspectionAnswer(
        id=answer_id,
        answer=answer,
        remark=said,
        by_id=person.id,
        at=following(now, [point.at, *(one.at for one in point.notices)]),
    )
    session.flush()
    body = {"answer": answer, "remark": said}
    _log(session, person, "answer inspection point", point, body, now)


def why_not(
    session: Session, person: Person, point: InspectionPoint, answer: str, now: datetime
) -> str:
    """Return why *person* may not answer so now; empty where they may."""
    works = sees_site(session, person, point.card.round.lineup.site_id)
    asked = Asked(
        kind=point.kind,
        party=point.party,
        person=point.person_id,
        notice_hours=point.notice_hours,
        notices=[Notice(given_at=n.given_at, work_at=n.work_at) for n in point.notices],
    )
    return why_not_answer(
        asked,
        answer,
        person.id,
        leads=works and may(person, "lead"),
        records=works and may(person, "record"),
        now=now,
    )


def answers_for(
    session: Session, person: Person, point: InspectionPoint, now: datetime
) -> list[str]:
    """Return the answers that *person* may give now."""
    if point.answer is not None or point.card.round.state != "open":
        return []
    words = (*ANSWERS[point.kind], WITHDRAWN)
    return [one for one in words if not why_not(session, person, point, one, now)]


def inspection_point_of(
    session: Session, person: Person, point_id: UUID
) -> InspectionPoint:
    """Return the point if the person may see its card; NotFoundError otherwise."""
    point = session.get(InspectionPoint, point_id)
    if point is None:
        raise NotFoundError("inspection point", point_id)
    card_of(session, person, point.card_id)
    return point


def possible_parties(session: Session, card: Card) -> list[Person]:
    """Return the people with an account who can be named at a point, by name.

    They see the site: the owner's people, and those of the firm who work there.
    """
    site: Site = card.round.lineup.site
    works = select(SiteAssignment.person_id).where(SiteAssignment.site_id == site.id)
    near = or_(Person.organisation_id == site.owner_id, Person.id.in_(works))
    people = session.scalars(select(Person).where(Person.active, near))
    found = [one for one in people if sees_site(session, one, site.id)]
    return sorted(found, key=lambda one: (one.name, one.id))


def party_words(person: Person) -> str:
    """Return who a party is, in words."""
    return f"{person.name}, {person.organisation.name}"


def _party(session: Session, cards: Sequence[Card], party_id: UUID) -> Person:
    for one in possible_parties(session, cards[0]):
        if one.id == party_id:
            return one
    raise NotFoundError("person", party_id)


def _faults(cards: Sequence[Card], kind: str, party: str, reason: str) -> list[Fault]:
    faults = []
    if not cards:
        faults.append(Fault(field="cards", message="Choose at least one card."))
    if kind not in KINDS:
        faults.append(Fault(field="kind", message="Choose hold, witness or review."))
    faults += text_faults("party", party, "who it is that the card waits for")
    faults += text_faults("reason", reason, "the clause that asks for it, or why")
    return faults


def _answer_faults(
    point: InspectionPoint, person: Person, answer: str, remark: str
) -> list[Fault]:
    """A remark is free, but for what is recorded for somebody else."""
    if answer == WITHDRAWN:
        weak = weak_reason(remark, "why this point falls away")
        return [Fault(field="remark", message=weak)] if weak else []
    if person.id != point.person_id and answer != "absent":
        wanted = "who said so, and the document or signature that shows it"
        return text_faults("remark", remark, wanted)
    return text_faults("remark", remark, "a remark") if remark.strip() else []


def _require_unanswered(point: InspectionPoint) -> None:
    if point.answer is not None:
        raise ConflictError(
            f"This {KINDS[point.kind]} was {SAID[point.answer.answer]} already, by "
            f"{point.answer.by.name}."
        )


def _log(
    session: Session,
    person: Person,
    action: str,
    point: InspectionPoint,
    body: dict[str, Any],
    now: datetime,
) -> None:
    append_log(
        session,
        actor_id=person.id,
        action=action,
        subject=f"card {point.card_id}",
        body={"point": str(point.id), **body},
        now=now,
    )
