"""What a turned-over round holds that is not as it should be, and why it stands."""

from collections.abc import Iterable
from dataclasses import dataclass
from uuid import UUID

from sqlalchemy.orm import Session

from models.record.findings import Finding, findings
from models.schema import Round
from models.services.field.card_view import CardFacts, gather, round_cards
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


def deviations(round_: Round, cards: Iterable[CardFacts]) -> list[Deviation]:
    """Return what was found in a round with these cards, card by card."""
    return [
        Deviation(round_title=round_.title, finding=one)
        for facts in cards
        for one in findings(facts.value, round_.outside_let_stand)
        if one.decided
    ]
