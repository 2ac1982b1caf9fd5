"""Counts of many rounds at once, in a fixed number of queries."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID

from sqlalchemy import Row, func, select
from sqlalchemy.orm import Session, aliased

from models.record.card import card_state
from models.record.values import Answer, Withdrawal
from models.record.values import Card as CardValue
from models.record.values import Signature as SignatureValue
from models.record.verdicts import count_verdicts
from models.schema import (
    Agreement,
    Card,
    CardReturn,
    CardWithdrawal,
    Deficiency,
    DeficiencyClosing,
    Disposition,
    Judgement,
    Reading,
    Signature,
)


@dataclass(slots=True, kw_only=True)
class RoundCounts:
    """How far a round is. A withdrawn card is not counted among *cards*.

    *mine_open*: cards that one person may still work on; *mine*: those of them that
    are assigned to that person.
    """

    cards: int = 0
    cards_signed: int = 0
    mine_open: int = 0
    mine: int = 0
    verdicts: dict[str, int] = field(default_factory=lambda: count_verdicts(()))
    open_deficiencies: int = 0


def round_counts(
    session: Session, round_ids: Sequence[UUID], person_id: UUID
) -> dict[UUID, RoundCounts]:
    """Return the counts of these rounds: two queries, however many there are."""
    found = {key: RoundCounts() for key in round_ids}
    for row in session.execute(_cards(round_ids)):
        _count_card(found[row.round_id], row, person_id)
    for round_id, verdict, count in session.execute(_verdicts(round_ids)):
        found[round_id].verdicts[verdict] = count
    return found


def _count_card(counts: RoundCounts, row: Row[Any], person_id: UUID) -> None:
    counts.open_deficiencies += row.deficiencies
    state = card_state(_value(row))
    if state == "withdrawn":
        return
    counts.cards += 1
    counts.cards_signed += state == "signed"
    open_to = row.assigned_to_id in (None, person_id)
    counts.mine_open += state != "signed" and open_to
    counts.mine += state != "signed" and row.assigned_to_id == person_id


def _value(row: Row[Any]) -> CardValue:
    """Return as much of a card as its state follows from."""
    signed = SignatureValue(by_id=row.id, by="", at=row.signed) if row.signed else None
    return CardValue(
        id=row.id,
        cell_id=row.id,
        where="",
        title="",
        points=(),
        before=(),
        after=(),
        signatures=(signed,) if signed else (),
        returned=row.returned,
        withdrawal=_withdrawal(row) if row.withdrawn else None,
    )


def _withdrawal(row: Row[Any]) -> Withdrawal:
    answer = Answer(answer=row.answer, reason=None, by="", at=row.withdrawn)
    return Withdrawal(
        reason="", by="", at=row.withdrawn, answer=answer if row.answer else None
    )


def _cards(round_ids: Iterable[UUID]) -> Any:
    """Select the cards with what their state follows from, and their deficiencies."""
    last = [
        select(func.max(table.at))
        .where(table.card_id == Card.id)
        .scalar_subquery()
        .label(name)
        for table, name in (
            (Signature, "signed"),
            (CardReturn, "returned"),
            (CardWithdrawal, "withdrawn"),
        )
    ]
    answer = (
        select(Agreement.answer)
        .join(Agreement.withdrawal)
        .where(CardWithdrawal.card_id == Card.id)
        .scalar_subquery()
        .label("answer")
    )
    deficiencies = (
        select(func.count())
        .select_from(Deficiency)
        .outerjoin(DeficiencyClosing)
        .where(Deficiency.card_id == Card.id, DeficiencyClosing.id.is_(None))
        .scalar_subquery()
        .label("deficiencies")
    )
    return select(
        Card.id, Card.round_id, Card.assigned_to_id, *last, answer, deficiencies
    ).where(Card.round_id.in_(round_ids))


def undecided(column: Any = Reading.id) -> Any:
    """Select *column* of the readings that hold, not within, and wait for a decision.

    A decision on an earlier verdict counts here: the gate tells it apart.
    """
    decided = select(Disposition.id).where(Disposition.reading_id == Reading.id)
    return _holding(select(column)).where(
        Judgement.verdict != "within", ~decided.exists()
    )


def _verdicts(round_ids: Iterable[UUID]) -> Any:
    """Select how many readings that hold have each verdict of their round."""
    counted = select(Card.round_id, Judgement.verdict, func.count())
    return (
        _holding(counted)
        .where(Card.round_id.in_(round_ids))
        .group_by(Card.round_id, Judgement.verdict)
    )


def _holding(columns: Any) -> Any:
    """Select *columns* of cards, the readings that hold and their last judgement."""
    newer, later = aliased(Reading), aliased(Judgement)
    superseded = select(newer.id).where(newer.supersedes_id == Reading.id)
    moved = select(later.id).where(
        later.reading_id == Judgement.reading_id,
        later.seq > Judgement.seq,
        later.after_turnover.is_(False),
    )
    return (
        columns.select_from(Card)
        .join(Reading, Reading.card_id == Card.id)
        .join(Judgement, Judgement.reading_id == Reading.id)
        .where(
            Judgement.after_turnover.is_(False),
            ~superseded.exists(),
            ~moved.exists(),
        )
    )
