"""What the baseline tested: its cards, their points and what was applied there."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session, selectinload

from models.schema import Card, CardWithdrawal, Reading
from models.services.owner.baseline import baseline_round
from models.services.setup.planned_points import PlannedPoint
from models.services.setup.programmes import detail_today, label_today

# Conditions that the one who tests chooses, and that a later test repeats so that
# its readings can be compared (common practice: the same voltage, the same current).
APPLIED = ("supply", "method", "test_kv", "test_current_a", "duration_s")

Place = tuple[UUID, str, str]  # apparatus, procedure, detail


@dataclass(frozen=True, slots=True, kw_only=True)
class Baseline:
    """A card of the baseline; *applied*: what all of its readings were taken at."""

    unit: str
    defaults: Mapping[str, Any]
    points: Sequence[PlannedPoint]
    applied: Mapping[str, Any]


def baseline_cards(session: Session, lineup_id: UUID) -> dict[Place, Baseline]:
    """Return the cards of the lineup's baseline by place; none without one.

    A card that was withdrawn tested nothing.
    """
    found = baseline_round(session, lineup_id)
    if found is None:
        return {}
    cards = session.scalars(
        select(Card)
        .where(
            Card.round_id == found.id,
            Card.id.not_in(select(CardWithdrawal.card_id)),
        )
        .options(selectinload(Card.points))
        .order_by(Card.position)
    ).all()
    applied = _applied(session, found.id)
    return {
        _place(card): Baseline(
            unit=card.unit,
            defaults=card.defaults,
            points=tuple(
                PlannedPoint(
                    label=label_today(card.procedure, card.detail, p.label),
                    group=p.group,
                    given=p.given,
                )
                for p in card.points
            ),
            applied=applied.get(card.id, {}),
        )
        for card in cards
    }


def _place(card: Card) -> Place:
    detail = detail_today(card.procedure, card.detail)
    return (card.apparatus_id, card.procedure, detail)


def _applied(session: Session, round_id: UUID) -> dict[UUID, dict[str, Any]]:
    """Return what was the same at every reading of a card, by card."""
    found: dict[UUID, dict[str, Any]] = {}
    for card_id, conditions in session.execute(
        select(Reading.card_id, Reading.conditions)
        .join(Card)
        .where(Card.round_id == round_id)
    ):
        said = {name: conditions[name] for name in APPLIED if name in conditions}
        before = found.setdefault(card_id, said)
        found[card_id] = {n: v for n, v in before.items() if said.get(n) == v}
    return found
