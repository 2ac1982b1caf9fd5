"""The readings of a round that wait for one and the same decision."""

from dataclasses import dataclass
from typing import Any
from uuid import UUID

from sqlalchemy.orm import Session

from models.errors import NotFoundError
from models.schema import Reading
from models.services.field.card_facts import CardFacts, gather, round_cards
from models.services.field.card_values import where
from models.services.field.card_view import reading_json
from models.services.people.access import person_of, require, round_of
from models.services.turnover.round_overview import RoundHead, round_head

VERDICTS = ("outside", "marginal", "unjudged")


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiting:
    """A reading without a disposition. *own*: taken by who is asking."""

    where: str
    point: str
    reading: dict[str, Any]  # as in the round document
    own: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ToDispose:
    """What waits in a round, of one verdict, in the order of its cards."""

    head: RoundHead
    verdict: str
    rows: list[Waiting]


def readings_to_dispose(
    session: Session, *, person_id: UUID, round_id: UUID, verdict: str
) -> ToDispose:
    """Return the readings of *verdict* that nobody has decided on.

    Raises NotFoundError: no such round, or a verdict that nobody decides on;
    ForbiddenError: they are no lead.
    """
    person = person_of(session, person_id)
    round_ = round_of(session, person, round_id)
    require(person, "lead")
    if verdict not in VERDICTS:
        raise NotFoundError("verdict", verdict)
    facts = gather(session, round_cards(session, round_id))
    rows = [
        Waiting(
            where=where(one),
            point=reading.point.label,
            reading=reading_json(one, reading),
            own=reading.by_id == person.id,
        )
        for one in facts.values()
        for reading in undisposed(one, verdict)
    ]
    return ToDispose(head=round_head(round_), verdict=verdict, rows=rows)


def undisposed(facts: CardFacts, verdict: str) -> list[Reading]:
    """Return the card's readings of *verdict* that hold and wait for a decision."""
    again = uncalibrated(facts)
    return [
        reading
        for reading in facts.current
        if reading.judgement.verdict == verdict
        and facts.disposition_of(reading) is None
        and reading not in again
    ]


def uncalibrated(facts: CardFacts) -> list[Reading]:
    """Return readings to be repeated with an instrument in calibration.

    They stand unjudged; one line of the gate says why, not two.
    """
    return [
        reading
        for reading in facts.current
        if not reading.calibrated
        and facts.disposition_of(reading) is None
        and reading.judgement.verdict in ("within", "unjudged")
    ]
