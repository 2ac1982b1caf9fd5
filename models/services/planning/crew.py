"""Who can be given cards: people of the firm who record and work on the site."""

from collections.abc import Sequence

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import Lineup, Person, SiteAssignment
from models.services.people.access import DOING


def crew_of(session: Session, person: Person, lineup: Lineup) -> Sequence[Person]:
    """Return the people to whom *person* can assign cards of the lineup, by name."""
    return session.scalars(
        select(Person)
        .join(SiteAssignment, SiteAssignment.person_id == Person.id)
        .where(
            SiteAssignment.site_id == lineup.site_id,
            Person.organisation_id == person.organisation_id,
            Person.active,
            Person.role.in_(DOING["record"]),
        )
        .order_by(Person.name, Person.id)
    ).all()
