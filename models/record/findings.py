"""What is not as it should be on a card, and what that makes of its round."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from models.record.card import is_withdrawn
from models.record.values import (
    DECISIONS,
    SEVERITIES,
    Card,
    Deficiency,
    Reading,
    Withdrawal,
)

# What becomes of an outside reading that is let stand: the project's setting.
OUTSIDE_LET_STAND = ("does_not_conform", "deviation")

SETTLED = "settled"  # says nothing against conformity
DEVIATION = "deviation"  # conforms, with this
LACKING = "lacking"  # the round is not complete
AGAINST = "against"  # the round does not conform


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing that is not as it should be, who decided what about it, and why."""

    kind: str  # reading, deficiency, card
    card_id: UUID
    where: str
    what: str
    verdict: str | None
    decided: str
    reason: str
    by: str
    at: datetime
    agreed_by: str | None = None
    agreed_at: datetime | None = None
    effect: str


def findings(
    card: Card, outside_let_stand: str = OUTSIDE_LET_STAND[0]
) -> list[Finding]:
    """Return what was decided on this card, and what still has to be, in order.

    *outside_let_stand* is one of OUTSIDE_LET_STAND.
    """
    found = [
        reading_finding(card, one, outside_let_stand)
        for one in card.holding
        if one.verdict != "within"
    ]
    found += [_deficiency(card, one) for one in card.deficiencies]
    if card.withdrawal and is_withdrawn(card):
        found.append(_withdrawal(card, card.withdrawal))
    return found


def reading_effect(reading: Reading, outside_let_stand: str) -> str:
    """Return what a reading that holds makes of its round.

    Unknown is never a pass: an unjudged one stands against it whatever is decided.
    """
    if reading.verdict == "within":
        return SETTLED
    decision = reading.decision
    if decision is None or not decision.lets_stand:
        return AGAINST
    if reading.verdict == "marginal":
        return DEVIATION
    allowed = reading.verdict == "outside" and outside_let_stand == "deviation"
    return DEVIATION if allowed and decision.agreed else AGAINST


def reading_finding(card: Card, reading: Reading, outside_let_stand: str) -> Finding:
    """Return the finding that a reading is which is not within."""
    decision = reading.decision
    answer = decision.answer if decision and decision.agreed else None
    return Finding(
        kind="reading",
        card_id=card.id,
        where=card.where,
        what=f"{reading.point}: {reading.said}",
        verdict=reading.verdict,
        decided=DECISIONS[decision.decision] if decision else "",
        reason=decision.reason if decision else "",
        by=decision.by if decision else reading.by,
        at=decision.at if decision else reading.taken_at,
        agreed_by=answer.by if answer else None,
        agreed_at=answer.at if answer else None,
        effect=reading_effect(reading, outside_let_stand),
    )


def _deficiency(card: Card, found: Deficiency) -> Finding:
    closing = found.closing
    return Finding(
        kind="deficiency",
        card_id=card.id,
        where=card.where,
        what=f"{found.name}: {found.text}",
        verdict=None,
        decided="closed" if closing else f"open, held by {found.holder}",
        reason=closing.text if closing else SEVERITIES[found.severity],
        by=closing.by if closing else found.by,
        at=closing.at if closing else found.at,
        effect=_deficiency_effect(found),
    )


def _deficiency_effect(found: Deficiency) -> str:
    if found.closing:
        return SETTLED
    return AGAINST if found.severity == "stops_turnover" else DEVIATION


def _withdrawal(card: Card, withdrawal: Withdrawal) -> Finding:
    answer = withdrawal.answer
    return Finding(
        kind="card",
        card_id=card.id,
        where=card.where,
        what="card withdrawn from the programme",
        verdict=None,
        decided="withdrawn",
        reason=withdrawal.reason,
        by=withdrawal.by,
        at=withdrawal.at,
        agreed_by=answer.by if answer else None,
        agreed_at=answer.at if answer else None,
        effect=_withdrawal_effect(card, withdrawal),
    )


def _withdrawal_effect(card: Card, withdrawal: Withdrawal) -> str:
    if not card.required:
        return SETTLED
    return DEVIATION if withdrawal.answer else LACKING


def waiting_withdrawals(cards: list[Card]) -> Iterator[tuple[Card, Withdrawal]]:
    """Yield required cards whose withdrawal nobody has answered yet."""
    for card in cards:
        if card.required and card.withdrawal and card.withdrawal.answer is None:
            yield card, card.withdrawal
