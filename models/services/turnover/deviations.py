"""What a turned-over round holds that is not as it should be, and why it stands."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from models.judging.quantities import said_unit
from models.schema import Round
from models.services.field.card_view import (
    DECISIONS,
    SEVERITIES,
    CardFacts,
    gather,
    round_cards,
)
from models.services.people.access import person_of, round_of
from models.services.turnover.gate import where


@dataclass(frozen=True, slots=True, kw_only=True)
class Deviation:
    """What a turned-over round holds that is not as it should be, with why."""

    round_title: str
    kind: str  # reading, deficiency, card
    where: str
    what: str
    verdict: str | None
    decided: str
    reason: str
    by: str
    at: datetime
    card_id: UUID


def round_deviations(
    session: Session, *, person_id: UUID, round_id: UUID
) -> list[Deviation]:
    """Return the round's deviations; NotFoundError when it is not theirs to see."""
    person = person_of(session, person_id)
    round_ = round_of(session, person, round_id)
    cards = gather(session, round_cards(session, round_.id))
    return deviations(round_, cards.values())


def deviations(round_: Round, cards: Iterable[CardFacts]) -> list[Deviation]:
    """Return the deviations of a round with these cards, card by card."""
    found = []
    for one in cards:
        found.extend(_disposed(round_, one))
        found.extend(_deficient(round_, one))
        if one.withdrawal:
            found.append(
                Deviation(
                    round_title=round_.title,
                    kind="card",
                    where=where(one),
                    what="card withdrawn from the programme",
                    verdict=None,
                    decided="withdrawn",
                    reason=one.withdrawal.reason,
                    by=one.withdrawal.by.name,
                    at=one.withdrawal.at,
                    card_id=one.card.id,
                )
            )
    return found


def _disposed(round_: Round, facts: CardFacts) -> list[Deviation]:
    return [
        Deviation(
            round_title=round_.title,
            kind="reading",
            where=where(facts),
            what=f"{r.point.label}: {r.text.replace('_', ' ')} {said_unit(r.unit)}",
            verdict=r.judgement.verdict,
            decided=DECISIONS[found.decision],
            reason=found.reason,
            by=found.by.name,
            at=found.at,
            card_id=facts.card.id,
        )
        for r in facts.current
        if (found := facts.disposition_of(r)) is not None
    ]


def _deficient(round_: Round, facts: CardFacts) -> list[Deviation]:
    return [
        Deviation(
            round_title=round_.title,
            kind="deficiency",
            where=where(facts),
            what=f"D-{d.number:03d}: {d.text}",
            verdict=None,
            decided="closed" if d.closing else f"open, held by {d.holder}",
            reason=d.closing.text if d.closing else SEVERITIES[d.severity],
            by=d.closing.by.name if d.closing else d.by.name,
            at=d.closing.at if d.closing else d.at,
            card_id=facts.card.id,
        )
        for d in facts.deficiencies
    ]
