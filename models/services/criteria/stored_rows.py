"""Read the readings that hold in many rounds, and the rules of their cards."""

import json
from collections.abc import Callable, Iterator, Sequence
from typing import Any, NamedTuple
from uuid import UUID

from sqlalchemy import (
    ColumnElement,
    Select,
    String,
    Text,
    cast,
    func,
    or_,
    select,
    type_coerce,
)
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
    rule_digest: str


def cards_of(session: Session, rounds: Sequence[Round]) -> Iterator[CardRow]:
    """Yield the cards of *rounds*, always in one order."""
    for ids in _parts(rounds):
        statement = (
            select(Card.id, Card.round_id, Card.apparatus_id, Card.procedure)
            .where(Card.round_id.in_(ids))
            .order_by(Card.round_id, Card.position)
        )
        for row in session.execute(statement):
            yield CardRow._make(row)


def points_of(session: Session, rounds: Sequence[Round]) -> Iterator[PointRow]:
    """Yield the points of *rounds*, always in one order: a digest is made of them."""
    for ids in _parts(rounds):
        statement = (
            select(Point.id, Point.card_id, Point.rule_digest)
            .join(Card)
            .where(Card.round_id.in_(ids))
            .order_by(Card.round_id, Card.position, Point.position)
        )
        for row in session.execute(statement):
            yield PointRow._make(row)


def readings_of(
    session: Session,
    rounds: Sequence[Round],
    touched: Callable[[UUID, str], bool] = lambda *_: True,
) -> tuple[int, list[StoredReading]]:
    """Return how many readings hold in *rounds*, and those of groups that are touched.

    Each has its newest verdict. *touched* is asked of a card and of the digest of
    the rule of a reading on it, once a pair; one that is touched takes its whole
    group with it. Rows are kept as the database gives them until it is known that
    they are wanted: of a fleet most are not.
    """
    asked: dict[tuple[Any, str], bool] = {}
    same: dict[str, str] = {}
    rows: list[Any] = []
    groups: set[tuple[Any, str]] = set()
    for ids in _parts(rounds):
        for row in session.execute(NEWEST.where(Card.round_id.in_(ids))):
            card, group, rule = row[1], row[3], row[12]
            rule = same.setdefault(rule, rule)
            if (card, rule) not in asked:
                asked[card, rule] = touched(_uuid(card), rule)
            if asked[card, rule]:
                groups.add((card, group))
            rows.append((*row[:12], rule, *row[13:]))
    read = _Read()
    return len(rows), [read(row) for row in rows if (row[1], row[3]) in groups]


def _calibrated() -> ColumnElement[bool]:
    """Select what `Reading.calibrated` says."""
    by_eye = Reading.instrument_id.is_(None)
    return or_(by_eye, Reading.calibration_id.is_not(None))


def _newest() -> Select[*tuple[Any, ...]]:
    """Select readings that hold with their newest judgement, keys and JSON as text."""
    newer = aliased(Reading)
    seqs = aliased(Judgement)
    newest = select(func.max(seqs.seq)).where(seqs.reading_id == Reading.id)
    keys = (Reading.id, Reading.card_id, Reading.point_id)
    return (
        select(
            *(type_coerce(key, String) for key in keys),
            *(Point.group, Reading.text, Reading.unit, Reading.low, Reading.high),
            *(Reading.outcome, cast(Reading.conditions, Text)),
            *(cast(Reading.accuracy, Text), _calibrated()),
            func.coalesce(Judgement.rule_digest, Reading.rule_digest),
            *(Judgement.seq, Judgement.verdict),
            *(Judgement.limit_low, Judgement.limit_high),
        )
        .join(Card, Reading.card_id == Card.id)
        .join(Point, Reading.point_id == Point.id)
        .join(
            Judgement,
            (Judgement.reading_id == Reading.id)
            & (Judgement.seq == newest.correlate(Reading).scalar_subquery()),
        )
        .outerjoin(newer, newer.supersedes_id == Reading.id)
        .where(newer.id.is_(None))
        .order_by(Card.round_id, Card.position, Point.position, Reading.id)
        .execution_options(yield_per=FETCHED)
    )


NEWEST = _newest()


class _Read:
    """Make readings of rows; what many share is read once."""

    def __init__(self) -> None:
        self._json: dict[str, Any] = {}

    def __call__(self, row: Any) -> StoredReading:
        found = list(row)
        found[:3] = map(_uuid, row[:3])
        for at in (9, 10):
            if row[at] not in self._json:
                self._json[row[at]] = json.loads(row[at])
            found[at] = self._json[row[at]]
        return StoredReading._make(found)


def _uuid(key: Any) -> UUID:
    """Return a key as the driver gave it: SQLite has text."""
    return key if isinstance(key, UUID) else UUID(key)


def _parts(rounds: Sequence[Round]) -> Iterator[list[UUID]]:
    ids = [one.id for one in rounds]
    for at in range(0, len(ids), AT_ONCE):
        yield ids[at : at + AT_ONCE]
