"""The rounds that a person may see, with how far they are."""

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session, joinedload

from models.record.verdicts import count_verdicts
from models.schema import Lineup, Round
from models.services.field.card_view import CardFacts, gather, round_cards
from models.services.people.access import person_of, visible_rounds


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundSummary:
    """A round in a list. `mine_open` counts cards this person may still work on."""

    id: UUID
    title: str
    kind: str
    state: str
    site_name: str
    zone: str
    lineup_id: UUID
    lineup_name: str
    gear: str
    opened_at: datetime
    cards: int
    cards_signed: int
    readings: int
    within: int
    marginal: int
    outside: int
    unjudged: int
    open_deficiencies: int
    mine_open: int


def list_rounds(session: Session, *, person_id: UUID) -> list[RoundSummary]:
    """Return the rounds, open ones first, then the newest."""
    person = person_of(session, person_id)
    rows = session.scalars(
        visible_rounds(person)
        .options(joinedload(Round.lineup).joinedload(Lineup.site))
        .order_by(Round.opened_at.desc())
    )
    summaries = [summarise(session, row, person.id) for row in rows]
    return sorted(summaries, key=lambda s: s.state != "open")


def summarise(session: Session, round_: Round, person_id: UUID) -> RoundSummary:
    """Return the round's counts."""
    facts = list(gather(session, round_cards(session, round_.id)).values())
    return summary_of(round_, facts, person_id)


def summary_of(round_: Round, facts: list[CardFacts], person_id: UUID) -> RoundSummary:
    """Return the counts of a round whose cards are read already."""
    counts = verdict_counts(facts)
    standing = [one for one in facts if one.state != "withdrawn"]
    return RoundSummary(
        id=round_.id,
        title=round_.title,
        kind=round_.kind,
        state=round_.state,
        site_name=round_.lineup.site.name,
        zone=round_.lineup.site.zone,
        lineup_id=round_.lineup_id,
        lineup_name=round_.lineup.name,
        gear=round_.lineup.gear,
        opened_at=round_.opened_at,
        cards=len(standing),
        cards_signed=sum(one.state == "signed" for one in standing),
        readings=sum(counts.values()),
        **counts,
        open_deficiencies=sum(
            d.closing is None for one in facts for d in one.deficiencies
        ),
        mine_open=sum(
            one.state != "signed" and one.card.assigned_to_id in (None, person_id)
            for one in standing
        ),
    )


def verdict_counts(facts: list[CardFacts]) -> dict[str, int]:
    """Count the verdicts of the readings that hold."""
    return count_verdicts(r.judgement.verdict for one in facts for r in one.current)
