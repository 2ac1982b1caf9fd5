"""Take in what a tablet sends: each entry stands alone, sending twice does no harm."""

import logging
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy.orm import Session

from models.schema import Card, Person
from models.services.field.batch import DATABASE_AWAY, Call, take_in
from models.services.field.card_facts import CardFacts, gather
from models.services.field.card_view import card_json, named_rules
from models.services.keeping.log import (
    check_clock,
    take_turn,
)
from models.services.owner.baseline import add_baseline, baseline_values
from models.services.people.access import (
    person_of,
    require,
    round_of,
)
from models.services.safety.round_safety import RoundSafety

LOG = logging.getLogger(__name__)


def accept_entries(
    session: Session,
    *,
    person_id: UUID,
    round_id: UUID,
    device: str,
    entries: Sequence[Mapping[str, Any]],
    now: datetime,
    new_id: Callable[[], UUID] = uuid4,
) -> list[dict[str, Any]]:
    """Store *entries* one by one and say what became of each.

    The answer for each is stored, known (seen before with the same content),
    conflict (seen before with other content, or the card's state forbids it) or
    refused with the faults by field. It carries the card as it now stands; of several
    that were taken on a card the last one does, the others None. An entry on which the
    program itself fails is refused alone; the log has why. Raises NotFoundError,
    ForbiddenError and ClockBehindError for the whole call only.
    """
    take_turn(session)
    check_clock(session, now)
    person = person_of(session, person_id)
    require(person, "record")
    call = Call(
        session=session,
        person=person,
        round=round_of(session, person, round_id),
        device=device,
        now=now,
        new_id=new_id,
    )
    batch, answers = take_in(call, entries)
    card_ids = [answer.pop("card_id") for answer in answers]
    cards = [batch.cards[one] for one in dict.fromkeys(card_ids) if one is not None]
    shown = _cards_shown(session, cards, batch.arriving.seen()) if cards else {}
    last = {card_id: at for at, card_id in enumerate(card_ids)}
    for at, (answer, card_id) in enumerate(zip(answers, card_ids, strict=True)):
        sound = answer["status"] in ("stored", "known")
        answer["card"] = None if sound and last[card_id] != at else shown.get(card_id)
    return answers


def accept_brought(
    session: Session,
    *,
    author: Person,
    bringer: Person,
    round_id: UUID,
    device: str,
    entries: Sequence[Mapping[str, Any]],
    said: Mapping[str, Any],
    now: datetime,
    new_id: Callable[[], UUID] = uuid4,
) -> list[dict[str, Any]]:
    """Store entries of *author* that *bringer* brought; answers without the cards.

    The round is to be the bringer's to see; whether the author may still sign in does
    not matter. *said*: what the log says of each beside it.
    """
    take_turn(session)
    check_clock(session, now)
    call = Call(
        session=session,
        person=author,
        round=round_of(session, bringer, round_id),
        device=device,
        now=now,
        new_id=new_id,
        said=said,
    )
    _, answers = take_in(call, entries)
    for answer in answers:
        answer.pop("card_id")
    return answers


def _cards_shown(
    session: Session, cards: Sequence[Card], seen: Mapping[UUID, RoundSafety]
) -> dict[UUID, dict[str, Any] | None]:
    """Return the cards' JSON; None for one where the program fails on what is stored.

    The entries are stored by then: an answer without the card is better than none,
    after which the tablet would send them for ever.
    """
    try:
        shown = cards_as_they_stand(session, cards, seen)
        return {card.id: one for card, one in zip(cards, shown, strict=True)}
    except DATABASE_AWAY:
        raise
    except Exception:
        if len(cards) > 1:
            return {
                card.id: _cards_shown(session, [card], seen)[card.id] for card in cards
            }
        LOG.exception("card %s cannot be shown", cards[0].id)
        return {cards[0].id: None}


def card_as_it_stands(
    session: Session, card: Card, seen: Mapping[UUID, RoundSafety] | None = None
) -> dict[str, Any]:
    """Return the card's JSON, read again, with the rules that it names.

    *seen*: the safety of its round, where it is loaded already.
    """
    return cards_as_they_stand(session, [card], seen)[0]


def cards_as_they_stand(
    session: Session,
    cards: Sequence[Card],
    seen: Mapping[UUID, RoundSafety] | None = None,
) -> list[dict[str, Any]]:
    """Return the JSON of cards like `card_as_it_stands`; safety is loaded once."""
    facts = gather(session, cards, seen)
    return [_shown(session, facts[card.id]) for card in cards]


def _shown(session: Session, facts: CardFacts) -> dict[str, Any]:
    card, shown = facts.card, card_json(facts)
    shown["rules"] = named_rules([card])
    if card.round.kind == "maintenance":
        values = baseline_values(session, card.round.lineup_id, card.apparatus_id)
        add_baseline([shown], [card], values)
    return shown
