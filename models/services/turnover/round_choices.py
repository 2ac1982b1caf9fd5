"""The sites and the people by which the list of rounds can be narrowed."""

from dataclasses import dataclass
from uuid import UUID

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from models.schema import Lineup, Person, Round, Site, SiteAssignment
from models.services.people.access import person_of, visible_rounds, visible_sites


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundChoices:
    """(id, name) of the sites that have rounds, and of the people who work on them."""

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
    works = select(SiteAssignment.person_id).where(
        SiteAssignment.site_id.in_(visible_sites(person))
    )
    opened = select(Round.opened_by_id).where(Round.id.in_(rounds))
    people = (
        select(Person.id, Person.name)
        .where(or_(Person.id.in_(works), Person.id.in_(opened)))
        .order_by(Person.name, Person.id)
    )
    return RoundChoices(
        sites=[(key, name) for key, name in session.execute(sites)],
        people=[(key, name) for key, name in session.execute(people)],
    )
