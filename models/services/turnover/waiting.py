"""What waits for one person, over all rounds: counts, each with where it is settled."""

from dataclasses import dataclass
from uuid import UUID

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models.schema import (
    Card,
    CardReturn,
    CardWithdrawal,
    Deficiency,
    DeficiencyClosing,
    Person,
    Round,
    Signature,
)
from models.services.people.access import may, person_of, visible_rounds
from models.services.turnover.agreements import waiting_agreements
from models.services.turnover.inspection_views import waiting_inspections
from models.services.turnover.round_counts import undecided


@dataclass(frozen=True, slots=True, kw_only=True)
class Waits:
    """So many things of one kind; *kind* says where they are settled."""

    kind: str
    count: int


def what_waits(session: Session, *, person_id: UUID) -> list[Waits]:
    """Return what waits for the person, what is theirs alone first; none of nothing."""
    person = person_of(session, person_id)
    found = {
        "agreements": len(waiting_agreements(session, person_id=person_id)),
        "inspections": sum(
            one.mine for one in waiting_inspections(session, person_id=person_id)
        ),
        "cards": _own_cards(session, person),
    }
    if may(person, "lead"):
        found["readings"] = _undecided(session, person)
        found["deficiencies"] = _stopping(session, person)
        found["approved"] = _rounds(session, person, "approved")
    if may(person, "accept"):
        found["to accept"] = _rounds(session, person, "approved")
    return [Waits(kind=kind, count=count) for kind, count in found.items() if count]


def _own_cards(session: Session, person: Person) -> int:
    """Count the cards assigned to the person that nobody has signed since."""
    returned = (
        select(func.max(CardReturn.at))
        .where(CardReturn.card_id == Card.id)
        .correlate(Card)
        .scalar_subquery()
    )
    signed = (
        select(Signature.id)
        .where(
            Signature.card_id == Card.id,
            returned.is_(None) | (Signature.at > returned),
        )
        .correlate(Card)
    )
    withdrawn = select(CardWithdrawal.id).where(CardWithdrawal.card_id == Card.id)
    return _count(
        session,
        select(func.count())
        .select_from(Card)
        .join(Round)
        .where(
            Card.assigned_to_id == person.id,
            Round.state == "open",
            ~signed.exists(),
            ~withdrawn.exists(),
        ),
    )


def _undecided(session: Session, person: Person) -> int:
    rounds = visible_rounds(person).where(Round.state == "open")
    ids = rounds.with_only_columns(Round.id)
    found = undecided().where(Card.round_id.in_(ids)).subquery()
    return _count(session, select(func.count()).select_from(found))


def _stopping(session: Session, person: Person) -> int:
    """Count the open deficiencies that stop turnover."""
    ids = visible_rounds(person).where(Round.state == "open")
    return _count(
        session,
        select(func.count())
        .select_from(Deficiency)
        .outerjoin(DeficiencyClosing)
        .where(
            Deficiency.round_id.in_(ids.with_only_columns(Round.id)),
            Deficiency.severity == "stops_turnover",
            DeficiencyClosing.id.is_(None),
        ),
    )


def _rounds(session: Session, person: Person, state: str) -> int:
    found = visible_rounds(person).where(Round.state == state)
    ids = found.with_only_columns(Round.id).subquery()
    return _count(session, select(func.count()).select_from(ids))


def _count(session: Session, statement: object) -> int:
    return int(session.scalar(statement) or 0)  # type: ignore[call-overload]
