"""Where a lineup stands, or would stand."""

from dataclasses import dataclass
from uuid import UUID

from sqlalchemy.orm import Session

from models.services.people.access import lineup_of, person_of


@dataclass(frozen=True, slots=True, kw_only=True)
class LineupPlace:
    """A site, and the lineup on it; *lineup_id* is None for one that is new."""

    site_id: UUID
    site_name: str
    lineup_id: UUID | None = None
    lineup_name: str = ""


def lineup_place(session: Session, person_id: UUID, lineup_id: UUID) -> LineupPlace:
    """Return where a lineup stands; NotFoundError for one that is not seen."""
    lineup = lineup_of(session, person_of(session, person_id), lineup_id)
    return LineupPlace(
        site_id=lineup.site_id,
        site_name=lineup.site.name,
        lineup_id=lineup.id,
        lineup_name=lineup.name,
    )
