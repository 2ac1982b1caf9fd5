"""The deficiencies of all rounds that a person may see: a page at a time."""

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy import ColumnElement, func, or_, select
from sqlalchemy.orm import Session, contains_eager, joinedload

from models.record.values import SEVERITIES
from models.schema import (
    Apparatus,
    Card,
    Cell,
    Deficiency,
    DeficiencyClosing,
    Lineup,
    Person,
    Round,
)
from models.services.people.access import person_of, visible_rounds
from models.services.turnover.list_rounds import names_lineup
from models.services.turnover.pages import ROWS, Page, has_words, start_of

STATES = ("open", "closed")


@dataclass(frozen=True, slots=True, kw_only=True)
class DeficiencyLine:
    """A deficiency in a list."""

    id: UUID
    number: str
    text: str
    severity: str  # in words
    holder: str
    by: str
    at: datetime
    closed_by: str | None
    closed_at: datetime | None
    site_name: str
    zone: str
    lineup_name: str
    round_title: str
    cell: str
    apparatus: str


def list_deficiencies(
    session: Session,
    *,
    person_id: UUID,
    words: str = "",
    state: str = "",
    page: int = 1,
    size: int = ROWS,
) -> Page[DeficiencyLine]:
    """Return a page of the deficiencies: open ones first, then the newest.

    *words*: each stands in its text, number or holder, in the name of who raised or
    closed it, or on its site, lineup or apparatus; *state*: one of STATES, or "" for
    all. Three queries, however many there are.
    """
    person = person_of(session, person_id)
    wanted = [
        Deficiency.round_id.in_(visible_rounds(person).with_only_columns(Round.id)),
        has_words(words, _stands),
        *([_closed() == (state == "closed")] if state in STATES else []),
    ]
    found = (
        select(Deficiency)
        .join(Deficiency.card)
        .join(Card.round)
        .join(Round.lineup)
        .join(Card.apparatus)
        .outerjoin(Deficiency.closing)
        .where(*wanted)
    )
    total = session.scalar(found.with_only_columns(func.count(Deficiency.id)))
    rows = session.scalars(
        found.options(
            contains_eager(Deficiency.closing).joinedload(DeficiencyClosing.by),
            contains_eager(Deficiency.card)
            .contains_eager(Card.round)
            .contains_eager(Round.lineup)
            .joinedload(Lineup.site),
            contains_eager(Deficiency.card).contains_eager(Card.apparatus),
            contains_eager(Deficiency.card).joinedload(Card.cell),
            joinedload(Deficiency.by),
        )
        .order_by(
            _closed(), Deficiency.at.desc(), Deficiency.number.desc(), Deficiency.id
        )
        .offset(start_of(page, size))
        .limit(size)
    ).all()
    return Page(
        rows=[_line(row) for row in rows],
        total=total or 0,
        number=max(1, page),
        size=size,
    )


def _closed() -> ColumnElement[bool]:
    return DeficiencyClosing.id.is_not(None)


def _stands(word: str) -> ColumnElement[bool]:
    people = select(Person.id).where(Person.name.icontains(word, autoescape=True))
    number = word.upper().removeprefix("D-")
    return or_(
        names_lineup(word),
        Apparatus.label.icontains(word, autoescape=True),
        Apparatus.serial.icontains(word, autoescape=True),
        Deficiency.text.icontains(word, autoescape=True),
        Deficiency.holder.icontains(word, autoescape=True),
        Deficiency.number == (int(number) if _is_number(number) else -1),
        Deficiency.by_id.in_(people),
        DeficiencyClosing.by_id.in_(people),
    )


def _is_number(word: str) -> bool:
    return word.isascii() and word.isdigit() and len(word) < 7


def _line(row: Deficiency) -> DeficiencyLine:
    lineup, closing = row.card.round.lineup, row.closing
    cell: Cell = row.card.cell
    return DeficiencyLine(
        id=row.id,
        number=f"D-{row.number:03d}",
        text=row.text,
        severity=SEVERITIES[row.severity],
        holder=row.holder,
        by=row.by.name,
        at=row.at,
        closed_by=closing.by.name if closing else None,
        closed_at=closing.at if closing else None,
        site_name=lineup.site.name,
        zone=lineup.site.zone,
        lineup_name=lineup.name,
        round_title=row.card.round.title,
        cell=f"Cell {cell.number}, {cell.name}",
        apparatus=row.card.apparatus.label,
    )
