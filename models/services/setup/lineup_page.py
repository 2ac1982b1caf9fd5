"""A lineup as it is set up: its floor, what waits, and its rounds."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from models.record.lineup_draft import LineupDraft
from models.schema import Lineup, Round
from models.services.people.access import lineup_of, may, person_of, visible_rounds
from models.services.setup.confirm_plates import plates_of
from models.services.setup.nameplate import GEAR_NAMES, ratings_line
from models.services.setup.stored_draft import stored_draft


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundOfLineup:
    """A round on the lineup, the newest first."""

    id: UUID
    title: str
    kind: str
    state: str
    opened_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class LineupPage:
    """What the page of a lineup shows; *version* counts how often it was saved.

    *plates* and *waiting*: how many nameplates say anything, and how many of them
    nobody but who entered them has confirmed. *may_change*: this person sets up.
    """

    id: UUID
    name: str
    gear: str
    gear_words: str
    ratings: str
    site_id: UUID
    site_name: str
    owner_name: str
    zone: str
    draft: LineupDraft
    bus_labels: Sequence[str]
    version: int
    plates: int
    waiting: int
    rounds: Sequence[RoundOfLineup]
    may_change: bool
    may_plan: bool


def lineup_page(session: Session, *, person_id: UUID, lineup_id: UUID) -> LineupPage:
    """Return the lineup; NotFoundError for one that the person may not see."""
    person = person_of(session, person_id)
    lineup = lineup_of(session, person, lineup_id)
    plates = plates_of(session, person_id=person_id, lineup_id=lineup_id)
    found = visible_rounds(person).where(Round.lineup_id == lineup_id)
    rounds = session.scalars(found.order_by(Round.opened_at.desc()))
    draft = stored_draft(session, lineup)
    return LineupPage(
        id=lineup.id,
        name=lineup.name,
        gear=lineup.gear,
        gear_words=GEAR_NAMES[lineup.gear],
        ratings=ratings_line(lineup),
        site_id=lineup.site_id,
        site_name=lineup.site.name,
        owner_name=lineup.site.owner.name,
        zone=lineup.site.zone,
        draft=draft,
        bus_labels=_bus_labels(lineup, draft),
        version=lineup.saved,
        plates=len(plates),
        waiting=sum(not plate.confirmed_by for plate in plates),
        rounds=[_round(row) for row in rounds],
        may_change=may(person, "set up"),
        may_plan=may(person, "lead"),
    )


def _bus_labels(lineup: Lineup, draft: LineupDraft) -> list[str]:
    labels = {one.name: one.label for one in lineup.sections}
    return [labels.get(cell.bus, cell.bus) for cell in draft.cells]


def _round(row: Round) -> RoundOfLineup:
    return RoundOfLineup(
        id=row.id,
        title=row.title,
        kind=row.kind,
        state=row.state,
        opened_at=row.opened_at,
    )
