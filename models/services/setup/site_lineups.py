"""The lineups of a site, with how far each is set up."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from sqlalchemy import ColumnElement, case, func, select
from sqlalchemy.orm import Session

from models.schema import Apparatus, Cell, Lineup, Round
from models.services.people.access import person_of, require, site_of
from models.services.setup.nameplate import GEAR_NAMES, ratings_line
from models.services.setup.plate_versions import versions_of


@dataclass(frozen=True, slots=True, kw_only=True)
class LineupState:
    """A lineup of a site as the set-up shows it."""

    id: UUID
    name: str
    gear: str
    ratings: str
    cells: int
    apparatus: int
    waiting: int  # nameplates that nobody else has confirmed
    rounds: int
    open_rounds: int


def site_lineups(
    session: Session, *, person_id: UUID, site_id: UUID
) -> Sequence[LineupState]:
    """Return the site's lineups, those without a round first, then by name."""
    person = person_of(session, person_id)
    require(person, "set up")
    site_of(session, person, site_id)
    cells = select(func.count()).where(
        Cell.lineup_id == Lineup.id, Cell.removed.is_(False)
    )
    held = select(func.count()).select_from(Apparatus).join(Cell)
    rounds = _rounds(func.count())
    still_open = _rounds(func.sum(case((Round.state == "open", 1), else_=0)))
    waiting = _waiting(session, site_id)
    rows = session.execute(
        select(
            Lineup,
            cells.scalar_subquery(),
            held.where(Cell.lineup_id == Lineup.id).scalar_subquery(),
            rounds,
            func.coalesce(still_open, 0),
        )
        .where(Lineup.site_id == site_id)
        .order_by(rounds > 0, Lineup.name)
    )
    return [_state(waiting, *row) for row in rows]


def _waiting(session: Session, site_id: UUID) -> Counter[UUID]:
    """Count the nameplates that wait for a second person, by lineup."""
    fitted = session.execute(
        select(Apparatus, Cell.lineup_id)
        .join(Cell, Apparatus.cell_id == Cell.id)
        .join(Lineup, Cell.lineup_id == Lineup.id)
        .where(Lineup.site_id == site_id, Cell.removed.is_(False))
    )
    lineup_of = {one: lineup for one, lineup in fitted if one.plate}
    lineups = session.scalars(select(Lineup).where(Lineup.site_id == site_id)).all()
    versions = versions_of(session, [*lineups, *lineup_of])
    unsure = {key for key, one in versions.items() if one.confirmation is None}
    return Counter(
        [one.id for one in lineups if one.id in unsure]
        + [lineup for one, lineup in lineup_of.items() if one.id in unsure]
    )


def _rounds(what: ColumnElement[int]) -> ColumnElement[int]:
    return select(what).where(Round.lineup_id == Lineup.id).scalar_subquery()


def _state(
    waiting: Counter[UUID],
    lineup: Lineup,
    cells: int,
    apparatus: int,
    rounds: int,
    open_rounds: int,
) -> LineupState:
    return LineupState(
        id=lineup.id,
        name=lineup.name,
        gear=GEAR_NAMES[lineup.gear],
        ratings=ratings_line(lineup),
        cells=cells,
        apparatus=apparatus,
        waiting=waiting[lineup.id],
        rounds=rounds,
        open_rounds=open_rounds,
    )
