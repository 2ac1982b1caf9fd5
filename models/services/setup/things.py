"""Apparatus as things: one with its history, the spare shelf, and a search."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import ColumnElement, func, or_, select
from sqlalchemy.orm import Session, joinedload, selectinload

from models.procedures import PROCEDURES
from models.procedures.plates import apparatus_kinds
from models.schema import Apparatus, Card, Cell, Lineup, NameplateVersion, Round, Site
from models.services.field.card_facts import gather
from models.services.people.access import (
    may,
    person_of,
    site_of,
    visible_rounds,
    visible_sites,
)
from models.services.setup.move_apparatus import can_move, thing_of
from models.services.setup.nameplate import nameplate_lines
from models.services.setup.placements import placements_of
from models.services.setup.plate_versions import every_version
from models.services.turnover.list_rounds import verdict_counts
from models.services.turnover.pages import ROWS, Page, has_words, start_of


@dataclass(frozen=True, slots=True, kw_only=True)
class ThingLine:
    """An apparatus in a list."""

    id: UUID
    label: str
    kind: str
    maker: str
    type: str
    serial: str
    built_year: int | None
    site_name: str
    lineup_id: UUID | None
    lineup_name: str
    cell: str  # empty on the spare shelf


@dataclass(frozen=True, slots=True, kw_only=True)
class Stay:
    """Where it was; *until* is None while it stands there."""

    where: str
    since: date | None
    until: date | None
    reason: str
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CardSeen:
    """One of its cards, with the verdicts of the readings that hold."""

    id: UUID
    title: str
    detail: str
    round: str
    round_state: str
    opened_at: datetime
    cell: str
    counts: Mapping[str, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """An apparatus with its nameplate, where it was, and what was read on it."""

    line: ThingLine
    site_id: UUID
    zone: str
    plate: Sequence[tuple[str, str]]
    version: NameplateVersion
    versions: Sequence[tuple[NameplateVersion, Sequence[str]]]  # newest first
    stays: Sequence[Stay]  # newest first
    cards: Sequence[CardSeen]
    may_move: bool
    may_confirm: bool


def thing(session: Session, *, person_id: UUID, apparatus_id: UUID) -> Thing:
    """Return the apparatus; NotFoundError when it is not theirs to see."""
    person = person_of(session, person_id)
    row = thing_of(session, person, apparatus_id)
    versions = every_version(session, [row.id])
    last = versions[-1]
    return Thing(
        line=_line(row),
        site_id=row.site_id,
        zone=row.site.zone,
        plate=nameplate_lines(row.plate),
        version=last,
        versions=_versions(versions),
        stays=_stays(session, row.id),
        cards=_cards(session, row.id, visible_rounds(person)),
        may_move=may(person, "set up") and can_move(row),
        may_confirm=last.confirmation is None
        and last.by_id != person.id
        and may(person, "confirm nameplate"),
    )


def _versions(
    versions: Sequence[NameplateVersion],
) -> list[tuple[NameplateVersion, Sequence[str]]]:
    """Return each with what it changed, the newest first."""
    found: list[tuple[NameplateVersion, Sequence[str]]] = []
    before: dict[str, Any] = {}
    for version in versions:
        old, new = dict(nameplate_lines(before)), dict(nameplate_lines(version.plate))
        changes = [
            f"{label}: {old.get(label, 'not given')} → {new.get(label, 'not given')}"
            for label in dict.fromkeys([*old, *new])
            if version.number > 1 and old.get(label) != new.get(label)
        ]
        found.append((version, changes))
        before = version.plate
    return found[::-1]


def _stays(session: Session, apparatus_id: UUID) -> list[Stay]:
    rows = placements_of(session, apparatus_id)
    ends = [*(row.from_day for row in rows[1:]), None]
    return [
        Stay(
            where=f"{row.cell.lineup.name}, cell {row.cell.number}"
            if row.cell
            else "spare shelf",
            since=row.from_day,
            until=end,
            reason=row.reason,
            by=row.by.name if row.by else "",
        )
        for row, end in zip(rows, ends, strict=True)
    ][::-1]


def _cards(session: Session, apparatus_id: UUID, seen: Any) -> list[CardSeen]:
    cards = session.scalars(
        select(Card)
        .join(Card.round)
        .where(
            Card.apparatus_id == apparatus_id,
            Round.id.in_(seen.with_only_columns(Round.id)),
        )
        .options(joinedload(Card.cell), selectinload(Card.points))
        .order_by(Round.opened_at.desc(), Card.position)
    ).all()
    facts = gather(session, cards)
    return [
        CardSeen(
            id=card.id,
            title=PROCEDURES[card.procedure].title,
            detail=card.detail,
            round=f"{card.round.title} of {card.round.lineup.name}",
            round_state=card.round.state,
            opened_at=card.round.opened_at,
            cell=f"{card.cell.number} {card.cell.name}",
            counts=verdict_counts([facts[card.id]]),
        )
        for card in cards
    ]


def spare_shelf(
    session: Session, *, person_id: UUID, site_id: UUID
) -> tuple[Site, list[ThingLine]]:
    """Return the site with what stands in none of its cells."""
    site = site_of(session, person_of(session, person_id), site_id)
    rows = session.scalars(
        select(Apparatus)
        .where(
            Apparatus.site_id == site.id,
            Apparatus.cell_id.is_(None),
            Apparatus.removed.is_(False),
        )
        .order_by(Apparatus.kind, Apparatus.label)
    )
    return site, [_line(row) for row in rows]


def find_things(
    session: Session, *, person_id: UUID, words: str = "", page: int = 1
) -> Page[ThingLine]:
    """Return a page of the apparatus of every visible site.

    *words*: each stands in its tag, kind, maker, type or serial number, or in the name
    of its lineup or site.
    """
    person = person_of(session, person_id)
    found = (
        select(Apparatus)
        .join(Apparatus.site)
        .outerjoin(Apparatus.cell)
        .outerjoin(Lineup, Lineup.id == Cell.lineup_id)
        .where(
            Apparatus.removed.is_(False),
            Apparatus.site_id.in_(visible_sites(person)),
            has_words(words, _stands),
        )
    )
    total = session.scalar(found.with_only_columns(func.count(Apparatus.id)))
    rows = session.scalars(
        found.options(
            joinedload(Apparatus.site),
            joinedload(Apparatus.cell).joinedload(Cell.lineup),
        )
        .order_by(
            Site.name, Lineup.name, Cell.position, Apparatus.position, Apparatus.id
        )
        .offset(start_of(page))
        .limit(ROWS)
    ).all()
    return Page(
        rows=[_line(row) for row in rows], total=total or 0, number=max(1, page)
    )


def _stands(word: str) -> ColumnElement[bool]:
    kinds = [
        name
        for name, kind in apparatus_kinds().items()
        if word.casefold() in kind.label.casefold()
    ]
    texts = (
        Apparatus.label,
        Apparatus.maker,
        Apparatus.type,
        Apparatus.serial,
        Lineup.name,
        Site.name,
    )
    return or_(
        Apparatus.kind.in_(kinds),
        *(text.icontains(word, autoescape=True) for text in texts),
    )


def _line(row: Apparatus) -> ThingLine:
    known = apparatus_kinds().get(row.kind)
    cell = row.cell
    return ThingLine(
        id=row.id,
        label=row.label,
        kind=known.label if known else row.kind.replace("_", " "),
        maker=row.maker or "",
        type=row.type or "",
        serial=row.serial or "",
        built_year=row.built_year,
        site_name=row.site.name,
        lineup_id=cell.lineup_id if cell else None,
        lineup_name=cell.lineup.name if cell else "",
        cell=f"{cell.number} {cell.name}" if cell else "",
    )


def cells_to_move_to(
    session: Session, *, person_id: UUID, apparatus_id: UUID
) -> list[tuple[UUID, str]]:
    """Return the cells of its site whose gear takes it, with what stands in each."""
    person = person_of(session, person_id)
    row = thing_of(session, person, apparatus_id)
    cells = session.scalars(
        select(Cell)
        .join(Cell.lineup)
        .where(Lineup.site_id == row.site_id, Cell.removed.is_(False))
        .options(selectinload(Cell.apparatus), joinedload(Cell.lineup))
        .order_by(Lineup.name, Cell.position)
    )
    return [
        (cell.id, _cell_words(cell, row))
        for cell in cells
        if cell.id != row.cell_id and can_move(row, cell.lineup.gear)
    ]


def _cell_words(cell: Cell, row: Apparatus) -> str:
    held = [one.label for one in cell.apparatus if one.kind == row.kind]
    taken = f" (holds {held[0]})" if held else ""
    return f"{cell.lineup.name}, cell {cell.number} {cell.name}{taken}"
