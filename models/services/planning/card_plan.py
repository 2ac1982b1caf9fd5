"""One card of a plan, for its page: points with the baseline's values beside."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from models.errors import NotFoundError
from models.judging.quantities import said_unit
from models.services.owner.baseline import baseline_round, round_values
from models.services.planning.addable import Addable
from models.services.planning.draft import Planning, planning_of
from models.services.planning.plan_view import PlanLine, PlanView, plan_view


@dataclass(frozen=True, slots=True, kw_only=True)
class CardPlan:
    """A planned card; *baseline*: what was read there, by the label of the point."""

    view: PlanView
    line: PlanLine
    cell: str
    baseline: Mapping[str, str]


def card_plan(
    session: Session, *, person_id: UUID, plan_id: UUID, key: str, now: datetime
) -> CardPlan:
    """Return a card of the plan; NotFoundError where there is none of that key."""
    view = plan_view(session, person_id=person_id, plan_id=plan_id, now=now)
    for cell in view.cells:
        for line in cell.lines:
            if line.card.key == key:
                return CardPlan(
                    view=view,
                    line=line,
                    cell=f"Cell {cell.number} · {cell.name}",
                    baseline=_baseline(session, view, line),
                )
    raise NotFoundError("planned card", key)


def _baseline(session: Session, view: PlanView, line: PlanLine) -> dict[str, str]:
    found = baseline_round(session, view.lineup_id)
    if view.kind != "maintenance" or found is None:
        return {}
    card = line.card
    own = (card.apparatus_id, card.procedure, card.detail)
    values = round_values(session, found.id, card.apparatus_id)
    return {
        place[3]: f"{one['text'].replace('_', ' ')} {said_unit(one['unit'])}".strip()
        for place, one in values.items()
        if place[:3] == own
    }


def addable_in(
    session: Session, *, person_id: UUID, plan_id: UUID
) -> Sequence[tuple[UUID, str, Sequence[tuple[str, str]]]]:
    """Return (apparatus, its place and label, procedures that serve it)."""
    found = planning_of(session, person_id, plan_id)
    where = _addable(found)
    return [
        (
            one.id,
            f"{one.stands_in} · {one.label}",
            [(p.name, p.title) for p in where.procedures(one)],
        )
        for one in found.apparatus
    ]


def _addable(found: Planning) -> Addable:
    known = {card.key for card in found.plan.cards}
    return Addable(lineup=found.lineup, apparatus=found.apparatus, known=known)
