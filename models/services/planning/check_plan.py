"""Whether a plan can be opened: nothing missing unsaid, nobody who cannot do it."""

from collections.abc import Iterator
from uuid import UUID

from sqlalchemy.orm import Session

from models.errors import Fault, InputError
from models.procedures import PROCEDURES
from models.schema import Lineup, Person
from models.services.people.access import lineup_apparatus
from models.services.planning.crew import crew_of
from models.services.planning.round_plan import PlanCard, RoundPlan, proposed_plan


def check_plan(
    session: Session, person: Person, lineup: Lineup, plan: RoundPlan
) -> None:
    """Raise InputError with everything for which the plan cannot be opened."""
    faults = [
        *_cards_missing(session, lineup, plan),
        *_apparatus_gone(session, lineup, plan),
        *_people(session, person, lineup, plan),
    ]
    if plan.cards and not plan.planned:
        faults.append("Every card is left out: a round has at least one.")
    if faults:
        raise InputError(*(Fault(field="cards", message=one) for one in faults))


def _cards_missing(session: Session, lineup: Lineup, plan: RoundPlan) -> Iterator[str]:
    proposed = proposed_plan(session, lineup.id, plan.kind, plan.programme)
    known = {card.key for card in plan.cards}
    for card in proposed.planned:
        if card.key not in known:
            yield f"{_said(card)} is in the programme: leave it out with a reason."
    for card in plan.cards:
        if not card.planned and not card.left_out and card.key in _wanted(proposed):
            yield f"{_said(card)} is left out without a reason."


def _wanted(plan: RoundPlan) -> set[str]:
    return {card.key for card in plan.planned if not card.is_optional}


def _apparatus_gone(session: Session, lineup: Lineup, plan: RoundPlan) -> Iterator[str]:
    there = {a.id for a in lineup_apparatus(session, lineup.id)}
    for card in plan.planned:
        if card.apparatus_id not in there:
            yield f"{_said(card)}: its apparatus is not in this lineup any more."


def _people(
    session: Session, person: Person, lineup: Lineup, plan: RoundPlan
) -> Iterator[str]:
    wanted = {c.assigned_to_id for c in plan.planned} - {None}
    if not wanted:
        return
    crew: set[UUID | None] = {one.id for one in crew_of(session, person, lineup)}
    if wanted - crew:
        yield (
            "Cards are assigned to somebody who cannot take readings on this site: "
            "assign them again."
        )


def _said(card: PlanCard) -> str:
    return f"{PROCEDURES[card.procedure].title} ({card.detail})"
