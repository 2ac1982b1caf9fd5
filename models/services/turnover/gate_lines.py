"""Lines of the gate: things of one kind, each with where it is settled."""

from collections.abc import Sized
from dataclasses import dataclass, field
from uuid import UUID

from models.judging.rules import rests_on_memory
from models.schema import Reading
from models.services.field.card_facts import CardFacts
from models.services.field.card_values import said_reading, where


@dataclass(frozen=True, slots=True, kw_only=True)
class GateItem:
    """One thing, with where it is settled."""

    text: str
    detail: str
    action: str
    target_kind: str  # card, reading, deficiency, inspection, safety ...
    target_id: UUID
    recalled: bool = False  # its verdict rests on a figure from memory


@dataclass(frozen=True, slots=True, kw_only=True)
class GateLine:
    """Things of one kind. `mark` is a verdict, 'open' or 'done'."""

    code: str
    mark: str
    text: str
    detail: str = ""
    items: list[GateItem] = field(default_factory=list)


def reading_item(
    facts: CardFacts, reading: Reading, action: str, *, reason: str | None = None
) -> GateItem:
    """Return a reading as an item; *reason* instead of its verdict's."""
    body = facts.say(reading.judgement)
    return GateItem(
        text=f"{where(facts)} · {reading.point.label}: {said_reading(reading)}",
        detail=reason or body["reason"],
        action=action,
        target_kind="reading",
        target_id=reading.id,
        recalled=rests_on_memory(body["cite"]),
    )


def card_item(facts: CardFacts, detail: str, action: str) -> GateItem:
    """Return a card as an item."""
    return GateItem(
        text=where(facts),
        detail=detail,
        action=action,
        target_kind="card",
        target_id=facts.card.id,
    )


def count(things: Sized, one: str, many: str = "") -> str:
    """Return '1 card', '2 cards'."""
    number = len(things)
    return f"{number} {one if number == 1 else many or one + 's'}"
