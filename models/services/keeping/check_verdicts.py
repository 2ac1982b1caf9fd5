"""Work out again every verdict that holds, each by the rule that gave it."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import WitnessmarkError
from models.judging.near import near
from models.schema import Card, Judgement, Reading
from models.services.field.card_facts import CardFacts, gather
from models.services.field.judge_card import STORED, bodies
from models.services.keeping.rules import read_rule

AT_ONCE = 100  # cards


def wrong_verdicts(session: Session) -> Iterator[str]:
    """Yield a fault for every verdict that is not what its rule gives.

    Looks at the verdict that holds in the round, and at the newest one where a
    reading was judged again after turnover.
    """
    cards = list(session.scalars(select(Card).order_by(Card.id)))
    for at in range(0, len(cards), AT_ONCE):
        for facts in gather(session, cards[at : at + AT_ONCE]).values():
            yield from _of_card(facts)


def _of_card(facts: CardFacts) -> Iterator[str]:
    groups: dict[str, list[Reading]] = {}
    for reading in facts.current:
        if all(judgement.after_turnover for judgement in reading.judgements):
            yield f"verdict of reading {reading.id} is missing"
        else:
            groups.setdefault(reading.point.group, []).append(reading)
    for readings in groups.values():
        yield from _of_group(facts, readings, lambda r: r.judgement)
        if any(reading.judged_again for reading in readings):
            yield from _of_group(facts, readings, lambda r: r.judgements[-1])


def _of_group(
    facts: CardFacts,
    readings: Sequence[Reading],
    which: Callable[[Reading], Judgement],
) -> Iterator[str]:
    held = [which(reading) for reading in readings]
    try:
        rules = [read_rule(judgement.judged_by) for judgement in held]
        found = bodies(readings, rules)
    except (WitnessmarkError, KeyError, TypeError, ValueError):
        yield f"the readings of card {facts.card.id} cannot be judged again"
        return
    for judgement, body in zip(held, found, strict=True):
        verdict = body["verdict"]
        if judgement.verdict != verdict:
            yield (
                f"verdict of reading {judgement.reading_id} is {judgement.verdict}, "
                f"its rule {verdict}"
            )
        elif not all(map(_same, judgement.numbers[1:], _numbers(body))):
            yield (
                f"the numbers of reading {judgement.reading_id} are not those that its "
                "rule gives"
            )


def _numbers(body: Mapping[str, Any]) -> list[float | None]:
    return [body[name] for name in STORED[1:]]


def _same(stored: float | None, found: float | None) -> bool:
    """Whether two numbers are one but for the last digits, which machines round."""
    if stored is None or found is None:
        return stored is found
    return near(stored, found)
