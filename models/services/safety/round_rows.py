"""What was read and signed on a round's cards, as the scopes are judged by it."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID

from sqlalchemy import func, select
from sqlalchemy.orm import Session, joinedload, selectinload

from models.record.insulation_good import Tried, turns
from models.record.shapes.safety import CardLists, SafetyBook
from models.schema import Card, Disposition, Point, Reading, Round, Signature
from models.services.keeping.log import stamp

ReadingJson = dict[str, Any]


@dataclass(slots=True, kw_only=True)
class RoundRows:
    """By card id: its readings in order, when it was last signed, its cell."""

    readings: dict[str, list[ReadingJson]] = field(default_factory=dict)
    signed: dict[str, str | None] = field(default_factory=dict)
    cells: dict[str, str | None] = field(default_factory=dict)
    found_good: dict[str, list[dict[str, Any]]] = field(default_factory=dict)


def round_rows(session: Session, round_: Round, book: SafetyBook) -> RoundRows:
    """Return the rows of a round, in a fixed number of queries."""
    cells = session.execute(
        select(Card.id, Card.cell_id).where(Card.round_id == round_.id)
    )
    found = RoundRows(cells={str(card): str(cell) for card, cell in cells})
    asked = (
        select(
            Reading.id,
            Reading.card_id,
            Reading.taken_at,
            Reading.by_id,
            Reading.conditions,
            Reading.supersedes_id,
        )
        .join(Card, Card.id == Reading.card_id)
        .where(Card.round_id == round_.id)
        .order_by(Reading.taken_at, Reading.arrived_at, Reading.id)
    )
    rows = session.execute(asked).all()
    superseded = {row.supersedes_id for row in rows}
    for row in rows:
        lists = book["cards"].get(str(row.card_id))
        one = reading_json(row, lists, superseded=row.id in superseded)
        found.readings.setdefault(str(row.card_id), []).append(one)
    signed = session.execute(
        select(Signature.card_id, func.max(Signature.at))
        .join(Card, Card.id == Signature.card_id)
        .where(Card.round_id == round_.id)
        .group_by(Signature.card_id)
    )
    found.signed = {str(card): stamp(at) for card, at in signed if card is not None}
    found.found_good = insulation_good(session, waited_for(book))
    return found


def reading_json(row: Any, lists: CardLists | None, *, superseded: bool) -> ReadingJson:
    """Return a stored reading as `models.record.safety` asks for it."""
    return {
        "id": str(row.id),
        "at": stamp(row.taken_at),
        "by": str(row.by_id),
        "choice": choice_of(row.conditions, lists),
        "superseded": superseded,
    }


def choice_of(conditions: Mapping[str, Any], lists: CardLists | None) -> str | None:
    """Return the supply or method that chooses among a card's lists; None: none."""
    if lists is None or lists["by"] is None:
        return None
    value = conditions.get(lists["by"])
    return value if isinstance(value, str) and value in lists["lists"] else None


def waited_for(book: SafetyBook) -> set[UUID]:
    """Return the insulation cards that others wait for."""
    return {
        UUID(card)
        for lists in book["cards"].values()
        for wait in lists["waits"]
        for card in wait.get("cards", ())
    }


def insulation_good(
    session: Session, card_ids: Collection[UUID]
) -> dict[str, list[dict[str, Any]]]:
    """Return by card when it was found good, and when it no longer was."""
    if not card_ids:
        return {}
    points: dict[UUID, set[UUID]] = {}
    named = select(Point.card_id, Point.id).where(Point.card_id.in_(card_ids))
    for card_id, point_id in session.execute(named):
        points.setdefault(card_id, set()).add(point_id)
    tried: dict[UUID, list[Tried]] = {}
    decided = _decided(session, card_ids)
    asked = select(Reading).where(Reading.card_id.in_(card_ids))
    for row in session.scalars(asked.options(selectinload(Reading.judgements))):
        one = _tried(row, decided.get(row.id))
        tried.setdefault(row.card_id, []).append(one)
    return {
        str(card_id): [
            {"at": stamp(turn.at), "good": turn.good}
            for turn in turns(points.get(card_id, set()), tried.get(card_id, []))
        ]
        for card_id in card_ids
    }


def _decided(session: Session, card_ids: Collection[UUID]) -> dict[UUID, Disposition]:
    """Return the newest decision on each reading."""
    asked = (
        select(Disposition)
        .join(Reading, Reading.id == Disposition.reading_id)
        .where(Reading.card_id.in_(card_ids))
        .options(joinedload(Disposition.agreement))
        .order_by(Disposition.at, Disposition.id)
    )
    return {row.reading_id: row for row in session.scalars(asked)}


def _tried(row: Reading, decided: Disposition | None) -> Tried:
    held = row.judgement
    let_stand = None
    if decided is not None and decided.decision != "reject":
        on = next(one for one in row.judgements if one.id == decided.judgement_id)
        agreement = decided.agreement
        agreed = agreement is not None and agreement.answer == "agreed"
        if on.verdict != held.verdict or (agreement is not None and not agreed):
            let_stand = None
        elif held.verdict != "outside":
            let_stand = decided.at
        elif agreement is not None:
            let_stand = agreement.at
    return Tried(
        id=row.id,
        point_id=row.point_id,
        at=row.taken_at,
        supersedes=row.supersedes_id,
        within=held.verdict == "within",
        let_stand=let_stand,
    )
