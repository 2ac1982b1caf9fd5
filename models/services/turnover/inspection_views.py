"""Hold, witness and review points as one person sees them, alone and in lists."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.schema import Card, InspectionPoint, Lineup, Person, Round
from models.services.field.card_facts import CardFacts, gather, round_cards
from models.services.field.card_values import where
from models.services.field.card_view import inspection_json, reading_json
from models.services.people.access import (
    may,
    person_of,
    require,
    round_of,
    sees_site,
    visible_sites,
)
from models.services.turnover.inspections import (
    answers_for,
    inspection_point_of,
    possible_parties,
)
from models.services.turnover.round_overview import RoundHead, round_head


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectionView:
    """A point with what the person asking may do about it.

    *answers*: those they may give; *party_answers*: those that the party may give on
    this device, with its own password; *works*: they work on this round.
    """

    point: dict[str, Any]
    head: RoundHead
    card_id: UUID
    where: str
    readings: list[tuple[str, dict[str, Any]]]  # (point's label, reading that holds)
    answers: list[str]
    party_answers: list[str]
    may_notice: bool
    works: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundInspections:
    """All points of a round, and the cards and people that one may be set for."""

    head: RoundHead
    rows: list[tuple[str, UUID, dict[str, Any]]]  # (where, point id, point)
    cards: list[tuple[UUID, str]]
    parties: list[tuple[UUID, str, str]]  # (id, name, organisation)
    may_set: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Party:
    """Whose password is asked for."""

    id: UUID
    sign_in: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WaitingInspection:
    """A point that waits for somebody, in a list over rounds."""

    id: UUID
    where: str
    site_name: str
    lineup_name: str
    round_title: str
    kind_text: str
    party: str
    reason: str
    mine: bool  # it waits for who is asking
    work_at: datetime | None  # as the last notice says
    zone: str


def inspection_view(
    session: Session, *, person_id: UUID, point_id: UUID, now: datetime
) -> InspectionView:
    """Return the point; NotFoundError when its card is not theirs to see."""
    person = person_of(session, person_id)
    point = inspection_point_of(session, person, point_id)
    card = point.card
    facts = gather(session, [card])[card.id]
    works = may(person, "record") and sees_site(
        session, person, card.round.lineup.site_id
    )
    waits = point.answer is None and card.round.state == "open"
    here = works and point.person is not None and point.person_id != person.id
    return InspectionView(
        point=inspection_json(point),
        head=round_head(card.round),
        card_id=card.id,
        where=where(facts),
        readings=[(r.point.label, reading_json(facts, r)) for r in facts.current],
        answers=answers_for(session, person, point, now),
        party_answers=_of_party(session, point, now) if here else [],
        may_notice=works and waits,
        works=works,
    )


def _of_party(session: Session, point: InspectionPoint, now: datetime) -> list[str]:
    if point.person is None:
        return []
    own = answers_for(session, point.person, point, now)
    return [one for one in own if one in ("released", "present", "reviewed")]


def round_inspections(
    session: Session, *, person_id: UUID, round_id: UUID
) -> RoundInspections:
    """Return the round's points and what one may be set for."""
    person = person_of(session, person_id)
    round_ = round_of(session, person, round_id)
    facts = gather(session, round_cards(session, round_id))
    open_ = round_.state == "open"
    cards = [one for one in facts.values() if one.state != "withdrawn"]
    parties = possible_parties(session, cards[0].card) if cards and open_ else []
    return RoundInspections(
        head=round_head(round_),
        rows=list(_rows(facts.values())),
        cards=[(one.card.id, where(one)) for one in cards] if open_ else [],
        parties=[(p.id, p.name, p.organisation.name) for p in parties],
        may_set=may(person, "plan") and open_,
    )


def _rows(facts: Iterable[CardFacts]) -> Iterable[tuple[str, UUID, dict[str, Any]]]:
    for one in facts:
        for point in one.inspections:
            yield where(one), point.id, inspection_json(point)


def waiting_inspections(
    session: Session, *, person_id: UUID
) -> list[WaitingInspection]:
    """Return the points of open rounds that wait, theirs first, then by their work.

    Who works on a site sees all of its points, its owner's people those that name
    them.
    """
    person = person_of(session, person_id)
    rows = session.scalars(
        select(InspectionPoint)
        .join(Card)
        .join(Round)
        .join(Lineup)
        .where(
            Round.state == "open",
            Lineup.site_id.in_(visible_sites(person)),
            ~InspectionPoint.answer.has(),
        )
    )
    works = may(person, "record")
    found = [
        _waiting(session, person, row)
        for row in rows
        if works or row.person_id == person.id
    ]
    return sorted(found, key=_order)


def _order(one: WaitingInspection) -> tuple[bool, bool, float, str]:
    at = one.work_at.timestamp() if one.work_at else 0.0
    return (not one.mine, one.work_at is None, at, one.where)


def _waiting(
    session: Session, person: Person, point: InspectionPoint
) -> WaitingInspection:
    card = point.card
    lineup = card.round.lineup
    shown = inspection_json(point)
    return WaitingInspection(
        id=point.id,
        where=where(gather(session, [card])[card.id]),
        site_name=lineup.site.name,
        lineup_name=lineup.name,
        round_title=card.round.title,
        kind_text=shown["kind_text"],
        party=point.party,
        reason=point.reason,
        mine=point.person_id == person.id,
        work_at=point.notices[-1].work_at if point.notices else None,
        zone=lineup.site.zone,
    )


def party_of(session: Session, *, person_id: UUID, point_id: UUID) -> Party:
    """Return whose password answers the point on the device of one who works there.

    It is the party's own where it has an account, else that of who is asking. Raises
    ForbiddenError for somebody who records nothing.
    """
    person = person_of(session, person_id)
    require(person, "record")
    point = inspection_point_of(session, person, point_id)
    party = point.person or person
    return Party(id=party.id, sign_in=party.sign_in)
