"""Who can be given cards: people of the firm who record and work on the site."""

from collections.abc import Sequence

from sqlalchemy import select
from sqlalchemy.orm import Session, selectinload

from models.schema import Lineup, Person, PersonRole
from models.services.people.access import DOING, works_on


def crew_of(session: Session, person: Person, lineup: Lineup) -> Sequence[Person]:
    """Return the people to whom *person* can assign cards of the lineup, by name."""
    recording = select(PersonRole.person_id).where(
        PersonRole.role.in_(DOING["record"]), PersonRole.until.is_(None)
    )
    people = session.scalars(
        select(Person)
        .where(
            Person.organisation_id == person.organisation_id,
            Person.active,
            Person.id.in_(recording),
        )
        .order_by(Person.name, Person.id)
        .options(selectinload(Person.assignments))
    )
    return [one for one in people if works_on(one, lineup.site_id)]
