"""Who can be given cards: people of the firm who record and work on the site."""

from collections.abc import Sequence

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import Lineup, Person, PersonRole, SiteAssignment
from models.services.people.access import DOING


def crew_of(session: Session, person: Person, lineup: Lineup) -> Sequence[Person]:
    """Return the people to whom *person* can assign cards of the lineup, by name."""
    recording = select(PersonRole.person_id).where(
        PersonRole.role.in_(DOING["record"]), PersonRole.until.is_(None)
    )
    return session.scalars(
        select(Person)
        .join(SiteAssignment, SiteAssignment.person_id == Person.id)
        .where(
            SiteAssignment.site_id == lineup.site_id,
            Person.organisation_id == person.organisation_id,
            Person.active,
            Person.id.in_(recording),
        )
        .order_by(Person.name, Person.id)
    ).all()
