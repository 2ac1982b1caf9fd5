"""Read the readings that hold in many rounds, and the rules of their cards."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple
from uuid import UUID

from sqlalchemy import Text, cast, func, select
from sqlalchemy.orm import Session, aliased

from models.analysis.stored_readings import StoredReading
from models.schema import Card, Judgement, Point, Reading, Round

AT_ONCE = 500  # rounds in one statement; rows are fetched a few thousand at a time
FETCHED = 2000


class CardRow(NamedTuple):
    """A card, without its readings."""

    id: UUID
    round_id: UUID
    apparatus_id: UUID
    procedure: str


class PointRow(NamedTuple):
    """A point of an open round, with the rule that later readings get."""

    id: UUID
    card_id: UUID
    rule: str


def cards_of(session: Session, rounds: Sequence[Round]) -> Iterator[CardRow]:
    """Yield the cards of *rounds*."""
    for ids in _parts(rounds):
        statement = select(
            Card.id, Card.round_id, Card.apparatus_id, Card.procedure
        ).where(Card.round_id.in_(ids))
        for row in session.execute(statement):
            yield CardRow._make(row)


def points_of(session: Session, rounds: Sequence[Round]) -> Iterator[PointRow]:
    """Yield the points of *rounds*."""
    same: dict[str, str] = {}
    for ids in _parts(rounds):
        statement = (
            select(Point.id, Point.card_id, cast(Point.rule, Text))
            .join(Card)
            .where(Card.round_id.in_(ids))
        )
        for key, card_id, rule in session.execute(statement):
            yield PointRow(key, card_id, same.setdefault(rule, rule))


def readings_of(session: Session, rounds: Sequence[Round]) -> Iterator[StoredReading]:
    """Yield the readings that hold in *rounds*, each with its newest verdict.

    A rule is a few thousand characters that many readings share: it is kept once.
    """
    same: dict[str, str] = {}
    newer = aliased(Reading)
    newest = (
        select(Judgement.reading_id, func.max(Judgement.seq).label("seq"))
        .group_by(Judgement.reading_id)
        .subquery()
    )
    statement = (
        select(
            *(Reading.id, Reading.card_id, Reading.point_id, Point.group),
            *(Reading.text, Reading.unit, Reading.low, Reading.high),
            *(Reading.outcome, Reading.conditions, Reading.accuracy),
            Reading.calibration_id,
            func.coalesce(cast(Judgement.rule, Text), cast(Reading.rule, Text)),
            *(Judgement.seq, Judgement.verdict),
            Judgement.body["limit_low"].as_float(),
            Judgement.body["limit_high"].as_float(),
        )
        .join(Card, Reading.card_id == Card.id)
        .join(Point, Reading.point_id == Point.id)
        .join(newest, newest.c.reading_id == Reading.id)
        .join(
            Judgement,
            (Judgement.reading_id == Reading.id) & (Judgement.seq == newest.c.seq),
        )
        .outerjoin(newer, newer.supersedes_id == Reading.id)
        .where(newer.id.is_(None))
        .order_by(Card.round_id, Card.position, Point.position, Reading.id)
        .execution_options(yield_per=FETCHED)
    )
    for ids in _parts(rounds):
        for row in session.execute(statement.where(Card.round_id.in_(ids))):
            found = StoredReading._make(row)
            yield found._replace(rule=same.setdefault(found.rule, found.rule))


def _parts(rounds: Sequence[Round]) -> Iterator[list[UUID]]:
    ids = [one.id for one in rounds]
    for at in range(0, len(ids), AT_ONCE):
        yield ids[at : at + AT_ONCE]
