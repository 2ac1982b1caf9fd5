"""The lineups that a person may see, with the state of their baselines."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy import func, select
from sqlalchemy.orm import Session, contains_eager

from models.schema import Cell, Lineup, Round, Site
from models.services.owner.baseline import baseline_of
from models.services.people.access import person_of, visible_rounds, visible_sites
from models.services.setup.nameplate import ratings_line
from models.services.turnover.list_rounds import stands_on_lineup
from models.services.turnover.pages import ROWS, Page, has_words, start_of


@dataclass(frozen=True, slots=True, kw_only=True)
class LineupSummary:
    """A lineup in the list of gear books."""

    id: UUID
    name: str
    site_name: str
    gear: str
    ratings: str
    zone: str
    cells: int
    rounds: int  # turned over
    open_rounds: int  # under way, as far as this person may see them
    to_accept: int  # approved, waiting for the owner
    baseline_at: datetime | None
    baseline_state: str  # none, approved, accepted


def list_lineups(
    session: Session, *, person_id: UUID, words: str = "", page: int = 1
) -> Page[LineupSummary]:
    """Return a page of the lineups by site and name.

    *words*: each stands in the name of the site or the lineup, in a serial number
    or on an apparatus. Three queries, however many there are.
    """
    person = person_of(session, person_id)
    found = (
        select(Lineup)
        .join(Lineup.site)
        .where(
            Lineup.site_id.in_(visible_sites(person)),
            has_words(words, stands_on_lineup),
        )
    )
    cells = (
        select(func.count())
        .where(Cell.lineup_id == Lineup.id, Cell.removed.is_(False))
        .scalar_subquery()
    )
    rows = session.execute(
        found.add_columns(cells, func.count().over())
        .options(contains_eager(Lineup.site))
        .order_by(Site.name, Lineup.name, Lineup.id)
        .offset(start_of(page))
        .limit(ROWS)
    ).all()
    rounds: dict[UUID, list[Round]] = {row.id: [] for row, _, _ in rows}
    for one in session.scalars(
        visible_rounds(person).where(Round.lineup_id.in_(rounds))
    ):
        rounds[one.lineup_id].append(one)
    return Page(
        rows=[_summary(row, count, rounds[row.id]) for row, count, _ in rows],
        total=rows[0][2] if rows else 0,  # beyond the end nothing is counted
        number=max(1, page),
    )


def _summary(row: Lineup, cells: int, rounds: Sequence[Round]) -> LineupSummary:
    states = [one.state for one in rounds]
    base = baseline_of(rounds)
    return LineupSummary(
        id=row.id,
        name=row.name,
        site_name=row.site.name,
        gear=row.gear,
        ratings=ratings_line(row),
        zone=row.site.zone,
        cells=cells,
        rounds=len(states) - states.count("open"),
        open_rounds=states.count("open"),
        to_accept=states.count("approved"),
        baseline_at=base.opened_at if base else None,
        baseline_state=base.state if base else "none",
    )


def lineup_names(session: Session, *, person_id: UUID) -> list[tuple[UUID, str]]:
    """Return id and name of every lineup that the person may see, by site."""
    person = person_of(session, person_id)
    rows = session.execute(
        select(Lineup.id, Site.name, Lineup.name)
        .join(Lineup.site)
        .where(Lineup.site_id.in_(visible_sites(person)))
        .order_by(Site.name, Lineup.name)
    )
    return [(key, f"{site} · {name}") for key, site, name in rows]
