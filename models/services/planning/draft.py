"""The plan of a lineup's next round, kept until it is opened: begin, find, open."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.errors import Fault, InputError, NotFoundError
from models.schema import Apparatus, Lineup, Person, PlanDraft
from models.services.keeping.log import take_turn
from models.services.people.access import (
    lineup_apparatus,
    lineup_of,
    person_of,
    require,
)
from models.services.planning.choices import with_choices
from models.services.planning.round_plan import RoundPlan, proposed_plan
from models.services.setup.plan_round import check_kind, plan_round
from models.services.setup.programmes import programme_named


@dataclass(frozen=True, slots=True)
class Planning:
    """A plan that somebody works on, with the lineup that it is for."""

    draft: PlanDraft
    person: Person
    lineup: Lineup
    apparatus: list[Apparatus]
    plan: RoundPlan


def begin_plan(
    session: Session,
    *,
    person_id: UUID,
    lineup_id: UUID,
    kind: str,
    programme: str,
    now: datetime,
    new_id: Callable[[], UUID],
) -> UUID:
    """Begin to plan a lineup's next round; return the plan's id.

    A plan of the same programme that was begun before goes on; one of another
    programme is begun again, with the people and days that still fit. Raises
    InputError where no such round can be opened there.
    """
    take_turn(session)
    person = person_of(session, person_id)
    require(person, "plan")
    lineup = lineup_of(session, person, lineup_id, "plan")
    check_kind(session, lineup, kind, programme_named(programme))
    draft = session.scalars(
        select(PlanDraft).where(PlanDraft.lineup_id == lineup.id)
    ).first()
    if draft is None:
        draft = PlanDraft(id=new_id(), lineup_id=lineup.id, choices={})
        session.add(draft)
    draft.kind, draft.programme = kind, programme
    draft.by_id, draft.at = person.id, now
    session.flush()
    return draft.id


def planning_of(session: Session, person_id: UUID, plan_id: UUID) -> Planning:
    """Return a plan as it stands; NotFoundError when it is not theirs, or opened."""
    person = person_of(session, person_id)
    require(person, "plan")
    draft = session.get(PlanDraft, plan_id)
    if draft is None:
        raise NotFoundError("plan", plan_id)
    lineup = lineup_of(session, person, draft.lineup_id, "plan")
    apparatus = lineup_apparatus(session, lineup.id)
    proposed = proposed_plan(session, lineup.id, draft.kind, draft.programme)
    plan = with_choices(proposed, draft.choices, apparatus)
    return Planning(draft, person, lineup, apparatus, plan)


def open_plan(
    session: Session,
    *,
    person_id: UUID,
    plan_id: UUID,
    now: datetime,
    new_id: Callable[[], UUID],
) -> UUID:
    """Open the round as it is planned, and return its id; the plan is gone then.

    Raises InputError with everything for which it cannot be opened.
    """
    take_turn(session)
    found = planning_of(session, person_id, plan_id)
    round_id = plan_round(
        session,
        person_id=person_id,
        lineup_id=found.lineup.id,
        kind=found.plan.kind,
        programme=found.plan.programme,
        now=now,
        new_id=new_id,
        plan=found.plan,
    )
    session.delete(found.draft)
    session.flush()
    return round_id


def drop_plan(session: Session, *, person_id: UUID, plan_id: UUID) -> None:
    """Throw a plan away: nothing of it was ever a record."""
    take_turn(session)
    found = planning_of(session, person_id, plan_id)
    session.delete(found.draft)
    session.flush()


def refuse(field: str, message: str) -> InputError:
    """Return the error that says *message* at *field*."""
    return InputError(Fault(field=field, message=message))
