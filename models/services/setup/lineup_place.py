"""Where a lineup stands, or would stand: for those who set it up."""

from dataclasses import dataclass
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import NotFoundError
from models.schema import Lineup, Person, Site
from models.services.people.access import (
    lineup_of,
    person_of,
    require,
    sites_to_set_up,
)
from models.services.people.new_person import stored_sign_in


@dataclass(frozen=True, slots=True, kw_only=True)
class LineupPlace:
    """A site, and the lineup on it; *lineup_id* is None for one that is new."""

    site_id: UUID
    site_name: str
    lineup_id: UUID | None = None
    lineup_name: str = ""


def lineup_place(session: Session, person_id: UUID, lineup_id: UUID) -> LineupPlace:
    """Return where a lineup stands.

    NotFoundError for one that is not seen, ForbiddenError for who sets up nothing.
    """
    person = person_of(session, person_id)
    require(person, "set up")
    return _place(lineup_of(session, person, lineup_id))


def place_named(
    session: Session, sign_in: str, site: str, lineup: str
) -> tuple[UUID, LineupPlace]:
    """Return a person's id and the place by its names, for a command.

    NotFoundError for a person, or a site of theirs, that there is not. A lineup of
    that name on the site is the one to change; else it is a new one.
    """
    named = select(Person).where(Person.sign_in == stored_sign_in(sign_in))
    person = session.scalars(named).first()
    if person is None:
        raise NotFoundError("person", sign_in)
    require(person, "set up")
    seen = select(Site).where(Site.name == site, Site.id.in_(sites_to_set_up(person)))
    found = session.scalars(seen).first()
    if found is None:
        raise NotFoundError("site", site)
    same = select(Lineup).where(Lineup.site_id == found.id, Lineup.name == lineup)
    stored = session.scalars(same).first()
    place = LineupPlace(site_id=found.id, site_name=found.name)
    return person.id, _place(stored) if stored else place


def _place(lineup: Lineup) -> LineupPlace:
    return LineupPlace(
        site_id=lineup.site_id,
        site_name=lineup.site.name,
        lineup_id=lineup.id,
        lineup_name=lineup.name,
    )
