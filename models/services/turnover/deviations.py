"""What a turned-over round holds that is not as it should be, and why it stands."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from uuid import UUID

from sqlalchemy import ColumnElement, or_, select
from sqlalchemy.orm import Session, joinedload, selectinload

from models.record.findings import Finding, findings
from models.schema import (
    Card,
    CardWithdrawal,
    Deficiency,
    Disposition,
    Reading,
    Round,
)
from models.services.field.card_facts import CardFacts, gather, round_cards
from models.services.people.access import person_of, round_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Deviation:
    """A finding with the round that it belongs to."""

    round_title: str
    finding: Finding


def round_deviations(
    session: Session, *, person_id: UUID, round_id: UUID
) -> list[Deviation]:
    """Return the round's deviations; NotFoundError when it is not theirs to see."""
    person = person_of(session, person_id)
    round_ = round_of(session, person, round_id)
    cards = gather(session, round_cards(session, round_.id))
    return deviations(round_, cards.values())


def deviations_of(session: Session, rounds: Sequence[Round]) -> list[Deviation]:
    """Return what was found in these rounds, in their order.

    Only cards are read on which there may be something: most have nothing.
    """
    by_round: dict[UUID, list[Card]] = {row.id: [] for row in rounds}
    cards = session.scalars(
        select(Card)
        .where(Card.round_id.in_(by_round), _has_something())
        .options(
            selectinload(Card.points),
            joinedload(Card.apparatus),
            joinedload(Card.cell),
        )
        .order_by(Card.position)
    ).all()
    facts = gather(session, cards)
    for card in cards:
        by_round[card.round_id].append(card)
    return [
        one
        for row in rounds
        for one in deviations(row, [facts[card.id] for card in by_round[row.id]])
    ]


def _has_something() -> ColumnElement[bool]:
    disposed = select(Reading.card_id).join(Disposition.reading)
    return or_(
        Card.id.in_(disposed),
        Card.id.in_(select(Deficiency.card_id)),
        Card.id.in_(select(CardWithdrawal.card_id)),
    )


def deviations(round_: Round, cards: Iterable[CardFacts]) -> list[Deviation]:
    """Return what was found in a round with these cards, card by card."""
    return [
        Deviation(round_title=round_.title, finding=one)
        for facts in cards
        for one in findings(facts.value, round_.outside_let_stand)
        if one.decided
    ]
