"""Load what is recorded on a card into the values that decisions are made on."""

from collections.abc import Mapping, Sequence
from typing import Protocol
from uuid import UUID

from models.judging.quantities import said_unit
from models.procedures import PROCEDURES
from models.record import values
from models.schema import (
    Agreement,
    Card,
    CardReturn,
    CardWithdrawal,
    Deficiency,
    Disposition,
    Note,
    Reading,
    Signature,
)
from models.schema.confirmations import Confirmation
from models.services.safety.card_scopes import CardScopes
from models.services.setup.programmes import is_required
from models.words import in_sentence


class Recorded(Protocol):
    """The rows of one card."""

    card: Card
    confirmations: list[Confirmation]
    readings: list[Reading]
    notes: list[Note]
    deficiencies: list[Deficiency]
    returns: list[CardReturn]
    signatures: list[Signature]
    withdrawal: CardWithdrawal | None
    scopes: CardScopes | None

    @property
    def superseded(self) -> Mapping[UUID, UUID]:
        """Reading id -> the id of the reading that supersedes it."""

    def disposition_of(self, reading: Reading) -> Disposition | None:
        """Return the disposition that holds on *reading*."""


def card_value(
    facts: Recorded, *, before: Sequence[str], after: Sequence[str]
) -> values.Card:
    """Return the card with all that is on it.

    *before* and *after* are the codes of its preconditions.
    """
    card = facts.card
    superseded = facts.superseded
    return values.Card(
        id=card.id,
        cell_id=card.cell_id,
        where=where(facts),
        title=PROCEDURES[card.procedure].title,
        points=tuple(values.Point(id=p.id, label=p.label) for p in card.points),
        before=tuple(before),
        after=tuple(after),
        confirmations=tuple(
            values.Confirmation(code=c.code, by_id=c.by_id, by=c.by.name, at=c.at)
            for c in facts.confirmations
        ),
        readings=tuple(
            _reading(facts, r, superseded=r.id in superseded) for r in facts.readings
        ),
        deficiencies=tuple(_deficiency(d) for d in facts.deficiencies),
        signatures=tuple(
            values.Signature(by_id=s.by_id, by=s.by.name, at=s.at)
            for s in facts.signatures
        ),
        returned=max((r.at for r in facts.returns), default=None),
        withdrawal=_withdrawal(facts.withdrawal),
        required=is_required(
            facts.card.round.programme, facts.card.procedure, facts.card.detail
        ),
        noted=bool(facts.notes),
        turned_over=card.round.state != "open",
        scopes=facts.scopes,
    )


def where(facts: Recorded) -> str:
    """Return where a card belongs, for people."""
    return where_of(facts.card)


def where_of(card: Card) -> str:
    """Return where a card belongs, for people."""
    title = in_sentence(PROCEDURES[card.procedure].title)
    return f"Cell {card.cell.number} · {card.apparatus.label} · {title}"


def said_reading(reading: Reading) -> str:
    """Return what was read, in words: 8.1 GΩ, broke down."""
    return f"{reading.text.replace('_', ' ')} {said_unit(reading.unit)}".strip()


def _reading(facts: Recorded, reading: Reading, *, superseded: bool) -> values.Reading:
    disposition = facts.disposition_of(reading)
    return values.Reading(
        id=reading.id,
        point_id=reading.point_id,
        point=reading.point.label,
        said=said_reading(reading),
        by_id=reading.by_id,
        by=reading.by.name,
        taken_at=reading.taken_at,
        verdict=reading.judgement.verdict,
        decision=_decision(disposition) if disposition else None,
        supersedes=reading.supersedes_id,
        superseded=superseded,
    )


def _decision(row: Disposition) -> values.Decision:
    return values.Decision(
        decision=row.decision,
        reason=row.reason,
        by=row.by.name,
        at=row.at,
        answer=_answer(row.agreement),
    )


def _answer(row: Agreement | None) -> values.Answer | None:
    if row is None:
        return None
    return values.Answer(
        answer=row.answer, reason=row.reason, by=row.by.name, at=row.at
    )


def _deficiency(row: Deficiency) -> values.Deficiency:
    closing = row.closing
    return values.Deficiency(
        number=row.number,
        text=row.text,
        severity=row.severity,
        holder=row.holder,
        by=row.by.name,
        at=row.at,
        closing=values.Closing(text=closing.text, by=closing.by.name, at=closing.at)
        if closing
        else None,
    )


def _withdrawal(row: CardWithdrawal | None) -> values.Withdrawal | None:
    if row is None:
        return None
    return values.Withdrawal(
        reason=row.reason, by=row.by.name, at=row.at, answer=_answer(row.agreement)
    )
