"""The acts of judging again that concern what a person may see."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import ColumnElement, or_, select
from sqlalchemy.orm import Session, joinedload

from models.schema import Card, Judgement, Person, Reading, Rejudging, Round
from models.services.criteria.rejudge_scope import choosable
from models.services.people.access import has_role, person_of, visible_rounds


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """One act of judging again."""

    id: UUID
    scope: str
    what: str
    reason: str
    counts: Mapping[str, Any]
    by: str
    at: datetime


def rejudgings(session: Session, *, person_id: UUID) -> list[Act]:
    """Return the acts on what the person may see, the newest first.

    An act on all of an owner's is for that owner's people and for the firm of who
    did it: it counts sites that another firm has no part in. An owner's engineer
    sees no act on open rounds alone.
    """
    person = person_of(session, person_id)
    titles = {
        one.subject_id: one.title for one in choosable(session, person_id=person_id)
    }
    rows = session.scalars(
        select(Rejudging)
        .where(Rejudging.subject_id.in_(titles), _is_for(person))
        .options(joinedload(Rejudging.by))
        .order_by(Rejudging.at.desc(), Rejudging.id)
    )
    return [
        Act(
            id=row.id,
            scope=titles[row.subject_id],
            what=row.what,
            reason=row.reason,
            counts=row.counts,
            by=row.by.name,
            at=row.at,
        )
        for row in rows
    ]


def _is_for(person: Person) -> ColumnElement[bool]:
    if has_role(person, "owner"):
        return _on_a_round_seen(person)
    return or_(
        Rejudging.scope != "owner",
        Rejudging.subject_id == person.organisation_id,
        Rejudging.by.has(Person.organisation_id == person.organisation_id),
    )


def _on_a_round_seen(person: Person) -> ColumnElement[bool]:
    return (
        select(Judgement.id)
        .join(Judgement.reading)
        .join(Card, Card.id == Reading.card_id)
        .where(
            Judgement.rejudging_id == Rejudging.id,
            Card.round_id.in_(visible_rounds(person).with_only_columns(Round.id)),
        )
        .exists()
    )
