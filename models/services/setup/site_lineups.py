"""The lineups of a site, with how far each is set up."""

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from sqlalchemy import ColumnElement, case, func, select
from sqlalchemy.orm import Session

from models.schema import Apparatus, Cell, Lineup, Round
from models.services.people.access import person_of, require, site_of
from models.services.setup.nameplate import GEAR_NAMES, ratings_line


@dataclass(frozen=True, slots=True, kw_only=True)
class LineupState:
    """A lineup of a site as the set-up shows it."""

    id: UUID
    name: str
    gear: str
    ratings: str
    cells: int
    apparatus: int
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
    return [_state(*row) for row in rows]


def _rounds(what: ColumnElement[int]) -> ColumnElement[int]:
    return select(what).where(Round.lineup_id == Lineup.id).scalar_subquery()


def _state(
    lineup: Lineup, cells: int, apparatus: int, rounds: int, open_rounds: int
) -> LineupState:
    return LineupState(
        id=lineup.id,
        name=lineup.name,
        gear=GEAR_NAMES[lineup.gear],
        ratings=ratings_line(lineup),
        cells=cells,
        apparatus=apparatus,
        rounds=rounds,
        open_rounds=open_rounds,
    )
