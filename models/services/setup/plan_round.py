"""Open a round on a lineup: a card for each procedure on each apparatus."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from uuid import UUID

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models.errors import Fault, InputError
from models.record.findings import OUTSIDE_LET_STAND
from models.schema import Lineup, Person, Round
from models.services.criteria.rules_in_force import RulesInForce
from models.services.keeping.log import append_log, take_turn
from models.services.people.access import lineup_of, person_of, require
from models.services.planning.add_cards import add_cards, add_changes, log_assigned
from models.services.planning.answer_editions import answer_editions
from models.services.planning.check_plan import check_plan
from models.services.planning.round_plan import RoundPlan, proposed_plan
from models.services.setup.programmes import Programme, programme_named


def plan_round(
    session: Session,
    *,
    person_id: UUID,
    lineup_id: UUID,
    kind: str,
    programme: str,
    outside_let_stand: str = OUTSIDE_LET_STAND[0],
    now: datetime,
    new_id: Callable[[], UUID],
    optional: bool = False,
    plan: RoundPlan | None = None,
    earlier_list: bool = False,
) -> UUID:
    """Open a round and return its id; *optional*: with the programme's optional cards.

    Each point carries its rule from now on, compiled from the nameplates, what
    makers and the project give, and the published tables as they stand today.
    *outside_let_stand* says what the package makes of an outside reading that is let
    stand and agreed to: it does not conform, or it conforms with that deviation.
    *plan* goes before what the programme proposes: its cards, points, people, days
    and editions, with the reason for each change; then *optional* and
    *outside_let_stand* are the plan's. *earlier_list*: its cards are confirmed one by
    one, by the list in force before safety stood at its scopes. Raises InputError when
    a round of this lineup is still open, and for a plan that cannot be opened.
    """
    take_turn(session)
    person = person_of(session, person_id)
    require(person, "plan")
    lineup = lineup_of(session, person, lineup_id, "plan")
    chosen = programme_named(programme)
    given = plan
    if plan is None:
        plan = proposed_plan(session, lineup.id, kind, chosen.name, optional=optional)
        plan = replace(plan, outside_let_stand=outside_let_stand)
    if plan.outside_let_stand not in OUTSIDE_LET_STAND:
        message = "Say what an outside reading that is let stand makes of the round."
        raise InputError(Fault(field="outside_let_stand", message=message))
    check_kind(session, lineup, kind, chosen)
    if given is not None:
        check_plan(session, person, lineup, plan)
    round_ = Round(
        id=new_id(),
        lineup_id=lineup.id,
        kind=kind,
        number=_next_number(session, lineup, kind),
        programme=chosen.name,
        state="open",
        revision=0,
        outside_let_stand=plan.outside_let_stand,
        earlier_list=earlier_list,
        opened_at=now,
        opened_by_id=person.id,
    )
    round_.editions = answer_editions(
        session,
        person,
        lineup,
        plan.editions,
        title=round_.title,
        now=now,
        new_id=new_id,
    )
    session.add(round_)
    session.flush()
    _add_cards(session, round_, lineup, person, plan, now, new_id)
    return round_.id


def _add_cards(
    session: Session,
    round_: Round,
    lineup: Lineup,
    person: Person,
    plan: RoundPlan,
    now: datetime,
    new_id: Callable[[], UUID],
) -> None:
    """Add the cards with the rules of today, and say in the log what was planned."""
    rules = RulesInForce(session, lineup, person.organisation_id)
    cards = add_cards(session, round_, rules, plan.planned, new_id)
    append_log(
        session,
        actor_id=person.id,
        action="open round",
        subject=f"round {round_.id}",
        body={
            "lineup": str(lineup.id),
            "title": round_.title,
            "cards": len(cards),
            "outside_let_stand": plan.outside_let_stand,
            **({"editions": round_.editions} if round_.editions else {}),
        },
        now=now,
    )
    log_assigned(session, person, round_, cards, now)
    made = {one.key: card for one, card in zip(plan.planned, cards, strict=True)}
    add_changes(session, person, round_, plan.cards, made, now, new_id)


def check_kind(
    session: Session, lineup: Lineup, kind: str, programme: Programme
) -> None:
    """Raise InputError where no round of this kind and programme can be opened."""
    faults = []
    if programme.kind != kind:
        faults.append(
            Fault(
                field="programme",
                message=f"'{programme.name}' is for {programme.kind} rounds: choose "
                "the kind or the programme again.",
            )
        )
    if lineup.gear not in programme.gears:
        faults.append(
            Fault(field="programme", message="This programme is for other gear.")
        )
    still_open = select(Round).where(
        Round.lineup_id == lineup.id, Round.state == "open"
    )
    if (found := session.scalars(still_open).first()) is not None:
        faults.append(
            Fault(
                field="lineup",
                message=f"{found.title} of {lineup.name} is still open: "
                "turn it over before the next one begins.",
            )
        )
    if faults:
        raise InputError(*faults)


def _next_number(session: Session, lineup: Lineup, kind: str) -> int:
    last = session.scalars(
        select(func.max(Round.number)).where(
            Round.lineup_id == lineup.id, Round.kind == kind
        )
    ).one()
    return (last or 0) + 1
