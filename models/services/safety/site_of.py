"""The site that a page is about, by what its address names."""

from collections.abc import Callable, Iterable, Mapping
from typing import Any
from uuid import UUID

from sqlalchemy import ColumnElement, Select, or_, select
from sqlalchemy.orm import Session

from models.schema import (
    Apparatus,
    Card,
    Cell,
    Deficiency,
    GivenCriterion,
    InspectionPoint,
    Lineup,
    Person,
    PlanDraft,
    Point,
    Reading,
    Round,
    Site,
)
from models.services.people.access import sites_to_set_up


def site_named(
    session: Session, person: Person, named: Mapping[str, Any]
) -> UUID | None:
    """Return the site of the first thing *named* that has one the person may see.

    *named*: arguments of a page's address, such as `card_id`; others are passed over.
    """
    for name, select_site in SITE_OF.items():
        key = named.get(name)
        if not isinstance(key, UUID):
            continue
        found = session.scalars(
            select_site(key).where(Site.id.in_(sites_to_set_up(person)))
        ).first()
        if found is not None:
            return found
    return None


def _by_lineup(*conditions: ColumnElement[bool]) -> Select[UUID]:
    return select(Site.id).join(Lineup, Lineup.site_id == Site.id).where(*conditions)


def _by_round(rounds: Iterable[UUID] | Select[UUID]) -> Select[UUID]:
    held = select(Round.lineup_id).where(Round.id.in_(rounds))
    return _by_lineup(Lineup.id.in_(held))


def _by_card(cards: ColumnElement[bool]) -> Select[UUID]:
    return _by_round(select(Card.round_id).where(cards))


def _by_point(key: UUID) -> Select[UUID]:
    """Return the site of a point of a card, or of a hold, witness or review point."""
    read = select(Point.card_id).where(Point.id == key)
    waits = select(InspectionPoint.card_id).where(InspectionPoint.id == key)
    return _by_card(or_(Card.id.in_(read), Card.id.in_(waits)))


def _by_apparatus(key: UUID) -> Select[UUID]:
    fitted = select(Cell.lineup_id).join(Apparatus).where(Apparatus.id == key)
    return _by_lineup(Lineup.id.in_(fitted))


SITE_OF: dict[str, Callable[[UUID], Select[UUID]]] = {
    "site_id": lambda key: select(Site.id).where(Site.id == key),
    "lineup_id": lambda key: _by_lineup(Lineup.id == key),
    "round_id": lambda key: _by_round([key]),
    "plan_id": lambda key: _by_lineup(
        Lineup.id.in_(select(PlanDraft.lineup_id).where(PlanDraft.id == key))
    ),
    "card_id": lambda key: _by_card(Card.id == key),
    "reading_id": lambda key: _by_card(
        Card.id.in_(select(Reading.card_id).where(Reading.id == key))
    ),
    "deficiency_id": lambda key: _by_round(
        select(Deficiency.round_id).where(Deficiency.id == key)
    ),
    "point_id": _by_point,
    "criterion_id": lambda key: _by_lineup(
        Lineup.id.in_(select(GivenCriterion.lineup_id).where(GivenCriterion.id == key))
    ),
    "apparatus_id": _by_apparatus,
}
