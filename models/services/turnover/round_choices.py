"""The sites and the people by which the list of rounds can be narrowed."""

from dataclasses import dataclass
from uuid import UUID

from sqlalchemy import CompoundSelect, select, union
from sqlalchemy.orm import Session

from models.schema import Card, Lineup, Person, Reading, Round, Site
from models.services.people.access import person_of, visible_rounds


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundChoices:
    """(id, name) of the sites that have rounds, and of the people who have a part."""

    sites: list[tuple[UUID, str]]
    people: list[tuple[UUID, str]]


def round_choices(session: Session, *, person_id: UUID) -> RoundChoices:
    """Return what the rounds that the person may see can be narrowed by."""
    person = person_of(session, person_id)
    rounds = visible_rounds(person).with_only_columns(Round.id)
    sites = (
        select(Site.id, Site.name)
        .join(Lineup)
        .join(Round)
        .where(Round.id.in_(rounds))
        .distinct()
        .order_by(Site.name, Site.id)
    )
    cards = select(Card.id).where(Card.round_id.in_(rounds))
    part: CompoundSelect[UUID] = union(
        select(Round.opened_by_id).where(Round.id.in_(rounds)),
        select(Card.assigned_to_id).where(Card.id.in_(cards)),
        select(Reading.by_id).where(Reading.card_id.in_(cards)),
    )
    people = (
        select(Person.id, Person.name)
        .where(Person.id.in_(part))
        .order_by(Person.name, Person.id)
    )
    return RoundChoices(
        sites=[(key, name) for key, name in session.execute(sites)],
        people=[(key, name) for key, name in session.execute(people)],
    )
