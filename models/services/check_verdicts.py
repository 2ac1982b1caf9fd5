"""Work out again every verdict that holds, from the rule stored with the reading."""

from collections.abc import Iterator

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import WitnessmarkError
from models.schema import Card, Reading
from models.services.card_view import CardFacts, gather
from models.services.judge_card import verdicts_of

AT_ONCE = 100  # cards


def wrong_verdicts(session: Session) -> Iterator[str]:
    """Yield a fault for every verdict that is not what its rule gives."""
    cards = list(session.scalars(select(Card).order_by(Card.id)))
    for at in range(0, len(cards), AT_ONCE):
        for facts in gather(session, cards[at : at + AT_ONCE]).values():
            yield from _of_card(facts)


def _of_card(facts: CardFacts) -> Iterator[str]:
    groups: dict[str, list[Reading]] = {}
    for reading in facts.current:
        groups.setdefault(reading.point.group, []).append(reading)
    for readings in groups.values():
        try:
            verdicts = verdicts_of(readings)
        except (WitnessmarkError, KeyError, TypeError, ValueError):
            yield f"the readings of card {facts.card.id} cannot be judged again"
            continue
        for reading, verdict in zip(readings, verdicts, strict=True):
            held = reading.judgements[-1] if reading.judgements else None
            if held is None or {held.verdict, held.body.get("verdict")} != {verdict}:
                said = held.verdict if held else "missing"
                yield f"verdict of reading {reading.id} is {said}, its rule {verdict}"
